//! Values of a pair that repairs have changed since the handover.

use chrono::NaiveDate;

use super::card_line::MISSING;
use crate::job::fields::{Field, Room, repair_fields, show_read, unit_after};
use crate::job::{HandoverValue, Job, TakenAs, handover_now};

/// What a value is called on the card and when it is read out, by its key.
const NAMES: [(&str, &str, &str); 10] = [
    ("length_to_bend_mm", "bend", "Length to bend"),
    ("vertex_mm", "vertex", "Vertex distance"),
    ("height_mm", "height", "Height"),
    ("segment_height_mm", "segment", "Segment height"),
    ("pantoscopic_deg", "tilt", "Pantoscopic angle"),
    ("face_form_deg", "face form", "Face form"),
    ("head_width_mm", "head", "Head width"),
    ("pads.mount", "pads held by", "Pads held by"),
    ("pads.size_mm", "pads", "Pads"),
    ("pads.material", "pads of", "Pads of"),
];

/// A value that a repair has changed; the values of both eyes together.
#[derive(Debug, Clone)]
pub(super) struct Changed {
    name: &'static str,
    /// What it is called when it is read out.
    pub(super) in_full: &'static str,
    /// The value, or those of right and left, as shown; `None` where it is not known.
    pub(super) values: Vec<Option<String>>,
    /// Its unit as the form writes it.
    pub(super) unit: &'static str,
    /// The day from which it holds; the later one of both eyes.
    pub(super) since: Option<NaiveDate>,
}

impl Changed {
    /// Returns it for a card: "bend R 95 L 92 mm from 2026-11-20".
    pub(super) fn text(&self) -> String {
        let shown = |v: &Option<String>| v.clone().unwrap_or_else(|| MISSING.to_owned());
        let values = match self.values.as_slice() {
            [right, left] => format!("R {} L {}", shown(right), shown(left)),
            other => other.iter().map(shown).collect(),
        };
        let unit = unit_after(self.unit, Room::Little);
        let since = self
            .since
            .map_or_else(String::new, |day| format!(" from {day}"));
        format!("{} {values}{unit}{since}", self.name)
    }
}

fn field(path: &str) -> Option<&'static Field> {
    repair_fields().find(|field| field.path == path)
}

/// Returns the values that repairs have changed; empty for a pair as handed over.
pub(super) fn changed_by_repairs(job: &Job) -> Vec<Changed> {
    let now = handover_now(job);
    // A repair that set the same value has changed nothing.
    let is_changed = |field: &Field, current: &HandoverValue<'_>| {
        current.taken_as == TakenAs::Adjusted && field.read(job).as_ref() != Some(&current.value)
    };
    let mut parts = Vec::new();
    for (key, name, in_full) in NAMES {
        let paths = match field(key) {
            Some(_) => vec![key.to_owned()],
            None => vec![format!("right.{key}"), format!("left.{key}")],
        };
        let mut changed = Changed {
            name,
            in_full,
            values: Vec::new(),
            unit: "",
            since: None,
        };
        let mut is = false;
        for path in &paths {
            let (Some(field), current) = (field(path), now.get(path.as_str())) else {
                continue;
            };
            changed.unit = field.unit;
            let shown = current.map(|s| show_read(field, &s.value));
            changed.values.push(shown);
            if let Some(current) = current.filter(|s| is_changed(field, s)) {
                is = true;
                changed.since = changed.since.max(current.on);
            }
        }
        if is {
            parts.push(changed);
        }
    }
    parts
}
