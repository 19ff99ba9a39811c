use wasm_bindgen::JsValue;
use web_sys::{Storage, Window};

use super::web_storage::{Place, WebStorage};

/// What belongs to one tab alone, survives a reload and ends with the tab: the test being made.
///
/// It may be written at every input; the store of record may not, because browsers then take longer
/// to bring it to disk.
pub type SessionStorage = WebStorage<gloo_storage::SessionStorage>;

impl Place for gloo_storage::SessionStorage {
    fn look(window: &Window) -> Result<Option<Storage>, JsValue> {
        window.session_storage()
    }
}
