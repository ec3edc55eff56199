//! The checks themselves, grouped by what they look at; each is one entry with its code beside it.

pub(crate) mod acceptable_powers;
pub(crate) mod additions;
pub(crate) mod allergies;
pub(crate) mod as_worn;
pub(crate) mod asked;
pub(crate) mod carried;
pub(crate) mod centration;
pub(crate) mod child_fit;
pub(crate) mod compensates;
pub(crate) mod fit;
pub(crate) mod frames;
pub(crate) mod handover;
pub(crate) mod heights;
pub(crate) mod imbalance;
pub(crate) mod impact;
pub(crate) mod lens_choice;
pub(crate) mod made;
pub(crate) mod making;
pub(crate) mod on_face;
pub(crate) mod orders;
pub(crate) mod plausible;
pub(crate) mod prescriptions;
pub(crate) mod prism;
pub(crate) mod prism_control;
pub(crate) mod questions;
pub(crate) mod readings;
pub(crate) mod remakes;
pub(crate) mod restricted;
pub(crate) mod signed;
pub(crate) mod tilt;
pub(crate) mod tints;
pub(crate) mod vertex;

use serde_json::Value;

use crate::trade::optics::Rx;

/// Builds the values a finding rests on: exact ones as they are, computed ones to a thousandth.
macro_rules! values {
    ($($key:literal => $value:expr),* $(,)?) => {{
        #[allow(unused_mut, reason = "a finding may rest on nothing but its absence")]
        let mut map = $crate::judge::gate::Values::new();
        $(map.insert($key.to_owned(), serde_json::to_value(&$value).unwrap_or(serde_json::Value::Null));)*
        map
    }};
}
pub(crate) use values;

/// Returns a computed number as it is kept in a finding: to a thousandth.
pub(crate) fn to_thousandth(value: f64) -> Value {
    let rounded = (value * 1000.0).round() / 1000.0;
    // Adding zero turns a negative zero into zero, which compares and prints as people expect.
    Value::from(rounded + 0.0)
}

/// Returns a power as the values of a finding hold it.
pub(crate) fn power_value(rx: Rx) -> Value {
    Value::Array(vec![
        to_thousandth(rx.sphere_d),
        to_thousandth(rx.cylinder_d),
        to_thousandth(rx.axis_deg),
    ])
}
