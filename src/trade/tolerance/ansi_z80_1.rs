//! ANSI Z80.1-2015, prescription spectacle lenses: recommendations.
//!
//! Read in the public quick reference guide (docslib.org/download/92180) and, for places, in the
//! 1999 laboratory summary (hollywoodoptical.com/surfacedLensStandards.htm), which is believed
//! unchanged. A later edition (2020) exists and was not seen.

use super::lens_kind::LensKind;
use super::limit::{Amount, Bands, Cite, Confidence, DUST, Limit};

const GUIDE: &str = "quick reference guide to ANSI Z80.1-2015, docslib.org/download/92180";
const SUMMARY: &str = "1999 laboratory summary, hollywoodoptical.com/surfacedLensStandards.htm";

const fn seen(clause: &'static str, source: &'static str) -> Cite {
    Cite {
        clause,
        confidence: Confidence::Seen,
        source,
    }
}

const POWER: Cite = seen("ANSI Z80.1-2015, refractive power (guide, item 1)", GUIDE);
const POWER_PROGRESSIVE: Cite = seen("ANSI Z80.1-2015, refractive power (guide, item 2)", GUIDE);
const AXIS_CITE: Cite = seen("ANSI Z80.1-2015, cylinder axis (guide, item 3)", GUIDE);
const ADD: Cite = seen("ANSI Z80.1-2015, addition (guide, item 4)", GUIDE);
const IMBALANCE: Cite = seen("ANSI Z80.1-2015, prism imbalance (guide, item 6)", GUIDE);
const IMBALANCE_PROGRESSIVE: Cite = Cite {
    clause: "ANSI Z80.1-2015, prism imbalance of progressives (guide, item 6)",
    confidence: Confidence::FromMemory,
    source: "the 1999 summary prints 3.75; 0.67 over 2 mm gives 3.35 and supports 3.375",
};
const HEIGHTS: Cite = seen("ANSI Z80.1-2015, segment and fitting-cross height", SUMMARY);
const TILT: Cite = seen("ANSI Z80.1-2015, segment tilt", SUMMARY);
const THICKNESS: Cite = seen("ANSI Z80.1-2015, centre thickness", SUMMARY);
const BASE_CURVE: Cite = seen("ANSI Z80.1-2015, base curve", SUMMARY);

/// The meridian of highest absolute power, by that power: single vision and multifocal.
pub(crate) const SINGLE_VISION_POWER: Bands<Amount> = Bands {
    up_to: &[(6.5, Amount::fixed(0.13))],
    above: Amount::per_d(0.02),
};
/// The same for progressives.
pub(crate) const PROGRESSIVE_POWER: Bands<Amount> = Bands {
    up_to: &[(8.0, Amount::fixed(0.16))],
    above: Amount::per_d(0.02),
};
/// The cylinder, by its ordered size: single vision and multifocal.
pub(crate) const SINGLE_VISION_CYLINDER: Bands<Amount> = Bands {
    up_to: &[(2.0, Amount::fixed(0.13)), (4.5, Amount::fixed(0.15))],
    above: Amount::per_d(0.04),
};
/// The same for progressives.
pub(crate) const PROGRESSIVE_CYLINDER: Bands<Amount> = Bands {
    up_to: &[(2.0, Amount::fixed(0.16)), (3.5, Amount::fixed(0.18))],
    above: Amount::per_d(0.05),
};
/// Cylinders smaller than this (dioptres) have no axis to test.
pub(crate) const NO_AXIS_BELOW_D: f64 = 0.12;
/// The axis, degrees, by the ordered cylinder.
pub(crate) const AXIS: Bands<f64> = Bands {
    up_to: &[(0.25, 14.0), (0.5, 7.0), (0.75, 5.0), (1.5, 3.0)],
    above: 2.0,
};
/// The addition, dioptres, by the ordered addition.
pub(crate) const ADDITION: Bands<f64> = Bands {
    up_to: &[(4.0, 0.12)],
    above: 0.18,
};
/// The pair's vertical prism, by the power along the vertical; above, 1 mm of displacement.
pub(crate) const VERTICAL: Bands<Amount> = Bands {
    up_to: &[(3.375, Amount::fixed(0.33))],
    above: Amount::per_d(0.10),
};
/// The pair's horizontal prism, by the power along the horizontal: single vision and multifocal;
/// above, 2.5 mm of displacement.
pub(crate) const HORIZONTAL: Bands<Amount> = Bands {
    up_to: &[(2.75, Amount::fixed(0.67))],
    above: Amount::per_d(0.25),
};
/// The same for progressives, up to [`PROGRESSIVE_BREAK_D`]; above, each centration decides.
pub(crate) const PROGRESSIVE_HORIZONTAL: f64 = 0.67;
/// Up to this power along the horizontal (dioptres) a progressive pair is tested by its prism.
pub(crate) const PROGRESSIVE_BREAK_D: f64 = 3.375;
/// Each centration of a progressive above the break, and each height, mm.
pub(crate) const PLACE_MM: f64 = 1.0;
/// The heights' difference against the ordered difference, mm.
pub(crate) const HEIGHT_DIFFERENCE_MM: f64 = 1.0;
/// Tilt of a segment top or marking line, degrees.
pub(crate) const TILT_DEG: f64 = 2.0;
/// Centre thickness when specified, mm.
pub(crate) const THICKNESS_MM: f64 = 0.3;
/// Base curve when specified, dioptres.
pub(crate) const BASE_CURVE_D: f64 = 0.75;

/// Each citation, for the printed page.
pub(crate) const CITES: [&Cite; 10] = [
    &POWER,
    &POWER_PROGRESSIVE,
    &AXIS_CITE,
    &ADD,
    &IMBALANCE,
    &IMBALANCE_PROGRESSIVE,
    &HEIGHTS,
    &TILT,
    &THICKNESS,
    &BASE_CURVE,
];

fn is_progressive(kind: LensKind) -> bool {
    kind == LensKind::PowerVariation
}

pub(crate) fn power(kind: LensKind, strongest_d: f64) -> Limit {
    if is_progressive(kind) {
        Limit {
            value: PROGRESSIVE_POWER.row(strongest_d).at(strongest_d),
            cite: &POWER_PROGRESSIVE,
        }
    } else {
        Limit {
            value: SINGLE_VISION_POWER.row(strongest_d).at(strongest_d),
            cite: &POWER,
        }
    }
}

pub(crate) fn cylinder(kind: LensKind, cylinder_d: f64) -> Limit {
    if is_progressive(kind) {
        Limit {
            value: PROGRESSIVE_CYLINDER.row(cylinder_d).at(cylinder_d),
            cite: &POWER_PROGRESSIVE,
        }
    } else {
        Limit {
            value: SINGLE_VISION_CYLINDER.row(cylinder_d).at(cylinder_d),
            cite: &POWER,
        }
    }
}

pub(crate) fn axis(cylinder_d: f64) -> Option<Limit> {
    (cylinder_d.abs() >= NO_AXIS_BELOW_D - DUST).then(|| Limit {
        value: *AXIS.row(cylinder_d),
        cite: &AXIS_CITE,
    })
}

pub(crate) fn addition(addition_d: f64) -> Limit {
    Limit {
        value: *ADDITION.row(addition_d),
        cite: &ADD,
    }
}

pub(crate) fn horizontal_prism(kind: LensKind, along_d: f64) -> Option<Limit> {
    if !is_progressive(kind) {
        return Some(Limit {
            value: HORIZONTAL.row(along_d).at(along_d),
            cite: &IMBALANCE,
        });
    }
    (!places_decide(kind, along_d)).then_some(Limit {
        value: PROGRESSIVE_HORIZONTAL,
        cite: &IMBALANCE_PROGRESSIVE,
    })
}

pub(crate) fn vertical_prism(along_d: f64) -> Limit {
    Limit {
        value: VERTICAL.row(along_d).at(along_d),
        cite: &IMBALANCE,
    }
}

/// Whether a progressive is strong enough along the horizontal for its centrations to be tested.
fn places_decide(kind: LensKind, along_d: f64) -> bool {
    is_progressive(kind) && along_d.abs() > PROGRESSIVE_BREAK_D + DUST
}

pub(crate) fn centration(kind: LensKind, along_d: f64) -> Option<Limit> {
    places_decide(kind, along_d).then_some(Limit {
        value: PLACE_MM,
        cite: &IMBALANCE_PROGRESSIVE,
    })
}

fn height_like(kind: LensKind, value: f64) -> Option<Limit> {
    match kind {
        LensKind::SingleVision => None,
        LensKind::Multifocal | LensKind::PowerVariation => Some(Limit {
            value,
            cite: &HEIGHTS,
        }),
    }
}

pub(crate) fn height(kind: LensKind) -> Option<Limit> {
    height_like(kind, PLACE_MM)
}

pub(crate) fn height_difference(kind: LensKind) -> Option<Limit> {
    height_like(kind, HEIGHT_DIFFERENCE_MM)
}

pub(crate) fn segment_tilt() -> Limit {
    Limit {
        value: TILT_DEG,
        cite: &TILT,
    }
}

pub(crate) fn centre_thickness() -> Limit {
    Limit {
        value: THICKNESS_MM,
        cite: &THICKNESS,
    }
}

pub(crate) fn base_curve() -> Limit {
    Limit {
        value: BASE_CURVE_D,
        cite: &BASE_CURVE,
    }
}
