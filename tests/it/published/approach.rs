//! Run-up jumps: an expectation beside the score, never a place in a table of standing jumps.

use super::*;
use two_marks::measure::{TakeOff, Variant};
use two_marks::norms::{
    APPROACH_GAINS, ApproachGain, ApproachOrigin, ApproachPeople, NoPosition, NotComparable,
};

fn of(people: ApproachPeople) -> &'static ApproachGain {
    APPROACH_GAINS.iter().find(|gain| gain.people == people).unwrap()
}

#[test]
fn a_run_up_is_never_placed_among_standing_jumps() {
    for take_off in [TakeOff::OneFoot, TakeOff::TwoFeet] {
        let variant = Variant::Approach { steps: 3, take_off };
        let key = TrendKey { variant, ..TrendKey::USUAL };
        let said = place(key, Compare::Both, aged(25), &exact(60.0));
        assert!(said.by_sex.is_empty());
        let why = NoPosition::NotComparable(NotComparable::Approach);
        assert_eq!(said.none_because, Some(why));
    }
}

#[test]
fn the_basketball_gain_is_the_one_in_the_open_data() {
    // usa_basketball_combine, paired differences, n 1187: 13.19 +/- 4.81, P10 7.62, P90 19.05.
    let gain = of(ApproachPeople::BasketballMen);
    let near = |length: Option<Length>, cm: f64| {
        assert!((length.unwrap().as_cm() - cm).abs() < 0.05, "{cm}");
    };
    near(gain.mean, 13.19);
    near(gain.sd, 4.81);
    near(gain.most.map(|most| most.0), 7.62);
    near(gain.most.map(|most| most.1), 19.05);
    assert_eq!(gain.n, Some(1187));
    // Means of the two jumps of the same men: 87.23 - 74.03 = 13.20.
    near(gain.mean, 87.23 - 74.03);
}

#[test]
fn the_volleyball_gain_is_the_difference_of_the_two_means() {
    // usa_hsieh_2010, n 10: 38 +/- 6 with four steps, 33 +/- 5 from standing.
    let gain = of(ApproachPeople::VolleyballWomen);
    assert_eq!(gain.mean, Some(Length::from_mm(380 - 330)));
    assert!(gain.sd.is_none(), "the spread of the differences is not in the abstract");
}

#[test]
fn common_practice_and_the_measured_men_disagree() {
    // Common practice, no source: a run-up gives 6 to 12 inches.
    let practice = of(ApproachPeople::TrainedJumpers);
    assert_eq!(practice.origin, ApproachOrigin::CommonPractice);
    let (from, to) = practice.most.unwrap();
    assert_eq!((from, to), (Length::from_inch_eighths(48), Length::from_inch_eighths(96)));
    let measured = of(ApproachPeople::BasketballMen);
    // The mean of 1187 measured men lies under the lower end, their 90th percentile inside ...
    assert!(measured.mean.unwrap() < from);
    let (tenth, ninetieth) = measured.most.unwrap();
    assert!(tenth < from && from < ninetieth && ninetieth < to);
    // ... and ten volleyball women gained less than half of the lower end's 15 cm.
    assert!(of(ApproachPeople::VolleyballWomen).mean.unwrap().times(2) < from);
}
