//! The code of a frame or lens, scanned at an entry: it fills identifier and lot of that thing.

use serde_json::Value;

use super::field::Field;
use super::kind::FieldKind;
use super::row::change;
use super::table::sibling;
use crate::job::Section;
use crate::trade::gs1::{Gs1Error, Gtin, Scanned, read};

/// The key of an identifier, and of the lot that goes with it.
const KEYS: [&str; 2] = ["identifier", "lot"];
/// Lengths of a number that at the entry of an identifier is a trade item number.
const ITEM_FIGURES: [usize; 3] = [12, 13, 14];
/// Figures of `01` and the trade item number after it.
const FIRST_FIGURES: usize = 16;

/// Returns the change that a scanned code makes at an entry, or why it makes none; nothing where the
/// text is no code.
pub(crate) fn scanned_code(field: &Field, text: &str) -> Option<Result<Value, String>> {
    let text = text.trim();
    let is_place =
        matches!(field.section, Section::Frame | Section::Readings) && KEYS.contains(&field.key);
    if !is_place {
        let is_sure = looks_like_a_code(text)
            && field.kind != FieldKind::Notes
            && matches!(read(text), Ok(_) | Err(Gs1Error::CheckDigit { .. }));
        return is_sure.then(|| {
            Err("this is the code of a frame or lens: scan it at the identifier or lot of the frame or of the lens that is read".to_owned())
        });
    }
    let is_number = is_item_number(field, text);
    if !is_number && !looks_like_a_code(text) {
        return None;
    }
    let filled = read(text)
        .map_err(|why| why.to_string())
        .and_then(|code| filled(field, &code));
    Some(filled.map_err(|why| {
        if is_number {
            format!("{why}; a number of the maker's own is typed with a letter before it")
        } else {
            why
        }
    }))
}

/// Whether a number without letters is a trade item number: lots may be numbers, too.
fn is_item_number(field: &Field, text: &str) -> bool {
    let is_figures = text.bytes().all(|b| b.is_ascii_digit());
    field.key == KEYS[0] && is_figures && ITEM_FIGURES.contains(&text.len())
}

/// Whether a text begins as nothing but a code does: with the mark of its symbology, an identifier in
/// brackets, a separator, or `01` and a trade item number.
fn looks_like_a_code(text: &str) -> bool {
    let is_figures = |t: &str| t.bytes().all(|b| b.is_ascii_digit());
    let is_bracketed = (text.strip_prefix('('))
        .and_then(|t| t.split_once(')'))
        .is_some_and(|(inside, _)| (2..=4).contains(&inside.len()) && is_figures(inside));
    let has_item = text.starts_with("01") && text.get(..FIRST_FIGURES).is_some_and(is_figures);
    let is_separated = text.starts_with(['\u{1d}', '\u{241d}']);
    is_bracketed || has_item || is_separated || text.starts_with(']')
}

/// Fills identifier and lot of the field's part; what the code does not say stays.
fn filled(field: &Field, code: &Scanned) -> Result<Value, String> {
    let item = code.gtin.as_ref().map(Gtin::figures);
    let identifier = match (item, &code.serial) {
        (Some(item), Some(serial)) => Some(format!("{item} serial {serial}")),
        (Some(item), None) => Some(item.to_owned()),
        (None, Some(serial)) => Some(format!("serial {serial}")),
        (None, None) => None,
    };
    if identifier.is_none() && code.lot.is_none() {
        return Err(
            "this code names no item and no lot: scan the other code of the packet, or type them"
                .to_owned(),
        );
    }
    let mut all = Value::Null;
    for (key, value) in KEYS.into_iter().zip([identifier, code.lot.clone()]) {
        if let (Some(value), Some(place)) = (value, sibling(field, key)) {
            json_patch::merge(&mut all, &change(place, Value::from(value)));
        }
    }
    Ok(all)
}

#[cfg(test)]
mod tests {
    use serde_json::{Value, json};

    use super::scanned_code;
    use crate::job::fields;

    fn scanned(path: &str, text: &str) -> Option<Result<Value, String>> {
        scanned_code(fields::find(path).unwrap(), text)
    }

    const CODE: &str = "(01)09506000134352(17)271231(10)AB-1";

    #[test]
    fn a_code_fills_identifier_and_lot_of_the_thing_it_is_scanned_at() {
        let both = json!({"identifier": "9506000134352", "lot": "AB-1"});
        for path in ["frame.identifier", "frame.lot"] {
            assert_eq!(scanned(path, CODE), Some(Ok(both.clone())), "{path}");
        }
        assert_eq!(
            scanned("readings.left.lot", CODE),
            Some(Ok(json!({"left": both})))
        );
        assert_eq!(
            scanned("readings.right.identifier", "010950600013435221S7"),
            Some(Ok(
                json!({"right": {"identifier": "9506000134352 serial S7"}})
            ))
        );
        assert_eq!(
            scanned("frame.identifier", "9506000134352"),
            Some(Ok(json!({"identifier": "9506000134352"})))
        );
    }

    #[test]
    fn a_wrong_check_digit_is_a_sentence() {
        for text in ["(01)09506000134353(10)AB-1", "9506000134353"] {
            let why = scanned("frame.identifier", text).unwrap().unwrap_err();
            assert!(why.contains("give 2"), "{why}");
        }
    }

    #[test]
    fn anywhere_else_a_code_is_refused_and_other_texts_are_none() {
        for path in ["frame.name", "readings.right.cd_mm", "wearer.phone"] {
            let why = scanned(path, CODE).unwrap().unwrap_err();
            assert!(why.contains("identifier or lot"), "{path}: {why}");
        }
        assert_eq!(scanned("frame.identifier", "M 7 blue"), None);
        assert_eq!(scanned("frame.lot", "9506000134353"), None);
        assert_eq!(scanned("wearer.phone", "9506000134353"), None);
    }
}
