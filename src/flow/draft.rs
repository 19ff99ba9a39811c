//! A test in progress as the draft that survives a reload, and back.

use super::{Progress, Slot};
use crate::history::{Draft, Id, MarkMethod};
use crate::quantity::Moment;
use crate::ready::{HeldStretch, LegWork, LegWorkKind};

/// Names of what a draft holds beside the session.
mod name {
    pub const ENTRY: &str = "entry";
    pub const SLOT: &str = "slot";
    pub const METHOD: &str = "method";
    pub const ONE_REACH: &str = "one-reach";
    pub const FIRST_JUMP: &str = "first-jump";
    pub const LAST_JUMP: &str = "last-jump";
    pub const LEGS: &str = "legs";
    pub const STRETCH: &str = "stretch";
}

impl Progress {
    /// The draft of this test. The ready check's outcome is in it, its health answers are not.
    pub fn to_draft(&self, id: Id, step: String, now: Moment) -> Draft {
        let mut draft = Draft::new(id, step, self.session.clone(), now.utc_ms);
        draft.person = Some(self.person.clone());
        draft.ready_passed_utc_ms = self.ready_passed_at.map(|moment| moment.utc_ms);
        let mut put = |name: &str, value: String| {
            draft.typed.insert(name.to_owned(), value);
        };
        put(name::ENTRY, self.typed.clone());
        if let Slot::Change(at) = self.slot {
            put(name::SLOT, at.to_string());
        }
        if self.method == MarkMethod::BetweenMarks {
            put(name::METHOD, "between".to_owned());
        }
        if self.one_reach {
            put(name::ONE_REACH, "1".to_owned());
        }
        if let Some(moment) = self.first_jump_at {
            put(name::FIRST_JUMP, moment.utc_ms.to_string());
        }
        if let Some(moment) = self.jumped_at {
            put(name::LAST_JUMP, moment.utc_ms.to_string());
        }
        if let Some(work) = self.leg_work {
            let kind = match work.kind {
                LegWorkKind::HardSession => "session",
                LegWorkKind::Match => "match",
            };
            put(name::LEGS, format!("{kind} {}", work.ended.utc_ms));
        }
        if let Some(stretch) = self.stretch {
            put(name::STRETCH, stretch.map_or_else(|| "no".to_owned(), stretch_text));
        }
        draft
    }

    /// A test from its draft; none when the draft names nobody. Times take the offset of `now`.
    pub fn from_draft(draft: &Draft, now: Moment) -> Option<Self> {
        let at = |utc_ms: i64| Moment { utc_ms, offset_minutes: now.offset_minutes };
        let text = |name: &str| draft.typed.get(name).map(String::as_str);
        let moment = |name: &str| text(name)?.parse().ok().map(at);
        let method = match text(name::METHOD) {
            Some("between") => MarkMethod::BetweenMarks,
            _ => MarkMethod::FromFloor,
        };
        let mut progress = Self::new(draft.person.clone()?, method, draft.session.clone());
        progress.ready_passed_at = draft.ready_passed_utc_ms.map(at);
        progress.typed = text(name::ENTRY).unwrap_or_default().to_owned();
        progress.slot = match text(name::SLOT).and_then(|slot| slot.parse().ok()) {
            Some(at) => Slot::Change(at),
            None => Slot::Next,
        };
        progress.one_reach = text(name::ONE_REACH).is_some();
        progress.first_jump_at = moment(name::FIRST_JUMP);
        progress.jumped_at = moment(name::LAST_JUMP);
        progress.leg_work = text(name::LEGS).and_then(|legs| {
            let (kind, ended) = legs.split_once(' ')?;
            let kind = match kind {
                "match" => LegWorkKind::Match,
                _ => LegWorkKind::HardSession,
            };
            Some(LegWork { kind, ended: at(ended.parse().ok()?) })
        });
        progress.stretch = text(name::STRETCH).map(|stretch| {
            let mut words = stretch.split(' ');
            let (long, moved, ended) = (words.next()?, words.next()?, words.next()?);
            let ended = at(ended.parse().ok()?);
            Some(HeldStretch { long: long == "long", ended, moved_since: moved == "moved" })
        });
        Some(progress)
    }
}

fn stretch_text(stretch: HeldStretch) -> String {
    let long = if stretch.long { "long" } else { "short" };
    let moved = if stretch.moved_since { "moved" } else { "still" };
    format!("{long} {moved} {}", stretch.ended.utc_ms)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::history::LocalId;
    use crate::measure::{FoulReason, Hand, Session, TrendKey, Trial};
    use crate::quantity::{Division, Reading};

    const NOW: Moment = Moment { utc_ms: 1_781_500_000_000, offset_minutes: 120 };

    #[test]
    fn everything_but_health_answers_survives_a_reload() {
        let session = Session::new(TrendKey::USUAL, Hand::Left, Division::InEighth);
        let person = LocalId::parse("abcd").unwrap();
        let mut progress = Progress::new(person, MarkMethod::BetweenMarks, session);
        progress.ready_passed_at = Some(NOW);
        let ended = NOW.plus_minutes(-600);
        progress.leg_work = Some(LegWork { kind: LegWorkKind::Match, ended });
        progress.stretch = Some(Some(HeldStretch { long: true, ended: NOW, moved_since: false }));
        progress.one_reach = true;
        let reading = Reading { count: 127, division: Division::InEighth };
        progress.keep_trial(Trial::MarkDistance(reading), NOW.plus_minutes(3));
        progress.foul(FoulReason::Step, NOW.plus_minutes(4));
        progress.typed = "15 ⅞".to_owned();
        progress.slot = Slot::Change(0);

        let draft = progress.to_draft(Id::from_bytes([5; 16]), "jumps".to_owned(), NOW);
        let text = draft.to_text();
        let read = Draft::parse(&text).unwrap();
        assert_eq!(Progress::from_draft(&read, NOW), Some(progress));
    }

    #[test]
    fn no_stretch_is_remembered_as_asked() {
        let session = Session::new(TrendKey::USUAL, Hand::Right, Division::CmHalf);
        let person = LocalId::parse("abcd").unwrap();
        let mut progress = Progress::new(person, MarkMethod::FromFloor, session);
        progress.stretch = Some(None);
        let draft = progress.to_draft(Id::from_bytes([5; 16]), "jumps".to_owned(), NOW);
        let back = Progress::from_draft(&draft, NOW).unwrap();
        assert_eq!(back.stretch, Some(None));
    }
}
