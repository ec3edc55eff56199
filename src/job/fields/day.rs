//! Days and times as they are typed: written out, or counted from today.

use chrono::{Days, NaiveDate, NaiveTime};

use crate::job::Moment;

const MONTHS: [&str; 12] = [
    "january",
    "february",
    "march",
    "april",
    "may",
    "june",
    "july",
    "august",
    "september",
    "october",
    "november",
    "december",
];

/// Reads a day: `2026-12-03`, `3/12/2026` (day first), `3.12.2026`, `3 dec 2026`, `today` or its
/// beginning, `+7`.
pub(super) fn day(text: &str, today: NaiveDate) -> Option<NaiveDate> {
    let text = text.trim().to_lowercase();
    if !text.is_empty() && "today".starts_with(&text) {
        return Some(today);
    }
    let digits = |s: &str| !s.is_empty() && s.len() <= 4 && s.bytes().all(|b| b.is_ascii_digit());
    for (sign, ahead) in [('+', true), ('-', false)] {
        if let Some(count) = text.strip_prefix(sign) {
            let days = Days::new(count.parse().ok().filter(|_| digits(count))?);
            return if ahead {
                today.checked_add_days(days)
            } else {
                today.checked_sub_days(days)
            };
        }
    }
    let parts: Vec<&str> = text
        .split(['-', '/', '.', ' '])
        .filter(|p| !p.is_empty())
        .collect();
    let &[first, middle, last] = parts.as_slice() else {
        return None;
    };
    // A year always has four digits: with two, nobody can tell it from a day.
    let (year, day) = match (first.len(), last.len()) {
        (4, 1 | 2) => (first, last),
        (1 | 2, 4) => (last, first),
        _ => return None,
    };
    if !digits(year) || !digits(day) {
        return None;
    }
    let month = if digits(middle) {
        middle.parse().ok()?
    } else {
        month_of(middle)?
    };
    NaiveDate::from_ymd_opt(year.parse().ok()?, month, day.parse().ok()?)
}

fn month_of(word: &str) -> Option<u32> {
    (word.len() >= 3)
        .then(|| (1u32..).zip(MONTHS).find(|(_, m)| m.starts_with(word)))
        .flatten()
        .map(|(number, _)| number)
}

/// Reads a day as [`day`] does, followed by a time such as `15:30`.
pub(super) fn moment(text: &str, today: NaiveDate) -> Option<Moment> {
    let text = text.trim();
    if let Some(written) = Moment::parse(text) {
        return Some(written);
    }
    let (date, time) = text.rsplit_once([' ', 'T'])?;
    let time = NaiveTime::parse_from_str(time, "%H:%M").ok()?;
    Some(Moment(day(date, today)?.and_time(time)))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_spelling_of_a_day_is_the_same_day() {
        let today = NaiveDate::from_ymd_opt(2026, 11, 26).unwrap();
        let meant = NaiveDate::from_ymd_opt(2026, 12, 3);
        for text in [
            "2026-12-03",
            "3/12/2026",
            "3.12.2026",
            "3 dec 2026",
            "03 December 2026",
            "+7",
        ] {
            assert_eq!(day(text, today), meant, "{text}");
        }
        for text in [
            "3/12/26",
            "31/2/2026",
            "3 d 2026",
            "12/2026",
            "+",
            "+-7",
            "tomorrowish",
            "20261203",
        ] {
            assert_eq!(day(text, today), None, "{text}");
        }
        assert_eq!(day("-1", today), NaiveDate::from_ymd_opt(2026, 11, 25));
    }

    #[test]
    fn a_time_follows_any_spelling_of_a_day() {
        let today = NaiveDate::from_ymd_opt(2026, 11, 26).unwrap();
        for text in [
            "2026-12-03T15:30",
            "2026-12-03 15:30",
            "3/12/2026 15:30",
            "+7 15:30",
        ] {
            assert_eq!(
                moment(text, today).unwrap().to_string(),
                "2026-12-03T15:30",
                "{text}"
            );
        }
        assert_eq!(moment("2026-12-03", today), None);
        assert_eq!(moment("today 25:00", today), None);
    }
}
