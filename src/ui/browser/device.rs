//! The device's extras: screen, buzz, beep, and whether it keeps what is stored.

use std::cell::{Cell, RefCell};
use std::rc::Rc;

use js_sys::Array;
use wasm_bindgen::{JsCast, JsValue};
use wasm_bindgen_futures::{JsFuture, spawn_local};
use web_sys::AudioContext;

use super::{Listener, js, page};

/// Keeps the screen on for as long as this lives, where the browser can.
#[must_use = "dropping it lets the screen go dark"]
pub struct KeepAwake {
    state: Rc<Awake>,
    _again: Option<Listener>,
}

#[derive(Default)]
struct Awake {
    ended: Cell<bool>,
    lock: RefCell<Option<JsValue>>,
}

/// Keeps the screen on. The browser ends that whenever the page goes out of sight, so it is asked
/// again when the page comes back.
pub fn keep_awake() -> KeepAwake {
    let state = Rc::new(Awake::default());
    ask_for_lock(&state);
    let again = page::on_shown({
        let state = Rc::clone(&state);
        move || ask_for_lock(&state)
    });
    KeepAwake { state, _again: again }
}

fn ask_for_lock(state: &Rc<Awake>) {
    let screen = [JsValue::from_str("screen")];
    let asked = js::of_navigator("wakeLock").and_then(|of| js::promise(&of, "request", &screen));
    let Some(asked) = asked else { return };
    let state = Rc::clone(state);
    spawn_local(async move {
        // Refused on a low battery, among others: the screen then goes dark as ever.
        let Ok(lock) = JsFuture::from(asked).await else { return };
        if state.ended.get() {
            release(&lock);
        } else if let Some(older) = state.lock.replace(Some(lock)) {
            release(&older);
        }
    });
}

fn release(lock: &JsValue) {
    if let Some(released) = js::promise(lock, "release", &[]) {
        js::let_run(released);
    }
}

impl Drop for KeepAwake {
    fn drop(&mut self) {
        self.state.ended.set(true);
        if let Some(lock) = self.state.lock.take() {
            release(&lock);
        }
    }
}

/// Buzzes for each time given, with the pauses between: buzz, pause, buzz, in milliseconds. False
/// where the device cannot or may not.
pub fn vibrate(pattern_ms: &[u32]) -> bool {
    let pattern: Array = pattern_ms.iter().map(|ms| JsValue::from(*ms)).collect();
    let buzzed = web_sys::window().and_then(|window| {
        let navigator = window.navigator();
        js::method(&navigator, "vibrate")?.call1(&navigator, &pattern).ok()
    });
    buzzed == Some(JsValue::TRUE)
}

/// A short tone, made by the browser itself. Make it in a tap: browsers keep a page silent before.
pub struct Beeper(AudioContext);

impl Beeper {
    /// A beeper, where the browser makes sounds.
    pub fn new() -> Option<Self> {
        let context = AudioContext::new().ok()?;
        if let Ok(resumed) = context.resume() {
            js::let_run(resumed);
        }
        Some(Self(context))
    }

    /// Beeps once. False when the browser refused; a device set to silent is not noticed.
    pub fn beep(&self) -> bool {
        self.play().is_ok()
    }

    fn play(&self) -> Result<(), JsValue> {
        const PITCH_HZ: f32 = 880.0;
        const SECONDS: f64 = 0.25;
        const LOUDNESS: f32 = 0.3;
        let now = self.0.current_time();
        let (tone, volume) = (self.0.create_oscillator()?, self.0.create_gain()?);
        tone.frequency().set_value(PITCH_HZ);
        // It fades out, because a tone that is cut off clicks.
        volume.gain().set_value_at_time(LOUDNESS, now)?;
        volume.gain().linear_ramp_to_value_at_time(0.0, now + SECONDS)?;
        tone.connect_with_audio_node(&volume)?;
        volume.connect_with_audio_node(&self.0.destination())?;
        tone.start()?;
        tone.stop_with_when(now + SECONDS)
    }
}

impl Drop for Beeper {
    fn drop(&mut self) {
        if let Ok(closed) = self.0.close() {
            js::let_run(closed);
        }
    }
}

/// Whether the browser may clear this page's storage by itself.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Keeping {
    /// It keeps everything until the person clears it.
    Promised,
    /// It may clear the page when room is short or the page long unused.
    NotPromised,
    /// It does not say.
    Unknown,
}

/// Asks the browser to keep this page's storage. Some ask the person, so call it from the first
/// save and not at the start.
pub async fn ask_to_keep() -> Keeping {
    keeping_by("persist").await
}

/// Whether it has promised to, without asking anybody.
pub async fn keeping() -> Keeping {
    keeping_by("persisted").await
}

/// Whether the page was opened from the home screen, in a window of its own.
pub fn is_installed() -> bool {
    let window = web_sys::window();
    let found = window.and_then(|window| window.match_media("(display-mode: standalone)").ok());
    found.flatten().is_some_and(|list| list.matches())
}

/// The browser's offer to put the page on the home screen, as the starting script has kept it.
const OFFER: &str = "homeScreenOffer";

fn offer() -> Option<JsValue> {
    let window = web_sys::window()?;
    js::property(&window, OFFER)
}

/// Whether the browser has offered to put the page on the home screen.
pub fn offers_home_screen() -> bool {
    offer().is_some()
}

/// Whether it does so by a line of its share menu: only phones with such browsers tell a page whether
/// it stands alone.
pub fn has_home_screen_in_share_menu() -> bool {
    js::of_navigator("standalone").is_some()
}

/// Takes the browser's offer, which it makes once; whether the person agreed.
pub async fn add_to_home_screen() -> bool {
    let (Some(window), Some(offer)) = (web_sys::window(), offer()) else { return false };
    let _ = js_sys::Reflect::set(&window, &JsValue::from_str(OFFER), &JsValue::NULL);
    let Some(asked) = js::promise(&offer, "prompt", &[]) else { return false };
    if JsFuture::from(asked).await.is_err() {
        return false;
    }
    let choice = js::property(&offer, "userChoice")
        .and_then(|choice| choice.dyn_into::<js_sys::Promise>().ok());
    let Some(choice) = choice else { return false };
    let choice = JsFuture::from(choice).await.ok();
    let outcome = choice.and_then(|choice| js::property(&choice, "outcome")?.as_string());
    outcome.as_deref() == Some("accepted")
}

async fn keeping_by(method: &str) -> Keeping {
    let asked = js::of_navigator("storage").and_then(|of| js::promise(&of, method, &[]));
    let Some(asked) = asked else { return Keeping::Unknown };
    match JsFuture::from(asked).await.ok().and_then(|answer| answer.as_bool()) {
        Some(true) => Keeping::Promised,
        Some(false) => Keeping::NotPromised,
        None => Keeping::Unknown,
    }
}
