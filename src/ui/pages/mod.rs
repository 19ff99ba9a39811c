//! One page per file: reads state, calls actions, lays out components. No arithmetic, no units, no
//! words of their own.

mod about;
mod add;
mod athletes;
mod bands;
mod card;
mod change;
mod check;
mod class;
mod clock;
mod clock_said;
mod common;
mod data;
mod data_bin;
mod data_restore;
mod data_sheets;
mod entry;
mod example;
mod film;
mod glossary;
mod growth;
mod hand_on;
mod history;
mod history_line;
mod home;
mod jumps;
mod keeping;
mod language;
mod lost;
mod power;
mod paper;
mod parts;
mod person;
mod person_form;
mod picture;
mod reach;
mod ready;
mod result;
mod result_bands;
mod result_more;
mod rulers;
mod season;
mod season_choose;
mod season_more;
mod season_picture;
mod season_plan;
mod result_record;
mod setup;
mod strip;
mod sure;
mod touch;
mod technique;
mod test_form;
mod test_form_lists;
mod warm_up;
mod who;
mod who_away;

use crate::ui::prelude::*;
use two_marks::share::Route;

pub use language::missing as language_missing;
pub use parts::Parts;

use super::components::{Icon, alert, button, notice};
use super::state::{App, Front, Notice};
use two_marks::text::Words;

/// The page of a route that the main file holds.
fn first_page(front: Front, route: &Route) -> Tree {
    match route {
        Route::Home => home::first_page(front),
        _ => lost::page(front),
    }
}

/// The first stop of the keyboard: past the head, to what the page is for. It moves the focus and
/// leaves the address alone.
pub fn skip_link(front: Front) -> Tree {
    let words = front.w();
    view! {
        <button type="button" class="skip" on:click=move |_| (front.near.focus)("main")>
            {words.skip_to_main()}
        </button>
    }
    .into_tree()
}

/// A newer version waits; it is offered where no test is under way.
pub fn update_notice(front: Front, parts: Parts) -> Tree {
    if !front.update_waits.get() {
        return Tree::Nothing;
    }
    let words = front.w();
    let use_it = (!parts.is_testing())
        .then(|| button(words.new_version_use(), move || (front.near.apply_update)()));
    notice(
        Icon::Info,
        view! {
            <p>{words.new_version_ready()}</p>
            {use_it}
        },
    )
}

/// What is told on whichever page it comes up.
fn told_everywhere(app: App) -> Tree {
    view! {
        {store_trouble(app)}
        {person::renamed(app)}
    }
    .into_tree()
}

/// What the store refused, on whichever page it was asked.
fn store_trouble(app: App) -> Tree {
    use two_marks::history::{SaveError, StoreError};
    let Some(Notice::NotSaved(error)) = app.notice.get() else {
        return Tree::Nothing;
    };
    let words = app.w();
    alert(match error {
        SaveError::Storage(StoreError::Full) => words.store_full(),
        SaveError::Stale { .. } => words.other_tab_newer(),
        _ => words.store_failed(),
    })
}

/// The title of a page, for the window.
pub fn title(words: &Words, route: &Route) -> String {
    match route {
        Route::Home | Route::Lost => words.app_name(),
        Route::Who => words.who_title(),
        Route::AddPerson => words.who_add(),
        Route::Person(_) => words.who_person(),
        Route::Ready => words.ready_title(),
        Route::WarmUp => words.warm_title(),
        Route::Setup => words.setup_title(),
        Route::Reach => words.reach_title(),
        Route::Jumps => words.jumps_title(),
        Route::Clock => words.clock_title(),
        Route::Film => words.clock_film_title(),
        Route::Rulers => words.clock_rulers_title(),
        Route::Check => words.check_title(),
        Route::Result(_) => words.result_title(),
        Route::History => words.history_title(),
        Route::Season => words.season_title(),
        Route::SeasonPicture => words.picture_season_title(),
        Route::Change(_) => words.form_change_title(),
        Route::Add => words.form_add_title(),
        Route::Glossary => words.words_title(),
        Route::Data => words.home_data(),
        Route::Bands => words.bands_title(),
        Route::Sure => words.sure_title(),
        Route::Paper => words.paper_title(),
        Route::Strip => words.strip_title(),
        Route::Technique => words.technique_title(),
        Route::Picture(_) => words.picture_title(),
        Route::HandOn(_) => words.card_share_title(),
        Route::Card(_) => words.card_title(),
        Route::Example => words.example_title(),
        Route::About => words.about_title(),
        Route::Touch => words.touch_title(),
        Route::Power => words.power_title(),
        Route::Growth => words.growth_title(),
        Route::Athletes => words.athletes_title(),
        Route::Class(page) => class::title(words, page),
    }
}
