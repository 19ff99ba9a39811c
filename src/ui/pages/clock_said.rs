//! What a test timed in the air needs on pages that it shares with the wall.

use crate::ui::prelude::*;

use two_marks::assess::{Assessment, Gain, gains as gains_of};
use two_marks::history::Test;
use two_marks::measure::{Device, nudged_time, parse_flight_time, takeoff_speed_m_s};
use two_marks::quantity::Unit;
use two_marks::share::Route;
use two_marks::text::Words;

use super::common::entry_problem;
use crate::ui::components::{EntryKeys, EntryText, act_link, button, floor, number_entry};
use crate::ui::state::App;

/// The entry of a trial: a typed time, or the way to the film.
pub(super) fn entry(app: App, trial: &str) -> Tree {
    let words = app.w();
    if app.trend_key().device == Device::Video {
        return view! { <p class="strong">{words.clock_film_next(trial)}</p> }.into_tree();
    }
    let value = Signal::derive(move || {
        app.of_progress(|progress| progress.typed.clone()).unwrap_or_default()
    });
    let judged = Memo::new(move |_| app.judged_mark());
    let put = move |text: Option<String>| {
        if let Some(text) = text {
            app.edit(|progress| progress.typed = text);
        }
    };
    let output = Signal::derive(move || {
        let words = app.w();
        let height = judged.get().reading.map(|reading| words.length(reading.length(), app.unit()));
        let time = parse_flight_time(&value.get()).ok().map(|time| words.flight_time(time));
        height
            .zip(time)
            .map(|(height, time)| words.clock_height(&time, &height))
            .unwrap_or_default()
    });
    let keys = EntryKeys {
        less: move || put(nudged_time(&value.get_untracked(), false)),
        more: move || put(nudged_time(&value.get_untracked(), true)),
        part: |_| {},
        input: move |text| app.edit(|progress| progress.typed = text),
        enter: move || app.keep_typed_trial(),
    };
    let step = words.clock_millisecond();
    let text = EntryText {
        label: words.clock_label(trial),
        output,
        unit: words.clock_units(),
        less_more: (words.jumps_less(&step), words.jumps_more(&step)),
        fraction: String::new(),
    };
    let invalid = Signal::derive(move || app.tried.get() && judged.get().reading.is_none());
    let none = Signal::derive(|| None);
    view! {
        {number_entry("entry", text, value, invalid, Vec::new(), none, keys)}
        {entry_problem(app, judged)}
    }
    .into_tree()
}

/// The floor of a filmed test: the way to the film, and on once there are enough trials.
pub(super) fn film_floor(app: App, complete: bool) -> Option<Tree> {
    if app.trend_key().device != Device::Video {
        return None;
    }
    let words = app.w();
    let film = words.clock_to_film();
    Some(if complete {
        floor(view! {
            {act_link(words.jumps_to_check(), Route::Check.to_string())}
            <a class="btn" href=Route::Film.to_string()>{film}</a>
        })
    } else {
        floor(act_link(film, Route::Film.to_string()))
    })
}

/// What arms and dip add, as far as the person's own tests with one clock tell.
pub(super) fn gains(app: App, device: Device) -> Tree {
    let words = app.w();
    let found = app.tests.with(|tests| gains_of(device, tests));
    let said = |gain: Gain| {
        let by = words.length(gain.difference.0, app.unit());
        words.clock_gain(&by, &words.locale().decimal(gain.percent, 0))
    };
    let arms = found.arms.map(said).unwrap_or_else(|| words.clock_arms_none());
    let dip = found.dip.map(said).unwrap_or_else(|| words.clock_dip_none());
    view! {
        <section class="stack">
            <h2>{words.clock_arms_title()}</h2>
            <p class="strong">{arms}</p>
            <p class="small soft">{words.clock_arms_expected()}</p>
            <h2>{words.clock_dip_title()}</h2>
            <p class="strong">{dip}</p>
            <p class="small soft">{words.clock_dip_expected()}</p>
        </section>
    }
    .into_tree()
}

/// Lines of a result that only time in the air has; nothing for the wall.
pub(super) fn result_lines(app: App, test: &Test, assessed: &Assessment, unit: Unit) -> Tree {
    let session = &test.session;
    if !session.key.device.is_clock() {
        return Tree::Nothing;
    }
    let words = app.w();
    let speed = session.best().and_then(|best| takeoff_speed_m_s(best.0.as_cm()));
    let speed = speed.map(|speed| words.clock_speed(&speed_number(&words, speed)));
    let frames = session.longest_frame_micros().map(|_| {
        let per_s = words.locale().decimal(i64::from(session.frames_per_s()), 0);
        let off = words.spread(session.frame_error_max(), unit);
        words.clock_result_frames(&per_s, &off)
    });
    let by_sex = &assessed.placements.by_sex;
    let is_placed = by_sex.iter().any(|placement| !placement.standings.is_empty());
    let coarse = session.is_too_coarse_for_trend().then(|| words.clock_no_trend());
    let lines = [
        speed,
        frames,
        coarse,
        Some(words.clock_result_apart()),
        Some(words.clock_result_posture()),
        is_placed.then(|| words.clock_result_survey()),
    ];
    let lines: Vec<_> = lines.into_iter().flatten().map(|line| view! { <li>{line}</li> }).collect();
    view! {
        <ul class="dots">{lines}</ul>
        <a class="btn" href=Route::Rulers.to_string()>
            {words.clock_rulers_title()}
        </a>
    }
    .into_tree()
}

fn speed_number(words: &Words, speed_m_s: f64) -> String {
    #[expect(clippy::cast_possible_truncation, reason = "a take-off speed in cm/s")]
    let hundredths = (speed_m_s * 100.0).round() as i64;
    words.locale().decimal(hundredths, 2)
}

/// Leads to another page from the film.
pub(super) fn leave_film(app: App) -> Tree {
    button(app.w().clock_to_jumps(), move || app.go(&Route::Jumps))
}
