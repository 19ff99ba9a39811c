//! Records that change after the day: practice worked out anew, the form of a saved or an added test,
//! and the list that shows them.

use chrono::NaiveDate;
use two_marks::assess::{ReachDoubt, assess, mark_practice, reach_before};
use two_marks::flow::{
    FormContext, FormPlace, FormProblem, ReadingField, TestForm, TrialField, give_test,
};
use two_marks::history::{
    Born, Choices, Filter, MarkMethod, Method, Origin, Person, ROWS_MAX, Read, Record, Test, list,
    read, to_text,
};
use two_marks::measure::{Doubt, FoulReason, Problem, Reach, Remedy, Surface, Trial};
use two_marks::quantity::{
    AgeGroup, BirthMonth, BodyMass, Compare, Division, JumpHeight, Length, Moment, Reading, Sex,
    Unit,
};

use crate::samples::{NOW, id, local, person, wall_test, with_unknown_field};

fn day(month: u32, day: u32) -> NaiveDate {
    NaiveDate::from_ymd_opt(2026, month, day).unwrap()
}

fn today() -> NaiveDate {
    day(7, 1)
}

fn text(reading: Reading) -> String {
    format!("{}.{}", reading.count / 10, reading.count % 10)
}

fn mass_text(mass: BodyMass) -> String {
    format!("{}.{}", mass.tenths(Unit::Centimetre) / 10, mass.tenths(Unit::Centimetre) % 10)
}

fn form_of(test: &Test) -> TestForm {
    TestForm::change(test, text, mass_text)
}

fn adult() -> Person {
    let mut person = person(1, "Ada");
    person.born = Some(Born::Group(AgeGroup::Adult));
    person
}

fn child() -> Person {
    let mut person = person(1, "Mia");
    person.born = Some(Born::Month(BirthMonth::new(2013, 1).unwrap()));
    person
}

fn tested(number: u64, date: NaiveDate) -> Test {
    let mut test = wall_test(number, &local(1), &[2655, 2665, 2680]);
    test.date = date;
    test
}

fn practice(tests: &mut [Test]) -> Vec<bool> {
    mark_practice(tests);
    tests.iter().map(|test| test.practice).collect()
}

fn found(form: &TestForm, person: &Person, tests: &[Test]) -> Vec<(FormPlace, FormProblem)> {
    let context = FormContext { person, tests, today: today() };
    form.findings(context).into_iter().map(|found| (found.place, found.problem)).collect()
}

fn typed(text: &str) -> ReadingField {
    let mut field = ReadingField::default();
    field.text = text.to_owned();
    field
}

fn trial(text: &str) -> TrialField {
    let mut trial = TrialField::default();
    trial.field = typed(text);
    trial
}

// Practice: docs/measurement.md §8, the first two of a kind.

#[test]
fn the_first_two_of_a_kind_are_practice_in_whatever_order_they_stand() {
    let mut tests = [tested(4, day(4, 1)), tested(2, day(2, 1)), tested(3, day(3, 1))];
    assert_eq!(practice(&mut tests), [false, true, true]);
    tests[2].session.key.surface = Surface::Grass;
    // Another ground is another kind, which is learnt apart.
    assert_eq!(practice(&mut tests), [true, true, true]);
}

#[test]
fn deleting_the_first_test_makes_the_third_practice() {
    let all = [tested(2, day(2, 1)), tested(3, day(3, 1)), tested(4, day(4, 1))];
    assert!(!assess(&all[2], &adult(), &all).is_practice);
    assert!(assess(&all[2], &adult(), &all[1..]).is_practice);
}

#[test]
fn an_older_test_added_later_ends_the_practice_of_the_second() {
    let mut tests = vec![tested(3, day(3, 1)), tested(4, day(4, 1))];
    assert_eq!(practice(&mut tests), [true, true]);
    tests.push(tested(2, day(1, 1)));
    assert_eq!(practice(&mut tests), [true, false, true]);
    // Moved to another person, it counts there and no longer here.
    tests[2].person = local(9);
    assert_eq!(practice(&mut tests), [true, true, true]);
}

#[test]
fn what_was_stored_decides_nothing_but_a_file_s_own_word() {
    let mut tests = [2, 3, 4, 5].map(|month| tested(u64::from(month), day(month, 1)));
    tests[2].practice = true;
    tests[3].practice = true;
    tests[3].origin = Origin::Imported;
    assert_eq!(practice(&mut tests), [true, true, false, true]);
}

// An old or shrunken reach: docs/measurement.md §7.1.

#[test]
fn an_old_reach_of_a_growing_child_carries_its_false_gain() {
    let mut boy = child();
    boy.compare = Some(Compare::With(Sex::Male));
    let mut test = tested(2, day(5, 1));
    let reading = Reading { count: 2245, division: Division::CmHalf };
    test.session.reach = Reach::Reused { reading, measured_on: day(1, 1) };
    let Some(ReachDoubt::Old { measured_on, false_gain: Some(false_gain) }) =
        assess(&test, &boy, &[]).reach_doubt
    else {
        panic!("no note");
    };
    assert_eq!(measured_on, day(1, 1));
    // WHO medians of boys give 6.96 cm from 12 and 7.14 from 13; the worked example of
    // docs/measurement.md §7.1 has 7.1 cm a year over 120 days as 2.986 cm.
    assert!((false_gain.as_cm() - 7.14 * 1.28 * 120.0 / 365.25).abs() < 0.02, "{false_gain:?}");
    let grown = adult();
    assert_eq!(assess(&test, &grown, &[]).reach_doubt, None);
}

#[test]
fn a_reach_that_fell_says_by_how_much() {
    let first = tested(2, day(2, 1));
    let mut second = tested(3, day(3, 1));
    let read = |count| Reading { count, division: Division::CmHalf };
    second.session.reach = Reach::Measured([2215, 2220, 2225].map(read).to_vec());
    let tests = [first, second.clone()];
    let note = assess(&second, &adult(), &tests).reach_doubt;
    assert_eq!(note, Some(ReachDoubt::Fell(Length::from_mm(25))));
    assert_eq!(reach_before(&second, &tests), Some((read(2245), day(2, 1))));
    assert_eq!(reach_before(&tests[0], &tests), None);
}

// The form.

#[test]
fn a_form_that_nobody_touches_gives_the_same_record_and_asks_nothing() {
    let sample = include_str!("records/v1/test_with_every_field.json");
    for text in [sample.to_owned(), with_unknown_field(&Record::Test(tested(2, day(6, 1))), "[1]")]
    {
        let Read::Good(record) = read(&text) else { panic!("{text}") };
        let Record::Test(test) = *record.clone() else { panic!("{text}") };
        let mut grown = adult();
        grown.local = test.person.clone();
        let form = form_of(&test);
        let late = Moment { utc_ms: NOW + 1, offset_minutes: 0 };
        let again = form.to_test(&grown, id(99), late).unwrap();
        assert_eq!(to_text(&Record::Test(again)), to_text(&record));
        let context = FormContext { person: &grown, tests: &[], today: NaiveDate::MIN };
        assert_eq!(form.findings(context), []);
    }
}

#[test]
fn a_changed_mark_is_the_only_thing_that_changes() {
    let test = tested(2, day(6, 1));
    let mut form = form_of(&test);
    form.trials[1].field.text = "268,5".to_owned();
    assert_eq!(found(&form, &adult(), &[]), []);
    assert_eq!(form.height(1), Some(JumpHeight(Length::from_mm(440))));
    let changed = form.to_test(&adult(), id(9), Moment { utc_ms: 0, offset_minutes: 0 }).unwrap();
    let mut expected = test;
    expected.session.trials[1] =
        Trial::FloorMark(Reading { count: 2685, division: Division::CmHalf });
    assert_eq!(changed, expected);
}

#[test]
fn the_checks_of_a_test_hold_for_its_change_too() {
    let test = tested(2, day(6, 1));
    let mut form = form_of(&test);
    form.trials[0].field.text = "2655".to_owned();
    form.trials[1].field.text = String::new();
    form.trials[2].field.text = "224".to_owned();
    form.date = "2026-07-02".to_owned();
    form.time = "25:00".to_owned();
    let problems = found(&form, &adult(), &[]);
    let places: Vec<FormPlace> = problems.iter().map(|(place, _)| *place).collect();
    let trials = [0, 1, 2].map(FormPlace::Trial);
    assert_eq!(places, [&[FormPlace::Date, FormPlace::Time][..], &trials[..]].concat());
    assert_eq!(problems[0].1, FormProblem::InFuture);
    assert!(matches!(problems[2].1, FormProblem::Doubt(Doubt::Impossible(_), _)));
    assert_eq!(problems[3].1, FormProblem::Reading(Problem::Empty));
    assert!(matches!(problems[4].1, FormProblem::Doubt(Doubt::MarkBelowReach, _)));
}

#[test]
fn a_question_is_answered_once_and_a_slip_is_mended() {
    let mut form = form_of(&tested(2, day(6, 1)));
    form.trials[0].field.text = "250".to_owned();
    let odd = found(&form, &adult(), &[]);
    assert!(
        matches!(odd.as_slice(), [(FormPlace::Trial(0), FormProblem::Doubt(doubt, _))]
        if !doubt.refuses()),
        "{odd:?}"
    );
    form.confirm(FormPlace::Trial(0));
    // The other two trials were saved as they are, and are not asked about.
    assert_eq!(found(&form, &adult(), &[]), []);
    form.trials[0].field.text = "2655".to_owned();
    let meant = Reading { count: 2655, division: Division::CmHalf };
    form.mend(FormPlace::Trial(0), Remedy::ReadAs(meant), text);
    assert_eq!(found(&form, &adult(), &[]), []);
}

#[test]
fn exchanged_reach_and_mark_change_places() {
    let mut form = TestForm::add(&adult(), day(6, 1));
    form.reaches = vec![typed("268")];
    form.trials = vec![trial("224")];
    let context = |form: &TestForm| {
        form.findings(FormContext { person: &adult(), tests: &[], today: today() })
    };
    let first = context(&form).into_iter().find(|found| found.place == FormPlace::Trial(0));
    assert_eq!(first.unwrap().remedies.first(), Some(&Remedy::SwapWithReach));
    form.mend(FormPlace::Trial(0), Remedy::SwapWithReach, text);
    assert_eq!(
        (form.reaches[0].text.as_str(), form.height(0)),
        ("224", Some(JumpHeight(Length::from_mm(440))))
    );
    assert_eq!(context(&form), []);
}

#[test]
fn only_a_height_is_a_best_without_a_mean_and_says_that_it_was_added() {
    let mut form = TestForm::add(&child(), today());
    form.date = "2025-10-04".to_owned();
    form.choose_method(MarkMethod::BetweenMarks);
    assert!(form.reaches.is_empty());
    form.trials[0].field.text = "38".to_owned();
    assert_eq!(found(&form, &child(), &[]), []);
    let now = Moment { utc_ms: NOW, offset_minutes: 120 };
    let test = form.to_test(&child(), id(7), now).unwrap();
    assert_eq!((test.origin, test.minute_of_day), (Origin::ByHand, None));
    assert_eq!(test.session.best(), Some(JumpHeight(Length::from_mm(380))));
    assert_eq!((test.session.usual(), &test.session.reach), (None, &Reach::MarkOnly));
    // With a second trial it is no longer only the best.
    form.add_trial();
    form.trials[1].field.text = "37".to_owned();
    let test = form.to_test(&child(), id(7), now).unwrap();
    assert_eq!(test.session.usual().unwrap().trials, 2);
}

#[test]
fn a_mark_needs_a_reach_which_may_be_an_earlier_one() {
    let tests = [tested(2, day(2, 1))];
    let mut form = TestForm::add(&adult(), day(3, 1));
    form.reaches.clear();
    form.trials[0].field.text = "268".to_owned();
    assert_eq!(found(&form, &adult(), &tests), [(FormPlace::Reaches, FormProblem::NoReach)]);
    let (reading, date) = form.last_reach(&adult(), &tests).unwrap();
    form.take_reach(reading, date, text(reading));
    assert_eq!(found(&form, &adult(), &tests), []);
    assert_eq!(form.session().unwrap().reach, Reach::Reused { reading, measured_on: day(2, 1) });
    form.reach_day = "2026-03-02".to_owned();
    assert_eq!(found(&form, &adult(), &tests), [(FormPlace::ReachDay, FormProblem::ReachLater)]);
}

#[test]
fn a_foul_keeps_what_was_typed_and_all_fouls_are_no_result() {
    let mut form = form_of(&tested(2, day(6, 1)));
    for line in &mut form.trials {
        line.foul = Some(FoulReason::Step);
    }
    assert_eq!(found(&form, &adult(), &[]), [(FormPlace::Trials, FormProblem::NoTrial)]);
    form.trials[1].foul = None;
    assert_eq!(form.height(1), Some(JumpHeight(Length::from_mm(420))));
    assert_eq!(found(&form, &adult(), &[]), []);
}

#[test]
fn body_mass_is_kept_of_adults_only() {
    let mut test = tested(2, day(6, 1));
    test.body_mass = Some(BodyMass { grams: 61_500 });
    let form = form_of(&test);
    assert_eq!(form.body_mass.text, "61.5");
    let now = Moment { utc_ms: NOW, offset_minutes: 0 };
    let of = |person: &Person| form.to_test(person, id(7), now).unwrap().body_mass;
    assert_eq!(of(&adult()), Some(BodyMass { grams: 61_500 }));
    assert_eq!(of(&child()), None);
    assert_eq!(of(&person(1, "Unknown")), None);
    assert!(!form.asks_mass(&person(1, "Unknown")) && form.asks_mass(&adult()));
    let mut heavy = form.clone();
    heavy.body_mass.text = "6150".to_owned();
    assert_eq!(found(&heavy, &adult(), &[]), [(FormPlace::BodyMass, FormProblem::BodyMass)]);
    assert_eq!(found(&heavy, &child(), &[]), []);
}

#[test]
fn tags_are_switched_and_what_is_too_long_is_said_not_cut() {
    let mut form = form_of(&tested(2, day(6, 1)));
    form.tags = " new shoes,  , new shoes;hall".to_owned();
    assert_eq!(form.tag_list(), ["new shoes", "hall"]);
    form.switch_tag("hall");
    form.switch_tag("tired of school");
    assert_eq!(form.tags, "new shoes, tired of school");
    form.tags = "x".repeat(31);
    form.note = "y".repeat(501);
    let long =
        [(FormPlace::Note, FormProblem::NoteTooLong), (FormPlace::Tags, FormProblem::TagTooLong)];
    assert_eq!(found(&form, &adult(), &[]), long);
    form.note = "y".repeat(500);
    form.tags = (0..11).map(|at| at.to_string()).collect::<Vec<_>>().join(",");
    assert_eq!(found(&form, &adult(), &[]), [(FormPlace::Tags, FormProblem::TooManyTags)]);
}

#[test]
fn a_test_given_away_takes_hand_and_way_of_the_other_person() {
    let mut test = tested(2, day(6, 1));
    test.body_mass = Some(BodyMass { grams: 61_500 });
    let mut other = child();
    other.local = local(5);
    other.own_way = true;
    let given = give_test(&test, &other);
    assert_eq!(
        (&given.person, given.session.key.own_way, given.body_mass),
        (&other.local, true, None)
    );
    assert_eq!((given.session.trials, given.stamp), (test.session.trials, test.stamp));
}

// The list.

#[test]
fn a_page_holds_sixty_rows_of_ten_thousand_and_knows_best_and_last_of_all() {
    let mut tests: Vec<Test> = (0..10_000).map(|at| tested(at, day(6, 1))).collect();
    tests[9_000].session.trials =
        vec![Trial::FloorMark(Reading { count: 2750, division: Division::CmHalf })];
    let first = list(&tests, &Filter::default(), 0);
    assert_eq!((first.total, first.shown, first.groups.len()), (10_000, ROWS_MAX, 1));
    assert!(first.groups[0].rows.iter().all(|row| !row.is_best && row.is_last == (row.at == 0)));
    let later = list(&tests, &Filter::default(), 9_000);
    let rows = &later.groups[0].rows;
    assert_eq!((rows.len(), rows[0].at, rows[0].is_best), (ROWS_MAX, 9_000, true));
    // Beyond the end is the last page.
    let end = list(&tests, &Filter::default(), usize::MAX);
    assert_eq!((end.from, end.shown), (9_960, 40));
}

#[test]
fn every_filter_narrows_and_offers_only_what_is_there() {
    let mut tests = vec![tested(2, day(2, 1)), tested(3, day(3, 1)), tested(4, day(4, 1))];
    tests[0].session.key.surface = Surface::Grass;
    tests[1].tired.leg_work = Some((two_marks::history::HardDay::Match, 20));
    tests[1].tags = vec!["spikes".to_owned(), "hall".to_owned()];
    tests[2].session.trials =
        vec![Trial::MarkDistance(Reading { count: 430, division: Division::CmHalf })];
    let choices = Choices::of(&tests);
    assert_eq!(choices.surfaces, [Surface::Grass, Surface::Firm]);
    assert_eq!(
        choices.methods,
        [MarkMethod::FromFloor, MarkMethod::BetweenMarks].map(Method::Marks)
    );
    assert_eq!(choices.tags, ["hall", "spikes"]);
    assert!(choices.has_both_tired);
    let shown = |filter: Filter| {
        let listing = list(&tests, &filter, 0);
        listing.groups.iter().flat_map(|group| &group.rows).map(|row| row.at).collect::<Vec<_>>()
    };
    assert_eq!(shown(Filter { surface: Some(Surface::Grass), ..Filter::default() }), [0]);
    assert_eq!(shown(Filter { tired: Some(true), ..Filter::default() }), [1]);
    assert_eq!(shown(Filter { tired: Some(false), ..Filter::default() }), [0, 2]);
    assert_eq!(shown(Filter { tag: Some("hall".to_owned()), ..Filter::default() }), [1]);
    let between = Method::Marks(MarkMethod::BetweenMarks);
    assert_eq!(shown(Filter { method: Some(between), ..Filter::default() }), [2]);
}
