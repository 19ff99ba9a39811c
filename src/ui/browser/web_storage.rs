//! What the page's two key-value stores have in common.

use std::marker::PhantomData;

use gloo_storage::errors::StorageError;
use serde::Serialize;
use serde::de::DeserializeOwned;
use wasm_bindgen::JsValue;

use super::js;

/// Why the browser did not read or write.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum StorageFault {
    /// The browser keeps its storage closed to this page.
    Blocked,
    /// There is no room left for this page.
    Full,
    /// Anything else, by the name the browser gives it.
    Other(String),
}

impl StorageFault {
    /// By the name of the exception; an older name of a full store is `NS_ERROR_DOM_QUOTA_REACHED`.
    pub(super) fn by_name(name: Option<String>) -> Self {
        match name.as_deref() {
            Some("QuotaExceededError" | "NS_ERROR_DOM_QUOTA_REACHED") => Self::Full,
            Some("SecurityError" | "NotAllowedError") => Self::Blocked,
            _ => Self::Other(name.unwrap_or_default()),
        }
    }

    pub(super) fn of(error: &JsValue) -> Self {
        Self::by_name(js::error_name(error))
    }
}

/// One of the browser's stores, looked for before gloo-storage touches it: gloo-storage panics when
/// the browser blocks storage, and a panic ends the page.
///
/// It holds nothing but the kind of store, so it may be shared freely.
pub(super) struct WebStorage<S> {
    kind: PhantomData<fn() -> S>,
    look: fn(&web_sys::Window) -> Result<Option<web_sys::Storage>, JsValue>,
}

impl<S: gloo_storage::Storage> WebStorage<S> {
    /// A store, or why there is none.
    pub(super) fn open(
        look: fn(&web_sys::Window) -> Result<Option<web_sys::Storage>, JsValue>,
    ) -> Result<Self, StorageFault> {
        let store = Self { kind: PhantomData, look };
        store.raw()?;
        Ok(store)
    }

    /// The browser's own object. A safety setting can change while the page is open, so each use
    /// looks again; `length` is the cheapest call that a blocked store refuses.
    fn raw(&self) -> Result<web_sys::Storage, StorageFault> {
        let window = web_sys::window().ok_or(StorageFault::Blocked)?;
        let store = (self.look)(&window).map_err(|_| StorageFault::Blocked)?;
        store.ok_or(StorageFault::Blocked)?.length().map_err(|_| StorageFault::Blocked)?;
        Ok(S::raw())
    }

    /// Text as it is stored. Records are JSON text already, and the typed calls of gloo-storage
    /// would store a JSON string of it: longer by every quote escaped, and not what the backup
    /// script or a person looking into the browser expects.
    pub(super) fn get(&self, key: &str) -> Result<Option<String>, StorageFault> {
        self.raw()?.get_item(key).map_err(|error| StorageFault::of(&error))
    }

    pub(super) fn set(&self, key: &str, text: &str) -> Result<(), StorageFault> {
        self.raw()?.set_item(key, text).map_err(|error| StorageFault::of(&error))
    }

    pub(super) fn remove(&self, key: &str) -> Result<(), StorageFault> {
        self.raw()?.remove_item(key).map_err(|error| StorageFault::of(&error))
    }

    /// Every key that starts with `prefix`, sorted: the browser's own order may change with each
    /// write.
    pub(super) fn keys_with_prefix(&self, prefix: &str) -> Result<Vec<String>, StorageFault> {
        let store = self.raw()?;
        let fault = |error: JsValue| StorageFault::of(&error);
        let mut keys = Vec::new();
        for at in 0..store.length().map_err(fault)? {
            let key = store.key(at).map_err(fault)?;
            keys.extend(key.filter(|key| key.starts_with(prefix)));
        }
        keys.sort_unstable();
        Ok(keys)
    }

    /// A typed value, by gloo-storage; none when it is not there or cannot be read as a `T`.
    pub(super) fn typed<T: DeserializeOwned>(&self, key: &str) -> Result<Option<T>, StorageFault> {
        self.raw()?;
        Ok(S::get(key).ok())
    }

    pub(super) fn set_typed<T: Serialize>(&self, key: &str, value: T) -> Result<(), StorageFault> {
        self.raw()?;
        S::set(key, value).map_err(|error| match error {
            StorageError::JsError(error) => StorageFault::by_name(Some(error.name)),
            StorageError::SerdeError(_) | StorageError::KeyNotFound(_) => {
                StorageFault::Other("not JSON".to_owned())
            }
        })
    }
}
