//! What of a pair differs now from what was handed over, in one line.

use serde_json::Value;

use super::words::MISSING;
use crate::form::{find, show_value};
use crate::job::{Job, STANDING, Stands, TakenAs, as_it_stands};

/// What a value is called on the card, by its key; both eyes of it stand together.
const NAMES: [(&str, &str); 10] = [
    ("length_to_bend_mm", "bend"),
    ("vertex_mm", "vertex"),
    ("height_mm", "height"),
    ("segment_height_mm", "segment"),
    ("pantoscopic_deg", "tilt"),
    ("face_form_deg", "face form"),
    ("head_width_mm", "head"),
    ("pads.mount", "pads"),
    ("pads.size_mm", "pads"),
    ("pads.material", "pads"),
];

/// Returns the value that a repair replaced: the handover's, or the frame's and the head's as
/// they were recorded before it.
fn before(job: &Job, path: &str) -> Option<Value> {
    let (_, field) = STANDING.iter().find(|(p, _)| *p == path)?;
    job.value_at(field)
}

/// Returns what a repair has changed and the day from which it holds: "bend R 95 L 92 since
/// 2026-11-20", each a part of its own; empty for a pair that stands as it was handed over.
pub(super) fn parts(job: &Job) -> Vec<String> {
    let now = as_it_stands(job);
    let text = |path: &str, value: &Value| {
        STANDING
            .iter()
            .find(|(p, _)| *p == path)
            .and_then(|(_, field)| find(field))
            .map_or_else(|| value.to_string(), |f| show_value(f, Some(value)))
    };
    let differs = |path: &str, s: &Stands| {
        s.taken_as == TakenAs::Adjusted && before(job, path).as_ref() != Some(&s.value)
    };
    let mut parts = Vec::new();
    for (key, name) in NAMES {
        let eyes = [format!("right.{key}"), format!("left.{key}")];
        let of = |path: &str| now.iter().find(|(p, _)| **p == path);
        let (changed, shown) = if STANDING.iter().any(|(p, _)| *p == key) {
            let Some((path, s)) = of(key) else { continue };
            let day = differs(path, s).then_some(s.on);
            (day, format!("{name} {}", text(path, &s.value)))
        } else {
            let each = eyes.map(|path| {
                let stands = of(&path);
                let day = stands.and_then(|(p, s)| differs(p, s).then_some(s.on));
                let shown = stands.map_or_else(|| MISSING.to_owned(), |(p, s)| text(p, &s.value));
                (day, shown)
            });
            let day = each.iter().filter_map(|(day, _)| *day).max();
            let [(_, right), (_, left)] = each;
            (day, format!("{name} R {right} L {left}"))
        };
        if let Some(day) = changed {
            let since = day.map_or_else(String::new, |d| format!(" since {d}"));
            parts.push(format!("{shown}{since}"));
        }
    }
    parts
}
