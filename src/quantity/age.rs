use chrono::{Datelike, NaiveDate};

/// Birth year and month: as much as bands and waiting times need, and no more.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct BirthMonth {
    year: u16,
    month: u8,
}

impl BirthMonth {
    /// From a year of 1900 to 2200 and a month of 1 to 12; anything else is no birth month.
    pub const fn new(year: u16, month: u8) -> Option<Self> {
        if year < 1900 || year > 2200 || month < 1 || month > 12 {
            return None;
        }
        Some(Self { year, month })
    }

    /// The year.
    pub const fn year(self) -> u16 {
        self.year
    }

    /// The month, 1 to 12.
    pub const fn month(self) -> u8 {
        self.month
    }

    /// Whole months from the birth month to the month of a date; negative before birth.
    pub fn months_until(self, date: NaiveDate) -> i32 {
        let then = i32::from(self.year) * 12 + i32::from(self.month);
        let month = i32::try_from(date.month()).unwrap_or(1);
        date.year().saturating_mul(12).saturating_add(month) - then
    }
}

/// Coarse groups for people who give no birth month.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum AgeGroup {
    /// Under twelve.
    Under12,
    /// Twelve to fourteen.
    From12To14,
    /// Fifteen to seventeen.
    From15To17,
    /// Eighteen and over.
    Adult,
}

/// How old a person is on the day of a test, as far as they said.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Age {
    /// Completed years. In the birth month the birthday may or may not have passed: the younger age
    /// is used, and `maybe_one_more` says that the next band may apply too.
    Years {
        /// Completed years, 0 to 130.
        years: u8,
        /// The date lies in the birth month.
        maybe_one_more: bool,
        /// Months until the next birthday month, 1 to 12 (0 in the birth month itself).
        months_to_birthday: u8,
    },
    /// Only a group is known.
    Group(AgeGroup),
    /// Nothing is known: the rules for under 18 apply.
    Unknown,
}

impl Age {
    /// The age on a date from birth year and month; dates before birth count as age 0.
    ///
    /// ```
    /// use chrono::NaiveDate;
    /// use two_marks::quantity::{Age, BirthMonth};
    /// let born = BirthMonth::new(2013, 6).unwrap();
    /// let may = NaiveDate::from_ymd_opt(2026, 5, 31).unwrap();
    /// let june = NaiveDate::from_ymd_opt(2026, 6, 30).unwrap();
    /// assert_eq!(Age::on(born, may).youngest_years(), Some(12));
    /// // Born on some day of June: not surely thirteen before July.
    /// assert_eq!(Age::on(born, june).youngest_years(), Some(12));
    /// ```
    pub fn on(born: BirthMonth, date: NaiveDate) -> Self {
        let months = born.months_until(date).max(0);
        let birth_month = months % 12 == 0 && months > 0;
        let whole_years = if birth_month { months / 12 - 1 } else { months / 12 };
        let to_birthday = if birth_month { 0 } else { 12 - months % 12 };
        Self::Years {
            years: u8::try_from(whole_years.min(130)).unwrap_or(0),
            maybe_one_more: birth_month,
            months_to_birthday: u8::try_from(to_birthday).unwrap_or(0),
        }
    }

    /// Completed years where they are known; the younger of two in the birth month.
    pub const fn youngest_years(self) -> Option<u8> {
        match self {
            Self::Years { years, .. } => Some(years),
            Self::Group(_) | Self::Unknown => None,
        }
    }

    /// The group this age lies in, as far as it is known; the younger one in the birth month.
    pub const fn group(self) -> Option<AgeGroup> {
        match self {
            Self::Years { years: ..12, .. } => Some(AgeGroup::Under12),
            Self::Years { years: 12..15, .. } => Some(AgeGroup::From12To14),
            Self::Years { years: 15..18, .. } => Some(AgeGroup::From15To17),
            Self::Years { years: 18.., .. } => Some(AgeGroup::Adult),
            Self::Group(group) => Some(group),
            Self::Unknown => None,
        }
    }

    /// Whether the rules for grown-ups apply. Unknown ages follow the rules for under 18.
    pub const fn is_adult(self) -> bool {
        match self {
            Self::Years { years, .. } => years >= 18,
            Self::Group(group) => matches!(group, AgeGroup::Adult),
            Self::Unknown => false,
        }
    }

    /// Whether the person is surely younger than twelve (shorter waiting times apply to them).
    pub const fn is_under_12(self) -> bool {
        match self {
            Self::Years { years, .. } => years < 12,
            Self::Group(group) => matches!(group, AgeGroup::Under12),
            Self::Unknown => false,
        }
    }

    /// Whether an adult should be present: surely under 13, or in a group that may be.
    pub const fn needs_adult_present(self) -> bool {
        match self {
            Self::Years { years, .. } => years < 13,
            Self::Group(group) => matches!(group, AgeGroup::Under12 | AgeGroup::From12To14),
            Self::Unknown => false,
        }
    }

    /// Whether a jump with a run-up is offered: surely 15 or older.
    ///
    /// ```
    /// use two_marks::quantity::{Age, AgeGroup};
    /// assert!(Age::Group(AgeGroup::From15To17).may_run_up());
    /// assert!(!Age::Group(AgeGroup::From12To14).may_run_up());
    /// assert!(!Age::Unknown.may_run_up());
    /// ```
    pub const fn may_run_up(self) -> bool {
        matches!(self.group(), Some(AgeGroup::From15To17 | AgeGroup::Adult))
    }

    /// Whether a parent answers the health question: under 15, or in a group that may be.
    pub const fn parent_answers(self) -> bool {
        match self {
            Self::Years { years, .. } => years < 15,
            Self::Group(group) => matches!(group, AgeGroup::Under12 | AgeGroup::From12To14),
            Self::Unknown => false,
        }
    }
}

/// The populations published tables are split by.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Sex {
    /// Girls and women.
    Female,
    /// Boys and men.
    Male,
}

/// Which published tables a person chose to be compared with.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Compare {
    /// The tables of one sex.
    With(Sex),
    /// Both, side by side.
    Both,
    /// No tables.
    None,
}

#[cfg(test)]
mod tests {
    use super::*;

    fn age(born: (u16, u8), on: (i32, u32, u32)) -> Age {
        let date = NaiveDate::from_ymd_opt(on.0, on.1, on.2).unwrap();
        Age::on(BirthMonth::new(born.0, born.1).unwrap(), date)
    }

    #[test]
    fn the_birth_month_uses_the_younger_age_and_says_so() {
        let in_month = Age::Years { years: 12, maybe_one_more: true, months_to_birthday: 0 };
        assert_eq!(age((2013, 6), (2026, 6, 1)), in_month);
        assert_eq!(age((2013, 6), (2026, 6, 30)), in_month);
        let after = Age::Years { years: 13, maybe_one_more: false, months_to_birthday: 11 };
        assert_eq!(age((2013, 6), (2026, 7, 1)), after);
        let before = Age::Years { years: 12, maybe_one_more: false, months_to_birthday: 1 };
        assert_eq!(age((2013, 6), (2026, 5, 31)), before);
    }

    #[test]
    fn a_new_born_and_a_date_before_birth_are_age_nought() {
        assert_eq!(age((2026, 6), (2026, 6, 1)).youngest_years(), Some(0));
        assert_eq!(age((2026, 6), (2020, 6, 1)).youngest_years(), Some(0));
    }

    #[test]
    fn unknown_age_follows_the_rules_for_under_18() {
        assert!(!Age::Unknown.is_adult());
        assert!(!Age::Unknown.is_under_12());
    }

    #[test]
    fn impossible_birth_months_are_refused() {
        assert!(BirthMonth::new(2013, 0).is_none());
        assert!(BirthMonth::new(2013, 13).is_none());
        assert!(BirthMonth::new(1899, 5).is_none());
    }
}
