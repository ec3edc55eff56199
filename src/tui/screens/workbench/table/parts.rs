//! The inputs and outputs that the calculations share.

use crate::exchange::calc::NumberKey;
use crate::tui::screens::workbench::calculation::{Input, InputKind, Output, Shown};

/// A lens power: the whole of it, and its parts.
pub(super) fn rx(key: &str, whose: &str, sphere: &str, cylinder: &str, axis: &str) -> Vec<Input> {
    let of = |name: &str| match whose {
        "" => name.to_owned(),
        _ => format!("{whose} {name}"),
    };
    let part =
        |k: &str, name: &str, example: &str| number(&format!("{key}.{k}"), &of(name), example);
    vec![
        Input::new(key, &of("power"), "", InputKind::Power, ""),
        part("sphere_d", "sphere", sphere),
        part("cylinder_d", "cylinder", cylinder).optional(),
        part("axis_deg", "axis", axis).optional(),
    ]
}

/// A number, in the unit of its key.
pub(super) fn number(key: &str, label: &str, example: &str) -> Input {
    let unit = NumberKey::of_path(key).map_or("", NumberKey::unit_sign);
    let step = match unit {
        "D" | "Δ" => 0.25,
        "mm" => 0.5,
        "°" if key.ends_with("axis_deg") => 5.0,
        "°" => 1.0,
        _ => 0.01,
    };
    Input::new(key, label, unit, InputKind::Number(step), example)
}

/// The eye.
pub(super) fn eye() -> Input {
    choice("eye", "eye", &["right", "left"])
}

/// The eye whose values of a job are taken, for a calculation that is the same for both.
pub(super) fn values_of() -> Input {
    choice("@eye", "values of", &["right", "left"])
}

/// The distance from the cornea to the eye's centre of rotation.
pub(super) fn rotation() -> Input {
    number("rotation_mm", "cornea to rotation", "13.5")
        .optional()
        .usual()
}

/// One of some words, the first to begin with.
pub(super) fn choice(key: &str, label: &str, words: &'static [&'static str]) -> Input {
    let first = words.first().copied().unwrap_or("");
    Input::new(key, label, "", InputKind::Choice(words), first).usual()
}

/// A power of a result.
pub(super) const fn power(path: &'static str, label: &'static str) -> Output {
    Output {
        path,
        label,
        unit: "D",
        shown: Shown::Power,
    }
}

/// A number of a result, with its sign.
pub(super) const fn signed(
    path: &'static str,
    label: &'static str,
    unit: &'static str,
    decimals: usize,
) -> Output {
    Output {
        path,
        label,
        unit,
        shown: Shown::Signed(decimals),
    }
}

/// A number of a result.
pub(super) const fn plain(
    path: &'static str,
    label: &'static str,
    unit: &'static str,
    decimals: usize,
) -> Output {
    Output {
        path,
        label,
        unit,
        shown: Shown::Plain(decimals),
    }
}

/// A horizontal prism or place of a result.
pub(super) const fn inward(path: &'static str, label: &'static str, unit: &'static str) -> Output {
    Output {
        path,
        label,
        unit,
        shown: Shown::In,
    }
}

/// A vertical prism or place of a result.
pub(super) const fn upward(path: &'static str, label: &'static str, unit: &'static str) -> Output {
    Output {
        path,
        label,
        unit,
        shown: Shown::Up,
    }
}
