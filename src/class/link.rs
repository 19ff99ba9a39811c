use super::code::{self, CodeProblem, Packed};
use crate::history::{
    CLASS_LABEL_BYTES_MAX, CLASS_NUMBERS_MAX, CLASS_REST_SECONDS_MAX, CLASS_STEPS_MAX,
    CLASS_TRIALS_MAX, ClassSetup, Id, MarkMethod, REST_STEP_SECONDS, Shown, crc32,
};
use crate::measure::{TakeOff, Variant};
use crate::quantity::{AgeGroup, Division};

/// The first sign of a set-up in version 1.
const KIND: char = 'C';
/// The first sign of a set-up with a run-up, which pages of version 1 refuse as newer.
const RUN_UP_KIND: char = 'E';
const TAKE_OFFS: [TakeOff; 2] = [TakeOff::OneFoot, TakeOff::TwoFeet];
/// Longest text read as a set-up. Design choice: a set-up has at most 128 signs; groups take room.
const TEXT_MAX: usize = 200;
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
/// One more than the largest sum.
const SUM_LIMIT: u32 = 1 << 24;

/// Why a link is no set-up of a class.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum LinkProblem {
    /// Nothing stands where the set-up should.
    Empty,
    /// Longer than any set-up.
    TooLong,
    /// Cut off, or a sign is wrong.
    Damaged,
    /// Made by a later version of the page.
    Newer,
    /// Whole, but it asks for something out of range.
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
    let mut fields: Vec<(u32, u32)> = id.iter().map(|byte| (u32::from(*byte), 256)).collect();
    fields.extend([
        place_in(&MARKS, setup.marks)?,
        place_in(&Division::ALL, setup.division)?,
        place_in(&REACHES, setup.reaches)?,
        (u32::from(setup.trials - 1), u32::from(CLASS_TRIALS_MAX)),
        (u32::from(setup.rest_seconds / REST_STEP_SECONDS), rest_limit()),
        (u32::from(setup.ready_check), 2),
        (u32::from(setup.warm_up), 2),
        place_in(&SHOWN, setup.shown)?,
        (u32::from(setup.numbers - 1), u32::from(CLASS_NUMBERS_MAX)),
        place_in(&AGES, setup.age)?,
        (small(setup.label.len()), small(CLASS_LABEL_BYTES_MAX) + 1),
    ]);
    fields.extend(setup.label.bytes().map(|byte| (u32::from(byte), 256)));
    let kind = match setup.variant {
        Variant::Approach { steps, take_off } => {
            fields.push((u32::from(steps - 1), u32::from(CLASS_STEPS_MAX)));
            fields.push(place_in(&TAKE_OFFS, take_off)?);
            RUN_UP_KIND
        }
        _ => KIND,
    };
    let seen: Vec<u8> = fields.iter().map(|(value, _)| byte_of(*value)).collect();
    let mut packed = Packed::default();
    packed.put(sum_of(&seen), SUM_LIMIT);
    for (value, limit) in fields.into_iter().rev() {
        packed.put(value, limit);
    }
    Some(code::write(kind, &packed))
}

/// Reads the code of a set-up.
///
/// # Errors
/// A [`LinkProblem`]; nothing of a refused link is used.
pub fn read_link(text: &str) -> Result<Invitation, LinkProblem> {
    if text.trim().is_empty() {
        return Err(LinkProblem::Empty);
    }
    if text.len() > TEXT_MAX {
        return Err(LinkProblem::TooLong);
    }
    let (runs_up, packed) = match code::read(KIND, text) {
        Err(CodeProblem::Newer) => (true, code::read(RUN_UP_KIND, text)),
        read => (false, read),
    };
    let packed = packed.map_err(|problem| match problem {
        CodeProblem::TooLong => LinkProblem::TooLong,
        CodeProblem::Newer => LinkProblem::Newer,
        CodeProblem::TooShort | CodeProblem::Sign(_) | CodeProblem::Check => LinkProblem::Damaged,
    })?;
    let mut reader = Reader { packed, seen: Vec::new() };
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
    let length = reader.byte(small(CLASS_LABEL_BYTES_MAX) + 1);
    let label = (0..length).map(|_| reader.byte(256)).collect();
    let variant = if runs_up {
        let steps = 1 + reader.byte(u32::from(CLASS_STEPS_MAX));
        Variant::Approach { steps, take_off: reader.one_of(&TAKE_OFFS)? }
    } else {
        Variant::Standing
    };
    if reader.packed.take(SUM_LIMIT) != sum_of(&reader.seen) || !reader.packed.is_empty() {
        return Err(LinkProblem::Damaged);
    }
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

/// Takes values out and remembers them for the sum.
struct Reader {
    packed: Packed,
    seen: Vec<u8>,
}

impl Reader {
    fn byte(&mut self, limit: u32) -> u8 {
        let byte = byte_of(self.packed.take(limit));
        self.seen.push(byte);
        byte
    }

    fn one_of<T: Copy>(&mut self, all: &[T]) -> Result<T, LinkProblem> {
        let place = usize::from(self.byte(small(all.len())));
        all.get(place).copied().ok_or(LinkProblem::OutOfRange)
    }
}

const fn rest_limit() -> u32 {
    (CLASS_REST_SECONDS_MAX / REST_STEP_SECONDS) as u32 + 1
}

fn place_in<T: PartialEq>(all: &[T], value: T) -> Option<(u32, u32)> {
    let place = all.iter().position(|known| *known == value)?;
    Some((small(place), small(all.len())))
}

fn small(count: usize) -> u32 {
    u32::try_from(count).unwrap_or(0)
}

fn byte_of(value: u32) -> u8 {
    u8::try_from(value).unwrap_or(0)
}

/// 24 bits over everything a link says, so that what passes the two check signs by luck (once in 529
/// damaged links) is refused as well.
fn sum_of(seen: &[u8]) -> u32 {
    crc32(seen) & (SUM_LIMIT - 1)
}
