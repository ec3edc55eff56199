//! ISO 21987:2017, ophthalmic optics: mounted spectacle lenses.
//!
//! The text of the standard was not at hand. Rows marked seen were read in the public source named;
//! the others are from memory and wait to be confirmed. One small step is printed so and kept so:
//! just above 3.25 D the horizontal prism limit drops from 0.67 to 0.20 x 3.25 = 0.65.

use super::lens_kind::LensKind;
use super::limit::{Amount, Bands, Cite, Confidence, DUST, Limit};

const REVISION_DECK: &str =
    "UK Stage 2 competency 4.1.2 revision deck, brainscape.com pack 22245023";

/// Clause and source of the powers of single-vision and multifocal lenses.
const TABLE_1: Cite = Cite {
    clause: "ISO 21987:2017 Table 1",
    confidence: Confidence::FromMemory,
    source: "agrees in part with the UK Stage 2 competency 4.1.2 revision deck",
};
/// Clause and source of the powers of power-variation lenses.
const TABLE_2: Cite = Cite {
    clause: "ISO 21987:2017 Table 2",
    confidence: Confidence::FromMemory,
    source: "table number seen: R. Rabbetts, Legislation: revised British Standards, Optician",
};
/// Clause and source of the axis.
const TABLE_3: Cite = Cite {
    clause: "ISO 21987:2017 Table 3",
    confidence: Confidence::Seen,
    source: REVISION_DECK,
};
/// Clause and source of the addition.
const TABLE_4: Cite = Cite {
    clause: "ISO 21987:2017 Table 4",
    confidence: Confidence::FromMemory,
    source: "the same figures are seen for ANSI Z80.1-2015",
};
/// Clause and source of the prism of the pair.
const TABLE_5: Cite = Cite {
    clause: "ISO 21987:2017 Table 5",
    confidence: Confidence::FromMemory,
    source: "GB 13511.1-2011 Table 4, said to be taken from ISO/DIS 21987:2007 (techstandards.asia/s/8035)",
};
const PLACES: Cite = Cite {
    clause: "ISO 21987:2017, location of the reference points",
    confidence: Confidence::Seen,
    source: REVISION_DECK,
};
const HEIGHTS: Cite = Cite {
    clause: "ISO 21987:2017, difference of the heights",
    confidence: Confidence::FromMemory,
    source: "no public source seen",
};
const TILT: Cite = Cite {
    clause: "ISO 21987:2017, tilt of the segment or of the marks",
    confidence: Confidence::Seen,
    source: REVISION_DECK,
};
const THICKNESS: Cite = Cite {
    clause: "ISO 21987:2017 by ISO 8980-1, centre thickness",
    confidence: Confidence::Seen,
    source: "ISO 8980-1:2004 extract, ulstandardspdf.com",
};
const BASE_CURVE: Cite = Cite {
    clause: "no limit in ISO 21987:2017; common practice agreed with the supplier",
    confidence: Confidence::FromMemory,
    source: "the figure of ANSI Z80.1",
};

/// One band of powers: the limit on each principal meridian, and on the cylinder by its size.
pub(crate) struct PowerRow {
    /// Each principal meridian, dioptres.
    pub(crate) meridian: f64,
    /// The cylinder, dioptres, for the columns of [`CYLINDER_COLUMNS`].
    pub(crate) cylinder: [f64; 4],
}

/// Where each column for the cylinder ends; the last has no end.
pub(crate) const CYLINDER_COLUMNS: Bands<usize> = Bands {
    up_to: &[(0.75, 0), (4.0, 1), (6.0, 2)],
    above: 3,
};

const fn row(meridian: f64, cylinder: [f64; 4]) -> PowerRow {
    PowerRow { meridian, cylinder }
}

/// Table 1: single vision and multifocal, by the ordered principal power of larger size.
///
/// The last cell of the first row cannot occur: two powers within 3 D differ by 6 D at most.
pub(crate) const SINGLE_VISION_POWER: Bands<PowerRow> = Bands {
    up_to: &[
        (3.0, row(0.12, [0.09, 0.12, 0.18, 0.25])),
        (6.0, row(0.12, [0.12, 0.12, 0.18, 0.25])),
        (9.0, row(0.12, [0.12, 0.18, 0.18, 0.25])),
        (12.0, row(0.18, [0.12, 0.18, 0.25, 0.25])),
        (20.0, row(0.25, [0.18, 0.25, 0.25, 0.25])),
    ],
    above: row(0.37, [0.25, 0.25, 0.37, 0.37]),
};

/// Table 2: power variation, at the primary reference point.
pub(crate) const POWER_VARIATION_POWER: Bands<PowerRow> = Bands {
    up_to: &[
        (6.0, row(0.12, [0.12, 0.18, 0.18, 0.25])),
        (9.0, row(0.18, [0.18, 0.18, 0.18, 0.25])),
        (12.0, row(0.18, [0.18, 0.18, 0.25, 0.25])),
        (20.0, row(0.25, [0.18, 0.25, 0.25, 0.25])),
    ],
    above: row(0.37, [0.25, 0.25, 0.37, 0.37]),
};

/// Cylinders smaller than this (dioptres) have no axis to test; an ordered 0.12 is an eighth.
pub(crate) const NO_AXIS_BELOW_D: f64 = 0.12;

/// Table 3: the axis of a mounted lens, degrees, by the ordered cylinder.
pub(crate) const AXIS: Bands<f64> = Bands {
    up_to: &[
        (0.25, 16.0),
        (0.5, 9.0),
        (0.75, 6.0),
        (1.5, 4.0),
        (2.5, 3.0),
    ],
    above: 2.0,
};

/// Table 4: the addition or variation power.
pub(crate) const ADDITION: Bands<f64> = Bands {
    up_to: &[(4.0, 0.12)],
    above: 0.18,
};

/// One band of prescribed prism: the limit below and above the power at which a place takes over.
pub(crate) struct PrismRow {
    pub(crate) weak: Amount,
    pub(crate) strong: Amount,
}

/// Up to this power (dioptres, along the horizontal) the horizontal limit is a fixed prism.
pub(crate) const HORIZONTAL_BREAK_D: f64 = 3.25;
/// Up to this power (dioptres, along the vertical) the vertical limit is a fixed prism.
pub(crate) const VERTICAL_BREAK_D: f64 = 5.0;

/// Table 5, horizontal, by the prescribed prism. Above the break 0.20 F is 2 mm of displacement.
pub(crate) const HORIZONTAL: Bands<PrismRow> = Bands {
    up_to: &[
        (
            2.0,
            PrismRow {
                weak: Amount::fixed(0.67),
                strong: Amount::per_d(0.20),
            },
        ),
        (
            10.0,
            PrismRow {
                weak: Amount::fixed(1.00),
                strong: Amount::fixed_and_per_d(0.33, 0.20),
            },
        ),
    ],
    above: PrismRow {
        weak: Amount::fixed(1.25),
        strong: Amount::fixed_and_per_d(0.58, 0.20),
    },
};

/// Table 5, vertical, by the prescribed prism. Above the break 0.10 F is 1 mm of displacement.
pub(crate) const VERTICAL: Bands<PrismRow> = Bands {
    up_to: &[
        (
            2.0,
            PrismRow {
                weak: Amount::fixed(0.50),
                strong: Amount::per_d(0.10),
            },
        ),
        (
            10.0,
            PrismRow {
                weak: Amount::fixed(0.75),
                strong: Amount::fixed_and_per_d(0.25, 0.10),
            },
        ),
    ],
    above: PrismRow {
        weak: Amount::fixed(1.00),
        strong: Amount::fixed_and_per_d(0.50, 0.10),
    },
};

/// Fitting cross and monocular centration, and each height, mm.
pub(crate) const PLACE_MM: f64 = 1.0;
/// The heights' difference against the ordered difference, mm.
pub(crate) const HEIGHT_DIFFERENCE_MM: f64 = 1.0;
/// Tilt of a segment top or marking line, degrees.
pub(crate) const TILT_DEG: f64 = 2.0;
/// Centre thickness when specified, mm.
pub(crate) const THICKNESS_MM: f64 = 0.3;
/// Base curve as usually agreed, dioptres.
pub(crate) const BASE_CURVE_D: f64 = 0.75;

/// Each table's citation, for the printed page.
pub(crate) const CITES: [&Cite; 10] = [
    &TABLE_1,
    &TABLE_2,
    &TABLE_3,
    &TABLE_4,
    &TABLE_5,
    &PLACES,
    &HEIGHTS,
    &TILT,
    &THICKNESS,
    &BASE_CURVE,
];

fn power_row(kind: LensKind, strongest_d: f64) -> (&'static PowerRow, &'static Cite) {
    const SINGLE: &Bands<PowerRow> = &SINGLE_VISION_POWER;
    const VARIATION: &Bands<PowerRow> = &POWER_VARIATION_POWER;
    match kind {
        LensKind::SingleVision | LensKind::Multifocal => (SINGLE.row(strongest_d), &TABLE_1),
        LensKind::PowerVariation => (VARIATION.row(strongest_d), &TABLE_2),
    }
}

pub(crate) fn power(kind: LensKind, strongest_d: f64) -> Limit {
    let (row, cite) = power_row(kind, strongest_d);
    Limit {
        value: row.meridian,
        cite,
    }
}

pub(crate) fn cylinder(kind: LensKind, strongest_d: f64, cylinder_d: f64) -> Limit {
    let (row, cite) = power_row(kind, strongest_d);
    let [first, second, third, fourth] = row.cylinder;
    let value = match CYLINDER_COLUMNS.row(cylinder_d) {
        0 => first,
        1 => second,
        2 => third,
        _ => fourth,
    };
    Limit { value, cite }
}

pub(crate) fn axis(cylinder_d: f64) -> Option<Limit> {
    (cylinder_d.abs() >= NO_AXIS_BELOW_D - DUST).then(|| Limit {
        value: *AXIS.row(cylinder_d),
        cite: &TABLE_3,
    })
}

pub(crate) fn addition(addition_d: f64) -> Limit {
    Limit {
        value: *ADDITION.row(addition_d),
        cite: &TABLE_4,
    }
}

fn prism(table: &Bands<PrismRow>, break_d: f64, prescribed_delta: f64, along_d: f64) -> Limit {
    let row = table.row(prescribed_delta);
    let amount = if along_d.abs() <= break_d + DUST {
        row.weak
    } else {
        row.strong
    };
    Limit {
        value: amount.at(along_d),
        cite: &TABLE_5,
    }
}

pub(crate) fn horizontal_prism(prescribed_delta: f64, along_d: f64) -> Limit {
    prism(&HORIZONTAL, HORIZONTAL_BREAK_D, prescribed_delta, along_d)
}

pub(crate) fn vertical_prism(prescribed_delta: f64, along_d: f64) -> Limit {
    prism(&VERTICAL, VERTICAL_BREAK_D, prescribed_delta, along_d)
}

/// Single-vision lenses have no millimetre rule: the prism of the pair decides.
fn place(kind: LensKind, value: f64, cite: &'static Cite) -> Option<Limit> {
    match kind {
        LensKind::SingleVision => None,
        LensKind::Multifocal | LensKind::PowerVariation => Some(Limit { value, cite }),
    }
}

pub(crate) fn centration(kind: LensKind) -> Option<Limit> {
    place(kind, PLACE_MM, &PLACES)
}

pub(crate) fn height(kind: LensKind) -> Option<Limit> {
    place(kind, PLACE_MM, &PLACES)
}

pub(crate) fn height_difference(kind: LensKind) -> Option<Limit> {
    place(kind, HEIGHT_DIFFERENCE_MM, &HEIGHTS)
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
