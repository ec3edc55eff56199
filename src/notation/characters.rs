//! The first steps: blanks, characters that mean the same, commas.

use super::ErrorKind;

/// The mark of a prism amount once characters are settled.
pub(super) const PRISM: char = '^';
/// The mark of degrees once characters are settled.
pub(super) const DEGREE: char = '~';

const NO_VALUE: [&str; 6] = ["-", "\u{2014}", "nil", "n/a", "none", "na"];

/// Returns the line in plain characters with decimal points.
pub(super) fn settle(line: &str) -> Result<String, ErrorKind> {
    let line = line.trim();
    if line.is_empty() {
        return Err(ErrorKind::Empty);
    }
    let lower = line.to_lowercase();
    let dashes: String = line.chars().map(|c| plain(c).unwrap_or(c)).collect();
    if NO_VALUE.contains(&lower.as_str()) || dashes == "-" {
        return Err(ErrorKind::NoValue);
    }
    commas(&characters(line)?)
}

/// Returns the plain character that means the same.
fn plain(c: char) -> Option<char> {
    Some(match c {
        '\u{2212}' | '\u{2010}'..='\u{2013}' | '\u{fe63}' | '\u{ff0d}' => '-',
        '\u{ff0b}' => '+',
        '\u{a0}' | '\u{202f}' | '\u{2009}' | '\u{2007}' | '\u{200a}' | '\t' => ' ',
        '×' => 'x',
        '°' | 'º' | '˚' => DEGREE,
        '\u{394}' | '\u{2206}' | '△' | '^' => PRISM,
        ' '..='}' => c,
        _ => return None,
    })
}

fn characters(line: &str) -> Result<String, ErrorKind> {
    let mut out = String::with_capacity(line.len());
    let mut rest = line.chars().peekable();
    while let Some(c) = rest.next() {
        match c {
            '\u{2014}' if rest.peek().is_some_and(|n| n.is_ascii_digit() || *n == '.') => {
                return Err(ErrorKind::AmbiguousDash);
            }
            '±' | '∓' => return Err(ErrorKind::AmbiguousSign),
            '∞' => out.push_str(" plano "),
            _ => out.push(plain(c).ok_or(ErrorKind::UnsupportedCharacter)?),
        }
    }
    Ok(out)
}

/// Settles commas: decimals where every number uses them, separators where points are the decimals.
fn commas(line: &str) -> Result<String, ErrorKind> {
    let chars: Vec<char> = line.chars().collect();
    let digit = |i: Option<usize>| {
        i.and_then(|i| chars.get(i))
            .is_some_and(char::is_ascii_digit)
    };
    let is_figure = |c: &char| c.is_ascii_digit() || *c == '.';
    let has_point = chars
        .iter()
        .enumerate()
        .any(|(i, c)| *c == '.' && digit(Some(i + 1)));
    // Whether the figures directly before and after a place hold a decimal point.
    let point_before = |i: usize| {
        chars
            .iter()
            .take(i)
            .rev()
            .take_while(|c| is_figure(c))
            .any(|c| *c == '.')
    };
    let point_after = |i: usize| {
        chars
            .iter()
            .skip(i + 1)
            .take_while(|c| is_figure(c))
            .any(|c| *c == '.')
    };
    let comma_before = |i: usize| {
        chars
            .iter()
            .take(i)
            .rev()
            .take_while(|c| c.is_ascii_digit() || **c == ',')
            .any(|c| *c == ',')
    };
    let mut decimals = Vec::new();
    let mut separators = Vec::new();
    for (i, c) in chars.iter().enumerate() {
        if *c != ',' {
            continue;
        }
        let inside = digit(i.checked_sub(1)) && digit(Some(i + 1))
            || (!digit(i.checked_sub(1))
                && digit(Some(i + 1))
                && !has_point
                && sign_before(&chars, i));
        if inside && has_point && (point_before(i) || point_after(i)) {
            separators.push(i);
        } else if inside {
            if comma_before(i) {
                return Err(ErrorKind::AmbiguousComma);
            }
            decimals.push(i);
        } else {
            separators.push(i);
        }
    }
    if has_point && !decimals.is_empty() {
        return Err(ErrorKind::MixedDecimalSeparators);
    }
    if !has_point && !separators.is_empty() {
        return Err(ErrorKind::AmbiguousComma);
    }
    Ok(chars
        .iter()
        .map(|c| match c {
            ',' if has_point => ' ',
            ',' => '.',
            other => *other,
        })
        .collect())
}

fn sign_before(chars: &[char], i: usize) -> bool {
    i.checked_sub(1)
        .and_then(|i| chars.get(i))
        .is_some_and(|c| matches!(c, '+' | '-'))
}
