use super::scene::Sketch;
use super::{Drawing, Frame, Item, Paint, Point, Px};

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
type Spot = (i64, i64);

/// The joints of a body that faces right.
#[derive(Clone, Copy)]
struct Body {
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
const REACH: i64 = 124;
/// How high the fingertip of the jump is.
const TOUCH: i64 = 150;

const STAND: Body = Body {
    head: (5, 95),
    shoulder: (0, 84),
    hip: (0, 52),
    arm: [(0, 104), (0, REACH)],
    other_arm: [(-7, 68), (-4, 50)],
    leg: [(1, 28), (0, 5), (10, 3)],
    other_leg: [(4, 28), (4, 5), (14, 3)],
};

const DIP: Body = Body {
    head: (14, 84),
    shoulder: (6, 74),
    hip: (-7, 45),
    arm: [(-8, 65), (-24, 56)],
    other_arm: [(-5, 62), (-20, 51)],
    leg: [(9, 26), (0, 5), (10, 3)],
    other_leg: [(13, 27), (4, 5), (14, 3)],
};

/// Half way from the dip to the jump: the arms swing past the hips.
const RISE: Body = Body {
    head: (11, 92),
    shoulder: (3, 82),
    hip: (-4, 52),
    arm: [(4, 66), (8, 47)],
    other_arm: [(7, 67), (12, 49)],
    leg: [(6, 31), (-1, 9), (7, 3)],
    other_leg: [(9, 32), (3, 9), (11, 3)],
};

const JUMP: Body = Body {
    head: (9, 104),
    shoulder: (2, 94),
    hip: (0, 62),
    arm: [(14, 106), (20, 124)],
    other_arm: [(17, 98), (27, 113)],
    leg: [(3, 38), (-1, 15), (5, 5)],
    other_leg: [(5, 38), (3, 16), (9, 6)],
};

const PEAK: Body = Body {
    head: (5, 121),
    shoulder: (0, 110),
    hip: (-1, 78),
    arm: [(0, 130), (0, TOUCH)],
    other_arm: [(-8, 95), (-4, 77)],
    leg: [(1, 54), (-4, 31), (1, 21)],
    other_leg: [(5, 54), (2, 31), (7, 21)],
};

const LAND: Body = Body {
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
    fn body(self) -> Body {
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
type Joints = [Vec<Spot>; 7];

/// The way from one body to another, joint by joint. Arms keep their length while they swing.
fn mixed(a: Body, b: Body, per_mille: i64) -> Joints {
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
const FINE: i64 = 100;
/// The grid that every figure fits: from 40 left of the ankles to 44 right, 164 up.
const GRID: (i64, i64) = (84, 172);

/// A person in one pose, with floor, marks and the signs that go with the pose.
///
/// `is_mirrored` turns the drawing for the left hand. The figure keeps its proportions and stands in
/// the middle of the frame.
pub fn figure(pose: Pose, is_mirrored: bool, frame: Frame) -> Drawing {
    let mut pen = Pen::new(is_mirrored, frame);
    pen.ground();
    pen.signs_behind(pose);
    pen.body(&mixed(pose.body(), pose.body(), 0));
    pen.signs(pose);
    pen.sketch.finish(pen.frame)
}

/// A person on the way from one pose to another, for a moving picture: 0 is the first pose, 1000
/// the second, anything beyond counts as the nearer of the two.
pub fn figure_between(
    from: Pose,
    to: Pose,
    per_mille: u16,
    is_mirrored: bool,
    frame: Frame,
) -> Drawing {
    let mut pen = Pen::new(is_mirrored, frame);
    pen.ground();
    pen.mark(REACH, Paint::ReachMark);
    let way = i64::from(per_mille.min(1_000));
    pen.body(&match (from, to, way) {
        // The arms go down and past the hips, not straight through the trunk.
        (Pose::Dip, Pose::Jump, 0..500) => mixed(DIP, RISE, way * 2),
        (Pose::Dip, Pose::Jump, _) => mixed(RISE, JUMP, way * 2 - 1_000),
        (from, to, _) => mixed(from.body(), to.body(), way),
    });
    pen.sketch.finish(pen.frame)
}

struct Pen {
    sketch: Sketch,
    frame: Frame,
    is_mirrored: bool,
    /// One step of the grid.
    unit: Px,
    origin: Point,
}

impl Pen {
    fn new(is_mirrored: bool, frame: Frame) -> Self {
        let width = frame.width.clamp(Px::whole(24), Px::whole(4_096));
        let height = frame.height.clamp(Px::whole(48), Px::whole(4_096));
        let frame = Frame { width, height, ..frame };
        let unit = width.part(1, GRID.0).min(height.part(1, GRID.1));
        let side = if is_mirrored { -2 } else { 2 };
        let floor = height - unit.part(7, 1) - (height - unit.part(GRID.1, 1)).half();
        let origin = Point::new(width.half() - unit.part(side, 1), floor);
        Self { sketch: Sketch::default(), frame, is_mirrored, unit, origin }
    }

    fn fine(&self, (x, y): Spot) -> Point {
        let x = if self.is_mirrored { -x } else { x };
        self.origin.moved(self.unit.part(x, FINE), -self.unit.part(y, FINE))
    }

    fn at(&self, x: i64, y: i64) -> Point {
        self.fine((x * FINE, y * FINE))
    }

    fn limb(&mut self, points: &[Spot], tenths: i64, paint: Paint) {
        let points: Vec<Point> = points.iter().map(|spot| self.fine(*spot)).collect();
        let width = self.unit.part(tenths, 10);
        // A gap of plaster keeps limbs of one colour apart.
        let gap = width + self.unit.part(25, 10);
        self.sketch.items.push(Item::Limb {
            points: points.clone(),
            width: gap,
            paint: Paint::Wall,
        });
        self.sketch.items.push(Item::Limb { points, width, paint });
    }

    fn body(&mut self, joints: &Joints) {
        let [head, shoulder, hip, arm, other_arm, leg, other_leg] = joints;
        let chain = |start: &[Spot], rest: &[Spot]| [start, rest].concat();
        self.limb(&chain(shoulder, other_arm), 60, Paint::BodyFar);
        self.limb(&chain(hip, other_leg), 75, Paint::BodyFar);
        self.limb(&chain(hip, leg), 85, Paint::Body);
        for centre in head {
            let centre = self.fine(*centre);
            self.sketch.items.push(Item::Circle {
                centre,
                radius: self.unit.part(7, 1),
                paint: Paint::Body,
            });
        }
        self.trunk(shoulder, hip);
        self.limb(&chain(shoulder, arm), 62, Paint::Body);
    }

    /// The trunk lies over the leg without a gap, so that they are one body.
    fn trunk(&mut self, shoulder: &[Spot], hip: &[Spot]) {
        let points = [shoulder, hip].concat().iter().map(|spot| self.fine(*spot)).collect();
        let width = self.unit.part(13, 1);
        self.sketch.items.push(Item::Limb { points, width, paint: Paint::Body });
    }

    /// The floor: a line and the draughtsman's short strokes for solid ground.
    fn ground(&mut self) {
        let (from, to) = (self.at(-38, 0), self.at(42, 0));
        self.sketch.line(from, to, Paint::Floor);
        let strokes = (0..8).map(|n| (self.at(10 * n - 36, 0), self.at(10 * n - 40, -4))).collect();
        self.sketch.lines(strokes, Paint::Floor);
    }

    /// A mark on the wall whose middle line lies at a height.
    fn mark(&mut self, height: i64, paint: Paint) {
        let ring = [(-11, 1), (-9, 2), (10, 2), (12, 0), (10, -2), (-9, -1)];
        let ring = ring.map(|(x, y)| self.fine((x * FINE, (height * 10 + y * 8) * FINE / 10)));
        self.sketch.polygon(vec![ring.to_vec()], paint);
    }

    fn signs_behind(&mut self, pose: Pose) {
        match pose {
            Pose::Reach => self.mark(REACH + 2, Paint::ReachMark),
            Pose::Dip | Pose::Jump => self.mark(REACH + 2, Paint::ReachMark),
            Pose::Touch => {
                self.mark(REACH + 2, Paint::ReachMark);
                self.mark(TOUCH + 2, Paint::ChalkMark);
            }
            Pose::BentReach => {
                let (from, to) = (self.at(-18, REACH + 2), self.at(20, REACH + 2));
                self.sketch.line(from, to, Paint::Ghost);
                self.mark(116, Paint::ReachMark);
            }
            Pose::LateTouch => {
                let (from, to) = (self.at(-18, TOUCH + 2), self.at(20, TOUCH + 2));
                self.sketch.line(from, to, Paint::Ghost);
                self.mark(TOUCH - 13, Paint::ChalkMark);
            }
            _ => {}
        }
    }

    fn signs(&mut self, pose: Pose) {
        match pose {
            Pose::Reach => {
                self.arrow((-24, 88), (-24, 112));
                self.arrow((-24, 36), (-24, 12));
            }
            Pose::Dip => self.arrow((30, 84), (30, 56)),
            Pose::DeepDip => self.arrow((32, 84), (32, 26)),
            Pose::Jump => self.arrow((-24, 50), (-24, 84)),
            Pose::LateTouch => self.arrow((26, 128), (26, 100)),
            Pose::StepFirst => self.arrow((-38, 30), (-20, 30)),
            Pose::StiffLanding => {
                for x in [-14, 26] {
                    let jolt = [(0, 30), (4, 24), (0, 18), (4, 12)];
                    let points = jolt.map(|(dx, y)| self.at(x + dx, y)).to_vec();
                    self.sketch.polyline(points, Paint::Arrow);
                }
            }
            _ => {}
        }
        if pose.is_mistake() {
            let (a, b) = ((-36, 158), (-26, 148));
            let cross = vec![
                (self.at(a.0, a.1), self.at(b.0, b.1)),
                (self.at(a.0, b.1), self.at(b.0, a.1)),
            ];
            self.sketch.lines(cross, Paint::Foul);
        }
    }

    /// A straight arrow, level or upright.
    fn arrow(&mut self, from: Spot, to: Spot) {
        let way = ((to.0 - from.0).signum(), (to.1 - from.1).signum());
        let side = (way.1, way.0);
        let barb = |sign: i64| {
            self.at(to.0 - 6 * way.0 + 5 * sign * side.0, to.1 - 6 * way.1 + 5 * sign * side.1)
        };
        let head = vec![barb(1), self.at(to.0, to.1), barb(-1)];
        let shaft = (self.at(from.0, from.1), self.at(to.0, to.1));
        self.sketch.lines(vec![shaft], Paint::Arrow);
        self.sketch.polyline(head, Paint::Arrow);
    }
}
