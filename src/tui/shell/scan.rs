//! A tray that was scanned: its job is opened, on whatever screen.
//!
//! What is being typed into a form is in the book as a draft already and is found there again. A
//! question whose answer is half given stays; the scan then says so and does nothing.

use super::app::App;
use super::route::{scanned_here, tell};
use super::run::run;
use crate::job::Stage;
use crate::tui::effect::{Effect, Opened};
use crate::tui::news::News;
use crate::tui::next::Next;
use crate::tui::screen_name::Screen;

/// Takes the number in a tray's code.
pub(crate) fn scanned(app: &mut App, number: String) -> Vec<Effect> {
    if let Some(lock) = &mut app.lock {
        lock.error = Some(
            "The screen is locked, so the scan opened nothing: sign in, then scan again."
                .to_owned(),
        );
        return Vec::new();
    }
    app.notice = None;
    if app.screen == Screen::Welcome {
        app.complain("There is no book yet, so the scan opened nothing.");
        return Vec::new();
    }
    if app.dialog.as_ref().is_some_and(|d| !d.can_be_left()) {
        app.complain("First answer what is asked, or leave it with Esc; then scan again.");
        return Vec::new();
    }
    app.dialog = None;
    match scanned_here(app, &number) {
        Next::Pass => vec![Effect::OpenScanned(number)],
        next => run(app, next),
    }
}

/// Opens the job of the tray at what is to be done next: an ordered one at its readings.
pub(crate) fn arrived(app: &mut App, opened: &Opened) {
    let (number, stage) = (&opened.open.number, opened.open.job.stage());
    let next = tell(app, Screen::Job, News::FromTray);
    let _nothing = run(app, next);
    let is_typed = app.states.form().is_some_and(|f| f.edit().is_some());
    match stage {
        Stage::Cancelled => app.complain(format!(
            "Job {number} is {}: nothing is to be done for this tray.",
            opened.open.job.stage_words()
        )),
        Stage::Collected => app.complain(format!(
            "Job {number} is collected already: this tray should be free."
        )),
        _ if is_typed => {
            let keys = app.keymap.kept_or_dropped();
            app.say(format!(
                "Job {number}. An entry of it is still being typed: {keys}."
            ));
        }
        Stage::Ordered => app.say(format!(
            "Job {number}, from its tray: type what is read of the pair."
        )),
        Stage::Measured | Stage::Verified => app.say(format!("Job {number}, from its tray.")),
    }
}
