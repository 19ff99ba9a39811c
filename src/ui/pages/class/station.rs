use crate::ui::prelude::*;

use chrono::NaiveDate;
use leptos::html::Input;
use leptos::prelude::SetValue;
use two_marks::class::{Order, Queue, StationDraft, Step, Task, station_day};
use two_marks::flow::Judged;
use two_marks::history::Class;
use two_marks::measure::{Problem, parts, with_part};
use two_marks::quantity::Reading;
use two_marks::share::{ClassPage, Route};
use two_marks::text::{DateForm, Words};

use super::super::common::plain_head;
use super::to;
use crate::ui::components::{
    Choice, Icon, act, act_link, button, field_problem, floor, notice, pick, select_field,
    stacked_button, text_field,
};
use crate::ui::state::App;

/// What the station remembers while it is open; readings are in the records at once.
#[derive(Clone, Copy)]
struct Station {
    class: StoredValue<Class>,
    day: RwSignal<NaiveDate>,
    queue: RwSignal<Queue>,
    typed: RwSignal<String>,
    confirmed: RwSignal<Option<Reading>>,
    tried: RwSignal<bool>,
    last: RwSignal<Option<Step>>,
    step: Memo<Option<Step>>,
    by_keyboard: StoredValue<bool>,
}

/// The queue at the wall: one number, one reading, giant keys.
pub fn page(app: App, class: Class) -> Tree {
    let words = app.w();
    let back = ClassPage::Of(class.id.to_string());
    let class = StoredValue::new(class);
    let id = class.with_value(|class| class.id);
    let draft = app.station_draft(id);
    let (queue, day) = (RwSignal::new(draft.queue), RwSignal::new(draft.day));
    Effect::new(move |_| {
        // A late run can come after the page is gone.
        let (Some(queue), Some(day)) = (queue.try_get(), day.try_get()) else { return };
        let written_on = app.now().date();
        app.keep_station_draft(&StationDraft { class: id, written_on, day, queue });
    });
    let step = Memo::new(move |_| {
        let class = class.get_value();
        let day = day.get();
        let mut results = app.class_results(class.id);
        results.retain(|result| result.date == day);
        queue.with(|queue| queue.next(&class, &results))
    });
    let station = Station {
        class,
        day,
        queue,
        typed: RwSignal::new(String::new()),
        confirmed: RwSignal::new(None),
        tried: RwSignal::new(false),
        last: RwSignal::new(None),
        step,
        by_keyboard: StoredValue::new(false),
    };
    let title = words.class_station();
    view! {
        {plain_head(app, title, &Route::Class(back.clone()))}
        <main id="main" tabindex="-1" class="station">
            {move || other_day(app, station)}
            {move || match step.get() {
                Some(step) => turn(app, station, step),
                None => view! { <p class="empty">{app.w().class_all_done()}</p> }.into_tree(),
            }}
            {more(app, station)}
        </main>
        {move || match step.get() {
            Some(step) => {
                let label = app.w().class_keep_reading();
                floor(view! {
                    {act(move || label.clone(), move || keep(app, station, step))}
                    {matches!(step.task, Task::Trial(_)).then(|| foul(app, station, step))}
                })
            }
            None => floor(act_link(app.w().class_back(), to(back.clone()))),
        }}
    }
    .into_tree()
}

fn task(words: &Words, task: Task) -> String {
    match task {
        Task::Reach(place) => words.class_reach_of(&place.to_string()),
        Task::Trial(place) => words.jumps_trial(&place.to_string()),
    }
}

fn turn(app: App, station: Station, step: Step) -> Tree {
    let words = app.w();
    let unit = station.class.with_value(|class| class.setup.division.unit());
    let judged = Memo::new(move |_| {
        let class = station.class.get_value();
        station
            .typed
            .with(|typed| app.judged_at_station(&class, station.day.get_untracked(), step, typed))
    });
    let said = task(&words, step.task);
    // The giant keys are for fingers; who types with real keys goes on typing at the next number.
    let entry = NodeRef::<Input>::new();
    Effect::new(move |_| {
        if let Some(field) = entry.get().filter(|_| station.by_keyboard.get_value()) {
            // A field that has just gone is no place for the focus anyway.
            let _ = field.focus();
        }
    });
    view! {
        <div class="station__who" role="status">
            <p class="station__number">{words.class_number(&step.number.to_string())}</p>
            <p class="lead">{said.clone()}</p>
        </div>
        <section class="dado pad stack">
            <p class="station__entry">
                <input
                    node_ref=entry
                    id="station-entry"
                    type="text"
                    inputmode="none"
                    autocomplete="off"
                    aria-label=said
                    prop:value=move || station.typed.get()
                    on:input=move |event| {
                        station.tried.set(false);
                        station.typed.set(event_target_value(&event));
                    }
                    on:keydown=move |event| {
                        if event.key() == "Enter" {
                            event.prevent_default();
                            station.by_keyboard.set_value(true);
                            keep(app, station, step);
                        }
                    }
                />
                <span>{words.unit_sign(unit)}</span>
            </p>
            {move || problem(app, station, &judged.get())}
            {keys(app, station)}
            <div class="row row--wide">
                {button(words.class_later(), move || {
                    fresh(station);
                    station.queue.update(|queue| queue.put_off(step.number));
                })}
                {button(words.class_stop(), move || {
                    fresh(station);
                    station.queue.update(|queue| queue.stop(step.number));
                })}
                {button(words.class_other_role(), move || {
                    fresh(station);
                    let class = station.class.get_value();
                    let day = station.day.get_untracked();
                    app.change_result(&class, step.number, day, |result| result.helps = true);
                })}
            </div>
        </section>
    }
    .into_tree()
}

fn fresh(station: Station) {
    station.typed.set(String::new());
    station.confirmed.set(None);
    station.tried.set(false);
}

fn keep(app: App, station: Station, step: Step) {
    let class = station.class.get_value();
    let judged = app.judged_at_station(
        &class,
        station.day.get_untracked(),
        step,
        &station.typed.get_untracked(),
    );
    match judged.keepable(station.confirmed.get_untracked()) {
        Some(reading) => done(app, station, step, Some(reading)),
        None => station.tried.set(true),
    }
}

/// Keeps it and shows the next number at once.
fn done(app: App, station: Station, step: Step, reading: Option<Reading>) {
    let class = station.class.get_value();
    if app.keep_at_station(&class, station.day.get_untracked(), step, reading) {
        fresh(station);
        station.last.set(Some(step));
        station.queue.update(|queue| queue.called = None);
    }
}

fn foul(app: App, station: Station, step: Step) -> Tree {
    let label = app.w().jumps_foul_word();
    stacked_button(Icon::Cross, label, move || done(app, station, step, None))
}

fn problem(app: App, station: Station, judged: &Judged) -> Tree {
    let words = app.w();
    let division = station.class.with_value(|class| class.setup.division);
    let empty = judged.problem == Some(Problem::Empty);
    let keepable = judged.keepable(station.confirmed.get()).is_some();
    // While digits are still being typed a question would come too early.
    if keepable || !station.tried.get() {
        return Tree::Nothing;
    }
    let sentence = match (judged.problem, judged.doubts.first(), judged.reading) {
        (Some(problem), ..) => words.problem(problem, division),
        (None, Some(doubt), Some(reading)) => words.doubt(*doubt, reading),
        _ => return Tree::Nothing,
    };
    let mut mends = Vec::new();
    let open = judged.doubts.iter().all(|doubt| !doubt.refuses());
    if let Some(reading) = judged.reading.filter(|_| open && !empty) {
        mends.push(button(words.problem_it_is_right(), move || {
            station.confirmed.set(Some(reading));
            if let Some(step) = station.step.get_untracked() {
                keep(app, station, step);
            }
        }));
    }
    field_problem("station-problem".to_owned(), sentence, mends)
}

/// Giant keys: digits, the fractions of the tape, take back.
fn keys(app: App, station: Station) -> Tree {
    let words = app.w();
    let division = station.class.with_value(|class| class.setup.division);
    let press = move |digit: &'static str| {
        station.tried.set(false);
        station.by_keyboard.set_value(false);
        station.typed.update(|typed| typed.push_str(digit));
    };
    let digits: Vec<_> = ["1", "2", "3", "4", "5", "6", "7", "8", "9", "0"]
        .into_iter()
        .map(|digit| view! { <button type="button" class="key" on:click=move |_| press(digit)>{digit}</button> })
        .collect();
    let fractions = parts(division).into_iter().filter(|part| *part != 0);
    let fractions: Vec<_> = fractions
        .map(|part| {
            let label = words.part(part, division.unit());
            let add = move |_| {
                let text = station.typed.get_untracked();
                if let Some(reading) = with_part(&text, division, part) {
                    station.tried.set(false);
                    station.typed.set(app.w().entry_text(reading));
                }
            };
            view! { <button type="button" class="key" on:click=add>{label}</button> }
        })
        .collect();
    let back = move |_| {
        station.tried.set(false);
        station.typed.update(|typed| {
            typed.pop();
        });
    };
    view! {
        <div class="keys" role="group" aria-label=words.class_keys()>
            {digits}
            {fractions}
            <button type="button" class="key" aria-label=words.class_key_back() on:click=back>
                "⌫"
            </button>
        </div>
    }
    .into_tree()
}

/// Another day than today is said where nobody can miss it.
fn other_day(app: App, station: Station) -> Option<Tree> {
    let day = station.day.get();
    let said = || app.w().class_station_day(&app.w().date(day, DateForm::Full));
    (day != app.now().date()).then(|| notice(Icon::Info, said()))
}

/// The day of the readings: today, or the day of a paper form.
fn day_field(app: App, station: Station) -> Tree {
    let words = app.w();
    let typed = RwSignal::new(station.day.get_untracked().to_string());
    let wrong = RwSignal::new(false);
    let choose = move || {
        let day = station_day(&typed.get_untracked(), app.now().date());
        wrong.set(day.is_none());
        if let Some(day) = day.filter(|day| *day != station.day.get_untracked()) {
            fresh(station);
            station.last.set(None);
            // What was put off belongs to the other day; the order stays.
            station.queue.update(|queue| *queue = Queue { order: queue.order, ..Queue::default() });
            station.day.set(day);
        }
    };
    let problem = move || {
        let said = || app.w().class_station_day_problem();
        wrong.get().then(|| field_problem("day-problem".to_owned(), said(), Vec::new()))
    };
    view! {
        {text_field("day", words.class_day(), Some(words.class_day_note()), false, typed.into(), move |text| {
            typed.set(text);
        })}
        {problem}
        <div class="row">{button(words.class_day_use(), choose)}</div>
    }
    .into_tree()
}

/// The order, a number out of turn, and taking the newest reading back.
fn more(app: App, station: Station) -> Tree {
    let words = app.w();
    let orders = vec![
        Choice::new(Order::ByRound, words.class_by_round()),
        Choice::new(Order::ByPupil, words.class_by_pupil()),
    ];
    let order = Signal::derive(move || station.queue.with(|queue| Some(queue.order)));
    let numbers = station.class.with_value(Class::numbers);
    let options = std::iter::once((String::new(), words.class_in_turn())).chain(
        numbers
            .into_iter()
            .map(|number| (number.to_string(), words.class_number(&number.to_string()))),
    );
    let called = Signal::derive(move || {
        station
            .queue
            .with(|queue| queue.called.map(|number| number.to_string()).unwrap_or_default())
    });
    let call = move |text: String| {
        fresh(station);
        let class = station.class.get_value();
        match text.parse() {
            Ok(number) => {
                let day = station.day.get_untracked();
                let results = app.class_results(class.id);
                let helps =
                    results.iter().any(|one| one.number == number && one.date == day && one.helps);
                if helps {
                    app.change_result(&class, number, day, |result| result.helps = false);
                }
                station.queue.update(|queue| queue.call(number));
            }
            Err(_) => station.queue.update(|queue| queue.called = None),
        }
    };
    let undo = move || {
        let words = app.w();
        station.last.get().map(|step| {
            let number = words.class_number(&step.number.to_string());
            let label = words.class_undo(&words.two_things(&number, &task(&words, step.task)));
            button(label, move || {
                let class = station.class.get_value();
                if app.undo_at_station(&class, station.day.get_untracked(), step) {
                    fresh(station);
                    station.last.set(None);
                    station.queue.update(|queue| queue.call(step.number));
                }
            })
        })
    };
    view! {
        <section class="pad stack">
            <div class="row">{undo}</div>
            <p class="label" id="order-label">
                {words.class_order()}
            </p>
            {pick("order", "order-label".to_owned(), orders, order, move |order| {
                station.queue.update(|queue| queue.order = order);
            })}
            {day_field(app, station)}
            {select_field("call", words.class_call(), options.collect(), called, call)}
            {notice(Icon::Stop, words.class_station_safety())}
        </section>
    }
    .into_tree()
}
