//! What the worker that keeps the page for use offline has to tell.
//!
//! `public/boot.js` registers the worker once the page has started, so that the first start does
//! not wait for it, and reports by events and by marks on the document's root; whoever comes late
//! finds the mark. Loading the page again after an update is up to boot.js too.

use web_sys::Event;

use super::Listener;

/// Calls once a newer version lies ready, at once when it already does. It stays unused until
/// [`apply_update`].
pub fn on_update_ready(call: impl Fn() + 'static) -> Option<Listener> {
    told("data-update-ready", "two-marks:update-ready", call)
}

fn told(mark: &str, event: &'static str, call: impl Fn() + 'static) -> Option<Listener> {
    let root = web_sys::window()?.document()?.document_element()?;
    if root.has_attribute(mark) {
        call();
        return None;
    }
    Listener::on_window(event, move |_| call())
}

/// Puts the newer version in place and loads the page again. Call it between tests only.
pub fn apply_update() {
    if let (Some(window), Ok(event)) = (web_sys::window(), Event::new("two-marks:apply-update")) {
        let _ = window.dispatch_event(&event);
    }
}
