//! The choices of the season page: what to see, how far back, how close.

use crate::ui::prelude::*;

use two_marks::assess::{BandChoice, Span, keys};
use two_marks::season::{View, window_or_all};

use super::season::Chosen;
use crate::ui::components::{Choice, button, pick};
use crate::ui::state::App;

/// Spans offered besides everything, months.
const SPANS: [u32; 3] = [12, 6, 3];

/// Closer, wider, earlier, later: no gesture is needed.
pub(super) fn moves(app: App, chosen: Chosen) -> Tree {
    let words = app.w();
    let moved = move |by: fn(View) -> View| {
        let story = chosen.story.get_untracked();
        let now = chosen.view.get_untracked();
        let view = story.and_then(|story| window_or_all(&story, now));
        chosen.view.set(view.map(by));
    };
    let days = move || {
        let (first, last) = chosen.view.get().filter(|view| !view.is_all())?.days();
        Some(app.w().period(first, last))
    };
    view! {
        <section class="pad season__moves" aria-label=words.season_view()>
            <div class="row">
                {button(words.season_closer(), move || moved(View::closer))}
                {button(words.season_wider(), move || moved(View::wider))}
                {button(words.season_earlier(), move || moved(View::earlier))}
                {button(words.season_later(), move || moved(View::later))}
            </div>
            <p class="small soft" role="status">{days}</p>
        </section>
    }
    .into_tree()
}

/// Which jump and how far back.
pub(super) fn which(app: App, chosen: Chosen) -> Tree {
    view! {
        {move || kinds(app, chosen)}
        {spans(app, chosen)}
    }
    .into_tree()
}

/// How far back.
fn spans(app: App, chosen: Chosen) -> Tree {
    let words = app.w();
    let spans =
        SPANS.map(|months| Choice::new(Span::Months(months), words.season_span_months(months)));
    let spans =
        [Choice::new(Span::All, words.season_span_all())].into_iter().chain(spans).collect();
    let span = Signal::derive(move || Some(chosen.span.get()));
    view! {
        <h2 id="span-label">{words.season_span()}</h2>
        {pick("span", "span-label".to_owned(), spans, span, move |span| {
            chosen.view.set(None);
            chosen.span.set(span);
        })}
        <p class="small soft">{words.season_span_note()}</p>
    }
    .into_tree()
}

/// How far back, and what else to draw.
pub(super) fn section(app: App, chosen: Chosen) -> Tree {
    let words = app.w();
    view! {
        <section class="pad stack season__choose">
            {spans(app, chosen)}
            <h2 id="show-label">{words.season_show()}</h2>
            <div class="chips" role="group" aria-labelledby="show-label">
                {toggle(words.season_show_bands(), chosen.bands)}
                {toggle(words.season_show_reach(), chosen.reach)}
                {toggle(words.season_show_touch(), chosen.touch)}
            </div>
            {move || tables(app, chosen)}
        </section>
    }
    .into_tree()
}

fn toggle(label: String, on: RwSignal<bool>) -> Tree {
    view! {
        <button
            type="button"
            class="chip"
            aria-pressed=move || if on.get() { "true" } else { "false" }
            on:click=move |_| on.update(|on| *on = !*on)
        >
            {label}
        </button>
    }
    .into_tree()
}

/// One chip per kind of test, where there are several: they are never mixed.
pub(super) fn kinds(app: App, chosen: Chosen) -> Tree {
    let words = app.w();
    let kinds = app.tests.with(|tests| keys(tests));
    let now = chosen.story.with(|story| story.as_ref().map(|story| story.key));
    if kinds.len() < 2 {
        return Tree::Nothing;
    }
    let chips: Vec<_> = kinds
        .into_iter()
        .map(|key| {
            view! {
                <button
                    type="button"
                    class="chip"
                    aria-pressed=if now == Some(key) { "true" } else { "false" }
                    on:click=move |_| {
                        chosen.view.set(None);
                        chosen.table.set(None);
                        chosen.key.set(Some(key));
                    }
                >
                    {words.test_kind_in_full(key)}
                </button>
            }
        })
        .collect();
    view! {
        <div class="pad-x">
            <h2 class="small" id="kind-label">{words.season_kind()}</h2>
            <div class="chips" role="group" aria-labelledby="kind-label">
                {chips}
            </div>
        </div>
    }
    .into_tree()
}

/// Which published table, where bands are shown and several fit.
fn tables(app: App, chosen: Chosen) -> Tree {
    if !chosen.bands.get() {
        return Tree::Nothing;
    }
    let words = app.w();
    let now = chosen.band_choice();
    let mut found: Vec<(BandChoice, String)> = Vec::new();
    chosen.story.with(|story| {
        let ages = story.iter().flat_map(|story| story.bands.iter().rev());
        for standing in ages.flat_map(|age| &age.standings) {
            let choice = BandChoice::of(standing);
            if found.iter().all(|(other, _)| *other != choice) {
                found.push((choice, words.source_title(standing.source, standing.cell)));
            }
        }
    });
    if found.is_empty() {
        return view! { <p>{words.result_no_table()}</p> }.into_tree();
    }
    let chips: Vec<_> = found
        .into_iter()
        .map(|(choice, title)| {
            view! {
                <button
                    type="button"
                    class="chip"
                    aria-pressed=if now == Some(choice) { "true" } else { "false" }
                    on:click=move |_| chosen.table.set(Some(choice))
                >
                    {title}
                </button>
            }
        })
        .collect();
    view! {
        <h3 id="table-label">{words.season_bands_which()}</h3>
        <div class="chips" role="group" aria-labelledby="table-label">
            {chips}
        </div>
        <p class="small soft">{words.season_bands_note()}</p>
    }
    .into_tree()
}
