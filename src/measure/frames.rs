//! From the frames of a film to a time in the air, and a time in the air as it is typed.
//!
//! Every frame carries its own time stamp. The feet leave the floor, and come back, at some instant
//! between a frame and the one before it, so each of the two instants is late by anything up to the
//! interval before its frame. All times are whole microseconds since the start of the film.

use super::entry::{Problem, decimal, plain_text};
use super::{FlightTime, STANDARD_GRAVITY_M_S2};
use crate::quantity::JUMP_HEIGHT_POSSIBLE;

/// Longest frame interval of a result that may stand in a trend: 120 a second (docs/measurement.md §3),
/// and a twentieth for cameras that run a little slow.
pub const TREND_FRAME_MICROS_MAX: u32 = 8_750;
/// Longest frame interval of any result: 30 a second and a twentieth.
const FRAME_MICROS_MAX: u64 = 35_000;
/// Shortest time in the air that is taken for a jump: 1.2 cm. Design choice.
const AIR_MICROS_MIN: u64 = 100_000;
/// Most frames a second of a capture rate that is believed. Design choice: beyond any phone.
const CAPTURED_PER_S_MAX: u32 = 1_000;
/// Gaps that differ by less than this do not make a film uneven: some files round each stamp to a
/// millisecond.
const ROUNDING_MICROS: u64 = 1_100;

/// What a film is refused for, before any frame of it counts. Facts only; the words are in `text`.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum ClipFault {
    /// This browser cannot play it: broken, no film, or a form it does not know.
    NotPlayable,
    /// There is sound and no picture.
    NoPicture,
    /// Larger than is opened.
    TooLarge,
    /// The browser does not tell the time of a frame.
    NoFrameTimes,
    /// There is no camera.
    NoCamera,
    /// The person, or the browser, does not allow the camera.
    CameraDenied,
    /// The camera went away while it filmed.
    CameraLost,
}

/// Why two chosen frames give no time in the air. Facts only; the words are in `text`.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum FrameFault {
    /// The landing is not after the take-off.
    WrongOrder,
    /// Too few frames a second, rounded, to tell anything.
    TooFewFrames {
        /// Frames in a second.
        per_s: u32,
    },
    /// Slow motion whose frames are not evenly spaced cannot be undone.
    UnevenSlowMotion,
    /// The capture rate is no faster than the film plays, or beyond any phone.
    CaptureRate {
        /// Frames in a second of the film as it plays, rounded.
        film_per_s: u32,
    },
    /// Longer in the air than anybody: slow motion, or another jump's frame.
    TooLong,
    /// Shorter in the air than any jump.
    TooShort,
}

/// Whether a film plays as fast as it was filmed. Nobody but the person can know.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Speed {
    /// It does.
    AsFilmed,
    /// Slow motion, stretched when it was stored.
    Slowed {
        /// Frames that the camera took in a second.
        captured_per_s: u32,
    },
}

/// The two chosen frames, each with the frame just before it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Instants {
    /// The last frame with a foot on the floor.
    pub before_take_off: u64,
    /// The first frame with both feet off the floor.
    pub take_off: u64,
    /// The last frame in the air.
    pub before_landing: u64,
    /// The first frame that touches again.
    pub landing: u64,
}

/// A time in the air with the bounds that counting frames gives it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Airtime {
    /// The time between the two frames.
    pub flight: FlightTime,
    /// No true time is shorter: the interval before the landing frame is taken off.
    pub shortest: FlightTime,
    /// No true time is longer: the interval before the take-off frame is added.
    pub longest: FlightTime,
    /// Frames in a second at the longer of the two intervals, rounded.
    pub frames_per_s: u32,
    /// The frames seen are not evenly spaced.
    pub is_uneven: bool,
}

/// The time in the air between two chosen frames. `gaps` are all intervals seen between neighbouring
/// frames of the film.
///
/// # Errors
/// A [`FrameFault`].
///
/// ```
/// use two_marks::measure::{Instants, Speed, airtime};
/// let instants = Instants {
///     before_take_off: 991_667, take_off: 1_000_000, before_landing: 1_491_667, landing: 1_500_000,
/// };
/// let air = airtime(instants, &[8_333], Speed::AsFilmed).unwrap();
/// assert_eq!((air.flight.micros, air.frames_per_s), (500_000, 120));
/// ```
pub fn airtime(instants: Instants, gaps: &[u64], speed: Speed) -> Result<Airtime, FrameFault> {
    let Instants { before_take_off, take_off, before_landing, landing } = instants;
    let in_order =
        before_take_off < take_off && take_off <= before_landing && before_landing < landing;
    if !in_order {
        return Err(FrameFault::WrongOrder);
    }
    let (first, second) = (take_off - before_take_off, landing - before_landing);
    let all = || gaps.iter().copied().chain([first, second]);
    let is_uneven = match (all().min(), all().max()) {
        (Some(min), Some(max)) => {
            max > min.saturating_add(min / 10).saturating_add(ROUNDING_MICROS)
        }
        _ => false,
    };
    let (taken, played) = match speed {
        Speed::AsFilmed => (1, 1),
        Speed::Slowed { .. } if is_uneven => return Err(FrameFault::UnevenSlowMotion),
        Speed::Slowed { captured_per_s } => slow_motion(all(), captured_per_s)?,
    };
    // A stretched microsecond was `taken / played` of one.
    let real = |micros: u64| {
        let scaled = micros.saturating_mul(taken).saturating_add(played / 2);
        scaled.checked_div(played).unwrap_or(u64::MAX)
    };
    let (time, first, second) = (real(landing - take_off), real(first), real(second));
    let frame = first.max(second);
    if frame > FRAME_MICROS_MAX {
        return Err(FrameFault::TooFewFrames { per_s: per_second(frame) });
    }
    if time > longest_micros() {
        return Err(FrameFault::TooLong);
    }
    if time < AIR_MICROS_MIN {
        return Err(FrameFault::TooShort);
    }
    let of = |micros: u64| FlightTime { micros: narrow(micros), frame_micros: narrow(frame) };
    Ok(Airtime {
        flight: of(time),
        shortest: of(time.saturating_sub(second)),
        longest: of(time.saturating_add(first)),
        frames_per_s: per_second(frame),
        is_uneven,
    })
}

/// By which fraction slow motion stretched the film: frames of the camera over frames of the film.
fn slow_motion(
    gaps: impl Iterator<Item = u64>,
    captured_per_s: u32,
) -> Result<(u64, u64), FrameFault> {
    let mut count = 0_u64;
    let mut sum = 0_u64;
    for gap in gaps {
        count += 1;
        sum = sum.saturating_add(gap);
    }
    let mean = sum.checked_div(count).unwrap_or(0);
    let film_per_s = per_second(mean);
    // The film plays at least a fifth slower than it was taken, or it is no slow motion.
    let faster = u64::from(captured_per_s) * 5 >= u64::from(film_per_s) * 6;
    if !faster || captured_per_s > CAPTURED_PER_S_MAX {
        return Err(FrameFault::CaptureRate { film_per_s });
    }
    // One frame took 1,000,000 / captured; it plays for sum / count.
    Ok((count.saturating_mul(1_000_000), sum.saturating_mul(u64::from(captured_per_s))))
}

/// Frames a second of an interval, halves up.
fn per_second(micros: u64) -> u32 {
    let rate = (micros / 2).saturating_add(1_000_000).checked_div(micros).unwrap_or(0);
    u32::try_from(rate).unwrap_or(u32::MAX)
}

fn narrow(micros: u64) -> u32 {
    u32::try_from(micros).unwrap_or(u32::MAX)
}

/// The time in the air of the highest jump that is possible at all.
#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "a second or so in microseconds, never negative"
)]
fn longest_micros() -> u64 {
    let height_m = JUMP_HEIGHT_POSSIBLE.max.as_cm() / 100.0;
    ((8.0 * height_m / STANDARD_GRAVITY_M_S2).sqrt() * 1e6) as u64
}

/// Reads a time in the air as typed, in seconds (`0.512`, `0,512 s`) or milliseconds (`512`,
/// `512 ms`). No jump lasts three seconds or less than thirty milliseconds, so a plain number can
/// mean only one of them; what could be neither is refused.
///
/// # Errors
/// [`Problem::Empty`], [`Problem::NotATime`], or [`Problem::TooFine`] beyond a microsecond.
///
/// ```
/// use two_marks::measure::parse_flight_time;
/// assert_eq!(parse_flight_time("0,512 s").unwrap().micros, 512_000);
/// assert_eq!(parse_flight_time("512").unwrap().micros, 512_000);
/// assert!(parse_flight_time("12").is_err());
/// ```
pub fn parse_flight_time(text: &str) -> Result<FlightTime, Problem> {
    let plain = plain_text(text);
    if plain.is_empty() {
        return Err(Problem::Empty);
    }
    let (number, named_ms) = match (plain.strip_suffix("ms"), plain.strip_suffix('s')) {
        (Some(number), _) => (number, Some(true)),
        (None, Some(number)) => (number, Some(false)),
        (None, None) => (plain.as_str(), None),
    };
    let (whole, decimals) = decimal(number).map_err(|_| Problem::NotATime)?;
    let in_ms = match (named_ms, whole) {
        (Some(in_ms), _) => in_ms,
        (None, ..3) => false,
        (None, 30..) => true,
        (None, _) => return Err(Problem::NotATime),
    };
    let places = if in_ms { 3 } else { 6 };
    let mut micros = u64::try_from(whole).map_err(|_| Problem::NotATime)?;
    for place in 0..places {
        micros = micros * 10 + u64::from(decimals.get(place).copied().unwrap_or(0));
    }
    if decimals.iter().skip(places).any(|digit| *digit != 0) {
        return Err(Problem::TooFine);
    }
    if (AIR_MICROS_MIN..=longest_micros()).contains(&micros) {
        Ok(FlightTime::timed(narrow(micros)))
    } else {
        Err(Problem::NotATime)
    }
}

/// The text that a plus or minus key makes of a typed time: one millisecond more or less. None when
/// the text is no time, or the next one is none.
pub fn nudged_time(text: &str, up: bool) -> Option<String> {
    let micros = parse_flight_time(text).ok()?.micros;
    let next = if up { micros.checked_add(1_000) } else { micros.checked_sub(1_000) };
    let text = FlightTime::timed(next?).as_typed();
    parse_flight_time(&text).is_ok().then_some(text)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::measure::height_cm_from_flight_time;
    use proptest::prelude::*;

    fn evenly(per_s: u64, frames: u64) -> Vec<u64> {
        (0..frames).map(|at| at * 1_000_000 / per_s).collect()
    }

    /// The instants of a true flight, as the first frames at or after each end.
    fn filmed(film: &[u64], leaves: u64, lands: u64) -> Instants {
        let first = |time: u64| film.iter().position(|stamp| *stamp >= time).unwrap();
        let (off, on) = (first(leaves), first(lands));
        Instants {
            before_take_off: film[off - 1],
            take_off: film[off],
            before_landing: film[on - 1],
            landing: film[on],
        }
    }

    #[test]
    fn slow_motion_is_undone_by_the_rate_of_the_camera() {
        // 240 a second, stored as 30: a jump of half a second takes four.
        let film = evenly(30, 300);
        let instants = filmed(&film, 1_000_000, 5_000_000);
        let gaps = [33_333, 33_334];
        let asked = airtime(instants, &gaps, Speed::AsFilmed);
        assert_eq!(asked, Err(FrameFault::TooLong));
        let slowed = Speed::Slowed { captured_per_s: 240 };
        let air = airtime(instants, &gaps, slowed).unwrap();
        assert!(air.flight.micros.abs_diff(500_000) <= 4_167, "{air:?}");
        assert_eq!((air.frames_per_s, air.is_uneven), (240, false));
        assert!(!air.flight.is_coarse());
        let too_slow = Speed::Slowed { captured_per_s: 30 };
        let fault = FrameFault::CaptureRate { film_per_s: 30 };
        assert_eq!(airtime(instants, &gaps, too_slow), Err(fault));
        let beyond = Speed::Slowed { captured_per_s: 5_000 };
        assert_eq!(airtime(instants, &gaps, beyond), Err(fault));
        let uneven = airtime(instants, &[16_000, 33_333], slowed);
        assert_eq!(uneven, Err(FrameFault::UnevenSlowMotion));
    }

    #[test]
    fn below_120_no_trend_and_below_30_nothing() {
        let of = |per_s| {
            let film = evenly(per_s, per_s * 2);
            airtime(filmed(&film, 500_000, 1_000_000), &[], Speed::AsFilmed)
        };
        assert!(of(60).unwrap().flight.is_coarse());
        assert!(of(100).unwrap().flight.is_coarse());
        assert!(!of(120).unwrap().flight.is_coarse());
        assert!(of(30).is_ok());
        assert_eq!(of(24), Err(FrameFault::TooFewFrames { per_s: 24 }));
        // 29.97 and 119.88 are 30 and 120 to everybody who films.
        let odd = Instants {
            before_take_off: 966_633,
            take_off: 1_000_000,
            before_landing: 1_467_467,
            landing: 1_500_833,
        };
        assert!(airtime(odd, &[], Speed::AsFilmed).is_ok());
    }

    #[test]
    fn what_is_no_jump_is_refused() {
        let film = evenly(240, 1000);
        let of = |leaves, lands| airtime(filmed(&film, leaves, lands), &[], Speed::AsFilmed);
        assert_eq!(of(1_000_000, 1_050_000), Err(FrameFault::TooShort));
        assert_eq!(of(1_000_000, 2_500_000), Err(FrameFault::TooLong));
        let swapped = Instants { take_off: 9, before_take_off: 8, before_landing: 3, landing: 4 };
        assert_eq!(airtime(swapped, &[], Speed::AsFilmed), Err(FrameFault::WrongOrder));
    }

    #[test]
    fn a_time_is_read_as_people_type_it() {
        for text in ["0.512", "0,512", ".512", "0.512 s", "512", "512 ms", "512,0MS", " 0.5120 "] {
            assert_eq!(parse_flight_time(text).map(|time| time.micros), Ok(512_000), "{text}");
        }
        assert_eq!(parse_flight_time("512.3"), Ok(FlightTime::timed(512_300)));
        assert_eq!(parse_flight_time(""), Err(Problem::Empty));
        for text in ["abc", "12", "3", "0.01", "2", "5000", "1,5 s", "-0.5", "0.5 m", "s", "ms"] {
            assert_eq!(parse_flight_time(text), Err(Problem::NotATime), "{text}");
        }
        assert_eq!(parse_flight_time("0.5123456"), Err(Problem::TooFine));
    }

    #[test]
    fn a_typed_time_reads_back() {
        for micros in [512_000, 512_300, 500_000, 610_001, 700_010] {
            let time = FlightTime::timed(micros);
            assert_eq!(parse_flight_time(&time.as_typed()), Ok(time));
        }
        assert_eq!(FlightTime { micros: 512_000, frame_micros: 4_167 }.as_typed(), "");
    }

    #[test]
    fn plus_and_minus_move_a_time_by_a_millisecond() {
        assert_eq!(nudged_time("512", true).as_deref(), Some("513"));
        assert_eq!(nudged_time("0.5123", false).as_deref(), Some("511.3"));
        assert_eq!(nudged_time("", true), None);
        assert_eq!(nudged_time("100", false), None);
    }

    /// A time in the air of a film with the same interval before both frames.
    fn apart(time: u64, frame: u64, speed: Speed) -> Result<Airtime, FrameFault> {
        let instants = Instants {
            before_take_off: 1_000_000 - frame,
            take_off: 1_000_000,
            before_landing: 1_000_000 + time - frame,
            landing: 1_000_000 + time,
        };
        airtime(instants, &[], speed)
    }

    #[test]
    fn no_frame_is_its_own_neighbour() {
        let film = Instants {
            before_take_off: 991_667,
            take_off: 1_000_000,
            before_landing: 1_491_667,
            landing: 1_500_000,
        };
        assert!(airtime(film, &[], Speed::AsFilmed).is_ok());
        let wrong = Err(FrameFault::WrongOrder);
        let take_off = Instants { before_take_off: film.take_off, ..film };
        assert_eq!(airtime(take_off, &[], Speed::AsFilmed), wrong);
        let landing = Instants { before_landing: film.landing, ..film };
        assert_eq!(airtime(landing, &[], Speed::AsFilmed), wrong);
    }

    #[test]
    fn a_limit_itself_is_let_pass_and_a_microsecond_more_is_not() {
        // 30 frames a second and a twentieth is 35 ms.
        assert!(apart(500_000, 35_000, Speed::AsFilmed).is_ok());
        let few = Err(FrameFault::TooFewFrames { per_s: 29 });
        assert_eq!(apart(500_000, 35_001, Speed::AsFilmed), few);
        assert!(apart(100_000, 8_333, Speed::AsFilmed).is_ok());
        assert_eq!(apart(99_999, 8_333, Speed::AsFilmed), Err(FrameFault::TooShort));
        // 156 cm, by hand: T = sqrt(8 * 1.56 / 9.80665) = 1.128098 s.
        assert!(apart(1_128_098, 8_333, Speed::AsFilmed).is_ok());
        assert_eq!(apart(1_128_099, 8_333, Speed::AsFilmed), Err(FrameFault::TooLong));
        assert!(parse_flight_time("1.128").is_ok() && parse_flight_time("1.129").is_err());
    }

    #[test]
    fn slow_motion_is_believed_from_a_fifth_slower_to_a_thousand_frames_a_second() {
        let of = |captured_per_s| {
            let slower = f64::from(captured_per_s) / 30.0;
            #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
            let time = (500_000.0 * slower) as u64;
            apart(time, 33_333, Speed::Slowed { captured_per_s }).map(|air| air.frames_per_s)
        };
        assert_eq!(of(36), Ok(36));
        assert_eq!(of(35), Err(FrameFault::CaptureRate { film_per_s: 30 }));
        assert_eq!(of(1_000), Ok(1_000));
        assert_eq!(of(1_001), Err(FrameFault::CaptureRate { film_per_s: 30 }));
    }

    #[test]
    fn stretched_times_are_rounded_to_the_nearest_microsecond() {
        // 100 frames a second played as 25: a quarter of 2,000,003 us is 500,000.75 us.
        let slowed = Speed::Slowed { captured_per_s: 100 };
        assert_eq!(apart(2_000_003, 40_000, slowed).unwrap().flight.micros, 500_001);
        assert_eq!(apart(2_000_001, 40_000, slowed).unwrap().flight.micros, 500_000);
    }

    #[test]
    fn gaps_are_even_up_to_a_tenth_and_the_rounding_of_stamps() {
        let film = Instants {
            before_take_off: 966_667,
            take_off: 1_000_000,
            before_landing: 1_466_667,
            landing: 1_500_000,
        };
        let uneven = |gap| airtime(film, &[gap], Speed::AsFilmed).unwrap().is_uneven;
        // 33.333 + 3.333 + 1.1 = 37.766 ms.
        assert!(!uneven(37_700) && uneven(37_800));
    }
    proptest! {
        #[test]
        fn the_true_height_lies_in_the_band(
            gaps in prop::collection::vec(2_000u64..34_000, 80..90),
            leaves in 100_000u64..120_000,
            flight in 150_000u64..700_000,
        ) {
            let mut film = vec![0u64];
            for gap in gaps.iter().cycle().take(600) {
                film.push(film.last().unwrap() + gap);
            }
            let air = airtime(filmed(&film, leaves, leaves + flight), &[], Speed::AsFilmed);
            let air = match air { Ok(air) => air, Err(fault) => {
                prop_assert_eq!(fault, FrameFault::TooShort);
                return Ok(());
            } };
            #[expect(clippy::cast_precision_loss, reason = "under a second")]
            let truth = height_cm_from_flight_time(flight as f64 / 1e6).unwrap();
            // Heights are whole micrometres.
            prop_assert!(air.shortest.jump_height().0.as_cm() <= truth + 1e-3);
            prop_assert!(truth <= air.longest.jump_height().0.as_cm() + 1e-3);
        }

        #[test]
        fn no_stamps_and_no_text_panic(
            stamps in prop::array::uniform4(any::<u64>()),
            gaps in prop::collection::vec(any::<u64>(), 0..4),
            captured_per_s in any::<u32>(),
            text in "\\PC{0,16}",
        ) {
            let [before_take_off, take_off, before_landing, landing] = stamps;
            let instants = Instants { before_take_off, take_off, before_landing, landing };
            let gaps: Vec<u64> = gaps.into_iter().map(|gap| gap / 8).collect();
            for speed in [Speed::AsFilmed, Speed::Slowed { captured_per_s }] {
                let _ = airtime(instants, &gaps, speed);
            }
            let _ = parse_flight_time(&text);
        }
    }
}
