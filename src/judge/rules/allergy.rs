//! The allergies that the program knows: what each forbids of a pair, and the known word that an
//! unknown one may have meant.

use crate::job::{FrameMaterial, Wearer};

/// Words that forbid nothing of a pair.
const HARMLESS: [&str; 6] = ["pollen", "dust", "animals", "food", "penicillin", "latex"];
/// The words for an allergy to nickel.
const NICKEL: [&str; 2] = ["nickel", "metal"];
/// The word for an allergy to silicone.
const SILICONE: &str = "silicone";
/// The longest word that is compared letter by letter.
const LONGEST: usize = 40;

fn materials() -> impl Iterator<Item = &'static str> {
    FrameMaterial::ALL
        .iter()
        .filter(|m| **m != FrameMaterial::Other)
        .map(|m| m.word())
}

/// Returns every word that is known.
fn known() -> impl Iterator<Item = &'static str> {
    NICKEL
        .into_iter()
        .chain([SILICONE])
        .chain(materials())
        .chain(HARMLESS)
}

/// The wearer's allergies in small letters, without blanks around them.
fn named(wearer: &Wearer) -> impl Iterator<Item = String> {
    wearer.named_allergies().map(str::to_lowercase)
}

/// Whether an allergy to nickel, or to metal of any kind, is recorded.
///
/// A longer text that contains the word counts too: it is asked about, and safe meanwhile.
pub(crate) fn to_nickel(wearer: &Wearer) -> bool {
    named(wearer).any(|a| NICKEL.iter().any(|n| a.contains(n)))
}

/// Whether an allergy to silicone is recorded.
pub(crate) fn to_silicone(wearer: &Wearer) -> bool {
    named(wearer).any(|a| a.contains(SILICONE))
}

/// Whether an allergy names a material: in full, or by a word of it (titanium of beta titanium).
pub(crate) fn to_material(wearer: &Wearer, material: FrameMaterial) -> bool {
    named(wearer)
        .any(|a| a.contains(material.word()) || material.word().split(' ').any(|word| word == a))
}

/// Returns the allergies that are not known, as they were written.
pub(crate) fn unknown(wearer: &Wearer) -> Vec<&str> {
    wearer
        .named_allergies()
        .filter(|a| !known().any(|k| k == a.to_lowercase()))
        .collect()
}

/// Returns the known word that an unknown one may have meant: the nearest by slips of the hand, one
/// in a word of up to four letters, two in a longer one; else a known word within it.
pub(crate) fn nearest(word: &str) -> Option<&'static str> {
    let word = word.to_lowercase();
    let letters = word.chars().count();
    if letters > LONGEST {
        return None;
    }
    let most = if letters <= 4 { 1 } else { 2 };
    known()
        .map(|k| (slips(&word, k), k))
        .filter(|(n, _)| *n <= most)
        .min_by_key(|(n, _)| *n)
        .map(|(_, k)| k)
        .or_else(|| known().find(|k| word.contains(k)))
}

/// The slips of the hand between two words: letters put in, left out, replaced, or two neighbours
/// exchanged.
fn slips(a: &str, b: &str) -> usize {
    let (a, b): (Vec<char>, Vec<char>) = (a.chars().collect(), b.chars().collect());
    let mut before: Vec<usize> = Vec::new();
    let mut row: Vec<usize> = (0..=b.len()).collect();
    for (i, x) in a.iter().enumerate() {
        let mut next = vec![i + 1];
        for (j, y) in b.iter().enumerate() {
            let mut least = (row[j] + usize::from(x != y))
                .min(row[j + 1] + 1)
                .min(next[j] + 1);
            if i > 0 && j > 0 && *x == b[j - 1] && a[i - 1] == *y {
                least = least.min(before[j - 1] + 1);
            }
            next.push(least);
        }
        before = std::mem::replace(&mut row, next);
    }
    row[b.len()]
}

#[cfg(test)]
mod tests {
    use super::{nearest, slips, unknown};
    use crate::job::Wearer;

    #[test]
    fn a_near_spelling_is_offered_and_a_far_one_is_not() {
        for (written, meant) in [
            ("nickle", Some("nickel")),
            ("Nikel", Some("nickel")),
            ("metals", Some("metal")),
            ("silicon", Some("silicone")),
            ("dsut", Some("dust")),
            ("cellulose acetate", Some("acetate")),
            ("gold", None),
            ("", None),
        ] {
            assert_eq!(nearest(written), meant, "{written}");
        }
    }

    #[test]
    fn slips_of_the_hand_are_counted() {
        assert_eq!(slips("nickle", "nickel"), 1);
        assert_eq!(slips("", "food"), 4);
        assert_eq!(slips("food", "food"), 0);
        assert_eq!(slips("foods", "food"), 1);
    }

    #[test]
    fn none_in_words_is_the_empty_list_and_what_is_known_is_not_asked_about() {
        let of = |words: &[&str]| Wearer {
            allergies: Some(words.iter().map(|w| (*w).to_owned()).collect()),
            ..Wearer::default()
        };
        for words in [
            &["None known"][..],
            &["NONE", " no "],
            &["Beta Titanium", "horn", "POLLEN", "latex", "animals"],
            &["metal", "nickel", "silicone"],
        ] {
            assert!(unknown(&of(words)).is_empty(), "{words:?}");
        }
        assert_eq!(unknown(&of(&["horn", "gold", "other"])), ["gold", "other"]);
    }
}
