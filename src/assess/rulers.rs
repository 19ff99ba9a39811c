//! The same person's newest tests at the wall and in the air, side by side.

use crate::history::Test;
use crate::measure::{Surface, Variant};
use crate::quantity::Length;

/// Two tests of the same jump by the two rulers.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct BothRulers<'a> {
    /// The newest test at the wall.
    pub wall: &'a Test,
    /// Its usual jump.
    pub wall_usual: Length,
    /// The newest test timed in the air.
    pub clock: &'a Test,
    /// Its usual jump.
    pub clock_usual: Length,
}

/// The newest standing jump by each ruler, where there is one of both. Never an average of them, and
/// never one in the other's trend.
pub fn both_rulers(tests: &[Test]) -> Option<BothRulers<'_>> {
    let newest = |is_clock: bool| {
        let same = tests.iter().filter(move |test| {
            let key = test.session.key;
            let plain = key.surface == Surface::Firm && !key.own_way;
            key.variant == Variant::Standing && plain && key.device.is_clock() == is_clock
        });
        let known = same.filter_map(|test| Some((test, test.session.usual()?.height.0)));
        known.max_by_key(|(test, _)| (test.date, test.minute_of_day, test.id))
    };
    let (wall, wall_usual) = newest(false)?;
    let (clock, clock_usual) = newest(true)?;
    Some(BothRulers { wall, wall_usual, clock, clock_usual })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::history::{Id, LocalId};
    use crate::measure::{Device, FlightTime, Hand, Reach, Session, TrendKey, Trial};
    use crate::quantity::{Division, Moment, Reading};

    fn test(device: Device, variant: Variant, day: u8, trial: Trial) -> Test {
        let key = TrendKey { variant, device, ..TrendKey::USUAL };
        let mut session = Session::new(key, Hand::Right, Division::CmTenth);
        session.reach = Reach::MarkOnly;
        session.trials = vec![trial; 3];
        let utc_ms = 1_781_500_000_000 + i64::from(day) * 86_400_000;
        let at = Moment { utc_ms, offset_minutes: 0 };
        Test::new(Id::from_bytes([day; 16]), LocalId::parse("abcd").unwrap(), at, session)
    }

    #[test]
    fn the_newest_of_each_ruler_stand_side_by_side() {
        let mark = Trial::MarkDistance(Reading { count: 410, division: Division::CmTenth });
        let air = |micros| Trial::FlightTime(FlightTime::timed(micros));
        let tests = [
            test(Device::Wall, Variant::Standing, 1, mark),
            test(Device::Video, Variant::Standing, 2, air(480_000)),
            test(Device::Video, Variant::Standing, 3, air(500_000)),
            test(Device::Video, Variant::HandsOnHips, 4, air(400_000)),
        ];
        let both = both_rulers(&tests).unwrap();
        assert_eq!(both.wall_usual, Length::from_mm(410));
        assert_eq!((both.clock.id, both.clock_usual.as_micrometres() / 1_000), (tests[2].id, 306));
        assert_eq!(both_rulers(&tests[1..]), None);
    }
}
