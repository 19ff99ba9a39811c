use super::fields::{FieldReader, FieldWriter};
use crate::history::{
    CLASS_LABEL_BYTES_MAX, CLASS_NUMBERS_MAX, CLASS_REST_SECONDS_MAX, CLASS_STEPS_MAX,
    CLASS_TRIALS_MAX, ClassSetup, Id, MarkMethod, REST_STEP_SECONDS, Shown,
};
use crate::measure::{TakeOff, Variant};
use crate::quantity::{AgeGroup, Division};

/// The first sign of a set-up in version 1.
const KIND: char = 'C';
/// The first sign of a set-up with a run-up, which pages of version 1 refuse as newer.
const RUN_UP_KIND: char = 'E';
const TAKE_OFFS: [TakeOff; 2] = [TakeOff::OneFoot, TakeOff::TwoFeet];
/// Random bytes of a class id: among 10,000 classes two are alike once in five million cases.
const CLASS_ID_BYTES: usize = 6;
/// The groups a class may be of, in the order of the code.
const AGES: [Option<AgeGroup>; 5] = [
    None,
    Some(AgeGroup::Under12),
    Some(AgeGroup::From12To14),
    Some(AgeGroup::From15To17),
    Some(AgeGroup::Adult),
];
const MARKS: [MarkMethod; 2] = [MarkMethod::FromFloor, MarkMethod::BetweenMarks];
const REACHES: [u8; 2] = [1, 3];
const SHOWN: [Shown; 2] = [Shown::Number, Shown::NumberAndSpread];

/// Why a link is no set-up of a class, or no card.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum LinkProblem {
    /// Nothing stands where the code should.
    Empty,
    /// Longer than any code.
    TooLong,
    /// Cut off, or a sign is wrong.
    Damaged,
    /// Made by a later version of the page.
    Newer,
    /// Whole, but it says something out of range.
    OutOfRange,
}

/// A class as a link carries it: which one, and how it is tested.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Invitation {
    /// The class.
    pub class: Id,
    /// How it is tested.
    pub setup: ClassSetup,
}

/// The id of a new class from random bytes. Only the first six count, so that a link stays short.
pub fn class_id(random: [u8; 16]) -> Id {
    let mut bytes = [0; 16];
    for (place, byte) in bytes.iter_mut().zip(random).take(CLASS_ID_BYTES) {
        *place = byte;
    }
    Id::from_bytes(bytes)
}

/// Writes the code of a set-up: at most 128 signs, in capitals and digits alone.
///
/// # Errors
/// `None` when a value is out of its range, or the id was not made by [`class_id`].
pub fn write_link(invitation: &Invitation) -> Option<String> {
    let setup = &invitation.setup;
    let bytes = invitation.class.bytes();
    let (id, rest) = bytes.split_at(CLASS_ID_BYTES);
    if !setup.is_valid() || rest.iter().any(|byte| *byte != 0) {
        return None;
    }
    let mut fields = FieldWriter::default();
    for byte in id {
        fields.byte(u32::from(*byte), 256);
    }
    fields.one_of(&MARKS, setup.marks)?;
    fields.one_of(&Division::ALL, setup.division)?;
    fields.one_of(&REACHES, setup.reaches)?;
    fields.byte(u32::from(setup.trials - 1), u32::from(CLASS_TRIALS_MAX));
    fields.byte(u32::from(setup.rest_seconds / REST_STEP_SECONDS), rest_limit());
    fields.byte(u32::from(setup.ready_check), 2);
    fields.byte(u32::from(setup.warm_up), 2);
    fields.one_of(&SHOWN, setup.shown)?;
    fields.byte(u32::from(setup.numbers - 1), u32::from(CLASS_NUMBERS_MAX));
    fields.one_of(&AGES, setup.age)?;
    fields.text(&setup.label, CLASS_LABEL_BYTES_MAX);
    let kind = match setup.variant {
        Variant::Approach { steps, take_off } => {
            fields.byte(u32::from(steps - 1), u32::from(CLASS_STEPS_MAX));
            fields.one_of(&TAKE_OFFS, take_off)?;
            RUN_UP_KIND
        }
        _ => KIND,
    };
    Some(fields.write(kind))
}

/// Reads the code of a set-up.
///
/// # Errors
/// A [`LinkProblem`]; nothing of a refused link is used.
pub fn read_link(text: &str) -> Result<Invitation, LinkProblem> {
    let (kind, mut reader) = FieldReader::open(&[KIND, RUN_UP_KIND], text)?;
    let mut random = [0; 16];
    for byte in random.iter_mut().take(CLASS_ID_BYTES) {
        *byte = reader.byte(256);
    }
    let marks = reader.one_of(&MARKS)?;
    let division = reader.one_of(&Division::ALL)?;
    let reaches = reader.one_of(&REACHES)?;
    let trials = 1 + reader.byte(u32::from(CLASS_TRIALS_MAX));
    let rest_seconds = u16::from(reader.byte(rest_limit())) * REST_STEP_SECONDS;
    let (ready_check, warm_up) = (reader.byte(2) == 1, reader.byte(2) == 1);
    let shown = reader.one_of(&SHOWN)?;
    let numbers = 1 + reader.byte(u32::from(CLASS_NUMBERS_MAX));
    let age = reader.one_of(&AGES)?;
    let label = reader.text(CLASS_LABEL_BYTES_MAX);
    let variant = if kind == RUN_UP_KIND {
        let steps = 1 + reader.byte(u32::from(CLASS_STEPS_MAX));
        Variant::Approach { steps, take_off: reader.one_of(&TAKE_OFFS)? }
    } else {
        Variant::Standing
    };
    reader.end()?;
    let setup = ClassSetup {
        label: String::from_utf8(label).map_err(|_| LinkProblem::OutOfRange)?,
        variant,
        marks,
        division,
        reaches,
        trials,
        rest_seconds,
        ready_check,
        warm_up,
        shown,
        numbers,
        age,
    };
    if !setup.is_valid() {
        return Err(LinkProblem::OutOfRange);
    }
    Ok(Invitation { class: Id::from_bytes(random), setup })
}

const fn rest_limit() -> u32 {
    (CLASS_REST_SECONDS_MAX / REST_STEP_SECONDS) as u32 + 1
}
