//! The drawings of a session: the jumps, the reach, the person, and a picture that leaves the page.

use crate::drawings::{
    FRAMES, cm, first, middle, mm, near, nothing_leaves, painted, result, words_do_not_touch,
};
use proptest::prelude::*;
use two_marks::chart::{
    Drawing, Export, Frame, Item, Paint, Palette, Pose, Px, ReachMark, ReachWall, TrialColumn,
    TrialMark, TrialsWall, figure, figure_between, reach_wall, result_wall, svg_file, trials_wall,
};
use two_marks::quantity::Unit;

fn kept(height: i64, label: &'static str, number: &'static str) -> TrialColumn<'static> {
    TrialColumn { mark: TrialMark::Kept(mm(height)), label, number }
}

pub(crate) fn trials(
    columns: &[TrialColumn<'static>],
    frame: Frame,
) -> two_marks::chart::TrialsDrawing {
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

proptest! {
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
}
