//! The steps of reading a pair, and what is typed at each; nothing here says what was ordered.

use crate::job::fields::at;
use chrono::NaiveDate;
use serde_json::{Map, Value, json};

use crate::job::fields;
use crate::job::{Design, EyeReading, Job, Purpose};
use crate::judge::derive::compensates::laboratory_states;
use crate::judge::derive::places::{design_height, ordered_cd_mm};
use crate::judge::derive::powers::powered_eyes;
use crate::judge::derive::verification::target;
use crate::judge::rules::blind_reading::both_read;
use crate::judge::rules::repeats;
use crate::practice::Practice;
use crate::trade::eye::Eye;
use crate::trade::units::PrismDioptre;

/// One step.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Step {
    /// Path of what is typed, as a draft keeps it.
    pub path: String,
    /// What is looked at or read.
    pub question: String,
    /// How it is typed; nothing where yes or no answers it.
    pub hint: &'static str,
    /// Whether it is asked for before the pair is judged.
    pub needed: bool,
    /// Whether it is gone to on the way, though the pair is judged without it.
    pub offered: bool,
    /// What was answered.
    pub answer: Option<String>,
    /// The values of yes and of no, where those answer it.
    pub yes_no: Option<(Value, Value)>,
}

impl Step {
    /// Whether it still wants an answer.
    pub(crate) const fn is_open(&self) -> bool {
        self.needed && self.answer.is_none()
    }

    /// Whether it has no answer and is gone to on the way.
    pub(crate) const fn is_on_the_way(&self) -> bool {
        (self.needed || self.offered) && self.answer.is_none()
    }
}

/// Something to be confirmed once the order is seen.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Confirm {
    /// Key of the answer in the readings.
    pub key: &'static str,
    /// What was ordered.
    pub ordered: String,
}

/// Returns a power as it is written, of its sphere, cylinder, axis and addition.
fn power_text(of: [Value; 4]) -> Option<String> {
    let [sphere, cylinder, axis, addition] = of;
    let figure = |value: &Value, like: &str| {
        fields::find(like).map_or_else(String::new, |f| fields::show_value(f, Some(value)))
    };
    if sphere.is_null() {
        return None;
    }
    let mut text = figure(&sphere, at!(readings.right.sphere_d).full());
    for (sign, value, like) in [
        ("/", cylinder, at!(readings.right.cylinder_d)),
        ("x", axis, at!(readings.right.axis_deg)),
        (" add ", addition, at!(readings.right.addition_d)),
    ] {
        if !value.is_null() {
            text = format!("{text}{sign}{}", figure(&value, like.full()));
        }
    }
    Some(text)
}

/// Returns a reading as it is written.
fn reading_text(r: &EyeReading) -> Option<String> {
    power_text([
        json!(r.sphere_d),
        json!(r.cylinder_d),
        json!(r.axis_deg),
        json!(r.addition_d),
    ])
}

const POWER: &str = "as the focimeter reads: -2.31/-0.70x91, with an addition: add 2.04";
const STATED: &str = "as its paper states it: -2.31/-0.70x91, with an addition: add 2.04";

struct Asked<'a> {
    job: &'a Job,
    list: Vec<Step>,
}

impl Asked<'_> {
    fn tick(&mut self, path: &str, question: &str, values: (Value, Value), needed: bool) {
        let answer = fields::find(path)
            .map(|f| fields::show(self.job, f))
            .filter(|t| !t.is_empty());
        self.list.push(Step {
            path: path.to_owned(),
            question: question.to_owned(),
            hint: "",
            needed,
            offered: false,
            answer,
            yes_no: Some(values),
        });
    }

    fn value(&mut self, path: &str, question: String, needed: bool) {
        let Some(field) = fields::find(path) else {
            return;
        };
        let answer = Some(fields::show(self.job, field)).filter(|t| !t.is_empty());
        self.list.push(Step {
            path: path.to_owned(),
            question,
            hint: field.help,
            needed,
            offered: false,
            answer,
            yes_no: None,
        });
    }

    /// As [`Asked::value`], gone to on the way and not needed.
    fn offer(&mut self, path: &str, question: String) {
        self.value(path, question, false);
        if let Some(step) = self.list.last_mut() {
            step.offered = true;
        }
    }

    fn power(
        &mut self,
        path: String,
        question: String,
        hint: &'static str,
        needed: bool,
        answer: Option<String>,
    ) {
        self.list.push(Step {
            path,
            question,
            hint,
            needed,
            offered: false,
            answer,
            yes_no: None,
        });
    }
}

/// Returns the steps of a pair in the order in which they are done.
pub(crate) fn steps(job: &Job, practice: &Practice) -> Vec<Step> {
    let mut asked = Asked {
        job,
        list: Vec::new(),
    };
    let design = job.lenses.design;
    let varies = design.is_some_and(Design::is_power_variation);
    let segment = design.is_some_and(Design::has_segment);
    let flags = || (json!(true), json!(false));
    asked.tick(
        at!(readings.frame_trued).full(),
        "Frame trued",
        flags(),
        true,
    );
    let surfaces = (json!("clean"), json!("marked"));
    asked.tick(
        at!(readings.surface).full(),
        "Surfaces clean",
        surfaces,
        true,
    );
    asked.tick(
        at!(readings.mounting_sound).full(),
        "Lenses mounted soundly",
        flags(),
        true,
    );
    let markings = (json!("correct"), json!("wrong"));
    if varies {
        let question = "Permanent markings are right; mark the points";
        asked.tick(at!(readings.markings).full(), question, markings, true);
    }
    let made = |eye: &Eye| !job.prescription.eye(*eye).is_balance();
    for eye in Eye::BOTH {
        let answer = reading_text(job.readings.eye(eye));
        let path = at!(readings[eye].sphere_d).full_path();
        asked.power(path, format!("Power, {eye}"), POWER, made(&eye), answer);
        // Who reads again does not know what is near to what: only that it decides nothing.
        let more = repeats::wanted(job, practice, eye);
        let have = job.readings.repeats.eye(eye);
        for nth in 0..(have.len() + more) {
            let answer = have.get(nth).and_then(reading_text);
            let path = format!("readings.repeats.{eye}.{nth}");
            let word = if nth == 0 { "second" } else { "third" };
            let question = format!("Power, {eye}: {word} reading");
            asked.power(path, question, POWER, true, answer);
        }
    }
    let prism = |eye: &Eye, horizontal: bool| {
        target(job, *eye).is_some_and(|t| {
            let of = if horizontal {
                t.base_in_delta
            } else {
                t.base_up_delta
            };
            of.is_some_and(|d| d != PrismDioptre::default())
        })
    };
    for eye in Eye::BOTH {
        let place = ordered_cd_mm(job, eye).is_some();
        let needed = made(&eye) && (!place || prism(&eye, true));
        let path = at!(readings[eye].base_in_delta).full();
        asked.value(path, format!("Prism in or out, {eye}"), needed);
        let place = design_height(job, job.fitting.eye(eye)).is_some();
        let needed = made(&eye) && (!place || prism(&eye, false));
        let path = at!(readings[eye].base_up_delta).full();
        asked.value(path, format!("Prism up or down, {eye}"), needed);
    }
    for eye in Eye::BOTH {
        let needed = made(&eye) && ordered_cd_mm(job, eye).is_some();
        let path = at!(readings[eye].cd_mm).full();
        asked.value(path, format!("Centre from mid-bridge, {eye}"), needed);
    }
    for eye in Eye::BOTH {
        let needed = made(&eye) && design_height(job, job.fitting.eye(eye)).is_some();
        let (key, what) = if segment {
            ("segment_height_mm", "Segment height")
        } else {
            ("height_mm", "Height")
        };
        asked.value(
            &format!("readings.{eye}.{key}"),
            format!("{what}, {eye}"),
            needed,
        );
    }
    if segment || varies {
        let path = at!(readings.segment_tilt_deg).full();
        asked.value(path, "Tilt of segments or markings".to_owned(), false);
    }
    asked.identity();
    asked.stated();
    asked.list
}

impl Asked<'_> {
    /// What the lenses are, as far as the order asks: prism control; mark and thickness of a safety pair; and
    /// of a product that the order names the code of its packet and its engraving.
    fn identity(&mut self) {
        let lenses = &self.job.lenses;
        if lenses.prism_control.is_some() {
            // Of both lenses: which of them has it is not said before it is read.
            for eye in Eye::BOTH {
                let path = match eye {
                    Eye::Right => at!(readings.prism_control_delta.right),
                    Eye::Left => at!(readings.prism_control_delta.left),
                };
                let question = format!("Prism control, {eye} (0 without a line)");
                self.value(path.full(), question, true);
            }
        }
        if lenses.purpose == Some(Purpose::Safety) {
            for eye in Eye::BOTH {
                let path = at!(readings[eye].centre_mm).full();
                self.value(path, format!("Centre thickness, {eye}"), true);
            }
            let path = at!(readings.impact_mark).full();
            self.value(path, "Impact mark on the lenses".to_owned(), true);
        }
        let names = |text: &Option<String>| text.as_ref().is_some_and(|t| !t.trim().is_empty());
        if !names(&lenses.product) {
            return;
        }
        let is_engraved = lenses.design.is_some_and(Design::is_power_variation);
        for eye in powered_eyes(self.job) {
            let path = at!(readings[eye].identifier).full();
            self.offer(path, format!("Lens identifier, {eye} (scan its packet)"));
            let path = at!(readings[eye].lot).full();
            self.offer(path, format!("Lens lot, {eye}"));
            if is_engraved {
                let path = at!(readings[eye].engraving).full();
                self.offer(path, format!("Engraving, {eye}"));
            }
        }
    }

    /// What the laboratory states that a focimeter should read, where it compensates; after both
    /// lenses are read, so that nobody reads what they expect.
    fn stated(&mut self) {
        if !laboratory_states(self.job) {
            return;
        }
        let path = at!(readings.instrument).full();
        self.offer(path, "Focimeter, and its line (d or e)".to_owned());
        if !both_read(self.job) {
            return;
        }
        for eye in powered_eyes(self.job) {
            let stated = self.job.lenses.laboratory_powers.as_ref();
            let answer = stated.map(|l| l.eye(eye)).and_then(|p| {
                power_text([
                    json!(p.sphere_d),
                    json!(p.cylinder_d),
                    json!(p.axis_deg),
                    json!(p.addition_d),
                ])
            });
            let path = at!(lenses.laboratory_powers[eye].sphere_d).full_path();
            let question = format!("Power the laboratory states, {eye}");
            self.power(path, question, STATED, true, answer);
        }
    }
}

/// Returns what is to be confirmed next against the order.
pub(crate) fn to_confirm(job: &Job) -> Option<Confirm> {
    let (r, l) = (&job.readings, &job.lenses);
    let material = l.material.clone().unwrap_or_default();
    let coatings = l.coatings.as_deref().unwrap_or_default().join(", ");
    let tint = l.tint.as_ref().map(|t| {
        let colour = t.colour.clone().unwrap_or_default();
        let category = t
            .category
            .map_or_else(String::new, |c| format!(" category {c}"));
        format!("{colour}{category}")
    });
    [
        (
            "material_confirmed",
            r.material_confirmed,
            Some(format!("material {material}")),
        ),
        (
            "coatings_confirmed",
            r.coatings_confirmed,
            (!coatings.is_empty()).then(|| format!("coatings {coatings}")),
        ),
        (
            "tint_confirmed",
            r.tint_confirmed,
            tint.map(|t| format!("tint {t}")),
        ),
    ]
    .into_iter()
    .filter(|(_, said, _)| said.is_none())
    .find_map(|(key, _, ordered)| {
        Some(Confirm {
            key,
            ordered: ordered?,
        })
    })
}

/// Returns the change of the readings that a typed text makes, or why it makes none.
///
/// # Errors
/// A sentence that says what to type.
pub(crate) fn change(job: &Job, path: &str, text: &str, today: NaiveDate) -> Result<Value, String> {
    if let Some(rest) = path.strip_prefix("readings.repeats.") {
        return repeat(job, rest, text, today);
    }
    let Some(field) = fields::find(path) else {
        return Err("this cannot be kept here".to_owned());
    };
    if let Some(code) = fields::scanned_code(field, text) {
        return code;
    }
    if path.ends_with(".sphere_d") {
        return power(field, text, today);
    }
    let value = fields::parse(field, text, today).map_err(|e| e.to_string())?;
    Ok(fields::change(field, value))
}

/// A whole power; a sphere alone takes a cylinder away.
fn power(field: &fields::Field, text: &str, today: NaiveDate) -> Result<Value, String> {
    if let Some(whole) = fields::whole_power(field, text) {
        return whole.and_then(fields::WrittenChange::taken_whole);
    }
    let sphere = fields::parse(field, text, today).map_err(|e| e.to_string())?;
    let mut change = fields::change(field, sphere);
    for part in ["right", "left"] {
        if let Some(Value::Object(eye)) = change.get_mut(part) {
            eye.insert("cylinder_d".to_owned(), Value::Null);
            eye.insert("axis_deg".to_owned(), Value::Null);
        }
    }
    Ok(change)
}

/// One further reading, put into the list of its eye.
fn repeat(job: &Job, rest: &str, text: &str, today: NaiveDate) -> Result<Value, String> {
    let nowhere = || "this cannot be kept here".to_owned();
    let (side, nth) = rest.split_once('.').ok_or_else(nowhere)?;
    let nth: usize = nth.parse().map_err(|_| nowhere())?;
    let eye = Eye::BOTH
        .into_iter()
        .find(|e| e.word() == side)
        .ok_or_else(nowhere)?;
    let field = at!(readings[eye].sphere_d);
    let change = power(field, text, today)?;
    if change.get(eye.other().word()).is_some() {
        return Err("these are the powers of two eyes: type this lens's".to_owned());
    }
    let reading = crate::job::without_nulls(change[side].clone());
    let mut list: Vec<Value> = job
        .readings
        .repeats
        .eye(eye)
        .iter()
        .map(|r| crate::job::without_nulls(json!(r)))
        .collect();
    let is_empty = reading.as_object().is_none_or(Map::is_empty);
    match (nth < list.len(), is_empty) {
        (true, true) => drop(list.remove(nth)),
        (true, false) => list[nth] = reading,
        (false, true) => return Err("type what the focimeter reads".to_owned()),
        (false, false) => list.push(reading),
    }
    Ok(json!({"repeats": {side: list}}))
}
