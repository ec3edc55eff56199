//! What the screens may see, made of the program.

use crate::tui::App;
use crate::tui::parcel::card_hides;
use crate::tui::seen::Seen;

impl App {
    /// What a screen may see at the moment.
    pub fn seen(&self) -> Seen<'_> {
        Seen {
            screen: self.screen,
            keys: &self.keymap,
            today: self.today,
            practice: &self.practice,
            staff: &self.staff,
            signs_in: self.security.sign_in,
            person: self.person.as_deref(),
            security: self.security,
            with_secret: &self.with_secret,
            lines: &self.lines,
            backup: self.backup.as_ref(),
            waiting: &self.waiting,
            job: self.job.as_ref(),
            card: self.card.as_deref(),
            card_hides: (self.card.as_ref()).and_then(|c| card_hides(self, &c.number, &c.job)),
            facts: self.ready.card(),
            remake_price: self.remake_price,
            used: self.used.as_deref(),
            in_hand: self.parcel.in_hand.as_deref(),
            clipboard: self.clipboard,
            is_asked: self.dialog.is_some(),
        }
    }
}
