//! What is asked over a screen: a line of text, a choice, the palette, the help.

use serde_json::Value;

use super::act;
use super::effect::{Deed, Effect};
use super::help;
use super::key::Key;
use super::line::Line;
use super::list::moved_by_key;
use super::offering;
use super::repairing::{self, Mending};
use super::secret::Secret;
use super::signing::{self, Step};
use super::{App, Screen};
use super::{palette, people};
use crate::desk::OpenJob;
use crate::job::{Reason, Role};

/// What an answer is for.
#[derive(Debug, Clone, PartialEq)]
pub enum Purpose {
    /// The wearer's name of a new job.
    NewJob,
    /// The reason of an acceptance.
    Accept {
        /// Check.
        check: &'static str,
        /// What it is about.
        eye: Option<&'static str>,
    },
    /// The reason of a sending back.
    SendBack,
    /// The reason of a cancellation.
    Cancel,
    /// The question to the prescriber.
    Ask,
    /// The prescriber's answer.
    Answer,
    /// A value of the handover.
    HandoverValue {
        /// The job it is asked for.
        number: String,
        /// Path of the field.
        path: String,
    },
    /// Who is acting; then the deed that waits for it.
    Person {
        /// What waits.
        then: Option<Deed>,
    },
    /// Name of a new person.
    PersonName {
        /// What waits.
        then: Option<Deed>,
    },
    /// Role of a new person.
    PersonRole {
        /// The name.
        name: String,
        /// What waits.
        then: Option<Deed>,
    },
    /// Registration or supervisor of a new person.
    PersonDetail {
        /// The name.
        name: String,
        /// The role.
        role: Role,
        /// What waits.
        then: Option<Deed>,
    },
    /// Which result of the workbench is carried into a job.
    Carry {
        /// The job.
        number: String,
        /// The revision its old values were read at.
        revision: i64,
        /// What can be carried.
        offers: Vec<super::bench::carry::Offer>,
    },
    /// A material and a base curve for the job.
    TakeChoice {
        /// Job.
        number: String,
        /// Revision that was looked at.
        revision: i64,
        /// What each answer changes in the lenses; an answer beyond them changes nothing.
        changes: Vec<Value>,
    },
    /// What kind of job is begun from an earlier one.
    NewFrom {
        /// The earlier job.
        number: String,
        /// The kinds offered.
        reasons: Vec<Reason>,
    },
    /// What was done to a pair.
    RepairKind {
        /// The job.
        open: Box<OpenJob>,
    },
    /// The values and words of a repair, until it is kept.
    Repair(Box<Mending>),
    /// What becomes of a repair that is left before it is kept.
    RepairLeft(Box<Mending>),
    /// One value of a repair; the first place is its words.
    RepairValue {
        /// The repair until now.
        mending: Box<Mending>,
        /// Its place in the list.
        place: usize,
    },
    /// Whether a collected pair is rechecked.
    Recheck {
        /// Its number.
        number: String,
    },
    /// A word for an entry of the visit.
    VisitWord {
        /// The entry.
        entry: super::visit::Entry,
    },
    /// What a remake costs the practice.
    RemakePrice,
    /// Whether to sign in from the beginning.
    OfferSignIn,
    /// Whose secret is to be set.
    SecretOf {
        /// The names offered.
        names: Vec<String>,
    },
    /// What is to be changed about signing in.
    Security,
    /// Minutes without a key until the screen is locked.
    IdleMinutes,
    /// Which of the practice's settings.
    Setting,
    /// One of the words of a setting.
    SettingWord {
        /// Its place in the list.
        index: usize,
    },
    /// The value of a setting.
    SettingValue {
        /// Its place in the list.
        index: usize,
    },
    /// How a wearer was told.
    ContactHow {
        /// Job.
        number: String,
    },
    /// What a wearer was told.
    ContactTold {
        /// Job.
        number: String,
        /// How, by its place in the list.
        how: usize,
    },
    /// Which of the wearers who wait.
    Waiting,
    /// Without a book: what to do.
    Welcome,
    /// Which sheet of a job is printed.
    Print {
        /// The job.
        number: String,
    },
    /// Whose records are due for review: the newest job of each wearer.
    Review {
        /// Numbers, in the order of the list.
        numbers: Vec<String>,
    },
}

/// What is asked.
#[derive(Debug)]
pub enum Dialog {
    /// The keys of the screen.
    Help {
        /// First row shown.
        top: usize,
    },
    /// Every action of the screen by name.
    Palette {
        /// What is looked for.
        line: Line,
        /// The selected one.
        selected: usize,
    },
    /// A line of text.
    Text {
        /// What is asked, one sentence.
        title: String,
        /// The answer.
        line: Line,
        /// Why the last answer was refused.
        error: Option<String>,
        /// What for.
        purpose: Purpose,
    },
    /// A line that is never shown.
    Secret {
        /// What is asked, one sentence.
        title: String,
        /// The answer.
        line: Secret,
        /// Why the last answer was refused.
        error: Option<String>,
        /// What for.
        step: Step,
    },
    /// One of several.
    Choose {
        /// What is asked, one sentence.
        title: String,
        /// What there is.
        items: Vec<String>,
        /// The selected one.
        selected: usize,
        /// The letters typed to go to one by its beginning.
        typed: String,
        /// What for.
        purpose: Purpose,
    },
}

impl App {
    /// Asks for a line of text.
    pub(crate) fn ask(&mut self, title: impl Into<String>, purpose: Purpose) {
        self.ask_with(title, Line::default(), purpose);
    }

    /// Asks for a line of text that is begun already.
    pub(crate) fn ask_with(&mut self, title: impl Into<String>, line: Line, purpose: Purpose) {
        self.dialog = Some(Dialog::Text {
            title: title.into(),
            line,
            error: None,
            purpose,
        });
    }

    /// Asks for one of several.
    pub(crate) fn choose(&mut self, title: &str, items: Vec<String>, purpose: Purpose) {
        self.dialog = Some(Dialog::Choose {
            title: title.to_owned(),
            items,
            selected: 0,
            typed: String::new(),
            purpose,
        });
    }
}

/// The entry that letters lead to: with those typed before, the first one that begins so; else the
/// one that begins with the last letter, the selected one itself only for a first letter. Says also
/// what counts as typed.
fn by_letters(items: &[String], selected: usize, typed: &str, c: char) -> Option<(usize, String)> {
    let begins = |i: usize, with: &str| {
        items
            .get(i)
            .is_some_and(|t| t.to_lowercase().starts_with(with))
    };
    let letter: String = c.to_lowercase().collect();
    let all = format!("{typed}{letter}");
    if !typed.is_empty()
        && let Some(i) = (0..items.len()).find(|i| begins(*i, &all))
    {
        return Some((i, all));
    }
    let from = selected + usize::from(!typed.is_empty());
    let mut after = (from..items.len()).chain(0..items.len());
    let found = after.find(|i| begins(*i, &letter))?;
    Some((found, letter))
}

/// Takes a key while something is asked.
pub(crate) fn key(app: &mut App, key: Key) -> Vec<Effect> {
    let Some(mut dialog) = app.dialog.take() else {
        return Vec::new();
    };
    if key.is("esc") {
        return left(app, dialog);
    }
    match &mut dialog {
        Dialog::Help { top } => {
            if let Some(to) = moved_by_key(*top, key, help::places(app)) {
                *top = to;
            } else {
                return Vec::new();
            }
        }
        Dialog::Palette { line, selected } => {
            let found = palette::matching(app, line.text());
            if key.is("enter")
                && let Some(action) = found.get(*selected)
            {
                return act::act(app, *action);
            }
            if let Some(to) = moved_by_key(*selected, key, found.len()) {
                *selected = to;
            } else if line.key(key) {
                *selected = 0;
            }
        }
        Dialog::Text {
            line,
            error,
            purpose,
            ..
        } => {
            if key.is("enter") {
                let (text, purpose) = (line.text().trim().to_owned(), purpose.clone());
                return match answer(app, &purpose, &text) {
                    Ok(effects) => effects,
                    Err(why) => {
                        *error = Some(why);
                        app.dialog = Some(dialog);
                        Vec::new()
                    }
                };
            }
            let is_other = match purpose {
                Purpose::Accept { check, .. } => offering::other_reason(app, check, line, key),
                _ => false,
            };
            if is_other || line.key(key) {
                *error = None;
            }
        }
        Dialog::Secret {
            line, error, step, ..
        } => {
            if key.is("enter") && line.count() > 0 {
                let given = std::mem::take(line);
                return signing::answered(app, step.clone(), given);
            }
            if line.key(key) {
                *error = None;
            }
        }
        Dialog::Choose {
            items,
            selected,
            typed,
            purpose,
            ..
        } => {
            if key.is("enter") {
                let (index, purpose) = (*selected, purpose.clone());
                return people::chosen(app, purpose, index);
            }
            if let Some(to) = moved_by_key(*selected, key, items.len()) {
                *selected = to;
                typed.clear();
            } else if let Some(c) = key.types()
                && let Some((to, letters)) = by_letters(items, *selected, typed, c)
            {
                *selected = to;
                *typed = letters;
            }
        }
    }
    app.dialog = Some(dialog);
    Vec::new()
}

/// Leaves a question unanswered.
fn left(app: &mut App, dialog: Dialog) -> Vec<Effect> {
    if let Dialog::Text { purpose, .. } | Dialog::Choose { purpose, .. } = dialog {
        match purpose {
            Purpose::Person { then: Some(_) }
            | Purpose::PersonName { then: Some(_) }
            | Purpose::PersonRole { then: Some(_), .. }
            | Purpose::PersonDetail { then: Some(_), .. } => {
                super::entry::keep_typed(app);
                super::visit::keep_typed(app);
                app.complain("Nothing was recorded: first say who is acting.");
            }
            Purpose::OfferSignIn => signing::skipped(app),
            Purpose::SettingWord { index } | Purpose::SettingValue { index } => {
                super::practice::show(app, index);
            }
            Purpose::RepairValue { mending, place } => repairing::show(app, *mending, place),
            Purpose::Repair(mending) => repairing::left(app, *mending),
            Purpose::RepairLeft(mending) => repairing::show(app, *mending, 0),
            Purpose::Welcome => app.quit = true,
            _ if app.screen == Screen::Welcome => people::welcome(app),
            _ => {}
        }
    }
    Vec::new()
}

/// Takes an answer; or says why it is none.
fn answer(app: &mut App, purpose: &Purpose, text: &str) -> Result<Vec<Effect>, String> {
    let number = app.job.as_ref().map(|j| j.open.number.clone());
    let need = |what: &str| {
        if text.is_empty() {
            Err(format!("Write {what}, or Esc to leave it."))
        } else {
            Ok(text.to_owned())
        }
    };
    let of_job = || number.clone().ok_or_else(|| "No job is open.".to_owned());
    let deed = match purpose {
        Purpose::NewJob => Deed::NewJob {
            wearer: need("the wearer's name")?,
        },
        Purpose::Accept { check, eye } => Deed::Accept {
            number: of_job()?,
            check,
            eye: *eye,
            reason: need("why it is accepted")?,
        },
        Purpose::SendBack => Deed::SendBack {
            number: of_job()?,
            reason: need("why it goes back")?,
        },
        Purpose::Cancel => Deed::Cancel {
            number: of_job()?,
            reason: need("why it is given up")?,
        },
        Purpose::Ask => Deed::Ask {
            number: of_job()?,
            text: need("what is asked")?,
        },
        Purpose::Answer => Deed::Answer {
            number: of_job()?,
            text: need("what was answered")?,
        },
        Purpose::HandoverValue { number, path } => {
            return super::collecting::value(app, number, path, text);
        }
        Purpose::RepairValue { mending, place } => {
            return repairing::value(app, mending, *place, text);
        }
        Purpose::ContactTold { number, how } => {
            return Ok(super::telling::told(app, number, *how, text));
        }
        Purpose::RemakePrice => return super::remake_price::value(app, text),
        Purpose::IdleMinutes => return signing::minutes(app, text),
        Purpose::SettingValue { index } => return super::practice::value(app, *index, text),
        Purpose::PersonName { .. } | Purpose::PersonDetail { .. } => {
            return people::answered(app, purpose.clone(), text);
        }
        Purpose::Person { .. }
        | Purpose::PersonRole { .. }
        | Purpose::Carry { .. }
        | Purpose::TakeChoice { .. }
        | Purpose::NewFrom { .. }
        | Purpose::RepairKind { .. }
        | Purpose::Repair(_)
        | Purpose::RepairLeft(_)
        | Purpose::Recheck { .. }
        | Purpose::VisitWord { .. }
        | Purpose::OfferSignIn
        | Purpose::SecretOf { .. }
        | Purpose::Security
        | Purpose::Setting
        | Purpose::SettingWord { .. }
        | Purpose::Welcome
        | Purpose::Print { .. }
        | Purpose::Waiting
        | Purpose::ContactHow { .. }
        | Purpose::Review { .. } => {
            return Ok(Vec::new());
        }
    };
    Ok(people::by_somebody(app, deed))
}
