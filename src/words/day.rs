//! Days and spans of days.

use chrono::{Datelike, NaiveDate};

use crate::unit::edtf;

/// A day: `14 March 2026`.
pub(crate) fn day(date: NaiveDate) -> String {
    format!("{} {}", day_of_year(date), date.year())
}

/// A day's month: `March 2026`.
pub(crate) fn month(date: NaiveDate) -> String {
    format!("{} {}", month_of_year(date), date.year())
}

/// A day without its year: `14 March`.
pub(crate) fn day_of_year(date: NaiveDate) -> String {
    format!("{} {}", date.day(), month_of_year(date))
}

fn month_of_year(date: NaiveDate) -> &'static str {
    edtf::MONTHS[date.month0() as usize]
}

/// From one day to another, no more said twice than needed: `22 to 23 March 2026`.
pub(crate) fn days(first: NaiveDate, last: NaiveDate) -> String {
    match (first.year() == last.year(), first.month() == last.month()) {
        _ if first == last => day(first),
        (true, true) => format!("{} to {}", first.day(), day(last)),
        (true, false) => format!("{} to {}", day_of_year(first), day(last)),
        (false, _) => format!("{} to {}", day(first), day(last)),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn days_say_no_more_twice_than_needed() {
        let date = |text: &str| text.parse::<NaiveDate>().unwrap();
        let days = |first: &str, last: &str| days(date(first), date(last));
        assert_eq!(days("2026-03-22", "2026-03-22"), "22 March 2026");
        assert_eq!(days("2026-03-22", "2026-03-23"), "22 to 23 March 2026");
        assert_eq!(days("2026-03-28", "2026-04-02"), "28 March to 2 April 2026");
        assert_eq!(days("2025-12-28", "2026-12-28"), "28 December 2025 to 28 December 2026");
        assert_eq!(day_of_year(date("2026-03-22")), "22 March");
    }
}
