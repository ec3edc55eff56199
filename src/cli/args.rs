//! The words of the command line.

use std::path::PathBuf;

use chrono::NaiveDate;
use clap::{Args, Parser, Subcommand, ValueEnum};

use crate::job::{ContactBy, Gate, Role, Section, Stage};

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
    Demo(Demo),
    /// Import job files, FHIR prescriptions, or past jobs from CSV; prints the numbers given
    Import(Import),
    /// Write jobs as a job file, CSV or FHIR
    Export(Export),
    /// Write the appointments for collections as iCalendar: when and which job, nothing of the wearer
    Calendar(Calendar),
    /// List jobs
    List(List),
    /// Find jobs by name, number, phone, date of birth or frame
    Find {
        #[arg(required = true, value_name = "TEXT")]
        text: Vec<String>,
        /// How many lines at most
        #[arg(long, default_value_t = 20, value_name = "N")]
        limit: usize,
    },
    /// Figures of the practice's work over a period, beside those of the period before
    Figures(super::figures::Figures),
    /// Show one job
    Show {
        number: String,
        /// Line by line in words, to be read out or heard
        #[arg(long)]
        aloud: bool,
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
    Record(Record),
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
    Accept(Accept),
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
    /// Begin a job from an earlier one of the same wearer, with what may be carried over
    Begin(super::again::Begin),
    /// Keep a repair or adjustment of a collected pair
    Repair(super::again::MendPair),
    /// Record what a wearer was told, or tried to be told
    Contact(Contact),
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
    Backup(Backup),
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
    },
    /// List the wearers whose records are due for review; erases nothing
    Retention(super::protect::Retention),
    /// Erase a job for good, or every job of its wearer
    Erase(super::protect::Erase),
    /// Write everything the book holds of one wearer, for a wearer who asks
    Access(super::protect::GiveAccess),
    /// Print a sheet of a job: for the tray, the laboratory, the check of centration, the wearer
    Print(super::print::Print),
    /// The practice's standard and thresholds
    Practice {
        #[command(subcommand)]
        what: Option<PracticeWhat>,
    },
    /// The people of the practice
    Staff {
        #[command(subcommand)]
        what: Staff,
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

#[derive(Debug, Args)]
pub(crate) struct Demo {
    /// A file that does not exist yet [default: a fresh one in the temporary directory]
    #[arg(long, value_name = "FILE")]
    pub(crate) into: Option<PathBuf>,
    /// Build the book only
    #[arg(long)]
    pub(crate) no_open: bool,
    /// How many jobs [default: a small, telling practice]
    #[arg(long, value_name = "N")]
    pub(crate) jobs: Option<usize>,
    /// The same seed gives the same book on the same day
    #[arg(long, value_name = "S")]
    pub(crate) seed: Option<u64>,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(crate) enum Format {
    Json,
    Csv,
    Fhir,
}

#[derive(Debug, Args)]
pub(crate) struct Backup {
    /// The directory [default: the one that is set]
    #[arg(value_name = "DIR")]
    pub(crate) dir: Option<PathBuf>,
    /// Remember directory and numbers from now on; without DIR, sets the numbers alone
    #[arg(long, requires = "by")]
    pub(crate) set: bool,
    /// Who sets: a dispensing optician or optometrist
    #[arg(long = "as", value_name = "STAFF", requires = "set")]
    pub(crate) by: Option<String>,
    /// Keep the newest N
    #[arg(long, value_name = "N", requires = "set")]
    pub(crate) keep: Option<usize>,
    /// Keep the newest of each of N days
    #[arg(long, value_name = "N", requires = "set")]
    pub(crate) keep_days: Option<usize>,
    /// Keep the newest of each of N weeks
    #[arg(long, value_name = "N", requires = "set")]
    pub(crate) keep_weeks: Option<usize>,
    /// Keep the newest of each of N months
    #[arg(long, value_name = "N", requires = "set")]
    pub(crate) keep_months: Option<usize>,
    /// Whether the first start of a day makes one
    #[arg(long, value_name = "true|false", requires = "set")]
    pub(crate) on_start: Option<bool>,
    /// Whether leaving the screens after changes makes one
    #[arg(long, value_name = "true|false", requires = "set")]
    pub(crate) on_quit: Option<bool>,
}

#[derive(Debug, Args)]
pub(crate) struct Import {
    /// Files; - reads standard input
    #[arg(required_unless_present = "mapping_template", value_name = "FILE")]
    pub(crate) files: Vec<PathBuf>,
    /// Who imports
    #[arg(long = "as", value_name = "STAFF")]
    pub(crate) by: Option<String>,
    /// The files are CSV, and this one says which column holds what; own for what export writes
    #[arg(long, value_name = "FILE")]
    pub(crate) mapping: Option<PathBuf>,
    /// Print a mapping to fill in
    #[arg(long, exclusive = true)]
    pub(crate) mapping_template: bool,
    /// Read and name what would be refused; import nothing
    #[arg(long)]
    pub(crate) dry_run: bool,
    /// The wearer of a FHIR prescription, in place of the name in the file
    #[arg(long, value_name = "NAME", conflicts_with = "mapping")]
    pub(crate) wearer: Option<String>,
}

#[derive(Debug, Args)]
pub(crate) struct Export {
    #[arg(
        required_unless_present_any = ["all", "schema"],
        conflicts_with = "all",
        value_name = "NUMBER"
    )]
    pub(crate) numbers: Vec<String>,
    /// Every job of the book
    #[arg(long)]
    pub(crate) all: bool,
    /// The format
    #[arg(long = "as", value_enum, default_value_t = Format::Json, value_name = "FORMAT")]
    pub(crate) format: Format,
    /// Begin CSV with the byte-order mark that some spreadsheets need for UTF-8
    #[arg(long)]
    pub(crate) bom: bool,
    /// Write the JSON Schema of the job file instead
    #[arg(long, exclusive = true)]
    pub(crate) schema: bool,
    /// A file that does not exist yet [default: standard output]
    #[arg(long, value_name = "FILE")]
    pub(crate) out: Option<PathBuf>,
}

#[derive(Debug, Args)]
pub(crate) struct Calendar {
    /// The first day [default: today]
    #[arg(long, value_name = "DATE")]
    pub(crate) from: Option<NaiveDate>,
    /// How many days
    #[arg(long, value_name = "N", default_value_t = 90, value_parser = clap::value_parser!(u32).range(1..=3660))]
    pub(crate) days: u32,
    /// How long an appointment takes
    #[arg(long, value_name = "N", default_value_t = 30, value_parser = clap::value_parser!(u32).range(1..=480))]
    pub(crate) minutes: u32,
    /// A file that does not exist yet [default: standard output]
    #[arg(long, value_name = "FILE")]
    pub(crate) out: Option<PathBuf>,
}

#[derive(Debug, Args)]
pub(crate) struct List {
    /// Only this stage
    #[arg(long, value_parser = stage, value_name = "STAGE")]
    pub(crate) stage: Option<Stage>,
    /// Only what a check holds
    #[arg(long)]
    pub(crate) held: bool,
    /// Only what is late at the laboratory
    #[arg(long)]
    pub(crate) late: bool,
    /// Only what is ready and not collected for longer than the practice waits
    #[arg(long, conflicts_with_all = ["stage", "held", "late", "on"])]
    pub(crate) uncollected: bool,
    /// Only what is due, promised or to be collected on that day (2026-12-03)
    #[arg(long, value_name = "DATE")]
    pub(crate) on: Option<NaiveDate>,
}

#[derive(Debug, Args)]
pub(crate) struct Contact {
    pub(crate) number: String,
    /// telephone, voicemail, message, e-mail, letter or in person
    #[arg(long, value_parser = contact_by, value_name = "HOW")]
    pub(crate) how: ContactBy,
    /// What was said or left
    #[arg(long, value_name = "TEXT")]
    pub(crate) told: Option<String>,
    /// The wearer was reached
    #[arg(long)]
    pub(crate) reached: bool,
    /// Who told them
    #[arg(long = "as", value_name = "STAFF")]
    pub(crate) by: String,
}

#[derive(Debug, Args)]
pub(crate) struct Record {
    pub(crate) number: String,
    /// job, wearer, prescription, fitting, frame, lenses, order, readings, handover, visit and so on
    #[arg(value_parser = section)]
    pub(crate) section: Section,
    /// A file with one JSON object; - reads standard input
    pub(crate) file: PathBuf,
    /// Who records
    #[arg(long = "as", value_name = "STAFF")]
    pub(crate) by: Option<String>,
}

#[derive(Debug, Args)]
pub(crate) struct Accept {
    pub(crate) number: String,
    /// Id of the check
    pub(crate) check: String,
    /// Only the finding about right, left or pair [default: every open one of the check]
    #[arg(long, value_parser = ["right", "left", "pair"])]
    pub(crate) eye: Option<String>,
    /// Who accepts
    #[arg(long = "as", value_name = "STAFF")]
    pub(crate) by: String,
    /// Why
    #[arg(long, value_name = "TEXT")]
    pub(crate) reason: String,
}

#[derive(Debug, Subcommand)]
pub(crate) enum PracticeWhat {
    /// Set one
    Set {
        /// As rimbook practice names it
        key: String,
        /// The value, or default
        #[arg(allow_negative_numbers = true)]
        value: String,
        /// A dispensing optician or optometrist
        #[arg(long = "as", value_name = "STAFF")]
        by: String,
    },
}

#[derive(Debug, Subcommand)]
pub(crate) enum Staff {
    /// Add somebody
    Add {
        #[arg(long)]
        name: String,
        /// assistant, trainee, dispensing optician or optometrist
        #[arg(long, value_parser = role)]
        role: Role,
        /// Registration number of a registered person
        #[arg(long)]
        registration: Option<String>,
        /// A trainee's supervisor
        #[arg(long, value_name = "NAME")]
        supervisor: Option<String>,
        /// Who adds them, where the practice asks people to sign in
        #[arg(long = "as", value_name = "STAFF")]
        by: Option<String>,
    },
    /// Set a PIN or passphrase; it is asked for, or read from --pin-file
    Secret {
        /// Whose
        #[arg(long)]
        name: String,
        /// Who sets it, when it is another's; that person's own PIN is asked for first
        #[arg(long = "as", value_name = "STAFF")]
        by: Option<String>,
    },
    /// Ask people to sign in, or not; and when an idle screen is locked
    SignIn {
        /// on or off [default: say how it is]
        #[arg(value_parser = ["on", "off"])]
        on: Option<String>,
        /// Minutes without a key after which the screen is locked; 0 never
        #[arg(long, value_name = "MINUTES")]
        idle: Option<u16>,
        /// A dispensing optician or optometrist
        #[arg(long = "as", value_name = "STAFF")]
        by: Option<String>,
    },
    /// List everybody
    List,
}

fn one_of<T>(found: Option<T>, words: &[&str]) -> Result<T, String> {
    found.ok_or_else(|| format!("one of: {}", words.join(", ")))
}

fn gate(word: &str) -> Result<Gate, String> {
    one_of(Gate::from_word(word), &["ordered", "verified", "collected"])
}

fn stage(word: &str) -> Result<Stage, String> {
    let words: Vec<_> = Stage::ALL.iter().map(|s| s.word()).collect();
    one_of(Stage::from_word(word), &words)
}

fn section(word: &str) -> Result<Section, String> {
    let words: Vec<_> = Section::ALL.iter().map(|s| s.word()).collect();
    one_of(Section::from_word(word), &words)
}

fn contact_by(word: &str) -> Result<ContactBy, String> {
    let words: Vec<_> = ContactBy::ALL.iter().map(|w| w.word()).collect();
    one_of(ContactBy::from_word(word), &words)
}

fn role(word: &str) -> Result<Role, String> {
    let words: Vec<_> = Role::ALL.iter().map(|r| r.word()).collect();
    one_of(Role::from_word(word), &words)
}
