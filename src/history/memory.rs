use std::cell::RefCell;
use std::collections::BTreeMap;
use std::rc::Rc;

use super::{KeyValue, StoreError};

/// Storage that lasts as long as the page: for "don't keep it here", for browsers that block
/// storage, and for tests, which can make it fail.
///
/// Clones share their contents, so a test can open the same storage again.
#[derive(Clone, Debug, Default)]
pub struct Memory {
    inner: Rc<RefCell<Inner>>,
}

#[derive(Debug, Default)]
struct Inner {
    values: BTreeMap<String, String>,
    writes_left: Option<usize>,
    writes: usize,
    quota_units: Option<usize>,
}

impl Memory {
    /// Empty storage without limits.
    pub fn new() -> Self {
        Self::default()
    }

    /// From now on only so many writes happen; the next ones fail, as when the browser is killed.
    pub fn stop_after(&self, writes: usize) {
        self.inner.borrow_mut().writes_left = Some(writes);
    }

    /// Keys and values may have so many UTF-16 units together.
    pub fn limit_to(&self, units: usize) {
        self.inner.borrow_mut().quota_units = Some(units);
    }

    /// Takes every limit away again.
    pub fn recover(&self) {
        let mut inner = self.inner.borrow_mut();
        inner.writes_left = None;
        inner.quota_units = None;
    }

    /// How many writes and removals have happened.
    pub fn writes(&self) -> usize {
        self.inner.borrow().writes
    }

    /// UTF-16 units of all keys and values, as browsers count their quota.
    pub fn units(&self) -> usize {
        self.inner.borrow().units()
    }

    /// Everything kept, as it is.
    pub fn values(&self) -> BTreeMap<String, String> {
        self.inner.borrow().values.clone()
    }

    /// A copy that shares nothing.
    #[must_use]
    pub fn detached(&self) -> Self {
        let values = self.values();
        Self { inner: Rc::new(RefCell::new(Inner { values, ..Inner::default() })) }
    }
}

impl Inner {
    fn units(&self) -> usize {
        self.values.iter().map(|(key, value)| units(key) + units(value)).sum()
    }

    fn count_write(&mut self) -> Result<(), StoreError> {
        match &mut self.writes_left {
            Some(0) => return Err(StoreError::Other),
            Some(left) => *left -= 1,
            None => {}
        }
        self.writes += 1;
        Ok(())
    }
}

fn units(text: &str) -> usize {
    text.encode_utf16().count()
}

impl KeyValue for Memory {
    fn get(&self, key: &str) -> Result<Option<String>, StoreError> {
        Ok(self.inner.borrow().values.get(key).cloned())
    }

    fn set(&self, key: &str, value: &str) -> Result<(), StoreError> {
        let mut inner = self.inner.borrow_mut();
        if let Some(quota) = inner.quota_units {
            let before = inner.values.get(key).map_or(0, |old| units(key) + units(old));
            if inner.units() - before + units(key) + units(value) > quota {
                return Err(StoreError::Full);
            }
        }
        inner.count_write()?;
        inner.values.insert(key.to_owned(), value.to_owned());
        Ok(())
    }

    fn remove(&self, key: &str) -> Result<(), StoreError> {
        let mut inner = self.inner.borrow_mut();
        inner.count_write()?;
        inner.values.remove(key);
        Ok(())
    }

    fn keys_with_prefix(&self, prefix: &str) -> Result<Vec<String>, StoreError> {
        let inner = self.inner.borrow();
        let from = inner.values.range(prefix.to_owned()..);
        Ok(from.map(|(key, _)| key.clone()).take_while(|key| key.starts_with(prefix)).collect())
    }
}
