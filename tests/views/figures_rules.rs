//! The rules behind the figures: intervals against published values, quantiles, periods, shapes.

use crate::figures_book::day;
use rimbook::testing::views::figures::period::{Length, Period};
use rimbook::testing::views::figures::rate::{Change, LEAST, Rate};
use rimbook::testing::views::figures::sparkline;
use rimbook::testing::views::figures::spread::Spread;

#[test]
fn wilson_intervals_are_the_published_ones() {
    // Newcombe RG, Stat Med 1998;17:857-72, table I, method 3.
    for (count, of, low, high) in [
        (81, 263, 0.2553, 0.3662),
        (15, 148, 0.0624, 0.1605),
        (0, 20, 0.0000, 0.1611),
        (1, 29, 0.0061, 0.1718),
    ] {
        let (l, h) = Rate::new(count, of).interval().unwrap();
        assert!(
            (l - low).abs() < 5e-5 && (h - high).abs() < 5e-5,
            "{count}/{of}: {l} {h}"
        );
    }
}

#[test]
fn intervals_of_a_difference_are_the_published_ones() {
    // Newcombe RG, Stat Med 1998;17:873-90, table II, method 10.
    for ((a, m), (b, n), low, high) in [
        ((56, 70), (48, 80), 0.0524, 0.3339),
        ((9, 10), (3, 10), 0.1705, 0.8090),
        ((5, 56), (0, 29), -0.0381, 0.1926),
        ((0, 10), (0, 20), -0.1611, 0.2775),
        ((10, 10), (0, 20), 0.6791, 1.0000),
    ] {
        let (l, h) = Rate::new(a, m).less(Rate::new(b, n)).unwrap();
        assert!(
            (l - low).abs() < 5e-5 && (h - high).abs() < 5e-5,
            "{a}/{m}-{b}/{n}: {l} {h}"
        );
    }
    assert_eq!(Rate::new(56, 70).against(Rate::new(48, 80)), Change::More);
    assert_eq!(Rate::new(48, 80).against(Rate::new(56, 70)), Change::Fewer);
    assert_eq!(Rate::new(5, 56).against(Rate::new(0, 29)), Change::NotClear);
    assert_eq!(Rate::new(9, 10).against(Rate::new(3, 10)), Change::TooFew);
}

#[test]
fn a_share_of_too_few_is_not_said() {
    assert_eq!(Rate::new(0, LEAST - 1).said(), "too few to tell");
    assert_eq!(Rate::new(0, LEAST).said(), "0.0 % (0.0-16.1)");
    assert_eq!(Rate::new(0, 0).said(), "none");
    // More came back than were handed over: the two are not of the same pairs.
    assert_eq!(Rate::new(21, 20).said(), "no share");
    assert_eq!(Rate::new(21, 20).interval(), None);
}

#[test]
fn a_quantile_is_the_least_number_of_days_that_as_many_took_at_most() {
    let mut spread = Spread::default();
    assert_eq!(spread.median(), None);
    for days in [7, 1, 3, 3, 9, 2, 2, 2, 5, 40] {
        spread.add(days);
    }
    // Sorted: 1 2 2 2 3 3 5 7 9 40.
    let of = |thousandths| spread.quantile(thousandths).unwrap();
    assert_eq!(
        [of(1), of(250), of(500), of(750), of(900), of(1000)],
        [1, 2, 3, 7, 9, 40]
    );
}

#[test]
fn a_period_holds_its_first_day_and_not_the_day_after_its_last() {
    let month = Period::around(day("2024-02-29"), Length::Month);
    assert_eq!(
        (month.from, month.to),
        (day("2024-02-01"), day("2024-03-01"))
    );
    assert!(month.contains(day("2024-02-01")) && month.contains(day("2024-02-29")));
    assert!(!month.contains(day("2024-03-01")) && !month.contains(day("2024-01-31")));
    assert_eq!(month.before().to, month.from);
    assert_eq!(month.before().from, day("2024-01-01"));
    let quarter = Period::around(day("2026-11-25"), Length::Quarter);
    assert_eq!(
        (quarter.from, quarter.to),
        (day("2026-10-01"), day("2027-01-01"))
    );
    assert_eq!(quarter.title(), "quarter 4 of 2026");
    assert_eq!(quarter.next().before(), quarter);
    let own = Period::days(day("2026-11-03"), day("2026-11-12")).unwrap();
    assert_eq!((own.count(), own.before().from), (10, day("2026-10-24")));
    assert_eq!(Period::days(day("2026-11-03"), day("2026-11-02")), None);
}

#[test]
fn a_shape_shows_every_count_that_is_not_nothing() {
    let parts = [0, 1, 100, 50, 0, 0, 0, 0, 0, 0, 0, 100];
    assert_eq!(sparkline::drawn(&parts, false), "·▁█▄·······█");
    assert_eq!(sparkline::drawn(&parts, true), ".184.......8");
    assert_eq!(sparkline::drawn(&[0; 12], false), "············");
    assert_eq!(sparkline::bar(0.001, 4, true), "#...");
    assert_eq!(sparkline::bar(0.0, 4, true), "....");
    assert_eq!(sparkline::bar(1.0, 4, false), "████");
}
