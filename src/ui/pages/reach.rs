use crate::ui::prelude::*;

use two_marks::chart::{Frame, Pose, ReachMark, ReachWall, figure, reach_wall};
use two_marks::flow::Slot;
use two_marks::history::MarkMethod;
use two_marks::measure::{Hand, Reach, ReachCheck};
use two_marks::quantity::{Length, Reading};
use two_marks::share::Route;
use two_marks::text::DateForm;

use super::common::{step_head, tick_label};
use super::entry::{Entry, reading_entry};
use crate::ui::components::{Icon, act, button, drawing_box, floor, icon, notice};
use crate::ui::state::App;

/// The standing reach.
pub fn page(app: App) -> Tree {
    let words = app.w();
    let between = app.of_progress(|progress| progress.method == MarkMethod::BetweenMarks);
    let body = if between == Some(true) { mark_only(app) } else { readings(app) };
    view! {
        {step_head(app, 2, words.reach_title(), &Route::Setup)}
        {body}
    }
    .into_tree()
}

fn how(app: App) -> Tree {
    let words = app.w();
    let mirrored = app.person().is_some_and(|person| person.hand == Hand::Left);
    let said = words.reach_figure();
    view! {
        <section class="how pad">
            {drawing_box(
                "drawing-box figure-box",
                "reach-figure",
                Signal::derive(move || said.clone()),
                app.resized.into(),
                move |frame| figure(Pose::Reach, mirrored, frame),
            )}
            <ol class="steps">
                <li>{words.reach_how_1()}</li>
                <li>{words.reach_how_2()}</li>
                <li>{words.reach_how_3()}</li>
                <li>{words.reach_how_4()}</li>
            </ol>
        </section>
    }
    .into_tree()
}

/// Only a mark on the wall: no number is asked for.
fn mark_only(app: App) -> Tree {
    let words = app.w();
    let done = words.reach_mark_done();
    view! {
        <main id="main" tabindex="-1">
            {how(app)}
            {notice(Icon::Info, view! {
                <p class="strong">{words.reach_mark_title()}</p>
                <p>{words.reach_mark_note()}</p>
                <p>{words.reach_clear_check()}</p>
            })}
        </main>
        {floor(act(move || done.clone(), move || {
            app.edit(|progress| progress.session.reach = Reach::MarkOnly);
            app.go(&Route::Jumps);
        }))}
    }
    .into_tree()
}

fn kept(app: App) -> Vec<Reading> {
    app.of_progress(|progress| match &progress.session.reach {
        Reach::Measured(readings) => readings.clone(),
        Reach::Reused { reading, .. } => vec![*reading],
        Reach::MarkOnly => Vec::new(),
    })
    .unwrap_or_default()
}

/// The number of the reach that is being typed, from 1.
fn typing(app: App) -> usize {
    app.of_progress(|progress| progress.slot)
        .map_or(1, |slot| if let Slot::Change(at) = slot { at + 1 } else { kept(app).len() + 1 })
}

fn is_done(app: App) -> bool {
    app.of_progress(|progress| progress.slot == Slot::Next && progress.reach_is_done())
        .unwrap_or(false)
}

fn readings(app: App) -> Tree {
    view! {
        <main id="main" tabindex="-1" class="measuring">
            {how(app)}
            {wall(app)}
            <section class="dado entry">
                <p class="small" role="status">{move || on_disk(app)}</p>
                {move || said(app)}
                {move || if needs_entry(app) { entry(app) } else { Tree::Nothing }}
                {move || other_ways(app)}
            </section>
        </main>
        {move || way_on(app)}
    }
    .into_tree()
}

/// What of the newest reach is on the disk, and so outlives this tab and this browser.
fn on_disk(app: App) -> Option<String> {
    let newest = *kept(app).last()?;
    app.is_draft_on_disk.get().then(|| app.w().reach_kept(&app.w().reading(newest)))
}

/// Whether a reading is still to be typed.
fn needs_entry(app: App) -> bool {
    let check = app.of_progress(|progress| progress.session.reach_check());
    let too_far = matches!(check, Some(ReachCheck::TooFarApart { .. }));
    let changing = app.of_progress(|progress| progress.slot != Slot::Next).unwrap_or(false);
    changing || !(is_done(app) || too_far)
}

fn wall(app: App) -> Tree {
    let sentence = Signal::derive(move || {
        let words = app.w();
        let list = kept(app).into_iter().map(|reading| words.reading(reading));
        let list = list.reduce(|all, next| words.two_things(&all, &next)).unwrap_or_default();
        words.reach_wall_label(&list)
    });
    let draw = move |frame: Frame| {
        let words = app.w();
        let unit = app.unit();
        let mut heights: Vec<(Length, String, bool)> = kept(app)
            .into_iter()
            .map(|reading| (reading.length(), words.exact_number(reading.length(), unit), false))
            .collect();
        if needs_entry(app)
            && let Some(reading) = app.judged_reach().keepable(app.confirmed.get())
        {
            let label = words.exact_number(reading.length(), unit);
            let typed = (reading.length(), label, true);
            match app.of_progress(|progress| progress.slot) {
                Some(Slot::Change(at)) if at < heights.len() => {
                    if let Some(slot) = heights.get_mut(at) {
                        *slot = typed;
                    }
                }
                _ => heights.push(typed),
            }
        }
        let marks: Vec<ReachMark<'_>> = heights
            .iter()
            .map(|(height, label, is_typing)| ReachMark {
                height: *height,
                label,
                is_typing: *is_typing,
            })
            .collect();
        let counts = app.of_progress(|progress| progress.session.standing_reach()).flatten();
        let last = app.last_reach().map(|(reading, _)| reading.length());
        let stripe = counts.map(|reach| reach.0).or_else(|| marks.first().map(|mark| mark.height));
        let spread = match app.of_progress(|progress| progress.session.reach_check()) {
            Some(ReachCheck::Agree { spread } | ReachCheck::TooFarApart { spread, .. }) => {
                words.exact_number(spread, unit)
            }
            _ => String::new(),
        };
        let typical = Length::from_mm(2_000);
        reach_wall(&ReachWall {
            frame,
            unit,
            marks: &marks,
            stripe: stripe.or(last).unwrap_or(typical),
            spread: &spread,
            tick_label: &tick_label(&words, unit),
        })
    };
    // The box measures itself when it appears, so it is made only when there is a mark to draw.
    let has_mark =
        Memo::new(move |_| !kept(app).is_empty() || app.judged_reach().reading.is_some());
    (move || {
        has_mark.get().then(|| {
            drawing_box("drawing-box reach-box", "reach", sentence, app.resized.into(), draw)
        })
    })
    .into_tree()
}

/// Whether the reaches agree, and how high the air must be free.
fn said(app: App) -> Tree {
    let words = app.w();
    let unit = app.unit();
    let (check, middle) = app
        .of_progress(|progress| (progress.session.reach_check(), progress.session.standing_reach()))
        .unwrap_or((ReachCheck::NotNeeded, None));
    let middle = middle.map_or(Length::ZERO, |reach| reach.0);
    let sign = match check {
        ReachCheck::TooFarApart { .. } => Icon::Flag,
        _ => Icon::Tick,
    };
    let agree = words.reach_check(check, middle, unit).map(|said| {
        view! { <p class="flagline" role="status">{icon(sign)} {said}</p> }
    });
    let clear = is_done(app).then(|| {
        let height = app.of_progress(|progress| progress.clear_height(app.own_best(), app.age()));
        height.flatten().map(|height| {
            let height = words.clear_height(height, unit);
            view! {
                <p>{words.reach_clear(&height)}</p>
                <p class="small">{words.reach_clear_check()}</p>
            }
        })
    });
    view! {
        {agree}
        {clear}
    }
    .into_tree()
}

fn entry(app: App) -> Tree {
    let words = app.w();
    let limit = app.of_progress(|progress| progress.session.reach_spread_max());
    let output = words.reach_limit(&words.length(limit.unwrap_or(Length::ZERO), app.unit()));
    let number = words.locale().decimal(i64::try_from(typing(app)).unwrap_or(1), 0);
    let last = app.last_reach().map(|(reading, _)| reading);
    reading_entry(
        app,
        Entry {
            label: words.reach_label(&number),
            output: Signal::derive(move || output.clone()),
            start: kept(app).last().copied().or(last),
            judged: Memo::new(move |_| app.judged_reach()),
            keep: App::keep_typed_reach,
        },
    )
}

/// Earlier reaches to change, one reach only, an earlier day's reach.
fn other_ways(app: App) -> Tree {
    let words = app.w();
    let readings = kept(app);
    let measured = app.of_progress(|progress| matches!(progress.session.reach, Reach::Measured(_)));
    let changes: Vec<_> = readings
        .iter()
        .enumerate()
        .filter(|_| measured == Some(true))
        .map(|(at, reading)| {
            let number = words.locale().decimal(i64::try_from(at + 1).unwrap_or(1), 0);
            let label = words.reach_change(&number, &words.reading(*reading));
            button(label, move || app.change_reach(at))
        })
        .collect();
    let one = (readings.len() == 1 && !is_done(app)).then(|| {
        let enough = button(words.reach_only_one(), move || {
            app.edit(|progress| progress.one_reach = true);
        });
        view! {
            {enough}
            <p class="small soft">{words.reach_only_one_note()}</p>
        }
    });
    let now = app.now();
    let earlier = app.last_reach().filter(|(_, day)| {
        readings.is_empty() && crate::ui::state::may_reuse(app.age(), *day, now)
    });
    let earlier = earlier.map(|(reading, day)| {
        let date = words.date(day, DateForm::Full);
        let reuse = button(words.reach_reuse(&words.reading(reading), &date), move || {
            app.reuse_reach();
        });
        view! {
            {reuse}
            <p class="small soft">{words.reach_reuse_note()}</p>
        }
    });
    view! {
        <div class="row row--wide">{changes}</div>
        {one}
        {earlier}
    }
    .into_tree()
}

fn way_on(app: App) -> Tree {
    let words = app.w();
    let check = app.of_progress(|progress| progress.session.reach_check());
    let changing = app.of_progress(|progress| progress.slot != Slot::Next).unwrap_or(false);
    if matches!(check, Some(ReachCheck::TooFarApart { .. })) && !changing {
        let redo = words.reach_redo();
        return floor(act(
            move || redo.clone(),
            move || {
                app.edit(|progress| progress.redo_reaches());
            },
        ));
    }
    if is_done(app) {
        let go_on = words.reach_go_on();
        return floor(act(move || go_on.clone(), move || app.go(&Route::Jumps)));
    }
    let number = words.locale().decimal(i64::try_from(typing(app)).unwrap_or(1), 0);
    let keep = move || {
        let words = app.w();
        match app.judged_reach().reading {
            Some(reading) => words.reach_keep(&words.reading(reading), &number),
            None => words.reach_keep_empty(&number),
        }
    };
    floor(act(keep, move || app.keep_typed_reach()))
}
