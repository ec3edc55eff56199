//! The table of fields, made from the rows of the parts of a job when the program is compiled.

#![allow(
    clippy::large_stack_arrays,
    reason = "the arrays are made when the program is compiled"
)]

use super::const_text::{same, same_start};
use super::field::Field;
use super::job_part::JobPart;
use super::key_type::Shape;
use super::record::{Again, FieldSpec, KeyRow, Rules};
use crate::job::Section;
use crate::trade::eye::Eye;

/// Fields that come later in the form than in the file: behind the field named first, in this order.
const LATER: &[(&str, &[&str])] = &[
    (
        "prescription.left.acuity",
        &[
            "prescription.right.intermediate_addition_d",
            "prescription.left.intermediate_addition_d",
            "prescription.right.near_base_in_delta",
            "prescription.left.near_base_in_delta",
            "prescription.right.near_base_up_delta",
            "prescription.left.near_base_up_delta",
            "prescription.notes",
            "prescription.kind",
            "prescription.copied_by",
            "prescription.copied_because",
        ],
    ),
    (
        "prescription.previous.left.acuity",
        &[
            "prescription.previous.right_cd_mm",
            "prescription.previous.left_cd_mm",
            "prescription.previous.right_height_mm",
            "prescription.previous.left_height_mm",
        ],
    ),
    (
        "prescription.previous.tint",
        &[
            "prescription.previous.right.intermediate_addition_d",
            "prescription.previous.left.intermediate_addition_d",
            "prescription.previous.right.near_base_in_delta",
            "prescription.previous.left.near_base_in_delta",
            "prescription.previous.right.near_base_up_delta",
            "prescription.previous.left.near_base_up_delta",
        ],
    ),
    (
        "fitting.head_width_mm",
        &["fitting.supervised_by", "fitting.prism_in_place"],
    ),
    (
        "frame.impact_mark",
        &["frame.supplier", "frame.identifier", "frame.lot"],
    ),
    (
        "lenses.laboratory_powers.left.base_up_delta",
        &[
            "lenses.compensates.vertex",
            "lenses.compensates.tilt",
            "lenses.compensates.face_form",
            "lenses.tint.sun",
            "lenses.tint.photochromic",
            "lenses.tint.dark_category",
            "lenses.far_mm",
            "lenses.power_drop_d",
            "lenses.lowered_mm",
            "lenses.maker",
            "lenses.product",
            "lenses.variant",
            "lenses.form",
            "lenses.supply",
            "lenses.edge_finish",
            "lenses.impact_mark",
            "lenses.impact_asked",
            "lenses.prism_control.eye",
            "lenses.prism_control.amount_delta",
            "lenses.prism_control.line_height_mm",
        ],
    ),
    (
        "handover.collected_by",
        &[
            "handover.supervised_by",
            "handover.method",
            "handover.review_on",
        ],
    ),
];

/// One field before its texts are joined.
#[derive(Clone, Copy)]
struct Plan {
    section: Section,
    place: JobPart,
    eye: Option<Eye>,
    /// Whether the word of the eye is a key of its path.
    eye_in_path: bool,
    key: &'static str,
    label: &'static str,
    about: &'static FieldSpec,
}

/// More than there are fields; the table is cut to those.
const MOST: usize = 512;

#[derive(Clone, Copy)]
struct Plans {
    all: [Option<Plan>; MOST],
    count: usize,
    bytes: usize,
}

const fn texts(plan: &Plan) -> [&'static str; 8] {
    let eye = match (plan.eye, plan.eye_in_path) {
        (Some(Eye::Right), true) => "right.",
        (Some(Eye::Left), true) => "left.",
        _ => "",
    };
    [
        plan.section.word(),
        ".",
        plan.place.path(),
        eye,
        plan.key,
        // The label follows the path.
        plan.place.word(),
        plan.label,
        "",
    ]
}

const fn length(plan: &Plan, from: usize, to: usize) -> usize {
    let texts = texts(plan);
    let (mut at, mut sum) = (from, 0);
    while at < to {
        sum += texts[at].len();
        at += 1;
    }
    sum
}

const fn push(mut plans: Plans, plan: Plan) -> Plans {
    plans.bytes += length(&plan, 0, 8);
    plans.all[plans.count] = Some(plan);
    plans.count += 1;
    plans
}

/// The label of a row in a place: of a second reading, what that is called.
const fn label(place: JobPart, about: &'static FieldSpec) -> &'static str {
    match (place, about.rules) {
        (
            JobPart::SecondReadingEye,
            Rules::Fitting {
                again: Again::Compared(label, _) | Again::Kept(label, _),
                ..
            },
        ) => label,
        // A row without a label there is no field there.
        (JobPart::SecondReadingEye, _) => "",
        _ => about.label,
    }
}

const fn both_eyes(mut plans: Plans, section: Section, place: JobPart) -> Plans {
    let rows = place.rows();
    let mut at = 0;
    while at < rows.len() {
        if let Some(about) = rows[at].about {
            let right = Plan {
                section,
                place,
                eye: Some(Eye::Right),
                eye_in_path: true,
                key: rows[at].key,
                label: label(place, about),
                about,
            };
            if !right.label.is_empty() {
                plans = push(plans, right);
                plans = push(
                    plans,
                    Plan {
                        eye: Some(Eye::Left),
                        ..right
                    },
                );
            }
        }
        at += 1;
    }
    plans
}

/// The eye that the name of a key begins with, and what follows that word.
const fn first_word(key: &str) -> Option<(Eye, &[u8])> {
    let key = key.as_bytes();
    if same_start(key, b"right") {
        Some((Eye::Right, key.split_at(5).1))
    } else if same_start(key, b"left") {
        Some((Eye::Left, key.split_at(4).1))
    } else {
        None
    }
}

/// Returns the eye of a key that both eyes have; `None` for any other key.
const fn eye_of(rows: &[KeyRow], key: &str) -> Option<Eye> {
    let Some((eye, of)) = first_word(key) else {
        return None;
    };
    let mut at = 0;
    while at < rows.len() {
        if let Some((other, rest)) = first_word(rows[at].key)
            && other as usize != eye as usize
            && rest.len() == of.len()
            && same_start(rest, of)
        {
            return Some(eye);
        }
        at += 1;
    }
    None
}

const fn inner(place: JobPart, key: &str) -> Option<JobPart> {
    let mut at = 0;
    while at < JobPart::INNER.len() {
        let (outer, word, inside) = JobPart::INNER[at];
        if outer as usize == place as usize && same(word, key) {
            return Some(inside);
        }
        at += 1;
    }
    None
}

const fn part(mut plans: Plans, section: Section, place: JobPart) -> Plans {
    let rows = place.rows();
    let mut at = 0;
    while at < rows.len() {
        let row: &KeyRow = &rows[at];
        if let (Some(eyes), true) = (place.eyes(), same(row.key, "right")) {
            plans = both_eyes(plans, section, eyes);
        } else if let (Some(inside), Shape::Part(_)) = (inner(place, row.key), row.shape) {
            plans = part(plans, section, inside);
        } else if let Some(about) = row.about {
            plans = push(
                plans,
                Plan {
                    section,
                    place,
                    eye: eye_of(rows, row.key),
                    eye_in_path: false,
                    key: row.key,
                    label: about.label,
                    about,
                },
            );
        }
        at += 1;
    }
    plans
}

const fn plans() -> Plans {
    let mut plans = Plans {
        all: [None; MOST],
        count: 0,
        bytes: 0,
    };
    let mut at = 0;
    while at < Section::ALL.len() {
        if let Some(place) = JobPart::of_section(Section::ALL[at]) {
            plans = part(plans, Section::ALL[at], place);
        }
        at += 1;
    }
    plans
}

const PLANS: Plans = plans();
const COUNT: usize = PLANS.count;

/// Every path and label of the table, one after the other.
const TEXTS: &[u8; PLANS.bytes] = &{
    let mut bytes = [0; PLANS.bytes];
    let (mut plan, mut end) = (0, 0);
    while plan < COUNT {
        if let Some(one) = &PLANS.all[plan] {
            let texts = texts(one);
            let mut text = 0;
            while text < texts.len() {
                let from = texts[text].as_bytes();
                let mut at = 0;
                while at < from.len() {
                    bytes[end] = from[at];
                    end += 1;
                    at += 1;
                }
                text += 1;
            }
        }
        plan += 1;
    }
    bytes
};

/// A piece of [`TEXTS`].
const fn text(from: usize, len: usize) -> &'static str {
    let piece = TEXTS.split_at(from).1.split_at(len).0;
    match std::str::from_utf8(piece) {
        Ok(text) => text,
        // Pieces begin and end where texts do.
        Err(_) => "",
    }
}

const fn unsorted() -> [Option<Field>; COUNT] {
    let mut all = [None; COUNT];
    let (mut at, mut from) = (0, 0);
    while at < COUNT {
        if let Some(plan) = &PLANS.all[at] {
            let (section, path) = (length(plan, 0, 2), length(plan, 2, 5));
            let label = text(from + section + path, length(plan, 5, 8));
            all[at] = Some(Field {
                section: plan.section,
                path: text(from + section, path),
                full: text(from, section + path),
                label,
                unit: plan.about.kind.unit(),
                kind: plan.about.kind,
                eye: plan.eye,
                row: label,
                help: plan.about.help,
                about: plan.about,
                place: plan.place,
                key: plan.key,
            });
            from += length(plan, 0, 8);
        }
        at += 1;
    }
    all
}

const fn index_of(all: &[Option<Field>; COUNT], full_path: &str) -> usize {
    let mut at = 0;
    while at < COUNT {
        if let Some(field) = &all[at]
            && same(field.full, full_path)
        {
            return at;
        }
        at += 1;
    }
    COUNT
}

const fn sorted() -> [Option<Field>; COUNT] {
    let mut all = unsorted();
    let mut rule = 0;
    while rule < LATER.len() {
        let (mut before, later) = LATER[rule];
        let mut next = 0;
        while next < later.len() {
            all = put_behind(all, index_of(&all, later[next]), index_of(&all, before));
            before = later[next];
            next += 1;
        }
        rule += 1;
    }
    all
}

/// The fields with the one at `from` moved behind the one at `after`.
const fn put_behind(
    mut all: [Option<Field>; COUNT],
    from: usize,
    after: usize,
) -> [Option<Field>; COUNT] {
    let moved = all[from];
    let mut at = from;
    while at < after {
        all[at] = all[at + 1];
        at += 1;
    }
    // From behind it is brought forward.
    let to = if from > after { after + 1 } else { after };
    while at > to {
        all[at] = all[at - 1];
        at -= 1;
    }
    all[to] = moved;
    all
}

const ALL: &[Option<Field>; COUNT] = &sorted();

/// Every field, section by section in the order in which they are taken.
#[allow(clippy::panic, reason = "it ends the compiling, not the program")]
const FIELDS: &[Field; COUNT] = &{
    let Some(first) = ALL[0] else {
        panic!("the table of fields is empty");
    };
    let mut fields = [first; COUNT];
    let mut at = 0;
    while at < COUNT {
        if let Some(field) = ALL[at] {
            fields[at] = field;
        }
        at += 1;
    }
    fields
};

/// Returns the fields of a section, in the order in which they are taken.
pub const fn fields(section: Section) -> &'static [Field] {
    let mut from = 0;
    while from < COUNT && FIELDS[from].section as usize != section as usize {
        from += 1;
    }
    let mut to = from;
    while to < COUNT && FIELDS[to].section as usize == section as usize {
        to += 1;
    }
    FIELDS.split_at(to).0.split_at(from).1
}

/// Returns the field of a path from the job, such as `fitting.right.vertex_mm`.
pub fn find(full_path: &str) -> Option<&'static Field> {
    FIELDS.iter().find(|f| f.full == full_path)
}

/// Returns the field of another key in the same part of the job.
pub(crate) fn sibling(field: &Field, key: &str) -> Option<&'static Field> {
    FIELDS
        .iter()
        .find(|f| f.place == field.place && f.eye == field.eye && f.key == key)
}

/// Returns every field of every section.
pub fn all_fields() -> &'static [Field] {
    FIELDS
}
