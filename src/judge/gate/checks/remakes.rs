//! Checks of a pair that is to be made again: not before what costs nothing was tried, and not
//! just as before.

use super::values;
use crate::job::fields::{FieldKind, FieldRef, FieldValue, Remake, at, fields_of_remake};
use crate::job::{Cause, Gate, Job, Outcome, Reason, Section, TakenAs};
use crate::judge::derive::powers::{addition_and_prism, ordered_or_prescribed};
use crate::judge::gate::id::CheckId;
use crate::judge::gate::work::Work;
use crate::judge::gate::{About, Acceptable, Check, Context, PRACTICE, Severity};
use crate::judge::rules::carry::put;
use crate::judge::rules::free_moves::moves_not_tried;
use crate::practice::Threshold;
use crate::trade::eye::Eye;
use crate::trade::tolerance::DUST;
use serde_json::json;

pub(crate) static REMAKE_UNTRIED: Check = Check {
    id: CheckId::RemakeUntried,
    about: Work::Wearer,
    gate: Gate::Ordered,
    at_every_gate: false,
    severity: Severity::Warning,
    accept: Acceptable::Registrant,
    holds_when: "a recheck decides on a remake and a move that costs nothing (lift, press, tilt, turn the pair on the face) is not ticked",
    ways_out: &[
        "try it on the face and tick it",
        "a registered person's reason",
    ],
    source: PRACTICE,
    run: |c, found| {
        let visit = &c.job.visit;
        if c.job.reason != Some(Reason::Recheck) || visit.outcome != Some(Outcome::Remade) {
            return;
        }
        let moves = moves_not_tried(visit.tried.as_deref().unwrap_or_default());
        if !moves.is_empty() {
            found.add(
                About::Job,
                "visit.tried",
                format!(
                    "it is to be made again, and on the face nobody has tried to: {}",
                    moves.join("; ")
                ),
                values! {"left" => moves, "cause" => visit.cause},
                None,
            );
        }
    },
};

/// What a remake follows: the visit that decided on it, and the pair that is made again.
struct Followed<'a> {
    visit: Option<&'a Job>,
    pair: Option<&'a Job>,
}

fn followed<'a>(c: &Context<'a>) -> Followed<'a> {
    let by_number = |number: Option<&String>| {
        let number = number?;
        let numbered = |j: &&Job| j.number.as_ref() == Some(number);
        c.around.others.iter().find(numbered)
    };
    let linked = by_number(c.job.linked_to.as_ref());
    match linked {
        Some(recheck) if recheck.reason == Some(Reason::Recheck) => Followed {
            visit: Some(recheck),
            pair: by_number(recheck.linked_to.as_ref()),
        },
        other => Followed {
            visit: None,
            pair: other,
        },
    }
}

/// Whether another job is one that a remake or recheck follows, over the visit between them too.
pub(super) fn is_followed(c: &Context<'_>, other: &Job) -> bool {
    let is_again = matches!(c.job.reason, Some(Reason::Remake | Reason::Recheck));
    if !is_again || other.number.is_none() {
        return false;
    }
    c.job.linked_to == other.number || followed(c).pair.is_some_and(|p| p.number == other.number)
}

/// Returns why a remake is made, by itself or by the visit that decided on it; `None` for any other
/// job.
pub(super) fn cause_of_remake(c: &Context<'_>) -> Option<Cause> {
    if c.job.reason != Some(Reason::Remake) {
        return None;
    }
    let visit = || followed(c).visit?.visit.cause;
    c.job.visit.cause.or_else(visit)
}

/// Returns the remake without what it only carries of how the pair fits now, by handover and
/// repairs: nobody has decided on that, so it makes no other order.
fn without_carried_position(job: &Job, pair: &Job) -> Job {
    let mut plain = job.clone();
    for (path, origin) in &job.origins {
        let stands = matches!(
            origin.taken_as,
            Some(TakenAs::HandedOver | TakenAs::Adjusted)
        );
        let section = path.split('.').next().and_then(Section::from_word);
        if let (true, Some(section)) = (stands && origin.job == pair.number, section) {
            let mut change = json!({});
            put(&mut change, path, pair.value_at(path).unwrap_or_default());
            // Both are values of the same place: what one job holds, the other can.
            plain.record(section, &change).ok();
        }
    }
    plain
}

/// What of an order a cause speaks of: in words, the field that a finding names, and the parts that
/// the rows of the fields name.
struct Spoken {
    what: &'static str,
    field: &'static str,
    parts: &'static [Remake],
}

const POWERS: Spoken = Spoken {
    what: "powers",
    field: "lenses.powers",
    parts: &[Remake::Powers],
};
const CENTRATION: Spoken = Spoken {
    what: "centration distances",
    field: at!(fitting.right.cd_mm).full(),
    parts: &[Remake::Centration],
};
const HEIGHT: Spoken = Spoken {
    what: "heights",
    field: at!(fitting.right.height_mm).full(),
    parts: &[Remake::Height],
};
const POSITION: Spoken = Spoken {
    what: "vertex distances, tilt, face form or frame",
    field: at!(fitting.right.vertex_mm).full(),
    parts: &[Remake::Position, Remake::Frame],
};
const LENS: Spoken = Spoken {
    what: "maker, product, design, form, material, base curve, corridor, segment, power drop, prism control, coatings or tint",
    field: at!(lenses.design).full(),
    parts: &[Remake::Lens],
};
const FRAME: Spoken = Spoken {
    what: "frame, lengths to bend or head width",
    field: at!(frame.name).full(),
    parts: &[Remake::Frame, Remake::Sides],
};

impl Spoken {
    fn differs(&self, c: &Context<'_>, a: &Job, b: &Job) -> bool {
        self.parts.iter().any(|part| match part {
            // A power is compared whole: sphere, cylinder and axis say it together.
            Remake::Powers => powers_differ(c, a, b),
            part => fields_of_remake(*part).any(|field| differs(c, field, a, b)),
        })
    }
}

/// What a cause speaks of; nothing where the order may be the same.
const fn spoken_of(cause: Option<Cause>) -> &'static [Spoken] {
    match cause {
        Some(Cause::Prescription) => &[POWERS],
        Some(Cause::Centration) => &[CENTRATION],
        Some(Cause::Height) => &[HEIGHT],
        Some(Cause::Position) => &[POSITION, POWERS],
        Some(Cause::LensChoice) => &[LENS],
        Some(Cause::FrameFit) => &[FRAME],
        // It was made wrong: made right, it is the same order.
        Some(Cause::Laboratory) => &[],
        _ => &[POWERS, CENTRATION, HEIGHT, POSITION, LENS, FRAME],
    }
}

pub(crate) static REMAKE_SAME: Check = Check {
    id: CheckId::RemakeSame,
    about: Work::Wearer,
    gate: Gate::Ordered,
    at_every_gate: false,
    severity: Severity::Warning,
    accept: Acceptable::Registrant,
    holds_when: "a remake differs from the pair it follows in nothing its cause speaks of (powers by {remake-power:2} D, lengths by {remake-length:1} mm, angles by {remake-angle:0} degrees; a value only carried over from how the pair fits now does not count; cause laboratory apart), and nobody wrote why",
    ways_out: &[
        "change what the cause speaks of",
        "write under visit, same because, why it is ordered again as it was",
    ],
    source: PRACTICE,
    run: |c, found| {
        let job = c.job;
        if job.reason != Some(Reason::Remake) {
            return;
        }
        let followed = followed(c);
        let said = |j: &Job| {
            let why = j.visit.same_because.as_deref();
            why.is_some_and(|w| !w.trim().is_empty())
        };
        if said(job) || followed.visit.is_some_and(said) {
            return;
        }
        let cause = cause_of_remake(c);
        let spoken = spoken_of(cause);
        let Some(first) = spoken.first() else { return };
        let Some(pair) = followed.pair else {
            let linked = job.linked_to.as_deref();
            found.add(
                About::Job,
                first.field,
                format!(
                    "the pair that is made again is not among this wearer's jobs (linked to {}): nothing can be compared",
                    linked.unwrap_or("none")
                ),
                values! {"linked_to" => linked},
                None,
            );
            return;
        };
        let decided = without_carried_position(job, pair);
        if spoken.iter().any(|s| s.differs(c, &decided, pair)) {
            return;
        }
        let carried = if spoken.iter().any(|s| s.differs(c, job, pair)) {
            "; a value carried over from how the pair fits now is no change: measure it, or choose it"
        } else {
            ""
        };
        let what: Vec<&str> = spoken.iter().map(|s| s.what).collect();
        let because = cause.map_or_else(
            || "no cause is recorded".to_owned(),
            |cause| format!("the cause is {cause}"),
        );
        let number = pair.number.as_deref().unwrap_or("-");
        found.add(
            About::Job,
            first.field,
            format!(
                "{because}, and this order is that of {number} again in: {}{carried}",
                what.join("; ")
            ),
            values! {"cause" => cause, "pair" => number},
            Some(format!(
                "{:.2} D, {:.1} mm, {:.0} degrees",
                c.threshold(Threshold::RemakePower),
                c.threshold(Threshold::RemakeLength),
                c.threshold(Threshold::RemakeAngle)
            )),
        );
    },
};

/// What the record of an earlier pair may not name yet: without it, it is no other lens.
const NAMES: [FieldRef; 3] = [at!(lenses.maker), at!(lenses.product), at!(lenses.variant)];

/// Whether a value is another; one that is there and one that is not are. What is measured on the
/// wearer is another from a limit on, a name is the same in small letters and capitals.
fn differs(c: &Context<'_>, field: FieldRef, a: &Job, b: &Job) -> bool {
    let limit = match (field.section, field.kind) {
        (Section::Fitting, FieldKind::Length) => Some(Threshold::RemakeLength),
        (Section::Fitting, FieldKind::Angle) => Some(Threshold::RemakeAngle),
        _ => None,
    };
    match (field.read(a), field.read(b), limit) {
        (None, _, _) | (_, None, _) if NAMES.contains(&field) => false,
        (Some(FieldValue::Number(a)), Some(FieldValue::Number(b)), Some(limit)) => {
            (a - b).abs() + DUST >= c.threshold(limit)
        }
        (Some(FieldValue::Text(a)), Some(FieldValue::Text(b)), _) => {
            a.trim().to_lowercase() != b.trim().to_lowercase()
        }
        (a, b, _) => a != b,
    }
}

/// Whether the ordered powers, additions or prisms are another, or else the prescribed ones.
fn powers_differ(c: &Context<'_>, a: &Job, b: &Job) -> bool {
    let limit = c.threshold(Threshold::RemakePower);
    Eye::BOTH.iter().any(|eye| {
        let power = |job: &Job| ordered_or_prescribed(job, *eye);
        let is_other = match (power(a), power(b)) {
            (Some(a), Some(b)) => (a.matrix() - b.matrix()).largest_d() + DUST >= limit,
            (None, None) => false,
            _ => true,
        };
        let (new, old) = (addition_and_prism(a, *eye), addition_and_prism(b, *eye));
        is_other
            || new
                .into_iter()
                .zip(old)
                .any(|(new, old)| f64::from(new - old).abs() / 1000.0 + DUST >= limit)
    })
}
