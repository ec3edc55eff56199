//! The lens itself: thick powers, thickness, magnification, aniseikonia.

use super::frames::boxed;
use super::parts::{eye, number, plain, rx, signed, values_of};
use crate::tui::screens::workbench::calculation::{Calculation, Input};

const GROUP: &str = "the lens";

/// Returns the rows of the table.
pub(super) fn table() -> Vec<Calculation> {
    vec![
        thickness(),
        Calculation {
            name: "back_vertex",
            title: "power of a thick lens",
            group: GROUP,
            formula: "Back vertex power = front / (1 − (t/n) × front) + back; front vertex power likewise from the \
                      other side; equivalent power = front + back − (t/n) × front × back.",
            source: "Jalie, The Principles of Ophthalmic Lenses",
            inputs: vec![
                values_of(),
                number("front_d", "front surface", "10.00"),
                number("back_d", "back surface", "-4.00"),
                number("centre_mm", "centre thickness", "6"),
                number("index", "index", "1.5"),
            ],
            outputs: vec![
                signed("back_vertex_d", "back vertex power", "D", 2),
                signed("front_vertex_d", "front vertex power", "D", 2),
                signed("equivalent_d", "equivalent power", "D", 2),
            ],
        },
        Calculation {
            name: "magnification",
            title: "spectacle magnification",
            group: GROUP,
            formula: "Shape factor 1 / (1 − (t/n) × front) times power factor 1 / (1 − h × power) in each principal \
                      meridian, h = vertex distance + cornea to entrance pupil in metres.",
            source: "Bennett and Rabbetts, Clinical Visual Optics",
            inputs: [
                vec![values_of()],
                rx("rx", "", "-4.00", "-1.00", "90"),
                vec![
                    number("index", "index", "1.5"),
                    number("front_d", "front surface", "5.00"),
                    number("centre_mm", "centre thickness", "1.5"),
                    number("vertex_mm", "vertex distance", "12"),
                    number("pupil_mm", "cornea to pupil", "3")
                        .optional()
                        .usual(),
                ],
            ]
            .concat(),
            outputs: vec![
                signed("along_axis.percent", "along the axis", "%", 1),
                signed("across_axis.percent", "across the axis", "%", 1),
                plain("shape", "shape factor", "", 4),
                plain("along_axis.power", "power factor along", "", 4),
                plain("across_axis.power", "power factor across", "", 4),
                plain("along_axis.total", "both, along", "", 4),
                plain("across_axis.total", "both, across", "", 4),
            ],
        },
        Calculation {
            name: "aniseikonia",
            title: "unequal image sizes",
            group: GROUP,
            formula: "Right magnification less left as matrices, (I − h × power)⁻¹ / (1 − (t/n) × front) of each lens; \
                      the worst is the principal value of larger size.",
            source: "Bennett and Rabbetts; matrices after Keating and Harris",
            inputs: [
                one_lens("right", "-1.00", "5.00", "1.8"),
                one_lens("left", "-4.00", "4.00", "1.4"),
            ]
            .concat(),
            outputs: vec![
                signed("worst_percent", "worst", "%", 1),
                plain("worst_meridian_deg", "along", "°", 0),
                signed("along_180_percent", "across", "%", 1),
                signed("along_90_percent", "up and down", "%", 1),
            ],
        },
    ]
}

fn thickness() -> Calculation {
    Calculation {
        name: "thickness",
        title: "thickness and weight",
        group: GROUP,
        formula: "At each point centre − sag of the front + sag of the back, sag = r − √(r² − y²); the edge is a \
                  superellipse of box and longest diameter.",
        source: "Jalie, Ophthalmic Lenses and Dispensing",
        inputs: [
            vec![eye()],
            rx("rx", "", "-5.00", "-1.00", "90"),
            vec![
                number("index", "index", "1.6"),
                number("base_d", "front curve as marked", "4.00"),
                number("base_index", "marked at index", "1.53")
                    .optional()
                    .usual(),
                boxed("a_mm", "boxed length A", "52"),
                boxed("b_mm", "boxed height B", "38"),
                boxed("ed_mm", "longest diameter ED", "55"),
                number("in_mm", "centre inwards", "3"),
                number("up_mm", "centre upwards", "2"),
                number("centre_mm", "centre thickness", "1.5").instead_of("thinnest_mm"),
                Input::instead_of(number("thinnest_mm", "or thinnest point", ""), "centre_mm"),
                number("density", "density", "1.3").optional(),
            ],
        ]
        .concat(),
        outputs: vec![
            plain("edge_nasal_mm", "nasal edge", "mm", 1),
            plain("edge_temporal_mm", "temporal edge", "mm", 1),
            plain("edge_max_mm", "thickest edge", "mm", 1),
            plain("edge_min_mm", "thinnest edge", "mm", 1),
            plain("centre_mm", "centre", "mm", 1),
            plain("edge_top_mm", "top edge", "mm", 1),
            plain("edge_bottom_mm", "bottom edge", "mm", 1),
            plain("weight_g", "weight", "g", 1),
        ],
    }
}

/// One lens of a pair as worn.
fn one_lens(whose: &str, sphere: &str, front: &str, centre: &str) -> Vec<Input> {
    let of = |key: &str, name: &str, example: &str| {
        number(
            &format!("{whose}.{key}"),
            &format!("{whose} {name}"),
            example,
        )
    };
    [
        rx(&format!("{whose}.rx"), whose, sphere, "", ""),
        vec![
            of("index", "index", "1.5"),
            of("front_d", "front surface", front),
            of("centre_mm", "centre thickness", centre),
            of("vertex_mm", "vertex distance", "12"),
            of("pupil_mm", "cornea to pupil", "3").optional().usual(),
        ],
    ]
    .concat()
}
