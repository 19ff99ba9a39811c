//! The drawings as geometry: marks lie where they should, words neither leave the drawing nor lie
//! over each other, on the smallest screens and with large text.

use expect_test::expect;
use proptest::prelude::*;
use two_marks::chart::{
    Area, Drawing, Dropped, Export, Frame, Item, Label, NoteLine, Paint, Palette, Pose, Px,
    ReachMark, ReachWall, Reference, ResultWall, ResultWords, Scale, Standing, Strip, TrialColumn,
    TrialMark, TrialsWall, Usual, figure, figure_between, reach_wall, result_wall, svg_file,
    trials_wall,
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

fn result(frame: Frame) -> ResultWall<'static> {
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

fn kept(height: i64, label: &'static str, number: &'static str) -> TrialColumn<'static> {
    TrialColumn { mark: TrialMark::Kept(mm(height)), label, number }
}

fn trials(columns: &[TrialColumn<'static>], frame: Frame) -> two_marks::chart::TrialsDrawing {
    trials_wall(&TrialsWall {
        frame,
        unit: Unit::Centimetre,
        standing_reach: Some(mm(2_245)),
        trials: columns,
        tick_label: &cm,
        reach_label: "224.5",
    })
}

fn session() -> Vec<TrialColumn<'static>> {
    vec![
        kept(410, "41.0", "1"),
        TrialColumn { mark: TrialMark::Foul, label: "foul", number: "2" },
        kept(420, "42.0", "3"),
        kept(435, "43.5", "4"),
        TrialColumn { mark: TrialMark::Typing(mm(430)), label: "43.0", number: "5" },
    ]
}

#[test]
fn trials_stay_on_their_drawing() {
    let far_apart = vec![kept(20, "2.0", "1"), kept(1_200, "120.0", "2")];
    for frame in FRAMES {
        for columns in [session(), far_apart.clone(), Vec::new(), vec![kept(435, "43.5", "1"); 10]]
        {
            let made = trials(&columns, frame);
            let what = format!("{} trials at {frame:?}", columns.len());
            nothing_leaves(&made.drawing, &what);
            assert_eq!(made.slots.len(), columns.len());
        }
    }
    for frame in FRAMES {
        // The tag of the trial that is typed may cover a neighbour; the others keep apart.
        let mut columns = session();
        columns.pop();
        words_do_not_touch(&trials(&columns, frame).drawing, &format!("{frame:?}"));
    }
}

#[test]
fn trials_differ_as_their_heights_do() {
    let made = trials(&session(), Frame::whole(390, 304, 16));
    let marks = painted(&made.drawing, Paint::ChalkMark);
    assert_eq!(marks.len(), 3);
    let rise = |a: usize, b: usize| middle(marks[a]) - middle(marks[b]);
    // 1.0 cm from the first mark to the second, 1.5 cm from there to the third.
    assert!((rise(0, 1).part(3, 2) - rise(1, 2)).magnitude() <= Px::hundredths(4));
    assert_eq!(painted(&made.drawing, Paint::Foul).len(), 1);
    assert_eq!(painted(&made.drawing, Paint::Typing).len(), 1);
    let dotted = first(&made.drawing, Paint::MarkLineDotted).y;
    assert!((middle(marks[2]) - dotted).magnitude() <= Px::whole(1));
}

#[test]
fn a_trial_can_be_touched_at_320_px() {
    for slot in trials(&vec![kept(435, "43.5", "1"); 6], Frame::whole(320, 304, 16)).slots {
        assert!(slot.width >= Px::whole(48), "{slot:?}");
        assert!(slot.height >= Px::whole(48), "{slot:?}");
    }
}

#[test]
fn a_low_wall_is_not_cut() {
    let made = trials(&[kept(20, "2.0", "1")], Frame::whole(390, 304, 16));
    assert!(painted(&made.drawing, Paint::Cut).is_empty());
    let made = trials(&session(), Frame::whole(390, 304, 16));
    assert_eq!(painted(&made.drawing, Paint::Cut).len(), 2);
}

fn reaches(heights: &[(i64, &'static str)], stripe: i64, frame: Frame) -> Drawing {
    let mark = |(height, label): &(i64, &'static str)| ReachMark {
        height: mm(*height),
        label,
        is_typing: false,
    };
    let marks: Vec<_> = heights.iter().map(mark).collect();
    reach_wall(&ReachWall {
        frame,
        unit: Unit::Centimetre,
        marks: &marks,
        stripe: mm(stripe),
        spread: "1.0",
        tick_label: &cm,
    })
}

#[test]
fn reach_marks_lie_on_plaster_stripe_and_dado() {
    let three = [(2_240, "224.0"), (2_245, "224.5"), (2_250, "225.0")];
    for frame in FRAMES {
        let drawing = reaches(&three, 2_245, frame);
        nothing_leaves(&drawing, &format!("{frame:?}"));
        words_do_not_touch(&drawing, &format!("{frame:?}"));
        let stripe = middle(first(&drawing, Paint::Stripe));
        let above = middle(first(&drawing, Paint::ChalkMark));
        let below = middle(first(&drawing, Paint::ChalkMarkOnDado));
        assert!(above < stripe && stripe < below);
        let on = middle(first(&drawing, Paint::ReachMark));
        assert!((on - stripe).magnitude() <= Px::whole(1));
        near(stripe - above, below - stripe, "half a centimetre up and down");
    }
}

#[test]
fn reaches_far_apart_still_fit() {
    for frame in FRAMES {
        let drawing = reaches(&[(2_240, "224.0"), (2_490, "249.0")], 2_240, frame);
        nothing_leaves(&drawing, &format!("{frame:?}"));
        words_do_not_touch(&drawing, &format!("{frame:?}"));
    }
    nothing_leaves(&reaches(&[], 2_240, FRAMES[0]), "no mark");
}

#[test]
fn a_figure_stands_on_its_drawing() {
    for pose in Pose::ALL {
        for frame in [Frame::whole(104, 128, 16), Frame::whole(320, 300, 16)] {
            nothing_leaves(&figure(pose, false, frame), &format!("{pose:?}"));
            nothing_leaves(&figure(pose, true, frame), &format!("{pose:?} mirrored"));
        }
        let feet = figure(pose, false, Frame::whole(200, 400, 16));
        let floor = first(&feet, Paint::Floor).y;
        for body in [Paint::Body, Paint::BodyFar] {
            for limb in painted(&feet, body) {
                assert!(limb.bottom() <= floor, "{pose:?} stands in the floor");
            }
        }
    }
}

#[test]
fn the_left_hand_is_the_mirror_of_the_right() {
    let frame = Frame::whole(200, 400, 16);
    for pose in Pose::ALL {
        let (right, left) = (figure(pose, false, frame), figure(pose, true, frame));
        assert_eq!(right.items.len(), left.items.len());
        for (a, b) in right.items.iter().zip(&left.items) {
            let (a, b) = (a.area(), b.area());
            assert_eq!((a.y, a.height), (b.y, b.height));
            near(a.x, right.width - b.right(), "mirror");
        }
    }
}

/// Common practice, no source: the arm is upright at the reach, so a bent one shows the mistake.
#[test]
fn the_reaching_arm_is_upright() {
    let drawing = figure(Pose::Reach, false, Frame::whole(200, 400, 16));
    let arm = drawing.items.iter().rev().find_map(|item| match item {
        Item::Limb { points, paint: Paint::Body, .. } => Some(points.clone()),
        _ => None,
    });
    let arm = arm.unwrap();
    assert!(arm.iter().all(|joint| joint.x == arm[0].x));
}

#[test]
fn a_moving_figure_starts_and_ends_in_its_poses() {
    let frame = Frame::whole(200, 400, 16);
    let limbs = |drawing: &Drawing| -> Vec<Item> {
        let is_limb = |item: &&Item| matches!(item, Item::Limb { .. } | Item::Circle { .. });
        drawing.items.iter().filter(is_limb).cloned().collect()
    };
    let way = [Pose::Reach, Pose::Dip, Pose::Jump, Pose::Touch, Pose::Landing];
    for pair in way.windows(2) {
        let between = |per_mille| figure_between(pair[0], pair[1], per_mille, false, frame);
        assert_eq!(limbs(&between(0)), limbs(&figure(pair[0], false, frame)));
        assert_eq!(limbs(&between(1_000)), limbs(&figure(pair[1], false, frame)));
        assert_eq!(between(1_000), between(u16::MAX));
        nothing_leaves(&between(500), "half way");
    }
}

const EXPORT: Export<'static> = Export {
    palette: Palette::Light,
    prefix: "a b\"/7",
    zoom_percent: 300,
    title: "R & J <b>",
    description: "43.5 cm \"best\"",
};

#[test]
fn a_picture_stands_by_itself() {
    let drawing = result_wall(&result(Frame::whole(360, 450, 16))).drawing;
    let svg = svg_file(&drawing, &EXPORT);
    assert!(svg.contains("width=\"1080\" height=\"1350\" viewBox=\"0 0 360 450\""));
    assert!(svg.contains("<title>R &amp; J &lt;b&gt;</title>"));
    assert!(svg.contains("<desc>43.5 cm &quot;best&quot;</desc>"));
    assert!(svg.contains("id=\"ab7-hatch\"") && svg.contains("url(#ab7-hatch)"));
    for banned in ["class=", "style=", "var(", "xlink", "href", "<script"] {
        assert!(!svg.contains(banned), "{banned}");
    }
    // Every pattern that is used is there once.
    for name in ["hatch", "dots", "diagonal", "cross"] {
        assert_eq!(svg.matches(&format!("id=\"ab7-{name}\"")).count(), 1, "{name}");
    }
    let page = svg_file(&drawing, &Export { palette: Palette::Tokens, ..EXPORT });
    assert!(page.contains("fill=\"var(--wall)\"") && !page.contains("#FAE8DD"));
}

/// Room for a phone's memory and a slow line; measured 10 kB and 3 kB.
#[test]
fn a_picture_is_small() {
    let wall = result_wall(&result(Frame::whole(390, 624, 16))).drawing;
    let wall = svg_file(&wall, &EXPORT).len();
    let person = svg_file(&figure(Pose::Touch, false, Frame::whole(104, 128, 16)), &EXPORT).len();
    assert!(wall < 16_000 && person < 4_000, "{wall} and {person} bytes");
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

    /// Trials and reaches of any height. The tag of what is typed may cover a neighbour.
    #[test]
    fn any_session_fits(
        width in 160i64..1_400, height in 100i64..900, font in 12i64..40,
        heights in proptest::collection::vec(0i64..1_200, 0..10),
        reach in proptest::collection::vec(1_800i64..2_600, 1..4),
    ) {
        let frame = Frame::whole(width, height, font);
        let columns: Vec<_> = heights.iter().map(|h| kept(*h, "43.5", "4")).collect();
        let drawing = trials(&columns, frame).drawing;
        nothing_leaves(&drawing, "trials");
        words_do_not_touch(&drawing, "trials");
        let marks: Vec<_> = reach.iter().map(|h| (*h, "224.5")).collect();
        let drawing = reaches(&marks, reach[0], frame);
        nothing_leaves(&drawing, "reach");
        words_do_not_touch(&drawing, "reach");
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
