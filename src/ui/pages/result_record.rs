//! What a saved test carries beside its readings, and the ways to change it.

use crate::ui::prelude::*;

use two_marks::assess::Assessment;
use two_marks::history::{Origin, Test};
use two_marks::share::Route;

use crate::ui::components::{Icon, button, notice};
use crate::ui::state::{App, Notice};

/// What was changed last, with a way back; stays until something else is changed.
pub(super) fn changed(app: App, test: &Test) -> Tree {
    let test = test.clone();
    (move || {
        let words = app.w();
        let before = app.before.get().filter(|before| before.id == test.id);
        let said = match app.notice_about(test.id) {
            Some(Notice::ChangedUnsure) => words.record_changed_unsure(),
            Some(Notice::Changed) => words.record_changed(),
            _ => return Tree::Nothing,
        };
        let moved = before.as_ref().is_some_and(|before| before.person != test.person);
        let name = app.person().map(|person| person.nickname).unwrap_or_default();
        let moved = moved.then(|| view! { <p class="strong">{words.record_moved(&name)}</p> });
        let now = test.clone();
        let undo = before.map(|_| button(words.undo(), move || app.take_back(&now)));
        notice(
            Icon::Tick,
            view! {
                {moved}
                <p>{said}</p>
                <div class="row">{undo}</div>
            },
        )
    })
    .into_tree()
}

/// Notes, tags and where the test comes from; whose it is; and the way to change it.
pub(super) fn section(app: App, test: &Test, assessed: &Assessment) -> Tree {
    let words = app.w();
    let unit = test.session.division.unit();
    let reach = assessed.reach_doubt.map(|doubt| words.reach_doubt(doubt, unit));
    let reach = reach.map(|said| notice(Icon::Info, view! { <p>{said}</p> }));
    let origin = match test.origin {
        Origin::Measured => None,
        Origin::ByHand => Some(words.record_by_hand()),
        Origin::Imported => Some(words.record_imported()),
    };
    let origin = origin.map(|said| view! { <p class="soft">{said}</p> });
    let tags = test.tags.iter().cloned().reduce(|all, next| words.two_things(&all, &next));
    let pairs = [
        (words.record_note(), Some(test.note.clone()).filter(|note| !note.is_empty())),
        (words.record_tags(), tags),
        (words.record_body_height(), test.body_height.map(|height| words.reading(height))),
        (
            words.record_body_mass(),
            test.body_mass.filter(|_| assessed.age.is_adult()).map(|mass| words.mass(mass, unit)),
        ),
    ];
    let pairs: Vec<_> = pairs
        .into_iter()
        .filter_map(|(name, said)| {
            said.map(|said| {
                view! {
                    <dt>{name}</dt>
                    <dd>{said}</dd>
                }
            })
        })
        .collect();
    view! {
        <section class="pad stack">
            {reach}
            {origin}
            <dl class="pairs">{pairs}</dl>
            <div class="row">
                <a class="btn" href=Route::Change(test.id.to_string()).to_string()>
                    {words.record_change()}
                </a>
            </div>
            {whose(app, test)}
        </section>
    }
    .into_tree()
}

/// Everybody else, each one tap away.
fn whose(app: App, test: &Test) -> Tree {
    let words = app.w();
    let people = app.people.get_untracked();
    let (owner, others): (Vec<_>, Vec<_>) =
        people.into_iter().partition(|person| person.local == test.person);
    let Some(owner) = owner.first().filter(|_| !others.is_empty()) else {
        return Tree::Nothing;
    };
    let buttons: Vec<_> = others
        .into_iter()
        .filter(|person| !person.archived)
        .map(|person| {
            let test = test.clone();
            button(words.record_give(&person.nickname), move || app.give_to(&test, &person))
        })
        .collect();
    view! {
        <details>
            <summary>{words.record_whose(&owner.nickname)}</summary>
            <p class="small soft">{words.record_whose_note()}</p>
            <div class="row">{buttons}</div>
        </details>
    }
    .into_tree()
}
