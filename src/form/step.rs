//! Stepping a value up and down with keys.

use chrono::{Days, NaiveDate, TimeDelta};

use super::field::{Field, Kind};
use super::limits;
use super::number::{plain, signed, typed};
use super::show::show_value;
use crate::job::Moment;
use crate::optics::materials::MATERIALS;

/// Returns what a field shows after one step; `None` where there is nothing to step from.
///
/// Powers, additions and prism step by a quarter, an axis by 5 degrees, lengths by half a
/// millimetre, angles by a degree, dates by a day, appointments by a quarter of an hour; choices
/// go round, flags toggle. A value between steps goes to the next step.
pub fn step(field: &Field, current: &str, up: bool) -> Option<String> {
    stepped(field, current, up, false)
}

/// Returns what a field shows after one small step: an eighth or a hundredth for powers, one
/// degree of axis, a tenth of a millimetre, half a degree, a hundredth of an index.
pub fn step_fine(field: &Field, current: &str, up: bool) -> Option<String> {
    stepped(field, current, up, true)
}

/// Leaves a step out that leads to what a wearer, a frame or a lens cannot have.
fn within(field: &Field, stepped: Option<String>) -> Option<String> {
    stepped.filter(|text| {
        let number = typed(text).map(|t| f64::from(t.thousandths) / 1000.0);
        number.is_ok_and(|n| limits::beyond(field, n).is_none())
    })
}

fn stepped(field: &Field, current: &str, up: bool, fine: bool) -> Option<String> {
    let current = current.trim();
    let by = |coarse: i32, small: i32| if fine { small } else { coarse };
    let hundredths = if field.is_written() { 125 } else { 10 };
    match field.kind {
        Kind::Power | Kind::Reading => {
            let from = if matches!(current, "" | "plano") {
                0
            } else {
                typed(current).ok()?.thousandths
            };
            let most = if field.path.ends_with("cylinder_d") {
                20_000
            } else {
                40_000
            };
            let to = next(from, by(250, hundredths), up);
            (to.abs() <= most).then(|| signed(to))
        }
        Kind::Addition => {
            let from = if current.is_empty() {
                0
            } else {
                typed(current).ok()?.thousandths
            };
            let to = next(from, by(250, hundredths), up);
            (0..=10_000).contains(&to).then(|| plain(to, 2))
        }
        Kind::Prism(axis) => {
            let (plus, minus) = axis.words();
            let from = if current.is_empty() {
                0
            } else if let Some(size) = current.strip_suffix(minus) {
                -typed(size).ok()?.thousandths
            } else {
                typed(current.trim_end_matches(plus)).ok()?.thousandths
            };
            let to = next(from, by(250, 50), up);
            let shown = show_value(field, Some(&serde_json::json!(f64::from(to) / 1000.0)));
            (to.abs() <= 30_000).then_some(shown)
        }
        Kind::Axis => {
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
        Kind::Curve => number(current, by(250, 50), up, 0..=30_000),
        Kind::Length => within(field, number(current, by(500, 100), up, 0..=2_000_000)),
        Kind::Angle => within(field, number(current, by(1000, 500), up, -90_000..=90_000)),
        Kind::Index => number(current, by(10, 1), up, 1000..=3000),
        Kind::Percent => number(current, by(5000, 1000), up, 0..=100_000),
        Kind::Category => number(current, 1000, up, 0..=4000),
        Kind::Flag => Some(match (current, up) {
            ("yes", _) | ("", false) => "no".to_owned(),
            _ => "yes".to_owned(),
        }),
        Kind::Choice(words) => cycle(words, current, up),
        Kind::Material => {
            let keys: Vec<&'static str> = MATERIALS.iter().map(|m| m.key).collect();
            cycle(&keys, current, up)
        }
        Kind::Date => {
            let day: NaiveDate = current.parse().ok()?;
            let to = if up {
                day.checked_add_days(Days::new(1))
            } else {
                day.checked_sub_days(Days::new(1))
            };
            to.map(|d| d.to_string())
        }
        Kind::Moment => {
            let minutes = TimeDelta::minutes(if up { 15 } else { -15 });
            let to = Moment(Moment::parse(current)?.0.checked_add_signed(minutes)?);
            Some(to.to_string().replace('T', " "))
        }
        Kind::Text | Kind::Notes | Kind::Words | Kind::Advice(_) | Kind::Staff => None,
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

fn number(
    current: &str,
    by: i32,
    up: bool,
    range: std::ops::RangeInclusive<i32>,
) -> Option<String> {
    let to = next(typed(current).ok()?.thousandths, by, up);
    range.contains(&to).then(|| plain(to, 0))
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
