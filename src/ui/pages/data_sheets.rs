use std::sync::Arc;

use crate::ui::prelude::*;

use two_marks::history::{LocalId, Test};
use two_marks::share::csv::{Decimal, Import, ImportPlan, names_in};
use two_marks::text::DateForm;

use crate::ui::components::{
    Choice, Icon, alert, button, data_table, file_button, notice, pick, select_field,
};
use crate::ui::state::{App, Notice, Rows, Sheet};

/// Problems and rows shown one by one; the rest is counted.
const LINES_SHOWN: usize = 10;

/// Spreadsheet files, out and in.
pub fn sections(app: App) -> Tree {
    view! {
        {export(app)}
        {import(app)}
    }
    .into_tree()
}

fn export(app: App) -> Tree {
    let words = app.w();
    let decimal = RwSignal::new(Some(Decimal::Point));
    let failed = RwSignal::new(false);
    let save = move |rows| {
        let decimal = decimal.get_untracked().unwrap_or_default();
        failed.set(!app.save_sheet(rows, decimal));
    };
    let ways = vec![
        Choice::new(Decimal::Point, words.sheet_point()),
        Choice::new(Decimal::Comma, words.sheet_comma()),
    ];
    view! {
        <section class="stack">
            <h2>{words.sheet_export()}</h2>
            <p class="soft">{words.sheet_export_note()}</p>
            <p class="label" id="decimal-label">
                {words.sheet_decimal()}
            </p>
            {pick("decimal", "decimal-label".to_owned(), ways, decimal.into(), move |way| {
                decimal.set(Some(way));
            })}
            <div class="row row--wide">
                {button(words.sheet_save_tests(), move || save(Rows::Tests))}
                {button(words.sheet_save_trials(), move || save(Rows::Trials))}
            </div>
            {move || failed.get().then(|| alert(app.w().data_backup_failed()))}
        </section>
    }
    .into_tree()
}

fn import(app: App) -> Tree {
    let words = app.w();
    if app.people.with_untracked(Vec::is_empty) {
        return Tree::Nothing;
    }
    view! {
        <section class="stack">
            <h2>{words.sheet_import()}</h2>
            <p class="soft">{words.sheet_import_note()}</p>
            <details>
                <summary>{words.sheet_columns()}</summary>
                <ul class="dots">
                    <li>{words.sheet_column_date()}</li>
                    <li>{words.sheet_column_height()}</li>
                    <li>{words.sheet_column_marks()}</li>
                    <li>{words.sheet_column_more()}</li>
                </ul>
            </details>
            {file_button(
                "sheet-file",
                words.sheet_open(),
                ".csv,.txt,text/csv,text/plain",
                None,
                move |event| app.pick_sheet(event),
            )}
            <div class="stack" role="status">
                {move || picked(app)}
            </div>
        </section>
    }
    .into_tree()
}

fn picked(app: App) -> Tree {
    let words = app.w();
    match app.sheet.get() {
        None => Tree::Nothing,
        Some(Sheet::TooLarge) => alert(words.sheet_too_large()),
        Some(Sheet::NotATable) => alert(words.sheet_not_a_table()),
        Some(Sheet::Imported(count)) => imported(app, count),
        Some(Sheet::Read(import)) => read(app, import),
    }
}

fn imported(app: App, count: usize) -> Tree {
    let words = app.w();
    let count = u32::try_from(count).unwrap_or(u32::MAX);
    match app.notice.get() {
        Some(Notice::Saving) => notice(Icon::Hourglass, words.saving()),
        Some(Notice::SavedUnsure) => notice(Icon::Info, words.saved_unsure()),
        _ => notice(Icon::Tick, words.sheet_imported(count)),
    }
}

/// What the file holds: first what is wrong, then whose rows go to whom.
fn read(app: App, import: Arc<Import>) -> Tree {
    let names = names_in(&import.tests);
    let person = app.person();
    let own = person.as_ref().map(|person| person.nickname.clone()).unwrap_or_default();
    let first = names.iter().find(|name| **name == own).or(names.first()).cloned();
    let name = RwSignal::new(first.unwrap_or_default());
    let whom = person.map(|person| person.local.as_str().to_owned()).unwrap_or_default();
    let whom = RwSignal::new(whom);
    let plan = {
        let import = import.clone();
        move || plan(app, import.clone(), name, whom)
    };
    view! {
        {problems(app, &import)}
        {whose(app, names, name, whom)}
        {plan}
    }
    .into_tree()
}

fn problems(app: App, import: &Import) -> Tree {
    let words = app.w();
    let lines = import.problems.iter().take(LINES_SHOWN);
    let lines: Vec<_> =
        lines.map(|problem| view! { <li>{words.import_problem(problem)}</li> }).collect();
    let left = import.problems.len().saturating_sub(LINES_SHOWN);
    let left = u32::try_from(left).unwrap_or(u32::MAX);
    let left = (left > 0).then(|| view! { <p>{words.sheet_more_problems(left)}</p> });
    let unused = import.unused_columns.iter().cloned();
    let unused = unused.reduce(|all, next| words.two_things(&all, &next));
    view! {
        <ul class="dots" id="sheet-problems">{lines}</ul>
        {left}
        {unused.map(|names| view! { <p class="soft">{words.sheet_unused(&names)}</p> })}
    }
    .into_tree()
}

fn whose(app: App, names: Vec<String>, name: RwSignal<String>, whom: RwSignal<String>) -> Tree {
    let words = app.w();
    let people = app.people.get_untracked().into_iter().filter(|person| !person.archived);
    let people = people.map(|person| (person.local.as_str().to_owned(), person.nickname));
    let rows = (names.len() > 1).then(|| {
        let names = names.into_iter().map(|name| (name.clone(), name)).collect();
        select_field("sheet-name", words.sheet_whose_rows(), names, name.into(), move |chosen| {
            name.set(chosen);
        })
    });
    let people = people.collect();
    view! {
        {rows}
        {select_field("sheet-whom", words.sheet_for_whom(), people, whom.into(), move |chosen| {
            whom.set(chosen);
        })}
    }
    .into_tree()
}

/// What would be added, and the button that adds it.
fn plan(app: App, import: Arc<Import>, name: RwSignal<String>, whom: RwSignal<String>) -> Tree {
    let words = app.w();
    let name = Some(name.get()).filter(|name| !name.is_empty());
    let Some(person) = LocalId::parse(&whom.get()) else {
        return Tree::Nothing;
    };
    let Some(plan) = app.plan_sheet(&import, name.as_deref(), &person) else {
        return alert(words.store_failed());
    };
    let count = |many: usize| u32::try_from(many).unwrap_or(u32::MAX);
    let lines = [
        (plan.new.len(), words.sheet_new(count(plan.new.len()))),
        (plan.known, words.sheet_known(count(plan.known))),
        (plan.later, words.sheet_later(count(plan.later))),
    ];
    let lines = lines.into_iter().filter(|(many, _)| *many > 0);
    let lines: Vec<_> = lines.map(|(_, line)| view! { <li>{line}</li> }).collect();
    let add = {
        let many = count(plan.new.len());
        let take = move || app.take_over_sheet(import.clone(), name.clone(), person.clone());
        (many > 0).then(|| button(app.w().sheet_add(many), take))
    };
    view! {
        <ul class="dots">{lines}</ul>
        {first_rows(app, &plan)}
        <div class="row">
            {add} {button(words.not_now(), move || app.sheet.set(None))}
        </div>
    }
    .into_tree()
}

fn first_rows(app: App, plan: &ImportPlan) -> Tree {
    let words = app.w();
    if plan.new.is_empty() {
        return Tree::Nothing;
    }
    let row = |test: &Test| {
        let unit = test.session.division.unit();
        let height = test.session.best().map(|best| words.length(best.0, unit));
        view! {
            <tr>
                <td>{words.date(test.date, DateForm::Full)}</td>
                <td class="num">{height.unwrap_or_default()}</td>
                <td>{words.test_kind(test.session.key)}</td>
            </tr>
        }
    };
    let rows: Vec<_> = plan.new.iter().take(LINES_SHOWN).map(row).collect();
    let heads = vec![
        (words.history_date(), false),
        (words.history_height(), true),
        (words.sheet_kind(), false),
    ];
    data_table(words.sheet_first_rows(), heads, rows, None)
}
