use crate::ui::prelude::*;

use two_marks::chart::{ScaleStart, WallScale, check_length, piece_count, sheet_count, wall_scale};
use two_marks::quantity::{Division, Unit};
use two_marks::share::Route;
use two_marks::text::Words;

use super::common::{plain_head, tick_label};
use crate::ui::components::{Choice, act, drawing_view, floor, pick};
use crate::ui::state::App;

/// The wall scale: what it is like, and its sheets as they are printed.
pub fn page(app: App) -> Tree {
    let words = app.w();
    let start = RwSignal::new(ScaleStart::ReachMark);
    let division = RwSignal::new(Division::usual(app.unit()));
    view! {
        <div class="on-screen">{plain_head(app, words.strip_title(), &Route::Paper)}</div>
        <main id="main" tabindex="-1" class="pad stack-wide">
            <div class="stack-wide on-screen">{choices(app, start, division)} {how(&words)}</div>
            {move || sheets(&app.w(), start.get(), division.get())}
        </main>
        {floor(act(move || words.paper_print(), move || (app.ports().print)()))}
    }
    .into_tree()
}

fn choices(app: App, start: RwSignal<ScaleStart>, division: RwSignal<Division>) -> Tree {
    let words = app.w();
    let starts = vec![
        Choice::new(ScaleStart::ReachMark, words.strip_from_reach()),
        Choice::new(ScaleStart::Floor, words.strip_from_floor()),
    ];
    let note = {
        let words = words.clone();
        move || match start.get() {
            ScaleStart::ReachMark => words.strip_note_reach(),
            ScaleStart::Floor => words.strip_note_floor(),
        }
    };
    let units = vec![
        Choice::new(Unit::Centimetre, words.unit_cm_long()),
        Choice::new(Unit::Inch, words.unit_in_long()),
    ];
    let unit = Memo::new(move |_| division.get().unit());
    let steps = move || {
        let words = app.w();
        let steps = Division::ALL.into_iter().filter(|step| step.unit() == unit.get());
        let steps = steps.map(|step| Choice::new(step, words.division(step))).collect();
        let chosen = Signal::derive(move || Some(division.get()));
        pick("step", "step-label".to_owned(), steps, chosen, move |step| division.set(step))
    };
    let count = {
        let words = words.clone();
        move || {
            let sheets = sheet_count(start.get(), unit.get());
            words.strip_sheets(u32::try_from(sheets).unwrap_or(1))
        }
    };
    view! {
        <div class="field">
            <p class="label" id="start-label">
                {words.strip_start()}
            </p>
            {pick(
                "start",
                "start-label".to_owned(),
                starts,
                Signal::derive(move || Some(start.get())),
                move |chosen| start.set(chosen),
            )}
            <p class="small soft">{note}</p>
        </div>
        <div class="field">
            <p class="label" id="unit-label">
                {words.strip_unit()}
            </p>
            {pick(
                "unit",
                "unit-label".to_owned(),
                units,
                Signal::derive(move || Some(unit.get())),
                move |chosen| division.set(Division::usual(chosen)),
            )}
        </div>
        <div class="field">
            <p class="label" id="step-label">
                {words.strip_division()}
            </p>
            {steps}
        </div>
        <p class="strong" role="status">
            {count}
        </p>
    }
    .into_tree()
}

fn how(words: &Words) -> Tree {
    let lines = [
        words.strip_how_1(),
        words.strip_how_2(),
        words.strip_how_3(),
        words.strip_how_4(),
        words.strip_how_5(),
    ];
    let lines: Vec<_> = lines.into_iter().map(|line| view! { <li>{line}</li> }).collect();
    view! { <ul class="dots">{lines}</ul> }.into_tree()
}

fn sheets(words: &Words, start: ScaleStart, division: Division) -> Tree {
    let unit = division.unit();
    let (low, high) = start.span(unit);
    let write = tick_label(words, unit);
    let (low, high) = (write(low), write(high));
    let with_unit = |number: &str| match unit {
        Unit::Centimetre => words.in_centimetres(number),
        Unit::Inch => words.in_inches(number),
    };
    let number = |number: usize| words.locale().decimal(i64::try_from(number).unwrap_or(0), 0);
    let pieces = number(piece_count(start, unit));
    let all = number(sheet_count(start, unit));
    let place = match start {
        ScaleStart::ReachMark => words.strip_place_reach(&low),
        ScaleStart::Floor => words.strip_place_floor(&with_unit(&low)),
    };
    let sheet_label = |sheet| words.strip_sheet(&number(sheet), &all);
    let drawings = wall_scale(&WallScale {
        start,
        division,
        title: &words.strip_head(&low, &with_unit(&high)),
        place: &place,
        check: &words.strip_check(&with_unit(&write(check_length(unit)))),
        tick_label: &write,
        piece_label: &|piece| words.strip_piece(&number(piece), &pieces),
        tab_label: &|piece| words.strip_tab(&number(piece)),
        sheet_label: &sheet_label,
    });
    let shown: Vec<_> = (1..)
        .zip(&drawings)
        .map(|(sheet, drawing)| {
            let said = words.strip_shown(&sheet_label(sheet), &low, &with_unit(&high));
            view! {
                <div class="sheet" role="img" aria-label=said>
                    {drawing_view(drawing, "sheet")}
                </div>
            }
        })
        .collect();
    view! { <div class="sheets">{shown}</div> }.into_tree()
}
