//! Makes the sheets of a job.

use super::content::{Sheet, Subject};
use super::kind::SheetKind;
use super::{chart, order, tray, wearer};

/// Returns a sheet of a job.
pub fn sheet(what: SheetKind, of: Subject<'_>) -> Sheet {
    let blocks = match what {
        SheetKind::Tray => tray::blocks(of),
        SheetKind::Order => order::blocks(of),
        SheetKind::Chart => chart::blocks(of),
        SheetKind::Wearer => wearer::blocks(of),
    };
    Sheet {
        what,
        number: of.number.to_owned(),
        practice: of.practice.name.clone(),
        printed_on: of.today,
        paper: of.practice.printing.paper,
        blocks,
    }
}
