use crate::ui::prelude::*;

use two_marks::history::MarkMethod;
use two_marks::measure::{Surface, TakeOff, Variant};
use two_marks::quantity::Division;
use two_marks::share::Route;

use super::common::step_head;
use crate::ui::components::{Choice, Icon, act, floor, notice, pick};
use crate::ui::state::App;

/// Which jump, and how it is measured.
pub fn page(app: App) -> Tree {
    let words = app.w();
    let method = Signal::derive(move || app.of_progress(|progress| progress.method));
    let next = {
        let words = words.clone();
        move || match method.get() {
            Some(MarkMethod::BetweenMarks) => words.setup_next_between(),
            _ => words.setup_next(),
        }
    };
    view! {
        {step_head(app, 2, words.setup_title(), &Route::WarmUp)}
        <main id="main" tabindex="-1" class="pad stack-wide">
            {which(app)}
            {measure(app, method)}
            {ground(app)}
            {move || how(app)}
        </main>
        {floor(act(next, move || app.go(&Route::Reach)))}
    }
    .into_tree()
}

/// Steps that a run-up may have.
const STEPS: std::ops::RangeInclusive<u8> = 1..=5;
/// The run-up offered first: two or three steps are enough.
const FIRST_APPROACH: Variant = Variant::Approach { steps: 3, take_off: TakeOff::TwoFeet };

fn which(app: App) -> Tree {
    let words = app.w();
    let variant = Signal::derive(move || app.of_progress(|progress| progress.session.key.variant));
    let is_approach = Signal::derive(move || {
        variant.get().map(|variant| matches!(variant, Variant::Approach { .. }))
    });
    let jumps =
        vec![Choice::new(false, words.jump_standing()), Choice::new(true, words.jump_approach())];
    let note = {
        let words = words.clone();
        move || match is_approach.get() {
            Some(true) => words.setup_approach_note(),
            _ => words.setup_standing_note(),
        }
    };
    // A run-up begun earlier can still be changed back.
    let offered = app.age().may_run_up() || is_approach.get_untracked() == Some(true);
    let choice = offered.then(|| {
        pick("jump", "jump-label".to_owned(), jumps, is_approach, move |approach| {
            app.choose_variant(if approach { FIRST_APPROACH } else { Variant::Standing });
        })
    });
    let title = if offered { words.setup_which() } else { words.jump_standing() };
    view! {
        <div class="field">
            <h2 id="jump-label">{title}</h2>
            {choice}
            <p class="small soft">{note}</p>
        </div>
        {move || (is_approach.get() == Some(true)).then(|| approach(app, variant))}
    }
    .into_tree()
}

fn approach(app: App, variant: Signal<Option<Variant>>) -> Tree {
    let words = app.w();
    let of = move || match variant.get() {
        Some(Variant::Approach { steps, take_off }) => (steps, take_off),
        _ => (3, TakeOff::TwoFeet),
    };
    let number = |steps: u8| words.locale().decimal(i64::from(steps), 0);
    let steps = STEPS.map(|steps| Choice::new(steps, number(steps))).collect();
    let take_offs = vec![
        Choice::new(TakeOff::OneFoot, words.setup_one_foot()),
        Choice::new(TakeOff::TwoFeet, words.setup_two_feet()),
    ];
    view! {
        <div class="field">
            <p class="label" id="steps-label">
                {words.setup_steps()}
            </p>
            {pick("steps", "steps-label".to_owned(), steps, Signal::derive(move || Some(of().0)), move |steps| {
                app.choose_variant(Variant::Approach { steps, take_off: of().1 });
            })}
        </div>
        <div class="field">
            <p class="label" id="take-off-label">
                {words.setup_take_off()}
            </p>
            {pick(
                "take-off",
                "take-off-label".to_owned(),
                take_offs,
                Signal::derive(move || Some(of().1)),
                move |take_off| {
                    app.choose_variant(Variant::Approach { steps: of().0, take_off });
                },
            )}
        </div>
        {notice(Icon::Info, view! {
            <p>{words.setup_approach_safety()}</p>
            <p>{words.setup_approach_age()}</p>
            <p>{words.setup_approach_more()}</p>
        })}
    }
    .into_tree()
}

fn measure(app: App, method: Signal<Option<MarkMethod>>) -> Tree {
    let words = app.w();
    let methods = vec![
        Choice::new(MarkMethod::FromFloor, words.setup_floor()),
        Choice::new(MarkMethod::BetweenMarks, words.setup_between()),
    ];
    let note = {
        let words = words.clone();
        move || match method.get() {
            Some(MarkMethod::BetweenMarks) => words.setup_between_note(),
            _ => words.setup_floor_note(),
        }
    };
    let division = Signal::derive(move || app.of_progress(|progress| progress.session.division));
    let unit = app.unit();
    let divisions = Division::ALL.into_iter().filter(|division| division.unit() == unit);
    let divisions = divisions.map(|step| Choice::new(step, words.division(step))).collect();
    let coarse = {
        let words = words.clone();
        move || {
            let coarse = division.get().is_some_and(Division::is_coarse);
            coarse.then(|| view! { <p class="small">{words.setup_coarse()}</p> })
        }
    };
    view! {
        <div class="field">
            <h2 id="method-label">{words.setup_measure()}</h2>
            {pick("method", "method-label".to_owned(), methods, method, move |method| {
                app.choose_method(method);
            })}
            <p class="small soft">{note}</p>
        </div>
        <div class="field">
            <p class="label" id="division-label">
                {words.setup_division()}
            </p>
            {pick("division", "division-label".to_owned(), divisions, division, move |division| {
                app.choose_division(division);
            })}
            {coarse}
        </div>
    }
    .into_tree()
}

fn ground(app: App) -> Tree {
    let words = app.w();
    let surface = Signal::derive(move || app.of_progress(|progress| progress.session.key.surface));
    let surfaces = [Surface::Firm, Surface::Grass, Surface::Sand, Surface::Mat, Surface::Slope];
    let surfaces = surfaces.map(|ground| Choice::new(ground, words.surface(ground))).into();
    view! {
        <details class="field" open=surface.get_untracked() != Some(Surface::Firm)>
            <summary>
                {words.setup_surface()} ": "
                {
                    let words = words.clone();
                    move || surface.get().map(|ground| words.surface(ground))
                }
            </summary>
            <p class="hidden-words" id="surface-label">
                {words.setup_surface()}
            </p>
            {pick("surface", "surface-label".to_owned(), surfaces, surface, move |surface| {
                app.choose_surface(surface);
            })}
            <p class="small soft">{words.setup_surface_note()}</p>
        </details>
    }
    .into_tree()
}

fn how(app: App) -> Tree {
    let words = app.w();
    let variant = app.of_progress(|progress| progress.session.key.variant);
    let runs_up = matches!(variant, Some(Variant::Approach { .. }));
    let lines = [
        Some(words.setup_how_hand()),
        (!runs_up).then(|| words.setup_how_line()),
        Some(words.setup_how_chalk()),
        Some(words.setup_how_edge()),
        Some(words.setup_how_number()),
        Some(words.setup_how_tape()),
        Some(words.setup_how_helper()),
        Some(words.setup_how_alone()),
    ];
    let lines: Vec<_> = lines.into_iter().flatten().map(|line| view! { <li>{line}</li> }).collect();
    view! {
        <section class="stack">
            <h2>{words.setup_how()}</h2>
            <ul class="dots">{lines}</ul>
            <a class="btn" href=Route::Technique.to_string()>
                {words.technique_open()}
            </a>
        </section>
    }
    .into_tree()
}
