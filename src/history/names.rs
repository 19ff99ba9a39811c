//! The words of stored records and spreadsheet files: one name per value, never changed once
//! released, in no person's language.

use super::record::{MarkMethod, Origin};
use super::settings::Theme;
use crate::measure::{Device, FoulReason, Hand, ReachMethod, Surface, TakeOff, Variant};
use crate::quantity::{AgeGroup, Compare, Division, Sex, Unit};

/// A value with a name in records and spreadsheet files.
///
/// ```
/// use two_marks::history::Named;
/// use two_marks::quantity::Division;
/// assert_eq!(Division::CmHalf.name(), "cm/2");
/// assert_eq!(Division::named("in/8"), Some(Division::InEighth));
/// ```
pub trait Named: Copy + PartialEq + 'static {
    /// Every value with its name, the default first.
    const NAMES: &'static [(Self, &'static str)];

    /// The name; empty for a value without one of its own.
    fn name(self) -> &'static str {
        Self::NAMES.iter().find(|(value, _)| *value == self).map_or("", |(_, name)| name)
    }

    /// The value of a name.
    fn named(name: &str) -> Option<Self> {
        Self::NAMES.iter().find(|(_, known)| *known == name).map(|(value, _)| *value)
    }
}

/// The name of a jump with a run-up; its steps and take-off are named beside it.
pub const APPROACH: &str = "approach";

/// The name of a jump, with or without a run-up.
pub fn variant_name(variant: Variant) -> &'static str {
    match variant {
        Variant::Approach { .. } => APPROACH,
        other => other.name(),
    }
}

impl Named for Division {
    const NAMES: &'static [(Self, &'static str)] = &[
        (Division::Cm1, "cm"),
        (Division::CmHalf, "cm/2"),
        (Division::CmTenth, "cm/10"),
        (Division::In1, "in"),
        (Division::InHalf, "in/2"),
        (Division::InQuarter, "in/4"),
        (Division::InEighth, "in/8"),
    ];
}

impl Named for FoulReason {
    const NAMES: &'static [(Self, &'static str)] = &[
        (FoulReason::Step, "step"),
        (FoulReason::MissedWall, "missed"),
        (FoulReason::SwungOff, "swung"),
        (FoulReason::BadLanding, "landing"),
        (FoulReason::Other, "other"),
    ];
}

impl Named for Device {
    const NAMES: &'static [(Self, &'static str)] = &[
        (Device::Wall, "wall"),
        (Device::Video, "video"),
        (Device::TimingMat, "mat"),
        (Device::ForcePlate, "plate"),
        (Device::LightBarrier, "light"),
    ];
}

impl Named for ReachMethod {
    const NAMES: &'static [(Self, &'static str)] =
        &[(ReachMethod::OneHandHeelsDown, "heels"), (ReachMethod::Other, "other")];
}

impl Named for Surface {
    const NAMES: &'static [(Self, &'static str)] = &[
        (Surface::Firm, "firm"),
        (Surface::Grass, "grass"),
        (Surface::Sand, "sand"),
        (Surface::Mat, "mat"),
        (Surface::Slope, "slope"),
    ];
}

impl Named for Hand {
    const NAMES: &'static [(Self, &'static str)] = &[(Hand::Right, "right"), (Hand::Left, "left")];
}

impl Named for TakeOff {
    const NAMES: &'static [(Self, &'static str)] =
        &[(TakeOff::OneFoot, "one"), (TakeOff::TwoFeet, "two")];
}

impl Named for Origin {
    const NAMES: &'static [(Self, &'static str)] =
        &[(Origin::Measured, "here"), (Origin::ByHand, "hand"), (Origin::Imported, "file")];
}

impl Named for MarkMethod {
    const NAMES: &'static [(Self, &'static str)] =
        &[(MarkMethod::FromFloor, "floor"), (MarkMethod::BetweenMarks, "between")];
}

impl Named for AgeGroup {
    const NAMES: &'static [(Self, &'static str)] = &[
        (AgeGroup::Under12, "0-11"),
        (AgeGroup::From12To14, "12-14"),
        (AgeGroup::From15To17, "15-17"),
        (AgeGroup::Adult, "18-"),
    ];
}

impl Named for Compare {
    const NAMES: &'static [(Self, &'static str)] = &[
        (Compare::With(Sex::Female), "female"),
        (Compare::With(Sex::Male), "male"),
        (Compare::Both, "both"),
        (Compare::None, "none"),
    ];
}

impl Named for Unit {
    const NAMES: &'static [(Self, &'static str)] = &[(Unit::Centimetre, "cm"), (Unit::Inch, "in")];
}

impl Named for Theme {
    const NAMES: &'static [(Self, &'static str)] =
        &[(Theme::Light, "light"), (Theme::Dark, "dark")];
}

impl Named for Variant {
    const NAMES: &'static [(Self, &'static str)] = &[
        (Variant::Standing, "standing"),
        (Variant::HandsOnHips, "hips"),
        (Variant::HeldSquat, "squat"),
    ];
}

#[cfg(test)]
mod tests {
    use super::*;

    fn check<T: Named + std::fmt::Debug>(count: usize) {
        assert_eq!(T::NAMES.len(), count);
        for (value, name) in T::NAMES {
            assert_eq!((value.name(), T::named(name)), (*name, Some(*value)));
        }
    }

    #[test]
    fn no_two_values_share_a_name() {
        check::<Division>(Division::ALL.len());
        check::<FoulReason>(FoulReason::ALL.len());
        check::<Device>(5);
        check::<ReachMethod>(2);
        check::<Surface>(5);
        check::<Hand>(2);
        check::<TakeOff>(2);
        check::<Origin>(3);
        check::<MarkMethod>(2);
        check::<AgeGroup>(4);
        check::<Compare>(4);
        check::<Unit>(2);
        check::<Theme>(2);
        check::<Variant>(3);
    }
}
