//! What holds for every line: the reader answers, keeps its limits, and reads back what it writes.

#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    missing_docs,
    reason = "tests"
)]

use proptest::prelude::*;
use rimbook::notation::{
    Eighths, PrismBase, Reading, WrittenPrism, WrittenRx, answer, read, written,
};
use rimbook::units::{Millimetre, PrismDioptre};

const PIECES: &[&str] = &[
    "R",
    "L:",
    "OU",
    "-2.25",
    "+1.00",
    "-0.75",
    "2",
    "90",
    "x",
    "ax",
    "x 90",
    "/",
    ";",
    "|",
    ",",
    "DS",
    "DC",
    "D",
    "plano",
    "∞",
    "Add",
    "Add +2.00",
    "2Δ",
    "BU",
    "1.5",
    "BI",
    "base",
    "in",
    "@",
    "37",
    "°",
    "BVD",
    "12",
    "mm",
    "6/6",
    "VA",
    "&",
    "-",
    "−",
    "—",
    "×",
    ".",
    "0",
    "0.00",
    "both",
    "split",
    "nil",
    "near",
    "?",
    "9O",
    "-2,25",
    "prism",
    "^",
    " ",
    "\u{a0}",
];

fn soup() -> impl Strategy<Value = String> {
    prop::collection::vec((prop::sample::select(PIECES), any::<bool>()), 0..14).prop_map(|parts| {
        let glue = |(text, apart): (&str, bool)| format!("{text}{}", if apart { " " } else { "" });
        parts.into_iter().map(glue).collect()
    })
}

fn eyes(reading: Reading) -> Vec<WrittenRx> {
    match reading {
        Reading::One { rx, .. } => vec![rx],
        Reading::Two(eyes) => vec![eyes.right, eyes.left],
    }
}

fn within_limits(rx: &WrittenRx) {
    assert!(rx.sphere.0.abs() <= 320);
    assert_eq!(rx.cylinder.is_some(), rx.axis_deg.is_some());
    assert!(rx.cylinder.is_none_or(|c| c.0 != 0 && c.0.abs() <= 160));
    assert!(rx.axis_deg.is_none_or(|a| (1..=180).contains(&a)));
    assert!(rx.addition.is_none_or(|a| (0..=80).contains(&a.0)));
    assert!(
        rx.vertex_mm
            .is_none_or(|v| (5_000..=25_000).contains(&v.thousandths()))
    );
    assert!(rx.prism.len() <= 2);
    for prism in &rx.prism {
        assert!((0..=30_000).contains(&prism.amount.thousandths()));
        assert!(!matches!(prism.base, PrismBase::Angle(a) if a > 359 || rx.prism.len() > 1));
    }
}

fn any_rx() -> impl Strategy<Value = WrittenRx> {
    let amount = || (0..=30_000_i32).prop_map(PrismDioptre::from_thousandths);
    let vertical = prop::option::of((
        amount(),
        prop::sample::select(vec![PrismBase::Up, PrismBase::Down]),
    ));
    let horizontal = prop::option::of((
        amount(),
        prop::sample::select(vec![PrismBase::In, PrismBase::Out]),
    ));
    let components =
        (horizontal, vertical).prop_map(|(h, v)| h.into_iter().chain(v).collect::<Vec<_>>());
    let angle = (amount(), (0..360_u16).prop_map(PrismBase::Angle)).prop_map(|p| vec![p]);
    let cylinder = (-160..=160_i16).prop_filter("no cylinder", |c| *c != 0);
    (
        -320..=320_i16,
        prop::option::of((cylinder, 1..=180_u16)),
        prop::option::of(0..=80_i16),
        prop_oneof![components, angle],
        prop::option::of("(6|20|3)/(4|6|7\\.5|8|12|60)([+-][1-4])?"),
        prop::option::of((5_000..=25_000_i32).prop_map(Millimetre::from_thousandths)),
    )
        .prop_map(
            |(sphere, cylinder, addition, prism, acuity, vertex_mm)| WrittenRx {
                sphere: Eighths(sphere),
                cylinder: cylinder.map(|c| Eighths(c.0)),
                axis_deg: cylinder.map(|c| c.1),
                addition: addition.map(Eighths),
                prism: prism
                    .into_iter()
                    .map(|(amount, base)| WrittenPrism { amount, base })
                    .collect(),
                acuity,
                vertex_mm,
            },
        )
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 2000, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn any_text_at_all_gets_an_answer(line in any::<String>()) {
        let answer = answer(&line);
        prop_assert!(answer["ok"].is_boolean());
    }

    #[test]
    fn whatever_is_read_from_a_soup_of_pieces_is_within_the_limits(line in soup()) {
        match read(&line) {
            Ok(reading) => eyes(reading).iter().for_each(within_limits),
            Err(error) => prop_assert!(!error.message.is_empty()),
        }
    }

    #[test]
    fn outer_spaces_never_matter(line in soup(), before in "[ \t\u{a0}]{0,3}", after in "[ \t\u{a0}]{0,3}") {
        prop_assert_eq!(read(&format!("{before}{line}{after}")), read(&line));
    }

    #[test]
    fn what_is_written_reads_back_to_the_same_value(rx in any_rx()) {
        let line = written(&rx);
        within_limits(&rx);
        prop_assert_eq!(read(&line), Ok(Reading::One { eye: None, rx }), "{}", line);
    }

    #[test]
    fn labels_decide_and_the_order_of_the_eyes_does_not(right in any_rx(), left in any_rx()) {
        // One addition after both eyes is refused, so both eyes have one or neither.
        let (mut right, mut left) = (right, left);
        if right.addition.is_some() != left.addition.is_some() {
            right.addition = None;
            left.addition = None;
        }
        let (r, l) = (written(&right), written(&left));
        let one = read(&format!("R {r} L {l}"));
        prop_assert_eq!(&one, &read(&format!("OS: {l}; OD: {r}")));
        prop_assert!(matches!(one, Ok(Reading::Two(_))), "{:?}", one);
    }
}
