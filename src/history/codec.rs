//! Between today's records and the newest wire types. Writing leaves out defaults; reading checks
//! every range, so that nothing beyond it ever reaches a page.

use chrono::{Datelike, NaiveDate};

use super::clean::{NICKNAME_MAX, NOTE_MAX, TAG_MAX, TAGS_MAX, clean_line, clean_note};
use super::draft::Draft;
use super::format::class_v1;
use super::format::v1::{self, Entry, FullEntry};
use super::names::{APPROACH, Named};
use super::record::{
    Born, Deleted, DeletedKind, Extra, HardDay, MarkMethod, Origin, Person, Stamp, StretchNote,
    Test, Tired,
};
use super::settings::{LANGUAGE_MAX, Settings};
use super::{Id, LocalId, Why};
use crate::measure::{
    Device, FlightTime, Hand, Reach, ReachMethod, Session, Surface, TrendKey, Trial, Variant,
};
use crate::quantity::{BirthMonth, BodyMass, Division, Reading};

/// Largest count of a reading, either way: ten metres, or a little over a hundred feet. Design
/// choice: far beyond any wall, far below any overflow.
const COUNT_MAX: i32 = 10_000;
/// Longest time in the air, microseconds. Design choice: a height of 4.9 m.
const FLIGHT_MICROS_MAX: u32 = 2_000_000;
/// Longest frame interval of a film, microseconds. Design choice: a film of ten frames a second.
const FRAME_MICROS_MAX: u32 = 100_000;
/// Most trials of one test, fouls included. Design choice.
const TRIALS_MAX: usize = 60;
/// Most readings of the reach. Design choice.
const REACHES_MAX: usize = 12;
/// Years a test may lie in. Design choice.
const YEARS: std::ops::RangeInclusive<i32> = 1900..=2200;
/// Furthest any clock runs from UTC, minutes, with room to spare.
const OFFSET_MAX: i16 = 18 * 60;
/// Largest body mass, grams. Design choice.
const MASS_MAX: u32 = 500_000;

/// Most fields of a draft. Design choice.
const FIELDS_MAX: usize = 80;
/// Longest text of a field of a draft, in characters. Design choice.
const TYPED_MAX: usize = 200;
/// Longest name of a step, in characters. Design choice.
const STEP_MAX: usize = 40;

/// The name of a value, or nothing for the default.
pub(super) fn name_unless_default<T: Named>(value: T) -> Option<String> {
    let is_default = T::NAMES.first().is_some_and(|(default, _)| *default == value);
    (!is_default).then(|| name(value))
}

pub(super) fn name<T: Named>(value: T) -> String {
    value.name().to_owned()
}

pub(super) fn value<T: Named>(text: &str, field: &'static str) -> Result<T, Why> {
    T::named(text).ok_or(Why::Field(field))
}

pub(super) fn value_or<T: Named>(
    text: Option<&String>,
    default: T,
    field: &'static str,
) -> Result<T, Why> {
    text.map_or(Ok(default), |text| value(text, field))
}

pub(super) fn in_range<T: PartialOrd>(
    number: T,
    min: T,
    max: T,
    field: &'static str,
) -> Result<T, Why> {
    if min <= number && number <= max { Ok(number) } else { Err(Why::Field(field)) }
}

pub(super) fn id(text: &str) -> Result<Id, Why> {
    Id::parse(text).ok_or(Why::Field("i"))
}

fn local(text: &str, field: &'static str) -> Result<LocalId, Why> {
    LocalId::parse(text).ok_or(Why::Field(field))
}

pub(super) fn stamp(rev: u32, edited_utc_ms: i64) -> Result<Stamp, Why> {
    Ok(Stamp { rev: in_range(rev, 1, u32::MAX, "r")?, edited_utc_ms })
}

pub(super) fn date_number(date: NaiveDate) -> i32 {
    let month_and_day = date.month() * 100 + date.day();
    date.year().saturating_mul(10_000).saturating_add(i32::try_from(month_and_day).unwrap_or(0))
}

pub(super) fn date_of(number: i32, field: &'static str) -> Result<NaiveDate, Why> {
    let number = u32::try_from(number).map_err(|_| Why::Field(field))?;
    let year = i32::try_from(number / 10_000).map_err(|_| Why::Field(field))?;
    in_range(year, *YEARS.start(), *YEARS.end(), field)?;
    NaiveDate::from_ymd_opt(year, number / 100 % 100, number % 100).ok_or(Why::Field(field))
}

fn reading_to_wire(reading: Reading, division: Division) -> Entry {
    if reading.division == division {
        return Entry::Count(reading.count);
    }
    let (mark, u) = (Some(reading.count), Some(name(reading.division)));
    Entry::Full(FullEntry { mark, u, ..FullEntry::default() })
}

fn trial_to_wire(trial: Trial, division: Division) -> Entry {
    let full = match trial {
        Trial::FloorMark(reading) => return reading_to_wire(reading, division),
        Trial::MarkDistance(reading) => FullEntry {
            dist: Some(reading.count),
            u: (reading.division != division).then(|| name(reading.division)),
            ..FullEntry::default()
        },
        Trial::FlightTime(time) => FullEntry { air: Some(time.micros), ..FullEntry::default() },
        Trial::Foul(reason) => FullEntry { foul: Some(name(reason)), ..FullEntry::default() },
    };
    Entry::Full(full)
}

fn reading(count: i32, division: Division, field: &'static str) -> Result<Reading, Why> {
    Ok(Reading { count: in_range(count, -COUNT_MAX, COUNT_MAX, field)?, division })
}

fn trial(entry: &Entry, division: Division, field: &'static str) -> Result<Trial, Why> {
    let full = match entry {
        Entry::Count(count) => return Ok(Trial::FloorMark(reading(*count, division, field)?)),
        Entry::Full(full) => full,
    };
    let own = value_or(full.u.as_ref(), division, field)?;
    match full {
        FullEntry { mark: Some(count), dist: None, air: None, foul: None, .. } => {
            Ok(Trial::FloorMark(reading(*count, own, field)?))
        }
        FullEntry { mark: None, dist: Some(count), air: None, foul: None, .. } => {
            Ok(Trial::MarkDistance(reading(*count, own, field)?))
        }
        FullEntry { mark: None, dist: None, air: Some(micros), foul: None, u: None } => {
            let micros = in_range(*micros, 0, FLIGHT_MICROS_MAX, field)?;
            Ok(Trial::FlightTime(FlightTime::timed(micros)))
        }
        FullEntry { mark: None, dist: None, air: None, foul: Some(reason), u: None } => {
            Ok(Trial::Foul(value(reason, field)?))
        }
        _ => Err(Why::Field(field)),
    }
}

fn floor_reading(entry: &Entry, division: Division, field: &'static str) -> Result<Reading, Why> {
    match trial(entry, division, field)? {
        Trial::FloorMark(reading) => Ok(reading),
        _ => Err(Why::Field(field)),
    }
}

/// A jump as it is written: its name, steps and take-off.
pub(super) fn variant_to_wire(variant: Variant) -> (Option<String>, Option<u8>, Option<String>) {
    match variant {
        Variant::Approach { steps, take_off } => {
            (Some(APPROACH.to_owned()), Some(steps), Some(name(take_off)))
        }
        other => (name_unless_default(other), None, None),
    }
}

/// A session as it is written in tests and drafts.
pub(super) fn session_to_wire(session: &Session) -> v1::Session {
    let (key, division) = (session.key, session.division);
    let (jump, steps, off) = variant_to_wire(key.variant);
    let (reach, ron) = match &session.reach {
        Reach::Measured(all) => {
            (Some(all.iter().map(|one| reading_to_wire(*one, division)).collect()), None)
        }
        Reach::Reused { reading, measured_on } => {
            (Some(vec![reading_to_wire(*reading, division)]), Some(date_number(*measured_on)))
        }
        Reach::MarkOnly => (None, None),
    };
    v1::Session {
        jump,
        steps,
        off,
        dev: device_to_wire(key.device),
        rm: name_unless_default(key.reach_method),
        sf: name_unless_default(key.surface),
        own: key.own_way,
        h: name_unless_default(session.hand),
        u: name(division),
        reach,
        ron,
        trials: session.trials.iter().map(|one| trial_to_wire(*one, division)).collect(),
        top: session.top_mark_only,
        mat: MATS.iter().find(|(mat, _)| *mat == key.device).map(|(_, name)| (*name).to_owned()),
        frames: frames_to_wire(&session.trials),
    }
}

/// Timing devices beside the contact mat, under `mat`: a page that does not know the key keeps it and
/// reads a mat.
const MATS: [(Device, &str); 2] = [(Device::ForcePlate, "plate"), (Device::LightBarrier, "light")];

fn device_to_wire(device: Device) -> Option<String> {
    let is_mat = MATS.iter().any(|(mat, _)| *mat == device);
    name_unless_default(if is_mat { Device::TimingMat } else { device })
}

fn device(wire: &v1::Session) -> Result<Device, Why> {
    let device = value_or(wire.dev.as_ref(), Device::Wall, "dev")?;
    let Some(mat) = &wire.mat else {
        return Ok(device);
    };
    let named = MATS.iter().find(|(_, name)| device == Device::TimingMat && name == mat);
    named.map(|(mat, _)| *mat).ok_or(Why::Field("mat"))
}

fn frames_to_wire(trials: &[Trial]) -> Vec<u32> {
    let frame = |trial: &Trial| match trial {
        Trial::FlightTime(time) => time.frame_micros,
        Trial::FloorMark(_) | Trial::MarkDistance(_) | Trial::Foul(_) => 0,
    };
    let frames: Vec<u32> = trials.iter().map(frame).collect();
    if frames.iter().any(|frame| *frame > 0) { frames } else { Vec::new() }
}

/// Gives the trials their frame intervals.
fn put_frames(trials: &mut [Trial], frames: &[u32]) -> Result<(), Why> {
    if frames.is_empty() {
        return Ok(());
    }
    in_range(frames.len(), trials.len(), trials.len(), "frames")?;
    for (trial, frame) in trials.iter_mut().zip(frames) {
        let frame = in_range(*frame, 0, FRAME_MICROS_MAX, "frames")?;
        match trial {
            Trial::FlightTime(time) => time.frame_micros = frame,
            _ if frame == 0 => {}
            _ => return Err(Why::Field("frames")),
        }
    }
    Ok(())
}

pub(super) fn variant_from_wire(
    jump: Option<&String>,
    steps: Option<u8>,
    off: Option<&str>,
) -> Result<Variant, Why> {
    if jump.is_none_or(|jump| jump != APPROACH) {
        if steps.is_some() || off.is_some() {
            return Err(Why::Field("steps"));
        }
        return value_or(jump, Variant::Standing, "jump");
    }
    let steps = in_range(steps.unwrap_or(0), 1, 9, "steps")?;
    let take_off = value(off.unwrap_or_default(), "off")?;
    Ok(Variant::Approach { steps, take_off })
}

fn reach(wire: &v1::Session, division: Division) -> Result<Reach, Why> {
    let Some(entries) = &wire.reach else {
        return if wire.ron.is_none() { Ok(Reach::MarkOnly) } else { Err(Why::Field("ron")) };
    };
    in_range(entries.len(), 0, REACHES_MAX, "reach")?;
    let all: Result<Vec<Reading>, Why> =
        entries.iter().map(|entry| floor_reading(entry, division, "reach")).collect();
    let all = all?;
    match (wire.ron, all.as_slice()) {
        (None, _) => Ok(Reach::Measured(all)),
        (Some(day), [reading]) => {
            Ok(Reach::Reused { reading: *reading, measured_on: date_of(day, "ron")? })
        }
        (Some(_), _) => Err(Why::Field("ron")),
    }
}

/// The session of a test or a draft.
pub(super) fn session_from_wire(wire: &v1::Session) -> Result<Session, Why> {
    let division = value(&wire.u, "u")?;
    in_range(wire.trials.len(), 0, TRIALS_MAX, "trials")?;
    let trials: Result<Vec<Trial>, Why> =
        wire.trials.iter().map(|entry| trial(entry, division, "trials")).collect();
    let mut trials = trials?;
    put_frames(&mut trials, &wire.frames)?;
    let method = ReachMethod::OneHandHeelsDown;
    Ok(Session {
        key: TrendKey {
            variant: variant_from_wire(wire.jump.as_ref(), wire.steps, wire.off.as_deref())?,
            device: device(wire)?,
            reach_method: value_or(wire.rm.as_ref(), method, "rm")?,
            surface: value_or(wire.sf.as_ref(), Surface::Firm, "sf")?,
            own_way: wire.own,
        },
        hand: value_or(wire.h.as_ref(), Hand::Right, "h")?,
        division,
        reach: reach(wire, division)?,
        trials,
        top_mark_only: wire.top,
    })
}

/// The notes of a test or a draft.
pub(super) fn tired_to_wire(tired: Tired) -> v1::Tired {
    let hours_since =
        |kind| tired.leg_work.filter(|(known, _)| *known == kind).map(|(_, hours)| hours);
    let minutes_since =
        |long| tired.stretch.filter(|stretch| stretch.long == long).map(|note| note.minutes_since);
    v1::Tired {
        leg: hours_since(HardDay::LegSession),
        game: hours_since(HardDay::Match),
        held: minutes_since(false),
        held_long: minutes_since(true),
    }
}

/// A test as it is written.
pub(super) fn test_to_wire(test: &Test) -> v1::Test {
    v1::Test {
        v: v1::VERSION,
        k: v1::TEST.to_owned(),
        i: test.id.to_string(),
        p: test.person.as_str().to_owned(),
        r: test.stamp.rev,
        e: test.stamp.edited_utc_ms,
        d: date_number(test.date),
        m: test.minute_of_day,
        o: test.utc_offset_minutes,
        session: session_to_wire(&test.session),
        tired: tired_to_wire(test.tired),
        practice: test.practice,
        note: test.note.clone(),
        tags: test.tags.clone(),
        from: name_unless_default(test.origin),
        tall: test.body_height.map(|reading| reading_to_wire(reading, test.session.division)),
        mass: test.body_mass.map(|mass| mass.grams),
        extra: test.extra.0.clone(),
    }
}

/// The notes of a test or a draft.
pub(super) fn tired_from_wire(wire: &v1::Tired) -> Result<Tired, Why> {
    let leg_work = match (wire.leg, wire.game) {
        (Some(_), Some(_)) => return Err(Why::Field("leg")),
        (Some(hours), None) => Some((HardDay::LegSession, hours)),
        (None, hours) => hours.map(|hours| (HardDay::Match, hours)),
    };
    let stretch = match (wire.held, wire.held_long) {
        (Some(_), Some(_)) => return Err(Why::Field("held")),
        (Some(minutes_since), None) => Some(StretchNote { long: false, minutes_since }),
        (None, minutes) => minutes.map(|minutes_since| StretchNote { long: true, minutes_since }),
    };
    Ok(Tired { leg_work, stretch })
}

fn mass(grams: Option<u32>) -> Result<Option<BodyMass>, Why> {
    let checked = grams.map(|grams| in_range(grams, 1, MASS_MAX, "mass")).transpose()?;
    Ok(checked.map(|grams| BodyMass { grams }))
}

/// A test as it was written.
pub(super) fn test_from_wire(wire: v1::Test) -> Result<Test, Why> {
    let session = session_from_wire(&wire.session)?;
    let division = session.division;
    let tall = wire.tall.as_ref().map(|entry| floor_reading(entry, division, "tall")).transpose();
    let minute = wire.m.map(|minute| in_range(minute, 0, 1439, "m")).transpose();
    in_range(wire.tags.len(), 0, TAGS_MAX, "tags")?;
    let tags = wire.tags.iter().map(|tag| clean_line(tag, TAG_MAX));
    Ok(Test {
        id: id(&wire.i)?,
        person: local(&wire.p, "p")?,
        stamp: stamp(wire.r, wire.e)?,
        date: date_of(wire.d, "d")?,
        minute_of_day: minute?,
        utc_offset_minutes: in_range(wire.o, -OFFSET_MAX, OFFSET_MAX, "o")?,
        session,
        tired: tired_from_wire(&wire.tired)?,
        practice: wire.practice,
        note: clean_note(&wire.note, NOTE_MAX),
        tags: tags.collect(),
        origin: value_or(wire.from.as_ref(), Origin::Measured, "from")?,
        body_height: tall?,
        body_mass: mass(wire.mass)?,
        extra: Extra(wire.extra),
    })
}

/// A person as they are written.
pub(super) fn person_to_wire(person: &Person) -> v1::Person {
    let (born, age) = match person.born {
        Some(Born::Month(born)) => {
            (Some(i32::from(born.year()) * 100 + i32::from(born.month())), None)
        }
        Some(Born::Group(group)) => (None, Some(name(group))),
        None => (None, None),
    };
    v1::Person {
        v: v1::VERSION,
        k: v1::PERSON.to_owned(),
        i: person.id.to_string(),
        l: person.local.as_str().to_owned(),
        r: person.stamp.rev,
        e: person.stamp.edited_utc_ms,
        name: person.nickname.clone(),
        born,
        age,
        cmp: person.compare.map(name),
        h: name_unless_default(person.hand),
        u: name(person.division),
        marks: name_unless_default(person.mark_method),
        own: person.own_way,
        mass: person.body_mass.map(|mass| mass.grams),
        away: person.archived,
        extra: person.extra.0.clone(),
    }
}

fn birth_month(number: i32) -> Result<BirthMonth, Why> {
    let year = u16::try_from(number / 100).map_err(|_| Why::Field("born"))?;
    let month = u8::try_from(number % 100).map_err(|_| Why::Field("born"))?;
    BirthMonth::new(year, month).ok_or(Why::Field("born"))
}

/// A person as they were written.
pub(super) fn person_from_wire(wire: v1::Person) -> Result<Person, Why> {
    let born = match (wire.born, &wire.age) {
        (Some(_), Some(_)) => return Err(Why::Field("age")),
        (Some(number), None) => Some(Born::Month(birth_month(number)?)),
        (None, Some(group)) => Some(Born::Group(value(group, "age")?)),
        (None, None) => None,
    };
    Ok(Person {
        id: id(&wire.i)?,
        local: local(&wire.l, "l")?,
        stamp: stamp(wire.r, wire.e)?,
        nickname: clean_line(&wire.name, NICKNAME_MAX),
        born,
        compare: wire.cmp.map(|text| value(&text, "cmp")).transpose()?,
        hand: value_or(wire.h.as_ref(), Hand::Right, "h")?,
        division: value(&wire.u, "u")?,
        mark_method: value_or(wire.marks.as_ref(), MarkMethod::FromFloor, "marks")?,
        own_way: wire.own,
        body_mass: mass(wire.mass)?,
        archived: wire.away,
        extra: Extra(wire.extra),
    })
}

/// A deletion as it is written.
pub(super) fn deleted_to_wire(deleted: &Deleted) -> v1::Deleted {
    let l = match &deleted.kind {
        DeletedKind::Person(local) => Some(local.as_str().to_owned()),
        DeletedKind::Test | DeletedKind::Class | DeletedKind::ClassResult => None,
    };
    let of = match &deleted.kind {
        DeletedKind::Class => Some(class_v1::CLASS.to_owned()),
        DeletedKind::ClassResult => Some(class_v1::RESULT.to_owned()),
        DeletedKind::Person(_) | DeletedKind::Test => None,
    };
    v1::Deleted {
        v: v1::VERSION,
        k: v1::DELETED.to_owned(),
        i: deleted.id.to_string(),
        l,
        of,
        r: deleted.stamp.rev,
        e: deleted.stamp.edited_utc_ms,
        purged: deleted.purged,
        extra: deleted.extra.0.clone(),
    }
}

/// A deletion as it was written.
pub(super) fn deleted_from_wire(wire: v1::Deleted) -> Result<Deleted, Why> {
    let kind = match (wire.l, wire.of.as_deref()) {
        (Some(text), None) => DeletedKind::Person(local(&text, "l")?),
        (None, None) => DeletedKind::Test,
        (None, Some(class_v1::CLASS)) => DeletedKind::Class,
        (None, Some(class_v1::RESULT)) => DeletedKind::ClassResult,
        (_, Some(_)) => return Err(Why::Field("of")),
    };
    Ok(Deleted {
        id: id(&wire.i)?,
        kind,
        stamp: stamp(wire.r, wire.e)?,
        purged: wire.purged,
        extra: Extra(wire.extra),
    })
}

/// A draft as it is written.
pub(super) fn draft_to_wire(draft: &Draft) -> v1::Draft {
    v1::Draft {
        v: v1::VERSION,
        k: v1::DRAFT.to_owned(),
        i: draft.id.to_string(),
        step: draft.step.clone(),
        p: draft.person.as_ref().map(|person| person.as_str().to_owned()),
        e: draft.changed_utc_ms,
        ready: draft.ready_passed_utc_ms,
        typed: draft.typed.clone(),
        session: session_to_wire(&draft.session),
        tired: tired_to_wire(draft.tired),
        extra: draft.extra.0.clone(),
    }
}

/// A draft as it was written.
pub(super) fn draft_from_wire(wire: v1::Draft) -> Result<Draft, Why> {
    in_range(wire.typed.len(), 0, FIELDS_MAX, "typed")?;
    let typed = wire.typed.iter().map(|(field, text)| (field.clone(), clean_line(text, TYPED_MAX)));
    Ok(Draft {
        id: id(&wire.i)?,
        step: clean_line(&wire.step, STEP_MAX),
        person: wire.p.map(|text| local(&text, "p")).transpose()?,
        changed_utc_ms: wire.e,
        ready_passed_utc_ms: wire.ready,
        typed: typed.collect(),
        session: session_from_wire(&wire.session)?,
        tired: tired_from_wire(&wire.tired)?,
        extra: Extra(wire.extra),
    })
}

/// The settings as they are written.
pub(super) fn settings_to_wire(settings: &Settings) -> v1::Settings {
    v1::Settings {
        v: v1::VERSION,
        k: v1::SETTINGS.to_owned(),
        unit: settings.unit.map(name),
        theme: settings.theme.map(name),
        lang: settings.language.clone(),
        p: settings.last_person.as_ref().map(|person| person.as_str().to_owned()),
        quiet: settings.quiet,
        no_reminder: settings.no_backup_reminder,
        backup: settings.backup_utc_ms,
        since: settings.tests_since_backup,
        asked: settings.asked_to_persist,
        put_off: settings.put_off_at,
        told: settings.home_screen_told,
        extra: settings.extra.0.clone(),
    }
}

/// The settings as they were written.
pub(super) fn settings_from_wire(wire: v1::Settings) -> Result<Settings, Why> {
    Ok(Settings {
        unit: wire.unit.map(|text| value(&text, "unit")).transpose()?,
        theme: wire.theme.map(|text| value(&text, "theme")).transpose()?,
        language: wire.lang.map(|text| clean_line(&text, LANGUAGE_MAX)),
        last_person: wire.p.map(|text| local(&text, "p")).transpose()?,
        quiet: wire.quiet,
        no_backup_reminder: wire.no_reminder,
        backup_utc_ms: wire.backup,
        tests_since_backup: wire.since,
        asked_to_persist: wire.asked,
        put_off_at: wire.put_off,
        home_screen_told: wire.told,
        extra: Extra(wire.extra),
    })
}
