//! Pieces that pages are laid out from: props in, callbacks out, no context.

mod ask;
mod checked_field;
mod drawing;
mod entry;
mod field;
mod file;
mod floor;
mod fold;
mod header;
mod icon;
mod notice;
mod pick;
mod qr;
mod table;
mod timer;
mod verdict;

pub use ask::{ask, check_row};
pub use checked_field::{FieldText, checked_field};
pub use drawing::{drawing_box, drawing_view};
pub use entry::{EntryKeys, EntryText, number_entry};
pub use field::{select_field, text_area, text_field};
pub use file::file_button;
pub use floor::{act, act_link, button, floor, stacked_button};
pub use fold::fold;
pub use header::{StepHeader, page_header, step_header};
pub use icon::{Icon, icon};
pub use notice::{Fix, alert, error_summary, field_problem, notice};
pub use pick::{Choice, pick};
pub use qr::qr_panel;
pub use table::data_table;
pub use timer::timer;
pub use verdict::{Edge, verdict};
