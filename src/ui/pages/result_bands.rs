//! The published bands of a result: what stands beside the wall, and what is said under it.

use crate::ui::prelude::*;

use two_marks::assess::Assessment;
use two_marks::chart::{self, Reference, Strip};
use two_marks::history::Test;
use two_marks::norms::{NoPosition, Standing};
use two_marks::quantity::{Compare, Length, Sex, Unit};
use two_marks::share::Route;
use two_marks::text::{StandingSaid, TapeSaid};

use crate::ui::components::{Choice, button, pick};
use crate::ui::state::App;

/// One published source beside the wall, with its words.
pub(super) struct Beside {
    /// The line on the plaster.
    pub(super) head: String,
    /// Whom the tape is about.
    pub(super) title: String,
    tape: Option<TapeSaid>,
    said: Option<StandingSaid>,
    at: Length,
}

impl Beside {
    pub(super) fn strips(&self) -> Vec<Strip<'_>> {
        self.tape.as_ref().map(TapeSaid::strips).unwrap_or_default()
    }

    pub(super) fn reference<'a>(&'a self, strips: &'a [Strip<'a>]) -> Reference<'a> {
        self.tape.as_ref().map_or(Reference::None, |tape| tape.reference(strips))
    }

    pub(super) fn standing(&self) -> Option<chart::Standing<'_>> {
        let said = self.said.as_ref()?;
        Some(chart::Standing { at: self.at, first: &said.tag, second: &said.second })
    }
}

/// Every place in every table, best match first.
fn standings(assessed: &Assessment) -> Vec<Standing> {
    let by_sex = assessed.placements.by_sex.iter();
    by_sex.flat_map(|placement| placement.standings.iter().copied()).collect()
}

/// The source at a place of the list, beside the wall.
pub(super) fn beside_wall(app: App, assessed: &Assessment, unit: Unit, place: usize) -> Beside {
    let words = app.w();
    let Some(standing) = standings(assessed).get(place).copied() else {
        let reason = missing(assessed);
        let title = reason.map(|reason| words.no_position(reason)).unwrap_or_default();
        let head = reason.map(|_| words.result_no_table()).unwrap_or_default();
        return Beside { head, title, tape: None, said: None, at: Length::ZERO };
    };
    let said = words.standing(&standing, unit);
    let tape = words.tape(&standing, unit);
    let best = assessed.best_of_first_three.map(|best| best.0);
    let mean = assessed.usual.map(|usual| usual.height.0);
    Beside {
        head: said.tag.clone(),
        title: tape.title.clone(),
        at: best.or(mean).unwrap_or(Length::ZERO),
        tape: Some(tape),
        said: Some(said),
    }
}

/// What readers hear of the bands.
pub(super) fn spoken(app: App, assessed: &Assessment, unit: Unit) -> String {
    let words = app.w();
    match standings(assessed).first() {
        Some(standing) => words.standing(standing, unit).sentence,
        None => missing(assessed).map(|reason| words.no_position(reason)).unwrap_or_default(),
    }
}

/// Why there is no table. Where nobody has asked for one yet, or has asked for none, none is missing.
fn missing(assessed: &Assessment) -> Option<NoPosition> {
    reason(assessed).filter(|reason| *reason != NoPosition::NotAsked)
}

fn reason(assessed: &Assessment) -> Option<NoPosition> {
    let of_sex = assessed.placements.by_sex.iter().find_map(|placement| placement.none_because);
    assessed.placements.none_because.or(of_sex)
}

/// The section under the wall.
pub(super) fn section(
    app: App,
    test: &Test,
    assessed: &Assessment,
    place: RwSignal<usize>,
) -> Tree {
    let words = app.w();
    let unit = test.session.division.unit();
    let asked = app.person().is_some_and(|person| person.compare.is_some());
    let all = standings(assessed);
    let list: Vec<_> =
        all.iter().enumerate().map(|(at, standing)| one(app, at, standing, unit, place)).collect();
    let none = all.is_empty().then(|| none_view(app, assessed, asked));
    let growers = assessed.placements.growers_differ && !all.is_empty();
    let growers = growers.then(|| view! { <p>{words.norm_growers()}</p> });
    let compared = assessed.best_of_first_three.zip(assessed.best);
    let first_three = compared
        .filter(|_| !all.is_empty())
        .and_then(|(compared, best)| words.first_three_note(best.0, compared.0, unit));
    view! {
        <section class="pad stack" aria-labelledby="bands-title">
            <h2 id="bands-title">{words.result_compare_title()}</h2>
            {choose(app, asked)}
            {first_three.map(|note| view! { <p>{note}</p> })}
            {none}
            <ul class="bands">{list}</ul>
            {growers}
        </section>
    }
    .into_tree()
}

fn none_view(app: App, assessed: &Assessment, asked: bool) -> Tree {
    let words = app.w();
    let reason = reason(assessed).filter(|_| asked);
    let add_age = matches!(reason, Some(NoPosition::AgeUnknown | NoPosition::AgeGroupTooWide));
    let said = reason.map(|reason| view! { <p>{words.no_position(reason)}</p> });
    let person = app.person().filter(|_| add_age);
    let add_age = person.map(|person| {
        view! {
            <a class="btn" href=Route::Person(person.id.to_string()).to_string()>
                {words.result_add_age()}
            </a>
        }
    });
    view! {
        {said}
        {add_age}
    }
    .into_tree()
}

fn choose(app: App, asked: bool) -> Tree {
    let words = app.w();
    let choices = vec![
        Choice::new(Compare::With(Sex::Female), words.result_compare_female()),
        Choice::new(Compare::With(Sex::Male), words.result_compare_male()),
        Choice::new(Compare::Both, words.result_compare_both()),
        Choice::new(Compare::None, words.result_compare_none()),
    ];
    let chosen = Signal::derive(move || app.person().and_then(|person| person.compare));
    let note = if asked { words.result_compare_note() } else { words.result_compare_ask() };
    view! {
        <p id="compare-label">{note}</p>
        {pick("compare", "compare-label".to_owned(), choices, chosen, move |compare| {
            app.compare_with(compare);
        })}
    }
    .into_tree()
}

fn one(app: App, at: usize, standing: &Standing, unit: Unit, place: RwSignal<usize>) -> Tree {
    let words = app.w();
    let said = words.standing(standing, unit);
    let shown = move || place.get() == at;
    let show = {
        let words = words.clone();
        move || (!shown()).then(|| button(words.result_show_on_wall(), move || place.set(at)))
    };
    let details = said.details().into_iter();
    let more: Vec<_> = details.map(|line| view! { <li>{line}</li> }).collect();
    view! {
        <li class="band stack">
            <h3>{said.title}</h3>
            <p class="strong">{said.sentence}</p>
            <p>{said.comparability}</p>
            {show}
            <details>
                <summary>{words.result_about_source()}</summary>
                <ul class="dots">{more}</ul>
                <p class="small soft" lang=said.attribution_language>{said.attribution}</p>
            </details>
        </li>
    }
    .into_tree()
}
