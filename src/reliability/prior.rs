//! Typical spreads to start from while a person's own tests are few.

use super::shrinkage::{PooledSd, shrink_sd};

/// Least trial-to-trial SD of a test with chalk and tape, cm; a design choice.
pub const TRIAL_SD_FLOOR_CM: f64 = 0.8;
/// Least day-to-day SD of a test with chalk and tape, cm; a design choice.
pub const DAY_SD_FLOOR_CM: f64 = 0.8;
/// A first session scatters more: the trial SD is taken this many times as large. A design choice
/// near Claudino 2013 (Rev Bras Med Esporte 19:359), where practice brought the trial CV of the
/// countermovement jump from 4.50 to 2.58 %.
pub const FIRST_SESSION_FACTOR: f64 = 1.5;
/// How many degrees of freedom of own data the typical trial SD is worth; a design choice.
pub const PRIOR_DEGREES_OF_FREEDOM: f64 = 8.0;

/// Age group of the typical spreads.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum AgeBand {
    /// Age not known. Takes the row of 9 to 11, the widest one for people old enough to test
    /// themselves; a design choice.
    Unknown,
    /// 8 completed years or fewer.
    UpTo8,
    /// 9 to 11 completed years.
    From9To11,
    /// 12 to 14 completed years.
    From12To14,
    /// 15 to 18 completed years.
    From15To18,
    /// 19 completed years or more.
    From19,
}

impl AgeBand {
    /// The group of a person of this many completed years.
    #[must_use]
    pub fn of_completed_years(age_years: Option<u8>) -> Self {
        match age_years {
            None => Self::Unknown,
            Some(0..=8) => Self::UpTo8,
            Some(9..=11) => Self::From9To11,
            Some(12..=14) => Self::From12To14,
            Some(15..=18) => Self::From15To18,
            Some(_) => Self::From19,
        }
    }
}

/// How much of the same test a person has done before.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Experience {
    /// This is the first session.
    First,
    /// One or two sessions before this one.
    Learning,
    /// Three or more sessions before this one.
    Practised,
}

impl Experience {
    /// By the number of sessions of the same test done before this one.
    #[must_use]
    pub fn of_earlier_sessions(sessions: usize) -> Self {
        match sessions {
            0 => Self::First,
            1 | 2 => Self::Learning,
            _ => Self::Practised,
        }
    }
}

/// Typical spreads in percent of the jump height.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SpreadPercent {
    /// From trial to trial within a session.
    pub trial_percent: f64,
    /// From day to day beyond the trials' own spread.
    pub day_percent: f64,
}

/// Typical spreads of one person's test, cm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TypicalSpread {
    /// From trial to trial within a session.
    pub trial_sd_cm: f64,
    /// From day to day beyond the trials' own spread.
    pub day_sd_cm: f64,
}

impl TypicalSpread {
    /// The same with the person's own trials taken in, [`PRIOR_DEGREES_OF_FREEDOM`] strong.
    ///
    /// The trial SD becomes the root of the mean variance given both, which keeps an interval of
    /// one standard error honest while own trials are few, and stays above the floor. The day SD is
    /// left as it is.
    ///
    /// # Errors
    /// `None` if a spread is negative or not finite.
    #[must_use]
    pub fn with_own_trials(self, own: Option<PooledSd>) -> Option<Self> {
        let both = shrink_sd(self.trial_sd_cm, PRIOR_DEGREES_OF_FREEDOM, own)?;
        Some(Self { trial_sd_cm: both.plug_in_sd()?.max(TRIAL_SD_FLOOR_CM), ..self })
    }
}

/// The table of typical spreads: a design choice made from published ones, not itself published.
///
/// Behind it: Acero 2011 (age 6-8, mat: method error 15 % of the countermovement jump), Richter
/// (1835 children and adolescents: variability falls with age), Markovic 2004 (students: 2.4 to
/// 4.6 % within a session), Moir 2004 (active men, best of three over five sessions: 1.9 to 2.6 %)
/// and a force-plate study of 2020 (41 active men: 5.8 %). The same kind of person gives 1.9 or
/// 5.8 % by protocol and practice alone, so these are starting values. Practice narrows the spread
/// from 15 years up only: around the growth spurt it has been reported at its worst.
#[must_use]
pub fn spread_percent(age: AgeBand, experience: Experience) -> SpreadPercent {
    let (trial_percent, day_percent) = match (age, experience) {
        (AgeBand::UpTo8, _) => (8.0, 10.0),
        (AgeBand::Unknown | AgeBand::From9To11, _) => (5.5, 5.0),
        (AgeBand::From12To14, _) => (4.5, 4.0),
        (AgeBand::From15To18 | AgeBand::From19, Experience::Practised) => (2.6, 2.0),
        (AgeBand::From15To18, _) => (4.0, 3.0),
        (AgeBand::From19, _) => (4.0, 3.5),
    };
    SpreadPercent { trial_percent, day_percent }
}

/// The typical spreads in cm for a jump of `height_cm`, with the floors and the first session's
/// factor (on the trial SD, after the floor).
///
/// # Errors
/// `None` unless the height is finite and not negative.
///
/// ```
/// use two_marks::reliability::{AgeBand, Experience, typical_spread};
/// let spread = typical_spread(AgeBand::From12To14, Experience::Learning, 40.0).unwrap();
/// assert!((spread.trial_sd_cm - 1.8).abs() < 1e-12);
/// assert!((spread.day_sd_cm - 1.6).abs() < 1e-12);
/// ```
#[must_use]
pub fn typical_spread(
    age: AgeBand,
    experience: Experience,
    height_cm: f64,
) -> Option<TypicalSpread> {
    if !(height_cm >= 0.0 && height_cm.is_finite()) {
        return None;
    }
    let percent = spread_percent(age, experience);
    let factor = if experience == Experience::First { FIRST_SESSION_FACTOR } else { 1.0 };
    Some(TypicalSpread {
        trial_sd_cm: (percent.trial_percent / 100.0 * height_cm).max(TRIAL_SD_FLOOR_CM) * factor,
        day_sd_cm: (percent.day_percent / 100.0 * height_cm).max(DAY_SD_FLOOR_CM),
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn ages_fall_into_their_rows() {
        let cases = [
            (None, AgeBand::Unknown),
            (Some(5), AgeBand::UpTo8),
            (Some(8), AgeBand::UpTo8),
            (Some(9), AgeBand::From9To11),
            (Some(11), AgeBand::From9To11),
            (Some(12), AgeBand::From12To14),
            (Some(14), AgeBand::From12To14),
            (Some(15), AgeBand::From15To18),
            (Some(18), AgeBand::From15To18),
            (Some(19), AgeBand::From19),
            (Some(80), AgeBand::From19),
        ];
        for (age, band) in cases {
            assert_eq!(AgeBand::of_completed_years(age), band, "{age:?}");
        }
    }

    #[test]
    fn sessions_make_experience() {
        let of = Experience::of_earlier_sessions;
        assert_eq!(
            [of(0), of(1), of(2), of(3)].map(|e| e == Experience::Practised),
            [false, false, false, true]
        );
        assert_eq!(of(0), Experience::First);
    }

    /// The printed columns "SE of a 3-trial mean %" and "MDC95 %" of the table of starting values.
    #[test]
    fn the_table_gives_its_own_standard_errors() {
        use {AgeBand as A, Experience as E};
        let rows = [
            (A::UpTo8, E::Learning, 11.0, 30.5),
            (A::From9To11, E::Learning, 5.9, 16.4),
            (A::From12To14, E::Practised, 4.8, 13.2),
            (A::From15To18, E::Learning, 3.8, 10.5),
            (A::From19, E::Learning, 4.2, 11.6),
            (A::From19, E::Practised, 2.5, 6.9),
            (A::From15To18, E::Practised, 2.5, 6.9),
            (A::Unknown, E::Practised, 5.9, 16.4),
        ];
        for (age, experience, se_percent, mdc_percent) in rows {
            let row = spread_percent(age, experience);
            let se = (row.day_percent * row.day_percent
                + row.trial_percent * row.trial_percent / 3.0)
                .sqrt();
            assert!((se - se_percent).abs() <= 0.05, "{age:?}: {se}");
            assert!((se * 1.96 * 2.0_f64.sqrt() - mdc_percent).abs() <= 0.1, "{age:?}");
        }
    }

    #[test]
    fn own_trials_pull_the_trial_spread_and_leave_the_day() {
        let typical = TypicalSpread { trial_sd_cm: 1.6, day_sd_cm: 1.2 };
        let alone = typical.with_own_trials(None).unwrap();
        assert!((alone.trial_sd_cm - 1.6 * (8.0 / 6.0_f64).sqrt()).abs() < 1e-12);
        let own = PooledSd { sd: 0.972_846_016_1, degrees_of_freedom: 7 };
        let both = typical.with_own_trials(Some(own)).unwrap();
        assert!((both.trial_sd_cm - 1.443_953).abs() < 1e-6);
        assert!((both.day_sd_cm - 1.2).abs() < 1e-15);
        let steady = PooledSd { sd: 0.1, degrees_of_freedom: 900 };
        let floor = typical.with_own_trials(Some(steady)).unwrap().trial_sd_cm;
        assert!((floor - TRIAL_SD_FLOOR_CM).abs() < 1e-15);
        let bad = TypicalSpread { trial_sd_cm: f64::NAN, ..typical };
        assert_eq!(bad.with_own_trials(None), None);
    }

    #[test]
    fn floors_hold_for_low_jumps_and_the_first_session_scatters_more() {
        let low = typical_spread(AgeBand::From19, Experience::Practised, 10.0).unwrap();
        assert_eq!(low, TypicalSpread { trial_sd_cm: 0.8, day_sd_cm: 0.8 });
        let first = typical_spread(AgeBand::From19, Experience::First, 50.0).unwrap();
        let second = typical_spread(AgeBand::From19, Experience::Learning, 50.0).unwrap();
        assert!((first.trial_sd_cm - 3.0).abs() < 1e-12);
        assert!((second.trial_sd_cm - 2.0).abs() < 1e-12);
        assert!((first.day_sd_cm - 1.75).abs() < 1e-12);
        let lowest_first = typical_spread(AgeBand::From19, Experience::First, 0.0).unwrap();
        assert!((lowest_first.trial_sd_cm - 1.2).abs() < 1e-12);
        assert_eq!(typical_spread(AgeBand::From19, Experience::First, -1.0), None);
        assert_eq!(typical_spread(AgeBand::From19, Experience::First, f64::NAN), None);
    }
}
