//! Reading one line: the steps in their order, and the one refusal that is reported.

use super::error::{ErrorKind, Issues, NotationError};
use super::eyes::{Label, Part, split};
use super::parts::{self, Found};
use super::rx::{Reading, WrittenRx};
use super::{characters, commas, tokens};
use crate::eye::{Eye, PerEye};

/// Reads one written prescription: one eye, or both with labels.
///
/// # Errors
/// [`NotationError`] with the earliest check that fails in the order of this module's steps and,
/// within a step, the leftmost.
pub fn read(line: &str) -> Result<Reading, NotationError> {
    let mut text = characters::plain(line)?;
    commas::settle(&mut text)?;
    let mut issues = Issues::default();
    let parts = split(tokens::cut(&text), &mut issues);
    let count = parts.len();
    let found: Vec<Found> = (1..)
        .zip(&parts)
        .map(|(nth, part)| parts::read(part, nth == count, &mut issues))
        .collect();
    let reading = assemble(&parts, found, &mut issues);
    match (issues.first(), reading) {
        (Some(error), _) => Err(error),
        (None, Some(reading)) => Ok(reading),
        (None, None) => Err(NotationError::new(ErrorKind::SphereMissing, "")),
    }
}

/// Puts the parts together, with the addition that belongs to both eyes.
fn assemble(parts: &[Part], found: Vec<Found>, issues: &mut Issues) -> Option<Reading> {
    let for_both: Vec<_> = found.iter().filter_map(|f| f.for_both).collect();
    let own: Vec<_> = found.iter().map(|f| f.addition_at).collect();
    let mut eyes: PerEye<Option<WrittenRx>> = PerEye::default();
    let mut unnamed = None;
    for (part, found) in parts.iter().zip(found) {
        match part.label {
            None => unnamed = Some(found.rx),
            Some(Label::One(eye)) => *eyes.get_mut(eye) = Some(found.rx),
            Some(Label::Both) => eyes = PerEye::from_fn(|_| Some(found.rx.clone())),
        }
    }
    let both = eyes.right.is_some() && eyes.left.is_some();
    if let Some((place, addition)) = for_both.first().copied() {
        if !both {
            issues.add(5, place, ErrorKind::AdditionScopeAmbiguous, "");
        }
        if for_both.len() > 1 || own.iter().any(Option::is_some) {
            let place = for_both.last().map_or(place, |last| last.0);
            issues.add(5, place, ErrorKind::TooManyValues, "Add");
        }
        for eye in Eye::BOTH {
            if let Some(rx) = eyes.get_mut(eye) {
                rx.addition = Some(addition);
            }
        }
    } else if let [None, Some(place)] = own.as_slice() {
        // Written after both eyes, it may be meant for the last one or for both.
        issues.add(5, *place, ErrorKind::AdditionScopeAmbiguous, "");
    }
    match (unnamed, eyes.right, eyes.left) {
        (None, Some(right), Some(left)) => Some(Reading::Two(PerEye { right, left })),
        (None, Some(rx), None) => Some(Reading::One {
            eye: Some(Eye::Right),
            rx,
        }),
        (None, None, Some(rx)) => Some(Reading::One {
            eye: Some(Eye::Left),
            rx,
        }),
        (Some(rx), None, None) => Some(Reading::One { eye: None, rx }),
        _ => None,
    }
}
