//! Files and texts that leave the page or come into it by the person's own hand.

use js_sys::Array;
use wasm_bindgen::closure::Closure;
use wasm_bindgen::{JsCast, JsValue};
use wasm_bindgen_futures::JsFuture;
use web_sys::{
    Blob, BlobPropertyBag, Event, File, FilePropertyBag, HtmlAnchorElement, HtmlInputElement, Url,
};

use super::js;

/// Why a file or text did not go or come.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum FileFault {
    /// The browser cannot do this here, for want of the feature or of a secure address.
    Unsupported,
    /// The person closed the browser's dialogue.
    Cancelled,
    /// The file is larger than may be read.
    TooLarge {
        /// Its size in bytes, rounded.
        bytes: u64,
        /// The most that is read, in bytes.
        max_bytes: u32,
    },
    /// Anything else, by the name the browser gives it.
    Other(String),
}

impl FileFault {
    pub(super) fn of(error: &JsValue) -> Self {
        match js::error_name(error).as_deref() {
            Some("AbortError") => Self::Cancelled,
            name => Self::Other(name.unwrap_or_default().to_owned()),
        }
    }
}

/// Offers a text as a file to be saved under a name.
pub fn download(name: &str, mime: &str, text: &str) -> Result<(), FileFault> {
    save(address_of(text, mime)?, name)
}

/// Offers bytes as a file to be saved under a name.
pub fn download_blob(name: &str, blob: &Blob) -> Result<(), FileFault> {
    let url = Url::create_object_url_with_blob(blob);
    save(url.map_err(|error| FileFault::of(&error))?, name)
}

fn save(url: String, name: &str) -> Result<(), FileFault> {
    let clicked = click_link(&url, name);
    free_later(url);
    clicked.ok_or(FileFault::Unsupported)
}

/// An address at which a text can be read as a file until it is revoked.
pub(super) fn address_of(text: &str, mime: &str) -> Result<String, FileFault> {
    let fault = |error: JsValue| FileFault::of(&error);
    let options = BlobPropertyBag::new();
    options.set_type(mime);
    let parts = Array::of1(&JsValue::from_str(text));
    let blob = Blob::new_with_str_sequence_and_options(&parts, &options).map_err(fault)?;
    Url::create_object_url_with_blob(&blob).map_err(fault)
}

fn click_link(url: &str, name: &str) -> Option<()> {
    let document = web_sys::window()?.document()?;
    let link: HtmlAnchorElement = document.create_element("a").ok()?.dyn_into().ok()?;
    link.set_href(url);
    link.set_download(name);
    // Some browsers follow only a link that stands in the page.
    document.body()?.append_child(&link).ok()?;
    link.click();
    link.remove();
    Some(())
}

/// Frees the text behind an address. Not at once, because browsers read it only after the click,
/// and on a phone only after the person has answered.
fn free_later(url: String) {
    const MINUTE_MS: i32 = 60_000;
    let free = Closure::once_into_js(move || {
        let _ = Url::revoke_object_url(&url);
    });
    if let Some(window) = web_sys::window() {
        let free = free.unchecked_ref();
        let _ = window.set_timeout_with_callback_and_timeout_and_arguments_0(free, MINUTE_MS);
    }
}

/// Whether the device has a sheet for sharing that takes files. What it takes of them is only seen
/// when it is asked.
pub fn can_share() -> bool {
    let Some(file) = file_of("a.txt", "text/plain", "") else { return false };
    let asked = web_sys::window().and_then(|window| {
        let navigator = window.navigator();
        js::method(&navigator, "canShare")?.call1(&navigator, &sharing(&file)).ok()
    });
    asked == Some(JsValue::TRUE)
}

/// Hands a text as a file to the sheet for sharing. Call it in a tap; the sheet opens before this
/// returns, and the answer comes when the person has chosen.
pub fn share(
    name: &str,
    mime: &str,
    text: &str,
) -> impl Future<Output = Result<(), FileFault>> + 'static {
    let asked = file_of(name, mime, text).and_then(|file| {
        let navigator = web_sys::window()?.navigator();
        js::promise(&navigator, "share", &[sharing(&file).into()])
    });
    async move {
        let asked = asked.ok_or(FileFault::Unsupported)?;
        JsFuture::from(asked).await.map(drop).map_err(|error| FileFault::of(&error))
    }
}

fn sharing(file: &File) -> js_sys::Object {
    js::options(&[("files", Array::of1(file).into())])
}

fn file_of(name: &str, mime: &str, text: &str) -> Option<File> {
    let options = FilePropertyBag::new();
    options.set_type(mime);
    let parts = Array::of1(&JsValue::from_str(text));
    File::new_with_str_sequence_and_options(&parts, name, &options).ok()
}

/// A file that the person picked.
pub struct PickedFile(File);

impl PickedFile {
    /// The file just picked in the input that raised a `change` event. The input is emptied, so
    /// that picking the same file again, after mending it, raises the event again.
    pub fn of(event: &Event) -> Option<Self> {
        let input: HtmlInputElement = event.target()?.dyn_into().ok()?;
        let file = input.files()?.get(0)?;
        input.set_value("");
        Some(Self(file))
    }

    /// Its text, read as UTF-8; bytes that are no UTF-8 become U+FFFD.
    ///
    /// # Errors
    /// [`FileFault::TooLarge`] before anything is read.
    pub async fn read_text(&self, max_bytes: u32) -> Result<String, FileFault> {
        let size = self.0.size();
        if size > f64::from(max_bytes) {
            return Err(FileFault::TooLarge { bytes: js::whole(size), max_bytes });
        }
        let text = js::promise(&self.0, "text", &[]).ok_or(FileFault::Unsupported)?;
        let text = JsFuture::from(text).await.map_err(|error| FileFault::of(&error))?;
        text.as_string().ok_or(FileFault::Unsupported)
    }
}
