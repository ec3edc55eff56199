//! Every screen as it is drawn, at the sizes it is designed for and at all others.

use crate::driver::{Driver, scenario};
use crate::screens_say::says;
use rimbook::testing::tui::help;
use rimbook::testing::tui::widgets::theme::Theme;
use serde_json::{Value, json};

fn job(id: &str) -> Value {
    scenario(id)["job"].clone()
}

/// A book with three jobs, one of them with something to say at its gate.
pub(crate) fn book() -> Driver {
    let mut collected = job("S01");
    collected["collection_at"] = json!("2026-10-12T15:30");
    Driver::signed_in(&[job("S12"), collected, job("S09")])
}

/// Each screen with the keys that lead to it from the worklist.
pub(crate) const SCREENS: &[(&str, &[&str])] = &[
    ("worklist", &[]),
    ("job_opened", &["enter"]),
    ("job_wearer", &["enter", "alt-1"]),
    ("job_prescription", &["enter", "alt-2"]),
    ("job_fitting", &["enter", "alt-3"]),
    ("job_frame", &["enter", "alt-4"]),
    ("job_lenses", &["enter", "alt-5"]),
    ("job_order", &["enter", "alt-6"]),
    ("job_verification", &["enter", "alt-7"]),
    ("job_handover", &["enter", "alt-8"]),
    ("job_history", &["enter", "alt-9"]),
    (
        "job_typing",
        &[
            "enter", "alt-2", "down", "down", "down", "down", "down", "down", "-2.2", "enter",
        ],
    ),
    ("gate", &["g"]),
    ("gate_accept", &["g", "a"]),
    ("lookup", &["/", "thorn"]),
    ("collections", &["c"]),
    ("figures", &["f"]),
    ("workbench_list", &["alt-b"]),
    (
        "workbench_vertex",
        &[
            "alt-b",
            "page-down",
            "page-down",
            "page-down",
            "page-down",
            "page-down",
            "page-down",
            "enter",
            "-8.50/-1.25x35",
            "tab",
        ],
    ),
    (
        "workbench_of_a_job",
        &["enter", "alt-b", "t", "t", "t", "enter"],
    ),
    ("new_job", &["n", "Ada"]),
    ("help", &["?"]),
    ("palette", &["ctrl-p", "coll"]),
    ("people", &["w"]),
    ("own_pin", &["ctrl-p", "own pin", "enter", "4710"]),
    (
        "practice_settings",
        &["ctrl-p", "practice settings", "enter"],
    ),
    (
        "practice_standard",
        &["ctrl-p", "practice settings", "enter", "down", "enter"],
    ),
    ("choices", &["enter", "alt-c"]),
    ("choices_edge", &["enter", "alt-c", "s", "s", "down"]),
    ("choices_take", &["enter", "alt-c", "down", "enter"]),
    ("pictures_front", &["enter", "f6"]),
    ("pictures_edges", &["enter", "alt-p", "tab"]),
    ("pictures_vertex", &["enter", "alt-p", "tab", "tab"]),
    ("pictures_across", &["enter", "alt-p", "tab", "tab", "tab"]),
    (
        "pictures_up",
        &["enter", "alt-p", "tab", "tab", "tab", "tab", "down"],
    ),
    (
        "pictures_tilt",
        &["enter", "alt-p", "shift-tab", "shift-tab"],
    ),
    ("pictures_accuracy", &["enter", "alt-p", "shift-tab"]),
];

/// The screens that are kept whole, few enough to be read in a review; `screens_say` has the others.
const KEPT_WHOLE: [&str; 17] = [
    "worklist",
    "job_opened",
    "job_fitting",
    "job_frame",
    "job_typing",
    "gate",
    "gate_accept",
    "lookup",
    "workbench_vertex",
    "new_job",
    "help",
    "palette",
    "people",
    "practice_settings",
    "choices",
    "pictures_front",
    "pictures_vertex",
];

#[test]
fn screens_look_as_they_were_approved() {
    for name in KEPT_WHOLE {
        let (_, keys) = SCREENS.iter().find(|s| s.0 == name).unwrap();
        let mut d = book();
        d.keys(keys);
        insta::assert_snapshot!(format!("{name}_80x24"), d.screen(80, 24));
    }
}

#[test]
fn a_vertex_mismatch_looks_as_it_was_approved_at_the_gate_and_in_the_form() {
    let mut d = Driver::signed_in(&[job("S03")]);
    d.keys(&["g"]);
    let mismatch = |d: &Driver| {
        let findings = &d.app.job.as_ref().unwrap().findings;
        findings[d.app.states.gate().unwrap().selected].check == "bvd-mismatch"
    };
    while !mismatch(&d) {
        d.keys(&["down"]);
    }
    insta::assert_snapshot!("gate_vertex_80x24", d.screen(80, 24));
    says(
        &d.screen(120, 40),
        &[
            ">▲ WARNING right tested at 12.0 mm, fitted at 15.0 mm changes a principal power by 0.33 D",
            "bvd-mismatch",
            "1 set the frame 3.0 mm closer, to 12.0 mm -9.50 / -0.75 x 15 0.00 D",
            "2 else order compensated, in quarters -9.75 / -0.75 x 15 0.08 D",
            "x cancel job",
        ],
    );
    for height in 16..24 {
        let shown = d.screen(60, height);
        assert!(shown.contains("set it"), "{shown}");
    }
    d.keys(&["enter"]);
    says(
        &d.screen(120, 40),
        &[
            "R set the frame 3.0 mm closer, to 12.0 mm: 0.00 D",
            "R to within 1 mm at most 0.11 D left",
            "R else compensated 0.08 D left in quarters",
            "centration distance 31 mm 31.5 mm R left as it is 0.33 D of error",
            "R tested to fitted 12.0 to 15.0 mm changes -0.33 D,",
            "0.105 D a mm",
            ">vertex distance 15 mm ? 15 mm ? L to within 1 mm at most 0.11 D left",
        ],
    );
}

#[test]
fn lenses_that_cannot_be_made_look_as_was_approved() {
    let mut file = job("S01");
    let powers = json!({"right": {"sphere_d": 11.0}, "left": {"sphere_d": 10.5}});
    for eye in ["right", "left"] {
        file["prescription"][eye] = powers[eye].clone();
        file["lenses"]["powers"][eye] = powers[eye].clone();
        file["fitting"][eye]["cd_mm"] = json!(28);
    }
    let mut d = Driver::signed_in(&[file]);
    d.keys(&["enter", "alt-c", "s", "s", "end"]);
    says(
        &d.screen(80, 24),
        &[
            "by edge, smallest first",
            "glass 1.60 17.00 cannot be made: the curves are too steep to reach",
            "glass 1.90 17.00 cannot be made",
            "> glass 1.90 19.00 cannot be made: the curves are too steep to reach",
            "60 of 60",
            "glass 1.90 on 19.00 D: index 1.885, Abbe 31, 3.99 g/cm³, not impact resistant",
            "This lens cannot be made: the curves are too steep to reach 30.9 mm from the",
            "optical centre: choose a flatter front curve or a smaller shape",
            "Tilt 7°, face form 4°. Vogel's rule: 16.8 D.",
            "s sort by next r reverse ? help esc back",
        ],
    );
    // What cannot be made cannot be taken.
    assert!(!d.screen(80, 24).contains("enter take"));
    let rows = d.app.states.choices().unwrap().order.len();
    for _ in 0..rows {
        d.keys(&["up"]);
        for width in [60, 80, 120] {
            d.screen(width, 16);
        }
    }
}

#[test]
fn a_window_too_small_gets_one_sentence() {
    let d = book();
    assert_eq!(
        d.screen(40, 10).trim(),
        "rimbook needs 60 columns and 16 rows;\nthis window has 40 and 10."
    );
    assert!(
        d.screen(59, 24)
            .contains("rimbook needs 60 columns and 16 rows")
    );
    assert!(d.screen(60, 16).contains("worklist"));
}

#[test]
fn without_colour_no_cell_has_one() {
    use ratatui::Terminal;
    use ratatui::backend::TestBackend;
    use ratatui::style::Color;
    for (name, keys) in SCREENS {
        let mut d = book();
        d.keys(keys);
        let mut terminal = Terminal::new(TestBackend::new(100, 30)).unwrap();
        let theme = Theme::new(true, None);
        terminal
            .draw(|frame| rimbook::testing::tui::ui::draw(&d.app, theme, frame))
            .unwrap();
        let coloured = terminal
            .backend()
            .buffer()
            .content()
            .iter()
            .filter(|c| c.fg != Color::Reset || c.bg != Color::Reset)
            .count();
        assert_eq!(coloured, 0, "{name}");
    }
}

#[test]
fn every_screen_draws_at_any_size() {
    for (_, keys) in SCREENS {
        let mut d = book();
        d.keys(keys);
        for height in (0..=60).step_by(3).chain([1, 15, 16, 17]) {
            for width in (0..=200).step_by(7).chain([1, 59, 60, 61, 80, 99, 100]) {
                d.screen(width, height);
            }
        }
    }
}

#[test]
fn the_first_screen_without_a_book_says_what_the_program_does_not_do() {
    let dir = tempfile::tempdir().unwrap();
    let d = Driver::on(dir.path().join("none.db"));
    let shown = d.screen(80, 24);
    assert!(
        shown.contains("Decisions stay with the registered"),
        "{shown}"
    );
    assert!(shown.contains("begin a new book"), "{shown}");
}

#[test]
fn the_day_set_for_a_trial_is_said_on_every_screen() {
    for (name, keys) in SCREENS {
        let mut d = book();
        d.keys(keys);
        let screen = d.screen(80, 24);
        let top = screen.lines().next().unwrap();
        // Where a long name leaves no room for the words, their mark, which the help explains.
        assert!(
            top.contains("trial day") || top.ends_with("2026*"),
            "{name}: {top}"
        );
    }
}

#[test]
fn control_characters_in_data_are_never_drawn() {
    let mut file = job("S01");
    file["wearer"]["notes"] = json!("a\u{1b}[31mb\u{202e}c\u{7}");
    let mut d = Driver::signed_in(&[file]);
    d.keys(&["enter"]);
    let shown = d.screen(120, 40);
    assert!(
        !shown
            .chars()
            .any(|c| c != '\n' && (c.is_control() || c == '\u{202e}'))
    );
}

/// Pages made from the program: `RIMBOOK_WRITE_DOCS=1 cargo test --test tui screens::` writes them again.
#[test]
fn pages_made_from_the_program_are_written_when_asked_for() {
    if std::env::var_os("RIMBOOK_WRITE_DOCS").is_none() {
        return;
    }
    let docs = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("docs");
    let keys = std::fs::read_to_string(docs.join("keys.md")).unwrap();
    let (head, _) = keys.split_once("### ").unwrap();
    std::fs::write(docs.join("keys.md"), format!("{head}{}", help::markdown())).unwrap();
}

#[test]
fn the_pictures_go_round_both_ways_and_esc_goes_back_to_the_job() {
    let mut d = book();
    d.keys(&["enter", "f6"]);
    let first = d.screen(80, 24);
    assert!(first.contains("[front]"), "{first}");
    d.keys(&["f6"; 7]);
    assert_eq!(d.screen(80, 24), first);
    d.keys(&["shift-tab"]);
    assert!(d.screen(80, 24).contains("[accuracy]"));
    d.keys(&["left"]);
    assert!(d.screen(80, 24).contains("[R] L"));
    d.keys(&["down"]);
    assert!(d.screen(80, 24).contains("R [L]"));
    d.keys(&["esc"]);
    assert!(d.screen(80, 24).contains("prescription"));
}

#[test]
fn pictures_in_plain_characters_stay_plain() {
    for (name, keys) in SCREENS.iter().filter(|s| s.0.starts_with("pictures_")) {
        let mut d = book();
        d.keys(keys);
        for (width, height) in [(60, 16), (80, 24), (120, 40)] {
            let theme = Theme::new(false, None).ascii(true);
            let shown = d.screen_in(width, height, theme);
            // The rule, the header and the hints belong to every screen.
            let body: Vec<&str> = shown.lines().skip(2).collect();
            let body = body[..body.len() - 2].join("\n");
            assert!(body.is_ascii(), "{name} {width}x{height}\n{body}");
            let tabs = body.lines().next().unwrap();
            let front = tabs.rsplit_once('[').unwrap().1;
            assert!(front.contains(']'), "{name} {width}: {tabs}");
        }
    }
}

#[test]
fn the_printed_key_table_is_the_programs_own() {
    let text = include_str!("../../docs/keys.md");
    assert!(
        text.ends_with(&help::markdown()),
        "docs/keys.md differs from the table of actions: run the example in its first lines"
    );
}
