//! The page in its window: address, title, focus, and what happens to it from outside.

use wasm_bindgen::JsCast;
use web_sys::{Document, Event, FocusOptions, StorageEvent, VisibilityState, Window};

use super::Listener;

fn window() -> Option<Window> {
    web_sys::window()
}

fn document() -> Option<Document> {
    window()?.document()
}

/// The element that the app is mounted into; the static shell makes room for it.
pub fn root() -> Option<web_sys::HtmlElement> {
    let document = document()?;
    if let Ok(Some(shell)) = document.query_selector(".shell") {
        shell.remove();
    }
    document.get_element_by_id("app")?.dyn_into().ok()
}

/// The part of the address after `#`, without it; empty when there is none.
pub fn hash() -> String {
    let hash = window().and_then(|window| window.location().hash().ok()).unwrap_or_default();
    hash.strip_prefix('#').map(str::to_owned).unwrap_or(hash)
}

/// Goes to another hash as a step that Back undoes.
pub fn set_hash(hash: &str) {
    if let Some(window) = window() {
        let _ = window.location().set_hash(hash);
    }
}

/// Goes to another hash in place of this one, so that Back skips it. Like [`set_hash`], it is heard
/// by [`on_hash_change`]; `history.replaceState` would not be.
pub fn replace_hash(hash: &str) {
    if let Some(window) = window() {
        let _ = window.location().replace(&format!("#{hash}"));
    }
}

/// Calls with the new hash whenever it changes, by a link, by Back or by this page.
pub fn on_hash_change(call: impl Fn(String) + 'static) -> Option<Listener> {
    Listener::on_window("hashchange", move |_| call(hash()))
}

/// The title in the browser's tab and history.
pub fn set_title(title: &str) {
    if let Some(document) = document() {
        document.set_title(title);
    }
}

/// Opens the dialogue for printing.
pub fn print() {
    if let Some(window) = window() {
        // Some browsers inside other programs cannot print.
        let _ = window.print();
    }
}

/// Moves the focus to an element by its id, and tells whether there is one. A heading takes the
/// focus only with `tabindex="-1"`.
pub fn focus(id: &str, scroll: bool) -> bool {
    let element = document().and_then(|document| document.get_element_by_id(id));
    let Some(element) = element.and_then(|element| element.dyn_into::<web_sys::HtmlElement>().ok())
    else {
        return false;
    };
    let options = FocusOptions::new();
    options.set_prevent_scroll(!scroll);
    element.focus_with_options(&options).is_ok()
}

/// Scrolls to the top of the page at once.
pub fn scroll_to_top() {
    if let Some(window) = window() {
        window.scroll_to_with_x_and_y(0.0, 0.0);
    }
}

/// Names the theme that the style sheets follow; none leaves it to the system's setting.
pub fn set_theme(theme: Option<&str>) {
    set_root_attribute("data-theme", theme);
}

pub(super) fn root_attribute(name: &str) -> Option<String> {
    document()?.document_element()?.get_attribute(name)
}

pub(super) fn set_root_attribute(name: &str, value: Option<&str>) {
    if let Some(root) = document().and_then(|document| document.document_element()) {
        let _ = match value {
            Some(value) => root.set_attribute(name, value),
            None => root.remove_attribute(name),
        };
    }
}

/// Whether the page can be seen now.
pub fn is_visible() -> bool {
    document().is_some_and(|document| document.visibility_state() == VisibilityState::Visible)
}

/// Calls when the page goes out of sight, which is the last moment when a phone surely lets it
/// write. A page left by a link reports `pagehide`, one put in the background `visibilitychange`;
/// browsers do not all report both, so `call` may come twice.
pub fn on_hidden(call: impl Fn() + Clone + 'static) -> [Option<Listener>; 2] {
    let hide = call.clone();
    [
        Listener::on_document("visibilitychange", move |_| {
            if !is_visible() {
                call();
            }
        }),
        Listener::on_window("pagehide", move |_| hide()),
    ]
}

/// Calls when the page comes into sight again: the clock has gone on meanwhile.
pub fn on_shown(call: impl Fn() + 'static) -> Option<Listener> {
    Listener::on_document("visibilitychange", move |_| {
        if is_visible() {
            call();
        }
    })
}

/// Calls when another tab has written to the store of record, with the key; none when that tab
/// emptied the whole store.
pub fn on_storage(call: impl Fn(Option<String>) + 'static) -> Option<Listener> {
    Listener::on_window("storage", move |event: Event| {
        if let Some(event) = event.dyn_ref::<StorageEvent>() {
            call(event.key());
        }
    })
}
