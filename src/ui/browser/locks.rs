//! One tab at a time, for reading, changing and writing the store of record.

use js_sys::{Array, Function, Promise};
use wasm_bindgen::closure::Closure;
use wasm_bindgen::{JsCast, JsValue};

use super::js;

const NAME: &str = "two-marks";
/// Longest wait for another tab. Design choice: a tab holds the lock for some milliseconds, so a
/// longer wait means that it hangs, and a save must not hang with it.
const WAIT_MS: i32 = 3_000;

/// How far the work was alone.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Alone {
    /// No other tab was inside meanwhile.
    Yes,
    /// The browser has no locks here (plain http, or an old browser), or another tab hangs: the
    /// work must itself look whether the record has changed before it writes.
    Unsure,
}

/// Does some work while no other tab of this page does any. Work inside must not call this again:
/// it would wait for itself.
pub async fn alone<T>(work: impl AsyncFnOnce(Alone) -> T) -> T {
    let held = Held::ask().await;
    let alone = if held.is_some() { Alone::Yes } else { Alone::Unsure };
    work(alone).await
}

/// The lock, given back when this is dropped, whatever became of the work.
struct Held {
    give_back: Function,
}

impl Held {
    /// Asks and waits. The lock is bound to this value from the start, so that giving up halfway
    /// gives it back as soon as it comes.
    async fn ask() -> Option<Self> {
        let locks = js::of_navigator("locks")?;
        let (release, give_back) = promise_to_resolve();
        let held = Self { give_back };
        let (granted, grant) = promise_to_resolve();
        // The browser holds the lock for as long as the promise that this returns is open.
        let hold = Closure::once_into_js(move |_lock: JsValue| -> JsValue {
            let _ = grant.call0(&JsValue::UNDEFINED);
            release.into()
        });
        let asked = js::promise(&locks, "request", &[JsValue::from_str(NAME), hold])?;
        // Being asked ends before being granted only by a refusal.
        let either = Promise::race(&Array::of2(&granted, &asked));
        js::within(WAIT_MS, &either).await.ok()?;
        Some(held)
    }
}

impl Drop for Held {
    fn drop(&mut self) {
        let _ = self.give_back.call0(&JsValue::UNDEFINED);
    }
}

/// A promise and the function that resolves it.
fn promise_to_resolve() -> (Promise, Function) {
    let mut resolve = None;
    let promise = Promise::new(&mut |function, _| resolve = Some(function));
    (promise, resolve.unwrap_or_else(|| JsValue::UNDEFINED.unchecked_into()))
}
