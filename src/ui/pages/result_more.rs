//! The ways on from a result, and what is known of run-ups.

use crate::ui::prelude::*;

use two_marks::history::Test;
use two_marks::measure::Variant;
use two_marks::norms::{APPROACH_GAINS, AdultsOnly};
use two_marks::quantity::Unit;
use two_marks::share::Route;
use two_marks::text::Words;

use crate::ui::state::App;

/// The section "More from this number". Pages for adults are named to adults only.
pub(super) fn section(app: App, test: &Test) -> Tree {
    let words = app.w();
    let unit = test.session.division.unit();
    let approach = matches!(test.session.key.variant, Variant::Approach { .. });
    let run_up = approach.then(|| {
        view! {
            <h3>{words.more_run_up()}</h3>
            <p>{words.more_run_up_note()}</p>
            {gains(&words, unit)}
        }
    });
    let age = app.age();
    // What can be touched needs marks on a wall.
    let on_a_wall = !test.session.key.device.is_clock();
    let mut ways: Vec<_> =
        on_a_wall.then(|| (Route::Touch, words.touch_title())).into_iter().collect();
    if AdultsOnly::check(age).is_some() {
        ways.push((Route::Power, words.power_title()));
        ways.push((Route::Athletes, words.athletes_title()));
    }
    if two_marks::assess::spurt::may_ask(age) {
        ways.push((Route::Growth, words.growth_title()));
    }
    let ways: Vec<_> = ways
        .into_iter()
        .map(|(route, title)| {
            view! {
                <a class="btn" href=route.to_string()>
                    {title}
                </a>
            }
        })
        .collect();
    view! {
        <section class="on-screen pad stack">
            <h2>{words.more_title()}</h2>
            {run_up}
            <div class="row">{ways}</div>
        </section>
    }
    .into_tree()
}

/// How much a run-up added for other people, with the sources.
pub(super) fn gains(words: &Words, unit: Unit) -> Tree {
    let gains: Vec<_> = APPROACH_GAINS
        .iter()
        .map(|gain| {
            let source = words.approach_source(gain);
            view! {
                <li>
                    {words.approach_gain(gain, unit)}
                    {source.map(|source| view! { <p class="small soft">{source}</p> })}
                </li>
            }
        })
        .collect();
    view! { <ul class="dots run-up">{gains}</ul> }.into_tree()
}
