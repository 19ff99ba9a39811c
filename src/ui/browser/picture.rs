//! Pictures: an SVG file becomes a PNG on a canvas of this page, and leaves by the person's hand.

use js_sys::{Array, Promise};
use wasm_bindgen::closure::Closure;
use wasm_bindgen::{JsCast, JsValue};
use wasm_bindgen_futures::JsFuture;
use web_sys::{
    Blob, CanvasRenderingContext2d, File, FilePropertyBag, HtmlCanvasElement, HtmlImageElement, Url,
};

use super::files::{self, FileFault};
use super::js;

const PNG: &str = "image/png";

/// Makes a PNG of an SVG file, as large as the file says in its `width` and `height`.
///
/// # Errors
/// [`FileFault`] where the browser cannot draw it.
pub async fn png(svg: &str) -> Result<Blob, FileFault> {
    let url = files::address_of(svg, "image/svg+xml")?;
    let made = drawn(&url).await;
    let _ = Url::revoke_object_url(&url);
    made.map_err(|error| FileFault::of(&error))
}

async fn drawn(url: &str) -> Result<Blob, JsValue> {
    let image = HtmlImageElement::new()?;
    image.set_src(url);
    JsFuture::from(image.decode()).await?;
    let document = web_sys::window().and_then(|window| window.document());
    let document = document.ok_or(JsValue::NULL)?;
    let canvas: HtmlCanvasElement = document.create_element("canvas")?.dyn_into()?;
    canvas.set_width(image.natural_width());
    canvas.set_height(image.natural_height());
    let pen = canvas.get_context("2d")?.ok_or(JsValue::NULL)?;
    let pen: CanvasRenderingContext2d = pen.dyn_into()?;
    pen.draw_image_with_html_image_element(&image, 0.0, 0.0)?;
    let blob = Promise::new(&mut |give, refuse| {
        let take = Closure::once_into_js(move |blob: JsValue| {
            let _ = give.call1(&JsValue::NULL, &blob);
        });
        if canvas.to_blob_with_type(take.unchecked_ref(), PNG).is_err() {
            let _ = refuse.call0(&JsValue::NULL);
        }
    });
    // A browser that cannot make one gives null.
    JsFuture::from(blob).await?.dyn_into()
}

/// Whether the browser has a share sheet that takes a picture.
pub fn can_share() -> bool {
    let Ok(blob) = Blob::new() else { return false };
    file(&blob, "a.png").is_ok_and(|file| takes(&file))
}

fn takes(file: &File) -> bool {
    let Some(window) = web_sys::window() else { return false };
    let navigator = window.navigator();
    let asked = js::method(&navigator, "canShare")
        .and_then(|ask| ask.call1(&navigator, &shared(file)).ok());
    asked == Some(JsValue::TRUE)
}

fn shared(file: &File) -> JsValue {
    js::options(&[("files", Array::of1(file).into())]).into()
}

fn file(blob: &Blob, name: &str) -> Result<File, JsValue> {
    let options = FilePropertyBag::new();
    options.set_type(PNG);
    File::new_with_blob_sequence_and_options(&Array::of1(blob), name, &options)
}

/// Opens the share sheet with a picture.
///
/// # Errors
/// [`FileFault::Cancelled`] when the person closed it.
pub async fn share(blob: &Blob, name: &str) -> Result<(), FileFault> {
    let file = file(blob, name).map_err(|error| FileFault::of(&error))?;
    let window = web_sys::window().ok_or(FileFault::Unsupported)?;
    let opened = js::promise(&window.navigator(), "share", &[shared(&file)]);
    let opened = opened.ok_or(FileFault::Unsupported)?;
    JsFuture::from(opened).await.map_err(|error| FileFault::of(&error))?;
    Ok(())
}
