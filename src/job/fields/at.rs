//! Names of the fields: `at!(fitting.right.vertex_mm)` is a field of the table, looked up when the
//! program is compiled. A name that the table does not have does not compile.

use super::const_text::same;
use super::field::Field;
use super::table::fields;
use crate::job::Section;

/// A field of the table.
pub(crate) type FieldRef = &'static Field;

/// Returns the field of a path from the job. Meant for [`at!`](crate::job::fields::at), which calls it when
/// the program is compiled.
///
/// # Panics
/// When the table has no such field: then the program does not compile.
pub(crate) const fn named(section: Section, path: &str) -> FieldRef {
    let all = fields(section);
    let mut at = 0;
    while at < all.len() && !same(all[at].path, path) {
        at += 1;
    }
    assert!(at < all.len(), "the table of fields has no such name");
    &all[at]
}

/// Returns the section of a word that a field's name begins with.
///
/// # Panics
/// When there is no such section: then the program does not compile.
pub(crate) const fn section(word: &str) -> Section {
    let all = Section::ALL;
    let mut at = 0;
    while at < all.len() && !same(all[at].word(), word) {
        at += 1;
    }
    assert!(at < all.len(), "a job has no such section");
    all[at]
}

/// The field of a name: `at!(frame.a_mm)`, `at!(fitting.right.cd_mm)`; with an eye that is known only
/// when the program runs, `at!(fitting[eye].cd_mm)`, `at!(lenses.powers[eye].sphere_d)`.
macro_rules! at {
    ($section:ident $(.$part:ident)* [$eye:expr] .$key:ident) => {
        match $eye {
            $crate::trade::eye::Eye::Right => $crate::job::fields::at!($section $(.$part)* .right.$key),
            $crate::trade::eye::Eye::Left => $crate::job::fields::at!($section $(.$part)* .left.$key),
        }
    };
    ($section:ident .$first:ident $(.$part:ident)*) => {{
        const FIELD: $crate::job::fields::FieldRef = $crate::job::fields::named(
            $crate::job::fields::section(stringify!($section)),
            concat!(stringify!($first) $(, ".", stringify!($part))*),
        );
        FIELD
    }};
}
pub(crate) use at;

#[cfg(test)]
mod tests {
    use crate::trade::eye::Eye;

    #[test]
    fn a_name_is_the_field_of_its_path() {
        let (eye, powers) = (Eye::Left, at!(lenses.powers.as));
        assert_eq!(powers.full_path(), "lenses.powers.as");
        assert_eq!(at!(frame.a_mm).full_path(), "frame.a_mm");
        let height = at!(fitting.second_reading[eye].height_mm);
        assert_eq!(height.full_path(), "fitting.second_reading.left.height_mm");
    }
}
