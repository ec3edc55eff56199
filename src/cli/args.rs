//! The commands; the options of each are defined where the command is.

use std::path::PathBuf;

use clap::{Parser, Subcommand};

use super::value_words::gate;
use crate::job::Gate;

/// The job book of a small optical practice.
///
/// Without a command, opens the worklist.
#[derive(Debug, Default, Parser)]
#[command(
    name = "rimbook",
    version,
    long_version = super::version::long(),
    after_help = "Exit status: 0 done; 1 failed; 2 wrong usage; 3 held by the gate, nothing changed.\n\n\
        Tolerances and supply rules are to be confirmed against the standard and the law in force \
        where the practice works; decisions stay with the registered professional."
)]
pub(crate) struct Arguments {
    // Written out, because help shows the marks that documentation puts around names.
    #[arg(
        long,
        global = true,
        value_name = "FILE",
        help = "The book to work in [default: RIMBOOK_DB, else book.db in the user's data directory]"
    )]
    pub(crate) db: Option<PathBuf>,
    /// Answer in JSON on standard output
    #[arg(long, global = true)]
    pub(crate) json: bool,
    /// Read the PIN or passphrase of --as from a file that only you can read, instead of asking
    #[arg(long, global = true, value_name = "FILE")]
    pub(crate) pin_file: Option<PathBuf>,
    #[command(subcommand)]
    pub(crate) command: Option<Command>,
}

#[derive(Debug, Subcommand)]
pub(crate) enum Command {
    /// Build a fresh invented practice, and open it
    Demo(super::demo::Demo),
    /// Import job files, FHIR prescriptions, or past jobs from CSV; prints the numbers given
    Import(super::import::Import),
    /// Write jobs as a job file, CSV or FHIR
    Export(super::export::Export),
    /// Write the appointments for collections as iCalendar: when and which job, nothing of the wearer
    Calendar(super::calendar::Calendar),
    /// List jobs
    List(super::list::List),
    /// Find jobs by name, number, phone, date of birth or frame, or by who has a frame or lens
    Find(super::list::Find),
    /// Figures of the practice's work over a period, beside those of the period before
    Figures(super::figures::Figures),
    /// Show one job
    Show {
        number: String,
        /// Line by line in words, to be read out or heard
        #[arg(long)]
        aloud: bool,
        /// Who looks, where people sign in
        #[arg(long = "as", value_name = "STAFF")]
        by: Option<String>,
    },
    /// Say what the gate finds, without moving
    Check {
        #[arg(required_unless_present = "all", conflicts_with = "all")]
        number: Option<String>,
        /// The gate, named by the stage it leads to [default: the next]
        #[arg(long, value_parser = gate, value_name = "STAGE")]
        to: Option<Gate>,
        /// Every open job at its next gate
        #[arg(long, conflicts_with = "to")]
        all: bool,
    },
    /// Merge JSON into one section of a job
    Record(super::record::Record),
    /// Move a job through the gate, or say what holds it
    Advance {
        number: String,
        /// The stage to move to: ordered, verified, collected
        #[arg(long, value_parser = gate, value_name = "STAGE")]
        to: Gate,
        /// Who moves it
        #[arg(long = "as", value_name = "STAFF")]
        by: String,
    },
    /// Settle a warning with a reason
    Accept(super::moves::Accept),
    /// Send a delivered pair back to the laboratory
    SendBack {
        number: String,
        /// Who sends it
        #[arg(long = "as", value_name = "STAFF")]
        by: String,
        /// Why
        #[arg(long, value_name = "TEXT")]
        reason: String,
    },
    /// Put a question to the prescriber or the laboratory; it holds the job until it is answered
    Ask(super::ask::AskArgs),
    /// Record the answer to an open question
    Answer(super::ask::AnswerArgs),
    /// Sign names that somebody else typed, with the PIN; needs sign-in
    Confirm(super::confirm::ConfirmArgs),
    /// Begin a job from an earlier one of the same wearer, with what may be carried over
    Begin(super::begin::Begin),
    /// Keep a repair or adjustment of a collected pair
    Repair(super::repair::MendPair),
    /// Record what a wearer was told, or tried to be told
    Contact(super::contact::ContactArgs),
    /// Look at a collected pair again, as a new job linked to it
    Recheck {
        number: String,
        /// Who looks
        #[arg(long = "as", value_name = "STAFF")]
        by: String,
    },
    /// Line a recheck up with the pair it looks at; name likely causes and the steps left
    Visit { number: String },
    /// Begin the remake that a recheck decided on, as a new job linked to it
    Remake {
        /// The recheck
        number: String,
        /// Who begins it
        #[arg(long = "as", value_name = "STAFF")]
        by: String,
    },
    /// Give an open job up
    Cancel {
        number: String,
        /// Who gives it up
        #[arg(long = "as", value_name = "STAFF")]
        by: String,
        /// Why
        #[arg(long, value_name = "TEXT")]
        reason: String,
    },
    /// Encrypt the book in its place; prints the recovery code, once
    Encrypt {
        /// A dispensing optician or optometrist; their passphrase will open the book
        #[arg(long = "as", value_name = "STAFF")]
        by: String,
    },
    /// Make a new recovery code for an encrypted book; the one before opens nothing any more
    RecoveryCode {
        /// A dispensing optician or optometrist
        #[arg(long = "as", value_name = "STAFF")]
        by: String,
    },
    /// Answer calculations: JSON Lines in, JSON Lines out
    Calc,
    /// Read written prescriptions: one a line in, one JSON answer a line out
    Rx,
    /// List the checks of the gates
    Checks {
        /// As a page in Markdown
        #[arg(long)]
        markdown: bool,
    },
    /// Copy the book into a directory, checked, and let old copies go
    Backup(super::backup::Backup),
    /// Put a backup in the place of the book; the replaced book is kept
    Restore {
        /// The backup
        file: PathBuf,
        /// Who does it: a dispensing optician or optometrist
        #[arg(long = "as", value_name = "STAFF")]
        by: String,
    },
    /// Examine the book
    Doctor {
        /// Repair what can be repaired without a decision
        #[arg(long)]
        repair: bool,
        /// Who repairs
        #[arg(long = "as", value_name = "STAFF", requires = "repair")]
        by: Option<String>,
        /// Print the newest entry of history as a code to write down, and examine nothing
        #[arg(long, conflicts_with_all = ["repair", "against"])]
        head: bool,
        /// Also say whether history still holds a code that was written down, or a signed head
        /// from beside a backup
        #[arg(long, value_name = "CODE|FILE")]
        against: Option<String>,
        /// Write all that can be read into a new book and list the rest
        #[arg(long, value_name = "FILE", conflicts_with_all = ["repair", "against", "head"])]
        salvage: Option<PathBuf>,
    },
    /// List the wearers whose records are due for review; erases nothing
    Retention(super::retention::Retention),
    /// Erase a job for good, or every job of its wearer
    Erase(super::erase::Erase),
    /// Write everything the book holds of one wearer, for a wearer who asks
    Access(super::access::GiveAccess),
    /// Print a sheet of a job: for the tray, the laboratory, the check of centration, the wearer
    Print(super::print::Print),
    /// The practice's standard and thresholds
    Practice {
        #[command(subcommand)]
        what: Option<super::practice::PracticeCommand>,
    },
    /// The people of the practice
    Staff {
        #[command(subcommand)]
        what: super::staff::StaffCommand,
    },
    /// Write a page of the manual; read it with: rimbook man | man -l -
    Man {
        /// The command it is about [default: the program]
        command: Vec<String>,
    },
    /// Write the completions of a shell
    Completions {
        /// The shell
        shell: clap_complete::Shell,
    },
}
