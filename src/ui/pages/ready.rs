use crate::ui::prelude::*;

use two_marks::flow::{Answers, LegAnswer, Question, ReadyOutcome, StopReason};
use two_marks::quantity::JumpHeight;
use two_marks::ready::{LegWorkKind, PartOfDay, Verdict, WeekLimit};
use two_marks::share::Route;
use two_marks::text::{DateForm, Words};

use super::common::step_head;
use crate::ui::components::{
    Choice, Edge, Icon, act, ask, button, check_row, floor, notice, pick, verdict,
};
use crate::ui::state::App;

/// Fit to jump, and a look around.
pub fn page(app: App) -> Tree {
    let words = app.w();
    let in_class = app.is_visiting();
    app.answers.update(|answers| answers.in_class = in_class);
    view! {
        {step_head(app, 0, words.ready_title(), &Route::Home)}
        <main id="main" tabindex="-1" class="ready">
            <div class="asks">
                {lapsed(app)}
                {if in_class { reason(app) } else { health(app) }}
                {near(app)}
                {legs(app)}
                {look(app)}
            </div>
            <div class="dado pad" role="status">
                {move || outcome(app)}
            </div>
        </main>
        {move || way_on(app)}
    }
    .into_tree()
}

/// The check was passed, but too long ago.
fn lapsed(app: App) -> Tree {
    let now = app.now();
    let lapsed = app
        .of_progress(|progress| progress.ready_passed_at.is_some() && !progress.is_ready(now))
        .unwrap_or(false);
    lapsed.then(|| notice(Icon::Hourglass, app.w().ready_again())).into_tree()
}

fn answer<T>(app: App, read: impl Fn(&Answers) -> T + Send + Sync + 'static) -> Signal<T>
where
    T: Send + Sync + 'static,
{
    Signal::derive(move || app.answers.with(&read))
}

/// The health question of a class: one, without the list and without a reason to give.
fn reason(app: App) -> Tree {
    let words = app.w();
    ask(
        "unwell",
        words.ready_reason(),
        Some(words.ready_reason_note()),
        (words.no(), words.yes()),
        answer(app, |answers| answers.unwell),
        move |yes| app.answer(|answers| answers.unwell = Some(yes)),
    )
}

fn health(app: App) -> Tree {
    let words = app.w();
    let no_yes = || (words.no(), words.yes());
    let asks_parent = app.age().parent_answers();
    let parent = asks_parent.then(|| {
        view! { <p class="small soft pad-x">{words.ready_parent_answers()}</p> }
    });
    let unwell = ask(
        "unwell",
        words.ready_pain(),
        None,
        no_yes(),
        answer(app, |answers| answers.unwell),
        move |yes| app.answer(|answers| answers.unwell = Some(yes)),
    );
    let fits = ask(
        "fits",
        words.ready_fits(),
        Some(words.ready_fits_note()),
        no_yes(),
        answer(app, |answers| answers.fits),
        move |yes| app.answer(|answers| answers.fits = Some(yes)),
    );
    let cleared = check_row(
        "cleared",
        words.ready_cleared(),
        answer(app, |answers| answers.cleared),
        move |on| app.answer(|answers| answers.cleared = on),
    );
    let answered = asks_parent.then(|| {
        ask(
            "parent",
            words.ready_parent_answered(),
            None,
            no_yes(),
            answer(app, |answers| answers.parent_answered),
            move |yes| app.answer(|answers| answers.parent_answered = Some(yes)),
        )
    });
    view! {
        {parent}
        {unwell}
        <p class="small pad-x">{words.ready_fits_list()}</p>
        {fits}
        <div class="checks pad" hidden=move || app.answers.with(|answers| answers.fits != Some(true))>
            {cleared}
        </div>
        {answered}
    }
    .into_tree()
}

/// Who is near, asked of the young. In a class that is the teacher.
fn near(app: App) -> Option<Tree> {
    let words = app.w();
    let age = app.age();
    let question =
        if app.is_visiting() { words.ready_teacher_near() } else { words.ready_adult_near() };
    age.needs_adult_present().then(|| {
        let near = ask(
            "adult-near",
            question,
            None,
            (words.no(), words.yes()),
            answer(app, |answers| answers.adult_near),
            move |yes| app.answer(|answers| answers.adult_near = Some(yes)),
        );
        let is_13 = ask(
            "is-13",
            words.ready_is_13(),
            None,
            (words.no(), words.yes()),
            answer(app, |answers| answers.is_13),
            move |yes| app.answer(|answers| answers.is_13 = Some(yes)),
        );
        view! {
            {near}
            <div hidden=move || app.answers.with(|answers| !answers.asks_13(age))>{is_13}</div>
        }
        .into_tree()
    })
}

fn legs(app: App) -> Tree {
    let words = app.w();
    let set = move |change: &dyn Fn(&mut LegAnswer)| {
        app.answer(|answers| change(&mut answers.legs));
    };
    let worked = ask(
        "legs",
        words.ready_legs(),
        Some(words.ready_legs_note()),
        (words.no(), words.yes()),
        answer(app, |answers| answers.legs.worked),
        move |yes| set(&|legs| legs.worked = Some(yes)),
    );
    let kinds = vec![
        Choice::new(LegWorkKind::HardSession, words.ready_legs_session()),
        Choice::new(LegWorkKind::Match, words.ready_legs_match()),
    ];
    let days = (0..=4).map(|days| Choice::new(days, day_name(&words, days))).collect();
    let parts = PartOfDay::ALL.into_iter().zip([
        words.ready_morning(),
        words.ready_afternoon(),
        words.ready_evening(),
    ]);
    let parts = parts.map(|(part, name)| Choice::new(part, name)).collect();
    view! {
        {worked}
        <div
            class="pad stack-wide"
            hidden=move || app.answers.with(|answers| answers.legs.worked != Some(true))
        >
            <div class="field">
                <p class="label" id="leg-kind-label">
                    {words.ready_legs_kind()}
                </p>
                {pick(
                    "leg-kind",
                    "leg-kind-label".to_owned(),
                    kinds,
                    answer(app, |answers| answers.legs.kind),
                    move |kind| set(&|legs| legs.kind = Some(kind)),
                )}
            </div>
            <div class="field">
                <p class="label" id="leg-day-label">
                    {words.ready_legs_day()}
                </p>
                {pick(
                    "leg-day",
                    "leg-day-label".to_owned(),
                    days,
                    answer(app, |answers| answers.legs.days_ago),
                    move |days| set(&|legs| legs.days_ago = Some(days)),
                )}
            </div>
            <div class="field">
                <p class="label" id="leg-part-label">
                    {words.ready_legs_part()}
                </p>
                {pick(
                    "leg-part",
                    "leg-part-label".to_owned(),
                    parts,
                    answer(app, |answers| answers.legs.part),
                    move |part| set(&|legs| legs.part = Some(part)),
                )}
            </div>
        </div>
    }
    .into_tree()
}

fn day_name(words: &Words, days_ago: u8) -> String {
    match days_ago {
        0 => words.ready_today(),
        1 => words.ready_yesterday(),
        days => words.ready_days_ago(&words.locale().decimal(i64::from(days), 0)),
    }
}

fn look(app: App) -> Tree {
    let words = app.w();
    let all = check_row(
        "looked",
        words.ready_look_all(),
        answer(app, |answers| answers.looked),
        move |on| app.answer(|answers| answers.looked = on),
    );
    // Time in the air needs no wall.
    let wall = (!app.is_clock()).then(|| words.ready_look_wall());
    let climb = (!app.is_clock()).then(|| words.ready_look_climb());
    let lines = [
        wall,
        Some(words.ready_look_floor()),
        Some(words.ready_look_place()),
        Some(words.ready_look_high()),
        Some(words.ready_look_shoes()),
        climb,
    ];
    let lines: Vec<_> = lines.into_iter().flatten().map(|line| view! { <li>{line}</li> }).collect();
    view! {
        <section class="pad stack">
            <h2>{words.ready_look()}</h2>
            <ul class="dots">{lines}</ul>
            <div class="checks checks--one">{all}</div>
        </section>
    }
    .into_tree()
}

fn outcome(app: App) -> Tree {
    let words = app.w();
    let shown = app.ready_view();
    let left = u32::try_from(shown.jumps_left).unwrap_or(0);
    match shown.outcome {
        ReadyOutcome::Stop(reason) => stop(&words, reason, app.is_visiting()),
        ReadyOutcome::Missing { count, .. } => view! {
            <p class="strong">{words.ready_missing(count)}</p>
            <p class="small">{words.jumps_left_today(left)}</p>
        }
        .into_tree(),
        ReadyOutcome::Judged { verdict: judged, week } => {
            let own: Option<JumpHeight> = app.own_best();
            let (title, mut why) = words.verdict(judged, own, app.unit());
            if let WeekLimit::Reached { free_on } = week {
                why.push(words.ready_week(&words.date(free_on, DateForm::DayAndMonth)));
            }
            why.push(words.jumps_left_today(left));
            let edge = match judged {
                Verdict::Go => Edge::Go,
                Verdict::Flagged { .. } => Edge::Flag,
                Verdict::Wait { .. } => Edge::Wait,
            };
            verdict(edge, title, why)
        }
    }
}

/// The part of the page that takes the focus for a question.
fn place_of(question: Question) -> &'static str {
    match question {
        Question::Unwell => "unwell-0",
        Question::Fits => "fits-0",
        Question::ParentAnswered => "parent-0",
        Question::AdultNear => "adult-near-0",
        Question::Is13 => "is-13-0",
        Question::LegWork => "legs-0",
        Question::LegWorkKind => "leg-kind-0",
        Question::LegWorkDay => "leg-day-0",
        Question::LegWorkPart => "leg-part-0",
        Question::LookAround => "looked",
    }
}

fn stop(words: &Words, reason: StopReason, in_class: bool) -> Tree {
    let (title, why) = match reason {
        StopReason::Unwell if in_class => (words.ready_stop(), words.ready_stop_class()),
        StopReason::Unwell => (words.ready_stop(), words.ready_stop_note()),
        StopReason::AskFirst => (words.ready_stop_fits(), words.ready_stop_fits_note()),
        StopReason::AskParent => (words.ready_stop_parent(), words.ready_stop_parent_note()),
        StopReason::NoAdult => (words.ready_stop(), words.ready_stop_alone()),
        StopReason::DayFull => (words.ready_stop(), words.ready_day_full()),
    };
    verdict(Edge::Stop, title, vec![why])
}

fn way_on(app: App) -> Tree {
    let words = app.w();
    match app.ready_view().outcome {
        ReadyOutcome::Stop(_) => {
            let home = words.go_home();
            floor(act(move || home.clone(), move || app.go(&Route::Home)))
        }
        ReadyOutcome::Missing { first, .. } => {
            let at = place_of(first);
            floor(button(words.ready_missing_show(), move || {
                (app.ports().focus)(at);
            }))
        }
        ReadyOutcome::Judged { verdict: Verdict::Wait { until, .. }, .. } => {
            let remind = words.ready_calendar();
            let title = words.ready_calendar_title();
            floor(view! {
                {act(move || remind.clone(), move || {
                    app.remind(&title, until);
                })}
                {button(words.ready_go_anyway(), move || app.pass_ready())}
            })
        }
        ReadyOutcome::Judged { .. } => {
            let next = words.ready_next();
            floor(act(move || next.clone(), move || app.pass_ready()))
        }
    }
}
