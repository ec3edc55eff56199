//! Codes of frames and lenses: element strings as they are sent and as they are printed.

use proptest::prelude::*;
use rimbook::testing::trade::gs1::{Gs1Error, Gtin, Scanned, read};

const GS: char = '\u{1d}';

fn gtin(text: &str) -> Gtin {
    Gtin::read(text).unwrap()
}

/// (01)80614141123458(21)6789 is the example of the EPC Tag Data Standard, (01)09506000134352 and
/// (01)09521101530001 are examples of GS1's publications on Digital Link (numbers from memory; the
/// check digits agree). Lots, serials and dates are invented.
#[test]
fn every_form_of_a_code_says_the_same() {
    let whole = Scanned {
        gtin: Some(gtin("80614141123458")),
        serial: Some("6789".to_owned()),
        ..Scanned::default()
    };
    for code in [
        "(01)80614141123458(21)6789",
        "(01) 80614141123458 (21) 6789",
        "0180614141123458216789",
        "]C10180614141123458216789",
        "]d20180614141123458216789",
        "\u{1d}0180614141123458216789",
        "<GS>0180614141123458216789\r\n",
    ] {
        assert_eq!(read(code), Ok(whole.clone()), "{code}");
    }
}

#[test]
fn lot_serial_and_dates_are_read_whatever_their_order() {
    let (one, other) = (
        format!("010950600013435210AB-123{GS}112611301729020021x(7)"),
        format!(
            "17290200{}0109506000134352{}",
            "10AB-123\u{1d}", "1126113021x(7)"
        ),
    );
    for code in [
        one.as_str(),
        other.as_str(),
        "(01)09506000134352(10)AB-123(11)261130(17)290200(21)x(7)",
        "(21)x(7)(01)09506000134352(17)290200(10)AB-123(11)261130",
    ] {
        let code = if code.starts_with("17") {
            format!("]d2{code}")
        } else {
            code.to_owned()
        };
        let scanned = read(&code).unwrap();
        assert_eq!(scanned.gtin, Some(gtin("9506000134352")), "{code}");
        assert_eq!(scanned.lot.as_deref(), Some("AB-123"), "{code}");
        assert_eq!(scanned.serial.as_deref(), Some("x(7)"), "{code}");
        assert_eq!(scanned.produced.unwrap().whole(2026), (2026, 11, 30));
        assert_eq!(scanned.expires.unwrap().whole(2026), (2029, 2, 28));
        assert!(scanned.others.is_empty());
    }
}

#[test]
fn plain_numbers_are_read_and_their_check_digits_tested() {
    for code in ["6291041500213", "6 291041 500213", "]E06291041500213"] {
        let scanned = read(code).unwrap();
        assert_eq!(scanned.gtin.unwrap().figures(), "6291041500213", "{code}");
    }
    for (code, wanted) in [
        ("6291041500214", 3),
        ("0109506000134353", 2),
        ("(01)09506000134353(10)A", 2),
    ] {
        match read(code) {
            Err(Gs1Error::CheckDigit { wanted: found, .. }) => assert_eq!(found, wanted, "{code}"),
            other => panic!("{code}: {other:?}"),
        }
    }
}

#[test]
fn other_parts_are_kept_and_what_is_not_understood_is_told() {
    let scanned = read("(01)09521101530001(240)F1234(8013)1987654Ad4X4bL5ttr2310c2K").unwrap();
    assert_eq!(
        scanned.others,
        [
            ("240", "F1234".to_owned()),
            ("8013", "1987654Ad4X4bL5ttr2310c2K".to_owned())
        ]
    );
    for (code, said) in [
        ("", "nothing was scanned"),
        ("  ", "nothing was scanned"),
        ("frame 123", "no GS1 code"),
        ("(lot)5", "no GS1 code"),
        ("123456789", "not 9"),
        ("010950600013435", "not 15"),
        ("(01)0950600013435", "13 characters where 14"),
        ("(01)0950600013435X", "characters that do not belong"),
        ("0109506000134352(10)A", "a part () that is not known"),
        ("010950600013435210", "0 characters where 1 to 20"),
        (
            "(01)09506000134352(10)ABCDEFGHIJKLMNOPQRSTU",
            "21 characters where 1 to 20",
        ),
        (
            "(01)09506000134352(10)Grün",
            "characters that do not belong",
        ),
        ("]d20109506000134352ü", "not known"),
        ("]d201ü", "characters"),
        ("(01)09506000134352(17)261301", "no date"),
        ("(01)09506000134352(3103)000123", "(3103)"),
        ("(10)A(10)B", "twice, as A and as B"),
        ("(17)260101(17)260102", "twice, as 260101 and as 260102"),
        ("https://example.org/01/09506000134352", "no GS1 code"),
    ] {
        let error = read(code).expect_err(code).to_string();
        assert!(error.contains(said), "{code}: {error}");
        assert!(
            error.contains(": scan") || error.contains(": type"),
            "{error}"
        );
    }
    // The same value twice is one value.
    assert!(read("(10)A(10)A").is_ok());
}

fn code() -> impl Strategy<Value = (String, String, String)> {
    let text = "[!\"%&'*+,./:;<=>?_A-Za-z0-9-]{1,20}";
    ("[0-9]{13}", text, text)
}

/// The check digit by another way than the program's: by trial.
fn with_check_digit(thirteen: &str) -> String {
    (0..10)
        .map(|digit| format!("{thirteen}{digit}"))
        .find(|digits| {
            let sum: usize = digits
                .bytes()
                .enumerate()
                .map(|(i, b)| usize::from(b - b'0') * if i % 2 == 0 { 3 } else { 1 })
                .sum();
            sum.is_multiple_of(10)
        })
        .unwrap()
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn what_is_sent_and_what_is_printed_say_the_same((number, lot, serial) in code()) {
        prop_assume!(!lot.contains("<GS>") && !serial.contains("<GS>"));
        let number = with_check_digit(&number);
        let printed = read(&format!("(01){number}(10){lot}(21){serial}")).unwrap();
        let sent = read(&format!("01{number}10{lot}{GS}21{serial}"));
        prop_assert_eq!(&sent, &Ok(printed.clone()));
        prop_assert_eq!(printed.gtin.unwrap().fourteen(), number);
        prop_assert_eq!(printed.lot, Some(lot));
        prop_assert_eq!(printed.serial, Some(serial));
    }

    #[test]
    fn whatever_is_scanned_is_read_or_told(text in any::<String>(), tail in "[0-9()\u{1d}A-Z]{0,40}") {
        for text in [text, tail.clone(), format!("]C1{tail}"), format!("(01){tail}"), format!("01{tail}")] {
            if let Err(error) = read(&text) {
                prop_assert!(error.to_string().contains(": "));
            }
        }
    }
}
