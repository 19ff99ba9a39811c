//! Drawings that leave the page: the wall scale in true size, pictures of a result, and the moving
//! picture of a jump.

use std::fs;
use std::sync::Arc;

use crate::drawings::{first, labels, near, nothing_leaves, painted, words_do_not_touch};
use crate::samples::{NOW, id, local, person};
use two_marks::assess::{Assessment, assess};
use two_marks::chart::{
    CARD, CardWords, Drawing, FILM_FRAMES, Frame, Item, Paint, Pose, Px, SHEET_HEIGHT, SHEET_WIDTH,
    ScaleStart, SeasonPoint, SeasonWall, WallScale, card, check_length, figure, film, piece_count,
    piece_length, season_wall, sheet_count, true_size, wall_scale,
};
use two_marks::history::{Born, Person, Test};
use two_marks::measure::{Hand, Reach, Session, TrendKey, Trial};
use two_marks::quantity::{BirthMonth, Compare, Division, Length, Moment, Reading, Sex, Unit};
use two_marks::text::{EnglishLocale, Picture, PictureFields, Words};

const STARTS: [ScaleStart; 2] = [ScaleStart::ReachMark, ScaleStart::Floor];

fn counted(length: Length, unit: Unit) -> String {
    length.steps_of(unit.count_length()).to_string()
}

fn sheets(start: ScaleStart, division: Division) -> Vec<Drawing> {
    let unit = division.unit();
    let whole = move |length: Length| {
        let per_unit = if unit == Unit::Inch { 8 } else { 10 };
        (length.steps_of(unit.count_length()) / per_unit).to_string()
    };
    wall_scale(&WallScale {
        start,
        division,
        title: "Wall scale, 180 to 320 cm",
        place: "Put the lowest line at 180 cm over the floor, by tape. Each number stands on its line.",
        check: "Print at 100 %. If this bar is not 10 cm, do not use it.",
        tick_label: &whole,
        piece_label: &|piece| format!("Piece {piece} of 7"),
        tab_label: &|piece| format!("Piece {piece} goes over this"),
        sheet_label: &|sheet| format!("Sheet {sheet} of 3"),
    })
}

/// The level lines of a sheet that begin at a piece's left edge, as their y, from low to high.
fn lines_at(sheet: &Drawing, left: Px) -> Vec<Px> {
    let mut found = Vec::new();
    for item in &sheet.items {
        let Item::Lines { segments, paint: Paint::Tick | Paint::TickFine } = item else { continue };
        found.extend(segments.iter().filter(|(a, b)| a.x == left && a.y == b.y).map(|(a, _)| a.y));
    }
    found.sort();
    found.reverse();
    found
}

#[test]
fn nothing_leaves_a_sheet_and_no_words_touch() {
    for start in STARTS {
        for division in Division::ALL {
            let all = sheets(start, division);
            assert_eq!(all.len(), sheet_count(start, division.unit()));
            for (at, sheet) in all.iter().enumerate() {
                let what = format!("{start:?} {division:?} sheet {at}");
                nothing_leaves(sheet, &what);
                words_do_not_touch(sheet, &what);
                assert_eq!(
                    (sheet.width, sheet.height),
                    (true_size(SHEET_WIDTH), true_size(SHEET_HEIGHT),)
                );
            }
        }
    }
}

/// A4 is 210 × 297 mm (ISO 216), Letter 8.5 × 11 in (ANSI Y14.1).
#[test]
fn a_sheet_fits_both_papers_between_margins_of_ten_millimetres() {
    let inch = Length::from_inch_eighths(8);
    let narrow = Length::from_mm(210) - Length::from_mm(20);
    let low = inch.times(11) - Length::from_mm(20);
    assert!(SHEET_WIDTH <= narrow && SHEET_WIDTH <= inch.times(17) - Length::from_mm(20));
    assert!(SHEET_HEIGHT <= low);
}

#[test]
fn every_line_of_a_piece_lies_at_its_true_height() {
    for start in STARTS {
        for division in Division::ALL {
            let unit = division.unit();
            let (_, high) = start.span(unit);
            let all = sheets(start, division);
            let steps = piece_length(unit).steps_of(division.step());
            for piece in 0..piece_count(start, unit) {
                let sheet = &all[piece / 3];
                let left = true_size(Length::from_mm(66).times(i64::try_from(piece % 3).unwrap()));
                let lines = lines_at(sheet, left);
                assert_eq!(lines.len(), usize::try_from(steps + 1).unwrap());
                for (at, y) in (0..).zip(&lines) {
                    let up = lines[0] - *y;
                    let wanted = true_size(division.step().times(at));
                    // A hundredth of a pixel is 2.6 µm.
                    assert!((up - wanted).magnitude() <= Px::hundredths(1), "{division:?} {at}");
                }
            }
            let last = labels(all.last().unwrap());
            let top = counted(high, unit).parse::<i64>().unwrap()
                / if unit == Unit::Inch { 8 } else { 10 };
            assert!(
                last.iter().any(|label| label.content == top.to_string()),
                "{start:?} {unit:?}"
            );
        }
    }
}

#[test]
fn the_check_bar_is_as_long_as_it_says() {
    for division in [Division::Cm1, Division::InEighth] {
        let wanted = true_size(check_length(division.unit()));
        for sheet in sheets(ScaleStart::Floor, division) {
            let ends = first(&sheet, Paint::BandEdge);
            assert_eq!((ends.x, ends.right()), (Px::ZERO, wanted));
            let blocks = first(&sheet, Paint::Tag);
            assert!(blocks.x == Px::ZERO && blocks.right() <= wanted);
        }
    }
}

/// Common practice, no source: a letter is read from 200 times its height. Digits are 0.73 em tall.
#[test]
fn the_main_numbers_can_be_read_from_the_floor() {
    let sheet = &sheets(ScaleStart::Floor, Division::CmHalf)[0];
    let number = labels(sheet).into_iter().find(|label| label.content == "190").unwrap();
    let tall = number.size.part(73, 100);
    assert!(tall.part(200, 1) >= true_size(Length::from_mm(2_000)), "{tall}");
    let small = labels(sheet).into_iter().find(|label| label.content == "191").unwrap();
    assert!(small.size.part(73 * 200, 100) >= true_size(Length::from_mm(1_000)));
}

fn words() -> Words {
    Words::english(Arc::new(EnglishLocale))
}

fn girl() -> Person {
    let born = BirthMonth::new(2011, 3).map(Born::Month);
    Person { born, compare: Some(Compare::With(Sex::Female)), ..person(1, "Wren") }
}

fn test_of(division: Division, reach: i32, marks: &[i32]) -> (Test, Assessment) {
    let read = |count| Reading { count, division };
    let mut session = Session::new(TrendKey::USUAL, Hand::Right, division);
    session.reach = Reach::Measured([reach; 3].map(read).to_vec());
    session.trials = marks.iter().map(|mark| Trial::FloorMark(read(*mark))).collect();
    let at = Moment { utc_ms: NOW, offset_minutes: 120 };
    let test = Test::new(id(7), local(1), at, session);
    let assessed = assess(&test, &girl(), &[]);
    (test, assessed)
}

fn usual_test() -> (Test, Assessment) {
    test_of(Division::CmHalf, 2_245, &[2_655, 2_665, 2_680])
}

fn picture(fields: PictureFields) -> Picture {
    let (test, assessed) = usual_test();
    words().result_picture(&test, &assessed, "Wren", fields).unwrap()
}

const ALL: PictureFields =
    PictureFields { nickname: true, date: true, usual: true, band: true, floor_heights: true };

#[test]
fn a_picture_tells_nothing_that_was_not_asked_for() {
    let plain = picture(PictureFields::default());
    let svg = plain.svg();
    assert!(svg.contains(">43.5<"), "the height is missing");
    for told in ["Wren", "2026", "June", "224.5", "268", "usual", "Girls", "Indonesia", "±"] {
        assert!(!svg.contains(told), "{told} is on the picture");
    }
    let fields = [
        ("Wren", PictureFields { nickname: true, ..PictureFields::default() }),
        ("14 June 2026", PictureFields { date: true, ..PictureFields::default() }),
        ("usual 42.0 ± ", PictureFields { usual: true, ..PictureFields::default() }),
        ("Girls 13–15, Indonesia", PictureFields { band: true, ..PictureFields::default() }),
        ("224.5", PictureFields { floor_heights: true, ..PictureFields::default() }),
    ];
    for (told, fields) in fields {
        let svg = picture(fields).svg();
        assert!(svg.contains(told), "{told} is missing");
        let others = ["Wren", "2026", "usual", "Indonesia", "224.5"];
        for other in others.into_iter().filter(|other| !told.contains(other)) {
            assert!(!svg.contains(other), "{other} beside {told}");
        }
    }
}

/// A published band is never shown without whom it is about.
#[test]
fn a_band_on_a_picture_names_its_source() {
    for marks in [[2_255, 2_260, 2_265], [2_655, 2_665, 2_680], [3_055, 3_065, 3_080]] {
        let (test, assessed) = test_of(Division::CmHalf, 2_245, &marks);
        let drawing = words().result_picture(&test, &assessed, "Wren", ALL).unwrap().drawing;
        let all = labels(&drawing);
        assert!(all.iter().any(|label| label.content == "Girls 13–15, Indonesia"));
        assert!(!painted(&drawing, Paint::StripDots).is_empty());
    }
}

#[test]
fn every_picture_holds_its_words_and_has_its_size() {
    let tests = [
        usual_test(),
        test_of(Division::CmHalf, 2_245, &[2_255, 2_260, 2_265]),
        test_of(Division::InQuarter, 704, &[832, 842, 848]),
        test_of(Division::CmHalf, 2_245, &[3_055, 3_065, 3_080]),
    ];
    for (at, (test, assessed)) in tests.iter().enumerate() {
        for bits in 0..32_u8 {
            let on = |bit: u8| bits & (1 << bit) != 0;
            let fields = PictureFields {
                nickname: on(0),
                date: on(1),
                usual: on(2),
                band: on(3),
                floor_heights: on(4),
            };
            let name = "A nickname of 20 let";
            let picture = words().result_picture(test, assessed, name, fields).unwrap();
            let what = format!("test {at}, {fields:?}");
            nothing_leaves(&picture.drawing, &what);
            words_do_not_touch(&picture.drawing, &what);
            let svg = picture.svg();
            assert!(svg.starts_with(
                "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"1080\" height=\"1350\""
            ));
            for banned in ["class=", "style=", "var(", "href", "<script"] {
                assert!(!svg.contains(banned), "{what}: {banned}");
            }
            assert!(svg.len() < 20_000, "{what}: {} bytes", svg.len());
        }
    }
}

#[test]
fn the_marks_lie_as_far_apart_as_the_jump_is_high() {
    for fields in [PictureFields::default(), ALL] {
        let drawing = picture(fields).drawing;
        let reach = first(&drawing, Paint::ReachMark);
        let jump = first(&drawing, Paint::MarkLine).y;
        let stripe = first(&drawing, Paint::Stripe);
        near(reach.y + reach.height.half(), stripe.y + stripe.height.half(), "reach mark");
        // The dimension line joins the two.
        let line = first(&drawing, Paint::Dimension);
        assert_eq!(line.y, jump);
        near(line.bottom(), stripe.y + stripe.height.half(), "dimension line");
    }
}

#[test]
fn a_picture_shows_in_a_page_without_another_file() {
    let picture = picture(ALL);
    let address = picture.address();
    assert!(address.starts_with("data:image/svg+xml,<svg"));
    assert!(!address.contains('#'), "what follows a # would be cut off");
    assert_eq!(picture.title, "Jump height 43.5\u{a0}cm");
    assert!(picture.description.contains("reach mark and a jump mark"));
}

#[test]
fn a_season_makes_a_picture_too() {
    let day = |number| NOW_DAY + chrono::TimeDelta::days(number);
    let points: Vec<SeasonPoint> = (0..9)
        .map(|at| SeasonPoint {
            date: day(at * 20),
            usual: Length::from_mm(400 + at * 4),
            error: Length::from_mm(15),
            best: Some(Length::from_mm(415 + at * 4)),
            is_practice: at < 2,
            is_flagged: at == 4,
        })
        .collect();
    let around = CardWords { name: "Wren", date: "February to July 2026", ..CardWords::default() };
    let wall = season_wall(&SeasonWall {
        frame: around.wall_frame(),
        unit: Unit::Centimetre,
        points: &points,
        line: &[],
        asides: &[],
        change: None,
        bands: &[],
        tracks: &[],
        legend: &[],
        window: None,
        tick_label: &crate::drawings::cm,
        zero_label: "0",
        month_label: &|day| chrono::Datelike::month(&day).to_string(),
    });
    let drawing = card(wall.drawing, around);
    assert_eq!((drawing.width, drawing.height), (CARD.width, CARD.height));
    nothing_leaves(&drawing, "season");
    words_do_not_touch(&drawing, "season");
    let head = labels(&drawing).into_iter().find(|label| label.content == "Wren").unwrap();
    assert!(head.area().bottom() < CARD.rems(2_500));
}

/// 14 February 2026.
const NOW_DAY: chrono::NaiveDate = chrono::NaiveDate::from_ymd_opt(2026, 2, 14).unwrap();

const SHOT: Frame = Frame::whole(200, 300, 16);

/// The pictures of the film, cut apart again.
fn shots(is_mirrored: bool) -> Vec<Vec<Item>> {
    let strip = film(is_mirrored, SHOT);
    assert_eq!(strip.width, SHOT.width.part(i64::from(FILM_FRAMES), 1));
    let mut shots = vec![Vec::new(); usize::from(FILM_FRAMES)];
    for item in strip.items {
        let area = item.area();
        let middle = area.x + area.width.half();
        let shot = middle.as_hundredths() / SHOT.width.as_hundredths();
        let inside = item.moved(-SHOT.width.part(shot, 1), Px::ZERO);
        let (left, right) = (inside.area().x, inside.area().right());
        assert!(left >= Px::ZERO && right <= SHOT.width, "a picture reaches into the next");
        shots[usize::try_from(shot).unwrap()].push(inside);
    }
    shots
}

fn limbs(items: &[Item]) -> Vec<Item> {
    let is_limb = |item: &&Item| matches!(item, Item::Limb { .. } | Item::Circle { .. });
    items.iter().filter(is_limb).cloned().collect()
}

#[test]
fn the_film_goes_through_the_five_moments_in_order() {
    for is_mirrored in [false, true] {
        let shots = shots(is_mirrored);
        let mut from = 0;
        for pose in [Pose::Reach, Pose::Dip, Pose::Jump, Pose::Touch, Pose::Landing] {
            let wanted = limbs(&figure(pose, is_mirrored, SHOT).items);
            let at = shots.iter().skip(from).position(|shot| limbs(shot) == wanted);
            from += at.unwrap_or_else(|| panic!("no {pose:?} after picture {from}"));
        }
    }
}

#[test]
fn a_mark_comes_with_its_touch_and_stays() {
    let shots = shots(false);
    let with = |paint: Paint| -> Vec<bool> {
        shots.iter().map(|shot| shot.iter().any(|item| item.paint() == Some(paint))).collect()
    };
    for (paint, pose) in [(Paint::ReachMark, Pose::Reach), (Paint::ChalkMark, Pose::Touch)] {
        let has = with(paint);
        let wanted = limbs(&figure(pose, false, SHOT).items);
        let touch = shots.iter().position(|shot| limbs(shot) == wanted).unwrap();
        assert!(has.iter().enumerate().all(|(at, has)| *has == (at >= touch)), "{paint:?}");
    }
}

/// The style sheet cannot ask the core how many pictures there are.
#[test]
fn the_style_sheet_steps_through_every_picture() {
    let path = concat!(env!("CARGO_MANIFEST_DIR"), "/style/technique.css");
    let css = fs::read_to_string(path).unwrap();
    assert!(css.contains(&format!("steps({FILM_FRAMES})")));
    assert!(css.contains(&format!("width: {FILM_FRAMES}00%")));
    let touch = limbs(&figure(Pose::Touch, false, SHOT).items);
    let still = shots(false).iter().position(|shot| limbs(shot) == touch).unwrap();
    assert!(css.contains(&format!("calc(-100% * {still} / {FILM_FRAMES})")));
}

/// Each picture is one body, its floor and two marks.
#[test]
fn the_film_stays_small() {
    let strip = film(false, SHOT);
    assert!(strip.items.len() <= usize::from(FILM_FRAMES) * 18, "{} items", strip.items.len());
}
