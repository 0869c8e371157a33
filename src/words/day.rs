//! Days and spans of days.

use chrono::{Datelike, NaiveDate};

use super::Words;
use crate::claim::says;

impl Words {
    /// A day: `14 March 2026`.
    pub fn day(&self, date: NaiveDate) -> String {
        let (day, month) = (date.day().to_string(), self.language().month(date.month()));
        self.say(&says!("day-form", day = day, month = month, year = date.year().to_string()))
    }

    /// A day's month: `March 2026`.
    pub fn month(&self, date: NaiveDate) -> String {
        let month = self.language().month(date.month());
        self.say(&says!("month-form", month = month, year = date.year().to_string()))
    }

    /// The name of a day's month: `March`.
    pub fn month_name(&self, date: NaiveDate) -> String {
        self.language().month(date.month()).to_owned()
    }

    /// A day without its year: `14 March`.
    pub fn day_of_year(&self, date: NaiveDate) -> String {
        let (day, month) = (date.day().to_string(), self.language().month(date.month()));
        self.say(&says!("day-of-year-form", day = day, month = month))
    }

    /// From one day to another, no more said twice than needed: `22 to 23 March 2026`.
    pub fn days(&self, first: NaiveDate, last: NaiveDate) -> String {
        let year = last.year().to_string();
        let said = match (first.year() == last.year(), first.month() == last.month()) {
            _ if first == last => return self.day(first),
            (true, true) => {
                let (from, to) = (first.day().to_string(), last.day().to_string());
                let month = self.language().month(last.month());
                says!("days-of-month", first = from, last = to, month = month, year = year)
            }
            (true, false) => {
                let [first, last] = [first, last].map(|date| self.day_of_year(date));
                says!("days-of-year", first = first, last = last, year = year)
            }
            (false, _) => says!("days-apart", first = self.day(first), last = self.day(last)),
        };
        self.say(&said)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn days_say_no_more_twice_than_needed() {
        let words = Words::with_currency("GBP");
        let date = |text: &str| text.parse::<NaiveDate>().unwrap();
        let days = |first: &str, last: &str| words.days(date(first), date(last));
        assert_eq!(days("2026-03-22", "2026-03-22"), "22 March 2026");
        assert_eq!(days("2026-03-22", "2026-03-23"), "22 to 23 March 2026");
        assert_eq!(days("2026-03-28", "2026-04-02"), "28 March to 2 April 2026");
        assert_eq!(days("2025-12-28", "2026-12-28"), "28 December 2025 to 28 December 2026");
        assert_eq!(words.day_of_year(date("2026-03-22")), "22 March");
    }
}
