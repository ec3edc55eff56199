//! Checks of values that were carried from another job: do they still belong to this pair?

use crate::job::fields::{FieldKind, at, find};
use crate::judge::gate::id::CheckId;
use crate::judge::gate::work::Work;
use serde_json::{Value, json};

use crate::job::{Gate, Job, Origin, Reason, Section};
use crate::judge::gate::{About, Acceptable, Check, PRACTICE, Severity, Values};
use crate::judge::rules::carry::{is_of_the_frame, is_older};
use crate::practice::Threshold;
use crate::trade::units::Millimetre;

/// Returns the carried fitting values that are still in the job, each with its origin.
fn carried(job: &Job) -> Vec<(&str, Value, &Origin)> {
    job.origins
        .iter()
        .filter_map(|(path, origin)| {
            let field = find(path).filter(|field| field.section == Section::Fitting)?;
            // Who measured and how is no measurement.
            let measured = matches!(field.kind, FieldKind::Length | FieldKind::Angle);
            measured.then(|| Some((path.as_str(), field.value(job)?, origin)))?
        })
        .collect()
}

/// Returns the path of a fitting value as a person says it: "right height".
fn said(path: &str) -> String {
    path.trim_start_matches("fitting.")
        .trim_end_matches("_mm")
        .trim_end_matches("_deg")
        .replace("second_reading.", "second reading, ")
        .replace(['.', '_'], " ")
}

fn listed(values: &[(&str, Value, &Origin)]) -> String {
    let each: Vec<String> = values
        .iter()
        .map(|(path, value, _)| format!("{} {value}", said(path)))
        .collect();
    each.join(", ")
}

/// A frame as it is named where another one has another name; with its boxed sizes where the name
/// does not tell them apart.
fn said_frame(name: Option<&String>, sizes: Option<[Option<Millimetre>; 3]>) -> String {
    let mut said = name.map_or_else(|| "a frame without a name".to_owned(), Clone::clone);
    let known: Vec<String> = ["a", "b", "dbl"]
        .iter()
        .zip(sizes.into_iter().flatten())
        .filter_map(|(key, mm)| mm.map(|mm| format!("{key} {mm}")))
        .collect();
    if !known.is_empty() {
        said = format!("{said} ({} mm)", known.join(", "));
    }
    said
}

pub(crate) static CARRIED_FOREIGN: Check = Check {
    id: CheckId::CarriedForeign,
    about: Work::Wearer,
    gate: Gate::Ordered,
    at_every_gate: false,
    severity: Severity::Warning,
    accept: Acceptable::Registrant,
    holds_when: "a height, vertex distance, tilt or face form was carried from another job, and its frame has another name than this one, or another boxed width, height or distance between lenses by {frame-size:1} mm",
    ways_out: &[
        "measure again in this frame",
        "name the frame as in the earlier job, and put its sizes right, where it is the same",
    ],
    source: PRACTICE,
    run: |c, found| {
        let here = &c.job.frame;
        let limit = c.threshold(Threshold::FrameSize);
        let foreign: Vec<_> = carried(c.job)
            .into_iter()
            .filter(|(path, _, o)| {
                is_of_the_frame(path)
                    && (o.is_of_another_name(here) || o.is_of_another_size(here, limit))
            })
            .collect();
        let Some((first, _, origin)) = foreign.first() else {
            return;
        };
        let mut beside = json!({"frame": here.name});
        let by_size = !origin.is_of_another_name(here);
        let then = [origin.frame_a_mm, origin.frame_b_mm, origin.frame_dbl_mm];
        let now = [here.a_mm, here.b_mm, here.dbl_mm];
        if by_size {
            beside["sizes_then_mm"] = json!(then);
            beside["sizes_now_mm"] = json!(now);
        }
        found.add(
            About::Pair,
            *first,
            format!(
                "taken in {}, this frame is {}: {}; measure again",
                said_frame(origin.frame.as_ref(), by_size.then_some(then)),
                said_frame(here.name.as_ref(), by_size.then_some(now)),
                listed(&foreign)
            ),
            values_of(&foreign, beside),
            Some("the frame they were taken in".to_owned()),
        );
    },
};

pub(crate) static CARRIED_STALE: Check = Check {
    id: CheckId::CarriedStale,
    about: Work::Wearer,
    gate: Gate::Ordered,
    at_every_gate: false,
    severity: Severity::Warning,
    accept: Acceptable::Registrant,
    holds_when: "the wearer is under {restricted-age:0} and a carried measurement is older than {child-months:0} months, or of an unknown day",
    ways_out: &["measure again"],
    source: PRACTICE,
    run: |c, found| {
        let today = c.around.today;
        let months = c.threshold(Threshold::ChildMonths);
        let age = c.job.wearer.age_on(today);
        if age.is_none_or(|age| f64::from(age) >= c.threshold(Threshold::RestrictedAge)) {
            return;
        }
        let stale: Vec<_> = carried(c.job)
            .into_iter()
            .filter(|(_, _, o)| o.on.is_none_or(|on| is_older(on, months, today)))
            .collect();
        let Some((first, ..)) = stale.first() else {
            return;
        };
        let oldest = match stale.iter().map(|(_, _, o)| o.on).min().flatten() {
            Some(day) => format!("on {day}, more than {months:.0} months ago"),
            None => "on a day that is not recorded".to_owned(),
        };
        found.add(
            About::Pair,
            *first,
            format!(
                "a child grows, and these were measured {oldest}: {}; measure again",
                listed(&stale)
            ),
            values_of(&stale, json!({})),
            Some(format!(
                "{months:.0} months under {:.0} years",
                c.threshold(Threshold::RestrictedAge)
            )),
        );
    },
};

/// The answers of the wearer that decide what may be supplied, and how they are said.
const ANSWERS: [(&str, &str); 4] = [
    (at!(wearer.allergies).full(), "allergies"),
    (at!(wearer.one_eyed).full(), "one-eyed"),
    (at!(wearer.sight_impaired).full(), "sight impaired"),
    (at!(wearer.drives).full(), "drives"),
];

/// Returns an answer as a person says it.
fn answer(value: &Value) -> String {
    match value {
        Value::Bool(true) => "yes".to_owned(),
        Value::Bool(false) => "no".to_owned(),
        Value::String(word) => word.clone(),
        Value::Array(list) if list.is_empty() => "none known".to_owned(),
        Value::Array(list) => {
            let words: Vec<&str> = list.iter().filter_map(Value::as_str).collect();
            words.join(" and ")
        }
        other => other.to_string(),
    }
}

pub(crate) static CARRIED_ANSWERS: Check = Check {
    id: CheckId::CarriedAnswers,
    about: Work::Wearer,
    gate: Gate::Ordered,
    at_every_gate: false,
    severity: Severity::Warning,
    accept: Acceptable::Registrant,
    holds_when: "allergies, driving, one useful eye or registration as sight impaired were carried from another job and last asked more than {answer-months:0} months ago, or on an unknown day",
    ways_out: &["ask again and type the answer, even where it is the same"],
    source: PRACTICE,
    run: |c, found| {
        // A recheck looks at a pair that is there; the remake that may follow is another order.
        if c.job.reason == Some(Reason::Recheck) {
            return;
        }
        let (today, months) = (c.around.today, c.threshold(Threshold::AnswerMonths));
        let stale: Vec<_> = ANSWERS
            .iter()
            .filter_map(|(path, said)| {
                let origin = c.job.origins.get(*path)?;
                let value = c.job.value_at(path)?;
                let is_stale = origin.on.is_none_or(|on| is_older(on, months, today));
                is_stale.then_some(((*path, value, origin), *said))
            })
            .collect();
        let Some(((first, ..), _)) = stale.first() else {
            return;
        };
        let oldest = match stale.iter().map(|((_, _, o), _)| o.on).min().flatten() {
            Some(day) => format!("on {day}, more than {months:.0} months ago"),
            None => "on a day that is not recorded".to_owned(),
        };
        let each: Vec<String> = stale
            .iter()
            .map(|((_, value, _), said)| format!("{said} ({})", answer(value)))
            .collect();
        let values: Vec<_> = stale.iter().map(|(value, _)| value.clone()).collect();
        found.add(
            About::Job,
            *first,
            format!("{}: last asked {oldest}; ask again", each.join(", ")),
            values_of(&values, json!({})),
            Some(format!("{months:.0} months")),
        );
    },
};

/// What a finding about carried values rests on: each value with the day and frame of its origin.
fn values_of(values: &[(&str, Value, &Origin)], beside: Value) -> Values {
    let mut out = Values::new();
    for (path, value, origin) in values {
        out.insert(
            (*path).to_owned(),
            json!({"value": value, "on": origin.on, "frame": origin.frame}),
        );
    }
    if let Value::Object(map) = beside {
        out.extend(map);
    }
    out
}
