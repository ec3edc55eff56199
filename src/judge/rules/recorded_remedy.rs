//! Remedies that are recorded values, which one key does. None of them is ever a measurement, and what
//! each does is said in numbers before it is done.

use serde_json::{Value, json};

use crate::job::fields::{FieldRef, at, change};
use crate::job::{Compensator, EyePower, Job, PowersAs, Section, power_to_order};
use crate::judge::derive::compensates::{contained, who_compensates};
use crate::judge::derive::compensation::expected;
use crate::judge::derive::lens::least_blank_mm;
use crate::judge::derive::lowering::{WornChange, helps};
use crate::judge::derive::places::{near_cd_mm, ordered_cd};
use crate::judge::derive::powers::{ordered_or_prescribed, powered_eyes, prescribed, written};
use crate::judge::rules::remedy::{EIGHTH_D, QUARTER_D};
use crate::trade::eye::Eye;
use crate::trade::optics::Rx;
use crate::trade::optics::vertex::{round_to_step, vertex};
use crate::trade::tolerance::DUST;
use crate::trade::units::{Degree, Dioptre};

/// The finest step in which a power is written, dioptres.
const HUNDREDTH_D: f64 = 0.01;
/// The largest uncut lens that is offered, mm: larger ones are seldom made (common practice).
const LARGEST_BLANK_MM: f64 = 85.0;

/// A remedy that is recorded at once.
#[derive(Debug, Clone, PartialEq)]
pub struct RecordedRemedy {
    /// What it does, in numbers, as a person is told to.
    pub words: String,
    /// The same in a row beside others.
    pub short: String,
    /// Section of the job that it changes.
    pub section: Section,
    /// The change, merged by RFC 7396.
    pub change: Value,
    /// The entry that names the registered person who does it; `None` where anybody may.
    signed: Option<FieldRef>,
}

impl RecordedRemedy {
    fn new(words: String, values: &[(FieldRef, Value)]) -> Self {
        let mut remedy = Self {
            short: words.clone(),
            words,
            section: values.first().map_or(Section::Lenses, |(f, _)| f.section),
            change: json!({}),
            signed: None,
        };
        for (field, value) in values {
            set(&mut remedy.change, field, value.clone());
        }
        remedy
    }

    /// Whether only a registered person may do it.
    pub fn needs_registrant(&self) -> bool {
        self.signed.is_some()
    }

    /// Returns the change as somebody makes it, who is named where the remedy asks for it.
    pub fn change_by(&self, name: &str) -> Value {
        let mut all = self.change.clone();
        if let Some(field) = self.signed {
            set(&mut all, field, json!(name));
        }
        all
    }
}

/// Puts a value into a change; `Null` there removes what is recorded.
fn set(all: &mut Value, field: FieldRef, value: Value) {
    let place = field.path.split('.').fold(all, |part, key| &mut part[key]);
    *place = value;
}

/// The values of an eye's ordered power; what it does not have is removed.
fn power_values(eye: Eye, power: &EyePower) -> [(FieldRef, Value); 6] {
    [
        (at!(lenses.powers[eye].sphere_d), json!(power.sphere_d)),
        (at!(lenses.powers[eye].cylinder_d), json!(power.cylinder_d)),
        (at!(lenses.powers[eye].axis_deg), json!(power.axis_deg)),
        (at!(lenses.powers[eye].addition_d), json!(power.addition_d)),
        (
            at!(lenses.powers[eye].base_in_delta),
            json!(power.base_in_delta),
        ),
        (
            at!(lenses.powers[eye].base_up_delta),
            json!(power.base_up_delta),
        ),
    ]
}

/// What eyes have in words: `right -2.25, left plano`.
fn by_eye(of: impl IntoIterator<Item = (Eye, String)>) -> String {
    let parts: Vec<String> = of.into_iter().map(|(e, s)| format!("{e} {s}")).collect();
    parts.join(", ")
}

/// Lowers the optical centres for the tilt, where that makes the worse of the eyes better.
pub(crate) fn lower_centres(
    job: &Job,
    change_of: impl Fn(Eye) -> Option<WornChange>,
) -> Option<RecordedRemedy> {
    let mut lowered_mm = None;
    let (mut worst_now, mut worst_after) = (0.0_f64, 0.0_f64);
    let mut remaining = Vec::new();
    for eye in powered_eyes(job) {
        let (Some(rx), Some(now)) = (ordered_or_prescribed(job, eye), change_of(eye)) else {
            continue;
        };
        worst_now = worst_now.max(now.largest_d());
        let after = match helps(job, eye, rx, now) {
            Some((mm, after)) => {
                lowered_mm = Some(mm);
                after
            }
            None => now,
        };
        worst_after = worst_after.max(after.largest_d());
        remaining.push((eye, format!("{:.2}", after.largest_d())));
    }
    let mm = lowered_mm.filter(|_| worst_after < worst_now)?;
    Some(RecordedRemedy::new(
        format!(
            "order the centres {mm:.1} mm below the pupils: leaves {} D",
            by_eye(remaining)
        ),
        &[(at!(lenses.lowered_mm), json!(mm))],
    ))
}

/// Leaves tilt and face form to the laboratory, as far as they are measured.
pub(crate) fn laboratory_for_angles(job: &Job) -> Option<RecordedRemedy> {
    let who = who_compensates(job);
    let f = &job.fitting;
    let angles = [
        (
            "tilt",
            f.pantoscopic_deg
                .filter(|_| who.tilt == Compensator::Nobody),
            at!(lenses.compensates.tilt),
        ),
        (
            "face form",
            f.face_form_deg
                .filter(|_| who.face_form == Compensator::Nobody),
            at!(lenses.compensates.face_form),
        ),
    ];
    let open: Vec<_> = angles
        .into_iter()
        .filter_map(|(what, angle, field)| Some((format!("{what} {}°", angle?), field)))
        .collect();
    let what: Vec<&str> = open.iter().map(|(what, _)| what.as_str()).collect();
    laboratory_for(
        job,
        &what.join(" and "),
        open.iter().map(|(_, field)| *field),
    )
}

/// Leaves the vertex distance to the laboratory.
pub(crate) fn laboratory_for_vertex(job: &Job) -> Option<RecordedRemedy> {
    laboratory_for(
        job,
        "the vertex distance",
        std::iter::once(at!(lenses.compensates.vertex)),
    )
}

fn laboratory_for(
    job: &Job,
    what: &str,
    fields: impl Iterator<Item = FieldRef>,
) -> Option<RecordedRemedy> {
    let mut values: Vec<(FieldRef, Value)> = fields
        .map(|field| (field, json!(Compensator::Laboratory)))
        .collect();
    let kind = job.lenses.powers_as().filter(|k| k.is_as_written());
    if values.is_empty() || kind.is_none() {
        return None;
    }
    values.push((
        at!(lenses.powers.as),
        json!(PowersAs::LaboratoryCompensated),
    ));
    let mut remedy = RecordedRemedy::new(
        format!("let the laboratory compensate for {what} and state what a focimeter reads"),
        &values,
    );
    remedy.short = format!("let the laboratory compensate for {what}");
    Some(remedy)
}

/// An eye's power in a step: as it is ordered, the axis in whole degrees.
fn in_step(rx: Rx, step_d: f64) -> (Rx, Dioptre, Option<(Dioptre, Degree)>) {
    let rounded = round_to_step(rx, step_d);
    let sphere = Dioptre::nearest(rounded.sphere_d);
    let cylinder = Dioptre::nearest(rounded.cylinder_d);
    let axis = rounded.axis_deg.round().rem_euclid(180.0);
    let axis = if axis < 0.5 { 180.0 } else { axis };
    let turned = Degree::new(axis)
        .ok()
        .filter(|_| cylinder != Dioptre::ZERO)
        .map(|axis| (cylinder, axis));
    let kept = Rx::new(
        sphere.get(),
        turned.map_or(0.0, |(c, _)| c.get()),
        turned.map_or(180.0, |(_, a)| a.get()),
    );
    (kept, sphere, turned)
}

/// Orders the powers of some eyes compensated by the practice, in quarters, eighths or hundredths, as far
/// as each agrees with the compensation to `agreement_d`; for a registered person.
///
/// What is left is the largest principal power by which the step differs from what is needed where the
/// lens sits: of the vertex distance, whose compensation is for the mean of both eyes, at the eye's own.
pub(crate) fn compensate(
    job: &Job,
    eyes: &[Eye],
    kind: PowersAs,
    agreement_d: f64,
) -> Vec<RecordedRemedy> {
    let mut ways: Vec<RecordedRemedy> = Vec::new();
    let steps = [
        ("quarters", QUARTER_D),
        ("eighths", EIGHTH_D),
        ("hundredths", HUNDREDTH_D),
    ]
    .into_iter()
    .filter_map(|(step, step_d)| {
        let mut values = vec![
            (at!(lenses.powers.as), json!(kind)),
            (at!(lenses.powers.because), Value::Null),
            (at!(lenses.powers.distance_mm), Value::Null),
        ];
        for (by, field) in practice_compensates(job, kind) {
            if by != Compensator::Practice {
                values.push((field, json!(Compensator::Practice)));
            }
        }
        let mut said = Vec::new();
        let mut left_d = 0.0_f64;
        for eye in eyes {
            let wanted = expected(job, *eye, kind)?;
            let (rx, sphere, turned) = in_step(wanted, step_d);
            if (rx.matrix() - wanted.matrix()).largest_d() > agreement_d + DUST {
                return None;
            }
            let needed = needed_where_it_sits(job, *eye, kind).unwrap_or(wanted);
            left_d = left_d.max((rx.matrix() - needed.matrix()).largest_d());
            let as_prescribed = power_to_order(job.prescription.eye(*eye), &job.lenses);
            let power = EyePower {
                sphere_d: Some(sphere),
                cylinder_d: turned.map(|(cylinder, _)| cylinder),
                axis_deg: turned.map(|(_, axis)| axis),
                ..as_prescribed
            };
            values.extend(power_values(*eye, &power));
            said.push((*eye, written(rx)));
        }
        let powers = by_eye(said);
        let words = format!("order {kind} in {step}: {powers}; leaves at most {left_d:.2} D");
        let mut remedy = RecordedRemedy::new(words, &values);
        remedy.short = format!("{step}: {powers}: {left_d:.2} D");
        remedy.signed = Some(at!(lenses.powers.by));
        Some(remedy)
    });
    for way in steps {
        // A finer step that comes to the same powers is no other way.
        if ways.iter().all(|w| w.change != way.change) {
            ways.push(way);
        }
    }
    ways
}

/// What is recorded of who compensates for what powers of a kind contain.
fn practice_compensates(job: &Job, kind: PowersAs) -> Vec<(Compensator, FieldRef)> {
    let said = job.lenses.compensates.clone().unwrap_or_default();
    let is_in = contained(kind);
    [
        (is_in.vertex, said.vertex, at!(lenses.compensates.vertex)),
        (is_in.tilt, said.tilt, at!(lenses.compensates.tilt)),
        (
            is_in.face_form,
            said.face_form,
            at!(lenses.compensates.face_form),
        ),
    ]
    .into_iter()
    .filter(|(is_contained, ..)| *is_contained)
    .map(|(_, by, field)| (by.unwrap_or(Compensator::Nobody), field))
    .collect()
}

/// What is needed at an eye's own vertex distance, where the compensation is for that alone.
fn needed_where_it_sits(job: &Job, eye: Eye, kind: PowersAs) -> Option<Rx> {
    if kind != PowersAs::VertexCompensated {
        return None;
    }
    let tested = job.prescription.tested_vertex_mm?.get();
    let sits = job.fitting.eye(eye).vertex_mm?.get();
    let rx = prescribed(job, eye)?;
    vertex(rx, tested, sits).ok()
}

/// Orders the prescription of some eyes as it is written.
pub(crate) fn order_as_written(job: &Job, eyes: &[Eye]) -> Option<RecordedRemedy> {
    let mut values = Vec::new();
    let mut said = Vec::new();
    for eye in eyes {
        let power = power_to_order(job.prescription.eye(*eye), &job.lenses);
        said.push((*eye, written(power.rx()?)));
        values.extend(power_values(*eye, &power));
    }
    let words = format!("order the prescription as it is written: {}", by_eye(said));
    (!values.is_empty()).then(|| RecordedRemedy::new(words, &values))
}

/// Orders the prescription in the place of powers that were altered by somebody who may not.
pub(crate) fn order_prescribed(job: &Job) -> Option<RecordedRemedy> {
    let eyes: Vec<Eye> = powered_eyes(job).collect();
    let mut remedy = order_as_written(job, &eyes)?;
    let said = job.lenses.compensates.clone().unwrap_or_default();
    let mut values = vec![
        (at!(lenses.powers.as), json!(PowersAs::Prescribed)),
        (at!(lenses.powers.by), Value::Null),
        (at!(lenses.powers.because), Value::Null),
        (at!(lenses.powers.distance_mm), Value::Null),
    ];
    for (by, field) in [
        (said.vertex, at!(lenses.compensates.vertex)),
        (said.tilt, at!(lenses.compensates.tilt)),
        (said.face_form, at!(lenses.compensates.face_form)),
    ] {
        if by == Some(Compensator::Practice) {
            values.push((field, json!(Compensator::Nobody)));
        }
    }
    for (field, value) in values {
        set(&mut remedy.change, field, value);
    }
    Some(remedy)
}

/// Leaves to the practice what its powers contain already.
pub(crate) fn not_by_laboratory_too(what: &str) -> Option<RecordedRemedy> {
    let field = match what {
        "vertex distance" => at!(lenses.compensates.vertex),
        "tilt" => at!(lenses.compensates.tilt),
        "face form" => at!(lenses.compensates.face_form),
        _ => return None,
    };
    Some(RecordedRemedy::new(
        format!("record that the practice, whose powers contain it, compensates for {what}"),
        &[(field, json!(Compensator::Practice))],
    ))
}

/// Leaves a recorded near centration distance out, so that a near pair is ordered to the worked-out one,
/// where that agrees with the task to `within_mm`.
pub(crate) fn near_cd_worked_out(job: &Job, eye: Eye, within_mm: f64) -> Option<RecordedRemedy> {
    let recorded = job.fitting.eye(eye).near_cd_mm?;
    let field = at!(fitting[eye].near_cd_mm);
    let mut after = job.clone();
    after
        .record(Section::Fitting, &change(field, Value::Null))
        .ok()?;
    let (mm, source) = ordered_cd(&after, eye)?;
    let is_near = (mm - near_cd_mm(job, eye)?).abs() <= within_mm + DUST;
    let is_centred_near = ordered_cd(job, eye)?.1 != source && !source.words().is_empty();
    (is_near && is_centred_near).then(|| {
        RecordedRemedy::new(
            format!(
                "leave the {eye} {recorded} mm out and order {mm:.1} mm, {}",
                source.words()
            ),
            &[(field, Value::Null)],
        )
    })
}

/// Orders an uncut lens that holds both shapes, in whole millimetres.
pub(crate) fn larger_blank(job: &Job) -> Option<RecordedRemedy> {
    let needed = Eye::BOTH
        .into_iter()
        .filter_map(|eye| least_blank_mm(job, eye))
        .fold(0.0, f64::max)
        .ceil();
    (needed > 0.0 && needed <= LARGEST_BLANK_MM).then(|| {
        RecordedRemedy::new(
            format!("order an uncut lens of {needed:.0} mm"),
            &[(at!(lenses.blank_mm), json!(needed))],
        )
    })
}
