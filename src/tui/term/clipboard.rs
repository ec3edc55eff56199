//! The terminal's clipboard, written by the escape sequence OSC 52 (xterm control sequences).
//!
//! A terminal does not answer whether it accepted the text; terminals known to refuse get none.

/// Digits of base 64 (RFC 4648).
const DIGITS: &[u8; 64] = b"ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";

fn base64(bytes: &[u8]) -> String {
    let mut out = String::new();
    for chunk in bytes.chunks(3) {
        let byte = |i: usize| u32::from(chunk.get(i).copied().unwrap_or(0));
        let group = byte(0) << 16 | byte(1) << 8 | byte(2);
        for place in 0..4 {
            if place > chunk.len() {
                out.push('=');
                continue;
            }
            let digit = usize::try_from(group >> (18 - 6 * place) & 63).unwrap_or(0);
            out.push(DIGITS.get(digit).copied().map_or('=', char::from));
        }
    }
    out
}

/// Returns the escape sequence that puts a text on the terminal's clipboard.
pub(super) fn sequence(text: &str) -> String {
    format!("\x1b]52;c;{}\x07", base64(text.as_bytes()))
}

/// Whether the terminal may accept the sequence, judged by its environment variables.
pub(super) fn is_taken(variable: &dyn Fn(&str) -> Option<String>) -> bool {
    let term = variable("TERM").unwrap_or_default();
    let program = variable("TERM_PROGRAM").unwrap_or_default();
    let has = |name| variable(name).is_some_and(|v: String| !v.is_empty());
    // The text console and the plainest terminals have no clipboard; terminals of the VTE family
    // and the one of macOS ignore the sequence.
    let plain = term.is_empty() || ["linux", "dumb", "vt100", "vt220"].contains(&term.as_str());
    !plain && !has("VTE_VERSION") && program != "Apple_Terminal"
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_examples_of_the_standard_are_written_as_it_writes_them() {
        for (text, expected) in [
            ("", ""),
            ("f", "Zg=="),
            ("fo", "Zm8="),
            ("foo", "Zm9v"),
            ("foob", "Zm9vYg=="),
            ("fooba", "Zm9vYmE="),
            ("foobar", "Zm9vYmFy"),
        ] {
            assert_eq!(base64(text.as_bytes()), expected, "{text}");
        }
        assert_eq!(sequence("foo"), "\u{1b}]52;c;Zm9v\u{7}");
    }

    #[test]
    fn a_terminal_without_a_clipboard_is_sent_nothing() {
        let taken = |set: &[(&str, &str)]| {
            is_taken(&|name| {
                set.iter()
                    .find(|(n, _)| *n == name)
                    .map(|(_, v)| (*v).to_owned())
            })
        };
        assert!(taken(&[("TERM", "xterm-256color")]));
        assert!(taken(&[("TERM", "tmux-256color")]));
        assert!(!taken(&[("TERM", "linux")]));
        assert!(!taken(&[]));
        assert!(!taken(&[
            ("TERM", "xterm-256color"),
            ("VTE_VERSION", "7600")
        ]));
        assert!(!taken(&[
            ("TERM", "xterm"),
            ("TERM_PROGRAM", "Apple_Terminal")
        ]));
    }
}
