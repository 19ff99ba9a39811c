/// Which jump was tested. Different variants are different tests for ever: their scores are never
/// compared.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Variant {
    /// A countermovement jump from standing, no step, arms free.
    Standing,
    /// A jump after a run-up.
    Approach {
        /// Steps of the run-up, 1 to 9.
        steps: u8,
        /// How the person leaves the floor.
        take_off: TakeOff,
    },
    /// A countermovement jump with hands on hips (time in the air only).
    HandsOnHips,
    /// A jump from a held squat, no dip (time in the air only).
    HeldSquat,
}

/// One foot or two at the end of a run-up.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum TakeOff {
    /// Off one foot.
    OneFoot,
    /// Off both feet.
    TwoFeet,
}

/// What measured the jump. Wall scores and scores from time in the air differ by definition.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Device {
    /// Two marks on a wall.
    Wall,
    /// Time in the air, from a video.
    Video,
    /// Time in the air, from a contact mat, typed in.
    TimingMat,
    /// Time in the air, from a force plate, typed in.
    ForcePlate,
    /// Time in the air, from a light barrier near the floor, typed in.
    LightBarrier,
}

impl Device {
    /// Whether it times the jump in the air.
    pub const fn is_clock(self) -> bool {
        !matches!(self, Self::Wall)
    }
}

/// How the standing reach was taken. Scores from different methods are not comparable.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum ReachMethod {
    /// One hand, shoulder pushed high, both heels down (the method of school handbooks).
    OneHandHeelsDown,
    /// Any other way; own records only.
    Other,
}

/// The ground jumped from. Each surface has its own trend.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Surface {
    /// Dry, level and hard, or a sprung floor.
    Firm,
    /// Grass.
    Grass,
    /// Sand.
    Sand,
    /// A soft mat.
    Mat,
    /// A slope.
    Slope,
}

/// The hand that makes both marks.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Hand {
    /// Left.
    Left,
    /// Right.
    Right,
}

/// All that must be equal before two tests may share a best, a trend or a band.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct TrendKey {
    /// The jump.
    pub variant: Variant,
    /// The ruler.
    pub device: Device,
    /// How the reach was taken.
    pub reach_method: ReachMethod,
    /// The ground.
    pub surface: Surface,
    /// The person tests in their own way (one arm, a chair, another start): own records and trend,
    /// no published bands.
    pub own_way: bool,
}

impl TrendKey {
    /// The usual home test: standing jump at a firm wall, heels down.
    pub const USUAL: Self = Self {
        variant: Variant::Standing,
        device: Device::Wall,
        reach_method: ReachMethod::OneHandHeelsDown,
        surface: Surface::Firm,
        own_way: false,
    };
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn all_but_the_wall_time_a_jump_in_the_air() {
        use Device::{ForcePlate, LightBarrier, TimingMat, Video, Wall};
        assert!(!Wall.is_clock());
        assert!([Video, TimingMat, ForcePlate, LightBarrier].into_iter().all(Device::is_clock));
    }
}
