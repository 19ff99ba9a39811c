//! Simulated people: what is true of them, and what a tape reads.

use super::draw::Draw;

/// Kind of person, with the spreads that are true of them, in percent of the height. The numbers are
/// written here anew on purpose: this is the truth, not the product's belief.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Kind {
    pub(super) age_years: u8,
    pub(super) usual_cm: f64,
    pub(super) usual_sd_cm: f64,
    /// Trial and day spread before three sessions are done.
    pub(super) learning_percent: (f64, f64),
    /// Trial and day spread afterwards.
    pub(super) practised_percent: (f64, f64),
}

pub(super) const CHILD: Kind = Kind {
    age_years: 8,
    usual_cm: 20.0,
    usual_sd_cm: 4.0,
    learning_percent: (8.0, 10.0),
    practised_percent: (8.0, 10.0),
};
pub(super) const GIRL_OF_10: Kind = Kind {
    age_years: 10,
    usual_cm: 26.0,
    usual_sd_cm: 4.5,
    learning_percent: (5.5, 5.0),
    practised_percent: (5.5, 5.0),
};
pub(super) const BOY_OF_13: Kind = Kind {
    age_years: 13,
    usual_cm: 34.0,
    usual_sd_cm: 5.5,
    learning_percent: (4.5, 4.0),
    practised_percent: (4.5, 4.0),
};
pub(super) const GIRL_OF_16: Kind = Kind {
    age_years: 16,
    usual_cm: 36.0,
    usual_sd_cm: 5.5,
    learning_percent: (4.0, 3.0),
    practised_percent: (2.6, 2.0),
};
pub(super) const ADULT: Kind = Kind {
    age_years: 25,
    usual_cm: 44.0,
    usual_sd_cm: 7.0,
    learning_percent: (4.0, 3.5),
    practised_percent: (2.6, 2.0),
};

pub(super) const BOY_OF_11: Kind = Kind { age_years: 11, usual_cm: 28.0, ..GIRL_OF_10 };
pub(super) const BOY_OF_12: Kind = Kind { age_years: 12, usual_cm: 31.0, ..BOY_OF_13 };
pub(super) const BOY_OF_16: Kind =
    Kind { age_years: 16, usual_cm: 43.0, usual_sd_cm: 6.5, ..GIRL_OF_16 };
pub(super) const GIRL_OF_11: Kind = Kind { age_years: 11, usual_cm: 28.0, ..GIRL_OF_10 };
pub(super) const GIRL_OF_12: Kind = Kind { age_years: 12, usual_cm: 30.0, ..BOY_OF_13 };
pub(super) const GIRL_OF_13: Kind = Kind { age_years: 13, usual_cm: 32.0, ..BOY_OF_13 };
pub(super) const GIRL_OF_14: Kind = Kind { age_years: 14, usual_cm: 33.0, ..BOY_OF_13 };

/// One simulated person.
pub(super) struct Person {
    kind: Kind,
    pub(super) usual_cm: f64,
    /// This person's trial spread over that of the kind.
    trial_factor: f64,
    /// All spreads over those that are true of the kind.
    factor: f64,
}

/// What was read in one session, cm.
pub(super) struct Readings {
    pub(super) reaches_cm: [f64; 3],
    pub(super) marks_cm: Vec<f64>,
    /// Division that was read to, cm.
    pub(super) step_cm: f64,
}

/// How a session is done: how far the day is from the usual, how many jumps count, which division.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Manner {
    /// The day's luck, in SDs of this person's days.
    pub(super) day: f64,
    pub(super) jumps: usize,
    pub(super) step_cm: f64,
}

/// Division of the tape, cm, and SD of a standing reach about the person's own, cm.
pub(super) const STEP_CM: f64 = 0.5;
const REACH_SD_CM: f64 = 0.45;
/// Floors of the true spreads with chalk and tape, cm.
const FLOOR_CM: f64 = 0.8;
/// How much larger the trial spread of a first session is.
const FIRST_FACTOR: f64 = 1.5;

impl Person {
    /// Draws a person. Trial spreads differ between people as a scaled inverse chi-square with eight
    /// degrees of freedom.
    pub(super) fn draw(kind: Kind, factor: f64, draw: &mut Draw) -> Self {
        let usual_cm = (kind.usual_cm + kind.usual_sd_cm * draw.normal()).max(8.0);
        let trial_factor = (8.0 / draw.chi_square(8)).sqrt();
        Self { kind, usual_cm, trial_factor, factor }
    }

    /// Jumps a session, `earlier` sessions after the first, with a true usual height of
    /// `height_cm` on that day.
    pub(super) fn session(&self, earlier: usize, height_cm: f64, draw: &mut Draw) -> Readings {
        let manner = Manner { day: draw.normal(), jumps: 3, step_cm: STEP_CM };
        self.session_so(earlier, height_cm, manner, draw)
    }

    /// The same, done in a certain manner.
    pub(super) fn session_so(
        &self,
        earlier: usize,
        height_cm: f64,
        manner: Manner,
        draw: &mut Draw,
    ) -> Readings {
        let (trial_percent, day_percent) =
            if earlier < 3 { self.kind.learning_percent } else { self.kind.practised_percent };
        let first = if earlier == 0 { FIRST_FACTOR } else { 1.0 };
        let sd = |percent: f64| (percent / 100.0 * self.usual_cm).max(FLOOR_CM) * self.factor;
        let trial_sd = sd(trial_percent) * first * self.trial_factor;
        let today_cm = height_cm + sd(day_percent) * manner.day;
        let read = |true_cm: f64| (true_cm / manner.step_cm).round() * manner.step_cm;
        // A reach between two divisions, anywhere.
        let reach_cm = 190.0 + 30.0 * draw.even();
        let reaches_cm =
            [(); 3].map(|()| read(reach_cm + self.factor * REACH_SD_CM * draw.normal()));
        let mut jump = || read(reach_cm + today_cm + trial_sd * draw.normal());
        let marks_cm = (0..manner.jumps).map(|_| jump()).collect();
        Readings { reaches_cm, marks_cm, step_cm: manner.step_cm }
    }
}
