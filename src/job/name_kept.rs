//! How a name that somebody is answerable by was kept: signed by its owner, or typed by somebody else.
//!
//! Without an entry the name was kept while sign-in was off: it is not signed in, and holds nothing.

use std::collections::BTreeMap;

use super::Moment;
use crate::job::fields::record;

record! {
    /// How a name that somebody is answerable by was kept while sign-in was on.
    pub struct NameKept {
        /// When it was kept or confirmed.
        at: Option<Moment>,
        /// Who entered it, or a value beside it, in place of its owner; absent: its owner signed it.
        typed_by: Option<String>,
    }
}

/// How names were kept, by the path of the name (`fitting.taken_by`).
pub type NamesKept = BTreeMap<String, NameKept>;
