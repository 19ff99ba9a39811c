use crate::ui::prelude::*;

use two_marks::history::Test;
use two_marks::share::Route;
use two_marks::text::{Picture, PictureFields};

use super::common::plain_head;
use crate::ui::components::{act, act_link, button, check_row, floor};
use crate::ui::state::{App, Shared};

/// One saved test as a picture to save or share.
pub fn page(app: App, id: String) -> Tree {
    let words = app.w();
    let back = Route::Result(id.clone());
    let test = app.test(&id);
    let ticked = RwSignal::new([false; 6]);
    let first = test.as_ref().and_then(|test| picture_of(app, test, PictureFields::default()));
    let Some((test, _)) = test.zip(first) else {
        return view! {
            {plain_head(app, words.picture_title(), &back)}
            <main id="main" tabindex="-1" class="pad">
                <p>{words.picture_none()}</p>
            </main>
            {floor(act_link(words.go_home(), Route::Home.to_string()))}
        }
        .into_tree();
    };
    let assessed = app.assess(&test);
    let boxes = vec![
        ("nickname", words.picture_nickname(), true),
        ("date", words.picture_date(), true),
        ("usual", words.picture_usual(), assessed.usual.is_some()),
        ("band", words.picture_band(), PictureFields::has_band(&assessed)),
        ("floor", words.picture_floor(), test.session.standing_reach().is_some()),
    ];
    let picture = Memo::new(move |_| {
        let [nickname, date, usual, band, floor_heights, ..] = ticked.get();
        let fields = PictureFields { nickname, date, usual, band, floor_heights };
        picture_of(app, &test, fields)
    });
    let (title, intro) = (words.picture_title(), words.picture_intro());
    shown(app, Around { back, title, intro, more: Tree::Nothing }, ticks(boxes, ticked), picture)
}

fn picture_of(app: App, test: &Test, fields: PictureFields) -> Option<Picture> {
    let name = app.people.with(|people| {
        people.iter().find(|person| person.local == test.person).map(|who| who.nickname.clone())
    });
    app.w().result_picture(test, &app.assess(test), &name.unwrap_or_default(), fields)
}

/// What is ticked, in the order of the boxes; nothing at first. A page with fewer boxes leaves the last.
pub(super) type Ticked = RwSignal<[bool; 6]>;

/// A box: its id, its words and whether there is anything to show.
pub(super) type TickBox = (&'static str, String, bool);

/// What stands around a picture.
pub(super) struct Around {
    pub(super) back: Route,
    pub(super) title: String,
    pub(super) intro: String,
    /// Further choices.
    pub(super) more: Tree,
}

/// A picture with its boxes and its ways out.
pub(super) fn shown(app: App, around: Around, ticks: Tree, picture: Memo<Option<Picture>>) -> Tree {
    let words = app.w();
    let said = RwSignal::new(String::new());
    let show = move || {
        picture.get().map(|picture| {
            view! { <img class="picture" src=picture.address() alt=picture.description /> }
        })
    };
    view! {
        {plain_head(app, around.title, &around.back)}
        <main id="main" tabindex="-1" class="pad stack-wide pictures">
            <div class="stack">{show}</div>
            <div class="stack-wide on-screen">
                <p>{around.intro}</p>
                <fieldset class="checks">
                    <legend class="label">{words.picture_fields()}</legend>
                    {ticks}
                </fieldset>
                <p class="soft">{words.picture_plain()}</p>
                {around.more}
                <p role="status">{move || said.get()}</p>
            </div>
        </main>
        {ways_out(app, picture, said)}
    }
    .into_tree()
}

/// One box for each thing that may be seen, each empty at first.
pub(super) fn ticks(boxes: Vec<TickBox>, ticked: Ticked) -> Tree {
    let boxes: Vec<_> = boxes
        .into_iter()
        .enumerate()
        .filter(|(_, (_, _, is_there))| *is_there)
        .map(|(at, (id, label, _))| {
            let is_on = Signal::derive(move || ticked.get().get(at).copied().unwrap_or(false));
            check_row(id, label, is_on, move |on| {
                ticked.update(|ticked| {
                    ticked.iter_mut().skip(at).take(1).for_each(|tick| *tick = on)
                });
            })
        })
        .collect();
    boxes.into_tree()
}

/// Save or share: the share sheet where there is one, and the files anyway.
fn ways_out(app: App, picture: Memo<Option<Picture>>, said: RwSignal<String>) -> Tree {
    let words = app.w();
    let save_svg = move || {
        let svg = picture.get_untracked().map(|picture| picture.svg()).unwrap_or_default();
        let saved = (app.ports().download)("two-marks.svg", "image/svg+xml", &svg);
        said.set(if saved { app.w().picture_saved() } else { app.w().picture_not_made() });
    };
    let save_png = move || {
        let svg = picture.get_untracked().map(|picture| picture.svg()).unwrap_or_default();
        let saving = (app.ports().save_png)("two-marks.png".to_owned(), svg);
        (app.ports().spawn)(Box::pin(async move {
            let words = app.w();
            said.set(if saving.await { words.picture_saved() } else { words.picture_not_made() });
        }));
    };
    let share = move || {
        let svg = picture.get_untracked().map(|picture| picture.svg()).unwrap_or_default();
        let sharing = (app.ports().share_png)("two-marks.png".to_owned(), svg);
        (app.ports().spawn)(Box::pin(async move {
            let words = app.w();
            said.set(match sharing.await {
                Shared::Yes => words.picture_shared(),
                Shared::Cancelled => String::new(),
                Shared::Refused => words.picture_not_made(),
            });
        }));
    };
    let svg = button(words.picture_save_svg(), save_svg);
    if (app.ports().can_share_pictures)() {
        return floor(view! {
            {act(move || app.w().picture_share(), share)}
            {button(words.picture_save_png(), save_png)}
            {svg}
        });
    }
    floor(view! {
        {act(move || app.w().picture_save_png(), save_png)}
        {svg}
    })
}
