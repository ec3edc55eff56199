//! What the rows of the table say of more than one field: lists that other modules work with.

use super::field::Field;
use super::job_part::JobPart;
use super::record::{Again, Carry, KeyRow, Rules, Shown};
use super::table::fields;
use crate::job::Section;

impl Field {
    /// What a new job takes over of it.
    pub const fn carry(&self) -> Carry {
        // What the laboratory said of one pair says nothing of the next.
        if matches!(
            self.place,
            JobPart::LaboratoryPowers | JobPart::LaboratoryEye
        ) {
            return Carry::Never;
        }
        match self.about.rules {
            Rules::Carried(carry) | Rules::Fitting { carry, .. } => carry,
            Rules::Pads { .. } => Carry::Kept,
            Rules::Plain | Rules::Reading { .. } | Rules::Handover { .. } => Carry::Never,
        }
    }

    /// Where it is seen.
    pub const fn shown(&self) -> Shown {
        match (self.place, self.about.rules) {
            (
                JobPart::SecondReadingEye,
                Rules::Fitting {
                    again: Again::Kept(_),
                    ..
                },
            ) => Shown::AlsoRecorded,
            _ => self.about.shown,
        }
    }

    /// Whether a repair may change it.
    pub const fn is_repaired(&self) -> bool {
        match self.about.rules {
            Rules::Fitting { repair, .. }
            | Rules::Pads { repair }
            | Rules::Handover { repair, .. } => repair,
            Rules::Plain | Rules::Carried(_) | Rules::Reading { .. } => false,
        }
    }
}

/// Whether a key of the handover moves the lenses before the eyes, so that a height read earlier no
/// longer holds.
pub(crate) const fn moves_lenses(row: &KeyRow) -> bool {
    match row.about {
        Some(about) => matches!(
            about.rules,
            Rules::Handover {
                moves_lenses: true,
                ..
            }
        ),
        None => false,
    }
}

/// Returns the fields whose values a repair may change, in the order in which they are offered. A
/// repair keeps each under the path that it has in its section.
pub(crate) fn repair_fields() -> impl Iterator<Item = &'static Field> {
    [Section::Handover, Section::Fitting, Section::Frame]
        .into_iter()
        .flat_map(fields)
        .filter(|field| field.is_repaired())
}
