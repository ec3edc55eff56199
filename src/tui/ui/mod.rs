//! Drawing of the one screen that does not answer for itself yet.

pub(crate) mod parcel;
