//! Setting secrets, and whether people sign in: what is asked, step by step.

use super::action::Action;
use super::dialog::{Dialog, Purpose};
use super::effect::{Deed, Effect};
use super::secret::{NewSecret, Secret};
use super::{App, practice};
use crate::desk::{LONGEST_IDLE_MINUTES, Security};

/// What a masked line is for.
#[derive(Debug, Clone, PartialEq)]
pub enum Step {
    /// Signing in; then the deed that waits for it.
    SignIn {
        /// Who.
        name: String,
        /// What waits.
        then: Option<Deed>,
    },
    /// The present secret of who sets one.
    Present(NewSecret),
    /// The new one.
    New(NewSecret),
    /// The new one again.
    Again {
        /// What is set.
        what: NewSecret,
        /// What was typed first.
        first: Secret,
    },
}

/// Does an action about secrets and settings.
pub(crate) fn act(app: &mut App, action: Action) {
    match action {
        Action::OwnSecret => {
            if let Some(name) = acting(app) {
                begin(app, &name, false);
            }
        }
        Action::OtherSecret => whose(app),
        Action::SignInSettings => settings(app),
        Action::PracticeSettings => practice::show(app, 0),
        _ => {}
    }
}

fn ask(app: &mut App, title: String, step: Step) {
    app.dialog = Some(Dialog::Secret {
        title,
        line: Secret::default(),
        error: None,
        step,
    });
}

/// Says in the masked line that is open why the last answer was refused.
pub(crate) fn refuse(app: &mut App, why: String) {
    if let Some(Dialog::Secret { error, .. }) = &mut app.dialog {
        *error = Some(why);
    }
}

/// Asks a person for their secret.
pub(crate) fn ask_to_sign_in(app: &mut App, name: &str, then: Option<Deed>) {
    let step = Step::SignIn {
        name: name.to_owned(),
        then,
    };
    ask(app, format!("PIN or passphrase of {name}:"), step);
}

fn ask_new(app: &mut App, what: NewSecret) {
    let title = format!(
        "New PIN or passphrase of {}, at least 4 characters; a passphrase is better:",
        what.name
    );
    ask(app, title, Step::New(what));
}

/// Begins to set a secret: who has one proves it first.
pub(crate) fn begin(app: &mut App, name: &str, turn_on: bool) {
    let Some(by) = acting(app) else { return };
    let what = NewSecret {
        name: name.to_owned(),
        present: None,
        turn_on,
        by,
    };
    if app.with_secret.contains(&what.by) {
        let title = format!("Present PIN or passphrase of {}:", what.by);
        ask(app, title, Step::Present(what));
    } else {
        ask_new(app, what);
    }
}

/// Returns who is acting, or says that it is not known.
pub(crate) fn acting(app: &mut App) -> Option<String> {
    if app.person.is_none() {
        app.complain("First say who is acting.");
    }
    app.person.clone()
}

/// Takes an answer of a masked line.
pub(crate) fn answered(app: &mut App, step: Step, given: Secret) -> Vec<Effect> {
    match step {
        Step::SignIn { name, then } => vec![Effect::SignIn {
            name,
            secret: given,
            then,
        }],
        Step::Present(mut what) => {
            what.present = Some(given);
            ask_new(app, what);
            Vec::new()
        }
        Step::New(what) => {
            let title = format!("The new one of {} once more:", what.name);
            ask(app, title, Step::Again { what, first: given });
            Vec::new()
        }
        Step::Again { what, first } if first == given => vec![Effect::SetSecret {
            what: Box::new(what),
            secret: given,
        }],
        Step::Again { what, .. } => {
            ask_new(app, what);
            refuse(
                app,
                "The two were not the same; nothing was changed. Type it again.".to_owned(),
            );
            Vec::new()
        }
    }
}

/// Recommends signing in to whoever begins a book.
pub(crate) fn offer(app: &mut App) {
    app.choose(
        "Set a PIN or passphrase now? Recommended: otherwise anybody at this keyboard can act in your name.",
        vec![
            "set one and turn sign-in on".to_owned(),
            "skip: a name is enough to act, and every screen says so".to_owned(),
        ],
        Purpose::OfferSignIn,
    );
}

/// Takes the answer to the offer.
pub(crate) fn offered(app: &mut App, index: usize) {
    match (index, app.person.clone()) {
        (0, Some(name)) => begin(app, &name, true),
        _ => skipped(app),
    }
}

/// Says what it means to go without.
pub(crate) fn skipped(app: &mut App) {
    app.say("Sign-in is off: a name is enough to act. It is turned on under sign-in in the list of actions.");
}

/// Asks whose secret is to be set.
pub(crate) fn whose(app: &mut App) {
    let Some(by) = acting(app) else { return };
    let names: Vec<String> = app.staff.0.iter().map(|m| m.name.clone()).collect();
    let others: Vec<String> = names.into_iter().filter(|n| *n != by).collect();
    if others.is_empty() {
        app.complain("Nobody else is on the staff list.");
        return;
    }
    app.choose(
        "Whose PIN or passphrase?",
        others.clone(),
        Purpose::SecretOf { names: others },
    );
}

/// Asks what is to be changed about signing in.
pub(crate) fn settings(app: &mut App) {
    if acting(app).is_none() {
        return;
    }
    let Security {
        sign_in,
        idle_minutes,
    } = app.security;
    let idle = match idle_minutes {
        0 => "never".to_owned(),
        minutes => format!("after {minutes} min"),
    };
    let (state, turn) = if sign_in {
        ("on", "off")
    } else {
        ("off", "on")
    };
    app.choose(
        &format!("Sign-in is {state}; a screen without a key is locked: {idle}."),
        vec![
            format!("turn sign-in {turn}"),
            "set the minutes without a key until it is locked".to_owned(),
        ],
        Purpose::Security,
    );
}

/// Takes what is to be changed.
pub(crate) fn settings_chosen(app: &mut App, index: usize) -> Vec<Effect> {
    if index > 0 {
        app.ask(
            format!("Minutes without a key, 1 to {LONGEST_IDLE_MINUTES}; 0 never locks:"),
            Purpose::IdleMinutes,
        );
        return Vec::new();
    }
    let security = Security {
        sign_in: !app.security.sign_in,
        ..app.security
    };
    set(app, security)
}

/// Takes the minutes.
pub(crate) fn minutes(app: &mut App, text: &str) -> Result<Vec<Effect>, String> {
    let idle_minutes = text
        .parse()
        .ok()
        .filter(|m| *m <= LONGEST_IDLE_MINUTES)
        .ok_or_else(|| format!("Write whole minutes, 0 to {LONGEST_IDLE_MINUTES}."))?;
    let security = Security {
        idle_minutes,
        ..app.security
    };
    Ok(set(app, security))
}

fn set(app: &mut App, security: Security) -> Vec<Effect> {
    acting(app).map_or_else(Vec::new, |by| vec![Effect::SetSecurity { security, by }])
}
