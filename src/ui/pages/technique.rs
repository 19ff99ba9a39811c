use crate::ui::prelude::*;

use two_marks::chart::{Frame, Pose, figure, film};
use two_marks::measure::Hand;
use two_marks::share::Route;

use super::common::plain_head;
use crate::ui::components::{Choice, act_link, button, drawing_view, floor, pick};
use crate::ui::state::App;

/// One picture of the moving drawing.
const FILM: Frame = Frame::whole(200, 300, 16);
/// A still drawing.
const STILL: Frame = Frame::whole(100, 180, 16);

/// How to jump: a moving drawing, the five moments, and what goes wrong.
pub fn page(app: App) -> Tree {
    let words = app.w();
    let hand = app.person().map_or(Hand::Right, |person| person.hand);
    let hand = RwSignal::new(hand);
    let back = match app.where_to_go_on() {
        // The reach comes after this page in a test, so the way back leads before it.
        Route::Reach => Route::Setup,
        route => route,
    };
    let hands = vec![
        Choice::new(Hand::Left, words.who_left()),
        Choice::new(Hand::Right, words.who_right()),
    ];
    let go_on = match back {
        Route::Home => words.go_home(),
        _ => words.home_go_on_test(),
    };
    view! {
        {plain_head(app, words.technique_title(), &back)}
        <main id="main" tabindex="-1" class="pad stack-wide">
            {moving(app, hand)}
            <div class="field on-screen">
                <p class="label" id="hand-label">
                    {words.who_hand()}
                </p>
                {pick(
                    "hand",
                    "hand-label".to_owned(),
                    hands,
                    Signal::derive(move || Some(hand.get())),
                    move |chosen| hand.set(chosen),
                )}
            </div>
            {move || stills(app, hand.get())}
            <p class="strong">{words.technique_stop()}</p>
        </main>
        {floor(act_link(go_on, back.to_string()))}
    }
    .into_tree()
}

fn moving(app: App, hand: RwSignal<Hand>) -> Tree {
    let words = app.w();
    let is_playing = RwSignal::new(true);
    let class = move || if is_playing.get() { "motion" } else { "motion motion--paused" };
    let press = move || {
        let words = app.w();
        let label = if is_playing.get() { words.technique_pause() } else { words.technique_play() };
        button(label, move || is_playing.update(|playing| *playing = !*playing))
    };
    view! {
        <section class="stack">
            <p class="moving">{words.technique_intro()}</p>
            <div class=class role="img" aria-label=words.technique_film()>
                <div class="motion__strip">
                    {move || drawing_view(&film(hand.get() == Hand::Left, FILM), "film")}
                </div>
            </div>
            <div class="row centred-row moving on-screen">{press}</div>
        </section>
    }
    .into_tree()
}

fn stills(app: App, hand: Hand) -> Tree {
    let words = app.w();
    let moments = vec![
        (Pose::Reach, words.technique_reach()),
        (Pose::Dip, words.technique_dip()),
        (Pose::Jump, words.technique_jump()),
        (Pose::Touch, words.technique_touch()),
        (Pose::Landing, words.technique_land()),
    ];
    let mistakes = vec![
        (Pose::StepFirst, words.technique_step_first()),
        (Pose::BentReach, words.technique_bent_reach()),
        (Pose::DeepDip, words.technique_deep_dip()),
        (Pose::LateTouch, words.technique_late_touch()),
        (Pose::StiffLanding, words.technique_stiff_landing()),
    ];
    let list = |poses: Vec<(Pose, String)>| -> Vec<_> {
        poses.into_iter().map(|(pose, said)| still(pose, said, hand)).collect()
    };
    view! {
        <section class="stack">
            <h2>{words.technique_steps()}</h2>
            <ol class="moments">{list(moments)}</ol>
        </section>
        <section class="stack">
            <h2>{words.technique_mistakes()}</h2>
            <ul class="moments">{list(mistakes)}</ul>
        </section>
    }
    .into_tree()
}

/// A drawing with its line; the line says it all, so readers need no more.
fn still(pose: Pose, said: String, hand: Hand) -> Tree {
    view! {
        <li>
            {drawing_view(&figure(pose, hand == Hand::Left, STILL), "still")}
            <p>{said}</p>
        </li>
    }
    .into_tree()
}
