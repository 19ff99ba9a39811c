//! Small helpers for values that a browser may or may not have.

use js_sys::{Function, Object, Promise, Reflect};
use wasm_bindgen::{JsCast, JsValue};
use wasm_bindgen_futures::{JsFuture, spawn_local};

/// A property, unless it is missing, null or refuses to be read. Old browsers, insecure addresses
/// and safety settings each take away some of them.
pub(super) fn property(of: &JsValue, name: &str) -> Option<JsValue> {
    let value = Reflect::get(of, &JsValue::from_str(name)).ok()?;
    (!value.is_null() && !value.is_undefined()).then_some(value)
}

/// A property of `window.navigator`.
pub(super) fn of_navigator(name: &str) -> Option<JsValue> {
    property(&web_sys::window()?.navigator(), name)
}

/// A method, when the browser has it.
pub(super) fn method(of: &JsValue, name: &str) -> Option<Function> {
    property(of, name)?.dyn_into().ok()
}

/// The `name` of an error, such as `QuotaExceededError`; names are the part of an exception that
/// browsers agree on.
pub(super) fn error_name(error: &JsValue) -> Option<String> {
    property(error, "name")?.as_string()
}

/// Calls a method that gives a promise; none when the browser lacks the method or refuses the call.
pub(super) fn promise(of: &JsValue, name: &str, arguments: &[JsValue]) -> Option<Promise> {
    let arguments: js_sys::Array = arguments.iter().collect();
    method(of, name)?.apply(of, &arguments).ok()?.dyn_into().ok()
}

/// An object of options.
pub(super) fn options(pairs: &[(&str, JsValue)]) -> Object {
    let object = Object::new();
    for (name, value) in pairs {
        // A plain new object takes every property; there is nothing to do if one did not.
        let _ = Reflect::set(&object, &JsValue::from_str(name), value);
    }
    object
}

/// Lets a promise run and takes note of its failure, which would otherwise be reported as an
/// unhandled rejection and bring up the crash panel.
pub(super) fn let_run(promise: Promise) {
    spawn_local(async move {
        let _ = JsFuture::from(promise).await;
    });
}

/// What [`within`] fails with.
pub(super) const LATE: &str = "late";

fn deadline(ms: i32) -> Promise {
    Promise::new(&mut |_, reject| {
        let late = JsValue::from_str(LATE);
        if let Some(window) = web_sys::window() {
            let _ =
                window.set_timeout_with_callback_and_timeout_and_arguments_1(&reject, ms, &late);
        }
    })
}

/// Waits.
pub(super) async fn pause(ms: i32) {
    // The end of the time is the failure that was asked for.
    let _ = JsFuture::from(deadline(ms)).await;
}

/// A promise to wait for, but not for ever: it fails with [`LATE`] after `ms`. The waiting begins
/// at once, so that a failure before the first `await` is not reported as unhandled.
pub(super) fn within(ms: i32, promise: &Promise) -> JsFuture {
    JsFuture::from(Promise::race(&js_sys::Array::of2(promise, &deadline(ms))))
}

/// A size or an instant that a browser gives, as a whole number.
#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "the cast saturates, and neither is negative or has a fraction that counts"
)]
pub(super) const fn whole(size: f64) -> u64 {
    size as u64
}
