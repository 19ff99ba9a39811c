use super::table::Cell;

/// Where a table was published and where it was read.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Citation {
    /// Authors or issuing body.
    pub authors: &'static str,
    /// Year of publication, where known.
    pub year: Option<u16>,
    /// Title, journal or book, with what identifies it.
    pub work: &'static str,
    /// The page the numbers were read on.
    pub read_at: &'static str,
}

/// The line that names a source wherever its figures are shown.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Attribution {
    /// By the names and titles that it was published under, or in the words that its licence asks
    /// for: the same in every language.
    Named(&'static str),
    /// What was read has no title of its own, so it is described in the reader's language.
    Described(Described),
}

impl Attribution {
    /// The language of the line (BCP 47), where it is not the reader's.
    pub fn language(self) -> Option<&'static str> {
        matches!(self, Self::Named(_)).then_some("en")
    }
}

/// A source that is described for want of a title.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Described {
    /// Our own estimate from flight times of South Korea's fitness award centres, 2024 to 2026.
    OwnEstimate,
    /// South Korea's national fitness award centres, 2024 to 2026.
    TestCentres,
    /// The scale of a hospital's sports medicine unit, South Korea, as told by a newspaper.
    HospitalScale,
    /// Open data of the basketball draft combine, 2000 to 2019.
    BasketballDraft,
    /// Open data of the American-football draft combine, 2000 to 2022.
    FootballDraft,
    /// An Australian physical education textbook of 2010 whose title was not on the page read.
    SchoolBook,
    /// Indonesia's national school fitness test, 2010.
    SchoolTest,
}

/// Who was measured.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Population {
    /// Pupils, by the score table of Indonesia's national school fitness test.
    IndonesiaPupils,
    /// Young people 16 to 19, United Kingdom, described as national norms.
    BritainYouth,
    /// Pupils 15 to 16, United Kingdom, by a school textbook.
    BritainPupils,
    /// Adults over 20, Australia, by a school textbook.
    AustraliaAdults,
    /// Boys 13 to 14, United States, by a handbook.
    UsaBoys,
    /// Men 20 to 29 tested by a university fitness institute, United States.
    UsaMenTwenties,
    /// Active medical students and their spouses, United States.
    UsaActiveStudents,
    /// A national household sample of Canada.
    CanadaHouseholds,
    /// Adults in their forties, by the scale of a hospital's sports medicine unit, South Korea.
    KoreaHospitalForties,
    /// Visitors of public fitness test centres, South Korea.
    KoreaTestCentres,
    /// Law-enforcement recruits of one agency, United States.
    UsaRecruits,
    /// College players of American football.
    UsaCollegeFootball,
    /// Men at the draft combine of professional American football.
    UsaFootballCombine,
    /// Men at the draft combine of professional basketball, United States.
    UsaBasketballCombine,
}

/// What the height was measured with.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Method {
    /// A mark on a wall or a scaled board, standing reach subtracted.
    Wall,
    /// Probably a wall: the page describes one, the table itself does not say.
    ProbablyWall,
    /// An apparatus with slats swept aside by the hand, standing reach subtracted.
    Slats,
    /// A force plate and a formula.
    ForcePlate,
    /// Time in the air; with what it was timed was not read.
    FlightTime,
    /// Not stated where the table was read.
    NotStated,
}

/// What the arms did.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Arms {
    /// They swing.
    Swing,
    /// The usual way of this test is to swing them, but the page read does not say so.
    UsuallySwing,
    /// Not stated where the table was read.
    NotStated,
}

/// How many jumps each person had.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Attempts {
    /// Three.
    Three,
    /// Not stated where the table was read.
    NotStated,
}

/// Which figure of a person's jumps the table was made from, and so which one is compared.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Statistic {
    /// The best of the trials.
    Best,
    /// Pages that carry the table differ: one takes the best, another the mean. The range shown
    /// then runs from the mean minus its error to the best plus its error.
    BestOrMean,
}

/// How it is known which figure was used.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum StatisticBasis {
    /// Implied by the procedure on the page.
    Implied,
    /// Pages that carry the table disagree.
    PagesDiffer,
    /// Not stated; the best is compared, as handbooks do.
    NotStated,
}

/// How the numbers were come by.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Grade {
    /// The primary source's own table was read.
    ATable,
    /// Summary numbers from the primary source's abstract.
    AAbstract,
    /// Computed for this project from an open data file.
    AData,
    /// A secondary page that quotes the numbers and names the source.
    B,
}

/// How near a source's method is to marks on a wall with a free arm swing.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Comparability {
    /// The same method.
    Same,
    /// The same or a close method; the page leaves it open.
    SameOrClose,
    /// A close method: slats in place of the wall.
    Close,
    /// Another device, or unclear arms.
    OtherDevice,
}

/// How much a source supports saying.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Layer {
    /// Percentiles as printed.
    Percentiles,
    /// Mean and standard deviation; percentiles by a normal curve.
    MeanAndSd,
    /// Bands with printed limits.
    Bands,
    /// One average: above, near or below.
    AverageLine,
    /// Our own estimate of an average: above, near or below.
    OwnEstimate,
}

/// What is known of the right to reuse the figures.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Licence {
    /// No licence was seen; single figures are quoted as facts, with their source.
    NotSeen,
    /// An open licence that asks for attribution.
    OpenWithAttribution,
    /// Open data; the licence of the data was not read.
    OpenDataLicenceNotRead,
}

/// How many people stand behind a table.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Sample {
    /// The total is known.
    Known(u32),
    /// A sample is described but its size was not read.
    SizeNotRead,
    /// Nothing is known of the sample.
    Unknown,
}

/// A caveat that belongs beside every use of a source.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Caution {
    /// Neither the procedure nor the sample is known.
    ProcedureAndSampleUnknown,
    /// The sample behind the limits is unknown.
    SampleUnknown,
    /// Score limits of a test programme, not percentiles.
    LimitsNotPercentiles,
    /// Measured by time in the air, which reads lower than a wall by its definition.
    ReadsLowerThanAWall,
    /// Measured with another device.
    OtherDevice,
    /// The method was not stated.
    MethodNotStated,
    /// An estimate of our own from a flight-time survey.
    OwnEstimate,
    /// The people measured were more active than most.
    ActiveSample,
    /// People who chose to be tested.
    SelfSelected,
    /// One table for all adults, whatever their age.
    NoAgeSplit,
    /// The printed values look smoothed.
    LooksSmoothed,
    /// Few people were measured in some groups.
    SmallGroup,
    /// Trained people: a context, never a goal for children.
    Athletes,
}

/// One published table, or our own estimate, with who was measured and how.
#[derive(Debug)]
pub struct Source {
    /// Short name, also the name of its file in `docs/norms/`.
    pub id: &'static str,
    /// Who was measured.
    pub population: Population,
    /// Where it was published and read.
    pub citation: Citation,
    /// First and last year of measuring, where known.
    pub years_measured: Option<(u16, u16)>,
    /// How many people.
    pub sample: Sample,
    /// What with.
    pub method: Method,
    /// What the arms did.
    pub arms: Arms,
    /// How many jumps.
    pub attempts: Attempts,
    /// Which figure is compared.
    pub statistic: Statistic,
    /// How that is known.
    pub statistic_basis: StatisticBasis,
    /// How the numbers were come by.
    pub grade: Grade,
    /// How near the method is to ours.
    pub comparability: Comparability,
    /// What is known of reuse.
    pub licence: Licence,
    /// The line that names the source wherever its figures are shown.
    pub attribution: Attribution,
    /// How much it supports saying.
    pub layer: Layer,
    /// Caveats shown beside every use.
    pub cautions: &'static [Caution],
    /// The figures: one cell per sex and age group.
    pub cells: &'static [Cell],
}

// Two sources are the same when their short names are; the cells need no comparing.
impl PartialEq for Source {
    fn eq(&self, other: &Self) -> bool {
        self.id == other.id
    }
}

impl Eq for Source {}
