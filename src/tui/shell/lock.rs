//! The locked screen: nothing of the book is seen or done until somebody proves who they are.

use std::mem;

use super::app::App;
use super::locked::Lock;
use crate::job::StaffMember;
use crate::tui::effect::{Deed, Effect};
use crate::tui::key::Key;
use crate::tui::keymap::Keymap;
use crate::tui::list::moved_by_key;
use crate::tui::next::Next;
use crate::tui::questions::sign_in;
use crate::tui::screen_name::Screen;
use crate::tui::secret::Secret;

/// Puts the lock before everything; what is behind it stays as it is.
pub(crate) fn shut(app: &mut App) -> Vec<Effect> {
    let was = app.person.take().filter(|_| app.proven);
    let first = app.staff.0.first().map(|m| m.name.clone());
    let selected = was.clone().or(first);
    app.proven = false;
    app.notice = None;
    app.lock = Some(Lock {
        was,
        selected,
        ..Lock::default()
    });
    vec![Effect::SignOut]
}

/// Locks on a person's wish.
pub(crate) fn asked(app: &mut App) -> Next {
    if app.security.sign_in {
        return Next::Do(shut(app));
    }
    Next::complain(
        "Sign-in is off, so nothing could be unlocked again: turn it on under sign-in in the list of actions.",
    )
}

/// Locks after so many minutes without a key, if the practice wants that.
pub(crate) fn idle(app: &mut App, minutes: u64) -> Vec<Effect> {
    let after = u64::from(app.security.idle_minutes);
    if app.security.sign_in && app.lock.is_none() && after > 0 && minutes >= after {
        return shut(app);
    }
    Vec::new()
}

/// Takes a key while the screen is locked.
pub(crate) fn key(app: &mut App, key: Key) -> Vec<Effect> {
    let Some(lock) = &mut app.lock else {
        return Vec::new();
    };
    if key.is("enter") {
        let secret = mem::take(&mut lock.line);
        let Some(person) = lock.person(&app.staff) else {
            return Vec::new();
        };
        if secret.count() == 0 {
            lock.error = Some("Type the PIN or passphrase, then Enter.".to_owned());
            return Vec::new();
        }
        return vec![Effect::SignIn {
            name: person.name.clone(),
            secret,
            then: None,
        }];
    }
    if key.is("esc") {
        lock.line = Secret::default();
    } else if let Some(to) = moved_by_key(lock.place(&app.staff), key, app.staff.0.len()) {
        // What was typed was meant for another name.
        if to != lock.place(&app.staff) {
            lock.line = Secret::default();
            lock.error = None;
        }
        lock.selected = app.staff.0.get(to).map(|m| m.name.clone());
    } else if lock.line.key(key) {
        lock.error = None;
    }
    Vec::new()
}

/// Somebody proved who they are.
pub(crate) fn signed_in(
    app: &mut App,
    member: &StaffMember,
    told: Option<String>,
    then: Option<Deed>,
) -> Vec<Effect> {
    app.proven = true;
    app.person = Some(member.name.clone());
    let lock = app.lock.take();
    match told {
        Some(told) => app.complain(told),
        None => app.say(format!("{} is signed in.", member.name)),
    }
    match lock {
        Some(lock) if lock.was.as_ref() == Some(&member.name) => vec![Effect::Poll],
        Some(_) => {
            begin_with_the_book_alone(app);
            vec![Effect::Reload]
        }
        None => vec![then.map_or(Effect::Reload, Effect::Act)],
    }
}

/// Somebody did not.
pub(crate) fn refused(app: &mut App, name: &str, message: &str, then: Option<Deed>) -> Next {
    let why = format!("Not signed in: {message}.");
    if let Some(lock) = &mut app.lock {
        lock.error = Some(why);
        return Next::Stay;
    }
    sign_in::ask_to_sign_in(name.to_owned(), then, Some(why))
}

/// What one person had open is not the next one's, so only the book is kept; what was typed lies in it
/// as a draft.
fn begin_with_the_book_alone(app: &mut App) {
    let fresh = App::new("", app.today, Keymap::default());
    let before = mem::replace(app, fresh);
    *app = App {
        today_is_fixed: before.today_is_fixed,
        staff: before.staff,
        practice: before.practice,
        security: before.security,
        with_secret: before.with_secret,
        person: before.person,
        proven: before.proven,
        lines: before.lines,
        backup: before.backup,
        is_stale: before.is_stale,
        remake_price: before.remake_price,
        waiting: before.waiting,
        clipboard: before.clipboard,
        notice: before.notice,
        ..App::new(&before.place, before.today, before.keymap)
    };
    app.begin(Screen::Worklist);
}
