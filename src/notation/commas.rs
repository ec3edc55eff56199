//! Step 3: whether the commas of a line are decimals or stand between fields.

use super::error::{ErrorKind, NotationError};

/// Turns decimal commas into points and leaves commas between fields as they are.
///
/// A comma is a decimal only if no other comma separates fields and no number has a point; it
/// separates fields only if the decimals are points, or if the line has no figure at all.
///
/// # Errors
/// [`ErrorKind::MixedDecimalSeparators`] and [`ErrorKind::AmbiguousComma`].
pub(super) fn settle(text: &mut [char]) -> Result<(), NotationError> {
    let places: Vec<usize> = (0..text.len())
        .filter(|i| text.get(*i) == Some(&','))
        .collect();
    let decimals = places.iter().filter(|i| is_decimal(text, **i)).count();
    let separators = places.len() - decimals;
    let points = (0..text.len()).any(|i| is_point(text, i));
    let figures = text.iter().any(char::is_ascii_digit);
    let refused = match (decimals > 0, separators > 0) {
        (true, _) if points => ErrorKind::MixedDecimalSeparators,
        (true, true) => ErrorKind::AmbiguousComma,
        (false, true) if figures && !points => ErrorKind::AmbiguousComma,
        (true, false) => {
            for c in text.iter_mut().filter(|c| **c == ',') {
                *c = '.';
            }
            return Ok(());
        }
        (false, _) => return Ok(()),
    };
    Err(NotationError::new(refused, ","))
}

/// Whether a comma stands inside a number that has no point or comma besides it.
fn is_decimal(text: &[char], comma: usize) -> bool {
    let (before, from) = text.split_at(comma);
    let after = from.get(1..).unwrap_or_default();
    let mut left = before.iter().rev();
    let mut right = after.iter();
    let starts = left
        .clone()
        .next()
        .is_some_and(|c| c.is_ascii_digit() || matches!(c, '+' | '-'));
    let goes_on = right.clone().next().is_some_and(char::is_ascii_digit);
    let earlier = left.find(|c| !c.is_ascii_digit());
    let later = right.find(|c| !c.is_ascii_digit());
    starts && goes_on && !matches!(earlier, Some('.' | ',')) && later != Some(&'.')
}

/// Whether a point belongs to a number, not to a dotted word.
fn is_point(text: &[char], place: usize) -> bool {
    let at = |i: Option<usize>| i.and_then(|i| text.get(i)).copied().unwrap_or(' ');
    let (before, after) = (at(place.checked_sub(1)), at(Some(place + 1)));
    at(Some(place)) == '.'
        && (before.is_ascii_digit() || (after.is_ascii_digit() && !before.is_ascii_alphabetic()))
}
