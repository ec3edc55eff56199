//! What can be typed into a job: one table of fields, and how each is shown, read and stepped.
//!
//! A row is written where its key is declared, in the parts of [`crate::job`] ([`record`]); the table
//! ([`fields`]) is made from the rows. The screens hold no list of fields of their own. A value that was
//! typed becomes JSON for its place ([`parse`]) and then a change of its section ([`change`]) that
//! [`crate::job::Job::record`] merges. Nothing is guessed: what cannot be read is refused with a
//! sentence that says what to type. This module knows nothing of terminals or storage.

mod also_recorded;
mod at;
mod choose;
mod clean;
mod const_text;
mod day;
mod field;
mod filled_in;
mod job_part;
mod key_type;
mod kind;
mod limits;
mod listed;
mod number;
mod parse;
mod record;
mod repair;
mod row;
mod rules;
mod scanned_code;
mod several_lengths;
mod show;
mod step;
mod table;
mod tasks;
mod whole_power;
mod write;
mod written_row;

pub(crate) use also_recorded::also_recorded;
pub(crate) use at::at;
pub(crate) use at::{FieldRef, named, section};
pub(crate) use clean::clean;
pub use field::Field;
pub(crate) use filled_in::{signed, signed_answer, staff_name};
pub(crate) use job_part::JobPart;
pub(crate) use key_type::{FieldValue, KeyType, Shape, TaskRead};
pub use kind::{FieldKind, PrismAxis};
pub use limits::limits;
pub(crate) use listed::{in_words, listed, listed_line};
pub use parse::parse;
pub(crate) use record::record;
pub(crate) use record::{Again, Agreement, Carry, FieldSpec, KeyRow, Limits, Record, Rules};
pub use record::{Remake, Shown};
pub(crate) use repair::repair_label;
pub use repair::set_repair_value;
pub use row::{RowPowers, change, copy_from_other_eye, fill_row, is_power_row};
pub(crate) use rules::{fields_of_remake, moves_lenses, repair_fields};
pub(crate) use scanned_code::scanned_code;
pub(crate) use several_lengths::lengths;
pub(crate) use show::show_read;
pub use show::{show, show_value};
pub use step::{step, step_fine};
pub(crate) use table::sibling;
pub use table::{all_fields, fields, find};
pub(crate) use whole_power::{is_whole, one_power, whole_power};
pub(crate) use write::{Room, known, known_with_unit, unit_after, unit_aloud};
pub(crate) use written_row::{WrittenChange, fill_written};
