//! Numbers that JSON cannot hold: `NaN`, `Infinity`, and digits beyond the largest number.
//!
//! The parser refuses such a line whole. Programs do write them, so a refused line is looked at
//! once more: when such numbers are all that is wrong, the answer names the key and its range.

use super::error::{CalcError, RefusalKind};
use super::json::Node;
use super::keys::NumberKey;

/// Returns the id of the request and the refusal, when a number without a finite value is all that
/// keeps the line from being read.
pub(super) fn explain(line: &str) -> Option<(Node<'static>, CalcError)> {
    let mut readable = String::with_capacity(line.len());
    let mut rest = line;
    let mut last_text = "";
    let mut found: Option<(&str, &str)> = None;
    while let Some(first) = rest.chars().next() {
        let length = if first == '"' {
            text_length(rest)
        } else if first == '-' || first.is_ascii_alphanumeric() {
            rest.find(|c: char| !(c.is_ascii_alphanumeric() || "+-.".contains(c)))
                .unwrap_or(rest.len())
        } else {
            first.len_utf8()
        };
        let (token, after) = rest.split_at_checked(length)?;
        if first == '"' {
            last_text = token;
        }
        if is_non_finite(token) {
            found = found.or(Some((last_text, token)));
            readable.push_str("null");
        } else {
            readable.push_str(token);
        }
        rest = after;
    }
    let (key, value) = found?;
    let Ok(Node::Object(entries)) = serde_json::from_str::<Node<'_>>(&readable) else {
        return None;
    };
    let key = key.trim_matches('"');
    let range = NumberKey::named(key).map_or_else(
        || "only finite numbers are accepted".to_owned(),
        NumberKey::range,
    );
    let shown: String = value.chars().take(24).collect();
    let error = CalcError::new(
        RefusalKind::OutOfRange,
        format!("\"{key}\" is {shown}, no finite number: {range}"),
    );
    Some((owned_id(&entries), error))
}

fn is_non_finite(token: &str) -> bool {
    match token.strip_prefix('-').unwrap_or(token) {
        "NaN" | "Infinity" => true,
        digits => {
            digits.starts_with(|c: char| c.is_ascii_digit())
                && digits.parse::<f64>().is_ok_and(f64::is_infinite)
        }
    }
}

/// The length of the quoted text that a line starts with, its quotes included.
fn text_length(line: &str) -> usize {
    let mut escaped = false;
    for (i, byte) in line.bytes().enumerate().skip(1) {
        match byte {
            _ if escaped => escaped = false,
            b'\\' => escaped = true,
            b'"' => return i + 1,
            _ => {}
        }
    }
    line.len()
}

/// The id, apart from the line it was read from.
fn owned_id(entries: &super::json::Entries<'_>) -> Node<'static> {
    match entries.iter().find(|(key, _)| key == "id") {
        Some((_, Node::Int(i))) => Node::Int(*i),
        Some((_, Node::Uint(u))) => Node::Uint(*u),
        Some((_, Node::Float(f))) => Node::Float(*f),
        Some((_, Node::Bool(b))) => Node::Bool(*b),
        Some((_, Node::Text(t))) => Node::Text(t.clone().into_owned().into()),
        _ => Node::Null,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_key_its_range_and_the_id_are_said() {
        let (id, e) =
            explain(r#"{"id":"N\"aN","calc":"power_vector","rx":{"sphere_d":1e999}}"#).unwrap();
        assert_eq!(id, Node::Text("N\"aN".into()));
        assert_eq!(
            e.message,
            "\"sphere_d\" is 1e999, no finite number: accepted are -60 to 60 D"
        );
    }

    #[test]
    fn a_line_with_another_fault_is_not_explained() {
        assert!(explain(r#"{"sphere_d":NaN"#).is_none());
        assert!(explain(r#"{"sphere_d":1}"#).is_none());
        assert!(explain("\"unfinished").is_none());
    }
}
