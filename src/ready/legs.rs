use super::{Loss, Verdict};
use crate::quantity::{Age, Moment};

/// What tired the legs.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum LegWorkKind {
    /// A hard leg session: squats, many jumps, sprints.
    HardSession,
    /// A full match or a tournament day.
    Match,
}

/// The part of a day that a person remembers.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum PartOfDay {
    /// Until noon.
    Morning,
    /// Noon to six.
    Afternoon,
    /// After six.
    Evening,
}

impl PartOfDay {
    /// Every part, in order.
    pub const ALL: [Self; 3] = [Self::Morning, Self::Afternoon, Self::Evening];

    /// The latest minute the work can have ended. Waiting is counted from there, so that a vague
    /// answer never shortens it. Design choice.
    const fn last_minute(self) -> u16 {
        match self {
            Self::Morning => 12 * 60,
            Self::Afternoon => 18 * 60,
            Self::Evening => 22 * 60,
        }
    }
}

/// When the legs last worked hard.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct LegWork {
    /// What it was.
    pub kind: LegWorkKind,
    /// When it ended at the latest.
    pub ended: Moment,
}

impl LegWork {
    /// From an answer: so many days ago, in that part of the day. It cannot end later than now.
    pub fn remembered(kind: LegWorkKind, days_ago: u8, part: PartOfDay, now: Moment) -> Self {
        let date = now.date() - chrono::TimeDelta::days(i64::from(days_ago));
        let ended = Moment::from_civil(date, part.last_minute(), now.offset_minutes);
        Self { kind, ended: if ended.utc_ms > now.utc_ms { now } else { ended } }
    }
}

/// Hours to wait after a hard session, from age 12 and where the age is unknown: the trade's 72 h,
/// which a pool of 22 studies agrees with (Williams 2025; docs/measurement.md §5).
const SESSION_HOURS: i64 = 72;
/// Under 12: boys of 9 and 10 were back at 24 h (Marginson 2005); 48 h leaves a margin. Design choice.
const SESSION_HOURS_UNDER_12: i64 = 48;
/// After a full match 72 h were not enough (Silva 2018, 77 studies). Design choice.
const MATCH_HOURS: i64 = 96;
/// Under 12 after a match. Design choice.
const MATCH_HOURS_UNDER_12: i64 = 72;
/// In the last hours of waiting a test may go ahead, noted as tired: docs/measurement.md §5 counts
/// scores from 60 h of 72. Design choice.
const NEARLY_HOURS: i64 = 12;

/// Losses after leg work in per mille of the jump height by hours since: adults, 12 to 17, under 12
/// (docs/measurement.md §5, "When is a result trustworthy?", design choice).
const LOSSES: [(i64, [(i64, i64); 3]); 4] = [
    (6, [(50, 100), (50, 100), (30, 80)]),
    (36, [(40, 80), (30, 60), (10, 30)]),
    (60, [(20, 40), (10, 30), (0, 10)]),
    (i64::MAX, [(0, 20), (0, 10), (0, 10)]),
];

/// The verdict after leg work. It never worsens as hours pass, and never improves with the kind of
/// work getting harder.
pub fn after_leg_work(work: Option<LegWork>, age: Age, now: Moment) -> Verdict {
    let Some(work) = work else {
        return Verdict::Go;
    };
    let wait_hours = match (work.kind, age.is_under_12()) {
        (LegWorkKind::HardSession, false) => SESSION_HOURS,
        (LegWorkKind::HardSession, true) => SESSION_HOURS_UNDER_12,
        (LegWorkKind::Match, false) => MATCH_HOURS,
        (LegWorkKind::Match, true) => MATCH_HOURS_UNDER_12,
    };
    let minutes = now.minutes_since(work.ended).max(0);
    let until = work.ended.plus_minutes(wait_hours * 60);
    let loss = loss_after(minutes / 60, age);
    if minutes >= wait_hours * 60 {
        Verdict::Go
    } else if minutes >= (wait_hours - NEARLY_HOURS) * 60 {
        Verdict::Flagged { loss, until }
    } else {
        Verdict::Wait { loss, until }
    }
}

fn loss_after(hours: i64, age: Age) -> Loss {
    let row = LOSSES.iter().find(|(before, _)| hours < *before);
    let Some((_, [adult, teen, child])) = row else {
        return Loss::NONE;
    };
    let (least, most) = match (age.is_adult(), age.is_under_12()) {
        (true, _) => adult,
        (false, true) => child,
        (false, false) => teen,
    };
    Loss { per_mille_min: *least, per_mille_max: *most }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::AgeGroup;
    use proptest::prelude::*;

    const NOW: Moment = Moment { utc_ms: 1_781_500_000_000, offset_minutes: 120 };

    fn verdict(kind: LegWorkKind, hours: i64, age: Age) -> Verdict {
        let ended = NOW.plus_minutes(-hours * 60);
        after_leg_work(Some(LegWork { kind, ended }), age, NOW)
    }

    #[test]
    fn seventy_two_hours_after_a_hard_session() {
        // Common practice, no source: hard leg days cost height for 72 h, whatever the legs feel like.
        let adult = Age::Group(AgeGroup::Adult);
        assert_eq!(verdict(LegWorkKind::HardSession, 72, adult), Verdict::Go);
        assert_eq!(verdict(LegWorkKind::HardSession, 71, adult).severity(), 1);
        assert_eq!(verdict(LegWorkKind::HardSession, 59, adult).severity(), 2);
        assert_eq!(verdict(LegWorkKind::HardSession, 72, Age::Unknown), Verdict::Go);
        assert_eq!(verdict(LegWorkKind::HardSession, 59, Age::Unknown).severity(), 2);
    }

    #[test]
    fn sooner_under_twelve_and_later_after_a_match() {
        let child = Age::Group(AgeGroup::Under12);
        assert_eq!(verdict(LegWorkKind::HardSession, 48, child), Verdict::Go);
        assert_eq!(verdict(LegWorkKind::Match, 71, child).severity(), 1);
        let adult = Age::Group(AgeGroup::Adult);
        assert_eq!(verdict(LegWorkKind::Match, 72, adult).severity(), 2);
        assert_eq!(verdict(LegWorkKind::Match, 96, adult), Verdict::Go);
    }

    #[test]
    fn the_wait_ends_where_it_says() {
        let work = LegWork::remembered(LegWorkKind::HardSession, 1, PartOfDay::Evening, NOW);
        let Verdict::Wait { until, .. } = after_leg_work(Some(work), Age::Unknown, NOW) else {
            panic!("a session yesterday evening is a wait");
        };
        assert_eq!(until.minute_of_day(), 22 * 60);
        assert_eq!(after_leg_work(Some(work), Age::Unknown, until), Verdict::Go);
    }

    #[test]
    fn work_cannot_end_in_the_future() {
        let work = LegWork::remembered(LegWorkKind::HardSession, 0, PartOfDay::Evening, NOW);
        assert!(work.ended.utc_ms <= NOW.utc_ms);
    }

    fn any_age() -> impl Strategy<Value = Age> {
        let groups = [
            Age::Unknown,
            Age::Group(AgeGroup::Under12),
            Age::Group(AgeGroup::From12To14),
            Age::Group(AgeGroup::From15To17),
            Age::Group(AgeGroup::Adult),
        ];
        prop::sample::select(groups.to_vec())
    }

    proptest! {
        #[test]
        fn more_time_never_makes_it_worse(a in 0i64..120, b in 0i64..120, age in any_age()) {
            let (soon, late) = (a.min(b), a.max(b));
            for kind in [LegWorkKind::HardSession, LegWorkKind::Match] {
                let (soon, late) = (verdict(kind, soon, age), verdict(kind, late, age));
                prop_assert!(late.severity() <= soon.severity());
            }
        }

        #[test]
        fn a_match_is_never_easier_than_a_session(hours in 0i64..120, age in any_age()) {
            let session = verdict(LegWorkKind::HardSession, hours, age);
            prop_assert!(verdict(LegWorkKind::Match, hours, age).severity() >= session.severity());
        }
    }
}
