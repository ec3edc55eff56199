//! Drawing of the two screens that do not answer for themselves yet.

pub(crate) mod collections;
pub(crate) mod parcel;
