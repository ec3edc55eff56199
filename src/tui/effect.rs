//! What the reducer wants done, as data, and what comes back.

use chrono::NaiveDate;
use serde_json::Value;

use super::secret::{NewSecret, Secret};
use crate::book::desk::{
    BackupState, Draft, Event, JobLine, Occasion, OpenJob, Program, Review, Security,
    SecurityChange, Suggestions, VisitLinks, Waiting, WaitingName,
};
use crate::job::{
    Contact, Gate, Origins, QuestionTo, Reason, Repair, Section, StaffMember, StaffRoll,
};
use crate::judge::gate::Finding;
use crate::judge::gate::faults::SentBack;
use crate::judge::rules::carry::NotCarried;
use crate::practice::Practice;
use crate::views::figures::page::Report;
use crate::views::figures::period::Period;

/// Something to be done outside the reducer.
#[derive(Debug, Clone, PartialEq)]
pub enum Effect {
    /// Makes a new book with its first person.
    Create(StaffMember),
    /// Makes an invented practice and opens it.
    Demo,
    /// Reads the worklist, the people and the practice's choices.
    Reload,
    /// Reads which wearers' records are due for review.
    Retention,
    /// Counts the figures of a period.
    Figures(Period),
    /// Looks jobs up.
    Find(String),
    /// Reads a job for its fitting card.
    Card(String),
    /// Reads the jobs linked to a visit.
    VisitLinks(String),
    /// Reads a job for its form.
    Open(String),
    /// Keeps that a job was opened from the look-up, where people sign in.
    NoteFound(String),
    /// Reads the job whose tray was scanned.
    OpenScanned(String),
    /// Prints a sheet of a job.
    Print {
        /// Job.
        number: String,
        /// Sheet.
        what: crate::views::sheet::SheetKind,
    },
    /// Notes that a program of the book may run in this account, then prints.
    AgreeAndPrint {
        /// Job.
        number: String,
        /// Sheet.
        what: crate::views::sheet::SheetKind,
        /// The program.
        program: Program,
    },
    /// Reads what was sent back lately.
    SentBack,
    /// Reads what was written before and may be offered again.
    Used,
    /// Looks whether somebody else changed the book.
    Poll,
    /// Writes what is being typed into a file of its own: the book has gone.
    Rescue(String),
    /// Keeps what is being typed.
    SaveDraft {
        /// Job.
        number: String,
        /// Path of the field.
        field: String,
        /// What was typed.
        text: String,
        /// Who acts, once that is settled.
        by: Option<String>,
    },
    /// Forgets what was being typed.
    ClearDraft {
        /// Job.
        number: String,
        /// Path of the field.
        field: String,
        /// Who acts, once that is settled.
        by: Option<String>,
    },
    /// Adds a person.
    AddStaff(StaffMember),
    /// Backs the book up if that is due, without keeping anybody waiting.
    BackUpIfDue(Occasion),
    /// Signs a person in; then does what waits for it.
    SignIn {
        /// Who.
        name: String,
        /// What proves it.
        secret: Secret,
        /// What waits.
        then: Option<Deed>,
    },
    /// Signs whoever it is out.
    SignOut,
    /// Sets a secret.
    SetSecret {
        /// Whose, by whom.
        what: Box<NewSecret>,
        /// The new one.
        secret: Secret,
    },
    /// Sets whether people sign in and when a screen is locked.
    SetSecurity {
        /// What is set.
        change: SecurityChange,
        /// Who.
        by: String,
        /// What proves again who it is, where people sign in.
        secret: Option<Secret>,
    },
    /// Sets one of the practice's settings; the others stay as they are in the book.
    SetPractice {
        /// Its key.
        key: &'static str,
        /// Its value, as it is typed.
        value: String,
        /// Who.
        by: String,
        /// What proves again who it is, where the setting runs a program and people sign in.
        secret: Option<Secret>,
    },
    /// Sets what a remake costs the practice.
    SetRemakePrice {
        /// In whole units of its money; nothing takes it back.
        price: Option<u64>,
        /// Who.
        by: String,
    },
    /// Signs a name that its owner confirms at another's screen.
    ConfirmBySecret {
        /// Job.
        number: String,
        /// Path of the name.
        path: String,
        /// Whose name it is.
        owner: String,
        /// What proves it.
        secret: Secret,
    },
    /// Gives the terminal back to the shell.
    Suspend,
    /// Puts a text on the terminal's clipboard.
    Copy(String),
    /// Something done in the name of whoever is acting, who is asked for first where nobody is.
    Act(Deed),
    /// What was to be kept is not kept, and why: the screens give back what was typed.
    NotKept(String),
    /// Something a named person does to the book.
    Deed {
        /// Who.
        by: String,
        /// What.
        deed: Deed,
    },
}

/// What a person does to the book; history names who.
#[derive(Debug, Clone, PartialEq)]
pub enum Deed {
    /// Begins a job.
    NewJob {
        /// The wearer's name.
        wearer: String,
    },
    /// Records a change.
    Record {
        /// Job.
        number: String,
        /// Section.
        section: Section,
        /// The change, merged by RFC 7396.
        change: Value,
        /// Revision it was made against.
        revision: i64,
        /// Path of the field whose draft is done with.
        field: Option<String>,
        /// Whether the change itself takes one back, and is not to be taken back in turn.
        is_undo: bool,
    },
    /// Records a value that is copied from another place of the job.
    Copy {
        /// Job.
        number: String,
        /// Section.
        section: Section,
        /// The change, merged by RFC 7396.
        change: Value,
        /// Path from the job of the value that is copied.
        from: String,
        /// Path from the job of the copy.
        to: String,
        /// Revision it was made against.
        revision: i64,
    },
    /// Moves the job.
    Advance {
        /// Job.
        number: String,
        /// Gate.
        gate: Gate,
        /// Revision it was decided on.
        revision: i64,
    },
    /// Accepts a finding.
    Accept {
        /// Job.
        number: String,
        /// Id of the check.
        check: &'static str,
        /// What it is about.
        eye: Option<&'static str>,
        /// Why.
        reason: String,
    },
    /// Sends the pair back.
    SendBack {
        /// Job.
        number: String,
        /// Why.
        reason: String,
    },
    /// Gives the job up.
    Cancel {
        /// Job.
        number: String,
        /// Why.
        reason: String,
    },
    /// Records what the wearer was told.
    Contact {
        /// Job.
        number: String,
        /// What.
        contact: Box<Contact>,
    },
    /// Begins a recheck.
    Recheck {
        /// Job.
        number: String,
    },
    /// Begins a job from an earlier one.
    BeginFrom {
        /// The earlier job.
        number: String,
        /// Why.
        reason: Reason,
    },
    /// Keeps a repair.
    Repair {
        /// Job.
        number: String,
        /// What was done.
        repair: Box<Repair>,
    },
    /// Begins the remake a recheck decided on.
    Remake {
        /// The recheck.
        number: String,
    },
    /// Asks the prescriber or the laboratory.
    Ask {
        /// Job.
        number: String,
        /// Whom.
        of: QuestionTo,
        /// What.
        text: String,
    },
    /// Signs names that somebody else typed.
    Confirm {
        /// Job.
        number: String,
        /// Paths of the names.
        paths: Vec<String>,
    },
    /// Records the answer.
    Answer {
        /// Job.
        number: String,
        /// Whose.
        of: QuestionTo,
        /// What.
        text: String,
    },
}

/// A job with everything its screens show.
#[derive(Debug, Clone, PartialEq)]
pub struct Opened {
    /// The job.
    pub open: OpenJob,
    /// What its next gate says.
    pub findings: Vec<Finding>,
    /// What was being typed.
    pub drafts: Vec<Draft>,
    /// What happened to it.
    pub history: Vec<Event>,
    /// What it did not take over from the job it was begun from.
    pub not_carried: Vec<NotCarried>,
    /// Today, as the program takes it.
    pub today: NaiveDate,
}

/// The book as the worklist shows it.
#[derive(Debug, Clone, PartialEq)]
pub struct Book {
    /// Today, as the program takes it.
    pub today: NaiveDate,
    /// Whether the date was set for a trial.
    pub today_is_fixed: bool,
    /// Open jobs in the order in which they need somebody.
    pub lines: Vec<JobLine>,
    /// Pairs that are ready and wait without an appointment.
    pub waiting: Vec<Waiting>,
    /// The people.
    pub staff: StaffRoll,
    /// The practice's choices.
    pub practice: Practice,
    /// What a remake costs the practice, where it has said so.
    pub remake_price: Option<u64>,
    /// The newest backup, and whether one is due.
    pub backup: BackupState,
    /// What is set about signing in.
    pub security: Security,
    /// Who has a PIN or passphrase.
    pub with_secret: Vec<String>,
    /// Names of whoever is signed in that somebody else typed.
    pub typed_names: Vec<WaitingName>,
}

/// What came of an effect.
#[derive(Debug, Clone, PartialEq)]
pub enum Message {
    /// The program begins without a book.
    NoBook,
    /// The program begins with a book, of which nothing is read yet but who may see it.
    Ready {
        /// What is set about signing in.
        security: Security,
        /// Who opened an encrypted book with their passphrase, and so has proved who they are.
        signed_in: Option<String>,
        /// The people.
        staff: StaffRoll,
    },
    /// The book.
    Book(Box<Book>),
    /// A new book was begun by its first person.
    Begun {
        /// The book.
        book: Box<Book>,
        /// Who acts from now on.
        member: StaffMember,
    },
    /// Jobs that were looked up, with the text they were looked up by.
    Found(String, Vec<JobLine>),
    /// Wearers whose records are due for review.
    Due(Vec<Review>),
    /// The figures of a period.
    Counted(Box<Report>),
    /// What was sent back lately.
    SentBack(Vec<SentBack>),
    /// What was written before and may be offered again.
    Used(Box<Suggestions>),
    /// A job for a card.
    Card(Box<OpenJob>),
    /// A job for its form.
    Opened(Box<Opened>),
    /// The job whose tray was scanned.
    Scanned(Box<Opened>),
    /// The jobs linked to a visit.
    VisitLinks {
        /// The recheck.
        number: String,
        /// What was read.
        links: Box<VisitLinks>,
    },
    /// A change was recorded; with what takes it back.
    Recorded {
        /// The job now.
        opened: Box<Opened>,
        /// Section and change that take it back.
        back: Option<(Section, Value)>,
        /// Origins that the change has ended.
        ended: Origins,
        /// Whether it was itself a taking back.
        is_undo: bool,
    },
    /// Somebody else changed the job first; nothing was recorded.
    Stale(Box<Opened>),
    /// The book was changed by somebody else.
    Changed,
    /// A person was added, and acts from now on.
    Joined(StaffMember),
    /// A move of a job was made or refused.
    Moved {
        /// The job now.
        opened: Box<Opened>,
        /// What happened, one sentence.
        said: String,
        /// Whether the move was refused.
        refused: bool,
    },
    /// A repair was not kept, because a check holds it.
    RepairHeld {
        /// The job, unchanged.
        open: Box<OpenJob>,
        /// What was not kept.
        repair: Box<Repair>,
        /// What the checks say of it.
        findings: Vec<Finding>,
    },
    /// A backup that was due was made.
    BackedUp {
        /// When the last backup was made, and whether a directory is set for them.
        state: BackupState,
        /// Sentences about what went wrong while copying; empty where all went well.
        notes: Vec<String>,
        /// The newest entry of history in it, to write down.
        code: String,
    },
    /// Somebody proved who they are.
    SignedIn {
        /// Who.
        member: StaffMember,
        /// What they are told about wrong attempts.
        told: Option<String>,
        /// What waited for it.
        then: Option<Deed>,
    },
    /// Somebody did not.
    SignInRefused {
        /// Who.
        name: String,
        /// Why.
        message: String,
        /// What waited for it.
        then: Option<Deed>,
    },
    /// Something about the practice or its people was set; one sentence.
    Set(String),
    /// A sheet was not printed: its program was not set in this account.
    UnknownProgram {
        /// Job.
        number: String,
        /// Sheet.
        what: crate::views::sheet::SheetKind,
        /// The program.
        program: Program,
        /// Its command.
        command: String,
    },
    /// A sheet was written, and perhaps printed.
    Printed(crate::book::desk::Printed),
    /// The book is no longer in its place; why.
    BookGone(String),
    /// What was being typed is in a file, or in none.
    Rescued(Option<std::path::PathBuf>),
    /// It did not work.
    Failed {
        /// What is wrong and what to do.
        message: String,
        /// Further help.
        hints: Vec<String>,
    },
}
