//! Handing a text to somebody: clipboard, share sheet, printer, and codes read from a photo.

use wasm_bindgen::{JsCast, JsValue};
use wasm_bindgen_futures::JsFuture;
use web_sys::{Event, HtmlInputElement};

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

/// Whether the browser reads QR codes by itself.
pub fn reads_codes() -> bool {
    detector().is_some()
}

fn detector() -> Option<JsValue> {
    let window = JsValue::from(web_sys::window()?);
    let class = js::property(&window, "BarcodeDetector")?;
    let class: js_sys::Function = class.dyn_into().ok()?;
    let formats = js_sys::Array::of1(&JsValue::from_str("qr_code"));
    let options = js::options(&[("formats", formats.into())]);
    js_sys::Reflect::construct(&class, &js_sys::Array::of1(&options)).ok()
}

/// The texts of the QR codes in the photo just taken or picked, by lines.
pub async fn codes_in_photo(event: Event) -> Option<String> {
    let input: HtmlInputElement = event.target()?.dyn_into().ok()?;
    let photo = input.files()?.get(0)?;
    let window = web_sys::window()?;
    let bitmap = js::promise(&window, "createImageBitmap", &[photo.into()])?;
    let bitmap = JsFuture::from(bitmap).await.ok()?;
    let found = js::promise(&detector()?, "detect", &[bitmap])?;
    let found = JsFuture::from(found).await.ok()?;
    let texts = js_sys::Array::from(&found)
        .iter()
        .filter_map(|code| js::property(&code, "rawValue")?.as_string())
        .collect::<Vec<_>>();
    Some(texts.join("\n"))
}
