//! A lens cut level with its boxed centre, for several materials side by side.
//!
//! Shapes and thicknesses by [`crate::trade::optics::thickness`].

use super::write::mm;
use super::{Number, Picture, Section};
use crate::trade::eye::Eye;
use crate::trade::optics::OpticsError;
use crate::trade::optics::outline::Outline;
use crate::trade::optics::thickness::{LensBody, level_cut, thickness};

/// Steps from edge to edge.
const STEPS: u32 = 80;

/// A lens to show.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Made {
    /// What it is made of, as it is headed.
    pub name: String,
    /// The lens.
    pub body: LensBody,
    /// Density, grams per cubic centimetre, where known.
    pub density_g_cm3: Option<f64>,
}

/// Returns one lens in section with its numbers.
///
/// # Errors
/// As [`thickness`].
pub(crate) fn section(eye: Eye, outline: &Outline, made: &Made) -> Result<Section, OpticsError> {
    let t = thickness(eye, made.body, outline)?;
    let cut = level_cut(eye, made.body, outline, STEPS)?;
    let mut numbers = vec![
        Number::new("temporal", mm(t.edge_temporal_mm)),
        Number::new("centre", mm(t.centre_mm)),
        Number::new("nasal", mm(t.edge_nasal_mm)),
    ];
    if let Some(density) = made.density_g_cm3 {
        numbers.push(Number::new(
            "weight",
            format!("{:.1} g", t.weight_g(density)),
        ));
    }
    Ok(Section {
        name: made.name.clone(),
        front: cut.iter().map(|c| (c.in_mm, c.front_mm)).collect(),
        back: cut.iter().map(|c| (c.in_mm, c.back_mm)).collect(),
        numbers,
    })
}

/// Returns lenses side by side. One that cannot be made is listed with the reason instead.
pub(crate) fn sections(
    title: impl Into<String>,
    eye: Eye,
    outline: &Outline,
    made: &[Made],
) -> Picture {
    let sections = made
        .iter()
        .map(|m| {
            section(eye, outline, m).unwrap_or_else(|e| Section {
                name: m.name.clone(),
                front: Vec::new(),
                back: Vec::new(),
                numbers: vec![Number::new("cannot be made", e.to_string())],
            })
        })
        .collect();
    Picture::Sections {
        title: title.into(),
        sections,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::trade::optics::Rx;
    use crate::trade::optics::prism::LensPoint;
    use crate::trade::optics::thickness::GivenThickness;

    fn made(rx: Rx, given: GivenThickness) -> Made {
        Made {
            name: "resin".to_owned(),
            body: LensBody {
                rx,
                index: 1.6,
                base_d: 4.0,
                base_index: 1.53,
                centre: LensPoint {
                    in_mm: 3.0,
                    up_mm: 2.0,
                },
                given,
            },
            density_g_cm3: Some(1.3),
        }
    }

    #[test]
    fn the_ends_of_the_cut_are_the_edges_and_numbers_beside_say_so() {
        let outline = Outline::from_box(50.0, 36.0, 53.0).unwrap();
        for eye in Eye::BOTH {
            let made = made(Rx::new(-5.0, -1.5, 30.0), GivenThickness::Centre(1.5));
            let t = thickness(eye, made.body, &outline).unwrap();
            let s = section(eye, &outline, &made).unwrap();
            let thick = |i: usize| s.front[i].1 - s.back[i].1;
            let last = s.front.len() - 1;
            assert!((thick(0) - t.edge_temporal_mm).abs() < 1e-9, "{eye}");
            assert!((thick(last) - t.edge_nasal_mm).abs() < 1e-9, "{eye}");
            assert!((s.front[0].0 + 25.0).abs() < 1e-9);
            assert_eq!(s.numbers[2].text, format!("{:.1} mm", t.edge_nasal_mm));
        }
    }

    #[test]
    fn a_lens_that_cannot_be_made_keeps_its_place_and_says_why() {
        let outline = Outline::from_box(50.0, 36.0, 53.0).unwrap();
        let bad = made(Rx::sphere(9.0), GivenThickness::Centre(0.5));
        let picture = sections("t", Eye::Right, &outline, &[bad]);
        let Picture::Sections { sections, .. } = picture else {
            panic!("sections");
        };
        assert!(sections[0].front.is_empty());
        assert!(sections[0].numbers[0].text.contains("thicker"));
    }
}
