/// Why a published table is not used to place a score.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum WhyLeftOut {
    /// Another device or arms, and only a summary was read.
    OtherDeviceSummaryOnly,
    /// People of about fifty years ago, who jumped far higher than today's: history.
    OldCohort,
    /// A scoring scale of equal steps, not percentiles.
    NotPercentiles,
    /// Power, not height.
    NotAHeight,
    /// Limits that drift away from the survey they belong to.
    LimitsDrift,
    /// Trained children.
    TrainedChildren,
    /// The method is not printed.
    MethodNotPrinted,
    /// Means only, ages pooled: a cross-check.
    PooledAges,
    /// One threshold for both sexes and all ages.
    OneThreshold,
    /// The spread only.
    SpreadOnly,
    /// Too young for a wall test.
    PreSchool,
    /// Recalled, never verified.
    NotVerified,
}

/// A table that was read and is not used.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct LeftOut {
    /// Short name.
    pub id: &'static str,
    /// What it is.
    pub citation: &'static str,
    /// Why it is not used.
    pub why: WhyLeftOut,
}

const fn left_out(id: &'static str, citation: &'static str, why: WhyLeftOut) -> LeftOut {
    LeftOut { id, citation, why }
}

/// Every table that was read and is not used to place a score, for the page on sources.
pub static LEFT_OUT: [LeftOut; 16] = [
    left_out(
        "usa_larkin_2024",
        "Larkin J, Myre P, Larkin L, Vertical jump assessment and norms for college students, 2024",
        WhyLeftOut::PooledAges,
    ),
    left_out(
        "jpn_school_1976_1977",
        "Fukushima Prefecture, school sports test, 1976 and 1977",
        WhyLeftOut::OldCohort,
    ),
    left_out(
        "jpn_sapporo_1996",
        "Sapporo city school fitness survey 1996, three numbers retold",
        WhyLeftOut::OldCohort,
    ),
    left_out(
        "col_fuprecol_2017",
        "Ramirez-Velez R et al., J Strength Cond Res 2017;31(4):990-998",
        WhyLeftOut::OtherDeviceSummaryOnly,
    ),
    left_out(
        "chn_cnhs_2023",
        "He H et al., Global Transitions 2023;5:141-148",
        WhyLeftOut::OtherDeviceSummaryOnly,
    ),
    left_out(
        "chn_tian_2023",
        "Tian J et al., Chinese Journal of School Health 2023;44(3):428-431",
        WhyLeftOut::OtherDeviceSummaryOnly,
    ),
    left_out(
        "mex_police_2021",
        "Mantilla-Rodriguez et al., J Hum Sport Exerc 2021;16(Proc4)",
        WhyLeftOut::OtherDeviceSummaryOnly,
    ),
    left_out(
        "hrv_svn_preschool_2025",
        "Petric V, Ljubicic S, Novak D, Biomechanics 2025;5(3):56",
        WhyLeftOut::PreSchool,
    ),
    left_out(
        "kor_nfa_grades",
        "National fitness award, South Korea, grade limits",
        WhyLeftOut::LimitsDrift,
    ),
    left_out(
        "can_chms_power_2016",
        "Hoffmann MD et al., Health Reports 2019;30(10):14-22, Table 5",
        WhyLeftOut::NotAHeight,
    ),
    left_out(
        "usa_chu_1996",
        "Chu DA, Explosive Power and Strength, 1996",
        WhyLeftOut::NotPercentiles,
    ),
    left_out(
        "ukr_state_1996",
        "Cabinet of Ministers of Ukraine, resolution 80 of 15 January 1996",
        WhyLeftOut::MethodNotPrinted,
    ),
    left_out(
        "rus_tennis_2005",
        "Model programme of sports training in tennis, 2005, Table 1",
        WhyLeftOut::TrainedChildren,
    ),
    left_out(
        "usa_le_norm",
        "Physical Fitness Assessments and Norms, pp. 44-45, as described by a testing consortium",
        WhyLeftOut::OneThreshold,
    ),
    left_out(
        "usa_reel_cv",
        "Variability in explosive power and effects of stature during the aging process (abstract)",
        WhyLeftOut::SpreadOnly,
    ),
    left_out(
        "memory",
        "Appraisal bands and standards recalled without a page to read",
        WhyLeftOut::NotVerified,
    ),
];
