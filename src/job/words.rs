//! Fixed vocabularies of the job file: each word is written one way, in files and on screens.

/// Declares an enumeration whose values are words of the job file.
macro_rules! words {
    ($(#[$doc:meta])* $name:ident { $($(#[$vdoc:meta])* $variant:ident = $word:literal),+ $(,)? }) => {
        $(#[$doc])*
        #[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, serde::Serialize, serde::Deserialize)]
        pub enum $name { $($(#[$vdoc])* #[serde(rename = $word)] $variant),+ }

        impl $name {
            /// Every value, in the order in which a list offers them.
            pub const ALL: &'static [Self] = &[$(Self::$variant),+];
            /// The words of all of them.
            pub const WORDS: &'static [&'static str] = &[$($word),+];

            /// The word as it is written.
            pub const fn word(self) -> &'static str {
                match self { $(Self::$variant => $word),+ }
            }

            /// Returns the value a word stands for.
            pub fn from_word(word: &str) -> Option<Self> {
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
