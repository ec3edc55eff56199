//! Steps 1 and 2: lines without a value, and the characters a prescription is written in.
//!
//! Compatibility normalisation (NFKC) is not used: it turns `2¼` into `21⁄4`, another power.

use super::error::{ErrorKind, NotationError};

/// Stands for a degree sign.
pub(super) const DEGREE: char = '°';
/// Stands for the prism mark.
pub(super) const PRISM: char = 'Δ';
/// Stands for plano.
pub(super) const PLANO: char = '∞';

const EM_DASH: char = '\u{2014}';

/// Returns the line in the few characters that the later steps know, without outer spaces.
///
/// # Errors
/// [`ErrorKind::Empty`], [`ErrorKind::NoValue`], and the leftmost of
/// [`ErrorKind::AmbiguousDash`], [`ErrorKind::AmbiguousSign`] and
/// [`ErrorKind::UnsupportedCharacter`].
pub(super) fn plain(line: &str) -> Result<Vec<char>, NotationError> {
    let bare = line.trim();
    if bare.is_empty() {
        return Err(NotationError::new(ErrorKind::Empty, ""));
    }
    if bare.chars().all(is_dash) || is_nothing(&bare.to_lowercase()) {
        return Err(NotationError::new(ErrorKind::NoValue, bare));
    }
    // Only the line's own ends are dropped here: a space that is not known is still refused.
    let line = line.trim_matches([' ', '\t', '\r', '\n']);
    let mut out = Vec::with_capacity(line.len());
    let mut rest = line.chars();
    while let Some(c) = rest.next() {
        let refused = match one(c) {
            Some(known) => {
                out.push(known);
                continue;
            }
            None if c == EM_DASH && before_a_figure(rest.clone()) => ErrorKind::AmbiguousDash,
            None if matches!(c, '±' | '∓') => ErrorKind::AmbiguousSign,
            None => ErrorKind::UnsupportedCharacter,
        };
        return Err(NotationError::new(refused, &c.to_string()));
    }
    let first = out.iter().position(|c| *c != ' ').unwrap_or(0);
    let end = out
        .iter()
        .rposition(|c| *c != ' ')
        .map_or(0, |last| last + 1);
    Ok(out.get(first..end).unwrap_or_default().to_vec())
}

/// Whether a word in small letters says that there is no value.
pub(super) fn is_nothing(word: &str) -> bool {
    matches!(word, "nil" | "n/a" | "none")
}

/// Returns the known character that `c` is another spelling of.
fn one(c: char) -> Option<char> {
    Some(match c {
        '\u{2212}' | '\u{2010}'..='\u{2013}' | '\u{fe63}' | '\u{ff0d}' => '-',
        '\u{ff0b}' => '+',
        // No-break, figure (which does not break either), thin and narrow no-break.
        '\t' | '\u{a0}' | '\u{2007}' | '\u{2009}' | '\u{202f}' => ' ',
        '×' => 'x',
        '°' | 'º' => DEGREE,
        '\u{394}' | '\u{2206}' | '\u{25b3}' | '^' => PRISM,
        '∞' => PLANO,
        ' '..='~' => c,
        _ => return None,
    })
}

fn is_dash(c: char) -> bool {
    matches!(
        c,
        '-' | '\u{2010}'..='\u{2015}' | '\u{2212}' | '\u{fe58}' | '\u{fe63}' | '\u{ff0d}'
    )
}

/// Whether the next thing, spaces apart, is a figure.
fn before_a_figure(mut rest: impl Iterator<Item = char>) -> bool {
    let next = rest.find(|c| one(*c) != Some(' '));
    next.is_some_and(|c| c.is_ascii_digit() || matches!(c, '.' | ','))
}
