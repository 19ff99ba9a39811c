use crate::ui::prelude::*;

use two_marks::chart::{FilmPlace, Frame, film_place};
use two_marks::measure::{Device, Surface, Variant};
use two_marks::share::Route;

use super::clock_said;
use super::common::{plain_head, start_or_go_on};
use crate::ui::components::{Choice, drawing_box, pick};
use crate::ui::state::App;

/// Time in the air: what it is, which clock, which jump.
pub fn page(app: App) -> Tree {
    let words = app.w();
    let device = RwSignal::new(Device::Video);
    let variant = RwSignal::new(Variant::Standing);
    let ground = RwSignal::new(Surface::Firm);
    view! {
        {plain_head(app, words.clock_title(), &Route::Home)}
        <main id="main" tabindex="-1" class="pad stack-wide">
            <p class="lead">{words.clock_what()}</p>
            <p>{words.clock_apart()}</p>
            {clocks(app, device)}
            {jumps(app, variant)}
            {grounds(app, ground)}
            {move || how(app, device.get())}
            {move || clock_said::gains(app, device.get())}
            <a class="btn" href=Route::Rulers.to_string()>
                {words.clock_rulers_title()}
            </a>
        </main>
        {start_or_go_on(app, move || {
            app.begin_clock(device.get_untracked(), variant.get_untracked(), ground.get_untracked());
        })}
    }
    .into_tree()
}

fn clocks(app: App, device: RwSignal<Device>) -> Tree {
    let words = app.w();
    let clocks = [Device::Video, Device::TimingMat, Device::ForcePlate, Device::LightBarrier];
    let clocks = clocks.map(|clock| Choice::new(clock, words.device(clock))).into();
    let chosen = Signal::derive(move || Some(device.get()));
    view! {
        <div class="field">
            <h2 id="clock-label">{words.clock_which()}</h2>
            {pick("clock", "clock-label".to_owned(), clocks, chosen, move |clock| device.set(clock))}
            <p class="small soft">{words.clock_which_note()}</p>
        </div>
    }
    .into_tree()
}

fn jumps(app: App, variant: RwSignal<Variant>) -> Tree {
    let words = app.w();
    let jumps = vec![
        Choice::new(Variant::Standing, words.jump_standing()),
        Choice::new(Variant::HandsOnHips, words.jump_hands_on_hips()),
        Choice::new(Variant::HeldSquat, words.jump_held_squat()),
    ];
    let note = move || {
        let words = app.w();
        match variant.get() {
            Variant::HandsOnHips => words.clock_hips_note(),
            Variant::HeldSquat => words.clock_squat_note(),
            _ => words.setup_standing_note(),
        }
    };
    let chosen = Signal::derive(move || Some(variant.get()));
    view! {
        <div class="field">
            <h2 id="clock-jump-label">{words.setup_which()}</h2>
            {pick("clock-jump", "clock-jump-label".to_owned(), jumps, chosen, move |jump| variant.set(jump))}
            <p class="small soft">{note}</p>
        </div>
    }
    .into_tree()
}

fn grounds(app: App, ground: RwSignal<Surface>) -> Tree {
    let words = app.w();
    let grounds = [Surface::Firm, Surface::Grass, Surface::Sand, Surface::Mat, Surface::Slope];
    let grounds = grounds.map(|ground| Choice::new(ground, words.surface(ground))).into();
    let chosen = Signal::derive(move || Some(ground.get()));
    view! {
        <div class="field">
            <h2 id="clock-ground-label">{words.setup_surface()}</h2>
            {pick("clock-ground", "clock-ground-label".to_owned(), grounds, chosen, move |to| ground.set(to))}
            <p class="small soft">{words.setup_surface_note()}</p>
        </div>
    }
    .into_tree()
}

fn how(app: App, device: Device) -> Tree {
    let words = app.w();
    let mut lines = vec![words.clock_how_land(), words.clock_how_tall()];
    let mut drawing = None;
    if device == Device::Video {
        lines.splice(
            0..0,
            [
                words.clock_how_still(),
                words.clock_how_floor(),
                words.clock_how_light(),
                words.clock_how_rate(),
                words.clock_private(),
            ],
        );
        let sentence = words.clock_place_label();
        let draw = move |frame: Frame| {
            let words = app.w();
            let distance = words.clock_place_distance();
            film_place(&FilmPlace { frame, distance: &distance })
        };
        drawing = Some(drawing_box(
            "drawing-box place-box",
            "place",
            Signal::derive(move || sentence.clone()),
            app.resized.into(),
            draw,
        ));
    } else {
        lines.push(words.clock_how_corrected());
    }
    let lines: Vec<_> = lines.into_iter().map(|line| view! { <li>{line}</li> }).collect();
    view! {
        <section class="stack">
            <h2>{words.clock_how()}</h2>
            {drawing}
            <ul class="dots">{lines}</ul>
        </section>
    }
    .into_tree()
}
