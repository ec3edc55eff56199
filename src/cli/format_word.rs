//! A format given where the name of a person belongs: `--as csv` for `--format csv`.

use super::book_place::BookPlace;
use super::output::fail;
use crate::book::desk::{DeskError, ErrorKind};

/// Words that somebody may take for a format of this program.
const FORMATS: [&str; 13] = [
    "csv", "fhir", "html", "ics", "json", "markdown", "md", "pdf", "png", "svg", "text", "txt",
    "xlsx",
];

/// Refuses a format in place of a name, unless somebody of the staff list is called so.
///
/// # Errors
/// [`ErrorKind::Usage`] naming the option for the format.
pub(super) fn no_format(place: &BookPlace, by: Option<&str>) -> Result<(), DeskError> {
    let Some(word) = by.filter(|by| FORMATS.iter().any(|f| f.eq_ignore_ascii_case(by.trim())))
    else {
        return Ok(());
    };
    let desk = place.open()?;
    let is_somebody = desk.staff()?.find(word).is_some();
    // The open book is kept, so that nobody is asked for a secret twice.
    place.keep(desk);
    if is_somebody {
        return Ok(());
    }
    Err(fail(
        ErrorKind::Usage,
        format!(
            "--as names a person, and {word:?} is nobody on the staff list; for the format write --format {word}"
        ),
        &["--help lists the formats of the command"],
    ))
}
