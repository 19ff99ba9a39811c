//! What the arms and the dip add, from a person's own tests of each jump with one clock.

use crate::history::Test;
use crate::measure::{Device, TrendKey, Variant};
use crate::quantity::{JumpHeight, Length};

/// How much higher one jump is than another: the newest usual jumps of both.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Gain {
    /// The difference; it may be below zero.
    pub difference: JumpHeight,
    /// The same in percent of the lower-tech jump, halves away from zero.
    pub percent: i64,
}

/// The gains that the tests of one clock tell.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Gains {
    /// Arms free over hands on hips.
    pub arms: Option<Gain>,
    /// Hands on hips over a held squat: what the dip adds.
    pub dip: Option<Gain>,
}

/// What arms and dip add by the newest tests with a device on a firm floor. Only tests of the same
/// device are set against each other.
///
/// What is published beside it, with free arms over hands on hips: 12.5 to 15 % at 3 to 6 years (Petric
/// 2025), 18.7 % women and 22.6 % girls (Floria and Harrison 2013), 27 % (Feltner 1999), 38 % (Vaverka
/// 2016). Of the dip only its sign is: a large gap is no merit (Van Hooren and Zolotarjova 2017).
pub fn gains(device: Device, tests: &[Test]) -> Gains {
    let usual = |variant| {
        let key = TrendKey { variant, device, ..TrendKey::USUAL };
        let same = tests.iter().filter(|test| test.session.key == key && !test.tired.is_noted());
        let newest = same.max_by_key(|test| (test.date, test.minute_of_day, test.id))?;
        newest.session.usual().map(|usual| usual.height)
    };
    let hips = usual(Variant::HandsOnHips);
    Gains { arms: gain(usual(Variant::Standing), hips), dip: gain(hips, usual(Variant::HeldSquat)) }
}

fn gain(with: Option<JumpHeight>, without: Option<JumpHeight>) -> Option<Gain> {
    let (with, without) = (with?.0, without?.0);
    let difference = with - without;
    // In thousandths of the height, so that a whole percent rounds once.
    let base = without.as_micrometres();
    (base > 0).then(|| {
        let percent = Length::from_micrometres(difference.as_micrometres().saturating_mul(100));
        Gain {
            difference: JumpHeight(difference),
            percent: percent.steps_of(Length::from_micrometres(base)),
        }
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::history::{Id, LocalId};
    use crate::measure::{FlightTime, Hand, Reach, Session, Trial};
    use crate::quantity::{Division, Moment};

    fn test(variant: Variant, device: Device, day: i64, micros: u32) -> Test {
        let key = TrendKey { variant, device, ..TrendKey::USUAL };
        let mut session = Session::new(key, Hand::Right, Division::CmTenth);
        session.reach = Reach::MarkOnly;
        session.trials = vec![Trial::FlightTime(FlightTime::timed(micros)); 3];
        let at = Moment { utc_ms: 1_781_500_000_000 + day * 86_400_000, offset_minutes: 0 };
        let id = Id::from_bytes([u8::try_from(day).unwrap(); 16]);
        Test::new(id, LocalId::parse("abcd").unwrap(), at, session)
    }

    #[test]
    fn newest_tests_of_one_clock_are_set_against_each_other() {
        // 0.5 s is 30.65 cm, 0.55 s is 37.08 cm, 0.47 s is 27.08 cm.
        let tests = [
            test(Variant::Standing, Device::Video, 1, 600_000),
            test(Variant::Standing, Device::Video, 5, 550_000),
            test(Variant::HandsOnHips, Device::Video, 2, 500_000),
            test(Variant::HeldSquat, Device::Video, 3, 470_000),
            test(Variant::HandsOnHips, Device::TimingMat, 9, 400_000),
        ];
        let found = gains(Device::Video, &tests);
        let arms = found.arms.unwrap();
        assert_eq!((arms.percent, arms.difference.0.as_micrometres() / 1_000), (21, 64));
        let dip = found.dip.unwrap();
        assert_eq!((dip.percent, dip.difference.0.as_micrometres() / 1_000), (13, 35));
        assert_eq!(gains(Device::TimingMat, &tests), Gains::default());
    }

    #[test]
    fn nothing_is_set_against_nothing() {
        assert_eq!(gains(Device::Video, &[]), Gains::default());
    }
}
