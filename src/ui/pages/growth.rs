//! Before, around or after the growth spurt: a note for ages 8 to 18, shown when asked for.

use crate::ui::prelude::*;

use two_marks::assess::spurt::{may_ask, parse_child_stature_cm, parse_sitting_height_cm, spurt};
use two_marks::history::Born;
use two_marks::quantity::{BirthMonth, Compare, Sex};
use two_marks::share::Route;

use super::common::plain_head;
use crate::ui::components::{Choice, act_link, check_row, floor, pick, text_field};
use crate::ui::state::App;

/// The page. Nothing typed here is kept.
pub fn page(app: App) -> Tree {
    let words = app.w();
    let asked = RwSignal::new(false);
    view! {
        {plain_head(app, words.growth_title(), &Route::Home)}
        <main id="main" tabindex="-1" class="pad stack-wide info">
            <section class="stack">
                <p>{words.growth_intro()}</p>
                <p>{words.growth_rough()}</p>
                <p>{words.growth_no_pick()}</p>
                <p>{words.growth_doctor()}</p>
            </section>
            {move || match born(app) {
                Some(born) => ask(app, born, asked),
                None => view! { <p>{app.w().growth_who()}</p> }.into_tree(),
            }}
            <section class="stack small soft">
                <p>{words.growth_source()}</p>
                <p>{words.growth_source_numbers()}</p>
                <p>{words.growth_source_care()}</p>
                <p>{words.growth_choice()}</p>
            </section>
        </main>
        {floor(act_link(words.go_home(), Route::Home.to_string()))}
    }
    .into_tree()
}

/// The birth month of a person who may ask.
fn born(app: App) -> Option<BirthMonth> {
    match app.person()?.born? {
        Born::Month(month) => may_ask(app.age()).then_some(month),
        Born::Group(_) => None,
    }
}

fn ask(app: App, born: BirthMonth, asked: RwSignal<bool>) -> Tree {
    let show = app.w().growth_show();
    view! {
        <div class="checks">
            {check_row("growth-show", show, asked.into(), move |on| asked.set(on))}
        </div>
        {move || if asked.get() { form(app, born) } else { Tree::Nothing }}
    }
    .into_tree()
}

fn form(app: App, born: BirthMonth) -> Tree {
    let words = app.w();
    let compared = match app.person().and_then(|person| person.compare) {
        Some(Compare::With(sex)) => Some(sex),
        _ => None,
    };
    let sex = RwSignal::new(compared);
    let (stature, sitting) = (RwSignal::new(String::new()), RwSignal::new(String::new()));
    let sign = words.unit_sign(app.unit());
    let choices = vec![
        Choice::new(Sex::Female, words.growth_sex_girls()),
        Choice::new(Sex::Male, words.growth_sex_boys()),
    ];
    let (stature_label, kept) = (words.growth_stature(&sign), Some(words.growth_not_kept()));
    let (sitting_label, note) = (words.growth_sitting(&sign), words.growth_sitting_note());
    let sitting_field = move || {
        (sex.get() == Some(Sex::Male)).then(|| {
            let (label, note) = (sitting_label.clone(), Some(note.clone()));
            text_field("growth-sitting", label, note, false, sitting.into(), move |text| {
                sitting.set(text);
            })
        })
    };
    view! {
        <section class="stack">
            <p id="growth-sex-label">{words.growth_sex()}</p>
            {pick("growth-sex", "growth-sex-label".to_owned(), choices, sex.into(), move |to| {
                sex.set(Some(to));
            })}
            {text_field("growth-stature", stature_label, kept, false, stature.into(), move |text| {
                stature.set(text);
            })}
            {sitting_field}
        </section>
        <section class="stack" role="status">
            {move || answer(app, born, sex.get(), &stature.get(), &sitting.get())}
        </section>
    }
    .into_tree()
}

fn answer(app: App, born: BirthMonth, sex: Option<Sex>, stature: &str, sitting: &str) -> Tree {
    let words = app.w();
    let unit = app.unit();
    let (Some(sex), false) = (sex, stature.trim().is_empty()) else {
        return Tree::Nothing;
    };
    let stature_cm = parse_child_stature_cm(stature, unit);
    let sitting_cm = stature_cm.and_then(|cm| parse_sitting_height_cm(sitting, unit, cm));
    let sitting_typed = sex == Sex::Male && !sitting.trim().is_empty();
    let Some(stature_cm) = stature_cm.filter(|_| !sitting_typed || sitting_cm.is_some()) else {
        return view! { <p>{words.growth_range()}</p> }.into_tree();
    };
    let Some(spurt) = spurt(born, app.now().date(), sex, stature_cm, sitting_cm) else {
        return view! { <p>{words.growth_who()}</p> }.into_tree();
    };
    let girls = (sex == Sex::Female).then(|| view! { <p>{words.growth_girls()}</p> });
    view! {
        <p class="lead strong">{words.spurt(spurt)}</p>
        <p>{words.growth_within()}</p>
        <p>{words.growth_error()}</p>
        <p>{words.growth_early_late()}</p>
        {girls}
    }
    .into_tree()
}
