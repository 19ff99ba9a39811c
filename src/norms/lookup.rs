use super::position::{Position, Score};
use super::source::Source;
use super::table::{AgeSpan, Cell};
use super::tables::{
    AUS_ARKINSTALL_2010, CAN_CHMS_YOUTH_2016, ESTIMATE_FROM_FLIGHT, GBR_BEASHEL_1997,
    GBR_DAVIS_2000, IDN_TKJI_2010, KOR_HOSPITAL_40S, KOR_NFA_2024_2026, USA_HOFFMAN_2006,
    USA_PATTERSON_2004, USA_TEXAS_M2029,
};
use crate::measure::{Device, ReachMethod, Surface, TrendKey, Variant};
use crate::quantity::{Age, AgeGroup, Compare, Sex};

/// Which tables a test may be read against.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum TestKind {
    /// Marks on a wall, standing jump, arms free.
    Wall,
    /// Time in the air, standing jump, arms free.
    FlightTime,
}

/// Why no published table fits the way a test was done.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum NotComparable {
    /// A run-up: higher than a standing jump, see [`APPROACH_GAINS`](super::APPROACH_GAINS).
    Approach,
    /// Hands on hips or a held squat: lower than with arms and dip.
    OtherJump,
    /// The person's own way.
    OwnWay,
    /// Another way of taking the reach.
    OtherReachMethod,
    /// Another ground than a firm floor.
    OtherSurface,
}

/// Why no position is shown.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum NoPosition {
    /// The person chose no tables.
    NotAsked,
    /// No trial counts, so there is no score.
    NoTrial,
    /// The way the test was done fits no table.
    NotComparable(NotComparable),
    /// The age is not known.
    AgeUnknown,
    /// No table covers the age.
    NoTableForAge,
    /// Only a wide age group is known, and the tables are split finer.
    AgeGroupTooWide,
}

/// How the ages of a table's cell fit the person.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum AgeFit {
    /// The completed years lie inside.
    Today,
    /// The test falls in the birth month: the next age may apply already.
    MaybeToday,
    /// Not yet: the birthday is in the next month.
    NextMonth,
    /// Only an age group is known, and the cell covers all of it.
    WholeGroup,
    /// Only an age group is known, and the cell covers part of it.
    PartOfGroup,
}

/// Where a score stands in one table.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Standing {
    /// The table.
    pub source: &'static Source,
    /// The sex and age group in it.
    pub cell: &'static Cell,
    /// How that age group fits the person.
    pub age_fit: AgeFit,
    /// The place, always with its range.
    pub position: Position,
}

impl Standing {
    /// The place of another score in the same cell.
    #[must_use]
    pub fn for_score(&self, score: &Score) -> Self {
        let position = self.cell.norm.position(score.range(self.source.statistic));
        Self { position, ..*self }
    }
}

/// All that is said of one sex's tables.
#[derive(Clone, Debug, PartialEq)]
pub struct Placement {
    /// Whose tables.
    pub sex: Sex,
    /// Best match first; never blended.
    pub standings: Vec<Standing>,
    /// Where the list is empty, why.
    pub none_because: Option<NoPosition>,
}

/// All that is said of one test.
#[derive(Clone, Debug, PartialEq)]
pub struct Placements {
    /// One entry per sex compared with.
    pub by_sex: Vec<Placement>,
    /// Why there is none.
    pub none_because: Option<NoPosition>,
    /// At 10 to 16, early and late growers differ by years: said beside every position.
    pub growers_differ: bool,
}

/// Which tables a test may be read against, from how it was done.
///
/// # Errors
/// The first reason found why no table fits.
pub fn test_kind(key: TrendKey) -> Result<TestKind, NotComparable> {
    if key.own_way {
        return Err(NotComparable::OwnWay);
    }
    match key.variant {
        Variant::Standing => {}
        Variant::Approach { .. } => return Err(NotComparable::Approach),
        Variant::HandsOnHips | Variant::HeldSquat => return Err(NotComparable::OtherJump),
    }
    match key.surface {
        Surface::Firm => {}
        Surface::Grass | Surface::Sand | Surface::Mat | Surface::Slope => {
            return Err(NotComparable::OtherSurface);
        }
    }
    match (key.device, key.reach_method) {
        (Device::Wall, ReachMethod::OneHandHeelsDown) => Ok(TestKind::Wall),
        (Device::Wall, ReachMethod::Other) => Err(NotComparable::OtherReachMethod),
        (Device::Video | Device::TimingMat | Device::ForcePlate | Device::LightBarrier, _) => {
            Ok(TestKind::FlightTime)
        }
    }
}

/// Where a test stands in every published table that fits it.
///
/// Tables come best match first. Each place is a range from score minus to score plus its standard
/// error, capped to what the table printed; ages and scores beyond a table are never guessed at.
///
/// ```
/// use two_marks::measure::TrendKey;
/// use two_marks::norms::{Estimate, Position, Score, place};
/// use two_marks::quantity::{Age, Compare, Length, Sex};
///
/// let best = Estimate { height: Length::from_mm(335), standard_error: Length::from_mm(15) };
/// let girl = Age::Years { years: 11, maybe_one_more: false, months_to_birthday: 7 };
/// let score = Score { best, mean: None };
/// let said = place(TrendKey::USUAL, Compare::With(Sex::Female), girl, &score);
///
/// // 33.5 cm rounds to 34, the foot of score 4; 32 cm and 35 cm are scores 3 and 4.
/// let first = &said.by_sex[0].standings[0];
/// assert_eq!(first.source.id, "idn_tkji_2010");
/// let Position::Band(bands) = first.position else { panic!("a table of bands") };
/// assert_eq!((bands.low, bands.point, bands.high, bands.count), (3, 4, 4, 5));
/// ```
pub fn place(key: TrendKey, compare: Compare, age: Age, score: &Score) -> Placements {
    let none = |reason| Placements {
        by_sex: Vec::new(),
        none_because: Some(reason),
        growers_differ: false,
    };
    let sexes: &[Sex] = match &compare {
        Compare::None => return none(NoPosition::NotAsked),
        Compare::With(sex) => std::slice::from_ref(sex),
        Compare::Both => &[Sex::Female, Sex::Male],
    };
    let kind = match test_kind(key) {
        Ok(kind) => kind,
        Err(reason) => return none(NoPosition::NotComparable(reason)),
    };
    if age == Age::Unknown {
        return none(NoPosition::AgeUnknown);
    }
    let by_sex = sexes.iter().map(|sex| place_in(kind, *sex, age, score)).collect();
    Placements { by_sex, none_because: None, growers_differ: growers_differ(age) }
}

fn place_in(kind: TestKind, sex: Sex, age: Age, score: &Score) -> Placement {
    let standings: Vec<Standing> = cells(kind, sex, age)
        .map(|(source, cell, age_fit)| {
            let position = cell.norm.position(score.range(source.statistic));
            Standing { source, cell, age_fit, position }
        })
        .collect();
    let none_because = match (standings.is_empty(), age) {
        (false, _) => None,
        (true, Age::Group(_)) => Some(NoPosition::AgeGroupTooWide),
        (true, Age::Years { .. } | Age::Unknown) => Some(NoPosition::NoTableForAge),
    };
    Placement { sex, standings, none_because }
}

/// The cells that fit, best match first.
pub(super) fn cells(
    kind: TestKind,
    sex: Sex,
    age: Age,
) -> impl Iterator<Item = (&'static Source, &'static Cell, AgeFit)> {
    let order: &[Rank] = match kind {
        TestKind::Wall => &WALL_ORDER,
        TestKind::FlightTime => &FLIGHT_ORDER,
    };
    order.iter().flat_map(move |rank| {
        let of_sex = rank.source.cells.iter().filter(move |cell| cell.sex == sex);
        of_sex.filter_map(move |cell| {
            let fit = age_fit(age, rank.used_for(cell)?, cell.ages)?;
            Some((rank.source, cell, fit))
        })
    })
}

/// A source's place in the list, for the ages it holds that place at.
struct Rank {
    source: &'static Source,
    at: AgeSpan,
}

impl Rank {
    /// A source at the same place for all its ages.
    const fn always(source: &'static Source) -> Self {
        Self { source, at: AgeSpan::new(0, u8::MAX) }
    }

    const fn at(source: &'static Source, from: u8, to: u8) -> Self {
        Self { source, at: AgeSpan::new(from, to) }
    }

    fn used_for(&self, cell: &Cell) -> Option<AgeSpan> {
        cell.ages.meets(self.at).then(|| AgeSpan {
            from: cell.ages.from.max(self.at.from),
            to: cell.ages.to.min(self.at.to),
        })
    }
}

/// Wall tests: school bands first, then tables whose procedure is less sure, then other devices.
/// The adult bands lead the estimate at 20 (same method) and follow it later (no age split).
static WALL_ORDER: [Rank; 11] = [
    Rank::always(&IDN_TKJI_2010),
    Rank::always(&GBR_DAVIS_2000),
    Rank::always(&GBR_BEASHEL_1997),
    Rank::always(&USA_HOFFMAN_2006),
    Rank::always(&USA_TEXAS_M2029),
    Rank::always(&USA_PATTERSON_2004),
    Rank::always(&CAN_CHMS_YOUTH_2016),
    Rank::at(&AUS_ARKINSTALL_2010, 20, 20),
    Rank::always(&ESTIMATE_FROM_FLIGHT),
    Rank::always(&KOR_HOSPITAL_40S),
    Rank::at(&AUS_ARKINSTALL_2010, 21, 49),
];

/// Flight times: the one table of flight times.
static FLIGHT_ORDER: [Rank; 1] = [Rank::always(&KOR_NFA_2024_2026)];

/// For grown-ups of unknown age a cell must span this many years. Design choice: a table of one
/// decade says nothing about somebody who may be 18 or 64.
const ADULT_SPAN_MIN: u8 = 25;

/// How a person's age fits the ages a cell is used for. `printed` are all the cell's ages: an age
/// that only moves to another place in the list is no new group.
fn age_fit(age: Age, used: AgeSpan, printed: AgeSpan) -> Option<AgeFit> {
    match age {
        Age::Unknown => None,
        Age::Years { years, maybe_one_more, months_to_birthday } => {
            if used.contains(years) {
                return Some(AgeFit::Today);
            }
            let new_group = used.contains(years.saturating_add(1)) && !printed.contains(years);
            match (new_group, maybe_one_more, months_to_birthday) {
                (true, true, _) => Some(AgeFit::MaybeToday),
                (true, false, 1) => Some(AgeFit::NextMonth),
                _ => None,
            }
        }
        Age::Group(group) => {
            let ages = group_ages(group);
            let wide_enough = group != AgeGroup::Adult || printed.years() >= ADULT_SPAN_MIN;
            if !wide_enough || !used.meets(ages) {
                return None;
            }
            // Listed once: at the place it holds for most of its ages.
            if used.years().saturating_mul(2) < printed.years() {
                return None;
            }
            let whole = printed.covers(ages);
            Some(if whole { AgeFit::WholeGroup } else { AgeFit::PartOfGroup })
        }
    }
}

fn group_ages(group: AgeGroup) -> AgeSpan {
    match group {
        AgeGroup::Under12 => AgeSpan::new(0, 11),
        AgeGroup::From12To14 => AgeSpan::new(12, 14),
        AgeGroup::From15To17 => AgeSpan::new(15, 17),
        AgeGroup::Adult => AgeSpan::ADULT,
    }
}

/// Ages at which early and late growers of the same age differ by years.
const GROWERS_DIFFER: AgeSpan = AgeSpan::new(10, 16);

fn growers_differ(age: Age) -> bool {
    match age {
        Age::Years { years, maybe_one_more, .. } => {
            GROWERS_DIFFER.contains(years)
                || (maybe_one_more && GROWERS_DIFFER.contains(years.saturating_add(1)))
        }
        Age::Group(AgeGroup::Adult) | Age::Unknown => false,
        Age::Group(_) => true,
    }
}
