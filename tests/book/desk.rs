//! The desk on a real book: scenarios through the store, moves, stale screens, refusals of files.
#![allow(clippy::disallowed_methods, reason = "tests")]

use crate::scenarios::{desk_for, scenarios};
use rimbook::testing::book::clock::Clock;
use rimbook::testing::book::desk::{Desk, ErrorKind, ListFilter};
use rimbook::testing::job::{Gate, Section};
use serde_json::{Value, json};

#[test]
fn a_stale_screen_overwrites_nothing() {
    let (_dir, path, mut desk, number) = desk_for(&scenarios()[0]);
    let mut other = Desk::open(
        &path,
        Clock {
            fixed: Some(desk.today()),
        },
    )
    .unwrap();
    let seen = desk.load(&number).unwrap().revision;
    let version = desk.data_version();
    other
        .record(
            &number,
            Section::Frame,
            &json!({"colour": "amber"}),
            Some(seen),
            None,
        )
        .unwrap();
    assert_ne!(desk.data_version(), version, "the other process is noticed");
    let late = desk
        .record(
            &number,
            Section::Frame,
            &json!({"colour": "teal"}),
            Some(seen),
            None,
        )
        .unwrap_err();
    assert_eq!(late.kind, ErrorKind::Stale);
    let late = desk
        .advance(&number, Gate::Ordered, "Ines Calloway", Some(seen))
        .unwrap_err();
    assert_eq!(late.kind, ErrorKind::Stale);
    assert_eq!(
        desk.load(&number).unwrap().job.frame.colour.as_deref(),
        Some("amber")
    );
}

#[test]
fn look_up_finds_by_letters_number_phone_tail_birth_date_and_frame() {
    let (_dir, _path, mut desk, number) = desk_for(&scenarios()[0]);
    desk.record(
        &number,
        Section::Wearer,
        &json!({"name": "Zoë Håkansson", "phone": "+44 (0)20 7946 0123", "born": "1994-05-17"}),
        None,
        None,
    )
    .unwrap();
    for typed in [
        "zoe",
        "hakan",
        "Håk zoë",
        "0123",
        "79460123",
        "17/05/1994",
        "1994-05-17",
        "17 May 1994",
        "fernley",
        &number,
        "z",
    ] {
        let found = desk.find(typed, 10).unwrap();
        assert_eq!(found.len(), 1, "{typed}");
    }
    for typed in ["", "nobody", "\" OR 1", "* NEAR(", "9999", "') --"] {
        assert!(desk.find(typed, 10).unwrap().is_empty(), "{typed}");
    }
}

#[test]
fn an_import_is_all_or_nothing() {
    let (_dir, _path, mut desk, _) = desk_for(&scenarios()[0]);
    let good = scenarios()[1]["job"].clone();
    let mut bad = good.clone();
    bad["lenses"]["powers"]["right"]["spere_d"] = json!(1);
    let error = desk
        .import(&json!([good, bad]).to_string(), None)
        .unwrap_err();
    assert!(
        error.message.contains("job 2: lenses.powers.right"),
        "{}",
        error.message
    );
    assert_eq!(desk.numbers().unwrap().len(), 1);
}

#[test]
fn an_imported_stage_is_not_believed_but_a_past_job_keeps_its_own() {
    let (_dir, _path, mut desk, _) = desk_for(&scenarios()[0]);
    let mut job = scenarios()[1]["job"].clone();
    job["stage"] = json!("collected");
    let n = desk
        .import(&job.to_string(), None)
        .unwrap()
        .numbers
        .remove(0);
    assert_eq!(desk.load(&n).unwrap().job.stage().word(), "measured");
    job["past"] = json!(true);
    job["number"] = json!("A-17");
    let n = desk
        .import(&job.to_string(), None)
        .unwrap()
        .numbers
        .remove(0);
    assert_eq!(
        (n.as_str(), desk.load(&n).unwrap().job.stage().word()),
        ("A-17", "collected")
    );
    assert_eq!(
        desk.import(&job.to_string(), None).unwrap_err().kind,
        ErrorKind::Input
    );
    assert_eq!(
        desk.advance("A-17", Gate::Collected, "Hugo Penrith", None)
            .unwrap_err()
            .kind,
        ErrorKind::Refused
    );
    let again = desk.recheck("A-17", "Hugo Penrith").unwrap();
    assert_eq!(again.job.linked_to.as_deref(), Some("A-17"));
    assert_eq!(again.job.order.laboratory, None);
}

/// The unfinished texts of a job that may be offered: field, text and who typed it.
fn drafts(desk: &Desk, number: &str) -> Vec<(String, String, Option<String>)> {
    let drafts = desk.drafts(number).unwrap();
    drafts
        .into_iter()
        .map(|d| (d.field, d.text, d.by))
        .collect()
}

#[test]
fn what_two_people_type_into_one_field_is_kept_for_each() {
    let (_dir, _path, mut desk, number) = desk_for(&scenarios()[0]);
    let (col, hanne) = (Some("Col Verity"), Some("Hanne Sorrel"));
    let field = "fitting.binocular_pd_mm";
    desk.save_draft(&number, field, "57", col).unwrap();
    desk.save_draft(&number, field, "61", hanne).unwrap();
    assert_eq!(drafts(&desk, &number).len(), 2);
    desk.clear_draft(&number, field, hanne).unwrap();
    let of_col = (field.to_owned(), "57".to_owned(), col.map(str::to_owned));
    assert_eq!(drafts(&desk, &number), [of_col]);
}

#[test]
fn drafts_wait_for_their_job_and_history_is_only_added_to() {
    let (_dir, path, mut desk, number) = desk_for(&scenarios()[0]);
    desk.save_draft(&number, "fitting.right.cd_mm", "31", None)
        .unwrap();
    desk.save_draft(&number, "fitting.right.cd_mm", "31.", None)
        .unwrap();
    let clock = Clock {
        fixed: Some(desk.today()),
    };
    drop(desk);
    let mut desk = Desk::open(&path, clock).unwrap();
    assert_eq!(
        drafts(&desk, &number),
        [("fitting.right.cd_mm".to_owned(), "31.".to_owned(), None)]
    );
    desk.clear_draft(&number, "fitting.right.cd_mm", None)
        .unwrap();
    assert!(desk.drafts(&number).unwrap().is_empty());
    desk.cancel(&number, "Hugo Penrith", "wearer moved away")
        .unwrap();
    let what: Vec<String> = desk
        .history(&number)
        .unwrap()
        .into_iter()
        .map(|e| e.what)
        .collect();
    assert_eq!(what, ["imported", "cancelled"]);
    drop(desk);
    let raw = rusqlite::Connection::open(&path).unwrap();
    for sql in [
        "DELETE FROM history",
        "UPDATE history SET what = 'x'",
        "DELETE FROM history_detail",
        "UPDATE history_detail SET detail = 'x'",
        "DELETE FROM acceptance",
        "UPDATE acceptance SET content = ''",
    ] {
        let changed = raw.execute(sql, []);
        assert!(changed.is_err() || changed == Ok(0), "{sql}");
    }
    assert!(
        raw.execute("DELETE FROM history_detail", [])
            .unwrap_err()
            .to_string()
            .contains("history")
    );
}

#[test]
fn a_file_that_is_no_book_is_refused_and_left_as_it_is() {
    let dir = tempfile::tempdir().unwrap();
    let at = |name: &str| dir.path().join(name);
    std::fs::write(at("text"), "a shopping list").unwrap();
    let other = rusqlite::Connection::open(at("other")).unwrap();
    other
        .execute_batch("CREATE TABLE t (x); INSERT INTO t VALUES (1);")
        .unwrap();
    drop(other);
    drop(Desk::create(&at("newer"), Clock::default()).unwrap());
    rusqlite::Connection::open(at("newer"))
        .unwrap()
        .pragma_update(None, "user_version", 99)
        .unwrap();
    for (name, says) in [
        ("text", "no rimbook book"),
        ("other", "no rimbook book"),
        ("newer", "version 99"),
    ] {
        let before = std::fs::read(at(name)).unwrap();
        let error = Desk::open(&at(name), Clock::default()).unwrap_err();
        assert!(error.message.contains(says), "{name}: {}", error.message);
        assert_eq!(
            std::fs::read(at(name)).unwrap(),
            before,
            "{name} is untouched"
        );
        assert!(
            Desk::create(&at(name), Clock::default()).is_err(),
            "{name} is not replaced"
        );
    }
    assert_eq!(
        Desk::open(&at("none"), Clock::default()).unwrap_err().kind,
        ErrorKind::File
    );
}

#[cfg(unix)]
#[test]
fn a_new_book_is_readable_by_its_owner_alone() {
    use std::os::unix::fs::PermissionsExt;
    let (_dir, path, _desk, _) = desk_for(&scenarios()[0]);
    let mode = |p: &std::path::Path| std::fs::metadata(p).unwrap().permissions().mode() & 0o777;
    assert_eq!(mode(&path), 0o600);
    assert_eq!(mode(path.parent().unwrap()), 0o700);
}

#[test]
fn worklist_and_look_up_use_their_indices() {
    let dir = tempfile::tempdir().unwrap();
    let store = rimbook::testing::book::store::Store::create(&dir.path().join("book.db")).unwrap();
    for (sql, index) in [
        (
            "SELECT number, stage, past, wearer, born, due_on, promised_on, collection_at, held, held_on FROM job
             WHERE past = 0 AND stage IN ('measured', 'ordered', 'verified') ORDER BY stage, due_on, id",
            "COVERING INDEX job_open",
        ),
        (
            "SELECT number FROM job WHERE wearer_key >= 'a' AND wearer_key < 'b' ORDER BY wearer_key, born",
            "job_wearer",
        ),
        (
            "SELECT number FROM job WHERE phone_tail >= '321' AND phone_tail < '321:'",
            "job_phone",
        ),
    ] {
        let plan = store.plan(sql).unwrap();
        assert!(
            plan.contains(index) && !plan.contains("TEMP B-TREE"),
            "{plan}"
        );
    }
}

fn job_of(number: &str) -> Value {
    let mut job = scenarios()[0]["job"].clone();
    job["past"] = json!(true);
    job["number"] = json!(number);
    job
}

#[test]
fn a_past_number_that_cannot_be_typed_is_refused() {
    let (_dir, _path, mut desk, _) = desk_for(&scenarios()[0]);
    for number in ["", "  ", "A\n17", "A\u{1b}[2J"] {
        let error = desk.import(&job_of(number).to_string(), None).unwrap_err();
        assert_eq!(error.kind, ErrorKind::Input, "{number:?}");
        assert!(!error.message.chars().any(char::is_control));
    }
    assert_eq!(desk.numbers().unwrap().len(), 1);
}

#[test]
fn only_keys_that_are_there_are_said_not_to_be_taken_over() {
    let (_dir, _path, mut desk, _) = desk_for(&scenarios()[0]);
    let mut job = scenarios()[0]["job"].clone();
    job["order"]["notes"] = json!("the \"history\" and what was \"accepted\"");
    let imported = desk.import(&job.to_string(), None).unwrap();
    assert_eq!(imported.ignored, Vec::<String>::new());
    job["history"] = json!([]);
    let imported = desk.import(&json!([job]).to_string(), None).unwrap();
    assert_eq!(imported.ignored.len(), 1);
}

#[test]
fn the_beginning_of_a_telephone_number_finds_it_however_it_is_spaced() {
    let (_dir, _path, mut desk, number) = desk_for(&scenarios()[0]);
    desk.record(
        &number,
        Section::Wearer,
        &json!({"phone": "01614960123"}),
        None,
        None,
    )
    .unwrap();
    for typed in ["0161 496", "0161-4960 1", "(0161) 496", "496 0123"] {
        assert_eq!(desk.find(typed, 10).unwrap().len(), 1, "{typed}");
    }
    assert!(desk.find("0161 497", 10).unwrap().is_empty());
}

#[test]
fn the_day_that_a_move_fills_in_is_in_its_event_and_in_the_snapshot() {
    let (_dir, _path, mut desk, number) = desk_for(&scenarios()[0]);
    desk.record(
        &number,
        Section::Order,
        &json!({"ordered_on": null}),
        None,
        None,
    )
    .unwrap();
    let done = desk
        .advance(&number, Gate::Ordered, "Ines Calloway", None)
        .unwrap();
    assert!(done.moved);
    let open = desk.load(&number).unwrap();
    assert_eq!(open.job.order.ordered_on, Some(desk.today()));
    assert_eq!(open.passed[0].job.order, open.job.order);
    let history = desk.history(&number).unwrap();
    assert_eq!(
        history.last().unwrap().detail["ordered_on"],
        desk.today().to_string()
    );
}

/// The day for which the book says what holds a job.
fn held_on(path: &std::path::Path, number: &str) -> String {
    rusqlite::Connection::open(path)
        .unwrap()
        .query_row("SELECT held_on FROM job WHERE number = ?1", [number], |r| {
            r.get(0)
        })
        .unwrap()
}

#[test]
fn what_holds_a_job_is_worked_out_once_after_anything_it_depends_on_changed() {
    const NEVER: &str = "0001-01-01";
    let (_dir, path, mut desk, number) = desk_for(&scenarios()[0]);
    let today = desk.today().to_string();
    let practice = desk.practice().unwrap();
    desk.set_practice(&practice, "Ines Calloway").unwrap();
    assert_eq!(held_on(&path, &number), NEVER);
    desk.worklist().unwrap();
    assert_eq!(held_on(&path, &number), today, "kept by the listing");

    let same_wearer = desk
        .import(&scenarios()[0]["job"].to_string(), None)
        .unwrap()
        .numbers
        .remove(0);
    assert_eq!(held_on(&path, &number), NEVER, "the wearer has a new job");
    desk.worklist().unwrap();
    desk.record(
        &same_wearer,
        Section::Wearer,
        &json!({"name": "Somebody Else"}),
        None,
        None,
    )
    .unwrap();
    assert_eq!(held_on(&path, &number), NEVER, "it is another wearer's now");
    desk.worklist().unwrap();
    desk.new_job("A Third", None).unwrap();
    assert_eq!(held_on(&path, &number), today, "no concern of this wearer");

    // A day that lies behind what is kept is answered and not kept.
    let yesterday = Clock {
        fixed: desk.today().pred_opt(),
    };
    let early = Desk::open(&path, yesterday).unwrap();
    assert_eq!(early.worklist().unwrap().len(), 3);
    assert_eq!(held_on(&path, &number), today);

    // A writer elsewhere does not keep a list waiting.
    desk.set_practice(&practice, "Ines Calloway").unwrap();
    let elsewhere = rusqlite::Connection::open(&path).unwrap();
    elsewhere.execute_batch("BEGIN IMMEDIATE").unwrap();
    assert_eq!(desk.worklist().unwrap().len(), 3);
    elsewhere.execute_batch("ROLLBACK").unwrap();
    assert_eq!(held_on(&path, &number), NEVER);
}

#[test]
fn the_list_of_a_day_shows_what_was_collected_on_it() {
    let (_dir, _path, mut desk, _) = desk_for(&scenarios()[0]);
    let mut job = job_of("A-17");
    job["handover"]["given_on"] = json!("2020-02-03");
    desk.import(&job.to_string(), None).unwrap();
    let on = |day: &str| ListFilter {
        on: Some(day.parse().unwrap()),
        ..ListFilter::default()
    };
    let found = desk.list(&on("2020-02-03")).unwrap();
    assert_eq!(found.len(), 1);
    assert_eq!(found[0].number, "A-17");
    assert!(desk.list(&on("2020-02-04")).unwrap().is_empty());
}

#[test]
fn a_recheck_and_the_event_of_its_first_pair_are_kept_together() {
    let (_dir, _path, mut desk, _) = desk_for(&scenarios()[0]);
    desk.import(&job_of("A-17").to_string(), None).unwrap();
    let begun = desk.recheck("A-17", "Hugo Penrith").unwrap();
    let old = desk.history("A-17").unwrap();
    assert_eq!(old.last().unwrap().detail["new_job"], *begun.number);
    assert_eq!(begun.job.stage().word(), "measured");
    assert!(desk.recheck(&begun.number, "Hugo Penrith").is_err());
    assert_eq!(desk.numbers().unwrap().len(), 3);
}

#[test]
fn a_move_is_judged_by_what_another_process_kept_while_it_waited() {
    let (_dir, path, mut desk, number) = desk_for(&scenarios()[0]);
    let reader = Desk::open(&path, Clock::default()).unwrap();
    let elsewhere = rusqlite::Connection::open(&path).unwrap();
    elsewhere
        .execute_batch("BEGIN IMMEDIATE; DELETE FROM staff WHERE name = 'Ines Calloway'")
        .unwrap();
    let begun = std::sync::Barrier::new(2);
    std::thread::scope(|scope| {
        let mover = scope.spawn(|| {
            begun.wait();
            desk.advance(&number, Gate::Ordered, "Ines Calloway", None)
        });
        begun.wait();
        // Long enough for a read outside the write to have seen her on the list still.
        for _ in 0..100 {
            reader.load(&number).unwrap();
        }
        elsewhere.execute_batch("COMMIT").unwrap();
        let error = mover.join().unwrap().unwrap_err();
        assert_eq!(error.kind, ErrorKind::NotFound);
    });
}
