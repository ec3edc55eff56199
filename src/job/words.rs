//! Fixed vocabularies of the job file: each word is written one way, in files and on screens.

/// Words of earlier versions with the word that is written for them now. They are read, in job files,
/// in kept jobs and in what was accepted, and never written.
const OLD_WORDS: [(&str, &str); 2] = [("occupational", "office"), ("executive", "full-width")];

/// Returns the word that is written now for a word of an earlier version; any other word as it is.
pub(crate) fn current_word(word: &str) -> &str {
    OLD_WORDS
        .iter()
        .find(|(old, _)| *old == word)
        .map_or(word, |(_, now)| now)
}

/// Declares an enumeration whose values are words of the job file. `Office = "office" | "occupational"`
/// also reads the old word, which [`current_word`] knows, too.
macro_rules! words {
    ($(#[$doc:meta])* $name:ident { $($(#[$vdoc:meta])* $variant:ident = $word:literal $(| $old:literal)?),+ $(,)? }) => {
        $(#[$doc])*
        #[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, serde::Serialize, serde::Deserialize)]
        pub enum $name { $($(#[$vdoc])* #[serde(rename = $word $(, alias = $old)?)] $variant),+ }

        impl $name {
            /// Every value, in the order in which a list offers them.
            pub const ALL: &'static [Self] = &[$(Self::$variant),+];
            /// The words of all of them.
            pub const WORDS: &'static [&'static str] = &[$($word),+];

            /// The word as it is written.
            pub const fn word(self) -> &'static str {
                match self { $(Self::$variant => $word),+ }
            }

            /// Returns the value of a word.
            pub fn from_word(word: &str) -> Option<Self> {
                let word = $crate::job::current_word(word);
                Self::ALL.iter().copied().find(|v| v.word() == word)
            }
        }

        impl $crate::job::fields::KeyType for $name {
            const SHAPE: $crate::job::fields::Shape = $crate::job::fields::Shape::Word(Self::WORDS);

            fn value(&self) -> Option<$crate::job::fields::FieldValue<'_>> {
                Some($crate::job::fields::FieldValue::Text(self.word()))
            }
        }

        impl std::fmt::Display for $name {
            fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
                f.pad(self.word())
            }
        }
    };
}
pub(crate) use words;

#[cfg(test)]
mod tests {
    use super::*;
    use crate::job::{Design, SegmentShape};

    #[test]
    fn old_words_are_read_and_never_written() {
        let read: Design = serde_json::from_str("\"occupational\"").unwrap();
        assert_eq!(read, Design::Office);
        assert_eq!(serde_json::to_string(&read).unwrap(), "\"office\"");
        let read: SegmentShape = serde_json::from_str("\"executive\"").unwrap();
        assert_eq!(read, SegmentShape::FullWidth);
        for (old, now) in OLD_WORDS {
            assert_eq!(current_word(old), now);
            assert_eq!(current_word(now), now);
            assert!(!Design::WORDS.contains(&old) && !SegmentShape::WORDS.contains(&old));
        }
        assert_eq!(Design::from_word("occupational"), Some(Design::Office));
        assert_eq!(
            SegmentShape::from_word("executive"),
            Some(SegmentShape::FullWidth)
        );
    }
}
