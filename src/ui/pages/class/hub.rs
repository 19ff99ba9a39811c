use crate::ui::prelude::*;
use chrono::NaiveDate;

use two_marks::class::{Row, Trust, change, roster_of, rows, summary, test_days};
use two_marks::history::{Class, ClassResult};
use two_marks::quantity::Length;
use two_marks::share::{ClassPage, Route};
use two_marks::text::{DateForm, Words};

use super::super::common::plain_head;
use super::show::wall;
use super::{bands, button_link, setup_lines, to};
use crate::ui::components::{act_link, alert, button, data_table, floor, select_field, text_field};
use crate::ui::state::{App, ClassFile};

/// One class: the way to each job, the picture, the table, the files.
pub fn page(app: App, class: Class) -> Tree {
    let words = app.w();
    let id = class.id.to_string();
    let day = RwSignal::new(None::<NaiveDate>);
    let bands = RwSignal::new(None::<String>);
    let picture = {
        let class = class.clone();
        move || {
            // The roster may have changed since the page was opened.
            let class = app.class(&class.id.to_string()).unwrap_or_else(|| class.clone());
            let results = app.class_results(class.id);
            let days = test_days(&results);
            let shown = day.get().filter(|day| days.contains(day)).or(days.first().copied());
            match shown {
                Some(shown) => day_view(app, &class, &results, &days, (shown, day, bands)),
                None => view! { <p class="empty">{app.w().class_no_results()}</p> }.into_tree(),
            }
        }
    };
    view! {
        {plain_head(app, class.setup.label.clone(), &Route::Class(ClassPage::List))}
        <main id="main" tabindex="-1" class="class-hub">
            <nav class="pad row row--wide" aria-label=words.class_jobs()>
                {button_link(words.class_show(), ClassPage::Show(id.clone()))}
                {button_link(words.class_collect(), ClassPage::Collect(id.clone()))}
                {button_link(words.class_big_wall(), ClassPage::Wall(id.clone()))}
                {button_link(words.class_sheet(), ClassPage::Sheet(id.clone()))}
            </nav>
            {picture}
            <details class="pad">
                <summary>{words.class_setup()}</summary>
                {setup_lines(&words, &class.setup)}
                <div class="row">
                    {button_link(words.class_setup_change(), ClassPage::Setup(id.clone()))}
                </div>
                {roster(app, class.clone())}
            </details>
            {bands::set(app, &class)}
            {files(app, class.clone())}
        </main>
        {floor(act_link(words.class_open_station(), to(ClassPage::Station(id))))}
    }
    .into_tree()
}

fn day_view(
    app: App,
    class: &Class,
    results: &[ClassResult],
    days: &[NaiveDate],
    (shown, day, choice): (NaiveDate, RwSignal<Option<NaiveDate>>, RwSignal<Option<String>>),
) -> Tree {
    let words = app.w();
    let rows = rows(class, results, shown);
    let summed = summary(class, &rows);
    let behind = bands::chosen(class, &rows, choice.get().as_deref());
    // Bands of a part of the class lie behind that part alone.
    let mut on_wall = rows.clone();
    if let Some(behind) = &behind {
        on_wall.retain(|row| behind.numbers.contains(&row.number));
    }
    let small = |count: usize| u32::try_from(count).unwrap_or(0);
    let options = days.iter().map(|day| (day.to_string(), words.date(*day, DateForm::Full)));
    let days_field = select_field(
        "day",
        words.class_day(),
        options.collect(),
        Signal::derive(move || shown.to_string()),
        move |text| day.set(text.parse().ok()),
    );
    let trust = summed.trust.map(|trust| trust_view(&words, class, trust));
    let before = days.iter().find(|day| **day < shown).copied();
    let changed = before.map(|before| change_view(&words, class, results, before, shown));
    view! {
        <div class="class-picture">
            <div class="stack">
                <div class="pad">{days_field}</div>
                {wall(app, class, &on_wall, behind.as_ref(), "drawing-box class-box")}
                {bands::choice(app, class, &rows, choice, behind.as_ref())}
                <div class="dado pad stack">
                    <p class="strong">{words.class_counted(small(summed.counted))}</p>
                    <p>{words.class_missing(small(summed.missing))}</p>
                    <p>{words.class_flagged(small(summed.flagged))}</p>
                    <p class="strong">{words.class_not_for_grading()}</p>
                </div>
                <div class="pad stack">{trust} {changed}</div>
            </div>
            {table(app, class, &rows)}
        </div>
    }
    .into_tree()
}

fn trust_view(words: &Words, class: &Class, trust: Trust) -> Tree {
    let unit = class.setup.division.unit();
    let said = |cm: f64| words.exact_number(Length::from_cm(cm), unit);
    let ends = trust.one_jump_interval_cm;
    let error = words.class_error(
        // Rounded, and never nought: few readings that happen to agree prove no certainty.
        &words.spread_number(Length::from_cm(trust.one_jump_cm), unit),
        &said(ends.low),
        &said(ends.high),
        &words.unit_sign(unit),
    );
    let two = |share: f64| words.hundredths(share);
    let icc = words.class_icc(
        &two(trust.icc),
        &two(trust.icc_interval.low),
        &two(trust.icc_interval.high),
    );
    view! {
        <h2>{words.class_error_title()}</h2>
        <p>{error}</p>
        <p class="small soft">{icc}</p>
    }
    .into_tree()
}

fn change_view(
    words: &Words,
    class: &Class,
    results: &[ClassResult],
    before: NaiveDate,
    after: NaiveDate,
) -> Tree {
    let unit = class.setup.division.unit();
    let change = change(class, results, before, after);
    let small = |count: usize| u32::try_from(count).unwrap_or(0);
    let mean = change.mean.zip(change.mean_error).map(|(mean, error)| {
        let said = words.class_change_mean(&words.length(mean, unit), &words.spread(error, unit));
        view! { <p>{said}</p> }
    });
    let luck = i64::try_from(change.luck_tenths).unwrap_or(0);
    let luck = words.class_change_luck(&words.locale().decimal(luck, 1));
    view! {
        <h2>{words.class_change(&words.date(before, DateForm::Full))}</h2>
        <p>{words.class_change_both(small(change.moved.len()))}</p>
        {mean}
        <p>{words.class_change_higher(small(change.higher))}</p>
        <p>{words.class_change_lower(small(change.lower))}</p>
        <p>{luck}</p>
        <p class="small soft">{words.class_change_note()}</p>
    }
    .into_tree()
}

/// By number, and in no other order.
fn table(app: App, class: &Class, rows: &[Row]) -> Tree {
    let words = app.w();
    let unit = class.setup.division.unit();
    let body: Vec<_> = rows
        .iter()
        .map(|row| {
            let best = row.best.map(|best| words.length_number(best.0, unit)).unwrap_or_default();
            let usual =
                row.usual.map(|usual| words.length_number(usual.0, unit)).unwrap_or_default();
            let trials = if row.result.is_some() { row.counted.to_string() } else { String::new() };
            view! {
                <tr>
                    <th scope="row">{row.number.to_string()}</th>
                    <td class="num">{best}</td>
                    <td class="num">{usual}</td>
                    <td class="num">{trials}</td>
                    <td>{note_of(&words, class, row)}</td>
                </tr>
            }
        })
        .collect();
    let best = words.two_things(&words.class_best(), &words.unit_sign(unit));
    let heads = vec![
        (words.class_no(), false),
        (best, true),
        (words.class_mean(), true),
        (words.check_trials(), true),
        (words.class_flag(), false),
    ];
    view! {
        <div class="pad">
            {data_table(words.class_table(), heads, body, Some("class-table"))}
        </div>
    }
    .into_tree()
}

fn note_of(words: &Words, class: &Class, row: &Row) -> String {
    let notes = [
        bands::note(words, class, row.number),
        row.helps.then(|| words.class_helps()),
        (row.result.is_none()).then(|| words.class_not_yet()),
        (row.is_unfinished && !row.helps).then(|| words.class_unfinished()),
        row.is_tired.then(|| words.history_tired()),
        (!row.earlier.is_empty()).then(|| words.class_retaken()),
    ];
    let joined = notes.into_iter().flatten().reduce(|all, next| words.two_things(&all, &next));
    joined.unwrap_or_default()
}

/// A list of numbers in place of all from 1.
fn roster(app: App, class: Class) -> Tree {
    let words = app.w();
    let typed = RwSignal::new(String::new());
    let wrong = RwSignal::new(false);
    let keep = move || {
        let text = typed.get_untracked();
        let numbers = if text.trim().is_empty() { Some(Vec::new()) } else { roster_of(&text) };
        wrong.set(numbers.is_none());
        if let Some(numbers) = numbers
            && let Some(now) = app.class(&class.id.to_string())
        {
            app.change_class(&now, |class| class.roster = numbers);
        }
    };
    view! {
        <div class="stack">
            {text_field(
                "roster",
                words.class_roster(),
                Some(words.class_roster_note()),
                false,
                typed.into(),
                move |text| typed.set(text),
            )}
            {button(words.class_roster_keep(), keep)}
            {move || wrong.get().then(|| alert(app.w().class_roster_problem()))}
            <p class="small soft">{words.class_paper_list()}</p>
        </div>
    }
    .into_tree()
}

/// Files, putting away, and throwing away for good: first a tap that offers the file, then a second.
fn files(app: App, class: Class) -> Tree {
    let words = app.w();
    let asked = RwSignal::new(false);
    let file = |label: String, kind: ClassFile| {
        let class = class.clone();
        button(label, move || {
            app.save_class_file(&class, kind);
        })
    };
    let (pupils, trials, records) = (
        file(words.class_file_pupils(), ClassFile::Pupils),
        file(words.class_file_trials(), ClassFile::Trials),
        file(words.class_file_records(), ClassFile::Records),
    );
    let put_away = {
        let id = class.id.to_string();
        let label = if class.archived { words.class_bring_back() } else { words.class_archive() };
        button(label, move || {
            if let Some(now) = app.class(&id) {
                app.change_class(&now, |class| class.archived = !class.archived);
                app.go(&Route::Class(ClassPage::List));
            }
        })
    };
    let id = class.id;
    let throw = move || {
        let words = app.w();
        if !asked.get() {
            return button(words.class_delete(), move || asked.set(true));
        }
        alert(view! {
            <p>{words.class_delete_sure()}</p>
            <div class="row">
                {button(words.class_delete_now(), move || app.purge_class(id))}
                {button(words.not_now(), move || asked.set(false))}
            </div>
        })
    };
    view! {
        <section class="pad stack">
            <h2>{words.class_files()}</h2>
            <div class="row row--wide">{pupils} {trials} {records}</div>
            <p class="small soft">{words.class_files_note()}</p>
            <div class="row row--wide">{put_away}</div>
            {throw}
        </section>
    }
    .into_tree()
}
