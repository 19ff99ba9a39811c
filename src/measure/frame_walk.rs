//! From frame to frame of a film by looks alone. It never trusts an interval: a frame is the next one
//! only if looking just before it shows the frame that the step began at.

use std::collections::{BTreeMap, BTreeSet};

/// The frames of a film that have been seen, and which of them are known to be neighbours.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct FrameMap {
    /// Each frame that is known to follow another one at once, by that other one.
    next: BTreeMap<u64, u64>,
    /// The first frame and the last one, once seen.
    ends: BTreeSet<u64>,
    /// How long the film plays: no frame lies beyond.
    length: u64,
    /// Where each frame was last seen. Some browsers guess how long a frame lasts, and show the one
    /// before it at its own stamp.
    seen: BTreeMap<u64, u64>,
}

/// A little less than the shortest interval between frames.
const NUDGE_MICROS: u64 = 300;
/// Into a frame by so much.
const INTO_MICROS: u64 = 100;
/// How far a step looks ahead while no interval is known: less than one frame at 240 a second, so
/// that the first look is rarely too far.
const FIRST_LOOK_MICROS: u64 = 4_000;

/// Looks back that may show the same frame before it counts as the first one.
const STUCK_MAX: u8 = 2;

/// One step to a neighbouring frame, found by looking at the film. It never trusts an interval: a
/// frame is the next one only if looking just before it shows the frame that the step began at.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Step {
    from: u64,
    forward: bool,
    /// The nearest frame seen beyond `from`.
    beyond: Option<u64>,
    /// Where the film is looked at next.
    target: u64,
    /// How often a look back showed the frame the step began at.
    stuck: u8,
}

/// What a look at the film leads to.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Look {
    /// Look again, here.
    Again(Step),
    /// The neighbour.
    Found(u64),
    /// There is none: the film begins or ends here.
    End,
}

impl FrameMap {
    /// A film that plays so long, with no frame seen yet.
    pub const fn of(length_micros: u64) -> Self {
        Self {
            next: BTreeMap::new(),
            ends: BTreeSet::new(),
            length: length_micros,
            seen: BTreeMap::new(),
        }
    }

    /// Notes that the film showed a frame at a time.
    pub fn note(&mut self, shown: u64, at: u64) {
        self.seen.insert(shown, at);
    }

    /// A time at which the film shows a frame: where it was seen, or just after its own stamp, so that
    /// rounding does not show the one before.
    pub fn time_of(&self, frame: u64) -> u64 {
        let into = frame.saturating_add(INTO_MICROS);
        self.seen.get(&frame).copied().unwrap_or(into)
    }

    /// The neighbour of a frame, where it is known already.
    pub fn known(&self, from: u64, forward: bool) -> Option<u64> {
        if forward {
            return self.next.get(&from).copied();
        }
        let (before, after) = self.next.range(..from).next_back()?;
        (*after == from).then_some(*before)
    }

    /// Whether the film is known to begin or end at a frame.
    pub fn is_end(&self, frame: u64, forward: bool) -> bool {
        self.ends.contains(&frame) && self.known(frame, forward).is_none()
    }

    /// The intervals between neighbours seen so far.
    pub fn gaps(&self) -> Vec<u64> {
        self.next.iter().map(|(from, to)| to.saturating_sub(*from)).collect()
    }

    /// Begins a step from a frame.
    pub fn step(&self, from: u64, forward: bool) -> Step {
        let shortest = self.gaps().into_iter().min();
        let ahead = shortest.map_or(FIRST_LOOK_MICROS, |gap| gap.saturating_add(NUDGE_MICROS));
        let target =
            if forward { from.saturating_add(ahead) } else { from.saturating_sub(NUDGE_MICROS) };
        Step { from, forward, beyond: None, target, stuck: 0 }
    }

    /// Takes the frame that the film showed at the step's target, and says what to do next.
    pub fn looked(&mut self, step: Step, shown: u64) -> Look {
        let Step { from, forward, beyond, target, stuck } = step;
        if !forward {
            if shown >= from && stuck < STUCK_MAX {
                // A browser may tell of the frame it showed before: only a frame that stays is first.
                return Look::Again(Step { stuck: stuck + 1, ..step });
            }
            if shown >= from {
                self.ends.insert(from);
                return Look::End;
            }
            self.next.insert(shown, from);
            return Look::Found(shown);
        }
        match beyond {
            // Looking just before a later frame showed the one we came from: they are neighbours.
            Some(later) if shown <= from => {
                self.next.insert(from, later);
                Look::Found(later)
            }
            None if shown <= from => {
                if target > self.length {
                    self.ends.insert(from);
                    return Look::End;
                }
                // Twice as far at most: what is stepped over is found on the way back.
                let ahead = target.saturating_sub(from).max(1).saturating_mul(2);
                Look::Again(Step { target: from.saturating_add(ahead), ..step })
            }
            Some(later) if shown >= later => {
                // The browser showed the later frame again: the look was not early enough.
                Look::Again(Step { target: target.saturating_sub(NUDGE_MICROS), ..step })
            }
            _ => {
                let target = shown.saturating_sub(NUDGE_MICROS).max(from);
                Look::Again(Step { beyond: Some(shown), target, ..step })
            }
        }
    }
}

impl Step {
    /// Where the film is to be looked at, microseconds.
    pub const fn target_micros(self) -> u64 {
        self.target
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn evenly(per_s: u64, frames: u64) -> Vec<u64> {
        (0..frames).map(|at| at * 1_000_000 / per_s).collect()
    }

    /// The frame a film shows at a time.
    fn shown_at(film: &[u64], time: u64) -> u64 {
        let at = film.iter().rposition(|stamp| *stamp <= time).unwrap_or(0);
        film.get(at).copied().unwrap_or(0)
    }

    /// Walks one step and counts the looks.
    fn walk(map: &mut FrameMap, film: &[u64], from: u64, forward: bool) -> (Option<u64>, usize) {
        if let Some(known) = map.known(from, forward) {
            return (Some(known), 0);
        }
        let mut step = map.step(from, forward);
        for looks in 1..200 {
            match map.looked(step, shown_at(film, step.target_micros())) {
                Look::Again(next) => step = next,
                Look::Found(frame) => return (Some(frame), looks),
                Look::End => return (None, looks),
            }
        }
        panic!("no end");
    }

    #[test]
    fn the_first_and_the_last_frame_have_no_neighbour_beyond() {
        let film = evenly(30, 5);
        let mut map = FrameMap::of(film.last().unwrap() + 50_000);
        assert_eq!(walk(&mut map, &film, 0, false), (None, 3));
        assert!(map.is_end(0, false) && !map.is_end(33_333, false));
        let last = film[4];
        assert_eq!(walk(&mut map, &film, last, true).0, None);
    }

    #[test]
    fn a_picture_that_stands_still_is_not_the_end() {
        let film = vec![0, 3_000_000, 3_033_333];
        let mut map = FrameMap::of(3_066_666);
        assert_eq!(walk(&mut map, &film, 0, true).0, Some(3_000_000));
    }

    #[test]
    fn a_frame_is_shown_where_it_was_seen() {
        let mut map = FrameMap::of(100_000);
        assert_eq!(map.time_of(14_000), 14_100);
        map.note(14_000, 62_700);
        assert_eq!(map.time_of(14_000), 62_700);
    }

    #[test]
    fn a_step_takes_few_looks() {
        for per_s in [30, 60, 120, 240] {
            let film = evenly(per_s, 40);
            let mut map = FrameMap::of(film.last().unwrap() + 50_000);
            let mut most = 0;
            for pair in film.windows(2) {
                let (found, looks) = walk(&mut map, &film, pair[0], true);
                assert_eq!(found, Some(pair[1]));
                most = most.max(looks);
            }
            assert!(most <= 6, "{per_s}: {most}");
            // Once an interval is known, a look and the look that proves it.
            assert_eq!(walk(&mut map, &film, 0, true).1, 0);
        }
    }

    #[test]
    fn only_a_neighbour_that_was_found_is_known() {
        let film = evenly(30, 5);
        let mut map = FrameMap::of(film.last().unwrap() + 50_000);
        walk(&mut map, &film, film[1], true);
        assert_eq!(map.known(film[1], true), Some(film[2]));
        assert_eq!(map.known(film[2], false), Some(film[1]));
        assert_eq!((map.known(film[2], true), map.known(film[3], false)), (None, None));
        assert_eq!(map.gaps(), vec![film[2] - film[1]]);
        // The shortest interval known and 0.3 ms more is where the next step looks first.
        assert_eq!(map.step(film[2], true).target_micros(), film[2] + (film[2] - film[1]) + 300);
    }

    #[test]
    fn a_browser_that_shows_the_later_frame_too_soon_is_asked_earlier() {
        let mut map = FrameMap::of(100_000);
        let look = |map: &mut FrameMap, step, shown| match map.looked(step, shown) {
            Look::Again(next) => next,
            other => panic!("{other:?}"),
        };
        let step = map.step(0, true);
        // Shown at once: 0.3 ms before its stamp may show the one before.
        let step = look(&mut map, step, 33_333);
        assert_eq!(step.target_micros(), 33_033);
        // It shows the later frame there too, twice.
        let step = look(&mut map, step, 33_333);
        assert_eq!(step.target_micros(), 32_733);
        let step = look(&mut map, step, 33_333);
        assert_eq!(step.target_micros(), 32_433);
        assert_eq!(map.looked(step, 0), Look::Found(33_333));
    }
    proptest! {
        #[test]
        fn stepping_never_skips_or_repeats_a_frame(
            gaps in prop::collection::vec(1_000u64..60_000, 2..60),
        ) {
            let mut film = vec![0u64];
            for gap in gaps {
                film.push(film.last().unwrap() + gap);
            }
            let mut map = FrameMap::of(film.last().unwrap() + 50_000);
            for pair in film.windows(2) {
                prop_assert_eq!(walk(&mut map, &film, pair[0], true).0, Some(pair[1]));
            }
            let mut fresh = FrameMap::of(map.length);
            for pair in film.windows(2).rev() {
                prop_assert_eq!(walk(&mut fresh, &film, pair[1], false).0, Some(pair[0]));
            }
            prop_assert_eq!(&fresh.next, &map.next);
        }
    }
}
