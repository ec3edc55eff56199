//! The rows of the verification's gate.

use rimbook::testing::job::Gate::Verified;
use serde_json::json;

use super::{Row, progressive, with};

/// One row for each check of the verification.
#[allow(clippy::too_many_lines, reason = "a table: one row for each check")]
pub fn rows() -> Vec<Row> {
    let one = |section, change| vec![(section, change)];
    let read_progressive = || {
        with(
            progressive(),
            "readings",
            json!({"markings": "correct",
                "right": {"addition_d": 2.0, "cd_mm": 31.5, "height_mm": 19},
                "left": {"addition_d": 2.0, "cd_mm": 31, "height_mm": 19}}),
        )
    };
    let as_worn = || {
        one(
            "lenses",
            json!({"powers": {"as": "as worn compensated", "by": "Ines Calloway"}}),
        )
    };
    vec![
        (
            "readings-missing",
            Verified,
            one("readings", json!({"right": {"sphere_d": null}})),
        ),
        (
            "laboratory-powers-missing",
            Verified,
            one("lenses", json!({"compensates": {"tilt": "laboratory"}})),
        ),
        (
            "laboratory-powers-doubtful",
            Verified,
            with(
                as_worn(),
                "lenses",
                json!({"laboratory_powers": {"right": {"sphere_d": -0.9}}}),
            ),
        ),
        (
            "prism-control-made",
            Verified,
            one(
                "lenses",
                json!({"prism_control": {"eye": "right", "amount_delta": 2.0}}),
            ),
        ),
        (
            "lens-power",
            Verified,
            one("readings", json!({"right": {"sphere_d": -0.63}})),
        ),
        (
            "lens-cylinder",
            Verified,
            one("readings", json!({"left": {"cylinder_d": -0.35}})),
        ),
        (
            "lens-axis",
            Verified,
            one("readings", json!({"left": {"axis_deg": 107}})),
        ),
        (
            "lens-addition",
            Verified,
            with(
                read_progressive(),
                "readings",
                json!({"right": {"addition_d": 2.13}}),
            ),
        ),
        (
            "pair-prism-horizontal",
            Verified,
            one("readings", json!({"right": {"base_in_delta": 0.68}})),
        ),
        (
            "pair-prism-vertical",
            Verified,
            one("readings", json!({"right": {"base_up_delta": 0.51}})),
        ),
        (
            "prism-reversed",
            Verified,
            vec![
                (
                    "lenses",
                    json!({"powers": {"right": {"base_up_delta": 0.5}}}),
                ),
                ("readings", json!({"right": {"base_up_delta": -0.5}})),
            ],
        ),
        (
            "centration-made",
            Verified,
            with(
                read_progressive(),
                "readings",
                json!({"right": {"cd_mm": 32.6}}),
            ),
        ),
        (
            "height-made",
            Verified,
            with(
                read_progressive(),
                "readings",
                json!({"right": {"height_mm": 20.1}}),
            ),
        ),
        (
            "height-difference",
            Verified,
            with(
                read_progressive(),
                "readings",
                json!({"right": {"height_mm": 20}, "left": {"height_mm": 18.5}}),
            ),
        ),
        (
            "segment-tilt",
            Verified,
            one("readings", json!({"segment_tilt_deg": 2.5})),
        ),
        (
            "eyes-exchanged",
            Verified,
            one(
                "readings",
                json!({"right": {"sphere_d": -0.75, "cylinder_d": -0.25, "axis_deg": 90}, "left": {"sphere_d": -0.5, "cylinder_d": null, "axis_deg": null}}),
            ),
        ),
        (
            "centre-thickness",
            Verified,
            one("readings", json!({"right": {"centre_mm": 2.6}})),
        ),
        (
            "base-curve",
            Verified,
            one("readings", json!({"right": {"base_d": 4.8}})),
        ),
        (
            "surface-marked",
            Verified,
            one("readings", json!({"surface": "marked"})),
        ),
        (
            "markings-wrong",
            Verified,
            one("readings", json!({"markings": "wrong"})),
        ),
        (
            "unconfirmed",
            Verified,
            one("readings", json!({"coatings_confirmed": false})),
        ),
        (
            "mounting-unsound",
            Verified,
            one("readings", json!({"mounting_sound": null})),
        ),
        (
            "frame-untrued",
            Verified,
            one("readings", json!({"frame_trued": false})),
        ),
    ]
}
