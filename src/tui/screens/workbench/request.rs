//! From what is typed to the answer: the request, the refusal in words, the values as shown.

use std::fmt::Write as _;

use serde_json::{Map, Value, json};

use crate::exchange::calc::{CalcError, RefusalKind};

use super::calculation::{Calculation, Input, InputKind, Output, Shown};

/// Where a value is from.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Origin {
    /// The table's own value to begin with.
    Example,
    /// The job the workbench was opened from.
    Job,
    /// Worked out for the job by a rule of thumb, since it has none recorded.
    Rule,
    /// The person.
    Typed,
}

/// A value as it is shown after its name.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct InputValue {
    /// The value as typed; empty where there is none.
    pub text: String,
    /// Where it is from.
    pub origin: Origin,
}

/// What came of a calculation.
#[derive(Debug, Clone, PartialEq)]
pub enum Outcome {
    /// Its result.
    Worked(Value),
    /// Why there is none, in words.
    Refused(String),
}

impl Default for Outcome {
    fn default() -> Self {
        Self::Refused(String::new())
    }
}

/// Reads a number with a point or a comma, and a sign of any shape.
pub(super) fn figure(text: &str) -> Option<f64> {
    let text: String = text
        .trim()
        .chars()
        .map(|c| match c {
            '\u{2212}' | '\u{2010}'..='\u{2013}' => '-',
            ',' => '.',
            c => c,
        })
        .collect();
    let digits = text.strip_prefix(['-', '+']).unwrap_or(&text);
    let is_number = digits.chars().all(|c| c.is_ascii_digit() || c == '.')
        && digits.chars().any(|c| c.is_ascii_digit());
    // More digits than any quantity has would only be a slip.
    (is_number && digits.len() <= 12).then(|| text.parse().ok())?
}

/// Returns a number as short as it can be written, to the thousandth.
pub(super) fn short(value: f64) -> String {
    let text = format!("{:.3}", value + 0.0);
    let text = text.trim_end_matches('0').trim_end_matches('.');
    if text == "-0" {
        "0".to_owned()
    } else {
        text.to_owned()
    }
}

/// Returns a power as it is written beside its name: a sign, and at least two decimals.
pub(super) fn power_text(value: f64) -> String {
    let thousandths = format!("{value:+.3}");
    let text = thousandths.strip_suffix('0').unwrap_or(&thousandths);
    if text
        .trim_start_matches(['+', '-'])
        .chars()
        .all(|c| c == '0' || c == '.')
    {
        "0.00".to_owned()
    } else {
        text.to_owned()
    }
}

/// Asks a calculation; the request is that of the command line.
pub fn ask(calc: &Calculation, request: &Value) -> Outcome {
    match crate::exchange::calc::calculate(request) {
        Ok(result) => Outcome::Worked(result),
        Err(refusal) => Outcome::Refused(in_words(calc, refusal)),
    }
}

/// Returns the request line of a calculation, as the command line takes it.
///
/// # Errors
/// A sentence that names the value that is no number.
pub fn request(calc: &Calculation, entries: &[InputValue]) -> Result<Value, String> {
    let mut root = json!({"calc": calc.name});
    for (input, entry) in calc.inputs.iter().zip(entries) {
        let text = entry.text.trim();
        if text.is_empty() || !input.is_sent() {
            continue;
        }
        let value = match input.kind {
            InputKind::Choice(_) => json!(text),
            InputKind::Number(_) | InputKind::Power => json!(number(input, text)?),
        };
        put(&mut root, &input.key, value);
    }
    // A list has no gaps: where the second of three powers is left out, there are two.
    for list in root
        .as_object_mut()
        .into_iter()
        .flatten()
        .filter_map(|(_, v)| v.as_array_mut())
    {
        list.retain(|item| !item.is_null());
    }
    Ok(root)
}

fn number(input: &Input, text: &str) -> Result<f64, String> {
    if input.key.ends_with("sphere_d") && matches!(text, "plano" | "pl") {
        return Ok(0.0);
    }
    figure(text).ok_or_else(|| {
        let like = match input.unit {
            "D" => "-2.25",
            "°" => "90",
            _ => "12.5",
        };
        format!(
            "{}: {text:?} is no number. Type it like {like}.",
            input.label
        )
    })
}

/// Puts a value at a path; a part that is a number is a place in a list.
fn put(root: &mut Value, path: &str, value: Value) {
    let mut at = root;
    for part in path.split('.') {
        if let Ok(place) = part.parse::<usize>() {
            if !at.is_array() {
                *at = json!([]);
            }
            let Some(list) = at.as_array_mut() else {
                return;
            };
            while list.len() <= place {
                list.push(Value::Null);
            }
            let Some(next) = list.get_mut(place) else {
                return;
            };
            at = next;
        } else {
            if !at.is_object() {
                *at = Value::Object(Map::new());
            }
            let Some(object) = at.as_object_mut() else {
                return;
            };
            at = object.entry(part).or_insert(Value::Null);
        }
    }
    *at = value;
}

/// Returns a refusal with the names of the screen in place of the keys of the request.
fn in_words(calc: &Calculation, refusal: CalcError) -> String {
    let (kind, mut message) = (refusal.kind, refusal.message);
    let mut names: Vec<(String, &str)> = calc
        .inputs
        .iter()
        .map(|i| (in_request(&i.key), i.label.as_str()))
        .collect();
    // The longest first, so that no key is taken for the beginning of another.
    names.sort_by_key(|(key, _)| std::cmp::Reverse(key.len()));
    for (key, label) in names {
        message = message.replace(&format!("\"{key}\""), label);
        if key.contains('.') {
            message = message.replace(&key, label);
        }
    }
    if kind == RefusalKind::MissingKey {
        message = match message.strip_prefix("missing key ") {
            Some(what) => format!("Still to be typed: {what}."),
            None => message.replace(" is missing: give it", ": still to be typed."),
        };
    }
    message
}

/// A key as a refusal spells it: places in lists in brackets.
fn in_request(key: &str) -> String {
    let mut out = String::new();
    for (i, part) in key.split('.').enumerate() {
        if part.parse::<usize>().is_ok() {
            // A String takes every write.
            let _ = write!(out, "[{part}]");
        } else {
            if i > 0 {
                out.push('.');
            }
            out.push_str(part);
        }
    }
    out
}

/// Returns the value at a path of a result.
pub fn at<'a>(result: &'a Value, path: &str) -> Option<&'a Value> {
    path.split('.').try_fold(result, |at, key| at.get(key))
}

/// Returns a value of a result as it is shown, with its unit; nothing where the result has none.
pub(crate) fn shown(output: &Output, result: &Value) -> Option<String> {
    let value = at(result, output.path)?;
    if output.shown == Shown::Power {
        return power(value);
    }
    let n = value.as_f64()?;
    let unit = match output.unit {
        "" | "°" | "%" => output.unit.to_owned(),
        unit => format!(" {unit}"),
    };
    let fine = usize::from(output.unit == "Δ") + 1;
    let sided = |plus: &str, minus: &str| {
        let side = if n < 0.0 { minus } else { plus };
        let base = if output.unit == "Δ" { "base " } else { "" };
        format!("{:.fine$}{unit} {base}{side}", n.abs())
    };
    Some(match output.shown {
        Shown::In => sided("in", "out"),
        Shown::Up => sided("up", "down"),
        Shown::Signed(d) => format!("{}{unit}", no_minus_zero(format!("{n:+.d$}"))),
        Shown::Plain(d) => format!("{}{unit}", no_minus_zero(format!("{n:.d$}"))),
        Shown::Power | Shown::Lines => return None,
    })
}

fn no_minus_zero(text: String) -> String {
    let is_zero = text.chars().all(|c| matches!(c, '+' | '-' | '0' | '.'));
    if is_zero {
        text.trim_start_matches(['+', '-']).to_owned()
    } else {
        text
    }
}

/// Returns a power of a result as it is written, to the hundredth.
fn power(value: &Value) -> Option<String> {
    let part = |key: &str| value.get(key).and_then(Value::as_f64);
    let sphere = no_minus_zero(format!("{:+.2}", part("sphere_d")?));
    let cylinder = no_minus_zero(format!("{:+.2}", part("cylinder_d")?));
    if cylinder == "0.00" {
        return Some(sphere);
    }
    let axis = format!("{:.1}", part("axis_deg")?);
    let axis = axis.strip_suffix(".0").unwrap_or(&axis);
    Some(format!("{sphere} / {cylinder} x {axis}"))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_are_read_as_people_type_them_and_nothing_else_is() {
        assert_eq!(figure(" −2,25 "), Some(-2.25));
        assert_eq!(figure("+1"), Some(1.0));
        for text in ["", "-", "1e5", "nan", "inf", "1.2.3", "--1", "12 mm"] {
            assert_eq!(figure(text), None, "{text}");
        }
        assert_eq!(power_text(-2.125), "-2.125");
        assert_eq!(power_text(2.0), "+2.00");
        assert_eq!(power_text(-0.0), "0.00");
        assert_eq!(short(13.50), "13.5");
        assert_eq!(short(-0.0), "0");
    }

    #[test]
    fn a_path_makes_objects_and_lists() {
        let mut root = json!({});
        put(&mut root, "powers.0.sphere_d", json!(1));
        put(&mut root, "powers.2.sphere_d", json!(2));
        put(&mut root, "powers.2.axis_deg", json!(3));
        assert_eq!(
            root,
            json!({"powers": [{"sphere_d": 1}, null, {"sphere_d": 2, "axis_deg": 3}]})
        );
    }
}
