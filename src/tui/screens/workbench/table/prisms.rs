//! Prism: at a place, of a decentration, in parts and whole, at near, at a segment, balanced; and how
//! far prescribed prism moves the lines of sight.

use super::parts::{eye, inward, number, plain, rotation, rx, signed, upward, values_of};
use crate::tui::screens::workbench::calculation::{Calculation, Input, Output};

const GROUP: &str = "prism";

/// Returns the rows of the table.
#[allow(
    clippy::too_many_lines,
    reason = "a table: one entry for each calculation"
)]
pub(super) fn table() -> Vec<Calculation> {
    [met(), prescribed()].concat()
}

/// Prism that powers give, and its parts.
fn met() -> Vec<Calculation> {
    vec![
        Calculation {
            name: "prism_at",
            title: "prism away from the centre",
            group: GROUP,
            formula: "Prism = minus power × distance from the optical centre in centimetres, with the whole matrix \
                      of the power.",
            source: "Prentice (1890); in matrix form Keating and Harris",
            inputs: [
                vec![eye()],
                rx("rx", "", "+3.00", "-1.00", "180"),
                vec![
                    number("in_mm", "seen through, inwards", "2"),
                    number("up_mm", "seen through, upwards", "-4"),
                ],
            ]
            .concat(),
            outputs: parts(),
        },
        Calculation {
            name: "decentre_for",
            title: "decentre for a prism",
            group: GROUP,
            formula: "Where the optical centre must lie from the point looked through: the inverse of the power \
                      times the prism, in centimetres.",
            source: "Prentice (1890), solved for the place",
            inputs: [vec![eye()], rx("rx", "", "-4.00", "", ""), base("1", "0.5")].concat(),
            outputs: vec![
                inward("in_mm", "optical centre", "mm"),
                upward("up_mm", "optical centre", "mm"),
            ],
        },
        Calculation {
            name: "prism_resolve",
            title: "prism into its parts",
            group: GROUP,
            formula: "Base in = amount × cos of the base direction (its sign turned for the left eye), base up = \
                      amount × sin. Direction 0 to 360°, anticlockwise as seen facing the wearer.",
            source: "plane trigonometry; TABO direction",
            inputs: vec![
                eye(),
                number("amount_delta", "amount", "2"),
                number("base_deg", "base direction", "30"),
            ],
            outputs: parts(),
        },
        Calculation {
            name: "prism_compound",
            title: "prism from its parts",
            group: GROUP,
            formula: "Amount = the root of the sum of the squares of the parts; the base direction is their angle.",
            source: "plane trigonometry; TABO direction",
            inputs: [vec![eye()], base("3", "-4")].concat(),
            outputs: vec![
                plain("amount_delta", "amount", "Δ", 2),
                plain("base_deg", "base direction", "°", 1),
            ],
        },
        Calculation {
            name: "reading_prism",
            title: "prism at the reading point",
            group: GROUP,
            formula: "Each eye's prism at a point below and nasal of its optical centre; the vertical difference is \
                      right less left base up.",
            source: "Prentice; Jalie, Ophthalmic Lenses and Dispensing",
            inputs: [
                rx("right", "right", "+5.00", "", ""),
                rx("left", "left", "+2.00", "", ""),
                vec![
                    number("drop_mm", "below the centre", "8").usual(),
                    number("inset_mm", "inwards", "2").optional().usual(),
                ],
            ]
            .concat(),
            outputs: vec![
                signed("vertical_difference_delta", "vertical difference", "Δ", 2),
                inward("horizontal_total_delta", "horizontal together", "Δ"),
                upward("right.base_up_delta", "right eye", "Δ"),
                inward("right.base_in_delta", "right eye", "Δ"),
                upward("left.base_up_delta", "left eye", "Δ"),
                inward("left.base_in_delta", "left eye", "Δ"),
            ],
        },
        Calculation {
            name: "segment_jump",
            title: "jump at a segment",
            group: GROUP,
            formula: "Addition × the distance from the segment's top to its optical centre in centimetres, base \
                      down.",
            source: "Jalie, Ophthalmic Lenses and Dispensing",
            inputs: vec![
                values_of(),
                number("addition_d", "addition", "2.50"),
                number("top_to_centre_mm", "top to its centre", "5"),
            ],
            outputs: vec![plain("jump_delta", "jump, base down", "Δ", 2)],
        },
    ]
}

/// What is done about prism, and what prescribed prism does.
fn prescribed() -> Vec<Calculation> {
    vec![
        Calculation {
            name: "prism_control",
            title: "prism control of a pair",
            group: GROUP,
            formula: "The vertical difference at the reading level less what is tolerated: base up on the lens with more \
                      minus or less plus; or segments 20 × amount / addition apart in diameter, the larger on the \
                      other eye.",
            source: "Jalie, Ophthalmic Lenses and Dispensing",
            inputs: [
                rx("right", "right", "-4.00", "", ""),
                rx("left", "left", "-1.75", "", ""),
                vec![
                    number("drop_mm", "below the centre", "8").usual(),
                    number("tolerated_delta", "tolerated", "1").usual(),
                    number("addition_d", "addition", "2.50"),
                ],
            ]
            .concat(),
            outputs: vec![
                plain("amount_delta", "base up to be worked", "Δ", 2),
                plain("segment_difference_mm", "or segments apart", "mm", 1),
            ],
        },
        Calculation {
            name: "prism_shift",
            title: "shift of the line of sight",
            group: GROUP,
            formula: "(Vertex distance + cornea to centre of rotation) × prism / 100, away from the base: how far the \
                      point to centre on moves.",
            source: "Jalie, Ophthalmic Lenses and Dispensing",
            inputs: vec![
                values_of(),
                number("amount_delta", "amount", "4"),
                number("vertex_mm", "vertex distance", "12"),
                rotation(),
            ],
            outputs: vec![plain("shift_mm", "away from the base", "mm", 2)],
        },
    ]
}

fn base(inward: &str, upward: &str) -> Vec<Input> {
    vec![
        number("base_in_delta", "base in (out is −)", inward),
        number("base_up_delta", "base up (down is −)", upward),
    ]
}

fn parts() -> Vec<Output> {
    vec![
        inward("base_in_delta", "prism across", "Δ"),
        upward("base_up_delta", "prism up/down", "Δ"),
    ]
}
