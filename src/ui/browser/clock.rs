//! The person's own clock, and a beat for timers.

use chrono::Local;
use two_marks::quantity::Moment;
use wasm_bindgen::JsCast;
use wasm_bindgen::closure::Closure;

/// Now, with the offset that the person's clock has from UTC today.
pub fn now() -> Moment {
    let now = Local::now();
    let utc_ms = now.timestamp_millis();
    Moment { utc_ms, offset_minutes: minutes_of(now.offset().local_minus_utc()) }
}

/// No clock on Earth is a day away from UTC, so the minutes always fit.
fn minutes_of(seconds: i32) -> i16 {
    i16::try_from(seconds / 60).unwrap_or(0)
}

/// A repeated call that ends when this is dropped.
#[must_use = "dropping the beat ends it"]
pub struct Beat {
    handle: Option<i32>,
    // Held because the browser calls it for as long as the beat runs.
    _call: Closure<dyn Fn()>,
}

/// Calls `call` about once a second. Browsers slow this down in a hidden tab: work out the time
/// from the clock at each call, never by counting calls.
pub fn every_second(call: impl Fn() + 'static) -> Beat {
    let call = Closure::<dyn Fn()>::new(call);
    let handle = web_sys::window().and_then(|window| {
        let call = call.as_ref().unchecked_ref();
        window.set_interval_with_callback_and_timeout_and_arguments_0(call, 1000).ok()
    });
    Beat { handle, _call: call }
}

impl Drop for Beat {
    fn drop(&mut self) {
        if let (Some(handle), Some(window)) = (self.handle, web_sys::window()) {
            window.clear_interval_with_handle(handle);
        }
    }
}
