use crate::ui::prelude::*;
use leptos::ev::KeyboardEvent;
use leptos::prelude::on_cleanup;

use two_marks::measure::{Airtime, Closer, FrameFault, Speed, Way};
use two_marks::share::Route;

use super::clock_said::leave_film;
use super::common::step_head;
use crate::ui::components::{
    Choice, Icon, act, act_link, alert, button, file_button, floor, notice, pick,
};
use crate::ui::state::{App, Chosen, FILM, Instant, Stage};

/// Two frames of a film, for one trial.
pub fn page(app: App) -> Tree {
    let words = app.w();
    let film = app.film;
    film.close();
    on_cleanup(move || film.close());
    view! {
        {step_head(app, 3, words.clock_film_title(), &Route::Jumps)}
        <main id="main" tabindex="-1" class="pad stack-wide">
            <p class="small">{words.clock_private()}</p>
            {move || fault(app)}
            {move || source(app)}
            {screen(app)}
            {move || is_open(app).then(|| stepping(app))}
            {move || is_open(app).then(|| instants(app))}
            {move || is_open(app).then(|| result(app))}
        </main>
        {move || way_on(app)}
    }
    .into_tree()
}

fn is_open(app: App) -> bool {
    matches!(app.film.stage.get(), Stage::Open(_))
}

fn fault(app: App) -> Tree {
    let words = app.w();
    match app.film.fault.get() {
        Some(fault) => alert(view! { <p>{words.clip_fault(fault)}</p> }),
        None => Tree::Nothing,
    }
}

/// Where the film comes from: a file, the phone's camera app, or the camera in the page.
fn source(app: App) -> Tree {
    let words = app.w();
    let film = app.film;
    let camera = match film.stage.get() {
        Stage::Camera => {
            return view! {
                <div class="row">
                    {button(words.clock_record(), move || film.record())}
                    {button(words.close(), move || film.close())}
                </div>
            }
            .into_tree();
        }
        Stage::Recording => return button(words.clock_stop(), move || film.stop()),
        Stage::Opening => return notice(Icon::Hourglass, words.clock_opening()),
        Stage::None | Stage::Open(_) => {
            film.can_record().then(|| button(words.clock_camera(), move || film.open_camera()))
        }
    };
    let file = |id: &'static str, label: String, capture: Option<&'static str>| {
        file_button(id, label, "video/*", capture, move |event| film.open_file(event))
    };
    view! {
        <div class="column">
            {file("film-file", words.clock_choose(), None)}
            {file("film-shoot", words.clock_shoot(), Some("environment"))}
            {camera}
        </div>
        <p class="small soft">{words.clock_source_note()}</p>
    }
    .into_tree()
}

/// Where a closer look is, from the left edge to the right one.
const ACROSS: [&str; 5] =
    ["film--across-0", "film--across-1", "film--across-2", "film--across-3", "film--across-4"];
/// The same from the upper edge to the lower one.
const DOWN: [&str; 5] =
    ["film--down-0", "film--down-1", "film--down-2", "film--down-3", "film--down-4"];

/// The picture: it is there before any film, since the browser plays into it.
fn screen(app: App) -> Tree {
    let film = app.film;
    let class = move || match film.stage.get() {
        Stage::None | Stage::Opening => "film film--none".to_owned(),
        Stage::Open(_) => {
            let Closer { times, across, down } = film.closer.get();
            let times = match times {
                2 => "film--2",
                4 => "film--4",
                _ => "",
            };
            let at = |names: [&'static str; 5], place: u8| {
                names.get(usize::from(place)).copied().unwrap_or_default()
            };
            format!("film {times} {} {}", at(ACROSS, across), at(DOWN, down))
        }
        _ => "film".to_owned(),
    };
    let keys = move |event: KeyboardEvent| {
        let frames = match (event.key().as_str(), event.shift_key()) {
            ("ArrowRight", false) => 1,
            ("ArrowLeft", false) => -1,
            ("ArrowRight", true) => 5,
            ("ArrowLeft", true) => -5,
            _ => return,
        };
        event.prevent_default();
        film.step(frames);
    };
    let label = move || {
        let words = app.w();
        match film.now.get() {
            Some(now) => words.clock_frame_at(&words.film_time(now)),
            None => words.clock_film_title(),
        }
    };
    view! {
        <div
            class=class
            tabindex="0"
            role="group"
            aria-label=app.w().clock_keys()
            on:keydown=keys
        >
            <video id=FILM class="film__video" muted playsinline preload="auto" aria-label=label></video>
        </div>
    }
    .into_tree()
}

/// One second either way, microseconds.
const SECOND: i64 = 1_000_000;

fn stepping(app: App) -> Tree {
    let words = app.w();
    let film = app.film;
    let at = move || {
        let words = app.w();
        film.now.get().map(|now| words.clock_frame_at(&words.film_time(now)))
    };
    let end = move || film.at_end.get().then(|| app.w().clock_film_end());
    let zooms = [1_u8, 2, 4].map(|zoom| {
        Choice::new(zoom, words.clock_times(&words.locale().decimal(i64::from(zoom), 0)))
    });
    let chosen = Signal::derive(move || Some(film.closer.get().times));
    let zoom = move |times| film.closer.update(|closer| closer.times = times);
    view! {
        <section class="stack">
            <p class="strong" role="status" id="film-at" data-busy=move || film.busy.get().to_string()>
                {at}
            </p>
            <p role="status" class="small">{end}</p>
            <div class="row film-keys">
                {button(words.clock_second_back(), move || film.go_by(-SECOND))}
                {button(words.clock_five_back(), move || film.step(-5))}
                {button(words.clock_one_back(), move || film.step(-1))}
                {button(words.clock_one_on(), move || film.step(1))}
                {button(words.clock_five_on(), move || film.step(5))}
                {button(words.clock_second_on(), move || film.go_by(SECOND))}
            </div>
            {slider(app)}
            <p class="label" id="zoom-label">
                {words.clock_zoom()}
            </p>
            {pick("zoom", "zoom-label".to_owned(), zooms.into(), chosen, zoom)}
            {move || (film.closer.get().times > 1).then(|| ways(app))}
        </section>
    }
    .into_tree()
}

/// Moves the closer look: feet need not be in the middle.
fn ways(app: App) -> Tree {
    let words = app.w();
    let film = app.film;
    let ways = [
        (Way::Left, words.clock_look_left()),
        (Way::Right, words.clock_look_right()),
        (Way::Up, words.clock_look_up()),
        (Way::Down, words.clock_look_down()),
    ];
    let ways: Vec<_> = ways
        .into_iter()
        .map(|(way, name)| {
            button(name, move || film.closer.update(|closer| *closer = closer.moved(way)))
        })
        .collect();
    view! { <div class="row film-keys">{ways}</div> }.into_tree()
}

/// A quick way through a long film; the buttons do the same without a drag.
fn slider(app: App) -> Tree {
    let film = app.film;
    let Stage::Open(duration) = film.stage.get() else {
        return Tree::Nothing;
    };
    let go = move |event| {
        if let Ok(micros) = event_target_value(&event).parse() {
            film.go_to(micros);
        }
    };
    view! {
        <div class="field">
            <label for="film-place">{app.w().clock_place_in_film()}</label>
            <input
                id="film-place"
                type="range"
                min="0"
                max=duration.to_string()
                step="100000"
                prop:value=move || film.now.get().unwrap_or(0).to_string()
                on:change=go
            />
        </div>
    }
    .into_tree()
}

fn instants(app: App) -> Tree {
    let words = app.w();
    let film = app.film;
    view! {
        <section class="stack">
            <h2>{words.clock_off_title()}</h2>
            <p class="small">{words.clock_off_note()}</p>
            {button(words.clock_off_take(), move || film.choose(Instant::TakeOff))}
            {move || strip(app, Instant::TakeOff, film.take_off.get())}
            <h2>{words.clock_on_title()}</h2>
            <p class="small">{words.clock_on_note()}</p>
            {button(words.clock_on_take(), move || film.choose(Instant::Landing))}
            {move || strip(app, Instant::Landing, film.landing.get())}
        </section>
    }
    .into_tree()
}

/// The frames around a chosen one: each can be taken instead.
fn strip(app: App, instant: Instant, chosen: Option<Chosen>) -> Tree {
    let Some(Chosen { frame, strip, .. }) = chosen else {
        return Tree::Nothing;
    };
    let words = app.w();
    let film = app.film;
    let pictures: Vec<_> = strip
        .into_iter()
        .enumerate()
        .map(|(at, near)| {
            let here = near == frame;
            let name = words.clock_take_frame(&words.film_time(near));
            view! {
                <button
                    type="button"
                    class="strip__frame"
                    aria-label=name
                    aria-pressed=here.to_string()
                    on:click=move |_| film.choose_frame(instant, near)
                >
                    <canvas id=instant.canvas(at) width="96" height="72"></canvas>
                </button>
            }
        })
        .collect();
    view! {
        <div class="strip" role="group" aria-label=words.clock_strip()>
            {pictures}
        </div>
        {button(words.clock_show(), move || film.show(frame))}
    }
    .into_tree()
}

/// Frames a second that cameras offer. Common practice, no source.
const CAPTURE_RATES: [u32; 9] = [25, 30, 50, 60, 100, 120, 240, 480, 960];

fn result(app: App) -> Tree {
    let words = app.w();
    let film = app.film;
    let mut speeds = vec![Choice::new(Speed::AsFilmed, words.clock_speed_plain())];
    speeds.extend(CAPTURE_RATES.map(|captured_per_s| {
        let rate = words.locale().decimal(i64::from(captured_per_s), 0);
        Choice::new(Speed::Slowed { captured_per_s }, words.clock_speed_slow(&rate))
    }));
    view! {
        <section class="stack">
            <h2 id="speed-label">{words.clock_speed_ask()}</h2>
            <p class="small">{words.clock_speed_note()}</p>
            {pick("speed", "speed-label".to_owned(), speeds, film.speed.into(), move |speed| {
                film.speed.set(Some(speed));
            })}
            <div role="status" id="film-said">{move || found(app)}</div>
        </section>
    }
    .into_tree()
}

fn found(app: App) -> Tree {
    let words = app.w();
    match app.film.airtime() {
        None => Tree::Nothing,
        Some(Err(fault)) => notice(Icon::Info, view! { <p>{words.frame_fault(fault)}</p> }),
        Some(Ok(air)) => found_air(app, air),
    }
}

fn found_air(app: App, air: Airtime) -> Tree {
    let words = app.w();
    let unit = app.unit();
    let said =
        |time: two_marks::measure::FlightTime| words.exact_length(time.jump_height().0, unit);
    let band = words.clock_band(&said(air.shortest), &said(air.longest));
    let rounded = words.length(air.flight.jump_height().0, unit);
    let rounded = (rounded != said(air.flight))
        .then(|| view! { <p class="small">{words.clock_rounded(&rounded)}</p> });
    let rate = words.locale().decimal(i64::from(air.frames_per_s), 0);
    let rate = words.clock_band_rate(&rate);
    let uneven = air.is_uneven.then(|| view! { <p class="small">{words.clock_uneven()}</p> });
    let looked = app.film.by_looking.get();
    let looked = looked.then(|| view! { <p class="small">{words.clock_by_looking()}</p> });
    let coarse = air.flight.is_coarse();
    let coarse = coarse.then(|| view! { <p class="small">{words.clock_no_trend()}</p> });
    let doubt = app.doubt_about_flight(air.flight).map(|(doubt, reading)| {
        view! { <p class="small">{words.doubt(doubt, reading)}</p> }
    });
    view! {
        <p class="lead strong" id="film-height">{said(air.flight)}</p>
        <p>{words.flight_time(air.flight)}</p>
        <p id="film-band">{band}</p>
        {rounded}
        <p class="small">{rate}</p>
        {uneven}
        {looked}
        {coarse}
        {doubt}
    }
    .into_tree()
}

fn way_on(app: App) -> Tree {
    let words = app.w();
    let film = app.film;
    let found: Option<Result<Airtime, FrameFault>> = film.airtime();
    let enough = app
        .advice()
        .is_some_and(|(advice, _)| !matches!(advice, two_marks::measure::Advice::Missing(_)));
    let check = enough.then(|| {
        view! { <a class="btn" href=Route::Check.to_string()>{words.jumps_to_check()}</a> }
    });
    match found {
        Some(Ok(air)) if app.may_jump_again() => {
            let keep = words.clock_keep();
            let press = move || {
                app.keep_flight(air.flight);
                film.forget_choices();
            };
            floor(view! {
                {act(move || keep.clone(), press)}
                {leave_film(app)}
            })
        }
        _ => floor(view! {
            {act_link(words.clock_to_jumps(), Route::Jumps.to_string())}
            {check}
        }),
    }
}
