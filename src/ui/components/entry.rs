use crate::ui::prelude::*;

/// Words of a number entry.
pub struct EntryText {
    /// The field's name.
    pub label: String,
    /// What the number comes to, said politely as it changes.
    pub output: Signal<String>,
    /// The unit's sign.
    pub unit: String,
    /// Names of the minus and the plus key.
    pub less_more: (String, String),
    /// Name of the fraction keys.
    pub fraction: String,
}

/// Keys of a number entry.
pub struct EntryKeys<Less, More, Part, Input, Enter> {
    /// One step down.
    pub less: Less,
    /// One step up.
    pub more: More,
    /// A fraction key, in counts.
    pub part: Part,
    /// The text was changed by hand.
    pub input: Input,
    /// Enter was pressed.
    pub enter: Enter,
}

/// The big number: minus, the field, plus, and keys for the fraction.
pub fn number_entry<Less, More, Part, Input, Enter>(
    id: &str,
    text: EntryText,
    value: Signal<String>,
    invalid: Signal<bool>,
    parts: Vec<(i32, String)>,
    chosen_part: Signal<Option<i32>>,
    keys: EntryKeys<Less, More, Part, Input, Enter>,
) -> Tree
where
    Less: Fn() + 'static,
    More: Fn() + 'static,
    Part: Fn(i32) + Clone + 'static,
    Input: Fn(String) + 'static,
    Enter: Fn() + 'static,
{
    let EntryKeys { less, more, part, input, enter } = keys;
    let (less_label, more_label) = text.less_more;
    let unit_id = format!("{id}-unit");
    let problem_id = format!("{id}-problem");
    let described = format!("{unit_id} {problem_id}");
    let output = text.output;
    let part_keys =
        (parts.len() > 1).then(|| fraction_keys(id, text.fraction, parts, chosen_part, part));
    view! {
        <div class="entry__top">
            <label for=id.to_owned()>{text.label}</label>
            <output for=id.to_owned() aria-live="polite">
                {move || output.get()}
            </output>
        </div>
        <div class="entry__big">
            <button type="button" aria-label=less_label on:click=move |_| less()>
                "−"
            </button>
            <div class="entry__field">
                <input
                    id=id.to_owned()
                    type="text"
                    inputmode="decimal"
                    autocomplete="off"
                    enterkeyhint="done"
                    aria-describedby=described
                    aria-invalid=move || invalid.get().then_some("true")
                    prop:value=move || value.get()
                    on:input=move |event| input(event_target_value(&event))
                    on:keydown=move |event| {
                        if event.key() == "Enter" {
                            event.prevent_default();
                            enter();
                        }
                    }
                />
                <span id=unit_id>{text.unit}</span>
            </div>
            <button type="button" aria-label=more_label on:click=move |_| more()>
                "+"
            </button>
        </div>
        {part_keys}
    }
    .into_tree()
}

fn fraction_keys(
    id: &str,
    label: String,
    parts: Vec<(i32, String)>,
    chosen: Signal<Option<i32>>,
    choose: impl Fn(i32) + Clone + 'static,
) -> Tree {
    let label_id = format!("{id}-fraction");
    let class = if parts.len() > 5 { "parts parts--many" } else { "parts" };
    let choices =
        parts.into_iter().map(|(value, label)| super::Choice::new(value, label)).collect();
    view! {
        <div class=class>
            <span class="hidden-words" id=label_id.clone()>
                {label}
            </span>
            {super::pick(&format!("{id}-part"), label_id, choices, chosen, choose)}
        </div>
    }
    .into_tree()
}
