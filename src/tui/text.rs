//! Text that comes from outside, made fit for one line.

use super::visit_entries::VisitEntry;
use crate::job::fields::clean;

/// Returns one line of pasted text: breaks become single blanks, hidden characters go.
pub(crate) fn one_line(text: &str) -> String {
    clean(text).split_whitespace().collect::<Vec<_>>().join(" ")
}

/// Returns what went wrong and what can be done as sentences of one paragraph.
///
/// The parts come without full stops, as the command line prints them on lines of their own. It also
/// names a key of the visit in brackets, as the file has it: here that is a row of the current page.
pub(crate) fn sentences(message: &str, hints: &[String]) -> String {
    let mut out = message.trim().to_owned();
    for hint in hints {
        end(&mut out);
        out.push(' ');
        out.push_str(&begun(&rows_for_keys(hint.trim())));
    }
    if !hints.is_empty() {
        end(&mut out);
    }
    out
}

fn end(text: &mut String) {
    if !text.ends_with(['.', '!', '?', ':']) {
        text.push('.');
    }
}

/// A sentence with a capital, unless it begins with what is typed, such as a command or an option.
fn begun(text: &str) -> String {
    let first = text.split_whitespace().next().unwrap_or_default();
    let is_typed = first == "rimbook" || !first.chars().all(|c| c.is_alphabetic() || c == ',');
    let mut letters = text.chars();
    match letters.next() {
        Some(letter) if !is_typed => letter.to_uppercase().chain(letters).collect(),
        _ => text.to_owned(),
    }
}

/// Says in which row of the visit's outcome something is entered, for the key that a hint names.
fn rows_for_keys(text: &str) -> String {
    if !text.contains("(visit.") {
        return text.to_owned();
    }
    // On the command line it is recorded, on the screen entered in a row.
    let text = text.replacen("record ", "enter ", 1);
    let last = VisitEntry::ALL.len().saturating_sub(1);
    VisitEntry::ALL
        .iter()
        .enumerate()
        .fold(text, |text, (place, entry)| {
            let row = if place == last {
                "in the last row".to_owned()
            } else {
                format!("in row {}", place + 1)
            };
            text.replace(&format!("(visit.{})", entry.key()), &row)
        })
}

#[cfg(test)]
mod tests {
    use super::{one_line, sentences};

    #[test]
    fn a_message_and_its_hints_are_sentences() {
        let said = |message: &str, hints: &[&str]| {
            let hints: Vec<String> = hints.iter().map(|h| (*h).to_owned()).collect();
            sentences(message, &hints)
        };
        assert_eq!(said("the job is closed", &[]), "the job is closed");
        assert_eq!(
            said(
                "no viewer answers",
                &["set another one", "rimbook help print says how"]
            ),
            "no viewer answers. Set another one. rimbook help print says how."
        );
        assert_eq!(
            said("Is it on?", &["look, then print."]),
            "Is it on? Look, then print."
        );
        assert_eq!(
            said(
                "not decided",
                &["record who was told (visit.warning_told), then decide"]
            ),
            "not decided. Enter who was told in the last row, then decide."
        );
        assert_eq!(
            said("no", &["docs/job-file.md lists them"]),
            "no. docs/job-file.md lists them."
        );
    }

    #[test]
    fn pasted_lines_become_one() {
        assert_eq!(one_line("  Ada\r\n\tBlom \u{1b} "), "Ada Blom");
    }
}
