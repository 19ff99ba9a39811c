//! What one session's usual height is worth, part by part.

use crate::statistics::best_of_n;

use super::geometry::rounding_sd_cm;
use super::prior::PRIOR_DEGREES_OF_FREEDOM;

/// SD of one standing reach around the person's own, cm. A design choice: with this spread the
/// largest and smallest of three reaches differ by more than 1.5 cm, the sign to reach again, about
/// one time in twenty.
pub const REACH_PLACEMENT_SD_CM: f64 = 0.45;
/// Widening for fewer than three reaches, cm: nothing shows whether the shoulder was slack. A design
/// choice of the size of a small slump of the wrist or shoulder.
pub const UNCHECKED_REACH_CM: f64 = 0.5;
/// Divisions of this width and wider count as coarse, cm; a design choice.
pub const COARSE_STEP_CM: f64 = 1.0;
/// Widening as a share of the height for a test outside the usual three hours of the day; a design
/// choice (published effects of the time of day run from nothing to several percent).
pub const OTHER_CLOCK_SHARE: f64 = 0.02;
/// Widening as a share of the height while legs still recover from hard work; a design choice.
pub const STILL_RECOVERING_SHARE: f64 = 0.02;

/// SD of the median of three normal values, in theirs: sqrt(1 - sqrt(3)/pi).
const MEDIAN_OF_THREE_SD: f64 = 0.669_829_161;
/// The lower of two normal values lies off their mean by one SD (root mean square), so a second
/// reach makes the reach no steadier; it only shows the spread.
const LOWER_OF_TWO_SD: f64 = 1.0;
/// Mean range of two and of three normal values in SDs: 2/sqrt(pi) and 3/sqrt(pi).
const MEAN_RANGE_OF_TWO: f64 = core::f64::consts::FRAC_2_SQRT_PI;
const MEAN_RANGE_OF_THREE: f64 = 1.692_568_751;
/// Half of what separates the best of six from the best of three, in trial SDs: the doubt about how
/// many jumps stand behind a top mark. A design choice.
const UNKNOWN_COUNT_SD: f64 = 0.21;

/// The standing reaches of a session.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ReachReadings {
    /// How many were taken; the middle one is the reach, of two the lower one.
    pub count: u32,
    /// Largest minus smallest, cm; 0 for a single one.
    pub spread_cm: f64,
}

/// How heights were read.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Reading {
    /// Reach mark and jump marks each read to a division.
    TwoHeights {
        /// The division, cm.
        step_cm: f64,
    },
    /// The distance between the two marks read to a division.
    OneDistance {
        /// The division, cm.
        step_cm: f64,
    },
    /// Each trial carries its own error, such as the frame interval of a video.
    PerTrial {
        /// SD of one trial's height, cm.
        sd_cm: f64,
    },
}

/// Which jump marks of a session were read.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum MarksKnown {
    /// Every counted trial; the usual height is their mean.
    Each,
    /// The top one alone; the usual height is worked back from the best.
    TopOnly,
}

/// What is known of a session.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SessionConditions {
    /// Height the shares refer to, cm: the session's usual height.
    pub height_cm: f64,
    /// Trials behind the usual height (at most the first three when each is known).
    pub trials: u32,
    /// Whether each mark or only the top one was read.
    pub marks: MarksKnown,
    /// Trial-to-trial SD, cm.
    pub trial_sd_cm: f64,
    /// Day-to-day SD beyond trials, cm.
    pub day_sd_cm: f64,
    /// The standing reaches; `None` where no reach enters (flight time, a typed height).
    pub reach: Option<ReachReadings>,
    /// How heights were read.
    pub reading: Reading,
    /// Outside the three hours of the day in which the person usually tests.
    pub other_clock: bool,
    /// Legs still recovering from hard work.
    pub still_recovering: bool,
}

/// One session's standard error, by part, each in cm. Parts add up as squares.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SessionError {
    /// Trials differ within a session.
    pub trials_cm: f64,
    /// Days differ.
    pub day_cm: f64,
    /// The standing reach is shared by all trials of the session.
    pub reach_cm: f64,
    /// Marks are read to a division.
    pub reading_cm: f64,
    /// Something was done roughly: a single reach, a coarse division, only the top mark known.
    pub rough_cm: f64,
    /// Another time of day than usual.
    pub clock_cm: f64,
    /// Legs still recovering.
    pub recovery_cm: f64,
}

impl SessionError {
    /// The parts in the order of the fields.
    #[must_use]
    pub fn parts_cm(&self) -> [f64; 7] {
        [
            self.trials_cm,
            self.day_cm,
            self.reach_cm,
            self.reading_cm,
            self.rough_cm,
            self.clock_cm,
            self.recovery_cm,
        ]
    }

    /// The same with so many times the typical spread between days, as a person's own tests teach it.
    #[must_use]
    pub fn with_day_factor(self, day_factor: f64) -> Self {
        Self { day_cm: day_factor * self.day_cm, ..self }
    }

    /// One standard error of the usual height as a measure of the person's long-run usual height.
    #[must_use]
    pub fn total_cm(&self) -> f64 {
        root_of_squares(&self.parts_cm())
    }
}

fn root_of_squares(parts: &[f64]) -> f64 {
    parts.iter().map(|part| part * part).sum::<f64>().sqrt()
}

/// Puts the standard error of a session's usual height together.
///
/// The typical day-to-day spreads come from mats and plates, which have no standing reach and no
/// tape, so reach and reading stand beside the day and are not part of it (our own reckoning). The
/// error of the reach does not shrink with more trials: every trial of the session shares it.
///
/// # Errors
/// `None` without a trial (or with more than 100 behind a top mark), with a reach count of zero, or
/// if a length is negative or not finite.
///
/// ```
/// use two_marks::reliability::*;
/// let error = session_error(&SessionConditions {
///     height_cm: 40.0,
///     trials: 3,
///     marks: MarksKnown::Each,
///     trial_sd_cm: 1.6,
///     day_sd_cm: 1.2,
///     reach: Some(ReachReadings { count: 3, spread_cm: 0.5 }),
///     reading: Reading::TwoHeights { step_cm: 0.5 },
///     other_clock: false,
///     still_recovering: false,
/// }).unwrap();
/// assert!(error.total_cm() > 1.514 && error.total_cm() < 1.6);
/// ```
#[must_use]
pub fn session_error(session: &SessionConditions) -> Option<SessionError> {
    let lengths = [session.height_cm, session.trial_sd_cm, session.day_sd_cm];
    if session.trials == 0 || !lengths.iter().all(|cm| *cm >= 0.0 && cm.is_finite()) {
        return None;
    }
    let trials_in_sd = match session.marks {
        MarksKnown::Each => 1.0 / f64::from(session.trials).sqrt(),
        MarksKnown::TopOnly => best_of_n(session.trials)?.spread_sd,
    };
    let share = |applies: bool, share: f64| if applies { share * session.height_cm } else { 0.0 };
    Some(SessionError {
        trials_cm: trials_in_sd * session.trial_sd_cm,
        day_cm: session.day_sd_cm,
        reach_cm: session.reach.map_or(Some(0.0), reach_error_cm)?,
        reading_cm: reading_error_cm(session)?,
        rough_cm: rough_error_cm(session)?,
        clock_cm: share(session.other_clock, OTHER_CLOCK_SHARE),
        recovery_cm: share(session.still_recovering, STILL_RECOVERING_SHARE),
    })
}

/// SD of the middle one of the reaches taken.
///
/// The spread of two or three reaches is a poor measure of their SD, so it is steadied by
/// [`REACH_PLACEMENT_SD_CM`] in the same way as a trial SD.
fn reach_error_cm(reach: ReachReadings) -> Option<f64> {
    if !(reach.spread_cm >= 0.0 && reach.spread_cm.is_finite()) {
        return None;
    }
    let (mean_range, own_degrees, of_middle) = match reach.count {
        0 => return None,
        1 => return Some(REACH_PLACEMENT_SD_CM),
        2 => (MEAN_RANGE_OF_TWO, 1.0, LOWER_OF_TWO_SD),
        // More than three is rare; taking them for three errs to the wide side.
        _ => (MEAN_RANGE_OF_THREE, 2.0, MEDIAN_OF_THREE_SD),
    };
    let own_sd = reach.spread_cm / mean_range;
    let squares = PRIOR_DEGREES_OF_FREEDOM * REACH_PLACEMENT_SD_CM * REACH_PLACEMENT_SD_CM
        + own_degrees * own_sd * own_sd;
    Some(of_middle * (squares / (PRIOR_DEGREES_OF_FREEDOM + own_degrees)).sqrt())
}

/// Readings of several trials average out only while trials scatter over more than one division;
/// otherwise they all round the same way.
fn reading_error_cm(session: &SessionConditions) -> Option<f64> {
    let trials = f64::from(session.trials);
    let averaged = |step_cm: f64| match session.marks {
        MarksKnown::Each if session.trial_sd_cm >= step_cm / 2.0 => trials.sqrt(),
        MarksKnown::Each | MarksKnown::TopOnly => 1.0,
    };
    match session.reading {
        Reading::TwoHeights { step_cm } => {
            let one_cm = rounding_sd_cm(step_cm)?.one_reading_cm;
            Some(root_of_squares(&[one_cm, one_cm / averaged(step_cm)]))
        }
        Reading::OneDistance { step_cm } => {
            Some(rounding_sd_cm(step_cm)?.one_reading_cm / averaged(step_cm))
        }
        Reading::PerTrial { sd_cm } => {
            (sd_cm >= 0.0 && sd_cm.is_finite()).then(|| sd_cm / averaged(0.0))
        }
    }
}

fn rough_error_cm(session: &SessionConditions) -> Option<f64> {
    let unchecked_reach = match session.reach {
        Some(ReachReadings { count: 1 | 2, .. }) => UNCHECKED_REACH_CM,
        _ => 0.0,
    };
    // A coarse division is misjudged by up to a whole one: as much again as the rounding itself.
    let coarse = match session.reading {
        Reading::TwoHeights { step_cm } if step_cm >= COARSE_STEP_CM => {
            rounding_sd_cm(step_cm)?.height_cm
        }
        Reading::OneDistance { step_cm } if step_cm >= COARSE_STEP_CM => {
            rounding_sd_cm(step_cm)?.one_reading_cm
        }
        _ => 0.0,
    };
    let unknown_count = match session.marks {
        MarksKnown::TopOnly => UNKNOWN_COUNT_SD * session.trial_sd_cm,
        MarksKnown::Each => 0.0,
    };
    Some(root_of_squares(&[unchecked_reach, coarse, unknown_count]))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::reliability::session_se_of_mean_cm;
    use crate::statistics::{normal_cdf, normal_density};

    fn plain() -> SessionConditions {
        SessionConditions {
            height_cm: 40.0,
            trials: 3,
            marks: MarksKnown::Each,
            trial_sd_cm: 1.6,
            day_sd_cm: 1.2,
            reach: Some(ReachReadings { count: 3, spread_cm: 0.5 }),
            reading: Reading::TwoHeights { step_cm: 0.5 },
            other_clock: false,
            still_recovering: false,
        }
    }

    fn total(session: SessionConditions) -> f64 {
        session_error(&session).unwrap().total_cm()
    }

    #[test]
    fn without_reach_and_reading_it_is_the_session_standard_error() {
        let bare =
            SessionConditions { reach: None, reading: Reading::PerTrial { sd_cm: 0.0 }, ..plain() };
        assert!((total(bare) - session_se_of_mean_cm(1.6, 1.2, 3).unwrap()).abs() < 1e-12);
    }

    #[test]
    fn constants_are_what_they_say() {
        // Density of the median of three: 6 Phi (1 - Phi) phi.
        let mut variance = 0.0;
        for step in -800..=800 {
            let x = f64::from(step) / 100.0;
            let below = normal_cdf(x);
            variance += x * x * 6.0 * below * (1.0 - below) * normal_density(x) / 100.0;
        }
        assert!((MEDIAN_OF_THREE_SD - variance.sqrt()).abs() < 1e-8, "{}", variance.sqrt());
        let best = |n| best_of_n(n).unwrap().bias_sd;
        let two = best_of_n(2).unwrap();
        assert!((LOWER_OF_TWO_SD - libm::hypot(two.bias_sd, two.spread_sd)).abs() < 1e-12);
        assert!((MEAN_RANGE_OF_TWO - 2.0 * best(2)).abs() < 1e-8);
        assert!((MEAN_RANGE_OF_THREE - 2.0 * best(3)).abs() < 1e-8);
        assert!((UNKNOWN_COUNT_SD - (best(6) - best(3)) / 2.0).abs() < 0.005);
    }

    #[test]
    fn each_part_is_told_apart() {
        let error = session_error(&SessionConditions {
            other_clock: true,
            still_recovering: true,
            ..plain()
        })
        .unwrap();
        let parts = error.parts_cm();
        assert!((parts[0] - 1.6 / 3.0_f64.sqrt()).abs() < 1e-12);
        assert!((parts[1] - 1.2).abs() < 1e-12);
        // 8 df at 0.45 cm and 2 df at 0.5/1.692568751 cm.
        assert!(
            (parts[2] - 0.669_829_161 * ((1.62 + 2.0 * 0.087_266_462_6) / 10.0_f64).sqrt()).abs()
                < 1e-9
        );
        // One reach reading and the mean of three jump readings.
        assert!((parts[3] - 0.5 * ((1.0 + 1.0 / 3.0) / 12.0_f64).sqrt()).abs() < 1e-12);
        assert!(parts[4].abs() < 1e-15);
        assert!((parts[5] - 0.8).abs() < 1e-12 && (parts[6] - 0.8).abs() < 1e-12);
        let squares: f64 = parts.iter().map(|part| part * part).sum();
        assert!((error.total_cm() - squares.sqrt()).abs() < 1e-12);
    }

    #[test]
    fn rough_work_widens() {
        let base = total(plain());
        let single = SessionConditions {
            reach: Some(ReachReadings { count: 1, spread_cm: 0.0 }),
            ..plain()
        };
        let coarse =
            SessionConditions { reading: Reading::TwoHeights { step_cm: 2.54 }, ..plain() };
        let top = SessionConditions { marks: MarksKnown::TopOnly, ..plain() };
        for rough in [single, coarse, top] {
            let error = session_error(&rough).unwrap();
            assert!(error.rough_cm > 0.0 && error.total_cm() > base, "{rough:?}");
        }
        let error = session_error(&single).unwrap();
        assert_eq!((error.rough_cm, error.reach_cm), (0.5, 0.45));
        let error = session_error(&coarse).unwrap();
        assert!((error.rough_cm - 2.54 / 6.0_f64.sqrt()).abs() < 1e-12);
        let error = session_error(&top).unwrap();
        assert!((error.rough_cm - 0.21 * 1.6).abs() < 1e-12);
        assert!((error.trials_cm - 0.747_975_1 * 1.6).abs() < 1e-6);
    }

    #[test]
    fn a_whole_centimetre_is_coarse_and_a_quarter_inch_is_not() {
        let rough = |reading| session_error(&SessionConditions { reading, ..plain() }).unwrap();
        assert!(rough(Reading::TwoHeights { step_cm: 0.635 }).rough_cm.abs() < 1e-15);
        let two = rough(Reading::TwoHeights { step_cm: 1.0 }).rough_cm;
        assert!((two - 1.0 / 6.0_f64.sqrt()).abs() < 1e-12);
        assert!(rough(Reading::OneDistance { step_cm: 0.635 }).rough_cm.abs() < 1e-15);
        let one = rough(Reading::OneDistance { step_cm: 1.0 }).rough_cm;
        assert!((one - 1.0 / 12.0_f64.sqrt()).abs() < 1e-12);
    }

    #[test]
    fn wider_divisions_and_wider_reaches_never_narrow_it() {
        let mut before = 0.0;
        for tenths_mm in 0..400_u32 {
            let step_cm = f64::from(tenths_mm) / 100.0;
            let now =
                total(SessionConditions { reading: Reading::TwoHeights { step_cm }, ..plain() });
            assert!(now >= before, "{step_cm}");
            before = now;
        }
        before = 0.0;
        for spread_mm in 0..60_u32 {
            let reach = Some(ReachReadings { count: 3, spread_cm: f64::from(spread_mm) / 10.0 });
            let now = total(SessionConditions { reach, ..plain() });
            assert!(now > before);
            before = now;
        }
    }

    #[test]
    fn one_distance_is_read_once_and_two_heights_twice() {
        let distance =
            SessionConditions { reading: Reading::OneDistance { step_cm: 0.5 }, ..plain() };
        let error = session_error(&distance).unwrap();
        assert!((error.reading_cm - 0.5 / 36.0_f64.sqrt()).abs() < 1e-12);
        // Trials closer together than half a division all round the same way.
        let apart = SessionConditions { trial_sd_cm: 0.26, ..distance };
        assert!((session_error(&apart).unwrap().reading_cm - 0.5 / 36.0_f64.sqrt()).abs() < 1e-12);
        let close = SessionConditions { trial_sd_cm: 0.24, ..distance };
        assert!((session_error(&close).unwrap().reading_cm - 0.5 / 12.0_f64.sqrt()).abs() < 1e-12);
        let exact = SessionConditions { reading: Reading::PerTrial { sd_cm: 0.003 }, ..plain() };
        assert!((session_error(&exact).unwrap().reading_cm - 0.003 / 3.0_f64.sqrt()).abs() < 1e-15);
        let frames = SessionConditions { reading: Reading::PerTrial { sd_cm: 0.9 }, ..plain() };
        assert!((session_error(&frames).unwrap().reading_cm - 0.9 / 3.0_f64.sqrt()).abs() < 1e-12);
    }

    #[test]
    fn more_reaches_steady_the_reach() {
        let of = |count| reach_error_cm(ReachReadings { count, spread_cm: 0.0 }).unwrap();
        // Spreads of zero pull the placement SD down with 8 of 9 and 8 of 10 degrees of freedom.
        assert!((of(1) - 0.45).abs() < 1e-12);
        assert!((of(2) - 0.45 * (8.0 / 9.0_f64).sqrt()).abs() < 1e-12);
        assert!((of(3) - 0.669_829_161 * 0.45 * 0.8_f64.sqrt()).abs() < 1e-12);
        assert!((of(3) - of(5)).abs() < 1e-15);
    }

    #[test]
    fn nothing_sensible_in_nothing_out() {
        let none = |session: SessionConditions| assert_eq!(session_error(&session), None);
        none(SessionConditions { trials: 0, ..plain() });
        none(SessionConditions { trials: 101, marks: MarksKnown::TopOnly, ..plain() });
        none(SessionConditions { height_cm: f64::NAN, ..plain() });
        none(SessionConditions { trial_sd_cm: -1.0, ..plain() });
        none(SessionConditions { day_sd_cm: f64::INFINITY, ..plain() });
        none(SessionConditions { reading: Reading::TwoHeights { step_cm: -0.1 }, ..plain() });
        for sd_cm in [f64::NAN, f64::INFINITY, -0.1] {
            none(SessionConditions { reading: Reading::PerTrial { sd_cm }, ..plain() });
        }
        let reach = |count, spread_cm| Some(ReachReadings { count, spread_cm });
        none(SessionConditions { reach: reach(0, 0.0), ..plain() });
        none(SessionConditions { reach: reach(3, -1.0), ..plain() });
        none(SessionConditions { reach: reach(1, f64::NAN), ..plain() });
    }
}
