//! What the screens know and how it changes; no terminal, no drawing, no storage here.
//!
//! The path of a keystroke: the terminal gives a [`key::Key`], the [`keymap`] makes an
//! [`action::Action`] of it, [`update`] changes the [`App`] and returns [`effect::Effect`]s,
//! [`perform`] does those to the book and returns [`effect::Message`]s, which come back to
//! [`update`]; then the screen is drawn from the [`App`] alone.

mod act;
pub mod action;
pub mod aloud;
pub mod bench;
pub mod choices;
pub mod collecting;
pub mod dialog;
pub mod effect;
pub mod entry;
pub mod figures;
pub mod gating;
pub mod help;
pub mod hints;
pub mod key;
pub mod keymap;
pub mod line;
pub mod lock;
pub mod offering;
mod onward;
pub mod palette;
pub mod parcel;
pub mod perform;
pub mod pictures;
pub mod question;
pub mod questions;
pub mod ready;
pub mod rows;
mod scan;
pub mod screen;
pub mod secret;
pub mod text;
pub mod tour;
pub mod update;
pub mod visit;

use chrono::NaiveDate;

use crate::desk::{OpenJob, Security, Suggestions, Waiting};
use crate::job::StaffRoll;
use crate::practice::Practice;
use action::{Action, Scope};
use keymap::Keymap;
use question::Dialog;
use screen::{Collections, JobScreen, Lookup, Worklist};

/// Which screen is in front.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Screen {
    /// There is no book yet.
    Welcome,
    /// The worklist.
    Worklist,
    /// The form of a job.
    Job,
    /// The gate of a job.
    Gate,
    /// The look-up.
    Lookup,
    /// The collections of the day.
    Collections,
    /// What came from the laboratory.
    Parcel,
    /// The pictures of a job.
    Pictures,
    /// Materials and base curves of a job side by side.
    Choices,
    /// Any calculation without a job.
    Workbench,
    /// Figures of the practice's work.
    Figures,
    /// A job as it is read out.
    Aloud,
    /// The visit about a pair that came back.
    Visit,
}

impl Screen {
    /// Whether it shows something of the job in front, and nothing without it.
    pub const fn is_of_one_job(self) -> bool {
        matches!(
            self,
            Self::Job | Self::Gate | Self::Pictures | Self::Choices | Self::Aloud | Self::Visit
        )
    }
}

impl Screen {
    /// What a person calls it.
    pub const fn title(self) -> &'static str {
        match self {
            Self::Welcome => "welcome",
            Self::Worklist => "worklist",
            Self::Job => "job",
            Self::Gate => "gate",
            Self::Lookup => "look-up",
            Self::Collections => "collections",
            Self::Parcel => "parcel",
            Self::Pictures => "pictures",
            Self::Choices => "choices",
            Self::Workbench => "workbench",
            Self::Figures => "figures",
            Self::Aloud => "read aloud",
            Self::Visit => "visit",
        }
    }
}

/// What is said in the line above the hints until the next key.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Said {
    /// The sentence.
    pub text: String,
    /// Whether something was refused or went wrong.
    pub bad: bool,
}

/// Everything the screens show.
#[derive(Debug)]
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
    /// The practice's choices.
    pub practice: Practice,
    /// What is set about signing in.
    pub security: Security,
    /// Who has a PIN or passphrase.
    pub with_secret: Vec<String>,
    /// Who is acting.
    pub person: Option<String>,
    /// Whether they have proved it.
    pub proven: bool,
    /// What stands before everything while the screen is locked.
    pub lock: Option<lock::Lock>,
    /// The screen in front.
    pub screen: Screen,
    /// The screens to go back to, the latest last.
    pub trail: Vec<Screen>,
    /// The worklist.
    pub worklist: Worklist,
    /// The look-up.
    pub lookup: Lookup,
    /// The collections.
    pub collections: Collections,
    /// The parcel.
    pub parcel: parcel::Parcel,
    /// What a remake costs the practice, where it has said so.
    pub remake_price: Option<u64>,
    /// Pairs that are ready and wait without an appointment.
    pub waiting: Vec<Waiting>,
    /// Which picture of the job is in front.
    pub pictures: pictures::Pictures,
    /// The table of materials and curves.
    pub choices: choices::Choices,
    /// The workbench.
    pub bench: bench::Bench,
    /// The figures.
    pub figures: figures::FiguresScreen,
    /// The job that is read out.
    pub aloud: aloud::Aloud,
    /// Whether the terminal may take what is copied.
    pub clipboard: aloud::Clipboard,
    /// The visit about a pair that came back.
    pub visit: visit::Visit,
    /// The job that is open, if any.
    pub job: Option<JobScreen>,
    /// What was written before and may be offered again, once it is read.
    pub used: Option<Box<Suggestions>>,
    /// The finding selected at the gate.
    pub finding: usize,
    /// The job whose fitting card is shown.
    pub card: Option<Box<OpenJob>>,
    /// Key of the setting to come back to in the list once a change is kept or refused.
    pub setting: Option<&'static str>,
    /// The stop of the tour, while it lasts.
    pub tour: Option<usize>,
    /// What is worked out for the screen in front.
    pub ready: ready::Ready,
    /// What is asked at the moment.
    pub dialog: Option<Dialog>,
    /// What was said last.
    pub said: Option<Said>,
    /// Whether the program is to end.
    pub quit: bool,
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
            practice: Practice::default(),
            security: Security::default(),
            with_secret: Vec::new(),
            person: None,
            proven: false,
            lock: None,
            screen: Screen::Worklist,
            trail: Vec::new(),
            worklist: Worklist::default(),
            lookup: Lookup::default(),
            collections: Collections::default(),
            parcel: parcel::Parcel::default(),
            remake_price: None,
            waiting: Vec::new(),
            pictures: pictures::Pictures::default(),
            choices: choices::Choices::default(),
            bench: bench::Bench::default(),
            figures: figures::FiguresScreen::default(),
            aloud: aloud::Aloud::default(),
            clipboard: aloud::Clipboard::Taken,
            visit: visit::Visit::default(),
            job: None,
            used: None,
            finding: 0,
            card: None,
            setting: None,
            tour: None,
            ready: ready::Ready::default(),
            dialog: None,
            said: None,
            quit: false,
        }
    }

    /// Where keys apply at the moment, dialogs left aside.
    pub fn scope(&self) -> Scope {
        match self.screen {
            Screen::Welcome => Scope::Everywhere,
            Screen::Worklist => Scope::Worklist,
            Screen::Job | Screen::Parcel if self.job.as_ref().is_some_and(|j| j.edit.is_some()) => {
                Scope::Entry
            }
            Screen::Job => Scope::Job,
            Screen::Gate => Scope::Gate,
            Screen::Lookup => Scope::Lookup,
            Screen::Collections => Scope::Collections,
            Screen::Parcel => Scope::Parcel,
            Screen::Pictures => Scope::Pictures,
            Screen::Choices => Scope::Choices,
            Screen::Workbench => Scope::Workbench,
            Screen::Figures => Scope::Figures,
            Screen::Aloud => Scope::Aloud,
            Screen::Visit => Scope::Visit,
        }
    }

    /// Says something that went well.
    pub(crate) fn say(&mut self, text: impl Into<String>) {
        self.said = Some(Said {
            text: text.into(),
            bad: false,
        });
    }

    /// Says something that did not.
    pub(crate) fn complain(&mut self, text: impl Into<String>) {
        self.said = Some(Said {
            text: text.into(),
            bad: true,
        });
    }

    /// The keys that answer a check, as `y or n`.
    pub fn yes_or_no(&self) -> String {
        let key = |action| self.keymap.shown(action).unwrap_or_default();
        format!("{} or {}", key(Action::Yes), key(Action::No))
    }

    /// What becomes of an entry of the form by which key.
    pub(crate) fn kept_or_dropped(&self) -> String {
        let key = |action| self.keymap.shown(action).unwrap_or_default();
        let (keep, drop) = (key(Action::Commit), key(Action::Restore));
        format!("{keep} keeps it, {drop} drops it")
    }

    /// Puts a screen in front and keeps the way back.
    pub(crate) fn go(&mut self, screen: Screen) {
        if self.screen != screen {
            self.trail.retain(|s| *s != screen);
            self.trail.push(self.screen);
            self.screen = screen;
        }
    }
}
