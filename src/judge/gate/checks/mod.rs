//! The checks themselves, grouped by what they look at; each is one entry with its code beside it.

pub mod acceptable_powers;
pub mod allergies;
pub mod carried;
pub mod centration;
pub mod fit;
pub mod frames;
pub mod handover;
pub mod heights;
pub mod lens_choice;
pub mod made;
pub mod on_face;
pub mod orders;
pub mod plausible;
pub mod prescriptions;
pub mod prism;
pub mod questions;
pub mod readings;
pub mod remakes;
pub mod restricted;
pub mod tilt;
pub mod vertex;

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
