//! QR codes, where the browser brings a reader of its own: in a photo, and before the camera. The
//! pictures are looked at and kept nowhere.

use js_sys::{Array, Function, Reflect};
use wasm_bindgen::{JsCast, JsValue};
use wasm_bindgen_futures::JsFuture;
use web_sys::{Event, HtmlInputElement};

use super::js;

/// How long to wait between two looks. Design choice: five in a second spare the battery, and
/// nobody holds a slip for less.
const PAUSE_MS: i32 = 200;

/// Whether the browser reads QR codes by itself.
pub fn are_read() -> bool {
    detector().is_some()
}

fn detector() -> Option<JsValue> {
    let window = JsValue::from(web_sys::window()?);
    let class: Function = js::property(&window, "BarcodeDetector")?.dyn_into().ok()?;
    let formats = Array::of1(&JsValue::from_str("qr_code"));
    let options = js::options(&[("formats", formats.into())]);
    Reflect::construct(&class, &Array::of1(&options)).ok()
}

/// The texts of the codes in a picture, by lines.
async fn codes_in(detector: &JsValue, picture: JsValue) -> Option<String> {
    let found = js::promise(detector, "detect", &[picture])?;
    let found = JsFuture::from(found).await.ok()?;
    let texts = Array::from(&found)
        .iter()
        .filter_map(|code| js::property(&code, "rawValue")?.as_string())
        .collect::<Vec<_>>();
    Some(texts.join("\n"))
}

/// The texts of the QR codes in the photo just taken or picked, by lines.
pub async fn in_photo(event: Event) -> Option<String> {
    let input: HtmlInputElement = event.target()?.dyn_into().ok()?;
    let photo = input.files()?.get(0)?;
    let window = web_sys::window()?;
    let bitmap = js::promise(&window, "createImageBitmap", &[photo.into()])?;
    let bitmap = JsFuture::from(bitmap).await.ok()?;
    codes_in(&detector()?, bitmap).await
}

/// Looks again and again at what the camera shows in an element, and hands on what it reads, by
/// lines; nothing read is an empty text. Ends when `seen` says that it is enough, or when the camera
/// has gone away.
pub async fn before_camera(id: &str, mut seen: impl FnMut(String) -> bool) {
    let Some(detector) = detector() else { return };
    loop {
        js::pause(PAUSE_MS).await;
        let Some(shown) = camera_picture(id) else { return };
        // A camera that shows nothing yet has no codes.
        if !seen(codes_in(&detector, shown).await.unwrap_or_default()) {
            return;
        }
    }
}

/// The element that shows a camera, while there is one.
fn camera_picture(id: &str) -> Option<JsValue> {
    let element = JsValue::from(web_sys::window()?.document()?.get_element_by_id(id)?);
    let stream = js::property(&element, "srcObject")?;
    let runs = js::property(&stream, "active")? == JsValue::TRUE;
    runs.then_some(element)
}
