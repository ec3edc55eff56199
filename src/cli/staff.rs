//! The people of the practice, their secrets, and whether they sign in.

use std::path::{Path, PathBuf};

use serde_json::json;

use super::book_place::{BookPlace, ask, from_file};
use super::output::{Outcome, Output, fail};
use super::value_words::role;
use crate::book::desk::{Added, Desk, DeskError, ErrorKind, SecurityChange};
use crate::job::{Role, StaffMember};
use clap::Subcommand;

/// What a recovery code is for.
const CODE_USE: &str = "write the code down and keep it apart from this machine: after a restore elsewhere it sets the first PIN; it is not shown again";

#[derive(Debug, Subcommand)]
pub(crate) enum StaffCommand {
    /// Add somebody, or the registration number of somebody who has none
    Add {
        #[arg(long)]
        name: String,
        /// assistant, trainee, dispensing optician or optometrist
        #[arg(long, value_parser = role)]
        role: Role,
        /// Registration number of a dispensing optician or optometrist
        #[arg(long)]
        registration: Option<String>,
        /// A trainee's supervisor, who is registered
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
        /// A file with the recovery code, for the first PIN on a machine to which the book was restored
        #[arg(long, value_name = "FILE")]
        recovery: Option<PathBuf>,
    },
    /// Make a new recovery code of sign-in and print it once; the earlier one is worth nothing then
    RecoveryCode {
        /// A dispensing optician or optometrist
        #[arg(long = "as", value_name = "STAFF")]
        by: String,
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

/// Lists or changes the staff list, a person's secret, or whether people sign in.
pub(crate) fn staff(
    place: &BookPlace,
    out: &mut Output,
    what: StaffCommand,
) -> Result<Outcome, DeskError> {
    match what {
        StaffCommand::Add {
            name,
            role,
            registration,
            supervisor,
            by,
        } => {
            let member = StaffMember {
                name,
                role,
                registration,
                supervisor,
            };
            add(place, out, member, by.as_deref())?;
        }
        StaffCommand::Secret { name, by, recovery } => {
            secret(place, out, &name, by.as_deref(), recovery.as_deref())?;
        }
        StaffCommand::RecoveryCode { by } => recovery_code(place, out, &by)?,
        StaffCommand::SignIn { on, idle, by } => {
            let on = on.map(|word| word == "on");
            sign_in(place, out, on, idle, by.as_deref())?;
        }
        StaffCommand::List => list(place, out)?,
    }
    Ok(Outcome::Done)
}

fn add(
    place: &BookPlace,
    out: &mut Output,
    member: StaffMember,
    by: Option<&str>,
) -> Result<(), DeskError> {
    let mut desk = place.open_or_create()?;
    if let Some(by) = by {
        place.sign_in(&mut desk, by)?;
    }
    let name = member.name.clone();
    let person = format!("{name} added as {}", member.role.word());
    let said = match desk.add_staff(member)? {
        Added::Person => person,
        Added::Number => format!("the registration number of {name} is on the staff list"),
    };
    if out.json {
        out.value(&json!({"ok": true, "name": name}));
        return Ok(());
    }
    out.line(&said);
    if !desk.security()?.sign_in {
        Output::aside(
            "a name is enough to act: rimbook staff secret and rimbook staff sign-in on change that",
        );
    }
    Ok(())
}

fn secret(
    place: &BookPlace,
    out: &mut Output,
    name: &str,
    by: Option<&str>,
    recovery: Option<&Path>,
) -> Result<(), DeskError> {
    let mut desk = place.open()?;
    if desk.lacks_every_secret()? {
        first_secret(place, &mut desk, name, recovery)?;
        say_set(out, name);
        return Ok(());
    }
    let setter = by.unwrap_or(name);
    let is_own = setter.eq_ignore_ascii_case(name);
    let known = desk.with_secret()?;
    if known.iter().any(|n| n.eq_ignore_ascii_case(setter)) {
        // One's own is proved before it is changed; a file can only hold one of the two.
        if place.pin_file.is_some() && is_own {
            return Err(fail(
                ErrorKind::Usage,
                "the old secret and the new one cannot come from one file",
                &["change it at a terminal, without --pin-file"],
            ));
        }
        let old = place.secret(&format!("Present PIN or passphrase of {setter}: "))?;
        desk.sign_in(setter, &old)?;
    }
    let rule = desk.practice()?.registration;
    if desk.staff()?.is_registrant(name, rule) {
        Output::aside(&format!(
            "{name} is registered: four words picked at random are worth more than a PIN"
        ));
    }
    let new = if is_own {
        place.new_secret(name)?
    } else {
        // The file, if any, was the setter's.
        let asked = BookPlace {
            opened: std::cell::Cell::default(),
            db: None,
            clock: place.clock,
            pin_file: None,
        };
        asked.new_secret(name)?
    };
    desk.set_secret(name, &new, setter)?;
    say_set(out, name);
    Ok(())
}

fn say_set(out: &mut Output, name: &str) {
    if out.json {
        out.value(&json!({"ok": true, "name": name}));
    } else {
        out.line(&format!("the PIN or passphrase of {name} is set"));
    }
}

/// Sets the first secret in a book that came to this machine without any.
fn first_secret(
    place: &BookPlace,
    desk: &mut Desk,
    name: &str,
    recovery: Option<&Path>,
) -> Result<(), DeskError> {
    let code = match recovery {
        Some(file) => Some(from_file(file)?),
        None if desk.has_sign_in_code()? => Some(ask("Recovery code of sign-in: ")?),
        None => None,
    };
    let new = place.new_secret(name)?;
    desk.set_first_secret(name, &new, code.as_deref().map(String::as_str))
}

fn recovery_code(place: &BookPlace, out: &mut Output, by: &str) -> Result<(), DeskError> {
    let mut desk = place.open_as(by)?;
    let code = desk.new_sign_in_code(by)?;
    if out.json {
        out.value(&json!({"ok": true, "code": code.as_str()}));
    } else {
        out.line(&code);
        Output::aside(CODE_USE);
    }
    Ok(())
}

fn sign_in(
    place: &BookPlace,
    out: &mut Output,
    on: Option<bool>,
    idle: Option<u16>,
    by: Option<&str>,
) -> Result<(), DeskError> {
    let mut desk = place.open()?;
    let mut security = desk.security()?;
    let mut code = None;
    if on.is_some() || idle.is_some() {
        let by = by.ok_or_else(|| {
            fail(
                ErrorKind::Usage,
                "say who sets it: --as NAME",
                &["a dispensing optician or optometrist"],
            )
        })?;
        place.sign_in(&mut desk, by)?;
        let change = SecurityChange {
            sign_in: on,
            idle_minutes: idle,
        };
        let was_on = security.sign_in;
        security = desk.change_security(change, by)?;
        if security.sign_in && !was_on && !desk.has_sign_in_code()? {
            // Whoever turned it on had to prove nothing until now; a code needs the PIN.
            match place.sign_in(&mut desk, by) {
                Ok(()) => code = Some(desk.new_sign_in_code(by)?),
                Err(why) => Output::aside(&format!(
                    "no recovery code was made ({}): rimbook staff recovery-code --as NAME makes it",
                    why.message
                )),
            }
        }
    }
    if out.json {
        let mut said = json!(security);
        if let Some(code) = &code {
            said["code"] = json!(code.as_str());
        }
        out.value(&said);
        return Ok(());
    }
    out.line(if security.sign_in {
        "people sign in with a PIN or passphrase"
    } else {
        "people do not sign in: a name is enough to act"
    });
    out.line(&match security.idle_minutes {
        0 => "an idle screen is not locked".to_owned(),
        1 => "an idle screen is locked after 1 minute".to_owned(),
        minutes => format!("an idle screen is locked after {minutes} minutes"),
    });
    if let Some(code) = code {
        out.line(&format!("recovery code: {}", code.as_str()));
        Output::aside(CODE_USE);
    }
    Ok(())
}

fn list(place: &BookPlace, out: &mut Output) -> Result<(), DeskError> {
    let roll = place.open()?.staff()?;
    if out.json {
        out.value(&roll.0);
        return Ok(());
    }
    for member in &roll.0 {
        let mut parts = vec![member.name.clone(), member.role.word().to_owned()];
        let registration = member.registration.as_ref();
        parts.extend(registration.map(|r| format!("registration {r}")));
        let supervisor = member.supervisor.as_ref();
        parts.extend(supervisor.map(|s| format!("supervised by {s}")));
        out.line(&parts.join(", "));
    }
    Ok(())
}
