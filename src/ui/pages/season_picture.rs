use crate::ui::prelude::*;

use two_marks::assess::SeasonStory;
use two_marks::season::{SeasonFields, season_card};
use two_marks::share::Route;
use two_marks::text::Picture;

use super::common::plain_head;
use super::picture::{Around, TickBox, shown, ticks};
use super::season::{Chosen, name};
use super::season_choose::which;
use crate::ui::components::{act_link, floor};
use crate::ui::state::App;

/// The season of the person shown as a picture to save or share.
pub fn page(app: App) -> Tree {
    let words = app.w();
    let chosen = Chosen::new(app);
    let title = words.picture_season_title();
    if chosen.story.with_untracked(Option::is_none) {
        return view! {
            {plain_head(app, title, &Route::Season)}
            <main id="main" tabindex="-1" class="pad">
                <p>{words.season_empty()}</p>
            </main>
            {floor(act_link(words.go_home(), Route::Home.to_string()))}
        }
        .into_tree();
    }
    let ticked = RwSignal::new([false; 6]);
    let picture: Memo<Option<Picture>> = Memo::new(move |_| {
        let [nickname, dates, answer, band, reach, ..] = ticked.get();
        let bands = if band { chosen.band_choice() } else { None };
        let fields = SeasonFields { nickname, dates, answer, bands, reach };
        chosen.story.with(|story| {
            let story = story.as_ref()?;
            Some(season_card(story, &app.w(), app.unit(), &name(app), fields))
        })
    });
    let intro = words.picture_season_intro();
    let more = view! { <section class="stack">{which(app, chosen)}</section> }.into_tree();
    let boxes = view! { {move || ticks(boxes(app, chosen), ticked)} }.into_tree();
    shown(app, Around { back: Route::Season, title, intro, more }, boxes, picture)
}

/// The boxes of the season shown: another kind of jump may have an answer where this one has none.
fn boxes(app: App, chosen: Chosen) -> Vec<TickBox> {
    let words = app.w();
    let has =
        |of: fn(&SeasonStory) -> bool| chosen.story.with(|story| story.as_ref().is_some_and(of));
    let has_reach = |story: &SeasonStory| story.tests.iter().any(|test| test.reach.is_some());
    vec![
        ("nickname", words.picture_nickname(), true),
        ("date", words.picture_season_dates(), true),
        ("answer", words.picture_season_answer_tick(), has(SeasonStory::has_answer)),
        ("band", words.picture_season_bands(), chosen.band_choice().is_some()),
        ("floor", words.picture_season_reach(), has(has_reach)),
    ]
}
