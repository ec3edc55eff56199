//! A whole prescription typed into one power: `-2.25/-0.75x90 add +2.00` fills the row.

use super::field::Field;
use super::kind::FieldKind;
use super::limits::limits;
use super::row::{RowPowers, copy_from_other_eye, fill_row, is_power_row, row_powers};
use super::written_row::{WrittenChange, fill_both, fill_written};
use crate::job::fields::at;
use crate::trade::eye::Eye;
use crate::trade::notation::{self, ErrorKind, Reading};
use crate::trade::units::{Degree, Dioptre};

/// Returns the change a whole written power makes, or why it is none, or nothing when the field
/// takes no powers or the text is a single figure.
pub(crate) fn whole_power(field: &Field, text: &str) -> Option<Result<WrittenChange, String>> {
    if !is_power_row(field) || !is_whole(text) {
        return None;
    }
    // At another entry of the row, two figures alone are meant for that entry: `0/0` at a prism is no
    // power without strength.
    let is_sphere = field.path.ends_with(".sphere_d");
    if !is_sphere && !says_axis_or_addition(text) {
        return None;
    }
    let eye = field.eye?;
    // What a focimeter reads is kept as it reads: a prescriber's 0.88 is an eighth, a reading is not.
    if field.kind == FieldKind::Reading
        && let Some(row) = reading(text)
    {
        return Some(Ok(WrittenChange::of_row(fill_row(field, &row))));
    }
    Some(match notation::read(text) {
        Ok(Reading::One { eye: said, rx }) if said.is_none_or(|e| e == eye) => {
            Ok(fill_written(field, &rx, eye))
        }
        Ok(Reading::One { .. }) => Err(format!(
            "this is labelled as the {} eye's: type it into that eye's row",
            eye.other()
        )),
        Ok(Reading::Two { eyes, assumed }) => copy_from_other_eye(field)
            .map(|other| fill_both((field, other), &eyes, assumed))
            .ok_or_else(|| "type one eye's power here".to_owned()),
        Err(e) => Err(e.message),
    })
}

/// Returns the power of one lens from text: on exact eighths as a prescriber writes it, or to the
/// hundredth as a focimeter reads it.
///
/// # Errors
/// A sentence that says what to type.
pub(crate) fn one_power(text: &str) -> Result<RowPowers, String> {
    match notation::read(text) {
        Ok(Reading::One { eye, rx }) => Ok(row_powers(&rx, eye.unwrap_or(Eye::Right))),
        Ok(Reading::Two { .. }) => {
            Err("these are the powers of two eyes: type one of them".to_owned())
        }
        Err(e) if e.kind == ErrorKind::PowerNotOnStep => reading(text).ok_or(e.message),
        Err(e) => Err(e.message),
    }
}

/// Whether text holds more than one figure, so that it is meant as a whole power.
pub(crate) fn is_whole(text: &str) -> bool {
    let groups = text
        .split(|c: char| !(c.is_ascii_digit() || matches!(c, '.' | ',')))
        .filter(|g| !g.is_empty())
        .count();
    groups > 1
}

/// Whether text names an axis or an addition, as a whole power does and a pair of values does not.
fn says_axis_or_addition(text: &str) -> bool {
    let text = text.to_lowercase();
    ["x", "×", "add"].iter().any(|word| text.contains(word))
}

/// Reads a focimeter's reading, whose figures stand on no step: `-2.27/-0.73x91 add 2.04`.
fn reading(text: &str) -> Option<RowPowers> {
    let figure = |t: &str| t.trim().replace(',', ".").parse::<f64>().ok();
    let can_be = |field: &Field, value: f64| {
        limits(field).is_some_and(|(least, most)| (least..=most).contains(&value))
    };
    // A power without its sign is asked for again; so is one beyond what is made.
    let signed = |t: &str, field: &Field| {
        let value = figure(t)?;
        let is_signed = t.trim().starts_with(['+', '-']) || value == 0.0;
        (is_signed && can_be(field, value))
            .then(|| Dioptre::new(value).ok())
            .flatten()
    };
    let (sphere_d, cylinder_d) = (at!(readings.right.sphere_d), at!(readings.right.cylinder_d));
    let (axis_deg, addition_d) = (at!(readings.right.axis_deg), at!(readings.right.addition_d));
    let text = text.trim().to_lowercase();
    let (powers, addition) = match text.split_once("add") {
        Some((powers, add)) => {
            let add = add.trim().trim_start_matches('+');
            (
                powers.trim(),
                Some(Dioptre::new(figure(add).filter(|a| can_be(addition_d, *a))?).ok()?),
            )
        }
        None => (text.as_str(), None),
    };
    let Some((powers, axis)) = powers.split_once(['x', '×']) else {
        // A sphere alone is a reading only with something behind it; by itself it is one figure.
        addition?;
        return Some(RowPowers {
            sphere: Some(signed(powers, sphere_d)?),
            addition,
            ..RowPowers::default()
        });
    };
    let powers = powers.trim();
    let cut = powers
        .char_indices()
        .skip(1)
        .find(|(_, c)| matches!(c, '/' | ' ' | '+' | '-'))
        .map(|(at, _)| at)?;
    let (sphere, cylinder) = powers.split_at_checked(cut)?;
    let cylinder = cylinder.trim_start_matches(['/', ' ']);
    let axis = figure(axis).filter(|a| can_be(axis_deg, *a))?;
    Some(RowPowers {
        sphere: Some(signed(sphere, sphere_d)?),
        cylinder: Some(signed(cylinder, cylinder_d)?),
        axis: Some(Degree::new(axis).ok()?),
        addition,
        ..RowPowers::default()
    })
}

#[cfg(test)]
mod tests {
    use serde_json::Value;

    use super::whole_power as typed;
    use crate::job::fields;
    use serde_json::json;

    fn whole_power(field: &fields::Field, text: &str) -> Option<Result<Value, String>> {
        typed(field, text).map(|line| line.map(|line| line.change))
    }

    #[test]
    fn a_written_prescription_fills_the_row() {
        let field = fields::find("prescription.right.sphere_d").unwrap();
        let change = whole_power(field, "-2.25/-0.75x90 add +2.00")
            .unwrap()
            .unwrap();
        assert_eq!(
            change,
            json!({"right": {"sphere_d": -2.25, "cylinder_d": -0.75, "axis_deg": 90, "addition_d": 2}})
        );
        assert!(
            whole_power(field, "-2.25").is_none(),
            "one figure is no whole power"
        );
        assert!(
            whole_power(field, "-2.25/-0.75")
                .unwrap()
                .unwrap_err()
                .contains("axis")
        );
    }

    #[test]
    fn both_eyes_fill_both_rows_and_the_other_eye_alone_is_refused() {
        let field = fields::find("prescription.right.sphere_d").unwrap();
        let change = whole_power(field, "R -1.00 L -2.00").unwrap().unwrap();
        assert_eq!(change["right"]["sphere_d"], json!(-1));
        assert_eq!(change["left"]["sphere_d"], json!(-2));
        assert!(whole_power(field, "L -2.00/-0.50x5").unwrap().is_err());
    }

    #[test]
    fn two_figures_at_a_prism_are_no_power() {
        for path in [
            "readings.right.base_in_delta",
            "prescription.left.base_up_delta",
            "lenses.powers.right.cylinder_d",
        ] {
            let field = fields::find(path).unwrap();
            assert!(whole_power(field, "0/0").is_none(), "{path}");
            assert!(whole_power(field, "-2.25 -2.50").is_none(), "{path}");
            assert!(whole_power(field, "-2.25/-0.75x90").is_some(), "{path}");
        }
        let sphere = fields::find("prescription.right.sphere_d").unwrap();
        assert!(whole_power(sphere, "-2.25 -0.75 90").is_some());
    }

    #[test]
    fn a_reading_in_hundredths_fills_a_row_of_readings_only() {
        let reading = fields::find("readings.left.sphere_d").unwrap();
        let change = whole_power(reading, "-2.27/-0.73x91").unwrap().unwrap();
        assert_eq!(change["left"]["cylinder_d"], json!(-0.73));
        let change = whole_power(reading, "-3.88/-0.63x91").unwrap().unwrap();
        assert_eq!(change["left"]["sphere_d"], json!(-3.88), "not the eighth");
        assert!(whole_power(reading, "2.27/-0.73x91").unwrap().is_err());
        let change = whole_power(reading, "-2.27/-0.73x91 add 2.04")
            .unwrap()
            .unwrap();
        assert_eq!(change["left"]["addition_d"], json!(2.04));
        let change = whole_power(reading, "+1.03 add 1.98").unwrap().unwrap();
        assert_eq!(
            change,
            json!({"left": {"sphere_d": 1.03, "cylinder_d": null, "axis_deg": null, "addition_d": 1.98}})
        );
        let written = fields::find("prescription.left.sphere_d").unwrap();
        assert!(whole_power(written, "-2.27/-0.73x91").unwrap().is_err());
    }
}
