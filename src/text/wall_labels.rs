//! What is written on the tape of a published table beside the wall.

use super::Words;
use super::said_norms::strip_edge;
use crate::chart::{Reference, Strip};
use crate::norms::{Cell, Layer, NEAR, Norm, Source, Standing};
use crate::quantity::{Length, Unit};

/// A tape with its labels. The chart borrows from it: first [`strips`](Self::strips), then
/// [`reference`](Self::reference).
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct TapeSaid {
    /// Whom the tape is about.
    pub title: String,
    /// What it counts, and in which unit.
    pub counts: String,
    tape: Tape,
}

#[derive(Clone, Debug, PartialEq, Eq)]
enum Tape {
    Strips(Vec<StripSaid>),
    Tenths { edges: [Length; 9], lowest: String, highest: String },
    Average { from: Length, to: Length, label: String, word: String },
    None,
}

#[derive(Clone, Debug, PartialEq, Eq)]
struct StripSaid {
    from: Length,
    to: Option<Length>,
    label: String,
    place: String,
}

impl TapeSaid {
    /// The strips to borrow from; empty for a tape of another kind.
    pub fn strips(&self) -> Vec<Strip<'_>> {
        let Tape::Strips(strips) = &self.tape else { return Vec::new() };
        let borrowed = strips.iter().map(|strip| Strip {
            from: strip.from,
            to: strip.to,
            label: &strip.label,
            place: &strip.place,
        });
        borrowed.collect()
    }

    /// What the chart draws.
    pub fn reference<'a>(&'a self, strips: &'a [Strip<'a>]) -> Reference<'a> {
        match &self.tape {
            Tape::Strips(_) => Reference::Strips(strips),
            Tape::Tenths { edges, lowest, highest } => Reference::Tenths { edges, lowest, highest },
            Tape::Average { from, to, label, word } => {
                Reference::Average { from: *from, to: *to, label, word }
            }
            Tape::None => Reference::None,
        }
    }
}

impl Words {
    /// The tape of one table, with ranges in the person's unit.
    ///
    /// Strips begin where a score begins to count in them, so the drawing and the words agree. An
    /// average is drawn as wide as what counts as near it. A table whose printed percentiles hold
    /// no tenths has no tape.
    pub fn tape(&self, standing: &Standing, unit: Unit) -> TapeSaid {
        self.tape_of(standing.source, standing.cell, unit)
    }

    /// The tape of one cell of a table, without anybody's place in it.
    pub fn tape_of(&self, source: &Source, cell: &Cell, unit: Unit) -> TapeSaid {
        let norm = &cell.norm;
        let sign = self.unit_sign(unit);
        let (tape, counts) = match norm {
            Norm::Bands { bands, .. } => {
                let strips = self.strips_said(norm, bands.len(), unit);
                (Tape::Strips(strips), self.norm_tape_strips(&sign))
            }
            Norm::Percentiles { .. } | Norm::MeanAndSd { .. } => {
                (self.tenths_said(norm), self.norm_tape_tenths(&sign))
            }
            Norm::Average { average, .. } => {
                let word = match source.layer {
                    Layer::OwnEstimate => self.norm_estimate_word(),
                    _ => self.norm_average_word(),
                };
                let label = self.limit_number(*average, unit);
                let (from, to) = ((*average - NEAR).max(Length::ZERO), *average + NEAR);
                (Tape::Average { from, to, label, word }, self.norm_tape_average(&sign))
            }
        };
        let title = self.source_title(source, cell);
        TapeSaid { title, counts, tape }
    }

    fn strips_said(&self, norm: &Norm, count: usize, unit: Unit) -> Vec<StripSaid> {
        let count = u8::try_from(count).unwrap_or(u8::MAX);
        let of = self.whole(u32::from(count));
        let strip = |place: u8| StripSaid {
            from: strip_edge(norm, place).unwrap_or(Length::ZERO),
            to: place.checked_add(1).and_then(|next| strip_edge(norm, next)),
            label: self.strip_limits(norm, place, place, unit),
            place: self.norm_strip_place(&self.whole(u32::from(place)), &of),
        };
        (1..=count).map(strip).collect()
    }

    fn tenths_said(&self, norm: &Norm) -> Tape {
        let (lowest, highest) = (self.norm_tenth_lowest(), self.norm_tenth_highest());
        match norm.tenths() {
            Some(edges) => Tape::Tenths { edges, lowest, highest },
            None => Tape::None,
        }
    }
}
