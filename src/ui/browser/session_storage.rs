use super::StorageFault;
use super::web_storage::WebStorage;

/// What belongs to one tab alone, survives a reload and ends with the tab: the test being made.
///
/// It may be written at every input, since it is never written to disk in a hurry as the store of
/// record is.
pub struct SessionStorage(WebStorage<gloo_storage::SessionStorage>);

impl SessionStorage {
    /// The tab's store, unless the browser keeps it closed.
    pub fn open() -> Result<Self, StorageFault> {
        WebStorage::open(web_sys::Window::session_storage).map(Self)
    }

    /// The text under a key.
    pub fn get(&self, key: &str) -> Result<Option<String>, StorageFault> {
        self.0.get(key)
    }

    /// Writes text as it is.
    pub fn set(&self, key: &str, text: &str) -> Result<(), StorageFault> {
        self.0.set(key, text)
    }

    /// Takes a key away; no fault when it was not there.
    pub fn remove(&self, key: &str) -> Result<(), StorageFault> {
        self.0.remove(key)
    }
}
