//! What the page's two key-value stores have in common.

use std::cell::RefCell;
use std::marker::PhantomData;
use std::rc::Rc;

use two_marks::history::{KeyValue, StoreError};
use wasm_bindgen::JsValue;
use wasm_bindgen_futures::spawn_local;
use web_sys::Window;

use super::js;

/// Where to look for a store before gloo-storage touches it: gloo-storage panics when the browser
/// blocks storage, and a panic ends the page.
pub trait Place: gloo_storage::Storage {
    /// The store of a window, none or an exception when it is blocked.
    fn look(window: &Window) -> Result<Option<web_sys::Storage>, JsValue>;
}

/// One of the browser's stores, `LocalStorage` or `SessionStorage`.
#[derive(Debug)]
pub struct WebStorage<P> {
    place: PhantomData<fn() -> P>,
    /// The names of all keys, until the work at hand ends or a key is written. A start asks a dozen
    /// times, and 10,000 tests are 10,000 names to fetch each time. Other tabs write while this one
    /// rests, so nothing is remembered longer.
    names: Rc<RefCell<Option<Vec<String>>>>,
}

impl<P: Place> WebStorage<P> {
    /// The store, unless the browser keeps it closed; then the page runs in memory and says so.
    ///
    /// # Errors
    /// [`StoreError::Blocked`].
    pub fn open() -> Result<Self, StoreError> {
        Self::raw().map(|_| Self { place: PhantomData, names: Rc::default() })
    }

    /// The browser's own object. A safety setting can change while the page is open, so each use
    /// looks again; `length` is the cheapest call that a blocked store refuses.
    fn raw() -> Result<web_sys::Storage, StoreError> {
        let window = web_sys::window().ok_or(StoreError::Blocked)?;
        let store = P::look(&window).map_err(|_| StoreError::Blocked)?;
        store.ok_or(StoreError::Blocked)?.length().map_err(|_| StoreError::Blocked)?;
        Ok(P::raw())
    }

    /// A choice that is less than a record, such as the theme; none when it was never made. It is a
    /// plain word, kept as a JSON string; a bare word is taken as well.
    ///
    /// # Errors
    /// When the browser does not answer.
    pub fn choice(&self, key: &str) -> Result<Option<String>, StoreError> {
        Ok(KeyValue::get(self, key)?.map(|text| text.trim_matches('"').to_owned()))
    }

    /// Keeps a choice: a word of letters and hyphens, which JSON writes as it is between quotes.
    ///
    /// # Errors
    /// When nothing was written.
    pub fn set_choice(&self, key: &str, word: &str) -> Result<(), StoreError> {
        KeyValue::set(self, key, &format!("\"{word}\""))
    }
}

/// Text as it is stored. Records are JSON text already, and the typed calls of gloo-storage would
/// store a JSON string of it: longer by every quote escaped, and not what the plain script of the
/// crash panel, or a person looking into the browser, expects.
impl<P: Place> KeyValue for WebStorage<P> {
    fn get(&self, key: &str) -> Result<Option<String>, StoreError> {
        Self::raw()?.get_item(key).map_err(fault)
    }

    fn set(&self, key: &str, value: &str) -> Result<(), StoreError> {
        self.names.take();
        Self::raw()?.set_item(key, value).map_err(fault)
    }

    fn remove(&self, key: &str) -> Result<(), StoreError> {
        self.names.take();
        Self::raw()?.remove_item(key).map_err(fault)
    }

    fn keys_with_prefix(&self, prefix: &str) -> Result<Vec<String>, StoreError> {
        let store = Self::raw()?;
        let known = self.names.take();
        let is_new = known.is_none();
        let names = match known {
            Some(names) => names,
            None => all_names(&store).map_err(fault)?,
        };
        let found = names.iter().filter(|name| name.starts_with(prefix)).cloned().collect();
        self.names.replace(Some(names));
        if is_new {
            let names = self.names.clone();
            spawn_local(async move {
                names.take();
            });
        }
        Ok(found)
    }
}

fn all_names(store: &web_sys::Storage) -> Result<Vec<String>, JsValue> {
    let mut names = Vec::new();
    for at in 0..store.length()? {
        names.extend(store.key(at)?);
    }
    Ok(names)
}

fn fault(error: JsValue) -> StoreError {
    by_name(js::error_name(&error).as_deref())
}

/// By the name of the exception; an older name of a full store is `NS_ERROR_DOM_QUOTA_REACHED`.
fn by_name(name: Option<&str>) -> StoreError {
    match name {
        Some("QuotaExceededError" | "NS_ERROR_DOM_QUOTA_REACHED") => StoreError::Full,
        Some("SecurityError" | "NotAllowedError") => StoreError::Blocked,
        _ => StoreError::Other,
    }
}
