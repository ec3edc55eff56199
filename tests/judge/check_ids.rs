//! The ids of checks: one word each, and none written as loose text outside the list of ids.

use std::collections::BTreeSet;
use std::path::Path;

use rimbook::testing::judge::gate::CheckId;
use rimbook::testing::judge::gate::catalogue::{CHECKS, by_id};

/// Files whose own words happen to be the same, and what those words are there.
const OWN_WORDS: [(&str, &str); 8] = [
    ("src/judge/gate/id.rs", "the list of ids"),
    ("src/practice/thresholds.rs", "keys of thresholds"),
    ("src/practice/suspects.rs", "keys of limits of suspicion"),
    ("src/exchange/calc/answer.rs", "kinds of calculations"),
    (
        "src/tui/screens/workbench/picture.rs",
        "kinds of calculations",
    ),
    (
        "src/tui/screens/workbench/table/lens.rs",
        "kinds of calculations",
    ),
    ("src/views/recheck/parameter.rs", "keys of parameters"),
    ("src/views/recheck/causes_table.rs", "ids of causes"),
];

#[test]
fn every_id_has_its_word_and_every_check_its_id() {
    let words: BTreeSet<&str> = CheckId::ALL.iter().map(|id| id.word()).collect();
    assert_eq!(words.len(), CheckId::ALL.len(), "a word names one id");
    for id in CheckId::ALL {
        assert_eq!(CheckId::from_word(id.word()), Some(*id));
        assert_eq!(by_id(*id).unwrap().id, *id, "{id} has no check");
    }
    assert_eq!(CheckId::from_word("no-such-check"), None);
    let used: BTreeSet<CheckId> = CHECKS.iter().map(|c| c.id).collect();
    assert_eq!(used.len(), CheckId::ALL.len());
}

fn look(folder: &Path, root: &Path, found: &mut Vec<String>) {
    for entry in std::fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        if path.is_dir() {
            look(&path, root, found);
            continue;
        }
        let name = path.strip_prefix(root).unwrap().display().to_string();
        let is_own = OWN_WORDS.iter().any(|(file, _)| *file == name);
        if is_own || path.extension().is_none_or(|e| e != "rs") {
            continue;
        }
        let text = std::fs::read_to_string(&path).unwrap();
        // Tests inside a file may write an id as a reader of files meets it.
        let code = text.split("#[cfg(test)]").next().unwrap_or_default();
        for id in CheckId::ALL {
            if code.contains(&format!("\"{id}\"")) {
                found.push(format!("{name}: {id}"));
            }
        }
    }
}

#[test]
fn no_id_of_a_check_is_written_as_loose_text() {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let mut found = Vec::new();
    look(&root.join("src"), root, &mut found);
    assert!(found.is_empty(), "{found:#?}");
    for (file, what) in OWN_WORDS {
        assert!(root.join(file).exists(), "{file} ({what}) is gone");
    }
}
