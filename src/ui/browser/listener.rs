use wasm_bindgen::JsCast;
use wasm_bindgen::closure::Closure;
use web_sys::{Event, EventTarget};

/// Something that listens to an event for as long as this value lives.
#[must_use = "dropping the listener ends the listening"]
pub struct Listener {
    target: EventTarget,
    event: &'static str,
    // `Fn`, because an event may be raised while the same one is being handled, and a `FnMut`
    // would then throw.
    call: Closure<dyn Fn(Event)>,
}

impl Listener {
    /// Calls `call` at every `event` of `target`.
    pub(super) fn new(
        target: &EventTarget,
        event: &'static str,
        call: impl Fn(Event) + 'static,
    ) -> Self {
        let call = Closure::<dyn Fn(Event)>::new(call);
        // It throws for no input that Rust can express.
        let _ = target.add_event_listener_with_callback(event, call.as_ref().unchecked_ref());
        Self { target: target.clone(), event, call }
    }

    /// The same on `window`; none outside a page.
    pub(super) fn on_window(event: &'static str, call: impl Fn(Event) + 'static) -> Option<Self> {
        Some(Self::new(web_sys::window()?.as_ref(), event, call))
    }

    /// The same on `document`; none outside a page.
    pub(super) fn on_document(event: &'static str, call: impl Fn(Event) + 'static) -> Option<Self> {
        Some(Self::new(web_sys::window()?.document()?.as_ref(), event, call))
    }

    /// Listens for as long as the page is open.
    pub fn keep(self) {
        std::mem::forget(self);
    }
}

impl Drop for Listener {
    fn drop(&mut self) {
        let call = self.call.as_ref().unchecked_ref();
        let _ = self.target.remove_event_listener_with_callback(self.event, call);
    }
}
