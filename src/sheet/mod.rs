//! What a sheet of paper says: data made from a job, one file for each sheet.
//!
//! A sheet is a title and blocks one below the other: names with values, tables with the right eye
//! before the left, sentences, drawings in millimetres. [`crate::paper`] writes it as a PDF or as
//! text; the same data is behind both. Nothing here knows of storage, a terminal or the day: today
//! is passed in.

mod chart;
pub mod drawing;
mod front;
mod order;
mod ruler;
mod tray;
mod wearer;
pub mod words;

use chrono::NaiveDate;

pub use drawing::Drawing;
pub use ruler::RULER_MM;

use crate::job::Job;
use crate::practice::{Paper, Practice};

/// Width of the margins on paper, mm.
pub const MARGIN_MM: f64 = 18.0;

/// The caution at the foot of every sheet.
pub const CAUTION: &str = "Tolerances and supply rules are to be confirmed against the standard and the law in force \
     where the practice works; decisions stay with the registered professional.";

/// Which sheet.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum What {
    /// What the bench needs.
    Tray,
    /// What the laboratory needs.
    Order,
    /// The finished pair to scale, to lay it on.
    Chart,
    /// What the wearer takes home.
    Wearer,
}

impl What {
    /// Every sheet.
    pub const ALL: [Self; 4] = [Self::Tray, Self::Order, Self::Chart, Self::Wearer];

    /// The word it is asked for by.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Tray => "tray",
            Self::Order => "order",
            Self::Chart => "chart",
            Self::Wearer => "wearer",
        }
    }

    /// The sheet that a word names.
    pub fn from_word(word: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|w| w.word() == word)
    }

    /// Its title on paper.
    pub const fn title(self) -> &'static str {
        match self {
            Self::Tray => "Tray sheet",
            Self::Order => "Lens order",
            Self::Chart => "Chart of the finished pair",
            Self::Wearer => "Your spectacles",
        }
    }

    /// What it is, in a line.
    pub const fn meaning(self) -> &'static str {
        match self {
            Self::Tray => "tray: what the bench needs, with the code of the tray",
            Self::Order => "order: what the laboratory needs for these lenses",
            Self::Chart => "chart: the finished pair at 1:1, to lay it on",
            Self::Wearer => "wearer: prescription, fitting values and care, to take home",
        }
    }
}

/// A value with its name.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Fact {
    /// What it is.
    pub label: String,
    /// Its value with its unit.
    pub value: String,
    /// Whether it needs a line of its own.
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
    /// Names with values.
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
        /// What is to be said of it.
        note: String,
    },
    /// Sentences.
    Lines {
        /// What they are about.
        title: String,
        /// The sentences.
        lines: Vec<String>,
        /// Whether each is ticked off by hand.
        boxes: bool,
    },
    /// A drawing.
    Drawing(Drawing),
}

/// A sheet, ready to be written.
#[derive(Debug, Clone, PartialEq)]
pub struct Sheet {
    /// Which one.
    pub what: What,
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
    /// What stands at its foot: the caution, after what a dash means where there is one.
    pub fn foot(&self) -> String {
        if self.blocks.iter().any(Block::has_dash) {
            format!("{LEGEND} {CAUTION}")
        } else {
            CAUTION.to_owned()
        }
    }
}

/// What a dash in the place of a value means.
pub const LEGEND: &str = "A dash (-) in the place of a value: not recorded.";

impl Block {
    fn has_dash(&self) -> bool {
        // Some values are marked behind.
        let is_dash = |value: &str| value.trim_end_matches('*') == words::MISSING;
        match self {
            Self::Facts { facts, .. } => facts.iter().any(|f| is_dash(&f.value)),
            Self::Table { rows, .. } => rows.iter().flatten().any(|cell| is_dash(cell)),
            Self::Code { .. } | Self::Lines { .. } | Self::Drawing(_) => false,
        }
    }
}

/// What a sheet is made of.
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

/// Returns a sheet of a job.
pub fn sheet(what: What, of: Subject<'_>) -> Sheet {
    let blocks = match what {
        What::Tray => tray::blocks(of),
        What::Order => order::blocks(of),
        What::Chart => chart::blocks(of),
        What::Wearer => wearer::blocks(of),
    };
    Sheet {
        what,
        number: of.number.to_owned(),
        practice: of.practice.name.clone(),
        printed_on: of.today,
        paper: of.practice.printing.paper,
        blocks,
    }
}
