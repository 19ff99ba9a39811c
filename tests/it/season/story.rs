//! Which tests make the trend, and what is claimed of it.

use two_marks::assess::{
    LeftOutBecause, ReachDoubt, Span, assess, compare_tests, keys, season_story,
};
use two_marks::history::{Born, Person, Test};
use two_marks::measure::{Device, Reach, ReachMethod, Surface, TrendKey};
use two_marks::quantity::{AgeGroup, BirthMonth, Compare, Division, Length, Reading, Sex};
use two_marks::trend::model::{Missing, Verdict};

use super::family::{
    Child, approach_test, boy_who_only_grows, day, day_of, girl_who_gains, season_of, test_id,
    test_of,
};

fn is_gain(verdict: Verdict) -> bool {
    matches!(verdict, Verdict::Higher { .. })
}

#[test]
fn a_boy_of_13_who_only_grows_is_never_called_a_gainer() {
    let boy = boy_who_only_grows();
    let tests = season_of(&boy);
    // At every look of the season, as the page is opened after each test.
    for looks in 1..=tests.len() {
        let story = season_story(&boy.person, &tests[..looks], TrendKey::USUAL, Span::All);
        assert!(!is_gain(story.verdict()), "after {looks} tests: {:?}", story.verdict());
    }
    let story = season_story(&boy.person, &tests, TrendKey::USUAL, Span::All);
    // A boy who grows half as fast again as the table's mean: higher, and still no gain is claimed.
    let fast = Child { a_year_mm: 85, ..boy_who_only_grows() };
    let tests = season_of(&fast);
    let faster = season_story(&fast.person, &tests, TrendKey::USUAL, Span::All);
    assert_eq!(faster.verdict(), Verdict::MayBeGrowing, "{:?}", faster.season);
    // The same heights are a gain of a grown-up: it is growth that stands against it.
    let mut grown = boy.person.clone();
    grown.born = Some(Born::Group(AgeGroup::Adult));
    let adult = season_story(&grown, &tests, TrendKey::USUAL, Span::All);
    assert!(is_gain(adult.verdict()), "{:?}", adult.season);
    // A boy of 13 to 14 grows by 5.8 and 4.7 cm a year, by norms::growth_expectation.
    let (first, last) = story.compared().unwrap();
    let years = f64::from(i32::try_from((last - first).num_days()).unwrap()) / 365.25;
    let expected = story.expected_growth().unwrap().as_cm();
    assert!((4.7 * years..=5.8 * years).contains(&expected), "{expected} in {years}");
}

#[test]
fn a_girl_who_gains_far_more_than_growing_brings_is_told() {
    let girl = girl_who_gains();
    let story = season_story(&girl.person, &season_of(&girl), TrendKey::USUAL, Span::All);
    assert!(is_gain(story.verdict()), "{:?}", story.verdict());
}

#[test]
fn without_an_age_or_a_sex_no_gain_is_claimed_and_the_answer_is_asked_for() {
    let gains = girl_like(&boy_who_only_grows());
    let tests = season_of(&gains);
    let read = |alter: fn(&mut Person)| {
        let mut person = gains.person.clone();
        alter(&mut person);
        season_story(&person, &tests, TrendKey::USUAL, Span::All).verdict()
    };
    assert!(is_gain(read(|_| ())), "{:?}", read(|_| ()));
    assert_eq!(read(|person| person.born = None), Verdict::MissingAnswer(Missing::Age));
    for compare in [None, Some(Compare::Both), Some(Compare::None)] {
        let mut person = gains.person.clone();
        person.compare = compare;
        let story = season_story(&person, &tests, TrendKey::USUAL, Span::All);
        assert_eq!(story.verdict(), Verdict::MissingAnswer(Missing::Sex));
    }
    // Under eight there is no table: the season only draws.
    let small = |person: &mut Person| person.born = BirthMonth::new(2019, 3).map(Born::Month);
    assert_eq!(read(small), Verdict::OnlyDrawn);
}

/// The boy with a gain of his own.
fn girl_like(boy: &Child) -> Child {
    Child { person: boy.person.clone(), a_year_mm: 150, ..boy_who_only_grows() }
}

/// The claim of every test's own page and of the season rest on the same ±.
#[test]
fn each_test_has_the_error_that_its_own_page_shows() {
    for child in [boy_who_only_grows(), girl_who_gains()] {
        let tests = season_of(&child);
        let story = season_story(&child.person, &tests, TrendKey::USUAL, Span::All);
        assert_eq!(story.tests.len(), 30);
        for (shown, test) in story.tests.iter().zip(&tests) {
            let own = assess(test, &child.person, &tests);
            assert_eq!(Some(shown.error), own.standard_error);
            assert_eq!(Some(shown.usual), own.usual.map(|usual| usual.height.0));
            assert_eq!(Some(shown.best), own.best.map(|best| best.0));
        }
    }
}

#[test]
fn tired_tests_are_shown_and_stay_outside_the_line() {
    let boy = boy_who_only_grows();
    let tests = season_of(&boy);
    let story = season_story(&boy.person, &tests, TrendKey::USUAL, Span::All);
    assert_eq!((story.tests.len(), story.counted_len(), story.line.len()), (30, 29, 29));
    let whys: Vec<_> = story.left_out.iter().map(|group| (group.because, group.count)).collect();
    assert_eq!(whys, [(LeftOutBecause::Tired, 1)]);
    // What they measured moves nothing.
    let mut wild = tests.clone();
    wild[11].session.trials.truncate(1);
    let after = season_story(&boy.person, &wild, TrendKey::USUAL, Span::All);
    assert_eq!(after.line.first(), story.line.first());
}

#[test]
fn the_first_two_records_of_a_kind_are_practice_whatever_is_noted() {
    let boy = boy_who_only_grows();
    let mut tests = season_of(&boy);
    for test in &mut tests {
        test.practice = false;
    }
    let story = season_story(&boy.person, &tests, TrendKey::USUAL, Span::All);
    assert_eq!(story.tests.iter().filter(|test| test.is_practice).count(), 2);
    assert!(story.tests[0].is_practice && story.tests[1].is_practice);
    // The rule reads the records that are there: with the first deleted, the next one is practice.
    let mut kept = season_of(&boy);
    kept.remove(0);
    let story = season_story(&boy.person, &kept, TrendKey::USUAL, Span::All);
    let practice: Vec<bool> = story.tests.iter().map(|test| test.is_practice).collect();
    assert_eq!(practice.iter().filter(|is_practice| **is_practice).count(), 2);
    assert!(practice[0] && practice[1]);
}

#[test]
fn kinds_of_test_are_never_mixed_and_each_is_listed_with_its_reason() {
    let boy = boy_who_only_grows();
    let mut tests = season_of(&boy);
    let other = |number, change: &dyn Fn(&mut TrendKey)| {
        let mut test = test_of(&boy, number, day(300 + number), 400, boy.reach_mm);
        change(&mut test.session.key);
        test
    };
    tests.push(approach_test(&boy, 40, day(300)));
    tests.push(approach_test(&boy, 41, day(301)));
    tests.push(other(42, &|key| key.device = Device::Video));
    tests.push(other(43, &|key| key.reach_method = ReachMethod::Other));
    tests.push(other(44, &|key| key.surface = Surface::Grass));
    tests.push(other(45, &|key| key.own_way = true));
    let mut top = test_of(&boy, 46, day(320), 400, boy.reach_mm);
    top.session.top_mark_only = true;
    let mut empty = test_of(&boy, 47, day(321), 400, boy.reach_mm);
    empty.session.trials.clear();
    tests.extend([top, empty]);
    let story = season_story(&boy.person, &tests, TrendKey::USUAL, Span::All);
    let whys: Vec<_> = story.left_out.iter().map(|group| (group.because, group.count)).collect();
    let expected = [
        (LeftOutBecause::Tired, 1),
        (LeftOutBecause::TopMarkOnly, 1),
        (LeftOutBecause::NoTrial, 1),
        (LeftOutBecause::OtherJump, 2),
        (LeftOutBecause::OtherDevice, 1),
        (LeftOutBecause::OtherReachMethod, 1),
        (LeftOutBecause::OtherSurface, 1),
        (LeftOutBecause::OwnWay, 1),
    ];
    assert_eq!(whys, expected);
    // None of them moved the line, and each test is either shown or listed.
    let alone = season_story(&boy.person, &season_of(&boy), TrendKey::USUAL, Span::All);
    assert_eq!((story.line, story.season), (alone.line, alone.season));
    let outside: usize = expected.iter().skip(1).map(|(_, count)| count).sum();
    assert_eq!(story.tests.len() + outside, tests.len());
    // Approach jumps have a season of their own, and no table.
    let runs = season_story(&boy.person, &tests, tests[30].session.key, Span::All);
    assert_eq!(runs.tests.len(), 2);
    assert!(runs.bands.iter().all(|age| age.standings.is_empty()));
    assert_eq!(keys(&tests).len(), 6);
}

#[test]
fn another_persons_tests_are_nobodys_business() {
    let (boy, girl) = (boy_who_only_grows(), girl_who_gains());
    let mut tests = season_of(&boy);
    tests.extend(season_of(&girl));
    let story = season_story(&boy.person, &tests, TrendKey::USUAL, Span::All);
    assert_eq!(story, season_story(&boy.person, &season_of(&boy), TrendKey::USUAL, Span::All));
}

#[test]
fn the_order_of_the_records_does_not_matter() {
    let girl = girl_who_gains();
    let tests = season_of(&girl);
    let backwards: Vec<Test> = tests.iter().rev().cloned().collect();
    let story = |tests: &[Test]| season_story(&girl.person, tests, TrendKey::USUAL, Span::All);
    assert_eq!(story(&tests), story(&backwards));
}

#[test]
fn a_span_begins_so_many_months_before_the_last_test() {
    let boy = boy_who_only_grows();
    let tests = season_of(&boy);
    let story = season_story(&boy.person, &tests, TrendKey::USUAL, Span::Months(3));
    let first = day_of(29).checked_sub_months(chrono::Months::new(3)).unwrap();
    assert!(story.tests.iter().all(|test| test.date >= first));
    let earlier = story.left_out.iter().find(|group| group.because == LeftOutBecause::Earlier);
    assert_eq!(earlier.unwrap().count + story.tests.len(), 30);
}

#[test]
fn two_chosen_tests_follow_the_rule_for_children_too() {
    let boy = Child { a_year_mm: 85, ..boy_who_only_grows() };
    let tests = season_of(&boy);
    let story = season_story(&boy.person, &tests, TrendKey::USUAL, Span::All);
    let (first, last) = (test_id(&boy, 3), test_id(&boy, 27));
    let pair = compare_tests(&story, last, first).unwrap();
    assert!(pair.earlier.date < pair.later.date);
    // Most of what lies between them is growth, so no gain is claimed; of a grown-up it would be.
    assert!(pair.change.total_cm > 1.5, "{:?}", pair.change);
    assert!(!is_gain(pair.verdict), "{:?}", pair.verdict);
    let mut grown = boy.person.clone();
    grown.born = Some(Born::Group(AgeGroup::Adult));
    let adult = season_story(&grown, &tests, TrendKey::USUAL, Span::All);
    assert!(is_gain(compare_tests(&adult, first, last).unwrap().verdict));
    // Not with itself, not with a tired one, not with a stranger's test.
    assert_eq!(compare_tests(&story, first, first), None);
    assert_eq!(compare_tests(&story, test_id(&boy, 11), last), None);
    // The first and the last are the season's own answer.
    let whole = compare_tests(&story, test_id(&boy, 0), test_id(&boy, 29)).unwrap();
    assert_eq!(Some(whole.change), story.season.as_ref().unwrap().change);
    assert_eq!(whole.verdict, story.verdict());
    assert_eq!(compare_tests(&story, crate::samples::id(9_999), last), None);
}

/// docs/measurement.md §7.1: 7.1 cm a year of body height, 120 days: 2.986 cm.
#[test]
fn a_stale_reach_says_what_it_may_add() {
    let boy = boy_who_only_grows();
    let mut tests = season_of(&boy);
    let reading = Reading { count: 2005, division: Division::CmHalf };
    let measured_on = day_of(20) - chrono::Days::new(120);
    tests[20].session.reach = Reach::Reused { reading, measured_on };
    let story = season_story(&boy.person, &tests, TrendKey::USUAL, Span::All);
    let left = story.left_out.iter().find(|group| group.because == LeftOutBecause::OldReach);
    assert_eq!(left.map(|group| group.count), Some(1), "it stays out of the line");
    assert_eq!(story.counted_len(), 28);
    assert_eq!(story.season.as_ref().unwrap().drawn.len(), 28, "and the model never sees it");
    let [(date, doubt)] = story.reach_doubts.as_slice() else { panic!("{:?}", story.reach_doubts) };
    let ReachDoubt::Old { false_gain: Some(may_add), .. } = doubt else { panic!("{doubt:?}") };
    assert_eq!(*date, day_of(20));
    // The WHO median of a boy of 13 grows 7.14 cm from this birthday to the next.
    assert!((may_add.as_cm() - 2.986 * 7.14 / 7.1).abs() < 0.02, "{may_add:?}");
    let mut grown = boy.person.clone();
    grown.born = Some(Born::Group(AgeGroup::Adult));
    let adult = season_story(&grown, &tests, TrendKey::USUAL, Span::All);
    assert!(adult.reach_doubts.is_empty());
    assert_eq!(adult.counted_len(), 29);
}

#[test]
fn a_shrunken_reach_says_so() {
    let girl = girl_who_gains();
    let mut tests = season_of(&girl);
    tests[10] = test_of(&girl, 10, day_of(10), 340, girl.reach_mm - 30);
    let story = season_story(&girl.person, &tests, TrendKey::USUAL, Span::All);
    let [(date, doubt)] = story.reach_doubts.as_slice() else { panic!("{:?}", story.reach_doubts) };
    let ReachDoubt::Fell(by) = *doubt else { panic!("{doubt:?}") };
    assert!(by >= Length::from_mm(25) && by <= Length::from_mm(35), "{by:?}");
    assert_eq!(*date, day_of(10));
}

#[test]
fn bands_change_at_the_birthday() {
    let boy = boy_who_only_grows();
    let story = season_story(&boy.person, &season_of(&boy), TrendKey::USUAL, Span::All);
    // Born in March 2012: 13 until the end of March 2026, 14 from April on.
    let april = chrono::NaiveDate::from_ymd_opt(2026, 4, 1).unwrap();
    let spans: Vec<_> = story.bands.iter().map(|age| (age.since, age.until)).collect();
    let end = day_of(29) + chrono::Days::new(1);
    assert_eq!(spans, [(day_of(0), april), (april, end)]);
    let mut nobody = boy.person.clone();
    nobody.compare = None;
    let story = season_story(&nobody, &season_of(&boy), TrendKey::USUAL, Span::All);
    assert!(story.bands.iter().all(|age| age.standings.is_empty()));
    let mut both = boy.person.clone();
    both.compare = Some(Compare::Both);
    let story = season_story(&both, &season_of(&boy), TrendKey::USUAL, Span::All);
    let sexes: Vec<Sex> = story.bands[0].standings.iter().map(|s| s.cell.sex).collect();
    assert!(sexes.contains(&Sex::Female) && sexes.contains(&Sex::Male));
}

#[test]
fn a_season_without_tests_or_with_few_is_told_as_such() {
    let boy = boy_who_only_grows();
    let none = season_story(&boy.person, &[], TrendKey::USUAL, Span::All);
    assert_eq!((none.verdict(), none.tests.len()), (Verdict::TooFew, 0));
    assert_eq!((none.typical_error_cm, none.season), (None, None));
    let tests = season_of(&boy);
    let of = |count: usize| {
        season_story(&boy.person, &tests[..count], TrendKey::USUAL, Span::All).verdict()
    };
    assert_eq!(of(1), Verdict::TooFew);
    assert_ne!(of(2), Verdict::TooFew);
}

proptest::proptest! {
    /// Whatever a backup holds, the story is told: nothing panics, and every test is accounted for.
    #[test]
    fn any_records_at_all_make_a_story(
        person in crate::samples::any_person(),
        tests in proptest::collection::vec(crate::samples::any_test(), 0..25),
    ) {
        for key in keys(&tests) {
            let story = season_story(&person, &tests, key, Span::All);
            let own = tests.iter().filter(|test| test.person == person.local).count();
            let listed: usize = story.left_out.iter().map(|group| group.count).sum();
            let both = story.tests.iter().filter(|test| !test.counts()).count();
            proptest::prop_assert_eq!(story.tests.len() + listed - both, own);
        }
    }
}
