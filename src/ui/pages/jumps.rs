use crate::ui::prelude::*;

use two_marks::chart::{Frame, TRIAL_COLUMNS, TrialColumn, TrialMark, TrialsWall, trials_wall};
use two_marks::flow::{Slot, rest_left_seconds};
use two_marks::history::MarkMethod;
use two_marks::measure::{Advice, FoulReason, Outcome, Trial, Variant};
use two_marks::quantity::{Length, Reading};
use two_marks::ready::Verdict;
use two_marks::share::Route;
use two_marks::text::Words;

use super::clock_said;
use super::common::{step_head, tick_label};
use super::entry::{Entry, reading_entry};
use crate::ui::components::{
    Icon, act, button, drawing_box, floor, icon, notice, stacked_button, timer,
};
use crate::ui::state::App;

/// What lies over the page: the choice of a foul's reason, or the way out.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Over {
    Nothing,
    Foul,
    Pain,
}

/// The trials.
pub fn page(app: App) -> Tree {
    let words = app.w();
    let over = RwSignal::new(Over::Nothing);
    let is_pain = Memo::new(move |_| over.get() == Over::Pain);
    view! {
        {step_head(app, 3, words.jumps_title(), &back_to(app))}
        {move || if is_pain.get() { pain(app, over) } else { measuring(app, over) }}
        {move || way_on(app, over)}
    }
    .into_tree()
}

fn measuring(app: App, over: RwSignal<Over>) -> Tree {
    view! {
        <main id="main" tabindex="-1" class="measuring">
            <div role="status">{move || advice(app)}</div>
            {wall(app)}
            <section class="dado entry">
                <p class="small" role="status">{move || kept(app)}</p>
                {move || if over.get() == Over::Foul { foul(app, over) } else { trying(app, over) }}
            </section>
        </main>
    }
    .into_tree()
}

/// What of the newest trial is on the disk, and so outlives this tab and this browser.
fn kept(app: App) -> Option<String> {
    let words = app.w();
    let outcomes = app.of_progress(|progress| progress.session.outcomes()).unwrap_or_default();
    let newest = outcomes.last().filter(|_| app.is_draft_on_disk.get())?;
    let number = number(&words, outcomes.len() - 1);
    Some(match newest {
        Outcome::Counted(height) => words.jumps_kept(&number, &words.length(height.0, app.unit())),
        Outcome::Foul(_) | Outcome::NoReach => words.jumps_kept_foul(&number),
    })
}

/// A jump timed in the air has no reach to go back to.
fn back_to(app: App) -> Route {
    if app.is_clock() { Route::WarmUp } else { Route::Reach }
}

fn number(words: &Words, from_zero: usize) -> String {
    words.locale().decimal(i64::try_from(from_zero + 1).unwrap_or(1), 0)
}

/// The place of the trial that is being typed, from 0.
fn typing(app: App) -> usize {
    app.of_progress(|progress| match progress.slot {
        Slot::Change(at) => at,
        Slot::Next => progress.jumps(),
    })
    .unwrap_or(0)
}

fn is_changing(app: App) -> bool {
    app.of_progress(|progress| progress.slot != Slot::Next).unwrap_or(false)
}

/// The question about held stretches is open before the first trial.
fn asks_stretch(app: App) -> bool {
    app.of_progress(|progress| progress.jumps() == 0 && progress.stretch.is_none()).unwrap_or(false)
}

fn advice(app: App) -> Tree {
    let words = app.w();
    let Some((advice, day_is_full)) = app.advice() else {
        return Tree::Nothing;
    };
    let first = app.of_progress(|progress| progress.jumps() == 0) == Some(true);
    let (sign, said) = match (advice, day_is_full, first) {
        (_, true, _) => (Icon::Stop, words.jumps_day_limit()),
        (_, _, true) if app.is_clock() => (Icon::Up, words.clock_first()),
        (_, _, true) => (Icon::Up, words.jumps_first()),
        (Advice::OneMore(_), ..) => (Icon::Up, words.advice(advice, app.unit())),
        (Advice::Missing(_), ..) => (Icon::Info, words.advice(advice, app.unit())),
        (Advice::Full, ..) if app.is_visiting() => (Icon::Tick, words.class_trials_done()),
        (Advice::Enough | Advice::Full, ..) => (Icon::Tick, words.advice(advice, app.unit())),
    };
    let reads_marks = first && !day_is_full && !app.is_clock();
    let how = reads_marks.then(|| view! { <p class="small pad-x">{words.setup_how_alone()}</p> });
    view! {
        <div class="notice notice--plain">{icon(sign)} <p>{said}</p></div>
        {how}
    }
    .into_tree()
}

/// What each column says: its mark and its label.
fn columns(app: App, words: &Words) -> Vec<(TrialMark, String)> {
    let unit = app.unit();
    // Rounded as on every other page: one height must not read differently on two of them.
    let said = |height: Length| words.length_number(height, unit);
    let outcomes = app.of_progress(|progress| progress.session.outcomes()).unwrap_or_default();
    let mut columns: Vec<_> = outcomes
        .into_iter()
        .map(|outcome| match outcome {
            Outcome::Counted(height) => (TrialMark::Kept(height.0), said(height.0)),
            Outcome::Foul(_) | Outcome::NoReach => (TrialMark::Foul, words.jumps_foul_word()),
        })
        .collect();
    let typed = app.typed_height().map(|height| (TrialMark::Typing(height.0), said(height.0)));
    let at = typing(app);
    if app.may_jump_again() {
        let next = typed.unwrap_or((TrialMark::Next, String::new()));
        match columns.get_mut(at) {
            Some(slot) => {
                if let (TrialMark::Typing(_), _) = next {
                    *slot = next;
                }
            }
            None => columns.push(next),
        }
    }
    columns
}

fn wall(app: App) -> Tree {
    let sentence = Signal::derive(move || {
        let words = app.w();
        let best = app.of_progress(|progress| progress.session.best()).flatten();
        let outcomes = app.of_progress(|progress| progress.session.outcomes()).unwrap_or_default();
        let said = outcomes.into_iter().enumerate().map(|(at, outcome)| {
            let number = number(&words, at);
            match outcome {
                Outcome::Counted(height) => {
                    let said = words.length(height.0, app.unit());
                    if Some(height) == best {
                        words.jumps_wall_best(&number, &said)
                    } else {
                        words.jumps_wall_trial(&number, &said)
                    }
                }
                Outcome::Foul(_) | Outcome::NoReach => words.jumps_wall_foul(&number),
            }
        });
        let list: Vec<_> = said.collect();
        words.jumps_wall_label(&list.join(" "))
    });
    let draw = move |frame: Frame| {
        let words = app.w();
        let unit = app.unit();
        let columns = columns(app, &words);
        // The numbers are buttons that lie over the drawing.
        let trials: Vec<_> = columns
            .iter()
            .map(|(mark, label)| TrialColumn { mark: *mark, label, number: "" })
            .collect();
        let reach = app.of_progress(|progress| progress.session.standing_reach()).flatten();
        let reach = reach.map(|reach| reach.0);
        let reach_label = words.exact_number(reach.unwrap_or(Length::ZERO), unit);
        trials_wall(&TrialsWall {
            frame,
            unit,
            standing_reach: reach,
            trials: &trials,
            tick_label: &tick_label(&words, unit),
            reach_label: &reach_label,
        })
        .drawing
    };
    view! {
        <div class="trials">
            {drawing_box("drawing-box trials-box", "trials", sentence, app.resized.into(), draw)}
            {move || trial_buttons(app)}
        </div>
    }
    .into_tree()
}

/// The numbers of the trials, under their columns: a button each, to change it. The next one has
/// nothing to change yet.
fn trial_buttons(app: App) -> Tree {
    let words = app.w();
    let outcomes = app.of_progress(|progress| progress.session.outcomes()).unwrap_or_default();
    let now = typing(app);
    let next = (app.may_jump_again() && now == outcomes.len()).then(|| number(&words, now));
    let slots = (outcomes.len() + usize::from(next.is_some())).max(TRIAL_COLUMNS);
    let buttons: Vec<_> = outcomes
        .into_iter()
        .enumerate()
        .map(|(at, outcome)| {
            let shown = number(&words, at);
            let name = match outcome {
                Outcome::Counted(height) => {
                    words.jumps_change(&shown, &words.length(height.0, app.unit()))
                }
                Outcome::Foul(_) | Outcome::NoReach => words.jumps_change_foul(&shown),
            };
            let current = (is_changing(app) && at == now).then_some("true");
            let change = move |_| app.change_trial(at);
            view! {
                <li>
                    <button type="button" aria-label=name aria-current=current on:click=change>
                        {shown}
                    </button>
                </li>
            }
        })
        .collect();
    let next = next.map(|next| view! { <li aria-hidden="true">{next}</li> });
    view! {
        <ol class="trial-row" style:--slots=slots.to_string()>
            {buttons}
            {next}
        </ol>
    }
    .into_tree()
}

fn trying(app: App, over: RwSignal<Over>) -> Tree {
    view! {
        {move || stretch(app)}
        {move || rest(app)}
        {move || if app.may_jump_again() && !asks_stretch(app) { one_entry(app) } else { Tree::Nothing }}
        {move || other_ways(app, over)}
    }
    .into_tree()
}

/// Held stretches, asked once before the first trial.
fn stretch(app: App) -> Tree {
    let words = app.w();
    if !asks_stretch(app) {
        return stretch_verdict(app);
    }
    view! {
        <p class="strong" id="stretch-q">{words.jumps_stretch()}</p>
        <div class="row" role="group" aria-labelledby="stretch-q">
            {button(words.jumps_stretch_no(), move || app.answer_stretch(None))}
            {button(words.jumps_stretch_short(), move || app.answer_stretch(Some(false)))}
            {button(words.jumps_stretch_long(), move || app.answer_stretch(Some(true)))}
        </div>
    }
    .into_tree()
}

fn stretch_verdict(app: App) -> Tree {
    let before_first = app.of_progress(|progress| progress.jumps() == 0) == Some(true);
    let Some(Verdict::Flagged { loss, until }) = app.stretch_verdict().filter(|_| before_first)
    else {
        return Tree::Nothing;
    };
    let words = app.w();
    let own = app.own_best().map_or(Length::from_mm(400), |best| best.0);
    let most = words.length(loss.of(own).1, app.unit());
    notice(
        Icon::Flag,
        view! {
            <p>{words.jumps_stretch_note(&most, &words.time(until))}</p>
            <p>{words.ready_source()}</p>
            {button(words.jumps_stretch_moved(), move || app.moved_since_stretch())}
        },
    )
}

fn rest(app: App) -> Tree {
    let words = app.w();
    let has_jumped = app.of_progress(|progress| progress.jumped_at.is_some()).unwrap_or(false);
    // After the last jump there is nothing to rest for.
    if !has_jumped || !app.may_jump_again() {
        return Tree::Nothing;
    }
    let left = Memo::new(move |_| {
        app.beat.track();
        let now = app.now();
        app.of_progress(|progress| {
            let newest = progress.session.trials.last().copied();
            rest_left_seconds(app.rest_seconds(), newest, progress.jumped_at, now)
        })
        .unwrap_or(0)
    });
    let said = {
        let words = words.clone();
        Signal::derive(move || match left.get() {
            0 => words.jumps_rest_over(),
            left => words.jumps_rest(&words.locale().decimal(i64::from(left), 0)),
        })
    };
    let announced = move || match left.get() {
        0 => words.jumps_rest_over(),
        left @ (10 | 30) => words.jumps_rest_left(left),
        _ => String::new(),
    };
    Effect::new(move |before: Option<u32>| {
        // As in every late first run: the page may have been laid anew before it.
        let left = left.try_get().or(before).unwrap_or(0);
        if left == 0 && before.is_some_and(|before| before > 0) {
            (app.ports().signal_rest_over)();
        }
        left
    });
    view! {
        {timer(said, left.into(), app.rest_seconds())}
        <p class="hidden-words" role="status">
            {announced}
        </p>
    }
    .into_tree()
}

fn one_entry(app: App) -> Tree {
    if app.is_clock() { clock_said::entry(app, &number(&app.w(), typing(app))) } else { entry(app) }
}

fn entry(app: App) -> Tree {
    let words = app.w();
    let shown = number(&words, typing(app));
    let method = app.of_progress(|progress| progress.method);
    let label = match method {
        Some(MarkMethod::BetweenMarks) => words.jumps_label_distance(&shown),
        _ => words.jumps_label_mark(&shown),
    };
    let output = move || {
        let words = app.w();
        let height = app.typed_height().map(|height| words.length(height.0, app.unit()));
        height.map(|height| words.jumps_height(&height)).unwrap_or_default()
    };
    reading_entry(
        app,
        Entry {
            label,
            output: Signal::derive(output),
            start: app.of_progress(|progress| last_reading(&progress.session.trials)).flatten(),
            judged: Memo::new(move |_| app.judged_mark()),
            keep: App::keep_typed_trial,
        },
    )
}

fn last_reading(trials: &[Trial]) -> Option<Reading> {
    trials.iter().rev().find_map(|trial| match trial {
        Trial::FloorMark(reading) | Trial::MarkDistance(reading) => Some(*reading),
        Trial::FlightTime(_) | Trial::Foul(_) => None,
    })
}

fn other_ways(app: App, over: RwSignal<Over>) -> Tree {
    let words = app.w();
    let jumps = app.of_progress(two_marks::flow::Progress::jumps).unwrap_or(0);
    let may_foul = app.may_jump_again() && !asks_stretch(app);
    let foul = may_foul
        .then(|| stacked_button(Icon::Cross, words.jumps_foul(), move || over.set(Over::Foul)));
    let undo = (jumps > 0 && !is_changing(app)).then(|| {
        let label = words.jumps_undo(&number(&words, jumps - 1));
        stacked_button(Icon::Undo, label, move || app.undo_trial())
    });
    let pain = stacked_button(Icon::Stop, words.jumps_stop_pain(), move || over.set(Over::Pain));
    let is_clock = app.is_clock();
    let top = (jumps == 1 && !is_clock).then(|| {
        let on = Signal::derive(move || {
            app.of_progress(|progress| progress.session.top_mark_only).unwrap_or(false)
        });
        let row =
            crate::ui::components::check_row("top-only", words.jumps_top_only(), on, move |on| {
                app.edit(|progress| progress.session.top_mark_only = on);
            });
        view! {
            <div class="checks checks--dado">{row}</div>
            <p class="small soft">{words.jumps_top_only_note()}</p>
        }
    });
    view! {
        <div class="row">{foul} {undo} {pain}</div>
        {top}
        {(!is_clock).then(|| view! { <p class="small soft">{words.jumps_later()}</p> })}
    }
    .into_tree()
}

fn foul(app: App, over: RwSignal<Over>) -> Tree {
    let words = app.w();
    let variant = app.of_progress(|progress| progress.session.key.variant);
    let runs_up = matches!(variant, Some(Variant::Approach { .. }));
    // Steps belong to a run-up: there, a step first is no foul.
    let reasons =
        FoulReason::ALL.into_iter().filter(|reason| !runs_up || *reason != FoulReason::Step);
    let reasons = reasons.map(|reason| {
        button(words.foul_reason(reason), move || {
            over.set(Over::Nothing);
            app.foul(reason);
        })
    });
    view! {
        <h2 id="foul-q">{words.jumps_foul_why()}</h2>
        <div class="column" role="group" aria-labelledby="foul-q">
            {reasons.collect::<Vec<_>>()}
            {button(words.close(), move || over.set(Over::Nothing))}
        </div>
    }
    .into_tree()
}

fn pain(app: App, over: RwSignal<Over>) -> Tree {
    let words = app.w();
    let any = app.of_progress(|progress| progress.session.best().is_some()).unwrap_or(false);
    let keep = any.then(|| button(words.jumps_pain_keep(), move || app.go(&Route::Check)));
    // Nothing of the test stands beside the way out.
    view! {
        <main id="main" tabindex="-1" class="pad stack">
            <div role="alert" class="stack">
                <h2>{words.jumps_pain_title()}</h2>
                <p>{words.jumps_pain_note()}</p>
            </div>
            <div class="column">
                {keep}
                {button(words.jumps_pain_drop(), move || {
                    app.drop_test();
                    app.go(&Route::Home);
                })}
                {button(words.close(), move || over.set(Over::Nothing))}
            </div>
        </main>
    }
    .into_tree()
}

fn way_on(app: App, over: RwSignal<Over>) -> Tree {
    if over.get() != Over::Nothing || asks_stretch(app) {
        return Tree::Nothing;
    }
    let words = app.w();
    let (advice, _) = app.advice().unwrap_or((Advice::Missing(3), false));
    let top_only = app.of_progress(|progress| progress.session.top_mark_only) == Some(true);
    let complete = top_only || !matches!(advice, Advice::Missing(_));
    let to_check = words.jumps_to_check();
    if !app.may_jump_again() {
        return floor(act(move || to_check.clone(), move || app.go(&Route::Check)));
    }
    let shown = number(&words, typing(app));
    if let Some(floor) = clock_said::film_floor(app, complete) {
        return floor;
    }
    let keep =
        if is_changing(app) { words.jumps_keep_change(&shown) } else { words.jumps_keep(&shown) };
    // Once the heights stop rising, finishing is the main thing; jumping on stays possible.
    let is_typed = app.of_progress(|progress| !progress.typed.trim().is_empty()) == Some(true);
    let done_first = matches!(advice, Advice::Enough) && !is_typed;
    if complete && done_first && !is_changing(app) {
        return floor(view! {
            {act(move || to_check.clone(), move || app.go(&Route::Check))}
            {button(keep, move || app.keep_typed_trial())}
        });
    }
    let finish = (complete && !is_changing(app))
        .then(|| button(words.jumps_finish(), move || app.finish_trials()));
    let leave =
        is_changing(app).then(|| button(words.form_cancel(), move || app.leave_trial_change()));
    floor(view! {
        {act(move || keep.clone(), move || app.keep_typed_trial())}
        {finish}
        {leave}
    })
}
