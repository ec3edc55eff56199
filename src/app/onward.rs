//! Where the cursor goes by itself: to the next entry that the gate asks for, past what is filled.

use crate::form::at;
use serde_json::Value;

use super::effect::Effect;
use super::screen::{JobScreen, TABS};
use super::{App, entry, rows};
use crate::eye::Eye;
use crate::gate::Finding;
use crate::job::{Job, Stage};

/// Section, row and column of the cursor.
type Place = (usize, usize, Eye);

/// Keeps what is being typed and goes to the next entry about which the gate has something open, in
/// the order of the form; after the last one, to the first.
pub(crate) fn next_marked(app: &mut App) -> Vec<Effect> {
    let Some(here) = app.job.as_ref().map(of_cursor) else {
        return Vec::new();
    };
    let effects = if app.job.as_ref().is_some_and(|j| j.edit.is_some()) {
        entry::keep(app)
    } else {
        Vec::new()
    };
    let Some(job) = &mut app.job else {
        return effects;
    };
    let opened_at = job.opened_at.take();
    if job.sent.is_some() {
        job.onward = Some(here);
    } else if job.edit.is_none() {
        // Who opens a form and asks for the first entry is there already: what is typed next must not
        // land in the second.
        if is_where_it_opened(job, opened_at, here) {
            app.say("This is the first entry that the gate asks for; once more goes on.");
        } else {
            go_on(app, here);
        }
    }
    // Else it was not kept, and why stands beside it.
    effects
}

/// Goes to the first marked entry after a place.
pub(crate) fn go_on(app: &mut App, here: Place) {
    let Some(job) = app.job.as_mut().filter(|j| j.edit.is_none()) else {
        return;
    };
    match next_place(job, here) {
        Some(place) => (job.tab, job.row, job.eye) = place,
        None => app.say("The gate asks for nothing else."),
    }
}

/// Whether there is an entry to go on to.
pub(crate) fn has_next(app: &App) -> bool {
    let job = app.job.as_ref();
    job.is_some_and(|j| {
        let here = of_cursor(j);
        !is_where_it_opened(j, j.opened_at, here) && next_place(j, here).is_some()
    })
}

/// The first marked entry after a place; after the last one, the first.
fn next_place(job: &JobScreen, here: Place) -> Option<Place> {
    let mut marked = asked_for(&job.findings);
    marked.retain(|place| *place != here);
    let after = marked.iter().find(|p| in_order(**p) > in_order(here));
    after.or(marked.first()).copied()
}

/// Whether the cursor still stands where the form opened, at an entry that the gate asks for.
fn is_where_it_opened(job: &JobScreen, opened_at: Option<Place>, here: Place) -> bool {
    opened_at == Some(here) && asked_for(&job.findings).contains(&here)
}

/// The entries about which the gate has something open, in the order of the form.
fn asked_for(findings: &[Finding]) -> Vec<Place> {
    let open = || findings.iter().filter(|f| Finding::is_open(f));
    // What is filled in with the first value of its section is asked for once no value is left to
    // be taken: in a job that carries them all.
    let comes_by_itself = |path: &str| {
        let section = path.split('.').next().unwrap_or_default();
        is_filled_in(path)
            && open().any(|f| f.field.starts_with(section) && !is_filled_in(&f.field))
    };
    let mut marked: Vec<Place> = open()
        .filter(|f| !comes_by_itself(&f.field))
        .filter_map(|f| rows::place_of(&f.field))
        .collect();
    marked.sort_by_key(|p| in_order(*p));
    marked
}

/// Where a form opens: below the name, where that is all that is known of the wearer; else at the
/// first entry that the gate asks for, in the section that the next move is about or after it.
pub(super) fn first(job: &Job, findings: &[Finding], tab: usize) -> Place {
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

const fn in_order((tab, row, eye): Place) -> (usize, usize, bool) {
    (tab, row, matches!(eye, Eye::Left))
}

fn of_cursor(job: &JobScreen) -> Place {
    // A row of its own belongs to no eye.
    let is_pair = entry::row(job).is_some_and(|r| r.is_pair());
    (job.tab, job.row, if is_pair { job.eye } else { Eye::Right })
}

/// Goes on past the rows that a whole power has filled: what is typed next stands below them.
pub(crate) fn past_filled(job: &mut JobScreen, change: &Value) {
    let rows = rows::of_tab(job.tab);
    let is_set = |eye: Eye, at: usize| {
        rows.get(at).is_some_and(|row| {
            let field = row.field(eye);
            let pointer = format!("/{}", field.path.replace('.', "/"));
            row.is_pair() && change.pointer(&pointer).is_some_and(|v| !v.is_null())
        })
    };
    // Not while the other eye's power is still to be typed.
    let is_beside =
        job.eye == Eye::Left && is_set(Eye::Right, job.row) && !is_set(Eye::Left, job.row);
    if is_beside || TABS.get(job.tab).is_none() {
        return;
    }
    while job.row + 1 < rows.len() && Eye::BOTH.iter().any(|eye| is_set(*eye, job.row)) {
        (job.row, job.eye) = (job.row + 1, Eye::Right);
    }
}
