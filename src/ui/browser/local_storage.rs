use serde::Serialize;
use serde::de::DeserializeOwned;

use super::StorageFault;
use super::web_storage::WebStorage;

/// The store of record: what this page keeps in this browser until the person deletes it.
///
/// Every key begins with `two-marks/`, because all pages of one address share the store.
pub struct LocalStorage(WebStorage<gloo_storage::LocalStorage>);

impl LocalStorage {
    /// The store, unless the browser keeps it closed; then the page runs in memory and says so.
    pub fn open() -> Result<Self, StorageFault> {
        WebStorage::open(web_sys::Window::local_storage).map(Self)
    }

    /// The text under a key.
    pub fn get(&self, key: &str) -> Result<Option<String>, StorageFault> {
        self.0.get(key)
    }

    /// Writes text as it is. One key is written whole or not at all.
    pub fn set(&self, key: &str, text: &str) -> Result<(), StorageFault> {
        self.0.set(key, text)
    }

    /// Takes a key away; no fault when it was not there.
    pub fn remove(&self, key: &str) -> Result<(), StorageFault> {
        self.0.remove(key)
    }

    /// Every key that starts with `prefix`, sorted.
    pub fn keys_with_prefix(&self, prefix: &str) -> Result<Vec<String>, StorageFault> {
        self.0.keys_with_prefix(prefix)
    }

    /// A setting as JSON; none when it was never made or cannot be read.
    pub fn setting<T: DeserializeOwned>(&self, key: &str) -> Result<Option<T>, StorageFault> {
        self.0.typed(key)
    }

    /// Keeps a setting as JSON.
    pub fn set_setting<T: Serialize>(&self, key: &str, value: T) -> Result<(), StorageFault> {
        self.0.set_typed(key, value)
    }
}
