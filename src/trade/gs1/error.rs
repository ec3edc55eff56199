//! Why a code was not read.

/// Why a code was not read, as a sentence that says what to do.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum Gs1Error {
    /// Nothing was scanned.
    #[error("nothing was scanned: scan the code, or type the number below it")]
    Empty,
    /// Neither a trade item number nor an element string.
    #[error(
        "this is no GS1 code: scan the code with the number (01) beside it, or type the identifier"
    )]
    NoCode,
    /// Something other than figures where figures belong.
    #[error("a trade item number has figures only: scan the code again, or type its figures")]
    NotFigures,
    /// A number of figures that no trade item number has.
    #[error(
        "a trade item number has 8, 12, 13 or 14 figures, not {found}: scan the code again, or type all of them"
    )]
    GtinLength {
        /// How many there are.
        found: usize,
    },
    /// The last figure is not the one that the others give.
    #[error("the check digit of {digits} is {last}, its other figures give {wanted}: scan the code again, or compare it with the label", last = .digits.chars().next_back().unwrap_or(' '))]
    CheckDigit {
        /// The figures as they were scanned.
        digits: String,
        /// The check digit that the others give.
        wanted: u32,
    },
    /// An identifier that is in no table here.
    #[error(
        "the code has a part ({identifier}) that is not known here: type identifier and lot from the label"
    )]
    UnknownIdentifier {
        /// Its first figures.
        identifier: String,
    },
    /// A part that is too short, too long or of other characters than it should be.
    #[error(
        "the part ({identifier}) of the code has {found} characters where {wanted} belong: scan the code again"
    )]
    Part {
        /// The identifier of the part.
        identifier: &'static str,
        /// How many characters there are.
        found: usize,
        /// What belongs there, in words.
        wanted: String,
    },
    /// A part with characters that the system does not have.
    #[error(
        "the part ({identifier}) of the code has characters that do not belong in it: scan the code again"
    )]
    Characters {
        /// The identifier of the part.
        identifier: &'static str,
    },
    /// A date that no calendar has.
    #[error("the part ({identifier}) of the code is no date: scan the code again")]
    Date {
        /// The identifier of the part.
        identifier: &'static str,
    },
    /// One identifier with two values.
    #[error(
        "the code gives ({identifier}) twice, as {first} and as {second}: type identifier and lot from the label"
    )]
    Twice {
        /// The identifier.
        identifier: &'static str,
        /// Its first value.
        first: String,
        /// Its second value.
        second: String,
    },
}
