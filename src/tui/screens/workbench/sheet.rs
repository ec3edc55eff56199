//! The values beside the inputs of one calculation, as texts: read, and changed by what is typed.

use super::calculation::{Calculation, Input, InputKind};
use super::request::{InputValue, Origin, figure, power_text, short};
use crate::job::fields::{self, RowPowers};

/// Returns what is shown beside an input; a whole power is put together from its parts.
pub(crate) fn text_of(calc: &Calculation, entries: &[InputValue], place: usize) -> String {
    let text = |i: usize| entries.get(i).map_or("", |e| e.text.as_str());
    let Some(input) = calc.inputs.get(place) else {
        return String::new();
    };
    if input.kind != InputKind::Power {
        return text(place).to_owned();
    }
    let part = |k: &str| calc.place(&format!("{}.{k}", input.key)).map_or("", text);
    let (sphere, cylinder, axis) = (part("sphere_d"), part("cylinder_d"), part("axis_deg"));
    if cylinder.is_empty() {
        sphere.to_owned()
    } else {
        format!("{sphere} / {cylinder} x {axis}")
    }
}

/// Puts a text beside an input.
pub(super) fn set(
    calc: &Calculation,
    entries: &mut [InputValue],
    place: usize,
    text: &str,
) -> Result<(), String> {
    let Some(input) = calc.inputs.get(place) else {
        return Ok(());
    };
    let text = text.trim();
    let whole = match (input.kind, input.key.strip_suffix(".sphere_d")) {
        (InputKind::Power, _) => Some(input.key.as_str()),
        // A whole power in the place of its sphere is what people type.
        (InputKind::Number(_), Some(key)) if fields::is_whole(text) => Some(key),
        _ => None,
    };
    if let Some(key) = whole {
        let row = if text.is_empty() {
            RowPowers::default()
        } else {
            fields::one_power(text)?
        };
        return set_power(calc, entries, key, &row);
    }
    put(entries, place, text.to_owned());
    if let Some(other) = input.instead_of.filter(|_| !text.is_empty())
        && let Some(other) = calc.place(other)
    {
        put(entries, other, String::new());
    }
    // The other parts of a power that was typed in part are the person's own from then on.
    if let Some((key, _)) = input.key.rsplit_once('.')
        && calc.place(key).is_some()
    {
        for (i, e) in calc.inputs.iter().zip(entries) {
            if is_part(i, key) {
                e.origin = Origin::Typed;
            }
        }
    }
    Ok(())
}

fn is_part(input: &Input, key: &str) -> bool {
    ["sphere_d", "cylinder_d", "axis_deg"]
        .iter()
        .any(|k| input.key.strip_prefix(key) == Some(&format!(".{k}")))
}

fn set_power(
    calc: &Calculation,
    entries: &mut [InputValue],
    key: &str,
    row: &RowPowers,
) -> Result<(), String> {
    let has_prism = row.base_in.is_some() || row.base_up.is_some();
    let parts = [
        ("sphere_d", row.sphere.map(|d| power_text(d.get()))),
        ("cylinder_d", row.cylinder.map(|d| power_text(d.get()))),
        ("axis_deg", row.axis.map(|d| short(d.get()))),
    ];
    let addition = calc.place(&format!("{key}.addition_d"));
    if row.addition.is_some() && addition.is_none() {
        return Err("An addition has no place here: type the distance power alone.".to_owned());
    }
    if has_prism {
        return Err("Type the power alone; prism has its own fields where it counts.".to_owned());
    }
    for (k, text) in parts {
        if let Some(place) = calc.place(&format!("{key}.{k}")) {
            put(entries, place, text.unwrap_or_default());
        }
    }
    if let (Some(place), Some(addition)) = (addition, row.addition) {
        put(entries, place, short(addition.get()));
    }
    Ok(())
}

fn put(entries: &mut [InputValue], place: usize, text: String) {
    if let Some(entry) = entries.get_mut(place) {
        *entry = InputValue {
            text,
            origin: Origin::Typed,
        };
    }
}

/// Why a number cannot be kept as it is typed.
pub(super) fn unreadable(input: &Input, text: &str) -> Option<String> {
    let is_plain = matches!(input.kind, InputKind::Number(_)) && !fields::is_whole(text);
    let plano = input.key.ends_with("sphere_d") && matches!(text, "plano" | "pl");
    (is_plain && !text.is_empty() && !plano && figure(text).is_none())
        .then(|| format!("{}: {text:?} is no number.", input.label))
}
