//! Printing from the screens: which sheet is asked, the rest is said.

use crate::book::desk::{Printed, Program};
use crate::text::printable;
use crate::tui::effect::Effect;
use crate::tui::next::{Next, Question};
use crate::tui::seen::Seen;
use crate::views::sheet::SheetKind;

/// Asks for the sheet of a job.
pub(crate) fn ask(number: Option<String>, seen: Seen<'_>) -> Next {
    let Some(number) = number else {
        return Next::complain("No job is selected.");
    };
    let offered = (SheetKind::ALL.iter())
        .map(|what| {
            let print = Effect::Print {
                number: number.clone(),
                what: *what,
            };
            (what.meaning().to_owned(), Next::Do(vec![print]))
        })
        .collect();
    let printing = &seen.practice.printing;
    let does = match (printing.command.is_empty(), printing.viewer.is_empty()) {
        (false, _) => "it goes to the printer",
        (true, false) => "it opens in the viewer",
        (true, true) => "it is written as a PDF",
    };
    Next::Ask(Question::choose(
        format!("Which sheet of job {number}? Enter: {does}."),
        offered,
    ))
}

/// Asks whether a program may run that the book names and nobody set in this account.
pub(crate) fn may_run(number: String, what: SheetKind, program: Program, command: &str) -> Next {
    let agreed = Effect::AgreeAndPrint {
        number,
        what,
        program,
    };
    Next::Ask(Question::choose(
        format!(
            "This book would run a program that was not set in this account: {}",
            printable(command)
        ),
        vec![
            (
                "do not run it".to_owned(),
                Next::say("Nothing was printed and no program was run."),
            ),
            (
                "run it, now and from now on".to_owned(),
                Next::Do(vec![agreed]),
            ),
        ],
    ))
}

/// Says where the sheet is and what could not be printed as it is recorded.
pub(crate) fn said(printed: &Printed) -> Next {
    let file = printed.file.display();
    let handed = printed.handed.unwrap_or("written");
    let mut text = format!("The {} sheet is {handed}: {file}", printed.what.word());
    for note in &printed.notes {
        text.push(' ');
        text.push_str(note);
    }
    if printed.notes.is_empty() {
        Next::say(text)
    } else {
        Next::complain(text)
    }
}
