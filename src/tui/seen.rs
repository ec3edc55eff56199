//! What a screen may see of the program, and no more: nothing here can be changed.

use chrono::NaiveDate;

use super::job_view::JobView;
use super::keymap::Keymap;
use super::screen_name::Screen;
use crate::book::desk::{
    BackupState, JobLine, OpenJob, Security, Suggestions, Waiting, WaitingName,
};
use crate::job::StaffRoll;
use crate::practice::Practice;
use crate::views::card::CardData;

/// What a screen may see, as it is at the moment of an input, of news or of drawing.
#[derive(Debug, Clone, Copy)]
pub struct Seen<'a> {
    /// The current screen.
    pub screen: Screen,
    /// The keys.
    pub keys: &'a Keymap,
    /// Today, as the program takes it.
    pub today: NaiveDate,
    /// The practice's choices.
    pub practice: &'a Practice,
    /// The people.
    pub staff: &'a StaffRoll,
    /// Whether people sign in before they act.
    pub signs_in: bool,
    /// Who is acting.
    pub person: Option<&'a str>,
    /// What is set about signing in.
    pub security: Security,
    /// Who has a PIN or passphrase.
    pub with_secret: &'a [String],
    /// Names of whoever is signed in that somebody else typed.
    pub typed_names: &'a [WaitingName],
    /// Open jobs in the order in which they need somebody.
    pub lines: &'a [JobLine],
    /// The newest backup, and whether one is due.
    pub backup: Option<&'a BackupState>,
    /// Pairs that are ready and wait without an appointment.
    pub waiting: &'a [Waiting],
    /// The job that is open.
    pub job: Option<&'a JobView>,
    /// The job whose fitting card is shown.
    pub card: Option<&'a OpenJob>,
    /// What the fitting card says of it.
    pub facts: Option<&'a CardData>,
    /// Why nothing of its order is shown there, where it is hidden.
    pub card_hides: Option<&'static str>,
    /// What a remake costs the practice, where it has said so.
    pub remake_price: Option<u64>,
    /// What was written before and may be offered again, once it is read.
    pub used: Option<&'a Suggestions>,
    /// The number of the pair in hand at the parcel, whose order is hidden until it is read.
    pub in_hand: Option<&'a str>,
    /// What the terminal does with what is copied.
    pub clipboard: Clipboard,
    /// Whether a question is open.
    pub is_asked: bool,
}

/// What the terminal does with what is copied.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Clipboard {
    /// It is not known to refuse it.
    Taken,
    /// It is known to take nothing.
    Refused,
}
