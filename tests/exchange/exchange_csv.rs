//! Jobs as CSV and back: RFC 4180 with signs kept, no cell that a spreadsheet takes for a formula,
//! and every refusal named by line and column without repeating what stands there.

use chrono::NaiveDate;
use proptest::prelude::*;
use rimbook::testing::book::clock::Clock;
use rimbook::testing::book::demo::build;
use rimbook::testing::book::desk::Desk;
use rimbook::testing::exchange::csv_in::{self, Rows, delimiter};
use rimbook::testing::exchange::csv_out::{defused, fused, header, line, row};
use rimbook::testing::exchange::mapping::{Mapping, TEMPLATE};
use rimbook::testing::job::{Aftercare, Job, Stage, Visit};
use serde_json::{Value, json};

fn today() -> NaiveDate {
    NaiveDate::from_ymd_opt(2026, 11, 25).unwrap()
}

/// The jobs of the demonstration book, each with its number.
fn demo() -> Vec<(String, Job)> {
    let folder = tempfile::tempdir().unwrap();
    let clock = Clock {
        fixed: Some(today()),
    };
    let mut desk = Desk::create(&folder.path().join("book.db"), clock).unwrap();
    build(&mut desk).unwrap();
    let mut numbers = Vec::new();
    desk.each_number(&mut |n: &str| {
        numbers.push(n.to_owned());
        Ok(())
    })
    .unwrap();
    numbers
        .into_iter()
        .map(|n| {
            let job = desk.load(&n).unwrap().job;
            (n, job)
        })
        .collect()
}

fn csv_of(jobs: &[(String, Job)]) -> String {
    let mut all = line(&header()).unwrap();
    for (number, job) in jobs {
        all.push_str(&line(&row(number, job)).unwrap());
    }
    all
}

/// A job as a file of its own, for comparison.
fn told(job: &Job) -> Value {
    Value::Object(job.to_file().unwrap())
}

fn read(text: &str, mapping: &str) -> Rows {
    csv_in::read(text, &Mapping::read(mapping).unwrap(), today()).unwrap()
}

fn refused(text: &str, mapping: &str) -> Vec<String> {
    let rows = read(text, mapping);
    rows.refused.iter().map(ToString::to_string).collect()
}

const NAMED: &str = "[columns]\n\"wearer.name\" = \"Name\"\n";

fn with(columns: &str) -> String {
    format!("{NAMED}{columns}\n")
}

const SPHERE: &str = "\"prescription.right.sphere_d\" = \"Sph\"";

#[test]
fn the_demonstration_book_is_csv_by_the_rfc() {
    let jobs = demo();
    let text = csv_of(&jobs);
    assert_eq!(
        text.matches('\n').count() - inner_breaks(&text),
        jobs.len() + 1,
        "a line each"
    );
    assert!(
        text.ends_with("\r\n") && !text.replace("\r\n", "").contains('\r'),
        "CRLF"
    );
    let mut reader = csv::ReaderBuilder::new().from_reader(text.as_bytes());
    let names = reader.headers().unwrap().clone();
    let records: Vec<_> = reader.records().map(Result::unwrap).collect();
    assert_eq!(records.len(), jobs.len());
    assert!(records.iter().all(|r| r.len() == names.len()));
    let mut unique: Vec<&str> = names.iter().collect();
    unique.sort_unstable();
    unique.dedup();
    assert_eq!(unique.len(), names.len(), "no column twice");
}

/// Line breaks inside quotes.
fn inner_breaks(text: &str) -> usize {
    let mut quoted = false;
    text.chars()
        .filter(|c| {
            quoted ^= *c == '"';
            *c == '\n' && quoted
        })
        .count()
}

#[test]
fn quotes_commas_and_breaks_inside_a_text_come_back() {
    let mut job = Job::default();
    job.wearer.name = Some("Ada \"Dot\" Fenwick, senior".to_owned());
    job.wearer.notes = Some("first line\nsecond; line".to_owned());
    let text = csv_of(&[("12".to_owned(), job.clone())]);
    assert!(
        text.contains("\"Ada \"\"Dot\"\" Fenwick, senior\""),
        "{text}"
    );
    let rows = csv_in::read(&text, &Mapping::own(), today()).unwrap();
    assert_eq!(rows.refused, []);
    assert_eq!(rows.jobs[0].wearer, job.wearer);
}

#[test]
fn powers_keep_their_sign_and_their_places() {
    let mut job = Job::default();
    job.wearer.name = Some("A".to_owned());
    let file = json!({
        "prescription": {
            "right": {"sphere_d": 2.25, "cylinder_d": -0.125, "axis_deg": 5, "base_in_delta": 1.5},
            "left": {"sphere_d": -0.5, "base_up_delta": -2, "addition_d": 2},
        },
    });
    job.prescription = serde_json::from_value(file["prescription"].clone()).unwrap();
    let cells = row("1", &job);
    let names = header();
    let cell = |name: &str| cells[names.iter().position(|n| n == name).unwrap()].as_str();
    for (name, wanted) in [
        ("prescription.right.sphere_d", "+2.25"),
        ("prescription.right.cylinder_d", "-0.125"),
        ("prescription.right.axis_deg", "5"),
        ("prescription.right.base_in_delta", "+1.50"),
        ("prescription.left.sphere_d", "-0.50"),
        ("prescription.left.base_up_delta", "-2.00"),
        ("prescription.left.addition_d", "+2.00"),
        ("prescription.left.cylinder_d", ""),
        ("prescription.left.rx_text", "L -0.50 add +2.00"),
    ] {
        assert_eq!(cell(name), wanted, "{name}");
    }
}

#[test]
fn no_text_begins_as_a_formula_and_each_comes_back_as_it_was() {
    for text in [
        "=1+1",
        "+44 20",
        "-x",
        "@a",
        "\tx",
        "\rx",
        "'quoted",
        "''twice",
        "'=x",
        "plain",
        "a=b",
        "",
        "\n=1",
        " =1",
        "\u{a0}+1",
        "＝1",
        "\u{200b}=1",
        "\u{feff}@a",
        " plain",
    ] {
        let safe = defused(text);
        assert!(
            !safe.starts_with(['=', '+', '-', '@', '\t', '\r']),
            "{safe}"
        );
        assert_eq!(fused(&safe), text);
    }
    for text in ["\n=1", " =1", "\u{a0}+1", "＝1", "－2"] {
        assert!(defused(text).starts_with('\''), "{text:?}");
    }
    let mut job = Job::default();
    job.wearer.name = Some("=HYPERLINK(\"x\")".to_owned());
    job.wearer.phone = Some("+44 7700 900123".to_owned());
    job.wearer.occupation = Some("@work".to_owned());
    job.wearer.notes = Some("-\n=2".to_owned());
    job.wearer.allergies = Some(vec!["+x".to_owned(), "=y".to_owned()]);
    job.frame.colour = Some("'apostrophe".to_owned());
    let cells = row("=1", &job);
    for (name, cell) in header().iter().zip(&cells) {
        assert!(
            !cell.starts_with(['=', '+', '-', '@', '\t', '\r']),
            "{name}"
        );
    }
    let text = csv_of(&[("1".to_owned(), job.clone())]);
    let rows = csv_in::read(&text, &Mapping::own(), today()).unwrap();
    assert_eq!(rows.refused, []);
    assert_eq!(rows.jobs[0].wearer, job.wearer);
    assert_eq!(rows.jobs[0].frame, job.frame);
}

#[test]
fn the_demonstration_book_comes_back_value_by_value() {
    let jobs = demo();
    for text in [csv_of(&jobs), format!("\u{feff}{}", csv_of(&jobs))] {
        let rows = csv_in::read(&text, &Mapping::own(), today()).unwrap();
        assert_eq!(rows.refused, []);
        assert_eq!(rows.jobs.len(), jobs.len());
        for ((number, job), back) in jobs.iter().zip(&rows.jobs) {
            // Not said in CSV: what has no place in the forms.
            let mut wanted = job.clone();
            wanted.past = Some(true);
            wanted.stage = Some(job.stage());
            wanted.number = Some(number.clone());
            wanted.origins.clear();
            wanted.visit = Visit::default();
            wanted.aftercare = Aftercare::default();
            assert_eq!(told(back), told(&wanted), "{number}");
        }
    }
}

#[test]
fn an_empty_list_is_told_from_one_that_nobody_asked_for() {
    for allergies in [None, Some(vec![]), Some(vec!["nickel".to_owned()])] {
        let mut job = Job::default();
        job.wearer.name = Some("A".to_owned());
        job.wearer.allergies = allergies.clone();
        let text = csv_of(&[("1".to_owned(), job)]);
        let rows = csv_in::read(&text, &Mapping::own(), today()).unwrap();
        assert_eq!(rows.jobs[0].wearer.allergies, allergies);
    }
}

#[test]
fn the_delimiter_is_that_of_the_header_line_and_of_no_other() {
    for (text, wanted) in [
        ("a,b,c\r\n1;2;3;4;5\r\n", b','),
        ("a;b;c\n1,2,3,4,5\n", b';'),
        ("a\tb\n", b'\t'),
        ("a\n", b','),
        ("", b','),
        ("\n\na;b\n", b';'),
        ("\u{feff}a;b\n", b';'),
    ] {
        assert_eq!(delimiter(text), wanted, "{text:?}");
    }
}

#[test]
fn semicolons_come_with_a_decimal_comma() {
    let mapping = with(&format!(
        "{SPHERE}\n\"fitting.right.cd_mm\" = \"PD\"\n\"prescription.right.base_in_delta\" = \"Pr\""
    ));
    let rows = read("Name;Sph;PD;Pr\nA;-2,25;31,5;-1,5\n", &mapping);
    assert_eq!(rows.refused, []);
    let job = told(&rows.jobs[0]);
    assert_eq!(job["prescription"]["right"]["sphere_d"], json!(-2.25));
    assert_eq!(job["prescription"]["right"]["base_in_delta"], json!(-1.5));
    assert_eq!(job["fitting"]["right"]["cd_mm"], json!(31.5));
}

#[test]
fn a_number_with_marks_between_thousands_is_refused() {
    let mapping = with("\"fitting.right.cd_mm\" = \"PD\"");
    for (text, delimiter) in [
        ("1.031,5", ';'),
        ("1,031.5", ';'),
        ("1 031", ';'),
        ("31,5,0", '\t'),
    ] {
        let said = refused(
            &format!("Name{delimiter}PD\nA{delimiter}{text}\n"),
            &mapping,
        );
        assert!(
            said.len() == 1 && said[0].starts_with("line 2, column \"PD\": this is no number"),
            "{text}: {said:?}"
        );
    }
}

#[test]
fn days_are_read_as_the_mapping_writes_them() {
    let mapping = format!(
        "date_format = \"%d/%m/%Y\"\n{}",
        with("\"prescription.tested_on\" = \"Day\"")
    );
    let rows = read("Name,Day\nA,03/12/2026\n", &mapping);
    assert_eq!(
        rows.jobs[0].prescription.tested_on,
        NaiveDate::from_ymd_opt(2026, 12, 3)
    );
    for wrong in ["2026-12-03", "31/02/2026", "12/31/2026", "3 dec", "today"] {
        let said = refused(&format!("Name,Day\nA,{wrong}\n"), &mapping);
        assert_eq!(
            said,
            ["line 2, column \"Day\": is no day written as %d/%m/%Y"],
            "{wrong}"
        );
    }
    let said = refused("Name,Day\nA,03/12/26\n", &mapping);
    assert!(said[0].contains("century"), "{said:?}");
    // Without a format, a day that moves with the day of the import is no written day.
    let mapping = with("\"prescription.tested_on\" = \"Day\"");
    for wrong in ["today", "+7", "tomorrow"] {
        assert_eq!(
            refused(&format!("Name,Day\nA,{wrong}\n"), &mapping).len(),
            1,
            "{wrong}"
        );
    }
    assert_eq!(
        read("Name,Day\nA,2026-12-03\n", &mapping).jobs[0]
            .prescription
            .tested_on,
        NaiveDate::from_ymd_opt(2026, 12, 3)
    );
}

#[test]
fn a_power_without_its_sign_is_refused_unless_the_mapping_says_what_it_is() {
    let text = "Name,Sph\nA,2.25\n";
    let said = refused(text, &with(SPHERE));
    assert!(
        said[0].starts_with("line 2, column \"Sph\": a power needs its sign"),
        "{said:?}"
    );
    let mapping = format!("unsigned_powers_are_plus = true\n{}", with(SPHERE));
    let job = &read(text, &mapping).jobs[0];
    assert_eq!(told(job)["prescription"]["right"]["sphere_d"], json!(2.25));
    let job = &read("Name,Sph\nA,-2.25\n", &mapping).jobs[0];
    assert_eq!(told(job)["prescription"]["right"]["sphere_d"], json!(-2.25));
    assert_eq!(refused("Name,Sph\nA,225\n", &mapping).len(), 1, "no point");
}

#[test]
fn a_whole_written_power_fills_the_eye_and_the_other_eyes_is_refused() {
    let mapping = with("\"prescription.right.rx_text\" = \"Rx\"");
    let job = &read("Name,Rx\nA,-2.25/-0.75x90 add +2.00\n", &mapping).jobs[0];
    assert_eq!(
        told(job)["prescription"]["right"],
        json!({"sphere_d": -2.25, "cylinder_d": -0.75, "axis_deg": 90, "addition_d": 2})
    );
    for (rx, wanted) in [
        ("L -2.25", "is labelled as the other eye's"),
        ("R -2.25 L -1.00", "holds the powers of two eyes"),
    ] {
        let said = refused(&format!("Name,Rx\nA,{rx}\n"), &mapping);
        assert_eq!(said, [format!("line 2, column \"Rx\": {wanted}")]);
    }
    // Everything the line says comes in.
    let text = "Name,Rx\nA,+1.00 int 1.25 add 2.50 near 2 in 6/9 BVD 12\n";
    let job = &read(text, &mapping).jobs[0];
    assert_eq!(
        told(job)["prescription"],
        json!({
            "tested_vertex_mm": 12,
            "right": {
                "sphere_d": 1, "addition_d": 2.5, "intermediate_addition_d": 1.25,
                "near_base_in_delta": 2, "acuity": "6/9",
            },
        })
    );
    let both =
        with("\"prescription.right.rx_text\" = \"R\"\n\"prescription.left.rx_text\" = \"L\"");
    let said = refused("Name,R,L\nA,+8.00 BVD 12,+8.00 BVD 13\n", &both);
    assert_eq!(
        said,
        ["line 2, column \"R\": gives another vertex distance than the other eye or column"],
        "entries are read in the order of their names, the left eye first"
    );
    // A column of names taken for powers by mistake: the message must not carry them on.
    let said = refused("Name,Rx\nA,Wilhelmina Quastlund\n", &mapping);
    assert_eq!(said.len(), 1);
    assert!(
        !said[0].contains("Wilhelmina") && !said[0].contains("Quastlund"),
        "{said:?}"
    );
}

#[test]
fn a_prism_is_a_number_and_nothing_that_a_computer_alone_calls_one() {
    let mapping = with("\"prescription.right.base_in_delta\" = \"P\"");
    for (text, wanted) in [
        ("+1.50", Some(1.5)),
        ("-2", Some(-2.0)),
        ("1.5 in", Some(1.5)),
        ("1.5 out", Some(-1.5)),
    ] {
        let rows = read(&format!("Name,P\nA,{text}\n"), &mapping);
        let got = told(&rows.jobs[0])["prescription"]["right"]["base_in_delta"].as_f64();
        assert_eq!(got, wanted, "{text}");
    }
    for text in ["NaN", "inf", "-infinity", "1e1", "1.5 up", "+99"] {
        let said = refused(&format!("Name,P\nA,{text}\n"), &mapping);
        assert_eq!(said.len(), 1, "{text}");
        assert!(said[0].starts_with("line 2, "), "{said:?}");
    }
}

#[test]
fn a_column_that_is_missing_or_doubled_is_said_before_any_row() {
    let mapping = Mapping::read(&with(SPHERE)).unwrap();
    let said = |text: &str| {
        csv_in::read(text, &mapping, today())
            .unwrap_err()
            .to_string()
    };
    assert_eq!(
        said("Name,Sphere\nA,-1.00\n"),
        "line 1: has no column \"Sph\", which the mapping names for prescription.right.sphere_d"
    );
    assert_eq!(
        said("Name,Sph,Sph\nA,-1.00,-2.00\n"),
        "line 1: has the column \"Sph\" twice"
    );
    assert!(said("").starts_with("line 1: has no column"));
}

#[test]
fn a_mapping_is_refused_with_its_line_or_its_place() {
    let said = |text: &str| Mapping::read(text).unwrap_err().to_string();
    assert!(said("[columns]\n\"wearer.name\" = 1\n").starts_with("mapping line 2: "));
    assert!(said("stage = \"lost\"\n[columns]\n").starts_with("mapping line 1: "));
    assert!(said("colums = 1\n").starts_with("mapping line 1: "));
    assert!(
        said(&with("\"wearer.nmae\" = \"N\""))
            .starts_with("mapping: \"wearer.nmae\": is no place of a job")
    );
    assert!(said("[columns]\n").starts_with("mapping: \"wearer.name\": is not named"));
    let template = Mapping::read(TEMPLATE).unwrap();
    assert_eq!(template.stage, Some(Stage::Collected));
    // Every place that the template offers is one.
    let all: String = TEMPLATE
        .lines()
        .map(|l| match l.strip_prefix("# ") {
            Some(offered) if offered.contains(" = ") && !offered.contains("Place") => offered,
            _ => l,
        })
        .fold(String::new(), |all, l| all + l + "\n");
    let whole = Mapping::read(&all).unwrap();
    assert_eq!(whole.columns.len(), 10);
    assert_eq!(whole.constants.len(), 1);
    assert!(whole.date_format.is_some());
}

#[test]
fn every_row_that_is_refused_is_named_by_line_and_column_and_never_by_what_it_says() {
    let secret = "Wilhelmina Quastlund";
    let mapping = with(&format!(
        "{SPHERE}\n\"prescription.right.axis_deg\" = \"Axis\"\n\"frame.rim\" = \"Rim\"\n\"wearer.born\" = \"Born\"\n\"wearer.notes\" = \"Notes\"\n\"stage\" = \"Stage\"\n\"lenses.tint.category\" = \"Cat\"\n\"wearer.drives\" = \"Drives\""
    ));
    let text = format!(
        "Name,Sph,Axis,Rim,Born,Notes,Stage,Cat,Drives\r\n\
         {secret},-1.00,90,full,1980-01-02,\"over\r\ntwo lines\",collected,1,yes\r\n\
         {secret},{secret},90,full,,,,,\r\n\
         {secret},-1.00,181,full,,,,,\r\n\
         {secret},-1.00,90,{secret},,,,,\r\n\
         {secret},-1.00,90,full,{secret},,,,\r\n\
         {secret},-1.00,90\r\n\
         ,-1.00,90,full,,,,,\r\n\
         {secret},-1.00,90,full,,,{secret},,\r\n\
         {secret},-1.00,90,full,,,,5,\r\n\
         {secret},-1.00,90,full,,,,,{secret}\r\n\
         {secret},-1.00,90,full,,,,,no\r\n"
    );
    let rows = read(&text, &mapping);
    let places: Vec<&str> = rows.refused.iter().map(|r| r.place.as_str()).collect();
    assert_eq!(
        places,
        [
            "line 4, column \"Sph\"",
            "line 5, column \"Axis\"",
            "line 6, column \"Rim\"",
            "line 7, column \"Born\"",
            "line 8",
            "line 9, column \"wearer.name\"",
            "line 10, column \"Stage\"",
            "line 11, column \"Cat\"",
            "line 12, column \"Drives\"",
        ]
    );
    assert_eq!(rows.jobs.len(), 2, "the good ones are read all the same");
    for refused in &rows.refused {
        let said = refused.to_string();
        assert!(
            !said.contains("Wilhelmina") && !said.contains("Quastlund"),
            "{said}"
        );
    }
    assert_eq!(rows.refused[4].problem, "has 3 fields, the header 9");
}

#[test]
fn a_constant_stands_in_every_row_and_a_cell_before_it() {
    let mapping = format!(
        "[constants]\n\"order.laboratory\" = \"Harbour Bench\"\n\"frame.colour\" = \"unknown\"\n{}",
        with("\"frame.colour\" = \"Colour\"")
    );
    let rows = read("Name,Colour\nA,slate\nB,\n", &mapping);
    assert_eq!(rows.refused, []);
    for (job, colour) in rows.jobs.iter().zip(["slate", "unknown"]) {
        assert_eq!(job.order.laboratory.as_deref(), Some("Harbour Bench"));
        assert_eq!(job.frame.colour.as_deref(), Some(colour));
        assert_eq!(job.past, Some(true));
        assert_eq!(job.stage(), Stage::Collected);
    }
}

#[test]
fn words_of_earlier_versions_are_read_and_tasks_come_back() {
    let columns = "\"lenses.design\" = \"Design\"\n\"wearer.tasks\" = \"Tasks\"";
    let cells = "A,occupational,\"reading 400 mm, screen 650 mm\"";
    let rows = read(&format!("Name,Design,Tasks\n{cells}\n"), &with(columns));
    assert_eq!(rows.refused, []);
    let text = csv_of(&[("1".to_owned(), rows.jobs[0].clone())]);
    assert!(text.contains(",office,") && !text.contains("occupational"));
    let again = csv_in::read(&text, &Mapping::own(), today()).unwrap();
    assert_eq!(again.jobs[0].wearer.tasks, rows.jobs[0].wearer.tasks);
    assert_eq!(told(&again.jobs[0])["lenses"], json!({"design": "office"}));
}

#[test]
fn what_the_forms_would_not_take_is_refused_on_its_way_back() {
    let mut job = Job::default();
    job.wearer.name = Some("A".to_owned());
    for (prescription, place) in [
        (
            json!({"right": {"sphere_d": -2.3}}),
            "line 2, column \"prescription.right.sphere_d\"",
        ),
        (
            json!({"left": {"sphere_d": -2, "cylinder_d": -1, "axis_deg": 0}}),
            "line 2, column \"prescription.left.axis_deg\"",
        ),
    ] {
        job.prescription = serde_json::from_value(prescription).unwrap();
        let text = csv_of(&[("1".to_owned(), job.clone())]);
        let rows = csv_in::read(&text, &Mapping::own(), today()).unwrap();
        assert_eq!(rows.refused.len(), 1);
        assert_eq!(rows.refused[0].place, place);
    }
}

proptest! {
    #[test]
    fn no_text_makes_the_reader_panic(text in "\\PC{0,200}", bytes in proptest::collection::vec(any::<u8>(), 0..300)) {
        let mapping = Mapping::read(&with(SPHERE)).unwrap();
        for text in [text, String::from_utf8_lossy(&bytes).into_owned()] {
            let _ = csv_in::read(&text, &mapping, today());
            let _ = csv_in::read(&format!("Name,Sph\n{text}"), &mapping, today());
            let _ = csv_in::read(&format!("Name;Sph\n\"{text}\";{text}"), &mapping, today());
            let _ = Mapping::read(&text);
        }
    }

    #[test]
    fn every_text_comes_back_from_a_cell(name in "[=+@'\\-a-zA-Z\",;][=+@'\\-a-zA-Z\",; \u{e9}]{0,20}[a-z]") {
        let mut job = Job::default();
        job.wearer.name = Some(name);
        let text = csv_of(&[("1".to_owned(), job.clone())]);
        let rows = csv_in::read(&text, &Mapping::own(), today()).unwrap();
        prop_assert_eq!(&rows.refused, &[]);
        prop_assert_eq!(&rows.jobs[0].wearer.name, &job.wearer.name);
    }
}
