//! What can I reach, in words.

use super::Words;
use crate::assess::effort::{PowerEquation, PowerEstimate};
use crate::assess::spurt::Spurt;
use crate::assess::touch::{Chance, Need, Purpose, Target};
use crate::quantity::{Length, Unit};

/// What one purpose needs, in sentences.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct NeedSaid {
    /// For what.
    pub title: String,
    /// Height, what is missing, and the chances.
    pub sentences: Vec<String>,
}

impl Words {
    /// A height over the floor: metres to the centimetre, or inches.
    pub fn floor_height(&self, height: Length, unit: Unit) -> String {
        match unit {
            Unit::Centimetre => {
                let hundredths = height.steps_of(Length::from_mm(10));
                self.in_metres(&self.locale().decimal(hundredths, 2))
            }
            Unit::Inch => self.length(height, unit),
        }
    }

    /// What is up there, with its height.
    pub fn touch_target(&self, target: Target, unit: Unit) -> String {
        let height = self.floor_height(target.height(), unit);
        match target {
            Target::Ring => self.touch_ring(&height),
            Target::BoardEdge => self.touch_board(&height),
            Target::NetMen => self.touch_net_men(&height),
            Target::NetWomen => self.touch_net_women(&height),
            Target::Custom(_) => self.touch_own(),
        }
    }

    /// Where a height comes from; nothing for a height of one's own.
    pub fn touch_source(&self, target: Target) -> Option<String> {
        match (target, target.rule()) {
            (_, Some(rule)) => Some(match rule.article {
                Some(article) => self.touch_rule(rule.book, article),
                None => self.touch_rule_book(rule.book),
            }),
            (Target::Custom(_), None) => None,
            (_, None) => Some(self.touch_no_rule()),
        }
    }

    /// A chance, no finer than it is known.
    pub fn chance(&self, chance: Chance) -> String {
        match chance {
            Chance::Rare => self.touch_chance_rare(),
            Chance::Tenths(n) => self.touch_chance_tenths(&self.whole(u32::from(n))),
            Chance::NearlySure => self.touch_chance_sure(),
        }
    }

    /// What one purpose needs.
    pub fn need(&self, need: &Need, unit: Unit) -> NeedSaid {
        let title = match need.purpose {
            Purpose::Touch => self.touch_purpose_touch(),
            Purpose::Grasp => self.touch_purpose_grasp(),
            Purpose::Clear => self.touch_purpose_clear(),
        };
        let extra = self.length(need.purpose.extra(), unit);
        let mut sentences = vec![self.touch_needs(&self.length(need.height, unit), &extra)];
        if need.standing {
            sentences.push(self.touch_standing());
            return NeedSaid { title, sentences };
        }
        sentences.push(if need.missing == Length::ZERO {
            self.touch_there()
        } else {
            self.touch_missing(&self.spread(need.missing, unit))
        });
        sentences.push(self.touch_one_go(&self.chance(need.one_go)));
        sentences.push(self.touch_best_of(&self.chance(need.best_of_goes)));
        NeedSaid { title, sentences }
    }

    /// Before, around or after.
    pub fn spurt(&self, spurt: Spurt) -> String {
        match spurt {
            Spurt::Before => self.growth_before(),
            Spurt::Around => self.growth_around(),
            Spurt::After => self.growth_after(),
        }
    }

    /// An estimate of power: its equation, its figures, and what is known of both.
    pub fn power_estimate(&self, estimate: &PowerEstimate) -> NeedSaid {
        let [watts, low, high] =
            [estimate.watts, estimate.low, estimate.high].map(|watts| self.whole(watts));
        let mut sentences = vec![self.power_watts(&watts), self.power_between(&low, &high)];
        let title = match estimate.equation {
            PowerEquation::Sayers => {
                sentences.extend([self.power_sayers_who(), self.power_sayers_off()]);
                sentences.push(self.power_cite_sayers());
                self.power_sayers()
            }
            PowerEquation::JohnsonBahamonde => {
                sentences.extend([self.power_johnson_who(), self.power_johnson_read()]);
                sentences.push(self.power_cite_johnson());
                self.power_johnson()
            }
        };
        NeedSaid { title, sentences }
    }
}
