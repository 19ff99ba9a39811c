use crate::ui::prelude::*;

/// A named text field with its note.
pub fn text_field(
    id: &str,
    label: String,
    note: Option<String>,
    numeric: bool,
    value: Signal<String>,
    input: impl Fn(String) + 'static,
) -> Tree {
    let note_id = format!("{id}-note");
    let described = note.is_some().then(|| note_id.clone());
    let mode = if numeric { "numeric" } else { "text" };
    view! {
        <div class="field">
            <label for=id.to_owned()>{label}</label>
            {note.map(|note| view! { <p class="small soft" id=note_id>{note}</p> })}
            <input
                type="text"
                id=id.to_owned()
                inputmode=mode
                autocomplete="off"
                aria-describedby=described
                prop:value=move || value.get()
                on:input=move |event| input(event_target_value(&event))
            />
        </div>
    }
    .into_tree()
}

/// A named field for many lines.
pub fn text_area(id: &str, label: String, value: RwSignal<String>) -> Tree {
    view! {
        <div class="field">
            <label for=id.to_owned()>{label}</label>
            <textarea
                id=id.to_owned()
                rows="5"
                autocomplete="off"
                spellcheck="false"
                prop:value=move || value.get()
                on:input=move |event| value.set(event_target_value(&event))
            ></textarea>
        </div>
    }
    .into_tree()
}

/// A named list to choose one line from.
pub fn select_field(
    id: &str,
    label: String,
    options: Vec<(String, String)>,
    value: Signal<String>,
    choose: impl Fn(String) + 'static,
) -> Tree {
    let rows = options.into_iter().map(|(key, words)| {
        let here = key.clone();
        view! {
            <option value=key prop:selected=move || value.get() == here>
                {words}
            </option>
        }
    });
    let rows: Vec<_> = rows.collect();
    view! {
        <div class="field">
            <label for=id.to_owned()>{label}</label>
            <select id=id.to_owned() on:change=move |event| choose(event_target_value(&event))>
                {rows}
            </select>
        </div>
    }
    .into_tree()
}
