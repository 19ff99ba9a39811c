use crate::ui::prelude::*;

use two_marks::history::{BinEntry, Record};

use crate::ui::components::{Icon, alert, button, notice};
use crate::ui::state::{App, Notice};

/// What to ask once more before it is gone for good.
#[derive(Clone, PartialEq)]
enum Asked {
    /// One version.
    One(Box<Record>),
    /// All of them.
    All,
}

/// What was deleted or replaced: bring it back, or throw it away for good.
pub fn section(app: App) -> Tree {
    app.tests.track();
    app.people.track();
    let words = app.w();
    let gone = (app.notice.get() == Some(Notice::ThrownAway))
        .then(|| notice(Icon::Tick, app.w().bin_gone()));
    let entries = app.bin();
    if entries.is_empty() {
        return view! { <div role="status">{gone}</div> }.into_tree();
    }
    let asked = RwSignal::new(None::<Asked>);
    let rows: Vec<_> = entries.into_iter().map(|entry| row(app, entry, asked)).collect();
    let empty = button(words.bin_empty(), move || asked.set(Some(Asked::All)));
    view! {
        <section class="stack">
            <h2>{words.history_bin()}</h2>
            <p class="soft">{words.bin_note()}</p>
            <div role="status">{gone}</div>
            <ul class="readings">{rows}</ul>
            {empty}
            {move || (asked.get() == Some(Asked::All)).then(|| question(app, asked))}
        </section>
    }
    .into_tree()
}

fn row(app: App, entry: BinEntry, asked: RwSignal<Option<Asked>>) -> Tree {
    let words = app.w();
    let now = app.now();
    let said = words.bin_entry(&entry, now);
    let is_old = entry.purge_is_offered(now.utc_ms);
    let (record, this) = (entry.record.clone(), Asked::One(Box::new(entry.record)));
    let ask = {
        let this = this.clone();
        is_old.then(|| button(words.bin_throw_away(), move || asked.set(Some(this.clone()))))
    };
    view! {
        <li class="bin-row">
            <span>{said}</span>
            <div class="row">
                {button(words.result_restore(), move || app.bring_back_record(record.clone()))}
                {ask}
            </div>
            {move || (asked.get().as_ref() == Some(&this)).then(|| question(app, asked))}
        </li>
    }
    .into_tree()
}

fn question(app: App, asked: RwSignal<Option<Asked>>) -> Tree {
    let words = app.w();
    let yes = move || match asked.get_untracked() {
        Some(Asked::One(record)) => app.throw_away(*record),
        Some(Asked::All) => app.empty_bin(),
        None => {}
    };
    let question = match asked.get_untracked() {
        Some(Asked::All) => words.bin_empty_question(),
        _ => words.bin_throw_away_question(),
    };
    alert(view! {
        <p>{question}</p>
        <div class="row">
            {button(words.bin_yes(), yes)}
            {button(words.not_now(), move || asked.set(None))}
        </div>
    })
}
