//! The drawings of many tests: a season, the home wall, a class.

use crate::drawings::{
    FRAMES, cm, first, labels, marks, middle, mm, near, nothing_leaves, painted, words_do_not_touch,
};
use chrono::{Datelike, Days, NaiveDate};
use proptest::prelude::*;
use two_marks::chart::{
    Aside, AsideKind, BandSpan, Brick, Change, ClassWall, Drawing, Frame, HistoryLine,
    HistoryWords, LegendEntry, MOST_POINTS, Middle, Paint, Sample, SeasonPoint, SeasonWall,
    SmoothPoint, Track, TrackPoint, WallBand, class_wall, history_line, season_wall,
};
use two_marks::quantity::{Length, Unit};

fn day(month: u32, day: u32) -> NaiveDate {
    NaiveDate::from_ymd_opt(2026, month, day).unwrap_or_default()
}

fn month(date: NaiveDate) -> String {
    const NAMES: [&str; 12] =
        ["Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"];
    let index = usize::try_from(date.month0()).unwrap_or(0);
    NAMES.get(index).copied().unwrap_or_default().to_owned()
}

fn point(date: NaiveDate, usual: i64) -> SeasonPoint {
    let (error, best) = (mm(15), Some(mm(usual + 12)));
    SeasonPoint { date, usual: mm(usual), error, best, is_practice: false, is_flagged: false }
}

/// An invented season: two practice tests, a flagged one, a rise.
fn season() -> Vec<SeasonPoint> {
    let rows = [
        (3, 1, 270),
        (3, 8, 285),
        (3, 15, 290),
        (3, 29, 295),
        (4, 12, 285),
        (4, 26, 310),
        (5, 10, 300),
        (5, 24, 315),
        (6, 7, 325),
        (6, 14, 325),
    ];
    let mut points: Vec<_> = rows.iter().map(|(m, d, mm)| point(day(*m, *d), *mm)).collect();
    for practice in points.iter_mut().take(2) {
        practice.is_practice = true;
    }
    if let Some(flagged) = points.get_mut(4) {
        flagged.is_flagged = true;
    }
    points
}

fn smooth() -> Vec<SmoothPoint> {
    let rows = [(3, 15, 294), (4, 12, 298), (5, 10, 307), (6, 14, 318)];
    let smooth = |(m, d, level): &(u32, u32, i64)| SmoothPoint {
        date: day(*m, *d),
        level: mm(*level),
        error: mm(9),
    };
    rows.iter().map(smooth).collect()
}

const CHANGE: Option<Change<'static>> = Some(Change {
    since: match NaiveDate::from_ymd_opt(2026, 3, 15) {
        Some(date) => date,
        None => NaiveDate::MIN,
    },
    from: Length::from_mm(294),
    to: Length::from_mm(318),
    number: "+2.5",
    unit: "cm",
});

fn wall<'a>(points: &'a [SeasonPoint], line: &'a [SmoothPoint], frame: Frame) -> SeasonWall<'a> {
    SeasonWall {
        frame,
        unit: Unit::Centimetre,
        points,
        line,
        asides: &[],
        change: CHANGE,
        bands: &[],
        tracks: &[],
        legend: &[],
        window: None,
        tick_label: &cm,
        zero_label: "0",
        month_label: &month,
    }
}

#[track_caller]
fn is_sound(drawing: &Drawing, what: &str) {
    nothing_leaves(drawing, what);
    words_do_not_touch(drawing, what);
}

#[test]
fn a_season_stays_on_its_drawing() {
    let (points, line) = (season(), smooth());
    for frame in FRAMES {
        let whole = wall(&points, &line, frame);
        is_sound(&season_wall(&whole).drawing, &format!("season at {frame:?}"));
        let window = Some((day(4, 1), day(4, 20)));
        let part = season_wall(&SeasonWall { window, ..whole });
        is_sound(&part.drawing, &format!("window at {frame:?}"));
        assert_eq!(part.drawn, 1);
        let empty = SeasonWall { points: &[], line: &[], change: None, ..whole };
        is_sound(&season_wall(&empty).drawing, "empty");
    }
}

#[test]
fn tests_lie_at_their_days_and_heights() {
    let (points, line) = (season(), smooth());
    let drawing = season_wall(&wall(&points, &line, Frame::whole(390, 420, 16))).drawing;
    let hollow = marks(&drawing, Paint::ChalkMarkHollow);
    let full = marks(&drawing, Paint::ChalkMark);
    assert_eq!((hollow.len(), full.len()), (2, 8));
    let x = |area: two_marks::chart::Area| area.x + area.width.half();
    // 7 days from the first to the second, 105 from the first to the last.
    let (one, two, last) = (x(hollow[0]), x(hollow[1]), x(full[7]));
    near(two - one, (last - one).part(7, 105), "true time");
    // 15 mm from the first to the second, 55 mm from the first to the last.
    let (a, b, c) = (middle(hollow[0]), middle(hollow[1]), middle(full[7]));
    near(a - b, (a - c).part(15, 55), "true height");
    assert!(x(full[7]) < drawing.width);
}

#[test]
fn growth_and_learning_are_light_lines_of_their_own() {
    let (points, line) = (season(), smooth());
    let (first, last) = (points[0].date, points[9].date);
    let growth = [(first, mm(294)), (last, mm(304))];
    let learning = [(first, mm(280)), (points[1].date, mm(287))];
    let asides = [
        Aside { kind: AsideKind::Growth, points: &growth },
        Aside { kind: AsideKind::Learning, points: &learning },
    ];
    for frame in FRAMES {
        let drawing = season_wall(&SeasonWall { asides: &asides, ..wall(&points, &line, frame) });
        is_sound(&drawing.drawing, &format!("{frame:?}"));
        assert_eq!(painted(&drawing.drawing, Paint::Growth).len(), 1);
        assert_eq!(painted(&drawing.drawing, Paint::Learning).len(), 1);
    }
    // A line of which only one day is in view is none.
    let window = Some((day(4, 1), day(4, 20)));
    let part = SeasonWall { asides: &asides, window, ..wall(&points, &line, FRAMES[0]) };
    assert!(painted(&season_wall(&part).drawing, Paint::Learning).is_empty());
}

#[test]
fn the_legend_stands_under_the_wall() {
    let (points, line) = (season(), smooth());
    let samples = [
        (Sample::Test, "usual jump with its ±"),
        (Sample::Practice, "practice"),
        (Sample::Noted, "tired"),
        (Sample::Level, "level, in its hatch 2 times in 3"),
        (Sample::Growth, "by growing alone"),
        (Sample::Learning, "while learning the test"),
    ];
    let legend = samples.map(|(sample, label)| LegendEntry { sample, label });
    for frame in FRAMES {
        let drawing = season_wall(&SeasonWall { legend: &legend, ..wall(&points, &line, frame) });
        is_sound(&drawing.drawing, &format!("{frame:?}"));
        let dado = painted(&drawing.drawing, Paint::Dado)[0].bottom();
        let words = labels(&drawing.drawing);
        for (_, label) in samples {
            // It may have been broken into lines.
            let said = words.iter().filter(|word| label.starts_with(&word.content));
            let said = said.max_by_key(|word| word.content.len());
            let said = said.unwrap_or_else(|| panic!("{label} at {frame:?}"));
            assert!(said.area().y >= dado, "{label} at {frame:?}");
        }
    }
}

#[test]
fn the_change_runs_between_the_ends_of_the_line() {
    let (points, line) = (season(), smooth());
    let made = season_wall(&wall(&points, &line, Frame::whole(390, 420, 16)));
    assert!(!made.is_change_dropped);
    let trend = first(&made.drawing, Paint::Trend);
    let dimension = first(&made.drawing, Paint::Dimension);
    near(trend.y, dimension.y, "top");
    near(trend.bottom(), dimension.bottom(), "bottom");
    let hatch = first(&made.drawing, Paint::Hatch);
    near(hatch.x, trend.x, "the ribbon goes with the line");
    // 24 mm of level and 9 mm of doubt at both ends.
    near(hatch.height, dimension.height.part(42, 24), "the ribbon is as high as its doubt");
}

#[test]
fn there_is_no_line_before_there_are_two_days_of_it() {
    let (points, line) = (season(), smooth());
    let short: Vec<_> = line.into_iter().take(1).collect();
    let drawing = season_wall(&wall(&points, &short, Frame::whole(390, 420, 16))).drawing;
    assert!(painted(&drawing, Paint::Trend).is_empty());
    assert!(painted(&drawing, Paint::Hatch).is_empty());
}

#[test]
fn months_are_thinned_on_a_narrow_wall() {
    let (points, line) = (season(), smooth());
    let names = |frame| {
        let drawing = season_wall(&wall(&points, &line, frame)).drawing;
        labels(&drawing).iter().filter(|l| l.content.chars().all(char::is_alphabetic)).count()
    };
    assert!(names(Frame::whole(1_280, 420, 16)) > names(Frame::whole(320, 420, 32)));
}

#[test]
fn bands_and_tracks_find_room() {
    let (points, line) = (season(), smooth());
    let (start, birthday, end) = (day(1, 1), day(5, 1), day(8, 1));
    let band = |since, until, from, to: Option<i64>, place, label| BandSpan {
        since,
        until,
        from: mm(from),
        to: to.map(mm),
        place,
        label,
    };
    let bands = [
        band(start, birthday, 0, Some(250), 0, "1 of 3"),
        band(start, birthday, 250, Some(300), 1, "2 of 3"),
        band(start, birthday, 300, None, 2, "3 of 3"),
        band(birthday, end, 0, Some(270), 0, "1 of 3"),
        band(birthday, end, 270, Some(320), 1, "2 of 3"),
        band(birthday, end, 320, None, 2, "3 of 3"),
    ];
    let at = |m, d, height, label| TrackPoint { date: day(m, d), height: mm(height), label };
    let reach = [at(3, 1, 2_120, "212.0"), at(5, 10, 2_135, "213.5"), at(6, 14, 2_140, "214.0")];
    let touch = [at(3, 1, 2_390, "239.0"), at(5, 10, 2_435, "243.5"), at(6, 14, 2_465, "246.5")];
    let tracks = [
        Track { name: "Touch", points: &touch, is_dashed: true },
        Track { name: "Standing reach", points: &reach, is_dashed: false },
    ];
    for frame in FRAMES {
        let full = SeasonWall { bands: &bands, tracks: &tracks, ..wall(&points, &line, frame) };
        let drawing = season_wall(&full).drawing;
        is_sound(&drawing, &format!("{frame:?}"));
        assert_eq!(painted(&drawing, Paint::Track).len(), 1);
        assert_eq!(painted(&drawing, Paint::TrackDashed).len(), 1);
    }
    let frame = Frame::whole(390, 620, 16);
    let full = SeasonWall { bands: &bands, ..wall(&points, &line, frame) };
    let drawing = season_wall(&full).drawing;
    let shades = painted(&drawing, Paint::Band);
    // The band rises at the birthday, where the second stretch begins.
    assert_eq!(shades.len(), 2);
    near(shades[0].right(), shades[1].x, "birthday");
    assert!(shades[1].y < shades[0].y);
}

#[test]
fn ten_years_of_daily_tests_are_thinned() {
    let start = day(1, 1);
    let daily = |n: u64| {
        let date = start.checked_add_days(Days::new(n)).unwrap_or(start);
        point(date, 300 + i64::try_from(n % 37).unwrap_or(0))
    };
    let points: Vec<_> = (0..3_650).map(daily).collect();
    let made = season_wall(&wall(&points, &[], Frame::whole(390, 420, 16)));
    assert!(made.drawn <= MOST_POINTS && made.drawn > MOST_POINTS / 2, "{}", made.drawn);
    nothing_leaves(&made.drawing, "ten years");
}

fn home<'a>(points: &'a [SeasonPoint], frame: Frame) -> HistoryLine<'a> {
    let words = HistoryWords {
        number: "32.5",
        unit: "cm ± 1.5",
        best: "best 33.7",
        first: ["1 March", "reach 212.0"],
        last: ["14 June", "reach 214.0"],
    };
    HistoryLine { frame, unit: Unit::Centimetre, points, tick_label: &cm, words }
}

#[test]
fn the_home_wall_stays_on_its_drawing() {
    let points = season();
    let low: Vec<_> = [60, 75, 80].iter().map(|mm| point(day(3, 1), *mm)).collect();
    for frame in FRAMES {
        for shown in [&points[..], &points[..1], &low[..], &[]] {
            let drawing = history_line(&home(shown, frame));
            is_sound(&drawing, &format!("{} tests at {frame:?}", shown.len()));
        }
    }
}

#[test]
fn the_last_test_is_dimensioned_from_the_reach_mark() {
    let points = season();
    let drawing = history_line(&home(&points, Frame::whole(390, 540, 16)));
    let dimension = first(&drawing, Paint::Dimension);
    near(dimension.bottom(), middle(first(&drawing, Paint::Stripe)), "foot");
    near(middle(first(&drawing, Paint::Hatch)), dimension.y, "doubt");
    // 15 mm up and down on a last test of 325 mm.
    near(first(&drawing, Paint::Hatch).height, dimension.height.part(30, 325), "one error");
    let best = first(&drawing, Paint::MarkLineDotted).y;
    near(dimension.bottom() - best, dimension.height.part(337, 325), "best");
}

fn bricks() -> Vec<Brick> {
    let heights = [
        185, 205, 215, 228, 240, 255, 260, 270, 280, 285, 290, 301, 305, 310, 315, 320, 325, 330,
        335, 345, 360, 380, 390, 410, 440,
    ];
    let brick = |height: &i64| Brick { height: mm(*height), is_flagged: *height == 280 };
    heights.iter().map(brick).collect()
}

fn class<'a>(bricks: &'a [Brick], frame: Frame) -> ClassWall<'a> {
    let middle = Some(Middle {
        median: mm(305),
        quartiles: Some((mm(260), mm(345))),
        word: "middle",
        number: "30.5",
    });
    let (unit, count_label) = (Unit::Centimetre, &|count: usize| count.to_string());
    ClassWall { frame, unit, bricks, middle, bands: &[], tick_label: &cm, count_label }
}

#[test]
fn a_class_stays_on_its_drawing() {
    let mut many = bricks();
    many.extend((0..20).map(|n| Brick { height: mm(300 + n), is_flagged: n % 7 == 0 }));
    for frame in FRAMES {
        for unit in [Unit::Centimetre, Unit::Inch] {
            for all in [&bricks(), &many] {
                let drawing = class_wall(&ClassWall { unit, ..class(all, frame) });
                is_sound(&drawing.expect("more than eight"), &format!("{unit:?} at {frame:?}"));
            }
        }
    }
}

#[test]
fn one_brick_is_one_result_and_flagged_ones_come_last() {
    let all = bricks();
    let drawing = class_wall(&class(&all, Frame::whole(390, 324, 16))).expect("a picture");
    let (plain, flagged) =
        (painted(&drawing, Paint::Brick), painted(&drawing, Paint::BrickFlagged));
    assert_eq!((plain.len(), flagged.len()), (24, 1));
    let same_course = |area: &&two_marks::chart::Area| area.y == flagged[0].y;
    assert!(plain.iter().filter(same_course).all(|brick| brick.x < flagged[0].x));
    // The hatch lies on the flagged brick only.
    assert_eq!(painted(&drawing, Paint::Hatch), flagged);
}

#[test]
fn running_bond_shifts_every_other_course_by_half_a_brick() {
    let all: Vec<_> = [200, 201, 226, 227, 251, 252, 276, 277]
        .iter()
        .map(|height| Brick { height: mm(*height), is_flagged: false })
        .collect();
    let drawing = class_wall(&class(&all, Frame::whole(390, 324, 16))).expect("a picture");
    let laid = painted(&drawing, Paint::Brick);
    let pitch = laid[1].x - laid[0].x;
    assert_eq!(laid[2].x - laid[0].x, pitch.half());
    assert_eq!(laid[4].x, laid[0].x);
    assert!(laid[0].y > laid[2].y, "the lowest course lies lowest");
}

#[test]
fn published_bands_lie_behind_the_bricks_and_their_names_beside_them() {
    let all = bricks();
    let band = |from, to: Option<i64>, label| WallBand { from: mm(from), to: to.map(mm), label };
    let bands =
        [band(0, Some(215), "1 of 3"), band(215, Some(335), "2 of 3"), band(335, None, "3 of 3")];
    for frame in FRAMES {
        let drawing = class_wall(&ClassWall { bands: &bands, ..class(&all, frame) });
        is_sound(&drawing.expect("more than eight"), &format!("bands at {frame:?}"));
    }
    let frame = Frame::whole(390, 416, 16);
    let drawing =
        class_wall(&ClassWall { bands: &bands, ..class(&all, frame) }).expect("a picture");
    assert_eq!(painted(&drawing, Paint::Band).len(), 1, "every second band is darker");
    assert_eq!(painted(&drawing, Paint::BandEdge).len(), 2);
    let plain = class_wall(&class(&all, frame)).expect("a picture");
    assert_eq!(painted(&plain, Paint::Band).len() + painted(&plain, Paint::BandEdge).len(), 0);
    assert_eq!(painted(&plain, Paint::Brick).len(), painted(&drawing, Paint::Brick).len());
}

#[test]
fn there_is_no_picture_of_seven() {
    let seven: Vec<_> = bricks().into_iter().take(7).collect();
    assert!(class_wall(&class(&seven, Frame::whole(390, 324, 16))).is_none());
}

proptest! {
    /// Any number of tests of any height, on any screen.
    #[test]
    fn any_season_fits(
        width in 160i64..1_400, height in 100i64..900, font in 12i64..40,
        heights in proptest::collection::vec((0u64..900, 0i64..1_200), 0..60),
        from in 0i64..900, to in 0i64..900,
    ) {
        let frame = Frame::whole(width, height, font);
        let start = day(1, 1);
        let mut points: Vec<_> = heights
            .iter()
            .map(|(n, mm)| point(start.checked_add_days(Days::new(*n)).unwrap_or(start), *mm))
            .collect();
        points.sort_by_key(|point| point.date);
        let change = Some(Change { since: day(3, 1), from: mm(from), to: mm(to), number: "+2.5", unit: "cm" });
        let season = season_wall(&SeasonWall { change, ..wall(&points, &[], frame) });
        is_sound(&season.drawing, "season");
        is_sound(&history_line(&home(&points, frame)), "home");
        let bricks: Vec<_> =
            heights.iter().map(|(_, h)| Brick { height: mm(*h), is_flagged: h % 5 == 0 }).collect();
        let class = class_wall(&class(&bricks, frame));
        prop_assert_eq!(class.is_some(), bricks.len() >= 8);
        if let Some(drawing) = class {
            is_sound(&drawing, "class");
        }
    }
}
