//! People who are put away or deleted, and their way back.

use crate::ui::prelude::*;

use two_marks::history::Person;

use crate::ui::components::{Icon, button, notice};
use crate::ui::state::App;

/// Who was put away or deleted last, with the way back.
pub(super) fn gone(app: App) -> Tree {
    let Some(person) = app.gone.get() else {
        return Tree::Nothing;
    };
    let words = app.w();
    let is_here = app.people.with(|people| people.iter().any(|known| known.id == person.id));
    let said = if is_here {
        words.who_is_away(&person.nickname)
    } else {
        words.who_deleted(&person.nickname)
    };
    notice(
        Icon::Undo,
        view! {
            <p>{said}</p>
            {button(words.undo(), move || app.bring_person_back())}
        },
    )
}

/// Puts a person away or deletes them, but not while a test of theirs is under way.
pub(super) fn leave(app: App, person: Person, after: impl Fn() + Clone + 'static) -> Tree {
    let words = app.w();
    if app.tester().is_some_and(|tester| tester.id == person.id) {
        return view! { <p class="pad small">{words.who_testing(&person.nickname)}</p> }
            .into_tree();
    }
    let (away, name) = (person.clone(), person.nickname.clone());
    let then = after.clone();
    let archive = button(words.who_archive(), move || {
        app.put_away(&away, true);
        then();
    });
    let delete = button(words.who_delete(&name), move || {
        app.delete_person(&person);
        after();
    });
    view! { <div class="pad row">{archive} {delete}</div> }.into_tree()
}

/// Everybody who is put away.
pub(super) fn away(app: App) -> Tree {
    let words = app.w();
    let people: Vec<Person> =
        app.people.get().into_iter().filter(|person| person.archived).collect();
    if people.is_empty() {
        return Tree::Nothing;
    }
    let buttons: Vec<_> = people
        .into_iter()
        .map(|person| {
            button(words.who_bring_back(&person.nickname), move || app.put_away(&person, false))
        })
        .collect();
    view! {
        <section class="pad stack">
            <h2>{words.who_away()}</h2>
            <p class="small soft">{words.who_away_note()}</p>
            <div class="row">{buttons}</div>
        </section>
    }
    .into_tree()
}
