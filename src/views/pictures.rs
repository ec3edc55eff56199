//! The pictures of a job, each worked out when it is looked at.

use crate::job::Job;
use crate::practice::{Practice, Threshold};
use crate::trade::eye::{Eye, PerEye};
use crate::trade::optics::materials::{MATERIALS, Material};
use crate::trade::optics::tilt::Tilt;
use crate::trade::tolerance::{EyeValues, PairValues};
use crate::trade::units::{Degree, Millimetre};
use crate::views::plot::budget::{BudgetRow, budget_bars};
use crate::views::plot::prism::{PrismCase, PrismDirection, prism_plot};
use crate::views::plot::section::{Made, sections};
use crate::views::plot::tilt::{Form, TiltCase, tilt_plot};
use crate::views::plot::vertex::vertex_plot;
use crate::views::plot::{Limit, Picture};

use crate::judge::derive::accuracy::budget_rows;
use crate::judge::derive::lens::{front_d, lens_body, material};
use crate::judge::derive::powers::{fitted_vertex_mm, ordered_or_prescribed, prescribed};
use crate::judge::derive::verification::{lens_kind, ordered_pair};

/// One of the pictures.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum PictureKind {
    /// The frame front to scale. It is drawn from the job itself and has no curves.
    Front,
    /// The lens in section, of the ordered material and its neighbours.
    Edges,
    /// Power against vertex distance.
    Vertex,
    /// Prism when the lens is off across.
    Across,
    /// Prism when the lens is off up or down.
    Upright,
    /// Error of power over the angles.
    Tilt,
    /// The accuracy budget.
    Budget,
}

impl PictureKind {
    /// Every picture, in the order in which they are gone through.
    pub const ALL: [Self; 7] = [
        Self::Front,
        Self::Edges,
        Self::Vertex,
        Self::Across,
        Self::Upright,
        Self::Tilt,
        Self::Budget,
    ];

    /// The name on the screen.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Front => "front",
            Self::Edges => "edges",
            Self::Vertex => "vertex",
            Self::Across => "prism across",
            Self::Upright => "prism up",
            Self::Tilt => "tilt",
            Self::Budget => "accuracy",
        }
    }

    /// Whether there is one for each eye.
    pub const fn is_per_eye(self) -> bool {
        !matches!(self, Self::Front | Self::Budget)
    }
}

/// Materials shown beside the ordered one, at most.
const NEIGHBOURS: usize = 3;

/// Returns a picture of a job; where it cannot be, [`Picture::Missing`] says what to record.
///
/// The front has no curves: of it, this says what its drawing lacks.
pub fn picture(kind: PictureKind, job: &Job, practice: &Practice, eye: Eye) -> Picture {
    let made = match kind {
        PictureKind::Front => Err("the front is drawn from the boxed measurements".to_owned()),
        PictureKind::Edges => edges(job, eye),
        PictureKind::Vertex => vertex(job, eye),
        PictureKind::Across => prism(job, practice, eye, PrismDirection::In),
        PictureKind::Upright => prism(job, practice, eye, PrismDirection::Up),
        PictureKind::Tilt => tilt(job, practice, eye),
        PictureKind::Budget => accuracy(job, practice),
    };
    made.unwrap_or_else(Picture::Missing)
}

/// Says which of the inputs named are missing.
fn missing(what: &str, inputs: &[(&str, bool)]) -> String {
    let lacking: Vec<&str> = inputs.iter().filter(|i| !i.1).map(|i| i.0).collect();
    format!("For {what}, record: {}.", lacking.join(", "))
}

fn edges(job: &Job, eye: Eye) -> Result<Picture, String> {
    let ordered = material(job);
    let lenses = |m: &'static Material| lens_body(job, eye, m).map(|b| (m, b));
    let shown: Vec<_> = ordered.map(neighbours).unwrap_or_default();
    let all: Vec<_> = shown.into_iter().filter_map(lenses).collect();
    let Some((_, (_, outline))) = all.first() else {
        return Err(missing(
            "the lens in section",
            &[
                ("the lens material", ordered.is_some()),
                ("the power", ordered_or_prescribed(job, eye).is_some()),
                (
                    "lens width a and height b",
                    job.frame.a_mm.is_some() && job.frame.b_mm.is_some(),
                ),
                (
                    "a longest diameter that fits the box",
                    job.frame.ed_mm.is_none() || ordered.is_none(),
                ),
            ],
        ));
    };
    let made: Vec<Made> = all
        .iter()
        .map(|(m, (body, _))| Made {
            name: if ordered == Some(*m) {
                format!("{} (ordered)", m.key)
            } else {
                m.key.to_owned()
            },
            body: *body,
            density_g_cm3: Some(m.density_g_cm3),
        })
        .collect();
    let thickness = match (job.lenses.centre_mm, job.lenses.thinnest_mm) {
        (Some(_), _) => "centre as ordered",
        (None, Some(_)) => "thinnest point as ordered",
        (None, None) => "usual thinnest point",
    };
    let title = format!("{eye} lens cut level with the boxed centre, one scale, {thickness}");
    Ok(sections(title, eye, outline, &made))
}

/// Returns a material with those of its kind next to it in the table: the one before, those after.
fn neighbours(ordered: &'static Material) -> Vec<&'static Material> {
    let kind: Vec<&Material> = MATERIALS
        .iter()
        .filter(|m| m.is_glass() == ordered.is_glass())
        .collect();
    let place = kind.iter().position(|m| *m == ordered).unwrap_or(0);
    let from = place
        .saturating_sub(1)
        .min(kind.len().saturating_sub(NEIGHBOURS + 1));
    kind.into_iter().skip(from).take(NEIGHBOURS + 1).collect()
}

fn vertex(job: &Job, eye: Eye) -> Result<Picture, String> {
    let rx = prescribed(job, eye);
    let tested = job.prescription.tested_vertex_mm.map(Millimetre::get);
    let (Some(rx), Some(tested_mm)) = (rx, tested) else {
        return Err(missing(
            "power against vertex distance",
            &[
                ("the prescribed power", rx.is_some()),
                ("the tested vertex distance", tested.is_some()),
            ],
        ));
    };
    vertex_plot(&format!("{eye} eye"), rx, tested_mm, fitted_vertex_mm(job))
        .map(Picture::Plot)
        .map_err(|e| e.to_string())
}

/// The pair as ordered, or as prescribed where nothing is ordered yet.
fn pair(job: &Job) -> PairValues {
    let ordered = ordered_pair(job);
    PerEye::from_fn(|eye| (*ordered.get(eye)).or_else(|| prescribed(job, eye).map(EyeValues::of)))
}

fn prism(job: &Job, practice: &Practice, eye: Eye, way: PrismDirection) -> Result<Picture, String> {
    let case = PrismCase {
        ordered: pair(job),
        standard: practice.standard,
        kind: lens_kind(job),
        options: practice.options,
    };
    prism_plot(&case, eye, way)
        .map(Picture::Plot)
        .map_err(|e| e.to_string())
}

fn tilt(job: &Job, practice: &Practice, eye: Eye) -> Result<Picture, String> {
    let rx = ordered_or_prescribed(job, eye);
    let made_of = material(job);
    let pantoscopic = job.fitting.pantoscopic_deg.map(Degree::get);
    let face_form = job.fitting.face_form_deg.map(Degree::get);
    let inputs = (rx, made_of, pantoscopic, face_form);
    let (Some(rx), Some(made_of), Some(pantoscopic_deg), Some(face_form_deg)) = inputs else {
        return Err(missing(
            "the power as worn",
            &[
                ("the power", rx.is_some()),
                ("the lens material", made_of.is_some()),
                ("the pantoscopic angle", pantoscopic.is_some()),
                ("the face-form angle", face_form.is_some()),
            ],
        ));
    };
    // A curve that is only supposed would make the trace exact about the wrong lens.
    let form = job
        .lenses
        .base_d
        .and(job.lenses.centre_mm)
        .zip(front_d(job, eye))
        .map(|(centre, front_d)| Form {
            front_d,
            centre_mm: centre.get(),
        });
    let limit = Limit {
        name: "the practice's limit".to_owned(),
        y: practice.thresholds.get(Threshold::AsWornError),
    };
    let case = TiltCase {
        eye,
        rx,
        index: made_of.n_d,
        form,
        tilt: Tilt {
            pantoscopic_deg,
            face_form_deg,
        },
        limit: Some(limit),
    };
    tilt_plot(&case)
        .map(Picture::Plot)
        .map_err(|e| e.to_string())
}

fn accuracy(job: &Job, practice: &Practice) -> Result<Picture, String> {
    let rows: Vec<BudgetRow> = budget_rows(job, practice)
        .into_iter()
        .map(|row| {
            let whose = row.eye.map_or("", |eye| match eye {
                Eye::Right => "R ",
                Eye::Left => "L ",
            });
            BudgetRow {
                label: format!("{whose}{}", row.label),
                minus: row.minus,
                plus: row.plus,
                unit: row.unit,
                strong: row.measure_twice,
            }
        })
        .collect();
    if rows.is_empty() {
        return Err(missing(
            "the accuracy budget",
            &[("the powers to order (section lenses)", false)],
        ));
    }
    Ok(Picture::Bars(budget_bars(&rows)))
}

#[cfg(test)]
mod tests {
    use super::*;
    use serde_json::json;

    fn job() -> Job {
        serde_json::from_value(json!({
            "prescription": {
                "tested_vertex_mm": 12,
                "right": {"sphere_d": -6, "cylinder_d": -1, "axis_deg": 20},
                "left": {"sphere_d": -5.5}
            },
            "fitting": {
                "right": {"cd_mm": 31.5, "height_mm": 22, "vertex_mm": 14},
                "left": {"cd_mm": 32, "height_mm": 22, "vertex_mm": 14},
                "pantoscopic_deg": 9, "face_form_deg": 4
            },
            "frame": {"a_mm": 52, "b_mm": 38, "dbl_mm": 18, "ed_mm": 56},
            "lenses": {
                "material": "resin 1.60",
                "powers": {
                    "right": {"sphere_d": -6, "cylinder_d": -1, "axis_deg": 20},
                    "left": {"sphere_d": -5.5}
                }
            }
        }))
        .unwrap()
    }

    #[test]
    fn a_job_with_everything_has_every_picture_of_either_eye() {
        for kind in PictureKind::ALL
            .into_iter()
            .filter(|k| *k != PictureKind::Front)
        {
            for eye in Eye::BOTH {
                let made = picture(kind, &job(), &Practice::default(), eye);
                assert!(!matches!(made, Picture::Missing(_)), "{kind:?} {made:?}");
            }
        }
    }

    #[test]
    fn a_picture_that_cannot_be_says_exactly_what_to_record() {
        let mut job = job();
        job.lenses.material = None;
        job.prescription.tested_vertex_mm = None;
        job.fitting.face_form_deg = None;
        let says = |kind| match picture(kind, &job, &Practice::default(), Eye::Left) {
            Picture::Missing(why) => why,
            made => panic!("{made:?}"),
        };
        assert_eq!(
            says(PictureKind::Vertex),
            "For power against vertex distance, record: the tested vertex distance."
        );
        assert_eq!(
            says(PictureKind::Edges),
            "For the lens in section, record: the lens material."
        );
        assert_eq!(
            says(PictureKind::Tilt),
            "For the power as worn, record: the lens material, the face-form angle."
        );
    }

    #[test]
    fn the_edges_are_those_of_the_thickness_worked_out_beside_the_fields() {
        let job = job();
        let made = picture(PictureKind::Edges, &job, &Practice::default(), Eye::Right);
        let Picture::Sections { sections, .. } = made else {
            panic!("{made:?}");
        };
        assert_eq!(sections.len(), NEIGHBOURS + 1);
        let ordered = sections
            .iter()
            .find(|s| s.name.contains("ordered"))
            .unwrap();
        let t = crate::judge::derive::lens::lens_thickness(&job, Eye::Right).unwrap();
        assert_eq!(
            ordered.numbers[0].text,
            format!("{:.1} mm", t.edge_temporal_mm)
        );
        assert_eq!(
            ordered.numbers[2].text,
            format!("{:.1} mm", t.edge_nasal_mm)
        );
    }

    #[test]
    fn every_material_has_itself_among_its_neighbours() {
        for m in &MATERIALS {
            let near = neighbours(m);
            assert!(
                near.contains(&m) && near.len() == NEIGHBOURS + 1,
                "{}",
                m.key
            );
            assert!(near.iter().all(|n| n.is_glass() == m.is_glass()));
        }
    }
}
