//! Who may use whom, as the table in DEVELOPERS.md says; no circle of files; where effects may be;
//! files a reader can take in; no unsafe code.

use std::collections::{BTreeMap, BTreeSet};

use crate::import_graph::Graph;

struct Row {
    uses: BTreeSet<String>,
    effects: BTreeSet<String>,
}

/// Path of a file from `src` without its ending; a `mod.rs` bears its folder's name.
fn module(file: &str) -> &str {
    let stem = file.strip_suffix(".rs").unwrap_or(file);
    stem.strip_suffix("/mod").unwrap_or(stem)
}

/// Whether a module is the one named or inside it.
fn is_in(module: &str, named: &str) -> bool {
    module
        .strip_prefix(named)
        .is_some_and(|rest| rest.is_empty() || rest.starts_with('/'))
}

fn table() -> BTreeMap<String, Row> {
    let page = include_str!("../../DEVELOPERS.md");
    let (_, rest) = page.split_once("<!-- imports -->").unwrap();
    let (table, _) = rest.split_once("<!-- /imports -->").unwrap();
    let list = |cell: &str| -> BTreeSet<String> {
        cell.split(',')
            .map(|w| w.trim().trim_matches('`').to_owned())
            .filter(|w| w != "-")
            .collect()
    };
    table
        .lines()
        .filter(|line| line.starts_with('|'))
        .skip(2)
        .flat_map(|line| {
            let cells: Vec<&str> = line.trim_matches('|').split('|').map(str::trim).collect();
            let row = |name: String| {
                let row = Row {
                    uses: list(cells[1]),
                    effects: list(cells[2]),
                };
                (name, row)
            };
            list(cells[0]).into_iter().map(row).collect::<Vec<_>>()
        })
        .collect()
}

/// The row a module belongs to: the longest that it is in.
fn row_of<'t>(table: &'t BTreeMap<String, Row>, module: &str) -> &'t str {
    table
        .keys()
        .filter(|row| is_in(module, row))
        .max_by_key(|row| row.len())
        .unwrap_or_else(|| panic!("{module} has no row in DEVELOPERS.md"))
}

/// Whether a row may use a module because it names another row. A row names whole folders, but for the
/// folder that it is in itself: of that, only the files that lie in it directly.
fn allows(table: &BTreeMap<String, Row>, row: &str, named: &str, module: &str) -> bool {
    if is_in(row, named) {
        row_of(table, module) == named
    } else {
        is_in(module, named)
    }
}

#[test]
fn modules_use_only_what_the_table_allows() {
    let table = table();
    let graph = Graph::read();
    let mut wrong = Vec::new();
    for (file, used) in &graph.uses {
        let row = row_of(&table, module(file));
        for other in used {
            let is_own = row_of(&table, module(other)) == row;
            let is_allowed = table[row]
                .uses
                .iter()
                .any(|named| is_in(module(other), named));
            if !is_own && !is_allowed {
                wrong.push(format!("{file} uses {other}"));
            }
        }
    }
    assert!(wrong.is_empty(), "{wrong:#?}");
}

#[test]
fn rows_of_the_table_use_each_other_one_way() {
    let table = table();
    assert!(table.len() > 20, "the table was read");
    let uses: BTreeMap<String, BTreeSet<String>> = table
        .iter()
        .map(|(name, row)| {
            let used = row
                .uses
                .iter()
                .flat_map(|named| {
                    let table = &table;
                    (table.keys()).filter(move |other| allows(table, name, named, other))
                })
                .filter(|other| *other != name && !is_in(name, other))
                .cloned()
                .collect();
            (name.clone(), used)
        })
        .collect();
    let circles = crate::import_graph::circles(&uses);
    assert!(circles.is_empty(), "{circles:#?}");
    for (name, row) in &table {
        for named in &row.uses {
            assert!(
                table.keys().any(|other| is_in(other, named)),
                "{name} may use {named}, which is no module"
            );
        }
    }
}

#[test]
fn no_files_of_the_program_use_each_other_in_a_circle() {
    let graph = Graph::read();
    assert!(graph.uses.len() > 300, "the program was read");
    let arrows: usize = graph.uses.values().map(BTreeSet::len).sum();
    assert!(arrows > 1000, "its imports were read: {arrows}");
    let mut said = String::new();
    for circle in graph.circles() {
        for file in &circle {
            let inside: Vec<&String> = graph.uses[file]
                .iter()
                .filter(|f| circle.contains(f))
                .collect();
            said += file;
            said += " -> ";
            said += &inside
                .iter()
                .map(|f| f.as_str())
                .collect::<Vec<_>>()
                .join(", ");
            said.push('\n');
        }
        said.push('\n');
    }
    assert!(said.is_empty(), "{said}");
}

#[test]
fn effects_are_only_where_the_table_puts_them() {
    let table = table();
    let mut wrong = Vec::new();
    for source in Graph::read().modules.values() {
        let allowed = &table[row_of(&table, module(&source.file))].effects;
        for (effect, signs) in [
            ("rusqlite", &["rusqlite::"][..]),
            ("ratatui", &["ratatui::"]),
            ("crossterm", &["crossterm::"]),
            ("now", &["Local::now", "Utc::now", "SystemTime::now"]),
        ] {
            let uses = signs.iter().any(|sign| source.text.contains(sign));
            if uses && !allowed.contains(effect) {
                wrong.push(format!("{} uses {effect}", source.file));
            }
        }
    }
    assert!(wrong.is_empty(), "{wrong:#?}");
}

#[test]
fn files_can_be_read_at_one_sitting() {
    let graph = Graph::read();
    let mut sizes: Vec<(usize, &str)> = (graph.modules.values())
        .map(|m| (m.lines, m.file.as_str()))
        .collect();
    sizes.sort_unstable();
    let (largest, path) = sizes.last().unwrap();
    assert!(*largest <= 600, "{path} has {largest} lines");
    let (median, _) = sizes[sizes.len() / 2];
    assert!(median <= 200, "the median file has {median} lines");
}

#[test]
fn no_code_is_unsafe() {
    for source in Graph::read().modules.values() {
        let is_unsafe = source.code.split_whitespace().any(|w| w == "unsafe");
        assert!(!is_unsafe, "{}", source.file);
    }
}
