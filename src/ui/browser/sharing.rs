//! Handing a text to somebody: clipboard and share sheet.

use wasm_bindgen::JsValue;
use wasm_bindgen_futures::JsFuture;

use super::js;

/// The address of the page without what follows `#`.
pub fn address() -> String {
    let href = web_sys::window().and_then(|window| window.location().href().ok());
    let href = href.unwrap_or_default();
    href.split('#').next().unwrap_or_default().to_owned()
}

/// Copies a text; says whether the browser did.
pub async fn copy(text: String) -> bool {
    let asked = js::of_navigator("clipboard")
        .and_then(|clipboard| js::promise(&clipboard, "writeText", &[JsValue::from_str(&text)]));
    match asked {
        Some(asked) => JsFuture::from(asked).await.is_ok(),
        None => false,
    }
}

/// Whether the device has a share sheet.
pub fn can_share() -> bool {
    js::of_navigator("share").is_some()
}

/// Opens the share sheet with a link.
pub fn share(url: &str) {
    let options = js::options(&[("url", JsValue::from_str(url))]);
    let navigator = web_sys::window().map(|window| JsValue::from(window.navigator()));
    let shared =
        navigator.and_then(|navigator| js::promise(&navigator, "share", &[options.into()]));
    if let Some(shared) = shared {
        js::let_run(shared);
    }
}
