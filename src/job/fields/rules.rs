//! What the rows of the table say of more than one field: lists that other modules work with.

use super::field::Field;
use super::job_part::JobPart;
use super::record::{Again, Agreement, Carry, KeyRow, Remake, Rules, Shown};
use super::table::{all_fields, fields, find};
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
            Rules::Carried(carry) | Rules::Ordered { carry, .. } | Rules::Fitting { carry, .. } => {
                carry
            }
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
                    again: Again::Kept(..),
                    ..
                },
            ) => Shown::AlsoRecorded,
            _ => self.about.shown,
        }
    }

    /// How far two readings of it may differ; `None` where it is read once only.
    pub(crate) const fn agreement(&self) -> Option<Agreement> {
        // A second reading has none of its own.
        if matches!(
            self.place,
            JobPart::SecondReading | JobPart::SecondReadingEye
        ) {
            return None;
        }
        match self.about.rules {
            Rules::Fitting { again, .. } => match again {
                Again::Not => None,
                Again::Compared(_, by) | Again::Kept(_, by) | Again::InRowOfItsOwn(by) => Some(by),
            },
            _ => None,
        }
    }

    /// Returns the field of the second reading of this one.
    pub(crate) fn second_reading(&self) -> Option<&'static Self> {
        self.agreement()?;
        find(&format!(
            "{}.second_reading.{}",
            self.section.word(),
            self.path
        ))
    }

    /// Whether a repair may change it.
    pub const fn is_repaired(&self) -> bool {
        match self.about.rules {
            Rules::Fitting { repair, .. }
            | Rules::Pads { repair, .. }
            | Rules::Handover { repair, .. } => repair,
            Rules::Plain | Rules::Carried(_) | Rules::Ordered { .. } | Rules::Reading { .. } => {
                false
            }
        }
    }

    /// What of an order it belongs to where a pair is made again.
    pub const fn remake(&self) -> Remake {
        // What was worn before, is read a second time or said by the laboratory is not ordered.
        if matches!(
            self.place,
            JobPart::PreviousEye
                | JobPart::SecondReading
                | JobPart::SecondReadingEye
                | JobPart::LaboratoryPowers
                | JobPart::LaboratoryEye
        ) {
            return Remake::Not;
        }
        match self.about.rules {
            Rules::Fitting { remake, .. }
            | Rules::Ordered { remake, .. }
            | Rules::Pads { remake, .. } => remake,
            Rules::Plain | Rules::Carried(_) | Rules::Reading { .. } | Rules::Handover { .. } => {
                Remake::Not
            }
        }
    }
}

/// Returns the fields that belong to a part of an order where a pair is made again.
pub(crate) fn fields_of_remake(part: Remake) -> impl Iterator<Item = &'static Field> {
    all_fields()
        .iter()
        .filter(move |field| field.remake() == part)
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
