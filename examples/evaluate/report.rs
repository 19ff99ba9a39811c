//! From the bytes of a backup file to the JSON that is printed. A backup is restored into a store in
//! memory and every test goes through `assess`, as on the pages: there is no second path.

use std::collections::BTreeSet;
use std::fmt;
use std::sync::Arc;

use serde_json::{Map, Value, json};
use two_marks::assess::{
    Assessment, Rough, SeasonStory, Span, assess_with, keys, learnt_day_factor, season_story,
};
use two_marks::history::{
    Backup, BackupProblem, HardDay, LocalId, Memory, Named, Person, Record, Store, SumCheck, Test,
    Tired, Why, read_backup, variant_name,
};
use two_marks::measure::{Outcome, Reach, TrendKey, Variant};
use two_marks::norms::{
    AgeFit, Comparability, Layer, Nearness, NoPosition, NotComparable, Percentile, Placements,
    Position, Standing, Statistic,
};
use two_marks::quantity::{Age, Compare, Length, Sex, Unit};
use two_marks::reliability::SessionError;
use two_marks::text::{EnglishLocale, Words};
use two_marks::trend::model::{Missing, RIBBON_SDS, Verdict};

/// What the output says it is.
pub const EVALUATION_KIND: &str = "two-marks evaluation";
/// The version of the output.
pub const EVALUATION_VERSION: u32 = 1;

/// A backup, evaluated.
#[derive(Debug)]
pub struct Evaluation {
    /// What is printed.
    pub json: Value,
    /// What to know before believing it, one sentence each.
    pub warnings: Vec<String>,
}

/// Why there is nothing to print. Its `Display` is the sentence for the person.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Refusal {
    /// The bytes are no text.
    NotText,
    /// The text is no backup that can be read.
    Backup(BackupProblem),
    /// The records do not fit into a store.
    Store,
}

impl fmt::Display for Refusal {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::NotText => out.write_str("The input is not text in UTF-8."),
            Self::Store => out.write_str("The records of this backup do not fit together."),
            Self::Backup(problem) => match problem {
                BackupProblem::TooLarge => out.write_str("The input is over 5,000,000 bytes."),
                BackupProblem::TooDeep => out.write_str("The input is nested too deep."),
                BackupProblem::TooManyRecords => out.write_str("It has over 50,000 records."),
                BackupProblem::NotJson => {
                    out.write_str("The input is not JSON, or it was cut off.")
                }
                BackupProblem::NotABackup => out.write_str("The input is JSON, but no backup."),
                BackupProblem::Newer { version } => {
                    write!(out, "This backup is of the later version {version}; 1 is read here.")
                }
            },
        }
    }
}

/// Evaluates every test of a backup file.
///
/// # Errors
/// When the file as a whole cannot be read. Single records that cannot are counted and warned of.
pub fn evaluate(bytes: &[u8]) -> Result<Evaluation, Refusal> {
    let text = std::str::from_utf8(bytes).map_err(|_| Refusal::NotText)?;
    let backup = read_backup(text).map_err(Refusal::Backup)?;
    let store = restored(&backup).ok_or(Refusal::Store)?;
    let people = store.people().map_err(|_| Refusal::Store)?;
    let mut people_said = Vec::new();
    for person in &people {
        let mut tests = store.tests_of(&person.local).map_err(|_| Refusal::Store)?;
        tests.sort_by_key(|test| (test.date, test.minute_of_day, test.id));
        people_said.push(person_said(person, &tests));
    }
    let keys: BTreeSet<&LocalId> = people.iter().map(|person| &person.local).collect();
    let records = store.all().map_err(|_| Refusal::Store)?;
    let of_nobody = |record: &&Record| match record {
        Record::Test(test) => !keys.contains(&test.person),
        Record::Person(_) | Record::Deleted(_) => false,
        // A class's numbers are nobody's own tests.
        Record::Class(_) | Record::ClassResult(_) => false,
    };
    let of_nobody = records.counting().filter(of_nobody).count();
    let newer = backup.newer.iter();
    let newer: Vec<Value> =
        newer.map(|(at, version)| json!({ "place": at, "version": version })).collect();
    let unreadable = backup.unreadable.iter();
    let unreadable: Vec<Value> =
        unreadable.map(|(at, why)| json!({ "place": at, "why": why_said(*why) })).collect();
    let json = json!({
        "kind": EVALUATION_KIND,
        "version": EVALUATION_VERSION,
        "backup": {
            "saved_utc_ms": backup.saved_utc_ms,
            "sum": sum_name(backup.sum),
            "records_newer": newer,
            "records_unreadable": unreadable,
            "tests_of_nobody": of_nobody,
        },
        "people": people_said,
    });
    Ok(Evaluation { json, warnings: warnings(&backup, of_nobody) })
}

/// The backup in a store of its own, as the page would hold it after restoring.
fn restored(backup: &Backup) -> Option<Store<Memory>> {
    let (store, _) = Store::open(Memory::new()).ok()?;
    let plan = store.plan_restore(backup).ok()?;
    store.carry_out(&plan).ok()?;
    Some(store)
}

fn sum_name(sum: SumCheck) -> &'static str {
    match sum {
        SumCheck::Right => "right",
        SumCheck::Missing => "missing",
        SumCheck::Wrong => "wrong",
    }
}

fn why_said(why: Why) -> String {
    match why {
        Why::TooLong => "too_long".to_owned(),
        Why::NotJson => "not_json".to_owned(),
        Why::NotARecord => "not_a_record".to_owned(),
        Why::Shape => "field_missing_doubled_or_of_another_type".to_owned(),
        Why::Field(name) => format!("field_out_of_range: {name}"),
    }
}

fn warnings(backup: &Backup, of_nobody: usize) -> Vec<String> {
    let mut warnings = Vec::new();
    match backup.sum {
        SumCheck::Right => {}
        SumCheck::Missing => warnings.push("the file has no sum, so damage would not show".into()),
        SumCheck::Wrong => warnings.push("the sum is wrong: the file was damaged or edited".into()),
    }
    let counted = [
        (backup.newer.len(), "records of a later version were left out"),
        (backup.unreadable.len(), "records could not be read"),
        (of_nobody, "tests belong to nobody in the file and were left out"),
    ];
    let counted = counted.into_iter().filter(|(many, _)| *many > 0);
    warnings.extend(counted.map(|(many, what)| format!("{what}: {many}")));
    warnings
}

fn person_said(person: &Person, tests: &[Test]) -> Value {
    let words = Words::english(Arc::new(EnglishLocale));
    let factors: Vec<(TrendKey, f64)> =
        keys(tests).into_iter().map(|key| (key, learnt_day_factor(person, tests, key))).collect();
    let said: Vec<Value> = tests
        .iter()
        .filter_map(|test| {
            let (_, factor) = factors.iter().find(|(key, _)| *key == test.session.key)?;
            Some(test_said(&words, test, &assess_with(test, person, tests, *factor)))
        })
        .collect();
    json!({
        "id": person.id.to_string(),
        "nickname": person.nickname,
        "compare": person.compare.map(Named::name),
        "tests": said,
        "seasons": seasons_said(&words, person, tests),
    })
}

/// The season of every kind of test, all of its tests, the kind of the latest test first.
fn seasons_said(words: &Words, person: &Person, tests: &[Test]) -> Vec<Value> {
    let kinds = keys(tests).into_iter();
    let said = kinds.filter_map(|key| {
        let last = tests.iter().rfind(|test| test.session.key == key)?;
        let story = season_story(person, tests, key, Span::All);
        Some(season_said(words, &story, last.session.division.unit()))
    });
    said.collect()
}

fn season_said(words: &Words, story: &SeasonStory, unit: Unit) -> Value {
    let line = story.line.iter().map(|point| {
        json!({
            "date": point.date.to_string(),
            "level_cm": cm(point.level),
            "sd_cm": shortened(point.half_width.as_cm() / RIBBON_SDS),
            "learning_cm": cm(point.learning),
            "growth_cm": cm(point.growth),
        })
    });
    let season = story.season.as_ref();
    let change = season.and_then(|season| season.change).map(|change| {
        json!({
            "own_cm": shortened(change.own_cm),
            "own_sd_cm": shortened(change.own_sd_cm),
            "total_cm": shortened(change.total_cm),
            "total_sd_cm": shortened(change.total_sd_cm),
            "chance_own_higher": chance(change.p_own_higher),
            "chance_total_higher": chance(change.p_total_higher),
            "chance_lower": chance(change.p_lower),
        })
    });
    let compared = story.compared();
    json!({
        "test_kind": kind_said(words, story.key),
        "line": line.collect::<Vec<_>>(),
        "from": compared.map(|(first, _)| first.to_string()),
        "to": compared.map(|(_, last)| last.to_string()),
        "change": change,
        "expected_growth_cm": story.expected_growth().map(cm),
        "day_factor": chance(story.day_factor),
        "verdict": verdict_name(story.verdict()),
        "sentence": words.season_verdict(story, unit).head,
    })
}

/// A chance from 0 to 1, to a millionth.
fn chance(p: f64) -> f64 {
    (p * 1e6).round() / 1e6
}

fn verdict_name(verdict: Verdict) -> &'static str {
    match verdict {
        Verdict::TooFew => "too_few",
        Verdict::OnlyDrawn => "only_drawn",
        Verdict::NotToldYet => "not_told_yet",
        Verdict::Higher { clear: true } => "clearly_higher",
        Verdict::Higher { clear: false } => "higher",
        Verdict::Lower { clear: true } => "clearly_lower",
        Verdict::Lower { clear: false } => "lower",
        Verdict::MayBeGrowing => "may_be_growing",
        Verdict::MissingAnswer(Missing::Age) => "age_missing",
        Verdict::MissingAnswer(Missing::Sex) => "sex_missing",
    }
}

fn test_said(words: &Words, test: &Test, assessed: &Assessment) -> Value {
    let session = &test.session;
    let unit = session.division.unit();
    let usual = assessed.usual.map(|usual| {
        let height = usual.height.0;
        let interval =
            assessed.standard_error.map(|error| [cm(height - error), cm(height + error)]);
        json!({ "height_cm": cm(height), "trials": usual.trials, "interval_cm": interval })
    });
    let rough: Vec<&str> = assessed.rough.iter().map(|reason| rough_name(*reason)).collect();
    json!({
        "id": test.id.to_string(),
        "date": test.date.to_string(),
        "age": age_said(assessed.age),
        "test_kind": kind_said(words, session.key),
        "division": session.division.name(),
        "reaches_cm": reaches_cm(&session.reach),
        "standing_reach_cm": session.standing_reach().map(|reach| cm(reach.0)),
        "trials": session.outcomes().into_iter().map(trial_said).collect::<Vec<_>>(),
        "best_cm": assessed.best.map(|best| cm(best.0)),
        "best_of_first_three_cm": assessed.best_of_first_three.map(|best| cm(best.0)),
        "usual": usual,
        "standard_error_cm": assessed.standard_error.map(cm),
        "standard_error_parts_cm": assessed.parts.map(parts_said),
        "trial_sd_cm": assessed.spread.map(|spread| shortened(spread.trial_sd_cm)),
        "day_sd_cm": assessed.spread.map(|spread| shortened(spread.day_sd_cm)),
        "is_tired": assessed.is_tired,
        "tired_by": tired_said(test.tired),
        "rough": rough,
        "is_practice": assessed.is_practice,
        "early_and_late_growers_differ": assessed.placements.growers_differ,
        "compared": compared(words, &assessed.placements, unit),
        "not_compared": not_compared(words, &assessed.placements),
    })
}

/// Centimetres, exact to the micrometre.
fn cm(length: Length) -> f64 {
    length.as_cm()
}

/// Centimetres of a part, to the micrometre.
fn shortened(value_cm: f64) -> f64 {
    Length::from_cm(value_cm).as_cm()
}

fn age_said(age: Age) -> Value {
    match age {
        Age::Years { years, maybe_one_more, .. } => {
            json!({ "completed_years": years, "maybe_one_more": maybe_one_more })
        }
        Age::Group(group) => json!({ "group": group.name() }),
        Age::Unknown => Value::Null,
    }
}

fn kind_said(words: &Words, key: TrendKey) -> Value {
    let (steps, take_off) = match key.variant {
        Variant::Approach { steps, take_off } => (Some(steps), Some(take_off.name())),
        Variant::Standing | Variant::HandsOnHips | Variant::HeldSquat => (None, None),
    };
    json!({
        "jump": variant_name(key.variant),
        "approach_steps": steps,
        "take_off_feet": take_off,
        "device": key.device.name(),
        "reach_method": key.reach_method.name(),
        "surface": key.surface.name(),
        "own_way": key.own_way,
        "sentence": words.test_kind(key),
    })
}

/// Every reach as it was read, in order; none where only a mark was made.
fn reaches_cm(reach: &Reach) -> Vec<f64> {
    match reach {
        Reach::Measured(readings) => readings.iter().map(|reading| cm(reading.length())).collect(),
        Reach::Reused { reading, .. } => vec![cm(reading.length())],
        Reach::MarkOnly => Vec::new(),
    }
}

fn trial_said(outcome: Outcome) -> Value {
    match outcome {
        Outcome::Counted(height) => json!({ "jump_height_cm": cm(height.0) }),
        Outcome::Foul(reason) => json!({ "foul": reason.name() }),
        Outcome::NoReach => json!({ "no_reach": true }),
    }
}

fn parts_said(parts: SessionError) -> Value {
    let named = [
        ("trials", parts.trials_cm),
        ("day", parts.day_cm),
        ("reach", parts.reach_cm),
        ("reading", parts.reading_cm),
        ("rough", parts.rough_cm),
        ("clock", parts.clock_cm),
        ("recovery", parts.recovery_cm),
    ];
    let named = named.into_iter().map(|(name, size)| (name.to_owned(), shortened(size).into()));
    Value::Object(named.collect::<Map<_, _>>())
}

fn tired_said(tired: Tired) -> Value {
    let leg_work = tired.leg_work.map(|(kind, hours)| {
        let kind = match kind {
            HardDay::LegSession => "leg_session",
            HardDay::Match => "match",
        };
        json!({ "kind": kind, "hours_since": hours })
    });
    let stretch = tired
        .stretch
        .map(|held| json!({ "minute_or_longer": held.long, "minutes_since": held.minutes_since }));
    json!({ "leg_work": leg_work, "held_stretch": stretch })
}

fn rough_name(reason: Rough) -> &'static str {
    match reason {
        Rough::FewReaches => "few_reaches",
        Rough::CoarseDivision => "coarse_division",
        Rough::TopMarkOnly => "top_mark_only",
        Rough::FewTrials => "few_trials",
        Rough::FewFrames => "few_frames",
    }
}

fn sex_name(sex: Sex) -> &'static str {
    Compare::With(sex).name()
}

fn compared(words: &Words, placements: &Placements, unit: Unit) -> Vec<Value> {
    let of_sex = placements
        .by_sex
        .iter()
        .flat_map(|placement| placement.standings.iter().map(|standing| (placement.sex, standing)));
    of_sex.map(|(sex, standing)| standing_said(words, sex, standing, unit)).collect()
}

fn standing_said(words: &Words, sex: Sex, standing: &Standing, unit: Unit) -> Value {
    let source = standing.source;
    let said = words.standing(standing, unit);
    json!({
        "source": source.id,
        "sex": sex_name(sex),
        "ages": [standing.cell.ages.from, standing.cell.ages.to],
        "age_fit": age_fit_name(standing.age_fit),
        "supports": layer_name(source.layer),
        "comparability": comparability_name(source.comparability),
        "statistic": match source.statistic {
            Statistic::Best => "best",
            Statistic::BestOrMean => "best_or_mean",
        },
        "position": position_said(standing.position),
        "title": said.title,
        "sentence": said.sentence,
        "comparability_sentence": said.comparability,
        "cautions": said.cautions,
        "attribution": said.attribution,
    })
}

fn position_said(position: Position) -> Value {
    match position {
        Position::Percentile(range) => json!({
            "kind": "percentile",
            "low": percentile_said(range.low),
            "point": percentile_said(range.point),
            "high": percentile_said(range.high),
        }),
        Position::Band(range) => json!({
            "kind": "band",
            "low": range.low,
            "point": range.point,
            "high": range.high,
            "bands": range.count,
        }),
        Position::Average(range) => json!({
            "kind": "average",
            "low": nearness_name(range.low),
            "point": nearness_name(range.point),
            "high": nearness_name(range.high),
            "average_cm": cm(range.average),
        }),
    }
}

fn percentile_said(percentile: Percentile) -> Value {
    match percentile {
        Percentile::Below(limit) => json!({ "below": limit }),
        Percentile::At(percent) => json!({ "at": (percent * 1e6).round() / 1e6 }),
        Percentile::Above(limit) => json!({ "above": limit }),
    }
}

fn nearness_name(nearness: Nearness) -> &'static str {
    match nearness {
        Nearness::Below => "below",
        Nearness::Near => "near",
        Nearness::Above => "above",
    }
}

fn age_fit_name(fit: AgeFit) -> &'static str {
    match fit {
        AgeFit::Today => "today",
        AgeFit::MaybeToday => "maybe_today",
        AgeFit::NextMonth => "next_month",
        AgeFit::WholeGroup => "whole_group",
        AgeFit::PartOfGroup => "part_of_group",
    }
}

fn layer_name(layer: Layer) -> &'static str {
    match layer {
        Layer::Percentiles => "percentiles",
        Layer::MeanAndSd => "mean_and_sd",
        Layer::Bands => "bands",
        Layer::AverageLine => "average",
        Layer::OwnEstimate => "own_estimate",
    }
}

fn comparability_name(comparability: Comparability) -> &'static str {
    match comparability {
        Comparability::Same => "same",
        Comparability::SameOrClose => "same_or_close",
        Comparability::Close => "close",
        Comparability::OtherDevice => "other_device",
    }
}

fn not_compared(words: &Words, placements: &Placements) -> Vec<Value> {
    let of_sex = placements
        .by_sex
        .iter()
        .filter_map(|placement| Some((Some(placement.sex), placement.none_because?)));
    let all = placements.none_because.map(|reason| (None, reason)).into_iter().chain(of_sex);
    let said = all.map(|(sex, reason)| {
        json!({
            "sex": sex.map(sex_name),
            "because": reason_name(reason),
            "sentence": words.no_position(reason),
        })
    });
    said.collect()
}

fn reason_name(reason: NoPosition) -> &'static str {
    match reason {
        NoPosition::NotAsked => "not_asked",
        NoPosition::NoTrial => "no_trial_counts",
        NoPosition::NotComparable(NotComparable::Approach) => "approach_jump",
        NoPosition::NotComparable(NotComparable::OtherJump) => "other_jump",
        NoPosition::NotComparable(NotComparable::OwnWay) => "own_way",
        NoPosition::NotComparable(NotComparable::OtherReachMethod) => "other_reach_method",
        NoPosition::NotComparable(NotComparable::OtherSurface) => "other_surface",
        NoPosition::AgeUnknown => "age_unknown",
        NoPosition::NoTableForAge => "no_table_for_age",
        NoPosition::AgeGroupTooWide => "age_group_too_wide",
    }
}
