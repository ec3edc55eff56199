//! Heights on the face that were read before the frame was adjusted: nothing but reading again makes
//! them good. The law of "adjust, then measure" is from Brooks and Borish, System for Ophthalmic
//! Dispensing (from memory); what counts as an adjustment is common practice.
//!
//! Long: a plain run tries fewer cases (`tests/support/long.rs`).

use crate::long::cases;
use proptest::prelude::*;
use rimbook::testing::job::{Job, Section};
use rimbook::testing::trade::eye::Eye;
use serde_json::{Value, json};

const PLAIN: &str = "height_mm";
const SEGMENT: &str = "segment_height_mm";

/// What somebody does at the dispensing table, and what of it the program is told.
#[derive(Debug, Clone)]
enum Act {
    /// The height that counts for the pair is read and entered.
    Read(Eye, i32),
    /// The other height is entered.
    ReadOther(Eye, i32),
    ClearHeight(Eye),
    /// A place that moves the lenses is set to a value and entered.
    Set(usize, i32),
    ClearPlace(usize),
    /// A place is set, the height read after it, and both entered at once.
    SetAndRead(usize, i32, Eye, i32),
    /// The key for adjusted, which records nothing where no height stands.
    Adjusted,
    /// Pads of another size.
    Pads(i32),
    /// Another design, for which the other height counts.
    Design,
    /// The list of marks is struck off.
    Strike,
    /// The last own entry is taken back.
    Undo,
}

/// Places that move the lenses.
const PLACES: [&str; 4] = [
    "right.vertex_mm",
    "left.vertex_mm",
    "pantoscopic_deg",
    "no_pressure_marks",
];

fn place(at: usize, value: Option<i32>) -> Value {
    let value = match (at, value) {
        (_, None) => Value::Null,
        (3, Some(v)) => json!(v % 2 == 0),
        (_, Some(v)) => json!(v),
    };
    match PLACES[at].split_once('.') {
        Some((eye, key)) => json!({eye: {key: value}}),
        None => json!({PLACES[at]: value}),
    }
}

/// What is true, whatever was recorded.
#[derive(Debug, Clone, PartialEq, Default)]
struct Truth {
    /// Whether the design has a segment: it decides which height counts.
    has_segment: bool,
    /// When the height that stands was read, for each eye.
    read_at: [Option<usize>; 2],
    /// The same of the height that does not count for the design as it is.
    other_read_at: [Option<usize>; 2],
    /// What each place was last set to.
    set: [Option<i32>; 4],
    pads: Option<i32>,
}

struct Table {
    job: Job,
    key: &'static str,
    other: &'static str,
    now: usize,
    truth: Truth,
    adjusted_at: usize,
    /// Own entries: the change that takes it back, what was true before, what after.
    undo: Vec<(Section, Value, Truth, Truth)>,
    /// Whether anything has happened that may mark a height.
    may_mark: bool,
}

fn index(eye: Eye) -> usize {
    usize::from(eye == Eye::Left)
}

fn eyes() -> impl Strategy<Value = Eye> {
    prop_oneof![Just(Eye::Right), Just(Eye::Left)]
}

fn acts() -> impl Strategy<Value = (Act, bool)> {
    let act = prop_oneof![
        4 => (eyes(), 18..22).prop_map(|(e, v)| Act::Read(e, v)),
        1 => (eyes(), 14..16).prop_map(|(e, v)| Act::ReadOther(e, v)),
        2 => eyes().prop_map(Act::ClearHeight),
        3 => (0..4_usize, 10..13).prop_map(|(at, v)| Act::Set(at, v)),
        1 => (0..4_usize).prop_map(Act::ClearPlace),
        1 => (0..4_usize, 10..13, eyes(), 18..22).prop_map(|(at, v, e, h)| Act::SetAndRead(at, v, e, h)),
        2 => Just(Act::Adjusted),
        1 => (13..15).prop_map(Act::Pads),
        1 => Just(Act::Design),
        1 => Just(Act::Strike),
        3 => Just(Act::Undo),
    ];
    // One in four is entered at another terminal, where it is not this one's to take back.
    (act, prop::bool::weighted(0.75))
}

impl Table {
    fn new(has_segment: bool) -> Self {
        let mut job = Job::default();
        if has_segment {
            job.record(Section::Lenses, &json!({"design": "bifocal"}))
                .unwrap();
        }
        let (key, other) = if has_segment {
            (SEGMENT, PLAIN)
        } else {
            (PLAIN, SEGMENT)
        };
        Self {
            job,
            key,
            other,
            now: 0,
            truth: Truth {
                has_segment,
                ..Truth::default()
            },
            adjusted_at: 0,
            undo: Vec::new(),
            may_mark: false,
        }
    }

    fn marked(&self, eye: Eye) -> bool {
        let marks = self.job.handover.adjusted_after_heights.as_deref();
        marks.is_some_and(|m| m.contains(&eye))
    }

    fn has(&self, eye: Eye, key: &str) -> bool {
        self.job
            .value_at(&format!("handover.{eye}.{key}"))
            .is_some()
    }

    fn enter(&mut self, section: Section, change: &Value, is_own: bool, truth: Truth) {
        let before = self.job.section(section).unwrap();
        self.job.record(section, change).unwrap();
        let was = std::mem::replace(&mut self.truth, truth.clone());
        if is_own {
            let back = self.job.undoing_change(section, &before, change);
            self.undo.push((section, back, was, truth));
        }
    }

    fn set(&mut self, truth: &mut Truth, at: usize, value: i32) {
        let same = |a: i32, b: i32| if at == 3 { a % 2 == b % 2 } else { a == b };
        if truth.set[at].is_some_and(|old| !same(old, value)) {
            self.adjusted_at = self.now;
            self.may_mark = true;
        }
        truth.set[at] = Some(value);
    }

    /// Does it; returns the eye whose height was entered.
    fn act(&mut self, act: &Act, is_own: bool) -> Option<Eye> {
        self.now += 1;
        let mut truth = self.truth.clone();
        match act {
            Act::Read(eye, value) => {
                truth.read_at[index(*eye)] = Some(self.now);
                let change = json!({eye.word(): {self.key: value}});
                self.enter(Section::Handover, &change, is_own, truth);
                return Some(*eye);
            }
            Act::ReadOther(eye, value) => {
                truth.other_read_at[index(*eye)] = Some(self.now);
                let change = json!({eye.word(): {self.other: value}});
                self.enter(Section::Handover, &change, is_own, truth);
            }
            Act::ClearHeight(eye) => {
                truth.read_at[index(*eye)] = None;
                let change = json!({eye.word(): {self.key: null}});
                self.enter(Section::Handover, &change, is_own, truth);
            }
            Act::Set(at, value) => {
                self.set(&mut truth, *at, *value);
                self.enter(Section::Handover, &place(*at, Some(*value)), is_own, truth);
            }
            Act::SetAndRead(at, value, eye, height) => {
                self.set(&mut truth, *at, *value);
                self.now += 1;
                truth.read_at[index(*eye)] = Some(self.now);
                let mut change = place(*at, Some(*value));
                change[eye.word()][self.key] = json!(height);
                self.enter(Section::Handover, &change, is_own, truth);
                return Some(*eye);
            }
            // Cleared, it may be given again as anything: from then on nothing vouches for heights.
            Act::ClearPlace(at) => {
                if truth.set[*at].take().is_some() {
                    self.adjusted_at = self.now;
                    self.may_mark = true;
                }
                self.enter(Section::Handover, &place(*at, None), is_own, truth);
            }
            Act::Adjusted => {
                self.adjusted_at = self.now;
                self.may_mark = true;
                let stand: Vec<Eye> = Eye::BOTH
                    .into_iter()
                    .filter(|e| self.has(*e, self.key) || self.has(*e, self.other))
                    .collect();
                if !stand.is_empty() {
                    let change = json!({"adjusted_after_heights": stand});
                    self.enter(Section::Handover, &change, is_own, truth);
                }
            }
            Act::Pads(size) => {
                if truth.pads.is_some_and(|old| old != *size) {
                    self.adjusted_at = self.now;
                    self.may_mark = true;
                }
                truth.pads = Some(*size);
                let change = json!({"pads": {"size_mm": size}});
                self.enter(Section::Frame, &change, is_own, truth);
            }
            Act::Design => {
                for eye in Eye::BOTH {
                    self.may_mark |= self.has(eye, self.other);
                }
                std::mem::swap(&mut truth.read_at, &mut truth.other_read_at);
                std::mem::swap(&mut self.key, &mut self.other);
                truth.has_segment = self.key == SEGMENT;
                let to = if self.key == SEGMENT {
                    "bifocal"
                } else {
                    "single vision"
                };
                self.enter(Section::Lenses, &json!({"design": to}), is_own, truth);
            }
            Act::Strike => {
                let before = self.job.clone();
                let change = json!({"adjusted_after_heights": null});
                let is_refused = self.job.record(Section::Handover, &change).is_err();
                assert_eq!(is_refused, before.handover.adjusted_after_heights.is_some());
                assert_eq!(self.job, before);
            }
            Act::Undo => {
                // The form leaves alone what is another since the entry.
                if let Some((section, back, was, wrote)) = self.undo.pop()
                    && wrote == self.truth
                {
                    for eye in Eye::BOTH {
                        self.may_mark |= !self.has(eye, self.key) || !self.has(eye, self.other);
                    }
                    if section == Section::Lenses {
                        std::mem::swap(&mut self.key, &mut self.other);
                    }
                    self.job.undo_change(section, &back).unwrap();
                    self.truth = was;
                }
            }
        }
        None
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: cases(150, 600), failure_persistence: None, ..Default::default() })]

    #[test]
    fn only_reading_again_makes_a_height_of_before_an_adjustment_good(
        has_segment: bool, acts in prop::collection::vec(acts(), 1..30)
    ) {
        let mut table = Table::new(has_segment);
        for (act, is_own) in acts {
            let before = Eye::BOTH.map(|e| table.marked(e));
            let read = table.act(&act, is_own);
            for eye in Eye::BOTH {
                if let Some(at) = table.truth.read_at[index(eye)]
                    && at < table.adjusted_at
                {
                    prop_assert!(table.marked(eye), "{act:?}: {eye} was read before the adjustment");
                }
                if before[index(eye)] {
                    prop_assert!(table.marked(eye) || read == Some(eye), "{act:?} struck {eye} off");
                }
                if read == Some(eye) {
                    prop_assert!(!table.marked(eye), "{eye} was read just now");
                }
                if !table.may_mark {
                    prop_assert!(!table.marked(eye), "{act:?}: nothing was adjusted");
                }
            }
        }
    }
}

#[test]
fn reading_the_height_of_another_design_does_not_make_this_designs_height_good() {
    let mut job = Job::default();
    let mut record = |section, change: Value| {
        job.record(section, &change).unwrap();
        job.handover.adjusted_after_heights.clone()
    };
    let both = |key: &str, mm: i32| json!({"right": {key: mm}, "left": {key: mm}});
    let marked = Some(Eye::BOTH.to_vec());
    record(Section::Lenses, json!({"design": "single vision"}));
    record(Section::Handover, both(PLAIN, 19));
    record(Section::Handover, json!({"stays": false}));
    assert_eq!(record(Section::Handover, json!({"stays": true})), marked);
    assert_eq!(
        record(Section::Lenses, json!({"design": "bifocal"})),
        marked
    );
    assert_eq!(record(Section::Handover, both(SEGMENT, 14)), None);
    assert_eq!(
        record(Section::Lenses, json!({"design": "trifocal"})),
        None,
        "the same height counts"
    );
    assert_eq!(
        record(Section::Lenses, json!({"design": "single vision"})),
        marked
    );
    assert_eq!(record(Section::Handover, both(PLAIN, 19)), None);
}
