//! A film in the page: a picked file or the camera. It is played from the browser's own memory or
//! disk by an address that only this page knows, and forgotten when another one is opened.

use std::cell::{Cell, RefCell};
use std::rc::Rc;

use js_sys::{Array, Promise};
use wasm_bindgen::closure::Closure;
use wasm_bindgen::{JsCast, JsValue};
use wasm_bindgen_futures::JsFuture;
use web_sys::{Event, HtmlInputElement, HtmlVideoElement, Url};

use super::{Listener, js};
use two_marks::measure::{ClipFault, Closer, Landmarks, Place, Shown, picture_number};

/// Largest file that is opened, in bytes. Design choice: half an hour of a phone's best film.
const BYTES_MAX: f64 = 4e9;
/// How long a browser may take to open a film.
const OPEN_MS: i32 = 20_000;
/// How long it may take to show a frame that was asked for.
const FRAME_MS: i32 = 4_000;
/// How long after the seek its frame may be told of.
const TOLD_MS: i32 = 500;
/// Places of a film that differ by less, in seconds, may be one to a browser, which cuts microseconds off.
const SAME_PLACE_S: f64 = 5e-6;
/// How far beside such a place is looked instead: much less than a step into a frame.
const ASIDE_S: f64 = 1e-5;
/// Paints that a picture sought is waited for: about a second. Design choice.
const PAINTS_MAX: u8 = 60;
/// Pixels of a picture that tell it from its neighbours: wide and high.
const PICTURE: (u32, u32) = (320, 240);
/// Places of a film at which one picture must differ from the first.
const PARTS: u64 = 8;
/// Longest recording. Three jumps with their rests fit, and a phone's memory holds it.
const RECORDING_MS: i32 = 120_000;

/// The film under way. There is at most one.
#[derive(Default)]
pub struct Film {
    /// The address of what is played.
    url: RefCell<Option<String>>,
    /// What the camera sends.
    stream: RefCell<Option<JsValue>>,
    /// What takes it down.
    recorder: RefCell<Option<JsValue>>,
    /// The pieces taken down so far.
    pieces: RefCell<Array>,
    listeners: RefCell<Vec<Listener>>,
    /// The picture of the last look, in a browser that tells no frame times.
    last_picture: Cell<Option<u64>>,
    /// Where a film is sent to see a picture change, once two such places are known.
    landmarks: Cell<Option<Landmarks>>,
    /// Where pictures are read, once they are.
    pixels: RefCell<Option<js_sys::Object>>,
    /// The camera went away while it filmed.
    lost: Rc<Cell<bool>>,
}

fn video(id: &str) -> Option<HtmlVideoElement> {
    web_sys::window()?.document()?.get_element_by_id(id)?.dyn_into().ok()
}

/// A promise kept when the page is painted next.
fn next_paint() -> Promise {
    Promise::new(&mut |resolve, _| {
        if let Some(window) = web_sys::window() {
            let _ = window.request_animation_frame(&resolve);
        }
    })
}

/// A promise kept by the next event of a name.
fn next(target: &JsValue, event: &str) -> Promise {
    let (target, event) = (target.clone(), event.to_owned());
    Promise::new(&mut move |resolve, _| {
        let options = js::options(&[("once", JsValue::TRUE)]);
        if let Some(listen) = js::method(&target, "addEventListener") {
            let _ = listen.call3(&target, &JsValue::from_str(&event), &resolve, &options);
        }
    })
}

async fn within(ms: i32, promises: &[Promise]) -> Result<JsValue, JsValue> {
    let any: Array = promises.iter().collect();
    js::within(ms, &Promise::race(&any)).await
}

impl Film {
    /// Opens the file just picked and says how long it plays, in microseconds.
    ///
    /// # Errors
    /// A [`ClipFault`].
    pub async fn open_file(&self, id: &str, event: Event) -> Result<u64, ClipFault> {
        let input = event.target().and_then(|target| target.dyn_into::<HtmlInputElement>().ok());
        let file = input.as_ref().and_then(HtmlInputElement::files).and_then(|files| files.get(0));
        let file = file.ok_or(ClipFault::NotPlayable)?;
        if file.size() > BYTES_MAX {
            return Err(ClipFault::TooLarge);
        }
        let url = Url::create_object_url_with_blob(&file).map_err(|_| ClipFault::NotPlayable)?;
        if let Some(input) = input {
            // So that picking the same file again raises the event again.
            input.set_value("");
        }
        self.open_url(id, url).await
    }

    async fn open_url(&self, id: &str, url: String) -> Result<u64, ClipFault> {
        self.close(id);
        let video = video(id).ok_or(ClipFault::NotPlayable)?;
        let (ready, broken) = (next(&video, "loadeddata"), next(&video, "error"));
        video.set_src(&url);
        self.url.replace(Some(url));
        let opened = within(OPEN_MS, &[ready, broken]).await;
        if opened.is_err() || js::property(&video, "error").is_some() {
            return Err(ClipFault::NotPlayable);
        }
        if video.video_width() == 0 || video.video_height() == 0 {
            return Err(ClipFault::NoPicture);
        }
        if !video.duration().is_finite() {
            // A recording does not know its length before its end was looked at.
            let (known, sought) = (next(&video, "durationchange"), next(&video, "seeked"));
            video.set_current_time(1e9);
            let _ = within(FRAME_MS, &[known]).await;
            let _ = within(FRAME_MS, &[sought]).await;
        }
        let seconds = video.duration();
        if !seconds.is_finite() || seconds <= 0.0 {
            return Err(ClipFault::NotPlayable);
        }
        let length = js::whole(seconds * 1e6);
        let tells = js::method(&video, "requestVideoFrameCallback").is_some();
        if tells || self.can_tell_pictures_apart(id, length).await {
            Ok(length)
        } else {
            Err(ClipFault::NoFrameTimes)
        }
    }

    /// Whether looks at one place show one picture, and looks at different places different ones.
    /// Safety settings may blank the pixels that a page reads, or change them at each look.
    async fn can_tell_pictures_apart(&self, id: &str, length: u64) -> bool {
        self.landmarks.set(None);
        self.last_picture.set(None);
        let mut seen = Vec::new();
        // What the first look reads may still be the picture of before; the second one outlasts that.
        let places = (0..PARTS).map(|part| length / PARTS * part);
        for micros in std::iter::once(0).chain(places) {
            let Some(Shown::Picture(picture)) = self.look(id, micros).await else {
                return false;
            };
            seen.push(Place { micros, picture });
        }
        let Some(landmarks) = seen.get(1..).and_then(Landmarks::of) else {
            return false;
        };
        for place in landmarks.both() {
            if self.look(id, place.micros).await != Some(Shown::Picture(place.picture)) {
                return false;
            }
        }
        self.landmarks.set(Some(landmarks));
        true
    }

    /// Shows the film at a time, in microseconds, and says which frame that is: its own time stamp, or
    /// its picture in a browser that tells no times. None when the browser told nothing.
    pub async fn look(&self, id: &str, micros: u64) -> Option<Shown> {
        let video = video(id)?;
        let ask = js::method(&video, "requestVideoFrameCallback");
        let stamp = Rc::new(Cell::new(None::<f64>));
        let told = ask.map(|ask| {
            let (stamp, video) = (stamp.clone(), video.clone());
            Promise::new(&mut move |resolve, _| {
                let stamp = stamp.clone();
                let told = Closure::once_into_js(move |_: JsValue, facts: JsValue| {
                    stamp.set(js::property(&facts, "mediaTime").and_then(|time| time.as_f64()));
                    let _ = resolve.call0(&JsValue::NULL);
                });
                let _ = ask.call1(&video, &told);
            })
        });
        Self::seek(&video, micros).await?;
        let Some(told) = told else {
            return self.picture_at(&video, micros).await.map(Shown::Picture);
        };
        let _ = js::within(TOLD_MS, &told).await;
        let seconds = stamp.get().filter(|time| *time >= 0.0)?;
        Some(Shown::Stamp(js::whole((seconds * 1e6).round())))
    }

    /// Sends the film to a time; none when it does not arrive.
    async fn seek(video: &HtmlVideoElement, micros: u64) -> Option<()> {
        let sought = next(video, "seeked");
        #[expect(clippy::cast_precision_loss, reason = "hours in microseconds are far below 2^53")]
        let seconds = micros as f64 / 1e6;
        // Some browsers tell nothing of a frame when they are sent where they stand already.
        let is_there = (video.current_time() - seconds).abs() < SAME_PLACE_S;
        video.set_current_time(if is_there { seconds + ASIDE_S } else { seconds });
        within(FRAME_MS, &[sought]).await.ok()?;
        Some(())
    }

    /// The number of the picture at a time to which the film has just been sent. The end of a seek is
    /// told now and then before its frame is there, the later the busier the device, and then the
    /// picture is still the one before. So one that has not changed is looked at again by way of a
    /// landmark.
    async fn picture_at(&self, video: &HtmlVideoElement, micros: u64) -> Option<u64> {
        let before = self.last_picture.get();
        let mut now = self.picture(video)?;
        if before == Some(now) {
            now = match self.landmarks.get() {
                None => self.awaited(video, |picture| picture != now).await?,
                Some(landmarks) => {
                    let away = landmarks.away_from(micros, now);
                    Self::seek(video, away.micros).await?;
                    let there = self.awaited(video, |picture| picture == away.picture).await?;
                    self.last_picture.set(Some(there));
                    if there != away.picture {
                        return None;
                    }
                    Self::seek(video, micros).await?;
                    self.awaited(video, |picture| picture != away.picture).await?
                }
            };
        }
        self.last_picture.set(Some(now));
        Some(now)
    }

    /// Waits for a picture; tells the one that stands when it does not come.
    async fn awaited(&self, video: &HtmlVideoElement, is_it: impl Fn(u64) -> bool) -> Option<u64> {
        let mut now = self.picture(video)?;
        for _ in 0..PAINTS_MAX {
            if is_it(now) {
                break;
            }
            js::within(FRAME_MS, &next_paint()).await.ok()?;
            now = self.picture(video)?;
        }
        Some(now)
    }

    /// The number of the picture shown.
    fn picture(&self, video: &HtmlVideoElement) -> Option<u64> {
        let (wide, high) = PICTURE;
        if self.pixels.borrow().is_none() {
            let canvas = web_sys::window()?.document()?.create_element("canvas").ok()?;
            let canvas: web_sys::HtmlCanvasElement = canvas.dyn_into().ok()?;
            canvas.set_width(wide);
            canvas.set_height(high);
            let often = js::options(&[("willReadFrequently", JsValue::TRUE)]);
            let pen = canvas.get_context_with_context_options("2d", &often.into());
            self.pixels.replace(pen.ok()?);
        }
        let pen: JsValue = self.pixels.borrow().clone()?.into();
        let [left, top] = [0.0, 0.0].map(JsValue::from_f64);
        let size = [JsValue::from_f64(wide.into()), JsValue::from_f64(high.into())];
        let [to_wide, to_high] = size.clone();
        let place: Array = [video.into(), left, top, to_wide, to_high].iter().collect();
        js::method(&pen, "drawImage")?.apply(&pen, &place).ok()?;
        let [to_wide, to_high] = size;
        let part: Array =
            [0.0, 0.0].map(JsValue::from_f64).into_iter().chain([to_wide, to_high]).collect();
        let image = js::method(&pen, "getImageData")?.apply(&pen, &part).ok()?;
        let data: js_sys::Uint8ClampedArray = js::property(&image, "data")?.dyn_into().ok()?;
        Some(picture_number(&data.to_vec()))
    }

    /// Copies a part of the frame shown onto a canvas.
    pub fn snap(&self, id: &str, canvas: &str, closer: Closer) {
        let copied = || {
            let video = video(id)?;
            let canvas = web_sys::window()?.document()?.get_element_by_id(canvas)?;
            let canvas: web_sys::HtmlCanvasElement = canvas.dyn_into().ok()?;
            let pen = canvas.get_context("2d").ok()??;
            let pen: web_sys::CanvasRenderingContext2d = pen.dyn_into().ok()?;
            let (to_wide, to_high) = (f64::from(canvas.width()), f64::from(canvas.height()));
            let picture = (f64::from(video.video_width()), f64::from(video.video_height()));
            let [left, top, part_wide, part_high] = closer.part(picture, (to_wide, to_high));
            pen.draw_image_with_html_video_element_and_sw_and_sh_and_dx_and_dy_and_dw_and_dh(
                &video, left, top, part_wide, part_high, 0.0, 0.0, to_wide, to_high,
            )
            .ok()
        };
        // A picture that cannot be copied leaves its place empty; the frame itself is still there.
        let _ = copied();
    }

    /// Forgets the film, and lets the camera go.
    pub fn close(&self, id: &str) {
        self.let_camera_go(id);
        if let Some(video) = video(id) {
            let _ = video.pause();
            let _ = video.remove_attribute("src");
        }
        if let Some(url) = self.url.take() {
            let _ = Url::revoke_object_url(&url);
        }
    }

    fn let_camera_go(&self, id: &str) {
        self.listeners.borrow_mut().clear();
        self.recorder.take();
        self.pieces.replace(Array::new());
        let Some(stream) = self.stream.take() else {
            return;
        };
        if let Some(video) = video(id) {
            video.set_src_object(None);
        }
        let tracks = js::method(&stream, "getTracks").and_then(|get| get.call0(&stream).ok());
        for track in tracks.and_then(|tracks| tracks.dyn_into::<Array>().ok()).unwrap_or_default() {
            if let Some(stop) = js::method(&track, "stop") {
                let _ = stop.call0(&track);
            }
        }
    }

    /// Whether this browser lets a page ask for the camera.
    pub fn has_camera() -> bool {
        let devices = js::of_navigator("mediaDevices");
        devices.and_then(|devices| js::method(&devices, "getUserMedia")).is_some()
    }

    /// Whether this browser can film by itself.
    pub fn can_record() -> bool {
        let window = web_sys::window();
        let recorder = window.and_then(|window| js::property(&window, "MediaRecorder"));
        Self::has_camera() && recorder.is_some()
    }

    /// Shows what the camera sees. One property of its picture is wished for most.
    ///
    /// # Errors
    /// A [`ClipFault`]: no camera, or not allowed.
    pub async fn open_camera(&self, id: &str, wish: (&str, f64)) -> Result<(), ClipFault> {
        self.close(id);
        let video = video(id).ok_or(ClipFault::NoCamera)?;
        let devices = js::of_navigator("mediaDevices").ok_or(ClipFault::NoCamera)?;
        let (name, value) = wish;
        let ideal = js::options(&[("ideal", JsValue::from_f64(value))]);
        let picture =
            js::options(&[("facingMode", JsValue::from_str("environment")), (name, ideal.into())]);
        let wanted = js::options(&[("video", picture.into()), ("audio", JsValue::FALSE)]);
        let asked = js::promise(&devices, "getUserMedia", &[wanted.into()]);
        let asked = asked.ok_or(ClipFault::NoCamera)?;
        let stream = JsFuture::from(asked).await.map_err(|error| {
            match js::error_name(&error).as_deref() {
                Some("NotAllowedError" | "SecurityError") => ClipFault::CameraDenied,
                _ => ClipFault::NoCamera,
            }
        })?;
        video.set_src_object(Some(stream.unchecked_ref()));
        if let Some(playing) = js::promise(&video, "play", &[]) {
            js::let_run(playing);
        }
        self.lost.set(false);
        self.stream.replace(Some(stream));
        Ok(())
    }

    /// Begins to take down what the camera sees; `lost` is called when the camera goes away.
    pub fn record(&self, lost: impl Fn() + 'static) -> bool {
        let begun = || {
            let stream = self.stream.borrow().clone()?;
            let window = web_sys::window()?;
            let make: js_sys::Function = js::property(&window, "MediaRecorder")?.dyn_into().ok()?;
            let recorder = js_sys::Reflect::construct(&make, &Array::of1(&stream)).ok()?;
            let pieces = self.pieces.borrow().clone();
            let target: &web_sys::EventTarget = recorder.unchecked_ref();
            let took = Listener::new(target, "dataavailable", move |event| {
                if let Some(piece) = js::property(&event, "data") {
                    pieces.push(&piece);
                }
            });
            self.listeners.borrow_mut().push(took);
            let tracks = js::method(&stream, "getTracks")?.call0(&stream).ok()?;
            let lost = Rc::new(lost);
            for track in tracks.dyn_into::<Array>().ok()? {
                let (lost, flag) = (lost.clone(), self.lost.clone());
                let gone = Listener::new(track.unchecked_ref(), "ended", move |_| {
                    flag.set(true);
                    lost();
                });
                self.listeners.borrow_mut().push(gone);
            }
            js::method(&recorder, "start")?.call0(&recorder).ok()?;
            self.stop_in_time(&recorder);
            self.recorder.replace(Some(recorder));
            Some(())
        };
        begun().is_some()
    }

    /// Bounds what a forgotten recording may fill.
    fn stop_in_time(&self, recorder: &JsValue) {
        let recorder = recorder.clone();
        let stop = Closure::once_into_js(move || {
            if let Some(stop) = js::method(&recorder, "stop") {
                let _ = stop.call0(&recorder);
            }
        });
        if let Some(window) = web_sys::window() {
            let _ = window.set_timeout_with_callback_and_timeout_and_arguments_0(
                stop.unchecked_ref(),
                RECORDING_MS,
            );
        }
    }

    /// Ends the recording and opens it.
    ///
    /// # Errors
    /// A [`ClipFault`].
    pub async fn stop(&self, id: &str) -> Result<u64, ClipFault> {
        let recorder = self.recorder.take().ok_or(ClipFault::NoCamera)?;
        let state = js::property(&recorder, "state").and_then(|state| state.as_string());
        if state.as_deref() != Some("inactive") {
            let stopped = next(&recorder, "stop");
            if let Some(stop) = js::method(&recorder, "stop") {
                let _ = stop.call0(&recorder);
            }
            let _ = within(FRAME_MS, &[stopped]).await;
        }
        let pieces = self.pieces.replace(Array::new());
        let lost = self.lost.get();
        let blob = web_sys::Blob::new_with_blob_sequence(&pieces);
        let blob = blob.ok().filter(|blob| blob.size() > 0.0);
        let no_film = if lost { ClipFault::CameraLost } else { ClipFault::NotPlayable };
        let url = blob.and_then(|blob| Url::create_object_url_with_blob(&blob).ok());
        let url = url.ok_or(no_film)?;
        self.open_url(id, url).await
    }
}
