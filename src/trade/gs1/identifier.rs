//! The identifiers of element strings, and how long what follows each may be.
//!
//! Source: GS1's Barcode Syntax Dictionary (General Specifications, chapter 3). Left out are those of
//! parcels, coupons and payments, which no frame or lens bears.

/// What follows an identifier.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Content {
    /// So many figures.
    Figures(usize),
    /// So many figures of which the last is a check digit.
    Checked(usize),
    /// A date, YYMMDD.
    Date,
    /// Up to so many figures.
    FiguresTo(usize),
    /// Up to so many characters.
    TextTo(usize),
}

/// The identifiers of two to four figures, in the order of the dictionary.
const TABLE: [(&str, Content); 46] = [
    ("00", Content::Checked(18)),
    ("01", Content::Checked(14)),
    ("02", Content::Checked(14)),
    ("10", Content::TextTo(20)),
    ("11", Content::Date),
    ("12", Content::Date),
    ("13", Content::Date),
    ("15", Content::Date),
    ("16", Content::Date),
    ("17", Content::Date),
    ("20", Content::Figures(2)),
    ("21", Content::TextTo(20)),
    ("22", Content::TextTo(20)),
    ("235", Content::TextTo(28)),
    ("240", Content::TextTo(30)),
    ("241", Content::TextTo(30)),
    ("242", Content::FiguresTo(6)),
    ("243", Content::TextTo(20)),
    ("250", Content::TextTo(30)),
    ("251", Content::TextTo(30)),
    ("30", Content::FiguresTo(8)),
    ("37", Content::FiguresTo(8)),
    ("400", Content::TextTo(30)),
    ("410", Content::Checked(13)),
    ("411", Content::Checked(13)),
    ("412", Content::Checked(13)),
    ("413", Content::Checked(13)),
    ("414", Content::Checked(13)),
    ("415", Content::Checked(13)),
    ("416", Content::Checked(13)),
    ("417", Content::Checked(13)),
    ("422", Content::Figures(3)),
    ("8012", Content::TextTo(20)),
    ("8013", Content::TextTo(25)),
    ("8014", Content::TextTo(25)),
    ("90", Content::TextTo(30)),
    ("91", Content::TextTo(90)),
    ("92", Content::TextTo(90)),
    ("93", Content::TextTo(90)),
    ("94", Content::TextTo(90)),
    ("95", Content::TextTo(90)),
    ("96", Content::TextTo(90)),
    ("97", Content::TextTo(90)),
    ("98", Content::TextTo(90)),
    ("99", Content::TextTo(90)),
    ("710", Content::TextTo(20)),
];

/// Returns the identifier at the beginning of `text` and what follows it.
pub(super) fn at_start(text: &str) -> Option<(&'static str, Content)> {
    TABLE
        .iter()
        .find(|(identifier, _)| text.starts_with(identifier))
        .copied()
}

/// Returns the identifier that `text` is.
pub(super) fn named(text: &str) -> Option<(&'static str, Content)> {
    at_start(text).filter(|(identifier, _)| *identifier == text)
}

/// Whether a character may be in the value of an identifier: the 82 of ISO 646 that the General
/// Specifications allow (figure of section 7.11).
pub(super) fn may_hold(c: char) -> bool {
    c.is_ascii_alphanumeric() || "!\"%&'()*+,-./:;<=>?_".contains(c)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_identifier_begins_another() {
        for (one, _) in TABLE {
            let beginning = TABLE.iter().filter(|(other, _)| other.starts_with(one));
            assert_eq!(beginning.count(), 1, "{one}");
        }
    }

    #[test]
    fn there_are_82_characters() {
        assert_eq!(('\0'..='\u{ff}').filter(|c| may_hold(*c)).count(), 82);
    }
}
