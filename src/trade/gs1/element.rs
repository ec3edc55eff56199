//! Scanned codes: a plain trade item number, or an element string as a scanner sends it or as it is
//! printed below the code.

use super::check_digit::wanted_instead;
use super::error::Gs1Error;
use super::gtin::Gtin;
use super::identifier::{Content, at_start, may_hold, named};
use super::short_date::ShortDate;

/// What ends a part of variable length: group separator (FNC1 as it is sent), or how it is shown.
const SEPARATORS: [&str; 3] = ["\u{1d}", "\u{241d}", "<GS>"];

/// What scanners send before an element string (symbology identifiers of ISO/IEC 15424): GS1-128,
/// Data Matrix, QR, `DotCode` and `DataBar`.
const ELEMENTS_FOLLOW: [&str; 5] = ["]C1", "]d2", "]Q3", "]J1", "]e0"];

/// What they send before a plain number: EAN and UPC codes, interleaved 2 of 5.
const NUMBER_FOLLOWS: [&str; 5] = ["]E0", "]E4", "]E3", "]I1", "]I0"];

/// What a code says.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Scanned {
    /// Trade item number, (01), or a plain EAN, UPC or GTIN.
    pub gtin: Option<Gtin>,
    /// Batch or lot, (10).
    pub lot: Option<String>,
    /// Serial number, (21).
    pub serial: Option<String>,
    /// Day of production, (11).
    pub produced: Option<ShortDate>,
    /// Last day of use, (17).
    pub expires: Option<ShortDate>,
    /// Every other part: identifier and value.
    pub others: Vec<(&'static str, String)>,
}

/// Reads a code: plain figures (GTIN-8, -12, -13, -14), an element string with or without its
/// symbology identifier and group separators, or the printed form with identifiers in brackets.
///
/// # Errors
/// [`Gs1Error`]: what is wrong and what to do. A wrong check digit is always told; nothing is
/// guessed or left out.
pub fn read(text: &str) -> Result<Scanned, Gs1Error> {
    let text = text.trim_matches(|c: char| c == ' ' || c == '\r' || c == '\n' || c == '\t');
    if text.is_empty() {
        return Err(Gs1Error::Empty);
    }
    let follows = |before: [&str; 5]| before.iter().find_map(|b| text.strip_prefix(b));
    if let Some(number) = follows(NUMBER_FOLLOWS) {
        return number_alone(number);
    }
    if let Some(elements) = follows(ELEMENTS_FOLLOW) {
        return sent(elements);
    }
    if text.starts_with('(') {
        return printed(text);
    }
    if separator(text).is_some() {
        return sent(text);
    }
    // Plain figures of a trade item number's length are one; 16 and more begin with (01).
    let figures = text.bytes().filter(u8::is_ascii_digit).count();
    let is_number = text.bytes().all(|b| b.is_ascii_digit() || b == b' ');
    if is_number && figures < 16 {
        return number_alone(text);
    }
    if text.starts_with("01") {
        sent(text)
    } else {
        Err(Gs1Error::NoCode)
    }
}

fn number_alone(text: &str) -> Result<Scanned, Gs1Error> {
    Ok(Scanned {
        gtin: Some(Gtin::read(text)?),
        ..Scanned::default()
    })
}

/// The separator at the beginning of `text`.
fn separator(text: &str) -> Option<&'static str> {
    SEPARATORS.into_iter().find(|s| text.starts_with(s))
}

/// Where the next separator begins, the end of `text` where there is none.
fn until_separator(text: &str) -> usize {
    SEPARATORS
        .iter()
        .filter_map(|s| text.find(s))
        .min()
        .unwrap_or(text.len())
}

/// Reads an element string as a scanner sends it.
fn sent(text: &str) -> Result<Scanned, Gs1Error> {
    let mut scanned = Scanned::default();
    let mut rest = text;
    loop {
        while let Some(after) = separator(rest).and_then(|s| rest.strip_prefix(s)) {
            rest = after;
        }
        if rest.is_empty() {
            return Ok(scanned);
        }
        let (identifier, content) = at_start(rest).ok_or_else(|| unknown(rest))?;
        let after = rest.strip_prefix(identifier).unwrap_or_default();
        let end = until_separator(after);
        let end = match content {
            Content::Figures(n) | Content::Checked(n) => end.min(n),
            Content::Date => end.min(6),
            Content::FiguresTo(_) | Content::TextTo(_) => end,
        };
        // Only ASCII is within the first characters of a part that is read on.
        let Some((value, next)) = after.split_at_checked(end) else {
            return Err(Gs1Error::Characters { identifier });
        };
        take(&mut scanned, identifier, content, value)?;
        rest = next;
    }
}

/// Reads the form printed below a code: `(01)09506000134352(10)AB-123`.
fn printed(text: &str) -> Result<Scanned, Gs1Error> {
    let mut scanned = Scanned::default();
    let mut rest = text;
    while !rest.is_empty() {
        let (inside, after) = bracket(rest).ok_or(Gs1Error::NoCode)?;
        let (identifier, content) = named(inside).ok_or_else(|| unknown(inside))?;
        // A value may hold brackets itself, but hardly two to four figures in them.
        let end = after
            .match_indices('(')
            .map(|(at, _)| at)
            .find(|at| after.get(*at..).and_then(bracket).is_some())
            .unwrap_or(after.len());
        let (value, next) = after.split_at_checked(end).unwrap_or((after, ""));
        take(&mut scanned, identifier, content, value.trim())?;
        rest = next;
    }
    Ok(scanned)
}

/// The two to four figures in brackets at the beginning, and what follows them.
fn bracket(text: &str) -> Option<(&str, &str)> {
    let (inside, after) = text.strip_prefix('(')?.split_once(')')?;
    let is_identifier =
        (2..=4).contains(&inside.len()) && inside.bytes().all(|b| b.is_ascii_digit());
    is_identifier.then_some((inside, after))
}

fn unknown(text: &str) -> Gs1Error {
    Gs1Error::UnknownIdentifier {
        identifier: text
            .chars()
            .take(4)
            .take_while(char::is_ascii_alphanumeric)
            .collect(),
    }
}

/// Checks one part and keeps it.
fn take(
    scanned: &mut Scanned,
    identifier: &'static str,
    content: Content,
    value: &str,
) -> Result<(), Gs1Error> {
    check(identifier, content, value)?;
    let text = |kept: &mut Option<String>| once(identifier, kept, value.to_owned(), Clone::clone);
    match identifier {
        "01" => once(identifier, &mut scanned.gtin, Gtin::read(value)?, |gtin| {
            gtin.fourteen()
        }),
        "10" => text(&mut scanned.lot),
        "21" => text(&mut scanned.serial),
        "11" => date(identifier, &mut scanned.produced, value),
        "17" => date(identifier, &mut scanned.expires, value),
        _ => {
            scanned.others.push((identifier, value.to_owned()));
            Ok(())
        }
    }
}

fn date(
    identifier: &'static str,
    kept: &mut Option<ShortDate>,
    value: &str,
) -> Result<(), Gs1Error> {
    let date = ShortDate::read(value).ok_or(Gs1Error::Date { identifier })?;
    once(identifier, kept, date, |date| date.figures())
}

/// Keeps a value unless another is kept.
fn once<T: PartialEq>(
    identifier: &'static str,
    kept: &mut Option<T>,
    value: T,
    words: impl Fn(&T) -> String,
) -> Result<(), Gs1Error> {
    match kept {
        Some(first) if *first != value => Err(Gs1Error::Twice {
            identifier,
            first: words(first),
            second: words(&value),
        }),
        _ => {
            *kept = Some(value);
            Ok(())
        }
    }
}

/// Refuses a value of the wrong length, of other characters or with a wrong check digit.
fn check(identifier: &'static str, content: Content, value: &str) -> Result<(), Gs1Error> {
    let found = value.chars().count();
    let (fits, wanted) = match content {
        Content::Figures(n) | Content::Checked(n) => (found == n, n.to_string()),
        Content::Date => (found == 6, "6".to_owned()),
        Content::FiguresTo(n) | Content::TextTo(n) => {
            ((1..=n).contains(&found), format!("1 to {n}"))
        }
    };
    if !fits {
        return Err(Gs1Error::Part {
            identifier,
            found,
            wanted,
        });
    }
    let is_text = matches!(content, Content::TextTo(_));
    let belongs = |c: char| c.is_ascii_digit() || (is_text && may_hold(c));
    if !value.chars().all(belongs) {
        return Err(Gs1Error::Characters { identifier });
    }
    match (content, wanted_instead(value)) {
        (Content::Checked(_), Some(wanted)) => Err(Gs1Error::CheckDigit {
            digits: value.to_owned(),
            wanted,
        }),
        _ => Ok(()),
    }
}
