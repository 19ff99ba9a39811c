//! How sure is this? The parts of one test's ±, and best against usual.

use crate::ui::prelude::*;

use two_marks::assess::Assessment;
use two_marks::chart::{Frame, Reference, ResultWall, ResultWords, Usual, result_wall};
use two_marks::history::Test;
use two_marks::quantity::Unit;
use two_marks::share::Route;
use two_marks::text::{DateForm, Words};

use super::common::{plain_head, tick_label};
use crate::ui::components::{act_link, drawing_box, floor, select_field};
use crate::ui::state::App;

/// What contributes how much to the ± of a test, and what would shrink it.
pub fn page(app: App) -> Tree {
    let words = app.w();
    // The id of the test looked at; none means the newest.
    let chosen = RwSignal::new(String::new());
    view! {
        {plain_head(app, words.sure_title(), &Route::Home)}
        <main id="main" tabindex="-1" class="pad stack-wide info">
            <section class="stack">
                <p>{words.sure_intro_1()}</p>
                <p>{words.sure_intro_2()}</p>
                <p>{words.sure_intro_3()}</p>
            </section>
            {move || choice(app, chosen)}
            {move || one(app, chosen)}
            <section class="stack">
                <h2>{words.sure_typical_title()}</h2>
                <p>{words.sure_typical()}</p>
                <p>{words.sure_typical_note()}</p>
                <p>{words.sure_practice()}</p>
                <p>{words.sure_two_tests()}</p>
            </section>
        </main>
        {floor(act_link(words.go_home(), Route::Home.to_string()))}
    }
    .into_tree()
}

/// A list to choose a test from, where there are several.
fn choice(app: App, chosen: RwSignal<String>) -> Tree {
    let words = app.w();
    let tests = app.tests.get();
    if tests.len() < 2 {
        return Tree::Nothing;
    }
    let option = |test: &Test| (test.id.to_string(), words.date(test.date, DateForm::Full));
    let options = tests.iter().map(option).collect();
    select_field("sure-test", words.sure_choose(), options, chosen.into(), move |id| chosen.set(id))
}

fn one(app: App, chosen: RwSignal<String>) -> Tree {
    let words = app.w();
    let tests = app.tests.get();
    let is_chosen = |test: &&Test| chosen.with(|id| test.id.to_string() == *id);
    let Some(test) = tests.iter().find(is_chosen).or_else(|| tests.first()) else {
        return view! {
            <p>{words.sure_no_test()}</p>
            {best_and_usual(&words, Tree::Nothing)}
        }
        .into_tree();
    };
    let unit = test.session.division.unit();
    let assessed = app.assess(test);
    let date = words.date(test.date, DateForm::Full);
    let wall = wall(app, &assessed, unit);
    view! {
        <section class="stack">
            <h2>{words.sure_of(&date)}</h2>
            {parts(&words, &assessed, unit)}
        </section>
        {best_and_usual(&words, wall)}
    }
    .into_tree()
}

fn parts(words: &Words, assessed: &Assessment, unit: Unit) -> Tree {
    let Some(error) = assessed.parts else {
        return view! { <p>{words.sure_no_parts()}</p> }.into_tree();
    };
    let usual = assessed.usual.zip(assessed.standard_error).map(|(usual, error)| {
        words.sure_usual(&words.length(usual.height.0, unit), &words.spread(error, unit))
    });
    let parts = words.error_parts(&error, unit);
    let largest = parts.first().map(|part| words.sure_largest(&part.name));
    let rows: Vec<_> = parts
        .into_iter()
        .map(|part| {
            view! {
                <tr>
                    <th scope="row">
                        {part.name} <p>{part.what}</p> <p class="shrink">{part.shrink}</p>
                    </th>
                    <td class="num">{part.size}</td>
                </tr>
            }
        })
        .collect();
    view! {
        <p>
            <strong>{usual}</strong>
        </p>
        <p>{largest}</p>
        <table class="info-table">
            <thead>
                <tr>
                    <th scope="col">{words.sure_part()}</th>
                    <th scope="col" class="num">
                        {words.unit_sign(unit)}
                    </th>
                </tr>
            </thead>
            <tbody>
                {rows} <tr>
                    <th scope="row">{words.sure_total()}</th>
                    <td class="num">{words.error_size(error.total_cm(), unit)}</td>
                </tr>
            </tbody>
        </table>
        <p class="small soft">{words.sure_total_note()}</p>
        <p class="small soft">{words.sure_rounded()}</p>
    }
    .into_tree()
}

fn best_and_usual(words: &Words, wall: Tree) -> Tree {
    view! {
        <section class="stack">
            <h2>{words.sure_best_title()}</h2>
            <p>{words.sure_best_1()}</p>
            <p>{words.sure_best_2()}</p>
            {wall}
            <p>{words.sure_best_3()}</p>
            <p>{words.sure_best_4()}</p>
        </section>
    }
    .into_tree()
}

/// The wall of the result page, with nothing on it but the best and the usual jump.
fn wall(app: App, assessed: &Assessment, unit: Unit) -> Tree {
    let words = app.w();
    let usual = assessed.usual.zip(assessed.standard_error);
    let Some((best, (usual, error))) = assessed.best.zip(usual) else {
        return Tree::Nothing;
    };
    let usual = Usual { height: usual.height.0, error };
    let best_said = words.length(best.0, unit);
    let said = words.sure_best_picture(
        &best_said,
        &words.length(usual.height, unit),
        &words.spread(error, unit),
    );
    let draw = move |frame: Frame| {
        let words = app.w();
        let usual_said = words.result_usual(
            &words.length_number(usual.height, unit),
            &words.spread_number(usual.error, unit),
        );
        let unit_words = words.two_things(&words.unit_sign(unit), &words.result_best_today());
        result_wall(&ResultWall {
            frame,
            unit,
            standing_reach: None,
            best: best.0,
            usual: Some(usual),
            reference: Reference::None,
            standing: None,
            tick_label: &tick_label(&words, unit),
            words: ResultWords {
                number: &words.length_number(best.0, unit),
                unit: &unit_words,
                usual: &usual_said,
                jump_mark: "",
                jump_mark_number: "",
                reach_number: "",
                reach: &words.result_reach_mark(),
                reference: "",
                reference_unit: "",
                note: &[],
            },
        })
        .drawing
    };
    let sentence = Signal::derive(move || said.clone());
    view! {
        <figure class="stack">
            {drawing_box("drawing-box sure-box", "sure", sentence, app.resized.into(), draw)}
            <figcaption class="small soft">{words.sure_best_picture_note()}</figcaption>
        </figure>
    }
    .into_tree()
}
