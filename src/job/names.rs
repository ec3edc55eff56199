//! The names of a job that somebody is answerable by, and how each is kept with a change. A signature
//! covers the values beside the name.

use serde_json::Value;

use super::file::{JobFileError, write_value};
use super::{Contact, Job, Moment, NameKept, NamesKept, Repair, Section, StaffRoll, Visit};
use crate::job::fields::{FieldValue, KeyRow, Record, all_fields, find};

/// A name of a job that somebody is answerable by.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct LegalName<'a> {
    /// Its path from the job.
    pub(crate) path: String,
    /// Its section.
    pub(crate) section: Section,
    /// The name as it is written.
    pub(crate) name: &'a str,
}

/// Who is signed in while a change is kept.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Signer<'a> {
    /// The name, as it is on the staff list.
    pub(crate) name: &'a str,
    /// When.
    pub(crate) at: Moment,
}

/// The names of a part that has no fields to type into; `at` is its path with a point behind it.
fn names_of_part<'a>(
    found: &mut Vec<LegalName<'a>>,
    section: Section,
    at: &str,
    part: &'a dyn Record,
    rows: &[KeyRow],
) {
    for row in rows.iter().filter(|row| row.is_staff) {
        if let Some(FieldValue::Text(name)) = part.value_of(row.key) {
            found.push(LegalName {
                path: format!("{at}{}", row.key),
                section,
                name,
            });
        }
    }
}

/// Returns every name of a job that somebody is answerable by; empty ones are left out.
pub(crate) fn legal_names(job: &Job) -> Vec<LegalName<'_>> {
    let mut found = Vec::new();
    for field in all_fields().iter().filter(|field| field.names_staff()) {
        if let Some(FieldValue::Text(name)) = field.read(job) {
            found.push(LegalName {
                path: field.full_path(),
                section: field.section,
                name,
            });
        }
    }
    names_of_part(
        &mut found,
        Section::Visit,
        "visit.",
        &job.visit,
        Visit::KEYS,
    );
    for (n, repair) in job.aftercare.repairs.iter().enumerate() {
        let at = format!("aftercare.repairs.{n}.");
        names_of_part(&mut found, Section::Aftercare, &at, repair, Repair::KEYS);
    }
    for (n, contact) in job.aftercare.contacts.iter().enumerate() {
        let at = format!("aftercare.contacts.{n}.");
        names_of_part(&mut found, Section::Aftercare, &at, contact, Contact::KEYS);
    }
    found.retain(|name| !name.name.trim().is_empty());
    found
}

/// Returns what the name at a path says of its owner, to stand before the name: "measured by".
pub(crate) fn label_of_name(path: &str) -> String {
    if let Some(field) = find(path) {
        return field.label.to_owned();
    }
    let words: Vec<&str> = path.split('.').collect();
    let nth = |n: &str| n.parse().map_or(0, |n: usize| n + 1);
    match words[..] {
        ["aftercare", "contacts", n, _] => format!("contact {}: told by", nth(n)),
        ["aftercare", "repairs", n, "by"] => format!("repair {}: done by", nth(n)),
        ["aftercare", "repairs", n, _] => format!("repair {}: supervised by", nth(n)),
        _ => "visit: decided by".to_owned(),
    }
}

/// The path of the object that a name lies in.
fn scope_of(path: &str) -> &str {
    path.rsplit_once('.').map_or("", |(scope, _)| scope)
}

/// A job as its file writes it, to look up what lies beside a name.
struct Written(Value);

impl Written {
    fn of(job: &Job) -> Result<Self, JobFileError> {
        Ok(Self(write_value(job, "job")?))
    }

    fn at(&self, path: &str) -> Option<&Value> {
        self.0.pointer(&format!("/{}", path.replace('.', "/")))
    }

    /// The values beside a name: the names that lie there, too, are left out.
    fn beside(&self, path: &str, names: &[LegalName<'_>]) -> Value {
        let scope = scope_of(path);
        let mut values = self.at(scope).cloned().unwrap_or(Value::Null);
        if let Some(map) = values.as_object_mut() {
            for name in names.iter().filter(|n| scope_of(&n.path) == scope) {
                map.remove(name.path.get(scope.len() + 1..).unwrap_or(""));
            }
            if map.is_empty() {
                values = Value::Null;
            }
        }
        values
    }
}

/// Whether a name is the signer's own.
fn is_own(name: &str, roll: &StaffRoll, signer: &Signer<'_>) -> bool {
    roll.find(name).is_some_and(|m| m.name == signer.name)
}

/// Returns how each name is kept after a change.
///
/// A name counts as signed when its owner is signed in and enters it. A change by its owner of a value
/// beside it leaves it signed; one by anybody else does not. `entered` is the change itself, from the
/// job, or null: entering one's own name again signs it. With sign-in off (`signer` is `None`) what is
/// changed is kept without an entry. What is not changed stays as the job after the change has it.
///
/// # Errors
/// [`JobFileError`] when the job cannot be written as JSON.
pub(crate) fn names_kept(
    before: &Job,
    after: &Job,
    entered: &Value,
    roll: &StaffRoll,
    signer: Option<Signer<'_>>,
) -> Result<NamesKept, JobFileError> {
    let names = legal_names(after);
    if signer.is_none() && after.names.is_empty() || names.is_empty() {
        return Ok(NamesKept::new());
    }
    let both: Vec<LegalName<'_>> = legal_names(before)
        .into_iter()
        .chain(names.iter().cloned())
        .collect();
    let (was, now) = (Written::of(before)?, Written::of(after)?);
    let mut kept = NamesKept::new();
    for LegalName { path, name, .. } in names {
        let entry = after.names.get(&path).cloned();
        let same_name = was.at(&path) == now.at(&path);
        let same_values = was.beside(&path, &both) == now.beside(&path, &both);
        let entry = match signer {
            None => entry.filter(|_| same_name && same_values),
            Some(signer) => {
                let own = is_own(name, roll, &signer);
                // Lists are entered whole: an entry of one is not entered again with the next.
                let is_in_list = path.contains(|c: char| c.is_ascii_digit());
                let pointer = format!("/{}", path.replace('.', "/"));
                let again = own && !is_in_list && entered.pointer(&pointer).is_some();
                let was_signed = entry.as_ref().is_some_and(|e| e.typed_by.is_none());
                if same_name && same_values && !again {
                    entry
                } else if own && (!same_name || again || was_signed) {
                    Some(signed(signer.at))
                } else if own {
                    // One's own change of a value is no confirmation of what another entered.
                    entry
                } else {
                    Some(NameKept {
                        at: Some(signer.at),
                        typed_by: Some(signer.name.to_owned()),
                    })
                }
            }
        };
        if let Some(entry) = entry {
            kept.insert(path, entry);
        }
    }
    Ok(kept)
}

/// A name that its owner signed.
fn signed(at: Moment) -> NameKept {
    NameKept {
        at: Some(at),
        typed_by: None,
    }
}

impl Job {
    /// Returns the names that wait for the confirmation of their owner, each with who typed it.
    pub(crate) fn unsigned_names(&self) -> Vec<(LegalName<'_>, &str)> {
        if self.names.is_empty() {
            return Vec::new();
        }
        legal_names(self)
            .into_iter()
            .filter_map(|name| {
                let typed_by = self.names.get(&name.path)?.typed_by.as_deref()?;
                Some((name, typed_by))
            })
            .collect()
    }

    /// Signs the name at a path.
    pub(crate) fn sign_name(&mut self, path: &str, at: Moment) {
        self.names.insert(path.to_owned(), signed(at));
    }
}
