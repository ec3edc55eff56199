//! The entries that the gate asks for, and the first of them.

use crate::job::fields::at;
use crate::job::{Job, Stage};
use crate::judge::gate::Finding;
use crate::trade::eye::Eye;
use crate::tui::form_rows::{self, EntryPlace};

/// The entries about which the gate has something open, in the order of the form.
pub(super) fn asked_for(findings: &[Finding]) -> Vec<EntryPlace> {
    let open = || findings.iter().filter(|f| Finding::is_open(f));
    // What is filled in with the first value of its section is asked for once no value is left to
    // be taken: in a job that carries them all.
    let comes_by_itself = |path: &str| {
        let section = path.split('.').next().unwrap_or_default();
        is_filled_in(path)
            && open().any(|f| f.field.starts_with(section) && !is_filled_in(&f.field))
    };
    let mut marked: Vec<EntryPlace> = open()
        .filter(|f| !comes_by_itself(&f.field))
        .filter_map(|f| form_rows::place_of(&f.field))
        .collect();
    marked.sort_by_key(|p| in_order(*p));
    marked
}

/// Where a form opens: below the name, where that is all that is known of the wearer; else at the
/// first entry that the gate asks for, in the section that the next move is about or after it.
pub(super) fn first(job: &Job, findings: &[Finding], tab: usize) -> EntryPlace {
    let wearer = &job.wearer;
    let is_begun = job.stage() == Stage::Measured && !job.is_past();
    if is_begun && wearer.name.is_some() && wearer.born.is_none() {
        return (tab, 1, Eye::Right);
    }
    let mut asked = asked_for(findings).into_iter();
    asked.find(|p| p.0 >= tab).unwrap_or((tab, 0, Eye::Right))
}

/// Whether the program fills it in with the first measurement or reading.
fn is_filled_in(path: &str) -> bool {
    [
        at!(fitting.taken_by),
        at!(fitting.taken_on),
        at!(readings.taken_by),
        at!(readings.taken_on),
    ]
    .iter()
    .any(|field| field.full() == path)
}

/// Where a place is in the order of the form.
pub(super) const fn in_order((tab, row, eye): EntryPlace) -> (usize, usize, bool) {
    (tab, row, matches!(eye, Eye::Left))
}
