use crate::ui::prelude::*;

use two_marks::chart::{
    Brick, ClassWall, Drawing, FEWEST_BRICKS, Frame, Middle, WallBand, class_wall, qr_drawing,
};
use two_marks::class::{
    ClassBands, Invitation, Row, Summary, rows, summary, test_days, write_link,
};
use two_marks::history::Class;
use two_marks::share::{ClassPage, Route};

use super::super::common::{plain_head, tick_label};
use super::{setup_lines, to};
use crate::ui::components::{Icon, act_link, button, drawing_box, floor, notice, qr_panel};
use crate::ui::state::App;

/// The code of a class: what its link carries.
pub(super) fn code_of(class: &Class) -> String {
    let invitation = Invitation { class: class.id, setup: class.setup.clone() };
    write_link(&invitation).unwrap_or_default()
}

/// Copy, share and print, and what became of copying.
pub(in crate::ui::pages) fn share_row(app: App, link: String, can_print: bool) -> Tree {
    let words = app.w();
    let copied = RwSignal::new(None::<bool>);
    let ports = app.ports();
    let (copy, spawn, print) = (ports.copy, ports.spawn, ports.print);
    let to_copy = link.clone();
    let copy = button(words.class_copy(), move || {
        let copying = copy(to_copy.clone());
        spawn(Box::pin(async move { copied.set(Some(copying.await)) }));
    });
    let share = ports.share_link.map(|share| button(words.class_share(), move || share(&link)));
    let print = can_print.then(|| button(words.class_print(), print));
    view! {
        <div class="row no-print">{copy} {share} {print}</div>
        <div role="status">
            {move || {
                copied.get().map(|done| {
                    let words = app.w();
                    if done { words.class_copied() } else { words.class_not_copied() }
                })
            }}
        </div>
    }
    .into_tree()
}

/// The link as a code that is read from the back of a hall, and the slip to print.
pub fn page(app: App, class: Class) -> Tree {
    let words = app.w();
    let code = code_of(&class);
    let base = (app.ports().address)();
    let link = format!("{base}#/c/{code}");
    let qr = qr_drawing(&format!("{base}#/c/"), &code);
    let label = class.setup.label.clone();
    let back = ClassPage::Of(class.id.to_string());
    view! {
        {plain_head(app, label.clone(), &Route::Class(back.clone()))}
        <main id="main" tabindex="-1" class="pad class-show">
            {qr_panel("qr qr--hall", qr, words.class_qr(&label))}
            <div class="stack">
                <ol class="steps">
                    <li>{words.class_show_1()}</li>
                    <li>{words.class_show_2()}</li>
                    <li>{words.class_show_3()}</li>
                </ol>
                {setup_lines(&words, &class.setup)}
                <p class="small link-text">{link.clone()}</p>
                {share_row(app, link, true)}
                <p class="small soft">{words.class_link_note()}</p>
            </div>
        </main>
        {floor(act_link(words.class_back(), to(back)))}
    }
    .into_tree()
}

/// The wall of one day, for the whole hall: bricks, no numbers of pupils, and nothing that changes
/// while it is shown.
pub fn wall_page(app: App, class: Class) -> Tree {
    let words = app.w();
    let back = ClassPage::Of(class.id.to_string());
    let results = untrack(|| app.class_results(class.id));
    let day = test_days(&results).first().copied();
    let rows = day.map(|day| rows(&class, &results, day)).unwrap_or_default();
    view! {
        {plain_head(app, class.setup.label.clone(), &Route::Class(back.clone()))}
        <main id="main" tabindex="-1">
            {wall(app, &class, &rows, None, "drawing-box class-box class-box--hall")}
            <p class="dado pad">{words.class_wall_note()}</p>
        </main>
        {floor(act_link(words.class_back(), to(back)))}
    }
    .into_tree()
}

/// The wall of a day, or why there is none.
pub(super) fn wall(
    app: App,
    class: &Class,
    rows: &[Row],
    behind: Option<&ClassBands>,
    box_class: &'static str,
) -> Tree {
    let words = app.w();
    let unit = class.setup.division.unit();
    let Summary { counted, middle, .. } = summary(class, rows);
    let Some(middle) = middle else {
        let few = u32::try_from(FEWEST_BRICKS).unwrap_or(0);
        return notice(Icon::Info, words.class_few(few));
    };
    let brick = |row: &Row| Some(Brick { height: row.best?.0, is_flagged: row.is_flagged() });
    let bricks: Vec<Brick> = rows.iter().filter_map(brick).collect();
    let sentence = words.class_wall_label(
        &counted.to_string(),
        &words.length(middle.median, unit),
        &words.length_number(middle.lower, unit),
        &words.length(middle.upper, unit),
    );
    let listing = behind.map(|behind| behind.listing);
    let draw = move |frame: Frame| {
        let words = app.w();
        let tape = listing.map(|one| words.tape_of(one.source, one.cell, unit));
        let strips = tape.as_ref().map(|tape| tape.strips()).unwrap_or_default();
        let strips = strips.iter();
        let bands: Vec<WallBand<'_>> = strips
            .map(|strip| WallBand { from: strip.from, to: strip.to, label: strip.place })
            .collect();
        let drawn = class_wall(&ClassWall {
            frame,
            unit,
            bricks: &bricks,
            middle: Some(Middle {
                median: middle.median,
                quartiles: Some((middle.lower, middle.upper)),
                word: &words.class_middle(),
                number: &words.length_number(middle.median, unit),
            }),
            bands: &bands,
            tick_label: &tick_label(&words, unit),
            count_label: &|count| count.to_string(),
        });
        let (width, height) = (frame.width, frame.height);
        drawn.unwrap_or(Drawing { width, height, items: Vec::new() })
    };
    drawing_box(
        box_class,
        "class",
        Signal::derive(move || sentence.clone()),
        app.resized.into(),
        draw,
    )
}
