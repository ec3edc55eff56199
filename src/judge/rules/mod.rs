//! Rules of the work around a job: what a new job carries over, when a lens is read again, which
//! advice a wearer needs, what to do about a vertex distance.

pub mod advice;
pub mod carry;
pub mod free_moves;
pub mod remedy;
pub mod repeats;
