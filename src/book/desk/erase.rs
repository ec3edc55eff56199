//! Erasing jobs for good, by a registered person, with what it reaches and what it cannot.

use serde::Serialize;
use serde_json::{Value, json};

use super::error::{DeskError, ErrorKind};
use super::history::with_trial_day;
use super::open::Desk;
use super::printing::remove_sheets;
use super::retention::{is_open, is_same_wearer};
use super::session::acting_registrant;
use super::view::Event;
use crate::book::clock::Clock;
use crate::book::store::chain::{ENTRIES_ERASED, ERASED};
use crate::book::store::{Gone, NewEvent, WearerRow, Write, key_of};
use crate::job::{StaffMember, write_value};

/// A request to erase.
#[derive(Debug, Clone, Copy)]
pub struct Erasure<'a> {
    /// Number of the job.
    pub number: &'a str,
    /// Whether every job of its wearer is erased with it.
    pub whole_wearer: bool,
    /// The number again, typed by whoever erases.
    pub confirm: &'a str,
    /// Why. It stays in history, so it names nobody.
    pub reason: &'a str,
}

/// The result of an erasure.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Erased {
    /// Numbers of the jobs that are gone.
    pub numbers: Vec<String>,
    /// Number of history entries whose content was erased.
    pub entries: usize,
    /// Number of acceptances erased.
    pub acceptances: usize,
    /// Number of unfinished entries erased.
    pub drafts: usize,
    /// Other wearers' jobs that once had this name: the contents of those entries were erased too.
    pub elsewhere: Vec<String>,
    /// Other wearers' jobs that mention the name; unchanged, for a person to look at.
    pub mentions: Vec<String>,
    /// Jobs that remain under the same name with another date of birth, or without one.
    pub same_name: Vec<String>,
    /// Number of printed sheets removed from the program's own directories.
    pub sheets: usize,
    /// Whether the file was rewritten and its log emptied; if not, another terminal was in the way.
    pub swept: bool,
    /// Files and directories of backups that the book knows of; they still hold what was erased.
    pub backups: Vec<String>,
}

/// Letters from which a word of a name is looked for in the reason.
const TELLING_WORD: usize = 3;
/// Digits from which a telephone number is looked for in the reason.
const TELLING_DIGITS: usize = 5;

impl Desk {
    /// Returns the numbers of the jobs that would be erased; changes nothing.
    ///
    /// # Errors
    /// As [`Desk::erase`] for a job that does not exist or a wearer who cannot be told from others.
    pub fn would_erase(&self, number: &str, whole_wearer: bool) -> Result<Vec<String>, DeskError> {
        let (meant, _) = meant_and_others(self.store.every_job()?, number, whole_wearer)?;
        Ok(meant.into_iter().map(|r| r.number).collect())
    }

    /// Erases a job, or every job of its wearer: rows, search entries, drafts, acceptances, the jobs
    /// as they passed the gates, the contents of history. What stays is the event that says who
    /// erased which number when and why.
    ///
    /// # Errors
    /// [`ErrorKind::Refused`] for somebody who is not registered, for a job that is still open and
    /// for several jobs under a name without a date of birth; [`ErrorKind::Input`] without a
    /// reason, for one that names the wearer, or when the number typed again is another.
    pub fn erase(&mut self, what: Erasure<'_>, by: &str) -> Result<Erased, DeskError> {
        let clock = self.clock;
        let write = self.store.write()?;
        let person = acting_registrant(self.session.as_deref(), &write, by, "erase records")?;
        let (meant, others) = meant_and_others(write.every_job()?, what.number, what.whole_wearer)?;
        if what.confirm.trim() != what.number {
            return Err(DeskError::new(
                ErrorKind::Input,
                format!(
                    "the number typed again is not {}; nothing was erased",
                    what.number
                ),
            ));
        }
        still_open(&meant)?;
        let reason = what.reason.trim();
        check_reason(reason, &meant)?;
        let mut erased = Erased {
            numbers: meant.iter().map(|r| r.number.clone()).collect(),
            entries: 0,
            acceptances: 0,
            drafts: 0,
            sheets: 0,
            elsewhere: Vec::new(),
            mentions: Vec::new(),
            same_name: Vec::new(),
            swept: false,
            backups: Vec::new(),
        };
        for row in &meant {
            let gone = take_out(&write, clock, row, &person, reason, meant.len())?;
            erased.entries += gone.entries;
            erased.acceptances += gone.acceptances;
            erased.drafts += gone.drafts;
        }
        if let Some(of) = meant.first()
            && !of.key.is_empty()
            && !others.iter().any(|r| is_same_wearer(r, of))
        {
            look_elsewhere(&write, clock, of, &others, &person, &mut erased)?;
        }
        write.rebuild_search()?;
        erased.backups = backups(write.setting("backup")?, write.setting("last_backup")?);
        write.commit()?;
        let book = self.store.path().unwrap_or_default();
        erased.sheets = (erased.numbers.iter())
            .map(|number| remove_sheets(&book, number))
            .sum();
        // The jobs are erased even if the file cannot be rewritten now.
        erased.swept = self.store.sweep().unwrap_or(false);
        Ok(erased)
    }

    /// Returns who erased which number when and why, oldest first.
    ///
    /// # Errors
    /// [`DeskError`] of the file.
    pub fn erasures(&self) -> Result<Vec<Event>, DeskError> {
        let rows = self.store.erasures()?.into_iter();
        Ok(rows
            .map(|(at, by, what, detail)| Event {
                at,
                by,
                what,
                detail,
            })
            .collect())
    }

    /// Whether something was erased and the file has not been rewritten since.
    ///
    /// # Errors
    /// [`DeskError`] of the file.
    pub fn sweep_is_due(&self) -> Result<bool, DeskError> {
        Ok(self.store.sweep_is_due()?)
    }

    /// Rewrites the file without what was erased and empties its log; for when another terminal
    /// was in the way. Returns whether it was done.
    ///
    /// # Errors
    /// [`DeskError`] of the file.
    pub fn sweep(&self) -> Result<bool, DeskError> {
        Ok(self.store.sweep()?)
    }
}

/// Separates the jobs to erase from all others.
fn meant_and_others(
    all: Vec<WearerRow>,
    number: &str,
    whole_wearer: bool,
) -> Result<(Vec<WearerRow>, Vec<WearerRow>), DeskError> {
    let Some(of) = all.iter().find(|r| r.number == number).cloned() else {
        return Err(crate::book::store::StoreError::NoJob(number.to_owned()).into());
    };
    let is_meant = |r: &WearerRow| r.id == of.id || (whole_wearer && is_same_wearer(r, &of));
    let (meant, others): (Vec<_>, Vec<_>) = all.into_iter().partition(is_meant);
    if of.job.wearer.born.is_none() && meant.len() > 1 {
        let numbers: Vec<&str> = meant.iter().map(|r| r.number.as_str()).collect();
        return Err(DeskError::new(
            ErrorKind::Refused,
            format!(
                "{} jobs ({}) bear this name without a date of birth: whether they are one person's is not known",
                meant.len(),
                numbers.join(", ")
            ),
        )
        .hint("record the date of birth first, or erase them one by one"));
    }
    Ok((meant, others))
}

fn still_open(meant: &[WearerRow]) -> Result<(), DeskError> {
    let open: Vec<&str> = meant
        .iter()
        .filter(|r| is_open(r))
        .map(|r| r.number.as_str())
        .collect();
    if open.is_empty() {
        return Ok(());
    }
    Err(DeskError::new(
        ErrorKind::Refused,
        format!(
            "job {} is still open: work on an open pair is not erased from under it",
            open.join(", ")
        ),
    )
    .hint("collect it, or cancel it first: rimbook cancel NUMBER --as STAFF --reason TEXT"))
}

/// Refuses a reason that repeats data of the wearer: the reason stays in history.
fn check_reason(reason: &str, meant: &[WearerRow]) -> Result<(), DeskError> {
    let no = |message: &str| {
        Err(DeskError::new(ErrorKind::Input, message)
            .hint("the reason stays in history: write it without name, number or date of birth of the wearer"))
    };
    if reason.is_empty() {
        return no("write why: an erasure without a reason is not done");
    }
    let low = reason.to_lowercase();
    let words: Vec<&str> = words(&low).collect();
    let digits: String = low.chars().filter(char::is_ascii_digit).collect();
    for row in meant {
        let w = &row.job.wearer;
        let names = |word: &str| word.chars().count() >= TELLING_WORD && words.contains(&word);
        let phone: String = w
            .phone
            .iter()
            .flat_map(|p| p.chars())
            .filter(char::is_ascii_digit)
            .collect();
        let says_born = w.born.is_some_and(|b| {
            ["%Y-%m-%d", "%d/%m/%Y", "%-d/%-m/%Y", "%d.%m.%Y"]
                .iter()
                .any(|f| low.contains(&b.format(f).to_string()))
        });
        let says_mail = w
            .email
            .as_ref()
            .is_some_and(|e| !e.is_empty() && low.contains(&e.to_lowercase()));
        if self::words(&row.key).any(names)
            || (phone.len() >= TELLING_DIGITS && digits.contains(&phone))
            || says_born
            || says_mail
        {
            return no("the reason names the wearer");
        }
    }
    Ok(())
}

fn words(text: &str) -> impl Iterator<Item = &str> {
    text.split(|c: char| !c.is_alphanumeric())
        .filter(|w| !w.is_empty())
}

/// Erases one job and records the event of its erasure.
fn take_out(
    write: &Write<'_>,
    clock: Clock,
    row: &WearerRow,
    person: &StaffMember,
    reason: &str,
    jobs: usize,
) -> Result<Gone, DeskError> {
    // A number from another system may contain the name.
    let number = row.number.to_lowercase();
    let is_telling =
        words(&row.key).any(|w| w.chars().count() >= TELLING_WORD && number.contains(w));
    let gone = write.erase(row.id, &row.number, !is_telling)?;
    let detail = json!({
        "number": (!is_telling).then_some(&row.number),
        "reason": reason,
        "jobs": jobs,
        "entries": gone.entries,
        "acceptances": gone.acceptances,
        "drafts": gone.drafts,
    });
    write.event(
        row.id,
        NewEvent {
            at: clock.now(),
            by: Some(&person.name),
            what: ERASED,
            detail: &with_trial_day(clock, detail),
        },
    )?;
    Ok(gone)
}

/// Looks for the name in the remaining jobs: history entries that gave another wearer's job this
/// name lose their content; other mentions are only reported.
fn look_elsewhere(
    write: &Write<'_>,
    clock: Clock,
    of: &WearerRow,
    others: &[WearerRow],
    person: &StaffMember,
    erased: &mut Erased,
) -> Result<(), DeskError> {
    let name = in_words(&of.key);
    for row in others {
        if row.key == of.key {
            // A namesake keeps the name.
            erased.same_name.push(row.number.clone());
            continue;
        }
        let mut stood_under: Vec<i64> = Vec::new();
        let content = write_value(&row.job, "the job")?;
        let mut mentioned = mentions(&content, &name);
        for (entry, text) in write.contents(row.id)? {
            // What cannot be read is searched as it is.
            let detail = serde_json::from_str(&text).unwrap_or(Value::String(text));
            if names_of(&detail).any(|n| key_of(n) == of.key) {
                stood_under.push(entry);
            } else {
                mentioned |= mentions(&detail, &name);
            }
        }
        if mentioned {
            erased.mentions.push(row.number.clone());
        }
        if stood_under.is_empty() {
            continue;
        }
        write.erase_entries(row.id, &stood_under)?;
        write.event(
            row.id,
            NewEvent {
                at: clock.now(),
                by: Some(&person.name),
                what: ENTRIES_ERASED,
                detail: &with_trial_day(clock, json!({"entries": stood_under})),
            },
        )?;
        erased.elsewhere.push(row.number.clone());
    }
    Ok(())
}

/// The names of the wearer that an entry of history gives its job.
fn names_of(detail: &Value) -> impl Iterator<Item = &str> {
    let is_wearer = detail["section"] == "wearer";
    let job = detail["job"]["wearer"]["name"].as_str();
    let change = detail["change"]["name"].as_str().filter(|_| is_wearer);
    let before = detail["before"]["name"].as_str().filter(|_| is_wearer);
    [job, change, before].into_iter().flatten()
}

/// Whether a text anywhere in a value holds the name, word for word.
fn mentions(value: &Value, name: &str) -> bool {
    match value {
        Value::String(text) => in_words(&text.to_lowercase()).contains(name),
        Value::Array(list) => list.iter().any(|v| mentions(v, name)),
        Value::Object(map) => map.values().any(|v| mentions(v, name)),
        Value::Null | Value::Bool(_) | Value::Number(_) => false,
    }
}

/// The words of a text with a blank before and after each, so that a name is not found in a part of
/// another one.
fn in_words(text: &str) -> String {
    words(text).fold(" ".to_owned(), |out, word| out + word + " ")
}

/// The files and directories that the settings about backups name.
fn backups(settings: Option<Value>, last: Option<Value>) -> Vec<String> {
    fn files(value: &Value, into: &mut Vec<String>) {
        match value {
            Value::String(text) => {
                if text.contains(std::path::MAIN_SEPARATOR) && !into.contains(text) {
                    into.push(text.clone());
                }
            }
            Value::Array(list) => list.iter().for_each(|v| files(v, into)),
            Value::Object(map) => map.values().for_each(|v| files(v, into)),
            Value::Null | Value::Bool(_) | Value::Number(_) => {}
        }
    }
    let mut out = Vec::new();
    for value in [settings, last].into_iter().flatten() {
        files(&value, &mut out);
    }
    out
}
