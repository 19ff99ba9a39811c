use crate::ui::prelude::*;

use two_marks::history::Person;
use two_marks::share::Route;

use super::common::plain_head;
use super::person_form::{Form, fields, problems};
use crate::ui::components::{act, act_link, button, floor};
use crate::ui::state::App;

/// Who is testing: whoever is here, or the first person of this device.
pub fn page(app: App) -> Tree {
    if app.people.with_untracked(Vec::is_empty) { first(app) } else { choose(app) }
}

/// Nobody is here yet: who is added begins a test.
fn first(app: App) -> Tree {
    let words = app.w();
    let form = Form::new(words.who_default_name(), app.first_unit());
    let keep = move || {
        if let Some(write) = form.written(app) {
            app.add_person(write, move || app.begin());
        }
    };
    view! {
        {plain_head(app, words.who_title(), &Route::Home)}
        <main id="main" tabindex="-1" class="form">
            {move || problems(app, form)}
            {move || super::who_away::gone(app)}
            {fields(app, form)}
        </main>
        {floor(act(move || app.w().who_start(), keep))}
    }
    .into_tree()
}

/// Whose test it is. A test under way goes to whoever is chosen.
fn choose(app: App) -> Tree {
    let words = app.w();
    view! {
        {plain_head(app, words.who_title(), &Route::Home)}
        <main id="main" tabindex="-1" class="form">
            {move || super::who_away::gone(app)}
            {move || people(app)}
            {move || super::who_away::away(app)}
        </main>
        {floor(act_link(words.who_add(), Route::AddPerson.to_string()))}
    }
    .into_tree()
}

fn people(app: App) -> Tree {
    let words = app.w();
    let people: Vec<_> = app.people.get().into_iter().filter(|person| !person.archived).collect();
    if people.is_empty() {
        return Tree::Nothing;
    }
    let names = people.into_iter().map(|person| {
        let name = person.nickname.clone();
        button(name, move || take(app, &person))
    });
    let names: Vec<_> = names.collect();
    view! {
        <div class="pad stack">
            <p class="lead">{words.who_pick()}</p>
            <div class="row" role="group" aria-label=words.home_people()>
                {names}
            </div>
        </div>
    }
    .into_tree()
}

fn take(app: App, person: &Person) {
    app.show_person(Some(person.local.clone()));
    if app.progress.with_untracked(Option::is_some) {
        app.hand_test_over();
        app.go(&app.where_to_go_on());
    } else {
        app.go(&Route::Home);
    }
}
