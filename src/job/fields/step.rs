//! Stepping a value up and down with keys.

use chrono::{Days, NaiveDate, TimeDelta};

use super::field::Field;
use super::kind::FieldKind;
use super::limits;
use super::number::{plain, signed, typed};
use super::show::show_value;
use crate::job::Moment;
use crate::trade::optics::materials::MATERIALS;

/// Returns what a field shows after one step; `None` where there is nothing to step from.
///
/// Powers, additions and prism step by a quarter, an axis by 5 degrees, lengths by half a
/// millimetre, angles by a degree, dates by a day, appointments by a quarter of an hour; choices
/// go round, flags toggle. A value between steps goes to the next step; no step leads beyond what the
/// field can be ([`super::limits()`]), and from a value beyond it one leads back.
pub fn step(field: &Field, current: &str, up: bool) -> Option<String> {
    stepped(field, current, up, false)
}

/// Returns what a field shows after one small step: an eighth or a hundredth for powers, one
/// degree of axis, a tenth of a millimetre, half a degree, a hundredth of an index.
pub fn step_fine(field: &Field, current: &str, up: bool) -> Option<String> {
    stepped(field, current, up, true)
}

/// Returns where a step leads, no farther than a limit of the field: from outside it leads back to the
/// nearer limit, and from a limit nowhere.
fn within(field: &Field, from: i32, by: i32, up: bool) -> Option<i32> {
    let to = next(from, by, up);
    let (least, most) = limits(field)?;
    let to = to.clamp(thousandths(least), thousandths(most));
    (if up { to > from } else { to < from }).then_some(to)
}

/// A limit in the whole thousandths that are typed.
#[allow(
    clippy::cast_possible_truncation,
    reason = "a limit of the table, far inside i32"
)]
fn thousandths(limit: f64) -> i32 {
    (limit * 1000.0).round() as i32
}

fn stepped(field: &Field, current: &str, up: bool, fine: bool) -> Option<String> {
    let current = current.trim();
    let by = |coarse: i32, small: i32| if fine { small } else { coarse };
    let hundredths = if field.is_written() { 125 } else { 10 };
    match field.kind {
        FieldKind::Power | FieldKind::Reading => {
            let from = if matches!(current, "" | "plano") {
                0
            } else {
                typed(current).ok()?.thousandths
            };
            within(field, from, by(250, hundredths), up).map(signed)
        }
        FieldKind::Addition => {
            let from = if current.is_empty() {
                0
            } else {
                typed(current).ok()?.thousandths
            };
            within(field, from, by(250, hundredths), up).map(|to| plain(to, 2))
        }
        FieldKind::Prism(axis) => {
            let (plus, minus) = axis.words();
            let from = if current.is_empty() {
                0
            } else if let Some(size) = current.strip_suffix(minus) {
                -typed(size).ok()?.thousandths
            } else {
                typed(current.trim_end_matches(plus)).ok()?.thousandths
            };
            within(field, from, by(250, 50), up)
                .map(|to| show_value(field, Some(&serde_json::json!(f64::from(to) / 1000.0))))
        }
        FieldKind::Axis => {
            let from = if current.is_empty() {
                0
            } else {
                typed(current).ok()?.thousandths
            };
            let to = next(from, by(5000, 1000), up);
            // Axes go round: 180 is the same line as 0, and only 180 is written.
            let to = (to - 1000).rem_euclid(180_000) + 1000;
            Some(plain(to, 0))
        }
        FieldKind::Curve | FieldKind::PrismSize => number(field, current, by(250, 50), up),
        FieldKind::Length => number(field, current, by(500, 100), up),
        FieldKind::Angle => number(field, current, by(1000, 500), up),
        FieldKind::Index => number(field, current, by(10, 1), up),
        FieldKind::Percent => number(field, current, by(5000, 1000), up),
        FieldKind::Category => number(field, current, 1000, up),
        FieldKind::Flag => Some(match (current, up) {
            ("yes", _) | ("", false) => "no".to_owned(),
            _ => "yes".to_owned(),
        }),
        FieldKind::Choice(words) => cycle(words, current, up),
        FieldKind::Material => {
            let keys: Vec<&'static str> = MATERIALS.iter().map(|m| m.key).collect();
            cycle(&keys, current, up)
        }
        FieldKind::Date => {
            let day: NaiveDate = current.parse().ok()?;
            let to = if up {
                day.checked_add_days(Days::new(1))
            } else {
                day.checked_sub_days(Days::new(1))
            };
            to.map(|d| d.to_string())
        }
        FieldKind::Moment => {
            let minutes = TimeDelta::minutes(if up { 15 } else { -15 });
            let to = Moment(Moment::parse(current)?.0.checked_add_signed(minutes)?);
            Some(to.to_string().replace('T', " "))
        }
        FieldKind::Text
        | FieldKind::Notes
        | FieldKind::Words
        | FieldKind::Tasks
        | FieldKind::Advice(_)
        | FieldKind::Staff => None,
    }
}

/// Returns the next multiple of `by` above or below.
fn next(from: i32, by: i32, up: bool) -> i32 {
    if up {
        (from.div_euclid(by) + 1) * by
    } else {
        (from - 1).div_euclid(by) * by
    }
}

fn number(field: &Field, current: &str, by: i32, up: bool) -> Option<String> {
    within(field, typed(current).ok()?.thousandths, by, up).map(|to| plain(to, 0))
}

fn cycle(words: &[&'static str], current: &str, up: bool) -> Option<String> {
    let count = words.len();
    let at = words.iter().position(|w| *w == current);
    let to = match (at, up) {
        (None, true) => 0,
        (None, false) => count.checked_sub(1)?,
        (Some(i), true) => (i + 1) % count,
        (Some(i), false) => (i + count - 1) % count,
    };
    words.get(to).map(|w| (*w).to_owned())
}
