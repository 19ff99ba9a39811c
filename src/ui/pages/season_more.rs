//! Under the picture of a season: two chosen tests, bands, notes, what is left out, and the table.

use crate::ui::prelude::*;

use two_marks::assess::{SeasonStory, StoryTest, compare_tests};
use two_marks::history::Id;
use two_marks::quantity::{Length, Unit};
use two_marks::share::Route;
use two_marks::text::{DateForm, Words};

use super::season::{Chosen, edge};
use crate::ui::components::{button, data_table, select_field, verdict};
use crate::ui::state::App;

/// Rows of the table shown at once: enough for a season, few enough for a slow phone.
const ROWS: usize = 30;

/// Everything between the verdict and the plan.
pub(super) fn sections(app: App, chosen: Chosen) -> Tree {
    view! {
        {pair(app, chosen)}
        {move || bands(app, chosen)}
        {move || with_story(chosen, |story| notes(&app.w(), story, app.unit()))}
        {move || with_story(chosen, |story| left_out(&app.w(), story))}
    }
    .into_tree()
}

fn with_story(chosen: Chosen, show: impl FnOnce(&SeasonStory) -> Tree) -> Tree {
    chosen.story.with(|story| story.as_ref().map_or(Tree::Nothing, show))
}

/// Signals are made here, outside of what the story lays anew, so that none goes with a list.
fn pair(app: App, chosen: Chosen) -> Tree {
    let words = app.w();
    let [one, other] = chosen.pair;
    let first = Signal::derive(move || shown_id(chosen, one.get(), false));
    let last = Signal::derive(move || shown_id(chosen, other.get(), true));
    let is_choosing = RwSignal::new(false);
    let choices =
        Memo::new(move |_| if is_choosing.get() { options(app, chosen) } else { Vec::new() });
    view! {
        <section class="pad stack season__pair">
            <h2>{words.season_pair_title()}</h2>
            <p class="small soft">{words.season_pair_note()}</p>
            // A list of every test of a long season takes its time, so it comes when it is asked for.
            <button
                type="button"
                class="chip"
                aria-expanded=move || if is_choosing.get() { "true" } else { "false" }
                on:click=move |_| is_choosing.update(|is_choosing| *is_choosing = !*is_choosing)
            >
                {words.season_pair_choose()}
            </button>
            {move || {
                let label = app.w().season_pair_earlier();
                if !is_choosing.get() {
                    return which_test(app, chosen, &label, &first.get());
                }
                select_field("pair-one", label, choices.get(), first, move |id| {
                    one.set(Id::parse(&id));
                })
            }}
            {move || {
                let label = app.w().season_pair_later();
                if !is_choosing.get() {
                    return which_test(app, chosen, &label, &last.get());
                }
                select_field("pair-other", label, choices.get(), last, move |id| {
                    other.set(Id::parse(&id));
                })
            }}
            <div role="status">{move || pair_said(app, chosen, &first.get(), &last.get())}</div>
        </section>
    }
    .into_tree()
}

/// The test chosen, if it is among those that count; else the first or the last of them.
fn shown_id(chosen: Chosen, id: Option<Id>, is_last: bool) -> String {
    chosen.story.with(|story| {
        let counted = || story.iter().flat_map(SeasonStory::counted).map(|test| test.id);
        let known = id.filter(|id| counted().any(|other| other == *id));
        let ends = if is_last { counted().next_back() } else { counted().next() };
        known.or(ends).map(|id| id.to_string()).unwrap_or_default()
    })
}

/// Every test that counts, by its day and usual jump.
fn options(app: App, chosen: Chosen) -> Vec<(String, String)> {
    chosen.story.with(|story| {
        let counted = story.iter().flat_map(SeasonStory::counted);
        counted.map(|test| (test.id.to_string(), test_said(app, test))).collect()
    })
}

/// One of the two tests compared, while they are not chosen anew.
fn which_test(app: App, chosen: Chosen, label: &str, id: &str) -> Tree {
    let id = Id::parse(id);
    let said = chosen.story.with(|story| {
        let mut counted = story.iter().flat_map(SeasonStory::counted);
        counted.find(|test| Some(test.id) == id).map(|test| test_said(app, test))
    });
    said.map_or(Tree::Nothing, |said| {
        view! { <p>{app.w().season_pair_which(label, &said)}</p> }.into_tree()
    })
}

fn test_said(app: App, test: &StoryTest) -> String {
    let words = app.w();
    let date = words.date(test.date, DateForm::Full);
    words.two_things(&date, &words.length(test.usual, app.unit()))
}

fn pair_said(app: App, chosen: Chosen, one: &str, other: &str) -> Tree {
    let words = app.w();
    let ids = Id::parse(one).zip(Id::parse(other));
    let found = chosen.story.with(|story| {
        let (story, (one, other)) = (story.as_ref()?, ids?);
        let pair = compare_tests(story, one, other)?;
        Some((pair.verdict, words.pair_verdict(&pair, app.unit())))
    });
    match found {
        Some((answer, said)) => verdict(edge(answer), said.head, said.lines),
        None if one == other && !one.is_empty() => {
            view! { <p>{words.season_pair_same()}</p> }.into_tree()
        }
        None => view! { <p>{words.season_pair_need()}</p> }.into_tree(),
    }
}

/// The place at each age, in words.
fn bands(app: App, chosen: Chosen) -> Tree {
    let choice = if chosen.bands.get() { chosen.band_choice() } else { None };
    let Some(choice) = choice else {
        return Tree::Nothing;
    };
    let (words, unit) = (app.w(), app.unit());
    let rows: Vec<_> = chosen.story.with(|story| {
        let places = story.iter().flat_map(|story| story.places(choice));
        let rows = places.map(|(date, standing)| {
            let said = words.standing(&standing, unit);
            let place = words.two_things(&said.tag, &said.title);
            let line = words.season_bands_at(&words.date(date, DateForm::Full), &place);
            view! { <li>{line}</li> }
        });
        rows.collect()
    });
    view! {
        <section class="pad stack">
            <h2>{words.season_bands_title()}</h2>
            <ul class="dots">{rows}</ul>
        </section>
    }
    .into_tree()
}

fn notes(words: &Words, story: &SeasonStory, unit: Unit) -> Tree {
    if story.reach_doubts.is_empty() {
        return Tree::Nothing;
    }
    let rows: Vec<_> = story
        .reach_doubts
        .iter()
        .take(ROWS)
        .map(|(date, doubt)| {
            let date = words.date(*date, DateForm::Full);
            view! { <li>{words.season_reach_on(&date, &words.reach_doubt(*doubt, unit))}</li> }
        })
        .collect();
    view! {
        <section class="pad stack">
            <h2>{words.season_reach_title()}</h2>
            <ul class="dots">{rows}</ul>
        </section>
    }
    .into_tree()
}

fn left_out(words: &Words, story: &SeasonStory) -> Tree {
    let rows: Vec<_> = story
        .left_out
        .iter()
        .map(|group| view! { <li>{words.season_left_out(group)}</li> })
        .collect();
    let none = rows.is_empty().then(|| view! { <p>{words.season_left_none()}</p> });
    let note = (!rows.is_empty()).then(|| view! { <p>{words.season_left_note()}</p> });
    view! {
        <section class="pad stack season__left">
            <h2>{words.season_left_title()}</h2>
            {none}
            <ul class="dots">{rows}</ul>
            {note}
        </section>
    }
    .into_tree()
}

/// The same data as a table, newest first, more of it at a tap.
pub(super) fn table(app: App, chosen: Chosen) -> Tree {
    let shown = RwSignal::new(ROWS);
    let body = move || {
        let (words, unit) = (app.w(), app.unit());
        chosen.story.with(|story| {
            let tests = story.iter().flat_map(|story| story.tests.iter().rev());
            tests.take(shown.get()).map(|test| row(&words, test, unit)).collect::<Vec<_>>()
        })
    };
    let more = move || {
        let all = chosen.story.with(|story| story.as_ref().map_or(0, |story| story.tests.len()));
        let left = all.saturating_sub(shown.get()).min(ROWS);
        let left = u32::try_from(left).unwrap_or(0);
        (left > 0)
            .then(|| button(app.w().season_more(left), move || shown.update(|rows| *rows += ROWS)))
    };
    let words = app.w();
    let heads = vec![
        (words.history_date(), false),
        (words.history_usual(), true),
        (words.season_error(), true),
        (words.history_height(), true),
        (words.season_reach(), true),
        (words.season_touch(), true),
        (words.history_notes(), false),
    ];
    view! {
        <section class="pad stack season__table">
            {data_table(words.season_table(), heads, body, None)}
            {more}
        </section>
    }
    .into_tree()
}

fn row(words: &Words, test: &StoryTest, unit: Unit) -> Tree {
    let exact = |length: Option<Length>| {
        length.map(|length| words.exact_number(length, unit)).unwrap_or_default()
    };
    let best = words.length(test.best, unit);
    let date = words.date(test.date, DateForm::Full);
    view! {
        <tr>
            <td>
                <a
                    href=Route::Result(test.id.to_string()).to_string()
                    aria-label=words.history_open(&date, &best)
                >
                    {date.clone()}
                </a>
            </td>
            <td class="num">{words.length(test.usual, unit)}</td>
            <td class="num">{words.spread_number(test.error, unit)}</td>
            <td class="num">{words.length_number(test.best, unit)}</td>
            <td class="num">{exact(test.reach)}</td>
            <td class="num">{exact(test.touch())}</td>
            <td>{words.story_notes(test)}</td>
        </tr>
    }
    .into_tree()
}
