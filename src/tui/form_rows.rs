//! The rows of the form: fields of the two eyes side by side, others on their own.

use crate::job::fields::{self, Field};
use crate::job::{Section, Stage};
use crate::trade::eye::Eye;

/// The sections of the form in their order; the history has no section of its own.
pub const TABS: [(&str, Option<Section>); 9] = [
    ("wearer", Some(Section::Wearer)),
    ("prescription", Some(Section::Prescription)),
    ("fitting", Some(Section::Fitting)),
    ("frame", Some(Section::Frame)),
    ("lenses", Some(Section::Lenses)),
    ("order", Some(Section::Order)),
    ("verification", Some(Section::Readings)),
    ("handover", Some(Section::Handover)),
    ("history", None),
];

/// Where the form begins to be filled: the section the next move is about.
pub(crate) const fn tab_for(stage: Stage) -> usize {
    match stage {
        Stage::Measured => 0,
        Stage::Ordered => 6,
        Stage::Verified => 7,
        Stage::Collected | Stage::Cancelled => 8,
    }
}

/// Section, row and column of an entry of the form.
pub(crate) type EntryPlace = (usize, usize, Eye);

/// One row of the form.
#[derive(Debug, Clone, Copy)]
pub enum FormRow {
    /// One field.
    One(&'static Field),
    /// The same field of both eyes.
    Pair {
        /// The right eye's.
        right: &'static Field,
        /// The left eye's.
        left: &'static Field,
    },
}

impl FormRow {
    /// Returns the field of a column.
    pub const fn field(&self, eye: Eye) -> &'static Field {
        match (self, eye) {
            (Self::One(field), _) => field,
            (Self::Pair { right, .. }, Eye::Right) => right,
            (Self::Pair { left, .. }, Eye::Left) => left,
        }
    }

    /// Whether each eye has its own field.
    pub const fn is_pair(&self) -> bool {
        matches!(self, Self::Pair { .. })
    }

    /// What the row is called.
    pub const fn label(&self) -> &'static str {
        match self {
            Self::One(field) => field.label,
            Self::Pair { right, .. } => right.row,
        }
    }
}

/// Returns the rows of a section of the form.
pub fn of_tab(tab: usize) -> Vec<FormRow> {
    match TABS.get(tab).and_then(|t| t.1) {
        None => Vec::new(),
        // The promise and the appointment belong to the job; they are arranged with the order.
        Some(Section::Order) => {
            let mut rows = of_section(Section::Order);
            rows.extend(of_section(Section::Job));
            rows
        }
        Some(section) => of_section(section),
    }
}

fn of_section(section: Section) -> Vec<FormRow> {
    fields::fields(section)
        .iter()
        .filter_map(|field| match field.eye {
            None => Some(FormRow::One(field)),
            Some(Eye::Left) => None,
            Some(Eye::Right) => Some(fields::copy_from_other_eye(field).map_or(
                FormRow::One(field),
                |left| FormRow::Pair { right: field, left },
            )),
        })
        .collect()
}

/// Returns section, row and column of a field.
pub(crate) fn place_of(path: &str) -> Option<EntryPlace> {
    for tab in 0..TABS.len() {
        for (at, row) in of_tab(tab).iter().enumerate() {
            for eye in Eye::BOTH {
                if row.field(eye).full_path() == path {
                    return Some((tab, at, eye));
                }
            }
        }
    }
    // A finding may be about a part of a section rather than one entry: its first entry is near.
    let inside = |p: &str| {
        p.strip_prefix(path)
            .is_some_and(|rest| rest.starts_with('.'))
    };
    for tab in 0..TABS.len() {
        for (at, row) in of_tab(tab).iter().enumerate() {
            if inside(&row.field(Eye::Right).full_path()) {
                return Some((tab, at, Eye::Right));
            }
        }
    }
    None
}
