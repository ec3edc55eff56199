//! Laws of the fields: what is shown is read back, what is kept can be recorded.
#![allow(clippy::needless_pass_by_value, reason = "tests")]

use chrono::NaiveDate;
use proptest::prelude::*;
use rimbook::testing::job::fields::{Field, FieldKind, change, fields, parse, show_value, step};
use rimbook::testing::job::{Job, Section};
use rimbook::testing::trade::optics::materials::MATERIALS;
use rimbook::testing::trade::units::Dioptre;
use serde_json::{Value, json};

fn today() -> NaiveDate {
    NaiveDate::from_ymd_opt(2026, 11, 26).unwrap()
}

fn every_field() -> impl Iterator<Item = &'static Field> {
    Section::ALL.iter().flat_map(|s| fields(*s))
}
fn thousandths(range: std::ops::RangeInclusive<i32>) -> impl Strategy<Value = Value> {
    range.prop_map(|t| {
        if t % 1000 == 0 {
            json!(t / 1000)
        } else {
            json!(f64::from(t) / 1000.0)
        }
    })
}

/// The part of a range that a field can have, thousandths.
#[allow(
    clippy::cast_possible_truncation,
    reason = "whole numbers of a few hundred thousand"
)]
fn within(field: &Field, range: std::ops::RangeInclusive<i32>) -> std::ops::RangeInclusive<i32> {
    match rimbook::testing::job::fields::limits(field) {
        Some((least, most)) => (least * 1000.0) as i32..=(most * 1000.0) as i32,
        None => range,
    }
}

/// A task in words, with a distance, or both.
fn task() -> impl Strategy<Value = Value> {
    let what = proptest::option::of("[b-k][a-z -]{0,8}[a-z]");
    let distance = proptest::option::of(1000..=60_000);
    (what, distance).prop_filter_map("an empty task is none", |(what, tenths)| {
        let mut task = serde_json::Map::new();
        task.extend(what.map(|what| ("what".to_owned(), Value::from(what))));
        let mm = tenths.map(|t| match t % 10 {
            0 => json!(t / 10),
            _ => json!(f64::from(t) / 10.0),
        });
        task.extend(mm.map(|mm| ("distance_mm".to_owned(), mm)));
        (!task.is_empty()).then_some(Value::Object(task))
    })
}

fn value_of(field: &Field) -> BoxedStrategy<Value> {
    let eighths = |most: i32| {
        (-most..=most)
            .prop_map(|e| serde_json::to_value(Dioptre::from_thousandths(e * 125)).unwrap())
    };
    let words =
        |list: &'static [&'static str]| proptest::sample::select(list).prop_map(Value::from);
    match field.kind {
        FieldKind::Text | FieldKind::Staff => "[A-Za-z0-9é,.+-]( ?[A-Za-z0-9é,.+-]){0,20}"
            .prop_map(Value::from)
            .boxed(),
        FieldKind::Notes => "[a-z]{1,9}(\n[a-z]{1,9}){0,3}"
            .prop_map(Value::from)
            .boxed(),
        FieldKind::Date => (0u64..80_000)
            .prop_map(|d| {
                Value::from(
                    (NaiveDate::from_ymd_opt(1900, 1, 1).unwrap() + chrono::Days::new(d))
                        .to_string(),
                )
            })
            .boxed(),
        FieldKind::Moment => (0u64..80_000, 0u32..1440)
            .prop_map(|(d, m)| {
                let day = NaiveDate::from_ymd_opt(1900, 1, 1).unwrap() + chrono::Days::new(d);
                Value::from(
                    day.and_hms_opt(m / 60, m % 60, 0)
                        .unwrap()
                        .format("%Y-%m-%dT%H:%M")
                        .to_string(),
                )
            })
            .boxed(),
        FieldKind::Power if field.path.ends_with("cylinder_d") => eighths(160).boxed(),
        FieldKind::Power => eighths(320).boxed(),
        FieldKind::Reading => thousandths(-20_000..=20_000).boxed(),
        FieldKind::Addition => (0..=80)
            .prop_map(|e| serde_json::to_value(Dioptre::from_thousandths(e * 125)).unwrap())
            .boxed(),
        FieldKind::Prism(_) => thousandths(-30_000..=30_000).boxed(),
        FieldKind::Axis => (1..=180).prop_map(Value::from).boxed(),
        FieldKind::Curve => thousandths(within(field, -60_000..=60_000)).boxed(),
        FieldKind::PrismSize => thousandths(within(field, 0..=30_000)).boxed(),
        FieldKind::Length => thousandths(within(field, 0..=2_000_000)).boxed(),
        FieldKind::Angle => thousandths(within(field, -360_000..=360_000)).boxed(),
        FieldKind::Index => thousandths(1000..=3000).boxed(),
        FieldKind::Percent => thousandths(0..=100_000).boxed(),
        FieldKind::Category => (0..=4).prop_map(Value::from).boxed(),
        FieldKind::Flag => any::<bool>().prop_map(Value::from).boxed(),
        FieldKind::Choice(list) => words(list).boxed(),
        FieldKind::Advice(list) => proptest::collection::vec(words(list), 0..4)
            .prop_map(Value::from)
            .boxed(),
        FieldKind::Tasks => proptest::collection::vec(task(), 0..4)
            .prop_map(Value::from)
            .boxed(),
        FieldKind::Words => proptest::collection::vec("[b-m][a-z -]{0,8}[a-z]", 0..4)
            .prop_map(Value::from)
            .boxed(),
        FieldKind::Material => proptest::sample::select(&MATERIALS[..])
            .prop_map(|m| Value::from(m.key))
            .boxed(),
    }
}

proptest! {
    #[test]
    fn what_is_shown_is_read_back_as_the_same_value(
        (field, value) in proptest::sample::select(every_field().collect::<Vec<_>>())
            .prop_flat_map(|f| value_of(f).prop_map(move |v| (f, v)))
    ) {
        let shown = show_value(field, Some(&value));
        prop_assert_eq!(parse(field, &shown, today()), Ok(value), "{} shown as {:?}", field.full_path(), shown);
    }

    #[test]
    fn anything_may_be_typed_and_whatever_is_kept_can_be_recorded(
        field in proptest::sample::select(every_field().collect::<Vec<_>>()),
        text in "\\PC{0,12}|[-+0-9., xa-z/]{0,12}",
    ) {
        let mut job = Job::default();
        job.wearer.name = Some("Ida Example".into());
        if let Ok(value) = parse(field, &text, today()) {
            let change = change(field, value);
            prop_assert!(job.record(field.section, &change).is_ok(), "{} {}", field.full_path(), change);
        }
        for up in [true, false] {
            if let Some(to) = step(field, &text, up) {
                prop_assert!(parse(field, &to, today()).is_ok(), "{} {to}", field.full_path());
            }
        }
    }
}
