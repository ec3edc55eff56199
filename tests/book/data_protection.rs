//! Erasing leaves nothing in the files, history stays whole, and what is due is found by the rule.
#![allow(clippy::disallowed_methods, reason = "tests")]

use std::path::{Path, PathBuf};

use crate::driver::{assistant, clock, optician, scenario};
use rimbook::testing::book::desk::{Desk, Erasure, ErrorKind, HandOver};
use rimbook::testing::book::store::Store;
use rimbook::testing::book::store::chain::Fault;
use rimbook::testing::job::{Gate, QuestionTo, Section};
use rimbook::testing::views::sheet::SheetKind as Sheet;
use serde_json::{Value, json};

const OPTICIAN: &str = "Ines Calloway";
const ASSISTANT: &str = "Nadia Brookwell";
const WHY: &str = "asked in writing, nothing requires keeping it";

/// The wearer whose traces are looked for; every text is found nowhere else.
const NAME: &str = "Quillovere Zanthwick";
const EARLIER: &str = "Brumpeldine Zanthwick";
const BORN: &str = "1951-08-23";
/// What must not be found: names as they are written and as they are indexed, parts of them that no
/// index could have cut off, the telephone number both ways round, the birth date in each writing,
/// and what was typed.
const TRACES: &[&str] = &[
    "Quillovere",
    "quillovere",
    "illovere",
    "Zanthwick",
    "zanthwick",
    "anthwick",
    "Brumpeldine",
    "brumpeldine",
    "umpeldine",
    "07700 900461",
    "07700900461",
    "16400900770",
    "1951-08-23",
    "23/08/1951",
    "23 August 1951",
    "zanq@example.org",
    "lighthousekeeper",
    "draftedremark",
    "halfdeletedword",
    "movedframe",
    "acceptedbecauseof",
];

fn wearer(name: &str, notes: &str) -> Value {
    json!({"name": name, "born": BORN, "phone": "07700 900461", "email": "zanq@example.org",
           "occupation": "lighthousekeeper", "notes": notes, "allergies": [],
           "one_eyed": false, "sight_impaired": "no", "drives": true})
}

fn erasure(number: &str) -> Erasure<'_> {
    Erasure {
        number,
        whole_wearer: false,
        confirm: number,
        reason: WHY,
    }
}

fn import(desk: &mut Desk, job: &Value) -> String {
    let mut numbers = desk
        .import(&job.to_string(), Some(OPTICIAN))
        .unwrap()
        .numbers;
    numbers.pop().unwrap()
}

fn past(name: &str, born: Option<&str>, seen: Option<&str>) -> Value {
    let mut job = json!({"format": "rimbook-job", "version": 1, "past": true, "wearer": {"name": name},
                         "frame": {"name": "Fernley 50"}});
    if let Some(born) = born {
        job["wearer"]["born"] = born.into();
    }
    if let Some(seen) = seen {
        job["handover"]["given_on"] = seen.into();
    }
    job
}

fn begun() -> (tempfile::TempDir, PathBuf, Desk) {
    let dir = tempfile::tempdir().unwrap();
    let path = dir.path().join("book.db");
    let mut desk = Desk::create(&path, clock()).unwrap();
    desk.add_staff(optician()).unwrap();
    desk.add_staff(assistant()).unwrap();
    (dir, path, desk)
}

/// Which traces lie in the book's file or in a file beside it.
fn traces(path: &Path) -> Vec<String> {
    let mut found = Vec::new();
    for entry in std::fs::read_dir(path.parent().unwrap()).unwrap() {
        let file = entry.unwrap().path();
        let bytes = std::fs::read(&file).unwrap();
        for trace in TRACES {
            if bytes.windows(trace.len()).any(|w| w == trace.as_bytes()) {
                found.push(format!(
                    "{trace} in {}",
                    file.file_name().unwrap().display()
                ));
            }
        }
    }
    found
}

fn walk(path: &Path) -> (u64, Vec<Fault>) {
    let walk = Store::open(path).unwrap().walk_history().unwrap();
    (walk.rows, walk.faults)
}

/// Fills a book with other wearers' jobs around three of the wearer's, whose pages are split,
/// joined, grown over many pages and shrunk again.
fn lived_in() -> (tempfile::TempDir, PathBuf, Desk, Vec<String>) {
    let (dir, path, mut desk) = begun();
    let mut numbers = Vec::new();
    for round in 0..3 {
        for other in 0..25 {
            let mut job = past(
                &format!("Wanda Holt {round} {other}"),
                Some("1970-05-01"),
                Some("2024-05-02"),
            );
            job["wearer"]["notes"] = "n".repeat(40 * other).into();
            import(&mut desk, &job);
        }
        // The second is held by a warning that may be accepted.
        let id = if round == 1 { "S03" } else { "S01" };
        let mut job = scenario(id)["job"].clone();
        job["wearer"] = wearer(if round == 0 { EARLIER } else { NAME }, "");
        numbers.push(import(&mut desk, &job));
    }
    let record = |desk: &mut Desk, number: &str, section, change: Value| {
        desk.record(number, section, &change, None, Some(OPTICIAN))
            .unwrap();
    };
    for number in &numbers {
        // Over many pages, then small again; told in small pieces in between.
        for length in [2_000, 30, 600, 1, 90] {
            let notes = format!("{NAME} lighthousekeeper {BORN}; ").repeat(length);
            record(&mut desk, number, Section::Wearer, json!({"notes": notes}));
            record(
                &mut desk,
                number,
                Section::Frame,
                json!({"colour": format!("movedframe {length}")}),
            );
        }
        record(&mut desk, number, Section::Wearer, json!({"notes": "x"}));
        for text in ["draftedremark", "draftedremark halfdeletedword", "drafted"] {
            desk.save_draft(number, "wearer.notes", &text.repeat(300), None)
                .unwrap();
        }
        desk.save_draft(number, "frame.colour", "halfdeletedword", None)
            .unwrap();
        desk.clear_draft(number, "frame.colour", None).unwrap();
    }
    record(
        &mut desk,
        &numbers[0],
        Section::Wearer,
        json!({"name": NAME}),
    );
    // One passes a gate, so that its snapshot is kept, with the prescriber asked in between.
    desk.ask(
        &numbers[1],
        OPTICIAN,
        QuestionTo::Prescriber,
        &format!("is {NAME} right?"),
    )
    .unwrap();
    desk.answer(&numbers[1], OPTICIAN, None, &format!("yes, {NAME} is"))
        .unwrap();
    for finding in desk
        .findings(&desk.load(&numbers[1]).unwrap(), Gate::Ordered)
        .unwrap()
    {
        if finding.is_open() {
            desk.accept(
                &numbers[1],
                finding.check.word(),
                None,
                OPTICIAN,
                "acceptedbecauseof Zanthwick",
            )
            .unwrap();
        }
    }
    let moved = desk
        .advance(&numbers[1], Gate::Ordered, OPTICIAN, None)
        .unwrap();
    assert!(moved.moved, "{:?}", moved.findings);
    (dir, path, desk, numbers)
}

#[test]
fn after_erasing_a_wearer_no_byte_of_them_is_left() {
    let (_dir, path, mut desk, numbers) = lived_in();
    let before = traces(&path);
    for trace in TRACES {
        assert!(
            before.iter().any(|found| found.starts_with(trace)),
            "the search for {trace} could not fail"
        );
    }
    let open = desk
        .erase(
            Erasure {
                whole_wearer: true,
                ..erasure(&numbers[0])
            },
            OPTICIAN,
        )
        .unwrap_err();
    assert_eq!(open.kind, ErrorKind::Refused);
    assert!(open.message.contains(&numbers.join(", ")), "{open}");
    for number in &numbers {
        desk.cancel(number, OPTICIAN, "moved away").unwrap();
    }
    let (rows_before, _) = walk(&path);
    // Another terminal that has the book open but reads nothing just now is not in the way.
    let other = Desk::open(&path, clock()).unwrap();
    assert_eq!(other.find("Zanthwick", 9).unwrap().len(), 3);
    let erased = desk
        .erase(
            Erasure {
                whole_wearer: true,
                ..erasure(&numbers[0])
            },
            OPTICIAN,
        )
        .unwrap();
    assert_eq!(erased.numbers, numbers);
    assert!(erased.swept && !desk.sweep_is_due().unwrap());
    assert!(erased.acceptances > 0 && erased.drafts == 3, "{erased:?}");
    assert_eq!(traces(&path), Vec::<String>::new(), "while it is open");
    for number in &numbers {
        assert_eq!(desk.load(number).unwrap_err().kind, ErrorKind::NotFound);
        assert_eq!(desk.find(number, 9).unwrap(), []);
    }
    assert_eq!(desk.find("Zanthwick", 9).unwrap(), []);
    assert_eq!(desk.find("Wanda", 100).unwrap().len(), 75);
    drop((desk, other));
    assert_eq!(traces(&path), Vec::<String>::new(), "after it is closed");
    assert_eq!(walk(&path), (rows_before + 3, vec![]));
}

/// Rows come, change their length and go, the same way every time for the same seed.
fn work(raw: &mut rusqlite::Connection, mut seed: u64) {
    let mut random = |below: u64| {
        seed = seed
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1_442_695_040_888_963_407);
        i64::try_from((seed >> 33) % below).unwrap()
    };
    let transaction = raw.transaction().unwrap();
    transaction
        .execute_batch("CREATE TABLE scratch (id INTEGER PRIMARY KEY, text TEXT)")
        .unwrap();
    let text = |id: i64, length: i64| {
        let word = if id % 7 == 0 {
            "draftedremark"
        } else {
            "other"
        };
        format!("{word}{}", "y".repeat(usize::try_from(length).unwrap()))
    };
    for id in 0..400 {
        transaction
            .execute(
                "INSERT INTO scratch VALUES (?1, ?2)",
                (id, text(id, random(900))),
            )
            .unwrap();
    }
    for _ in 0..2_500 {
        let id = random(400);
        transaction
            .execute(
                "UPDATE scratch SET text = ?2 WHERE id = ?1",
                (id, text(id, random(2_500))),
            )
            .unwrap();
    }
    transaction
        .execute("DELETE FROM scratch WHERE id % 7 = 0", [])
        .unwrap();
    transaction.commit().unwrap();
}

#[test]
fn a_sweep_takes_what_overwriting_leaves_in_the_gaps_of_pages() {
    let mut seeds_with_gaps = 0;
    for seed in 1..=20 {
        let (_dir, path, desk) = begun();
        let mut raw = rusqlite::Connection::open(&path).unwrap();
        raw.pragma_update(None, "secure_delete", true).unwrap();
        work(&mut raw, seed);
        raw.query_row("PRAGMA wal_checkpoint(TRUNCATE)", [], |_| Ok(()))
            .unwrap();
        if traces(&path).is_empty() {
            continue;
        }
        seeds_with_gaps += 1;
        assert!(desk.sweep().unwrap());
        assert_eq!(traces(&path), Vec::<String>::new(), "seed {seed}");
        if seeds_with_gaps == 2 {
            break;
        }
    }
    assert!(
        seeds_with_gaps > 0,
        "overwriting alone left nothing: this shows nothing"
    );
}

#[test]
fn the_sheets_that_lie_beside_the_book_go_with_the_job() {
    let (dir, _path, mut desk) = begun();
    let mut job = scenario("S01")["job"].clone();
    (job["past"], job["stage"]) = (json!(true), json!("collected"));
    let (gone, stays) = (import(&mut desk, &job), import(&mut desk, &job));
    let print = |desk: &Desk, number: &str, what, out: Option<&Path>| {
        desk.print(number, what, out, HandOver::Keep).unwrap().file
    };
    let named = dir.path().join("mine.pdf");
    let files: Vec<PathBuf> = Sheet::ALL
        .map(|what| print(&desk, &gone, what, None))
        .to_vec();
    let other = print(&desk, &stays, Sheet::Wearer, None);
    print(&desk, &gone, Sheet::Wearer, Some(&named));
    let erased = desk.erase(erasure(&gone), OPTICIAN).unwrap();
    assert_eq!(erased.sheets, 4);
    assert!(files.iter().all(|f| !f.exists()));
    assert!(other.exists() && named.exists());
    // It may lie in the runtime directory of whoever runs the test.
    std::fs::remove_file(other).unwrap();
}

#[test]
fn what_stays_says_who_when_why_and_how_much() {
    let (_dir, path, mut desk) = begun();
    let number = import(&mut desk, &past(NAME, Some(BORN), Some("2010-01-05")));
    let erased = desk.erase(erasure(&number), OPTICIAN).unwrap();
    assert_eq!(erased.entries, 1);
    drop(desk);
    let raw = rusqlite::Connection::open(&path).unwrap();
    let rows: Vec<(String, Option<String>, Option<String>)> = raw
        .prepare("SELECT h.what, h.by, d.detail FROM history h LEFT JOIN history_detail d USING (id) WHERE job_id = 1 ORDER BY h.id")
        .unwrap()
        .query_map([], |r| Ok((r.get(0)?, r.get(1)?, r.get(2)?)))
        .unwrap()
        .collect::<Result<_, _>>()
        .unwrap();
    assert_eq!(rows.len(), 2);
    assert_eq!(rows[0].2, None, "the content of the import is gone");
    assert_eq!(
        (rows[1].0.as_str(), rows[1].1.as_deref()),
        ("erased", Some(OPTICIAN))
    );
    let detail: Value = serde_json::from_str(rows[1].2.as_ref().unwrap()).unwrap();
    assert_eq!(detail["number"], json!(number));
    assert_eq!(detail["reason"], WHY);
    assert_eq!(detail["entries"], 1);
}

#[test]
fn neither_id_nor_number_of_an_erased_job_is_given_again() {
    let (_dir, path, mut desk) = begun();
    // A number that a later job would come to by counting.
    let mut job = past("Wanda Holt", None, Some("2010-01-05"));
    job["number"] = "1003".into();
    assert_eq!(import(&mut desk, &job), "1003");
    desk.erase(erasure("1003"), OPTICIAN).unwrap();
    let again = desk
        .import(&job.to_string(), Some(OPTICIAN))
        .unwrap_err()
        .message;
    assert!(
        again.contains("1003") && again.contains("erased"),
        "{again}"
    );
    let given: Vec<String> = (0..3)
        .map(|_| desk.new_job("Sam Reed", Some(OPTICIAN)).unwrap().number)
        .collect();
    assert_eq!(given, ["1002", "1004", "1005"]);
    assert_eq!(desk.history("1002").unwrap().len(), 1, "only its own");
    drop(desk);
    assert_eq!(walk(&path).1, []);
}

#[test]
fn only_a_registered_person_who_types_the_number_again_and_names_nobody_erases() {
    let (_dir, path, mut desk) = begun();
    let mut job = past(NAME, Some(BORN), Some("2010-01-05"));
    job["wearer"]["phone"] = "07700 900461".into();
    let number = import(&mut desk, &job);
    let refused = |desk: &mut Desk, what: Erasure<'_>, by: &str, kind: ErrorKind| {
        let error = desk.erase(what, by).unwrap_err();
        assert_eq!(error.kind, kind, "{error}");
        assert!(!error.message.contains("Zanthwick"), "{error}");
    };
    refused(&mut desk, erasure(&number), ASSISTANT, ErrorKind::Refused);
    refused(&mut desk, erasure(&number), "Nobody", ErrorKind::NotFound);
    refused(&mut desk, erasure("9"), OPTICIAN, ErrorKind::NotFound);
    for confirm in ["", "1", "1002", "yes"] {
        let what = Erasure {
            confirm,
            ..erasure(&number)
        };
        refused(&mut desk, what, OPTICIAN, ErrorKind::Input);
    }
    for reason in [
        "  ",
        "Mrs ZANTHWICK asked",
        "rang from 07700-900461",
        "born 1951-08-23",
        "born 23/8/1951",
    ] {
        let what = Erasure {
            reason,
            ..erasure(&number)
        };
        refused(&mut desk, what, OPTICIAN, ErrorKind::Input);
    }
    assert_eq!(desk.history(&number).unwrap().len(), 1, "nothing was done");
    drop(desk);
    assert_eq!(walk(&path).1, []);
}

#[test]
fn a_number_made_of_the_name_does_not_stay_either() {
    let (_dir, path, mut desk) = begun();
    let mut job = past(NAME, Some(BORN), Some("2010-01-05"));
    job["number"] = "Zanthwick-7".into();
    let number = import(&mut desk, &job);
    desk.erase(erasure(&number), OPTICIAN).unwrap();
    drop(desk);
    assert_eq!(traces(&path), Vec::<String>::new());
    assert_eq!(walk(&path).1, []);
}

#[test]
fn other_jobs_of_the_wearer_and_namesakes_stay() {
    let (_dir, path, mut desk) = begun();
    let first = import(&mut desk, &past(NAME, Some(BORN), Some("2010-01-05")));
    let second = import(&mut desk, &past(NAME, Some(BORN), Some("2012-01-05")));
    let younger = import(&mut desk, &past(NAME, Some("1999-01-01"), None));
    let undated = import(&mut desk, &past(NAME, None, None));
    desk.erase(erasure(&first), OPTICIAN).unwrap();
    assert_eq!(desk.find("Zanthwick", 9).unwrap().len(), 3);
    let all = Erasure {
        whole_wearer: true,
        ..erasure(&second)
    };
    let erased = desk.erase(all, OPTICIAN).unwrap();
    assert_eq!(erased.numbers, [second]);
    assert_eq!(erased.same_name, [younger.clone(), undated.clone()]);
    assert_eq!(
        desk.history(&younger).unwrap()[0].detail["job"]["wearer"]["name"],
        NAME
    );
    // Two without a date of birth may be two people's.
    import(&mut desk, &past(NAME, None, None));
    let all = Erasure {
        whole_wearer: true,
        ..erasure(&undated)
    };
    assert_eq!(
        desk.erase(all, OPTICIAN).unwrap_err().kind,
        ErrorKind::Refused
    );
    desk.erase(erasure(&undated), OPTICIAN).unwrap();
    drop(desk);
    assert_eq!(walk(&path).1, []);
}

#[test]
fn a_job_that_once_stood_under_the_name_by_mistake_keeps_no_trace_of_it() {
    let (_dir, path, mut desk) = begun();
    let mut mistaken = past(NAME, Some(BORN), Some("2025-01-05"));
    mistaken["wearer"]["phone"] = "07700 900461".into();
    let other = import(&mut desk, &mistaken);
    let right = json!({"name": "Wanda Holt", "born": "1970-05-01", "phone": null});
    desk.record(&other, Section::Wearer, &right, None, Some(OPTICIAN))
        .unwrap();
    desk.record(
        &other,
        Section::Frame,
        &json!({"colour": "grey"}),
        None,
        Some(OPTICIAN),
    )
    .unwrap();
    let mut sister = past("Ida Reed", Some("1953-05-01"), None);
    sister["wearer"]["notes"] = format!("sister of {}.", NAME.to_uppercase()).into();
    let sister = import(&mut desk, &sister);
    let longer = format!("Ann {NAME}son");
    let longer = import(&mut desk, &past(&longer, Some("1953-05-01"), None));
    let number = import(&mut desk, &past(NAME, Some(BORN), Some("2010-01-05")));
    let erased = desk.erase(erasure(&number), OPTICIAN).unwrap();
    assert_eq!(erased.elsewhere.join(" "), other);
    assert_eq!(erased.mentions.join(" "), sister, "told, not touched");
    let kept: Vec<_> = desk
        .history(&other)
        .unwrap()
        .into_iter()
        .map(|e| (e.what, e.detail.is_null()))
        .collect();
    let expected = [
        ("imported", true),
        ("recorded", true),
        ("recorded", false),
        ("entries erased", false),
    ];
    assert_eq!(kept, expected.map(|(what, gone)| (what.to_owned(), gone)));
    assert_eq!(desk.load(&other).unwrap().job.frame.colour.unwrap(), "grey");
    desk.erase(erasure(&sister), OPTICIAN).unwrap();
    desk.erase(erasure(&longer), OPTICIAN).unwrap();
    drop(desk);
    assert_eq!(traces(&path), Vec::<String>::new());
    assert_eq!(walk(&path).1, []);
    // The entries named are the only ones whose content may be gone.
    let raw = rusqlite::Connection::open(&path).unwrap();
    raw.execute_batch("DROP TRIGGER history_detail_is_only_erased; DELETE FROM history_detail WHERE id = (SELECT id FROM history WHERE job_id = 1 ORDER BY id LIMIT 1 OFFSET 2)").unwrap();
    drop(raw);
    assert!(
        matches!(walk(&path).1[..], [Fault::ContentGone { .. }]),
        "content gone without an erasure is a fault"
    );
}

#[test]
fn a_reader_in_the_way_is_told_and_the_sweep_can_be_done_later() {
    let (_dir, path, mut desk) = begun();
    let number = import(&mut desk, &past(NAME, Some(BORN), Some("2010-01-05")));
    let reader = rusqlite::Connection::open(&path).unwrap();
    reader
        .execute_batch("BEGIN; SELECT count(*) FROM job;")
        .unwrap();
    let erased = desk.erase(erasure(&number), OPTICIAN).unwrap();
    assert!(!erased.swept, "the old pages are still being read");
    reader.execute_batch("COMMIT").unwrap();
    assert!(desk.sweep_is_due().unwrap(), "and it is remembered");
    assert!(desk.sweep().unwrap());
    assert!(!desk.sweep_is_due().unwrap());
    assert_eq!(traces(&path), Vec::<String>::new());
}

proptest::proptest! {
    #![proptest_config(proptest::prelude::ProptestConfig { cases: 12, failure_persistence: None, ..Default::default() })]

    #[test]
    fn whatever_is_erased_history_stays_whole_and_the_others_as_they_were(
        steps in proptest::collection::vec((0_usize..6, 0_usize..4), 1..25)
    ) {
        let (_dir, path, mut desk) = begun();
        let mut jobs: Vec<(String, usize)> = Vec::new();
        for (kind, n) in steps {
            let at = n.checked_rem(jobs.len()).unwrap_or(0);
            match (kind, jobs.get(at).cloned()) {
                (0, Some((number, who))) => {
                    let what = Erasure { whole_wearer: who % 2 == 0, ..erasure(&number) };
                    let before: Vec<_> = jobs.iter().map(|(n, _)| (n.clone(), desk.load(n).unwrap())).collect();
                    let erased = desk.erase(what, OPTICIAN).unwrap();
                    jobs.retain(|(n, _)| !erased.numbers.contains(n));
                    for (number, stood) in before {
                        if !erased.numbers.contains(&number) {
                            assert_eq!(desk.load(&number).unwrap(), stood);
                            assert!(desk.history(&number).unwrap().iter().all(|e| !e.detail.is_null()));
                        }
                    }
                }
                (1, Some((number, _))) => {
                    desk.record(&number, Section::Frame, &json!({"colour": format!("c{n}")}), None, Some(OPTICIAN)).unwrap();
                }
                (2, Some((number, _))) => desk.save_draft(&number, "frame.name", "dra", None).unwrap(),
                _ => {
                    let job = past(&format!("Wanda Holt {n}"), Some("1970-05-01"), None);
                    jobs.push((import(&mut desk, &job), n));
                }
            }
        }
        let mut kept: Vec<String> = desk.numbers().unwrap();
        kept.sort();
        let mut wanted: Vec<String> = jobs.into_iter().map(|(n, _)| n).collect();
        wanted.sort();
        assert_eq!(kept, wanted);
        drop(desk);
        assert_eq!(walk(&path).1, []);
    }
}
