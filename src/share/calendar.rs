//! A reminder as a calendar file (RFC 5545): one event with one alarm, all times in UTC.

use chrono::{DateTime, Datelike, Timelike};

/// Longest line, in bytes without its end (RFC 5545, 3.1).
const LINE_BYTES_MAX: usize = 75;

/// What the calendar should show. The words come from the page.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Reminder<'a> {
    /// A name that no other event has.
    pub uid: &'a str,
    /// When the file is written, UTC milliseconds.
    pub written_utc_ms: i64,
    /// When the event starts, UTC milliseconds.
    pub starts_utc_ms: i64,
    /// How long it takes.
    pub minutes: u16,
    /// How long before it the phone reminds.
    pub alarm_minutes_before: u16,
    /// The title.
    pub title: &'a str,
    /// The text.
    pub text: &'a str,
}

/// The calendar file.
///
/// ```
/// use two_marks::share::calendar::{Reminder, calendar};
/// let file = calendar(&Reminder {
///     uid: "AAAA@two-marks",
///     written_utc_ms: 0,
///     starts_utc_ms: 86_400_000,
///     minutes: 30,
///     alarm_minutes_before: 60,
///     title: "Jump test",
///     text: "Wall, chalk, tape",
/// });
/// assert!(file.contains("DTSTART:19700102T000000Z\r\n"));
/// assert!(file.contains("DESCRIPTION:Wall\\, chalk\\, tape\r\n"));
/// ```
pub fn calendar(reminder: &Reminder<'_>) -> String {
    let ends = reminder.starts_utc_ms.saturating_add(i64::from(reminder.minutes) * 60_000);
    let title = escaped(reminder.title);
    let lines = [
        "BEGIN:VCALENDAR".to_owned(),
        "VERSION:2.0".to_owned(),
        "PRODID:-//Two Marks//Reminder//EN".to_owned(),
        "BEGIN:VEVENT".to_owned(),
        format!("UID:{}", escaped(reminder.uid)),
        format!("DTSTAMP:{}", utc(reminder.written_utc_ms)),
        format!("DTSTART:{}", utc(reminder.starts_utc_ms)),
        format!("DTEND:{}", utc(ends)),
        format!("SUMMARY:{title}"),
        format!("DESCRIPTION:{}", escaped(reminder.text)),
        "BEGIN:VALARM".to_owned(),
        "ACTION:DISPLAY".to_owned(),
        format!("DESCRIPTION:{title}"),
        format!("TRIGGER:-PT{}M", reminder.alarm_minutes_before),
        "END:VALARM".to_owned(),
        "END:VEVENT".to_owned(),
        "END:VCALENDAR".to_owned(),
    ];
    let mut file = String::new();
    for line in &lines {
        fold(&mut file, line);
    }
    file
}

/// Backslash, semicolon, comma and line end (RFC 5545, 3.3.11); other control characters go.
fn escaped(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for sign in text.chars() {
        match sign {
            '\\' | ';' | ',' => out.extend(['\\', sign]),
            '\n' => out.push_str("\\n"),
            _ if sign.is_control() => {}
            _ => out.push(sign),
        }
    }
    out
}

/// Lines over 75 bytes go on in the next one behind a space, never inside a character.
fn fold(file: &mut String, line: &str) {
    let mut length = 0;
    for sign in line.chars() {
        if length + sign.len_utf8() > LINE_BYTES_MAX {
            file.push_str("\r\n ");
            length = 1;
        }
        file.push(sign);
        length += sign.len_utf8();
    }
    file.push_str("\r\n");
}

/// An instant as a date with time in UTC. Instants outside the years 0 to 9999 cannot be written in
/// a calendar and become the epoch.
fn utc(utc_ms: i64) -> String {
    let instant = DateTime::from_timestamp_millis(utc_ms).unwrap_or_default();
    let instant = if (0..=9999).contains(&instant.year()) { instant } else { DateTime::default() };
    format!(
        "{:04}{:02}{:02}T{:02}{:02}{:02}Z",
        instant.year(),
        instant.month(),
        instant.day(),
        instant.hour(),
        instant.minute(),
        instant.second()
    )
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn with(title: &str, text: &str, utc_ms: i64) -> String {
        calendar(&Reminder {
            uid: "x@two-marks",
            written_utc_ms: utc_ms,
            starts_utc_ms: utc_ms,
            minutes: 30,
            alarm_minutes_before: 60,
            title,
            text,
        })
    }

    /// Undoes folding and escaping as RFC 5545 defines them.
    fn property(file: &str, name: &str) -> String {
        let unfolded = file.replace("\r\n ", "");
        let start = format!("{name}:");
        let value = unfolded.split("\r\n").find_map(|line| line.strip_prefix(&start)).unwrap();
        let mut out = String::new();
        let mut signs = value.chars();
        while let Some(sign) = signs.next() {
            match sign {
                '\\' => match signs.next() {
                    Some('n') => out.push('\n'),
                    other => out.extend(other),
                },
                _ => out.push(sign),
            }
        }
        out
    }

    #[test]
    fn a_summer_evening_is_written_in_utc() {
        // 17:30 on 14 June 2026.
        let file = with("a", "b", 1_781_458_200_000);
        assert_eq!(property(&file, "DTSTART"), "20260614T173000Z");
        assert_eq!(property(&file, "DTEND"), "20260614T180000Z");
        assert_eq!(property(&file, "TRIGGER"), "-PT60M");
    }

    proptest! {
        #[test]
        fn any_words_survive_in_lines_of_75_bytes(
            title in "[a-zä😀,;\\\\:\n]{0,90}",
            text in "\\PC{0,200}",
            utc_ms in any::<i64>(),
        ) {
            let file = with(&title, &text, utc_ms);
            prop_assert!(file.split("\r\n").all(|line| line.len() <= 75));
            prop_assert_eq!(property(&file, "SUMMARY"), title);
            prop_assert_eq!(property(&file, "DESCRIPTION"), text);
            // Nothing typed can add a line of its own.
            prop_assert_eq!(file.matches("\r\nBEGIN:").count(), 2);
        }
    }
}
