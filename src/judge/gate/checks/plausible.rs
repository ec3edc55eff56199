//! What cannot be: days out of their order, vertex distances that no pair is worn at.
//!
//! Other values of the fitting have ranges of their own (`pd-range`, `tilt-range`, `frame-boxed`).

use crate::job::fields::at;
use crate::judge::gate::id::CheckId;
use crate::judge::gate::work::Work;
use chrono::NaiveDate;

use super::values;
use crate::job::Gate;
use crate::judge::gate::{About, Acceptable, Check, Context, PRACTICE, Severity};
use crate::practice::Threshold;
use crate::trade::eye::Eye;

/// Two days that cannot lie as they do: the field, the sentence, the days.
type Fault = (&'static str, String, NaiveDate, NaiveDate);

fn faults(c: &Context<'_>) -> Vec<Fault> {
    let today = c.around.today;
    let job = c.job;
    let mut all: Vec<Fault> = Vec::new();
    for (field, what, day) in [
        (at!(wearer.born).full(), "the day of birth", job.wearer.born),
        (
            at!(prescription.tested_on).full(),
            "the day of the sight test",
            job.prescription.tested_on,
        ),
        (
            at!(fitting.taken_on).full(),
            "the day of the measurements",
            job.fitting.taken_on,
        ),
        (
            at!(order.ordered_on).full(),
            "the day of the order",
            job.order.ordered_on,
        ),
    ] {
        if let Some(day) = day.filter(|d| *d > today) {
            all.push((
                field,
                format!("{what}, {day}, is yet to come: today is {today}"),
                day,
                today,
            ));
        }
    }
    if let (Some(born), Some(tested)) = (job.wearer.born, job.prescription.tested_on)
        && born > tested
    {
        all.push((
            at!(wearer.born).full(),
            format!("born on {born}, tested on {tested}: the test lies before the birth"),
            born,
            tested,
        ));
    }
    all
}

pub(crate) static DAYS_IMPOSSIBLE: Check = Check {
    id: CheckId::DaysImpossible,
    about: Work::Wearer,
    gate: Gate::Ordered,
    at_every_gate: false,
    severity: Severity::Stop,
    accept: Acceptable::Nobody,
    holds_when: "a day of birth, test, measurement or order lies ahead, or the test before the birth",
    ways_out: &["read the day again and correct it"],
    source: PRACTICE,
    run: |c, found| {
        for (field, says, day, other) in faults(c) {
            found.add(
                About::Job,
                field,
                says,
                values! {"day" => day, "other" => other},
                None,
            );
        }
    },
};

pub(crate) static VERTEX_RANGE: Check = Check {
    id: CheckId::VertexRange,
    about: Work::Wearer,
    gate: Gate::Ordered,
    at_every_gate: false,
    severity: Severity::Warning,
    accept: Acceptable::Registrant,
    holds_when: "a tested or fitted vertex distance outside {vertex-low:0} to {vertex-high:0} mm",
    ways_out: &["measure again", "ask the prescriber"],
    source: PRACTICE,
    run: |c, found| {
        let (least, most) = (
            c.threshold(Threshold::VertexLow),
            c.threshold(Threshold::VertexHigh),
        );
        let tested = c.job.prescription.tested_vertex_mm;
        let all = [(
            About::Job,
            at!(prescription.tested_vertex_mm).full_path(),
            "tested",
            tested,
        )]
        .into_iter()
        .chain(Eye::BOTH.map(|eye| {
            let fitted = c.job.fitting.eye(eye).vertex_mm;
            (
                About::from(eye),
                at!(fitting[eye].vertex_mm).full_path(),
                "fitted",
                fitted,
            )
        }));
        for (about, field, which, mm) in all {
            let Some(mm) = mm else { continue };
            if c.around.practice.thresholds.is_worn_at(mm) {
                continue;
            }
            found.add(
                about,
                field,
                format!("the {which} vertex distance is {mm} mm: a pair is worn at {least} to {most} mm; look for a missing point or a digit too many before any power is changed for it"),
                values! {"mm" => mm},
                Some(format!("{least} to {most} mm")),
            );
        }
    },
};
