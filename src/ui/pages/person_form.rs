//! The fields of a person: the same for somebody new and for somebody who is changed.

use crate::ui::prelude::*;

use two_marks::history::{Born, NICKNAME_MAX, Person, clean_line};
use two_marks::measure::Hand;
use two_marks::quantity::{AgeGroup, BirthMonth, Division, Unit};
use two_marks::text::{DateForm, Words};

use crate::ui::components::{
    Choice, Fix, check_row, error_summary, pick, select_field, text_field,
};
use crate::ui::state::App;

/// What is typed about a person until it is kept.
#[derive(Clone, Copy)]
pub(super) struct Form {
    pub(super) name: RwSignal<String>,
    group: RwSignal<Option<AgeGroup>>,
    month: RwSignal<String>,
    year: RwSignal<String>,
    hand: RwSignal<Option<Hand>>,
    unit: RwSignal<Option<Unit>>,
    own_way: RwSignal<bool>,
    fixes: RwSignal<Vec<Fix>>,
}

/// What is wrong with the form, over its fields.
pub(super) fn problems(app: App, form: Form) -> Tree {
    let fixes = form.fixes.get();
    let title = app.w().problem_summary(u32::try_from(fixes.len()).unwrap_or(0));
    let go = move |field: &str| (app.ports().focus)(field);
    (!fixes.is_empty()).then(|| error_summary(title, fixes, go)).into_tree()
}

/// The fields.
pub(super) fn fields(app: App, form: Form) -> Tree {
    let words = app.w();
    let name = text_field(
        "name",
        words.who_name(),
        Some(words.who_name_note()),
        false,
        form.name.into(),
        move |text| form.name.set(text),
    );
    let groups = vec![
        Choice::new(AgeGroup::Under12, words.who_age_under_12()),
        Choice::new(AgeGroup::From12To14, words.who_age_12_14()),
        Choice::new(AgeGroup::From15To17, words.who_age_15_17()),
        Choice::new(AgeGroup::Adult, words.who_age_adult()),
    ];
    let hands = vec![
        Choice::new(Hand::Left, words.who_left()),
        Choice::new(Hand::Right, words.who_right()),
    ];
    let units = vec![
        Choice::new(Unit::Centimetre, words.unit_cm_long()),
        Choice::new(Unit::Inch, words.unit_in_long()),
    ];
    view! {
        <div class="pad stack-wide">
            <div class="field">
                <p class="label" id="age-label">
                    {words.who_age_group()}
                </p>
                <p class="small soft">{words.who_age_group_note()}</p>
                {pick("age", "age-label".to_owned(), groups, form.group.into(), move |group| {
                    form.group.set(Some(group));
                })}
            </div>
            {name}
            {born_fields(&words, form)}
            <div class="field">
                <p class="label" id="hand-label">
                    {words.who_hand()}
                </p>
                {pick("hand", "hand-label".to_owned(), hands, form.hand.into(), move |hand| {
                    form.hand.set(Some(hand));
                })}
            </div>
            <div class="field">
                <p class="label" id="unit-label">
                    {words.who_units()}
                </p>
                {pick("unit", "unit-label".to_owned(), units, form.unit.into(), move |unit| {
                    form.unit.set(Some(unit));
                })}
            </div>
            {move || young(app, form)}
            <div class="checks">
                {check_row("own-way", words.who_own_way(), form.own_way.into(), move |on| {
                    form.own_way.set(on);
                })}
                <p class="small soft">{words.who_own_way_note()}</p>
            </div>
        </div>
    }
    .into_tree()
}

/// What changes for the young.
fn young(app: App, form: Form) -> Tree {
    let group = form.group.get();
    let young = matches!(group, Some(AgeGroup::Under12 | AgeGroup::From12To14));
    young.then(|| view! { <p class="small">{app.w().who_adult_note()}</p> }).into_tree()
}

fn born_fields(words: &Words, form: Form) -> Tree {
    let mut months = vec![(String::new(), words.who_no_month())];
    for month in 1..=12 {
        // Any year does: only the month's name is taken.
        let date = chrono::NaiveDate::from_ymd_opt(2001, month, 1).unwrap_or_default();
        months.push((month.to_string(), words.date(date, DateForm::MonthName)));
    }
    let month = select_field("month", words.who_month(), months, form.month.into(), move |month| {
        form.month.set(month);
    });
    let year = text_field("year", words.who_year(), None, true, form.year.into(), move |year| {
        form.year.set(year);
    });
    view! {
        <fieldset class="field">
            <legend class="label">{words.who_born()}</legend>
            <p class="small soft">{words.who_born_note()}</p>
            <div class="side-by-side">{month} {year}</div>
        </fieldset>
    }
    .into_tree()
}

impl Form {
    /// For somebody new.
    pub(super) fn new(name: String, unit: Unit) -> Self {
        Self {
            name: RwSignal::new(name),
            group: RwSignal::new(None),
            month: RwSignal::new(String::new()),
            year: RwSignal::new(String::new()),
            hand: RwSignal::new(Some(Hand::Right)),
            unit: RwSignal::new(Some(unit)),
            own_way: RwSignal::new(false),
            fixes: RwSignal::new(Vec::new()),
        }
    }

    /// With what is known of somebody.
    pub(super) fn of(person: &Person) -> Self {
        let form = Self::new(person.nickname.clone(), person.division.unit());
        match person.born {
            Some(Born::Month(month)) => {
                form.month.set(month.month().to_string());
                form.year.set(month.year().to_string());
            }
            Some(Born::Group(group)) => form.group.set(Some(group)),
            None => {}
        }
        form.hand.set(Some(person.hand));
        form.own_way.set(person.own_way);
        form
    }

    /// What the person said of their age, or what is wrong with it.
    fn born(self, words: &Words) -> Result<Born, Fix> {
        let (month, year) = (self.month.get_untracked(), self.year.get_untracked());
        let year = year.trim();
        let fix = |field: &str, sentence: String| Fix { field: field.to_owned(), sentence };
        if !year.is_empty() {
            let number: Option<u16> = year.parse().ok();
            let Some(number) = number.filter(|year| BirthMonth::new(*year, 1).is_some()) else {
                return Err(fix("year", words.who_bad_year()));
            };
            let month = month.parse().ok().and_then(|month| BirthMonth::new(number, month));
            return month.map(Born::Month).ok_or_else(|| fix("month", words.who_need_month()));
        }
        let group = self.group.get_untracked().map(Born::Group);
        group.ok_or_else(|| fix("age-0", words.who_need_age()))
    }

    /// What to write of a person, once nothing is wrong; else the problems are shown.
    pub(super) fn written(self, app: App) -> Option<impl FnOnce(&mut Person) + 'static> {
        let words = app.words.get_untracked();
        let mut fixes = Vec::new();
        let name = clean_line(&self.name.get_untracked(), NICKNAME_MAX);
        if name.is_empty() {
            fixes.push(Fix { field: "name".to_owned(), sentence: words.who_bad_name() });
        }
        let born = self.born(&words).map_err(|fix| fixes.push(fix)).ok();
        let wrong = !fixes.is_empty();
        self.fixes.set(fixes);
        if wrong {
            (app.ports().focus)("errors");
            return None;
        }
        let born = born?;
        let hand = self.hand.get_untracked().unwrap_or(Hand::Right);
        let unit = self.unit.get_untracked().unwrap_or(Unit::Centimetre);
        let own_way = self.own_way.get_untracked();
        Some(move |person: &mut Person| {
            person.nickname = name;
            person.born = Some(born);
            person.hand = hand;
            if person.division.unit() != unit {
                person.division = Division::usual(unit);
            }
            person.own_way = own_way;
        })
    }
}
