//! What can be typed into a job: one table of fields, and how each is shown, read and stepped.
//!
//! The screens draw these tables and hold no list of fields of their own. A value that was typed
//! becomes JSON for its place ([`parse`]) and then a change of its section ([`change`]) that
//! [`crate::job::Job::record`] merges. Nothing is guessed: what cannot be read is refused with a
//! sentence that says what to type. This module knows nothing of terminals or storage.

mod at;
mod choose;
mod clean;
mod day;
mod field;
mod fitting;
mod frame;
mod handover;
mod lenses;
mod limits;
mod listed;
mod number;
mod order;
mod own;
mod parse;
mod prescription;
mod readings;
mod repair;
mod row;
mod show;
mod step;
mod table;
mod wearer;
mod write;

pub(crate) use at::at;
pub use at::{FieldRef, named, section};
pub use clean::clean;
pub use field::{Field, Kind, PrismAxis};
pub use limits::limits;
pub use listed::{listed, listed_line};
pub use parse::{EntryError, parse};
pub use repair::{repair_fields, repair_label, set_repair_value};
pub use row::{RowPowers, change, copy_from_other_eye, fill_row, is_power_row, row_powers};
pub use show::{show, show_value};
pub use step::{step, step_fine};
pub use write::{Room, known, known_with_unit, unit_after, unit_aloud, value_with_unit};

use crate::job::Section;

/// Returns the fields of a section, in the order in which they are taken.
pub const fn fields(section: Section) -> &'static [Field] {
    match section {
        Section::Job => own::FIELDS,
        Section::Wearer => wearer::FIELDS,
        Section::Prescription => prescription::FIELDS,
        Section::Fitting => fitting::FIELDS,
        Section::Frame => frame::FIELDS,
        Section::Lenses => lenses::FIELDS,
        Section::Order => order::FIELDS,
        Section::Readings => readings::FIELDS,
        Section::Handover => handover::FIELDS,
        // Written by their own screens and commands, never field by field.
        Section::Origins | Section::Visit | Section::Aftercare => &[],
    }
}

/// Returns the field of a path from the job, such as `fitting.right.vertex_mm`.
pub fn find(full_path: &str) -> Option<&'static Field> {
    let (section, path) = full_path.split_once('.')?;
    fields(Section::from_word(section)?)
        .iter()
        .find(|f| f.path == path)
}
