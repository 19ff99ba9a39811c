//! Numbers, dates and plural categories as the browser writes them in a language.

use std::cell::RefCell;

use chrono::NaiveDate;
use js_sys::{Array, Function, Reflect};
use two_marks::text::{DateForm, EnglishLocale, Locale};
use wasm_bindgen::{JsCast, JsValue};

use super::js;

/// The browser's knowledge of a language. It keeps only the language's tag, so that it may be
/// shared like any other locale; a browser that refuses the tag or lacks a part writes English.
#[derive(Clone, Debug)]
pub struct BrowserLocale {
    tag: String,
}

impl BrowserLocale {
    /// The locale for a language of the page, such as `en-GB`: the first of the person's own
    /// preferences in that language, so that somebody in New York reads an English page with
    /// American dates, or else the one given.
    pub fn for_language(language: &str) -> Self {
        let same = |tag: &String| tag.split('-').next() == language.split('-').next();
        let tag = preferred_languages().into_iter().find(same);
        Self { tag: tag.unwrap_or_else(|| language.to_owned()) }
    }

    fn write(&self, kind: Kind, value: f64) -> Option<String> {
        with_writer(&self.tag, kind, |write| {
            write.call1(&JsValue::UNDEFINED, &JsValue::from_f64(value)).ok()?.as_string()
        })
    }
}

impl Locale for BrowserLocale {
    /// Without grouping, because a comma between thousands reads as a decimal comma elsewhere.
    fn decimal(&self, scaled: i64, places: u8) -> String {
        // A whole number below 2^53 over a power of ten is the nearest double to the decimal, and
        // so is written with exactly these places.
        let value = scaled as f64 / 10_f64.powi(i32::from(places));
        let written = self.write(Kind::Decimal(places), value);
        // Most languages' data have the hyphen for a minus sign; a real one is easier to see.
        let written = written.map(|text| text.replace('-', "−"));
        written.unwrap_or_else(|| EnglishLocale.decimal(scaled, places))
    }

    /// Always by the Gregorian calendar, in which dates are typed and stored.
    fn date(&self, date: NaiveDate, form: DateForm) -> String {
        // A civil date has no time zone: midnight UTC, written in UTC, cannot slip to another day.
        let midnight = date.and_hms_opt(0, 0, 0).unwrap_or_default().and_utc();
        let utc_ms = midnight.timestamp_millis() as f64;
        let written = self.write(Kind::Date(form), utc_ms);
        written.unwrap_or_else(|| EnglishLocale.date(date, form))
    }

    fn time(&self, minute_of_day: u16) -> String {
        let written = self.write(Kind::Time, f64::from(minute_of_day) * 60_000.0);
        written.unwrap_or_else(|| EnglishLocale.time(minute_of_day))
    }

    fn plural(&self, count: u32) -> &'static str {
        match self.write(Kind::Plural, f64::from(count)).as_deref() {
            Some("zero") => "zero",
            Some("one") => "one",
            Some("two") => "two",
            Some("few") => "few",
            Some("many") => "many",
            Some(_) => "other",
            None => EnglishLocale.plural(count),
        }
    }
}

#[derive(Clone, Copy, PartialEq, Eq)]
enum Kind {
    Decimal(u8),
    Date(DateForm),
    Time,
    Plural,
}

struct Writer {
    tag: String,
    kind: Kind,
    write: Function,
}

thread_local! {
    /// Building one takes the browser far longer than using it, and a page uses some dozen.
    static WRITERS: RefCell<Vec<Writer>> = const { RefCell::new(Vec::new()) };
}

fn with_writer<T>(tag: &str, kind: Kind, call: impl FnOnce(&Function) -> Option<T>) -> Option<T> {
    let kept = WRITERS.with_borrow(|writers| {
        let same = |writer: &&Writer| writer.kind == kind && writer.tag == tag;
        writers.iter().find(same).map(|writer| writer.write.clone())
    });
    let write = match kept {
        Some(write) => write,
        None => {
            let write = build(tag, kind)?;
            let writer = Writer { tag: tag.to_owned(), kind, write: write.clone() };
            WRITERS.with_borrow_mut(|writers| writers.push(writer));
            write
        }
    };
    call(&write)
}

/// One of the browser's own writers. Each step is looked up by name, since js-sys's types for these
/// throw past Rust when a tag is refused or a part is missing.
fn build(tag: &str, kind: Kind) -> Option<Function> {
    let (class, method) = match kind {
        Kind::Decimal(_) => ("NumberFormat", "format"),
        Kind::Date(_) | Kind::Time => ("DateTimeFormat", "format"),
        Kind::Plural => ("PluralRules", "select"),
    };
    let tag = JsValue::from_str(tag);
    let intl = js::property(web_sys::window()?.as_ref(), "Intl")?;
    let class = js::method(&intl, class)?;
    let writer = Reflect::construct(&class, &Array::of2(&tag, &options(kind))).ok()?;
    // The two `format`s come bound to their writer, `select` does not.
    Some(js::method(&writer, method)?.bind0(&writer))
}

fn options(kind: Kind) -> JsValue {
    let mut pairs: Vec<(&str, JsValue)> = Vec::new();
    match kind {
        Kind::Decimal(places) => {
            pairs.push(("minimumFractionDigits", JsValue::from(places)));
            pairs.push(("maximumFractionDigits", JsValue::from(places)));
            pairs.push(("useGrouping", JsValue::FALSE));
        }
        Kind::Date(form) => {
            pairs.push(("timeZone", JsValue::from_str("UTC")));
            pairs.push(("calendar", JsValue::from_str("gregory")));
            pairs.extend(parts(form).iter().map(|(part, how)| (*part, JsValue::from_str(how))));
        }
        Kind::Time => {
            pairs.push(("timeZone", JsValue::from_str("UTC")));
            pairs.push(("hour", JsValue::from_str("numeric")));
            pairs.push(("minute", JsValue::from_str("2-digit")));
        }
        Kind::Plural => {}
    }
    js::options(&pairs).into()
}

const fn parts(form: DateForm) -> &'static [(&'static str, &'static str)] {
    match form {
        DateForm::DayAndMonth => &[("weekday", "long"), ("day", "numeric"), ("month", "long")],
        DateForm::Full => &[("day", "numeric"), ("month", "long"), ("year", "numeric")],
        DateForm::Short => &[("day", "numeric"), ("month", "short")],
        DateForm::Month => &[("month", "long"), ("year", "numeric")],
        DateForm::Weekday => &[("weekday", "long")],
        DateForm::MonthName => &[("month", "long")],
    }
}

/// The languages that the person set in the browser, most wanted first.
pub fn preferred_languages() -> Vec<String> {
    let listed = js::of_navigator("languages").and_then(|list| list.dyn_into::<Array>().ok());
    let tags = listed.iter().flat_map(Array::iter).filter_map(|tag| tag.as_string());
    let mut tags: Vec<String> = tags.collect();
    if tags.is_empty() {
        tags.extend(js::of_navigator("language").and_then(|tag| tag.as_string()));
    }
    tags
}

/// Whether to begin in inches: the region of the person's first language is one where a tape at
/// home is marked in inches. Our own reckoning, from which countries have not taken up the metric
/// system in daily life; it only presets a choice. A tag without a region begins in centimetres.
pub fn prefers_inches() -> bool {
    const INCHES: [&str; 3] = ["US", "LR", "MM"];
    let region = preferred_languages().first().and_then(|tag| {
        let intl = js::property(web_sys::window()?.as_ref(), "Intl")?;
        let class = js::method(&intl, "Locale")?;
        let locale = Reflect::construct(&class, &Array::of1(&JsValue::from_str(tag))).ok()?;
        js::property(&locale, "region")?.as_string()
    });
    region.is_some_and(|region| INCHES.contains(&region.as_str()))
}
