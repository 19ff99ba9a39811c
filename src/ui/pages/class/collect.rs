use crate::ui::prelude::*;
use leptos::prelude::{SetValue, on_cleanup};

use two_marks::class::{Arrival, CodeSeen, Rule, Verdict, changes, code_seen, preview};
use two_marks::history::Class;
use two_marks::measure::ClipFault;
use two_marks::share::{ClassPage, Route};
use two_marks::text::{DateForm, Words};

use super::super::common::plain_head;
use super::to;
use crate::ui::components::{
    Choice, Icon, act, act_link, alert, button, file_button, floor, notice, pick, text_area,
};
use crate::ui::state::{App, FILM, Stage};

/// Result slips that arrive: typed, pasted, in a photo, or before the camera; looked at first, then taken over.
pub fn page(app: App, class: Class) -> Tree {
    let words = app.w();
    let text = RwSignal::new(app.slip_text.get_untracked());
    app.slip_text.set(String::new());
    let rule = RwSignal::new(Rule::LeaveOut);
    let taken = RwSignal::new(None::<u32>);
    let photo_empty = RwSignal::new(false);
    let back = ClassPage::Of(class.id.to_string());
    let seen = {
        let class = class.clone();
        Memo::new(move |_| {
            preview(&class, &app.class_results(class.id), &text.get(), app.now().date())
        })
    };
    let photo = app.ports().read_codes.map(|read| {
        let picked = move |event| {
            let found = read(event);
            (app.ports().spawn)(Box::pin(async move {
                let found = found.await.unwrap_or_default();
                photo_empty.set(found.is_empty());
                text.update(|text| {
                    text.push('\n');
                    text.push_str(&found);
                });
            }));
        };
        file_button("photo", words.class_photo(), "image/*", Some("environment"), picked)
    });
    let take = {
        let class = class.clone();
        move || {
            let results = app.class_results(class.id);
            let now = app.now().utc_ms;
            let all =
                changes(&class, &results, &seen.get_untracked(), rule.get_untracked(), now, || {
                    app.record_id()
                });
            let count = u32::try_from(all.len()).unwrap_or(0);
            if app.take_slips(all) {
                text.set(String::new());
                taken.set(Some(count));
            }
        }
    };
    let take_label = words.class_take();
    view! {
        {plain_head(app, words.class_collect(), &Route::Class(back.clone()))}
        <main id="main" tabindex="-1" class="form pad stack-wide">
            <p>{words.class_collect_note(&class.setup.label)}</p>
            {camera(app, text, seen)}
            {text_area("slips", words.class_slips(), text)}
            {photo}
            {move || photo_empty.get().then(|| alert(app.w().class_photo_empty()))}
            <div role="status" class="stack">
                {move || seen_view(app, &seen.get(), rule)}
                {move || {
                    let done = taken.get().filter(|_| text.with(String::is_empty));
                    done.map(|count| notice(Icon::Tick, app.w().class_taken(count)))
                }}
            </div>
        </main>
        {move || {
            if !seen.with(|seen| seen.iter().any(|one| one.verdict.may_be_taken())) {
                floor(act_link(app.w().class_back(), to(back.clone())))
            } else {
                let (label, take) = (take_label.clone(), take.clone());
                floor(act(move || label.clone(), take))
            }
        }}
    }
    .into_tree()
}

/// The camera reads one slip after another into the same text, where the browser can.
fn camera(app: App, text: RwSignal<String>, seen: Memo<Vec<Arrival>>) -> Tree {
    let film = app.film;
    if !film.can_read_codes() {
        return Tree::Nothing;
    }
    film.close();
    on_cleanup(move || film.close());
    let said = RwSignal::new(String::new());
    let last = StoredValue::new(String::new());
    let read = move |codes: String| {
        // A slip that is still held there says nothing new.
        if last.with_value(|last| *last == codes) {
            return;
        }
        let words = app.w();
        let read = text.with_untracked(|text| code_seen(text, &codes, app.now().date()));
        said.set(match read {
            CodeSeen::New(all) => {
                text.set(all);
                let newest = seen.with_untracked(|seen| seen.last().map(|one| named(&words, one)));
                newest.unwrap_or_default()
            }
            CodeSeen::Known => words.class_slip_double(),
            CodeSeen::NoSlip => words.class_camera_other(),
        });
        last.set_value(codes);
    };
    let start = move || {
        said.set(String::new());
        last.set_value(String::new());
        film.read_codes(read);
    };
    let controls = move || {
        let words = app.w();
        match film.stage.get() {
            Stage::Opening => notice(Icon::Hourglass, words.class_camera_wait()),
            Stage::Camera => view! {
                <p class="strong" role="status">{move || said.get()}</p>
                {button(words.class_camera_stop(), move || film.close())}
            }
            .into_tree(),
            _ => button(words.class_camera(), start),
        }
    };
    let shows = move || if film.stage.get() == Stage::Camera { "film" } else { "film film--none" };
    view! {
        <p class="small soft">{app.w().class_camera_note()}</p>
        <div class=shows>
            <video id=FILM class="film__video" muted playsinline aria-label=app.w().class_camera()></video>
        </div>
        {controls}
        {move || film.fault.get().map(|fault| alert(camera_fault(&app.w(), fault)))}
    }
    .into_tree()
}

/// The number of a slip and what it means; what cannot be read has no number.
fn named(words: &Words, one: &Arrival) -> String {
    let meaning = verdict(words, one.verdict);
    match &one.slip {
        Some(slip) => words.two_things(&words.class_number(&slip.number.to_string()), &meaning),
        None => meaning,
    }
}

fn camera_fault(words: &Words, fault: ClipFault) -> String {
    match fault {
        ClipFault::CameraDenied => words.class_camera_denied(),
        ClipFault::CameraLost => words.class_camera_lost(),
        _ => words.class_camera_none(),
    }
}

fn seen_view(app: App, seen: &[Arrival], rule: RwSignal<Rule>) -> Tree {
    if seen.is_empty() {
        return Tree::Nothing;
    }
    let words = app.w();
    let fresh = seen.iter().filter(|one| one.verdict == Verdict::New).count();
    let rows: Vec<_> = seen
        .iter()
        .map(|one| {
            let (label, best) = match &one.slip {
                Some(slip) => {
                    let unit = slip.session.division.unit();
                    let best = slip.session.best().map(|best| words.length(best.0, unit));
                    let date = words.date(slip.date, DateForm::DayAndMonth);
                    let number = words.class_number(&slip.number.to_string());
                    (words.two_things(&number, &date), best.unwrap_or_default())
                }
                None => (one.text.clone(), String::new()),
            };
            view! {
                <tr>
                    <th scope="row">{label}</th>
                    <td class="num">{best}</td>
                    <td>{verdict(&words, one.verdict)}</td>
                </tr>
            }
        })
        .collect();
    let second =
        seen.iter().any(|one| matches!(one.verdict, Verdict::Retake | Verdict::OtherDevice));
    let rules = second.then(|| {
        let rules = vec![
            Choice::new(Rule::LeaveOut, words.class_rule_leave()),
            Choice::new(Rule::Replace, words.class_rule_replace()),
            Choice::new(Rule::KeepBoth, words.class_rule_both()),
        ];
        let chosen = Signal::derive(move || Some(rule.get()));
        view! {
            <p class="label" id="rule-label">
                {words.class_rule()}
            </p>
            {pick("rule", "rule-label".to_owned(), rules, chosen, move |one| rule.set(one))}
        }
    });
    view! {
        <p class="strong">{words.class_found(u32::try_from(fresh).unwrap_or(0))}</p>
        {rules}
        <div class="scroll" tabindex="0" role="region" aria-label=words.class_take()>
            <table>
                <tbody>{rows}</tbody>
            </table>
        </div>
    }
    .into_tree()
}

fn verdict(words: &Words, verdict: Verdict) -> String {
    match verdict {
        Verdict::New => words.class_slip_new(),
        Verdict::Double => words.class_slip_double(),
        Verdict::Retake => words.class_slip_retake(),
        Verdict::OtherDevice => words.class_slip_other(),
        Verdict::WrongClass => words.class_slip_wrong(),
        Verdict::NoSuchNumber => words.class_slip_number(),
        Verdict::Unreadable(problem) => words.slip_problem(problem),
    }
}
