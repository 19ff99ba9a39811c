use leptos::prelude::*;

use two_marks::history::Test;
use two_marks::measure::TrendKey;
use two_marks::share::Route;
use two_marks::text::{DateForm, Words};

use super::common::plain_head;
use crate::ui::components::{Icon, act, button, floor, notice};
use crate::ui::state::{App, Notice};

/// All tests of a person, newest first, one list per kind of test.
pub fn page(app: App) -> AnyView {
    let words = app.w();
    let start = words.start_test();
    view! {
        {plain_head(app, words.history_title(), &Route::Home)}
        <main id="main" tabindex="-1" class="pad stack-wide">
            {move || deleted(app)}
            {move || lists(app)}
        </main>
        {floor(act(move || start.clone(), move || app.begin()))}
    }
    .into_any()
}

fn deleted(app: App) -> AnyView {
    if !matches!(app.notice.get(), Some(Notice::Deleted | Notice::DeletedUnsure)) {
        return ().into_any();
    }
    let Some(test) = app.deleted.get() else {
        return ().into_any();
    };
    let words = app.w();
    let date = words.date(test.date, DateForm::DayAndMonth);
    notice(
        Icon::Undo,
        view! {
            <p>{words.history_deleted(&date)}</p>
            {button(words.undo(), move || app.bring_back(&test))}
        },
    )
}

fn lists(app: App) -> AnyView {
    let words = app.w();
    let tests = app.tests.get();
    if tests.is_empty() {
        return view! { <p>{words.history_empty()}</p> }.into_any();
    }
    let mut keys: Vec<TrendKey> = Vec::new();
    for test in &tests {
        if !keys.contains(&test.session.key) {
            keys.push(test.session.key);
        }
    }
    let lists: Vec<_> = keys
        .into_iter()
        .map(|key| {
            let same: Vec<Test> =
                tests.iter().filter(|test| test.session.key == key).cloned().collect();
            list(app, &words, key, &same)
        })
        .collect();
    lists.into_any()
}

/// Rows shown at once: enough for a season, few enough for a slow phone.
const ROWS: usize = 50;

fn list(app: App, words: &Words, key: TrendKey, tests: &[Test]) -> AnyView {
    // Too few frames a second: shown with its band, and in no line.
    let in_line: Vec<Test> =
        tests.iter().filter(|test| !test.session.is_too_coarse_for_trend()).cloned().collect();
    let best = tests.iter().filter_map(|test| test.session.best()).max();
    let rows: Vec<_> = tests
        .iter()
        .take(ROWS)
        .enumerate()
        .map(|(at, test)| {
            let unit = test.session.division.unit();
            let said = |height: Option<two_marks::quantity::JumpHeight>| {
                height.map(|height| words.length(height.0, unit)).unwrap_or_default()
            };
            let height = said(test.session.best());
            let usual = said(test.session.usual().map(|usual| usual.height));
            let date = words.date(test.date, DateForm::Full);
            let mut notes = Vec::new();
            if at == 0 {
                notes.push(words.history_last());
            }
            if test.session.best() == best {
                notes.push(words.history_best());
            }
            if test.tired.is_noted() {
                notes.push(words.history_tired());
            }
            if test.session.is_rough() {
                notes.push(words.history_rough());
            }
            if test.practice {
                notes.push(words.history_practice());
            }
            let notes = notes
                .into_iter()
                .reduce(|all, next| words.two_things(&all, &next))
                .unwrap_or_default();
            let open = words.history_open(&date, &height);
            view! {
                <tr>
                    <td>
                        <a href=Route::Result(test.id.to_string()).to_string() aria-label=open>
                            {date}
                        </a>
                    </td>
                    <td class="num">{height}</td>
                    <td class="num">{usual}</td>
                    <td>{notes}</td>
                </tr>
            }
        })
        .collect();
    view! {
        <section class="stack">
            {super::history_line::drawing(app, &in_line)}
            <div class="scroll" tabindex="0" role="region" aria-label=words.test_kind(key)>
                <table>
                    <caption>{words.test_kind(key)}</caption>
                    <thead>
                        <tr>
                            <th scope="col">{words.history_date()}</th>
                            <th scope="col" class="num">
                                {words.history_height()}
                            </th>
                            <th scope="col" class="num">
                                {words.history_usual()}
                            </th>
                            <th scope="col">{words.history_notes()}</th>
                        </tr>
                    </thead>
                    <tbody>{rows}</tbody>
                </table>
            </div>
        </section>
    }
    .into_any()
}
