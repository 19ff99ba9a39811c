//! The line of points over time on the wall.

use crate::ui::prelude::*;

use two_marks::chart::{Frame, HistoryLine, HistoryWords, SeasonPoint, history_line};
use two_marks::history::Test;
use two_marks::quantity::{Length, Unit};
use two_marks::text::{DateForm, Words};

use super::common::tick_label;
use crate::ui::components::drawing_box;
use crate::ui::state::App;

/// The tests of one kind, newest first, as points over time.
pub fn drawing(app: App, tests: &[Test]) -> Tree {
    let words = app.w();
    let (Some(last), Some(first)) = (tests.first(), tests.last()) else {
        return Tree::Nothing;
    };
    let unit = last.session.division.unit();
    let said = |test: &Test| {
        test.session.best().map(|best| words.length(best.0, unit)).unwrap_or_default()
    };
    let count = words.locale().decimal(i64::try_from(tests.len()).unwrap_or(0), 0);
    let name = app.person().map(|person| person.nickname).unwrap_or_default();
    let sentence = words.history_line_label(&name, &count, &said(first), &said(last));
    let points = points(app, tests);
    let ends = [end(&words, first, unit), end(&words, last, unit)];
    let last_usual = points.last().map_or(Length::ZERO, |point| point.usual);
    let last_error = points.last().map_or(Length::ZERO, |point| point.error);
    let draw = move |frame: Frame| {
        let words = app.w();
        let number = words.length_number(last_usual, unit);
        let error = words.spread_number(last_error, unit);
        let under = words.history_usual_error(&words.unit_sign(unit), &error);
        history_line(&HistoryLine {
            frame,
            unit,
            points: &points,
            tick_label: &tick_label(&words, unit),
            words: HistoryWords {
                number: &number,
                unit: &under,
                best: &words.history_best(),
                first: [&ends[0].0, &ends[0].1],
                last: [&ends[1].0, &ends[1].1],
            },
        })
    };
    drawing_box(
        "drawing-box history-box",
        "history",
        Signal::derive(move || sentence.clone()),
        app.resized.into(),
        draw,
    )
}

/// The day of a test and its reach, for an end of the line.
fn end(words: &Words, test: &Test, unit: Unit) -> (String, String) {
    let reach = test.session.standing_reach().map(|reach| words.exact_number(reach.0, unit));
    let reach = reach.map(|reach| words.history_reach(&reach)).unwrap_or_default();
    (words.date(test.date, DateForm::Short), reach)
}

fn points(app: App, tests: &[Test]) -> Vec<SeasonPoint> {
    let assessed = app.assess_kind(tests);
    let oldest_first = tests.iter().zip(assessed).rev();
    let points = oldest_first.filter_map(|(test, assessed)| {
        let best = assessed.best.map(|best| best.0);
        let usual = assessed.usual.map(|usual| usual.height.0).or(best)?;
        Some(SeasonPoint {
            date: test.date,
            usual,
            error: assessed.standard_error.unwrap_or(Length::ZERO),
            best,
            is_practice: test.practice,
            is_flagged: assessed.is_tired,
        })
    });
    points.collect()
}
