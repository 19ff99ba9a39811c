//! The browser's side of the page, and the only files that name `web_sys`, `js_sys` or
//! `wasm_bindgen`.
//!
//! Each file is one thing that the browser can do: it holds no signal, knows no page and says no
//! word to a person. What can fail returns an enum with the facts. What a browser may lack is
//! looked for before it is used, so that an old browser loses the extra and not the page.

pub mod clock;
pub mod codes;
pub mod device;
pub mod files;
pub mod journal;
mod js;
pub mod language;
mod listener;
pub mod local_storage;
pub mod locale;
pub mod locks;
pub mod page;
pub mod panic;
pub mod picture;
pub mod random;
pub mod session_storage;
pub mod sharing;
pub mod video;
mod web_storage;
pub mod worker;

pub use listener::Listener;
