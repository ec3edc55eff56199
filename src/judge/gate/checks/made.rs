//! Checks of the finished pair against the chosen standard, line by line.

use super::readings::has_target;
use super::{to_thousandth, values};
use crate::job::fields::at;
use crate::job::{Gate, Job};
use crate::judge::derive::places::{ordered_cd_mm, ordered_height_mm};
use crate::judge::derive::verification::{Reading, awaits_statement, report, target};
use crate::judge::gate::id::CheckId;
use crate::judge::gate::work::{Seen, Work};
use crate::judge::gate::{About, Acceptable, Check, Context, Found, Severity};
use crate::practice::Threshold;
use crate::trade::eye::Eye;
use crate::trade::optics::prism::{LensPoint, prism_at};
use crate::trade::tolerance::DUST;
use crate::trade::tolerance::{Quantity, Report, ToleranceLine};
use crate::trade::units::{Millimetre, PrismDioptre};

const STANDARD: &str =
    "the standard chosen: ISO 21987:2017 or ANSI Z80.1-2015 (docs/tolerances.md)";
const AGAIN: &[&str] = &["read again", "send back"];

fn lines(c: &Context<'_>, whats: &[Quantity]) -> Vec<ToleranceLine> {
    let lines = c.report().map_or(&[][..], |r| &r.lines);
    lines
        .iter()
        .filter(|l| whats.contains(&l.what))
        .copied()
        .collect()
}

fn line_values(line: &ToleranceLine) -> crate::judge::gate::Values {
    values! {
        "what" => line.what.key(), "ordered" => to_thousandth(line.ordered),
        "measured" => to_thousandth(line.measured), "limit" => to_thousandth(line.limit),
    }
}

fn says(line: &ToleranceLine, name: &str) -> String {
    let source = if line.worked_out {
        " (worked out from the places)"
    } else {
        ""
    };
    format!(
        "{} {name}: ordered {:.2}, read {:.2}{source}: out by {:.2} {}",
        line.eye.word(),
        line.ordered,
        line.measured,
        line.error,
        line.what.unit()
    )
}

fn limit_of(line: &ToleranceLine) -> String {
    format!("{:.2} {}", line.limit, line.what.unit())
}

/// Adds one finding for each eye whose lines are outside, by the worst of them.
fn outside(c: &Context<'_>, found: &mut Found<'_>, whats: &[Quantity], name: &str, field: &str) {
    // Of a lens whose power the laboratory has not stated yet `laboratory-powers-missing` asks.
    let is_known = |l: &ToleranceLine| {
        let is_of_power =
            l.what.is_power() || matches!(l.what, Quantity::Axis | Quantity::Addition);
        let awaits = |eye| awaits_statement(c.job, eye);
        !(is_of_power && l.eye.eye().is_some_and(awaits))
    };
    let failed: Vec<ToleranceLine> = (lines(c, whats).into_iter())
        .filter(|l| !l.pass && is_known(l))
        .collect();
    for about in [About::Right, About::Left, About::Pair] {
        let worst = failed
            .iter()
            .filter(|l| l.eye.eye().map_or(About::Pair, About::from) == about)
            .max_by(|a, b| a.used_percent.total_cmp(&b.used_percent));
        if let Some(line) = worst {
            let eye = line.eye.eye().unwrap_or(Eye::Right);
            found.add(
                about,
                format!("readings.{eye}.{field}"),
                says(line, name),
                line_values(line),
                Some(limit_of(line)),
            );
        }
    }
}

pub(crate) static LENS_POWER: Check = Check {
    id: CheckId::LensPower,
    about: Work::Laboratory(Seen::InTable),
    gate: Gate::Verified,
    at_every_gate: false,
    severity: Severity::Stop,
    accept: Acceptable::Nobody,
    holds_when: "a principal power is outside the standard",
    ways_out: AGAIN,
    source: STANDARD,
    run: |c, found| {
        outside(
            c,
            found,
            &[Quantity::PowerAlongAxis, Quantity::PowerAcrossAxis],
            "power",
            "sphere_d",
        );
    },
};

pub(crate) static LENS_CYLINDER: Check = Check {
    id: CheckId::LensCylinder,
    about: Work::Laboratory(Seen::InTable),
    gate: Gate::Verified,
    at_every_gate: false,
    severity: Severity::Stop,
    accept: Acceptable::Nobody,
    holds_when: "the cylinder is outside the standard",
    ways_out: AGAIN,
    source: STANDARD,
    run: |c, found| outside(c, found, &[Quantity::Cylinder], "cylinder", "cylinder_d"),
};

pub(crate) static LENS_AXIS: Check = Check {
    id: CheckId::LensAxis,
    about: Work::Laboratory(Seen::InTable),
    gate: Gate::Verified,
    at_every_gate: false,
    severity: Severity::Stop,
    accept: Acceptable::Nobody,
    holds_when: "the axis is outside the standard",
    ways_out: AGAIN,
    source: STANDARD,
    run: |c, found| outside(c, found, &[Quantity::Axis], "axis", "axis_deg"),
};

pub(crate) static LENS_ADDITION: Check = Check {
    id: CheckId::LensAddition,
    about: Work::Laboratory(Seen::InTable),
    gate: Gate::Verified,
    at_every_gate: false,
    severity: Severity::Stop,
    accept: Acceptable::Nobody,
    holds_when: "the addition is outside the standard",
    ways_out: AGAIN,
    source: STANDARD,
    run: |c, found| outside(c, found, &[Quantity::Addition], "addition", "addition_d"),
};

fn imbalance(c: &Context<'_>, found: &mut Found<'_>, what: Quantity, name: &str, field: &str) {
    for line in lines(c, &[what]).iter().filter(|l| !l.pass) {
        let severity = if line.error > 2.0 * line.limit + DUST {
            Severity::Stop
        } else {
            Severity::Warning
        };
        found.add_as(
            severity,
            About::Pair,
            format!("readings.right.{field}"),
            says(line, name),
            line_values(line),
            Some(limit_of(line)),
        );
    }
}

pub(crate) static PAIR_PRISM_HORIZONTAL: Check = Check {
    id: CheckId::PairPrismHorizontal,
    about: Work::Laboratory(Seen::InTable),
    gate: Gate::Verified,
    at_every_gate: false,
    severity: Severity::Warning,
    accept: Acceptable::Registrant,
    holds_when: "the pair's horizontal prism is outside the standard; over twice the limit stops",
    ways_out: AGAIN,
    source: STANDARD,
    run: |c, found| {
        imbalance(
            c,
            found,
            Quantity::PrismHorizontal,
            "horizontal prism",
            "base_in_delta",
        );
    },
};

pub(crate) static PAIR_PRISM_VERTICAL: Check = Check {
    id: CheckId::PairPrismVertical,
    about: Work::Laboratory(Seen::InTable),
    gate: Gate::Verified,
    at_every_gate: false,
    severity: Severity::Warning,
    accept: Acceptable::Registrant,
    holds_when: "the pair's vertical prism is outside the standard; over twice the limit stops",
    ways_out: AGAIN,
    source: STANDARD,
    run: |c, found| {
        imbalance(
            c,
            found,
            Quantity::PrismVertical,
            "vertical prism",
            "base_up_delta",
        );
    },
};

/// Returns the prism read at the ordered point, base in and base up, without the thinning prism:
/// as read, else worked out from where the centre was found.
fn prism_read(job: &Job, eye: Eye) -> Option<(f64, f64)> {
    let r = job.readings.eye(eye);
    let thinning = job
        .lenses
        .thinning_prism_up_delta
        .map_or(0.0, PrismDioptre::get);
    if r.base_in_delta.is_some() || r.base_up_delta.is_some() {
        let get = |d: Option<PrismDioptre>| d.map_or(0.0, PrismDioptre::get);
        return Some((get(r.base_in_delta), get(r.base_up_delta) - thinning));
    }
    let place = LensPoint {
        in_mm: r.cd_mm?.get() - ordered_cd_mm(job, eye)?,
        up_mm: match (ordered_height_mm(job, eye), r.height_mm) {
            (Some(ordered), Some(read)) => ordered - read.get(),
            _ => 0.0,
        },
    };
    let prism = prism_at(eye, r.rx()?, place);
    Some((prism.base_in_delta, prism.base_up_delta - thinning))
}

pub(crate) static PRISM_REVERSED: Check = Check {
    id: CheckId::PrismReversed,
    about: Work::Laboratory(Seen::Compared),
    gate: Gate::Verified,
    at_every_gate: false,
    severity: Severity::Stop,
    accept: Acceptable::Nobody,
    holds_when: "a prescribed component of {prism-reversed:2} or more was made with the base the other way",
    ways_out: &["send back"],
    source: "ISO 8429 base directions",
    run: |c, found| {
        let least = c.threshold(Threshold::PrismReversed);
        let least_read = c.threshold(Threshold::PrismReversedRead);
        for eye in Eye::BOTH {
            let (Some(ordered), Some(read)) = (target(c.job, eye), prism_read(c.job, eye)) else {
                continue;
            };
            let get = |d: Option<PrismDioptre>| d.map_or(0.0, PrismDioptre::get);
            for (field, name, ordered, read) in [
                (
                    "base_in_delta",
                    "base in",
                    get(ordered.base_in_delta),
                    read.0,
                ),
                (
                    "base_up_delta",
                    "base up",
                    get(ordered.base_up_delta),
                    read.1,
                ),
            ] {
                if ordered.abs() + DUST >= least
                    && ordered * read < 0.0
                    && read.abs() + DUST >= least_read
                {
                    found.add(
                        eye,
                        format!("readings.{eye}.{field}"),
                        format!("{eye} prism {name}: ordered {ordered:+.2}, made {read:+.2}: the base is the other way"),
                        values! {"what" => name, "ordered_delta" => to_thousandth(ordered), "read_delta" => to_thousandth(read)},
                        None,
                    );
                }
            }
        }
    },
};

pub(crate) static CENTRATION_MADE: Check = Check {
    id: CheckId::CentrationMade,
    about: Work::Laboratory(Seen::InTable),
    gate: Gate::Verified,
    at_every_gate: false,
    severity: Severity::Stop,
    accept: Acceptable::Nobody,
    holds_when: "a centration distance of a multifocal or power-variation lens is outside the standard",
    ways_out: AGAIN,
    source: STANDARD,
    run: |c, found| outside(c, found, &[Quantity::Centration], "centration", "cd_mm"),
};

pub(crate) static HEIGHT_MADE: Check = Check {
    id: CheckId::HeightMade,
    about: Work::Laboratory(Seen::InTable),
    gate: Gate::Verified,
    at_every_gate: false,
    severity: Severity::Stop,
    accept: Acceptable::Nobody,
    holds_when: "a height of a multifocal or power-variation lens is outside the standard",
    ways_out: AGAIN,
    source: STANDARD,
    run: |c, found| outside(c, found, &[Quantity::Height], "height", "height_mm"),
};

pub(crate) static HEIGHT_DIFFERENCE: Check = Check {
    id: CheckId::HeightDifference,
    about: Work::Laboratory(Seen::InTable),
    gate: Gate::Verified,
    at_every_gate: false,
    severity: Severity::Stop,
    accept: Acceptable::Nobody,
    holds_when: "the heights differ from each other otherwise than ordered, outside the standard",
    ways_out: AGAIN,
    source: STANDARD,
    run: |c, found| {
        outside(
            c,
            found,
            &[Quantity::HeightDifference],
            "height difference",
            "height_mm",
        );
    },
};

pub(crate) static EYES_EXCHANGED: Check = Check {
    id: CheckId::EyesExchanged,
    about: Work::Laboratory(Seen::Compared),
    gate: Gate::Verified,
    at_every_gate: false,
    severity: Severity::Stop,
    accept: Acceptable::Nobody,
    holds_when: "the right and left readings exchanged meet the standard where as read they do not",
    ways_out: &["check which lens was read first", "send back"],
    source: STANDARD,
    run: |c, found| {
        if !has_target(c.job) {
            return;
        }
        let of_lens = |l: &ToleranceLine| {
            l.what.is_power()
                || matches!(
                    l.what,
                    Quantity::Cylinder | Quantity::Axis | Quantity::Addition
                )
        };
        let passes = |r: &Report| r.lines.iter().filter(|l| of_lens(l)).all(|l| l.pass);
        let r = &c.job.readings;
        if r.right.sphere_d.is_some()
            && r.left.sphere_d.is_some()
            && !c.report().is_some_and(passes)
            && report(c.job, c.around.practice, Reading::Exchanged).is_ok_and(|r| passes(&r))
        {
            found.add(
                About::Pair,
                at!(readings.right.sphere_d),
                "the right and left readings exchanged meet the order, as read they do not",
                values! {"right" => r.right, "left" => r.left},
                None,
            );
        }
    },
};

/// Returns how far a height on the face is from the ordered one, mm.
pub(super) fn height_error_mm(ordered: Millimetre, now: Millimetre) -> f64 {
    now.get() - ordered.get()
}
