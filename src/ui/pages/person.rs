//! Somebody new, and somebody who is here: two pages, so that adding changes nobody.

use crate::ui::prelude::*;

use two_marks::history::{NICKNAME_MAX, Person, clean_line};
use two_marks::share::Route;

use super::common::plain_head;
use super::person_form::{Form, fields, problems};
use crate::ui::components::{Icon, act, act_link, button, floor, notice};
use crate::ui::state::App;

/// Somebody new. Whoever is kept leads back to where the wish came up.
pub fn add(app: App) -> Tree {
    let words = app.w();
    let back = app.came_from.get_untracked();
    let form = Form::new(String::new(), app.unit());
    let keep = {
        let back = back.clone();
        move || {
            let back = back.clone();
            if let Some(write) = form.written(app) {
                app.add_person(write, move || (app.ports().replace)(&back.to_string()));
            }
        }
    };
    let label = move || match clean_line(&form.name.get(), NICKNAME_MAX).as_str() {
        "" => app.w().who_add(),
        name => app.w().who_keep(name),
    };
    view! {
        {plain_head(app, words.who_add(), &back)}
        <main id="main" tabindex="-1" class="form">
            {move || problems(app, form)}
            {fields(app, form)}
        </main>
        {floor(act(label, keep))}
    }
    .into_tree()
}

/// Somebody who is here.
pub fn change(app: App, id: &str) -> Tree {
    let words = app.w();
    let back = app.came_from.get_untracked();
    let known = |people: &Vec<Person>| people.iter().find(|who| who.id.to_string() == id).cloned();
    let Some(person) = app.people.with_untracked(known) else {
        return view! {
            {plain_head(app, words.who_title(), &back)}
            <main id="main" tabindex="-1" class="pad">
                <p>{words.who_nobody()}</p>
            </main>
            {floor(act_link(words.go_home(), Route::Home.to_string()))}
        }
        .into_tree();
    };
    let form = Form::of(&person);
    let keep = {
        let (person, back) = (person.clone(), back.clone());
        move || {
            let back = back.clone();
            if let Some(write) = form.written(app) {
                let then = move || (app.ports().replace)(&back.to_string());
                app.change_somebody(person.id, write, then);
            }
        }
    };
    let name = person.nickname.clone();
    let label = move || app.w().who_keep(&clean_line(&form.name.get(), NICKNAME_MAX));
    view! {
        {plain_head(app, words.who_edit(&name), &back)}
        <main id="main" tabindex="-1" class="form">
            {move || problems(app, form)}
            {
                let person = person.clone();
                move || renames(app, form, &person)
            }
            {fields(app, form)}
            {move || super::who_away::leave(app, person.clone(), move || app.go(&Route::Who))}
        </main>
        {floor(act(label, keep))}
    }
    .into_tree()
}

/// A name that is typed over another takes the tests along: said before it is kept.
fn renames(app: App, form: Form, person: &Person) -> Tree {
    let name = clean_line(&form.name.get(), NICKNAME_MAX);
    let tests = app.tests_of(person);
    if tests == 0 || name.is_empty() || name == person.nickname {
        return Tree::Nothing;
    }
    let words = app.w();
    notice(
        Icon::Info,
        view! {
            <p>{words.who_renames(&name, tests)}</p>
            <a href=Route::AddPerson.to_string()>{words.who_add()}</a>
        },
    )
}

/// Who has another name now, with the way back; on whichever page that is.
pub(super) fn renamed(app: App) -> Tree {
    let Some((before, after)) = app.renamed.get() else {
        return Tree::Nothing;
    };
    let words = app.w();
    notice(
        Icon::Undo,
        view! {
            <p>{words.who_renamed(&before.nickname, &after, app.tests_of(&before))}</p>
            <div class="row">
                {button(words.who_name_back(&before.nickname), move || app.name_back())}
                {button(words.who_renamed_right(), move || app.renamed.set(None))}
            </div>
        },
    )
}
