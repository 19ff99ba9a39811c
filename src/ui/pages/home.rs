use crate::ui::prelude::*;

use two_marks::share::{ClassPage, Route};
use two_marks::text::DateForm;

use super::common::start_or_go_on;
use crate::ui::components::{Icon, act, button, floor, icon, notice};
use crate::ui::state::{App, Front};

/// The wall: everybody's tests, and the way into a new one.
pub fn page(app: App) -> Tree {
    layout(
        app.front,
        (move || people(app)).into_tree(),
        view! {
            {(!app.is_kept()).then(|| not_kept(app.front))}
            {move || draft(app)}
            {move || troubles(app)}
            {move || super::keeping::reminders(app)}
            {move || wall(app)}
        }
        .into_tree(),
        start_or_go_on(app, move || app.begin()),
    )
}

/// The wall of who has no record here yet.
pub fn first_page(front: Front) -> Tree {
    let words = front.w();
    layout(
        front,
        purpose(front),
        view! {
            {(!front.keeps).then(|| not_kept(front))}
            {empty(front, super::example::way_in(front))}
        }
        .into_tree(),
        // A test needs somebody who does it.
        floor(act(move || words.start_test(), move || front.go(&Route::Who))),
    )
}

fn layout(front: Front, people: Tree, wall: Tree, foot: Tree) -> Tree {
    let words = front.w();
    view! {
        <header class="home-head pad">
            <div class="row-apart">
                <h1 id="title" tabindex="-1">
                    {words.app_name()}
                </h1>
                {super::language::chooser(front)}
            </div>
            {people}
        </header>
        <main id="main" tabindex="-1">
            {wall}
            <nav class="dado pad links" aria-label=words.home_more()>
                <a class="btn" href=Route::History.to_string()>
                    {words.home_tests()}
                </a>
                <a class="btn" href=Route::Season.to_string()>
                    {words.season_title()}
                </a>
                <a class="btn" href=Route::Clock.to_string()>
                    {words.clock_title()}
                </a>
                <a class="btn" href=Route::Data.to_string()>
                    {words.home_data()}
                </a>
                <a class="btn" href=Route::Class(ClassPage::List).to_string()>
                    {words.class_title()}
                </a>
                <a class="btn" href=Route::Glossary.to_string()>
                    {words.home_words()}
                </a>
                <a class="btn" href=Route::Paper.to_string()>
                    {words.paper_title()}
                </a>
                <a class="btn" href=Route::About.to_string()>
                    {words.home_about()}
                </a>
                <p class="small soft">{words.home_works_offline()}</p>
            </nav>
        </main>
        {foot}
    }
    .into_tree()
}

fn not_kept(front: Front) -> Tree {
    notice(Icon::Info, front.w().not_saved_here())
}

fn purpose(front: Front) -> Tree {
    view! { <p>{front.w().home_purpose()}</p> }.into_tree()
}

fn empty(front: Front, example: Tree) -> Tree {
    let words = front.w();
    view! {
        <section class="empty">
            <h2>{words.home_empty_title()}</h2>
            <p>{words.home_empty()}</p>
            {example}
        </section>
    }
    .into_tree()
}

fn people(app: App) -> Tree {
    let words = app.w();
    let people = app.people.get().into_iter().filter(|person| !person.archived);
    let chips: Vec<_> = people
        .map(|person| {
            let key = person.local.clone();
            let chosen = app.person_key.get().as_ref() == Some(&key);
            let own = Route::Person(person.id.to_string());
            // Who is shown already has a page of their own behind the name.
            let press = move || {
                if chosen { app.go(&own) } else { app.show_person(Some(key.clone())) }
            };
            view! {
                <button
                    type="button"
                    class="chip"
                    aria-pressed=if chosen { "true" } else { "false" }
                    on:click=move |_| press()
                >
                    {person.nickname}
                </button>
            }
        })
        .collect();
    if chips.is_empty() {
        return purpose(app.front);
    }
    view! {
        <div class="chips" role="group" aria-label=words.home_people()>
            {chips}
            <a class="chip chip--add" href=Route::AddPerson.to_string()>
                {icon(Icon::Plus)}
                {words.home_add_person()}
            </a>
        </div>
    }
    .into_tree()
}

fn draft(app: App) -> Tree {
    if app.progress.with(Option::is_none) {
        return Tree::Nothing;
    }
    let words = app.w();
    let name = super::common::tester_name(app);
    let drop = button(words.home_drop_draft(), move || app.drop_test());
    notice(
        Icon::Info,
        view! {
            <p>{words.home_go_on_note(&name)}</p>
            <div class="row">{drop}</div>
        },
    )
}

fn troubles(app: App) -> Tree {
    use two_marks::history::Trouble;
    let words = app.w();
    let troubles = app.troubles.get();
    let newer = troubles.iter().filter(|trouble| matches!(trouble, Trouble::Newer { .. })).count();
    let aside = troubles.len() - newer;
    let count = |many: usize| u32::try_from(many).unwrap_or(u32::MAX);
    let newer = (newer > 0).then(|| notice(Icon::Info, words.history_newer(count(newer))));
    let aside = (aside > 0).then(|| notice(Icon::Info, words.history_aside(count(aside))));
    view! {
        {newer}
        {aside}
    }
    .into_tree()
}

fn wall(app: App) -> Tree {
    let words = app.w();
    let tests = app.tests.get();
    let Some(last) = tests.first() else {
        // A pupil's class test hides the records of the device: an empty wall would look like a loss.
        if app.is_visiting() {
            return notice(Icon::Info, words.class_happens_4());
        }
        let way_in = move || (!app.example.get()).then(|| super::example::way_in(app.front));
        return empty(app.front, way_in.into_tree());
    };
    let unit = app.unit();
    let said = |height: Option<two_marks::quantity::JumpHeight>| {
        height.map(|height| words.length(height.0, unit)).unwrap_or_default()
    };
    let same = tests.iter().filter(|test| test.session.key == last.session.key);
    let best = same.filter_map(|test| test.session.best()).max();
    let date = words.date(last.date, DateForm::DayAndMonth);
    let one = (tests.len() == 1).then(|| view! { <p>{words.home_one_test()}</p> });
    view! {
        <section class="home-wall pad stack">
            <p class="lead">{words.home_last_test(&date)}</p>
            <p>
                <a class="home-score" href=Route::Result(last.id.to_string()).to_string()>
                    {said(last.session.best())}
                </a>
            </p>
            <p class="soft">{words.test_kind(last.session.key)}</p>
            <p>{words.home_best_of_all(&said(best))}</p>
            {one}
        </section>
    }
    .into_tree()
}
