//! The exchange with other systems as a script meets it: answers, exit statuses, refused rows on
//! standard error, and a book that an import which fails leaves as it was.

use crate::common;

use std::process::{Command, Output};

use chrono::NaiveDate;
use rimbook::testing::book::clock::Clock;
use rimbook::testing::book::demo::build;
use rimbook::testing::book::desk::Desk;
use serde_json::{Value, json};
use tempfile::TempDir;

struct Practice(TempDir);

impl Practice {
    fn empty() -> Self {
        let practice = Self(tempfile::tempdir().unwrap());
        drop(Desk::create(&practice.0.path().join("book.db"), clock()).unwrap());
        practice
    }

    fn of_the_demonstration() -> Self {
        let practice = Self(tempfile::tempdir().unwrap());
        build(&mut Desk::create(&practice.0.path().join("book.db"), clock()).unwrap()).unwrap();
        practice
    }

    fn run(&self, arguments: &[&str]) -> Output {
        Command::new(env!("CARGO_BIN_EXE_rimbook"))
            .args(arguments)
            .env("RIMBOOK_DB", self.0.path().join("book.db"))
            .env("RIMBOOK_TODAY", "2026-11-25")
            .env("HOME", self.0.path())
            .env_remove("XDG_DATA_HOME")
            .current_dir(self.0.path())
            .output()
            .unwrap()
    }

    /// Runs a command that must succeed and returns what it said.
    fn does(&self, arguments: &[&str]) -> String {
        let said = self.run(arguments);
        assert!(said.status.success(), "{arguments:?}: {}", err(&said));
        String::from_utf8(said.stdout).unwrap()
    }

    /// Runs a command that must fail and returns its standard error.
    fn refuses(&self, arguments: &[&str]) -> String {
        let said = self.run(arguments);
        assert_eq!(said.status.code(), Some(1), "{arguments:?}");
        assert!(said.stdout.is_empty(), "{arguments:?}");
        err(&said)
    }

    fn write(&self, name: &str, bytes: impl AsRef<[u8]>) {
        std::fs::write(self.0.path().join(name), bytes).unwrap();
    }

    fn text(&self, name: &str) -> String {
        std::fs::read_to_string(self.0.path().join(name)).unwrap()
    }
}

fn clock() -> Clock {
    Clock {
        fixed: NaiveDate::from_ymd_opt(2026, 11, 25),
    }
}

fn err(said: &Output) -> String {
    String::from_utf8(said.stderr.clone()).unwrap()
}

fn parsed(text: &str) -> Value {
    serde_json::from_str(text).unwrap_or_else(|e| panic!("{e}: {text}"))
}

const MAPPING: &str =
    "[columns]\n\"wearer.name\" = \"Name\"\n\"prescription.right.sphere_d\" = \"Sph\"\n";

#[test]
fn the_schema_is_written_without_a_book() {
    let nowhere = Practice(tempfile::tempdir().unwrap());
    let schema = parsed(&nowhere.does(&["export", "--schema"]));
    assert_eq!(schema, rimbook::testing::exchange::schema::schema());
    assert!(!nowhere.0.path().join("book.db").exists());
    assert_eq!(
        nowhere.run(&["export", "--schema", "--all"]).status.code(),
        Some(2)
    );
}

#[test]
fn a_book_goes_through_csv_into_another_book() {
    let practice = Practice::of_the_demonstration();
    let csv = practice.does(&["export", "--all", "--format", "csv"]);
    let marked = practice.does(&["export", "--all", "--format", "csv", "--bom"]);
    assert_eq!(marked, format!("\u{feff}{csv}"));
    let said = practice.does(&[
        "--json", "export", "--all", "--format", "csv", "--bom", "--out", "all.csv",
    ]);
    let said = parsed(&said);
    assert_eq!(practice.text("all.csv"), marked);
    let other = Practice::empty();
    other.write("all.csv", &marked);
    let tried = other.does(&[
        "--json",
        "import",
        "all.csv",
        "--mapping",
        "own",
        "--dry-run",
    ]);
    assert_eq!(
        parsed(&tried),
        json!({"file": "all.csv", "jobs": said["jobs"], "past": said["jobs"]})
    );
    let plain = other.does(&["import", "all.csv", "--mapping", "own", "--dry-run"]);
    assert!(plain.contains("nothing was imported"), "{plain}");
    assert_eq!(parsed(&other.does(&["--json", "find", "a"])), json!([]));
    let answer = parsed(&other.does(&["--json", "import", "all.csv", "--mapping", "own"]));
    assert_eq!(
        answer["numbers"].as_array().unwrap().len(),
        usize::try_from(said["jobs"].as_u64().unwrap()).unwrap()
    );
    // The same numbers a second time are refused, and so is trying them.
    let before = other.does(&["export", "--all"]);
    for dry in [&["--dry-run"][..], &[]] {
        let mut arguments = vec!["import", "all.csv", "--mapping", "own"];
        arguments.extend(dry);
        let said = other.refuses(&arguments);
        assert!(
            said.contains("all.csv") && said.contains("nothing was imported"),
            "{said}"
        );
    }
    assert_eq!(other.does(&["export", "--all"]), before);
    // What went in is what comes out: only the past is another one.
    let again = other.does(&["export", "--all", "--format", "csv"]);
    let by_number = |text: &str| {
        let mut lines: Vec<String> = csv::Reader::from_reader(text.as_bytes())
            .records()
            .map(|r| {
                let r = r.unwrap();
                r.iter()
                    .enumerate()
                    .filter(|(i, _)| *i != 2)
                    .map(|(_, cell)| cell.to_owned() + "|")
                    .collect()
            })
            .collect();
        lines.sort();
        lines
    };
    assert_eq!(by_number(&again), by_number(&csv));
}

#[test]
fn refused_rows_are_named_on_standard_error_and_nothing_of_the_file_is_imported() {
    let practice = Practice::empty();
    practice.write("map.toml", MAPPING);
    practice.write(
        "old.csv",
        "Name,Sph\r\nAda Fenwick,-1.00\r\nBea Quast,1.00\r\nCy Lund\r\n",
    );
    for dry in [&["--dry-run"][..], &[]] {
        let mut arguments = vec!["import", "old.csv", "--mapping", "map.toml"];
        arguments.extend(dry);
        let said = practice.refuses(&arguments);
        for wanted in [
            "old.csv: line 3, column \"Sph\": a power needs its sign",
            "old.csv: line 4: has 1 fields, the header 2",
            "old.csv: 2 of 3 rows are refused",
            "nothing was imported",
        ] {
            assert!(said.contains(wanted), "{wanted} in {said}");
        }
        assert_eq!(said.matches("nothing was imported").count(), 1, "{said}");
        assert!(!said.contains("Quast") && !said.contains("Lund"), "{said}");
    }
    let said = practice.run(&["--json", "import", "old.csv", "--mapping", "map.toml"]);
    assert_eq!(said.status.code(), Some(1));
    let answer = parsed(&String::from_utf8(said.stdout).unwrap());
    assert_eq!(answer["error"]["kind"], "input");
    assert_eq!(
        parsed(&practice.does(&["--json", "find", "ada"])),
        json!([])
    );
}

#[test]
fn a_file_that_is_not_utf_8_is_refused_by_its_line() {
    let practice = Practice::empty();
    practice.write("map.toml", MAPPING);
    practice.write("old.csv", b"Name,Sph\r\nAda,-1.00\r\nZo\xe9,-1.00\r\n");
    let said = practice.refuses(&["import", "old.csv", "--mapping", "map.toml"]);
    assert!(said.contains("old.csv: line 3: is not UTF-8"), "{said}");
}

#[test]
fn the_template_is_a_mapping_and_a_mapping_that_is_none_is_refused() {
    let practice = Practice::empty();
    let template = practice.does(&["import", "--mapping-template"]);
    practice.write("map.toml", &template);
    practice.write("old.csv", "Name\r\nAda Fenwick\r\n");
    practice.does(&["import", "old.csv", "--mapping", "map.toml"]);
    practice.write("map.toml", "[columns]\n\"wearer.nmae\" = \"Name\"\n");
    let said = practice.refuses(&["import", "old.csv", "--mapping", "map.toml"]);
    assert!(
        said.contains("\"wearer.nmae\": is no place of a job"),
        "{said}"
    );
    let said = practice.refuses(&["import", "old.csv", "--mapping", "no-such.toml"]);
    assert!(said.contains("no-such.toml could not be read"), "{said}");
    assert_eq!(practice.run(&["import"]).status.code(), Some(2));
}

#[test]
fn a_book_goes_out_as_fhir_and_each_prescription_comes_in_as_a_new_job() {
    let practice = Practice::of_the_demonstration();
    let said = practice.run(&["export", "--all", "--format", "fhir", "--out", "all.json"]);
    assert!(said.status.success(), "{}", err(&said));
    let bundle = parsed(&practice.text("all.json"));
    assert_eq!(bundle["type"], "collection");
    let active = bundle["entry"]
        .as_array()
        .unwrap()
        .iter()
        .filter(|e| e["resource"]["resourceType"] == "VisionPrescription")
        .count();
    assert!(active > 20);
    let number = parsed(&practice.does(&["--json", "list"]))[0]["number"]
        .as_str()
        .unwrap()
        .to_owned();
    practice.does(&["export", &number, "--format", "fhir", "--out", "one.json"]);
    let other = Practice::empty();
    other.write("one.json", practice.text("one.json"));
    let said = other.run(&["--json", "import", "one.json"]);
    assert!(said.status.success(), "{}", err(&said));
    assert!(
        err(&said).contains("not taken over: Observation"),
        "{}",
        err(&said)
    );
    let came = parsed(&String::from_utf8(said.stdout).unwrap());
    let came = came["numbers"][0].as_str().unwrap();
    let job = |practice: &Practice, number: &str| parsed(&practice.does(&["export", number]));
    let (here, there) = (job(&practice, &number), job(&other, came));
    for eye in ["right", "left"] {
        for key in [
            "sphere_d",
            "cylinder_d",
            "axis_deg",
            "addition_d",
            "base_in_delta",
        ] {
            assert_eq!(
                there["prescription"][eye][key], here["prescription"][eye][key],
                "{eye} {key}"
            );
        }
    }
    assert_eq!(there["wearer"]["name"], here["wearer"]["name"]);
    assert_eq!(there["stage"], "measured");
}

#[test]
fn a_prescription_that_names_nobody_needs_the_name_and_only_one_takes_it() {
    let practice = Practice::empty();
    let file = common::data("fhir/r4-visionprescription-33123.json");
    practice.write("rx.json", &file);
    let said = practice.refuses(&["import", "rx.json"]);
    assert!(
        said.contains("rx.json: patient: ") && said.contains("--wearer"),
        "{said}"
    );
    practice.does(&["import", "rx.json", "--wearer", "Ada Fenwick"]);
    assert_eq!(
        parsed(&practice.does(&["--json", "find", "fenwick"]))[0]["wearer"],
        "Ada Fenwick"
    );
    let one: Value = parsed(&file);
    let two = json!({"resourceType": "Bundle", "entry": [{"resource": one}, {"resource": one}]});
    practice.write("two.json", two.to_string());
    let said = practice.refuses(&["import", "two.json", "--wearer", "Ada Fenwick"]);
    assert!(said.contains("holds 2 prescriptions"), "{said}");
    let job = json!({"format": "rimbook-job", "version": 1, "wearer": {"name": "Bea Quast"}});
    practice.write("job.json", job.to_string());
    let said = practice.refuses(&["import", "job.json", "--wearer", "Ada Fenwick"]);
    assert!(said.contains("is no FHIR prescription"), "{said}");
    for (name, wanted) in [
        ("r4-visionprescription-33124", "contact lens"),
        ("stu3-visionprescription-33123", "STU3"),
    ] {
        practice.write("rx.json", common::data(&format!("fhir/{name}.json")));
        let said = practice.refuses(&["import", "rx.json", "--wearer", "Ada Fenwick"]);
        assert!(
            said.contains(wanted) && said.contains("nothing was imported"),
            "{said}"
        );
    }
}

#[test]
fn one_that_cannot_be_said_stops_an_export_by_number_and_is_named_in_one_of_all() {
    let practice = Practice::empty();
    let job = |rx: Value| {
        json!({"format": "rimbook-job", "version": 1, "wearer": {"name": "Ada"},
            "prescription": {"right": rx}})
    };
    let jobs = json!([
        job(json!({"sphere_d": -1})),
        job(json!({"sphere_d": -1, "cylinder_d": -0.5})),
    ]);
    practice.write("jobs.json", jobs.to_string());
    let numbers = parsed(&practice.does(&["--json", "import", "jobs.json"]));
    let bad = numbers["numbers"][1].as_str().unwrap();
    let said = practice.refuses(&["export", bad, "--format", "fhir", "--out", "out.json"]);
    assert!(said.contains("cylinder has no axis"), "{said}");
    assert!(!practice.0.path().join("out.json").exists());
    let said = practice.run(&["export", "--all", "--format", "fhir"]);
    assert!(said.status.success());
    assert!(
        err(&said).contains(&format!("{bad} is left out: ")),
        "{}",
        err(&said)
    );
    let bundle = parsed(&String::from_utf8(said.stdout).unwrap());
    let prescriptions = bundle["entry"].as_array().unwrap().iter();
    assert_eq!(
        prescriptions
            .filter(|e| e["resource"]["resourceType"] == "VisionPrescription")
            .count(),
        1
    );
    let none = Practice::empty().does(&["export", "--all", "--format", "fhir"]);
    assert!(parsed(&none).get("entry").is_none(), "{none}");
}

#[test]
fn a_file_too_large_to_be_held_is_refused_before_it_is_read() {
    let practice = Practice::empty();
    let file = std::fs::File::create(practice.0.path().join("large.csv")).unwrap();
    file.set_len(256 * 1024 * 1024 + 1).unwrap();
    let said = practice.refuses(&["import", "large.csv", "--mapping", "own"]);
    assert!(said.contains("split it into several files"), "{said}");
}

#[test]
fn an_import_that_fails_leaves_the_book_as_it_was() {
    let practice = Practice::of_the_demonstration();
    let before = practice.does(&["export", "--all"]);
    practice.write("map.toml", MAPPING);
    practice.write("bad.csv", "Name,Sph\nAda,-1.00\nBea,wrong\n");
    practice.write("bad.json", "{\"resourceType\": \"Bundle\"}");
    practice.write("no.json", "no JSON");
    for arguments in [
        &["import", "bad.csv", "--mapping", "map.toml"][..],
        &["import", "bad.json"],
        &["import", "no.json"],
        &["import", "no.json", "--dry-run"],
        &["import", "no-such.json"],
    ] {
        let said = practice.refuses(arguments);
        assert!(said.contains("nothing was imported"), "{said}");
    }
    assert_eq!(practice.does(&["export", "--all"]), before);
    // To try a file begins no book either.
    let nowhere = Practice(tempfile::tempdir().unwrap());
    nowhere.write("map.toml", MAPPING);
    nowhere.write("good.csv", "Name,Sph\nAda,-1.00\n");
    nowhere.refuses(&["import", "good.csv", "--mapping", "map.toml", "--dry-run"]);
    assert!(!nowhere.0.path().join("book.db").exists());
}
