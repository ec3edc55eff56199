//! What a length or an angle can be at all: beyond it a slip of the hand is likelier than a wearer,
//! a frame or a lens. What is merely unusual is the gate's to question.

use super::field::{Field, Kind};
use crate::units::{Degree, Dioptre, Index, Millimetre, Percent};

/// A measured quantity, by the last key of its place, with the least and the most it can be.
const LIMITS: &[(&str, f64, f64)] = &[
    // Wider than any pair is worn at: the practice's own range is the gate's (`vertex-range`).
    ("tested_vertex_mm", 2.0, 40.0),
    ("vertex_mm", 2.0, 40.0),
    ("cd_mm", 15.0, 45.0),
    ("right_cd_mm", 15.0, 45.0),
    ("left_cd_mm", 15.0, 45.0),
    ("near_cd_mm", 15.0, 45.0),
    ("binocular_pd_mm", 35.0, 90.0),
    ("near_pd_mm", 30.0, 90.0),
    ("height_mm", 2.0, 60.0),
    ("segment_height_mm", 1.0, 50.0),
    ("length_to_bend_mm", 50.0, 200.0),
    ("side_mm", 70.0, 220.0),
    ("head_width_mm", 60.0, 220.0),
    ("front_width_mm", 60.0, 220.0),
    ("size_mm", 4.0, 40.0),
    ("a_mm", 15.0, 90.0),
    ("b_mm", 10.0, 80.0),
    ("dbl_mm", 4.0, 45.0),
    ("ed_mm", 15.0, 110.0),
    ("blank_mm", 30.0, 110.0),
    ("working_mm", 100.0, 2000.0),
    ("corridor_mm", 3.0, 40.0),
    ("centre_mm", 0.3, 40.0),
    ("thinnest_mm", 0.3, 40.0),
    ("pantoscopic_deg", -30.0, 60.0),
    ("face_form_deg", -30.0, 60.0),
];

/// Largest sphere taken, dioptres: beyond it a slip is likelier than a lens. As in a written
/// prescription (`docs/notation.md`), like those that follow.
pub(super) const SPHERE_MOST_D: f64 = 40.0;
/// Largest cylinder taken, dioptres.
pub(super) const CYLINDER_MOST_D: f64 = 20.0;
/// Largest addition taken, dioptres.
pub(super) const ADDITION_MOST_D: f64 = 10.0;
/// Largest prism taken, prism dioptres.
pub(super) const PRISM_MOST_DELTA: f64 = 30.0;

/// Returns the least and the most a field's number can be, in its unit; nothing for what is no number.
pub fn limits(field: &Field) -> Option<(f64, f64)> {
    let key = field.path.rsplit('.').next().unwrap_or(field.path);
    let own = LIMITS.iter().find(|(name, ..)| *name == key);
    Some(match field.kind {
        Kind::Length => own.map_or((Millimetre::LOW, Millimetre::HIGH), |o| (o.1, o.2)),
        Kind::Angle => own.map_or((Degree::LOW, Degree::HIGH), |o| (o.1, o.2)),
        Kind::Power | Kind::Reading if key == "cylinder_d" => (-CYLINDER_MOST_D, CYLINDER_MOST_D),
        Kind::Power | Kind::Reading => (-SPHERE_MOST_D, SPHERE_MOST_D),
        Kind::Addition => (0.0, ADDITION_MOST_D),
        Kind::Prism(_) => (-PRISM_MOST_DELTA, PRISM_MOST_DELTA),
        Kind::Axis => (1.0, 180.0),
        Kind::Curve => (Dioptre::LOW, Dioptre::HIGH),
        Kind::Index => (Index::LOW, Index::HIGH),
        Kind::Percent => (Percent::LOW, Percent::HIGH),
        Kind::Category => (0.0, 4.0),
        _ => return None,
    })
}

/// Returns why a number cannot be what a field asks for: one sentence, or nothing.
pub(super) fn beyond(field: &Field, number: f64) -> Option<String> {
    let (least, most) = limits(field)?;
    if (least..=most).contains(&number) {
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
    use crate::form::fields;
    use crate::job::Section;

    #[test]
    fn every_length_and_angle_of_the_fitting_has_a_limit_and_no_limit_is_idle() {
        let all: Vec<_> = Section::ALL.iter().flat_map(|s| fields(*s)).collect();
        for (key, least, most) in LIMITS {
            assert!(least < most, "{key}");
            assert!(
                all.iter().any(|f| f.path.rsplit('.').next() == Some(key)),
                "{key} is no field"
            );
        }
        for field in fields(Section::Fitting) {
            if matches!(field.kind, Kind::Length | Kind::Angle) {
                assert!(beyond(field, 1e4).is_some(), "{}", field.path);
            }
        }
    }
}
