//! The part of the program that reads and writes records, with all of the browser that pages need
//! beyond showing themselves. Whoever comes for the first time sees the wall without it.

// What `wasm_split` writes declares the far side of the cut, which the compiler cannot see.
#![allow(unsafe_code, reason = "written by wasm_split; nothing of ours")]

use std::cell::RefCell;
use std::rc::Rc;

use leptos::prelude::{Update, set_timeout, window_event_listener};
use wasm_split_helpers::{SplitLoaderError, wasm_split};

use two_marks::history::{JournalEntry, KeyValue, Memory};
use two_marks::measure::{ClipFault, Closer, Shown};

use super::browser::journal::Journal;
use super::browser::local_storage::LocalStorage;
use super::browser::locale;
use super::browser::session_storage::SessionStorage;
use super::browser::{
    clock, codes, device, files, language, locks, page, picture, random, sharing, video,
};
use super::start;
use super::state::{
    App, FILM, FileText, Front, HomeScreen, Keeping, Later, Look, Ports, Reel, Shared, Shelf,
};

type Open = fn(Front) -> Option<App>;

#[wasm_split(kept, fallible)]
fn kept() -> Result<Open, SplitLoaderError> {
    Ok(open_now)
}

/// Brings the part and opens the records; nothing when it did not arrive.
pub fn open(front: Front) -> Later<Option<App>> {
    Box::pin(async move { kept().await.ok()?(front) })
}

fn open_now(front: Front) -> Option<App> {
    let journal = Rc::new(JournalLine::default());
    let opened = start::shelf()
        .and_then(|shelf| App::open(ports(Shelf(Rc::new(shelf)), true, &journal), front).ok());
    let in_memory = || {
        let shelf = Shelf(Rc::new(Memory::new()));
        App::open(ports(shelf, false, &journal), front).ok()
    };
    let app = opened.or_else(in_memory)?;
    let resized = window_event_listener(leptos::ev::resize, move |_| {
        app.resized.update(|count| *count = count.wrapping_add(1));
    });
    // For as long as the page is open.
    std::mem::forget(resized);
    reconcile(app, journal);
    Some(app)
}

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
    language::run(async move {
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
        draft: Shelf(draft),
        now: clock::now,
        id_bytes: || random::id_bytes().ok(),
        journal: Rc::new(journal),
        alone: |work| {
            language::run(async move {
                // Without locks the store still compares revisions before each write.
                locks::alone(async move |_| work()).await;
            });
        },
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
        spawn: |work| language::run(work),
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
        every_second: |call| Box::new((clock::every_second(call), device::keep_awake())),
        ask_to_keep: || Box::pin(async { keeping(device::ask_to_keep().await) }),
        keeping: || Box::pin(async { keeping(device::keeping().await) }),
        is_installed: device::is_installed(),
        home_screen: || {
            if device::offers_home_screen() {
                HomeScreen::Offered
            } else if device::has_home_screen_in_share_menu() {
                HomeScreen::ShareMenu
            } else {
                HomeScreen::Menu
            }
        },
        add_to_home_screen: || Box::pin(device::add_to_home_screen()),
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

fn look_now() -> Look {
    let storage = LocalStorage::open().ok();
    let kept = storage.and_then(|storage| storage.choice(start::LOOK_KEY).ok().flatten());
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
            Some(name) => storage.set_choice(start::LOOK_KEY, name),
            None => storage.remove(start::LOOK_KEY),
        };
    }
}
