//! Setting secrets, and whether people sign in: what is asked, step by step.

use crate::app::App;
use crate::app::action::Action;
use crate::app::effect::{Deed, Effect};
use crate::app::question::{ChoiceAsker, Dialog, SecretAsker, TextAsker};
use crate::app::secret::{NewSecret, Secret};
use crate::desk::{LONGEST_IDLE_MINUTES, Security};

/// Signing in; then what waits for it.
#[derive(Debug)]
struct SignIn {
    name: String,
    then: Option<Deed>,
}

impl SecretAsker for SignIn {
    fn answered(self: Box<Self>, _app: &mut App, given: Secret) -> Vec<Effect> {
        vec![Effect::SignIn {
            name: self.name,
            secret: given,
            then: self.then,
        }]
    }
}

/// The present secret of whoever sets one.
#[derive(Debug)]
struct Present(NewSecret);

impl SecretAsker for Present {
    fn answered(self: Box<Self>, app: &mut App, given: Secret) -> Vec<Effect> {
        let mut what = self.0;
        what.present = Some(given);
        ask_new(app, what);
        Vec::new()
    }
}

/// The new secret.
#[derive(Debug)]
struct New(NewSecret);

impl SecretAsker for New {
    fn answered(self: Box<Self>, app: &mut App, given: Secret) -> Vec<Effect> {
        let what = self.0;
        let title = format!("The new one of {} once more:", what.name);
        ask(app, title, Again { what, first: given });
        Vec::new()
    }
}

/// The new secret a second time.
#[derive(Debug)]
struct Again {
    what: NewSecret,
    first: Secret,
}

impl SecretAsker for Again {
    fn answered(self: Box<Self>, app: &mut App, given: Secret) -> Vec<Effect> {
        let Self { what, first } = *self;
        if first == given {
            return vec![Effect::SetSecret {
                what: Box::new(what),
                secret: given,
            }];
        }
        ask_new(app, what);
        refuse(
            app,
            "The two were not the same; nothing was changed. Type it again.".to_owned(),
        );
        Vec::new()
    }
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
        _ => {}
    }
}

fn ask(app: &mut App, title: String, asker: impl SecretAsker + 'static) {
    app.dialog = Some(Dialog::Secret {
        title,
        line: Secret::default(),
        error: None,
        asker: Box::new(asker),
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
    let asker = SignIn {
        name: name.to_owned(),
        then,
    };
    ask(app, format!("PIN or passphrase of {name}:"), asker);
}

fn ask_new(app: &mut App, what: NewSecret) {
    let title = format!(
        "New PIN or passphrase of {}, at least 4 characters; a passphrase is better:",
        what.name
    );
    ask(app, title, New(what));
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
        ask(app, title, Present(what));
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

/// Recommends signing in to whoever begins a book.
pub(crate) fn offer(app: &mut App) {
    app.choose(
        "Set a PIN or passphrase now? Recommended: otherwise anybody at this keyboard can act in your name.",
        vec![
            ("set one and turn sign-in on".to_owned(), true),
            (
                "skip: a name is enough to act, and every screen says so".to_owned(),
                false,
            ),
        ],
        Recommend,
    );
}

/// Whether to sign in from the beginning.
#[derive(Debug)]
struct Recommend;

impl ChoiceAsker for Recommend {
    type Answer = bool;

    fn answered(self, app: &mut App, sets_one: bool) -> Vec<Effect> {
        match app.person.clone() {
            Some(name) if sets_one => {
                begin(app, &name, true);
                Vec::new()
            }
            _ => self.unanswered(app),
        }
    }

    fn unanswered(self, app: &mut App) -> Vec<Effect> {
        app.say("Sign-in is off: a name is enough to act. It is turned on under sign-in in the list of actions.");
        Vec::new()
    }

    fn is_needed(&self) -> bool {
        true
    }
}

/// Asks whose secret is to be set.
fn whose(app: &mut App) {
    let Some(by) = acting(app) else { return };
    let names = app.staff.0.iter().map(|m| m.name.clone());
    let others: Vec<(String, String)> =
        names.filter(|n| *n != by).map(|n| (n.clone(), n)).collect();
    if others.is_empty() {
        app.complain("Nobody else is on the staff list.");
        return;
    }
    app.choose("Whose PIN or passphrase?", others, Whose);
}

/// Whose secret is to be set, by name.
#[derive(Debug)]
struct Whose;

impl ChoiceAsker for Whose {
    type Answer = String;

    fn answered(self, app: &mut App, name: String) -> Vec<Effect> {
        begin(app, &name, false);
        Vec::new()
    }
}

/// Asks what is to be changed about signing in.
fn settings(app: &mut App) {
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
        format!("Sign-in is {state}; a screen without a key is locked: {idle}."),
        vec![
            (format!("turn sign-in {turn}"), Change::SignIn(!sign_in)),
            (
                "set the minutes without a key until it is locked".to_owned(),
                Change::Minutes,
            ),
        ],
        Settings,
    );
}

/// What is to be changed about signing in.
#[derive(Debug)]
struct Settings;

#[derive(Debug)]
enum Change {
    /// Whether people sign in from now on.
    SignIn(bool),
    Minutes,
}

impl ChoiceAsker for Settings {
    type Answer = Change;

    fn answered(self, app: &mut App, change: Change) -> Vec<Effect> {
        match change {
            Change::SignIn(sign_in) => {
                let security = Security {
                    sign_in,
                    ..app.security
                };
                set(app, security)
            }
            Change::Minutes => {
                app.ask(
                    format!("Minutes without a key, 1 to {LONGEST_IDLE_MINUTES}; 0 never locks:"),
                    IdleMinutes,
                );
                Vec::new()
            }
        }
    }
}

/// Minutes without a key until the screen is locked.
#[derive(Debug)]
struct IdleMinutes;

impl TextAsker for IdleMinutes {
    fn answered(&self, app: &mut App, text: &str) -> Result<Vec<Effect>, String> {
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
}

fn set(app: &mut App, security: Security) -> Vec<Effect> {
    acting(app).map_or_else(Vec::new, |by| vec![Effect::SetSecurity { security, by }])
}
