//! Who may import whom, as DEVELOPERS.md says; files a reader can take in; no unsafe code.

use std::collections::{BTreeMap, BTreeSet};
use std::path::{Path, PathBuf};

const CORE: &[&str] = &[
    "units",
    "eye",
    "optics",
    "tolerance",
    "notation",
    "job",
    "practice",
    "derive",
    "rules",
    "gate",
    "views",
    "plot",
    "form",
    "card",
    "figures",
    "recheck",
    "text",
];

struct Row {
    modules: BTreeSet<String>,
    effects: BTreeSet<String>,
}

struct Source {
    /// Path below `src`, without the extension.
    path: String,
    text: String,
}

impl Source {
    /// The row of the table that the file belongs to: the longest that is a prefix of its path.
    fn module<'t>(&self, table: &'t BTreeMap<String, Row>) -> &'t str {
        table
            .keys()
            .filter(|m| self.path == **m || self.path.starts_with(&format!("{m}/")))
            .max_by_key(|m| m.len())
            .unwrap_or_else(|| panic!("{} has no row in DEVELOPERS.md", self.path))
    }

    /// The code without comments, so that a link in a comment is no import.
    fn code(&self) -> String {
        self.text
            .lines()
            .filter(|line| !line.trim_start().starts_with("//"))
            .collect::<Vec<_>>()
            .join("\n")
    }
}

fn walk(folder: &Path, into: &mut Vec<PathBuf>) {
    for entry in std::fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        if path.is_dir() {
            walk(&path, into);
        } else if path.extension().is_some_and(|e| e == "rs") {
            into.push(path);
        }
    }
}

fn sources() -> Vec<Source> {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("src");
    let mut paths = Vec::new();
    walk(&root, &mut paths);
    paths
        .into_iter()
        .map(|p| Source {
            path: p
                .strip_prefix(&root)
                .unwrap()
                .with_extension("")
                .to_str()
                .unwrap()
                .replace('\\', "/"),
            text: std::fs::read_to_string(&p).unwrap(),
        })
        .collect()
}

fn table() -> BTreeMap<String, Row> {
    let page = include_str!("../../DEVELOPERS.md");
    let (_, rest) = page.split_once("<!-- imports -->").unwrap();
    let (table, _) = rest.split_once("<!-- /imports -->").unwrap();
    let list = |cell: &str| -> BTreeSet<String> {
        cell.split(',')
            .map(|w| w.trim().to_owned())
            .filter(|w| w != "-")
            .collect()
    };
    table
        .lines()
        .filter(|line| line.starts_with('|'))
        .skip(2)
        .map(|line| {
            let cells: Vec<&str> = line.trim_matches('|').split('|').map(str::trim).collect();
            let mut modules = list(cells[1]);
            if modules.remove("core") {
                modules.extend(CORE.iter().map(|&m| m.to_owned()));
            }
            let row = Row {
                modules,
                effects: list(cells[2]),
            };
            (cells[0].to_owned(), row)
        })
        .collect()
}

/// The first names after `crate::`, braces opened one level deep.
fn imports(code: &str) -> BTreeSet<String> {
    let name = |s: &str| -> String {
        s.trim_start()
            .chars()
            .take_while(|c| c.is_alphanumeric() || *c == '_')
            .collect()
    };
    let mut found = BTreeSet::new();
    for rest in code.split("crate::").skip(1) {
        let Some(list) = rest.strip_prefix('{') else {
            found.insert(name(rest));
            continue;
        };
        let mut depth = 0;
        let mut item = String::new();
        for c in list.chars() {
            match c {
                '{' => depth += 1,
                '}' if depth == 0 => break,
                '}' => depth -= 1,
                ',' if depth == 0 => {
                    found.insert(name(&item));
                    item.clear();
                    continue;
                }
                _ => {}
            }
            item.push(c);
        }
        found.insert(name(&item));
    }
    found.remove("");
    found
}

#[test]
fn imports_are_read_from_paths_and_from_braces() {
    let code =
        "use crate::{job::{Job, Gate}, eye::Eye};\nlet x = crate::trade::optics::vertex(1.0);";
    let expected = ["eye", "job", "optics"].map(str::to_owned);
    assert_eq!(imports(code), BTreeSet::from(expected));
}

#[test]
fn modules_import_only_what_the_table_allows() {
    let table = table();
    assert!(table.len() > 10, "the table was read");
    let mut wrong = Vec::new();
    for source in sources() {
        let module = source.module(&table);
        for import in imports(&source.code()) {
            let own = module.split('/').next() == Some(&import);
            let is_module = table.contains_key(&import);
            if is_module && !own && !table[module].modules.contains(&import) {
                wrong.push(format!("{} uses {import}", source.path));
            }
        }
    }
    assert!(wrong.is_empty(), "{wrong:#?}");
}

#[test]
fn effects_stay_where_the_table_puts_them() {
    let table = table();
    let mut wrong = Vec::new();
    for source in sources() {
        let code = source.code();
        let allowed = &table[source.module(&table)].effects;
        for (effect, signs) in [
            ("rusqlite", &["rusqlite::"][..]),
            ("ratatui", &["ratatui::"]),
            ("crossterm", &["crossterm::"]),
            ("now", &["Local::now", "Utc::now", "SystemTime::now"]),
        ] {
            if !allowed.contains(effect) && signs.iter().any(|sign| code.contains(sign)) {
                wrong.push(format!("{} uses {effect}", source.path));
            }
        }
    }
    assert!(wrong.is_empty(), "{wrong:#?}");
}

#[test]
fn files_can_be_taken_in_at_one_sitting() {
    let mut sizes: Vec<(usize, String)> = sources()
        .into_iter()
        .map(|s| (s.text.lines().count(), s.path))
        .collect();
    sizes.sort();
    let (largest, path) = sizes.last().unwrap();
    assert!(*largest <= 600, "{path} has {largest} lines");
    let median = sizes[sizes.len() / 2].0;
    assert!(median <= 200, "the median file has {median} lines");
}

#[test]
fn no_code_is_unsafe() {
    for source in sources() {
        assert!(
            !source.code().split_whitespace().any(|w| w == "unsafe"),
            "{}",
            source.path
        );
    }
}
