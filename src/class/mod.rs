//! A class of numbers: set-ups and results as links and codes, the queue at the wall, the picture
//! of a class, and its files.
//!
//! **Invariants.** No name of a person has a place here, and nothing here touches a person's
//! records. A code either reads as exactly what was written or is refused with its reason. A class
//! of fewer than eight results has no picture and no middle.

mod bands;
pub mod code;
mod collect;
pub mod fields;
mod find;
mod link;
mod picture;
mod plan;
mod sheet;
mod slip;
mod station;
mod table;
mod visit;

pub use bands::{ClassBands, class_bands};
pub use collect::{Arrival, Change, CodeSeen, Rule, Verdict, changes, code_seen, preview};
pub use find::{Found, TEXT_BYTES_MAX, find_slips};
pub use link::{Invitation, LinkProblem, class_id, read_link, write_link};
pub use picture::{ClassChange, Middle, Moved, Summary, Trust, change, summary};
pub use plan::{LESSON_MINUTES, LessonPlan, lesson_plan};
pub use sheet::{class_csv, class_trials_csv};
pub use slip::{DEVICE_TAGS, Slip, SlipFault, SlipProblem, class_tag};
pub use station::{Order, Queue, StationDraft, Step, Task, roster_of, station_day};
pub use table::{Row, rows, test_days};
pub use visit::{Visit, device_tag, new_session};
