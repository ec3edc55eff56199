//! The wearer: who the pair is for, and what about them changes what may be supplied.

use crate::job::fields::{
    Carry, FieldKind, FieldValue, KeyType, Limits, Rules, Shape, Shown, TaskRead, record,
};
use crate::trade::units::Millimetre;
use chrono::{Datelike, NaiveDate};
use serde::{Deserialize, Serialize};

use super::words::words;

words! {
    /// Registration as sight impaired.
    SightImpaired {
        /// Not registered.
        No = "no",
        /// Registered sight impaired.
        Partial = "partial",
        /// Registered severely sight impaired.
        Severe = "severe",
    }
}

record! {
    /// Something that the pair is for.
    pub struct Task {
        /// What is done, in words.
        what: Option<String>,
        /// From what is looked at to the spectacle plane, mm.
        distance_mm: Option<Millimetre>,
    }
}

/// What a pair is for, as a list.
#[derive(Debug, Clone, PartialEq, Eq, Default, Serialize, Deserialize)]
#[serde(transparent)]
pub struct Tasks(pub Vec<Task>);

impl KeyType for Tasks {
    const SHAPE: Shape = Shape::Parts("Task");

    fn value(&self) -> Option<FieldValue<'_>> {
        let tasks = self.0.iter().map(|task| TaskRead {
            what: task.what.as_deref(),
            distance_mm: task.distance_mm.map(Millimetre::get),
        });
        Some(FieldValue::Tasks(tasks.collect()))
    }
}

impl Tasks {
    /// Returns the shortest distance of a task, from `least_mm` on, mm.
    pub fn shortest_mm(&self, least_mm: f64) -> Option<f64> {
        self.0
            .iter()
            .filter_map(|task| task.distance_mm.map(Millimetre::get))
            .filter(|mm| *mm >= least_mm)
            .min_by(f64::total_cmp)
    }
}

record! {
    /// The person a pair is made for.
    pub struct Wearer {
        /// Name as it is written.
        name: Option<String> = {
            label: "name", kind: FieldKind::Text, limits: Limits::OfKind,
            help: "the wearer's name as it is written; a job cannot be without it",
            shown: Shown::Placed, rules: Rules::Carried(Carry::Kept),
        },
        /// Date of birth.
        born: Option<NaiveDate> = {
            label: "born", kind: FieldKind::Date, limits: Limits::OfKind,
            help: "date of birth: 1961-04-23, 23/4/1961 or 23 apr 1961",
            shown: Shown::Placed, rules: Rules::Carried(Carry::Kept),
        },
        /// Telephone number as it is written.
        phone: Option<String> = {
            label: "phone", kind: FieldKind::Text, limits: Limits::OfKind,
            help: "telephone number as it is written",
            shown: Shown::Placed, rules: Rules::Carried(Carry::Kept),
        },
        /// Electronic mail address.
        email: Option<String> = {
            label: "e-mail", kind: FieldKind::Text, limits: Limits::OfKind,
            help: "electronic mail address",
            shown: Shown::Placed, rules: Rules::Carried(Carry::Kept),
        },
        /// Allergies; an empty list means that none is known, absence that nobody asked.
        allergies: Option<Vec<String>> = {
            label: "allergies", kind: FieldKind::Words, limits: Limits::OfKind,
            help: "allergies, comma separated (nickel, silicone); none when asked and none is known",
            shown: Shown::Placed, rules: Rules::Carried(Carry::Answer),
        },
        /// Whether only one eye sees usefully.
        one_eyed: Option<bool> = {
            label: "one useful eye", kind: FieldKind::Flag, limits: Limits::OfKind,
            help: "yes when only one eye sees usefully, otherwise no",
            shown: Shown::Placed, rules: Rules::Carried(Carry::Answer),
        },
        /// Registration as sight impaired.
        sight_impaired: Option<SightImpaired> = {
            label: "sight impaired", kind: FieldKind::Choice(SightImpaired::WORDS), limits: Limits::OfKind,
            help: "registration as sight impaired: no, partial or severe",
            shown: Shown::Placed, rules: Rules::Carried(Carry::Answer),
        },
        /// What the wearer does.
        occupation: Option<String> = {
            label: "occupation", kind: FieldKind::Text, limits: Limits::OfKind,
            help: "what the wearer does",
            shown: Shown::AlsoRecorded, rules: Rules::Carried(Carry::Answer),
        },
        /// Whether the wearer drives.
        drives: Option<bool> = {
            label: "drives", kind: FieldKind::Flag, limits: Limits::OfKind,
            help: "yes when the wearer drives, otherwise no",
            shown: Shown::Placed, rules: Rules::Carried(Carry::Answer),
        },
        /// Anything else.
        notes: Option<String> = {
            label: "notes", kind: FieldKind::Notes, limits: Limits::OfKind,
            help: "anything else about the wearer",
            shown: Shown::AlsoRecorded, rules: Rules::Carried(Carry::Answer),
        },
        /// What the pair is for, with the distance of each task.
        tasks: Option<Tasks> = {
            label: "tasks", kind: FieldKind::Tasks, limits: Limits::Own(100.0, 6000.0),
            help: "what the pair is for, each with its distance in millimetres, comma separated: reading 400, screen 650",
            shown: Shown::Listed, rules: Rules::Carried(Carry::Answer),
        },
    }
}

/// Words in a list of allergies that say that none is known.
const NO_ALLERGY: [&str; 3] = ["none", "none known", "no"];

impl Wearer {
    /// Returns the wearer's age in whole years on a day, when the date of birth is known.
    pub fn age_on(&self, day: NaiveDate) -> Option<i32> {
        self.born.map(|b| whole_years(b, day))
    }

    /// Returns the allergies as they were written, without the words that say that none is known.
    pub fn named_allergies(&self) -> impl Iterator<Item = &str> {
        self.allergies
            .iter()
            .flatten()
            .map(|a| a.trim())
            .filter(|a| {
                let says_none = NO_ALLERGY.iter().any(|none| none.eq_ignore_ascii_case(a));
                !a.is_empty() && !says_none
            })
    }

    /// Whether the wearer is registered sight impaired or severely sight impaired.
    pub fn is_sight_impaired(&self) -> bool {
        matches!(
            self.sight_impaired,
            Some(SightImpaired::Partial | SightImpaired::Severe)
        )
    }
}

/// Returns the whole years between two days (a birthday on 29 February counts from 1 March).
pub fn whole_years(from: NaiveDate, to: NaiveDate) -> i32 {
    let before = (to.month(), to.day()) < (from.month(), from.day());
    to.year() - from.year() - i32::from(before)
}
