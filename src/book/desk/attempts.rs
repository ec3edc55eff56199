//! Wrong attempts at a PIN or passphrase: how long the next one waits, how many a day are taken, and what
//! their owner is told.
//!
//! Times are in UTC: a local time would end with the zone of whoever starts the program.

use crate::book::store::Attempts;

/// Wrong attempts without a wait.
const FREE: u32 = 3;
/// The first wait after those, seconds; each further one is twice as long.
const FIRST_WAIT_S: i64 = 5;
/// The longest wait, seconds.
const LONGEST_WAIT_S: i64 = 15 * 60;
/// Wrong attempts that are taken on one day (UTC): with the waits between them they take hours, more than
/// an owner who mistypes needs. The count ends at once when a registered person sets the secret again.
const MOST_A_DAY: u32 = 20;
const DAY_S: i64 = 24 * 60 * 60;

/// Why an attempt is not taken.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Refused {
    /// For so many seconds.
    Wait(i64),
    /// For so many seconds; the clock was set back, and the wait begins again.
    WaitAgain(i64),
    /// Until the next day in UTC, in so many seconds.
    Day(i64),
}

/// Returns why no attempt is taken now, in seconds since 1970.
///
/// A wait longer than any that is ever set shows that the clock was set back: it begins again.
pub(super) fn refused(attempts: &Attempts, now_s: i64) -> Option<Refused> {
    // A later day than today, too: then the clock was set back.
    if attempts.on_day >= MOST_A_DAY && attempts.day >= now_s.div_euclid(DAY_S) {
        return Some(Refused::Day(DAY_S - now_s.rem_euclid(DAY_S)));
    }
    match attempts.waits_until_s? - now_s {
        left if left > LONGEST_WAIT_S => Some(Refused::WaitAgain(
            wait_s(attempts.count).unwrap_or(FIRST_WAIT_S),
        )),
        left if left > 0 => Some(Refused::Wait(left)),
        _ => None,
    }
}

/// Returns the attempts after a wrong one.
pub(super) fn after_wrong(before: &Attempts, now_s: i64) -> Attempts {
    let today = now_s.div_euclid(DAY_S);
    let count = before.count.saturating_add(1);
    let is_same_day = before.day >= today;
    Attempts {
        count,
        since_s: before.since_s.or(Some(now_s)),
        waits_until_s: wait_s(count).map(|wait| now_s + wait),
        day: before.day.max(today),
        on_day: if is_same_day { before.on_day } else { 0 }.saturating_add(1),
    }
}

fn wait_s(count: u32) -> Option<i64> {
    let over = count.checked_sub(FREE)?;
    let seconds = FIRST_WAIT_S.saturating_mul(1_i64.checked_shl(over.min(20)).unwrap_or(i64::MAX));
    Some(seconds.min(LONGEST_WAIT_S))
}

/// Returns what the owner of a secret is told about wrong attempts at it; `None` where there were none.
pub(super) fn told(attempts: &Attempts) -> Option<String> {
    let times = match attempts.count {
        0 => return None,
        1 => "once".to_owned(),
        count => format!("{count} times"),
    };
    let since = attempts
        .since_s
        .and_then(crate::book::clock::local_of_utc_s)
        .map_or_else(String::new, |at| {
            format!(", first on {}", at.format("%-d %b %Y at %H:%M"))
        });
    Some(format!(
        "A wrong PIN or passphrase was typed for you {times} since you last signed in{since}. If that was not you, set a new one."
    ))
}

#[cfg(test)]
#[allow(clippy::unwrap_used, reason = "tests")]
mod tests {
    use super::*;

    /// A moment on the second half of a day, so that hours fit before its end and after its beginning.
    const NOW_S: i64 = 20_000 * DAY_S + DAY_S / 2;

    fn wrong(times: u32) -> Attempts {
        (0..times).fold(Attempts::default(), |a, _| after_wrong(&a, NOW_S))
    }

    #[test]
    fn three_are_free_and_each_further_one_waits_twice_as_long_up_to_a_quarter_of_an_hour() {
        assert_eq!(refused(&wrong(2), NOW_S), None);
        for (count, wait) in [(3, 5), (4, 10), (5, 20), (10, 640), (11, 900), (19, 900)] {
            let attempts = wrong(count);
            assert_eq!(
                refused(&attempts, NOW_S),
                Some(Refused::Wait(wait)),
                "{count}"
            );
            assert_eq!(refused(&attempts, NOW_S + wait - 1), Some(Refused::Wait(1)));
            assert_eq!(refused(&attempts, NOW_S + wait), None);
        }
    }

    #[test]
    fn a_clock_set_back_ends_no_wait() {
        let attempts = wrong(5);
        for back_s in [1, 60, LONGEST_WAIT_S, 3 * DAY_S, 3650 * DAY_S] {
            let refused = refused(&attempts, NOW_S - back_s);
            assert!(
                matches!(refused, Some(Refused::Wait(_) | Refused::WaitAgain(20))),
                "{back_s}: {refused:?}"
            );
        }
    }

    #[test]
    fn twenty_a_day_are_taken_and_a_clock_set_back_brings_no_more() {
        let attempts = wrong(MOST_A_DAY);
        for at_s in [NOW_S, NOW_S + DAY_S / 2 - 1, NOW_S - 3 * DAY_S] {
            assert!(matches!(refused(&attempts, at_s), Some(Refused::Day(s)) if s > 0));
        }
        assert_eq!(refused(&attempts, NOW_S + DAY_S / 2), None);
        let next = after_wrong(&attempts, NOW_S + DAY_S);
        assert_eq!((next.count, next.on_day), (MOST_A_DAY + 1, 1));
    }

    #[test]
    fn the_owner_is_told_how_many_there_were_and_since_when() {
        assert_eq!(told(&Attempts::default()), None);
        let said = told(&wrong(4)).unwrap();
        assert!(
            said.contains("4 times") && said.contains("first on"),
            "{said}"
        );
        assert!(told(&wrong(1)).unwrap().contains("once"));
    }
}
