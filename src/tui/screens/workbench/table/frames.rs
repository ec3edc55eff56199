//! Frame and face: centration, blank, near centration, drop for tilt, clear ranges.

use super::parts::{choice, inward, number, plain, rotation, upward, values_of};
use crate::tui::screens::workbench::calculation::{Calculation, Input, Output};

const GROUP: &str = "frame and face";

/// A side of the boxed frame.
pub(super) fn boxed(key: &str, label: &str, example: &str) -> Input {
    number(&format!("frame.{key}"), label, example)
}

/// Returns the rows of the table.
#[allow(
    clippy::too_many_lines,
    reason = "a table: one entry for each calculation"
)]
pub(super) fn table() -> Vec<Calculation> {
    [places(), ranges()].concat()
}

/// Where optical centres belong.
fn places() -> Vec<Calculation> {
    vec![
        Calculation {
            name: "centration",
            title: "decentration in a frame",
            group: GROUP,
            formula: "Inwards = half of (boxed length + DBL) less the centration distance; upwards = height less \
                      half the boxed height.",
            source: "boxed system, ISO 8624",
            inputs: vec![
                boxed("a_mm", "boxed length A", "54"),
                boxed("b_mm", "boxed height B", "38"),
                boxed("dbl_mm", "DBL", "16"),
                number("right.cd_mm", "right CD", "31"),
                number("right.height_mm", "right height", "22").optional(),
                number("left.cd_mm", "left CD", "32.5"),
                number("left.height_mm", "left height", "21").optional(),
            ],
            outputs: vec![
                inward("right.in_mm", "right centre", "mm"),
                upward("right.up_mm", "right centre", "mm"),
                inward("left.in_mm", "left centre", "mm"),
                upward("left.up_mm", "left centre", "mm"),
                plain("frame_centre_distance_mm", "boxed centres apart", "mm", 1),
            ],
        },
        Calculation {
            name: "blank",
            title: "smallest blank",
            group: GROUP,
            formula: "Longest diameter + twice the shift of the optical centre from the boxed centre + allowance; \
                      exactly, the smallest circle about that centre that holds the shape + allowance.",
            source: "Jalie; Brooks and Borish, System for Ophthalmic Dispensing",
            inputs: vec![
                values_of(),
                boxed("a_mm", "boxed length A", "52"),
                boxed("b_mm", "boxed height B", "38"),
                boxed("ed_mm", "longest diameter ED", "55"),
                number("in_mm", "centre inwards", "3"),
                number("up_mm", "centre upwards", "-4"),
                number("allowance_mm", "allowance", "2").optional().usual(),
            ],
            outputs: vec![
                plain("minimum_mm", "by the bench rule", "mm", 1),
                plain("exact_mm", "exactly", "mm", 1),
            ],
        },
        Calculation {
            name: "near_centration",
            title: "near centration",
            group: GROUP,
            formula: "Inset = CD / (1 + w/s − w × power): w from the object to the spectacle plane, s from the lens \
                      to the centre of rotation, in metres. A lens centred for near counts without power.",
            source: "Ellerbrock (1948), as given in Brooks and Borish",
            inputs: vec![
                values_of(),
                number("cd_mm", "CD of one eye", "32"),
                number("working_mm", "working distance", "387").usual(),
                number("vertex_mm", "vertex distance", "13.5"),
                rotation(),
                number("power_d", "power across", "0").optional(),
                choice("centred", "lens centred for", &["distance", "near"]).optional(),
            ],
            outputs: vec![
                plain("near_cd_mm", "near CD", "mm", 1),
                plain("inset_mm", "inset", "mm", 2),
            ],
        },
        Calculation {
            name: "drop_for_tilt",
            title: "drop for tilt",
            group: GROUP,
            formula: "(Vertex distance + cornea to centre of rotation) × tan of the pantoscopic angle: how far below \
                      the pupil the optical centre belongs.",
            source: "Jalie, Ophthalmic Lenses and Dispensing",
            inputs: vec![
                values_of(),
                number("pantoscopic_deg", "pantoscopic angle", "10"),
                number("vertex_mm", "vertex distance", "12"),
                rotation(),
            ],
            outputs: vec![plain("drop_mm", "drop", "mm", 1)],
        },
    ]
}

/// From how near to how far is seen clearly.
fn ranges() -> Vec<Calculation> {
    vec![
        Calculation {
            name: "clear_range",
            title: "clear range at near",
            group: GROUP,
            formula: "Farthest 1000 / addition, nearest 1000 / (addition + accommodation), thin lens, no depth of \
                      focus; accommodation by age 18.5 − 0.3 × age, not below 0.5 D.",
            source: "Bennett and Rabbetts; Hofstetter (1950)",
            inputs: [
                vec![number("addition_d", "addition", "2.25")],
                accommodation(),
            ]
            .concat(),
            outputs: range(),
        },
        Calculation {
            name: "office_range",
            title: "clear range of an office lens",
            group: GROUP,
            formula: "Nearest 1000 / (addition + accommodation) through the near point, farthest 1000 / (addition − \
                      drop) through the top.",
            source: "Bennett and Rabbetts; Hofstetter (1950)",
            inputs: [
                vec![
                    number("addition_d", "addition", "2.00"),
                    number("power_drop_d", "drop to the top", "1.25"),
                ],
                accommodation(),
            ]
            .concat(),
            outputs: range(),
        },
    ]
}

/// The amplitude of accommodation, or the age it is taken from.
fn accommodation() -> Vec<Input> {
    vec![
        number("age_years", "age", "58").instead_of("amplitude_d"),
        number("amplitude_d", "or accommodation", "").instead_of("age_years"),
    ]
}

fn range() -> Vec<Output> {
    vec![
        plain("far_mm", "farthest", "mm", 0),
        plain("near_mm", "nearest", "mm", 0),
    ]
}
