//! Power behind a jump: an estimate for adults who ask and type a body weight.

use crate::ui::prelude::*;

use two_marks::assess::effort::{parse_body_mass_kg, parse_stature_cm, power_estimates};
use two_marks::assess::touch::newest_of;
use two_marks::norms::AdultsOnly;
use two_marks::quantity::Unit;
use two_marks::share::Route;
use two_marks::text::DateForm;

use super::common::plain_head;
use super::touch::said;
use crate::ui::components::{act_link, check_row, floor, text_field};
use crate::ui::state::App;

/// The page; nobody under 18 or of unknown age sees a field, and nothing typed is kept.
pub fn page(app: App) -> Tree {
    let words = app.w();
    let asked = RwSignal::new(false);
    view! {
        {plain_head(app, words.power_title(), &Route::Home)}
        <main id="main" tabindex="-1" class="pad stack-wide info">
            {move || match AdultsOnly::check(app.age()) {
                Some(adult) => for_adults(app, adult, asked),
                None => {
                    let words = app.w();
                    view! {
                        <p>{words.power_adults()}</p>
                        <p>{words.power_why_not()}</p>
                    }
                        .into_tree()
                }
            }}
        </main>
        {floor(act_link(words.go_home(), Route::Home.to_string()))}
    }
    .into_tree()
}

fn for_adults(app: App, adult: AdultsOnly, asked: RwSignal<bool>) -> Tree {
    let words = app.w();
    view! {
        <section class="stack">
            <p>{words.power_intro()}</p>
            <p>{words.power_mostly()}</p>
            <p>{words.power_no_use()}</p>
            <p>{words.power_no_speed()}</p>
        </section>
        <div class="checks">
            {check_row("power-show", words.power_show(), asked.into(), move |on| asked.set(on))}
        </div>
        {move || if asked.get() { form(app, adult) } else { Tree::Nothing }}
    }
    .into_tree()
}

fn form(app: App, adult: AdultsOnly) -> Tree {
    let words = app.w();
    let (mass, stature) = (RwSignal::new(String::new()), RwSignal::new(String::new()));
    let unit = app.unit();
    let mass_label = match unit {
        Unit::Centimetre => words.power_mass_kg(),
        Unit::Inch => words.power_mass_lb(),
    };
    let stature_label = words.power_stature(&words.unit_sign(unit));
    let (mass_note, stature_note) =
        (Some(words.power_mass_note()), Some(words.power_stature_note()));
    view! {
        <section class="stack">
            {text_field("power-mass", mass_label, mass_note, false, mass.into(), move |text| {
                mass.set(text);
            })}
            {text_field(
                "power-stature",
                stature_label,
                stature_note,
                false,
                stature.into(),
                move |text| stature.set(text),
            )}
        </section>
        <section class="stack" role="status">
            {move || estimates(app, adult, &mass.get(), &stature.get())}
        </section>
    }
    .into_tree()
}

fn estimates(app: App, adult: AdultsOnly, mass: &str, stature: &str) -> Tree {
    let words = app.w();
    let tests = app.tests.get();
    let Some(test) = newest_of(&tests, false) else {
        return view! { <p>{words.power_no_test()}</p> }.into_tree();
    };
    let Some(mass_kg) = parse_body_mass_kg(mass, app.unit()) else {
        return view! { <p>{words.power_mass_range()}</p> }.into_tree();
    };
    let stature_cm = parse_stature_cm(stature, app.unit());
    let unit = test.session.division.unit();
    let best = test.session.best_of_first_three().map(|best| words.length(best.0, unit));
    let date = words.date(test.date, DateForm::Full);
    let found = power_estimates(adult, &test.session, mass_kg, stature_cm);
    let none = found.is_empty().then(|| view! { <p>{words.power_none()}</p> });
    let found: Vec<_> = found.iter().map(|estimate| said(words.power_estimate(estimate))).collect();
    view! {
        <h2>{words.power_from(&date, &best.unwrap_or_default())}</h2>
        {none}
        {found}
    }
    .into_tree()
}
