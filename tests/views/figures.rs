//! Figures: counted by hand on a small book; intervals against published values; parts and wholes.

use crate::figures_book::{Book, GLEN, HARBOUR, OPTICIAN, day};
use chrono::{Days, NaiveDate};
use proptest::prelude::*;
use rimbook::testing::book::desk::Erasure;
use rimbook::testing::book::store::{Store, counting_queries};
use rimbook::testing::job::{Fitting, Gate};
use rimbook::testing::views::figures::Figures;
use rimbook::testing::views::figures::line::{Figure, FigureLine};
use rimbook::testing::views::figures::measurements::Repeatability;
use rimbook::testing::views::figures::page::{PageKind, Report};
use rimbook::testing::views::figures::period::{Length, Period};
use rimbook::testing::views::figures::rate::Rate;
use rimbook::testing::views::figures::record::{AsOrdered, CountedEvent, CountedJob, EventKind};
use rimbook::testing::views::figures::table::{COLUMNS, rows, text};

const ALL: &str = "all laboratories";

fn line<'r>(report: &'r Report, page: PageKind, group: &str, label: &str) -> &'r FigureLine {
    let page = report.pages.iter().find(|p| p.page == page).unwrap();
    let found = page
        .lines
        .iter()
        .find(|l| l.group == group && l.label == label);
    found.unwrap_or_else(|| panic!("{group}, {label}: {:#?}", page.lines))
}

fn rate(report: &Report, page: PageKind, group: &str, label: &str) -> (u64, u64) {
    match &line(report, page, group, label).now {
        Figure::Rate(r) => (r.count, r.of),
        other => panic!("{other:?}"),
    }
}

fn days(report: &Report, label: &str) -> (u64, Vec<u64>) {
    match &line(report, PageKind::TurnRound, "calendar days", label).now {
        Figure::Days(d) => (
            d.number(),
            [250, 500, 750, 900]
                .iter()
                .filter_map(|q| d.quantile(*q))
                .collect(),
        ),
        other => panic!("{other:?}"),
    }
}

fn november() -> (Book, Report) {
    let book = Book::november();
    let period = Period::around(day("2026-11-15"), Length::Month);
    let report = book.on("2026-12-02").figures(period).unwrap();
    (book, report)
}

#[test]
fn every_figure_of_a_small_book_is_what_a_hand_counts() {
    use PageKind::{Acceptances, Laboratories, Measurements, Rechecks, SendBacks};
    let (_book, r) = november();
    assert!(!r.is_running);

    // Ordered: 1 day, 3 days, and five on the day they were begun.
    assert_eq!(days(&r, "measured to ordered"), (7, vec![0, 0, 1, 3]));
    // 2, 6, 10 and 14 days; each pair once, the two that went back from their order.
    assert_eq!(days(&r, "ordered to verified"), (4, vec![2, 6, 10, 14]));
    assert_eq!(days(&r, "verified to collected"), (3, vec![2, 3, 29, 29]));
    assert_eq!(days(&r, "measured to collected"), (3, vec![10, 16, 33, 33]));

    let late = |who| rate(&r, Laboratories, "came late", who);
    assert_eq!(
        (late(ALL), late(GLEN), late(HARBOUR)),
        ((1, 4), (1, 2), (0, 2))
    );
    let out = |who| rate(&r, Laboratories, "out today and overdue", who);
    assert_eq!((out(ALL), out(GLEN)), ((1, 3), (1, 3)));
    let first = |who| rate(&r, Laboratories, "passed the first time", who);
    assert_eq!(
        (first(ALL), first(GLEN), first(HARBOUR)),
        ((2, 4), (1, 2), (1, 2))
    );

    let rounds = |who| rate(&r, SendBacks, "rounds that ended with a send-back", who);
    assert_eq!(
        (rounds(ALL), rounds(GLEN), rounds(HARBOUR)),
        ((2, 6), (1, 3), (1, 3))
    );
    let failed = |what| rate(&r, SendBacks, "send-backs in which a check failed", what);
    assert_eq!(failed("lens-power"), (1, 2));
    assert_eq!(failed("none (reason in words)"), (1, 2));

    let back = |what| rate(&r, Rechecks, "for each pair handed over", what);
    assert_eq!(back("rechecks begun"), (2, 3));
    assert_eq!(back("rechecks ending in a remake"), (1, 3));
    assert_eq!(
        rate(&r, Rechecks, "of the rechecks", "pair from before the book"),
        (1, 2)
    );
    let cause = |what| rate(&r, Rechecks, "rechecks by cause", what);
    assert_eq!(
        (cause("frame fit"), cause("not recorded yet")),
        ((1, 2), (1, 2))
    );
    assert_eq!(rate(&r, Rechecks, "remakes by cause", "frame fit"), (1, 1));

    assert_eq!(
        rate(
            &r,
            Acceptances,
            "moves through a gate",
            "rested on an acceptance"
        ),
        (1, 15)
    );
    for (group, label) in [
        ("accepted, by check", "pd-repeat"),
        ("accepted, by role", "dispensing optician"),
        ("accepted, by person", OPTICIAN),
    ] {
        assert_eq!(rate(&r, Acceptances, group, label), (1, 1));
    }

    assert_eq!(
        rate(
            &r,
            Measurements,
            "pairs ordered",
            "something measured twice"
        ),
        (1, 7)
    );
    assert_eq!(
        rate(&r, Measurements, "taken twice", "centration distance"),
        (1, 7)
    );
    assert_eq!(
        rate(&r, Measurements, "taken twice", "pantoscopic angle"),
        (0, 7)
    );
    assert_eq!(
        rate(
            &r,
            Measurements,
            "two readings too far apart",
            "centration distance > 1.0 mm"
        ),
        (1, 1)
    );
}

#[test]
fn the_period_before_holds_what_the_month_before_said_of_itself() {
    let (book, november) = november();
    let desk = book.on("2026-12-02");
    let december = desk
        .figures(Period::around(day("2026-12-02"), Length::Month))
        .unwrap();
    assert!(december.is_running);
    for page in &november.pages {
        for l in page.lines.iter().filter(|l| l.before.is_some()) {
            let later = line(&december, page.page, l.group, &l.label);
            assert_eq!(
                later.before.as_ref(),
                Some(&l.now),
                "{} {}",
                l.group,
                l.label
            );
        }
    }
    // The pair of 1 December, 19 days late.
    assert_eq!(
        rate(&december, PageKind::Laboratories, "came late", HARBOUR),
        (1, 1)
    );
    let late = line(
        &december,
        PageKind::Laboratories,
        "days late, of those that were",
        HARBOUR,
    );
    assert!(matches!(&late.now, Figure::Days(d) if d.median() == Some(19)));
}

#[test]
fn nobody_is_named_but_staff_who_accepted_and_no_reason_is_repeated() {
    let (_book, r) = november();
    let all = format!(
        "{}{}{:?}",
        text(&r).join("\n"),
        serde_json::to_string(&r).unwrap(),
        rows(&r)
    );
    for word in ["Wearer", "askew", "written for", "1001"] {
        assert!(!all.contains(word), "{word}");
    }
}

#[test]
fn a_cost_is_estimated_only_from_the_practices_own_price() {
    let (book, r) = november();
    let group = "estimated cost";
    let lines = |r: &Report| -> Vec<(String, Figure)> {
        let page = r
            .pages
            .iter()
            .find(|p| p.page == PageKind::Rechecks)
            .unwrap();
        let of = page.lines.iter().filter(|l| l.group == group);
        of.map(|l| (l.label.clone(), l.now.clone())).collect()
    };
    assert_eq!(lines(&r), vec![]);
    let mut desk = book.on("2026-12-02");
    assert!(desk.set_remake_price(Some(95), "Nobody Listed").is_err());
    assert!(desk.set_remake_price(Some(2_000_000), OPTICIAN).is_err());
    assert_eq!(desk.remake_price().unwrap(), None);
    desk.set_remake_price(Some(95), OPTICIAN).unwrap();
    let november = Period::around(day("2026-11-15"), Length::Month);
    assert_eq!(
        lines(&desk.figures(november).unwrap()),
        [
            ("rechecks remade, at 95 each".to_owned(), Figure::count(95)),
            (
                "of them paid by us, at 95 each".to_owned(),
                Figure::count(95)
            ),
        ]
    );
    desk.set_remake_price(None, OPTICIAN).unwrap();
    assert_eq!(lines(&desk.figures(november).unwrap()), vec![]);
}

#[test]
fn an_erased_job_is_no_longer_counted() {
    let (book, _) = november();
    let mut desk = book.on("2026-12-02");
    let before = days(
        &desk
            .figures(Period::around(day("2026-11-15"), Length::Month))
            .unwrap(),
        "measured to collected",
    );
    assert_eq!(before.0, 3);
    let what = Erasure {
        number: "1002",
        whole_wearer: false,
        confirm: "1002",
        reason: "asked for",
    };
    desk.erase(what, OPTICIAN).unwrap();
    let after = desk
        .figures(Period::around(day("2026-11-15"), Length::Month))
        .unwrap();
    assert_eq!(
        days(&after, "measured to collected"),
        (2, vec![10, 10, 33, 33])
    );
}

#[test]
fn a_pair_that_was_read_in_time_and_waited_is_not_late() {
    let waited = |read_on: &str| CountedJob {
        ordered: Some(AsOrdered {
            due_on: Some(day("2026-11-10")),
            ..AsOrdered::default()
        }),
        read_on: Some(day(read_on)),
        events: vec![
            moved("2026-11-05", Gate::Ordered),
            moved("2026-11-12", Gate::Verified),
        ],
        ..CountedJob::default()
    };
    let late = |read_on| {
        let month = Period::around(day("2026-11-05"), Length::Month);
        rate(
            &report(&[waited(read_on)], month),
            PageKind::Laboratories,
            "came late",
            ALL,
        )
    };
    assert_eq!(late("2026-11-10"), (0, 1), "on its day");
    assert_eq!(late("2026-11-11"), (1, 1), "a day after it");
    assert_eq!(
        late("2026-11-04"),
        (1, 1),
        "before it was ordered: not believed"
    );
    assert_eq!(
        late("2026-11-30"),
        (1, 1),
        "after it was kept: not believed"
    );
}

#[test]
fn strong_prescriptions_without_a_tested_distance_are_counted_as_ordered() {
    let ordered = |is_strong, has_tested_vertex| CountedJob {
        ordered: Some(AsOrdered {
            is_strong,
            has_tested_vertex,
            fitting: Fitting::default(),
            due_on: None,
        }),
        events: vec![moved("2026-11-05", Gate::Ordered)],
        ..CountedJob::default()
    };
    let records = [
        ordered(true, false),
        ordered(true, true),
        ordered(false, false),
    ];
    let r = report(&records, Period::around(day("2026-11-05"), Length::Month));
    assert_eq!(
        rate(
            &r,
            PageKind::Measurements,
            "strong prescriptions ordered",
            "no tested vertex distance"
        ),
        (1, 2)
    );
}

#[test]
fn the_events_of_a_time_and_the_orders_out_are_found_in_an_index() {
    let (book, _) = november();
    let store = Store::open(&book.path).unwrap();
    for (name, index) in [
        ("counted in a time", "INDEX history_counted (at>? AND at<?)"),
        ("orders out", "INDEX job_open"),
    ] {
        let (_, sql) = counting_queries()
            .into_iter()
            .find(|q| q.0 == name)
            .unwrap();
        let sql = sql
            .replace("?1", "'2026-11-01'")
            .replace("?2", "'2026-12-01'");
        let plan = store.plan(&sql).unwrap();
        assert!(
            plan.contains(index) && !plan.contains("SCAN"),
            "{name}: {plan}"
        );
    }
}

#[test]
fn rows_for_other_programs_have_every_column() {
    let (_book, r) = november();
    let rows = rows(&r);
    assert_eq!(
        rows.len(),
        r.pages.iter().map(|p| p.lines.len()).sum::<usize>()
    );
    let at = |name| COLUMNS.iter().position(|c| *c == name).unwrap();
    let row = rows
        .iter()
        .find(|row| row[at("label")] == "ordered to verified")
        .unwrap();
    assert_eq!(row[at("period_from")], "2026-11-01");
    assert_eq!(row[at("period_to")], "2026-11-30");
    assert_eq!(row[at("count")], "4");
    assert_eq!(row[at("percentile_90")], "14");
    assert_eq!(row[at("share")], "");
}

fn moved(on: &str, gate: Gate) -> CountedEvent {
    CountedEvent {
        on: day(on),
        what: EventKind::Moved {
            gate,
            with_accepted: false,
        },
    }
}

fn report(records: &[CountedJob], period: Period) -> Report {
    let limits = Repeatability {
        pd_mm: 1.0,
        height_mm: 1.0,
        tilt_deg: 4.0,
    };
    let mut figures = Figures::new(period, day("2027-01-01"), limits);
    for record in records {
        figures.add(record);
    }
    figures.report()
}

/// A job that goes its way from a day on, back as often as it likes.
fn a_record() -> impl Strategy<Value = CountedJob> {
    let steps = prop::collection::vec((0u64..40, 0u8..6), 1..10);
    (0u64..365, steps, 0usize..3, any::<bool>()).prop_map(|(first, steps, laboratory, past)| {
        let mut on = day("2026-01-01") + Days::new(first);
        let mut events = vec![CountedEvent {
            on,
            what: EventKind::Other,
        }];
        let mut stage = 0;
        for (wait, throw) in steps {
            on = on + Days::new(wait);
            let what = match (stage, throw) {
                (0, _) => {
                    stage = 1;
                    through(Gate::Ordered)
                }
                (1 | 2, 0 | 1) => {
                    stage = 1;
                    EventKind::SentBack {
                        checks: vec!["lens-axis".to_owned(); throw.into()],
                        read_on: None,
                    }
                }
                (1, _) => {
                    stage = 2;
                    through(Gate::Verified)
                }
                (2, _) => {
                    stage = 3;
                    through(Gate::Collected)
                }
                _ => EventKind::Other,
            };
            events.push(CountedEvent { on, what });
        }
        CountedJob {
            past,
            laboratory: [None, Some("A"), Some("B")][laboratory].map(str::to_owned),
            ordered: Some(AsOrdered {
                due_on: Some(day("2026-06-01")),
                ..AsOrdered::default()
            }),
            events,
            ..CountedJob::default()
        }
    })
}

fn through(gate: Gate) -> EventKind {
    EventKind::Moved {
        gate,
        with_accepted: false,
    }
}

fn number(figure: &Figure) -> (u64, u64) {
    match figure {
        Figure::Count { count } => (*count, 0),
        Figure::Rate(r) => (r.count, r.of),
        Figure::Days(d) => (d.number(), 0),
    }
}

proptest! {
    #[test]
    fn parts_add_up_to_wholes(records in prop::collection::vec(a_record(), 0..30)) {
        let year = report(&records, Period::around(day("2026-07-01"), Length::Year));
        for (page, group) in [
            (PageKind::Laboratories, "came late"),
            (PageKind::Laboratories, "passed the first time"),
            (PageKind::SendBacks, "rounds that ended with a send-back"),
        ] {
            let lines = &year.pages.iter().find(|p| p.page == page).unwrap().lines;
            let sums = lines
                .iter()
                .filter(|l| l.group == group && l.label != ALL)
                .map(|l| number(&l.now))
                .fold((0, 0), |a, b| (a.0 + b.0, a.1 + b.1));
            prop_assert_eq!(sums, rate(&year, page, group, ALL));
        }
        // Shapes hold what their figure counts.
        for l in year.pages.iter().flat_map(|p| &p.lines) {
            if let Some(parts) = l.parts {
                prop_assert_eq!(parts.iter().sum::<u64>(), number(&l.now).0, "{}", l.label);
            }
        }
        let back = rate(&year, PageKind::SendBacks, "rounds that ended with a send-back", ALL);
        let first = rate(&year, PageKind::Laboratories, "passed the first time", ALL);
        prop_assert_eq!(back.1 - back.0, first.1, "rounds end back or verified");
    }

    #[test]
    fn what_happens_in_a_year_happens_in_one_of_its_months(records in prop::collection::vec(a_record(), 0..30)) {
        let year = report(&records, Period::around(day("2026-07-01"), Length::Year));
        let months: Vec<Report> = (1..=12)
            .map(|m| NaiveDate::from_ymd_opt(2026, m, 9).unwrap())
            .map(|d| report(&records, Period::around(d, Length::Month)))
            .collect();
        for page in &year.pages {
            for l in page.lines.iter().filter(|l| l.before.is_some()) {
                let sum = months
                    .iter()
                    .filter_map(|r| {
                        let page = r.pages.iter().find(|p| p.page == page.page)?;
                        let same = |m: &&FigureLine| m.group == l.group && m.label == l.label;
                        Some(number(&page.lines.iter().find(same)?.now))
                    })
                    .fold((0, 0), |a, b| (a.0 + b.0, a.1 + b.1));
                let whole = number(&l.now);
                prop_assert_eq!(sum.0, whole.0, "{} {}", l.group, &l.label);
                // A name that a month does not know has no line there, nor its denominator.
                if l.label == ALL {
                    prop_assert_eq!(sum.1, whole.1, "{} {}", l.group, &l.label);
                }
            }
        }
    }

    #[test]
    fn an_interval_holds_its_share_and_stays_within_nothing_and_all(count in 0u64..2000, more in 0u64..2000) {
        let rate = Rate::new(count, count + more);
        prop_assume!(rate.of > 0);
        let (low, high) = rate.interval().unwrap();
        let share = rate.share().unwrap();
        prop_assert!(0.0 <= low && low <= share && share <= high && high <= 1.0);
    }

    #[test]
    fn what_is_from_before_the_book_counts_nowhere(records in prop::collection::vec(a_record(), 0..10)) {
        let past: Vec<CountedJob> = records.into_iter().map(|r| CountedJob { past: true, ..r }).collect();
        let year = report(&past, Period::around(day("2026-07-01"), Length::Year));
        for l in year.pages.iter().flat_map(|p| &p.lines) {
            prop_assert_eq!(number(&l.now), (0, 0));
        }
    }
}
