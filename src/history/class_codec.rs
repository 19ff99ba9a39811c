//! Between today's records of classes and their wire types.

use super::class_record::{CLASS_NUMBERS_MAX, Class, ClassResult, ClassSetup, Pupil, Shown};
use super::codec::{
    date_number, date_of, id, in_range, name, name_unless_default, session_from_wire,
    session_to_wire, stamp, value, value_or, variant_from_wire, variant_to_wire,
};
use super::format::class_v1 as wire;
use super::format::v1::VERSION;
use super::names::Named;
use super::record::{Extra, MarkMethod};
use super::{Id, Why};

impl Named for Shown {
    const NAMES: &'static [(Self, &'static str)] =
        &[(Shown::Number, "number"), (Shown::NumberAndSpread, "spread")];
}

/// A class as it is written.
pub(super) fn class_to_wire(class: &Class) -> wire::Class {
    let setup = &class.setup;
    let (jump, steps, off) = variant_to_wire(setup.variant);
    wire::Class {
        v: VERSION,
        k: wire::CLASS.to_owned(),
        i: class.id.to_string(),
        r: class.stamp.rev,
        e: class.stamp.edited_utc_ms,
        name: setup.label.clone(),
        u: name(setup.division),
        jump,
        steps,
        off,
        marks: name_unless_default(setup.marks),
        reaches: setup.reaches,
        trials: setup.trials,
        rest: setup.rest_seconds,
        ready: setup.ready_check,
        warm: setup.warm_up,
        shows: name_unless_default(setup.shown),
        numbers: setup.numbers,
        age: setup.age.map(name),
        roster: class.roster.clone(),
        cmp: class.compare.map(name),
        pupils: class.pupils.iter().map(pupil_to_wire).collect(),
        away: class.archived,
        extra: class.extra.0.clone(),
    }
}

/// A class as it was written.
pub(super) fn class_from_wire(wire: wire::Class) -> Result<Class, Why> {
    let setup = ClassSetup {
        label: wire.name,
        variant: variant_from_wire(wire.jump.as_ref(), wire.steps, wire.off.as_deref())?,
        marks: value_or(wire.marks.as_ref(), MarkMethod::FromFloor, "marks")?,
        division: value(&wire.u, "u")?,
        reaches: wire.reaches,
        trials: wire.trials,
        rest_seconds: wire.rest,
        ready_check: wire.ready,
        warm_up: wire.warm,
        shown: value_or(wire.shows.as_ref(), Shown::Number, "shows")?,
        numbers: wire.numbers,
        age: wire.age.map(|text| value(&text, "age")).transpose()?,
    };
    if !setup.is_valid() {
        return Err(Why::Field("name"));
    }
    let rises = wire.roster.windows(2).all(|pair| pair.first() < pair.last());
    let in_numbers = |number: &u8| (1..=CLASS_NUMBERS_MAX).contains(number);
    if !rises || !wire.roster.iter().all(in_numbers) {
        return Err(Why::Field("roster"));
    }
    let pupils: Vec<Pupil> =
        wire.pupils.into_iter().map(pupil_from_wire).collect::<Result<_, _>>()?;
    if !pupils.windows(2).all(|pair| pair.first().map(of) < pair.last().map(of)) {
        return Err(Why::Field("pupils"));
    }
    Ok(Class {
        id: id(&wire.i)?,
        stamp: stamp(wire.r, wire.e)?,
        setup,
        roster: wire.roster,
        compare: wire.cmp.map(|text| value(&text, "cmp")).transpose()?,
        pupils,
        archived: wire.away,
        extra: Extra(wire.extra),
    })
}

const fn of(pupil: &Pupil) -> u8 {
    pupil.number
}

fn pupil_to_wire(pupil: &Pupil) -> wire::Pupil {
    wire::Pupil { no: pupil.number, age: pupil.age.map(name), cmp: pupil.compare.map(name) }
}

fn pupil_from_wire(wire: wire::Pupil) -> Result<Pupil, Why> {
    Ok(Pupil {
        number: in_range(wire.no, 1, CLASS_NUMBERS_MAX, "no")?,
        age: wire.age.map(|text| value(&text, "age")).transpose()?,
        compare: wire.cmp.map(|text| value(&text, "cmp")).transpose()?,
    })
}

/// A result of a class as it is written.
pub(super) fn result_to_wire(result: &ClassResult) -> wire::ClassResult {
    wire::ClassResult {
        v: VERSION,
        k: wire::RESULT.to_owned(),
        i: result.id.to_string(),
        c: result.class.to_string(),
        r: result.stamp.rev,
        e: result.stamp.edited_utc_ms,
        d: date_number(result.date),
        no: result.number,
        dev_tag: result.device_tag,
        session: session_to_wire(&result.session),
        tired: result.tired,
        helps: result.helps,
        extra: result.extra.0.clone(),
    }
}

/// A result of a class as it was written.
pub(super) fn result_from_wire(wire: wire::ClassResult) -> Result<ClassResult, Why> {
    Ok(ClassResult {
        id: id(&wire.i)?,
        class: Id::parse(&wire.c).ok_or(Why::Field("c"))?,
        stamp: stamp(wire.r, wire.e)?,
        date: date_of(wire.d, "d")?,
        number: in_range(wire.no, 1, CLASS_NUMBERS_MAX, "no")?,
        device_tag: wire.dev_tag,
        session: session_from_wire(&wire.session)?,
        tired: wire.tired,
        helps: wire.helps,
        extra: Extra(wire.extra),
    })
}
