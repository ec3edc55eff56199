//! What needs more than that somebody is signed in: secrets, and programs that a book would run.

use crate::book::desk::{Desk, DeskError, Program, Security, SecurityChange};
use crate::tui::effect::Message;
use crate::tui::secret::{NewSecret, Secret};

/// Lets a person prove again who they are, where people sign in: the screen may have been left open.
pub(super) fn prove_again(
    desk: &mut Desk,
    by: &str,
    secret: Option<&Secret>,
) -> Result<(), DeskError> {
    if !desk.security()?.sign_in {
        return Ok(());
    }
    desk.sign_in(by, secret.map_or("", Secret::text)).map(drop)
}

/// Returns the program that would print or show a sheet, with its command, where nobody set it in this
/// account.
pub(super) fn unknown_program(desk: &Desk) -> Result<Option<(Program, String)>, DeskError> {
    let program = if desk.practice()?.printing.command.trim().is_empty() {
        Program::Viewer
    } else {
        Program::Printer
    };
    let command = desk.unknown_program(program)?;
    Ok(command.map(|command| (program, command)))
}

/// Changes what is set about signing in.
pub(super) fn set_security(
    desk: &mut Desk,
    change: SecurityChange,
    by: &str,
    secret: Option<&Secret>,
) -> Result<Message, DeskError> {
    if change.may_weaken() {
        prove_again(desk, by, secret)?;
    }
    let is_on = desk.change_security(change, by)?.sign_in;
    if !is_on {
        desk.sign_out();
    }
    let code = if change.sign_in == Some(true) {
        say_recovery_code(desk)?
    } else {
        None
    };
    Ok(Message::Set(code.unwrap_or_else(|| {
        "What is set about signing in is changed.".to_owned()
    })))
}

/// Says how the recovery code of sign-in is made, where there is none yet.
fn say_recovery_code(desk: &Desk) -> Result<Option<String>, DeskError> {
    Ok((!desk.has_sign_in_code()?).then(|| {
        "Sign-in is on. Write a code down: rimbook staff recovery-code --as NAME".to_owned()
    }))
}

/// Sets a secret for somebody who first proves who they are, if they can.
pub(super) fn set_secret(
    desk: &mut Desk,
    what: &NewSecret,
    secret: &Secret,
) -> Result<Message, DeskError> {
    if let Some(present) = &what.present {
        desk.sign_in(&what.by, present.text())?;
    }
    let done = desk.set_secret(&what.name, secret.text(), &what.by);
    let security = desk.security()?;
    if !security.sign_in {
        // Where nobody signs in, nobody stays signed in.
        desk.sign_out();
    }
    done?;
    if what.turn_on {
        let security = Security {
            sign_in: true,
            ..security
        };
        desk.set_security(security, &what.by)?;
        let member = desk.sign_in(&what.by, secret.text())?;
        return Ok(Message::SignedIn {
            member,
            told: say_recovery_code(desk)?,
            then: None,
        });
    }
    Ok(Message::Set(format!(
        "The PIN or passphrase of {} is set.",
        what.name
    )))
}
