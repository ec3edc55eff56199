//! What a package carries: the manual, the completions and the licences of others' work are those
//! of this version. `RIMBOOK_WRITE_DOCS=1 cargo test --test house packages` writes them again.

use crate::licences;

use std::collections::BTreeSet;
use std::path::{Path, PathBuf};
use std::process::Command;
use std::sync::Once;

use rimbook::testing::cli::manual::{Page, completions, manual};

fn root() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR"))
}

/// Writes everything again, once and before anything is looked at, when that is asked for.
fn prepare() {
    static ONCE: Once = Once::new();
    ONCE.call_once(|| {
        if std::env::var_os("RIMBOOK_WRITE_DOCS").is_none() {
            return;
        }
        put("docs/man", &manual().unwrap());
        put("docs/completions", &completions());
        std::fs::write(root().join("docs/THIRD-PARTY.md"), licences::page(&root())).unwrap();
    });
}

fn put(directory: &str, pages: &[Page]) {
    let directory = root().join(directory);
    if directory.exists() {
        std::fs::remove_dir_all(&directory).unwrap();
    }
    std::fs::create_dir_all(&directory).unwrap();
    for (name, page) in pages {
        std::fs::write(directory.join(name), page).unwrap();
    }
}

/// The directory holds these pages and nothing else.
fn holds(directory: &str, pages: &[Page]) {
    let directory = root().join(directory);
    let there: BTreeSet<String> = std::fs::read_dir(&directory)
        .unwrap()
        .map(|e| e.unwrap().file_name().into_string().unwrap())
        .collect();
    let expected: BTreeSet<String> = pages.iter().map(|(name, _)| name.clone()).collect();
    assert_eq!(there, expected, "{}", directory.display());
    for (name, page) in pages {
        let kept = std::fs::read(directory.join(name)).unwrap();
        assert!(
            kept == *page,
            "{name} is of another version: RIMBOOK_WRITE_DOCS=1 cargo test --test house packages"
        );
    }
}

#[test]
fn the_manual_is_the_one_of_the_command_line() {
    prepare();
    let pages = manual().unwrap();
    let text = |name: &str| {
        let page = pages.iter().find(|(n, _)| n == name).expect(name);
        String::from_utf8(page.1.clone()).unwrap()
    };
    assert!(text("rimbook.1").contains("rimbook\\-show(1)"));
    assert!(text("rimbook-staff-add.1").contains("registration"));
    holds("docs/man", &pages);
}

#[test]
fn the_completions_are_those_of_the_command_line() {
    prepare();
    holds("docs/completions", &completions());
}

#[test]
fn a_reader_of_manuals_finds_no_fault_in_any_page() {
    prepare();
    if Command::new("man").arg("--version").output().is_err() {
        eprintln!("not tried: there is no man here");
        return;
    }
    for (name, _) in manual().unwrap() {
        let shown = Command::new("man")
            .args(["--warnings", "-l"])
            .arg(root().join("docs/man").join(&name))
            .env("MANPAGER", "cat")
            .env("MANWIDTH", "80")
            .env("LC_ALL", "C.UTF-8")
            .output()
            .unwrap();
        let complaints = String::from_utf8_lossy(&shown.stderr);
        assert!(shown.status.success(), "{name}: {complaints}");
        assert!(complaints.trim().is_empty(), "{name}: {complaints}");
        let text = String::from_utf8_lossy(&shown.stdout);
        assert!(text.contains("rimbook"), "{name} shows nothing");
    }
}

#[test]
fn everything_that_goes_into_the_program_is_named_with_its_licence() {
    prepare();
    let page = licences::page(&root());
    let path = root().join("docs/THIRD-PARTY.md");
    let kept = std::fs::read_to_string(&path).unwrap();
    let missing: Vec<_> = licences::crates(&root())
        .into_iter()
        .map(|c| c.row())
        .filter(|row| !kept.contains(row.as_str()))
        .collect();
    assert!(
        missing.is_empty(),
        "not in docs/THIRD-PARTY.md, write it again: {missing:#?}"
    );
    assert!(kept == page, "docs/THIRD-PARTY.md is of another Cargo.lock");
}

#[test]
fn every_file_a_package_is_made_of_is_there() {
    prepare();
    let manifest: toml::Table =
        toml::from_str(&std::fs::read_to_string(root().join("Cargo.toml")).unwrap()).unwrap();
    let deb = &manifest["package"]["metadata"]["deb"];
    let assets = deb["assets"].as_array().unwrap();
    assert!(assets.len() > 5);
    for asset in assets {
        let source = asset[0].as_str().unwrap();
        if source.starts_with("target/") {
            assert_eq!(source, "target/release/rimbook");
            continue;
        }
        assert!(is_there(&root(), source), "{source}");
    }
    let packed: Vec<&str> = assets.iter().filter_map(|a| a[0].as_str()).collect();
    // The licences of others' work lie among the pages.
    for needed in [
        "docs/man/*.1",
        "docs/completions/_rimbook",
        "docs/*.md",
        "src/exchange/paper/fonts/OFL.txt",
        "README.md",
    ] {
        assert!(packed.contains(&needed), "{needed} is not packed");
    }
}

/// Whether a path leads to a file, or its directory has files that end as the pattern does.
fn is_there(root: &Path, source: &str) -> bool {
    let Some((directory, ending)) = source.split_once('*') else {
        return root.join(source).is_file();
    };
    std::fs::read_dir(root.join(directory)).is_ok_and(|entries| {
        entries
            .filter_map(Result::ok)
            .any(|e| e.file_name().to_string_lossy().ends_with(ending))
    })
}

#[test]
fn the_version_names_the_build_and_the_library() {
    prepare();
    let said = Command::new(env!("CARGO_BIN_EXE_rimbook"))
        .arg("--version")
        .output()
        .unwrap();
    assert!(said.status.success());
    let said = String::from_utf8(said.stdout).unwrap();
    let lines: Vec<&str> = said.lines().collect();
    assert_eq!(
        lines.first().copied(),
        Some(concat!("rimbook ", env!("CARGO_PKG_VERSION"))),
        "{said}"
    );
    for line in ["build: ", "commit: ", "features: "] {
        assert!(lines.iter().any(|l| l.starts_with(line)), "{line}: {said}");
    }
    let library = lines.last().and_then(|l| l.rsplit_once(' ')).unwrap().1;
    let parts: Vec<u32> = library.split('.').map(|p| p.parse().unwrap()).collect();
    assert!(parts >= vec![3, 51, 3], "{said}");
    let short = Command::new(env!("CARGO_BIN_EXE_rimbook"))
        .arg("-V")
        .output()
        .unwrap();
    assert_eq!(
        String::from_utf8(short.stdout).unwrap(),
        concat!("rimbook ", env!("CARGO_PKG_VERSION"), "\n")
    );
}

#[test]
fn manual_and_completions_come_from_the_program_itself() {
    prepare();
    let run = |arguments: &[&str]| {
        Command::new(env!("CARGO_BIN_EXE_rimbook"))
            .args(arguments)
            .output()
            .unwrap()
    };
    for (arguments, file) in [
        (&["man"][..], "man/rimbook.1"),
        (&["man", "staff", "add"], "man/rimbook-staff-add.1"),
        (&["completions", "bash"], "completions/rimbook.bash"),
        (&["completions", "fish"], "completions/rimbook.fish"),
    ] {
        let said = run(arguments);
        let kept = std::fs::read(root().join("docs").join(file)).unwrap();
        assert!(said.status.success() && said.stdout == kept, "{file}");
    }
    let none = run(&["man", "nothing"]);
    assert_eq!(none.status.code(), Some(2));
    assert!(none.stdout.is_empty());
}
