//! The rules of the lookup: order, edges of age groups, caps, reasons.

use super::*;
use two_marks::measure::{ReachMethod, Surface, TakeOff, Variant};
use two_marks::norms::tables::*;
use two_marks::norms::{
    AgeFit, Caution, NoPosition, NotComparable, Numbering, ShownPercentile, TestKind, test_kind,
};
use two_marks::quantity::{AgeGroup, BirthMonth, Sex::*};

fn ids(sex: Sex, age: Age) -> Vec<&'static str> {
    let all = standings(TrendKey::USUAL, sex, age, &exact(35.0));
    all.iter().map(|standing| standing.source.id).collect()
}

/// Sources with the ages of the cell and how they fit.
fn fits(key: TrendKey, sex: Sex, age: Age) -> Vec<(&'static str, u8, u8, AgeFit)> {
    let all = standings(key, sex, age, &exact(35.0));
    all.iter().map(|s| (s.source.id, s.cell.ages.from, s.cell.ages.to, s.age_fit)).collect()
}

#[test]
fn boys_13_and_14_see_the_school_bands_before_the_deciles_of_unknown_origin() {
    let order = ["idn_tkji_2010", "usa_hoffman_2006", "can_chms_youth_2016"];
    assert_eq!(ids(Male, aged(13)), order);
    assert_eq!(ids(Male, aged(14)), order);
    assert!(USA_HOFFMAN_2006.cautions.contains(&Caution::ProcedureAndSampleUnknown));
}

#[test]
fn another_score_in_the_same_cell_stands_where_a_test_of_that_height_would() {
    let mut moved = 0;
    for years in [13, 14, 16, 25, 45] {
        let low = standings(TrendKey::USUAL, Male, aged(years), &exact(25.0));
        let high = standings(TrendKey::USUAL, Male, aged(years), &exact(60.0));
        assert_eq!(low.len(), high.len());
        for (low, high) in low.iter().zip(&high) {
            assert_eq!(low.for_score(&exact(60.0)), *high);
            moved += usize::from(low.position != high.position);
        }
    }
    assert!(moved > 5, "{moved}");
}

#[test]
fn our_estimate_starts_at_20() {
    for sex in [Female, Male] {
        for years in 0..20 {
            assert!(!ids(sex, aged(years)).contains(&"estimate_from_flight"), "{years}");
        }
        for years in 20..=64 {
            assert!(ids(sex, aged(years)).contains(&"estimate_from_flight"), "{years}");
        }
    }
}

#[test]
fn flight_times_and_wall_scores_never_share_a_table() {
    for sex in [Female, Male] {
        for years in 0..=100 {
            let wall = ids(sex, aged(years));
            assert!(!wall.contains(&"kor_nfa_2024_2026"), "{years}");
            let flight = fits(FLIGHT, sex, aged(years));
            assert!(flight.iter().all(|fit| fit.0 == "kor_nfa_2024_2026"));
            assert_eq!(flight.is_empty(), !(13..=64).contains(&years), "{years}");
        }
    }
}

#[test]
fn twelve_today_thirteen_next_month() {
    let born = BirthMonth::new(2013, 6).unwrap();
    let on = |year, month| Age::on(born, chrono::NaiveDate::from_ymd_opt(year, month, 20).unwrap());
    let tkji = |age| -> Vec<(u8, u8, AgeFit)> {
        let all = fits(TrendKey::USUAL, Female, age);
        let of_tkji = all.into_iter().filter(|fit| fit.0 == "idn_tkji_2010");
        of_tkji.map(|(_, from, to, fit)| (from, to, fit)).collect()
    };
    assert_eq!(tkji(on(2026, 4)), [(10, 12, AgeFit::Today)]);
    let both = [(10, 12, AgeFit::Today), (13, 15, AgeFit::NextMonth)];
    assert_eq!(tkji(on(2026, 5)), both);
    let both = [(10, 12, AgeFit::Today), (13, 15, AgeFit::MaybeToday)];
    assert_eq!(tkji(on(2026, 6)), both);
    assert_eq!(tkji(on(2026, 7)), [(13, 15, AgeFit::Today)]);
}

#[test]
fn a_birthday_inside_a_group_changes_nothing() {
    for (maybe_one_more, months_to_birthday) in [(true, 0), (false, 1), (false, 6)] {
        let age = Age::Years { years: 10, maybe_one_more, months_to_birthday };
        let fits = fits(TrendKey::USUAL, Male, age);
        let tkji: Vec<_> = fits.iter().filter(|fit| fit.0 == "idn_tkji_2010").collect();
        assert_eq!(tkji, [&("idn_tkji_2010", 10, 12, AgeFit::Today)]);
    }
    // At 20 the adult bands only move down the list at the next birthday; listed once.
    let age = Age::Years { years: 20, maybe_one_more: true, months_to_birthday: 0 };
    let bands = fits(TrendKey::USUAL, Female, age);
    assert_eq!(bands.iter().filter(|fit| fit.0 == "aus_arkinstall_2010").count(), 1);
}

#[test]
fn an_age_group_shows_every_cell_it_touches_and_says_which_part() {
    let group = Age::Group(AgeGroup::From12To14);
    let expected = [
        ("idn_tkji_2010", 10, 12, AgeFit::PartOfGroup),
        ("idn_tkji_2010", 13, 15, AgeFit::PartOfGroup),
        ("can_chms_youth_2016", 11, 14, AgeFit::WholeGroup),
    ];
    assert_eq!(fits(TrendKey::USUAL, Female, group), expected);
    let adults = fits(TrendKey::USUAL, Male, Age::Group(AgeGroup::Adult));
    assert_eq!(adults, [("aus_arkinstall_2010", 20, 49, AgeFit::PartOfGroup)]);
    let said = place(FLIGHT, Compare::With(Male), Age::Group(AgeGroup::Adult), &exact(35.0));
    assert_eq!(said.by_sex[0].none_because, Some(NoPosition::AgeGroupTooWide));
}

#[test]
fn every_way_of_testing_that_fits_no_table_says_why() {
    let usual = TrendKey::USUAL;
    let approach = Variant::Approach { steps: 2, take_off: TakeOff::OneFoot };
    let cases = [
        (TrendKey { own_way: true, ..usual }, NotComparable::OwnWay),
        (TrendKey { variant: approach, ..usual }, NotComparable::Approach),
        (TrendKey { variant: Variant::HandsOnHips, ..FLIGHT }, NotComparable::OtherJump),
        (TrendKey { variant: Variant::HeldSquat, ..FLIGHT }, NotComparable::OtherJump),
        (TrendKey { reach_method: ReachMethod::Other, ..usual }, NotComparable::OtherReachMethod),
        (TrendKey { surface: Surface::Grass, ..usual }, NotComparable::OtherSurface),
        (TrendKey { surface: Surface::Sand, ..usual }, NotComparable::OtherSurface),
        (TrendKey { surface: Surface::Mat, ..usual }, NotComparable::OtherSurface),
        (TrendKey { surface: Surface::Slope, ..FLIGHT }, NotComparable::OtherSurface),
    ];
    for (key, why) in cases {
        let said = place(key, Compare::Both, aged(15), &exact(40.0));
        assert_eq!(said.none_because, Some(NoPosition::NotComparable(why)), "{key:?}");
        assert!(said.by_sex.is_empty() && !said.growers_differ);
    }
    assert_eq!(test_kind(usual), Ok(TestKind::Wall));
    // Time in the air needs no reach, so how one was taken does not matter.
    let mat = TrendKey { device: Device::TimingMat, reach_method: ReachMethod::Other, ..usual };
    assert_eq!(test_kind(mat), Ok(TestKind::FlightTime));
}

#[test]
fn nobody_is_placed_unasked_or_without_an_age() {
    let not_asked = place(TrendKey::USUAL, Compare::None, aged(15), &exact(40.0));
    assert_eq!(not_asked.none_because, Some(NoPosition::NotAsked));
    let unknown = place(TrendKey::USUAL, Compare::Both, Age::Unknown, &exact(40.0));
    assert_eq!(unknown.none_because, Some(NoPosition::AgeUnknown));
    assert!(not_asked.by_sex.is_empty() && unknown.by_sex.is_empty());
}

#[test]
fn both_sexes_stand_side_by_side() {
    let said = place(TrendKey::USUAL, Compare::Both, aged(15), &exact(40.0));
    let sexes: Vec<Sex> = said.by_sex.iter().map(|placement| placement.sex).collect();
    assert_eq!(sexes, [Female, Male]);
    for placement in &said.by_sex {
        assert!(placement.standings.iter().all(|s| s.cell.sex == placement.sex));
    }
}

#[test]
fn from_10_to_16_early_and_late_growers_differ() {
    let flag = |age| place(TrendKey::USUAL, Compare::Both, age, &exact(30.0)).growers_differ;
    for years in 0..=70 {
        assert_eq!(flag(aged(years)), (10..=16).contains(&years), "{years}");
    }
    assert!(flag(Age::Years { years: 9, maybe_one_more: true, months_to_birthday: 0 }));
    assert!(flag(Age::Group(AgeGroup::From12To14)));
    assert!(!flag(Age::Group(AgeGroup::Adult)));
}

#[test]
fn a_range_is_capped_to_what_the_table_printed() {
    // Texas prints the 10th at 37.1 cm and the 90th at 62.0 cm.
    let range = |cm, error| {
        let range = percentiles(wall(&USA_TEXAS_M2029, Male, 25, &with_error(cm, error)));
        [range.low, range.point, range.high].map(Percentile::shown)
    };
    use ShownPercentile::{About, Above, Below};
    assert_eq!(range(38.0, 1.5), [Below(10), About(12), About(17)]);
    assert_eq!(range(61.0, 1.5), [About(82), About(87), Above(90)]);
    assert_eq!(range(30.0, 1.5), [Below(10); 3]);
    assert_eq!(range(90.0, 1.5), [Above(90); 3]);
    // A mean and SD print nothing; beyond 1 and 99 nothing is said either.
    let range = percentiles(wall(&USA_PATTERSON_2004, Female, 23, &exact(60.0)));
    assert_eq!(range.point.shown(), Above(99));
    let range = percentiles(wall(&USA_PATTERSON_2004, Female, 23, &exact(15.0)));
    assert_eq!(range.point.shown(), Below(1));
    // 35.814 +/- 2.17 * 6.35 is the 98.5th and the 1.5th.
    for (cm, percent) in [(49.594, 98.5), (22.034, 1.5)] {
        check_percent(wall(&USA_PATTERSON_2004, Female, 23, &exact(cm)), percent);
    }
}

#[test]
fn a_range_across_a_limit_names_both_bands() {
    // idn_tkji_2010, girls 13-15: 30-38 is score 3, 39-49 score 4.
    let near_limit = bands(wall(&IDN_TKJI_2010, Female, 14, &with_error(38.0, 1.5)));
    assert_eq!((near_limit.low, near_limit.point, near_limit.high), (3, 3, 4));
    assert_eq!(near_limit.numbering, Numbering::SourceScore);
    let inside = bands(wall(&IDN_TKJI_2010, Female, 14, &with_error(34.0, 1.5)));
    assert_eq!((inside.low, inside.point, inside.high), (3, 3, 3));
    let names = bands(wall(&GBR_DAVIS_2000, Female, 17, &exact(34.0)));
    assert_eq!(names.numbering, Numbering::PlaceOnly);
}

#[test]
fn near_reaches_five_centimetres_either_way() {
    let word = |cm| average(wall(&ESTIMATE_FROM_FLIGHT, Male, 52, &exact(cm))).point;
    assert_eq!(word(47.0), Nearness::Near);
    assert_eq!(word(47.1), Nearness::Above);
    assert_eq!(word(37.0), Nearness::Near);
    assert_eq!(word(36.9), Nearness::Below);
    let range = average(wall(&ESTIMATE_FROM_FLIGHT, Male, 52, &with_error(46.0, 2.0)));
    assert_eq!(
        (range.low, range.point, range.high),
        (Nearness::Near, Nearness::Near, Nearness::Above)
    );
}

#[test]
fn where_pages_disagree_on_best_or_mean_the_range_spans_both() {
    // One page that carries gbr_davis_2000 takes the best of three, another their mean.
    let estimate =
        |cm| Estimate { height: Length::from_cm(cm), standard_error: Length::from_mm(10) };
    let score = Score { best: estimate(51.0), mean: Some(estimate(48.0)) };
    let davis = bands(wall(&GBR_DAVIS_2000, Male, 17, &score));
    assert_eq!((davis.low, davis.point, davis.high), (3, 4, 4));
    // A table of the best of the trials looks at the best alone: 50 to 52 is score 3.
    let tkji = bands(wall(&IDN_TKJI_2010, Male, 17, &score));
    assert_eq!((tkji.low, tkji.point, tkji.high), (3, 3, 3));
    // Only the highest mark of the day is known: the best alone.
    let top_only = bands(wall(&GBR_DAVIS_2000, Male, 17, &Score { mean: None, ..score }));
    assert_eq!((top_only.low, top_only.point, top_only.high), (4, 4, 4));
}

#[test]
fn tenths_are_the_printed_deciles_or_the_normal_curve() {
    let texas = cell(&USA_TEXAS_M2029, Male, 25).norm.tenths().unwrap();
    assert_eq!(texas[0], Length::from_mm(371));
    assert_eq!(texas[8], Length::from_mm(620));
    let patterson = cell(&USA_PATTERSON_2004, Female, 23).norm.tenths().unwrap();
    // 35.814 - 1.28155 * 6.35 = 27.676
    assert!((patterson[0].as_cm() - 27.676).abs() < 0.001);
    assert_eq!(patterson[4], Length::from_micrometres(358_140));
    assert_eq!(cell(&IDN_TKJI_2010, Male, 12).norm.tenths(), None);
    assert_eq!(cell(&USA_FOOTBALL_COMBINE, Male, 25).norm.tenths(), None, "no deciles printed");
}
