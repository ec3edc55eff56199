//! How a value is written with its unit: the one place for screens, cards, sheets and what is read
//! aloud.

use super::field::Field;
use super::show::show;
use crate::job::Job;

/// How much room a unit has.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Room {
    /// On a screen: prism dioptres are a sign.
    Little,
    /// On paper: prism dioptres are a word.
    Enough,
}

/// Returns what follows a number of a unit: " mm", "°", " D", " prism dioptres" or " Δ"; nothing for
/// a number without a unit.
pub(crate) fn unit_after(unit: &str, room: Room) -> String {
    match (unit, room) {
        ("", _) => String::new(),
        ("degrees" | "°", _) => "°".to_owned(),
        ("prism dioptres", Room::Little) => " Δ".to_owned(),
        (unit, _) => format!(" {unit}"),
    }
}

/// Returns what follows a number of a unit when it is read aloud: " millimetres", " degrees".
pub(crate) fn unit_aloud(unit: &str) -> &'static str {
    match unit {
        "mm" => " millimetres",
        "D" => " dioptres",
        "degrees" => " degrees",
        "prism dioptres" => " prism dioptres",
        _ => "",
    }
}

/// Returns the value of a field without its unit, when there is one.
pub(crate) fn known(job: &Job, field: &Field) -> Option<String> {
    Some(show(job, field)).filter(|text| !text.trim().is_empty())
}

/// Returns the value of a field with its unit, when there is one: "31.5 mm", "8°".
pub(crate) fn known_with_unit(job: &Job, field: &Field, room: Room) -> Option<String> {
    known(job, field).map(|value| value + &unit_after(field.unit, room))
}
