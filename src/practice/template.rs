//! Sentences with the thresholds in force in them: `{strong-pair:2}` is that threshold to two decimals.

use super::thresholds::{Threshold, Thresholds};

/// A piece of a sentence.
enum Piece<'a> {
    /// Words as they are.
    Words(&'a str),
    /// A threshold and how it is written: the least number of decimals, or `word`.
    Value(Threshold, &'a str),
}

/// Numbers that a sentence may write as a word.
const NUMBERS: [&str; 6] = ["no", "one", "two", "three", "four", "five"];

fn pieces(template: &str) -> Vec<Piece<'_>> {
    let mut out = Vec::new();
    let mut rest = template;
    while let Some((before, after)) = rest.split_once('{') {
        let named = after.split_once('}').and_then(|(inside, behind)| {
            let (key, how) = inside.split_once(':')?;
            let threshold = Threshold::ALL.iter().find(|t| t.key() == key)?;
            Some((*threshold, how, behind))
        });
        let Some((threshold, how, behind)) = named else {
            break;
        };
        out.push(Piece::Words(before));
        out.push(Piece::Value(threshold, how));
        rest = behind;
    }
    out.push(Piece::Words(rest));
    out
}

/// A value with at least so many decimals: with more where they would round it to another value.
fn written(value: f64, how: &str) -> String {
    let as_word = || {
        let at = NUMBERS
            .iter()
            .zip(0_u8..)
            .find(|(_, n)| f64::from(*n).total_cmp(&value).is_eq());
        at.map(|(word, _)| (*word).to_owned())
    };
    if how == "word"
        && let Some(word) = as_word()
    {
        return word;
    }
    let short = format!("{value:.*}", how.parse().unwrap_or(0));
    if short.parse() == Ok(value) {
        short
    } else {
        value.to_string()
    }
}

/// Returns a sentence with the thresholds in force.
pub(crate) fn in_force(template: &str, thresholds: &Thresholds) -> String {
    pieces(template)
        .into_iter()
        .map(|piece| match piece {
            Piece::Words(words) => words.to_owned(),
            Piece::Value(threshold, how) => written(thresholds.get(threshold), how),
        })
        .collect()
}

/// Returns the thresholds that a sentence names, in their order.
pub fn named(template: &str) -> impl Iterator<Item = Threshold> {
    pieces(template)
        .into_iter()
        .filter_map(|piece| match piece {
            Piece::Words(_) => None,
            Piece::Value(threshold, _) => Some(threshold),
        })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_threshold_is_written_as_the_sentence_asks_and_never_rounded_to_another_value() {
        let mut own = Thresholds::default();
        let text = "from {strong-pair:2} D, under {restricted-age:0}, {acuity-lines:word} lines";
        assert_eq!(in_force(text, &own), "from 5.00 D, under 16, two lines");
        own.set(Threshold::Strong, 7.125);
        own.set(Threshold::RestrictedAge, 15.5);
        own.set(Threshold::AcuityLines, 1.5);
        assert_eq!(in_force(text, &own), "from 7.125 D, under 15.5, 1.5 lines");
        assert_eq!(in_force("no {such-key:1} key", &own), "no {such-key:1} key");
    }
}
