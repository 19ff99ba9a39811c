//! Geometry of every drawing as plain numbers and paint roles; nothing here draws.
//!
//! One scene serves the page and a picture that leaves it: a [`Drawing`] is a list of [`Item`]s in
//! absolute hundredths of a CSS pixel, x to the right and y down, made for the [`Frame`] that the
//! page measured. The page asks again when its width or its text size changes; heights on the wall
//! follow the frame, words follow the root font size. What an item looks like is its [`Paint`]
//! role; a [`Palette`] gives the role its colours.
//!
//! The page shows `viewBox="0 0 width height"` around [`svg_body`] in [`Palette::Tokens`]; a saved
//! picture is [`svg_file`]. What found no room is returned beside the drawing, so that the caption or
//! the list under it can hold it.
//!
//! **Invariants.** Every y is a height through one [`Scale`] per drawing. No words and no number
//! formatting: labels come in as text or as a function. No floats in what is written.

mod card;
mod chalk;
mod class_wall;
mod decimate;
mod figure;
mod film;
mod history_line;
mod lettering;
mod paint;
mod palette;
mod pose;
mod px;
mod qr;
mod reach_wall;
mod result_gap;
mod result_tape;
mod result_wall;
mod scale;
mod scene;
mod season_legend;
mod season_parts;
mod season_wall;
mod steel;
mod svg_path;
mod svg_text;
mod timeline;
mod touch_wall;
mod trials_wall;
mod two_rulers;
mod wall_scale;

pub use card::{CARD, CardWords, card};
pub use class_wall::{
    Brick, ClassWall, Course, FEWEST_BRICKS, Middle, WallBand, class_wall, courses,
};
pub use decimate::decimated;
pub use figure::{figure, figure_between};
pub use film::{FILM_FRAMES, film};
pub use history_line::{HistoryLine, HistoryWords, history_line};
pub use paint::{Colour, Fill, Look, Paint, Pattern, Stroke, Words};
pub use palette::Palette;
pub use pose::Pose;
pub use px::Px;
pub use qr::{QUIET_MODULES, QrDrawing, qr_drawing};
pub use reach_wall::{ReachMark, ReachWall, reach_wall};
pub use result_wall::{
    Dropped, NoteLine, Reference, ResultDrawing, ResultWall, ResultWords, Standing, Strip, Usual,
    result_wall,
};
pub use scale::{Scale, Tick, Weight, ticks};
pub use scene::{Anchor, Area, Drawing, Frame, Item, Label, Point, estimated_width};
pub use season_legend::{LegendEntry, Sample};
pub use season_wall::{
    Aside, AsideKind, BandSpan, Change, MOST_POINTS, SeasonDrawing, SeasonPoint, SeasonWall,
    SmoothPoint, Track, TrackPoint, season_frame, season_wall,
};
pub use svg_path::{lines_path, polygon_path, polyline_path};
pub use svg_text::{Export, escaped, svg_body, svg_file};
pub use timeline::Timeline;
pub use touch_wall::{TouchWall, TouchWords, touch_wall};
pub use trials_wall::{
    TRIAL_COLUMNS, TrialColumn, TrialMark, TrialsDrawing, TrialsWall, trials_wall,
};
pub use two_rulers::{FilmPlace, RulerBar, TwoRulers, film_place, two_rulers};
pub use wall_scale::{
    SHEET_HEIGHT, SHEET_WIDTH, ScaleStart, WallScale, check_length, piece_count, piece_length,
    sheet_count, true_size, wall_scale,
};
