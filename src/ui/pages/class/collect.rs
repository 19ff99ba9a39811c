use crate::ui::prelude::*;

use two_marks::class::{Arrival, Rule, Verdict, changes, preview};
use two_marks::history::Class;
use two_marks::share::{ClassPage, Route};
use two_marks::text::{DateForm, Words};

use super::super::common::plain_head;
use super::to;
use crate::ui::components::{
    Choice, Icon, act, act_link, alert, file_button, floor, notice, pick, text_area,
};
use crate::ui::state::App;

/// Result slips that arrive: typed, pasted, or in a photo; looked at first, then taken over.
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
            if seen.with(Vec::is_empty) {
                floor(act_link(app.w().class_back(), to(back.clone())))
            } else {
                let (label, take) = (take_label.clone(), take.clone());
                floor(act(move || label.clone(), take))
            }
        }}
    }
    .into_tree()
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
