//! The poses of the person as joints on a grid, and the way from one to another.

/// A moment of the test, or a common mistake, seen from the middle of the room: the wall lies behind
/// the person, so the marks lie flat on it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Pose {
    /// Standing reach: heels down, shoulder pushed high, arm straight up.
    Reach,
    /// The dip: a quarter to half squat, arms thrown back.
    Dip,
    /// Leaving the floor, arms on their way up.
    Jump,
    /// The touch at the highest point.
    Touch,
    /// Landing on both feet, knees bent over the toes.
    Landing,
    /// Mistake: a step before the jump.
    StepFirst,
    /// Mistake: a bent arm at the reach.
    BentReach,
    /// Mistake: a deep dip.
    DeepDip,
    /// Mistake: touching on the way down.
    LateTouch,
    /// Mistake: landing on straight legs.
    StiffLanding,
}

impl Pose {
    /// Every pose, the five of the test first, then the mistake that goes with each of the first
    /// moments.
    pub const ALL: [Self; 10] = [
        Self::Reach,
        Self::Dip,
        Self::Jump,
        Self::Touch,
        Self::Landing,
        Self::StepFirst,
        Self::BentReach,
        Self::DeepDip,
        Self::LateTouch,
        Self::StiffLanding,
    ];

    /// Whether the pose shows what not to do.
    pub const fn is_mistake(self) -> bool {
        matches!(
            self,
            Self::StepFirst
                | Self::BentReach
                | Self::DeepDip
                | Self::LateTouch
                | Self::StiffLanding
        )
    }
}

/// A place on the figure's own grid: to the right, and up from the floor. A person stands 102 high.
pub(super) type Spot = (i64, i64);

/// The joints of a body that faces right.
#[derive(Clone, Copy, Debug)]
pub(super) struct Body {
    head: Spot,
    shoulder: Spot,
    hip: Spot,
    /// Elbow and fingertip of the arm that marks.
    arm: [Spot; 2],
    /// Elbow and fingertip of the other arm.
    other_arm: [Spot; 2],
    /// Knee, ankle and toe.
    leg: [Spot; 3],
    /// The same of the other leg.
    other_leg: [Spot; 3],
}

/// How high the fingertip of a standing reach is on the grid.
pub(super) const REACH: i64 = 124;
/// How high the fingertip of the jump is.
pub(super) const TOUCH: i64 = 150;

pub(super) const STAND: Body = Body {
    head: (5, 95),
    shoulder: (0, 84),
    hip: (0, 52),
    arm: [(0, 104), (0, REACH)],
    other_arm: [(-7, 68), (-4, 50)],
    leg: [(1, 28), (0, 5), (10, 3)],
    other_leg: [(4, 28), (4, 5), (14, 3)],
};

pub(super) const DIP: Body = Body {
    head: (14, 84),
    shoulder: (6, 74),
    hip: (-7, 45),
    arm: [(-8, 65), (-24, 56)],
    other_arm: [(-5, 62), (-20, 51)],
    leg: [(9, 26), (0, 5), (10, 3)],
    other_leg: [(13, 27), (4, 5), (14, 3)],
};

/// Half way from the dip to the jump: the arms swing past the hips.
pub(super) const RISE: Body = Body {
    head: (11, 92),
    shoulder: (3, 82),
    hip: (-4, 52),
    arm: [(4, 66), (8, 47)],
    other_arm: [(7, 67), (12, 49)],
    leg: [(6, 31), (-1, 9), (7, 3)],
    other_leg: [(9, 32), (3, 9), (11, 3)],
};

pub(super) const JUMP: Body = Body {
    head: (9, 104),
    shoulder: (2, 94),
    hip: (0, 62),
    arm: [(14, 106), (20, 124)],
    other_arm: [(17, 98), (27, 113)],
    leg: [(3, 38), (-1, 15), (5, 5)],
    other_leg: [(5, 38), (3, 16), (9, 6)],
};

pub(super) const PEAK: Body = Body {
    head: (5, 121),
    shoulder: (0, 110),
    hip: (-1, 78),
    arm: [(0, 130), (0, TOUCH)],
    other_arm: [(-8, 95), (-4, 77)],
    leg: [(1, 54), (-4, 31), (1, 21)],
    other_leg: [(5, 54), (2, 31), (7, 21)],
};

pub(super) const LAND: Body = Body {
    head: (13, 82),
    shoulder: (6, 72),
    hip: (-7, 43),
    arm: [(18, 62), (34, 68)],
    other_arm: [(15, 60), (30, 63)],
    leg: [(10, 25), (0, 5), (10, 3)],
    other_leg: [(14, 26), (4, 5), (14, 3)],
};

const STEP: Body = Body {
    head: (8, 95),
    shoulder: (3, 84),
    hip: (0, 52),
    arm: [(-6, 68), (-16, 55)],
    other_arm: [(12, 68), (23, 60)],
    leg: [(12, 31), (17, 8), (27, 9)],
    other_leg: [(-3, 28), (-15, 9), (-7, 3)],
};

/// Before the jump: both arms hang down.
pub(super) const READY: Body = Body { arm: [(4, 68), (7, 50)], ..STAND };

/// On the way between hanging and reaching: the arm that marks points forward.
pub(super) const FRONT: Body = Body { arm: [(19, 88), (38, 94)], ..STAND };

const BENT: Body = Body { arm: [(13, 98), (2, 114)], ..STAND };

const DEEP: Body = Body {
    head: (15, 57),
    shoulder: (7, 47),
    hip: (-12, 21),
    arm: [(-8, 41), (-25, 35)],
    other_arm: [(-5, 38), (-21, 30)],
    leg: [(13, 24), (0, 5), (10, 3)],
    other_leg: [(17, 25), (4, 5), (14, 3)],
};

const STIFF: Body = Body {
    head: (2, 95),
    shoulder: (-4, 84),
    hip: (-1, 52),
    arm: [(10, 73), (24, 64)],
    other_arm: [(-16, 72), (-27, 60)],
    leg: [(0, 28), (1, 5), (11, 4)],
    other_leg: [(3, 28), (5, 5), (15, 4)],
};

impl Pose {
    pub(super) fn body(self) -> Body {
        match self {
            Self::Reach => STAND,
            Self::Dip => DIP,
            Self::Jump => JUMP,
            Self::Touch => PEAK,
            Self::Landing => LAND,
            Self::StepFirst => STEP,
            Self::BentReach => BENT,
            Self::DeepDip => DEEP,
            Self::LateTouch => shifted(PEAK, -15),
            Self::StiffLanding => STIFF,
        }
    }
}

fn shifted(body: Body, up: i64) -> Body {
    let lift = |(x, y): Spot| (x, y + up);
    Body {
        head: lift(body.head),
        shoulder: lift(body.shoulder),
        hip: lift(body.hip),
        arm: body.arm.map(lift),
        other_arm: body.other_arm.map(lift),
        leg: body.leg.map(lift),
        other_leg: body.other_leg.map(lift),
    }
}

/// The joints on the fine grid: head, shoulder, hip, arm, other arm, leg, other leg.
pub(super) type Joints = [Vec<Spot>; 7];

/// The way from one body to another, joint by joint. Arms keep their length while they swing.
pub(super) fn mixed(a: Body, b: Body, per_mille: i64) -> Joints {
    let way = |from: i64, to: i64| from * FINE + (to - from) * FINE * per_mille / 1_000;
    let mix = |(ax, ay): Spot, (bx, by): Spot| (way(ax, bx), way(ay, by));
    let shoulder = mix(a.shoulder, b.shoulder);
    let swing = |[a_elbow, a_hand]: [Spot; 2], [b_elbow, b_hand]: [Spot; 2]| {
        let part = |from: Spot, to: Spot| (to.0 - from.0, to.1 - from.1);
        let upper = (part(a.shoulder, a_elbow), part(b.shoulder, b_elbow));
        let fore = (part(a_elbow, a_hand), part(b_elbow, b_hand));
        let elbow = added(shoulder, turned(upper, per_mille));
        vec![elbow, added(elbow, turned(fore, per_mille))]
    };
    let leg = |from: [Spot; 3], to: [Spot; 3]| {
        from.into_iter().zip(to).map(|(from, to)| mix(from, to)).collect()
    };
    [
        vec![mix(a.head, b.head)],
        vec![shoulder],
        vec![mix(a.hip, b.hip)],
        swing(a.arm, b.arm),
        swing(a.other_arm, b.other_arm),
        leg(a.leg, b.leg),
        leg(a.other_leg, b.other_leg),
    ]
}

fn added(a: Spot, b: Spot) -> Spot {
    (a.0 + b.0, a.1 + b.1)
}

/// A bone between two directions, on the fine grid, with a length between their lengths.
fn turned(((ax, ay), (bx, by)): (Spot, Spot), per_mille: i64) -> Spot {
    let way = |from: i64, to: i64| from * FINE + (to - from) * FINE * per_mille / 1_000;
    let length = |x: i64, y: i64| (x * x + y * y).isqrt();
    let (x, y) = (way(ax, bx), way(ay, by));
    let wanted = way(length(ax * FINE, ay * FINE), length(bx * FINE, by * FINE)) / FINE;
    let is = length(x, y).max(1);
    (x * wanted / is, y * wanted / is)
}

/// Steps of the fine grid in one step of the figure's grid.
pub(super) const FINE: i64 = 100;
