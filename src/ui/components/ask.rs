use crate::ui::prelude::*;

use super::{Choice, pick};

/// A question with its joined No and Yes; nothing is chosen at the start.
pub fn ask(
    id: &str,
    question: String,
    note: Option<String>,
    (no, yes): (String, String),
    answer: Signal<Option<bool>>,
    choose: impl Fn(bool) + Clone + 'static,
) -> Tree {
    let question_id = format!("{id}-q");
    let choices = vec![Choice::new(false, no), Choice::new(true, yes)];
    view! {
        <div class="ask">
            <p class="ask__q" id=question_id.clone()>
                {question}
                {note.map(|note| view! { <small>{note}</small> })}
            </p>
            {pick(id, question_id, choices, answer, choose)}
        </div>
    }
    .into_tree()
}

/// A box to tick, as wide as the page.
pub fn check_row(
    id: &str,
    label: String,
    checked: Signal<bool>,
    toggle: impl Fn(bool) + 'static,
) -> Tree {
    view! {
        <label>
            <input
                type="checkbox"
                id=id.to_owned()
                prop:checked=move || checked.get()
                on:change=move |event| toggle(event_target_checked(&event))
            />
            <span>{label}</span>
        </label>
    }
    .into_tree()
}
