//! Setting secrets, and whether people sign in: what is asked, step by step.

use crate::book::desk::{LONGEST_IDLE_MINUTES, Security, SecurityChange};
use crate::tui::action::Action;
use crate::tui::effect::{Deed, Effect};
use crate::tui::line::Line;
use crate::tui::next::{Next, Question};
use crate::tui::secret::{NewSecret, Secret};
use crate::tui::seen::Seen;

/// Does an action about secrets and settings.
pub(crate) fn act(action: Action, seen: Seen<'_>) -> Next {
    match action {
        Action::OwnSecret => acting(seen).map_or_else(|next| next, |name| begin(name, false, seen)),
        Action::OtherSecret => whose(seen),
        Action::SignInSettings => settings(seen),
        _ => Next::Stay,
    }
}

/// Asks a person for their secret; says why the last one was refused.
pub(crate) fn ask_to_sign_in(name: String, then: Option<Deed>, refused: Option<String>) -> Next {
    let title = format!("PIN or passphrase of {name}:");
    let question = Question::secret(title, move |secret| {
        Next::Do(vec![Effect::SignIn { name, secret, then }])
    });
    Next::Ask(question.refused(refused))
}

/// Begins to set a secret: who has one proves it first.
fn begin(name: String, turn_on: bool, seen: Seen<'_>) -> Next {
    let by = match acting(seen) {
        Ok(by) => by,
        Err(next) => return next,
    };
    let has_one = seen.with_secret.contains(&by);
    let title = format!("Present PIN or passphrase of {by}:");
    let what = NewSecret {
        name,
        present: None,
        turn_on,
        by,
    };
    let rule = seen.practice.registration;
    let advice = if seen.staff.is_registrant(&what.name, rule) {
        Next::say(WORDS)
    } else {
        Next::Stay
    };
    if !has_one {
        return ask_new(what, None).and(advice);
    }
    let present = Question::secret(title, move |given| {
        let present = Some(given);
        ask_new(NewSecret { present, ..what }, None)
    });
    Next::Ask(present).and(advice)
}

/// What is offered to somebody registered, whose name passes more checks than another's.
const WORDS: &str = "Your name passes checks that others' do not: four words picked at random are worth more than a PIN.";

fn ask_new(what: NewSecret, refused: Option<String>) -> Next {
    let title = format!(
        "New PIN or passphrase of {}, at least 4 characters; a passphrase is better:",
        what.name
    );
    let question = Question::secret(title, move |given| ask_again(what, given));
    Next::Ask(question.refused(refused))
}

/// Asks for the new secret a second time.
fn ask_again(what: NewSecret, first: Secret) -> Next {
    let title = format!("The new one of {} once more:", what.name);
    Next::Ask(Question::secret(title, move |secret| {
        if first == secret {
            let what = Box::new(what);
            return Next::Do(vec![Effect::SetSecret { what, secret }]);
        }
        let why = "The two were not the same; nothing was changed. Type it again.";
        ask_new(what, Some(why.to_owned()))
    }))
}

/// Returns who is acting.
///
/// # Errors
///
/// What says that it is not known.
#[allow(clippy::result_large_err, reason = "taken up at once, by the caller")]
pub(super) fn acting(seen: Seen<'_>) -> Result<String, Next> {
    let unknown = || Next::complain("First say who is acting.");
    seen.person.map(str::to_owned).ok_or_else(unknown)
}

/// Recommends signing in to whoever begins a book.
pub(crate) fn offer() -> Next {
    let sets_one = Next::then(|seen| match seen.person {
        Some(name) => begin(name.to_owned(), true, seen),
        None => skipped(),
    });
    let question = Question::choose(
        "Set a PIN or passphrase now? Recommended: otherwise anybody at this keyboard can act in your name.",
        vec![
            ("set one and turn sign-in on".to_owned(), sets_one),
            (
                "skip: a name is enough to act, and every screen says so".to_owned(),
                skipped(),
            ),
        ],
    );
    Next::Ask(question.or_else(skipped()).needed(true))
}

fn skipped() -> Next {
    Next::say(
        "Sign-in is off: a name is enough to act. It is turned on under sign-in in the list of actions.",
    )
}

/// Asks whose secret is to be set.
fn whose(seen: Seen<'_>) -> Next {
    let by = match acting(seen) {
        Ok(by) => by,
        Err(next) => return next,
    };
    let names = seen.staff.0.iter().map(|m| m.name.clone());
    let others: Vec<(String, Next)> = names
        .filter(|n| *n != by)
        .map(|n| (n.clone(), Next::then(|seen| begin(n, false, seen))))
        .collect();
    if others.is_empty() {
        return Next::complain("Nobody else is on the staff list.");
    }
    Next::Ask(Question::choose("Whose PIN or passphrase?", others))
}

/// Asks what is to be changed about signing in.
fn settings(seen: Seen<'_>) -> Next {
    if let Err(next) = acting(seen) {
        return next;
    }
    let Security {
        sign_in,
        idle_minutes,
    } = seen.security;
    let idle = match idle_minutes {
        0 => "never".to_owned(),
        minutes => format!("after {minutes} min"),
    };
    let (state, turn) = if sign_in {
        ("on", "off")
    } else {
        ("off", "on")
    };
    let turned = Next::then(move |seen| {
        let change = SecurityChange {
            sign_in: Some(!sign_in),
            ..SecurityChange::default()
        };
        set(change, seen)
    });
    Next::Ask(Question::choose(
        format!("Sign-in is {state}; a screen without a key is locked: {idle}."),
        vec![
            (format!("turn sign-in {turn}"), turned),
            (
                "set the minutes without a key until it is locked".to_owned(),
                ask_minutes(),
            ),
        ],
    ))
}

/// Asks for the minutes without a key until the screen is locked.
fn ask_minutes() -> Next {
    Next::Ask(Question::text_seen(
        format!("Minutes without a key, 1 to {LONGEST_IDLE_MINUTES}; 0 never locks:"),
        Line::default(),
        |text, seen| {
            let idle_minutes = text
                .parse()
                .ok()
                .filter(|m| *m <= LONGEST_IDLE_MINUTES)
                .ok_or_else(|| format!("Write whole minutes, 0 to {LONGEST_IDLE_MINUTES}."))?;
            let change = SecurityChange {
                idle_minutes: Some(idle_minutes),
                ..SecurityChange::default()
            };
            Ok(set(change, seen))
        },
    ))
}

fn set(change: SecurityChange, seen: Seen<'_>) -> Next {
    acting(seen).map_or_else(
        |next| next,
        |by| {
            again(
                &by.clone(),
                seen.signs_in && change.may_weaken(),
                move |secret| Next::Do(vec![Effect::SetSecurity { change, by, secret }]),
            )
        },
    )
}

/// Asks a person for the PIN or passphrase once more, where that is wanted: what follows could run a
/// program or weaken the protection, and the screen may have been left open.
pub(super) fn again(
    name: &str,
    is_wanted: bool,
    then: impl FnOnce(Option<Secret>) -> Next + 'static,
) -> Next {
    if !is_wanted {
        return then(None);
    }
    let title = format!("Once more, PIN or passphrase of {name}:");
    Next::Ask(Question::secret(title, move |secret| then(Some(secret))))
}
