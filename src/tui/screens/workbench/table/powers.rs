//! Powers by themselves: transposing, adding, subtracting, meridians; and a pair against its order.

use super::parts::{choice, number, plain, power, rx, signed, values_of};
use crate::tui::screens::workbench::calculation::{Calculation, Input, Output, Shown};

const GROUP: &str = "powers";
const MATRICES: &str = "Keating, Am. J. Optom. Physiol. Opt. 57 (1980) 734; Harris";

/// Returns the rows of the table.
pub(super) fn table() -> Vec<Calculation> {
    vec![
        Calculation {
            name: "transpose",
            title: "transpose a power",
            group: GROUP,
            formula: "New sphere = sphere + cylinder; the cylinder changes its sign; the axis turns by 90°.",
            source: MATRICES,
            inputs: [
                vec![values_of()],
                rx("rx", "", "-1.00", "-0.50", "90"),
                vec![choice("form", "cylinder form", &["plus", "minus"])],
            ]
            .concat(),
            outputs: vec![power("rx", "transposed")],
        },
        Calculation {
            name: "combine",
            title: "add thin powers",
            group: GROUP,
            formula: "Thin lenses in contact, cylinders at any axes: their power matrices add up.",
            source: MATRICES,
            inputs: [
                rx("powers.0", "first", "0.00", "-2.00", "180"),
                rx("powers.1", "second", "-2.00", "+2.00", "135"),
                rx("powers.2", "third", "+0.50", "", "")
                    .into_iter()
                    .map(Input::optional)
                    .collect(),
            ]
            .concat(),
            outputs: vec![power("rx", "together")],
        },
        Calculation {
            name: "difference",
            title: "difference of powers",
            group: GROUP,
            formula: "What has to be added to the first to have the second: the difference of their matrices. \
                      Its size is the length of its power vector.",
            source: MATRICES,
            inputs: [
                vec![values_of()],
                rx("from", "first", "-2.00", "-1.00", "90"),
                rx("to", "second", "-2.00", "-1.00", "180"),
            ]
            .concat(),
            outputs: vec![
                power("rx", "second less first"),
                plain("blur_d", "size of it", "D", 2),
            ],
        },
        Calculation {
            name: "meridian_power",
            title: "power along a meridian",
            group: GROUP,
            formula: "Sphere + cylinder × sin² of the angle between the meridian and the axis.",
            source: "Bennett and Rabbetts, Clinical Visual Optics",
            inputs: [
                vec![values_of()],
                rx("rx", "", "+0.50", "-2.00", "30"),
                vec![number("meridian_deg", "meridian", "90").usual()],
            ]
            .concat(),
            outputs: vec![signed("power_d", "power along it", "D", 2)],
        },
        Calculation {
            name: "power_vector",
            title: "power as a vector",
            group: GROUP,
            formula: "M = sphere + half the cylinder; J0 and J45 = minus half the cylinder × cos and sin of twice \
                      the axis; blur = the root of the sum of their squares.",
            source: "Thibos, Wheeler, Horner, Optom. Vis. Sci. 74 (1997) 367",
            inputs: [vec![values_of()], rx("rx", "", "+1.00", "-2.00", "30")].concat(),
            outputs: vec![
                signed("m_d", "mean sphere M", "D", 3),
                signed("j0_d", "J0", "D", 3),
                signed("j45_d", "J45", "D", 3),
                plain("blur_d", "blur", "D", 3),
            ],
        },
        tolerance(),
    ]
}

fn tolerance() -> Calculation {
    let eye = |side: &str, eye: &str, sphere: &str, whose: &str| {
        let key = format!("{side}.{eye}");
        let part = |k: &str, name: &str, example: &str| {
            number(&format!("{key}.{k}"), &format!("{whose} {name}"), example).optional()
        };
        [
            rx(&key, whose, sphere, "-0.75", "90"),
            vec![
                part("addition_d", "addition", ""),
                part("base_in_delta", "base in", "0"),
                part("base_up_delta", "base up", "0"),
                part("cd_mm", "CD", ""),
                part("height_mm", "height", ""),
            ],
        ]
        .concat()
    };
    Calculation {
        name: "tolerance",
        title: "a pair against its order",
        group: GROUP,
        formula: "Each reading less what was ordered, against the limit of its row: meridians by direction, axis by \
                  its turn, prism of the pair. The ordered values choose the row.",
        source: "ISO 21987:2017, ANSI Z80.1-2015; see docs/tolerances.md",
        inputs: [
            vec![
                choice(
                    "standard",
                    "standard",
                    &["ISO 21987:2017", "ANSI Z80.1-2015"],
                ),
                choice(
                    "lens_kind",
                    "kind of lens",
                    &["single vision", "multifocal", "power variation"],
                ),
            ],
            eye("ordered", "right", "-2.25", "ordered R"),
            eye("measured", "right", "-2.31", "read R"),
            eye("ordered", "left", "-2.50", "ordered L"),
            eye("measured", "left", "-2.50", "read L"),
        ]
        .concat(),
        outputs: vec![Output {
            path: "lines",
            label: "of each limit used",
            unit: "",
            shown: Shown::Lines,
        }],
    }
}
