use super::pose::{Body, DIP, FINE, JUMP, Joints, REACH, RISE, Spot, TOUCH, mixed};
use super::scene::Sketch;
use super::{Drawing, Frame, Item, Paint, Point, Pose, Px};

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

/// One picture of a moving figure: a body on its way to another, and the marks on the wall.
pub(super) struct Shot {
    pub(super) from: Body,
    pub(super) to: Body,
    /// Thousandths of the way.
    pub(super) way: i64,
    /// Whether the reach mark and the jump mark are there.
    pub(super) marks: (bool, bool),
}

impl Shot {
    pub(super) fn draw(&self, is_mirrored: bool, frame: Frame) -> Drawing {
        let mut pen = Pen::new(is_mirrored, frame);
        pen.ground();
        if self.marks.0 {
            pen.mark(REACH + 2, Paint::ReachMark);
        }
        if self.marks.1 {
            pen.mark(TOUCH + 2, Paint::ChalkMark);
        }
        pen.body(&mixed(self.from, self.to, self.way));
        pen.sketch.finish(pen.frame)
    }
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
