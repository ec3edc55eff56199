//! The calculations of the workbench as one table: what each is called, what it needs, what it gives.
//!
//! No formula is worked here. A calculation is asked of [`crate::exchange::calc`] with the keys of this table,
//! so that ranges, refusals and results are those of the command line. The rows are written by family
//! in the files of this folder.

mod frames;
mod lens;
mod parts;
mod powers;
mod prisms;
mod worn;

use std::sync::LazyLock;

use super::calculation::Calculation;

static ALL: LazyLock<Vec<Calculation>> = LazyLock::new(|| {
    [
        powers::table(),
        worn::table(),
        prisms::table(),
        frames::table(),
        lens::table(),
    ]
    .concat()
});

/// Returns every calculation, families together.
pub fn all() -> &'static [Calculation] {
    &ALL
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::exchange::calc::NumberKey;
    use crate::tui::screens::workbench::calculation::InputKind;

    #[test]
    fn every_number_is_a_key_of_the_calculations_and_begins_within_its_range() {
        for calculation in all() {
            for input in &calculation.inputs {
                let InputKind::Number(step) = input.kind else {
                    continue;
                };
                let of = format!("{}: {}", calculation.name, input.key);
                let key = NumberKey::of_path(&input.key);
                assert!(key.is_some_and(|k| step < k.high - k.low), "{of}");
                assert_eq!(key.map(NumberKey::unit_sign), Some(input.unit), "{of}");
                if let Ok(example) = input.example.parse::<f64>() {
                    let is_within = key.is_some_and(|k| (k.low..=k.high).contains(&example));
                    assert!(is_within, "{of} {example}");
                }
            }
        }
    }
}
