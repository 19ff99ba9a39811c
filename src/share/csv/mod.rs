//! Spreadsheet files (RFC 4180): results written one row per trial or per test, and results read.

mod plan;
mod read;
mod table;
mod write;

pub use plan::{ImportPlan, names_in, plan_import};
pub use read::{Import, ImportProblem, ImportedTest, ProblemKind, read_results};
pub use table::{CSV_BYTES_MAX, CSV_ROWS_MAX, Table, TableProblem, read_table};
pub(crate) use write::{Cell, Sheet};
pub use write::{Decimal, tests_table, trials_table};
