use chrono::{NaiveDate, TimeDelta};

use super::{Card, NAME_BYTES_MAX};
use crate::class::LinkProblem;
use crate::class::fields::{FieldReader, FieldWriter};
use crate::history::{NICKNAME_MAX, clean_line};
use crate::measure::{Device, ReachMethod, Surface, TakeOff, TrendKey, Usual, Variant};
use crate::quantity::{
    AgeGroup, Division, JUMP_HEIGHT_POSSIBLE, JumpHeight, Length, REACH_POSSIBLE, StandingReach,
};

/// The first sign of a card in version 1. A later version takes another one, which this page calls newer.
const KIND: char = 'R';
/// Lengths in micrometres lie below: 3.5 m and a little more.
const LENGTH_LIMIT: u32 = 54 << 16;
/// Day nought of cards, and the first day that none can tell.
const DAYS: (NaiveDate, NaiveDate) =
    match (NaiveDate::from_ymd_opt(1900, 1, 1), NaiveDate::from_ymd_opt(2201, 1, 1)) {
        (Some(first), Some(end)) => (first, end),
        _ => (NaiveDate::MIN, NaiveDate::MIN),
    };
/// More than the days in between: 109,938.
const DAY_LIMIT: u32 = 2 << 16;
/// Most steps of a run-up in a record.
const STEPS_MAX: u8 = 9;
/// Trials that a usual jump rests on at most.
const USUAL_TRIALS_MAX: u8 = 3;
const DEVICES: [Device; 5] =
    [Device::Wall, Device::Video, Device::TimingMat, Device::ForcePlate, Device::LightBarrier];
const REACH_METHODS: [ReachMethod; 2] = [ReachMethod::OneHandHeelsDown, ReachMethod::Other];
const SURFACES: [Surface; 5] =
    [Surface::Firm, Surface::Grass, Surface::Sand, Surface::Mat, Surface::Slope];
/// Not told, or the group.
const AGES: [Option<AgeGroup>; 5] = [
    None,
    Some(AgeGroup::Under12),
    Some(AgeGroup::From12To14),
    Some(AgeGroup::From15To17),
    Some(AgeGroup::Adult),
];

/// Jumps without a run-up, then every run-up off one foot, then off two.
fn variants() -> Vec<Variant> {
    let run_ups = [TakeOff::OneFoot, TakeOff::TwoFeet].into_iter().flat_map(|take_off| {
        (1..=STEPS_MAX).map(move |steps| Variant::Approach { steps, take_off })
    });
    let plain = [Variant::Standing, Variant::HandsOnHips, Variant::HeldSquat];
    plain.into_iter().chain(run_ups).collect()
}

/// Writes the code of a card: at most 128 signs, in capitals and digits alone.
///
/// # Errors
/// `None` when a value is out of its range.
pub fn write_card(card: &Card) -> Option<String> {
    if !is_valid(card) {
        return None;
    }
    let mut fields = FieldWriter::default();
    fields.one_of(&Division::ALL, card.division)?;
    fields.one_of(&variants(), card.key.variant)?;
    fields.one_of(&DEVICES, card.key.device)?;
    fields.one_of(&REACH_METHODS, card.key.reach_method)?;
    fields.one_of(&SURFACES, card.key.surface)?;
    fields.byte(u32::from(card.key.own_way), 2);
    fields.wide(micrometres(card.best.0)?, LENGTH_LIMIT);
    fields.byte(u32::from(card.is_tired), 2);
    fields.byte(u32::from(card.is_rough), 2);
    fields.one_of(&AGES, card.age)?;
    fields.byte(u32::from(card.usual.is_some()), 2);
    if let Some((usual, error)) = card.usual {
        fields.wide(micrometres(usual.height.0)?, LENGTH_LIMIT);
        fields.wide(micrometres(error)?, LENGTH_LIMIT);
        let trials = u32::try_from(usual.trials).ok()?;
        fields.byte(trials.checked_sub(1)?, u32::from(USUAL_TRIALS_MAX));
    }
    fields.byte(u32::from(card.reach.is_some()), 2);
    if let Some(reach) = card.reach {
        fields.wide(micrometres(reach.0)?, LENGTH_LIMIT);
    }
    fields.byte(u32::from(card.date.is_some()), 2);
    if let Some(date) = card.date {
        let days = date.signed_duration_since(DAYS.0).num_days();
        fields.wide(u32::try_from(days).ok()?, DAY_LIMIT);
    }
    fields.text(&card.name, NAME_BYTES_MAX);
    Some(fields.write(KIND))
}

/// Reads the code of a card.
///
/// # Errors
/// A [`LinkProblem`]; nothing of a refused card is used.
pub fn read_card(text: &str) -> Result<Card, LinkProblem> {
    let (_, mut reader) = FieldReader::open(&[KIND], text)?;
    let division = reader.one_of(&Division::ALL)?;
    let key = TrendKey {
        variant: reader.one_of(&variants())?,
        device: reader.one_of(&DEVICES)?,
        reach_method: reader.one_of(&REACH_METHODS)?,
        surface: reader.one_of(&SURFACES)?,
        own_way: is_set(&mut reader),
    };
    let best = JumpHeight(length(&mut reader));
    let (is_tired, is_rough) = (is_set(&mut reader), is_set(&mut reader));
    let age = reader.one_of(&AGES)?;
    let usual = is_set(&mut reader).then(|| {
        let (height, error) = (JumpHeight(length(&mut reader)), length(&mut reader));
        let trials = 1 + usize::from(reader.byte(u32::from(USUAL_TRIALS_MAX)));
        (Usual { height, trials }, error)
    });
    let reach = is_set(&mut reader).then(|| StandingReach(length(&mut reader)));
    let days = is_set(&mut reader).then(|| reader.wide(DAY_LIMIT));
    let name = reader.text(NAME_BYTES_MAX);
    reader.end()?;
    let date = match days {
        Some(days) => {
            let date = DAYS.0.checked_add_signed(TimeDelta::days(i64::from(days)));
            Some(date.ok_or(LinkProblem::OutOfRange)?)
        }
        None => None,
    };
    let name = String::from_utf8(name).map_err(|_| LinkProblem::OutOfRange)?;
    let card = Card { key, division, best, usual, reach, date, age, name, is_tired, is_rough };
    is_valid(&card).then_some(card).ok_or(LinkProblem::OutOfRange)
}

/// Whether a card says only what a test can.
fn is_valid(card: &Card) -> bool {
    let height = |height: JumpHeight| JUMP_HEIGHT_POSSIBLE.contains(height.0);
    let usual = |(usual, error): (Usual, Length)| {
        let trials = 1..=usize::from(USUAL_TRIALS_MAX);
        height(usual.height) && height(JumpHeight(error)) && trials.contains(&usual.trials)
    };
    height(card.best)
        && card.usual.is_none_or(usual)
        && card.reach.is_none_or(|reach| REACH_POSSIBLE.contains(reach.0))
        && card.date.is_none_or(|date| (DAYS.0..DAYS.1).contains(&date))
        && card.name.len() <= NAME_BYTES_MAX
        && clean_line(&card.name, NICKNAME_MAX) == card.name
}

fn micrometres(length: Length) -> Option<u32> {
    u32::try_from(length.as_micrometres()).ok().filter(|micrometres| *micrometres < LENGTH_LIMIT)
}

fn length(reader: &mut FieldReader) -> Length {
    Length::from_micrometres(i64::from(reader.wide(LENGTH_LIMIT)))
}

fn is_set(reader: &mut FieldReader) -> bool {
    reader.byte(2) == 1
}
