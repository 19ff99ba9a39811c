use super::Length;

/// A closed range of lengths. Outside `possible` nothing is accepted; everything else is at most
/// asked about, since very tall, very small and very good people exist.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Bounds {
    /// The smallest length accepted.
    pub min: Length,
    /// The largest length accepted.
    pub max: Length,
}

impl Bounds {
    /// Whether a length lies inside, ends included.
    pub fn contains(self, length: Length) -> bool {
        self.min <= length && length <= self.max
    }
}

/// Standing reach from the floor. Design choice: from a small five-year-old in a chair to beyond the
/// tallest person known.
pub const REACH_POSSIBLE: Bounds =
    Bounds { min: Length::from_mm(600), max: Length::from_mm(3_500) };
/// A jump mark from the floor. Design choice: reach and jump bounds together.
pub const MARK_POSSIBLE: Bounds = Bounds { min: Length::from_mm(600), max: Length::from_mm(4_800) };
/// A jump height. Design choice: docs/measurement.md §7.3 refuses above 125 cm, and a run-up counts
/// 1.25 times that.
pub const JUMP_HEIGHT_POSSIBLE: Bounds = Bounds { min: Length::ZERO, max: Length::from_mm(1_560) };

const _: () = {
    assert!(REACH_POSSIBLE.min.as_micrometres() < REACH_POSSIBLE.max.as_micrometres());
    assert!(MARK_POSSIBLE.max.as_micrometres() > REACH_POSSIBLE.max.as_micrometres());
};
