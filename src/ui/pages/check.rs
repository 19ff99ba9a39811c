use crate::ui::prelude::*;

use two_marks::assess::{Rough, rough};
use two_marks::measure::{Outcome, Reach, Trial};
use two_marks::share::Route;
use two_marks::text::Words;

use super::common::{shown_name, step_head};
use crate::ui::components::{Icon, act, act_link, floor, notice};
use crate::ui::state::App;

/// All readings once more before saving.
pub fn page(app: App) -> Tree {
    let words = app.w();
    view! {
        {step_head(app, 4, words.check_title(), &Route::Jumps)}
        <main id="main" tabindex="-1" class="pad stack-wide">
            {move || who_and_what(app)}
            <p class="soft">{words.check_note()}</p>
            {move || reaches(app)}
            {move || trials(app)}
            {move || notes(app)}
        </main>
        {move || way_on(app)}
    }
    .into_tree()
}

fn who_and_what(app: App) -> Tree {
    let words = app.w();
    // A class's number was chosen with its link, and is changed there.
    let change = (!app.is_visiting()).then(|| {
        view! { <a href=Route::Who.to_string()>{words.check_wrong_person()}</a> }
    });
    view! {
        <dl class="pairs">
            <dt>{words.check_person()}</dt>
            <dd>
                {shown_name(app)} " "
                {change}
            </dd>
            <dt>{words.check_kind()}</dt>
            <dd>{words.test_kind(app.trend_key())}</dd>
        </dl>
    }
    .into_tree()
}

fn reaches(app: App) -> Tree {
    let words = app.w();
    let unit = app.unit();
    let reach = app.of_progress(|progress| progress.session.reach.clone());
    let Some(Reach::Measured(readings)) = reach else {
        return Tree::Nothing;
    };
    if readings.is_empty() {
        return Tree::Nothing;
    }
    let counts = app.of_progress(|progress| progress.session.standing_reach()).flatten();
    let counts = counts.map(|reach| words.check_reach_counts(&words.length(reach.0, unit)));
    let rows: Vec<_> = readings
        .into_iter()
        .enumerate()
        .map(|(at, reading)| {
            let change = move || {
                app.change_reach(at);
                app.go(&Route::Reach);
            };
            reading_row(words.reach_label(&place(&words, at)), words.reading(reading), change)
        })
        .collect();
    view! {
        <section class="stack">
            <h2>{words.check_reach()}</h2>
            <ul class="readings">{rows}</ul>
            <p class="strong">{counts}</p>
        </section>
    }
    .into_tree()
}

fn trials(app: App) -> Tree {
    let words = app.w();
    let unit = app.unit();
    let trials = app.of_progress(|progress| {
        let outcomes = progress.session.outcomes();
        progress.session.trials.iter().copied().zip(outcomes).collect::<Vec<_>>()
    });
    let rows: Vec<_> = trials
        .unwrap_or_default()
        .into_iter()
        .enumerate()
        .map(|(at, (trial, outcome))| {
            let said = match (trial, outcome) {
                (Trial::Foul(reason), _) => {
                    words.two_things(&words.jumps_foul_word(), &words.foul_reason(reason))
                }
                (_, Outcome::Counted(height)) => {
                    let height = words.check_trial_height(&words.length(height.0, unit));
                    match read_as(&words, trial) {
                        Some(read) => words.two_things(&read, &height),
                        None => height,
                    }
                }
                _ => String::new(),
            };
            let change = move || {
                app.change_trial(at);
                app.go(&Route::Jumps);
            };
            reading_row(words.jumps_trial(&place(&words, at)), said, change)
        })
        .collect();
    view! {
        <section class="stack">
            <h2>{words.check_trials()}</h2>
            <ul class="readings">{rows}</ul>
        </section>
    }
    .into_tree()
}

fn place(words: &Words, from_zero: usize) -> String {
    words.locale().decimal(i64::try_from(from_zero + 1).unwrap_or(1), 0)
}

/// What was read, where it is not the height itself: saying that twice helps nobody.
fn read_as(words: &Words, trial: Trial) -> Option<String> {
    match trial {
        Trial::FloorMark(reading) => Some(words.reading(reading)),
        Trial::FlightTime(time) => Some(words.flight_time(time)),
        Trial::MarkDistance(_) | Trial::Foul(_) => None,
    }
}

fn reading_row(label: String, said: String, change: impl Fn() + 'static) -> Tree {
    view! {
        <li>
            <button type="button" class="reading" on:click=move |_| change()>
                <span>{label}</span>
                <span class="strong">{said}</span>
            </button>
        </li>
    }
    .into_tree()
}

fn notes(app: App) -> Tree {
    let words = app.w();
    let (now, age) = (app.now(), app.age());
    let tired = app.of_progress(|progress| progress.tired(age, now).is_noted()).unwrap_or(false);
    let mut reasons = app.of_progress(|progress| rough(&progress.session)).unwrap_or_default();
    // A class is measured as it was set up: one reach each is normal there.
    reasons.retain(|reason| *reason != Rough::FewReaches || !app.is_visiting());
    let tired = tired.then(|| notice(Icon::Flag, words.check_tired()));
    let rough = (!reasons.is_empty()).then(|| {
        let why: Vec<_> = reasons
            .into_iter()
            .map(|reason| view! { <p class="small">{rough_words(&words, reason)}</p> })
            .collect();
        notice(
            Icon::Info,
            view! {
                <p>{words.check_rough()}</p>
                {why}
            },
        )
    });
    view! {
        {tired}
        {rough}
    }
    .into_tree()
}

pub(super) fn rough_words(words: &Words, reason: Rough) -> String {
    match reason {
        Rough::FewReaches => words.check_rough_reach(),
        Rough::CoarseDivision => words.check_rough_division(),
        Rough::TopMarkOnly => words.check_rough_top(),
        Rough::FewTrials => words.check_rough_few(),
        Rough::FewFrames => words.clock_rough_frames(),
    }
}

fn way_on(app: App) -> Tree {
    let words = app.w();
    let counts = app.of_progress(|progress| progress.session.best().is_some()).unwrap_or(false);
    if !counts {
        return floor(view! {
            <p class="floor__note">{words.check_none()}</p>
            {act_link(words.jumps_title(), Route::Jumps.to_string())}
        });
    }
    let save = if app.is_visiting() { words.class_make_slip() } else { words.check_save() };
    floor(act(move || save.clone(), move || app.save_test()))
}
