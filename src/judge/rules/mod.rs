//! Rules of the work around a job: what a new job carries over, when a lens is read again, which
//! advice a wearer needs, what to do about a vertex distance.

pub(crate) mod advice;
pub(crate) mod allergy;
pub(crate) mod blind_reading;
pub(crate) mod carry;
pub(crate) mod free_moves;
pub(crate) mod recorded_remedy;
pub(crate) mod remedy;
pub(crate) mod repeats;
pub(crate) mod restricted_wearer;
