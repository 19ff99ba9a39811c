//! Tables of athletes: for adults who ask, and never a goal.

use crate::ui::prelude::*;

use two_marks::assess::among_athletes;
use two_marks::assess::touch::newest_of;
use two_marks::norms::AdultsOnly;
use two_marks::quantity::{Compare, Sex};
use two_marks::share::Route;
use two_marks::text::DateForm;

use super::common::plain_head;
use crate::ui::components::{act_link, check_row, floor};
use crate::ui::state::App;

/// The page; it shows no table until it is asked to.
pub fn page(app: App) -> Tree {
    let words = app.w();
    let asked = RwSignal::new(false);
    view! {
        {plain_head(app, words.athletes_title(), &Route::Home)}
        <main id="main" tabindex="-1" class="pad stack-wide info">
            {move || match AdultsOnly::check(app.age()) {
                Some(adult) => for_adults(app, adult, asked),
                None => view! { <p>{app.w().athletes_adults()}</p> }.into_tree(),
            }}
        </main>
        {floor(act_link(words.go_home(), Route::Home.to_string()))}
    }
    .into_tree()
}

fn for_adults(app: App, adult: AdultsOnly, asked: RwSignal<bool>) -> Tree {
    let words = app.w();
    view! {
        <p>{words.athletes_intro()}</p>
        <p>{words.athletes_no_goal()}</p>
        <div class="checks">
            {check_row("athletes-show", words.athletes_show(), asked.into(), move |on| asked.set(on))}
        </div>
        {move || if asked.get() { tables(app, adult) } else { Tree::Nothing }}
    }
    .into_tree()
}

fn tables(app: App, adult: AdultsOnly) -> Tree {
    let words = app.w();
    let tests = app.tests.get();
    let Some(test) = newest_of(&tests, false) else {
        return view! { <p>{words.athletes_no_test()}</p> }.into_tree();
    };
    let unit = test.session.division.unit();
    let assessed = app.assess(test);
    let best = assessed.best.map(|best| words.length(best.0, unit)).unwrap_or_default();
    let sexes = match app.person().and_then(|person| person.compare) {
        Some(Compare::With(sex)) => vec![sex],
        _ => vec![Sex::Female, Sex::Male],
    };
    let found = sexes
        .into_iter()
        .flat_map(|sex| among_athletes(adult, &test.session, &assessed, sex))
        .map(|standing| {
            let said = words.standing(&standing, unit);
            let details = said.details().into_iter();
            let more: Vec<_> = details.map(|line| view! { <li>{line}</li> }).collect();
            view! {
                <section class="stack">
                    <h2>{said.title}</h2>
                    <p class="strong">{said.sentence}</p>
                    <p>{said.comparability}</p>
                    <ul class="dots">{more}</ul>
                    <p class="small soft" lang="en">{words.citation(&standing.source.citation)}</p>
                    <p class="small soft" lang=said.attribution_language>{said.attribution}</p>
                </section>
            }
        });
    let found: Vec<_> = found.collect();
    let date = words.date(test.date, DateForm::Full);
    view! {
        <p class="lead strong">{words.athletes_of(&date, &best)}</p>
        {found}
    }
    .into_tree()
}
