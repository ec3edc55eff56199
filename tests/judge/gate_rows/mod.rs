//! The rows of `gate_checks`: one change to a sound pair for each check.

mod collected;
mod ordered;
mod verified;

use rimbook::testing::job::Gate;
use serde_json::{Value, json};

/// A check, its gate, and the changes that make it hold.
pub type Row = (&'static str, Gate, Vec<(&'static str, Value)>);

/// A pair of -8.00 D.
pub fn strong() -> Vec<(&'static str, Value)> {
    let eyes = json!({"right": {"sphere_d": -8.0}, "left": {"sphere_d": -8.0, "cylinder_d": null, "axis_deg": null}, "previous": null});
    vec![
        ("prescription", eyes.clone()),
        (
            "lenses",
            json!({"powers": {"right": eyes["right"], "left": eyes["left"]}}),
        ),
    ]
}

/// A progressive pair.
pub fn progressive() -> Vec<(&'static str, Value)> {
    vec![
        (
            "prescription",
            json!({"right": {"addition_d": 2.0}, "left": {"addition_d": 2.0}}),
        ),
        (
            "lenses",
            json!({"design": "progressive", "powers": {"right": {"addition_d": 2.0}, "left": {"addition_d": 2.0}}}),
        ),
    ]
}

/// Adds a change.
pub fn with(
    mut base: Vec<(&'static str, Value)>,
    section: &'static str,
    change: Value,
) -> Vec<(&'static str, Value)> {
    base.push((section, change));
    base
}

/// One row for each check.
pub fn rows() -> Vec<Row> {
    [ordered::rows(), verified::rows(), collected::rows()].concat()
}
