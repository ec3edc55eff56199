//! The checks whose comparison is not written yet, by name, so that none stays so unseen.

use std::collections::BTreeSet;
use std::path::Path;

use rimbook::testing::judge::gate::CheckId;

/// Checks whose comparison is not written yet; nothing else may be without one.
pub const NOT_FILLED: &[&str] = &["unsigned"];

/// What the code of such a check is called.
const MARK: &str = "run: nothing_yet,";

/// Returns the id that an entry of the catalogue names (`id: CheckId::RxForm,`).
fn id_of(line: &str) -> Option<CheckId> {
    let name = line
        .trim()
        .strip_prefix("id: CheckId::")?
        .strip_suffix(',')?;
    CheckId::ALL
        .iter()
        .copied()
        .find(|id| format!("{id:?}") == name)
}

#[test]
fn every_check_without_a_comparison_is_listed_and_no_other() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("src/judge/gate/checks");
    let mut without = BTreeSet::new();
    for entry in std::fs::read_dir(folder).unwrap() {
        let text = std::fs::read_to_string(entry.unwrap().path()).unwrap();
        let mut id = None;
        for line in text.lines() {
            id = id_of(line).or(id);
            if line.trim() == MARK {
                without.insert(id.expect("an id before the code").word());
            }
        }
    }
    let listed: BTreeSet<&str> = NOT_FILLED.iter().copied().collect();
    assert_eq!(listed, without);
}
