//! What happens when the page's own code breaks.

use std::panic::PanicHookInfo;

use wasm_bindgen::JsValue;
use wasm_bindgen::prelude::wasm_bindgen;
use web_sys::{CustomEvent, CustomEventInit};

/// The event that `public/crash.js` waits for. After a panic no Rust runs any more, so the panel
/// belongs to a plain script.
const EVENT: &str = "two-marks:panic";
/// The same, left on the document: on a slow line the script may come later than the panic.
const MARK: &str = "data-panic";

/// Sees to it that a panic is written to the console and shown to the person.
pub fn install_hook() {
    std::panic::set_hook(Box::new(report));
}

fn report(info: &PanicHookInfo<'_>) {
    web_sys::console::error_1(&JsValue::from_str(&info.to_string()));
    // The place alone goes further than the console: a panic's words may quote what was typed.
    let place = info.location().map(ToString::to_string).unwrap_or_default();
    let options = CustomEventInit::new();
    options.set_detail(&JsValue::from_str(&place));
    let event = CustomEvent::new_with_event_init_dict(EVENT, &options);
    let document = web_sys::window().and_then(|window| window.document());
    if let Some(page) = document.and_then(|document| document.document_element()) {
        let _ = page.set_attribute(MARK, "yes");
    }
    if let (Some(window), Ok(event)) = (web_sys::window(), event) {
        let _ = window.dispatch_event(&event);
    }
}

/// Panics. The browser tests call it on the loaded module to see the crash panel; no link, key or
/// parameter of the page leads here.
#[wasm_bindgen]
#[allow(clippy::panic, reason = "the one place whose purpose is to panic")]
pub fn two_marks_panic() {
    panic!("asked to panic");
}
