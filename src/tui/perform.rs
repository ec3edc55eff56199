//! Doing what the reducer asks: the only part of the screens that touches the book.

mod background_backup;
mod failed;
mod guarded;
mod history_cache;

use std::path::{Path, PathBuf};

use self::background_backup::BackgroundBackup;
use self::failed::failed;
use self::guarded::{prove_again, set_secret, unknown_program};
use self::history_cache::HistoryCache;
use super::App;
use super::effect::{Book, Deed, Effect, Message, Opened};
use super::keymap::Keymap;
use crate::book::clock::Clock;
use crate::book::desk::{
    Desk, DeskError, ErrorKind, HandOver, JobWithFindings, Occasion, OpenJob, Program, Security,
};
use crate::job::{Gate, Reason, Section};

/// How many jobs a look-up shows.
const FOUND: usize = 50;

/// Does effects on a book.
#[derive(Debug)]
pub struct Performer {
    path: PathBuf,
    clock: Clock,
    desk: Option<Desk>,
    seen: i64,
    background_backup: Option<BackgroundBackup>,
    /// The history of the job that is open.
    cache: HistoryCache,
}

/// Returns the file of the person's own keys, when there is one.
pub(crate) fn key_file() -> Option<PathBuf> {
    use etcetera::BaseStrategy;
    if let Some(path) = std::env::var_os("RIMBOOK_KEYS").filter(|p| !p.is_empty()) {
        return Some(path.into());
    }
    let base = etcetera::choose_base_strategy().ok()?;
    let path = base.config_dir().join("rimbook").join("keys.toml");
    path.exists().then_some(path)
}

impl Performer {
    /// Opens the book, if there is one; the screens begin with what it needs.
    ///
    /// # Errors
    /// [`DeskError`] when there is a book that cannot be opened.
    pub fn start(db: &Path, clock: Clock, keymap: Keymap) -> Result<(Self, App), DeskError> {
        let desk = if db.exists() {
            Some(Desk::open(db, clock)?)
        } else {
            None
        };
        Ok(Self::with(desk, db, clock, keymap))
    }

    /// Begins with a book that is open already, as an encrypted one must be.
    pub fn with(desk: Option<Desk>, db: &Path, clock: Clock, keymap: Keymap) -> (Self, App) {
        let app = App::new(&db.display().to_string(), clock.today(), keymap);
        (
            Self {
                path: db.to_owned(),
                clock,
                desk,
                seen: 0,
                background_backup: None,
                cache: HistoryCache::default(),
            },
            app,
        )
    }

    /// Returns what the program begins with: whether there is a book, and who may see it.
    pub fn begin(&mut self) -> Message {
        let Some(desk) = &self.desk else {
            return Message::NoBook;
        };
        self.seen = desk.data_version();
        // A setting that cannot be read shuts rather than opens.
        let security = desk.security().unwrap_or(Security {
            sign_in: true,
            ..Security::default()
        });
        Message::Ready {
            security,
            signed_in: desk.signed_in().map(str::to_owned),
            staff: desk.staff().unwrap_or_default(),
        }
    }

    /// Ends what is still being done beside the screens, and backs up what was changed if that is
    /// set; says what somebody should know.
    ///
    /// # Errors
    /// [`DeskError`] with the reason why there is no backup.
    pub fn finish(&mut self) -> Result<Vec<String>, DeskError> {
        let mut notes = match self.background_backup.take() {
            Some(backup) => backup.wait()?.notes,
            None => Vec::new(),
        };
        if let Some(desk) = &mut self.desk
            && desk.backup_is_due(Occasion::Quit)?
        {
            notes = desk.back_up(None)?.notes;
        }
        Ok(notes)
    }

    /// Does one effect; returns what came of it.
    pub fn perform(&mut self, effect: Effect) -> Option<Message> {
        self.try_perform(effect)
            .unwrap_or_else(|error| Some(failed(error)))
    }

    #[allow(clippy::too_many_lines, reason = "one arm for each effect")]
    fn try_perform(&mut self, effect: Effect) -> Result<Option<Message>, DeskError> {
        match effect {
            Effect::Create(member) => {
                let book = self.begin_book(|desk| desk.add_staff(member.clone()).map(drop))?;
                return Ok(Some(Message::Begun { book, member }));
            }
            Effect::Demo => {
                let book = self.begin_book(|desk| crate::book::demo::build(desk).map(drop))?;
                return Ok(Some(Message::Book(book)));
            }
            Effect::Poll => return self.poll(),
            Effect::Rescue(text) => {
                let file = crate::book::desk::rescue(&self.path, self.clock, &text);
                return Ok(Some(Message::Rescued(file.ok())));
            }
            // The terminal does these itself.
            // The reducer has settled the last two before anything is done.
            Effect::Suspend | Effect::Copy(_) | Effect::Act(_) | Effect::NotKept(_) => {
                return Ok(None);
            }
            _ => {}
        }
        let Some(desk) = &mut self.desk else {
            return Ok(None);
        };
        let message = match effect {
            Effect::Reload => Message::Book(Box::new(book(desk)?)),
            Effect::Find(text) => {
                let found = desk.find(&text, FOUND)?;
                Message::Found(text, found)
            }
            Effect::Figures(period) => Message::Counted(Box::new(desk.figures(period)?)),
            Effect::Retention => Message::Due(desk.due_for_review(desk.today())?),
            Effect::Print { number, what } => match unknown_program(desk)? {
                Some((program, command)) => Message::UnknownProgram {
                    number,
                    what,
                    program,
                    command,
                },
                None => Message::Printed(desk.print(&number, what, None, HandOver::PrintOrShow)?),
            },
            Effect::AgreeAndPrint {
                number,
                what,
                program,
            } => {
                desk.agree_to_program(program)?;
                desk.note_read("printed", &[&number])?;
                Message::Printed(desk.print(&number, what, None, HandOver::PrintOrShow)?)
            }
            Effect::SentBack => Message::SentBack(desk.sent_back_lately()?),
            Effect::Used => Message::Used(Box::new(desk.suggestions()?)),
            Effect::Card(number) => Message::Card(Box::new(desk.load(&number)?)),
            Effect::VisitLinks(number) => {
                let links = Box::new(desk.visit_links(&number)?);
                Message::VisitLinks { number, links }
            }
            Effect::NoteFound(number) => {
                desk.note_read("opened from the look-up", &[&number])?;
                return Ok(None);
            }
            Effect::Open(number) => {
                // Whatever has happened to its history meanwhile is seen now.
                self.cache = HistoryCache::default();
                let open = desk.load(&number)?;
                Message::Opened(Box::new(opened(desk, &mut self.cache, open)?))
            }
            Effect::OpenScanned(number) => match desk.load(&number) {
                Ok(open) => {
                    self.cache = HistoryCache::default();
                    Message::Scanned(Box::new(opened(desk, &mut self.cache, open)?))
                }
                Err(error) if error.kind == ErrorKind::NotFound => Message::Failed {
                    message: format!("The tray is of job {number}, which is not in this book."),
                    hints: vec!["Look at the sheet that lies in it.".to_owned()],
                },
                Err(error) => return Err(error),
            },
            Effect::BackUpIfDue(occasion) => {
                if self.background_backup.is_none() && desk.backup_is_due(occasion)? {
                    self.background_backup = Some(BackgroundBackup::start(&self.path, self.clock)?);
                }
                return Ok(None);
            }
            Effect::SaveDraft {
                number,
                field,
                text,
                by,
            } => {
                desk.save_draft(&number, &field, &text, by.as_deref())?;
                return Ok(None);
            }
            Effect::ClearDraft { number, field, by } => {
                desk.clear_draft(&number, &field, by.as_deref())?;
                return Ok(None);
            }
            Effect::AddStaff(member) => {
                desk.add_staff(member.clone())?;
                Message::Joined(member)
            }
            Effect::SignIn { name, secret, then } => {
                match desk.sign_in_told(&name, secret.text()) {
                    Ok((member, told)) => Message::SignedIn { member, told, then },
                    Err(error) => Message::SignInRefused {
                        name,
                        message: error.message,
                        then,
                    },
                }
            }
            Effect::SignOut => {
                desk.sign_out();
                return Ok(None);
            }
            Effect::SetSecret { what, secret } => set_secret(desk, &what, &secret)?,
            Effect::SetSecurity { change, by, secret } => {
                if change.may_weaken() {
                    prove_again(desk, &by, secret.as_ref())?;
                }
                if !desk.change_security(change, &by)?.sign_in {
                    desk.sign_out();
                }
                Message::Set("What is set about signing in is changed.".to_owned())
            }
            Effect::SetPractice {
                key,
                value,
                by,
                secret,
            } => {
                if Program::of_key(key).is_some() {
                    prove_again(desk, &by, secret.as_ref())?;
                }
                desk.set_in_practice(key, &value, &by)?;
                Message::Set(
                    "The practice's settings are changed; the checks follow them from now on."
                        .to_owned(),
                )
            }
            Effect::SetRemakePrice { price, by } => {
                desk.set_remake_price(price, &by)?;
                Message::Set(price.map_or_else(
                    || "No price of a remake: the figures estimate no cost.".to_owned(),
                    |p| format!("A remake costs {p}: the figures of rechecks estimate from it."),
                ))
            }
            Effect::ConfirmBySecret {
                number,
                path,
                owner,
                secret,
            } => {
                let open = desk.confirm_with_secret(&number, &[path], &owner, secret.text())?;
                Message::Moved {
                    opened: Box::new(opened(desk, &mut self.cache, open)?),
                    said: format!("{owner} has confirmed it."),
                    refused: false,
                }
            }
            Effect::Deed { by, deed } => do_deed(desk, &mut self.cache, &by, deed)?,
            Effect::Create(_)
            | Effect::Demo
            | Effect::Poll
            | Effect::Rescue(_)
            | Effect::Suspend
            | Effect::Copy(_)
            | Effect::Act(_)
            | Effect::NotKept(_) => {
                return Ok(None);
            }
        };
        Ok(Some(message))
    }

    /// Makes a new book and puts the first things into it.
    fn begin_book(
        &mut self,
        first: impl FnOnce(&mut Desk) -> Result<(), DeskError>,
    ) -> Result<Box<Book>, DeskError> {
        let mut desk = Desk::create(&self.path, self.clock)?;
        first(&mut desk)?;
        self.seen = desk.data_version();
        let book = book(&desk)?;
        self.desk = Some(desk);
        Ok(Box::new(book))
    }

    /// Looks whether a backup is done or somebody else changed the book.
    fn poll(&mut self) -> Result<Option<Message>, DeskError> {
        let Some(desk) = &self.desk else {
            return Ok(None);
        };
        if let Some(done) = self.background_backup.take_if(|b| b.is_finished()) {
            let made = done.wait()?;
            let (notes, code) = (made.notes, made.copied.code);
            let state = desk.backup_state()?;
            // The backup has noted itself in the book; that is no news from elsewhere.
            self.seen = desk.data_version();
            return Ok(Some(Message::BackedUp { state, notes, code }));
        }
        // Of a book that was replaced or removed, nothing that is typed could be kept.
        desk.is_in_its_place()?;
        let now = desk.data_version();
        if now == self.seen || self.background_backup.is_some() {
            return Ok(None);
        }
        self.seen = now;
        Ok(Some(Message::Changed))
    }
}

#[allow(clippy::too_many_lines, reason = "one arm for each deed")]
fn do_deed(
    desk: &mut Desk,
    cache: &mut HistoryCache,
    by: &str,
    deed: Deed,
) -> Result<Message, DeskError> {
    let (open, said, refused) = match deed {
        Deed::NewJob { wearer } => {
            let open = desk.new_job(&wearer, Some(by))?;
            return Ok(Message::Opened(Box::new(opened(desk, cache, open)?)));
        }
        Deed::Record {
            number,
            section,
            change,
            revision,
            field,
            is_undo,
        } => {
            let what = Recording {
                number,
                section,
                change,
                revision,
                field,
                is_undo,
                copied: None,
            };
            return record(desk, cache, by, &what);
        }
        Deed::Copy {
            number,
            section,
            change,
            from,
            to,
            revision,
        } => {
            let what = Recording {
                number,
                section,
                change,
                revision,
                field: None,
                is_undo: false,
                copied: Some((from, to)),
            };
            return record(desk, cache, by, &what);
        }
        Deed::Advance {
            number,
            gate,
            revision,
        } => {
            return advance(desk, cache, by, (&number, gate, revision));
        }
        Deed::Accept {
            number,
            check,
            eye,
            reason,
        } => {
            let accepted = desk.accept(&number, check, eye, by, &reason)?;
            (desk.load(&number)?, accepted.message, !accepted.ok)
        }
        Deed::SendBack { number, reason } => {
            desk.send_back(&number, by, &reason)?;
            (
                desk.load(&number)?,
                "Sent back: a new round begins, the failed readings are kept.".to_owned(),
                false,
            )
        }
        Deed::Cancel { number, reason } => {
            desk.cancel(&number, by, &reason)?;
            (
                desk.load(&number)?,
                "The job is given up.".to_owned(),
                false,
            )
        }
        Deed::Recheck { number } => return begin_from(desk, cache, &number, Reason::Recheck, by),
        Deed::BeginFrom { number, reason } => {
            return begin_from(desk, cache, &number, reason, by);
        }
        Deed::Repair { number, repair } => {
            let answer = desk.add_repair(&number, by, (*repair).clone())?;
            let Some(open) = answer.kept else {
                return Ok(Message::RepairHeld {
                    open: Box::new(desk.load(&number)?),
                    repair,
                    findings: answer.findings,
                });
            };
            let said = "The repair is kept; what was handed over stays as it was.".to_owned();
            (open, said, false)
        }
        Deed::Remake { number } => {
            let open = desk.begin_remake(&number, by)?;
            return Ok(Message::Opened(Box::new(opened(desk, cache, open)?)));
        }
        Deed::Contact { number, contact } => {
            let open = desk.add_contact(&number, by, *contact)?;
            (open, "Noted: what the wearer was told.".to_owned(), false)
        }
        Deed::Confirm { number, paths } => {
            let open = desk.confirm(&number, &paths, by)?;
            (open, format!("{by} has confirmed it."), false)
        }
        Deed::Ask { number, of, text } => (
            desk.ask(&number, by, of, &text)?,
            format!("The {of} is asked; the job is held until the answer is recorded."),
            false,
        ),
        Deed::Answer { number, of, text } => (
            desk.answer(&number, by, Some(of), &text)?,
            "The answer is recorded; the question no longer holds the job.".to_owned(),
            false,
        ),
    };
    let opened = Box::new(opened(desk, cache, open)?);
    Ok(Message::Moved {
        opened,
        said,
        refused,
    })
}

fn begin_from(
    desk: &mut Desk,
    cache: &mut HistoryCache,
    number: &str,
    reason: Reason,
    by: &str,
) -> Result<Message, DeskError> {
    let open = desk.begin_from(number, reason, by)?;
    Ok(Message::Opened(Box::new(opened(desk, cache, open)?)))
}

/// Moves a job through a gate, or says what holds it.
fn advance(
    desk: &mut Desk,
    cache: &mut HistoryCache,
    by: &str,
    (number, gate, revision): (&str, Gate, i64),
) -> Result<Message, DeskError> {
    let (advance, standing) = match desk.advance_to(number, gate, by, Some(revision)) {
        Err(e) if e.kind == ErrorKind::Stale => return stale(desk, cache, number),
        other => other?,
    };
    if let Some(standing) = standing {
        return Ok(Message::Moved {
            opened: Box::new(shown(desk, cache, standing)?),
            said: format!("The job is {} now.", advance.stage),
            refused: false,
        });
    }
    let holding = advance.findings.iter().filter(|f| f.is_open()).count();
    let word = if holding == 1 {
        "finding holds"
    } else {
        "findings hold"
    };
    let open = desk.load(number)?;
    Ok(Message::Moved {
        opened: Box::new(opened(desk, cache, open)?),
        said: format!("Not moved: {holding} open {word} the job. Nothing was changed."),
        refused: true,
    })
}

struct Recording {
    number: String,
    section: Section,
    change: serde_json::Value,
    revision: i64,
    field: Option<String>,
    is_undo: bool,
    copied: Option<(String, String)>,
}

fn record(
    desk: &mut Desk,
    cache: &mut HistoryCache,
    by: &str,
    what: &Recording,
) -> Result<Message, DeskError> {
    let (number, change) = (&what.number, &what.change);
    let (revision, by) = (Some(what.revision), Some(by));
    let recorded = if what.is_undo {
        desk.undo_entry(number, what.section, change, revision, by)
    } else if let Some((from, to)) = &what.copied {
        desk.copy(number, what.section, change, (from, to), revision, by)
    } else {
        let field = what.field.as_deref();
        desk.record_entry(number, what.section, change, revision, by, field)
    };
    match recorded {
        Err(e) if e.kind == ErrorKind::Stale => stale(desk, cache, &what.number),
        Err(e) => Err(e),
        Ok((standing, back, ended)) => Ok(Message::Recorded {
            opened: Box::new(shown(desk, cache, standing)?),
            ended,
            back: Some((what.section, back)),
            is_undo: what.is_undo,
        }),
    }
}

fn stale(desk: &Desk, cache: &mut HistoryCache, number: &str) -> Result<Message, DeskError> {
    let open = desk.load(number)?;
    Ok(Message::Stale(Box::new(opened(desk, cache, open)?)))
}

/// Judges a job that was read, for its screens.
fn opened(desk: &Desk, cache: &mut HistoryCache, open: OpenJob) -> Result<Opened, DeskError> {
    let findings = match open.job.stage().next_gate() {
        Some(gate) if !open.job.is_past() => desk.findings(&open, gate)?,
        _ => Vec::new(),
    };
    shown(desk, cache, JobWithFindings { open, findings })
}

/// Returns a job that is judged already with everything else that its screens show.
fn shown(
    desk: &Desk,
    cache: &mut HistoryCache,
    standing: JobWithFindings,
) -> Result<Opened, DeskError> {
    let JobWithFindings { open, findings } = standing;
    Ok(Opened {
        drafts: desk.drafts(&open.number)?,
        history: cache.history(desk, &open.number)?,
        today: desk.today(),
        not_carried: desk.not_carried(&open)?,
        open,
        findings,
    })
}

fn book(desk: &Desk) -> Result<Book, DeskError> {
    Ok(Book {
        today: desk.today(),
        today_is_fixed: desk.today_is_fixed(),
        lines: desk.worklist()?,
        waiting: desk.waiting()?,
        staff: desk.staff()?,
        practice: desk.practice()?,
        remake_price: desk.remake_price()?,
        backup: desk.backup_state()?,
        security: desk.security()?,
        with_secret: desk.with_secret()?,
        typed_names: match desk.signed_in() {
            Some(name) => desk.waiting_names(name)?,
            None => Vec::new(),
        },
    })
}
