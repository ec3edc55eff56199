//! Dates as codes hold them: YYMMDD.

/// A date without its century; day 0 is the last of its month.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub struct ShortDate {
    /// Year within its century, 0 to 99.
    year: u8,
    /// Month, 1 to 12.
    month: u8,
    /// Day, 0 to 31; 0 where the code names only the month.
    day: u8,
}

impl ShortDate {
    /// Reads six figures; `None` where no calendar has such a date.
    pub(super) fn read(text: &str) -> Option<Self> {
        let part = |from: usize| text.get(from..from + 2)?.parse::<u8>().ok();
        if text.len() != 6 || !text.bytes().all(|b| b.is_ascii_digit()) {
            return None;
        }
        let date = Self {
            year: part(0)?,
            month: part(2)?,
            day: part(4)?,
        };
        // 29 February is a day of some century's year only where that year may be a leap year.
        let longest = days(2000 + i32::from(date.year), date.month);
        ((1..=12).contains(&date.month) && date.day <= longest).then_some(date)
    }

    /// Returns its six figures, as they are in the code.
    #[must_use]
    pub fn figures(self) -> String {
        format!("{:02}{:02}{:02}", self.year, self.month, self.day)
    }

    /// Returns year, month and day, with the century that is nearest to `this_year`: up to 50 years
    /// ahead and 49 back (General Specifications, section 7.12).
    #[must_use]
    pub fn whole(self, this_year: i32) -> (i32, u8, u8) {
        let century = this_year - this_year.rem_euclid(100);
        let ahead = i32::from(self.year) - this_year.rem_euclid(100);
        let year = century
            + i32::from(self.year)
            + match ahead {
                51.. => -100,
                ..=-50 => 100,
                _ => 0,
            };
        let day = if self.day == 0 {
            days(year, self.month)
        } else {
            self.day
        };
        (year, self.month, day)
    }
}

/// The days of a month.
fn days(year: i32, month: u8) -> u8 {
    let is_leap = year % 4 == 0 && (year % 100 != 0 || year % 400 == 0);
    match month {
        4 | 6 | 9 | 11 => 30,
        2 if is_leap => 29,
        2 => 28,
        _ => 31,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_century_is_the_nearest() {
        let whole = |text: &str, this_year| ShortDate::read(text).unwrap().whole(this_year);
        assert_eq!(whole("261130", 2026), (2026, 11, 30));
        assert_eq!(whole("760101", 2026), (2076, 1, 1));
        assert_eq!(whole("770101", 2026), (1977, 1, 1));
        assert_eq!(whole("120101", 2062), (2112, 1, 1));
        assert_eq!(whole("130101", 2062), (2013, 1, 1));
    }

    #[test]
    fn a_day_of_nought_is_the_last_of_its_month() {
        let whole = |text: &str| ShortDate::read(text).unwrap().whole(2026);
        assert_eq!(whole("280200"), (2028, 2, 29));
        assert_eq!(whole("270200"), (2027, 2, 28));
        assert_eq!(whole("270400"), (2027, 4, 30));
    }

    #[test]
    fn what_no_calendar_has_is_no_date() {
        for text in [
            "261301", "260001", "260431", "270229", "2611", "26113a", "26 130",
        ] {
            assert_eq!(ShortDate::read(text), None, "{text}");
        }
    }
}
