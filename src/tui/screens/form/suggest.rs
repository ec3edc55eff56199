//! What was written before is offered beside an entry: shown, and taken only by a key of its own.
//!
//! Offered are the words that come back from job to job: the laboratory, and by their beginning the
//! prescriber, the coatings, and who makes frame and lenses and what the lenses are. Never a power, a measurement, an allergy or anything of a wearer.

use super::State;
use crate::job::fields::{Field, at};
use crate::tui::next::Next;
use crate::tui::seen::Seen;

impl State {
    /// Returns what is offered for the entry under the cursor, if anything.
    pub fn offered<'a>(&self, seen: Seen<'a>) -> Option<&'a str> {
        let job = seen.job?;
        let field = self.field()?;
        let path = field.full_path();
        if let Some(edit) = self.edit() {
            let typed = edit.line.text();
            return beginning_with(seen, field, typed).filter(|_| edit.path == path);
        }
        // Empty, only the laboratory is likely to be the one of the last order.
        let is_asked = *field == *at!(order.laboratory) && field.value(&job.open.job).is_none();
        let first = words(seen, field)?.first().map(String::as_str);
        first.filter(|_| is_asked)
    }

    /// Puts what is offered into the entry; it is kept like what is typed.
    pub(super) fn take_offered(&mut self, seen: Seen<'_>) -> Next {
        let Some(text) = self.offered(seen) else {
            return Next::say("Nothing is offered for this entry: type it.");
        };
        self.begin_if_closed();
        self.retype(text, seen)
    }
}

fn words<'a>(seen: Seen<'a>, field: &Field) -> Option<&'a [String]> {
    let used = seen.used?;
    if field == at!(order.laboratory) {
        Some(&used.laboratories)
    } else if field == at!(prescription.prescriber) {
        Some(&used.prescribers)
    } else if field == at!(lenses.coatings) {
        Some(&used.coatings)
    } else if field == at!(frame.maker) {
        Some(&used.frame_makers)
    } else if field == at!(frame.supplier) {
        Some(&used.frame_suppliers)
    } else if field == at!(lenses.maker) {
        Some(&used.lens_makers)
    } else if field == at!(lenses.product) {
        Some(&used.lens_products)
    } else if field == at!(lenses.variant) {
        Some(&used.lens_variants)
    } else {
        None
    }
}

/// The newest that begins with what is typed, or of which a word does.
fn beginning_with<'a>(seen: Seen<'a>, field: &Field, typed: &str) -> Option<&'a str> {
    let typed = typed.trim().to_lowercase();
    if typed.is_empty() {
        return None;
    }
    words(seen, field)?.iter().map(String::as_str).find(|word| {
        let lower = word.to_lowercase();
        let begins = lower.match_indices(&typed).any(|(at, _)| {
            lower
                .get(..at)
                .is_some_and(|b| b.is_empty() || b.ends_with(' '))
        });
        begins && lower != typed
    })
}
