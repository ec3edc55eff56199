//! Heights on the face that no longer hold, because the frame was adjusted after they were read.
//!
//! One law: once an eye is marked, only a height that is entered for it takes the mark away. Neither
//! clearing the height, nor taking an entry back, nor emptying the list does. Which height counts
//! follows the design; a height that begins to count again is to be read again.

use serde_json::{Map, Value, json};

use super::{Design, EyeHandover, Frame, Handover, Job, Lenses, Pads, RecordError, Section};
use crate::job::fields::{self, Record};
use crate::trade::eye::Eye;

/// The key of the marks in the handover.
const MARKS: &str = "adjusted_after_heights";

/// The keys of an eye's heights.
const HEIGHTS: [&str; 2] = ["height_mm", "segment_height_mm"];

/// The keys of the handover and of the part of an eye that move the lenses before the eyes, so that a
/// height read earlier no longer holds.
fn moving_keys() -> impl Iterator<Item = &'static str> {
    let rows = Handover::KEYS.iter().chain(EyeHandover::KEYS);
    rows.filter(|row| fields::moves_lenses(row))
        .map(|row| row.key)
}

/// Whether an answer or value of the handover, by its name in the file, says how the lenses sit before
/// the eyes.
pub(crate) fn moves_lenses(key: &str) -> bool {
    moving_keys().any(|moving| moving == key)
}

/// Whether a change is entered, or takes an earlier entry back.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum ChangeSource {
    /// Somebody has entered it: what it gives was read now.
    Entered,
    /// It takes an entry back: what it gives was read some time ago.
    Undone,
}

/// Whether two values of a file are one: 12 and 12.0 are written differently.
fn same(a: &Value, b: &Value) -> bool {
    match (a.as_f64(), b.as_f64()) {
        (Some(a), Some(b)) => (a - b).abs() < 1e-9,
        _ => a == b,
    }
}

/// Whether something that stood is another now, or, where that counts, gone.
fn moved(before: &Value, now: &Value, gone_counts: bool) -> bool {
    let in_part = |before: Option<&Value>, now: Option<&Value>| {
        moving_keys().any(|key| {
            let old = before.and_then(|b| b.get(key));
            let new = now.and_then(|n| n.get(key));
            match (old, new) {
                (Some(old), Some(new)) => !same(old, new),
                (Some(_), None) => gone_counts,
                (None, _) => false,
            }
        })
    };
    in_part(Some(before), Some(now))
        || Eye::BOTH
            .iter()
            .any(|eye| in_part(before.get(eye.word()), now.get(eye.word())))
}

/// One key of an eye's part of the handover, where it has a value.
fn of_eye<'a>(handover: &'a Value, eye: Eye, key: &str) -> Option<&'a Value> {
    handover
        .get(eye.word())
        .and_then(|part| part.get(key))
        .filter(|value| !value.is_null())
}

fn has_height(handover: &Value, eye: Eye) -> bool {
    HEIGHTS
        .iter()
        .any(|key| of_eye(handover, eye, key).is_some())
}

/// The key of the height on the face that counts for a pair with these lenses.
fn height_key(lenses: &Lenses) -> &'static str {
    if lenses.design.is_some_and(Design::has_segment) {
        "segment_height_mm"
    } else {
        "height_mm"
    }
}

impl Job {
    /// The key of the height on the face that counts for the pair.
    fn height_key(&self) -> &'static str {
        height_key(&self.lenses)
    }

    /// Whether the value at a path, such as `handover.right.height_mm`, is a height that is to be
    /// read again: given again it counts as read, even where it came out the same.
    pub fn is_to_be_read_again(&self, path: &str) -> bool {
        let marked = self.handover.adjusted_after_heights.iter().flatten();
        let key = self.height_key();
        marked
            .into_iter()
            .any(|eye| path == format!("handover.{eye}.{key}"))
    }

    /// Notes which heights a change of the handover leaves behind; `before` is the handover as it
    /// stood, `self` has the new one.
    ///
    /// An answer or value that stood and is another now, or is cleared, says that the frame was
    /// adjusted. A change may name eyes itself: those are marked, too.
    ///
    /// # Errors
    /// [`RecordError::HeightNotRead`] for a change that empties the list of marks by hand.
    pub(super) fn note_adjusted(
        &mut self,
        before: &Value,
        change: &Value,
        source: ChangeSource,
    ) -> Result<(), RecordError> {
        let is_entered = source == ChangeSource::Entered;
        let known = marks(before);
        let named = marks(change);
        let now = self.section(Section::Handover)?;
        let adjusted = moved(before, &now, is_entered);
        let key = self.height_key();
        // Given along with an adjustment, as a whole handover is, a height was read after it.
        let is_read = |eye: Eye| is_entered && of_eye(change, eye, key).is_some();
        // A height that comes back after it was cleared: while it was gone, nothing kept count.
        let comes_back = |eye: Eye| {
            !is_entered
                && HEIGHTS.iter().any(|key| {
                    of_eye(before, eye, key).is_none() && of_eye(change, eye, key).is_some()
                })
        };
        let is_marked = |eye: Eye| {
            named.contains(&eye)
                || comes_back(eye)
                || (!is_read(eye)
                    && (known.contains(&eye) || (adjusted && has_height(before, eye))))
        };
        let is_emptied = is_entered && change.get(MARKS).is_some() && named.is_empty();
        if is_emptied && let Some(eye) = known.iter().find(|eye| !is_read(**eye)) {
            return Err(RecordError::HeightNotRead(*eye));
        }
        self.handover.mark(is_marked);
        Ok(())
    }

    /// Other pads move the lenses, too: marks every height that was read in those before. An entry that
    /// is taken back because nothing stood before it moved nothing.
    pub(super) fn note_other_pads(&mut self, before: &Frame, source: ChangeSource) {
        let gone_counts = source == ChangeSource::Entered;
        let changed = Pads::KEYS.iter().any(|row| {
            let [old, new] =
                [before, &self.frame].map(|frame| frame.pads.as_ref()?.value_of(row.key));
            match (old, new) {
                (Some(old), Some(new)) => old != new,
                (Some(_), None) => gone_counts,
                (None, _) => false,
            }
        });
        if changed {
            let handover = self.handover.clone();
            let known = handover.adjusted_after_heights.as_deref();
            self.handover.mark(|eye| {
                handover.eye(eye).has_height() || known.is_some_and(|k| k.contains(&eye))
            });
        }
    }

    /// Another design may make the other height the one that counts. Marks know of the height that
    /// counted, so nothing says whether the other was read since the frame was adjusted: where one
    /// remains, it is to be read again. `before` is the lenses as they were.
    pub(super) fn note_other_design(&mut self, before: &Lenses) {
        let key = self.height_key();
        if height_key(before) == key {
            return;
        }
        let handover = self.handover.clone();
        let known = handover.adjusted_after_heights.as_deref();
        self.handover.mark(|eye| {
            known.is_some_and(|k| k.contains(&eye)) || handover.eye(eye).value_of(key).is_some()
        });
    }

    /// Returns the change that takes back what `change` did to a section; `before` is the section as
    /// it stood, `self` has the change. A mark that the change took away comes back with the height
    /// that it was about.
    pub fn undoing_change(&self, section: Section, before: &Value, change: &Value) -> Value {
        let mut back = inverse_change(before, change);
        if section == Section::Handover {
            let now = self.handover.adjusted_after_heights.as_deref();
            let gone: Vec<Eye> = marks(before)
                .into_iter()
                .filter(|eye| !now.is_some_and(|now| now.contains(eye)))
                .collect();
            if !gone.is_empty() {
                back[MARKS] = json!(gone);
            }
        }
        back
    }
}

/// Returns the change that gives every key of a change what `before` had.
fn inverse_change(before: &Value, change: &Value) -> Value {
    let mut out = Map::new();
    for (key, new) in change.as_object().into_iter().flatten() {
        let old = before.get(key);
        let back = match (old, new) {
            (Some(o @ Value::Object(_)), n @ Value::Object(_)) => inverse_change(o, n),
            (Some(o), _) => o.clone(),
            (None, _) => Value::Null,
        };
        out.insert(key.clone(), back);
    }
    Value::Object(out)
}

/// The eyes that a handover, or a change of it, names as marked.
fn marks(handover: &Value) -> Vec<Eye> {
    let named = handover.get(MARKS).and_then(Value::as_array);
    Eye::BOTH
        .into_iter()
        .filter(|eye| named.is_some_and(|n| n.iter().any(|w| w == eye.word())))
        .collect()
}

impl Handover {
    fn mark(&mut self, is_marked: impl Fn(Eye) -> bool) {
        let eyes: Vec<Eye> = Eye::BOTH.into_iter().filter(|e| is_marked(*e)).collect();
        self.adjusted_after_heights = (!eyes.is_empty()).then_some(eyes);
    }
}
