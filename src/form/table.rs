//! How the tables of fields are written: one line for each value, or for each pair of them.

/// Returns the words of a vocabulary of the job file as a constant slice.
macro_rules! words_of {
    ($vocabulary:ty) => {{
        const COUNT: usize = <$vocabulary>::ALL.len();
        const WORDS: [&str; COUNT] = {
            let mut words = [""; COUNT];
            let mut i = 0;
            while i < COUNT {
                words[i] = <$vocabulary>::ALL[i].word();
                i += 1;
            }
            words
        };
        &WORDS
    }};
}
pub(super) use words_of;

/// Writes a table: `one(path, …)` for a single value, `two(prefix, key, …)` for the same key of
/// both eyes, `pair(right path, left path, …)` where the eye is part of the key.
macro_rules! table {
    ($section:ident, [$($rows:tt)*]) => { table!(@ $section [] $($rows)*) };
    (@ $section:ident [$($done:tt)*]) => { &[$($done)*] };
    (@ $section:ident [$($done:tt)*] one($path:expr, $label:expr, $unit:expr, $kind:expr, $help:expr), $($rest:tt)*) => {
        table!(@ $section [$($done)* $crate::form::Field {
            section: $crate::job::Section::$section, path: $path, label: $label, unit: $unit,
            kind: $kind, eye: None, row: $label, help: $help,
        },] $($rest)*)
    };
    (@ $section:ident $done:tt two($prefix:literal, $key:literal, $label:expr, $unit:expr, $kind:expr, $help:expr), $($rest:tt)*) => {
        table!(@ $section $done pair(
            concat!($prefix, "right.", $key), concat!($prefix, "left.", $key), $label, $unit, $kind, $help
        ), $($rest)*)
    };
    (@ $section:ident [$($done:tt)*] pair($right:expr, $left:expr, $label:expr, $unit:expr, $kind:expr, $help:expr), $($rest:tt)*) => {
        table!(@ $section [$($done)* $crate::form::Field {
            section: $crate::job::Section::$section, path: $right, label: $label, unit: $unit,
            kind: $kind, eye: Some($crate::eye::Eye::Right), row: $label, help: $help,
        }, $crate::form::Field {
            section: $crate::job::Section::$section, path: $left, label: $label, unit: $unit,
            kind: $kind, eye: Some($crate::eye::Eye::Left), row: $label, help: $help,
        },] $($rest)*)
    };
}
pub(super) use table;
