//! The drawings as geometry: marks lie where they should, words neither leave the drawing nor lie
//! over each other, on the smallest screens and with large text.

use crate::drawings_of_a_session::trials;
use expect_test::expect;
use proptest::prelude::*;
use two_marks::chart::{
    Area, Drawing, Dropped, Frame, Item, Label, NoteLine, Paint, Pose, Px, Reference, ResultWall,
    ResultWords, Scale, Standing, Strip, TrialColumn, TrialMark, Usual, figure, result_wall,
};
use two_marks::quantity::{Length, Unit};

/// Phone, small phone, desktop; text at 100 % and at 200 %.
pub(crate) const FRAMES: [Frame; 7] = [
    Frame::whole(320, 424, 16),
    Frame::whole(320, 424, 32),
    Frame::whole(390, 624, 16),
    Frame::whole(390, 624, 32),
    Frame::whole(576, 700, 18),
    Frame::whole(1_280, 720, 18),
    Frame::whole(180, 320, 16),
];

pub(crate) fn mm(mm: i64) -> Length {
    Length::from_mm(mm)
}

/// Whole centimetres, which is all that the ticks of these walls need.
pub(crate) fn cm(length: Length) -> String {
    (length.as_micrometres() / 10_000).to_string()
}

pub(crate) fn labels(drawing: &Drawing) -> Vec<&Label> {
    let mut labels = Vec::new();
    for item in &drawing.items {
        if let Item::Text(label) = item {
            labels.push(label);
        }
    }
    labels
}

pub(crate) fn painted(drawing: &Drawing, paint: Paint) -> Vec<Area> {
    let has = |item: &&Item| item.paint() == Some(paint);
    drawing.items.iter().filter(has).map(Item::area).collect()
}

/// The marks of one paint, of which an item may hold many.
pub(crate) fn marks(drawing: &Drawing, paint: Paint) -> Vec<Area> {
    let rings = drawing.items.iter().flat_map(|item| match item {
        Item::Polygon { rings, paint: of } if *of == paint => rings.as_slice(),
        _ => &[],
    });
    rings.map(|ring| Item::Polygon { rings: vec![ring.clone()], paint }.area()).collect()
}

#[track_caller]
pub(crate) fn first(drawing: &Drawing, paint: Paint) -> Area {
    let all = painted(drawing, paint);
    assert!(!all.is_empty(), "there is no {paint:?}");
    all.first().copied().unwrap_or_default()
}

pub(crate) fn middle(area: Area) -> Px {
    area.y + area.height.half()
}

#[track_caller]
pub(crate) fn nothing_leaves(drawing: &Drawing, what: &str) {
    // A slash may stick out by the breadth of its own line.
    let air = Px::whole(1);
    for item in &drawing.items {
        let area = item.area();
        let inside = area.x >= -air
            && area.y >= -air
            && area.right() <= drawing.width + air
            && area.bottom() <= drawing.height + air;
        assert!(inside, "{what}: {item:?} leaves {} x {}", drawing.width, drawing.height);
    }
}

#[track_caller]
pub(crate) fn words_do_not_touch(drawing: &Drawing, what: &str) {
    let all = labels(drawing);
    for (index, one) in all.iter().enumerate() {
        for other in all.iter().skip(index + 1) {
            let apart = !one.area().overlaps(other.area());
            assert!(apart, "{what}: {:?} lies over {:?}", one.content, other.content);
        }
    }
}

#[track_caller]
pub(crate) fn near(a: Px, b: Px, what: &str) {
    assert!((a - b).magnitude() <= Px::hundredths(60), "{what}: {a} is not {b}");
}

const STRIPS: [Strip<'static>; 5] = [
    Strip { from: mm_const(0), to: Some(mm_const(300)), label: "under 30", place: "1 of 5" },
    Strip { from: mm_const(300), to: Some(mm_const(400)), label: "30–39", place: "2 of 5" },
    Strip { from: mm_const(400), to: Some(mm_const(500)), label: "40–49", place: "3 of 5" },
    Strip { from: mm_const(500), to: Some(mm_const(650)), label: "50–65", place: "4 of 5" },
    Strip { from: mm_const(650), to: None, label: "over 65", place: "5 of 5" },
];

const fn mm_const(mm: i64) -> Length {
    Length::from_mm(mm)
}

const NOTE: [NoteLine<'static>; 3] = [
    NoteLine { text: "Strip 3 of 5", is_head: true, has_flag: false },
    NoteLine { text: "Best of 4 jumps, Saturday 14 June", is_head: false, has_flag: false },
    NoteLine { text: "1 flag: stretched", is_head: false, has_flag: true },
];

const WORDS: ResultWords<'static> = ResultWords {
    number: "43.5",
    unit: "cm, best today",
    usual: "usual 42 ± 2",
    jump_mark: "jump mark",
    jump_mark_number: "268.0",
    reach_number: "224.5",
    reach: "standing reach",
    reference: "Boys 16–19",
    reference_unit: "cm above reach",
    note: &NOTE,
};

pub(crate) fn result(frame: Frame) -> ResultWall<'static> {
    ResultWall {
        frame,
        unit: Unit::Centimetre,
        standing_reach: Some(mm(2_245)),
        best: mm(435),
        usual: Some(Usual { height: mm(420), error: mm(20) }),
        reference: Reference::Strips(&STRIPS),
        standing: Some(Standing { at: mm(420), first: "40–49", second: "3 of 5" }),
        tick_label: &cm,
        words: WORDS,
    }
}

const EDGES: [Length; 9] = [
    mm_const(330),
    mm_const(350),
    mm_const(375),
    mm_const(390),
    mm_const(405),
    mm_const(420),
    mm_const(440),
    mm_const(470),
    mm_const(510),
];

/// Walls of every kind of reference, low and high jumps, with and without heights from the floor.
fn results(frame: Frame) -> Vec<(&'static str, ResultWall<'static>)> {
    let base = result(frame);
    let tenths = Reference::Tenths { edges: &EDGES, lowest: "1 in 10", highest: "9 in 10" };
    let tag = |at, first, second| Some(Standing { at: mm(at), first, second });
    let average = Reference::Average { from: mm(345), to: mm(365), label: "35", word: "average" };
    let low_usual = Some(Usual { height: mm(90), error: mm(30) });
    let low = ResultWall {
        best: mm(105),
        usual: low_usual,
        standing: tag(90, "under 30", "1 of 5"),
        ..base
    };
    vec![
        ("strips", base),
        (
            "tenths",
            ResultWall { reference: tenths, standing: tag(440, "51–63 in 100", ""), ..base },
        ),
        ("average", ResultWall { reference: average, standing: tag(420, "42", "you"), ..base }),
        ("none", ResultWall { reference: Reference::None, standing: None, ..base }),
        ("distance", ResultWall { standing_reach: None, ..base }),
        ("low", low),
        ("low, none", ResultWall { reference: Reference::None, standing: None, ..low }),
        ("tiny", ResultWall { best: mm(2), usual: None, standing: None, ..low }),
        ("top", ResultWall { best: mm(900), standing: tag(900, "over 65", "5 of 5"), ..base }),
        ("doubtful", ResultWall { usual: Some(Usual { height: mm(380), error: mm(90) }), ..base }),
    ]
}

#[test]
fn a_result_stays_on_its_drawing() {
    for frame in FRAMES {
        for (name, wall) in results(frame) {
            let made = result_wall(&wall);
            let what = format!("{name} at {frame:?}");
            nothing_leaves(&made.drawing, &what);
            words_do_not_touch(&made.drawing, &what);
        }
    }
}

#[test]
fn a_tall_frame_keeps_its_size_and_a_low_one_grows() {
    let tall = result_wall(&result(Frame::whole(390, 624, 16))).drawing;
    assert_eq!((tall.width, tall.height), (Px::whole(390), Px::whole(624)));
    let low = result_wall(&result(Frame::whole(390, 100, 16))).drawing;
    assert_eq!(low.height, Px::whole(22 * 16));
}

/// The scale of a result read back from two things whose heights are known.
fn scale_of(drawing: &Drawing, best: Length) -> Scale {
    let line = first(drawing, Paint::MarkLine).y;
    let dimension = first(drawing, Paint::Dimension);
    assert_eq!(dimension.y, line);
    Scale::new(Length::ZERO, best, line, dimension.bottom())
}

#[test]
fn marks_lie_at_their_heights() {
    for frame in FRAMES {
        for (name, wall) in results(frame) {
            let drawing = result_wall(&wall).drawing;
            let scale = scale_of(&drawing, wall.best);
            let mark = first(&drawing, Paint::ChalkMark);
            // The chalk is ragged: its middle may be off by a pixel.
            let off = (middle(mark) - scale.y(wall.best)).magnitude();
            assert!(off <= wall.frame.font.part(1, 16), "{name}: {off}");
            let stripe = first(&drawing, Paint::Stripe);
            near(middle(stripe), scale.y(Length::ZERO), name);
            if let Some(standing) = wall.standing {
                near(first(&drawing, Paint::Lead).y, scale.y(standing.at), name);
            }
        }
    }
}

#[test]
fn the_hatch_is_centred_on_the_usual_jump_and_not_on_the_best() {
    let wall = result(Frame::whole(390, 624, 16));
    let drawing = result_wall(&wall).drawing;
    let scale = scale_of(&drawing, wall.best);
    let hatch = first(&drawing, Paint::Hatch);
    near(hatch.y, scale.y(mm(440)), "upper edge");
    near(hatch.bottom(), scale.y(mm(400)), "lower edge");
    near(middle(hatch), first(&drawing, Paint::Usual).y, "middle");
    assert!(middle(hatch) > scale.y(wall.best));
}

#[test]
fn strips_meet_at_their_bounds() {
    let drawing = result_wall(&result(Frame::whole(390, 624, 16))).drawing;
    let scale = scale_of(&drawing, mm(435));
    let strips = painted(&drawing, Paint::StripPlain);
    assert_eq!(strips.len(), 5);
    for (pair, bound) in strips.windows(2).zip([300, 400, 500, 650]) {
        let seam = pair[1].bottom() + (pair[0].y - pair[1].bottom()).half();
        near(seam, scale.y(mm(bound)), "seam");
        assert_eq!(pair[0].y - pair[1].bottom(), Px::whole(3));
    }
}

#[test]
fn a_label_stays_beside_its_own_strip() {
    for frame in FRAMES {
        let made = result_wall(&result(frame));
        let scale = scale_of(&made.drawing, mm(435));
        for label in labels(&made.drawing) {
            let strip = STRIPS.iter().find(|strip| strip.label == label.content);
            let Some(strip) = strip.filter(|strip| strip.label != "40–49") else { continue };
            let top = strip.to.unwrap_or(strip.from + mm(80));
            let y = middle(label.area());
            // With its place word the middle of the pair lies inside; the range stands above it.
            let air = frame.rems(1_500);
            assert!(scale.y(top) - air <= y && y <= scale.y(strip.from) + air, "{label:?}");
        }
    }
}

#[test]
fn what_finds_no_room_is_named() {
    let wide = result_wall(&result(Frame::whole(390, 624, 16)));
    assert_eq!(wide.dropped, []);
    let narrow = result_wall(&result(Frame::whole(320, 424, 32)));
    for lost in [Dropped::Tag, Dropped::StripLabel(0), Dropped::NoteLine(2)] {
        assert!(narrow.dropped.contains(&lost), "{lost:?}");
    }
    // The heights themselves are never dropped there.
    for number in ["43.5", "268.0", "224.5"] {
        assert!(labels(&narrow.drawing).iter().any(|label| label.content == number), "{number}");
    }
}

#[test]
fn the_dado_lies_over_the_hatch_and_under_the_words() {
    let drawing = result_wall(&result(Frame::whole(390, 624, 16))).drawing;
    let place = |paint| drawing.items.iter().position(|item| item.paint() == Some(paint)).unwrap();
    assert!(place(Paint::Wall) < place(Paint::Hatch));
    assert!(place(Paint::Hatch) < place(Paint::ChalkMark));
    assert!(place(Paint::StripPlain) < place(Paint::Lead));
    assert!(place(Paint::Stripe) < place(Paint::ReachMark));
}

/// Where the words of a result stand: size, place of the baseline, text.
#[test]
fn the_words_of_a_result_keep_their_places() {
    let drawing = result_wall(&result(Frame::whole(390, 624, 16))).drawing;
    let mut lines = String::new();
    for label in labels(&drawing) {
        let (at, size) = (label.at, label.size);
        lines.push_str(&format!("{size} at {} {}: {}\n", at.x, at.y, label.content));
    }
    expect![[r#"
        17.01 at 78.4 574.4: 224.5
        15.01 at 78.4 595.2: standing reach
        17.01 at 250 574.4: Boys 16–19
        15.01 at 250 595.2: cm above reach
        17.01 at 296 249.97: 40–49
        15.01 at 296 269.13: 3 of 5
        17.01 at 296 299.1: 30–39
        15.01 at 296 318.36: 2 of 5
        17.01 at 296 141.02: 50–65
        15.01 at 296 160.28: 4 of 5
        17.01 at 296 439.61: under 30
        15.01 at 296 458.87: 1 of 5
        17.01 at 296 60.23: over 65
        15.01 at 296 79.49: 5 of 5
        68 at 78.4 399: 43.5
        19.85 at 78.4 433.22: cm, best today
        15.01 at 78.4 454.98: usual 42 ± 2
        15.01 at 78.4 231.18: jump mark 268.0
        20 at 56 29: Strip 3 of 5
        15.01 at 56 54.76: Best of 4 jumps,
        15.01 at 56 74.27: Saturday 14 June
        15.01 at 80 97.79: 1 flag: stretched
        13.01 at 20.24 574.02: 220
        13.01 at 20.24 503.76: 230
        13.01 at 20.24 433.5: 240
        13.01 at 20.24 363.25: 250
        13.01 at 20.24 292.99: 260
        13.01 at 20.24 222.73: 270
        13.01 at 20.24 152.48: 280
        13.01 at 20.24 82.22: 290
        13.01 at 20.24 11.96: 300
    "#]]
    .assert_eq(&lines);
}

proptest! {
    /// Whatever was jumped, on whatever screen: nothing leaves, nothing overlaps.
    #[test]
    fn any_result_fits(
        width in 160i64..1_400, height in 100i64..1_200, font in 12i64..40,
        best in 0i64..1_200, below in 0i64..80, error in 0i64..60, at in 0usize..10,
    ) {
        let walls = results(Frame::whole(width, height, font));
        let (name, wall) = walls[at];
        let usual = Usual { height: mm((best - below).max(0)), error: mm(error) };
        let standing = wall.standing.map(|standing| Standing { at: usual.height, ..standing });
        let made = result_wall(&ResultWall { best: mm(best), usual: Some(usual), standing, ..wall });
        nothing_leaves(&made.drawing, name);
        words_do_not_touch(&made.drawing, name);
    }

    /// Absurd heights may give an absurd picture, but never a panic.
    #[test]
    fn nothing_panics(
        best in any::<i64>(), usual in any::<i64>(), error in any::<i64>(), base in any::<i64>(),
        width in any::<i64>(), font in any::<i64>(), at in 0usize..10,
    ) {
        let um = Length::from_micrometres;
        let frame = Frame {
            width: Px::hundredths(width),
            height: Px::hundredths(font),
            font: Px::hundredths(font),
        };
        let (_, wall) = results(frame)[at];
        let usual = Some(Usual { height: um(usual), error: um(error) });
        let standing_reach = Some(um(base));
        let _ = result_wall(&ResultWall { best: um(best), usual, standing_reach, ..wall });
        let columns = [TrialMark::Kept(um(best)), TrialMark::Typing(um(base))];
        let columns = columns.map(|mark| TrialColumn { mark, label: "1", number: "1" });
        let _ = trials(&columns, frame);
        let _ = figure(Pose::Dip, true, frame);
    }
}
