//! The floor that the bench compares with: the framework with one field, one button and one list,
//! built with the page's own settings. It is never part of what ships.

use leptos::prelude::*;

fn main() {
    let Some(place) = document().get_element_by_id("app") else { return };
    let place = wasm_bindgen::JsCast::unchecked_into(place);
    leptos::mount::mount_to(place, page).forget();
}

fn page() -> impl IntoView {
    let typed = RwSignal::new(String::new());
    let lines = RwSignal::new(Vec::<(usize, String)>::new());
    let keep = move |_| {
        lines.update(|lines| lines.push((lines.len(), typed.get_untracked())));
    };
    view! {
        <label for="line">"A line"</label>
        <input id="line" prop:value=typed on:input=move |event| typed.set(event_target_value(&event)) />
        <button id="first" on:click=keep>"Keep"</button>
        <ul>
            <For each=move || lines.get() key=|(at, _)| *at children=|(_, line)| view! { <li>{line}</li> } />
        </ul>
    }
}
