//! Checks of the readings themselves: complete, and what else was looked at when they were taken.

use super::impact::add_mark_not_as_ordered;
use super::{power_value, to_thousandth, values};
use crate::job::fields::{FieldRef, at};
use crate::job::{Design, Gate, Job, Markings, Purpose, Surface};
use crate::judge::derive::compensates::{laboratory_states, who_compensates};
use crate::judge::derive::compensation::{left_out, own_reading};
use crate::judge::derive::powers::powered_eyes;
use crate::judge::derive::verification::target;
use crate::judge::gate::id::CheckId;
use crate::judge::gate::work::{Seen, Work};
use crate::judge::gate::{About, Acceptable, Check, PRACTICE, Severity};
use crate::practice::Threshold;
use crate::trade::eye::Eye;
use crate::trade::tolerance::DUST;
use crate::trade::tolerance::{LineEye, Quantity};
use serde_json::Value;

const ISO: &str = "ISO 21987:2017 (ANSI Z80.1-2015 agrees)";

fn about(eye: LineEye) -> About {
    eye.eye().map_or(About::Pair, About::from)
}

/// The entry at which a quantity of a lens is read.
fn entry_of(job: &Job, what: Quantity, eye: Eye) -> FieldRef {
    let has_segment = job.lenses.design.is_some_and(Design::has_segment);
    match what {
        Quantity::Centration => at!(readings[eye].cd_mm),
        Quantity::Height | Quantity::HeightDifference if has_segment => {
            at!(readings[eye].segment_height_mm)
        }
        Quantity::Height | Quantity::HeightDifference => at!(readings[eye].height_mm),
        Quantity::Addition => at!(readings[eye].addition_d),
        Quantity::PrismHorizontal => at!(readings[eye].base_in_delta),
        Quantity::PrismVertical => at!(readings[eye].base_up_delta),
        Quantity::Cylinder => at!(readings[eye].cylinder_d),
        Quantity::Axis => at!(readings[eye].axis_deg),
        Quantity::PowerAlongAxis | Quantity::PowerAcrossAxis => at!(readings[eye].sphere_d),
    }
}

/// Whether neither the prism of a lens in one direction was read nor where its centre lies.
fn lacks_prism(job: &Job, eye: Eye, what: Quantity) -> bool {
    let r = job.readings.eye(eye);
    match what {
        Quantity::PrismHorizontal => r.base_in_delta.is_none() && r.cd_mm.is_none(),
        Quantity::PrismVertical => r.base_up_delta.is_none() && r.height_mm.is_none(),
        _ => false,
    }
}

pub(crate) static READINGS_MISSING: Check = Check {
    id: CheckId::ReadingsMissing,
    about: Work::Bench,
    gate: Gate::Verified,
    at_every_gate: false,
    severity: Severity::Stop,
    accept: Acceptable::Nobody,
    holds_when: "an eye has no focimeter reading, nobody is named who read, or the prism or place the standard needs was not read",
    ways_out: &["read it"],
    source: ISO,
    run: |c, found| {
        let r = &c.job.readings;
        if r.taken_by.as_deref().is_none_or(|t| t.trim().is_empty()) {
            found.add(
                About::Job,
                at!(readings.taken_by),
                "nobody is named who read the pair",
                values! {"taken_by" => r.taken_by},
                None,
            );
        }
        let mut complete = true;
        for eye in powered_eyes(c.job) {
            let e = r.eye(eye);
            let axis_lost =
                e.axis_deg.is_none() && e.cylinder_d.is_some_and(|c| c.thousandths() != 0);
            let says = match e.sphere_d {
                None => format!("the {eye} lens has not been read"),
                Some(_) if axis_lost => {
                    format!("the {eye} lens was read with a cylinder and no axis")
                }
                Some(_) => continue,
            };
            complete = false;
            found.add(
                eye,
                at!(readings[eye].sphere_d),
                says,
                values! {"sphere_d" => e.sphere_d, "cylinder_d" => e.cylinder_d, "axis_deg" => e.axis_deg},
                None,
            );
        }
        if !complete {
            return;
        }
        let Some(report) = c.report() else {
            return;
        };
        let mut unread: Vec<(Eye, &str)> = Vec::new();
        for missing in &report.missing {
            let way = match missing.what {
                Quantity::PrismHorizontal => "across",
                Quantity::PrismVertical => "up and down",
                _ => "",
            };
            let lacking = Eye::BOTH.map(|eye| (eye, lacks_prism(c.job, eye, missing.what)));
            if !way.is_empty() && lacking.iter().any(|(_, lacks)| *lacks) {
                unread.extend(
                    lacking
                        .iter()
                        .filter(|(_, l)| *l)
                        .map(|(eye, _)| (*eye, way)),
                );
                continue;
            }
            let name = missing.what.key().replace('_', " ");
            found.add(
                about(missing.eye),
                entry_of(c.job, missing.what, missing.eye.eye().unwrap_or(Eye::Right)),
                format!("{name} has not been read, and the standard needs it: read it"),
                values! {"what" => name, "eye" => missing.eye.word()},
                None,
            );
        }
        for eye in Eye::BOTH {
            let ways: Vec<&str> = unread
                .iter()
                .filter(|(e, _)| *e == eye)
                .map(|(_, w)| *w)
                .collect();
            let Some(first) = ways.first() else { continue };
            let field = if *first == "across" {
                "base_in_delta"
            } else {
                "base_up_delta"
            };
            let ways = ways.join(" and ");
            found.add(
                eye,
                format!("readings.{eye}.{field}"),
                format!("the prism of the {eye} lens ({ways}) has not been read: read it at the ordered point, or where the centre lies"),
                values! {"what" => format!("prism {ways}"), "eye" => eye.word()},
                None,
            );
        }
    },
};

pub(crate) static LABORATORY_POWERS_MISSING: Check = Check {
    id: CheckId::LaboratoryPowersMissing,
    about: Work::Laboratory(Seen::Compared),
    gate: Gate::Verified,
    at_every_gate: false,
    severity: Severity::Stop,
    accept: Acceptable::Nobody,
    holds_when: "the laboratory is to compensate for anything and has not stated what a focimeter should read",
    ways_out: &["ask the laboratory"],
    source: "ISO 8980-1: where the maker states a compensated value, the tolerance applies to it",
    run: |c, found| {
        if !laboratory_states(c.job) {
            return;
        }
        for eye in powered_eyes(c.job) {
            let stated = c
                .job
                .lenses
                .laboratory_powers
                .as_ref()
                .and_then(|l| l.eye(eye).sphere_d);
            if stated.is_none() {
                found.add(
                    eye,
                    at!(lenses.laboratory_powers[eye].sphere_d),
                    format!("the laboratory has not stated what a focimeter should read of the {eye} lens"),
                    values! {"stated_sphere_d" => stated},
                    None,
                );
            }
        }
    },
};

pub(crate) static LABORATORY_POWERS_DOUBTFUL: Check = Check {
    id: CheckId::LaboratoryPowersDoubtful,
    about: Work::Laboratory(Seen::Compared),
    gate: Gate::Verified,
    at_every_gate: false,
    severity: Severity::Warning,
    accept: Acceptable::Registrant,
    holds_when: "the stated powers differ from our own compensation, of what the powers are said to be and what the laboratory is to do, by more than {laboratory-doubt:2} D in a principal power",
    ways_out: &["ask the laboratory"],
    source: PRACTICE,
    run: |c, found| {
        let done = who_compensates(c.job).done();
        let limit = c.threshold(Threshold::LaboratoryDoubt);
        for eye in powered_eyes(c.job) {
            let stated = c
                .job
                .lenses
                .laboratory_powers
                .as_ref()
                .and_then(|l| l.eye(eye).rx());
            let (Some(stated), Some(own)) = (stated, own_reading(c.job, eye)) else {
                continue;
            };
            let apart = (stated.matrix() - own.matrix()).largest_d();
            if apart > limit + DUST {
                found.add(
                    eye,
                    at!(lenses.laboratory_powers[eye].sphere_d),
                    format!(
                        "{eye} lens: the laboratory states {}, our own compensation is {}: {apart:.2} D apart{}",
                        crate::judge::derive::powers::written(stated), crate::judge::derive::powers::written(own),
                        left_out(c.job, eye, done)
                    ),
                    values! {"stated" => power_value(stated), "own" => power_value(own)},
                    Some(format!("{limit:.2} D")),
                );
            }
        }
    },
};

pub(crate) static SEGMENT_TILT: Check = Check {
    id: CheckId::SegmentTilt,
    about: Work::Laboratory(Seen::ByLooking),
    gate: Gate::Verified,
    at_every_gate: false,
    severity: Severity::Warning,
    accept: Acceptable::Registrant,
    holds_when: "segments or markings are tilted by more than 2 degrees",
    ways_out: &["send back"],
    source: ISO,
    run: |c, found| {
        let Some(tilt) = c.job.readings.segment_tilt_deg else {
            return;
        };
        let limit = c.around.practice.standard.segment_tilt_limit().value;
        if tilt.get().abs() > limit + DUST {
            found.add(
                About::Job,
                at!(readings.segment_tilt_deg),
                format!("tilted by {tilt:.1} degrees"),
                values! {"tilt_deg" => tilt},
                Some(format!("{limit:.0} degrees")),
            );
        }
    },
};

pub(crate) static CENTRE_THICKNESS: Check = Check {
    id: CheckId::CentreThickness,
    about: Work::Laboratory(Seen::Compared),
    gate: Gate::Verified,
    at_every_gate: false,
    severity: Severity::Stop,
    accept: Acceptable::Nobody,
    holds_when: "centre thickness differs from the ordered one by more than 0.3 mm; or of a safety pair it is not read in an eye, or below the least ordered",
    ways_out: &["measure again", "send back"],
    source: "ISO 8980-1, thickness when specified",
    run: |c, found| {
        let l = &c.job.lenses;
        let limit = c.around.practice.standard.centre_thickness_limit().value;
        let is_safety = l.purpose == Some(Purpose::Safety);
        for eye in Eye::BOTH {
            let Some(read) = c.job.readings.eye(eye).centre_mm else {
                if is_safety {
                    found.add(
                        eye,
                        at!(readings[eye].centre_mm),
                        format!("the centre thickness of the {eye} lens of a safety pair has not been read"),
                        values! {"read_mm" => Value::Null},
                        None,
                    );
                }
                continue;
            };
            if let Some(ordered) = l.centre_mm
                && (read.get() - ordered.get()).abs() > limit + DUST
            {
                found.add(
                    eye,
                    at!(readings[eye].centre_mm),
                    format!("{eye} centre {read} mm, ordered {ordered} mm"),
                    values! {"read_mm" => read, "ordered_mm" => ordered},
                    Some(format!("{limit:.1} mm")),
                );
            } else if let Some(least) = l.thinnest_mm.filter(|_| is_safety)
                && read < least
            {
                found.add(
                    eye,
                    at!(readings[eye].centre_mm),
                    format!(
                        "{eye} centre {read} mm in a safety pair, at least {least} mm was ordered"
                    ),
                    values! {"read_mm" => read, "least_mm" => least},
                    Some(format!("{least} mm")),
                );
            }
        }
    },
};

pub(crate) static BASE_CURVE: Check = Check {
    id: CheckId::BaseCurve,
    about: Work::Laboratory(Seen::Compared),
    gate: Gate::Verified,
    at_every_gate: false,
    severity: Severity::Warning,
    accept: Acceptable::Registrant,
    holds_when: "the front curve differs from the ordered one by more than 0.75 D",
    ways_out: &["ask the wearer's history with curves", "send back"],
    source: "ANSI Z80.1-2015 when specified; agreed practice under ISO 21987",
    run: |c, found| {
        let Some(ordered) = c.job.lenses.base_d else {
            return;
        };
        let limit = c.around.practice.standard.base_curve_limit().value;
        for eye in Eye::BOTH {
            if let Some(read) = c.job.readings.eye(eye).base_d
                && (read.get() - ordered.get()).abs() > limit + DUST
            {
                found.add(
                    eye,
                    at!(readings[eye].base_d),
                    format!("{eye} front curve {read} D, ordered {ordered} D"),
                    values! {"read_d" => read, "ordered_d" => ordered},
                    Some(format!("{limit:.2} D")),
                );
            }
        }
    },
};

pub(crate) static SURFACE_MARKED: Check = Check {
    id: CheckId::SurfaceMarked,
    about: Work::Laboratory(Seen::ByLooking),
    gate: Gate::Verified,
    at_every_gate: false,
    severity: Severity::Warning,
    accept: Acceptable::Registrant,
    holds_when: "a surface is marked",
    ways_out: &["clean and look again", "send back"],
    source: "ISO 8980-1, surface quality",
    run: |c, found| {
        if c.job.readings.surface == Some(Surface::Marked) {
            found.add(
                About::Job,
                at!(readings.surface),
                "a lens surface is marked",
                values! {"surface" => c.job.readings.surface},
                None,
            );
        }
    },
};

pub(crate) static MARKINGS_WRONG: Check = Check {
    id: CheckId::MarkingsWrong,
    about: Work::Laboratory(Seen::ByLooking),
    gate: Gate::Verified,
    at_every_gate: false,
    severity: Severity::Stop,
    accept: Acceptable::Nobody,
    holds_when: "the permanent markings are wrong, or absent or not looked for on a power-variation lens",
    ways_out: &["look again in good light", "send back"],
    source: "ISO 8980-2, permanent marking, from memory",
    run: |c, found| {
        let m = c.job.readings.markings;
        let variation = c.job.lenses.design.is_some_and(Design::is_power_variation);
        let says = match m {
            Some(Markings::Wrong) => "the permanent markings are those of another lens",
            Some(Markings::Absent) if variation => {
                "a power-variation lens without permanent markings"
            }
            None if variation => "the permanent markings have not been looked for",
            _ => return,
        };
        found.add(
            About::Job,
            at!(readings.markings),
            says,
            values! {"markings" => m, "design" => c.job.lenses.design},
            None,
        );
    },
};

pub(crate) static UNCONFIRMED: Check = Check {
    id: CheckId::Unconfirmed,
    about: Work::Bench,
    gate: Gate::Verified,
    at_every_gate: false,
    severity: Severity::Stop,
    accept: Acceptable::Nobody,
    holds_when: "material, coatings or an ordered tint are not confirmed; of a safety pair the impact mark of the lenses is not read, or is weaker than the ordered one",
    ways_out: &["check the parcel note and the lenses", "send back"],
    source: PRACTICE,
    run: |c, found| {
        let (r, l) = (&c.job.readings, &c.job.lenses);
        let coated = l.coatings.as_ref().is_some_and(|list| !list.is_empty());
        let rows = [
            ("material_confirmed", "material", true, r.material_confirmed),
            (
                "coatings_confirmed",
                "coatings",
                coated,
                r.coatings_confirmed,
            ),
            ("tint_confirmed", "tint", l.tint.is_some(), r.tint_confirmed),
        ];
        for (field, name, ordered, confirmed) in rows {
            if ordered && confirmed != Some(true) {
                found.add(
                    About::Job,
                    format!("readings.{field}"),
                    format!("{name} not confirmed to be as ordered"),
                    values! {"what" => name, "confirmed" => confirmed},
                    None,
                );
            }
        }
        add_mark_not_as_ordered(c, found);
    },
};

pub(crate) static FRAME_UNTRUED: Check = Check {
    id: CheckId::FrameUntrued,
    about: Work::Bench,
    gate: Gate::Verified,
    at_every_gate: false,
    severity: Severity::Warning,
    accept: Acceptable::Registrant,
    holds_when: "the frame has not been trued",
    ways_out: &["true it"],
    source: PRACTICE,
    run: |c, found| {
        if c.job.readings.frame_trued != Some(true) {
            found.add(
                About::Job,
                at!(readings.frame_trued),
                "the frame has not been trued",
                values! {"frame_trued" => c.job.readings.frame_trued},
                None,
            );
        }
    },
};

pub(crate) static NEAR_LIMIT: Check = Check {
    id: CheckId::NearLimit,
    about: Work::Bench,
    gate: Gate::Verified,
    at_every_gate: false,
    severity: Severity::Note,
    accept: Acceptable::Nobody,
    holds_when: "a value uses {near-limit:0} % or more of its limit; one note for an eye or the pair and a line",
    ways_out: &["read again"],
    source: PRACTICE,
    run: |c, found| {
        let Some(report) = c.report() else {
            return;
        };
        let from = c.threshold(Threshold::NearLimit);
        let mut said = Vec::new();
        for line in report
            .lines
            .iter()
            .filter(|l| l.pass && l.used_percent + DUST >= from)
        {
            // Both principal powers of a sphere are one power to whoever reads it.
            let is_power = matches!(
                line.what,
                Quantity::PowerAlongAxis | Quantity::PowerAcrossAxis
            );
            let name = if is_power { "power" } else { line.what.key() };
            if said.contains(&(name, line.eye)) {
                continue;
            }
            said.push((name, line.eye));
            let name = name.replace('_', " ");
            found.add(
                about(line.eye),
                entry_of(c.job, line.what, line.eye.eye().unwrap_or(Eye::Right)),
                format!("{name} ({}) is out by {:.2}, {:.0} % of its limit", line.eye.word(), line.error, line.used_percent),
                values! {"what" => name, "eye" => line.eye.word(), "error" => to_thousandth(line.error)},
                Some(format!("{:.2}", line.limit)),
            );
        }
    },
};

/// Whether anything is ordered that a reading could be compared with.
pub(super) fn has_target(job: &Job) -> bool {
    Eye::BOTH.iter().any(|eye| target(job, *eye).is_some())
}

pub(crate) static MOUNTING_UNSOUND: Check = Check {
    id: CheckId::MountingUnsound,
    about: Work::Bench,
    gate: Gate::Verified,
    at_every_gate: false,
    severity: Severity::Warning,
    accept: Acceptable::Registrant,
    holds_when: "the lenses are not tight, or show a gap, a sharp edge or strain (a stop where unanswered)",
    ways_out: &["correct it", "send back"],
    source: PRACTICE,
    run: |c, found| {
        let sound = c.job.readings.mounting_sound;
        let (severity, says) = match sound {
            Some(true) => return,
            None => (
                Severity::Stop,
                "nobody has said whether the lenses are mounted soundly: tight, no gap, no sharp edge, no strain",
            ),
            Some(false) => (
                Severity::Warning,
                "the lenses are not mounted soundly: loose, with a gap, a sharp edge or strain",
            ),
        };
        found.add_as(
            severity,
            About::Job,
            at!(readings.mounting_sound),
            says,
            values! {"mounting_sound" => sound},
            None,
        );
    },
};
