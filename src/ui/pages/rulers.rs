use crate::ui::prelude::*;

use two_marks::assess::{BothRulers, both_rulers};
use two_marks::chart::{Frame, RulerBar, TwoRulers, two_rulers};
use two_marks::quantity::Length;
use two_marks::share::Route;
use two_marks::text::DateForm;

use super::common::plain_head;
use crate::ui::components::{act_link, drawing_box, floor};
use crate::ui::state::App;

/// The same person's jump at the wall and in the air.
pub fn page(app: App) -> Tree {
    let words = app.w();
    view! {
        {plain_head(app, words.clock_rulers_title(), &Route::Clock)}
        <main id="main" tabindex="-1" class="pad stack-wide">
            {move || side_by_side(app)}
            <p>{words.clock_rulers_why()}</p>
            <p>{words.clock_rulers_published()}</p>
            <p>{words.clock_rulers_never()}</p>
        </main>
        {floor(act_link(words.go_home(), Route::Home.to_string()))}
    }
    .into_tree()
}

fn side_by_side(app: App) -> Tree {
    let words = app.w();
    let tests = app.tests.get();
    let Some(BothRulers { wall, wall_usual, clock, clock_usual }) = both_rulers(&tests) else {
        return view! { <p class="lead">{words.clock_rulers_none()}</p> }.into_tree();
    };
    let unit = app.unit();
    let said = |length: Length| words.length(length, unit);
    let (wall_said, clock_said) = (said(wall_usual), said(clock_usual));
    let rise = said(wall_usual - clock_usual);
    let dates = words.clock_rulers_dates(
        &words.date(wall.date, DateForm::Full),
        &words.date(clock.date, DateForm::Full),
    );
    let sentence = words.clock_rulers_label(&wall_said, &clock_said, &rise);
    let spoken = sentence.clone();
    let draw = move |frame: Frame| {
        let words = app.w();
        let (at_wall, in_air) = (words.clock_at_wall(), words.clock_in_air());
        two_rulers(&TwoRulers {
            frame,
            wall: RulerBar { usual: wall_usual, number: &wall_said, name: &at_wall },
            clock: RulerBar { usual: clock_usual, number: &clock_said, name: &in_air },
            rise: &rise,
        })
    };
    view! {
        {drawing_box(
            "drawing-box rulers-box",
            "rulers",
            Signal::derive(move || spoken.clone()),
            app.resized.into(),
            draw,
        )}
        <p class="lead">{sentence}</p>
        <p class="small soft">{dates}</p>
    }
    .into_tree()
}
