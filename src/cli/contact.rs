//! Commands about telling the wearer: what was said, and who has not come.

use super::Place;
use super::args::Contact as Told;
use super::output::{Outcome, Output};
use crate::desk::{DeskError, Waiting};
use crate::job::Contact;

/// Records what a wearer was told.
pub(crate) fn contact(place: &Place, out: &mut Output, what: &Told) -> Result<Outcome, DeskError> {
    let contact = Contact {
        how: Some(what.how),
        told: what.told.clone(),
        reached: what.reached.then_some(true),
        ..Contact::default()
    };
    let open = place
        .open_as(&what.by)?
        .add_contact(&what.number, &what.by, contact)?;
    super::moves::stands(out, &open, "contact recorded");
    Ok(Outcome::Done)
}

/// Lists what is ready and not collected for longer than the practice waits.
pub(crate) fn uncollected(place: &Place, out: &mut Output) -> Result<Outcome, DeskError> {
    let mut all: Vec<Waiting> = place.open()?.waiting()?;
    all.retain(|w| w.uncollected);
    if out.json {
        out.value(&all);
        return Ok(Outcome::Done);
    }
    if all.is_empty() {
        Output::aside("no job");
    }
    for w in all {
        let phone = w
            .phone
            .as_ref()
            .map_or_else(String::new, |p| format!(", telephone {p}"));
        out.line(&format!("{}  {}{phone}, {}", w.number, w.wearer, w.words()));
    }
    Ok(Outcome::Done)
}
