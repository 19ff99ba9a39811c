//! What is true of a season: what the level does, what is learnt, how somebody grows, how days differ.

use two_marks::quantity::Sex;

use super::draw::Draw;

/// What the jump does, on top of growing up. Day 0 is the first day of training.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Course {
    Unchanged,
    /// Evenly so many cm more over so many days.
    Rise {
        cm: f64,
        days: f64,
    },
    /// As the one before, with a gain drawn from a normal of this mean and SD.
    DrawnRise {
        mean_cm: f64,
        sd_cm: f64,
        days: f64,
    },
    /// All at once on a day.
    Sudden {
        cm: f64,
        day: f64,
    },
    /// 4 to 5 cm, times this sign, lost at once in the third week, evenly won back by week 12 to 15.
    LostAndWonBack {
        sign: f64,
    },
    /// The same, lost bit by bit from day 0 on.
    SlidAndWonBack,
}

/// What is lacking in the first tests, cm; nothing after them.
pub(super) const TYPICAL_LEARNING_CM: &[f64] = &[1.5, 0.7];
pub(super) const NO_LEARNING_CM: &[f64] = &[];
pub(super) const SLOW_LEARNING_CM: &[f64] = &[3.0, 2.0, 1.3, 0.9, 0.6, 0.4, 0.25, 0.15, 0.1];

/// How somebody grows.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Growth {
    None,
    /// As the published wall series, each child faster or slower by a normal of this SD, cm a year.
    WallSeries {
        sex: Sex,
        sd: f64,
    },
    /// Evenly drawn between two, cm a year.
    Between {
        sex: Sex,
        from: f64,
        to: f64,
    },
}

impl Growth {
    pub(super) fn sex(self) -> Option<Sex> {
        match self {
            Self::None => None,
            Self::WallSeries { sex, .. } | Self::Between { sex, .. } => Some(sex),
        }
    }
}

/// One life of a season, drawn.
pub(super) struct Life {
    course: Course,
    /// The drawn gain, depth, or nothing, cm.
    size_cm: f64,
    fall_day: f64,
    back_day: f64,
    growth: Growth,
    /// Beside the series, or in all, cm a year.
    rate: f64,
    pub(super) age_years: f64,
}

impl Life {
    pub(super) fn draw(
        course: Course,
        growth: Growth,
        completed_years: u8,
        draw: &mut Draw,
    ) -> Self {
        let (fall_day, back_day) = (14.0 + 7.0 * draw.even(), 84.0 + 21.0 * draw.even());
        let size_cm = match course {
            Course::Unchanged => 0.0,
            Course::Rise { cm, .. } | Course::Sudden { cm, .. } => cm,
            Course::DrawnRise { mean_cm, sd_cm, .. } => mean_cm + sd_cm * draw.normal(),
            Course::LostAndWonBack { sign } => -sign * (4.0 + draw.even()),
            Course::SlidAndWonBack => -4.0 - draw.even(),
        };
        let rate = match growth {
            Growth::None => 0.0,
            Growth::WallSeries { sd, .. } => sd * draw.normal(),
            Growth::Between { from, to, .. } => from + (to - from) * draw.even(),
        };
        let age_years = f64::from(completed_years) + draw.even();
        Self { course, size_cm, fall_day, back_day, growth, rate, age_years }
    }

    /// The day after which a claim counts: that of the loss, or of the full return.
    pub(super) fn counted_from_day(&self) -> f64 {
        match self.course {
            Course::Sudden { day, .. } => day,
            Course::LostAndWonBack { .. } | Course::SlidAndWonBack => self.back_day,
            _ => 0.0,
        }
    }

    /// Own level over that of before day 0, growth left out, cm.
    pub(super) fn own_cm(&self, day: f64) -> f64 {
        let share = match self.course {
            Course::Unchanged => 0.0,
            Course::Rise { days, .. } | Course::DrawnRise { days, .. } => {
                (day / days).clamp(0.0, 1.0)
            }
            Course::Sudden { day: when, .. } => f64::from(u8::from(day > when)),
            Course::LostAndWonBack { .. } if day < self.fall_day => 0.0,
            Course::SlidAndWonBack if day < self.fall_day => (day / self.fall_day).max(0.0),
            Course::LostAndWonBack { .. } | Course::SlidAndWonBack => {
                let back = (day - self.fall_day) / (self.back_day - self.fall_day);
                (1.0 - back).max(0.0)
            }
        };
        self.size_cm * share
    }

    /// Growth from one day to another, cm.
    pub(super) fn grown_cm(&self, from_day: f64, day: f64) -> f64 {
        let years = (day - from_day) / 365.25;
        match self.growth {
            Growth::None => 0.0,
            Growth::Between { .. } => self.rate * years,
            Growth::WallSeries { sex, .. } => {
                let mean = |age: f64| series_cm(sex, age);
                mean(self.age_years + years) - mean(self.age_years) + self.rate * years
            }
        }
    }
}

/// Mean height of the three wall series at an age, between the printed ages along straight lines, cm.
///
/// Source: `docs/norms/jpn_school_sports_test_1976_1977.csv`, read as printed.
fn series_cm(sex: Sex, age_years: f64) -> f64 {
    // Nothing is printed beyond 17: the last year's gain goes on.
    let low = age_years.floor().min(16.0);
    let (at, next) = (printed_mean_cm(sex, low), printed_mean_cm(sex, low + 1.0));
    at + (next - at) * (age_years - low)
}

fn printed_mean_cm(sex: Sex, age: f64) -> f64 {
    use std::sync::LazyLock;
    static ROWS: LazyLock<Vec<(bool, f64, f64)>> = LazyLock::new(rows);
    let is_boy = sex == Sex::Male;
    let of_age: Vec<f64> = ROWS
        .iter()
        .filter(|row| row.0 == is_boy && (row.1 - age).abs() < 0.1)
        .map(|row| row.2)
        .collect();
    assert_eq!(of_age.len(), 3, "three series at {age}");
    of_age.iter().sum::<f64>() / 3.0
}

/// Boy or not, age, cm.
fn rows() -> Vec<(bool, f64, f64)> {
    let csv = include_str!("../../../docs/norms/jpn_school_sports_test_1976_1977.csv");
    let mut reader = csv::Reader::from_reader(csv.as_bytes());
    let records = reader.records().map(Result::unwrap);
    records.map(|row| (&row[2] == "M", row[3].parse().unwrap(), row[7].parse().unwrap())).collect()
}

#[test]
fn a_boy_of_13_of_the_series_grows_by_what_is_printed() {
    // 49.2, 47.9, 48.9 at 13; 55.8, 53.2, 54.4 at 14.
    let gain = series_cm(Sex::Male, 14.0) - series_cm(Sex::Male, 13.0);
    assert!((gain - (163.4 - 146.0) / 3.0).abs() < 1e-9, "{gain}");
}
