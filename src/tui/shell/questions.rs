//! The questions that every screen, or several, lead to.

use super::app::App;
use super::selected::{in_front, selected};
use crate::tui::action::Action;
use crate::tui::effect::Deed;
use crate::tui::line::Line;
use crate::tui::next::Next;
use crate::tui::questions::{
    begin_job, contact, print, remake_price, repair, settings, sign_in, typed_names, who,
};
use crate::tui::screen_name::Screen;

/// Asks what an action asks for; `None` where it asks nothing.
pub(crate) fn asked(app: &App, action: Action) -> Option<Next> {
    let seen = app.seen();
    Some(match action {
        Action::Told => {
            let number = selected(app);
            let line = number.and_then(|number| app.lines.iter().find(|l| l.number == number));
            contact::ask(line, seen)
        }
        Action::Waiting => contact::show(seen),
        Action::NamesToConfirm => typed_names::ask(seen),
        Action::NewJob => begin_job::ask_wearer(Line::default()),
        Action::NewFrom => in_front(app).map_or(Next::Stay, begin_job::ask),
        Action::Repair => in_front(app).map_or(Next::Stay, repair::ask),
        Action::Print | Action::PrintSelected => {
            let number = match app.screen {
                Screen::Worklist => selected(app).map(str::to_owned),
                _ => app.job.as_ref().map(|j| j.open.number.clone()),
            };
            print::ask(number, seen)
        }
        Action::SwitchPerson | Action::SwitchPersonToo => who::ask(None, seen),
        Action::RemakePrice => remake_price::ask(seen),
        Action::PracticeSettings => settings::show(None),
        Action::OwnSecret | Action::OtherSecret | Action::SignInSettings => {
            sign_in::act(action, seen)
        }
        _ => return None,
    })
}

/// Asks who is acting; then does what waits for it.
pub(super) fn ask_who(app: &App, then: Option<Deed>) -> Next {
    who::ask(then, app.seen())
}

/// Lets a person that was chosen act, once signed in where people sign in.
pub(super) fn act_as(app: &mut App, name: String, then: Option<Deed>) -> Next {
    if app.security.sign_in {
        return sign_in::ask_to_sign_in(name, then, None);
    }
    app.proven = false;
    app.person = Some(name);
    then.map_or(Next::Stay, Next::Act)
}

/// Offers what can be done without a book.
pub(crate) fn welcome(app: &mut App) -> Next {
    app.screen = Screen::Welcome;
    app.trail.clear();
    Next::Ask(who::welcome(&app.place))
}

/// Shows the list of the practice's settings again after a change, with the value now in force.
pub(crate) fn settings_again(app: &mut App) -> Next {
    if let Some(key) = app.setting.take()
        && app.dialog.is_none()
    {
        return settings::show(Some(key));
    }
    Next::Stay
}
