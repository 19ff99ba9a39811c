//! Published tables in words: whom they are about, how they were made, what they can say.

use super::Words;
use crate::norms::{
    AgeSpan, ApproachGain, ApproachOrigin, ApproachPeople, Arms, Attempts, Attribution,
    COVERAGE_TO, Caution, Cell, Citation, Comparability, Described, Grade, Layer, LeftOut, Licence,
    Listing, Method, Population, Sample, Source, Statistic, StatisticBasis, WhyLeftOut,
};
use crate::quantity::{Length, Sex, Unit};

impl Words {
    /// Whom a table's cell is about, short: "Girls 10–12, Indonesia".
    pub fn source_title(&self, source: &Source, cell: &Cell) -> String {
        self.norm_title(&self.people(cell.sex, cell.ages), &self.place_of(source))
    }

    /// The name of a table in a list of tables: "Indonesia, 10–19".
    pub fn source_heading(&self, source: &Source) -> String {
        let place = self.place_of(source);
        let from = source.cells.iter().map(|cell| cell.ages.from).min();
        let to = source.cells.iter().map(|cell| cell.ages.to).max();
        match (from, to) {
            (Some(from), Some(to)) if to < AgeSpan::ADULT.to => {
                self.bands_heading(&place, &self.ages(AgeSpan::new(from, to)))
            }
            _ => place,
        }
    }

    /// Ages in completed years: "10–12", "13".
    pub fn ages(&self, ages: AgeSpan) -> String {
        let number = |years: u8| self.whole(u32::from(years));
        match ages.from == ages.to {
            true => number(ages.from),
            false => self.norm_ages(&number(ages.from), &number(ages.to)),
        }
    }

    /// Ages of a row of the coverage table: "up to 5", "10–12", "65 and over".
    pub fn coverage_ages(&self, ages: AgeSpan) -> String {
        let number = |years: u8| self.whole(u32::from(years));
        if ages.from == 0 {
            self.bands_ages_up_to(&number(ages.to))
        } else if ages.to >= COVERAGE_TO {
            self.bands_ages_from(&number(ages.from))
        } else {
            self.ages(ages)
        }
    }

    /// A table in a row of the coverage table: "Indonesia, 10–19 (strips)".
    pub fn listing(&self, listing: &Listing) -> String {
        let kind = match listing.source.layer {
            Layer::Percentiles | Layer::MeanAndSd => self.bands_kind_places(),
            Layer::Bands => self.bands_kind_strips(),
            Layer::AverageLine => self.bands_kind_average(),
            Layer::OwnEstimate => self.bands_kind_estimate(),
        };
        self.bands_listing(&self.source_heading(listing.source), &kind)
    }

    fn people(&self, sex: Sex, ages: AgeSpan) -> String {
        const GROWN_UP: u8 = AgeSpan::ADULT.from;
        let span = self.ages(ages);
        match (sex, ages) {
            (Sex::Female, AgeSpan::ADULT) => self.norm_all_women(),
            (Sex::Male, AgeSpan::ADULT) => self.norm_all_men(),
            (Sex::Female, _) if ages.to < GROWN_UP => self.norm_girls(&span),
            (Sex::Male, _) if ages.to < GROWN_UP => self.norm_boys(&span),
            (Sex::Female, _) if ages.from < GROWN_UP => self.norm_young_women(&span),
            (Sex::Male, _) if ages.from < GROWN_UP => self.norm_young_men(&span),
            (Sex::Female, _) => self.norm_women(&span),
            (Sex::Male, _) => self.norm_men(&span),
        }
    }

    fn place_of(&self, source: &Source) -> String {
        if source.layer == Layer::OwnEstimate {
            return self.norm_place_estimate();
        }
        match source.population {
            Population::IndonesiaPupils => self.norm_place_idn(),
            Population::BritainYouth | Population::BritainPupils => self.norm_place_gbr(),
            Population::AustraliaAdults => self.norm_place_aus(),
            Population::UsaBoys | Population::UsaMenTwenties => self.norm_place_usa(),
            Population::UsaActiveStudents => self.norm_place_usa_students(),
            Population::CanadaHouseholds => self.norm_place_can(),
            Population::KoreaHospitalForties => self.norm_place_kor_hospital(),
            Population::KoreaTestCentres => self.norm_place_kor(),
            Population::UsaRecruits => self.norm_place_recruits(),
            Population::UsaCollegeFootball => self.norm_place_college_football(),
            Population::UsaFootballCombine => self.norm_place_football(),
            Population::UsaBasketballCombine => self.norm_place_basketball(),
        }
    }

    /// Who was measured, as a sentence.
    pub fn population(&self, population: Population) -> String {
        match population {
            Population::IndonesiaPupils => self.norm_who_idn(),
            Population::BritainYouth => self.norm_who_gbr_youth(),
            Population::BritainPupils => self.norm_who_gbr_pupils(),
            Population::AustraliaAdults => self.norm_who_aus(),
            Population::UsaBoys => self.norm_who_usa_boys(),
            Population::UsaMenTwenties => self.norm_who_usa_twenties(),
            Population::UsaActiveStudents => self.norm_who_usa_students(),
            Population::CanadaHouseholds => self.norm_who_can(),
            Population::KoreaHospitalForties => self.norm_who_kor_hospital(),
            Population::KoreaTestCentres => self.norm_who_kor(),
            Population::UsaRecruits => self.norm_who_recruits(),
            Population::UsaCollegeFootball => self.norm_who_college_football(),
            Population::UsaFootballCombine => self.norm_who_football(),
            Population::UsaBasketballCombine => self.norm_who_basketball(),
        }
    }

    /// What a height was measured with.
    pub fn method(&self, method: Method) -> String {
        match method {
            Method::Wall => self.norm_method_wall(),
            Method::ProbablyWall => self.norm_method_probably_wall(),
            Method::Slats => self.norm_method_slats(),
            Method::ForcePlate => self.norm_method_plate(),
            Method::FlightTime => self.norm_method_flight(),
            Method::NotStated => self.norm_method_not_stated(),
        }
    }

    /// How near a way of testing is to marks on a wall.
    pub fn comparability(&self, comparability: Comparability) -> String {
        match comparability {
            Comparability::Same => self.norm_near_same(),
            Comparability::SameOrClose => self.norm_near_same_or_close(),
            Comparability::Close => self.norm_near_close(),
            Comparability::OtherDevice => self.norm_near_other(),
        }
    }

    /// What to keep in mind with a table.
    pub fn cautions(&self, source: &Source) -> Vec<String> {
        let of = |caution: &Caution| match caution {
            Caution::ProcedureAndSampleUnknown => self.norm_care_nothing_known(),
            Caution::SampleUnknown => self.norm_care_sample(),
            Caution::LimitsNotPercentiles => self.norm_care_limits(),
            Caution::ReadsLowerThanAWall => match source.layer {
                Layer::OwnEstimate => self.norm_care_flight_estimate(),
                _ => self.norm_care_flight(),
            },
            Caution::OtherDevice => self.norm_care_device(),
            Caution::MethodNotStated => self.norm_care_method(),
            Caution::OwnEstimate => self.norm_care_estimate(),
            Caution::ActiveSample => self.norm_care_active(),
            Caution::SelfSelected => self.norm_care_chosen(),
            Caution::NoAgeSplit => self.norm_care_no_ages(),
            Caution::LooksSmoothed => self.norm_care_smoothed(),
            Caution::SmallGroup => self.norm_care_small(),
            Caution::Athletes => self.norm_care_athletes(),
        };
        source.cautions.iter().map(of).collect()
    }

    /// Everything known of a table, as pairs of what and how, without its cautions and citation.
    pub fn source_facts(&self, source: &Source) -> Vec<(String, String)> {
        vec![
            (self.bands_whom(), self.population(source.population)),
            (self.bands_sample(), self.sample(source.sample)),
            (self.bands_years(), self.years_measured(source)),
            (self.bands_method(), self.method(source.method)),
            (self.bands_arms(), self.arms(source.arms)),
            (self.bands_attempts(), self.attempts(source.attempts)),
            (self.bands_statistic(), self.statistic(source)),
            (self.bands_near(), self.comparability(source.comparability)),
            (self.bands_layer(), self.layer(source.layer)),
            (self.bands_grade(), self.grade(source.grade)),
            (self.bands_licence(), self.licence(source.licence)),
        ]
    }

    /// Where something was published.
    pub fn citation(&self, citation: &Citation) -> String {
        match citation.year {
            // A year is a name, not a number: it takes no grouping.
            Some(year) => self.bands_cited(citation.authors, &year.to_string(), citation.work),
            None => self.bands_cited_no_year(citation.authors, citation.work),
        }
    }

    /// The line that names a source wherever its figures are shown.
    pub fn attribution(&self, source: &Source) -> String {
        match source.attribution {
            Attribution::Named(names) => names.to_owned(),
            Attribution::Described(described) => match described {
                Described::OwnEstimate => self.norm_from_estimate(),
                Described::TestCentres => self.norm_from_centres(),
                Described::HospitalScale => self.norm_from_hospital(),
                Described::BasketballDraft => self.norm_from_basketball(),
                Described::FootballDraft => self.norm_from_football(),
                Described::SchoolBook => self.norm_from_school_book(),
                Described::SchoolTest => self.norm_from_school_test(),
            },
        }
    }

    fn sample(&self, sample: Sample) -> String {
        match sample {
            Sample::Known(n) => self.norm_sample(n),
            Sample::SizeNotRead => self.norm_sample_not_read(),
            Sample::Unknown => self.norm_sample_unknown(),
        }
    }

    fn years_measured(&self, source: &Source) -> String {
        match source.years_measured {
            Some((from, to)) => self.norm_years(&from.to_string(), &to.to_string()),
            None => self.norm_years_unknown(),
        }
    }

    fn arms(&self, arms: Arms) -> String {
        match arms {
            Arms::Swing => self.norm_arms_swing(),
            Arms::UsuallySwing => self.norm_arms_usual(),
            Arms::NotStated => self.norm_arms_not_stated(),
        }
    }

    fn attempts(&self, attempts: Attempts) -> String {
        match attempts {
            Attempts::Three => self.norm_attempts_three(),
            Attempts::NotStated => self.norm_attempts_not_stated(),
        }
    }

    fn statistic(&self, source: &Source) -> String {
        let which = match source.statistic {
            Statistic::Best => self.norm_statistic_best(),
            Statistic::BestOrMean => self.norm_statistic_either(),
        };
        let basis = match source.statistic_basis {
            StatisticBasis::Implied => self.norm_basis_implied(),
            StatisticBasis::PagesDiffer => self.norm_basis_differ(),
            StatisticBasis::NotStated => self.norm_basis_not_stated(),
        };
        self.two_sentences(&which, &basis)
    }

    fn layer(&self, layer: Layer) -> String {
        match layer {
            Layer::Percentiles => self.norm_layer_percentiles(),
            Layer::MeanAndSd => self.norm_layer_mean(),
            Layer::Bands => self.norm_layer_bands(),
            Layer::AverageLine => self.norm_layer_average(),
            Layer::OwnEstimate => self.norm_layer_estimate(),
        }
    }

    fn grade(&self, grade: Grade) -> String {
        match grade {
            Grade::ATable => self.norm_grade_table(),
            Grade::AAbstract => self.norm_grade_abstract(),
            Grade::AData => self.norm_grade_data(),
            Grade::B => self.norm_grade_quoted(),
        }
    }

    fn licence(&self, licence: Licence) -> String {
        match licence {
            Licence::NotSeen => self.norm_licence_not_seen(),
            Licence::OpenWithAttribution => self.norm_licence_open(),
            Licence::OpenDataLicenceNotRead => self.norm_licence_data(),
        }
    }

    /// A table that is not used, and why.
    pub fn left_out(&self, table: &LeftOut) -> String {
        let why = match table.why {
            WhyLeftOut::OtherDeviceSummaryOnly => self.bands_why_other_device(),
            WhyLeftOut::OldCohort => self.bands_why_old(),
            WhyLeftOut::NotPercentiles => self.bands_why_scale(),
            WhyLeftOut::NotAHeight => self.bands_why_power(),
            WhyLeftOut::LimitsDrift => self.bands_why_drift(),
            WhyLeftOut::TrainedChildren => self.bands_why_trained(),
            WhyLeftOut::MethodNotPrinted => self.bands_why_method(),
            WhyLeftOut::PooledAges => self.bands_why_pooled(),
            WhyLeftOut::OneThreshold => self.bands_why_one(),
            WhyLeftOut::SpreadOnly => self.bands_why_spread(),
            WhyLeftOut::PreSchool => self.bands_why_young(),
            WhyLeftOut::NotVerified => self.bands_why_not_checked(),
        };
        self.bands_left_out(table.citation, &why)
    }

    /// What no table covers, one sentence each.
    pub fn not_covered(&self) -> Vec<String> {
        vec![
            self.bands_missing_young_places(),
            self.bands_missing_adult_places(),
            self.bands_missing_strips(),
            self.bands_missing_ages(),
            self.bands_missing_flight(),
            self.bands_missing_jumps(),
            self.bands_missing_ground(),
            self.bands_missing_own_way(),
        ]
    }

    /// How much a run-up added for some people.
    pub fn approach_gain(&self, gain: &ApproachGain, unit: Unit) -> String {
        let said = |length: Option<Length>| {
            // As published, not rounded to what a wall can show.
            let exact = |length| self.with_unit(&self.exact_number(length, unit), unit);
            length.map(exact).unwrap_or_default()
        };
        let n = gain.n.unwrap_or_default();
        let (low, high) = (said(gain.most.map(|most| most.0)), said(gain.most.map(|most| most.1)));
        match gain.people {
            ApproachPeople::BasketballMen => {
                self.bands_run_up_basketball(n, &said(gain.mean), &said(gain.sd), &low, &high)
            }
            ApproachPeople::VolleyballWomen => self.bands_run_up_volleyball(n, &said(gain.mean)),
            ApproachPeople::TrainedJumpers => self.bands_run_up_coaches(&low, &high),
        }
    }

    /// Where a gain comes from; nothing for common practice, which the sentence says itself.
    pub fn approach_source(&self, gain: &ApproachGain) -> Option<String> {
        match &gain.origin {
            ApproachOrigin::Published(citation) => Some(self.citation(citation)),
            ApproachOrigin::CommonPractice => None,
        }
    }
}
