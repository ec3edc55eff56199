//! Lens materials by generic name: index, dispersion, density, usual thinnest centre.
//!
//! The d-line index, Abbe number and density are nominal figures of printed trade tables, or of
//! laboratory practice where no print was seen (see each row); e-line indices of the glasses and
//! all thinnest centres are laboratory practice. The laboratory's figure wins.

/// How a figure of the table is known.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Confidence {
    /// Printed in a source that was seen.
    Printed,
    /// Laboratory practice, no printed source seen.
    Practice,
}

/// A lens material.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Material {
    /// Generic name, by which jobs refer to it.
    pub key: &'static str,
    /// Refractive index at the helium d line, 587.56 nm.
    pub n_d: f64,
    /// Refractive index at the mercury e line, 546.07 nm.
    pub n_e: f64,
    /// Abbe number.
    pub abbe: f64,
    /// Density in grams per cubic centimetre.
    pub density_g_cm3: f64,
    /// Usual thinnest centre of a minus lens, mm; always laboratory practice.
    pub thinnest_centre_mm: f64,
    /// Whether lenses of it withstand impact as impact-resistant ones must.
    pub impact_resistant: bool,
    /// How the d-line index, Abbe number and density are known.
    pub confidence: Confidence,
    /// Where the d-line index, Abbe number and density are from.
    pub source: &'static str,
}

const TRADE: &str = "'High-index lens materials: past, present, future', table of selected materials (trade article)";
const LABORATORY: &str = "laboratory knowledge page on lens materials (lens-shapers.com), rounded";
const PRACTICE: &str = "laboratory practice, no printed figure seen";

#[allow(
    clippy::too_many_arguments,
    reason = "one row of the table below, in the order of its heading"
)]
const fn row(
    key: &'static str,
    n_d: f64,
    n_e: f64,
    abbe: f64,
    density_g_cm3: f64,
    thinnest_centre_mm: f64,
    impact_resistant: bool,
    source: &'static str,
    confidence: Confidence,
) -> Material {
    Material {
        key,
        n_d,
        n_e,
        abbe,
        density_g_cm3,
        thinnest_centre_mm,
        impact_resistant,
        confidence,
        source,
    }
}

/// The table, in the order in which materials are offered: resins by index, then glasses.
#[rustfmt::skip]
pub const MATERIALS: [Material; 12] = [
    //  key                    n_d    n_e    Abbe  g/cm3 thinnest impact
    row("resin 1.50",          1.498, 1.501, 58.0, 1.32, 2.0, false, TRADE,      Confidence::Printed),
    row("resin 1.53",          1.530, 1.533, 44.0, 1.11, 1.4, true,  LABORATORY, Confidence::Printed),
    row("resin 1.56",          1.556, 1.560, 37.0, 1.23, 1.8, false, LABORATORY, Confidence::Printed),
    row("polycarbonate 1.59",  1.586, 1.590, 30.0, 1.20, 1.2, true,  TRADE,      Confidence::Printed),
    row("resin 1.60",          1.592, 1.598, 41.0, 1.30, 1.3, false, TRADE,      Confidence::Printed),
    row("resin 1.67",          1.661, 1.668, 32.0, 1.36, 1.2, false, TRADE,      Confidence::Printed),
    row("resin 1.74",          1.732, 1.740, 33.0, 1.47, 1.1, false, TRADE,      Confidence::Printed),
    row("crown 1.52",          1.523, 1.525, 59.0, 2.54, 1.3, false, TRADE,      Confidence::Printed),
    row("glass 1.60",          1.600, 1.604, 42.0, 2.63, 1.3, false, PRACTICE,   Confidence::Practice),
    row("glass 1.70",          1.700, 1.705, 40.0, 3.10, 1.0, false, PRACTICE,   Confidence::Practice),
    row("glass 1.80",          1.802, 1.807, 35.0, 3.65, 0.9, false, PRACTICE,   Confidence::Practice),
    row("glass 1.90",          1.885, 1.893, 31.0, 3.99, 0.9, false, PRACTICE,   Confidence::Practice),
];

/// Index classes of BS 7394-2 as quoted by Jalie.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum IndexClass {
    /// 1.48 and above, below 1.54.
    Normal,
    /// 1.54 and above, below 1.64.
    Mid,
    /// 1.64 and above, below 1.74.
    High,
    /// 1.74 and above.
    VeryHigh,
}

impl Material {
    /// Returns the material of that generic name, exactly as in [`MATERIALS`].
    #[must_use]
    pub fn by_key(key: &str) -> Option<&'static Self> {
        MATERIALS.iter().find(|m| m.key == key)
    }

    /// Returns the index class, by the d-line index.
    #[must_use]
    pub fn index_class(&self) -> IndexClass {
        match self.n_d {
            n if n < 1.54 => IndexClass::Normal,
            n if n < 1.64 => IndexClass::Mid,
            n if n < 1.74 => IndexClass::High,
            _ => IndexClass::VeryHigh,
        }
    }

    /// Whether lenses of it are glass.
    #[must_use]
    pub fn is_glass(&self) -> bool {
        self.key.starts_with("crown") || self.key.starts_with("glass")
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_material_is_found_by_its_own_name_and_is_plausible() {
        for m in &MATERIALS {
            assert_eq!(Material::by_key(m.key), Some(m));
            assert!(m.n_e > m.n_d && m.n_e - m.n_d < 0.01, "{}", m.key);
            assert!((1.0..5.0).contains(&m.density_g_cm3) && (25.0..70.0).contains(&m.abbe));
        }
        assert_eq!(Material::by_key("resin 1.5"), None);
    }
}
