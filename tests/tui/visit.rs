//! The visit about a pair that came back: by keys, at the desk, on the command line; the remake.

use crate::driver;

use crate::driver::{Driver, clock, scenario};
use rimbook::testing::book::desk::{Desk, ErrorKind};
use rimbook::testing::job::{Gate, Outcome, Reason, Section};
use rimbook::testing::tui::Screen;
use rimbook::testing::tui::screens::visit::Page;
use rimbook::testing::tui::update::Input;
use serde_json::{Value, json};

const DO: &str = "Ines Calloway";
const ASSISTANT: &str = "Nadia Brookwell";

/// A collected pair in a book of its own.
fn collected() -> Value {
    let mut job = scenario("S01")["job"].clone();
    job["past"] = json!(true);
    job["stage"] = json!("collected");
    job["number"] = json!("P-1");
    job
}

/// A book with a collected pair and its recheck; returns the recheck's number.
fn rechecked() -> (Driver, String) {
    let mut d = Driver::signed_in(&[collected()]);
    let mut desk = Desk::open(&d.path, clock()).unwrap();
    let number = desk.recheck("P-1", DO).unwrap().number;
    drop(desk);
    // Another process began it: the screens look whether the book was changed.
    d.input(Input::Poll);
    (d, number)
}

fn desk(d: &Driver) -> Desk {
    Desk::open(&d.path, clock()).unwrap()
}

fn all_moves() -> Value {
    json!(["move-height", "move-distance", "move-tilt", "move-turn"])
}

#[test]
fn a_collected_pair_leads_to_its_recheck_and_on_to_the_visit() {
    let mut d = Driver::signed_in(&[collected()]);
    d.keys(&["/", "P-1", "enter", "alt-v"]);
    let shown = d.screen(80, 24);
    assert!(shown.contains("begin a recheck of this pair"), "{shown}");
    d.keys(&["enter"]);
    assert_eq!(d.app.screen, Screen::Visit, "{}", d.said());
    let open = d.in_book();
    assert_eq!(open.job.reason, Some(Reason::Recheck));
    assert_eq!(open.job.linked_to.as_deref(), Some("P-1"));
    let shown = d.screen(80, 24);
    for words in [
        "differences:",
        "steps: 0 of 13",
        "causes:",
        "outcome: open",
        "previous",
        "handed",
    ] {
        assert!(shown.contains(words), "{words}\n{shown}");
    }
}

#[test]
fn an_open_job_that_is_no_recheck_has_no_visit() {
    let mut d = Driver::signed_in(&[scenario("S01")["job"].clone()]);
    d.keys(&["enter", "alt-v"]);
    assert_eq!(d.app.screen, Screen::Job);
    assert!(d.said().contains("no recheck"), "{}", d.said());
}

#[test]
fn steps_are_ticked_complaints_chosen_and_the_outcome_recorded_by_keys() {
    let (mut d, number) = rechecked();
    d.keys(&["enter", "alt-v", "tab"]);
    assert_eq!(d.visit().page, Page::Steps);
    d.keys(&["enter", " "]);
    assert_eq!(d.in_book().job.visit.tried.unwrap(), ["listen", "danger"]);
    // What was ticked leads on to the next; a tick taken away stays there.
    d.keys(&["up", " "]);
    assert_eq!(d.in_book().job.visit.tried.unwrap(), ["listen"]);
    // i: things lean; d: clear with the chin moved.
    d.keys(&["tab", "i", "d"]);
    let visit = d.in_book().job.visit;
    let words: Vec<_> = visit.complaints.unwrap().iter().map(|c| c.word()).collect();
    assert_eq!(words, ["clear with chin moved", "things lean or slope"]);
    assert!(d.screen(80, 24).contains("x things lean"), "ticked");
    d.keys(&["d", "tab", "floor slopes", "enter"]);
    assert_eq!(d.visit().page, Page::Outcome);
    let visit = d.in_book().job.visit;
    assert_eq!(visit.complaint.as_deref(), Some("floor slopes"));
    assert_eq!(visit.complaints.unwrap().len(), 1);
    // Outcome: adjusted, by the one who acts, today.
    d.keys(&["down", "down", "enter", "enter"]);
    let visit = d.in_book().job.visit;
    assert_eq!(visit.outcome, Some(Outcome::Adjusted));
    assert_eq!(visit.decided_by.as_deref(), Some(DO));
    assert_eq!(visit.decided_on, Some(driver::today()));
    let history = desk(&d).history(&number).unwrap();
    let last = history.last().unwrap();
    assert_eq!(
        (last.what.as_str(), last.by.as_deref()),
        ("recorded", Some(DO))
    );
    assert_eq!(last.detail["section"], "visit");
    assert_eq!(last.detail["change"]["outcome"], "adjusted");
}

#[test]
fn every_page_draws_at_any_size_with_marks_beside_colour() {
    let (mut d, _) = rechecked();
    d.keys(&["enter", "alt-v"]);
    for page in Page::ALL {
        assert_eq!(d.visit().page, page);
        for height in (0..=60).step_by(5).chain([15, 16, 24]) {
            for width in (0..=160).step_by(9).chain([59, 60, 80]) {
                d.screen(width, height);
            }
        }
        d.keys(&["tab"]);
    }
    let change = json!({"right": {"cd_mm": 20}});
    let number = d.in_book().number;
    desk(&d)
        .record(&number, Section::Fitting, &change, None, Some(DO))
        .unwrap();
    d.input(Input::Poll);
    let shown = d.screen(80, 24);
    assert!(shown.contains("! R centration"), "{shown}");
}

#[test]
fn waiting_asks_for_the_day_and_keeps_both_at_once() {
    let (mut d, number) = rechecked();
    d.keys(&[
        "enter",
        "alt-v",
        "shift-tab",
        "down",
        "down",
        "down",
        "enter",
    ]);
    d.keys(&["down", "enter"]);
    assert_eq!(d.in_book().job.visit.outcome, None, "not without its day");
    d.keys(&["nonsense", "enter"]);
    assert!(d.visit().edit().is_some(), "what was typed is kept");
    for _ in 0.."nonsense".len() {
        d.keys(&["backspace"]);
    }
    d.keys(&["+14", "enter"]);
    let visit = d.in_book().job.visit;
    assert_eq!(visit.review_on.unwrap().to_string(), "2026-10-26");
    let refused = desk(&d)
        .record_visit(&number, DO, &json!({"review_on": null}))
        .unwrap_err();
    assert_eq!(refused.kind, ErrorKind::Input);
}

#[test]
fn what_is_being_typed_is_kept_over_an_end_of_the_program() {
    let (mut d, _) = rechecked();
    d.keys(&["enter", "alt-v", "shift-tab", "down", "pads pin"]);
    let path = d.path.clone();
    let mut again = Driver::on(path);
    again.keys(&["w", "enter", "enter", "alt-v"]);
    assert_eq!(again.visit().page, Page::Outcome);
    let edit = again.visit().edit().expect("taken up");
    assert_eq!(
        (edit.path.as_str(), edit.line.text()),
        ("visit.found", "pads pin")
    );
    again.keys(&["ched", "enter"]);
    let open = again.in_book();
    assert_eq!(open.job.visit.found.as_deref(), Some("pads pinched"));
    assert!(desk(&again).drafts(&open.number).unwrap().is_empty());
    drop(d);
}

#[test]
fn a_remake_is_not_begun_before_the_free_moves_are_tried_or_accepted() {
    let (d, number) = rechecked();
    let mut desk = desk(&d);
    let refused = desk.begin_remake(&number, DO).unwrap_err();
    assert!(
        refused.message.contains("record remade first"),
        "{refused:?}"
    );
    desk.record_visit(
        &number,
        DO,
        &json!({"outcome": "remade", "at_cost_of": "practice"}),
    )
    .unwrap();
    let refused = desk.begin_remake(&number, DO).unwrap_err();
    assert!(refused.message.contains("cause"), "{refused:?}");
    desk.record_visit(
        &number,
        DO,
        &json!({"cause": "height", "tried": ["move-height"]}),
    )
    .unwrap();
    let refused = desk.begin_remake(&number, DO).unwrap_err();
    assert!(
        refused.message.contains("tilt it") && !refused.message.contains("lift"),
        "{refused:?}"
    );
    let open = desk.load(&number).unwrap();
    let held = desk.findings(&open, Gate::Ordered).unwrap();
    assert!(held.iter().any(|f| f.check == "remake-untried"));
    assert!(
        !desk
            .accept(&number, "remake-untried", None, ASSISTANT, "in a hurry")
            .is_ok_and(|a| a.ok),
        "an assistant does not accept it"
    );
    desk.accept(
        &number,
        "remake-untried",
        None,
        DO,
        "frame broke while it was looked at",
    )
    .unwrap();
    let remake = desk.begin_remake(&number, DO).unwrap();
    assert_eq!(remake.job.reason, Some(Reason::Remake));
    assert_eq!(remake.job.linked_to.as_deref(), Some(number.as_str()));
    assert_eq!(remake.job.fitting.right, open.job.fitting.right);
    assert_eq!(remake.job.fitting.taken_by, None, "named for the remake");
    let twice = desk.begin_remake(&number, DO).unwrap_err();
    assert!(twice.message.contains(&remake.number), "{twice:?}");
}

#[test]
fn a_remake_as_before_is_held_until_what_the_cause_speaks_of_differs() {
    let (d, number) = rechecked();
    let mut desk = desk(&d);
    desk.record_visit(
        &number,
        DO,
        &json!({"outcome": "remade", "cause": "height", "tried": all_moves()}),
    )
    .unwrap();
    let remake = desk.begin_remake(&number, DO).unwrap().number;
    let held = |desk: &Desk| {
        let open = desk.load(&remake).unwrap();
        let list = desk.findings(&open, Gate::Ordered).unwrap();
        let ids: Vec<_> = list.iter().map(|f| f.check.word()).collect();
        assert!(!ids.contains(&"order-duplicate"), "the pair it follows");
        ids.contains(&"remake-same")
    };
    let set = |desk: &mut Desk, mm: f64| {
        let change = json!({"right": {"height_mm": mm}});
        desk.record(&remake, Section::Fitting, &change, None, Some(DO))
            .unwrap();
    };
    let now = desk.load(&remake).unwrap().job.fitting.right.height_mm;
    let now = now.unwrap().get();
    assert!(held(&desk), "the same");
    set(&mut desk, now + 0.4);
    assert!(held(&desk), "within half a millimetre");
    set(&mut desk, now + 0.5);
    assert!(!held(&desk), "on it");
    set(&mut desk, now + 2.0);
    assert!(!held(&desk), "beyond");
    set(&mut desk, now);
    desk.record(
        &remake,
        Section::Fitting,
        &json!({"right": {"cd_mm": 20}}),
        None,
        Some(DO),
    )
    .unwrap();
    assert!(held(&desk), "a centration is not a height");
    desk.record_visit(&remake, DO, &json!({"same_because": "the first broke"}))
        .unwrap();
    assert!(!held(&desk), "it is written why");
}

#[test]
fn an_outcome_has_somebody_who_decided() {
    let (d, number) = rechecked();
    let mut desk = desk(&d);
    let change = json!({"outcome": "returned"});
    let refused = desk
        .record(&number, Section::Visit, &change, None, None)
        .unwrap_err();
    assert_eq!(refused.kind, ErrorKind::Input);
    let open = desk.record_visit(&number, DO, &change).unwrap();
    assert_eq!(open.job.visit.decided_by.as_deref(), Some(DO));
    let open = desk
        .record_visit(&number, DO, &json!({"outcome": null}))
        .unwrap();
    assert_eq!(
        (open.job.visit.decided_by, open.job.visit.decided_on),
        (None, None)
    );
}

#[test]
fn a_visit_is_recorded_of_a_recheck_only() {
    let (d, _) = rechecked();
    let refused = desk(&d)
        .record_visit("P-1", DO, &json!({"found": "x"}))
        .unwrap_err();
    assert_eq!(refused.kind, ErrorKind::Refused);
}

fn run(d: &Driver, arguments: &[&str]) -> (bool, String) {
    let out = std::process::Command::new(env!("CARGO_BIN_EXE_rimbook"))
        .arg("--db")
        .arg(&d.path)
        .args(arguments)
        .output()
        .unwrap();
    let text = format!(
        "{}{}",
        String::from_utf8_lossy(&out.stdout),
        String::from_utf8_lossy(&out.stderr)
    );
    (out.status.success(), text)
}

#[test]
fn the_command_line_shows_a_visit_records_it_and_begins_the_remake() {
    let (d, number) = rechecked();
    let file = d.path.with_file_name("visit.json");
    let change = json!({"outcome": "remade", "cause": "laboratory", "tried": all_moves(), "complaints": ["lens loose"]});
    std::fs::write(&file, change.to_string()).unwrap();
    let (ok, text) = run(
        &d,
        &[
            "record",
            &number,
            "visit",
            file.to_str().unwrap(),
            "--as",
            DO,
        ],
    );
    assert!(ok, "{text}");
    let (ok, text) = run(&d, &["visit", &number]);
    assert!(ok, "{text}");
    for words in [
        "recheck of P-1",
        "cause: laboratory",
        "decided by: Ines Calloway",
        "not recorded",
        "loose:",
        "done move-tilt",
        "open listen",
    ] {
        assert!(text.contains(words), "{words}\n{text}");
    }
    let (ok, text) = run(&d, &["visit", &number, "--json"]);
    assert!(ok, "{text}");
    let value: Value = serde_json::from_str(&text).unwrap();
    assert_eq!(value["linked_to"], "P-1");
    assert_eq!(value["steps"].as_array().unwrap().len(), 13);
    assert_eq!(value["causes"][0]["id"], "loose");
    assert!(value["comparison"].as_array().unwrap().len() > 20);
    let (ok, text) = run(&d, &["remake", &number, "--as", DO]);
    assert!(ok && text.contains("begun as the remake"), "{text}");
    let (ok, text) = run(&d, &["visit", "P-1"]);
    assert!(!ok && text.contains("no recheck"), "{text}");
}

#[test]
fn two_terminals_that_begin_the_remake_at_once_begin_one() {
    for _ in 0..20 {
        let (d, number) = rechecked();
        let decided = json!({"outcome": "remade", "cause": "height", "tried": all_moves()});
        desk(&d).record_visit(&number, DO, &decided).unwrap();
        let start = std::sync::Barrier::new(2);
        let begun = std::thread::scope(|scope| {
            let terminals = [0, 1].map(|_| {
                scope.spawn(|| {
                    let mut desk = Desk::open(&d.path, clock()).unwrap();
                    start.wait();
                    desk.begin_remake(&number, DO).is_ok()
                })
            });
            terminals.map(|t| t.join().unwrap())
        });
        assert_eq!(begun.iter().filter(|b| **b).count(), 1);
        assert_eq!(desk(&d).numbers().unwrap().len(), 3);
    }
}

#[test]
fn a_remake_asks_anew_who_answers_for_the_powers_and_how_the_frame_is() {
    let mut file = collected();
    file["frame"]["condition"] = json!("new");
    file["lenses"]["powers"]["as"] = json!("vertex compensated");
    file["lenses"]["powers"]["by"] = json!("Hugo Penrith");
    file["lenses"]["laboratory_powers"] = json!({"right": {"sphere_d": -0.5}});
    let begun = |at_visit: &[(Section, Value)]| {
        let d = Driver::signed_in(&[file.clone()]);
        let mut desk = desk(&d);
        let number = desk.recheck("P-1", DO).unwrap().number;
        for (section, change) in at_visit {
            desk.record(&number, *section, change, None, Some(DO))
                .unwrap();
        }
        let decided = json!({"outcome": "remade", "cause": "height", "tried": all_moves()});
        desk.record_visit(&number, DO, &decided).unwrap();
        desk.begin_remake(&number, DO).unwrap().job
    };
    let remake = begun(&[]);
    let powers = remake.lenses.powers.as_ref().unwrap();
    assert_eq!((powers.by.as_deref(), remake.frame.condition), (None, None));
    assert!(powers.right.sphere_d.is_some());
    for path in remake.origins.keys() {
        assert!(
            remake.value_at(path).is_some(),
            "{path} has an origin and no value"
        );
    }
    // What was looked at and answered for at the visit is of now.
    let remake = begun(&[
        (Section::Frame, json!({"condition": "new"})),
        (Section::Lenses, json!({"powers": {"by": DO}})),
    ]);
    assert_eq!(remake.lenses.powers.unwrap().by.as_deref(), Some(DO));
    assert!(remake.frame.condition.is_some());
}

#[test]
fn letters_lead_to_the_word_that_begins_with_them() {
    let (mut d, number) = rechecked();
    d.keys(&["/", &number, "enter", "alt-v", "shift-tab"]);
    // Words, what was found, the cause, the outcome.
    d.keys(&["down", "down", "down", "rem"]);
    assert!(
        d.screen(80, 24).contains("> remade"),
        "{}",
        d.screen(80, 24)
    );
    // A letter that goes on no beginning starts again, and the same one again goes on to the next.
    d.keys(&["w"]);
    assert!(d.screen(80, 24).contains("> waiting"));
    d.keys(&["r"]);
    assert!(d.screen(80, 24).contains("> remade"));
    d.keys(&["r"]);
    assert!(d.screen(80, 24).contains("> re-test asked"));
}

#[test]
fn words_that_may_mean_a_disease_are_told_before_anything_is_decided() {
    let (mut d, number) = rechecked();
    let mut desk = desk(&d);
    let said = json!({"complaint": "they slip and I see flashes since yesterday"});
    desk.record_visit(&number, DO, &said).unwrap();
    for outcome in [Outcome::Adjusted, Outcome::Returned, Outcome::Remade] {
        let refused = desk
            .record_visit(&number, DO, &json!({ "outcome": outcome }))
            .unwrap_err();
        assert_eq!(refused.kind, ErrorKind::Refused, "{outcome}");
        assert!(refused.message.contains("\"flash\""), "{}", refused.message);
    }
    d.input(Input::Poll);
    d.keys(&["/", &number, "enter", "alt-v", "shift-tab"]);
    assert!(d.screen(80, 24).contains("The optometrist today"));
    d.keys(&["down", "down", "down", "adj", "enter"]);
    assert!(d.said().contains("may mean a disease"), "{}", d.said());
    // Sentences, and where it is entered here: nobody at the screen knows the keys of the file.
    let told = "nothing is adjusted first. Enter who was told in the last row, then decide";
    assert!(d.said().contains(told), "{}", d.said());
    assert!(!d.said().contains("warning_told"), "{}", d.said());
    let shown = d.screen(80, 24);
    let shown: Vec<&str> = shown.split_whitespace().collect();
    assert!(shown.join(" ").contains("needs no more."), "{shown:?}");
    assert_eq!(d.in_book().job.visit.outcome, None);
    d.keys(&["end", "Marek Aldous", "enter"]);
    assert!(d.screen(80, 24).contains("Marek Aldous was told"));
    d.keys(&["home", "down", "down", "down", "adj", "enter"]);
    assert_eq!(d.in_book().job.visit.outcome, Some(Outcome::Adjusted));
    // To ask for a re-test is to tell whoever judges it.
    let (d, number) = rechecked();
    let mut desk = self::desk(&d);
    let kinds = json!({"complaints": ["health warning words"], "outcome": "re-test asked"});
    desk.record_visit(&number, DO, &kinds).unwrap();
}

#[test]
fn both_pages_say_that_an_outcome_waits_for_whoever_is_to_be_told() {
    use rimbook::testing::tui::visit_entries::VisitEntry;
    // "The last row", as the pages and the refusal say.
    let last = VisitEntry::ALL.last().unwrap().key();
    assert_eq!(last, "warning_told");
    let pages = [
        include_str!("../../docs/recheck.md"),
        include_str!("../../docs/guide.md"),
    ];
    for page in pages {
        let words: Vec<&str> = page.split_whitespace().collect();
        let page = words.join(" ");
        let (_, said) = page
            .split_once("While the wearer's words may mean a disease")
            .expect("said");
        let said: String = said.chars().take(300).collect();
        for part in ["refused", "last row of the outcome page", last] {
            assert!(said.contains(part), "{part}: {said}");
        }
    }
}

#[test]
fn escape_from_a_remake_leads_to_where_its_visit_was_opened_from() {
    let (mut d, number) = rechecked();
    let mut desk = desk(&d);
    let ids: Vec<_> = rimbook::testing::judge::rules::free_moves::FREE_MOVES
        .iter()
        .map(|m| m.0)
        .collect();
    let decided = json!({"cause": "height", "outcome": "remade", "tried": ids});
    desk.record_visit(&number, DO, &decided).unwrap();
    d.input(Input::Poll);
    d.keys(&["/", &number, "enter", "alt-v", "f9"]);
    assert_eq!(d.app.screen, Screen::Job);
    assert_ne!(d.app.job.as_ref().unwrap().open.number, number);
    d.keys(&["esc"]);
    assert_eq!(d.app.screen, Screen::Lookup);
}
