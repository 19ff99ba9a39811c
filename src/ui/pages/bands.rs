//! Where the bands come from: every published table, and what none of them covers.

use crate::ui::prelude::*;

use two_marks::norms::{ALL_SOURCES, LEFT_OUT, Source, TestKind, coverage_rows};
use two_marks::quantity::Sex;
use two_marks::share::Route;
use two_marks::text::Words;

use super::common::plain_head;
use super::result_more::gains;
use crate::ui::components::{act_link, floor};
use crate::ui::state::App;

/// Every source with whom, how, grade, nearness, cautions, citation and licence.
pub fn page(app: App) -> Tree {
    (move || {
        let words = app.w();
        view! {
            {plain_head(app, words.bands_title(), &Route::Home)}
            <main id="main" tabindex="-1" class="pad stack-wide info">
                <section class="stack">
                    <p>{words.bands_intro_1()}</p>
                    <p>{words.bands_intro_2()}</p>
                    <p>{words.bands_intro_3()}</p>
                    <p>{words.bands_intro_4()}</p>
                    <p>{words.bands_intro_5()}</p>
                </section>
                {sources(&words)}
                {coverage(&words)}
                {missing(&words)}
                {run_up(app, &words)}
                {left_out(&words)}
            </main>
            {floor(act_link(words.go_home(), Route::Home.to_string()))}
        }
        .into_tree()
    })
    .into_tree()
}

fn sources(words: &Words) -> Tree {
    let all: Vec<_> = ALL_SOURCES.iter().map(|source| source_view(words, source)).collect();
    view! {
        <section class="stack">
            <h2>{words.bands_sources_title()}</h2>
            <p class="small soft">{words.bands_athletes_note()}</p>
            {all}
        </section>
    }
    .into_tree()
}

fn source_view(words: &Words, source: &Source) -> Tree {
    let facts: Vec<_> = words
        .source_facts(source)
        .into_iter()
        .map(|(what, how)| {
            view! {
                <div>
                    <dt>{what}</dt>
                    <dd>{how}</dd>
                </div>
            }
        })
        .collect();
    // What has no title is described once, below.
    let language = source.attribution.language();
    let cited = language.map(|its| view! { <p lang=its>{words.citation(&source.citation)}</p> });
    view! {
        <details>
            <summary>{words.source_heading(source)}</summary>
            <dl class="facts">
                {facts} <div>
                    <dt>{words.bands_cautions()}</dt>
                    <dd>{bullets(words.cautions(source))}</dd>
                </div> <div>
                    <dt>{words.bands_citation()}</dt>
                    <dd class="stack">
                        {cited}
                        <p class="small">{words.bands_read_at(source.citation.read_at)}</p>
                        <p class="small" lang=language>{words.attribution(source)}</p>
                    </dd>
                </div>
            </dl>
        </details>
    }
    .into_tree()
}

fn bullets(lines: Vec<String>) -> Tree {
    let lines: Vec<_> = lines.into_iter().map(|line| view! { <li>{line}</li> }).collect();
    view! { <ul class="dots">{lines}</ul> }.into_tree()
}

fn coverage(words: &Words) -> Tree {
    let kinds = [
        (TestKind::Wall, words.bands_cover_wall()),
        (TestKind::FlightTime, words.bands_cover_flight()),
    ];
    let sexes = [(Sex::Female, words.bands_cover_female()), (Sex::Male, words.bands_cover_male())];
    let tables: Vec<_> = kinds
        .iter()
        .flat_map(|kind| sexes.iter().map(move |sex| (kind, sex)))
        .map(|((kind, kind_words), (sex, sex_words))| {
            let heading = words.two_things(kind_words, sex_words);
            coverage_list(words, *kind, *sex, heading)
        })
        .collect();
    view! {
        <section class="stack">
            <h2>{words.bands_cover_title()}</h2>
            {tables}
        </section>
    }
    .into_tree()
}

/// A list and not a table: on a narrow screen the ages stand above what covers them.
fn coverage_list(words: &Words, kind: TestKind, sex: Sex, heading: String) -> Tree {
    let rows: Vec<_> = coverage_rows(kind, sex)
        .into_iter()
        .map(|row| {
            let tables = if row.listings.is_empty() {
                words.bands_cover_none().into_tree()
            } else {
                bullets(row.listings.iter().map(|listing| words.listing(listing)).collect())
            };
            view! {
                <div>
                    <dt>{words.coverage_ages(row.ages)}</dt>
                    <dd>{tables}</dd>
                </div>
            }
        })
        .collect();
    view! {
        <h3>{heading}</h3>
        <dl class="facts">{rows}</dl>
    }
    .into_tree()
}

fn missing(words: &Words) -> Tree {
    view! {
        <section class="stack">
            <h2>{words.bands_missing_title()}</h2>
            {bullets(words.not_covered())}
        </section>
    }
    .into_tree()
}

fn run_up(app: App, words: &Words) -> Tree {
    view! {
        <section class="stack">
            <h2>{words.bands_run_up_title()}</h2>
            <p>{words.bands_run_up_note()}</p>
            {gains(words, app.unit())}
        </section>
    }
    .into_tree()
}

fn left_out(words: &Words) -> Tree {
    view! {
        <section class="stack">
            <h2>{words.bands_left_out_title()}</h2>
            {bullets(LEFT_OUT.iter().map(|table| words.left_out(table)).collect())}
        </section>
    }
    .into_tree()
}
