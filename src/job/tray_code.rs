//! The code on a tray sheet: a job's number as a scanner reads it, with a character that proves it.
//!
//! A scanner types what it reads as if it were a keyboard. The code therefore says by itself that it
//! is one: `R`, the number, and a check character by ISO/IEC 7064:2003, MOD 37,36, over both. That
//! check finds every single wrong character and about 99 of 100 swaps of two neighbours, so one
//! damaged or mistyped place opens no other wearer's job. Letters are capitals and there are no other marks:
//! every keyboard layout types those alike.

/// Begins every code.
const PREFIX: char = 'R';

/// The longest number a code holds: a longer one would not fit the label as bars.
const LONGEST: usize = 20;

/// The check characters, and the characters a number may have, in the order of their values.
const ALPHABET: &[u8; 36] = b"0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ";

/// Returns the code for a job's number.
///
/// `None` for a number that has no code: empty, longer than 20 characters, with anything but
/// digits and capital letters, or without any digit (a code for `OBERT` would be a name that begins
/// with R). The numbers that the book gives are digits and always have a code.
///
/// # Example
/// ```
/// use rimbook::testing::job::tray_code::{decode, encode};
///
/// let code = encode("1042").unwrap();
/// assert_eq!(decode(&code).as_deref(), Some("1042"));
/// assert_eq!(decode("R1043").as_deref(), None, "the check character does not fit");
/// ```
pub fn encode(number: &str) -> Option<String> {
    if !has_code(number) {
        return None;
    }
    let mut code = String::with_capacity(number.len() + 2);
    code.push(PREFIX);
    code.push_str(number);
    let check = check_character(&code)?;
    code.push(check);
    Some(code)
}

/// Returns the job's number when a text is a code, as a scanner typed it.
///
/// Blanks and line ends around it, a symbology identifier before it (ISO/IEC 15424, such as `]C0`
/// or `]Q1`) and small letters (a scanner under Caps Lock) are allowed. `None` when it is no code or
/// the check character does not fit.
pub fn decode(text: &str) -> Option<String> {
    let text = without_identifier(text.trim()).to_ascii_uppercase();
    let rest = text.strip_prefix(PREFIX)?;
    let mut characters = rest.chars();
    let check = characters.next_back()?;
    let number = characters.as_str();
    if !has_code(number) {
        return None;
    }
    let expected = check_character(text.strip_suffix(check)?)?;
    (check == expected).then(|| number.to_owned())
}

/// Whether a code can stand for the number.
fn has_code(number: &str) -> bool {
    (1..=LONGEST).contains(&number.len())
        && number
            .bytes()
            .all(|b| b.is_ascii_uppercase() || b.is_ascii_digit())
        && number.bytes().any(|b| b.is_ascii_digit())
}

/// Leaves a symbology identifier out: `]`, the code's letter and one character that says more.
fn without_identifier(text: &str) -> &str {
    let Some(rest) = text.strip_prefix(']') else {
        return text;
    };
    let mut characters = rest.chars();
    match (characters.next(), characters.next()) {
        (Some(kind), Some(modifier))
            if kind.is_ascii_alphabetic() && modifier.is_ascii_alphanumeric() =>
        {
            characters.as_str()
        }
        _ => text,
    }
}

/// Returns the check character of ISO/IEC 7064, MOD 37,36; `None` for text outside its alphabet.
fn check_character(text: &str) -> Option<char> {
    let mut product = 36;
    for byte in text.bytes() {
        let value = ALPHABET.iter().position(|&a| a == byte)?;
        let sum = match (product + value) % 36 {
            0 => 36,
            other => other,
        };
        product = sum * 2 % 37;
    }
    ALPHABET.get((37 - product) % 36).map(|&b| char::from(b))
}

#[cfg(test)]
#[allow(clippy::unwrap_used, reason = "tests")]
mod tests {
    use super::{ALPHABET, check_character, decode, encode};

    #[test]
    fn the_check_character_agrees_with_a_published_identifier() {
        // The example of the Global Release Identifier standard: A1-2425G-ABC1234002-M.
        assert_eq!(check_character("A12425GABC1234002"), Some('M'));
        assert_eq!(check_character("a1"), None, "outside the alphabet");
    }

    #[test]
    fn numbers_come_back_from_their_codes() {
        for number in [
            "1",
            "1001",
            "9999",
            "12345678901234567890",
            "A17",
            "R1",
            "0",
        ] {
            let code = encode(number).unwrap();
            assert!(code.starts_with('R'));
            assert!(code.bytes().all(|b| ALPHABET.contains(&b)), "{code}");
            assert_eq!(decode(&code).as_deref(), Some(number));
        }
    }

    #[test]
    fn a_number_that_letters_and_digits_cannot_hold_has_no_code() {
        for number in [
            "",
            "17/2",
            "a17",
            "17 ",
            "17\n",
            "é1",
            "ABC",
            "123456789012345678901",
        ] {
            assert_eq!(encode(number), None, "{number:?}");
        }
    }

    #[test]
    fn what_a_scanner_puts_around_the_code_is_left_out() {
        let code = encode("1042").unwrap();
        for typed in [
            format!("]C0{code}"),
            format!("]Q1{code}\r\n"),
            format!("  {code}\t"),
            code.to_lowercase(),
            format!("]c0{}", code.to_lowercase()),
        ] {
            assert_eq!(decode(&typed).as_deref(), Some("1042"), "{typed:?}");
        }
    }

    #[test]
    fn what_is_no_code_opens_nothing() {
        let code = encode("1042").unwrap();
        for typed in [
            "",
            "R",
            "RR",
            "]",
            "]C",
            "]C0",
            "1042",
            "ROBERTS",
            "R\u{130}1",
            "Rø1K",
        ] {
            assert_eq!(decode(typed), None, "{typed:?}");
        }
        assert_eq!(decode(&format!("{code}{code}")), None);
        assert_eq!(decode(&format!("x{code}")), None);
    }

    #[test]
    fn every_single_wrong_character_is_found() {
        for number in ["1042", "99999", "A0Z9"] {
            let code = encode(number).unwrap();
            for at in 1..code.len() {
                for wrong in ALPHABET.iter().filter(|&&w| code.as_bytes()[at] != w) {
                    let mut typed = code.clone().into_bytes();
                    typed[at] = *wrong;
                    let typed = String::from_utf8(typed).unwrap();
                    assert_eq!(decode(&typed), None, "{typed} for {code}");
                }
            }
        }
    }

    #[test]
    fn all_but_few_swapped_neighbours_are_found_in_the_numbers_of_the_book() {
        let (mut swapped, mut missed) = (0, 0);
        for number in 1000..9999 {
            let code = encode(&number.to_string()).unwrap();
            for at in 1..code.len() - 1 {
                let mut typed = code.clone().into_bytes();
                if typed[at] == typed[at + 1] {
                    continue;
                }
                typed.swap(at, at + 1);
                swapped += 1;
                let typed = String::from_utf8(typed).unwrap();
                missed += usize::from(decode(&typed).is_some());
            }
        }
        assert!(missed * 80 < swapped, "{missed} of {swapped}");
    }
}
