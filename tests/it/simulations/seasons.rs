//! Seasons with a known truth, looked at after every test.

use std::fmt::Write;

use two_marks::norms::growth_expectation;
use two_marks::quantity::Sex;
use two_marks::trend::{
    GrowthYear, LocalLevel, Observation, START_VARIANCE_CM2, SeasonTest, SeasonVerdict,
    UnderEighteen, WORTHWHILE_CM, Weight, Who, season, smooth, weight_of,
};

use super::draw::Draw;
use super::judged::Judge;
use super::people::{ADULT, BOY_OF_13, CHILD, GIRL_OF_16, Kind, Person};

const RUNS: u32 = 1_500;
const SEED: u64 = 20_260_907;
/// Length of a season, days.
const SEASON_DAYS: f64 = 270.0;
/// What people gain by learning the test itself in their first two sessions, cm.
const LEARNING_CM: [f64; 2] = [1.5, 0.7];

/// What the jump does over the season, on top of growing up.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Course {
    Unchanged,
    /// A steady gain of so many cm by the end.
    Steady(f64),
    /// Four cm lost at the middle, all back after 80 days.
    Injury,
}

/// How growing up runs: cm a year as mean and SD between people, and the part of the season.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct TrueGrowth {
    mean: f64,
    sd: f64,
    /// Share of the season's growth that falls into its middle third; the rest is even.
    middle_share: f64,
}

const EVEN: f64 = 1.0 / 3.0;
const NO_GROWTH: TrueGrowth = TrueGrowth { mean: 0.0, sd: 0.0, middle_share: EVEN };

/// One kind of season.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Scenario {
    pub(super) name: String,
    kind: Kind,
    tests: usize,
    course: Course,
    growth: TrueGrowth,
    /// Under 18: whose shipped growth table the product reads.
    table: Option<Sex>,
    /// All spreads over those assumed.
    factor: f64,
    /// Whether the promise of at most 10 in 100 is made for it.
    pub(super) is_promised: bool,
}

impl Scenario {
    /// Nobody's jump changes, so that a fall called is false as well. (Some people who "only grow"
    /// really fall: growth differs that much.)
    pub(super) fn is_unchanged(&self) -> bool {
        self.course == Course::Unchanged && self.growth == NO_GROWTH
    }
}

/// Shares of seasons.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub(super) struct Rates {
    /// Some look claims at least a probable gain.
    pub(super) gain_at_any_look: f64,
    /// The last look does.
    pub(super) gain_at_the_end: f64,
    /// Some look claims at least a probable gain or a probable fall.
    pub(super) claim_at_any_look: f64,
    /// Some look finds the plain change, growth included, at least probable.
    pub(super) plain_at_any_look: f64,
}

fn scenario(name: &str, kind: Kind, table: Option<Sex>, growth: TrueGrowth) -> Scenario {
    Scenario {
        name: name.to_owned(),
        kind,
        tests: 30,
        course: Course::Unchanged,
        growth,
        table,
        factor: 1.0,
        is_promised: true,
    }
}

/// True growth of the jump in these simulations, cm a year. Written here anew, of the size that the
/// shipped tables show, so that a wrong table or a wrong reading of it shows.
const BOY_AT_13: TrueGrowth = TrueGrowth { mean: 4.2, sd: 3.2, middle_share: EVEN };
const BOY_AT_8: TrueGrowth = TrueGrowth { mean: 2.4, sd: 2.4, middle_share: EVEN };
const GIRL_AT_16: TrueGrowth = TrueGrowth { mean: 0.2, sd: 1.5, middle_share: EVEN };

fn boy_of_13(name: &str, growth: TrueGrowth) -> Scenario {
    scenario(name, BOY_OF_13, Some(Sex::Male), growth)
}

fn adult(name: &str, course: Course, factor: f64) -> Scenario {
    let is_promised = course == Course::Unchanged && factor < 1.1;
    Scenario { course, factor, is_promised, ..scenario(name, ADULT, None, NO_GROWTH) }
}

fn false_alarms() -> Vec<Scenario> {
    let in_the_middle = |middle_share| TrueGrowth { middle_share, ..BOY_AT_13 };
    let boy_of_8 = |name: &str, growth| scenario(name, CHILD, Some(Sex::Male), growth);
    let girl_of_16 = |name: &str, growth| scenario(name, GIRL_OF_16, Some(Sex::Female), growth);
    vec![
        adult("adult, nothing changes", Course::Unchanged, 1.0),
        boy_of_8("boy of 8 who only grows", BOY_AT_8),
        boy_of_8("boy of 8, nothing changes", NO_GROWTH),
        boy_of_13("boy of 13 who only grows", BOY_AT_13),
        boy_of_13("boy of 13 who only grows, all alike", TrueGrowth { sd: 0.0, ..BOY_AT_13 }),
        boy_of_13("boy of 13 who only grows, six tenths in three months", in_the_middle(0.6)),
        Scenario {
            is_promised: false,
            ..boy_of_13("boy of 13 who only grows, all of it in three months", in_the_middle(1.0))
        },
        boy_of_13("boy of 13, nothing changes", NO_GROWTH),
        girl_of_16("girl of 16 who only grows", GIRL_AT_16),
        girl_of_16("girl of 16, nothing changes", NO_GROWTH),
        Scenario {
            is_promised: false,
            ..boy_of_13(
                "boy of 13 who grows three times as fast as the table",
                TrueGrowth { mean: 3.0 * BOY_AT_13.mean, ..BOY_AT_13 },
            )
        },
        adult("adult, all spreads half as much again", Course::Unchanged, 1.5),
        adult("adult, all spreads twice the typical", Course::Unchanged, 2.0),
        adult("adult, 4 cm lost by an injury and won back", Course::Injury, 1.0),
    ]
}

fn detections() -> Vec<Scenario> {
    let mut list = Vec::new();
    for who in ["adult", "boy of 13"] {
        for (tests, words) in [(30, "more"), (9, "more, nine tests")] {
            for gain_cm in [2.0, 3.0, 4.0, 6.0] {
                let name = format!("{who}, {gain_cm} cm {words}");
                let course = Course::Steady(gain_cm);
                let base = if who == "adult" {
                    adult(&name, course, 1.0)
                } else {
                    boy_of_13(&name, BOY_AT_13)
                };
                list.push(Scenario { course, tests, is_promised: false, ..base });
            }
        }
    }
    list
}

/// Days of the tests: irregular, from half to one and a half times the mean gap, whole days.
fn days(tests: usize, draw: &mut Draw) -> Vec<f64> {
    let gaps: Vec<f64> = (1..tests).map(|_| 0.5 + draw.even()).collect();
    let sum: f64 = gaps.iter().sum();
    let mut day = 0.0;
    let mut days = vec![0.0];
    for gap in gaps {
        day += gap / sum * SEASON_DAYS;
        days.push(day.round());
    }
    days
}

/// True usual height over that of the first day, cm.
fn truth_cm(scenario: &Scenario, rate_cm_per_year: f64, day: f64) -> f64 {
    let share = day / SEASON_DAYS;
    let in_middle = ((share - EVEN) / EVEN).clamp(0.0, 1.0);
    let outside = (share - in_middle * EVEN) / (1.0 - EVEN);
    let middle_share = scenario.growth.middle_share;
    let grown = middle_share * in_middle + (1.0 - middle_share) * outside;
    let course = match scenario.course {
        Course::Unchanged => 0.0,
        Course::Steady(gain_cm) => gain_cm * share,
        Course::Injury => {
            -4.0 * (1.0 - (day - SEASON_DAYS / 2.0) / 80.0).clamp(0.0, 1.0)
                * f64::from(u8::from(day > SEASON_DAYS / 2.0))
        }
    };
    course + rate_cm_per_year * SEASON_DAYS / 365.25 * grown
}

/// Draws a season and judges every session of it.
fn tests(scenario: &Scenario, draw: &mut Draw) -> Vec<SeasonTest> {
    let person = Person::draw(scenario.kind, scenario.factor, draw);
    let rate_cm_per_year = scenario.growth.mean + scenario.growth.sd * draw.normal();
    let mut judge = Judge::new(scenario.kind.age_years);
    let mut list = Vec::with_capacity(scenario.tests);
    for (number, day) in days(scenario.tests, draw).into_iter().enumerate() {
        let learning_cm = LEARNING_CM.get(number).copied().unwrap_or(0.0);
        let height_cm = person.usual_cm + truth_cm(scenario, rate_cm_per_year, day) - learning_cm;
        let judged = judge.judge(&person.session(number, height_cm, draw));
        list.push(SeasonTest {
            day,
            height_cm: judged.height_cm,
            se_cm: judged.se_cm,
            practice: number < 2,
        });
    }
    list
}

fn is_gain(verdict: SeasonVerdict) -> bool {
    matches!(verdict, SeasonVerdict::Shown(Weight::ProbableGain | Weight::ClearGain))
}

fn is_fall(verdict: SeasonVerdict) -> bool {
    matches!(verdict, SeasonVerdict::Shown(Weight::ProbableLoss | Weight::ClearLoss))
}

/// The shipped growth of this year of age and the next, as the trend reads it.
fn shipped_growth(sex: Sex, years: u8) -> Vec<GrowthYear> {
    (years..=years + 1)
        .filter_map(|from| {
            let growth = growth_expectation(sex, from)?;
            Some(GrowthYear {
                from_age_years: f64::from(from),
                to_age_years: f64::from(from) + 1.0,
                mean_cm_per_year: growth.mean_cm_per_year,
                sd_cm_per_year: growth.sd_cm_per_year,
            })
        })
        .collect()
}

fn rates(scenario: &Scenario, seed: u64) -> Rates {
    let mut draw = Draw::new(seed);
    let age = f64::from(scenario.kind.age_years);
    let table = scenario.table.map(|sex| shipped_growth(sex, scenario.kind.age_years));
    let who = table.as_ref().map_or(Who::Adult, |growth| {
        Who::UnderEighteen(UnderEighteen { age_years: Some(age), growth })
    });
    let (mut gains, mut at_end, mut claims, mut plain) = (0_u32, 0_u32, 0_u32, 0_u32);
    for _ in 0..RUNS {
        let tests = tests(scenario, &mut draw);
        let looks: Vec<_> = (3..=tests.len())
            .map(|seen| season(&tests[..seen], who, WORTHWHILE_CM).unwrap())
            .collect();
        gains += u32::from(looks.iter().any(|look| is_gain(look.verdict)));
        claims +=
            u32::from(looks.iter().any(|look| is_gain(look.verdict) || is_fall(look.verdict)));
        plain += u32::from(looks.iter().any(|look| look.p_gain >= 0.80));
        at_end += u32::from(looks.last().is_some_and(|look| is_gain(look.verdict)));
    }
    let share = |count: u32| f64::from(count) / f64::from(RUNS);
    Rates {
        gain_at_any_look: share(gains),
        gain_at_the_end: share(at_end),
        claim_at_any_look: share(claims),
        plain_at_any_look: share(plain),
    }
}

pub(super) fn all() -> Vec<(Scenario, Rates)> {
    let list = false_alarms().into_iter().chain(detections());
    list.zip(SEED..).map(|(scenario, seed)| (scenario.clone(), rates(&scenario, seed))).collect()
}

/// Share of unchanged seasons of a boy of 13 in which some look at a line with this drift claims a
/// change either way: why the drift is what it is.
pub(super) fn claims_with_drift(drift_cm2_per_day: f64) -> f64 {
    let unchanged = boy_of_13("", NO_GROWTH);
    let mut draw = Draw::new(SEED + 1_000);
    let mut claims = 0_u32;
    for _ in 0..RUNS {
        let observations: Vec<Observation> = tests(&unchanged, &mut draw)
            .iter()
            .filter(|test| !test.practice)
            .map(|test| Observation {
                day: test.day,
                height_cm: test.height_cm,
                variance_cm2: test.se_cm * test.se_cm,
            })
            .collect();
        let model = LocalLevel {
            drift_cm2_per_day,
            start_cm: observations[0].height_cm,
            start_variance_cm2: START_VARIANCE_CM2,
        };
        let claimed = (3..=observations.len()).any(|seen| {
            let change =
                smooth(&observations[..seen], &model).unwrap().change(0, seen - 1).unwrap();
            let gain = change.chance_above(WORTHWHILE_CM);
            weight_of(gain, 1.0 - change.chance_above(-WORTHWHILE_CM)) != Weight::NotShown
        });
        claims += u32::from(claimed);
    }
    f64::from(claims) / f64::from(RUNS)
}

pub(super) fn page(seasons: &[(Scenario, Rates)]) -> String {
    let mut page = format!(
        "\n## The rule of the running picture\n\n\
         1. The first two sessions are practice and stay outside the line. Three more must follow.\n\
         2. A smooth line runs through the rest (local level, drift 0.02 cm² a day for \
         everybody).\n\
         3. The change is the line's last point less its first. {WORTHWHILE_CM} cm or less is not \
         worth naming.\n\
         4. \"Probable\" starts at a probability of 0.80. \"Clear\" needs 0.95, and the opposite \
         under 0.01.\n\
         5. Under 18 the expected growth is taken off every test. Its spread is added to the \
         doubt.\n   A gain is claimed only if this second probability passes too. With growth \
         unknown, none is.\n\n\
         The rule needs no stricter threshold at early looks: the slow drift holds the line \
         still then.\n\n\
         ## How often a season claims what is not so\n\n\
         {RUNS} seasons per row, seed {SEED}. Thirty tests in {SEASON_DAYS} days, at irregular \
         dates. The season\nis looked at after every test. The first two sessions are practice, and \
         lower by {} and {} cm.\nA claim is \"probable\" or more (probability 0.80). Promise: at \
         most 10 in 100 seasons, at any look.\nTrue growth of the jump, cm a year: {} ± {} for boys at 13, {} ± {} for boys at 8, \
         {} ± {} for girls\nat 16, as large as the tables we ship say.\n\n\
         | truth | promise | a gain at any look | a gain or a fall at any look | a gain at the end \
         | without growth's test, any look |\n|---|---|---|---|---|---|\n",
        LEARNING_CM[0],
        LEARNING_CM[1],
        BOY_AT_13.mean,
        BOY_AT_13.sd,
        BOY_AT_8.mean,
        BOY_AT_8.sd,
        GIRL_AT_16.mean,
        GIRL_AT_16.sd,
    );
    let is_gain_course = |scenario: &Scenario| matches!(scenario.course, Course::Steady(_));
    for (scenario, rates) in seasons.iter().filter(|(scenario, _)| !is_gain_course(scenario)) {
        writeln!(
            page,
            "| {} | {} | {:.1} | {:.1} | {:.1} | {:.1} |",
            scenario.name,
            if scenario.is_promised { "10" } else { "none" },
            rates.gain_at_any_look * 100.0,
            rates.claim_at_any_look * 100.0,
            rates.gain_at_the_end * 100.0,
            rates.plain_at_any_look * 100.0,
        )
        .unwrap();
    }
    write!(
        page,
        "\nGrowth that comes all in three months breaks the promise, and so do spreads or growth far \
         from\nthe assumed ones: the page cannot know them, and says what it assumes.\n\n\
         With a drift of 0.05, {:.0} in 100 \
         unchanged seasons\nof a boy of 13 would claim a gain or a fall at some look; with 0.02 it \
         is {:.0}.\n\n\
         ## How often a real gain is seen\n\n\
         The gain is steady over the season, on top of growing up. \"Nine tests\" are as long a \
         season.\nA boy of 13 must exceed growth, its spread, and noise: growth differs so much from boy to boy \
         that\nlittle is left to claim.\n\n\
         | truth | a gain at any look | a gain at the end |\n|---|---|---|\n",
        claims_with_drift(0.05) * 100.0,
        claims_with_drift(0.02) * 100.0,
    )
    .unwrap();
    for (scenario, rates) in seasons.iter().filter(|(scenario, _)| is_gain_course(scenario)) {
        writeln!(
            page,
            "| {} | {:.0} | {:.0} |",
            scenario.name,
            rates.gain_at_any_look * 100.0,
            rates.gain_at_the_end * 100.0,
        )
        .unwrap();
    }
    page.push_str("\nNumbers are seasons in 100.\n");
    page
}
