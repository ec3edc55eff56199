//! The lens body worked out from a job: curve, blank, thickness, magnification.

use crate::job::Job;
use crate::trade::eye::{Eye, PerEye};
use crate::trade::optics::Rx;
use crate::trade::optics::aniseikonia::{Aniseikonia, aniseikonia};
use crate::trade::optics::base_curve::vogel_base_d;
use crate::trade::optics::blank::{ALLOWANCE_MM, exact_blank_mm, minimum_blank_mm};
use crate::trade::optics::curves::{BASE_INDEX, true_power_d};
use crate::trade::optics::magnification::{PUPIL_MM, WornForm, magnification};
use crate::trade::optics::materials::Material;
use crate::trade::optics::meridian::meridian_power_d;
use crate::trade::optics::outline::Outline;
use crate::trade::optics::prism::{LensPoint, Prism};
use crate::trade::optics::thickness::{
    GivenThickness, LensBody, Thickness, edge_at_most_mm, thickness_with_prism,
};
use crate::trade::units::{Dioptre, Millimetre};

use crate::judge::derive::places::{VERTEX_MM, centration_point};
use crate::judge::derive::powers::{addition_and_prism, ordered_or_prescribed};

/// Thinnest edge of a plus lens where none is ordered, mm (usual laboratory practice, from memory).
const PLUS_EDGE_MM: f64 = 1.0;

/// Returns the material of the lenses, when its key is in the table.
pub(crate) fn material(job: &Job) -> Option<&'static Material> {
    Material::by_key(job.lenses.material.as_deref()?)
}

/// Returns the front curve of an eye's lens marked at index 1.530, dioptres: as recorded, else by
/// the Vogel rule.
pub(crate) fn base_d(job: &Job, eye: Eye) -> Option<f64> {
    job.lenses
        .base_d
        .map(Dioptre::get)
        .or_else(|| ordered_or_prescribed(job, eye).map(vogel_base_d))
}

/// Returns the true front surface power, dioptres.
pub(crate) fn front_d(job: &Job, eye: Eye) -> Option<f64> {
    true_power_d(base_d(job, eye)?, BASE_INDEX, material(job)?.n_d).ok()
}

/// Returns the thickness of an eye's lens with its prism, when frame, power and material are known
/// and such a lens can exist.
pub(crate) fn lens_thickness(job: &Job, eye: Eye) -> Option<Thickness> {
    let (body, outline) = lens_body(job, eye, material(job)?)?;
    thickness_with_prism(eye, body, prism(job, eye), &outline).ok()
}

/// Returns the prism worked into an eye's lens: as ordered, or as prescribed while nothing is
/// ordered.
pub(crate) fn prism(job: &Job, eye: Eye) -> Prism {
    let [_, base_in, base_up] = addition_and_prism(job, eye);
    Prism {
        base_in_delta: f64::from(base_in) / 1000.0,
        base_up_delta: f64::from(base_up) / 1000.0,
    }
}

/// Returns the diameter of the smallest uncut lens for an eye, mm: the circle about the optical
/// centre that holds the shape with its allowance. Where no shape has these boxed sizes, the bench
/// rule, which never gives too little.
pub(crate) fn least_blank_mm(job: &Job, eye: Eye) -> Option<f64> {
    let centre = centration_point(job, eye)?;
    let ed_mm = job.frame.ed_mm?.get();
    let (a, b, _) = box_mm(job)?;
    let exact = Outline::from_box(a, b, ed_mm)
        .and_then(|outline| exact_blank_mm(&outline, centre, ALLOWANCE_MM));
    Some(exact.unwrap_or_else(|_| minimum_blank_mm(ed_mm, centre, ALLOWANCE_MM)))
}

/// Whether the edge of an eye's lens is surely no thicker than a limit, mm; `false` where only
/// [`lens_thickness`] can tell. Takes a fraction of its time.
pub(crate) fn edge_is_surely_within(job: &Job, eye: Eye, limit_mm: f64) -> bool {
    if prism(job, eye) != Prism::default() {
        return false;
    }
    let bound = || {
        let body = body(job, eye, material(job)?)?;
        edge_at_most_mm(&body, box_mm(job)?)
    };
    bound().is_some_and(|most| most <= limit_mm)
}

/// Returns an eye's lens as it would be made of a material, and its edge, when frame and power are
/// known.
pub(crate) fn lens_body(job: &Job, eye: Eye, made_of: &Material) -> Option<(LensBody, Outline)> {
    let (a, b, ed) = box_mm(job)?;
    let outline = Outline::from_box(a, b, ed).ok()?;
    Some((body(job, eye, made_of)?, outline))
}

/// The boxed width and height and the longest diameter, mm.
fn box_mm(job: &Job) -> Option<(f64, f64, f64)> {
    let f = &job.frame;
    let (a, b) = (f.a_mm?.get(), f.b_mm?.get());
    Some((a, b, f.ed_mm.map_or(a.max(b), Millimetre::get)))
}

fn body(job: &Job, eye: Eye, made_of: &Material) -> Option<LensBody> {
    let rx = ordered_or_prescribed(job, eye)?;
    let given = match (job.lenses.centre_mm, job.lenses.thinnest_mm) {
        (Some(centre), _) => GivenThickness::Centre(centre.get()),
        (None, Some(thinnest)) => GivenThickness::Thinnest(thinnest.get()),
        (None, None) if rx.mean_d() > 0.0 => GivenThickness::Thinnest(PLUS_EDGE_MM),
        (None, None) => GivenThickness::Thinnest(made_of.thinnest_centre_mm),
    };
    Some(LensBody {
        rx,
        index: made_of.n_d,
        base_d: base_d(job, eye)?,
        base_index: BASE_INDEX,
        centre: centration_point(job, eye).unwrap_or(LensPoint {
            in_mm: 0.0,
            up_mm: 0.0,
        }),
        given,
    })
}

/// Returns the centre thickness of an eye's lens of power `rx`, mm: as ordered, else as such a lens is
/// usually made.
pub(crate) fn usual_centre_mm(job: &Job, eye: Eye, rx: Rx) -> Option<f64> {
    Some(match job.lenses.centre_mm {
        Some(centre) => centre.get(),
        None if rx.mean_d() > 0.0 => lens_thickness(job, eye)?.centre_mm,
        // A minus lens is thinnest at its centre.
        None => job
            .lenses
            .thinnest_mm
            .map_or(material(job)?.thinnest_centre_mm, Millimetre::get),
    })
}

/// Returns the form of an eye's lens and its distance from the eye, which decide its image size. A
/// value that is not recorded is the usual one.
fn worn_form(job: &Job, eye: Eye) -> Option<WornForm> {
    let rx = ordered_or_prescribed(job, eye)?;
    let made_of = material(job)?;
    let centre_mm = usual_centre_mm(job, eye, rx)?;
    Some(WornForm {
        index: made_of.n_d,
        front_d: front_d(job, eye)?,
        centre_mm,
        vertex_mm: job
            .fitting
            .eye(eye)
            .vertex_mm
            .map_or(VERTEX_MM, Millimetre::get),
        pupil_mm: PUPIL_MM,
    })
}

/// Returns the spectacle magnification of an eye in its strongest principal meridian, percent.
pub(crate) fn magnification_percent(job: &Job, eye: Eye) -> Option<f64> {
    let rx = ordered_or_prescribed(job, eye)?;
    let m = magnification(rx, worn_form(job, eye)?).ok()?;
    let (along, across) = rx.principal_powers();
    Some(if across.abs() > along.abs() {
        m.across_axis.percent
    } else {
        m.along_axis.percent
    })
}

/// Returns the spectacle magnification of an eye along a meridian, percent.
pub(crate) fn magnification_along_percent(job: &Job, eye: Eye, meridian_deg: f64) -> Option<f64> {
    let rx = ordered_or_prescribed(job, eye)?;
    let m = magnification(rx, worn_form(job, eye)?).ok()?;
    let (along, across) = (m.along_axis.percent, m.across_axis.percent);
    let percent = Rx::new(along, across - along, rx.axis_deg);
    Some(meridian_power_d(percent, meridian_deg))
}

/// Returns how far apart these powers, in this pair's lenses, make the images of the two eyes.
pub(crate) fn image_sizes_apart(job: &Job, powers: PerEye<Option<Rx>>) -> Option<Aniseikonia> {
    let worn = PerEye::from_fn(|eye| Some(((*powers.get(eye))?, worn_form(job, eye)?)));
    let (right, left) = worn.both()?;
    let pair = PerEye {
        right: *right,
        left: *left,
    };
    aniseikonia(pair).ok()
}
