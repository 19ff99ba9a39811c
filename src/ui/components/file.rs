use crate::ui::prelude::*;
use crate::ui::tree::event::Event;

/// A button that opens a file. `capture` asks a phone for its camera instead.
pub fn file_button(
    id: &'static str,
    label: String,
    accept: &'static str,
    capture: Option<&'static str>,
    picked: impl Fn(Event) + 'static,
) -> Tree {
    view! {
        <label class="btn file">
            {label}
            <input
                id=id
                type="file"
                class="hidden-words"
                accept=accept
                capture=capture
                on:change=picked
            />
        </label>
    }
    .into_tree()
}
