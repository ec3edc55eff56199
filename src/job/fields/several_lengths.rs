//! Several lengths typed into one entry, as they are said or printed: `31/30.5` for both eyes, `21=`
//! for the same in both, `52-18-140` as printed inside the side of a frame.

use chrono::NaiveDate;
use serde_json::Value;

use super::field::Field;
use super::kind::FieldKind;
use super::parse::parse;
use super::row::{change, copy_from_other_eye};
use super::table::find;
use crate::trade::eye::Eye;

/// From here on the second figure of a frame's print is no distance between lenses, mm: common
/// practice, where it runs from 14 to 24; lens heights begin above it.
const BETWEEN_LENSES_BELOW_MM: f64 = 27.0;

/// Returns the change that several lengths make, or why they make none; nothing where the field
/// takes only one or the text is no such list.
pub(crate) fn lengths(
    field: &Field,
    text: &str,
    today: NaiveDate,
) -> Option<Result<Value, String>> {
    if field.kind != FieldKind::Length {
        return None;
    }
    if field.full_path() == "frame.a_mm" {
        return printed(text, today);
    }
    let other = copy_from_other_eye(field)?;
    if let Some(both) = text.strip_suffix('=') {
        return Some(set(&[(field, both), (other, both)], today));
    }
    let (right, left) = text.split_once('/')?;
    // The same twice cannot be taken the wrong way round.
    if field.eye != Some(Eye::Right) && right.trim() != left.trim() {
        return Some(Err(
            "both eyes at once are typed in the right eye's column, the right one first: 31/30.5"
                .to_owned(),
        ));
    }
    Some(set(&[(field, right), (other, left)], today))
}

/// Reads lens width, distance between lenses and perhaps the side, as a frame has them printed.
fn printed(text: &str, today: NaiveDate) -> Option<Result<Value, String>> {
    let figures: Vec<&str> = text
        .split(['-', '/', '\u{25a1}', ' '])
        .filter(|f| !f.is_empty())
        .collect();
    let paths = ["frame.a_mm", "frame.dbl_mm", "frame.side_mm"];
    let is_negative = text.trim_start().starts_with('-');
    if !(2..=paths.len()).contains(&figures.len()) || is_negative {
        return None;
    }
    // A lens height in the second place would be taken for the bridge.
    let second: Option<f64> = figures
        .get(1)
        .and_then(|f| f.replace(',', ".").parse().ok());
    if second.is_some_and(|mm| mm >= BETWEEN_LENSES_BELOW_MM) {
        return Some(Err(
            "the second figure of a frame's print is the distance between lenses, as 52-18: type width and height each in its own entry"
                .to_owned(),
        ));
    }
    let entries: Option<Vec<(&Field, &str)>> = paths
        .iter()
        .zip(figures)
        .map(|(path, figure)| Some((find(path)?, figure)))
        .collect();
    entries.map(|entries| set(&entries, today))
}

/// Returns the change that sets each field to what was typed for it.
fn set(entries: &[(&Field, &str)], today: NaiveDate) -> Result<Value, String> {
    let mut changes = Value::Null;
    for (field, text) in entries {
        let value = parse(field, text, today).map_err(|e| e.to_string())?;
        if value.is_null() {
            return Err(format!("{} is missing: type each figure", field.label));
        }
        json_patch::merge(&mut changes, &change(field, value));
    }
    Ok(changes)
}

#[cfg(test)]
mod tests {
    use serde_json::{Value, json};

    use super::lengths;
    use crate::job::fields;

    fn typed(path: &str, text: &str) -> Option<Result<Value, String>> {
        let field = fields::find(path).unwrap();
        let today = chrono::NaiveDate::from_ymd_opt(2026, 10, 12).unwrap();
        lengths(field, text, today)
    }

    #[test]
    fn two_lengths_fill_both_eyes_from_the_right_eyes_column_alone() {
        assert_eq!(
            typed("fitting.right.cd_mm", "31/30.5"),
            Some(Ok(json!({"right": {"cd_mm": 31}, "left": {"cd_mm": 30.5}})))
        );
        assert_eq!(
            typed("handover.right.vertex_mm", "12 / 13 mm"),
            Some(Ok(
                json!({"right": {"vertex_mm": 12}, "left": {"vertex_mm": 13}})
            ))
        );
        let left = typed("fitting.left.cd_mm", "31/30.5").unwrap().unwrap_err();
        assert!(left.contains("right eye's column"), "{left}");
        assert_eq!(
            typed("fitting.left.cd_mm", "31/31"),
            Some(Ok(json!({"right": {"cd_mm": 31}, "left": {"cd_mm": 31}})))
        );
        assert_eq!(
            typed("fitting.left.height_mm", "21="),
            Some(Ok(
                json!({"right": {"height_mm": 21}, "left": {"height_mm": 21}})
            ))
        );
        assert!(typed("fitting.left.height_mm", "=").unwrap().is_err());
        for half in ["31/", "/30.5", "31/30/29", "31/x"] {
            assert!(
                typed("fitting.right.cd_mm", half).unwrap().is_err(),
                "{half}"
            );
        }
        assert_eq!(typed("fitting.binocular_pd_mm", "31/30.5"), None);
        assert_eq!(typed("fitting.right.cd_mm", "31"), None);
    }

    #[test]
    fn a_frames_print_fills_width_bridge_and_side_and_a_height_is_not_taken_for_a_bridge() {
        for print in ["52-18-140", "52\u{25a1}18 140", "52 18 140", "52/18/140"] {
            assert_eq!(
                typed("frame.a_mm", print),
                Some(Ok(json!({"a_mm": 52, "dbl_mm": 18, "side_mm": 140}))),
                "{print}"
            );
        }
        assert_eq!(
            typed("frame.a_mm", "52-18"),
            Some(Ok(json!({"a_mm": 52, "dbl_mm": 18})))
        );
        let height = typed("frame.a_mm", "52-38-18").unwrap().unwrap_err();
        assert!(height.contains("distance between lenses"), "{height}");
        assert_eq!(typed("frame.a_mm", "-52"), None);
        assert_eq!(typed("frame.a_mm", "52"), None);
        assert_eq!(typed("frame.b_mm", "38-18"), None);
    }
}
