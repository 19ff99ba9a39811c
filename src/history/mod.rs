//! Records that outlive the program: wire formats, migration, merging, backup and the store port.
//!
//! `docs/records.md` describes what is written. [`read`] is the one gate by which text becomes
//! records; [`Store`] keeps them behind the [`KeyValue`] port; [`RecordSet`] merges them.

mod backup;
pub mod base64url;
mod bin;
mod checksum;
mod class_codec;
mod class_record;
mod classes;
mod clean;
mod codec;
mod counts;
mod draft;
mod example;
mod format;
mod id;
mod index;
pub mod keys;
mod listing;
mod memory;
mod mend;
mod merge;
mod migrate;
mod names;
mod reconcile;
mod record;
mod restore;
mod settings;
mod store;
mod unpurge;

pub use backup::{
    BACKUP_BYTES_MAX, BACKUP_KIND, BACKUP_RECORDS_MAX, BACKUP_VERSION, Backup, BackupProblem,
    SumCheck, read_backup, write_backup,
};
pub use bin::{BIN_DAYS, BinEntry, Binned};
pub use checksum::crc32;
pub use class_record::{
    CLASS_LABEL_BYTES_MAX, CLASS_LABEL_MAX, CLASS_NUMBERS_MAX, CLASS_REST_SECONDS_MAX,
    CLASS_STEPS_MAX, CLASS_TRIALS_MAX, Class, ClassResult, ClassSetup, Pupil, REST_STEP_SECONDS,
    STATION_TAG, Shown, class_label,
};
pub use clean::{
    NICKNAME_MAX, NOTE_MAX, TAG_MAX, TAGS_MAX, clean_line, clean_line_in_bytes, clean_note,
};
pub use counts::{hard_jumps_on, test_days_before};
pub use draft::{Draft, READY_LASTS_MS};
pub use example::{ExampleWords, example};
pub use id::{Id, LocalId};
pub use index::{INDEX_BYTES_MAX, Season};
pub use listing::{Choices, Filter, Group, Listing, Method, ROWS_MAX, Row, list};
pub use memory::Memory;
pub use merge::{RecordSet, beats, same_contents};
pub use migrate::{RECORD_BYTES_MAX, Read, Why, read, to_text};
pub use names::{APPROACH, Named, variant_name};
pub use reconcile::{JOURNAL_KEPT_MS, Reconciled};
pub use record::{
    Born, Deleted, DeletedKind, Extra, HardDay, MarkMethod, Origin, Person, Record, Stamp,
    StretchNote, Test, Tired,
};
pub use restore::{Conflict, Preview, Restore};
pub use settings::{REMIND_AFTER_TESTS, Settings, Theme};
pub use store::{JournalEntry, KeyValue, SaveError, Store, StoreError, Trouble};
pub use unpurge::Purged;
