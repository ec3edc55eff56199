//! What a new job takes over from an earlier one of the same wearer, and what it must not.
//!
//! Heights, vertex distance, tilt and face form belong to the frame they were taken in: they are
//! carried only while the frame stays the same, and then as the pair fits now rather than as it
//! was measured. What is not carried is still shown, with the reason.

use chrono::{Months, NaiveDate};
use serde_json::{Map, Value, json};

use crate::job::fields::{Carry, Field, JobPart, find};
use crate::job::{
    Job, Origin, Reason, RecordError, Section, Stage, TakenAs, handover_now, write_value,
};
use crate::practice::{Practice, Threshold};

/// A value of the earlier job that is not carried.
#[derive(Debug, Clone, PartialEq)]
pub struct NotCarried {
    /// Its path from the job, such as `fitting.right.height_mm`.
    pub path: String,
    /// The value as the job file writes it.
    pub value: Value,
    /// Why it is not carried, and what to do; a whole sentence after the value.
    pub why: String,
}

/// A new job begun from an earlier one.
#[derive(Debug, Clone, PartialEq)]
pub struct Begun {
    /// The new job: what is carried, each value with its origin.
    pub job: Job,
    /// What is not carried.
    pub not_carried: Vec<NotCarried>,
}

/// Returns why a job cannot be begun from another one, or nothing when it can.
pub(crate) fn refusal(reason: Reason, old: &Job) -> Option<String> {
    let stage = old.stage();
    if old.reason == Some(Reason::Recheck) && stage.is_open() {
        // It holds the pair as it was measured: how the pair was handed over and has been set
        // since is in the first job, and whether it is remade, in the visit.
        let first = old.linked_to.as_deref().unwrap_or("the first pair");
        return Some(format!(
            "it is a recheck, which holds the values of {first} as they were measured: begin from {first}, or record the outcome of the visit and begin its remake there"
        ));
    }
    let needs_collected = matches!(
        reason,
        Reason::Recheck | Reason::Reglaze | Reason::Replacement
    );
    match (reason, stage) {
        (Reason::New, _) => Some(
            "a new pair follows no other job: say second pair, reglaze, replacement, remake or recheck"
                .to_owned(),
        ),
        (_, Stage::Collected) => None,
        (_, Stage::Cancelled) => Some("it is cancelled; its record is closed".to_owned()),
        _ if needs_collected => Some(format!(
            "it stands at {stage}: a {reason} needs a pair that was collected"
        )),
        _ => None,
    }
}

/// Whether more than so many whole months lie between two days.
pub(crate) fn is_older(on: NaiveDate, months: f64, today: NaiveDate) -> bool {
    #[allow(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "a threshold in whole months, far inside u32"
    )]
    let span = Months::new(months.max(0.0) as u32);
    on.checked_add_months(span).is_some_and(|end| end < today)
}

/// Returns what the table of fields says of carrying the value at a path.
fn carry_of(path: &str) -> Carry {
    find(path).map_or(Carry::Kept, Field::carry)
}

/// Whether the value at a path belongs to the frame it was taken in.
pub(crate) fn is_of_the_frame(path: &str) -> bool {
    carry_of(path) == Carry::OfTheFrame
}

enum Fate {
    Carried,
    NotCarried(String),
    /// Says nothing about another job: neither carried nor shown.
    Silent,
}

struct Rule<'a> {
    old: &'a Job,
    number: &'a str,
    reason: Reason,
    same_frame: bool,
    /// Whether the earlier job is a visit that decided on this remake: what was taken at the visit
    /// is taken over as it is, what it had carried follows the rule of the pair itself.
    is_visit: bool,
    /// The pair that is worn, and its number: it is carried as it fits now. A recheck asks what
    /// was measured and ordered then: there the measured values stay.
    worn: Option<(&'a Job, &'a str)>,
    /// Why the prescription is not carried.
    rx_over: Option<String>,
    /// Why no measurement of the wearer is carried.
    outgrown: Option<String>,
}

impl<'a> Rule<'a> {
    fn new(
        old: &'a Job,
        number: &'a str,
        reason: Reason,
        today: NaiveDate,
        practice: &Practice,
    ) -> Self {
        let limit = |t| practice.thresholds.get(t);
        let rx_months = limit(Threshold::RxMonths);
        let p = &old.prescription;
        let passed = p.expires_on.filter(|e| *e < today);
        let aged = p.tested_on.filter(|t| is_older(*t, rx_months, today));
        let rx_over = match (passed, aged) {
            (Some(day), _) => Some(format!(
                "the prescription was valid until {day}; advise a new sight test"
            )),
            (None, Some(day)) => Some(format!(
                "tested on {day}, more than {rx_months:.0} months ago; advise a new sight test"
            )),
            (None, None) => None,
        };
        let child_months = limit(Threshold::ChildMonths);
        let is_child = old
            .wearer
            .age_on(today)
            .is_some_and(|age| f64::from(age) < limit(Threshold::RestrictedAge));
        let outgrown = is_child
            .then(|| match old.fitting.taken_on {
                None => Some("a child grows, and no day of the measurement is recorded; measure again".to_owned()),
                Some(day) if is_older(day, child_months, today) => Some(format!(
                    "a child grows: measured on {day}, more than {child_months:.0} months ago; measure again"
                )),
                Some(_) => None,
            })
            .flatten();
        Self {
            old,
            number,
            reason,
            same_frame: reason != Reason::SecondPair,
            is_visit: false,
            worn: (reason != Reason::Recheck).then_some((old, number)),
            rx_over,
            outgrown,
        }
    }

    /// Whether a value of the earlier job was taken at the visit that it is.
    fn is_of_the_visit(&self, path: &str) -> bool {
        self.is_visit && !self.old.origins.contains_key(path)
    }

    fn fate(&self, path: &str) -> Fate {
        if self.reason == Reason::Recheck {
            return Fate::Carried;
        }
        // What the laboratory said of the first pair says nothing of the next, whenever it said it.
        let is_laboratory = find(path)
            .is_some_and(|f| matches!(f.place, JobPart::LaboratoryPowers | JobPart::LaboratoryEye));
        if self.is_of_the_visit(path) && !is_laboratory {
            return Fate::Carried;
        }
        match path.split('.').next().unwrap_or_default() {
            "wearer" => Fate::Carried,
            "prescription" => carried_unless(self.rx_over.as_ref()),
            "fitting" => self.fate_of_fitting(path),
            "frame" => self.fate_of_frame(path),
            "lenses" => self.fate_of_lenses(path),
            _ => Fate::Silent,
        }
    }

    fn fate_of_fitting(&self, path: &str) -> Fate {
        match carry_of(path) {
            Carry::Never => return Fate::Silent,
            Carry::HowCentred => {
                let through = Some(crate::job::Centration::ThroughTheFrame);
                return if self.same_frame || self.old.fitting.centration != through {
                    Fate::Carried
                } else {
                    Fate::NotCarried(format!(
                        "that was the frame of {}; say how the distances stand to this one",
                        self.number
                    ))
                };
            }
            _ => {}
        }
        if !self.same_frame && is_of_the_frame(path) {
            return Fate::NotCarried(format!(
                "in the frame of {}: heights, vertex distance, tilt and face form belong to their frame; measure again",
                self.number
            ));
        }
        carried_unless(self.outgrown.as_ref())
    }

    fn fate_of_frame(&self, path: &str) -> Fate {
        match (carry_of(path), self.reason) {
            (_, Reason::SecondPair) => Fate::NotCarried(format!(
                "the frame of {}; this is another pair",
                self.number
            )),
            (Carry::LookAgain, _) => Fate::NotCarried(format!(
                "so it was for {}; look at the frame as it is now",
                self.number
            )),
            // In a remake the frame stays whose it was.
            (Carry::Owner, Reason::Remake) => Fate::Carried,
            (Carry::Owner, _) => Fate::Silent,
            _ => Fate::Carried,
        }
    }

    fn fate_of_lenses(&self, path: &str) -> Fate {
        if self.reason == Reason::SecondPair {
            return Fate::NotCarried(format!(
                "the lenses of {}; choose them for this pair",
                self.number
            ));
        }
        let place = find(path).map(|field| field.place);
        let is_laboratory = matches!(
            place,
            Some(JobPart::LaboratoryPowers | JobPart::LaboratoryEye)
        );
        if is_laboratory {
            return Fate::Silent;
        }
        let is_power = matches!(place, Some(JobPart::Powers | JobPart::PowersEye));
        match (is_power, &self.rx_over, carry_of(path)) {
            (true, Some(why), _) => Fate::NotCarried(why.clone()),
            // Whoever orders compensated powers again answers for them again.
            (_, _, Carry::Never) => Fate::Silent,
            _ => Fate::Carried,
        }
    }

    /// Returns where a value measured at a visit comes from. Who measured and when counts only where
    /// it was recorded there, too: carried, it is that of the first pair.
    fn measured_at_the_visit(&self, own: Origin) -> Origin {
        let f = &self.old.fitting;
        let here = |key: &str| self.is_of_the_visit(&format!("fitting.{key}"));
        Origin {
            on: f
                .taken_on
                .filter(|_| here("taken_on"))
                .or(self.old.visit.decided_on),
            by: f.taken_by.clone().filter(|_| here("taken_by")),
            with: f.taken_with.filter(|_| here("taken_with")),
            taken_as: Some(TakenAs::Measured),
            ..own
        }
        .in_frame(&self.old.frame)
    }

    /// Returns where a carried value comes from; one that was carried before keeps its first origin.
    fn origin(&self, path: &str) -> Option<Origin> {
        if let Some(known) = self.old.origins.get(path) {
            return Some(known.clone());
        }
        let own = Origin {
            job: Some(self.number.to_owned()),
            ..Origin::default()
        };
        if self.is_of_the_visit(path) {
            return path
                .starts_with("fitting.")
                .then(|| self.measured_at_the_visit(own));
        }
        let (p, f) = (&self.old.prescription, &self.old.fitting);
        Some(match path.split('.').next()? {
            // Asked when the measurements were taken, as far as the job says.
            "wearer" if carry_of(path) == Carry::Answer => Origin {
                on: f.taken_on.or(self.old.order.ordered_on),
                by: f.taken_by.clone(),
                taken_as: Some(TakenAs::Asked),
                ..own
            },
            "prescription" => Origin {
                on: p.tested_on,
                by: p.prescriber.clone(),
                ..own
            },
            "fitting" => Origin {
                on: f.taken_on,
                by: f.taken_by.clone(),
                with: f.taken_with,
                taken_as: Some(TakenAs::Measured),
                ..own
            }
            .in_frame(&self.old.frame),
            "frame" | "lenses" => Origin {
                on: self.old.order.ordered_on,
                taken_as: Some(TakenAs::Ordered),
                ..own
            },
            _ => return None,
        })
    }
}

fn carried_unless(why: Option<&String>) -> Fate {
    why.map_or(Fate::Carried, |why| Fate::NotCarried(why.clone()))
}

/// Begins a job from an earlier one of the same wearer. Nothing of its order, readings and handover
/// is taken over but the values of the pair as it fits now, where the frame stays the same.
///
/// # Errors
/// [`RecordError`] when the earlier job has no wearer's name or cannot be written.
pub fn begin(
    old: &Job,
    number: &str,
    reason: Reason,
    today: NaiveDate,
    practice: &Practice,
) -> Result<Begun, RecordError> {
    carry(&Rule::new(old, number, reason, today, practice))
}

/// Begins the remake that a visit decided on, by the same rule as [`begin`]: in the same frame the
/// pair is carried as it fits now. `recheck` is the visit under its number, `first` the pair it
/// was about, where that is still in the book. What was taken at the visit itself is taken over as
/// it is.
///
/// # Errors
/// As [`begin`].
pub fn begin_after_visit(
    recheck: &Job,
    number: &str,
    first: Option<&Job>,
    today: NaiveDate,
    practice: &Practice,
) -> Result<Begun, RecordError> {
    let mut rule = Rule::new(recheck, number, Reason::Remake, today, practice);
    rule.is_visit = true;
    // In another frame the pair that is worn says nothing of heights and angles.
    let by_mm = practice.thresholds.get(Threshold::FrameSize);
    let is_same_frame = |first: &&Job| {
        let then = Origin::default().in_frame(&first.frame);
        !then.is_of_another_name(&recheck.frame) && !then.is_of_another_size(&recheck.frame, by_mm)
    };
    rule.worn = first
        .filter(is_same_frame)
        .zip(recheck.linked_to.as_deref());
    carry(&rule)
}

fn carry(rule: &Rule<'_>) -> Result<Begun, RecordError> {
    let Rule {
        old,
        number,
        reason,
        ..
    } = *rule;
    let mut job = Job {
        reason: Some(reason),
        linked_to: Some(number.to_owned()),
        stage: Some(Stage::Measured),
        ..Job::default()
    };
    let mut not_carried = Vec::new();
    let mut origins = Map::new();
    for section in [
        Section::Wearer,
        Section::Prescription,
        Section::Fitting,
        Section::Frame,
        Section::Lenses,
    ] {
        let mut values = Vec::new();
        leaves(section.word(), &old.section(section)?, &mut values);
        let standing = replace_by_current(rule, section, &mut values);
        let mut change = json!({});
        for (path, value) in values {
            match rule.fate(&path) {
                Fate::Carried => {
                    let origin = standing
                        .iter()
                        .find(|(p, _)| *p == path)
                        .map(|(_, o)| o.clone())
                        .or_else(|| rule.origin(&path));
                    if let Some(origin) = origin {
                        let origin = write_value(&origin, Section::Origins.word())?;
                        origins.insert(path.clone(), origin);
                    }
                    put(&mut change, &path, value);
                }
                Fate::NotCarried(why) => not_carried.push(NotCarried { path, value, why }),
                Fate::Silent => {}
            }
        }
        job.record(section, &change)?;
    }
    if reason == Reason::Reglaze {
        job.frame.owned_by_wearer = Some(true);
    }
    job.record(Section::Origins, &Value::Object(origins))?;
    Ok(Begun { job, not_carried })
}

/// Puts the values of the pair as it fits now in the place of those measured; returns their
/// origins. What is not carried is shown as it fits now, too.
fn replace_by_current(
    rule: &Rule<'_>,
    section: Section,
    values: &mut Vec<(String, Value)>,
) -> Vec<(String, Origin)> {
    let mut origins = Vec::new();
    let Some((worn, number)) = rule.worn else {
        return origins;
    };
    for (path, now) in handover_now(worn) {
        let of = if path.starts_with("pads.") {
            Section::Frame
        } else {
            Section::Fitting
        };
        if of != section {
            continue;
        }
        let full = format!("{}.{path}", of.word());
        // What was taken, or struck off, at the visit is later than that.
        let was_there = || [rule.old, worn].iter().any(|j| j.value_at(&full).is_some());
        if rule.is_of_the_visit(&full) && was_there() {
            continue;
        }
        // The second reading belongs to the value that was measured, not to the one set since.
        let again = format!("{}.second_reading.{path}", of.word());
        values.retain(|(p, _)| *p != full && *p != again);
        values.push((full.clone(), now.value.to_json()));
        let origin = Origin {
            job: Some(number.to_owned()),
            on: now.on,
            by: now.by,
            taken_as: Some(now.taken_as),
            ..Origin::default()
        }
        .in_frame(&worn.frame);
        origins.push((full, origin));
    }
    origins
}

/// Lists every value below a path.
fn leaves(path: &str, value: &Value, into: &mut Vec<(String, Value)>) {
    match value {
        Value::Object(map) => {
            for (key, inner) in map {
                leaves(&format!("{path}.{key}"), inner, into);
            }
        }
        other => into.push((path.to_owned(), other.clone())),
    }
}

/// Puts a value into a section's change; the first key of the path is the section's own.
pub(crate) fn put(change: &mut Value, path: &str, value: Value) {
    let mut at = change;
    for key in path.split('.').skip(1) {
        if !at.is_object() {
            *at = json!({});
        }
        at = &mut at[key];
    }
    *at = value;
}

/// Returns where a value comes from, in words.
pub fn origin_words(origin: &Origin) -> String {
    let job = origin.job.as_deref().unwrap_or("another job");
    let mut parts = vec![format!("from {job}")];
    parts.extend(origin.on.map(|on| on.to_string()));
    let how = [
        origin.taken_as.map(|a| a.word().to_owned()),
        origin.by.as_ref().map(|by| format!("by {by}")),
        origin.with.map(|with| format!("with {with}")),
    ];
    let how: Vec<String> = how.into_iter().flatten().collect();
    if !how.is_empty() {
        parts.push(how.join(" "));
    }
    parts.extend(origin.frame.as_ref().map(|f| format!("in frame {f}")));
    parts.join(", ")
}
