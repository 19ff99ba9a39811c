//! Class mode: the teacher's pages, and what a pupil sees behind a link.

mod bands;
mod collect;
mod hub;
mod join;
mod list;
mod prepare;
mod sheet;
mod show;
mod slip;
mod station;

use crate::ui::prelude::*;

use two_marks::history::{Class, ClassSetup, MarkMethod, Shown};
use two_marks::share::{ClassPage, Route};
use two_marks::text::Words;

pub(super) use show::share_row;

use super::common::plain_head;
use crate::ui::components::{act_link, floor};
use crate::ui::state::App;

/// The page of a class route.
pub fn page(app: App, page: &ClassPage) -> Tree {
    match page {
        ClassPage::List => list::page(app),
        ClassPage::New => prepare::page(app),
        ClassPage::Lesson => list::lesson(app),
        ClassPage::Of(id) => with_class(app, id, hub::page),
        ClassPage::Show(id) => with_class(app, id, show::page),
        ClassPage::Wall(id) => with_class(app, id, show::wall_page),
        ClassPage::Station(id) => with_class(app, id, station::page),
        ClassPage::Collect(id) => with_class(app, id, collect::page),
        ClassPage::Sheet(id) => with_class(app, id, sheet::page),
        ClassPage::Setup(id) => with_class(app, id, prepare::change_page),
        ClassPage::Join(code) => join::page(app, code),
        ClassPage::Slip(code) => slip::page(app, code),
    }
}

/// The title of a class page, for the window. The label of a class is its own business.
pub fn title(words: &Words, page: &ClassPage) -> String {
    match page {
        ClassPage::New => words.class_prepare(),
        ClassPage::Setup(_) => words.class_setup(),
        ClassPage::Lesson => words.class_lesson(),
        ClassPage::Station(_) => words.class_station(),
        ClassPage::Collect(_) => words.class_collect(),
        ClassPage::Slip(_) => words.class_slip(),
        ClassPage::Join(_) => words.class_join(),
        _ => words.class_title(),
    }
}

fn with_class(app: App, id: &str, page: fn(App, Class) -> Tree) -> Tree {
    let found = untrack(|| app.class(id));
    found.map_or_else(|| gone(app), |class| page(app, class))
}

fn gone(app: App) -> Tree {
    let words = app.w();
    let list = Route::Class(ClassPage::List);
    view! {
        {plain_head(app, words.class_title(), &list)}
        <main id="main" tabindex="-1" class="pad">
            <p>{words.class_gone()}</p>
        </main>
        {floor(act_link(words.class_all(), list.to_string()))}
    }
    .into_tree()
}

/// A page of one class.
fn to(page: ClassPage) -> String {
    Route::Class(page).to_string()
}

/// A link that looks like a button.
fn button_link(label: String, page: ClassPage) -> Tree {
    plain_link(label, to(page))
}

fn plain_link(label: String, to: String) -> Tree {
    view! { <a class="btn" href=to>{label}</a> }.into_tree()
}

/// The set-up in lines, as a pupil and a teacher read it.
fn setup_lines(words: &Words, setup: &ClassSetup) -> Tree {
    let count = |count: u8| u32::from(count);
    let marks = match setup.marks {
        MarkMethod::FromFloor => words.setup_floor(),
        MarkMethod::BetweenMarks => words.setup_between(),
    };
    let reaches =
        (setup.marks == MarkMethod::FromFloor).then(|| words.class_reaches(count(setup.reaches)));
    let lines = [
        Some(words.test_kind(setup.key())),
        Some(words.two_things(&marks, &words.division(setup.division))),
        reaches,
        Some(words.class_trials(count(setup.trials))),
        (setup.rest_seconds > 0).then(|| words.class_rest(u32::from(setup.rest_seconds))),
        setup.ready_check.then(|| words.step_ready()),
        setup.warm_up.then(|| words.step_warm_up()),
        Some(match setup.shown {
            Shown::Number => words.class_shows_number(),
            Shown::NumberAndSpread => words.class_shows_spread(),
        }),
    ];
    let lines: Vec<_> = lines.into_iter().flatten().map(|line| view! { <li>{line}</li> }).collect();
    view! { <ul class="dots">{lines}</ul> }.into_tree()
}
