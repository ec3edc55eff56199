//! Places in a list: where the cursor comes to by so many rows, or by a key.

use super::key::Key;

/// Returns the place that lies `by` rows from `place` in a list of `count` rows; the ends hold it.
pub(crate) fn moved(place: usize, by: isize, count: usize) -> usize {
    let last = count.saturating_sub(1);
    place.saturating_add_signed(by).min(last)
}

/// Returns the place that a key leads to in a list of `count` rows; `None` where it is no key of a
/// list.
pub(crate) fn moved_by_key(place: usize, key: Key, count: usize) -> Option<usize> {
    let by = if key.is("down") {
        1
    } else if key.is("up") {
        -1
    } else if key.is("page-down") {
        10
    } else if key.is("page-up") {
        -10
    } else if key.is("home") {
        isize::MIN
    } else if key.is("end") {
        isize::MAX
    } else {
        return None;
    };
    Some(moved(place, by, count))
}
