use wasm_bindgen::JsValue;
use web_sys::{Storage, Window};

use super::web_storage::{Place, WebStorage};

/// The store of record: what this page keeps in this browser until the person deletes it.
pub type LocalStorage = WebStorage<gloo_storage::LocalStorage>;

impl Place for gloo_storage::LocalStorage {
    fn look(window: &Window) -> Result<Option<Storage>, JsValue> {
        window.local_storage()
    }
}
