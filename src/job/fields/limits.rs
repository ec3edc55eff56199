//! What a length or an angle can be at all: beyond it a slip of the hand is likelier than a wearer,
//! a frame or a lens. What is merely unusual is the gate's to question.

use super::field::Field;
use super::kind::FieldKind;
use super::record::Limits;
use crate::trade::units::{Degree, Dioptre, Index, Millimetre, Percent};

/// Largest sphere taken, dioptres: beyond it a slip is likelier than a lens. As in a written
/// prescription (`docs/notation.md`), like those that follow.
pub(super) const SPHERE_MOST_D: f64 = 40.0;
/// Largest addition taken, dioptres.
pub(super) const ADDITION_MOST_D: f64 = 10.0;
/// Largest prism taken, prism dioptres.
pub(super) const PRISM_MOST_DELTA: f64 = 30.0;

/// Largest length of a wearer, a frame or a lens, mm; distances of tasks have limits of their own.
const LENGTH_MOST_MM: f64 = 2000.0;

/// Returns the least and the most a field's number can be, in its unit; nothing for what is no number.
pub fn limits(field: &Field) -> Option<(f64, f64)> {
    if let Limits::Own(least, most) | Limits::ZeroOr(least, most) = field.about.limits {
        return Some((least, most));
    }
    Some(match field.kind {
        FieldKind::Length => (Millimetre::LOW, LENGTH_MOST_MM),
        FieldKind::Angle => (Degree::LOW, Degree::HIGH),
        FieldKind::Power | FieldKind::Reading => (-SPHERE_MOST_D, SPHERE_MOST_D),
        FieldKind::Addition => (0.0, ADDITION_MOST_D),
        FieldKind::PrismSize => (0.0, PRISM_MOST_DELTA),
        FieldKind::Prism(_) => (-PRISM_MOST_DELTA, PRISM_MOST_DELTA),
        FieldKind::Axis => (1.0, 180.0),
        FieldKind::Curve => (Dioptre::LOW, Dioptre::HIGH),
        FieldKind::Index => (Index::LOW, Index::HIGH),
        FieldKind::Percent => (Percent::LOW, Percent::HIGH),
        FieldKind::Category => (0.0, 4.0),
        _ => return None,
    })
}

/// Returns why a number cannot be what a field asks for: one sentence, or nothing.
pub(super) fn beyond(field: &Field, number: f64) -> Option<String> {
    let (least, most) = limits(field)?;
    let is_none = number == 0.0 && matches!(field.about.limits, Limits::ZeroOr(..));
    if is_none || (least..=most).contains(&number) {
        return None;
    }
    let Field { label, unit, .. } = field;
    Some(format!(
        "{label} {number} {unit} cannot be: type {least} to {most}; look for a missing point or a digit too many"
    ))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::job::Section;
    use crate::job::fields::{all_fields, fields};

    #[test]
    fn every_length_and_angle_of_the_fitting_has_a_limit_of_its_own() {
        for field in all_fields() {
            if let Limits::Own(least, most) = field.about.limits {
                assert!(least < most, "{}", field.full());
            }
        }
        for field in fields(Section::Fitting) {
            if matches!(field.kind, FieldKind::Length | FieldKind::Angle) {
                assert!(beyond(field, 1e4).is_some(), "{}", field.path);
            }
        }
    }
}
