//! Fields are named by `at!`, checked when the program is compiled, and not by paths in quotes.

use std::path::{Path, PathBuf};

use rimbook::testing::job::fields::{Field, all_fields};

/// Where a path in quotes is no name of a field, or is typed by people.
const EXCUSED: [(&str, &str); 4] = [
    ("src/job/fields/", "the table itself"),
    (
        "src/tui/screens/workbench/",
        "keys of the calculations, which read alike",
    ),
    (
        "src/exchange/mapping.rs",
        "the template of a mapping, which people fill in",
    ),
    (
        "src/job/file.rs",
        "below the table: what the reader says of a file",
    ),
];

/// Paths put together from a key that is known only when the program runs; to be lowered, never raised.
const PUT_TOGETHER: usize = 22;

fn sources(folder: &Path, into: &mut Vec<PathBuf>) {
    for entry in std::fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        if path.is_dir() {
            sources(&path, into);
        } else if path.extension().is_some_and(|e| e == "rs") {
            into.push(path);
        }
    }
}

/// The lines of the program outside comments, tests and excused files.
fn lines() -> Vec<(String, String)> {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let mut files = Vec::new();
    sources(&root.join("src"), &mut files);
    let mut all = Vec::new();
    for file in files {
        let name = file
            .strip_prefix(root)
            .unwrap()
            .to_string_lossy()
            .replace('\\', "/");
        if EXCUSED.iter().any(|(excused, _)| name.starts_with(excused)) {
            continue;
        }
        let text = std::fs::read_to_string(&file).unwrap();
        let code = text.split("#[cfg(test)]").next().unwrap();
        let is_code = |line: &&str| !line.trim_start().starts_with("//");
        all.extend(
            code.lines()
                .filter(is_code)
                .map(|l| (name.clone(), l.to_owned())),
        );
    }
    all
}

#[test]
fn no_field_is_named_by_a_path_in_quotes() {
    let quoted: Vec<String> = all_fields()
        .iter()
        .map(Field::full)
        .map(|p| format!("\"{p}\""))
        .collect();
    let found: Vec<_> = lines()
        .into_iter()
        .filter(|(_, line)| quoted.iter().any(|path| line.contains(path.as_str())))
        .collect();
    assert!(found.is_empty(), "use at!(...): {found:#?}");
}

#[test]
fn few_paths_are_put_together() {
    let sections = [
        "wearer",
        "prescription",
        "fitting",
        "frame",
        "lenses",
        "order",
        "readings",
        "handover",
    ];
    let starts: Vec<String> = sections.iter().map(|s| format!("\"{s}.{{")).collect();
    let found: Vec<_> = lines()
        .into_iter()
        .filter(|(_, line)| starts.iter().any(|start| line.contains(start.as_str())))
        .collect();
    assert!(found.len() <= PUT_TOGETHER, "{}: {found:#?}", found.len());
}
