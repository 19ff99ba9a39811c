//! Published bands behind a class, and a set-up with a run-up.

use super::{class, day, result};
use two_marks::class::{Invitation, LinkProblem, class_bands, code, read_link, rows, write_link};
use two_marks::history::{Class, Read, Record, read, to_text};
use two_marks::measure::{TakeOff, Variant};
use two_marks::norms::AgeFit;
use two_marks::quantity::{AgeGroup, Compare, Sex};

const GIRLS: Option<Compare> = Some(Compare::With(Sex::Female));
const BOYS: Option<Compare> = Some(Compare::With(Sex::Male));

fn with(change: impl FnOnce(&mut Class)) -> Class {
    let mut class = class();
    change(&mut class);
    class
}

/// The tables behind a class of nine, with the numbers of each.
fn tables(class: &Class) -> Vec<(&'static str, Sex, Vec<u8>)> {
    let results: Vec<_> = (1..=9).map(|number| result(number, day(1), &[300, 310])).collect();
    let bands = class_bands(class, &rows(class, &results, day(1)));
    bands
        .into_iter()
        .map(|one| (one.listing.source.id, one.listing.cell.sex, one.numbers))
        .collect()
}

#[test]
fn without_an_age_group_and_tables_there_are_no_bands() {
    assert_eq!(tables(&class()), []);
    assert_eq!(tables(&with(|class| class.compare = GIRLS)), []);
    assert_eq!(tables(&with(|class| class.setup.age = Some(AgeGroup::From12To14))), []);
    let none = with(|class| {
        class.setup.age = Some(AgeGroup::From12To14);
        class.compare = Some(Compare::None);
    });
    assert_eq!(tables(&none), []);
}

#[test]
fn a_class_of_girls_has_the_bands_of_girls() {
    let girls = with(|class| {
        class.setup.age = Some(AgeGroup::From12To14);
        class.compare = GIRLS;
    });
    let all = tables(&girls);
    // 12 to 14 meets the Indonesian girls of 10-12 and of 13-15 (docs/norms/idn_tkji_bands.csv).
    assert_eq!(all[0].0, "idn_tkji_2010");
    assert!(all.iter().all(|(_, sex, numbers)| *sex == Sex::Female && numbers.len() == 9));
    let results = [result(1, day(1), &[300])];
    let one = &class_bands(&girls, &rows(&girls, &results, day(1)))[0];
    assert_eq!(one.age_fit, AgeFit::PartOfGroup);
}

#[test]
fn single_numbers_may_differ_and_the_largest_group_comes_first() {
    let mixed = with(|class| {
        class.setup.age = Some(AgeGroup::From12To14);
        class.compare = GIRLS;
        for number in 1..=3 {
            class.change_pupil(number, |pupil| pupil.compare = BOYS);
        }
        class.change_pupil(4, |pupil| pupil.compare = Some(Compare::None));
    });
    let all = tables(&mixed);
    assert_eq!((all[0].1, &all[0].2), (Sex::Female, &vec![5, 6, 7, 8, 9]));
    let boys: Vec<_> = all.iter().filter(|(_, sex, _)| *sex == Sex::Male).collect();
    assert!(!boys.is_empty() && boys.iter().all(|(.., numbers)| *numbers == [1, 2, 3]));
    // Taken back, a number is like the class again and leaves nothing behind.
    let mut again = mixed.clone();
    again.change_pupil(4, |pupil| pupil.compare = None);
    assert_eq!(again.pupils.len(), 3);
}

const RUN_UP: Variant = Variant::Approach { steps: 3, take_off: TakeOff::TwoFeet };

#[test]
fn a_run_up_has_no_bands_and_its_link_is_of_another_kind() {
    let runs = with(|class| {
        class.setup.variant = RUN_UP;
        class.setup.age = Some(AgeGroup::From12To14);
        class.compare = GIRLS;
    });
    assert_eq!(tables(&runs), []);
    let invitation = Invitation { class: runs.id, setup: runs.setup.clone() };
    let link = write_link(&invitation).unwrap();
    assert!(link.starts_with('E'), "{link}");
    assert_eq!(read_link(&link), Ok(invitation));
    // A page that knows only the first kind calls it newer, and none takes it for a standing jump.
    assert_eq!(code::read('C', &link), Err(code::CodeProblem::Newer));
    for length in 1..link.len() {
        assert_eq!(read_link(&link[..length]), Err(LinkProblem::Damaged));
    }
    let mut far = runs;
    far.setup.variant = Variant::Approach { steps: 6, take_off: TakeOff::OneFoot };
    assert_eq!(write_link(&Invitation { class: far.id, setup: far.setup }), None);
}

/// A record of this version, for ever.
#[test]
fn a_class_with_a_run_up_and_tables_reads_back() {
    let text = r#"{"v":1,"k":"c","i":"BwcHBwcHAAAAAAAAAAAAAA","r":2,"e":1781458200000,"name":"Class 8B","u":"cm/2","jump":"approach","steps":3,"off":"two","reaches":1,"trials":3,"rest":30,"ready":true,"warm":true,"numbers":30,"age":"12-14","cmp":"both","pupils":[{"no":2,"cmp":"male"},{"no":5,"age":"15-17","cmp":"none"}]}"#;
    let Read::Good(record) = read(text) else { panic!("refused") };
    assert_eq!(to_text(&record), text);
    let Record::Class(class) = *record else { panic!("another record") };
    assert_eq!((class.setup.variant, class.compare), (RUN_UP, Some(Compare::Both)));
    assert_eq!(
        (class.age_of(5), class.compare_of(5)),
        (Some(AgeGroup::From15To17), Some(Compare::None))
    );
    assert_eq!((class.age_of(2), class.compare_of(2)), (Some(AgeGroup::From12To14), BOYS));
    for (from, to) in [
        (r#""no":5"#, r#""no":2"#),
        (r#""no":5"#, r#""no":201"#),
        (r#""cmp":"male""#, r#""cmp":"any""#),
        (r#""steps":3"#, r#""steps":6"#),
        (r#""jump":"approach""#, r#""jump":"squat""#),
    ] {
        assert!(text.contains(from));
        assert!(read(&text.replace(from, to)).good().is_none(), "{to}");
    }
}
