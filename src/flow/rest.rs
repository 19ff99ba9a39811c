use crate::measure::{FoulReason, Trial};
use crate::quantity::Moment;

/// Rest offered between hard jumps, seconds. 15 s were enough in a study of twelve men (Read and
/// Cisar 2001); twice that is offered. Design choice (docs/measurement.md §1.1).
pub const REST_SECONDS: u32 = 30;
/// After a bad landing. Design choice (docs/measurement.md §1.1).
const REST_AFTER_BAD_LANDING_SECONDS: u32 = 60;

/// Seconds of the rest of `rest_seconds` that are left after the newest trial. It is worked out from the clock, so it
/// survives a page that slept; a clock that was set back ends the rest rather than stretching it.
pub fn rest_left_seconds(
    rest_seconds: u32,
    newest: Option<Trial>,
    jumped_at: Option<Moment>,
    now: Moment,
) -> u32 {
    let (Some(newest), Some(jumped_at)) = (newest, jumped_at) else {
        return 0;
    };
    let rest = match newest {
        Trial::Foul(FoulReason::BadLanding) => REST_AFTER_BAD_LANDING_SECONDS.max(rest_seconds),
        _ => rest_seconds,
    };
    let passed_ms = now.utc_ms.saturating_sub(jumped_at.utc_ms);
    match u32::try_from(passed_ms / 1_000) {
        Ok(passed) if passed_ms >= 0 => rest.saturating_sub(passed),
        _ => 0,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const JUMPED: Moment = Moment { utc_ms: 1_781_500_000_000, offset_minutes: 120 };

    fn left(newest: Trial, passed_ms: i64) -> u32 {
        let now = Moment { utc_ms: JUMPED.utc_ms + passed_ms, ..JUMPED };
        rest_left_seconds(REST_SECONDS, Some(newest), Some(JUMPED), now)
    }

    #[test]
    fn rest_counts_down_from_the_clock() {
        let foul = Trial::Foul(FoulReason::Step);
        assert_eq!(left(foul, 0), 30);
        assert_eq!(left(foul, 29_001), 1);
        assert_eq!(left(foul, 30_000), 0);
        assert_eq!(left(foul, 3_600_000), 0);
        assert_eq!(left(Trial::Foul(FoulReason::BadLanding), 0), 60);
    }

    #[test]
    fn a_clock_set_back_ends_the_rest() {
        assert_eq!(left(Trial::Foul(FoulReason::Step), -5_000), 0);
    }

    #[test]
    fn before_the_first_jump_there_is_no_rest() {
        assert_eq!(rest_left_seconds(REST_SECONDS, None, None, JUMPED), 0);
    }
}
