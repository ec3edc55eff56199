//! Screens answer for themselves: no screen knows another, and only the shell changes the program.

use std::path::{Path, PathBuf};

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

/// Path below `src/tui` and code without comments.
fn sources() -> Vec<(String, String)> {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("src/tui");
    let mut paths = Vec::new();
    walk(&root, &mut paths);
    let code = |path: &Path| -> String {
        let text = std::fs::read_to_string(path).unwrap();
        let lines = text.lines().filter(|l| !l.trim_start().starts_with("//"));
        lines.collect::<Vec<_>>().join("\n")
    };
    let below = |path: &Path| {
        path.strip_prefix(&root)
            .unwrap()
            .to_str()
            .unwrap()
            .to_owned()
    };
    paths.iter().map(|p| (below(p), code(p))).collect()
}

/// The folders of screens that a code names.
fn named(code: &str, screens: &[String]) -> Vec<String> {
    let is = |s: &&String| {
        let path = format!("screens::{s}");
        let in_braces = code
            .split("screens::{")
            .skip(1)
            .filter_map(|rest| rest.split('}').next())
            .any(|list| list.split(',').any(|name| name.trim() == s.as_str()));
        in_braces || code.contains(&format!("{path}::")) || code.contains(&format!("{path};"))
    };
    screens.iter().filter(is).cloned().collect()
}

fn screens() -> Vec<String> {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("src/tui/screens");
    std::fs::read_dir(root)
        .unwrap()
        .map(Result::unwrap)
        .filter(|e| e.path().is_dir())
        .map(|e| e.file_name().into_string().unwrap())
        .collect()
}

#[test]
fn names_of_screens_are_found_in_paths_and_in_braces() {
    let all = ["gate".to_owned(), "form".to_owned()];
    assert_eq!(named("use crate::tui::screens::{form, x};", &all), ["form"]);
    assert_eq!(named("crate::tui::screens::gate::State", &all), ["gate"]);
    assert!(named("use crate::tui::screens::draw::Draws;", &all).is_empty());
}

#[test]
fn only_the_shell_names_screens() {
    let screens = screens();
    assert!(screens.len() > 2, "{screens:?}");
    let mut wrong = Vec::new();
    for (path, code) in sources() {
        for name in named(&code, &screens) {
            if !path.starts_with("shell/") && !path.starts_with(&format!("screens/{name}/")) {
                wrong.push(format!("{path} names {name}"));
            }
        }
    }
    assert!(wrong.is_empty(), "{wrong:#?}");
}

#[test]
fn only_the_shell_changes_the_program() {
    let mut wrong = Vec::new();
    for (path, code) in sources() {
        let first = path.split(['/', '.']).next().unwrap_or_default();
        // The terminal owns the program and hands it to the shell.
        let is_excused = first == "shell" || first == "term";
        if !is_excused && code.contains("&mut App") {
            wrong.push(path);
        }
    }
    assert!(wrong.is_empty(), "{wrong:#?}");
}

#[test]
fn screens_do_not_know_the_program_around_them() {
    let mut wrong = Vec::new();
    for (path, code) in sources() {
        let names_app = code
            .split(|c: char| !c.is_alphanumeric() && c != '_')
            .any(|word| word == "App");
        if path.starts_with("screens/") && names_app {
            wrong.push(path);
        }
    }
    assert!(wrong.is_empty(), "{wrong:#?}");
}

#[test]
fn only_drawings_and_widgets_draw() {
    let mut wrong = Vec::new();
    for (path, code) in sources() {
        let draws = ["widgets/", "shell/draw/", "term/"]
            .iter()
            .any(|folder| path.starts_with(folder))
            || path.ends_with("draw.rs");
        if !draws && code.contains("ratatui::") {
            wrong.push(path);
        }
    }
    assert!(wrong.is_empty(), "{wrong:#?}");
}
