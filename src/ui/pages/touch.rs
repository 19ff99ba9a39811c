//! What can I reach? The newest standing and running test against a height over the floor.

use crate::ui::prelude::*;

use two_marks::assess::touch::{Fingertip, Purpose, REACH_FRESH_DAYS, Target, newest_of};
use two_marks::chart::{Frame, TouchWall, TouchWords, touch_wall};
use two_marks::history::Test;
use two_marks::measure::{Problem, parse_reading};
use two_marks::quantity::{Division, Length, MARK_POSSIBLE, Unit, days_between};
use two_marks::share::Route;
use two_marks::text::{DateForm, NeedSaid};

use super::common::{plain_head, tick_label};
use crate::ui::components::{Icon, act_link, drawing_box, floor, notice, select_field, text_field};
use crate::ui::state::App;

/// The key of a height of one's own in the list.
const OWN: &str = "own";

/// The page. What is chosen and typed here is kept nowhere.
pub fn page(app: App) -> Tree {
    let words = app.w();
    let chosen = RwSignal::new("0".to_owned());
    let typed = RwSignal::new(String::new());
    view! {
        {plain_head(app, words.touch_title(), &Route::Home)}
        <main id="main" tabindex="-1" class="pad stack-wide info">
            <section class="stack">
                <p>{words.touch_intro()}</p>
                {choice(app, chosen, typed)}
            </section>
            {move || shown(app, chosen, typed)}
            {cautions(app)}
        </main>
        {floor(act_link(words.go_home(), Route::Home.to_string()))}
    }
    .into_tree()
}

fn choice(app: App, chosen: RwSignal<String>, typed: RwSignal<String>) -> Tree {
    let words = app.w();
    let unit = app.unit();
    let known = Target::KNOWN.iter().enumerate();
    let mut options: Vec<_> =
        known.map(|(at, target)| (at.to_string(), words.touch_target(*target, unit))).collect();
    options.push((OWN.to_owned(), words.touch_own()));
    let own = move || {
        (chosen.get() == OWN).then(|| {
            let label = app.w().touch_own_label(&app.w().unit_sign(unit));
            text_field("touch-own", label, None, false, typed.into(), move |text| typed.set(text))
        })
    };
    view! {
        {select_field("touch-what", words.touch_what(), options, chosen.into(), move |key| {
            chosen.set(key);
        })}
        {own}
    }
    .into_tree()
}

/// The target, or what is wrong with what is typed.
fn target(app: App, chosen: &str, typed: &str) -> Result<Target, String> {
    if let Ok(at) = chosen.parse::<usize>() {
        return Ok(Target::KNOWN.get(at).copied().unwrap_or(Target::Ring));
    }
    let (words, unit) = (app.w(), app.unit());
    let division = match unit {
        Unit::Centimetre => Division::CmTenth,
        Unit::Inch => Division::InEighth,
    };
    match parse_reading(typed, division) {
        Err(Problem::Empty) => Err(words.touch_own_type()),
        Err(problem) => Err(words.problem(problem, division)),
        Ok(reading) if MARK_POSSIBLE.contains(reading.length()) => {
            Ok(Target::Custom(reading.length()))
        }
        Ok(_) => {
            let said = |length| words.length(length, unit);
            Err(words.touch_own_range(&said(MARK_POSSIBLE.min), &said(MARK_POSSIBLE.max)))
        }
    }
}

fn shown(app: App, chosen: RwSignal<String>, typed: RwSignal<String>) -> Tree {
    let words = app.w();
    let target = match target(app, &chosen.get(), &typed.get()) {
        Ok(target) => target,
        Err(why) => return notice(Icon::Info, why),
    };
    let tests = app.tests.get();
    let of = |approach| newest_of(&tests, approach).map(|test| one(app, test, target, approach));
    let (standing, approach) = (of(false), of(true));
    let none = (standing.is_none() && approach.is_none())
        .then(|| view! { <p>{words.touch_no_test()}</p> });
    let apart = (standing.is_some() && approach.is_some())
        .then(|| view! { <p class="small soft">{words.touch_apart()}</p> });
    let source = words.touch_source(target);
    let real = source.is_some().then(|| words.touch_real());
    view! {
        {none}
        {standing}
        {approach}
        <section class="stack small soft">
            {apart}
            <p>{source}</p>
            <p>{real}</p>
        </section>
    }
    .into_tree()
}

fn one(app: App, test: &Test, target: Target, approach: bool) -> Tree {
    let words = app.w();
    let unit = test.session.division.unit();
    let assessed = app.assess(test);
    let today = app.now().date();
    let same_day = test.date == today;
    let title =
        words.touch_of(&words.test_kind(test.session.key), &words.date(test.date, DateForm::Full));
    let Some(fingertip) = Fingertip::of(test, &assessed, same_day) else {
        return view! {
            <section class="stack">
                <h2>{title}</h2>
                <p>{words.touch_no_floor()}</p>
            </section>
        }
        .into_tree();
    };
    let needs: Vec<_> =
        fingertip.needs(target).iter().map(|need| said(words.need(need, unit))).collect();
    let tired = assessed.is_tired.then(|| view! { <p>{words.touch_tired()}</p> });
    let old = !assessed.age.is_adult() && days_between(test.date, today) > REACH_FRESH_DAYS;
    let old = old.then(|| view! { <p>{words.touch_old_reach()}</p> });
    let day = if same_day { words.touch_how_day() } else { words.touch_how_other_day() };
    let prefix = if approach { "touch-approach" } else { "touch" };
    view! {
        <section class="stack">
            <h2>{title}</h2>
            {wall(app, &fingertip, target, unit, prefix)}
            {needs}
            {tired}
            {old}
            <p class="small soft">{words.touch_how()}</p>
            <p class="small soft">{words.touch_how_extra()}</p>
            <p class="small soft">{day}</p>
        </section>
    }
    .into_tree()
}

/// A title and its sentences.
pub(super) fn said(said: NeedSaid) -> Tree {
    let sentences: Vec<_> =
        said.sentences.into_iter().map(|sentence| view! { <p>{sentence}</p> }).collect();
    view! {
        <h3>{said.title}</h3>
        {sentences}
    }
    .into_tree()
}

fn wall(app: App, fingertip: &Fingertip, target: Target, unit: Unit, prefix: &'static str) -> Tree {
    let words = app.w();
    let reach = fingertip.standing_reach;
    let (usual, best) = (reach + fingertip.usual.0, reach + fingertip.best.0);
    let (spread, height) = (fingertip.single_go_sd(), target.height());
    // The same as the words say of touching it, which is a little over the edge.
    let needs = fingertip.needs(target);
    let touch = needs.iter().find(|need| need.purpose == Purpose::Touch).map(|need| need.missing);
    let missing = touch.unwrap_or_else(|| (height - usual).max(Length::ZERO));
    let say = move |length: Length| app.w().length(length, unit);
    let sentence =
        words.touch_picture(&say(usual), &say(usual - spread), &say(usual + spread), &say(height));
    let title = match target {
        Target::Custom(height) => words.floor_height(height, unit),
        known => words.touch_target(known, unit),
    };
    let draw = move |frame: Frame| {
        let words = app.w();
        let missing = (missing > Length::ZERO).then(|| words.touch_missing_word(&say(missing)));
        touch_wall(&TouchWall {
            frame,
            unit,
            standing_reach: reach,
            usual,
            spread,
            best,
            target: height,
            tick_label: &tick_label(&words, unit),
            words: TouchWords {
                target: &title,
                usual: &words.touch_usual_word(&say(usual)),
                reach: &words.touch_reach_word(&words.exact_number(reach, unit)),
                missing: &missing.unwrap_or_default(),
            },
        })
    };
    let sentence = Signal::derive(move || sentence.clone());
    drawing_box("drawing-box touch-box", prefix, sentence, app.resized.into(), draw)
}

fn cautions(app: App) -> Tree {
    let words = app.w();
    view! {
        <section class="stack">
            <h2>{words.touch_care_title()}</h2>
            <p>{words.touch_calm()}</p>
            <ul class="dots">
                <li>{words.touch_care_hang()}</li>
                <li>{words.touch_care_land()}</li>
                <li>{words.touch_care_hall()}</li>
                <li>{words.touch_care_climb()}</li>
                <li>{words.touch_care_stop()}</li>
            </ul>
        </section>
    }
    .into_tree()
}
