//! The journal: a copy of each save and deletion that survives a browser killed a second later,
//! which the store of record does not.
//!
//! It holds lines of [`JournalEntry`], a deletion in place of what it deleted, and each only until a
//! later start finds that the store of record has had time to reach the disk.

use std::cell::RefCell;
use std::rc::Rc;

use js_sys::{Array, Promise};
use two_marks::history::JournalEntry;
use wasm_bindgen::closure::Closure;
use wasm_bindgen::prelude::wasm_bindgen;
use wasm_bindgen::{JsCast, JsValue};
use web_sys::{IdbDatabase, IdbObjectStore, IdbOpenDbRequest, IdbRequest, IdbTransaction};

use super::js;

const DATABASE: &str = "two-marks";
const STORE: &str = "journal";
const VERSION: u32 = 1;
const WRITTEN: &str = "written_utc_ms";
/// Longest wait for the database to open. Design choice: far above what a healthy browser takes,
/// short enough for a person who waits for the first page.
const OPEN_MS: i32 = 3_000;
/// Longest wait for one piece of work to be on disk. Design choice: far above the quarter of a
/// second that a commit was seen to take under load.
const WORK_MS: i32 = 10_000;

/// Why the journal did not take or give something.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum JournalFault {
    /// The browser has no database for this page, or keeps it closed.
    Blocked,
    /// There is no room left.
    Full,
    /// No answer in time. What was to be written may still arrive.
    Late,
    /// Anything else, by the name the browser gives it.
    Other(String),
}

impl JournalFault {
    /// By an exception, by the event that reports one, or by the text of a passed deadline.
    fn of(error: &JsValue) -> Self {
        if error.as_string().as_deref() == Some(js::LATE) {
            return Self::Late;
        }
        let reported = js::property(error, "target").and_then(|of| js::property(&of, "error"));
        match js::error_name(reported.as_ref().unwrap_or(error)).as_deref() {
            Some("QuotaExceededError") => Self::Full,
            Some("SecurityError" | "NotAllowedError") => Self::Blocked,
            name => Self::Other(name.unwrap_or_default().to_owned()),
        }
    }
}

#[wasm_bindgen]
extern "C" {
    // web-sys hides the third argument behind a compiler flag for the whole build.
    type Durable;
    #[wasm_bindgen(method, catch, js_name = transaction)]
    fn transaction_with_options(
        this: &Durable,
        store: &str,
        mode: &str,
        options: &JsValue,
    ) -> Result<IdbTransaction, JsValue>;
}

/// A connection that gives way to a newer version of the page in another tab, which could otherwise
/// not change the database.
struct Connection {
    database: IdbDatabase,
    // Held because the browser may call it for as long as the connection is open.
    _give_way: Closure<dyn Fn()>,
}

impl Connection {
    fn new(database: IdbDatabase) -> Self {
        let closing = database.clone();
        let give_way = Closure::<dyn Fn()>::new(move || closing.close());
        database.set_onversionchange(Some(give_way.as_ref().unchecked_ref()));
        Self { database, _give_way: give_way }
    }

    /// A transaction whose end means that the data are on disk, not only on their way.
    fn begin(&self, mode: &str) -> Result<IdbTransaction, JsValue> {
        let strict = js::options(&[("durability", JsValue::from_str("strict"))]);
        let database: &Durable = self.database.unchecked_ref();
        database.transaction_with_options(STORE, mode, &strict)
    }
}

impl Drop for Connection {
    fn drop(&mut self) {
        self.database.set_onversionchange(None);
        self.database.close();
    }
}

/// The journal of this browser.
pub struct Journal {
    connection: RefCell<Option<Rc<Connection>>>,
}

impl Journal {
    /// Opens the journal, making it at the first time.
    ///
    /// # Errors
    /// Also when the browser does not answer: this never waits for more than a few seconds.
    pub async fn open() -> Result<Self, JournalFault> {
        let connection = connect().await?;
        Ok(Self { connection: RefCell::new(Some(Rc::new(connection))) })
    }

    /// Writes lines over older ones of the same keys, all of them or none, and takes out those whose
    /// text is empty; when this returns, they are on disk.
    pub async fn put(&self, lines: &[JournalEntry]) -> Result<(), JournalFault> {
        let write = async |store: IdbObjectStore| {
            for line in lines {
                let key = JsValue::from_str(&line.key);
                if line.text.is_empty() {
                    store.delete(&key)?;
                } else {
                    store.put_with_key(&value_of(line), &key)?;
                }
            }
            Ok(())
        };
        self.work("readwrite", write).await
    }

    /// Every line.
    pub async fn all(&self) -> Result<Vec<JournalEntry>, JournalFault> {
        let read = async |store: IdbObjectStore| Ok((store.get_all_keys()?, store.get_all()?));
        let (keys, values) = self.work("readonly", read).await?;
        let (keys, values) = (list(&keys)?, list(&values)?);
        let lines = keys.iter().zip(values.iter());
        Ok(lines.filter_map(|(key, value)| line_of(&key.as_string()?, &value)).collect())
    }

    /// Takes out the lines of these keys, which the store of record holds by now. `seen` are the
    /// lines as they were when that was found out: one that another tab has changed since stays.
    pub async fn prune(&self, seen: &[JournalEntry], keys: &[String]) -> Result<(), JournalFault> {
        let prune = async |store: IdbObjectStore| {
            for line in seen.iter().filter(|line| keys.contains(&line.key)) {
                let key = JsValue::from_str(&line.key);
                let request = store.get(&key)?;
                js::within(WORK_MS, &answer(&request)).await?;
                if line_of(&line.key, &request.result()?).as_ref() == Some(line) {
                    store.delete(&key)?;
                }
            }
            Ok(())
        };
        self.work("readwrite", prune).await
    }

    /// Does one piece of work and waits until it is on disk. A browser may close the connection
    /// behind a page in the background, so that what fails is tried once more on a new one; every
    /// piece of work here may be done twice.
    async fn work<T>(
        &self,
        mode: &str,
        work: impl AsyncFn(IdbObjectStore) -> Result<T, JsValue>,
    ) -> Result<T, JournalFault> {
        let first = self.attempt(mode, &work).await;
        let Err(JournalFault::Other(_)) = first else { return first };
        self.connection.take();
        self.attempt(mode, &work).await
    }

    async fn attempt<T>(
        &self,
        mode: &str,
        work: &impl AsyncFn(IdbObjectStore) -> Result<T, JsValue>,
    ) -> Result<T, JournalFault> {
        let fault = |error: JsValue| JournalFault::of(&error);
        let connection = self.connection().await?;
        let transaction = connection.begin(mode).map_err(fault)?;
        let ended = js::within(WORK_MS, &end(&transaction));
        let store = transaction.object_store(STORE).map_err(fault)?;
        let done = work(store).await;
        if done.is_err() {
            // What was already asked for would otherwise still be written.
            let _ = transaction.abort();
        }
        let ended = ended.await;
        let done = done.map_err(fault)?;
        ended.map_err(fault).map(|_| done)
    }

    async fn connection(&self) -> Result<Rc<Connection>, JournalFault> {
        let kept = self.connection.borrow().clone();
        if let Some(connection) = kept {
            return Ok(connection);
        }
        let connection = Rc::new(connect().await?);
        self.connection.replace(Some(Rc::clone(&connection)));
        Ok(connection)
    }
}

/// Whether the journal has any line, asked once and without the patience of [`Journal`]; a browser
/// that does not answer has none.
pub async fn holds_lines() -> bool {
    let count = async {
        let connection = connect().await.ok()?;
        let transaction = connection.database.transaction_with_str(STORE).ok()?;
        let request = transaction.object_store(STORE).ok()?.count().ok()?;
        js::within(WORK_MS, &answer(&request)).await.ok()?;
        request.result().ok()?.as_f64()
    };
    count.await.is_some_and(|lines| lines > 0.0)
}

/// A line as the database keeps it, under its key.
fn value_of(line: &JournalEntry) -> JsValue {
    // A date of this age is far below 2^53 ms, and so exact.
    let written = line.written_utc_ms as f64;
    js::options(&[("text", JsValue::from_str(&line.text)), (WRITTEN, JsValue::from_f64(written))])
        .into()
}

fn line_of(key: &str, value: &JsValue) -> Option<JournalEntry> {
    let text = js::property(value, "text")?.as_string()?;
    let written = js::whole(js::property(value, WRITTEN)?.as_f64()?);
    let written_utc_ms = i64::try_from(written).ok()?;
    Some(JournalEntry { key: key.to_owned(), text, written_utc_ms })
}

async fn connect() -> Result<Connection, JournalFault> {
    let window = web_sys::window().ok_or(JournalFault::Blocked)?;
    let factory = window.indexed_db().ok().flatten().ok_or(JournalFault::Blocked)?;
    let fault = |error: JsValue| JournalFault::of(&error);
    let request = factory.open_with_u32(DATABASE, VERSION).map_err(fault)?;
    request.set_onupgradeneeded(Some(make_store(&request).unchecked_ref()));
    let opened = answer(&request);
    js::within(OPEN_MS, &opened).await.map_err(fault)?;
    let database: IdbDatabase = request.result().map_err(fault)?.unchecked_into();
    Ok(Connection::new(database))
}

/// Makes the store in a new database. It must outlive a missed deadline, or a slow browser would be
/// left with a database without a store for good; the browser frees it once it has run.
fn make_store(request: &IdbOpenDbRequest) -> JsValue {
    let request = request.clone();
    Closure::once_into_js(move || {
        if let Ok(database) = request.result() {
            // A failure shows when the first transaction does not find the store.
            let _ = database.unchecked_into::<IdbDatabase>().create_object_store(STORE);
        }
    })
}

/// The answer to a request; being blocked by another tab counts as a failure.
fn answer(request: &IdbRequest) -> Promise {
    Promise::new(&mut |resolve, reject| {
        request.set_onsuccess(Some(&resolve));
        request.set_onerror(Some(&reject));
        if let Some(opening) = request.dyn_ref::<IdbOpenDbRequest>() {
            opening.set_onblocked(Some(&reject));
        }
    })
}

/// The end of a transaction: `complete` once it is on disk, `abort` for every failure.
fn end(transaction: &IdbTransaction) -> Promise {
    Promise::new(&mut |resolve, reject| {
        transaction.set_oncomplete(Some(&resolve));
        transaction.set_onabort(Some(&reject));
    })
}

fn list(request: &IdbRequest) -> Result<Array, JournalFault> {
    let result = request.result().map_err(|error| JournalFault::of(&error))?;
    result.dyn_into().map_err(|_| JournalFault::Other(String::new()))
}
