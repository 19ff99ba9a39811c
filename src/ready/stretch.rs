use super::{Loss, Verdict};
use crate::quantity::Moment;

/// Stretches held still since the warm-up.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct HeldStretch {
    /// Some muscle was held for a minute or longer.
    pub long: bool,
    /// When the last one ended.
    pub ended: Moment,
    /// Whether five minutes of active movement came after it.
    pub moved_since: bool,
}

/// Rest that undoes a short hold, minutes (docs/measurement.md §5: "for 10 min"). Design choice.
const SHORT_MINUTES: i64 = 10;
/// The same for holds of a minute and more. Design choice: twice as long.
const LONG_MINUTES: i64 = 20;
/// Under a minute a muscle: -1.1 % on average (Behm 2016), drawn as 0 to 2 %. Design choice.
const SHORT_LOSS: Loss = Loss { per_mille_min: 0, per_mille_max: 20 };
/// A minute and more: -4.6 % on average (Behm 2016), drawn as 2 to 5 %. Design choice.
const LONG_LOSS: Loss = Loss { per_mille_min: 20, per_mille_max: 50 };

/// The verdict at the first trial. Movement undoes a stretch, and so does time.
pub fn after_stretch(stretch: Option<HeldStretch>, now: Moment) -> Verdict {
    let Some(stretch) = stretch.filter(|stretch| !stretch.moved_since) else {
        return Verdict::Go;
    };
    let (minutes, loss) =
        if stretch.long { (LONG_MINUTES, LONG_LOSS) } else { (SHORT_MINUTES, SHORT_LOSS) };
    let until = stretch.ended.plus_minutes(minutes);
    if now.utc_ms >= until.utc_ms { Verdict::Go } else { Verdict::Flagged { loss, until } }
}

#[cfg(test)]
mod tests {
    use super::*;

    const NOW: Moment = Moment { utc_ms: 1_781_500_000_000, offset_minutes: 120 };

    fn verdict(long: bool, minutes_ago: i64, moved_since: bool) -> u8 {
        let ended = NOW.plus_minutes(-minutes_ago);
        after_stretch(Some(HeldStretch { long, ended, moved_since }), NOW).severity()
    }

    #[test]
    fn static_stretching_just_before_lowers_the_jump() {
        // Common practice, no source; Behm 2016 and Simic 2013 agree in sign.
        assert_eq!(verdict(false, 0, false), 1);
        assert_eq!(verdict(true, 15, false), 1);
    }

    #[test]
    fn time_and_movement_undo_it() {
        assert_eq!(verdict(false, 10, false), 0);
        assert_eq!(verdict(true, 20, false), 0);
        assert_eq!(verdict(true, 0, true), 0);
        assert_eq!(after_stretch(None, NOW), Verdict::Go);
    }

    #[test]
    fn the_loss_follows_the_published_sign_and_size() {
        // Behm 2016: -1.1 % under a minute, -4.6 % from a minute on.
        assert!((SHORT_LOSS.per_mille_min..=SHORT_LOSS.per_mille_max).contains(&11));
        assert!((LONG_LOSS.per_mille_min..=LONG_LOSS.per_mille_max).contains(&46));
    }
}
