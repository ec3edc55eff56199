//! Every value by where it comes from.
//!
//! A recheck carries the values of the pair it looks at. One of them counts as measured now only
//! where that can be told: it is another than the pair's, or its origin, or the day on which the
//! fitting was taken, says so. Otherwise nothing was recorded now, and nothing is said to be equal.

use super::parameter::Source;
use crate::job::fields::{FieldRef, FieldValue, at, show_read};
use crate::job::{EyeReading, Job, Previous, Readings, Tint, set_by_repairs, value_now};
use crate::judge::derive::places::{design_height, ordered_cd_mm};
use crate::judge::derive::powers::ordered_or_prescribed;
use crate::practice::suspects::{Suspect, Suspects};
use crate::trade::eye::Eye;
use crate::trade::optics::Rx;
use crate::trade::optics::materials::Material;
use crate::trade::units::{Degree, Dioptre, Millimetre, PrismDioptre};

/// The jobs a comparison draws on.
#[derive(Debug)]
pub(super) struct Gathered<'a> {
    recheck: &'a Job,
    first: Option<&'a Job>,
    /// The job whose order is looked at: the first one, or what the recheck carries of it.
    pub(super) order: &'a Job,
    /// From which difference on the practice suspects a value.
    pub(super) limits: &'a Suspects,
}

impl<'a> Gathered<'a> {
    pub(super) fn of(recheck: &'a Job, first: Option<&'a Job>, limits: &'a Suspects) -> Self {
        Self {
            recheck,
            first,
            order: first.unwrap_or(recheck),
            limits,
        }
    }

    /// A number of the pair as it was handed over, or that repairs have set since.
    fn fitted_then(&self, source: Source, field: FieldRef) -> Option<f64> {
        let first = self.first?;
        let value = match source {
            Source::HandedOver => field.read(first),
            Source::Repaired => set_by_repairs(first, field).map(|stands| stands.value),
            _ => None,
        };
        value?.as_number()
    }

    fn previous(&self) -> Option<&Previous> {
        self.order.prescription.previous.as_ref()
    }

    /// A value of the recheck, where it was taken for the recheck.
    fn taken_now<T: PartialEq>(&self, path: &str, now: Option<T>, then: Option<&T>) -> Option<T> {
        let now = now?;
        let first = self.first?;
        if Some(&now) != then {
            return Some(now);
        }
        let is_own = match self.recheck.origins.get(path) {
            Some(origin) => origin.job.is_none() || origin.job == self.recheck.number,
            None => self.recheck.fitting.taken_on != first.fitting.taken_on,
        };
        is_own.then_some(now)
    }

    /// A fitting value of the recheck, where it was taken for it.
    fn fitted_now<T: PartialEq>(&self, path: &str, of: impl Fn(&Job) -> Option<T>) -> Option<T> {
        let then = self.first.and_then(&of);
        self.taken_now(&format!("fitting.{path}"), of(self.recheck), then.as_ref())
    }

    /// A value of another section of the recheck, where it is another than the pair's.
    fn changed_now<T: PartialEq>(&self, of: impl Fn(&Job) -> Option<T>) -> Option<T> {
        let first = self.first?;
        of(self.recheck).filter(|now| Some(now) != of(first).as_ref())
    }

    /// The readings taken now, or those of when the pair came.
    pub(super) fn last_readings(&self) -> (&Readings, Source) {
        let r = &self.recheck.readings;
        if r.right.rx().is_some() || r.left.rx().is_some() || self.first.is_none() {
            (r, Source::Now)
        } else {
            (&self.order.readings, Source::Read)
        }
    }

    fn reading(&self, source: Source, eye: Eye) -> Option<&EyeReading> {
        match source {
            Source::Read => self.first.map(|j| j.readings.eye(eye)),
            Source::Now => Some(self.recheck.readings.eye(eye)),
            _ => None,
        }
    }

    /// Whether the wearer's eyes no longer accommodate for reading.
    pub(super) fn is_presbyope(&self) -> bool {
        let p = &self.order.prescription;
        let has_addition = Eye::BOTH
            .iter()
            .any(|e| p.eye(*e).addition_d.is_some_and(|a| a > Dioptre::ZERO));
        let age = p.tested_on.and_then(|d| self.order.wearer.age_on(d));
        let from = self.limits.get(Suspect::Presbyope);
        has_addition || age.is_some_and(|a| f64::from(a) >= from)
    }

    pub(super) fn power(&self, source: Source, eye: Eye) -> Option<Rx> {
        match source {
            Source::Previous => {
                let old = self.previous()?.eye(eye);
                old.rx().filter(|_| !old.is_balance())
            }
            Source::Ordered => ordered_or_prescribed(self.order, eye),
            Source::HandedOver | Source::Repaired => None,
            _ => self.reading(source, eye)?.rx(),
        }
    }

    pub(super) fn addition(&self, source: Source, eye: Eye) -> Option<f64> {
        match source {
            Source::Previous => self.previous()?.eye(eye).addition_d,
            Source::Ordered => {
                let of_order = self.order.lenses.powers.as_ref();
                of_order.and_then(|p| p.eye(eye).addition_d).or(self
                    .order
                    .prescription
                    .eye(eye)
                    .addition_d)
            }
            Source::HandedOver | Source::Repaired => None,
            _ => self.reading(source, eye)?.addition_d,
        }
        .map(Dioptre::get)
    }

    pub(super) fn balance_lens(&self, source: Source, eye: Eye) -> Option<bool> {
        match source {
            Source::Previous => self.previous()?.eye(eye).balance,
            Source::Ordered => Some(self.order.prescription.eye(eye).is_balance()),
            _ => None,
        }
    }

    /// The prism of both lenses together: base in added, or right base up less left base up.
    ///
    /// Where one lens has prism written, the other has none unless it says so; an order with powers
    /// and no prism orders none. Of a pair about whose prism nothing is written nothing is known.
    pub(super) fn net_prism(&self, source: Source, is_vertical: bool) -> Option<f64> {
        let part = |base_in: Option<PrismDioptre>, base_up: Option<PrismDioptre>| {
            if is_vertical { base_up } else { base_in }
        };
        let (parts, is_complete) = match source {
            Source::Previous => {
                let p = self.previous()?;
                let of = |e| {
                    let w = p.eye(e);
                    part(w.base_in_delta, w.base_up_delta)
                };
                (Eye::BOTH.map(of), false)
            }
            Source::Ordered => {
                let powers = self.order.lenses.powers.as_ref();
                let written = |e: Eye| {
                    let p = self.order.prescription.eye(e);
                    part(p.base_in_delta, p.base_up_delta)
                };
                let of = |e: Eye| {
                    let o = powers.map(|p| p.eye(e));
                    o.and_then(|o| part(o.base_in_delta, o.base_up_delta))
                };
                match powers {
                    Some(p) => (
                        Eye::BOTH.map(of),
                        p.right.sphere_d.is_some() || p.left.sphere_d.is_some(),
                    ),
                    None => (
                        Eye::BOTH.map(written),
                        self.order.prescription.right.sphere_d.is_some(),
                    ),
                }
            }
            Source::HandedOver | Source::Repaired => return None,
            _ => {
                let of = |e| {
                    let r = self.reading(source, e)?;
                    part(r.base_in_delta, r.base_up_delta)
                };
                (Eye::BOTH.map(of), false)
            }
        };
        // A focimeter shows every lens's prism: one that was not read is not known to have none.
        let is_read = matches!(source, Source::Read | Source::Now);
        let there = parts.iter().filter(|p| p.is_some()).count();
        if (is_read && there < 2) || (there == 0 && !is_complete) {
            return None;
        }
        let [r, l] = parts.map(|p| p.map_or(0.0, PrismDioptre::get));
        Some(if is_vertical { r - l } else { r + l })
    }

    pub(super) fn working_mm(&self, source: Source) -> Option<f64> {
        match source {
            Source::Ordered => self.order.prescription.working_mm,
            Source::Now => self.changed_now(|j| j.prescription.working_mm),
            _ => None,
        }
        .map(Millimetre::get)
    }

    pub(super) fn centration_mm(&self, source: Source, eye: Eye) -> Option<f64> {
        match source {
            Source::Previous => match eye {
                Eye::Right => self.previous()?.right_cd_mm,
                Eye::Left => self.previous()?.left_cd_mm,
            }
            .map(Millimetre::get),
            Source::Ordered => ordered_cd_mm(self.order, eye),
            Source::Read => self.reading(source, eye)?.cd_mm.map(Millimetre::get),
            Source::HandedOver | Source::Repaired => None,
            Source::Now => {
                let now = &self.recheck.fitting;
                let is_near = self.order.lenses.is_near_single_vision();
                let path = if is_near && now.eye(eye).near_cd_mm.is_some() {
                    format!("{eye}.near_cd_mm")
                } else if is_near && now.near_pd_mm.is_some() {
                    "near_pd_mm".to_owned()
                } else {
                    format!("{eye}.cd_mm")
                };
                self.fitted_now(&path, |j| ordered_cd_mm(j, eye))
            }
        }
    }

    pub(super) fn near_inset_mm(&self, source: Source, eye: Eye) -> Option<f64> {
        let inset = |cd: Millimetre, near: Millimetre| cd.get() - near.get();
        match source {
            Source::Ordered => {
                let f = self.order.fitting.eye(eye);
                Some(inset(f.cd_mm?, f.near_cd_mm?))
            }
            Source::Now => {
                let near = self.fitted_now(&format!("{eye}.near_cd_mm"), |j| {
                    j.fitting.eye(eye).near_cd_mm
                })?;
                Some(inset(self.recheck.fitting.eye(eye).cd_mm?, near))
            }
            _ => None,
        }
    }

    pub(super) fn height_mm(&self, source: Source, eye: Eye) -> Option<f64> {
        let is_segment = self
            .order
            .lenses
            .design
            .is_some_and(crate::job::Design::has_segment);
        let key = if is_segment {
            "segment_height_mm"
        } else {
            "height_mm"
        };
        match source {
            Source::Previous => match eye {
                Eye::Right => self.previous()?.right_height_mm,
                Eye::Left => self.previous()?.left_height_mm,
            }
            // What is recorded of it is the height of its fitting cross or optical centre.
            .filter(|_| !is_segment),
            Source::Ordered => design_height(self.order, self.order.fitting.eye(eye)),
            Source::Read => {
                let r = self.reading(source, eye)?;
                if is_segment {
                    r.segment_height_mm
                } else {
                    r.height_mm
                }
            }
            Source::HandedOver | Source::Repaired => {
                let field = if is_segment {
                    at!(handover[eye].segment_height_mm)
                } else {
                    at!(handover[eye].height_mm)
                };
                return self.fitted_then(source, field);
            }
            Source::Now => self.fitted_now(&format!("{eye}.{key}"), |j| {
                design_height(self.order, j.fitting.eye(eye))
            }),
        }
        .map(Millimetre::get)
    }

    pub(super) fn vertex_mm(&self, source: Source, eye: Eye) -> Option<f64> {
        match source {
            Source::Previous => self.previous()?.vertex_mm,
            Source::Ordered => self.order.fitting.eye(eye).vertex_mm,
            Source::Read => None,
            Source::HandedOver | Source::Repaired => {
                return self.fitted_then(source, at!(handover[eye].vertex_mm));
            }
            Source::Now => self.fitted_now(&format!("{eye}.vertex_mm"), |j| {
                j.fitting.eye(eye).vertex_mm
            }),
        }
        .map(Millimetre::get)
    }

    pub(super) fn length_to_bend_mm(&self, source: Source, eye: Eye) -> Option<f64> {
        match source {
            Source::Ordered => self.order.fitting.eye(eye).length_to_bend_mm,
            Source::HandedOver | Source::Repaired => {
                return self.fitted_then(source, at!(handover[eye].length_to_bend_mm));
            }
            Source::Now => self.fitted_now(&format!("{eye}.length_to_bend_mm"), |j| {
                j.fitting.eye(eye).length_to_bend_mm
            }),
            _ => None,
        }
        .map(Millimetre::get)
    }

    pub(super) fn tilt_deg(&self, source: Source) -> Option<f64> {
        match source {
            Source::Previous => self.previous()?.pantoscopic_deg,
            Source::Ordered => self.order.fitting.pantoscopic_deg,
            Source::HandedOver | Source::Repaired => {
                return self.fitted_then(source, at!(handover.pantoscopic_deg));
            }
            Source::Now => self.fitted_now("pantoscopic_deg", |j| j.fitting.pantoscopic_deg),
            Source::Read => None,
        }
        .map(Degree::get)
    }

    pub(super) fn face_form_deg(&self, source: Source) -> Option<f64> {
        match source {
            Source::Previous => self.previous()?.face_form_deg,
            Source::Ordered => self.order.fitting.face_form_deg,
            Source::HandedOver | Source::Repaired => {
                return self.fitted_then(source, at!(handover.face_form_deg));
            }
            Source::Now => self.fitted_now("face_form_deg", |j| j.fitting.face_form_deg),
            Source::Read => None,
        }
        .map(Degree::get)
    }

    pub(super) fn head_width_mm(&self, source: Source) -> Option<f64> {
        match source {
            Source::Ordered => self.order.fitting.head_width_mm,
            // A handover does not say it.
            Source::Repaired => return self.fitted_then(source, at!(fitting.head_width_mm)),
            Source::Now => self.fitted_now("head_width_mm", |j| j.fitting.head_width_mm),
            _ => None,
        }
        .map(Millimetre::get)
    }

    pub(super) fn pads(&self, source: Source) -> Option<String> {
        match source {
            Source::Ordered => pads(|field| field.read(self.order)),
            Source::Repaired => {
                let first = self.first?;
                let is_set = |field: &FieldRef| set_by_repairs(first, field).is_some();
                // What a repair does not say of the pads stayed as it was.
                PADS.iter()
                    .any(is_set)
                    .then(|| pads(|field| value_now(first, field)))?
            }
            Source::Now => {
                self.changed_now(|j| j.frame.pads.clone())?;
                pads(|field| field.read(self.recheck))
            }
            _ => None,
        }
    }

    pub(super) fn design(&self, source: Source) -> Option<String> {
        match source {
            Source::Previous => self.previous()?.design.clone(),
            Source::Ordered => self.order.lenses.design.map(|d| d.word().to_owned()),
            _ => None,
        }
        .filter(|t| !t.trim().is_empty())
    }

    /// Maker, product and variant of the lenses; of the pair worn before, maker and product.
    pub(super) fn product(&self, source: Source) -> Option<String> {
        if source == Source::Previous {
            let previous = self.previous()?;
            return joined([previous.maker.clone(), previous.product.clone()]);
        }
        self.of_order(source, |j| {
            let l = &j.lenses;
            joined([l.maker.clone(), l.product.clone(), l.variant.clone()])
        })
    }

    pub(super) fn corridor_mm(&self, source: Source) -> Option<f64> {
        if source == Source::Previous {
            return self.previous()?.corridor_mm.map(Millimetre::get);
        }
        self.of_order(source, |j| j.lenses.corridor_mm.map(Millimetre::get))
    }

    pub(super) fn segment(&self, source: Source) -> Option<String> {
        self.of_order(source, |j| {
            let s = j.lenses.segment.as_ref()?;
            let width = s.width_mm.map(|w| format!("{w:.0} mm"));
            let parts = [s.shape.map(|s| s.word().to_owned()), width];
            joined(parts)
        })
    }

    pub(super) fn front_curve_d(&self, source: Source, eye: Eye) -> Option<f64> {
        match source {
            Source::Previous => self.previous()?.base_d,
            Source::Ordered => self.order.lenses.base_d,
            Source::HandedOver | Source::Repaired => None,
            _ => self.reading(source, eye)?.base_d,
        }
        .map(Dioptre::get)
    }

    pub(super) fn centre_mm(&self, source: Source, eye: Eye) -> Option<f64> {
        match source {
            Source::Ordered => self.order.lenses.centre_mm,
            Source::Previous | Source::HandedOver | Source::Repaired => None,
            _ => self.reading(source, eye)?.centre_mm,
        }
        .map(Millimetre::get)
    }

    pub(super) fn index(&self, source: Source) -> Option<f64> {
        if source == Source::Previous {
            return self.previous()?.index.map(crate::trade::units::Index::get);
        }
        self.of_order(source, |j| Some(material(j)?.n_d))
    }

    pub(super) fn abbe(&self, source: Source) -> Option<f64> {
        self.of_order(source, |j| Some(material(j)?.abbe))
    }

    pub(super) fn tint(&self, source: Source) -> Option<String> {
        if source == Source::Previous {
            return self.previous()?.tint.clone();
        }
        self.of_order(source, |j| j.lenses.tint.as_ref().and_then(tint))
    }

    pub(super) fn coatings(&self, source: Source) -> Option<String> {
        if source == Source::Previous {
            return self.previous()?.coatings.as_deref().map(coatings);
        }
        self.of_order(source, |j| j.lenses.coatings.as_deref().map(coatings))
    }

    /// A number of the frame.
    pub(super) fn frame_mm(&self, source: Source, field: FieldRef) -> Option<f64> {
        self.of_order(source, |j| field.read(j)?.as_number())
    }

    /// A value that an order has, and a recheck only where it is another.
    fn of_order<T: PartialEq>(&self, source: Source, of: impl Fn(&Job) -> Option<T>) -> Option<T> {
        match source {
            Source::Ordered => of(self.order),
            Source::Now => self.changed_now(of),
            _ => None,
        }
    }
}

fn material(job: &Job) -> Option<&'static Material> {
    Material::by_key(job.lenses.material.as_deref()?)
}

fn joined<const N: usize>(parts: [Option<String>; N]) -> Option<String> {
    let there: Vec<String> = parts.into_iter().flatten().collect();
    (!there.is_empty()).then(|| there.join(" "))
}

fn coatings(list: &[String]) -> String {
    if list.is_empty() {
        "none".to_owned()
    } else {
        list.join(", ")
    }
}

/// The values of the pads, in the order in which they are said.
const PADS: [FieldRef; 3] = [
    at!(frame.pads.mount),
    at!(frame.pads.size_mm),
    at!(frame.pads.material),
];

fn pads<'a>(value: impl Fn(FieldRef) -> Option<FieldValue<'a>>) -> Option<String> {
    joined(PADS.map(|field| match value(field)? {
        FieldValue::Number(size) => Some(format!("{size:.0} mm")),
        other => Some(show_read(field, &other)),
    }))
}

fn tint(t: &Tint) -> Option<String> {
    joined([
        t.colour.clone(),
        t.transmittance_percent.map(|p| format!("{p:.0} %")),
        t.category.map(|c| format!("category {c}")),
    ])
}
