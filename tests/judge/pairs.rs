//! Judged by both: how many ordinary pairs the gates hold, and how many planted mistakes they miss.
//!
//! `tests/data/ordinary_pairs.json` and `planted_mistakes.json` (see `SOURCES.md`) and pairs drawn here
//! (`pairs_drawn`), so that no rule is made for the pairs of a file. The numbers are the end of
//! `docs/checks.md`.

use std::collections::BTreeMap;
use std::fmt::Write as _;

use rimbook::testing::job::Gate;
use serde_json::Value;

use crate::checks_page::{HEADING, Part, is_current};
use crate::common::json;
use crate::pairs_played::{Caught, Mistake, Noise, Pair, World, caught, held, held_share};

/// Least share of ordinary pairs that pass to ordered without a stop or warning.
pub const ORDERED: f64 = 0.85;
/// Least share of ordered pairs that pass both later gates without one.
pub const LATER: f64 = 0.98;
/// Least share of the mistakes that a check could find which are held.
pub const HELD: f64 = 0.99;

fn pairs_of(file: &Value) -> Vec<Pair> {
    let all = file["pairs"].as_array().unwrap();
    let id = |pair: &Value| pair["id"].as_str().unwrap().to_owned();
    all.iter().map(|p| Pair::read(&id(p), p)).collect()
}

fn mistake(of: &Value) -> Mistake {
    let text = |key: &str| of[key].as_str().unwrap().to_owned();
    Mistake {
        pair: Pair::read(&text("id"), of),
        twin: text("pair"),
        what: text("mistake"),
        gate: Gate::from_word(&text("gate")).unwrap(),
        is_detectable: of["detectable"].as_bool().unwrap(),
    }
}

/// Returns a share in per cent, to a tenth.
fn percent(share: f64) -> String {
    format!("{:.1} %", 100.0 * share)
}

/// Returns the part of the page that is counted.
fn section(noise: &Noise, kinds: &BTreeMap<String, Caught>, unknowable: (usize, usize)) -> String {
    let mut page = HEADING.to_owned();
    let (clean, all) = noise.clean(Gate::Ordered);
    let (later, ordered) = noise.later();
    let (found, planted) = held(kinds);
    let _ = write!(
        page,
        "\nOf {all} ordinary pairs, recorded completely and correctly, {clean} ({}) pass to *ordered* without a stop or\n\
         warning; of the {ordered} that are ordered, {later} ({}) pass both later gates so. Of {planted} planted mistakes that a\n\
         check could find, {found} ({}) are held at their gate; of {} that none could, {}.\n\n\
         `cargo test --test judge pairs` counts again; with `RIMBOOK_WRITE_DOCS=1` it writes this part of the page. The pairs\n\
         and the mistakes are invented and drawn from survey data (`tests/data/SOURCES.md`).\n",
        percent(noise.ordered_share()),
        percent(noise.later_share()),
        percent(held_share(kinds)),
        unknowable.1,
        unknowable.0,
    );
    page.push_str("\n| to | finding | ordinary pairs held | by it alone |\n|---|---|---|---|\n");
    for gate in Gate::ALL {
        for (check, pairs, alone) in noise.by_check(*gate) {
            let _ = writeln!(page, "| {gate} | `{check}` | {pairs} | {alone} |");
        }
    }
    page.push_str("\n| mistake | held | planted | by |\n|---|---|---|---|\n");
    for (what, kind) in kinds {
        let by: Vec<String> = kind.by.iter().map(|check| format!("`{check}`")).collect();
        let _ = writeln!(
            page,
            "| {} | {} | {} | {} |",
            what.replace('_', " "),
            kind.held,
            kind.all,
            by.join(", ")
        );
    }
    page
}

#[test]
fn docs_say_how_many_ordinary_pairs_are_held_and_how_many_mistakes_are_missed() {
    let file = json("ordinary_pairs.json");
    let (world, pairs) = (World::read(&file), pairs_of(&file));
    let planted = json("planted_mistakes.json");
    let mistakes: Vec<Mistake> = (planted["mistakes"].as_array().unwrap().iter())
        .map(mistake)
        .collect();
    let noise = Noise::of(&world, &pairs);
    let twins: Vec<Pair> = (pairs.iter())
        .filter(|pair| mistakes.iter().any(|m| m.twin == pair.id))
        .cloned()
        .collect();
    let kinds = caught(&world, &twins, mistakes.iter().filter(|m| m.is_detectable));
    let unknowable = caught(&world, &twins, mistakes.iter().filter(|m| !m.is_detectable));
    let page = section(&noise, &kinds, held(&unknowable));
    println!("{page}");
    let missed = kinds.iter().filter(|(_, kind)| !kind.missed.is_empty());
    for (what, kind) in missed {
        println!("missed: {what} {:?}", kind.missed);
    }
    assert!(noise.ordered_share() >= ORDERED, "{page}");
    assert!(noise.later_share() >= LATER, "{page}");
    assert!(held_share(&kinds) >= HELD, "{page}");
    assert!(
        is_current(Part::Counted, &page),
        "RIMBOOK_WRITE_DOCS=1 cargo test --test judge docs writes it again"
    );
}
