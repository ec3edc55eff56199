//! What a written line says of an eye, as a change of its row and of the entries beside it.

use serde_json::{Value, json};

use super::field::Field;
use super::row::{fill_row, json as json_of, nested, prefix, row_powers};
use super::table::find;
use crate::trade::eye::{Eye, PerEye};
use crate::trade::notation::{Assumption, Eighths, WrittenRx};
use crate::trade::units::PrismDioptre;

/// What a typed line changes, and what has to be said of it.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct WrittenChange {
    /// The change of the section.
    pub change: Value,
    /// Labels of the entries filled beside the row.
    also: Vec<&'static str>,
    /// What was written and has no entry here.
    not_taken: Vec<&'static str>,
    /// What the line does not say in so many words.
    assumed: Vec<Assumption>,
}

impl WrittenChange {
    /// A change of the row alone.
    pub(super) fn of_row(change: Value) -> Self {
        Self {
            change,
            also: Vec::new(),
            not_taken: Vec::new(),
            assumed: Vec::new(),
        }
    }

    /// Returns what was assumed, filled beside the row and not taken, in words; none where the row
    /// says it all.
    pub(crate) fn said(&self) -> Option<String> {
        let assumed: Vec<&str> = self.assumed.iter().map(|a| a.words()).collect();
        let parts: Vec<String> = [
            ("Assumed", assumed.as_slice()),
            ("Also filled", &self.also),
            ("Not taken, because it has no entry here", &self.not_taken),
        ]
        .into_iter()
        .filter(|(_, what)| !what.is_empty())
        .map(|(words, what)| format!("{words}: {}.", what.join(", ")))
        .collect();
        (!parts.is_empty()).then(|| parts.join(" "))
    }

    /// Returns the change where the line was taken whole.
    ///
    /// # Errors
    /// A sentence that names what has no entry here.
    pub(crate) fn taken_whole(self) -> Result<Value, String> {
        if self.not_taken.is_empty() {
            Ok(self.change)
        } else {
            Err(format!(
                "there is no entry for the {} here: type the power without it",
                self.not_taken.join(" and the ")
            ))
        }
    }
}

/// Returns the change that fills the row of the field and the entries beside it with what a line
/// says of one eye.
pub(crate) fn fill_written(field: &Field, rx: &WrittenRx, eye: Eye) -> WrittenChange {
    let mut filled = WrittenChange::of_row(fill_row(field, &row_powers(rx, eye)));
    let Some(row) = prefix(field) else {
        return filled;
    };
    let section = field.section.word();
    let beside = |key: &str| find(&format!("{section}.{row}.{key}"));
    if let Some(addition) = rx.intermediate_addition.map(Eighths::to_dioptre) {
        let entry = beside("intermediate_addition_d");
        filled.put(entry, "intermediate addition", json_of(Some(addition)));
    }
    if let Some((base_in, base_up)) = rx.near_prism_components(eye) {
        filled.put_near_prism(
            [beside("near_base_in_delta"), beside("near_base_up_delta")],
            base_in,
            base_up,
        );
    }
    if let Some(acuity) = &rx.acuity {
        filled.put(beside("acuity"), "acuity", json!(acuity));
    }
    if let Some(vertex) = rx.vertex_mm {
        // One distance for both eyes, of the test or of the pair worn until now.
        let part = row
            .rsplit_once('.')
            .map_or(String::new(), |(part, _)| format!("{part}."));
        let entry = ["tested_vertex_mm", "vertex_mm"]
            .iter()
            .find_map(|key| find(&format!("{section}.{part}{key}")));
        filled.put(entry, "vertex distance", json_of(Some(vertex)));
    }
    filled
}

/// Returns the change that fills the rows of both eyes, `field` being of the first.
pub(super) fn fill_both(
    (field, other): (&Field, &Field),
    eyes: &PerEye<WrittenRx>,
    assumed: Vec<Assumption>,
) -> WrittenChange {
    let mut eyes = eyes.clone();
    let distances = (eyes.right.vertex_mm, eyes.left.vertex_mm);
    let is_doubtful = matches!(distances, (Some(right), Some(left)) if right != left);
    if is_doubtful {
        (eyes.right.vertex_mm, eyes.left.vertex_mm) = (None, None);
    }
    let first = field.eye.unwrap_or(Eye::Right);
    let mut filled = fill_written(field, eyes.get(first), first);
    let second = fill_written(other, eyes.get(first.other()), first.other());
    join(&mut filled.change, second.change);
    for label in second.also {
        once(&mut filled.also, label);
    }
    for label in second.not_taken {
        once(&mut filled.not_taken, label);
    }
    if is_doubtful {
        once(&mut filled.not_taken, "two vertex distances that differ");
    }
    filled.assumed = assumed;
    filled
}

impl WrittenChange {
    /// Fills an entry, or notes what has none.
    fn put(&mut self, entry: Option<&'static Field>, what: &'static str, value: Value) {
        if let Some(entry) = entry {
            join(&mut self.change, nested(entry.path, value));
            once(&mut self.also, entry.label);
        } else {
            once(&mut self.not_taken, what);
        }
    }

    /// Fills both parts of a near prism: a part that is not written is taken out, since what is
    /// written is the whole of it; no prism at all is written as 0 in.
    fn put_near_prism(
        &mut self,
        [horizontal, vertical]: [Option<&'static Field>; 2],
        base_in: PrismDioptre,
        base_up: PrismDioptre,
    ) {
        let none = PrismDioptre::default();
        let is_none = base_in == none && base_up == none;
        for (entry, part, is_written) in [
            (horizontal, base_in, base_in != none || is_none),
            (vertical, base_up, base_up != none),
        ] {
            if is_written {
                self.put(entry, "near prism", json_of(Some(part)));
            } else if let Some(entry) = entry {
                join(&mut self.change, nested(entry.path, Value::Null));
            }
        }
    }
}

/// Puts what one change says into another. What it takes out stays said, which a merge of two
/// values would not leave.
fn join(change: &mut Value, more: Value) {
    match (change, more) {
        (Value::Object(change), Value::Object(more)) => {
            for (key, value) in more {
                match change.get_mut(&key) {
                    Some(here) => join(here, value),
                    None => drop(change.insert(key, value)),
                }
            }
        }
        (change, more) => *change = more,
    }
}

fn once(list: &mut Vec<&'static str>, label: &'static str) {
    if !list.contains(&label) {
        list.push(label);
    }
}

#[cfg(test)]
mod tests {
    use super::super::whole_power::whole_power;
    use super::*;

    fn typed(path: &str, text: &str) -> WrittenChange {
        whole_power(find(path).unwrap(), text).unwrap().unwrap()
    }

    #[test]
    fn everything_a_prescription_says_goes_into_its_entries() {
        let filled = typed(
            "prescription.right.sphere_d",
            "+1.00 -0.50 x 90 int +1.25 add +2.50 1 BU near 3 BI 6/9-2 BVD 12",
        );
        assert_eq!(
            filled.change,
            json!({
                "tested_vertex_mm": 12,
                "right": {
                    "sphere_d": 1, "cylinder_d": -0.5, "axis_deg": 90, "addition_d": 2.5,
                    "base_up_delta": 1, "intermediate_addition_d": 1.25,
                    "near_base_in_delta": 3, "near_base_up_delta": null, "acuity": "6/9-2",
                },
            })
        );
        assert_eq!(
            filled.said().unwrap(),
            "Also filled: intermediate addition, near prism in/out, acuity, tested at vertex."
        );
        assert!(filled.taken_whole().is_ok());
        assert_eq!(
            typed("prescription.left.sphere_d", "-2.25 -0.75 x 90").said(),
            None
        );
    }

    #[test]
    fn the_pair_worn_until_now_has_a_vertex_distance_of_its_own() {
        let filled = typed("prescription.previous.left.sphere_d", "-6.50 BVD 13");
        assert_eq!(filled.change["previous"]["vertex_mm"], json!(13));
        assert_eq!(filled.said().unwrap(), "Also filled: previous vertex.");
    }

    #[test]
    fn what_has_no_entry_is_named() {
        let filled = typed("lenses.powers.right.sphere_d", "-6.50 6/9 BVD 12");
        assert_eq!(
            filled.said().unwrap(),
            "Not taken, because it has no entry here: acuity, vertex distance."
        );
        assert!(
            filled
                .taken_whole()
                .unwrap_err()
                .contains("acuity and the vertex distance")
        );
        assert!(
            typed("readings.right.sphere_d", "-6.50 near 2 in")
                .taken_whole()
                .is_err()
        );
    }

    #[test]
    fn spheres_alone_take_the_cylinders_of_both_eyes_away() {
        let filled = typed("prescription.left.sphere_d", "R -1.00 L -2.00");
        for eye in ["right", "left"] {
            let cylinder = filled.change[eye].get("cylinder_d");
            assert_eq!(cylinder, Some(&Value::Null), "{eye}");
        }
    }

    #[test]
    fn one_addition_and_one_vertex_distance_are_for_both_eyes() {
        let filled = typed(
            "prescription.right.sphere_d",
            "R +8.00 BVD 12 L +8.25 add 2.00 BVD 12",
        );
        for eye in ["right", "left"] {
            assert_eq!(filled.change[eye]["addition_d"], json!(2), "{eye}");
        }
        assert_eq!(filled.change["tested_vertex_mm"], json!(12));
        assert_eq!(
            filled.said().unwrap(),
            "Assumed: addition for both eyes. Also filled: tested at vertex."
        );
        let filled = typed(
            "prescription.right.sphere_d",
            "R +8.00 BVD 12 L +8.25 BVD 14",
        );
        assert!(filled.change.get("tested_vertex_mm").is_none());
        assert!(
            filled
                .said()
                .unwrap()
                .contains("two vertex distances that differ")
        );
    }
}
