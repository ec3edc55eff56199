//! Distance acuities as a practice writes them, as logMAR: fractions (`6/9-2`, `20/30`), decimals
//! (`0.8`, `0,8`) and logMAR itself (`logMAR 0.1`).
//!
//! One line of a chart is 0.1 logMAR, and five letters are a line: Bailey and Lovie, New design
//! principles for visual acuity letter charts, 1976 (from memory). On a chart with other steps or
//! other counts of letters that is an approximation.

/// Size of one line of a chart, logMAR (Bailey and Lovie 1976, from memory).
pub const LINE_LOG_MAR: f64 = 0.1;

/// Size of one letter, logMAR: five letters a line (Bailey and Lovie 1976, from memory).
const LETTER_LOG_MAR: f64 = 0.02;

/// Usual test distances of a fraction, metres or feet.
const DISTANCES: [f64; 9] = [1.0, 2.0, 3.0, 4.0, 5.0, 6.0, 10.0, 15.0, 20.0];

/// Words that may precede an acuity: the eye, or a word for acuity.
const LABELS: [&str; 22] = [
    "r", "l", "re", "le", "od", "os", "ou", "b", "be", "bin", "binoc", "bino", "both", "right",
    "left", "va", "dva", "dist", "distance", "logmar", "lm", "cc",
];

/// The labels among them that begin what was read of another eye.
const EYES: [&str; 15] = [
    "r", "l", "re", "le", "od", "os", "ou", "b", "be", "bin", "binoc", "bino", "both", "right",
    "left",
];

/// Words for an acuity read through a pinhole.
const PINHOLE: [&str; 7] = [
    "pinhole", "pin-hole", "pin hole", "p/h", "p.h.", "p.h", "ph",
];

/// Replaces any of them in the text; no practice writes this character.
const THROUGH_PINHOLE: &str = "\u{1}";

/// Words that mark a bare number as logMAR.
const LOG_WORDS: [&str; 3] = ["logmar", "log", "lm"];

/// Returns the best acuity in a text, as logMAR (0 is 6/6, less is better); `None`
/// where no part of it is a number of a distance chart.
///
/// A bare number with a decimal point is a decimal acuity; where the text says logMAR anywhere, it is
/// logMAR. A bare whole number, near acuities (`N5`, `J1`, `0.8M`) and words are no number.
///
/// What follows the word for a pinhole (`6/18 PH 6/6`) is what the eye might see and not what it sees
/// with the lens: it is skipped up to the next eye. Where no acuity follows (`6/6 PH`), the word is
/// about the acuity before it.
pub fn best_log_mar(text: &str) -> Option<f64> {
    let plain = plain(text);
    let says_log = says_log_mar(&plain);
    let pieces = plain
        .split(|c: char| c.is_whitespace() || matches!(c, ';' | '|' | '(' | ')'))
        .flat_map(parts);
    let mut eyes = vec![OfEye::default()];
    for part in pieces {
        let (label, rest) = labelled(&part);
        if EYES.contains(&label) {
            eyes.push(OfEye::default());
        }
        if let Some(eye) = eyes.last_mut() {
            eye.take(rest, says_log);
        }
    }
    eyes.into_iter()
        .flat_map(OfEye::without_pinhole)
        .min_by(f64::total_cmp)
}

/// The acuities of one eye that have been read so far, logMAR.
#[derive(Debug, Default)]
struct OfEye {
    read: Vec<f64>,
    /// Set after a word for a pinhole: whether any text followed it.
    pinhole: Option<bool>,
}

impl OfEye {
    fn take(&mut self, part: &str, says_log: bool) {
        if part == THROUGH_PINHOLE {
            self.pinhole = self.pinhole.or(Some(false));
        } else if let Some(is_followed) = &mut self.pinhole {
            *is_followed |= part.contains(char::is_alphanumeric);
        } else {
            self.read.extend(log_mar(part, says_log));
        }
    }

    fn without_pinhole(mut self) -> Vec<f64> {
        if self.pinhole == Some(false) {
            self.read.pop();
        }
        self.read
    }
}

/// Returns a text in small letters, with one sign for minus and one for a pinhole, blanks around it.
fn plain(text: &str) -> String {
    let lower = text.to_lowercase().replace(['−', '–'], "-");
    let mut plain = String::with_capacity(lower.len());
    let mut rest = lower.as_str();
    while let Some(next) = rest.chars().next() {
        let is_free = !plain.ends_with(char::is_alphabetic);
        let after = PINHOLE
            .iter()
            .filter(|_| is_free)
            .filter_map(|word| rest.strip_prefix(word))
            .find(|after| !after.starts_with(char::is_alphabetic));
        if let Some(after) = after {
            plain.extend([" ", THROUGH_PINHOLE, " "]);
            // As in `PH: 6/6`.
            rest = after.trim_start_matches([':', '=', '.']);
        } else {
            plain.push(next);
            rest = rest.get(next.len_utf8()..).unwrap_or_default();
        }
    }
    plain
}

/// Whether what was written is read as a decimal of less than 0.32 (6/19) and might be logMAR without
/// its word: 0.1 is 6/60 as a decimal and 6/7.5 as logMAR.
pub(crate) fn might_be_log_mar(text: &str) -> bool {
    let plain = plain(text);
    let is_bare = !plain.contains('/') && !says_log_mar(&plain);
    is_bare && best_log_mar(text).is_some_and(|read| read > 0.5)
}

fn says_log_mar(plain: &str) -> bool {
    plain
        .split(|c: char| !c.is_alphabetic())
        .any(|word| LOG_WORDS.contains(&word))
}

/// Divides a piece without blanks at its commas, unless the only comma is a decimal one.
fn parts(piece: &str) -> Vec<String> {
    let commas = piece.matches(',').count();
    let slashes = piece.matches('/').count();
    let (before, after) = piece.split_once(',').unwrap_or((piece, ""));
    let is_between_digits = before.ends_with(|c: char| c.is_ascii_digit())
        && after.starts_with(|c: char| c.is_ascii_digit());
    // `0,8` and `6/7,5` are one number, `6/6,6/9` are two.
    if commas == 1 && is_between_digits && slashes <= 1 && !after.contains('/') {
        return vec![piece.replace(',', ".")];
    }
    piece.split(',').map(str::to_owned).collect()
}

/// Returns the label written directly before an acuity, such as `R` in `R:6/9`, and the acuity.
fn labelled(part: &str) -> (&str, &str) {
    let end = part
        .find(|c: char| !c.is_alphabetic())
        .unwrap_or(part.len());
    let (label, rest) = part.split_at(end);
    let rest = rest.trim_start_matches([':', '=']);
    if label.is_empty() || LABELS.contains(&label) {
        (label, rest)
    } else {
        ("", part)
    }
}

/// Returns one part as logMAR.
fn log_mar(part: &str, says_log: bool) -> Option<f64> {
    let (negative, unsigned) = match part.strip_prefix('-') {
        Some(rest) => (true, rest),
        None => (false, part.strip_prefix('+').unwrap_or(part)),
    };
    let is_signed = unsigned.len() < part.len();
    let is_number = |c: char| c.is_ascii_digit() || matches!(c, '.' | '/');
    let end = unsigned
        .find(|c: char| !is_number(c))
        .unwrap_or(unsigned.len());
    let (number, tail) = unsigned.split_at(end);
    let letters = letters_log_mar(tail)?;
    let line = if let Some((distance, read)) = number.split_once('/') {
        let distance: f64 = distance.parse().ok()?;
        let read: f64 = read.parse().ok()?;
        let is_usual = DISTANCES.iter().any(|d| (d - distance).abs() < 1e-9);
        (is_usual && !is_signed && (3.0..=999.0).contains(&read))
            .then(|| (read / distance).log10())?
    } else {
        let value: f64 = number.parse().ok()?;
        if says_log {
            let value = if negative { -value } else { value };
            let is_written_so = number.contains('.') || matches!(number, "0" | "1");
            (is_written_so && (-0.5..=3.0).contains(&value)).then_some(value)?
        } else {
            let is_decimal = number.contains('.') && !is_signed;
            (is_decimal && (0.01..=2.5).contains(&value)).then(|| -value.log10())?
        }
    };
    Some(line + letters)
}

/// Returns the logMAR of letters more or fewer on the line (`-2`, `+1`); `None` for any other
/// ending. A line said to be read in part (`p`) counts as read.
fn letters_log_mar(tail: &str) -> Option<f64> {
    let (sign, count) = match tail.chars().next() {
        None => return Some(0.0),
        Some('+') => (-1.0, tail.get(1..)?),
        Some('-') => (1.0, tail.get(1..)?),
        Some(_) => return matches!(tail, "p" | "pt" | "part").then_some(0.0),
    };
    let count: u8 = if count.is_empty() {
        1
    } else {
        count.parse().ok().filter(|n| *n < 10)?
    };
    Some(sign * LETTER_LOG_MAR * f64::from(count))
}

#[cfg(test)]
mod tests {
    use super::best_log_mar;

    fn is(text: &str, wanted: f64) {
        let read = best_log_mar(text).unwrap_or_else(|| panic!("{text} is not read"));
        assert!((read - wanted).abs() < 0.005, "{text}: {read}");
    }

    /// The table of equivalents of a Bailey-Lovie chart (from memory).
    #[test]
    fn fractions_decimals_and_log_mar_of_one_line_are_one() {
        for (metres, feet, decimal, wanted) in [
            ("6/60", "20/200", "0.10", 1.0),
            ("6/30", "20/100", "0.20", 0.7),
            ("6/24", "20/80", "0.25", 0.6),
            ("6/12", "20/40", "0.50", 0.3),
            ("6/9.5", "20/32", "0.63", 0.2),
            ("6/7.5", "20/25", "0.80", 0.1),
            ("6/6", "20/20", "1.0", 0.0),
            ("6/4.8", "20/16", "1.25", -0.1),
        ] {
            for text in [metres, feet, decimal] {
                is(text, wanted);
            }
            is(&format!("logMAR {wanted:.1}"), wanted);
        }
    }

    #[test]
    fn acuities_are_read_as_a_practice_writes_them() {
        for (text, wanted) in [
            ("6/9-2", 0.176 + 0.04),
            ("6/5+1", -0.079 - 0.02),
            ("6/9-", 0.176 + 0.02),
            ("6/6p", 0.0),
            ("3/60", 1.301),
            ("R 6/9 L 6/6", 0.0),
            ("RE: 6/12, LE: 6/18", 0.301),
            ("R6/9;L6/12", 0.176),
            ("6/9,6/12", 0.176),
            ("6/7,5", 0.097),
            ("0,8", 0.097),
            ("OD=0.5 OS=0.63", 0.2),
            (".8", 0.097),
            ("0.16 logMAR", 0.16),
            ("LogMAR: −0.08", -0.08),
            ("R 0.1 L 0.2 logMAR", 0.1),
            ("logmar0.10", 0.1),
            ("log 0", 0.0),
            ("R counts fingers L 6/60", 1.0),
            ("6/6 N5", 0.0),
            ("0.8,1.0,1.2", -0.079),
        ] {
            is(text, wanted);
        }
    }

    /// A pinhole shows what better lenses might give: common practice in low vision and refraction.
    #[test]
    fn what_was_read_through_a_pinhole_is_not_what_the_pair_gives() {
        for (text, wanted) in [
            ("6/18 PH 6/6", 0.477),
            ("6/18 ph: 6/6", 0.477),
            ("6/18 P/H 6/6", 0.477),
            ("6/18 Pinhole 6/6", 0.477),
            ("6/18 pin hole 6/6", 0.477),
            ("6/18 p.h. 6/6", 0.477),
            ("6/18 (PH 6/6)", 0.477),
            ("6/18(ph6/6)", 0.477),
            ("6/18ph6/6", 0.477),
            ("6/18, PH=6/9, 6/6", 0.477),
            ("6/18 PH NI", 0.477),
            ("6/18 PH no improvement", 0.477),
            ("6/18, 6/6 with pinhole", 0.477),
            ("R 6/18 PH 6/6 L 6/9", 0.176),
            ("R 6/18 PH 6/6, L6/12 PH 6/5", 0.301),
            ("OD 0.3 ph 1.0 OS 0.5", 0.301),
            ("logMAR 0.5 PH 0.0", 0.5),
        ] {
            is(text, wanted);
        }
        for text in [
            "PH 6/6",
            "6/6 PH",
            "6/6 (pinhole)",
            "6/6ph",
            "R PH 6/6 L P/H 6/9",
        ] {
            assert_eq!(best_log_mar(text), None, "{text}");
        }
        assert!(super::might_be_log_mar("0.1 p/h 0.8"));
        is("6/12 phoropter", 0.301);
    }

    #[test]
    fn a_small_decimal_without_a_word_might_be_log_mar() {
        for (text, might) in [
            ("0.1", true),
            ("R 0.2 L 0.1", true),
            ("0.5", false),
            ("R 0.2 L 0.8", false),
            ("logMAR 0.1", false),
            ("logMAR 1.0", false),
            ("6/60", false),
            ("good", false),
        ] {
            assert_eq!(super::might_be_log_mar(text), might, "{text}");
        }
    }

    #[test]
    fn what_is_no_number_of_a_distance_chart_stays_in_words() {
        for text in [
            "",
            "counts fingers",
            "HM",
            "NPL",
            "6/",
            "0/6",
            "/6",
            "6/6/6",
            "12/10/2026",
            "N5",
            "N4.5",
            "J1",
            "0.8M",
            "M0.8",
            "m 6",
            "1",
            "6",
            "0.0",
            "-0.1",
            "3.5",
            "7/9",
            "6/2",
            "good",
            "6/x",
            "ß/6",
            "6/９",
            "logmar",
            "1e3",
            "nan",
            "inf",
            "6/inf",
        ] {
            assert_eq!(best_log_mar(text), None, "{text}");
        }
    }
}
