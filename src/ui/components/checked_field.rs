use crate::ui::prelude::*;

/// What a field is and says.
pub struct FieldText {
    /// Its element id.
    pub id: String,
    /// Its name.
    pub label: String,
    /// More about it.
    pub note: Option<String>,
    /// `text`, `date` or `time`.
    pub kind: &'static str,
    /// The keys a phone shows.
    pub keys: &'static str,
}

/// A named field with what is wrong with it right beneath.
pub fn checked_field(
    text: FieldText,
    value: Signal<String>,
    is_wrong: Signal<bool>,
    problem: impl Fn() -> Tree + Send + 'static,
    input: impl Fn(String) + 'static,
) -> Tree {
    let FieldText { id, label, note, kind, keys } = text;
    let note_id = format!("{id}-note");
    let described = format!("{note_id} {id}-problem");
    view! {
        <div class="field">
            <label for=id.clone()>{label}</label>
            {note.map(|note| view! { <p class="small soft" id=note_id>{note}</p> })}
            <input
                type=kind
                id=id
                inputmode=keys
                autocomplete="off"
                aria-describedby=described
                aria-invalid=move || is_wrong.get().then_some("true")
                prop:value=move || value.get()
                on:input=move |event| input(event_target_value(&event))
            />
            {problem}
        </div>
    }
    .into_tree()
}
