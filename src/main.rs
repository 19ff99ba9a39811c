//! Mounts the page into the shell of `index.html`.

use leptos::prelude::*;
use leptos::wasm_bindgen::JsCast;

fn main() {
    let Some(app) = document().get_element_by_id("app") else { return };
    let Ok(app) = app.dyn_into::<web_sys::HtmlElement>() else { return };
    leptos::mount::mount_to(app, || view! { <div class="mounted"></div> }).forget();
}
