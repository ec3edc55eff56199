//! The pictures of the screens in the docs are what the program draws, on the invented practice.
//!
//! `RIMBOOK_WRITE_DOCS=1 cargo test --test tui docs_screens::` writes them again, README included.

use std::path::{Path, PathBuf};

use crate::driver::{Driver, demo_book};

/// Each page with the keys that lead to it from the worklist, 80 columns by 24 lines.
const PAGES: &[(&str, &[&str])] = &[
    ("worklist", &[]),
    ("look-up", &["/", "hal", "down"]),
    ("parcel", &["p", "1007", "enter", "y", "y", "y"]),
    (
        "parcel-verdict",
        &[
            "p",
            "1007",
            "enter",
            "-3.01/-0.49x21",
            "enter",
            "-3.25",
            "enter",
            "32",
            "enter",
            "31.5",
            "enter",
            "21",
            "enter",
            "21",
            "enter",
        ],
    ),
    ("collections", &["c"]),
    (
        "job-fitting",
        &[
            "/", "wend", "enter", "alt-3", "down", "down", "down", "down", "down", "down",
        ],
    ),
    ("job-frame", &["/", "wend", "enter", "alt-4"]),
    ("gate", &["/", "wend", "enter", "ctrl-g"]),
    ("job-verification", &["/", "darrow", "enter"]),
    ("pictures-front", &["/", "wend", "enter", "f6"]),
    ("pictures-edges", &["/", "wend", "enter", "f6", "tab"]),
    (
        "pictures-vertex",
        &["/", "wend", "enter", "f6", "tab", "tab"],
    ),
    (
        "pictures-across",
        &["/", "wend", "enter", "f6", "tab", "tab", "tab"],
    ),
    (
        "pictures-tilt",
        &["/", "wend", "enter", "f6", "shift-tab", "shift-tab"],
    ),
    (
        "pictures-accuracy",
        &["/", "wend", "enter", "f6", "shift-tab"],
    ),
    ("choices", &["/", "wend", "enter", "f7", "s", "s"]),
    ("visit-differences", &["/", "dunwood", "enter", "alt-v"]),
    (
        "visit-causes",
        &["/", "dunwood", "enter", "alt-v", "tab", "tab"],
    ),
    (
        "workbench",
        &[
            "f8",
            "page-down",
            "page-down",
            "page-down",
            "page-down",
            "page-down",
            "page-down",
            "enter",
        ],
    ),
];

fn root() -> &'static Path {
    Path::new(env!("CARGO_MANIFEST_DIR"))
}

fn page(name: &str) -> PathBuf {
    root().join("docs/screens").join(format!("{name}.txt"))
}

/// Every page as the program draws it now.
fn drawn() -> Vec<(&'static str, String)> {
    let (_dir, path) = demo_book();
    PAGES
        .iter()
        .map(|(name, keys)| {
            let mut driver = Driver::on(path.clone());
            // The third on the list, a dispensing optician.
            driver.keys(&["w", "down", "down", "enter"]);
            driver.app.notice = None;
            driver.keys(keys);
            (*name, driver.screen(80, 24))
        })
        .collect()
}

/// The README with each block below a line `<!-- docs/screens/NAME.txt -->` as it is drawn now.
fn readme(text: &str, drawn: &[(&str, String)]) -> String {
    let mut out = text.to_owned();
    for (name, screen) in drawn {
        let mark = format!("<!-- docs/screens/{name}.txt -->\n```text\n");
        if let Some((before, after)) = out.split_once(&mark) {
            let (_, rest) = after.split_once("```").unwrap();
            out = format!("{before}{mark}{screen}```{rest}");
        }
    }
    out
}

#[test]
fn the_docs_show_the_screens_as_they_are() {
    let drawn = drawn();
    let text = std::fs::read_to_string(root().join("README.md")).unwrap();
    if std::env::var_os("RIMBOOK_WRITE_DOCS").is_some() {
        for (name, screen) in &drawn {
            std::fs::write(page(name), screen).unwrap();
        }
        std::fs::write(root().join("README.md"), readme(&text, &drawn)).unwrap();
        return;
    }
    for (name, screen) in &drawn {
        let kept = std::fs::read_to_string(page(name)).unwrap_or_default();
        assert_eq!(&kept, screen, "docs/screens/{name}.txt is of another day");
    }
    assert_eq!(readme(&text, &drawn), text, "a screen in README.md");
    assert!(text.matches("```text\n").count() == text.matches("<!-- docs/screens/").count());
    let files = std::fs::read_dir(root().join("docs/screens")).unwrap();
    assert_eq!(files.count(), PAGES.len(), "a page nobody makes");
}
