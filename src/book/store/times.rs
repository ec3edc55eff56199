//! Times as history keeps them.

use chrono::NaiveDateTime;

use crate::book::clock::{local_now, offset_now};

/// A local time without its offset.
pub(super) const AT: &str = "%Y-%m-%dT%H:%M:%S";
/// Letters of a time without its offset.
const LOCAL: usize = 19;

/// Returns a local time as history keeps it: by RFC 3339, with the offset of this machine now. Times
/// that an older program kept have no offset.
pub(super) fn as_kept(at: NaiveDateTime) -> String {
    format!("{}{}", at.format(AT), offset_now())
}

/// Returns the present moment as history keeps it.
pub(super) fn now_as_kept() -> String {
    as_kept(local_now())
}

/// Returns the local time from a time as history keeps it; `None` for any other text.
pub(super) fn local_time(kept: &str) -> Option<NaiveDateTime> {
    let (local, offset) = kept.split_at_checked(LOCAL)?;
    let is_whole = offset.is_empty() || chrono::DateTime::parse_from_rfc3339(kept).is_ok();
    local.parse().ok().filter(|_| is_whole)
}
