//! Checks of the centration distances.

use std::ops::Range;

use chrono::NaiveDate;

use super::remakes::cause_of_remake;
use super::vertex::difference_mm;
use super::{to_thousandth, values};
use crate::job::fields::at;
use crate::job::{Cause, Centration, CoverTest, Gate};
use crate::judge::derive::accuracy::place_budget;
use crate::judge::derive::places::near_cd_mm;
use crate::judge::derive::powers::powered_eyes;
use crate::judge::derive::powers::strength_d;
use crate::judge::gate::id::CheckId;
use crate::judge::gate::work::Work;
use crate::judge::gate::{About, Acceptable, Check, Context, PRACTICE, Severity};
use crate::practice::Threshold;
use crate::trade::eye::{Eye, PerEye};
use crate::trade::tolerance::DUST;
use crate::trade::tolerance::budget::Allowance;
use crate::trade::units::Millimetre;

const ANSUR: &str = "ANSUR II interpupillary breadth, 1st percentile of women to 99th of men; range of one eye and children's curve common practice";
const REPEAT: &str = "McMahon et al. 2012, 95 % limits of agreement of a pupil gauge";

fn distances(c: &Context<'_>) -> PerEye<Option<Millimetre>> {
    PerEye::from_fn(|eye| c.job.fitting.eye(eye).cd_mm)
}

pub(crate) static CENTRATION_MISSING: Check = Check {
    id: CheckId::CentrationMissing,
    about: Work::Wearer,
    gate: Gate::Ordered,
    at_every_gate: false,
    severity: Severity::Stop,
    accept: Acceptable::Nobody,
    holds_when: "an eye has no centration distance",
    ways_out: &["measure it"],
    source: PRACTICE,
    run: |c, found| {
        for eye in Eye::BOTH {
            let f = c.job.fitting.eye(eye);
            let near_only = c.job.lenses.is_near_single_vision() && f.near_cd_mm.is_some();
            if f.cd_mm.is_none() && !near_only {
                found.add(
                    eye,
                    at!(fitting[eye].cd_mm),
                    format!("no centration distance of the {eye} eye: measure it from the middle of the bridge"),
                    values! {"cd_mm" => f.cd_mm},
                    None,
                );
            }
        }
    },
};

pub(crate) static CENTRATION_METHOD: Check = Check {
    id: CheckId::CentrationMethod,
    about: Work::Wearer,
    gate: Gate::Ordered,
    at_every_gate: false,
    severity: Severity::Warning,
    accept: Acceptable::Registrant,
    holds_when: "measured without spectacles, and strength {strong-pair:2} D or more or a progressive, bifocal or near pair",
    ways_out: &["measure through the fitted frame"],
    source: PRACTICE,
    run: |c, found| {
        if c.job.fitting.centration != Some(Centration::WithoutSpectacles) {
            return;
        }
        let strength = strength_d(c.job);
        let strong = strength + DUST >= c.threshold(Threshold::Strong);
        let multifocal = c
            .job
            .lenses
            .design
            .is_some_and(crate::job::Design::needs_addition);
        let near = c.job.lenses.purpose == Some(crate::job::Purpose::Near);
        if strong || multifocal || near {
            found.add(
                About::Job,
                at!(fitting.centration),
                format!("centration taken without spectacles, strength {strength:.2} D: measure through the frame"),
                values! {
                    "centration" => c.job.fitting.centration, "strength_d" => to_thousandth(strength),
                    "design" => c.job.lenses.design, "purpose" => c.job.lenses.purpose,
                },
                Some("through the frame".to_owned()),
            );
        }
    },
};

/// The whole years of age for which a child's usual distance is known; from the next on, an adult's
/// range holds.
const CHILD_YEARS: Range<i32> = 1..16;

/// Returns the usual total centration distance of a child, mm, from the age in years with its
/// fraction: a curve through published series, 46.5 at one and a half years, 51 at 5, 59 at 15.
fn usual_child_pd_mm(age_years: f64) -> f64 {
    42.6 + 1.78 * age_years - 0.043 * age_years * age_years
}

/// Years between two days, with their fraction.
fn years_between(from: NaiveDate, to: NaiveDate) -> f64 {
    #[allow(
        clippy::cast_precision_loss,
        reason = "a count of days, far inside the exact whole numbers"
    )]
    let days = (to - from).num_days() as f64;
    days / 365.25
}

pub(crate) static PD_RANGE: Check = Check {
    id: CheckId::PdRange,
    about: Work::Wearer,
    gate: Gate::Ordered,
    at_every_gate: false,
    severity: Severity::Warning,
    accept: Acceptable::Registrant,
    holds_when: "an adult's total outside {adult-pd-low:0} to {adult-pd-high:0} mm or an eye outside {eye-pd-low:0} to {eye-pd-high:0}; a child's total more than {child-pd:1} mm from the usual one at that age",
    ways_out: &["measure again"],
    source: ANSUR,
    run: |c, found| {
        let cds = distances(c);
        let age = c.job.wearer.age_on(c.around.today);
        // No series of measurements reaches under a year.
        if age.is_some_and(|whole| whole < CHILD_YEARS.start) {
            return;
        }
        let child = c
            .job
            .wearer
            .born
            .filter(|_| age.is_some_and(|whole| CHILD_YEARS.contains(&whole)));
        let (low, high, who) = if let Some(born) = child {
            let years = years_between(born, c.around.today);
            let (usual, by) = (usual_child_pd_mm(years), c.threshold(Threshold::ChildPd));
            (
                usual - by,
                usual + by,
                format!("a child of {years:.1} years"),
            )
        } else {
            (
                c.threshold(Threshold::AdultPdLow),
                c.threshold(Threshold::AdultPdHigh),
                "an adult".to_owned(),
            )
        };
        if let Some((r, l)) = cds.both() {
            let total = r.get() + l.get();
            if total + DUST < low || total > high + DUST {
                found.add(
                    About::Pair,
                    at!(fitting.right.cd_mm),
                    format!(
                        "centration distances {r} and {l} mm make {total:.1} mm: unusual for {who}"
                    ),
                    values! {"right_mm" => r, "left_mm" => l},
                    Some(if child.is_some() {
                        format!("{low:.1} to {high:.1} mm")
                    } else {
                        format!("{low:.0} to {high:.0} mm")
                    }),
                );
            }
        }
        if child.is_some() {
            return;
        }
        let (low, high) = (
            c.threshold(Threshold::EyePdLow),
            c.threshold(Threshold::EyePdHigh),
        );
        for (eye, cd) in cds.iter() {
            if let Some(cd) = cd
                && (cd.get() + DUST < low || cd.get() > high + DUST)
            {
                found.add(
                    eye,
                    at!(fitting[eye].cd_mm),
                    format!("{eye} centration distance {cd} mm is unusual for one eye"),
                    values! {"cd_mm" => cd},
                    Some(format!("{low:.0} to {high:.0} mm")),
                );
            }
        }
    },
};

pub(crate) static PD_SUM: Check = Check {
    id: CheckId::PdSum,
    about: Work::Wearer,
    gate: Gate::Ordered,
    at_every_gate: false,
    severity: Severity::Warning,
    accept: Acceptable::Registrant,
    holds_when: "the binocular distance differs from the sum of the eyes' by more than {pd-sum:1} mm",
    ways_out: &["measure again"],
    source: PRACTICE,
    run: |c, found| {
        let cds = distances(c);
        if let (Some(pd), Some((r, l))) = (c.job.fitting.binocular_pd_mm, cds.both()) {
            let sum = r.get() + l.get();
            let limit = c.threshold(Threshold::PdSum);
            if (pd.get() - sum).abs() > limit + DUST {
                found.add(
                    About::Pair,
                    at!(fitting.binocular_pd_mm),
                    format!("binocular distance {pd} mm, the eyes' sum {sum:.1} mm"),
                    values! {"binocular_mm" => pd, "right_mm" => r, "left_mm" => l},
                    Some(format!("{limit:.1} mm")),
                );
            }
        }
    },
};

pub(crate) static PD_ASYMMETRY: Check = Check {
    id: CheckId::PdAsymmetry,
    about: Work::Wearer,
    gate: Gate::Ordered,
    at_every_gate: false,
    severity: Severity::Warning,
    accept: Acceptable::Registrant,
    holds_when: "the eyes differ by more than {pd-asymmetry:1} mm (a note from {pd-asymmetry-note:1})",
    ways_out: &["confirm with the frame on"],
    source: PRACTICE,
    run: |c, found| {
        if let Some((r, l)) = distances(c).both() {
            let apart = difference_mm(*r, *l);
            let (warn, note) = (
                c.threshold(Threshold::PdAsymmetry),
                c.threshold(Threshold::PdAsymmetryNote),
            );
            let severity = if apart > warn + DUST {
                Severity::Warning
            } else if apart + DUST >= note {
                Severity::Note
            } else {
                return;
            };
            found.add_as(
                severity,
                About::Pair,
                at!(fitting.right.cd_mm),
                format!("centration distances right {r}, left {l} mm: {apart:.1} mm apart"),
                values! {"right_mm" => r, "left_mm" => l},
                Some(format!("{warn:.1} mm")),
            );
        }
    },
};

pub(crate) static PD_REPEAT: Check = Check {
    id: CheckId::PdRepeat,
    about: Work::Wearer,
    gate: Gate::Ordered,
    at_every_gate: false,
    severity: Severity::Warning,
    accept: Acceptable::Registrant,
    holds_when: "a second reading differs by more than {pd-repeat:1} mm in an eye",
    ways_out: &["take a third reading and record the median"],
    source: REPEAT,
    run: |c, found| {
        let limit = c.threshold(Threshold::PdRepeat);
        for eye in Eye::BOTH {
            let first = c.job.fitting.eye(eye).cd_mm;
            let second = c.job.fitting.second(eye).and_then(|s| s.cd_mm);
            if let (Some(first), Some(second)) = (first, second)
                && difference_mm(first, second) > limit + DUST
            {
                found.add(
                    eye,
                    at!(fitting[eye].cd_mm),
                    format!("{eye} centration distance {first} mm, second reading {second} mm"),
                    values! {"first_mm" => first, "second_mm" => second},
                    Some(format!("{limit:.1} mm")),
                );
            }
        }
    },
};

pub(crate) static PD_NEAR: Check = Check {
    id: CheckId::PdNear,
    about: Work::Wearer,
    gate: Gate::Ordered,
    at_every_gate: false,
    severity: Severity::Warning,
    accept: Acceptable::Registrant,
    holds_when: "a near centration distance differs from the worked-out one by more than {pd-near:1} mm, or is the distance one again (within {pd-near-same:2} mm) where the worked-out one is smaller by {pd-near-clear:1} mm or more",
    ways_out: &["measure again at the task distance"],
    source: "Ellerbrock 1948 for the worked-out distance; limits common practice",
    run: |c, found| {
        let limit = c.threshold(Threshold::PdNear);
        let same = c.threshold(Threshold::PdNearSame);
        let clear = c.threshold(Threshold::PdNearClear);
        for eye in Eye::BOTH {
            let measured = c.job.fitting.eye(eye).near_cd_mm;
            let far = c.job.fitting.eye(eye).cd_mm;
            let (Some(near), Some(far), Some(worked)) = (measured, far, near_cd_mm(c.job, eye))
            else {
                continue;
            };
            let is_far_again =
                (near.get() - far.get()).abs() <= same + DUST && far.get() - worked + DUST >= clear;
            let says = if is_far_again {
                format!(
                    "{eye} near distance {near} mm is the distance one again ({far} mm), worked out {worked:.1} mm"
                )
            } else if (near.get() - worked).abs() > limit + DUST {
                format!("{eye} near distance {near} mm, worked out {worked:.1} mm")
            } else {
                continue;
            };
            found.add(
                eye,
                at!(fitting[eye].near_cd_mm),
                says,
                values! {
                    "near_cd_mm" => near, "worked_mm" => to_thousandth(worked),
                    "working_mm" => c.job.prescription.working_mm,
                },
                Some(format!("{limit:.1} mm")),
            );
        }
    },
};

pub(crate) static PD_WITH_DEVIATION: Check = Check {
    id: CheckId::PdWithDeviation,
    about: Work::Wearer,
    gate: Gate::Ordered,
    at_every_gate: false,
    severity: Severity::Warning,
    accept: Acceptable::Registrant,
    holds_when: "the cover test shows movement and no second reading was taken",
    ways_out: &["measure each eye with the other covered"],
    source: PRACTICE,
    run: |c, found| {
        let f = &c.job.fitting;
        let moves = matches!(
            f.cover_test,
            Some(CoverTest::WithSpectacles | CoverTest::WithoutSpectacles)
        );
        let again = Eye::BOTH
            .iter()
            .any(|eye| f.second(*eye).is_some_and(|s| s.cd_mm.is_some()));
        if moves && !again {
            found.add(
                About::Job,
                at!(fitting.second_reading.right.cd_mm),
                "the cover test shows movement and the distances were read once: read each eye with the other covered",
                values! {"cover_test" => f.cover_test, "second_reading" => f.second_reading},
                Some("a second reading".to_owned()),
            );
        }
    },
};

pub(crate) static MEASURE_TWICE: Check = Check {
    id: CheckId::MeasureTwice,
    about: Work::Wearer,
    gate: Gate::Ordered,
    at_every_gate: false,
    severity: Severity::Warning,
    accept: Acceptable::Registrant,
    holds_when: "a centration distance or height may be out by less than {budget-once:1} mm before the pair breaks the standard, and it was read once",
    ways_out: &["take it again"],
    source: "accuracy budget against the chosen standard; repeatability after McMahon et al. 2012",
    run: |c, found| {
        let limit = c.threshold(Threshold::BudgetOnce);
        let f = &c.job.fitting;
        let once = |eye| {
            let (first, second) = (f.eye(eye), f.second(eye));
            let height = |m| crate::judge::derive::places::design_height(c.job, m);
            first.cd_mm.is_some() && second.is_none_or(|s| s.cd_mm.is_none())
                || height(first).is_some() && second.is_none_or(|s| height(s).is_none())
        };
        // What was all read twice needs no budget worked out.
        if !powered_eyes(c.job).any(once) {
            return;
        }
        let Some(budget) = place_budget(c.job, c.around.practice) else {
            return;
        };
        for eye in powered_eyes(c.job) {
            let one = f.eye(eye);
            let second = f.second(eye);
            let height = crate::judge::derive::places::design_height(c.job, one);
            let second_height =
                second.and_then(|s| crate::judge::derive::places::design_height(c.job, s));
            let rows = [
                (
                    "cd_mm",
                    "centration distance",
                    one.cd_mm,
                    second.and_then(|s| s.cd_mm),
                    budget.cd_mm.get(eye),
                ),
                (
                    "height_mm",
                    "height",
                    height,
                    second_height,
                    budget.height_mm.get(eye),
                ),
            ];
            for (field, name, first, again, allowance) in rows {
                let Some(by) = allowance.as_ref().and_then(Allowance::smallest) else {
                    continue;
                };
                if first.is_some() && again.is_none() && by < limit - 1e-6 {
                    found.add(
                        eye,
                        format!("fitting.second_reading.{eye}.{field}"),
                        format!("{eye} {name} may be out by {by:.2} mm at most and was read once: take it again"),
                        values! {"first_mm" => first, "budget_mm" => to_thousandth(by)},
                        Some(format!("{limit:.1} mm")),
                    );
                }
            }
        }
    },
};

pub(crate) static CD_CHANGE: Check = Check {
    id: CheckId::CdChange,
    about: Work::Wearer,
    gate: Gate::Ordered,
    at_every_gate: false,
    severity: Severity::Warning,
    accept: Acceptable::Registrant,
    holds_when: "an eye's centration distance differs from that of the previous pair by more than {cd-change:1} mm; silent where a second reading agrees within {cd-agree:1} mm, and in a remake because of the centration",
    ways_out: &["measure again", "ask how the previous pair was"],
    source: PRACTICE,
    run: |c, found| {
        let f = &c.job.fitting;
        let previous = c.job.prescription.previous.as_ref();
        let (limit, agree) = (
            c.threshold(Threshold::CdChange),
            c.threshold(Threshold::CdAgree),
        );
        // It is made again because the distance was wrong: another one is what is wanted.
        if cause_of_remake(c) == Some(Cause::Centration) {
            return;
        }
        for eye in Eye::BOTH {
            let (Some(now), Some(before)) = (f.eye(eye).cd_mm, previous.and_then(|p| p.cd_mm(eye)))
            else {
                continue;
            };
            let again = f.second(eye).and_then(|s| s.cd_mm);
            let is_confirmed = again.is_some_and(|a| difference_mm(now, a) <= agree + DUST);
            let apart = difference_mm(now, before);
            if apart > limit + DUST && !is_confirmed {
                found.add(
                    eye,
                    at!(fitting[eye].cd_mm),
                    format!("{eye} centration distance {now} mm, in the previous pair {before} mm: {apart:.1} mm apart; measure again"),
                    values! {"cd_mm" => now, "previous_mm" => before, "second_mm" => again},
                    Some(format!("{limit:.1} mm")),
                );
            }
        }
    },
};
