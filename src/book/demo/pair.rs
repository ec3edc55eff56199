//! An invented pair of spectacles for an invented wearer: from the prescription to the handover.

use chrono::{Days, NaiveDate};

use super::random::Throws;
use super::refraction::{Power, addition, refraction};
use super::wearer::{Lists, Person};
use crate::job::{
    Advice, Centration, Condition, CoverTest, Design, EyeFitting, EyeHandover, EyePower,
    EyePrescription, EyeReading, Fitting, Frame, FrameMaterial, Handover, Job, Lenses, Markings,
    Order, PadMaterial, PadMount, Pads, Powers, PowersAs, Prescription, Purpose, Readings, Reason,
    Rim, SecondReading, SideShape, Surface, whole_years,
};
use crate::trade::units::{Degree, Dioptre, Millimetre};

/// The people of `demo-db/staff.json` who measure and read in the invented book.
pub(super) const OPTICIAN: &str = "Hanne Sorrel";
const PRESCRIBER: (&str, &str) = ("Marek Aldous", "OO-00002");

#[allow(
    clippy::unnecessary_wraps,
    reason = "every length of a job may be absent"
)]
const fn mm(thousandths: i32) -> Option<Millimetre> {
    Some(Millimetre::from_thousandths(thousandths))
}

const fn whole_mm(length: i32) -> Option<Millimetre> {
    mm(length * 1000)
}

#[allow(
    clippy::unnecessary_wraps,
    reason = "every angle of a job may be absent"
)]
const fn degrees(whole: i32) -> Option<Degree> {
    Some(Degree::from_thousandths(whole * 1000))
}

fn dioptres(thousandths: i32) -> Option<Dioptre> {
    (thousandths != 0).then_some(Dioptre::from_thousandths(thousandths))
}

fn back(day: NaiveDate, days: u64) -> NaiveDate {
    day.checked_sub_days(Days::new(days)).unwrap_or(day)
}

pub(super) fn on(day: NaiveDate, days: u64) -> NaiveDate {
    day.checked_add_days(Days::new(days)).unwrap_or(day)
}

/// What was prescribed for one eye, as it is ordered.
fn power(eye: Power, add: i32) -> EyePower {
    EyePower {
        sphere_d: Some(Dioptre::from_thousandths(eye.sphere)),
        cylinder_d: dioptres(eye.cylinder),
        axis_deg: (eye.cylinder != 0).then(|| Degree::from_thousandths(eye.axis * 1000)),
        addition_d: dioptres(add),
        ..EyePower::default()
    }
}

fn prescribed(of: &EyePower) -> EyePrescription {
    EyePrescription {
        sphere_d: of.sphere_d,
        cylinder_d: of.cylinder_d,
        axis_deg: of.axis_deg,
        addition_d: of.addition_d,
        acuity: Some("6/6".to_owned()),
        ..EyePrescription::default()
    }
}

/// A pair as it is measured and chosen on a day, with everything but what a laboratory returns.
pub(super) fn measured(throws: &mut Throws, lists: &Lists, person: &Person, day: NaiveDate) -> Job {
    let age = whole_years(person.born, day);
    let (right, left) = refraction(throws, age);
    let is_progressive = age >= 45 && throws.chance(60);
    let add = if is_progressive { addition(age) } else { 0 };
    let (right, left) = (power(right, add), power(left, add));
    let prescription = Prescription {
        tested_on: Some(back(day, throws.below(20))),
        prescriber: Some(PRESCRIBER.0.to_owned()),
        prescriber_registration: Some(PRESCRIBER.1.to_owned()),
        tested_vertex_mm: whole_mm(12),
        right: prescribed(&right),
        left: prescribed(&left),
        ..Prescription::default()
    };
    let frame = frame(throws, lists, age);
    let design = if is_progressive {
        Design::Progressive
    } else {
        Design::SingleVision
    };
    let strongest = [&right, &left]
        .iter()
        .filter_map(|p| p.sphere_d)
        .map(|d| d.thousandths().abs())
        .max()
        .unwrap_or(0);
    let lenses = Lenses {
        purpose: Some(if is_progressive {
            Purpose::General
        } else {
            Purpose::Distance
        }),
        design: Some(design),
        material: Some(
            if strongest > 5000 {
                "resin 1.67"
            } else {
                "resin 1.60"
            }
            .to_owned(),
        ),
        coatings: Some(vec!["hard".to_owned(), "anti-reflection".to_owned()]),
        corridor_mm: whole_mm(14).filter(|_| is_progressive),
        minimum_height_mm: whole_mm(18).filter(|_| is_progressive),
        powers: Some(Powers {
            kind: Some(PowersAs::Prescribed),
            by: Some(OPTICIAN.to_owned()),
            right,
            left,
            ..Powers::default()
        }),
        ..Lenses::default()
    };
    Job {
        reason: Some(Reason::New),
        promised_on: Some(on(day, 12)),
        wearer: person.wearer.clone(),
        prescription,
        fitting: fitting(throws, person, age, &frame, day),
        order: Order {
            laboratory: throws.pick(&lists.laboratories).cloned(),
            due_on: Some(on(day, 9)),
            reference: Some(format!("N-{}", throws.below(100_000))),
            ..Order::default()
        },
        frame,
        lenses,
        ..Job::default()
    }
}

fn frame(throws: &mut Throws, lists: &Lists, age: i32) -> Frame {
    let shape = if age < 12 {
        lists.frames.last()
    } else {
        throws.pick(&lists.frames)
    };
    let Some(shape) = shape else {
        return Frame::default();
    };
    let material = if shape.metal {
        FrameMaterial::Titanium
    } else {
        FrameMaterial::Acetate
    };
    let colours = ["grey", "black", "brown", "blue", "green", "red"];
    Frame {
        name: Some(shape.name.clone()),
        colour: throws.pick(&colours).map(|&c| c.to_owned()),
        owned_by_wearer: Some(false),
        a_mm: whole_mm(shape.a),
        b_mm: whole_mm(shape.b),
        ed_mm: whole_mm(shape.ed),
        dbl_mm: whole_mm(shape.dbl),
        side_mm: whole_mm(140),
        length_to_bend_mm: whole_mm(96),
        front_width_mm: whole_mm(2 * shape.a + shape.dbl + 19),
        front_material: Some(material),
        side_material: Some(material),
        contains_nickel: Some(false),
        rim: Some(Rim::Full),
        side_shape: Some(SideShape::Straight),
        condition: Some(Condition::New),
        pads: shape.metal.then(|| Pads {
            mount: Some(PadMount::Screw),
            size_mm: whole_mm(13),
            material: Some(PadMaterial::HardPlastic),
        }),
        ..Frame::default()
    }
}

fn fitting(
    throws: &mut Throws,
    person: &Person,
    age: i32,
    frame: &Frame,
    day: NaiveDate,
) -> Fitting {
    // A child's pupils are closer together: half a millimetre less for each year below 18.
    let pd = person.pd - 500 * (18 - age).clamp(0, 14);
    // Half millimetres, as they are read.
    let cd_right = (pd / 2 + throws.between(-500, 500)) / 500 * 500;
    let cd_left = (pd - cd_right) / 500 * 500;
    let height = frame.b_mm.map_or(17_000, Millimetre::thousandths) / 2000 * 1000
        + 1000 * throws.between(1, 4);
    let eye = |cd| EyeFitting {
        cd_mm: mm(cd),
        height_mm: mm(height),
        vertex_mm: whole_mm(12),
        length_to_bend_mm: whole_mm(96),
        ..EyeFitting::default()
    };
    let again = |cd| EyeFitting {
        cd_mm: mm(cd),
        height_mm: mm(height),
        ..EyeFitting::default()
    };
    Fitting {
        taken_by: Some(OPTICIAN.to_owned()),
        taken_on: Some(day),
        centration: Some(Centration::ThroughTheFrame),
        cover_test: Some(CoverTest::NoMovement),
        binocular_pd_mm: mm(cd_right + cd_left),
        right: eye(cd_right),
        left: eye(cd_left),
        pantoscopic_deg: degrees(6),
        face_form_deg: degrees(3),
        head_width_mm: frame.front_width_mm,
        second_reading: Some(SecondReading {
            binocular_pd_mm: mm(cd_right + cd_left),
            right: again(cd_right),
            left: again(cd_left),
            pantoscopic_deg: degrees(6),
            ..SecondReading::default()
        }),
        ..Fitting::default()
    }
}

/// What was read of the pair as it came back: now and then a little off.
pub(super) fn readings(throws: &mut Throws, job: &Job, day: NaiveDate) -> Readings {
    let powers = job.lenses.powers.clone().unwrap_or_default();
    let mut eye = |power: &EyePower, fit: &EyeFitting| {
        let off = 500 * throws.between(-1, 1) * i32::from(throws.chance(15));
        EyeReading {
            sphere_d: power.sphere_d,
            cylinder_d: power.cylinder_d,
            axis_deg: power.axis_deg,
            addition_d: power.addition_d,
            base_in_delta: Some(crate::trade::units::PrismDioptre::default()),
            base_up_delta: Some(crate::trade::units::PrismDioptre::default()),
            // A near pair is centred near: its prism is read at that point, not its distance.
            cd_mm: fit
                .cd_mm
                .filter(|_| !job.lenses.is_near_single_vision())
                .map(|cd| Millimetre::from_thousandths(cd.thousandths() + off)),
            height_mm: fit.height_mm,
            ..EyeReading::default()
        }
    };
    Readings {
        taken_by: Some(OPTICIAN.to_owned()),
        taken_on: Some(day),
        right: eye(&powers.right, &job.fitting.right),
        left: eye(&powers.left, &job.fitting.left),
        surface: Some(Surface::Clean),
        markings: (job.lenses.design == Some(Design::Progressive)).then_some(Markings::Correct),
        material_confirmed: Some(true),
        coatings_confirmed: Some(true),
        frame_trued: Some(true),
        mounting_sound: Some(true),
        ..Readings::default()
    }
}

/// How the pair was handed over.
pub(super) fn handover(job: &Job, day: NaiveDate) -> Handover {
    let eye = |fit: &EyeFitting| EyeHandover {
        vertex_mm: fit.vertex_mm,
        length_to_bend_mm: fit.length_to_bend_mm,
        height_mm: fit.height_mm,
        ..EyeHandover::default()
    };
    Handover {
        given_by: Some(OPTICIAN.to_owned()),
        given_on: Some(day),
        identity_checked: Some(true),
        right: eye(&job.fitting.right),
        left: eye(&job.fitting.left),
        pantoscopic_deg: job.fitting.pantoscopic_deg,
        face_form_deg: job.fitting.face_form_deg,
        pads_level: Some(true),
        sides_even: Some(true),
        no_pressure_marks: Some(true),
        distance_acuity: Some("6/6".to_owned()),
        near_acuity: Some("N5".to_owned()),
        comfortable: Some(true),
        advice: Some(vec![
            Advice::Adaptation,
            Advice::Driving,
            Advice::Care,
            Advice::Aftercare,
        ]),
        collected_by: Some("wearer".to_owned()),
        ..Handover::default()
    }
}
