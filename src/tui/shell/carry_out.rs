//! One thing that is wanted, carried out.

use super::app::App;
use super::ask::ask;
use super::back::back;
use super::dispatch::dispatch;
use super::open::look_up;
use super::questions::{act_as, ask_who};
use super::route::{give, go, tell};
use super::selected::card_for;
use crate::tui::effect::{Deed, Effect};
use crate::tui::line::Line;
use crate::tui::news::{News, ScreenInput};
use crate::tui::next::Next;
use crate::tui::question::Dialog;
use crate::tui::questions::begin_job;
use crate::tui::screen_name::Screen;

/// Carries one thing out that is wanted; returns what it leads to, which is not carried out yet. Who
/// acts is settled here.
pub(super) fn carry_out(app: &mut App, next: Next) -> Next {
    match next {
        Next::Pass | Next::Stay | Next::Do(_) | Next::All(_) => return next,
        Next::Notice(notice) => app.notice = Some(notice),
        Next::Act(deed) => return Next::Do(vec![Effect::Act(deed)]),
        Next::AskWho => return ask_who(app, None),
        Next::Ask(question) => ask(app, question),
        Next::CloseQuestionOf(number) => {
            if let Some(Dialog::Text { only_for, .. }) = &app.dialog
                && only_for.as_ref() == Some(&number)
            {
                app.dialog = None;
            }
        }
        Next::ActAs { name, then } => return act_as(app, name, then),
        Next::Then(then) => return then.take(app.seen()),
        Next::SettingsAgain(key) => app.setting = Some(key),
        Next::Recheck(number) => {
            app.wanted = Some(Screen::Visit);
            return Next::Do(vec![Effect::Act(Deed::Recheck { number })]);
        }
        Next::Demo => {
            app.tour = Some(0);
            return Next::Do(vec![Effect::Demo]);
        }
        Next::Type(c) => {
            if let Some(dialog) = &mut app.dialog {
                dialog.type_letter(c);
            }
        }
        Next::Answer(text) => {
            return give(app, ScreenInput::Answer(&text)).unwrap_or(Next::Stay);
        }
        Next::Card(number) => return Next::Do(card_for(app, number)),
        Next::LookUp(text) => return look_up(app, &text),
        Next::NewJob(name) => return begin_job::ask_wearer(Line::of(&name)),
        Next::GoToField(path) => {
            let next = tell(app, Screen::Job, News::GoTo(&path));
            return next.and(Next::Go(Screen::Job));
        }
        Next::CloseJob => app.close_job(),
        Next::Go(screen) => return go(app, screen),
        Next::Back => return back(app),
        Next::Run(action) => return dispatch(app, action),
    }
    Next::Stay
}
