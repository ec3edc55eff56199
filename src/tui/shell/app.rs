//! The program as the shell holds it: what is known, what is shown, what is asked.

use chrono::NaiveDate;

use super::locked::Lock;
use super::ready::Ready;
use super::screens::States;
use crate::book::desk::{
    BackupState, JobLine, OpenJob, Security, Suggestions, Waiting, WaitingName,
};
use crate::job::StaffRoll;
use crate::practice::Practice;
use crate::tui::action::Scope;
use crate::tui::job_view::JobView;
use crate::tui::keymap::Keymap;
use crate::tui::notice::Notice;
use crate::tui::question::Dialog;
use crate::tui::screen_name::Screen;
use crate::tui::seen::Clipboard;

/// The least columns a screen can be used in.
pub(crate) const LEAST_WIDTH: u16 = 60;
/// The least rows.
pub(crate) const LEAST_HEIGHT: u16 = 16;

/// Everything the screens show.
#[derive(Debug)]
#[allow(clippy::struct_excessive_bools, reason = "each is a fact of its own")]
pub struct App {
    /// Today, as the program takes it.
    pub today: NaiveDate,
    /// Whether the date was set for a trial.
    pub today_is_fixed: bool,
    /// Where the book is.
    pub place: String,
    /// The keys.
    pub keymap: Keymap,
    /// The people.
    pub staff: StaffRoll,
    /// Whether it has been said who of them lacks a registration number.
    pub numbers_said: bool,
    /// The practice's choices.
    pub practice: Practice,
    /// What is set about signing in.
    pub security: Security,
    /// Who has a PIN or passphrase.
    pub with_secret: Vec<String>,
    /// Names of whoever is signed in that somebody else typed.
    pub typed_names: Vec<WaitingName>,
    /// Who is acting.
    pub person: Option<String>,
    /// Whether they have proved it.
    pub proven: bool,
    /// What is shown instead of any screen while it is locked.
    pub lock: Option<Lock>,
    /// The current screen.
    pub screen: Screen,
    /// The screens to go back to, the latest last.
    pub trail: Vec<Screen>,
    /// Open jobs in the order in which they need somebody.
    pub lines: Vec<JobLine>,
    /// The newest backup, and whether one is due.
    pub backup: Option<BackupState>,
    /// Whether a deed has changed a job since the lists were read.
    pub is_stale: bool,
    /// What a remake costs the practice, where it has said so.
    pub remake_price: Option<u64>,
    /// Pairs that are ready and wait without an appointment.
    pub waiting: Vec<Waiting>,
    /// What the screens remember that answer for themselves.
    pub states: States,
    /// Whether the terminal may take what is copied.
    pub clipboard: Clipboard,
    /// The screen that is shown once the job that was begun for it is read.
    pub wanted: Option<Screen>,
    /// The job that is open, if any.
    pub job: Option<JobView>,
    /// What was written before and may be offered again, once it is read.
    pub used: Option<Box<Suggestions>>,
    /// The job whose fitting card is shown.
    pub card: Option<Box<OpenJob>>,
    /// Key of the setting to come back to in the list once a change is kept or refused.
    pub setting: Option<&'static str>,
    /// The stop of the tour, while it lasts.
    pub tour: Option<usize>,
    /// What is worked out for the current screen.
    pub ready: Ready,
    /// What is asked at the moment.
    pub dialog: Option<Dialog>,
    /// The last notice, until the next key.
    pub notice: Option<Notice>,
    /// Whether the window is too small for any screen.
    pub is_window_too_small: bool,
    /// Whether the program is to end.
    pub quit: bool,
    /// Why it ends by itself, to be said once the terminal is given back.
    pub last_words: Option<String>,
}

impl App {
    /// Starts with no book read yet.
    pub fn new(place: &str, today: NaiveDate, keymap: Keymap) -> Self {
        Self {
            today,
            today_is_fixed: false,
            place: place.to_owned(),
            keymap,
            staff: StaffRoll::default(),
            numbers_said: false,
            practice: Practice::default(),
            security: Security::default(),
            with_secret: Vec::new(),
            typed_names: Vec::new(),
            person: None,
            proven: false,
            lock: None,
            screen: Screen::Worklist,
            trail: Vec::new(),
            lines: Vec::new(),
            backup: None,
            is_stale: false,
            remake_price: None,
            waiting: Vec::new(),
            states: States::default(),
            clipboard: Clipboard::Taken,
            wanted: None,
            job: None,
            used: None,
            card: None,
            setting: None,
            tour: None,
            ready: Ready::default(),
            dialog: None,
            notice: None,
            is_window_too_small: false,
            quit: false,
            last_words: None,
        }
    }

    /// Where keys apply at the moment, dialogs left aside.
    pub fn scope(&self) -> Scope {
        let state = self.states.get(self.screen);
        state.map_or(Scope::Everywhere, |state| {
            state.behaviour().scope(self.seen())
        })
    }

    /// Says something that went well.
    pub(crate) fn say(&mut self, text: impl Into<String>) {
        self.notice = Some(Notice::good(text));
    }

    /// Says something that did not.
    pub(crate) fn complain(&mut self, text: impl Into<String>) {
        self.notice = Some(Notice::bad(text));
    }

    /// Makes a screen the current one, with no way back but to the worklist.
    pub fn begin(&mut self, screen: Screen) {
        self.trail.clear();
        self.screen = screen;
        self.states.begin(screen);
    }

    /// Lets the open job go, with what its form remembers.
    pub(crate) fn close_job(&mut self) {
        self.job = None;
        self.states.forget(Screen::Job);
    }

    /// Opens a screen and keeps the way back.
    pub(crate) fn go(&mut self, screen: Screen) {
        if self.screen != screen {
            self.trail.retain(|s| *s != screen);
            self.trail.push(self.screen);
            self.screen = screen;
            self.states.begin(screen);
        }
    }
}
