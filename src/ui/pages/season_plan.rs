//! When to test again, and how often.

use crate::ui::prelude::*;
use chrono::{NaiveDate, TimeDelta};

use two_marks::assess::{Growing, PlanQuestion, plan, prospects};
use two_marks::quantity::Moment;
use two_marks::text::{DateForm, Words};

use super::season::Chosen;
use crate::ui::components::button;
use crate::ui::state::App;

/// The planning section.
pub(super) fn section(app: App, chosen: Chosen) -> Tree {
    let words = app.w();
    let legs = RwSignal::new([false; 7]);
    view! {
        <section class="pad stack season__plan">
            <p>{words.season_plan_rules()}</p>
            <h3 id="legs-label">{words.season_plan_legs()}</h3>
            {weekdays(&words, legs)}
            <div class="stack" role="status">{move || days(app, chosen, legs.get())}</div>
            {move || how_many(app, chosen)}
        </section>
    }
    .into_tree()
}

fn weekdays(words: &Words, legs: RwSignal<[bool; 7]>) -> Tree {
    let monday = NaiveDate::from_isoywd_opt(2026, 1, chrono::Weekday::Mon).unwrap_or_default();
    let chips: Vec<_> = (0_usize..7)
        .zip(0_i64..)
        .map(|(at, days)| {
            let name = words.date(monday + TimeDelta::days(days), DateForm::Weekday);
            let on = move || legs.get().get(at).copied().unwrap_or(false);
            view! {
                <button
                    type="button"
                    class="chip"
                    aria-pressed=move || if on() { "true" } else { "false" }
                    on:click=move |_| {
                        legs.update(|legs| legs.iter_mut().skip(at).take(1).for_each(|on| *on = !*on));
                    }
                >
                    {name}
                </button>
            }
        })
        .collect();
    view! {
        <div class="chips" role="group" aria-labelledby="legs-label">
            {chips}
        </div>
    }
    .into_tree()
}

fn days(app: App, chosen: Chosen, leg_days: [bool; 7]) -> Tree {
    let words = app.w();
    let key = chosen.story.with(|story| story.as_ref().map(|story| story.key));
    let (test_days, last, earlier) = app.tests.with(|tests| {
        let days: Vec<NaiveDate> = tests.iter().map(|test| test.date).collect();
        let mut same = tests.iter().filter(|test| Some(test.session.key) == key);
        let last = same.next();
        let earlier = usize::from(last.is_some()) + same.count();
        (days, last.map(|test| (test.date, test.minute_of_day)), earlier)
    });
    let (age, now) = (app.age(), app.now());
    let question = PlanQuestion { test_days: &test_days, last, earlier, leg_days, age, now };
    let plan = plan(&question);
    let when = |at: Moment| {
        words.two_things(&words.date(at.date(), DateForm::DayAndMonth), &words.time(at))
    };
    let (Some(soonest), Some(late)) = (plan.soonest, plan.for_a_gain) else {
        return match plan.skip {
            Some(skip) => {
                let days = listed(&words, skip.days.into_iter());
                view! { <p>{words.season_plan_skip(&days, &when(skip.test))}</p> }.into_tree()
            }
            None => view! { <p>{words.season_plan_none()}</p> }.into_tree(),
        };
    };
    let practice = (plan.practice.len() > 1).then(|| {
        let days = listed(&words, plan.practice.iter().map(|at| at.date()));
        view! {
            <p class="strong">{words.season_plan_practice(&days)}</p>
            <p>{words.season_practice_first()}</p>
        }
    });
    let calendar = |at: Moment| {
        let title = words.ready_calendar_title();
        let label = words.season_plan_calendar(&words.date(at.date(), DateForm::Short));
        button(label, move || {
            app.remind(&title, at);
        })
    };
    view! {
        {practice}
        <p class="strong">{words.season_plan_soonest(&when(soonest))}</p>
        <p class="strong">{words.season_plan_gain(&when(late))}</p>
        <div class="row">
            {calendar(soonest)}
            {(late != soonest).then(|| calendar(late))}
        </div>
    }
    .into_tree()
}

/// Days one after the other.
fn listed(words: &Words, days: impl Iterator<Item = NaiveDate>) -> String {
    let said = days.map(|day| words.date(day, DateForm::DayAndMonth));
    said.reduce(|all, next| words.two_things(&all, &next)).unwrap_or_default()
}

/// How likely a gain is to be told, and how many tests it needs.
fn how_many(app: App, chosen: Chosen) -> Tree {
    let (words, unit) = (app.w(), app.unit());
    let known = chosen.story.with(|story| {
        let story = story.as_ref()?;
        let all = prospects(&app.person()?, Some(story), app.now().date());
        Some((all, story.growing == Growing::Adult))
    });
    let Some((all, is_adult)) = known.filter(|(all, _)| !all.is_empty()) else {
        return Tree::Nothing;
    };
    let chances: Vec<_> = all
        .iter()
        .map(|one| view! { <li>{words.prospect_chance(one, is_adult, unit)}</li> })
        .collect();
    let tests: Vec<_> =
        all.iter().map(|one| view! { <li>{words.prospect_tests(one, unit)}</li> }).collect();
    view! {
        <h3>{words.season_plan_many()}</h3>
        <ul class="dots">{chances}</ul>
        <ul class="dots">{tests}</ul>
        <p>{words.season_plan_power()}</p>
    }
    .into_tree()
}
