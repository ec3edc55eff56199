//! Where a lens sits before the eye: vertex distance, tilt and face form, the traced lens.

use super::parts::{eye, inward, number, plain, power, rx, signed, upward, values_of};
use crate::tui::screens::workbench::calculation::{Calculation, Input};

const GROUP: &str = "as worn";
const THIN: &str = "Coddington; for toric lenses Blendowske, Optom. Vis. Sci. 79 (2002) 68";
const TRACED: &str = "Landgrave and Moya-Cessa, J. Opt. Soc. Am. A 13 (1996) 1637; Keating (1993)";

/// Returns the rows of the table.
pub(super) fn table() -> Vec<Calculation> {
    vec![
        vertex(),
        Calculation {
            name: "oblique",
            title: "thin lens tilted",
            group: GROUP,
            formula: "A thin lens looked through at its pole: the power along the plane of incidence grows by \
                      k/cos²i, across it by k, with k from the refraction at the tilt.",
            source: THIN,
            inputs: tilted("+15.00", "", "", thin_tilt),
            outputs: vec![power("rx", "as worn")],
        },
        Calculation {
            name: "oblique_compensate",
            title: "compensate for tilt, thin",
            group: GROUP,
            formula: "The exact inverse of the thin lens tilted: the power to order for the power wanted as worn.",
            source: THIN,
            inputs: tilted("+15.00", "", "", thin_tilt),
            outputs: vec![power("rx", "to order")],
        },
        Calculation {
            name: "as_worn",
            title: "traced lens as worn",
            group: GROUP,
            formula: "A real lens, thick, tilted and decentred: the line of sight is traced through it by Snell's \
                      law, and the wavefront's curvature carried along.",
            source: TRACED,
            inputs: tilted("-10.00", "-1.25", "128", thick),
            outputs: vec![
                power("rx", "as worn"),
                inward("base_in_delta", "prism across", "Δ"),
                upward("base_up_delta", "prism up/down", "Δ"),
            ],
        },
        Calculation {
            name: "as_worn_compensate",
            title: "compensate as worn, traced",
            group: GROUP,
            formula: "The back vertex power whose traced lens gives the power wanted as worn, found by Newton's \
                      method.",
            source: TRACED,
            inputs: tilted("-10.00", "-1.25", "128", thick),
            outputs: vec![
                power("rx", "to order"),
                plain("iterations", "steps to it", "", 0),
            ],
        },
    ]
}

fn vertex() -> Calculation {
    Calculation {
        name: "vertex",
        title: "vertex distance",
        group: GROUP,
        formula: "Power / (1 − d × power) for each principal meridian, d = tested less fitted distance in metres; \
                  the axis stays.",
        source: "Bennett and Rabbetts; Jalie, Ophthalmic Lenses and Dispensing",
        inputs: [
            vec![values_of()],
            rx("rx", "", "-10.00", "-2.00", "20"),
            vec![
                number("from_mm", "tested at", "12"),
                number("to_mm", "fitted at", "14"),
                number("step_d", "round to", "0.25").optional().usual(),
            ],
        ]
        .concat(),
        outputs: vec![
            power("exact", "new distance"),
            power("rounded", "rounded"),
            signed("strongest_change_d", "largest change", "D", 2),
            plain("per_mm_d", "for 1 mm more", "D", 3),
        ],
    }
}

fn tilted(sphere: &str, cylinder: &str, axis: &str, more: fn() -> Vec<Input>) -> Vec<Input> {
    [vec![eye()], rx("rx", "", sphere, cylinder, axis), more()].concat()
}

fn tilt() -> [Input; 2] {
    [
        number("pantoscopic_deg", "pantoscopic angle", "10"),
        number("face_form_deg", "face-form angle", "5"),
    ]
}

fn thin_tilt() -> Vec<Input> {
    let [pantoscopic, face_form] = tilt();
    vec![number("index", "index", "1.5"), pantoscopic, face_form]
}

fn thick() -> Vec<Input> {
    let [pantoscopic, face_form] = tilt();
    vec![
        number("index", "index", "1.67"),
        number("front_d", "front surface", "4.00"),
        number("centre_mm", "centre thickness", "1.5"),
        pantoscopic,
        face_form,
        number("oc_in_mm", "centre inwards", "0").optional().usual(),
        number("oc_up_mm", "centre upwards", "0").optional().usual(),
    ]
}
