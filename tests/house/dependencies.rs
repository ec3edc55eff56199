//! `deny.toml` is true of the crates that are built: their licences, the versions there are of each, and
//! where they come from. `cargo deny check` says the same and the advisories too, where it is installed.

use std::collections::{BTreeMap, BTreeSet};
use std::path::Path;

use toml::{Table, Value};

use crate::licences::{TARGETS, cargo};

/// A crate as cargo would build it.
struct Built {
    name: String,
    version: String,
    licence: String,
    /// What cargo puts behind the version: where it comes from, unless from crates.io.
    from: String,
}

fn root() -> &'static Path {
    Path::new(env!("CARGO_MANIFEST_DIR"))
}

fn built() -> Vec<Built> {
    let mut lines = BTreeSet::new();
    for target in TARGETS {
        let arguments = [
            "tree",
            "-e",
            "normal,build,dev",
            "--all-features",
            "--target",
            target,
            "--prefix",
            "none",
            "--no-dedupe",
            "-f",
            "{p}|{l}",
        ];
        lines.extend(cargo(root(), &arguments).lines().map(str::to_owned));
    }
    lines
        .iter()
        .filter(|line| !line.is_empty())
        .map(|line| {
            let (package, licence) = line.split_once('|').unwrap();
            let mut words = package.splitn(3, ' ');
            let mut word = || words.next().unwrap_or_default().to_owned();
            Built {
                name: word(),
                version: word().trim_start_matches('v').to_owned(),
                from: word().replace("(proc-macro)", "").trim().to_owned(),
                licence: licence.to_owned(),
            }
        })
        .collect()
}

fn rules() -> Table {
    include_str!("../../deny.toml").parse().unwrap()
}

fn texts(list: &Value) -> BTreeSet<String> {
    let list = list.as_array().unwrap().iter();
    list.map(|v| v.as_str().unwrap().to_owned()).collect()
}

/// Whether a licence expression (SPDX, or the older one with `/`) can be met by licences that are
/// allowed.
fn met(expression: &str, allowed: &BTreeSet<&str>) -> bool {
    let spaced = expression.replace('/', " OR ");
    let spaced = spaced.replace('(', " ( ").replace(')', " ) ");
    let tokens: Vec<&str> = spaced.split_whitespace().collect();
    let mut rest = tokens.as_slice();
    let good = any_of(&mut rest, allowed);
    good && rest.is_empty()
}

fn any_of(rest: &mut &[&str], allowed: &BTreeSet<&str>) -> bool {
    let mut good = all_of(rest, allowed);
    while let ["OR", after @ ..] = *rest {
        *rest = after;
        good |= all_of(rest, allowed);
    }
    good
}

fn all_of(rest: &mut &[&str], allowed: &BTreeSet<&str>) -> bool {
    let mut good = one(rest, allowed);
    while let ["AND", after @ ..] = *rest {
        *rest = after;
        good &= one(rest, allowed);
    }
    good
}

fn one(rest: &mut &[&str], allowed: &BTreeSet<&str>) -> bool {
    match *rest {
        ["(", after @ ..] => {
            *rest = after;
            let good = any_of(rest, allowed);
            match *rest {
                [")", after @ ..] => *rest = after,
                _ => return false,
            }
            good
        }
        // A licence with an exception is another licence; none is on the list.
        [_, "WITH", _, after @ ..] => {
            *rest = after;
            false
        }
        [licence, after @ ..] => {
            *rest = after;
            allowed.contains(licence)
        }
        [] => false,
    }
}

#[test]
fn a_licence_expression_is_met_by_what_is_allowed_and_by_nothing_else() {
    let allowed = BTreeSet::from(["MIT", "Zlib"]);
    for (expression, wanted) in [
        ("MIT", true),
        ("GPL-3.0", false),
        ("MIT OR GPL-3.0", true),
        ("GPL-3.0/MIT", true),
        ("MIT AND GPL-3.0", false),
        ("MIT AND Zlib", true),
        ("(MIT OR GPL-3.0) AND Zlib", true),
        ("(MIT OR Zlib) AND GPL-3.0", false),
        ("MIT WITH LLVM-exception", false),
        ("MIT WITH LLVM-exception OR Zlib", true),
        ("", false),
        ("MIT Zlib", false),
        ("(MIT", false),
    ] {
        assert_eq!(met(expression, &allowed), wanted, "{expression}");
    }
}

#[test]
fn every_licence_is_allowed_and_no_more_is_allowed_than_needed() {
    let rules = rules();
    let general = texts(&rules["licenses"]["allow"]);
    let exceptions: BTreeMap<String, BTreeSet<String>> = rules["licenses"]["exceptions"]
        .as_array()
        .unwrap()
        .iter()
        .map(|e| (e["crate"].as_str().unwrap().to_owned(), texts(&e["allow"])))
        .collect();
    let built = built();
    assert!(built.len() > 100, "{}", built.len());
    for found in &built {
        let extra = exceptions.get(&found.name).into_iter().flatten();
        let allowed = general.iter().chain(extra).map(String::as_str).collect();
        assert!(
            met(&found.licence, &allowed),
            "{} {} is under {}",
            found.name,
            found.version,
            found.licence
        );
    }
    let is_named = |licence: &String, of: Option<&String>| {
        built
            .iter()
            .filter(|b| of.is_none_or(|name| *name == b.name))
            .any(|b| b.licence.contains(licence))
    };
    assert!(general.iter().all(|l| is_named(l, None)), "{general:?}");
    for (name, licences) in &exceptions {
        let all = licences.iter().all(|l| is_named(l, Some(name)));
        assert!(all, "{name} needs no exception");
    }
}

#[test]
fn every_second_version_of_a_crate_has_its_reason() {
    let rules = rules();
    let listed: BTreeSet<String> = rules["bans"]["skip"]
        .as_array()
        .unwrap()
        .iter()
        .map(|skip| {
            assert!(skip["reason"].as_str().unwrap().len() > 10, "{skip}");
            skip["crate"].as_str().unwrap().to_owned()
        })
        .collect();
    let mut versions: BTreeMap<String, BTreeSet<Vec<u64>>> = BTreeMap::new();
    for found in built() {
        let plain = found.version.split(['+', '-']).next().unwrap().to_owned();
        let numbers = plain.split('.').map(|n| n.parse().unwrap()).collect();
        versions.entry(found.name).or_default().insert(numbers);
    }
    let mut older = BTreeSet::new();
    for (name, mut all) in versions {
        all.pop_last();
        for version in all {
            let text: Vec<String> = version.iter().map(u64::to_string).collect();
            older.insert(format!("{name}@{}", text.join(".")));
        }
    }
    assert_eq!(older, listed, "found, and listed in deny.toml");
}

#[test]
fn every_crate_comes_from_the_public_registry() {
    for found in built() {
        let here = found.from == format!("({})", root().display());
        assert_eq!(here, found.name == "rimbook", "{}", found.name);
        let elsewhere = !here && !found.from.is_empty();
        assert!(!elsewhere, "{} comes from {}", found.name, found.from);
    }
}
