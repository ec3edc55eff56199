//! What a screen wants, carried out.

use super::{back, go};
use crate::app::effect::Effect;
use crate::app::next::Next;
use crate::app::{App, act, people};

/// Carries out what a screen wants; who acts is settled here.
pub(super) fn carry_out(app: &mut App, next: Next) -> Vec<Effect> {
    match next {
        Next::Pass | Next::Stay => Vec::new(),
        Next::Notice(said) => {
            app.said = Some(said);
            Vec::new()
        }
        Next::Do(effects) => effects,
        Next::Act(deed) => people::by_somebody(app, deed),
        Next::AskWho => {
            people::who(app, None);
            Vec::new()
        }
        Next::Ask(dialog) => {
            app.dialog = Some(dialog);
            Vec::new()
        }
        Next::Go(screen) => go(app, screen),
        Next::Back => back(app),
        Next::Run(action) => act::act(app, action),
        Next::All(all) => all.into_iter().flat_map(|n| carry_out(app, n)).collect(),
    }
}
