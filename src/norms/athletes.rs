use super::lookup::{AgeFit, Standing, TestKind, test_kind};
use super::position::Score;
use super::source::Source;
use super::tables::{USA_BASKETBALL_COMBINE, USA_FOOTBALL_COMBINE, USA_FRY_1991, USA_LOCKIE_2024};
use crate::measure::TrendKey;
use crate::quantity::{Age, Sex};

/// A person surely of age: the only key to tables of athletes, so that no child is shown one.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct AdultsOnly(());

impl AdultsOnly {
    /// `Some` for people surely 18 or over.
    pub const fn check(age: Age) -> Option<Self> {
        if age.is_adult() { Some(Self(())) } else { None }
    }
}

/// Where a wall score of an adult stands among athletes and recruits; opt-in, and never a goal.
///
/// Empty for any other kind of test.
pub fn athlete_context(_: AdultsOnly, key: TrendKey, sex: Sex, score: &Score) -> Vec<Standing> {
    if test_kind(key) != Ok(TestKind::Wall) {
        return Vec::new();
    }
    let sources = ATHLETES.iter().flat_map(|source| {
        source.cells.iter().filter(|cell| cell.sex == sex).map(move |cell| (*source, cell))
    });
    sources
        .map(|(source, cell)| Standing {
            source,
            cell,
            age_fit: AgeFit::Today,
            position: cell.norm.position(score.range(source.statistic)),
        })
        .collect()
}

static ATHLETES: [&Source; 4] =
    [&USA_LOCKIE_2024, &USA_FRY_1991, &USA_BASKETBALL_COMBINE, &USA_FOOTBALL_COMBINE];
