//! What a screen wants, carried out.

use super::ask::ask;
use super::dispatch;
use super::questions::{act_as, ask_who};
use super::{back, go, look_up, tell, update};
use crate::tui::App;
use crate::tui::effect::{Deed, Effect};
use crate::tui::line::Line;
use crate::tui::news::{News, ScreenInput};
use crate::tui::next::Next;
use crate::tui::question::Dialog;
use crate::tui::questions::begin_job;
use crate::tui::shell::selected::card_for;
use crate::tui::which::Screen;

/// Carries out what a screen wants; who acts is settled here.
pub(crate) fn carry_out(app: &mut App, next: Next) -> Vec<Effect> {
    match next {
        Next::Pass | Next::Stay => Vec::new(),
        Next::Notice(said) => {
            app.said = Some(said);
            Vec::new()
        }
        Next::Do(effects) => effects,
        Next::Act(deed) => vec![Effect::Act(deed)],
        Next::AskWho => {
            ask_who(app, None);
            Vec::new()
        }
        Next::Ask(question) => {
            ask(app, question);
            Vec::new()
        }
        Next::CloseQuestionOf(number) => {
            if let Some(Dialog::Text { asker, .. }) = &app.dialog
                && asker.only_for() == Some(&number)
            {
                app.dialog = None;
            }
            Vec::new()
        }
        Next::ActAs { name, then } => act_as(app, name, then),
        Next::Then(then) => {
            let next = then.take(app.seen());
            carry_out(app, next)
        }
        Next::SettingsAgain(key) => {
            app.setting = Some(key);
            Vec::new()
        }
        Next::Recheck(number) => {
            app.wanted = Some(Screen::Visit);
            vec![Effect::Act(Deed::Recheck { number })]
        }
        Next::Demo => {
            app.tour = Some(0);
            vec![Effect::Demo]
        }
        Next::Type(c) => {
            if let Some(dialog) = &mut app.dialog {
                dialog.type_letter(c);
            }
            Vec::new()
        }
        Next::Answer(text) => update(app, ScreenInput::Answer(&text)).unwrap_or_default(),
        Next::Card(number) => card_for(app, number),
        Next::LookUp(text) => look_up(app, &text),
        Next::NewJob(name) => carry_out(app, begin_job::ask_wearer(Line::of(&name))),
        Next::GoToField(path) => {
            let mut effects = tell(app, Screen::Job, News::GoTo(&path));
            effects.extend(go(app, Screen::Job));
            effects
        }
        Next::Go(screen) => go(app, screen),
        Next::Back => back(app),
        Next::Run(action) => dispatch::act(app, action),
        Next::All(all) => all.into_iter().flat_map(|n| carry_out(app, n)).collect(),
    }
}
