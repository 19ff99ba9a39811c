use super::source::Statistic;
use super::table::{Band, NEAR, Norm, Numbering};
use crate::quantity::Length;
use crate::statistics::{normal_cdf, normal_quantile};

/// A height with its standard error.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Estimate {
    /// The height.
    pub height: Length,
    /// One standard error; its sign does not matter.
    pub standard_error: Length,
}

impl Estimate {
    /// The height minus one standard error.
    pub fn low(self) -> Length {
        self.height - self.standard_error.magnitude()
    }

    /// The height plus one standard error.
    pub fn high(self) -> Length {
        self.height + self.standard_error.magnitude()
    }
}

/// What a test gives to compare: the first three counted trials, as tables were made.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Score {
    /// The best of them.
    pub best: Estimate,
    /// Their mean; none where only the highest mark of the day is known.
    pub mean: Option<Estimate>,
}

/// A place in 100, as far as the table was printed.
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
pub enum Percentile {
    /// Below the lowest printed percentile.
    Below(u8),
    /// Inside: so many in 100 score lower.
    At(f64),
    /// Above the highest printed percentile.
    Above(u8),
}

/// A percentile as it is shown: whole numbers, "about".
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ShownPercentile {
    /// "below the 10th"
    Below(u8),
    /// "about 51"
    About(u8),
    /// "above the 90th"
    Above(u8),
}

impl Percentile {
    /// The whole number shown, halves up.
    pub fn shown(self) -> ShownPercentile {
        match self {
            Self::Below(limit) => ShownPercentile::Below(limit),
            Self::Above(limit) => ShownPercentile::Above(limit),
            Self::At(percent) => {
                let whole = (percent + 0.5).clamp(1.0, 99.0);
                #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
                let whole = whole as u8; // 1 to 99 by the clamp
                ShownPercentile::About(whole)
            }
        }
    }
}

/// The places of score - error, score and score + error.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PercentileRange {
    /// At the score minus its standard error.
    pub low: Percentile,
    /// At the score.
    pub point: Percentile,
    /// At the score plus its standard error.
    pub high: Percentile,
}

/// The bands of score - error, score and score + error, counted from 1, the lowest.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct BandRange {
    /// At the score minus its standard error.
    pub low: u8,
    /// At the score.
    pub point: u8,
    /// At the score plus its standard error.
    pub high: u8,
    /// How many bands there are.
    pub count: u8,
    /// Whether the number is the source's own score.
    pub numbering: Numbering,
}

/// Where a score lies beside an average.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Nearness {
    /// More than [`NEAR`] under it.
    Below,
    /// Within [`NEAR`] of it.
    Near,
    /// More than [`NEAR`] over it.
    Above,
}

/// The words for score - error, score and score + error beside an average.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct AverageRange {
    /// At the score minus its standard error.
    pub low: Nearness,
    /// At the score.
    pub point: Nearness,
    /// At the score plus its standard error.
    pub high: Nearness,
    /// The average compared with.
    pub average: Length,
}

/// Where a score stands in one cell of one table: exactly as much as the table supports.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Position {
    /// Places in 100.
    Percentile(PercentileRange),
    /// Bands.
    Band(BandRange),
    /// Above, near or below.
    Average(AverageRange),
}

/// The three scores whose places make a range.
#[derive(Clone, Copy, Debug)]
pub(super) struct ScoreRange {
    pub low: Length,
    pub point: Length,
    pub high: Length,
}

impl Score {
    /// The scores to look up for the figure a table was made from.
    pub(super) fn range(&self, statistic: Statistic) -> ScoreRange {
        let low = match (statistic, self.mean) {
            (Statistic::BestOrMean, Some(mean)) => mean.low().min(self.best.low()),
            (Statistic::BestOrMean | Statistic::Best, _) => self.best.low(),
        };
        ScoreRange { low, point: self.best.height, high: self.best.high() }
    }
}

impl Norm {
    pub(super) fn position(&self, scores: ScoreRange) -> Position {
        match *self {
            Self::Percentiles { percents, scores: printed } => {
                scores.percentiles(|score| in_table(percents, printed, score))
            }
            Self::MeanAndSd { mean, sd } => {
                scores.percentiles(|score| by_normal_curve(mean, sd, score))
            }
            Self::Bands { bands, numbering, unassigned_cm } => {
                let place = |score| band_of(bands, unassigned_cm, score);
                Position::Band(BandRange {
                    low: place(scores.low),
                    point: place(scores.point),
                    high: place(scores.high),
                    count: u8::try_from(bands.len()).unwrap_or(u8::MAX),
                    numbering,
                })
            }
            Self::Average { average, .. } => Position::Average(AverageRange {
                low: beside(average, scores.low),
                point: beside(average, scores.point),
                high: beside(average, scores.high),
                average,
            }),
        }
    }

    /// The scores that 10, 20 ... 90 in 100 stay under, for drawing tenths; none where the table
    /// supports no percentiles.
    pub fn tenths(&self) -> Option<[Length; 9]> {
        let mut tenths = [Length::ZERO; 9];
        for (place, percent) in tenths.iter_mut().zip((10_u8..=90).step_by(10)) {
            *place = match *self {
                Self::Percentiles { percents, scores } => {
                    let at = percents.iter().position(|printed| *printed == percent)?;
                    *scores.get(at)?
                }
                Self::MeanAndSd { mean, sd } => {
                    mean + Length::from_cm(normal_score(percent)? * sd.as_cm())
                }
                Self::Bands { .. } | Self::Average { .. } => return None,
            };
        }
        Some(tenths)
    }
}

impl ScoreRange {
    fn percentiles(self, at: impl Fn(Length) -> Percentile) -> Position {
        Position::Percentile(PercentileRange {
            low: at(self.low),
            point: at(self.point),
            high: at(self.high),
        })
    }
}

fn normal_score(percent: u8) -> Option<f64> {
    normal_quantile(f64::from(percent) / 100.0)
}

/// Linear in the normal score between printed percentiles. A score equal to a printed one has its
/// percentile (the higher of two printed alike), and nothing is extended beyond the ends.
fn in_table(percents: &[u8], scores: &[Length], score: Length) -> Percentile {
    let lowest = percents.first().copied().unwrap_or(1);
    let Some(under) = scores.iter().rposition(|printed| *printed <= score) else {
        return Percentile::Below(lowest);
    };
    let knot = |at: usize| Some((percents.get(at).copied()?, scores.get(at).copied()?));
    match (knot(under), knot(under + 1)) {
        (Some((percent, printed)), _) if printed == score => Percentile::At(f64::from(percent)),
        (Some(lower), Some(upper)) => Percentile::At(between(lower, upper, score)),
        (Some((percent, _)), None) => Percentile::Above(percent),
        (None, _) => Percentile::Below(lowest),
    }
}

fn between(lower: (u8, Length), upper: (u8, Length), score: Length) -> f64 {
    let ends = (f64::from(lower.0), f64::from(upper.0));
    let (Some(z0), Some(z1)) = (normal_score(lower.0), normal_score(upper.0)) else {
        return ends.0;
    };
    let share = (score - lower.1).as_cm() / (upper.1 - lower.1).as_cm();
    let percent = 100.0 * normal_cdf(z0 + (z1 - z0) * share);
    // Rounding in the last digit must not carry a place past its neighbours in the table.
    percent.clamp(ends.0, ends.1)
}

fn by_normal_curve(mean: Length, sd: Length, score: Length) -> Percentile {
    let percent = 100.0 * normal_cdf((score - mean).as_cm() / sd.as_cm());
    if percent < 1.0 {
        Percentile::Below(1)
    } else if percent > 99.0 {
        Percentile::Above(99)
    } else {
        Percentile::At(percent)
    }
}

/// Whole centimetres, halves up, by the printed limits.
fn band_of(bands: &[Band], unassigned_cm: Option<u8>, score: Length) -> u8 {
    let whole_cm = score.steps_of(Length::from_mm(10));
    let over = |band: &&Band| {
        band.lowest_counted_cm(unassigned_cm).is_none_or(|from| whole_cm >= i64::from(from))
    };
    let reached = bands.iter().take_while(over).count();
    u8::try_from(reached.max(1)).unwrap_or(u8::MAX)
}

fn beside(average: Length, score: Length) -> Nearness {
    if score > average + NEAR {
        Nearness::Above
    } else if score < average - NEAR {
        Nearness::Below
    } else {
        Nearness::Near
    }
}
