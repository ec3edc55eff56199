//! Laws of reading a written prescription: what holds whatever is typed.
//!
//! Long: a plain run tries fewer cases (`tests/support/long.rs`).

use crate::long::cases;
use proptest::prelude::*;
use proptest::sample::select;
use rimbook::testing::trade::eye::{Eye, PerEye};
use rimbook::testing::trade::notation::{
    Assumption, Eighths, ErrorKind, PrismBase, Reading, WrittenPrism, WrittenRx, answer, read,
    written,
};
use rimbook::testing::trade::units::{Millimetre, PrismDioptre};

/// Pieces of which prescriptions, right and wrong, are made.
const PIECES: &[&str] = &[
    "R",
    "L",
    "OD",
    "O.S.",
    "OU",
    "both",
    "right eye",
    "Left:",
    "-2.25",
    "+1.00",
    "-0.75",
    "-.5",
    "0.00",
    "plano",
    "∞",
    "pl",
    "DS",
    "D",
    "DC",
    "D.C.",
    "sph",
    "x",
    "ax",
    "axis",
    "90",
    "180",
    "005",
    "0",
    "°",
    "deg",
    "Add",
    "+2.00",
    "add:",
    "Int",
    "inter add",
    "+1.25 int",
    "2.00 add",
    "near",
    "near 2 in",
    "2pd down",
    "Sph",
    "Cyl:",
    "SPH/CYL/AX",
    "- 1.50",
    "+ 0.75",
    "NV",
    "2Δ",
    "1.5^",
    "prism",
    "base",
    "BU",
    "BI",
    "in",
    "out",
    "@",
    "37",
    "400",
    "&",
    "U",
    "D",
    "BVD",
    "12",
    "12.5 mm",
    "vertex",
    "VA",
    "6/6",
    "6/9-2",
    "20/20",
    "PD",
    "63",
    "bal",
    "split",
    "/",
    ";",
    "|",
    ",",
    ":",
    "-",
    "+",
    "--2",
    "+/-2",
    "2.2.5",
    "225",
    "-2,25",
    "9O",
    "??",
    "(2.25)",
    "each",
    "nil",
    "n/a",
    "—",
    "±",
    "½",
    "\u{A0}",
    " ",
    "\t",
    ".",
];

fn typed() -> impl Strategy<Value = String> {
    prop::collection::vec((select(PIECES), select(&["", " ", "  "][..])), 0..14).prop_map(
        |pieces| {
            pieces
                .into_iter()
                .flat_map(|(piece, gap)| [piece, gap])
                .collect()
        },
    )
}

/// Lines of sensible shape, so that most of them are read.
fn sensible() -> impl Strategy<Value = String> {
    let power = select(
        &[
            "-2.25", "+1.00", "plano", "0.00", "-40.00", "+.12", "-40.12",
        ][..],
    );
    let cylinder = select(
        &[
            "",
            "",
            " -0.75 x 90",
            "/+20.00x180",
            " -0.5DCx5°",
            " 0.00 x 0",
            " -20.12 x 1",
        ][..],
    );
    let extra = select(
        &[
            "",
            "",
            " Add +2.00",
            " add 10.00",
            " 2Δ BU",
            " 1.5 out",
            " 30^ @ 360",
            " BVD 5",
            " VD 25 mm",
            " 6/9-2",
            " 31Δ BI",
        ][..],
    );
    let eye =
        (power, cylinder, extra.clone(), extra).prop_map(|(p, c, a, b)| format!("{p}{c}{a}{b}"));
    prop_oneof![
        eye.clone(),
        (select(&["R ", "L: ", "OU ", "od "][..]), eye.clone())
            .prop_map(|(l, e)| format!("{l}{e}")),
        (eye.clone(), eye).prop_map(|(a, b)| format!("R {a}; L {b}")),
    ]
}

fn each(reading: &Reading) -> Vec<&WrittenRx> {
    match reading {
        Reading::One { rx, .. } => vec![rx],
        Reading::Two { eyes, .. } => vec![&eyes.right, &eyes.left],
    }
}

fn assert_within_limits(rx: &WrittenRx) {
    let size = |power: Eighths| power.to_dioptre().abs().thousandths();
    assert!(size(rx.sphere) <= 40_000);
    assert_eq!(
        rx.cylinder.is_some(),
        rx.axis_deg.is_some(),
        "cylinder and axis come together"
    );
    assert!(rx.cylinder.is_none_or(|c| c.0 != 0 && size(c) <= 20_000));
    assert!(rx.axis_deg.is_none_or(|axis| (1..=180).contains(&axis)));
    for addition in [rx.addition, rx.intermediate_addition] {
        assert!(addition.is_none_or(|add| (0..=80).contains(&add.0)));
    }
    assert!(
        rx.vertex_mm
            .is_none_or(|mm| (5_000..=25_000).contains(&mm.thousandths()))
    );
    for all in [&rx.prism, &rx.near_prism] {
        assert!(all.len() <= 2);
        for prism in all {
            assert!((0..=30_000).contains(&prism.amount.thousandths()));
            if let PrismBase::Angle(degrees) = prism.base {
                assert!(degrees < 360 && all.len() == 1);
            }
        }
    }
    for eye in Eye::BOTH {
        let (inward, up) = rx.prism_components(eye);
        assert!(inward.thousandths() % 10 == 0 && up.thousandths() % 10 == 0);
    }
}

fn eighths(most: i16) -> impl Strategy<Value = Eighths> {
    (-most..=most).prop_map(Eighths)
}

fn prism() -> impl Strategy<Value = Vec<WrittenPrism>> {
    let make = |amount, base| WrittenPrism {
        amount: PrismDioptre::from_thousandths(amount),
        base,
    };
    let amount = 0..=30_000_i32;
    let vertical = (amount.clone(), any::<bool>())
        .prop_map(move |(a, up)| make(a, if up { PrismBase::Up } else { PrismBase::Down }));
    let horizontal = (amount.clone(), any::<bool>()).prop_map(move |(a, inward)| {
        make(
            a,
            if inward {
                PrismBase::In
            } else {
                PrismBase::Out
            },
        )
    });
    prop_oneof![
        Just(Vec::new()),
        vertical.clone().prop_map(|v| vec![v]),
        (vertical, horizontal, any::<bool>()).prop_map(|(v, h, first)| if first {
            vec![v, h]
        } else {
            vec![h, v]
        }),
        (amount, 0..360_u16).prop_map(move |(a, degrees)| vec![make(a, PrismBase::Angle(degrees))]),
    ]
}

fn prescription() -> impl Strategy<Value = WrittenRx> {
    let cylinder = prop::option::of((
        eighths(160).prop_filter("a cylinder has power", |c| c.0 != 0),
        1..=180_u16,
    ));
    let addition = || prop::option::of((0..=80_i16).prop_map(Eighths));
    let additions = (addition(), addition());
    let acuity = prop::option::of(select(
        &["6/6", "6/9-2", "20/20", "6/5+1", "6/7.5", "3/60"][..],
    ));
    let vertex = prop::option::of((5_000..=25_000_i32).prop_map(Millimetre::from_thousandths));
    let prisms = (prism(), prism());
    (eighths(320), cylinder, additions, prisms, acuity, vertex).prop_map(
        |(sphere, cylinder, additions, prisms, acuity, vertex_mm)| WrittenRx {
            sphere,
            cylinder: cylinder.map(|(power, _)| power),
            axis_deg: cylinder.map(|(_, axis)| axis),
            addition: additions.0,
            intermediate_addition: additions.1,
            prism: prisms.0,
            near_prism: prisms.1,
            acuity: acuity.map(str::to_owned),
            vertex_mm,
        },
    )
}

/// The steps of the reader, by what a refusal is of: characters, then commas, then the rest.
fn is_of_characters(kind: ErrorKind) -> bool {
    matches!(
        kind,
        ErrorKind::UnsupportedCharacter
            | ErrorKind::AmbiguousDash
            | ErrorKind::AmbiguousSign
            | ErrorKind::NoValue
    )
}

proptest! {
    #![proptest_config(ProptestConfig { cases: cases(300, 1500), failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn whatever_is_typed_is_read_within_the_limits_or_refused(line in any::<String>()) {
        if let Ok(reading) = read(&line) {
            each(&reading).into_iter().for_each(assert_within_limits);
        }
    }

    #[test]
    fn whatever_is_made_of_known_pieces_is_read_within_the_limits_or_refused(line in typed()) {
        match read(&line) {
            Ok(reading) => each(&reading).into_iter().for_each(assert_within_limits),
            Err(error) => prop_assert!(!error.message.is_empty() && error.message.chars().count() < 160),
        }
    }

    #[test]
    fn sensible_lines_are_read_within_the_limits_or_refused(line in sensible()) {
        match read(&line) {
            Ok(reading) => each(&reading).into_iter().for_each(assert_within_limits),
            Err(error) => prop_assert!(error.kind != ErrorKind::UnexpectedText, "{line}: {error}"),
        }
    }

    #[test]
    fn outer_space_never_changes_the_result(line in prop_oneof![any::<String>(), typed(), sensible()], before in "[ \t\u{A0}\u{2009}]{0,4}", after in "[ \t\u{A0}\u{2009}]{0,4}") {
        prop_assert_eq!(answer(&line), answer(&format!("{before}{line}{after}")));
    }

    #[test]
    fn what_is_written_is_read_back_the_same(rx in prescription()) {
        let line = written(&rx);
        prop_assert_eq!(read(&line), Ok(Reading::One { eye: None, rx }), "{}", line);
    }

    #[test]
    fn labels_decide_and_not_the_order(right in prescription(), left in prescription()) {
        // Each eye has what the other has, so that nothing is lent to the first.
        let lent = |a: &WrittenRx, b: &WrittenRx| WrittenRx {
            addition: a.addition.or(b.addition),
            intermediate_addition: a.intermediate_addition.or(b.intermediate_addition),
            ..a.clone()
        };
        let (right, left) = (lent(&right, &left), lent(&left, &right));
        let (r, l) = (written(&right), written(&left));
        prop_assert_eq!(read(&format!("R {r} L {l}")), read(&format!("L {l}; R {r}")));
    }

    #[test]
    fn one_addition_written_last_is_that_of_both_eyes(right in prescription(), left in prescription(), add in 0..=80_i16) {
        let bare = |rx: WrittenRx| WrittenRx { addition: None, intermediate_addition: None, ..rx };
        let (right, left) = (bare(right), bare(left));
        let lent = Some(Eighths(add));
        let shared = WrittenRx { addition: lent, ..left.clone() };
        let line = format!("R {} L {}", written(&right), written(&shared));
        let wanted = Reading::Two {
            eyes: PerEye { right: WrittenRx { addition: lent, ..right }, left: shared },
            assumed: vec![Assumption::AdditionForBothEyes],
        };
        prop_assert_eq!(read(&line), Ok(wanted), "{}", line);
    }

    /// The other ways of writing the same: the figure before its word, names before the powers,
    /// `pd` for the prism mark.
    #[test]
    fn other_ways_of_writing_say_the_same(rx in prescription()) {
        let said = read(&written(&rx));
        let named = written(&rx);
        let named = named.replacen(" / ", " Cyl ", 1).replacen(" x ", " Axis ", 1);
        prop_assert_eq!(read(&format!("Sph {named}")), said.clone(), "Sph {}", named);
        prop_assert_eq!(read(&format!("SPH: {}", named.to_ascii_uppercase()).replace("CYL", "CYL:")), said.clone());
        let words: Vec<String> = written(&rx).split(' ').map(str::to_owned).collect();
        let mut turned = words.clone();
        for pair in words.windows(2).enumerate().filter(|(_, w)| matches!(w[0].as_str(), "add" | "int")) {
            turned.swap(pair.0, pair.0 + 1);
        }
        let turned = turned.join(" ");
        prop_assert_eq!(read(&turned), said.clone(), "{}", turned);
        let marked = words.iter().map(|w| match w.as_str() {
            "in" | "out" | "up" | "down" => format!("pd {w}"),
            _ => w.clone(),
        }).collect::<Vec<_>>().join(" ");
        prop_assert_eq!(read(&marked), said, "{}", marked);
    }

    #[test]
    fn a_sign_apart_from_the_first_figure_is_its_own(rx in prescription(), label in select(&["", "R ", "L: ", "Sph "][..])) {
        let line = written(&rx);
        let apart = line.replacen('-', "- ", usize::from(line.starts_with('-'))).replacen('+', "+ ", usize::from(line.starts_with('+')));
        prop_assert_eq!(read(&format!("{label}{apart}")), read(&format!("{label}{line}")), "{}", apart);
    }

    #[test]
    fn decimal_commas_and_points_say_the_same(rx in prescription()) {
        let line = written(&rx);
        prop_assert_eq!(read(&line), read(&line.replace('.', ",")));
    }

    #[test]
    fn capitals_never_change_the_result(line in sensible()) {
        prop_assert_eq!(read(&line).ok(), read(&line.to_ascii_uppercase()).ok());
    }

    #[test]
    fn an_unreadable_character_is_told_before_anything_else(line in typed(), at in any::<prop::sample::Index>()) {
        let mut chars: Vec<char> = line.chars().collect();
        chars.insert(at.index(chars.len() + 1), '¼');
        let kind = read(&chars.into_iter().collect::<String>()).unwrap_err().kind;
        prop_assert!(is_of_characters(kind), "{kind}");
    }
}

#[test]
fn most_sensible_lines_are_read() {
    // Guards the laws above against holding only because everything is refused.
    use proptest::strategy::ValueTree;
    use proptest::test_runner::TestRunner;
    let mut runner = TestRunner::deterministic();
    let read_ones = (0..400)
        .filter(|_| read(&sensible().new_tree(&mut runner).unwrap().current()).is_ok())
        .count();
    assert!(read_ones > 120, "only {read_ones} of 400 lines were read");
}
