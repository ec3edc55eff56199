//! What the screens may see, made of the program.

use crate::book::desk::OpenJob;
use crate::job::Stage;
use crate::judge::rules::blind_reading;
use crate::tui::App;
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
            typed_names: &self.typed_names,
            lines: &self.lines,
            backup: self.backup.as_ref(),
            waiting: &self.waiting,
            job: self.job.as_ref(),
            card: self.card.as_deref(),
            card_hides: self.card.as_deref().and_then(|c| self.hides_order(c)),
            facts: self.ready.card(),
            remake_price: self.remake_price,
            used: self.used.as_deref(),
            in_hand: self.in_hand(),
            clipboard: self.clipboard,
            is_asked: self.dialog.is_some(),
        }
    }

    /// The number of the pair in hand at the parcel.
    fn in_hand(&self) -> Option<&str> {
        self.states.parcel()?.in_hand.as_deref()
    }

    /// What is written in the place of the order of a job, wherever it is looked at, while its pair is
    /// in hand at the parcel and not read as often as it takes; `None` for any other job.
    pub(super) fn hides_order(&self, open: &OpenJob) -> Option<&'static str> {
        let is_read_now =
            self.in_hand() == Some(open.number.as_str()) && open.job.stage() == Stage::Ordered;
        let job = is_read_now.then_some(&open.job)?;
        blind_reading::written_instead(job, &self.practice)
    }
}
