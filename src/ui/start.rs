//! Puts the page together: the browser's side goes into the state, the state into the pages.

use std::cell::RefCell;
use std::rc::Rc;

use leptos::prelude::*;

use two_marks::history::{JournalEntry, KeyValue, Memory, keys};
use two_marks::measure::{ClipFault, Closer, Shown};
use two_marks::share::Route;
use two_marks::text::Language;

use super::browser::journal::Journal;
use super::browser::local_storage::LocalStorage;
use super::browser::locale;
use super::browser::session_storage::SessionStorage;
use super::browser::{
    clock, codes, device, files, locks, page, panic, picture, random, sharing, video, worker,
};
use super::languages;
use super::pages;
use super::prelude::{IntoTree, Tree, view};
use super::state::{App, FILM, FileText, Keeping, Later, Look, Ports, Reel, Shared, Shelf, Speech};

/// Starts the page.
pub fn start() {
    panic::install_hook();
    languages::start(open);
}

fn open(speech: Speech, missing: Option<&'static Language>) {
    let journal = Rc::new(JournalLine::default());
    let route = route_now(&page::hash());
    let opened = browser_shelf().and_then(|shelf| {
        App::open(ports(shelf, true, &journal), speech.clone(), route.clone()).ok()
    });
    let in_memory = || {
        let shelf = Shelf(Rc::new(Memory::new()));
        App::open(ports(shelf, false, &journal), speech, route).ok()
    };
    let Some(app) = opened.or_else(in_memory) else {
        return;
    };
    app.language_missing.set(missing);
    // Mounting also sets up what runs work that ends later, so it comes first.
    if let Some(root) = page::root() {
        leptos::mount::mount_to_renderer(&root, move || view(app)).forget();
    }
    listen(app);
    reconcile(app, journal);
}

fn route_now(hash: &str) -> Route {
    Route::parse(&format!("#{hash}"))
}

fn browser_shelf() -> Option<Shelf> {
    let storage = LocalStorage::open().ok()?;
    // Some browsers give a store that takes nothing. A store that is full of earlier tests is kept:
    // they can be read, and the page says that there is no room.
    let tried =
        KeyValue::set(&storage, PROBE_KEY, "").and_then(|()| KeyValue::remove(&storage, PROBE_KEY));
    let has_records = || {
        let keys = KeyValue::keys_with_prefix(&storage, keys::RECORDS);
        keys.is_ok_and(|keys| !keys.is_empty())
    };
    (tried.is_ok() || has_records()).then(|| Shelf(Rc::new(storage)))
}

/// Written and removed at the start, to see whether the store takes anything.
const PROBE_KEY: &str = "two-marks/probe";

/// The journal, opened when it is first needed.
#[derive(Default)]
struct JournalLine {
    open: RefCell<Option<Rc<Journal>>>,
}

impl JournalLine {
    async fn journal(&self) -> Option<Rc<Journal>> {
        let known = self.open.borrow().clone();
        if known.is_some() {
            return known;
        }
        let journal = Rc::new(Journal::open().await.ok()?);
        self.open.replace(Some(journal.clone()));
        Some(journal)
    }
}

/// Gives the store back what a killed browser lost, and lets the journal forget what the store holds.
fn reconcile(app: App, line: Rc<JournalLine>) {
    leptos::task::spawn_local(async move {
        let Some(journal) = line.journal().await else {
            return;
        };
        let Ok(kept) = journal.all().await else {
            return;
        };
        let prune = locks::alone(async |_| app.take_over(&kept)).await;
        // What cannot be pruned now is pruned at the next start.
        let _ = journal.prune(&kept, &prune).await;
    });
}

fn ports(shelf: Shelf, is_kept: bool, line: &Rc<JournalLine>) -> Ports {
    let line = line.clone();
    let journal = move |entries: Vec<JournalEntry>| -> Later<bool> {
        let line = line.clone();
        Box::pin(async move {
            if !is_kept {
                return false;
            }
            let Some(journal) = line.journal().await else {
                return false;
            };
            journal.put(&entries).await.is_ok()
        })
    };
    let draft: Rc<dyn KeyValue> = match SessionStorage::open() {
        Ok(storage) => Rc::new(storage),
        Err(_) => Rc::new(Memory::new()),
    };
    Ports {
        shelf,
        is_kept,
        look: look_now(),
        prefers_inches: locale::prefers_inches(),
        load_language: languages::load,
        show_language: languages::show,
        keep_language: languages::keep,
        draft: Shelf(draft),
        now: clock::now,
        id_bytes: || random::id_bytes().ok(),
        journal: Rc::new(journal),
        alone: |work| {
            leptos::task::spawn_local(async move {
                // Without locks the store still compares revisions before each write.
                locks::alone(async move |_| work()).await;
            });
        },
        go: page::set_hash,
        replace: |address| page::replace_hash(address.trim_start_matches('#')),
        focus: |id| {
            page::focus(id, true);
        },
        download: |name, mime, text| files::download(name, mime, text).is_ok(),
        print: page::print,
        save_png: |name, svg| {
            Box::pin(async move {
                let blob = picture::png(&svg).await;
                blob.and_then(|blob| files::download_blob(&name, &blob)).is_ok()
            })
        },
        can_share_pictures: picture::can_share,
        share_png: |name, svg| {
            Box::pin(async move {
                let Ok(blob) = picture::png(&svg).await else { return Shared::Refused };
                match picture::share(&blob, &name).await {
                    Ok(()) => Shared::Yes,
                    Err(files::FileFault::Cancelled) => Shared::Cancelled,
                    Err(_) => Shared::Refused,
                }
            })
        },
        spawn: |work| leptos::task::spawn_local(work),
        read_file: |event, most_bytes| {
            let file = files::PickedFile::of(&event)?;
            let read = async move {
                match file.read_text(most_bytes).await {
                    Ok(text) => FileText::Read(text),
                    Err(files::FileFault::TooLarge { .. }) => FileText::TooLarge,
                    Err(_) => FileText::Unreadable,
                }
            };
            Some(Box::pin(read))
        },
        set_look,
        apply_update: worker::apply_update,
        ask_to_keep: || Box::pin(async { keeping(device::ask_to_keep().await) }),
        keeping: || Box::pin(async { keeping(device::keeping().await) }),
        is_installed: device::is_installed(),
        share: files::can_share().then_some(share),
        address: sharing::address,
        copy: |text| Box::pin(sharing::copy(text)),
        share_link: sharing::can_share().then_some(sharing::share),
        read_codes: codes::are_read().then_some(|event| Box::pin(codes::in_photo(event))),
        reel: Rc::new(FilmReel(Rc::default())),
        signal_rest_over: || {
            device::vibrate(&[200, 100, 200]);
            if let Some(beeper) = device::Beeper::new() {
                beeper.beep();
                // The sound needs the beeper for as long as it lasts.
                set_timeout(move || drop(beeper), std::time::Duration::from_secs(2));
            }
        },
    }
}

/// The browser's film, as the state asks for it.
struct FilmReel(Rc<video::Film>);

impl Reel for FilmReel {
    fn open_file(&self, event: leptos::ev::Event) -> Later<Result<u64, ClipFault>> {
        let film = self.0.clone();
        Box::pin(async move { film.open_file(FILM, event).await })
    }

    fn can_record(&self) -> bool {
        video::Film::can_record()
    }

    fn open_camera(&self) -> Later<Result<(), ClipFault>> {
        let film = self.0.clone();
        // As fast as it can.
        Box::pin(async move { film.open_camera(FILM, ("frameRate", 240.0)).await })
    }

    fn can_read_codes(&self) -> bool {
        video::Film::has_camera() && codes::are_read()
    }

    fn open_reader(&self) -> Later<Result<(), ClipFault>> {
        let film = self.0.clone();
        // As sharp as a code needs.
        Box::pin(async move { film.open_camera(FILM, ("width", 1280.0)).await })
    }

    fn read_codes(&self, seen: Box<dyn FnMut(String) -> bool>) -> Later<()> {
        Box::pin(codes::before_camera(FILM, seen))
    }

    fn record(&self, lost: Box<dyn Fn()>) -> bool {
        self.0.record(lost)
    }

    fn stop(&self) -> Later<Result<u64, ClipFault>> {
        let film = self.0.clone();
        Box::pin(async move { film.stop(FILM).await })
    }

    fn look(&self, micros: u64) -> Later<Option<Shown>> {
        let film = self.0.clone();
        Box::pin(async move { film.look(FILM, micros).await })
    }

    fn snap(&self, canvas: String, closer: Closer) {
        self.0.snap(FILM, &canvas, closer);
    }

    fn close(&self) {
        self.0.close(FILM);
    }
}

const fn keeping(answer: device::Keeping) -> Keeping {
    match answer {
        device::Keeping::Promised => Keeping::Promised,
        device::Keeping::NotPromised => Keeping::NotPromised,
        device::Keeping::Unknown => Keeping::Unknown,
    }
}

fn share(name: &str, mime: &str, text: &str) -> Later<Shared> {
    let sharing = files::share(name, mime, text);
    Box::pin(async move {
        match sharing.await {
            Ok(()) => Shared::Yes,
            Err(files::FileFault::Cancelled) => Shared::Cancelled,
            Err(_) => Shared::Refused,
        }
    })
}

/// Where the look is kept: `public/early.js` reads it before the first paint.
const LOOK_KEY: &str = "two-marks/theme";

fn look_now() -> Look {
    let storage = LocalStorage::open().ok();
    let kept = storage.and_then(|storage| storage.choice::<String>(LOOK_KEY).ok().flatten());
    match kept.as_deref() {
        Some("light") => Look::Light,
        Some("dark") => Look::Dark,
        Some("sun") => Look::Sun,
        _ => Look::System,
    }
}

fn set_look(look: Look) {
    let name = match look {
        Look::System => None,
        Look::Light => Some("light"),
        Look::Dark => Some("dark"),
        Look::Sun => Some("sun"),
    };
    page::set_theme(name);
    if let Ok(storage) = LocalStorage::open() {
        // Without room the look holds until the page is closed.
        let _ = match name {
            Some(name) => storage.set_choice(LOOK_KEY, name),
            None => storage.remove(LOOK_KEY),
        };
    }
}

fn listen(app: App) {
    if let Some(listener) = page::on_hash_change(move |hash| {
        app.keep_draft_for_long();
        app.leave_trouble_behind();
        app.route.set(route_now(&hash));
    }) {
        listener.keep();
    }
    for listener in page::on_hidden(move || app.keep_draft_for_long()).into_iter().flatten() {
        listener.keep();
    }
    if let Some(listener) = page::on_storage(move |_| app.reload()) {
        listener.keep();
    }
    if let Some(listener) = worker::on_update_ready(move || app.update_waits.set(true)) {
        listener.keep();
    }
    let resized = window_event_listener(leptos::ev::resize, move |_| {
        app.resized.update(|count| *count = count.wrapping_add(1));
    });
    // For as long as the page is open.
    std::mem::forget(resized);
}

fn view(app: App) -> Tree {
    let parts = pages::Parts::new();
    beat_where_needed(app);
    name_and_focus(app, parts);
    view! {
        {move || pages::skip_link(app)}
        {move || pages::language_missing(app)}
        {move || pages::example_banner(app)}
        {move || pages::update_notice(app)}
        {move || pages::store_trouble(app)}
        {move || {
            let route = app.route.get();
            app.words.track();
            let allowed = untrack(|| app.allowed(&route));
            if allowed == route {
                return parts.page(app, &route);
            }
            (app.ports().replace)(&allowed.to_string());
            Tree::Nothing
        }}
    }
    .into_tree()
}

/// The clock ticks and the screen stays on where a page counts seconds.
fn beat_where_needed(app: App) {
    let held = StoredValue::new_local(None::<(clock::Beat, device::KeepAwake)>);
    Effect::new(move |_| {
        let counts = matches!(app.route.get(), Route::WarmUp | Route::Jumps);
        held.update_value(|held| {
            if counts != held.is_some() {
                *held = counts.then(|| {
                    let beat = clock::every_second(move || {
                        app.beat.update(|beat| *beat = beat.wrapping_add(1));
                    });
                    (beat, device::keep_awake())
                });
            }
        });
    });
}

/// Each page names the window and takes the focus to its heading, again when its part has arrived;
/// not the first one, which the person has just opened.
fn name_and_focus(app: App, parts: pages::Parts) {
    Effect::new(move |before: Option<(Route, bool, bool)>| {
        let route = app.route.get();
        let is_here = parts.has(&route);
        let words = app.w();
        let title = pages::title(app, &route);
        let name = words.app_name();
        let whole = if title == name { name } else { words.page_title(&title, &name) };
        page::set_title(&whole);
        let Some((last, was_here, had_moved)) = before else {
            return (route, is_here, false);
        };
        let moved = last != route;
        if moved {
            page::scroll_to_top();
        }
        if moved || (had_moved && is_here != was_here) {
            page::focus("title", false);
        }
        (route, is_here, moved || had_moved)
    });
}
