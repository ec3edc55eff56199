//! The rows of the handover's gate.

use rimbook::testing::job::Gate::Collected;
use serde_json::json;

use super::{Row, strong, with};

/// One row for each check of the handover.
#[allow(clippy::too_many_lines, reason = "a table: one row for each check")]
pub fn rows() -> Vec<Row> {
    let one = |section, change| vec![(section, change)];
    vec![
        (
            "identity-unchecked",
            Collected,
            one("handover", json!({"identity_checked": null})),
        ),
        (
            "handover-by",
            Collected,
            one("handover", json!({"given_by": null})),
        ),
        (
            "restricted-handover",
            Collected,
            vec![
                ("wearer", json!({"sight_impaired": "severe"})),
                ("handover", json!({"given_by": "Nadia Brookwell"})),
            ],
        ),
        (
            "fit-unrecorded",
            Collected,
            one("handover", json!({"left": {"length_to_bend_mm": null}})),
        ),
        (
            "not-fitted",
            Collected,
            one("handover", json!({"method": "posted"})),
        ),
        (
            "fit-vertex",
            Collected,
            with(strong(), "handover", json!({"right": {"vertex_mm": 14}})),
        ),
        (
            "fit-height",
            Collected,
            one("handover", json!({"right": {"height_mm": 20.5}})),
        ),
        (
            "fit-tilt",
            Collected,
            one("handover", json!({"pantoscopic_deg": 13})),
        ),
        (
            "fit-bearing",
            Collected,
            one("handover", json!({"pads_level": false})),
        ),
        (
            "frame-not-the-one",
            Collected,
            one("handover", json!({"frame_checked": false})),
        ),
        (
            "heights-before-adjusting",
            Collected,
            one("handover", json!({"adjusted_after_heights": ["right"]})),
        ),
        (
            "does-not-stay",
            Collected,
            one("handover", json!({"stays": false})),
        ),
        (
            "sees-double",
            Collected,
            one("handover", json!({"sees_single": false})),
        ),
        (
            "number-plate",
            Collected,
            one("handover", json!({"reads_number_plate": false})),
        ),
        (
            "acuity-worse",
            Collected,
            vec![
                ("prescription", json!({"right": {"acuity": "6/6"}})),
                ("handover", json!({"distance_acuity": "6/9"})),
            ],
        ),
        (
            "acuity-missing",
            Collected,
            with(strong(), "handover", json!({"distance_acuity": null})),
        ),
        (
            "not-comfortable",
            Collected,
            one("handover", json!({"comfortable": false})),
        ),
        (
            "advice-missing",
            Collected,
            one("handover", json!({"advice": ["care"]})),
        ),
        (
            "rx-expired",
            Collected,
            one("prescription", json!({"expires_on": "2026-10-11"})),
        ),
    ]
}
