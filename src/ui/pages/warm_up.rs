use crate::ui::prelude::*;

use two_marks::chart::{Pose, figure};
use two_marks::flow::{WarmUp, WarmUpState};
use two_marks::measure::Hand;
use two_marks::share::Route;

use super::common::step_head;
use crate::ui::components::{Icon, act, button, drawing_box, floor, icon, timer};
use crate::ui::state::App;

/// A short guided warm-up, and how to jump.
pub fn page(app: App) -> Tree {
    let words = app.w();
    let state = RwSignal::new(WarmUp::new());
    let now = move || {
        app.beat.track();
        app.now()
    };
    let parts = [words.warm_1(), words.warm_2(), words.warm_3(), words.warm_4()];
    let view_now = Memo::new(move |_| state.get().view(now()));
    let current = {
        let parts = parts.clone();
        move || parts.get(view_now.get().part).cloned().unwrap_or_default()
    };
    let next = {
        let (parts, words) = (parts.clone(), words.clone());
        move || parts.get(view_now.get().part + 1).map(|part| words.warm_next(part))
    };
    let left_words = {
        let words = words.clone();
        Signal::derive(move || {
            let left = view_now.get().left_seconds;
            let number = |number: u32| words.locale().decimal(i64::from(number), 0);
            let seconds = left % 60;
            let pad = if seconds < 10 { number(0) } else { String::new() };
            words.warm_left(&number(left / 60), &format!("{pad}{}", number(seconds)))
        })
    };
    let left = Signal::derive(move || view_now.get().left_seconds);
    let announce = {
        let words = words.clone();
        move || {
            let shown = view_now.get();
            let said = matches!(shown.left_seconds, 30 | 10);
            (shown.state == WarmUpState::Running && said)
                .then(|| words.warm_seconds_left(shown.left_seconds))
        }
    };
    let done = move || view_now.get().state == WarmUpState::Done;
    let running = move || view_now.get().state == WarmUpState::Running;
    let label = {
        let words = words.clone();
        move || match view_now.get().state {
            WarmUpState::Ready => words.warm_start(),
            WarmUpState::Running => words.warm_pause(),
            WarmUpState::Paused => words.warm_resume(),
            WarmUpState::Done => words.warm_to_test(),
        }
    };
    let press = move || match view_now.get_untracked().state {
        WarmUpState::Done => app.go(&Route::Setup),
        _ => state.update(|state| state.press(app.now())),
    };
    let skip_label = words.warm_skip();
    let next_part = words.warm_next_part();
    view! {
        {step_head(app, 1, words.warm_title(), &Route::Ready)}
        <main id="main" tabindex="-1" class="warm">
            <section class="pad stack centred" aria-labelledby="warm-part">
                <h2 id="warm-part">{current}</h2>
                <p class="big-time" role="timer">
                    {move || left_words.get()}
                </p>
                {timer(Signal::derive(String::new), left, 150)}
                <p class="soft">{next}</p>
                {move || done().then(|| app.w().warm_done())}
                <p class="hidden-words" role="status">
                    {announce}
                </p>
                <div class="row centred-row">
                    {move || {
                        running()
                            .then(|| {
                                let next_part = next_part.clone();
                                button(next_part, move || {
                                    state.update(|state| state.next_part(app.now()));
                                })
                            })
                    }}
                </div>
                <p class="flagline">{icon(Icon::Info)} {words.warm_no_stretch()}</p>
            </section>
            {how(app)}
        </main>
        {floor(view! {
            {act(label, press)}
            {button(skip_label, move || app.go(&Route::Setup))}
        })}
    }
    .into_tree()
}

fn how(app: App) -> Tree {
    let words = app.w();
    let mirrored = app.person().is_some_and(|person| person.hand == Hand::Left);
    let drawn = |prefix: &'static str, pose: Pose, said: String| {
        drawing_box(
            "drawing-box figure-box",
            prefix,
            Signal::derive(move || said.clone()),
            app.resized.into(),
            move |frame| figure(pose, mirrored, frame),
        )
    };
    view! {
        <section class="pad stack">
            <h2>{words.warm_how()}</h2>
            <div class="figures">
                {drawn("dip", Pose::Dip, words.warm_figure_dip())}
                {drawn("touch", Pose::Touch, words.warm_figure_touch())}
                {drawn("land", Pose::Landing, words.warm_figure_land())}
            </div>
            <ol class="steps">
                <li>{words.warm_how_1()}</li>
                <li>{words.warm_how_2()}</li>
                <li>{words.warm_how_3()}</li>
                <li>{words.warm_how_4()}</li>
            </ol>
            <a class="btn" href=Route::Technique.to_string()>
                {words.technique_open()}
            </a>
            <p class="small soft">{words.warm_cold()}</p>
        </section>
    }
    .into_tree()
}
