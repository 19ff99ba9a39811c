//! Starts the page: the browser's side and the words, then the page that the address names.

use leptos::prelude::*;

use two_marks::history::{KeyValue, keys};
use two_marks::share::Route;
use two_marks::text::Language;

use super::browser::local_storage::LocalStorage;
use super::browser::session_storage::SessionStorage;
use super::browser::{journal, language, page, panic, worker};
use super::kept;
use super::languages;
use super::pages::{self, Parts};
use super::prelude::{IntoTree, Tree, view};
use super::state::{Front, Near, Speech};

/// Starts the page.
pub fn start() {
    panic::install_hook();
    languages::start(open);
}

static NEAR: Near = Near {
    load_language: languages::load,
    show_language: languages::show,
    keep_language: languages::keep,
    go: page::set_hash,
    replace: |address| page::replace_hash(address.trim_start_matches('#')),
    focus: |id| {
        page::focus(id, true);
    },
    spawn: |work| language::run(work),
    apply_update: worker::apply_update,
};

fn open(speech: Speech, missing: Option<&'static Language>) {
    let shelf = shelf();
    let front = Front::new(&NEAR, speech, route_now(&page::hash()), shelf.is_some());
    front.language_missing.set(missing);
    let holds = holds_something(shelf.as_ref());
    let parts = Parts::new(front, kept::open, holds);
    if !holds {
        mount(front, parts);
        look_into_journal(parts);
        return;
    }
    // The shell stands meanwhile: a wall without the tests on it would be no true one.
    language::run(async move {
        parts.bring_records().await;
        mount(front, parts);
    });
}

fn mount(front: Front, parts: Parts) {
    if let Some(root) = page::root() {
        leptos::mount::mount_to_renderer(&root, move || view(front, parts)).forget();
    }
    listen(front, parts);
}

fn route_now(hash: &str) -> Route {
    Route::parse(&format!("#{hash}"))
}

/// The browser's store, where it takes something. One that is full of earlier tests is kept: they can
/// be read, and the page says that there is no room.
pub fn shelf() -> Option<LocalStorage> {
    let storage = LocalStorage::open().ok()?;
    // Some browsers give a store that takes nothing.
    let tried =
        KeyValue::set(&storage, PROBE_KEY, "").and_then(|()| KeyValue::remove(&storage, PROBE_KEY));
    let has_records = || {
        let keys = KeyValue::keys_with_prefix(&storage, keys::RECORDS);
        keys.is_ok_and(|keys| !keys.is_empty())
    };
    (tried.is_ok() || has_records()).then_some(storage)
}

/// Written and removed at the start, to see whether the store takes anything.
const PROBE_KEY: &str = "two-marks/probe";

/// Where the look is kept: `public/early.js` reads it before the first paint.
pub const LOOK_KEY: &str = "two-marks/theme";

/// Whether anything is there to be read: records, settings, a test under way in this tab.
fn holds_something(shelf: Option<&LocalStorage>) -> bool {
    let names = |store: &dyn KeyValue| store.keys_with_prefix(keys::ROOT).unwrap_or_default();
    let of_tab = SessionStorage::open().map(|store| names(&store)).unwrap_or_default();
    let of_device = shelf.map(|store| names(store)).unwrap_or_default();
    of_tab.iter().chain(&of_device).any(|name| is_kept(name))
}

/// Whether a key is for the part that reads records.
fn is_kept(name: &str) -> bool {
    name.starts_with(keys::ROOT) && !languages::KEYS.contains(&name) && name != LOOK_KEY
}

/// A killed browser may have lost from its store what the journal still holds.
fn look_into_journal(parts: Parts) {
    language::run(async move {
        if journal::holds_lines().await {
            parts.bring_records().await;
        }
    });
}

fn listen(front: Front, parts: Parts) {
    if let Some(listener) = page::on_hash_change(move |hash| {
        parts.leave_page();
        front.route.set(route_now(&hash));
    }) {
        listener.keep();
    }
    for listener in page::on_hidden(move || parts.hide_page()).into_iter().flatten() {
        listener.keep();
    }
    if let Some(listener) = page::on_storage(move |name| {
        if name.is_none_or(|name| is_kept(&name)) {
            parts.reload();
        }
    }) {
        listener.keep();
    }
    if let Some(listener) = worker::on_update_ready(move || front.update_waits.set(true)) {
        listener.keep();
    }
}

fn view(front: Front, parts: Parts) -> Tree {
    count_where_needed(front, parts);
    name_and_focus(front, parts);
    view! {
        {move || pages::skip_link(front)}
        {move || pages::language_missing(front)}
        {move || parts.example_banner()}
        {move || pages::update_notice(front, parts)}
        {move || parts.told_everywhere()}
        {move || {
            let route = front.route.get();
            front.words.track();
            let allowed = parts.allowed(&route);
            if allowed == route {
                return parts.page(&route);
            }
            (front.near.replace)(&allowed.to_string());
            Tree::Nothing
        }}
    }
    .into_tree()
}

/// The clock ticks and the screen stays on where a page counts seconds.
fn count_where_needed(front: Front, parts: Parts) {
    Effect::new(move |held: Option<Option<Box<dyn std::any::Any>>>| {
        let counts = matches!(front.route.get(), Route::WarmUp | Route::Jumps);
        counts.then(|| held.flatten().or_else(|| parts.count_seconds())).flatten()
    });
}

/// Each page names the window and takes the focus to its heading, again when its part has arrived;
/// not the first one, which the person has just opened.
fn name_and_focus(front: Front, parts: Parts) {
    Effect::new(move |before: Option<(Route, bool, bool)>| {
        let route = front.route.get();
        let is_here = parts.has(&route);
        let words = front.w();
        let title = pages::title(&words, &route);
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
