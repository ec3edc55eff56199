//! Printing from the screens: which sheet is asked, the rest is said.

use crate::app::effect::Effect;
use crate::app::question::ChoiceAsker;
use crate::app::selected::selected;
use crate::app::{App, Screen};
use crate::desk::Printed;
use crate::sheet::SheetKind;

/// Asks for the sheet of the job in front.
pub(crate) fn ask(app: &mut App) -> Vec<Effect> {
    let number = match app.screen {
        Screen::Worklist => selected(app).map(str::to_owned),
        _ => app.job.as_ref().map(|j| j.open.number.clone()),
    };
    let Some(number) = number else {
        app.complain("No job is selected.");
        return Vec::new();
    };
    let offered = (SheetKind::ALL.iter())
        .map(|w| (w.meaning().to_owned(), *w))
        .collect();
    let does = match (
        app.practice.printing.command.is_empty(),
        app.practice.printing.viewer.is_empty(),
    ) {
        (false, _) => "it goes to the printer",
        (true, false) => "it opens in the viewer",
        (true, true) => "it is written as a PDF",
    };
    app.choose(
        format!("Which sheet of job {number}? Enter: {does}."),
        offered,
        WhichSheet { number },
    );
    Vec::new()
}

/// Which sheet of a job is printed.
#[derive(Debug)]
struct WhichSheet {
    number: String,
}

impl ChoiceAsker for WhichSheet {
    type Answer = SheetKind;

    fn answered(self, _app: &mut App, what: SheetKind) -> Vec<Effect> {
        vec![Effect::Print {
            number: self.number,
            what,
        }]
    }
}

/// Says where the sheet is and what could not be printed as it is recorded.
pub(crate) fn said(app: &mut App, printed: &Printed) -> Vec<Effect> {
    let file = printed.file.display();
    let handed = printed.handed.unwrap_or("written");
    let mut text = format!("The {} sheet is {handed}: {file}", printed.what.word());
    for note in &printed.notes {
        text.push(' ');
        text.push_str(note);
    }
    if printed.notes.is_empty() {
        app.say(text);
    } else {
        app.complain(text);
    }
    Vec::new()
}
