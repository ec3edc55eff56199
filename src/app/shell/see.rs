//! What the screens may see, made of the program.

use crate::app::App;
use crate::app::seen::Seen;

impl App {
    /// What a screen may see at the moment.
    pub fn seen(&self) -> Seen<'_> {
        Seen {
            screen: self.screen,
            keys: &self.keymap,
            today: self.today,
            practice: &self.practice,
            staff: &self.staff,
            person: self.person.as_deref(),
            security: self.security,
            with_secret: &self.with_secret,
            lines: &self.worklist.lines,
            backup: self.worklist.backup.as_ref(),
            waiting: &self.waiting,
            job: self.job.as_ref().map(|j| &j.view),
            card: self.card.as_deref(),
            facts: self.ready.card(),
            remake_price: self.remake_price,
            used: self.used.as_deref(),
            in_hand: self.parcel.in_hand.as_deref(),
            clipboard: self.clipboard,
            is_asked: self.dialog.is_some(),
        }
    }
}
