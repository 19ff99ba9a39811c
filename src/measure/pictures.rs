//! The frames of a film in a browser that shows them and does not tell their times: the time at which
//! a frame begins is found by looking when the picture changes.
//!
//! A picture is known by a number made of its pixels. Two neighbouring frames with the same picture
//! count as one long frame, which makes the band wider and never wrong.

use std::collections::BTreeMap;

use super::{Airtime, FlightTime};

/// A frame's beginning is found to so much, and told by so much too late at most. It is less than the
/// nudge of a step, so that a look before a frame shows the one before it.
pub const FOUND_LATE_MICROS: u64 = 250;
/// How far apart two looks may be to be taken for one frame when they show one picture: a jump must
/// not pass between them. Less than a frame at 240 a second.
const STRIDE_MICROS: u64 = 4_000;
/// Looks back before a picture that stands still is taken to begin here. Design choice: with the
/// stride it is a tenth of a second, longer than any frame that counts.
const STRIDES_MAX: u8 = 25;

/// What a browser tells of the frame that it shows.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Shown {
    /// Its own time stamp, microseconds.
    Stamp(u64),
    /// Only its picture, as a number made of its pixels.
    Picture(u64),
}

/// The number that a picture is known by (the 64-bit hash of Fowler, Noll and Vo, variant 1a).
pub fn picture_number(pixels: &[u8]) -> u64 {
    pixels.iter().fold(0xcbf2_9ce4_8422_2325, |hash, byte| {
        (hash ^ u64::from(*byte)).wrapping_mul(0x0100_0000_01b3)
    })
}

/// A place of a film, microseconds, and the picture it shows.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Place {
    /// When.
    pub micros: u64,
    /// The number of its picture.
    pub picture: u64,
}

/// Two places of a film with different pictures. Browsers tell of a place before they show it, so the
/// picture of the look before may still stand. One that has not changed is believed only after the film
/// has been sent to a landmark, has shown that one's picture, and shows another one on its return.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Landmarks {
    one: Place,
    other: Place,
}

impl Landmarks {
    /// The first place seen and the one farthest from it that shows another picture; none when all
    /// show the same.
    pub fn of(seen: &[Place]) -> Option<Self> {
        let one = *seen.first()?;
        let others = seen.iter().filter(|place| place.picture != one.picture);
        let other = *others.max_by_key(|place| place.micros.abs_diff(one.micros))?;
        Some(Self { one, other })
    }

    /// Both, the first one first.
    pub const fn both(self) -> [Place; 2] {
        [self.one, self.other]
    }

    /// The landmark to be sent to while a picture stands that may be the one of a time: it shows
    /// another picture, and it is the farther one, since the same picture is more likely near by.
    pub fn away_from(self, micros: u64, picture: u64) -> Place {
        let Self { one, other } = self;
        let is_farther = one.micros.abs_diff(micros) > other.micros.abs_diff(micros);
        if other.picture == picture || (is_farther && one.picture != picture) { one } else { other }
    }
}

/// What was seen of a film: when each picture was first and last shown.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Pictures {
    /// The last time and the picture, by the first time.
    runs: BTreeMap<u64, (u64, u64)>,
}

/// The search for the beginning of the frame that is shown at a time.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Search {
    /// The time that was asked for.
    at: u64,
    /// The picture there, once seen.
    picture: Option<u64>,
    /// The latest time that is known to show another picture.
    low: Option<u64>,
    /// The earliest time that is known to show this one.
    high: u64,
    /// Where to look next.
    target: u64,
    strides: u8,
}

/// What a look leads to.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Found {
    /// Look here next.
    Again(Search),
    /// The frame begins here, or up to [`FOUND_LATE_MICROS`] before.
    Begins(u64),
}

impl Search {
    /// Where the film is to be looked at, microseconds.
    pub const fn target_micros(self) -> u64 {
        self.target
    }
}

impl Pictures {
    /// The beginning of the frame shown at a time, where it is known without a look.
    pub fn known(&self, at: u64) -> Option<u64> {
        let (first, (last, _)) = self.runs.range(..=at).next_back()?;
        (at <= *last).then_some(*first)
    }

    /// Begins a search.
    pub const fn search(at: u64) -> Search {
        Search { at, picture: None, low: None, high: at, target: at, strides: 0 }
    }

    /// Takes the picture shown at the search's target, and says what to do next.
    pub fn looked(&mut self, search: Search, shown: u64) -> Found {
        let Some(picture) = search.picture else {
            // Just before the beginning that was found for a frame: the frame keeps its one beginning.
            let soon = search.at..=search.at.saturating_add(FOUND_LATE_MICROS);
            if let Some((first, (_, picture))) = self.runs.range(soon).next()
                && *picture == shown
            {
                return Found::Begins(*first);
            }
            return self.back(Search { picture: Some(shown), ..search });
        };
        if shown == picture {
            return self.back(Search { high: search.target, ..search });
        }
        self.between(Search { low: Some(search.target), ..search })
    }

    /// The search goes on with nothing known of the time just before.
    fn back(&mut self, search: Search) -> Found {
        if search.low.is_some() {
            return self.between(search);
        }
        let before = self.runs.range(..=search.high).next_back();
        let before = before.map(|(first, (last, picture))| (*first, *last, *picture));
        if let Some((first, last, picture)) = before
            && search.high.saturating_sub(last) <= STRIDE_MICROS
        {
            if Some(picture) == search.picture {
                let last = last.max(search.at);
                self.runs.insert(first, (last, picture));
                return Found::Begins(first);
            }
            return self.between(Search { low: Some(last), ..search });
        }
        if search.high == 0 || search.strides >= STRIDES_MAX {
            return self.begins(search);
        }
        let target = search.high.saturating_sub(STRIDE_MICROS);
        Found::Again(Search { target, strides: search.strides + 1, ..search })
    }

    /// The change lies between two times: halve them.
    fn between(&mut self, search: Search) -> Found {
        let low = search.low.unwrap_or(0);
        let apart = search.high.saturating_sub(low);
        if apart <= FOUND_LATE_MICROS {
            return self.begins(search);
        }
        Found::Again(Search { target: low + apart / 2, ..search })
    }

    fn begins(&mut self, search: Search) -> Found {
        self.runs.insert(search.high, (search.at, search.picture.unwrap_or(0)));
        Found::Begins(search.high)
    }
}

impl Airtime {
    /// The same time with the bounds of frames whose beginnings were found by looking. `gaps` are all
    /// intervals seen between neighbours: in slow motion, an error in them stretches the time.
    ///
    /// Each instant is told by [`FOUND_LATE_MICROS`] too late at most, and so is each end of a gap.
    #[must_use]
    pub fn found_by_looking(self, gaps: &[u64], film_micros: u64) -> Self {
        let time = u64::from(self.flight.micros);
        let real = |micros: u64| micros.saturating_mul(time).checked_div(film_micros).unwrap_or(0);
        let sum: u64 = gaps.iter().fold(0, |sum, gap| sum.saturating_add(*gap));
        let count = u64::try_from(gaps.len()).unwrap_or(u64::MAX);
        // A film at true speed has its times as they are.
        let stretch = if film_micros == time {
            0
        } else {
            let late = FOUND_LATE_MICROS.saturating_mul(count);
            late.saturating_mul(time).checked_div(sum).unwrap_or(time)
        };
        let wider = real(FOUND_LATE_MICROS).saturating_add(stretch);
        let wider = u32::try_from(wider).unwrap_or(u32::MAX);
        let of = |micros: u32| FlightTime { micros, ..self.flight };
        Self {
            shortest: of(self.shortest.micros.saturating_sub(wider)),
            longest: of(self.longest.micros.saturating_add(wider)),
            ..self
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::measure::{FrameMap, Look};
    use proptest::prelude::*;

    /// The picture that a film shows at a time: the number of its frame.
    fn picture_at(film: &[u64], time: u64) -> u64 {
        film.iter().rposition(|stamp| *stamp <= time).unwrap_or(0) as u64
    }

    /// The beginning of the frame shown at a time, and the looks it took.
    fn begins(seen: &mut Pictures, film: &[u64], at: u64) -> (u64, usize) {
        if let Some(known) = seen.known(at) {
            return (known, 0);
        }
        let mut search = Pictures::search(at);
        for looks in 1..200 {
            match seen.looked(search, picture_at(film, search.target_micros())) {
                Found::Again(next) => search = next,
                Found::Begins(first) => return (first, looks),
            }
        }
        panic!("no end");
    }

    fn of_gaps(gaps: &[u64]) -> Vec<u64> {
        let mut film = vec![0];
        for gap in gaps {
            film.push(film.last().unwrap() + gap);
        }
        film
    }

    #[test]
    fn the_number_of_a_picture_is_the_published_hash() {
        // Test vectors of draft-eastlake-fnv: the empty text, "a" and "foobar".
        assert_eq!(picture_number(b""), 0xcbf2_9ce4_8422_2325);
        assert_eq!(picture_number(b"a"), 0xaf63_dc4c_8601_ec8c);
        assert_eq!(picture_number(b"foobar"), 0x8594_4171_f739_67e8);
    }

    #[test]
    fn the_landmarks_are_the_first_place_and_the_farthest_that_differs() {
        let place = |micros, picture| Place { micros, picture };
        let seen = [place(0, 7), place(10, 8), place(20, 9), place(30, 7)];
        let marks = Landmarks::of(&seen).unwrap();
        assert_eq!(marks.both(), [place(0, 7), place(20, 9)]);
        assert_eq!(Landmarks::of(&[place(0, 7), place(10, 7)]), None);
        assert_eq!(Landmarks::of(&[]), None);
    }

    #[test]
    fn the_farther_landmark_is_taken_unless_its_picture_stands() {
        let place = |micros, picture| Place { micros, picture };
        let (one, other) = (place(0, 7), place(20, 9));
        let marks = Landmarks { one, other };
        assert_eq!(marks.away_from(2, 1), other);
        assert_eq!(marks.away_from(18, 1), one);
        assert_eq!(marks.away_from(10, 1), other);
        assert_eq!(marks.away_from(2, 9), one);
        assert_eq!(marks.away_from(18, 7), other);
    }

    #[test]
    fn a_beginning_is_found_in_a_few_looks() {
        let film = of_gaps(&[8_333; 40]);
        let mut seen = Pictures::default();
        let (first, looks) = begins(&mut seen, &film, 100_000);
        let truth = 8_333 * 12;
        assert!((truth..truth + FOUND_LATE_MICROS).contains(&first), "{first}");
        assert!(looks <= 8, "{looks}");
        assert_eq!(begins(&mut seen, &film, 100_000), (first, 0));
        // A later look at the same frame needs only itself.
        assert_eq!(begins(&mut seen, &film, 103_000), (first, 1));
    }

    #[test]
    fn a_picture_that_comes_back_later_is_another_frame() {
        // Standing, a jump in between, standing again: the same picture at both ends.
        let mut seen = Pictures::default();
        let shown = |time: u64| u64::from((200_000..700_000).contains(&time));
        let mut first_of = |at: u64| {
            let mut search = Pictures::search(at);
            loop {
                match seen.looked(search, shown(search.target_micros())) {
                    Found::Again(next) => search = next,
                    Found::Begins(first) => return first,
                }
            }
        };
        assert_eq!(first_of(0), 0);
        let back = first_of(720_000);
        assert!((700_000..700_250).contains(&back), "{back}");
    }

    #[test]
    fn the_band_is_wider_by_what_looking_leaves_open() {
        let time = |micros| FlightTime { micros, frame_micros: 8_333 };
        let air = Airtime {
            flight: time(500_000),
            shortest: time(491_667),
            longest: time(508_333),
            frames_per_s: 120,
            is_uneven: false,
        };
        let wider = air.found_by_looking(&[8_333; 10], 500_000);
        assert_eq!((wider.shortest.micros, wider.longest.micros), (491_417, 508_583));
        // Slow motion, four times: a quarter of each, and the share of the gaps.
        let slow = air.found_by_looking(&[33_333; 10], 2_000_000);
        assert_eq!(slow.longest.micros, 508_333 + 62 + 3_750);
    }

    #[test]
    fn what_was_seen_just_before_bounds_the_search() {
        // Standing, a jump in between, standing again: the frame before the search is known to differ,
        // and the same picture long before it is another frame.
        let mut seen = Pictures::default();
        let shown = |time: u64| u64::from((60_000..101_500).contains(&time));
        let mut first_of = |at: u64| {
            let mut search = Pictures::search(at);
            loop {
                match seen.looked(search, shown(search.target_micros())) {
                    Found::Again(next) => search = next,
                    Found::Begins(first) => return first,
                }
            }
        };
        let jump = first_of(100_000);
        assert!((60_000..=60_000 + FOUND_LATE_MICROS).contains(&jump), "{jump}");
        let back = first_of(103_000);
        assert!((101_500..=101_500 + FOUND_LATE_MICROS).contains(&back), "{back}");
    }
    proptest! {
        #[test]
        fn stepping_by_pictures_never_skips_or_repeats_a_frame(
            gaps in prop::collection::vec(2_000u64..50_000, 2..40),
        ) {
            let film = of_gaps(&gaps);
            let mut seen = Pictures::default();
            let mut map = FrameMap::of(film.last().unwrap() + 60_000);
            let mut at = begins(&mut seen, &film, 0).0;
            for truth in film.iter().skip(1) {
                let mut step = map.step(at, true);
                at = loop {
                    let (shown, _) = begins(&mut seen, &film, step.target_micros());
                    match map.looked(step, shown) {
                        Look::Again(next) => step = next,
                        Look::Found(frame) => break frame,
                        Look::End => return Err(TestCaseError::fail("an end")),
                    }
                };
                prop_assert!(*truth <= at && at <= truth + FOUND_LATE_MICROS, "{} {}", truth, at);
            }
            for truth in film.iter().rev().skip(1) {
                let mut fresh = FrameMap::of(film.last().unwrap() + 60_000);
                let mut step = fresh.step(at, false);
                at = loop {
                    let (shown, _) = begins(&mut seen, &film, step.target_micros());
                    match fresh.looked(step, shown) {
                        Look::Again(next) => step = next,
                        Look::Found(frame) => break frame,
                        Look::End => return Err(TestCaseError::fail("an end")),
                    }
                };
                prop_assert!(*truth <= at && at <= truth + FOUND_LATE_MICROS, "{} {}", truth, at);
            }
        }

        #[test]
        fn any_pictures_end_every_search(
            looks in prop::collection::vec((any::<u64>(), 0u64..4), 1..60),
        ) {
            let mut seen = Pictures::default();
            for (at, picture) in looks {
                let mut search = Pictures::search(at);
                let mut ended = false;
                for _ in 0..60 {
                    match seen.looked(search, picture) {
                        Found::Again(next) => search = next,
                        Found::Begins(_) => { ended = true; break; }
                    }
                }
                prop_assert!(ended);
            }
        }
    }
}
