//! What a sheet holds, as plain data: blocks of values, tables, sentences and drawings.

use chrono::NaiveDate;

use super::drawing::Drawing;
use super::kind::SheetKind;
use crate::job::Job;
use crate::practice::{Paper, Practice};

/// Width of the margins on paper, mm.
pub(crate) const MARGIN_MM: f64 = 18.0;

/// The caution at the foot of every sheet.
pub const CAUTION: &str = "Tolerances and supply rules are to be confirmed against the standard and the law in force \
     where the practice works; decisions stay with the registered professional.";

/// Explains a dash in place of a value.
pub(crate) const LEGEND: &str = "A dash (-) in the place of a value: not recorded.";

/// Printed for a value that is not recorded.
pub(super) const MISSING: &str = "-";

/// A labelled value.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Fact {
    /// What it is.
    pub label: String,
    /// Its value with its unit.
    pub value: String,
    /// Whether it takes the full width of the sheet.
    pub wide: bool,
}

/// One part of a sheet.
#[derive(Debug, Clone, PartialEq)]
pub enum Block {
    /// The job's number, large, with the code of its tray.
    Code {
        /// The job's number.
        number: String,
        /// The code; `None` where the number has none.
        code: Option<String>,
    },
    /// Labelled values.
    Facts {
        /// What they are about.
        title: String,
        /// The values.
        facts: Vec<Fact>,
    },
    /// A table, the eye first.
    Table {
        /// What it is about.
        title: String,
        /// Names of the columns, the first of the rows' names.
        head: Vec<String>,
        /// The rows.
        rows: Vec<Vec<String>>,
        /// A remark below the table; may be empty.
        note: String,
    },
    /// Sentences.
    Lines {
        /// What they are about.
        title: String,
        /// The sentences.
        lines: Vec<String>,
        /// Whether each has a box to tick by hand.
        boxes: bool,
    },
    /// A drawing.
    Drawing(Drawing),
}

impl Block {
    fn has_dash(&self) -> bool {
        // Some values end with an asterisk.
        let is_dash = |value: &str| value.trim_end_matches('*') == MISSING;
        match self {
            Self::Facts { facts, .. } => facts.iter().any(|f| is_dash(&f.value)),
            Self::Table { rows, .. } => rows.iter().flatten().any(|cell| is_dash(cell)),
            Self::Code { .. } | Self::Lines { .. } | Self::Drawing(_) => false,
        }
    }
}

/// The content of a sheet.
#[derive(Debug, Clone, PartialEq)]
pub struct Sheet {
    /// Which one.
    pub what: SheetKind,
    /// The job's number.
    pub number: String,
    /// The practice's name; empty where it has set none.
    pub practice: String,
    /// The day it is printed.
    pub printed_on: NaiveDate,
    /// The paper it is for.
    pub paper: Paper,
    /// What it says.
    pub blocks: Vec<Block>,
}

impl Sheet {
    /// Text of the foot: the caution, preceded by the meaning of a dash where there is one.
    pub fn foot(&self) -> String {
        if self.blocks.iter().any(Block::has_dash) {
            format!("{LEGEND} {CAUTION}")
        } else {
            CAUTION.to_owned()
        }
    }
}

/// The job and settings from which a sheet is made.
#[derive(Debug, Clone, Copy)]
pub struct Subject<'a> {
    /// The job.
    pub job: &'a Job,
    /// Its number in the book.
    pub number: &'a str,
    /// The practice's choices.
    pub practice: &'a Practice,
    /// Today.
    pub today: NaiveDate,
}
