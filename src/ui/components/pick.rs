use crate::ui::prelude::*;
use leptos::ev::KeyboardEvent;
use leptos::html::Button;

/// One choice of a joined run.
pub struct Choice<T> {
    /// What it stands for.
    pub value: T,
    /// What it says.
    pub label: String,
}

impl<T> Choice<T> {
    /// A choice with its words.
    pub fn new(value: T, label: String) -> Self {
        Self { value, label }
    }
}

/// A joined run of choices, of which one may be chosen: arrows move and choose, as in any radio group.
/// Nothing is chosen until `chosen` says so.
pub fn pick<T: Clone + PartialEq + Send + Sync + 'static>(
    id: &str,
    labelled_by: String,
    choices: Vec<Choice<T>>,
    chosen: Signal<Option<T>>,
    choose: impl Fn(T) + Clone + 'static,
) -> Tree {
    let values: Vec<T> = choices.iter().map(|choice| choice.value.clone()).collect();
    let count = values.len();
    let nodes: Vec<NodeRef<Button>> = values.iter().map(|_| NodeRef::new()).collect();
    let group = id.to_owned();
    let buttons = choices.into_iter().enumerate().map(|(at, choice)| {
        let here = choice.value.clone();
        let is_chosen = {
            let here = here.clone();
            move || chosen.get().as_ref() == Some(&here)
        };
        let checked = {
            let is_chosen = is_chosen.clone();
            move || if is_chosen() { "true" } else { "false" }
        };
        // The chosen one takes the tab stop; with none chosen, the first does.
        let tab = move || match chosen.get() {
            Some(_) if is_chosen() => "0",
            None if at == 0 => "0",
            _ => "-1",
        };
        let press = choose.clone();
        let key = {
            let (press, values, nodes) = (choose.clone(), values.clone(), nodes.clone());
            move |event: KeyboardEvent| {
                let next = match event.key().as_str() {
                    "ArrowRight" | "ArrowDown" => (at + 1) % count,
                    "ArrowLeft" | "ArrowUp" => (at + count - 1) % count,
                    _ => return,
                };
                event.prevent_default();
                if let Some(value) = values.get(next) {
                    press(value.clone());
                }
                if let Some(button) = nodes.get(next).and_then(|node| node.get_untracked()) {
                    // A button that has just gone is no place for the focus anyway.
                    let _ = button.focus();
                }
            }
        };
        let node = nodes.get(at).copied().unwrap_or_default();
        view! {
            <button
                node_ref=node
                type="button"
                role="radio"
                id=format!("{group}-{at}")
                aria-checked=checked
                tabindex=tab
                on:click=move |_| press(here.clone())
                on:keydown=key
            >
                {choice.label}
            </button>
        }
    });
    let buttons: Vec<_> = buttons.collect();
    view! {
        <div class="pick" role="radiogroup" id=id.to_owned() aria-labelledby=labelled_by>
            {buttons}
        </div>
    }
    .into_tree()
}
