//! The same fault again from one laboratory: what was sent back before, counted.

use chrono::NaiveDate;

use super::catalogue::by_id;
use super::id::CheckId;

/// One pair that was sent back.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct SentBack {
    /// When.
    pub on: NaiveDate,
    /// Which laboratory it came from.
    pub laboratory: String,
    /// Ids of the checks that held it then.
    pub checks: Vec<String>,
}

/// Whether a check is about what the laboratory made.
fn is_of_laboratory(check: CheckId) -> bool {
    by_id(check).is_some_and(|c| c.about.is_laboratory())
}

/// The form of a name under which a laboratory is found again.
pub(crate) fn laboratory_key(name: &str) -> String {
    name.split_whitespace()
        .collect::<Vec<_>>()
        .join(" ")
        .to_lowercase()
}

const ORDINALS: [&str; 9] = [
    "second", "third", "fourth", "fifth", "sixth", "seventh", "eighth", "ninth", "tenth",
];

/// Returns one sentence for each fault of the pair in hand that the laboratory has made before
/// within so many days of `today`: the how-manieth it is, if it goes back as well.
pub(crate) fn repeated(
    past: &[SentBack],
    laboratory: &str,
    checks_now: &[CheckId],
    today: NaiveDate,
    days: i64,
) -> Vec<String> {
    let wanted = laboratory_key(laboratory);
    let mut said: Vec<CheckId> = Vec::new();
    let mut out = Vec::new();
    for &check in checks_now.iter().filter(|c| is_of_laboratory(**c)) {
        if said.contains(&check) {
            continue;
        }
        said.push(check);
        let before = past
            .iter()
            .filter(|p| laboratory_key(&p.laboratory) == wanted)
            .filter(|p| (0..=days).contains(&(today - p.on).num_days()))
            .filter(|p| p.checks.iter().any(|c| check == **c))
            .count();
        if before == 0 {
            continue;
        }
        let place = ORDINALS
            .get(before - 1)
            .map_or_else(|| format!("{}th", before + 1), |word| (*word).to_owned());
        out.push(format!(
            "{check}: if it goes back, the {place} pair from this laboratory in {days} days"
        ));
    }
    out
}

#[cfg(test)]
#[allow(clippy::unwrap_used, reason = "tests")]
mod tests {
    use super::*;

    fn day(d: u32) -> NaiveDate {
        NaiveDate::from_ymd_opt(2026, 10, d).unwrap()
    }

    fn back(d: u32, laboratory: &str, check: CheckId) -> SentBack {
        SentBack {
            on: day(d),
            laboratory: laboratory.to_owned(),
            checks: vec![check.to_string()],
        }
    }

    #[test]
    fn only_the_same_fault_of_the_same_laboratory_within_the_days_is_counted() {
        let past = [
            back(1, "Northern Bench", CheckId::LensAxis),
            back(11, "northern  bench", CheckId::LensAxis),
            back(12, "Harbour Bench", CheckId::LensAxis),
            back(13, "Northern Bench", CheckId::LensPower),
        ];
        let now = [
            CheckId::LensAxis,
            CheckId::LensAxis,
            CheckId::ReadingsMissing,
        ];
        let said = |days| repeated(&past, "Northern Bench", &now, day(21), days);
        assert_eq!(
            said(20),
            ["lens-axis: if it goes back, the third pair from this laboratory in 20 days"]
        );
        assert_eq!(
            said(10),
            ["lens-axis: if it goes back, the second pair from this laboratory in 10 days"]
        );
        assert!(said(9).is_empty(), "the day after the last one counted");
    }

    #[test]
    fn what_is_the_practices_own_work_is_never_counted() {
        let past = [back(1, "A", CheckId::ReadingsMissing)];
        assert!(repeated(&past, "A", &[CheckId::ReadingsMissing], day(2), 90).is_empty());
    }
}
