//! What a card says, in words.

use super::{DateForm, Words};
use crate::card::{Card, NoRecord};
use crate::class::LinkProblem;
use crate::quantity::AgeGroup;

impl Words {
    /// Everything that a card tells beside the height: what it is, and what is said.
    pub fn card_pairs(&self, card: &Card) -> Vec<(String, String)> {
        let unit = card.division.unit();
        let usual = card.usual.map(|(usual, error)| {
            let height = self.length(usual.height.0, unit);
            let trials = u32::try_from(usual.trials).unwrap_or(1);
            self.card_usual(&height, &self.spread(error, unit), trials)
        });
        let notes = [(card.is_tired, self.card_tired()), (card.is_rough, self.card_rough())];
        let notes = notes.into_iter().filter_map(|(is_so, note)| is_so.then_some(note));
        let pairs = [
            (self.history_filter_kind(), Some(self.test_kind_in_full(card.key))),
            (self.picture_usual(), usual),
            (self.result_reach(), card.reach.map(|reach| self.length(reach.0, unit))),
            (self.result_when(), card.date.map(|date| self.date(date, DateForm::Full))),
            (self.card_age(), card.age.map(|age| self.age_group(age))),
            (self.picture_nickname(), Some(card.name.clone()).filter(|name| !name.is_empty())),
            (self.form_notes(), notes.reduce(|all, next| self.two_sentences(&all, &next))),
        ];
        pairs.into_iter().filter_map(|(what, said)| Some((what, said?))).collect()
    }

    /// The note of a record that was a card: only the best of it is kept, and whether it was tired.
    pub fn card_record_note(&self, card: &Card) -> String {
        let from = self.card_from();
        if card.is_tired { self.two_sentences(&from, &self.card_tired()) } else { from }
    }

    /// An age group.
    pub fn age_group(&self, group: AgeGroup) -> String {
        match group {
            AgeGroup::Under12 => self.who_age_under_12(),
            AgeGroup::From12To14 => self.who_age_12_14(),
            AgeGroup::From15To17 => self.who_age_15_17(),
            AgeGroup::Adult => self.who_age_adult(),
        }
    }

    /// Why a link is no card.
    pub fn card_problem(&self, problem: LinkProblem) -> String {
        match problem {
            LinkProblem::Empty => self.card_link_empty(),
            LinkProblem::TooLong => self.card_link_long(),
            LinkProblem::Damaged => self.class_link_damaged(),
            LinkProblem::Newer => self.class_link_newer(),
            LinkProblem::OutOfRange => self.card_link_range(),
        }
    }

    /// Why a card cannot be kept as a record.
    pub fn card_no_record(&self, why: NoRecord) -> String {
        match why {
            NoRecord::NoDate => self.card_no_date(),
            NoRecord::Clock => self.card_no_clock(),
            NoRecord::ReachMethod => self.card_no_reach(),
        }
    }
}
