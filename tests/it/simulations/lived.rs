//! Seasons lived by invented people, and what the product says at each look.

use two_marks::assess::{Growing, GrowthPath};
use two_marks::trend::model::{Change, SeasonTest, Verdict, Who, pair, season};

use super::draw::Draw;
use super::judged::Judge;
use super::people::{Kind, Manner, Person, STEP_CM};
use super::truth::{Course, Growth, Life, TYPICAL_LEARNING_CM};

/// When the tests are.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Dates {
    /// So many tests in so many days, at irregular whole days.
    Irregular { tests: usize, days: f64 },
    /// Two practice tests in the ten days before day 0, then irregular ones from day 0 on.
    PracticeThenIrregular { tests: usize, days: f64 },
    /// Two practice tests in the ten days before day 0, then from day 0 every so many days.
    PracticeThenEvery { gap_days: u32, until_day: u32 },
    /// From day 0 every so many days.
    Every { gap_days: u32, until_day: u32 },
    /// So many tests, three days apart, the last on day 0; as many after the eighth week.
    Blocks { each_side: u32 },
}

/// Days of the two practice tests before training.
const PRACTICE_DAYS: [f64; 2] = [-10.0, -5.0];

impl Dates {
    fn draw(self, draw: &mut Draw) -> Vec<f64> {
        let every =
            |gap: u32, until: u32| (0..=until / gap).map(move |place| f64::from(place * gap));
        match self {
            Self::Irregular { tests, days } => irregular(tests, days, draw),
            Self::PracticeThenIrregular { tests, days } => {
                PRACTICE_DAYS.into_iter().chain(irregular(tests, days, draw)).collect()
            }
            Self::Every { gap_days, until_day } => every(gap_days, until_day).collect(),
            Self::PracticeThenEvery { gap_days, until_day } => {
                PRACTICE_DAYS.into_iter().chain(every(gap_days, until_day)).collect()
            }
            Self::Blocks { each_side } => {
                let before = (0..each_side).rev().map(|place| -3.0 * f64::from(place));
                let after = (0..each_side).map(|place| 59.0 + 3.0 * f64::from(place));
                before.chain(after).collect()
            }
        }
    }
}

/// From half to one and a half times the mean gap between tests, whole days.
fn irregular(tests: usize, days: f64, draw: &mut Draw) -> Vec<f64> {
    let gaps: Vec<f64> = (1..tests).map(|_| 0.5 + draw.even()).collect();
    let sum: f64 = gaps.iter().sum();
    let mut day = 0.0;
    let mut list = vec![0.0];
    for gap in gaps {
        day += gap / sum * days;
        list.push(day.round());
    }
    list
}

/// What goes otherwise than in a careful season.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Habit {
    Careful,
    /// One test in five is done with tired legs, 3 cm lower, and noted as tired: it stays out.
    SomeTired,
    /// One, two or three jumps that count.
    MissingTrials,
    /// Tenths, halves of a centimetre, or quarter inches, by chance.
    MixedDivisions,
}

/// One kind of season.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Scenario {
    pub(super) kind: Kind,
    pub(super) dates: Dates,
    pub(super) course: Course,
    pub(super) growth: Growth,
    pub(super) learning_cm: &'static [f64],
    /// The true spread of days over the typical one, before it is drawn for a person.
    pub(super) day_factor: f64,
    /// Days after which 1/e of a day's luck is left; 0 when every day has its own.
    pub(super) luck_days: f64,
    pub(super) habit: Habit,
}

impl Scenario {
    pub(super) fn new(kind: Kind, growth: Growth) -> Self {
        Self {
            kind,
            dates: Dates::Irregular { tests: 30, days: 270.0 },
            course: Course::Unchanged,
            growth,
            learning_cm: TYPICAL_LEARNING_CM,
            day_factor: 1.0,
            luck_days: 0.0,
            habit: Habit::Careful,
        }
    }
}

/// One season that was lived.
pub(super) struct Lived {
    pub(super) life: Life,
    pub(super) tests: Vec<SeasonTest>,
    /// True level at each test, growth included and learning left out, cm.
    pub(super) level_cm: Vec<f64>,
    growing: Growing,
}

impl Lived {
    pub(super) fn draw(scenario: &Scenario, draw: &mut Draw) -> Self {
        let person = Person::draw(scenario.kind, 1.0, draw);
        let life = Life::draw(scenario.course, scenario.growth, scenario.kind.age_years, draw);
        let growing = scenario.growth.sex().map_or(Growing::Adult, |sex| {
            // The page knows the month of birth.
            let months = (life.age_years * 12.0).floor();
            Growing::Known(GrowthPath::of(sex, months / 12.0))
        });
        let days = scenario.dates.draw(draw);
        // People differ in their days as much as in their trials.
        let day_factor = scenario.day_factor * (8.0 / draw.chi_square(8)).sqrt();
        let mut judge = Judge::new(scenario.kind.age_years);
        let (mut tests, mut level_cm) = (Vec::new(), Vec::new());
        let (mut luck, mut luck_day) = (draw.normal(), days[0]);
        for (number, &day) in days.iter().enumerate() {
            let level = person.usual_cm + life.own_cm(day) + life.grown_cm(days[0], day);
            let lacking = scenario.learning_cm.get(number).copied().unwrap_or(0.0);
            let kept = if scenario.luck_days > 0.0 {
                libm::exp((luck_day - day) / scenario.luck_days)
            } else {
                0.0
            };
            luck = kept * luck + (1.0 - kept * kept).sqrt() * draw.normal();
            luck_day = day;
            let is_tired = scenario.habit == Habit::SomeTired && number > 0 && draw.even() < 0.2;
            let manner = manner(scenario.habit, luck * day_factor, draw);
            let height = level - lacking - if is_tired { 3.0 } else { 0.0 };
            let judged = judge.judge(&person.session_so(number, height, manner, draw));
            if is_tired {
                continue;
            }
            level_cm.push(level);
            tests.push(SeasonTest {
                day,
                height_cm: judged.height_cm,
                rest_variance_cm2: judged.se_cm * judged.se_cm - judged.day_cm * judged.day_cm,
                day_sd_cm: judged.day_cm,
                earlier: u32::try_from(number).unwrap(),
                growth_cm: 0.0,
            });
        }
        Self { life, tests, level_cm, growing }
    }

    fn seen(&self, tests: usize) -> (Vec<SeasonTest>, Who) {
        let mut seen = self.tests[..tests].to_vec();
        let who = self.growing.spread_over(&mut seen);
        (seen, who)
    }

    /// What is said after so many tests, from two on.
    pub(super) fn look(&self, tests: usize) -> (Change, Verdict) {
        let (seen, who) = self.seen(tests);
        let change = pair(&seen, (0, tests - 1), who).unwrap();
        (change, change.verdict(who))
    }

    /// Whether the level lies in the hatch at the first and at the last of so many tests.
    pub(super) fn is_in_hatch(&self, tests: usize) -> [bool; 2] {
        let (seen, who) = self.seen(tests);
        let drawn = season(&seen, 0, who).unwrap().drawn;
        // "About 2 times in 3": the page draws eight tenths of an SD to each side.
        [0, tests - 1]
            .map(|at| (drawn[at].mean_cm - self.level_cm[at]).abs() <= 0.8 * drawn[at].sd_cm)
    }

    /// How many tests were done up to a day.
    pub(super) fn until(&self, day: f64) -> usize {
        self.tests.iter().take_while(|test| test.day <= day).count()
    }
}

/// 0, 1 or 2, each as often.
fn third(draw: &mut Draw) -> usize {
    let even = draw.even();
    usize::from(even * 3.0 >= 1.0) + usize::from(even * 3.0 >= 2.0)
}

fn manner(habit: Habit, day: f64, draw: &mut Draw) -> Manner {
    let mut manner = Manner { day, jumps: 3, step_cm: STEP_CM };
    match habit {
        Habit::Careful | Habit::SomeTired => {}
        Habit::MissingTrials => manner.jumps = 1 + third(draw),
        Habit::MixedDivisions => {
            manner.step_cm = [0.1, 0.5, 0.635][third(draw)];
        }
    }
    manner
}
