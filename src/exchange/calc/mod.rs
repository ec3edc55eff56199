//! The headless interface: JSON Lines in, one answer a line out, in the same order.
//!
//! A request is `{"id":…,"calc":"vertex",…}`, an answer `{"id":…,"ok":true,"result":{…}}` or
//! `{"id":…,"ok":false,"error":{"kind":"…","message":"…"}}`. A line that cannot be read is answered
//! like any other and never stops the run. Units are in the names of the keys; every key, its range
//! and every formula are described in `docs/formulas.md`.
//!
//! This module only turns requests into calls of [`crate::trade::optics`] and [`crate::trade::tolerance`]:
//! it knows no jobs, storage or screens.

mod answer;
mod error;
mod frames;
mod json;
mod keys;
mod lens;
mod non_finite;
mod powers;
mod prisms;
mod ranges;
mod reply;
mod request;
mod run;
mod tolerance_request;
mod vertex;
mod worn;

pub use answer::answer;
pub(crate) use answer::calculate;
pub(crate) use error::{CalcError, RefusalKind};
pub(crate) use keys::NumberKey;
pub use run::run;
