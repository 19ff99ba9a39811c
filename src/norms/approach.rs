use super::source::Citation;
use crate::quantity::Length;

/// Whose gain was measured.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum ApproachPeople {
    /// Men at the draft combine of professional basketball, own run-up.
    BasketballMen,
    /// College volleyball women, four-step run-up.
    VolleyballWomen,
    /// What coaches expect of trained jumpers.
    TrainedJumpers,
}

/// Where a gain comes from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ApproachOrigin {
    /// Published, or computed from open data.
    Published(Citation),
    /// Common practice, no source.
    CommonPractice,
}

/// How much higher a jump with a run-up is than one from standing: an expectation with its spread,
/// never a conversion. A run-up jump has no place in a table of standing jumps.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct ApproachGain {
    /// Whose.
    pub people: ApproachPeople,
    /// How many, where measured.
    pub n: Option<u32>,
    /// The mean gain, where known.
    pub mean: Option<Length>,
    /// The standard deviation between people, where known.
    pub sd: Option<Length>,
    /// What most people lie in: the 10th to the 90th percentile, or the usual saying.
    pub most: Option<(Length, Length)>,
    /// Where it comes from.
    pub origin: ApproachOrigin,
}

/// What is known of the gain, best known first.
///
/// The two kinds of source disagree: common practice says 6 to 12 inches, while the middle of 1187
/// measured men gained 5 and only the upper half reached 6.
pub static APPROACH_GAINS: [ApproachGain; 3] = [
    ApproachGain {
        people: ApproachPeople::BasketballMen,
        n: Some(1_187),
        mean: Some(Length::from_mm(132)),
        sd: Some(Length::from_mm(48)),
        most: Some((Length::from_micrometres(76_200), Length::from_micrometres(190_500))),
        origin: ApproachOrigin::Published(Citation {
            authors: "Open data file; paired differences computed for this project",
            year: Some(2019),
            work: "Results of the professional basketball draft combine 2000-2019",
            read_at: "public repository MaxYichenWang/NBA_Project, draft_combine_stats.csv, \
                      commit 85dae0b9",
        }),
    },
    ApproachGain {
        people: ApproachPeople::VolleyballWomen,
        n: Some(10),
        mean: Some(Length::from_mm(50)),
        sd: None,
        most: None,
        origin: ApproachOrigin::Published(Citation {
            authors: "Hsieh C, Christiansen CL",
            year: Some(2010),
            work: "The effect of approach on spike jump height for female volleyball players. \
                   Int J Sports Sci Coach 2010;5(3):373-380, DOI 10.1260/1747-9541.5.3.373",
            read_at: "lida.sport-iat.de/dvv/Record/4020473 (abstract)",
        }),
    },
    ApproachGain {
        people: ApproachPeople::TrainedJumpers,
        n: None,
        mean: None,
        sd: None,
        most: Some((Length::from_inch_eighths(48), Length::from_inch_eighths(96))),
        origin: ApproachOrigin::CommonPractice,
    },
];
