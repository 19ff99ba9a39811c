//! A result as a picture to keep or to show.

use super::{DateForm, Words};
use crate::assess::Assessment;
use crate::chart::{
    CardWords, Drawing, Export, NoteLine, Palette, Reference, ResultWall, ResultWords, Standing,
    Usual, card, result_wall, svg_file,
};
use crate::history::Test;
use crate::norms;
use crate::quantity::Length;

/// What a picture tells beside the height and the kind of jump. Nothing of it is there unless it
/// was asked for.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct PictureFields {
    /// The nickname.
    pub nickname: bool,
    /// The date.
    pub date: bool,
    /// The usual jump and its ±.
    pub usual: bool,
    /// The best matching published table, which tells an age group and a sex.
    pub band: bool,
    /// Heights from the floor, which tell how tall somebody is.
    pub floor_heights: bool,
}

/// A picture, ready to be shown or saved.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Picture {
    /// The drawing.
    pub drawing: Drawing,
    /// What it is.
    pub title: String,
    /// What it shows, for people who cannot see it.
    pub description: String,
}

/// How much larger the file is than the drawing: 1080 × 1350 pixels.
const ZOOM_PERCENT: u16 = 300;

impl Picture {
    /// The file as an address that an image can show.
    pub fn address(&self) -> String {
        // The two signs that mean something else in such an address.
        let svg = self.svg().replace('%', "%25").replace('#', "%23");
        format!("data:image/svg+xml,{svg}")
    }

    /// The picture as a file, by day, in attributes only.
    pub fn svg(&self) -> String {
        svg_file(
            &self.drawing,
            &Export {
                palette: Palette::Light,
                prefix: "jump",
                zoom_percent: ZOOM_PERCENT,
                title: &self.title,
                description: &self.description,
            },
        )
    }
}

impl Words {
    /// The picture of a test; none for a test without a trial that counts.
    pub fn result_picture(
        &self,
        test: &Test,
        assessed: &Assessment,
        nickname: &str,
        fields: PictureFields,
    ) -> Option<Picture> {
        let best = assessed.best?.0;
        let unit = test.session.division.unit();
        let reach = test.session.standing_reach().map(|reach| reach.0);
        let reach = reach.filter(|_| fields.floor_heights);
        let usual = assessed.usual.zip(assessed.standard_error).filter(|_| fields.usual);
        let usual = usual.map(|(usual, error)| Usual { height: usual.height.0, error });
        let usual_words = usual.map(|usual| {
            let error = self.spread_number(usual.error, unit);
            self.result_usual(&self.length_number(usual.height, unit), &error)
        });
        let placed = placed(assessed).filter(|_| fields.band);
        let tape = placed.as_ref().map(|standing| self.tape(standing, unit));
        let strips = tape.as_ref().map(super::TapeSaid::strips).unwrap_or_default();
        let said = placed.as_ref().map(|standing| self.standing(standing, unit));
        let at = assessed.best_of_first_three.map_or(best, |height| height.0);
        let name = if fields.nickname { nickname } else { "" };
        let kind = self.test_kind(test.session.key);
        let date = if fields.date { self.date(test.date, DateForm::Full) } else { String::new() };
        let around = CardWords {
            name,
            date: &date,
            source: tape.as_ref().map_or("", |tape| &tape.title),
            ..CardWords::default()
        };
        let note = [NoteLine { text: &kind, is_head: false, has_flag: false }];
        let sign = self.unit_sign(unit);
        let tick_label = |length| self.tick_number(length, unit);
        let drawn = result_wall(&ResultWall {
            frame: around.wall_frame(),
            unit,
            standing_reach: reach,
            best,
            usual,
            reference: tape.as_ref().map_or(Reference::None, |tape| tape.reference(&strips)),
            standing: said.as_ref().map(|said| Standing {
                at,
                first: &said.tag,
                second: &said.second,
            }),
            tick_label: &tick_label,
            words: ResultWords {
                number: &self.length_number(best, unit),
                unit: &self.two_things(&sign, &self.result_best_today()),
                usual: &usual_words.unwrap_or_default(),
                jump_mark: &self.result_mark_word(),
                jump_mark_number: &reach.map_or_else(
                    || self.length_number(best, unit),
                    |reach| self.exact_number(reach + best, unit),
                ),
                reach_number: &self.exact_number(reach.unwrap_or(Length::ZERO), unit),
                reach: &self.result_reach_mark(),
                reference: "",
                reference_unit: "",
                note: &note,
            },
        });
        let height = self.length(best, unit);
        let told: Vec<String> = [
            Some(self.picture_told(&height)),
            usual.map(|usual| {
                let error = self.spread(usual.error, unit);
                self.result_usual_sentence(&self.length(usual.height, unit), &error)
            }),
            said.map(|said| said.sentence),
        ]
        .into_iter()
        .flatten()
        .collect();
        let description = told.into_iter().reduce(|all, next| self.two_sentences(&all, &next));
        Some(Picture {
            drawing: card(drawn.drawing, around),
            title: self.picture_file_title(&height),
            description: description.unwrap_or_default(),
        })
    }
}

/// The best matching table in which the test has a place.
fn placed(assessed: &Assessment) -> Option<norms::Standing> {
    assessed.placements.by_sex.iter().find_map(|placed| placed.standings.first().copied())
}

impl PictureFields {
    /// Whether a table can be shown at all.
    pub fn has_band(assessed: &Assessment) -> bool {
        placed(assessed).is_some()
    }
}
