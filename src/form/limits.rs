//! What a length or an angle can be at all: beyond it a slip of the hand is likelier than a wearer,
//! a frame or a lens. What is merely unusual is the gate's to question.

use super::field::Field;

/// A measured quantity, by the last key of its place, with the least and the most it can be.
const LIMITS: &[(&str, f64, f64)] = &[
    // As in a written prescription: 5 to 25 mm.
    ("tested_vertex_mm", 5.0, 25.0),
    ("vertex_mm", 5.0, 25.0),
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

/// Returns the least and the most a field's length or angle can be; nothing where it is not known.
pub fn limits(field: &Field) -> Option<(f64, f64)> {
    let key = field.path.rsplit('.').next().unwrap_or(field.path);
    let (_, least, most) = LIMITS.iter().find(|(name, ..)| *name == key)?;
    Some((*least, *most))
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
    use crate::form::Kind;
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
