//! The reaches and the trials of the form of a test.

use crate::ui::prelude::*;

use two_marks::flow::FormPlace;
use two_marks::history::MarkMethod;
use two_marks::measure::FoulReason;
use two_marks::text::{DateForm, Words};

use super::test_form::Open;
use crate::ui::components::{button, check_row, select_field};

fn number(words: &Words, at: usize) -> String {
    words.locale().decimal(i64::try_from(at + 1).unwrap_or(1), 0)
}

/// The standing reaches.
pub(super) fn reaches(open: Open) -> Tree {
    let words = open.app.w();
    let form = open.form;
    // Fields are built anew when one comes or goes, and never while somebody types.
    let count = Memo::new(move |_| form.with(|form| form.reaches.len()));
    let rows = move || {
        let all = 0..count.get();
        all.map(|at| reach(open, at)).collect::<Vec<_>>()
    };
    let more = move || {
        let may = form.with(|form| form.may_add_reach());
        let label = open.app.w().form_reach_add();
        may.then(|| button(label, move || form.update(|form| form.add_reach())))
    };
    view! {
        <section class="stack" id="form-reaches" tabindex="-1">
            <h2>{words.form_reaches()}</h2>
            {open.problem(FormPlace::Reaches)}
            <ul class="stack">{rows}</ul>
            {move || (count.get() == 1).then(|| {
                let words = open.app.w();
                let note = Some(words.form_reach_day_note());
                open.field(
                    FormPlace::ReachDay,
                    words.form_reach_day(),
                    note,
                    ("date", "text"),
                    |form, _| Some(&mut form.reach_day),
                )
            })}
            <div class="row">{more} {move || last_reach(open)}</div>
        </section>
    }
    .into_tree()
}

fn reach(open: Open, at: usize) -> Tree {
    let words = open.app.w();
    let unit = open.form.with_untracked(|form| {
        form.reaches.get(at).map_or(form.division.unit(), |field| form.unit_of(field))
    });
    let shown = number(&words, at);
    let label = words.form_reach(&shown, &words.unit_sign(unit));
    let remove = words.form_remove(&words.reach_label(&shown));
    view! {
        <li>
            {open.field(FormPlace::Reach(at), label, None, ("text", "decimal"), |form, place| {
                let FormPlace::Reach(at) = place else { return None };
                form.reaches.get_mut(at).map(|field| &mut field.text)
            })}
            {button(remove, move || {
                open.form.update(|form| drop(form.reaches.remove(at)));
            })}
        </li>
    }
    .into_tree()
}

/// An earlier reach that the test may stand on.
fn last_reach(open: Open) -> Tree {
    let known = open.app.with_form_context(|context| {
        open.form.with(|form| {
            let empty = form.reaches.iter().all(two_marks::flow::ReadingField::is_empty);
            let floor = form.method == MarkMethod::FromFloor;
            (empty && floor).then(|| form.last_reach(context.person, context.tests)).flatten()
        })
    });
    let Some((reading, day)) = known.flatten() else {
        return Tree::Nothing;
    };
    let words = open.app.w();
    let label = words.form_use_reach(&words.reading(reading), &words.date(day, DateForm::Full));
    button(label, move || {
        let text = words.entry_text(reading);
        open.form.update(|form| form.take_reach(reading, day, text));
    })
}

/// The trials.
pub(super) fn trials(open: Open) -> Tree {
    let words = open.app.w();
    let form = open.form;
    let shape = Memo::new(move |_| form.with(|form| (form.trials.len(), form.method)));
    let rows = move || {
        let (count, method) = shape.get();
        (0..count).map(|at| trial(open, at, method)).collect::<Vec<_>>()
    };
    let more = move || {
        let may = form.with(|form| form.may_add_trial());
        let label = open.app.w().form_trial_add();
        may.then(|| button(label, move || form.update(|form| form.add_trial())))
    };
    let asks = Memo::new(move |_| form.with(|form| form.asks_only_best()));
    let only_best = Signal::derive(move || form.with(|form| form.only_best));
    view! {
        <section class="stack" id="form-trials" tabindex="-1">
            <h2>{words.form_trials()}</h2>
            {open.problem(FormPlace::Trials)}
            <ul class="stack">{rows}</ul>
            {move || asks.get().then(|| {
                let words = open.app.w();
                let row = check_row("form-best", words.form_only_best(), only_best, move |on| {
                    form.update(|form| form.only_best = on);
                });
                view! { <div class="checks">{row}</div> }
            })}
            <div class="row">{more}</div>
        </section>
    }
    .into_tree()
}

fn trial(open: Open, at: usize, method: MarkMethod) -> Tree {
    let words = open.app.w();
    let form = open.form;
    let unit = form.with_untracked(|form| {
        form.trials.get(at).map_or(form.division.unit(), |line| form.unit_of(&line.field))
    });
    let shown = number(&words, at);
    let sign = words.unit_sign(unit);
    let label = match method {
        MarkMethod::FromFloor => words.form_mark(&shown, &sign),
        MarkMethod::BetweenMarks => words.form_distance(&shown, &sign),
    };
    let has_air =
        form.with_untracked(|form| form.trials.get(at).is_some_and(|line| line.air.is_some()));
    let counts = Memo::new(move |_| {
        form.with(|form| form.trials.get(at).is_some_and(|line| line.foul.is_none()))
    });
    let field = move || {
        (counts.get() && !has_air).then(|| {
            open.field(
                FormPlace::Trial(at),
                label.clone(),
                None,
                ("text", "decimal"),
                |form, place| {
                    let FormPlace::Trial(at) = place else { return None };
                    form.trials.get_mut(at).map(|line| &mut line.field.text)
                },
            )
        })
    };
    let height = move || {
        let words = open.app.w();
        let height = form.with(|form| form.height(at));
        height.map(|height| words.jumps_height(&words.length(height.0, unit)))
    };
    let mut options = vec![(String::new(), words.form_it_counts())];
    for (place, reason) in FoulReason::ALL.into_iter().enumerate() {
        options.push((place.to_string(), words.foul_reason(reason)));
    }
    let foul = Signal::derive(move || {
        let foul = form.with(|form| form.trials.get(at).and_then(|line| line.foul));
        let place = foul.and_then(|foul| FoulReason::ALL.iter().position(|known| *known == foul));
        place.map(|place| place.to_string()).unwrap_or_default()
    });
    let id = format!("form-counts-{at}");
    let remove = words.form_remove(&words.jumps_trial(&shown));
    view! {
        <li class="stack">
            {field}
            <p class="strong" aria-live="polite">
                {height}
            </p>
            {select_field(&id, words.form_trial_counts(&shown), options, foul, move |place| {
                let place: Option<usize> = place.parse().ok();
                let reason = place.and_then(|place| FoulReason::ALL.get(place).copied());
                form.update(|form| {
                    if let Some(line) = form.trials.get_mut(at) {
                        line.foul = reason;
                    }
                });
            })}
            {button(remove, move || {
                form.update(|form| drop(form.trials.remove(at)));
            })}
        </li>
    }
    .into_tree()
}
