//! The rows of the gate to ordered.

use rimbook::testing::job::Gate::Ordered;
use serde_json::json;

use super::{Row, progressive, strong, with};

/// One row for each check of the gate to ordered.
#[allow(clippy::too_many_lines, reason = "a table: one row for each check")]
pub fn rows() -> Vec<Row> {
    let one = |section, change| vec![(section, change)];
    vec![
        (
            "carried-foreign",
            Ordered,
            one(
                "origins",
                json!({"fitting.right.height_mm": {"job": "900", "on": "2026-10-01", "frame": "Another 9"}}),
            ),
        ),
        (
            "days-impossible",
            Ordered,
            one("prescription", json!({"tested_on": "2027-10-12"})),
        ),
        (
            "vertex-range",
            Ordered,
            one("prescription", json!({"tested_vertex_mm": 120})),
        ),
        (
            "carried-stale",
            Ordered,
            vec![
                ("wearer", json!({"born": "2014-01-01"})),
                (
                    "origins",
                    json!({"fitting.right.cd_mm": {"job": "900", "on": "2026-04-11", "frame": null}}),
                ),
            ],
        ),
        (
            "carried-answers",
            Ordered,
            one(
                "origins",
                json!({"wearer.allergies": {"job": "900", "on": "2025-10-11", "as": "asked"}}),
            ),
        ),
        (
            "remake-untried",
            Ordered,
            vec![
                ("job", json!({"reason": "recheck"})),
                (
                    "visit",
                    json!({"outcome": "remade", "tried": ["move-tilt"]}),
                ),
            ],
        ),
        (
            "remake-same",
            Ordered,
            one("job", json!({"reason": "remake", "linked_to": "26-0001"})),
        ),
        (
            "rx-missing",
            Ordered,
            one("prescription", json!({"prescriber": null})),
        ),
        (
            "rx-form",
            Ordered,
            one("prescription", json!({"right": {"sphere_d": -0.6}})),
        ),
        (
            "rx-expired",
            Ordered,
            one("prescription", json!({"tested_on": "2024-10-11"})),
        ),
        (
            "rx-change",
            Ordered,
            one(
                "prescription",
                json!({"previous": {"right": {"sphere_d": 0.5}}}),
            ),
        ),
        (
            "rx-sign-suspect",
            Ordered,
            one(
                "prescription",
                json!({"right": {"sphere_d": 0.75}, "previous": {"right": {"sphere_d": -0.75}}}),
            ),
        ),
        (
            "eyes-exchanged-suspect",
            Ordered,
            one(
                "prescription",
                json!({"right": {"sphere_d": -0.5}, "left": {"sphere_d": -3.0}, "previous": {"right": {"sphere_d": -3.0}, "left": {"sphere_d": -0.5}}}),
            ),
        ),
        (
            "addition-missing",
            Ordered,
            one("lenses", json!({"design": "bifocal"})),
        ),
        (
            "addition-unequal",
            Ordered,
            one(
                "prescription",
                json!({"right": {"addition_d": 2.0}, "left": {"addition_d": 2.25}}),
            ),
        ),
        (
            "addition-unlikely",
            Ordered,
            with(
                progressive(),
                "prescription",
                json!({"right": {"addition_d": 4.0}}),
            ),
        ),
        (
            "intermediate-unequal",
            Ordered,
            one(
                "lenses",
                json!({"purpose": "intermediate", "powers": {"right": {"sphere_d": -0.25}}}),
            ),
        ),
        (
            "bvd-missing",
            Ordered,
            with(strong(), "prescription", json!({"tested_vertex_mm": null})),
        ),
        (
            "bvd-unmeasured",
            Ordered,
            with(strong(), "fitting", json!({"right": {"vertex_mm": null}})),
        ),
        (
            "bvd-mismatch",
            Ordered,
            with(
                strong(),
                "fitting",
                json!({"right": {"vertex_mm": 14}, "left": {"vertex_mm": 14}}),
            ),
        ),
        (
            "bvd-unequal",
            Ordered,
            one("fitting", json!({"right": {"vertex_mm": 14}})),
        ),
        (
            "powers-need-registrant",
            Ordered,
            one(
                "lenses",
                json!({"powers": {"as": "vertex compensated", "by": "Nadia Brookwell"}}),
            ),
        ),
        (
            "adapted-unreasoned",
            Ordered,
            one(
                "lenses",
                json!({"powers": {"as": "adapted to the task", "distance_mm": 650, "because": "  "}}),
            ),
        ),
        (
            "compensated-twice",
            Ordered,
            one(
                "lenses",
                json!({"powers": {"as": "vertex compensated"}, "compensates": {"vertex": "laboratory"}}),
            ),
        ),
        (
            "compensation-unmeasured",
            Ordered,
            vec![
                ("lenses", json!({"compensates": {"tilt": "laboratory"}})),
                ("fitting", json!({"pantoscopic_deg": null})),
            ],
        ),
        (
            "powers-differ",
            Ordered,
            one("lenses", json!({"powers": {"left": {"axis_deg": 91}}})),
        ),
        (
            "centration-missing",
            Ordered,
            one("fitting", json!({"left": {"cd_mm": null}})),
        ),
        (
            "centration-method",
            Ordered,
            with(
                strong(),
                "fitting",
                json!({"centration": "without spectacles"}),
            ),
        ),
        (
            "pd-range",
            Ordered,
            one("fitting", json!({"right": {"cd_mm": 40.5}})),
        ),
        (
            "pd-sum",
            Ordered,
            one("fitting", json!({"binocular_pd_mm": 64})),
        ),
        (
            "pd-asymmetry",
            Ordered,
            one("fitting", json!({"right": {"cd_mm": 35.5}})),
        ),
        (
            "pd-repeat",
            Ordered,
            one(
                "fitting",
                json!({"second_reading": {"right": {"cd_mm": 33}}}),
            ),
        ),
        (
            "pd-near",
            Ordered,
            one("fitting", json!({"right": {"near_cd_mm": 32}})),
        ),
        (
            "cd-change",
            Ordered,
            one("prescription", json!({"previous": {"right_cd_mm": 29.0}})),
        ),
        (
            "pd-with-deviation",
            Ordered,
            one(
                "fitting",
                json!({"cover_test": "movement without spectacles"}),
            ),
        ),
        (
            "measure-twice",
            Ordered,
            vec![
                (
                    "prescription",
                    json!({"right": {"sphere_d": -9.0}, "left": {"sphere_d": -12.0}}),
                ),
                (
                    "lenses",
                    json!({"powers": {"right": {"sphere_d": -9.0}, "left": {"sphere_d": -12.0}}}),
                ),
            ],
        ),
        (
            "height-missing",
            Ordered,
            with(
                progressive(),
                "fitting",
                json!({"left": {"height_mm": null}}),
            ),
        ),
        (
            "height-impossible",
            Ordered,
            one("fitting", json!({"right": {"height_mm": 38}})),
        ),
        (
            "height-low",
            Ordered,
            with(
                progressive(),
                "fitting",
                json!({"right": {"height_mm": 15.5}}),
            ),
        ),
        (
            "height-asymmetry",
            Ordered,
            one("fitting", json!({"left": {"height_mm": 21.5}})),
        ),
        (
            "height-repeat",
            Ordered,
            one(
                "fitting",
                json!({"second_reading": {"right": {"height_mm": 21}}}),
            ),
        ),
        (
            "height-minimum",
            Ordered,
            one("lenses", json!({"minimum_height_mm": 19.5})),
        ),
        (
            "height-above",
            Ordered,
            with(
                progressive(),
                "fitting",
                json!({"right": {"height_mm": 28.5}}),
            ),
        ),
        (
            "tilt-range",
            Ordered,
            with(progressive(), "fitting", json!({"pantoscopic_deg": 3})),
        ),
        (
            "tilt-repeat",
            Ordered,
            one(
                "fitting",
                json!({"second_reading": {"pantoscopic_deg": 12}}),
            ),
        ),
        (
            "prism-moves-sight",
            Ordered,
            with(
                progressive(),
                "prescription",
                json!({"right": {"base_up_delta": 4.0}}),
            ),
        ),
        (
            "face-form-range",
            Ordered,
            one("fitting", json!({"face_form_deg": 11})),
        ),
        (
            "as-worn-error",
            Ordered,
            with(strong(), "fitting", json!({"pantoscopic_deg": 20})),
        ),
        (
            "frame-missing",
            Ordered,
            one("frame", json!({"dbl_mm": null})),
        ),
        ("frame-boxed", Ordered, one("frame", json!({"ed_mm": 49}))),
        (
            "frame-narrow",
            Ordered,
            one("fitting", json!({"head_width_mm": 155})),
        ),
        (
            "frame-wide",
            Ordered,
            one("fitting", json!({"head_width_mm": 135})),
        ),
        ("frame-unnamed", Ordered, one("frame", json!({"rim": null}))),
        (
            "frame-unseen",
            Ordered,
            one("frame", json!({"owned_by_wearer": true, "condition": null})),
        ),
        (
            "curve-mismatch",
            Ordered,
            one("frame", json!({"base_d": 7})),
        ),
        ("side-short", Ordered, one("frame", json!({"side_mm": 115}))),
        (
            "bend-asymmetry",
            Ordered,
            one("fitting", json!({"left": {"length_to_bend_mm": 101}})),
        ),
        (
            "allergy-unasked",
            Ordered,
            one("wearer", json!({"allergies": null})),
        ),
        (
            "allergy-nickel",
            Ordered,
            vec![
                ("wearer", json!({"allergies": ["nickel"]})),
                (
                    "frame",
                    json!({"side_material": "titanium", "contains_nickel": null}),
                ),
            ],
        ),
        (
            "allergy-pad",
            Ordered,
            vec![
                ("wearer", json!({"allergies": ["silicone"]})),
                ("frame", json!({"pads": {"material": "silicone"}})),
            ],
        ),
        (
            "allergy-plastic",
            Ordered,
            one("wearer", json!({"allergies": ["acetate"]})),
        ),
        (
            "allergy-unknown",
            Ordered,
            one("wearer", json!({"allergies": ["nickle"]})),
        ),
        (
            "nickel-worn",
            Ordered,
            one(
                "frame",
                json!({"side_material": "nickel alloy", "nickel_release": "worn through"}),
            ),
        ),
        (
            "frame-condition",
            Ordered,
            one(
                "frame",
                json!({"owned_by_wearer": true, "condition": "worn"}),
            ),
        ),
        (
            "birth-unasked",
            Ordered,
            one("wearer", json!({"born": null})),
        ),
        (
            "birth-unlikely",
            Ordered,
            one("wearer", json!({"born": "1900-01-01"})),
        ),
        (
            "sight-unasked",
            Ordered,
            vec![
                ("wearer", json!({"sight_impaired": null})),
                ("fitting", json!({"taken_by": "Nadia Brookwell"})),
            ],
        ),
        (
            "driving-unasked",
            Ordered,
            vec![
                ("wearer", json!({"drives": null})),
                ("lenses", json!({"tint": {"sun": true}})),
            ],
        ),
        (
            "restricted-under-16",
            Ordered,
            vec![
                ("wearer", json!({"born": "2010-10-13"})),
                ("fitting", json!({"taken_by": "Nadia Brookwell"})),
            ],
        ),
        (
            "restricted-sight-impaired",
            Ordered,
            vec![
                ("wearer", json!({"sight_impaired": "partial"})),
                ("fitting", json!({"taken_by": "Nadia Brookwell"})),
            ],
        ),
        (
            "impact-child",
            Ordered,
            one("wearer", json!({"born": "2010-10-13"})),
        ),
        (
            "impact-one-eye",
            Ordered,
            one("wearer", json!({"one_eyed": true})),
        ),
        (
            "impact-work",
            Ordered,
            one(
                "lenses",
                json!({"purpose": "safety", "material": "polycarbonate 1.59"}),
            ),
        ),
        (
            "lenses-missing",
            Ordered,
            one("lenses", json!({"purpose": null})),
        ),
        (
            "aniso-near",
            Ordered,
            with(
                progressive(),
                "lenses",
                json!({"powers": {"right": {"sphere_d": 2.0}}}),
            ),
        ),
        (
            "aniseikonia",
            Ordered,
            one("lenses", json!({"powers": {"right": {"sphere_d": 5.0}}})),
        ),
        (
            "prism-unsplit",
            Ordered,
            one("prescription", json!({"right": {"base_in_delta": -3.0}})),
        ),
        (
            "prism-opposed",
            Ordered,
            one(
                "prescription",
                json!({"right": {"base_up_delta": 1.0}, "left": {"base_up_delta": 1.0}}),
            ),
        ),
        (
            "blank-small",
            Ordered,
            one("lenses", json!({"blank_mm": 55})),
        ),
        (
            "edge-thick",
            Ordered,
            with(strong(), "lenses", json!({"base_d": 2.0})),
        ),
        (
            "material-rim",
            Ordered,
            one("frame", json!({"rim": "rimless"})),
        ),
        (
            "tint-driving",
            Ordered,
            one("lenses", json!({"tint": {"transmittance_percent": 74}})),
        ),
        (
            "tint-contradicts",
            Ordered,
            one(
                "lenses",
                json!({"tint": {"category": 1, "transmittance_percent": 12}}),
            ),
        ),
        (
            "tint-dark",
            Ordered,
            one("lenses", json!({"tint": {"transmittance_percent": 3}})),
        ),
        (
            "measured-by",
            Ordered,
            one("fitting", json!({"taken_by": "Somebody Else"})),
        ),
        (
            "due-late",
            Ordered,
            one("order", json!({"due_on": "2026-10-22"})),
        ),
        (
            "order-incomplete",
            Ordered,
            one("order", json!({"due_on": null})),
        ),
    ]
}
