//! The language of the page: what the document says it is, and the file of its words.
//!
//! `public/early.js` has chosen a language before the first paint and written it on the document's
//! root; the build has written into the page which file holds which language.

use wasm_bindgen::JsValue;
use wasm_bindgen_futures::{JsFuture, spawn_local};

use super::{js, page};

/// Longer than this nobody looks at an empty wall. Design choice.
const WORDS_WITHIN_MS: i32 = 8_000;

/// The language that the document says it is in.
pub fn of_page() -> String {
    page::root_attribute("lang").unwrap_or_default()
}

/// Says what language the document is in from now on, and in which direction it is written.
pub fn set_of_page(tag: &str, is_rtl: bool) {
    page::set_root_attribute("lang", Some(tag));
    page::set_root_attribute("dir", is_rtl.then_some("rtl"));
}

/// The file of a language; none when it does not arrive in time.
pub async fn words(tag: &str) -> Option<String> {
    let window = web_sys::window()?;
    let line = window.document()?.query_selector("meta[name=languages]").ok()??;
    let files = line.get_attribute("content")?;
    let mut files = files.split(' ').filter_map(|pair| pair.split_once('='));
    let (_, file) = files.find(|(its, _)| *its == tag)?;
    let asked = js::promise(&window, "fetch", &[JsValue::from_str(file)])?;
    let answer = js::within(WORDS_WITHIN_MS, &asked).await.ok()?;
    if js::property(&answer, "ok") != Some(JsValue::TRUE) {
        return None;
    }
    let text = js::promise(&answer, "text", &[])?;
    JsFuture::from(text).await.ok()?.as_string()
}

/// Lets work run before the page is mounted.
pub fn run(work: impl Future<Output = ()> + 'static) {
    spawn_local(work);
}
