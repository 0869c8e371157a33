//! The names of months and of days of the week.

use chrono::Weekday;

/// The months' names, January first.
pub const MONTHS: [&str; 12] = [
    "January",
    "February",
    "March",
    "April",
    "May",
    "June",
    "July",
    "August",
    "September",
    "October",
    "November",
    "December",
];

/// The days' names.
const WEEKDAYS: [(&str, Weekday); 7] = [
    ("monday", Weekday::Mon),
    ("tuesday", Weekday::Tue),
    ("wednesday", Weekday::Wed),
    ("thursday", Weekday::Thu),
    ("friday", Weekday::Fri),
    ("saturday", Weekday::Sat),
    ("sunday", Weekday::Sun),
];

/// Ways to shorten a day's name that are no beginnings of it.
const SHORT_DAYS: [&str; 4] = ["tues", "weds", "thur", "thurs"];

/// The number of a month by its name in small letters, of which the first three are enough.
pub fn month(word: &str) -> Option<u32> {
    let named = |name: &&str| {
        let name = name.to_lowercase();
        word.len() >= 3 && name.starts_with(word) || word == "sept" && name == "september"
    };
    MONTHS.iter().position(named).and_then(|at| u32::try_from(at + 1).ok())
}

/// A day of the week by its name in small letters, of which the first three are enough.
pub fn weekday(word: &str) -> Option<Weekday> {
    let named = |name: &str| word.len() >= 3 && name.starts_with(word);
    let found =
        WEEKDAYS.iter().find(|(name, _)| named(name) || SHORT_DAYS.contains(&word) && word[..3] == name[..3]);
    found.map(|(_, day)| *day)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn three_letters_are_enough() {
        for (word, number) in [("january", 1), ("sep", 9), ("sept", 9), ("dec", 12)] {
            assert_eq!(month(word), Some(number), "{word}");
        }
        for (word, day) in [("mon", Weekday::Mon), ("weds", Weekday::Wed), ("thurs", Weekday::Thu)] {
            assert_eq!(weekday(word), Some(day), "{word}");
        }
        for word in ["", "ma", "marching", "decem ber", "x"] {
            assert_eq!(month(word), None, "{word}");
            assert_eq!(weekday(word), None, "{word}");
        }
    }
}
