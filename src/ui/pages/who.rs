use crate::ui::prelude::*;

use two_marks::history::{Born, NICKNAME_MAX, Person, clean_line};
use two_marks::measure::Hand;
use two_marks::quantity::{AgeGroup, BirthMonth, Division, Unit};
use two_marks::share::Route;
use two_marks::text::{DateForm, Words};

use super::common::plain_head;
use crate::ui::components::{
    Choice, Fix, act, check_row, error_summary, floor, pick, select_field, text_field,
};
use crate::ui::state::App;

/// What is typed on this page until it is kept.
#[derive(Clone, Copy)]
struct Form {
    name: RwSignal<String>,
    group: RwSignal<Option<AgeGroup>>,
    month: RwSignal<String>,
    year: RwSignal<String>,
    hand: RwSignal<Option<Hand>>,
    unit: RwSignal<Option<Unit>>,
    own_way: RwSignal<bool>,
    fixes: RwSignal<Vec<Fix>>,
    /// The person being changed; none for somebody new.
    editing: RwSignal<Option<Person>>,
}

/// Who is testing: choose, add, change.
pub fn page(app: App) -> Tree {
    let words = app.w();
    let form = Form {
        name: RwSignal::new(String::new()),
        group: RwSignal::new(None),
        month: RwSignal::new(String::new()),
        year: RwSignal::new(String::new()),
        hand: RwSignal::new(Some(Hand::Right)),
        unit: RwSignal::new(Some(app.unit())),
        own_way: RwSignal::new(false),
        fixes: RwSignal::new(Vec::new()),
        editing: RwSignal::new(None),
    };
    let is_first = app.people.with_untracked(Vec::is_empty);
    if is_first {
        form.name.set(words.who_default_name());
        form.unit.set(Some(app.first_unit()));
    }
    if app.progress.with_untracked(Option::is_some)
        && let Some(person) = app.person()
    {
        form.fill(&person);
    }
    let label = {
        let words = words.clone();
        move || {
            if is_first { words.who_start() } else { words.who_keep(form.name.get().trim()) }
        }
    };
    let keep = {
        let words = words.clone();
        move || keep(app, form, is_first, &words)
    };
    view! {
        {move || {
            let words = app.w();
            let title = match form.editing.get() {
                Some(person) => words.who_edit(&person.nickname),
                None => words.who_title(),
            };
            plain_head(app, title, &Route::Home)
        }}
        <main id="main" tabindex="-1" class="form">
            {move || {
                let fixes = form.fixes.get();
                let title = app.w().problem_summary(u32::try_from(fixes.len()).unwrap_or(0));
                let go = move |field: &str| (app.ports().focus)(field);
                (!fixes.is_empty()).then(|| error_summary(title, fixes, go))
            }}
            {move || super::who_away::gone(app)}
            {move || pick_person(app, form)}
            {fields(app, form)}
            {move || leave(app, form)}
            {move || super::who_away::away(app)}
        </main>
        {floor(act(label, keep))}
    }
    .into_tree()
}

fn pick_person(app: App, form: Form) -> Tree {
    let words = app.w();
    let people: Vec<_> = app.people.get().into_iter().filter(|person| !person.archived).collect();
    if people.is_empty() {
        return Tree::Nothing;
    }
    let chips: Vec<_> = people
        .into_iter()
        .map(|person| {
            let name = person.nickname.clone();
            let chosen = form.editing.get().is_some_and(|chosen| chosen.id == person.id);
            view! {
                <button
                    type="button"
                    class="chip"
                    aria-pressed=if chosen { "true" } else { "false" }
                    on:click=move |_| form.fill(&person)
                >
                    {name}
                </button>
            }
        })
        .collect();
    let is_new = move || form.editing.with(Option::is_none);
    view! {
        <div class="pad stack">
            <p class="lead">{words.who_pick()}</p>
            <div class="chips" role="group" aria-label=words.home_people()>
                {chips}
                <button
                    type="button"
                    class="chip chip--add"
                    aria-pressed=move || if is_new() { "true" } else { "false" }
                    on:click=move |_| form.clear()
                >
                    {words.who_add()}
                </button>
            </div>
        </div>
    }
    .into_tree()
}

/// Somebody who is not testing any more is put away or deleted, with all their tests.
fn leave(app: App, form: Form) -> Tree {
    let Some(person) = form.editing.get() else {
        return Tree::Nothing;
    };
    super::who_away::leave(app, person, move || form.clear())
}

fn fields(app: App, form: Form) -> Tree {
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
    fn clear(self) {
        self.editing.set(None);
        self.name.set(String::new());
        self.group.set(None);
        self.month.set(String::new());
        self.year.set(String::new());
        self.own_way.set(false);
        self.fixes.set(Vec::new());
    }

    fn fill(self, person: &Person) {
        self.clear();
        self.name.set(person.nickname.clone());
        match person.born {
            Some(Born::Month(month)) => {
                self.month.set(month.month().to_string());
                self.year.set(month.year().to_string());
            }
            Some(Born::Group(group)) => self.group.set(Some(group)),
            None => {}
        }
        self.hand.set(Some(person.hand));
        self.unit.set(Some(person.division.unit()));
        self.own_way.set(person.own_way);
        self.editing.set(Some(person.clone()));
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
}

fn keep(app: App, form: Form, is_first: bool, words: &Words) {
    let mut fixes = Vec::new();
    let name = clean_line(&form.name.get_untracked(), NICKNAME_MAX);
    if name.is_empty() {
        fixes.push(Fix { field: "name".to_owned(), sentence: words.who_bad_name() });
    }
    let born = form.born(words).map_err(|fix| fixes.push(fix)).ok();
    form.fixes.set(fixes.clone());
    let (Some(born), true) = (born, fixes.is_empty()) else {
        (app.ports().focus)("errors");
        return;
    };
    let hand = form.hand.get_untracked().unwrap_or(Hand::Right);
    let unit = form.unit.get_untracked().unwrap_or(Unit::Centimetre);
    let own_way = form.own_way.get_untracked();
    let write = move |person: &mut Person| {
        person.nickname = name;
        person.born = Some(born);
        person.hand = hand;
        if person.division.unit() != unit {
            person.division = Division::usual(unit);
        }
        person.own_way = own_way;
    };
    let then = move || go_on(app, is_first);
    match form.editing.get_untracked() {
        Some(person) => {
            app.show_person(Some(person.local.clone()));
            app.change_person(write, then);
        }
        None => app.add_person(write, then),
    }
}

/// Leads on from a person who was kept.
fn go_on(app: App, is_first: bool) {
    if app.progress.with_untracked(Option::is_some) {
        app.hand_test_over();
        app.go(&app.where_to_go_on());
    } else if is_first {
        app.begin();
    } else {
        app.go(&Route::Home);
    }
}
