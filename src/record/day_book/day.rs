//! The day that a jotted line begins with, as people write it.

use chrono::{Datelike, Days, NaiveDate, Weekday};
use rust_decimal::prelude::ToPrimitive;

use super::token::{Token, apart};
use crate::unit::calendar::{month, weekday};

/// What stands at the beginning of a line.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Beginning {
    /// A day, and how many bytes of the line say it.
    Day(Written, usize),
    /// What looks like a day, and is none of the calendar.
    Impossible(usize),
    /// No day.
    None,
}

/// A day as it was written.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Written {
    /// With its year; whether day and month may be taken for each other.
    Whole(NaiveDate, bool),
    /// Without a year: day and month, and whether they may be taken for each other.
    DayAndMonth(u32, u32, bool),
    /// A day of the week.
    Weekday(Weekday),
}

/// Words after `1/2` that make a measure of it.
const MEASURED: &[&str] = &[
    "hr", "hrs", "hour", "hours", "h", "tin", "inch", "in", "mm", "cm", "litre", "litres", "l", "day",
    "days", "coat", "of", "way", "done", "pint", "kg", "lb", "\"", "sheet", "bottle", "can", "jar", "board",
    "cup", "size", "turn",
];

/// The day that a line begins with.
pub(super) fn beginning(line: &str, month_first: bool) -> Beginning {
    // Only the beginning is looked at, so that a long line costs no more than a short one.
    let mut end = line.len().min(80);
    while !line.is_char_boundary(end) {
        end -= 1;
    }
    let all = points_apart(apart(&line[..end]));
    let weekday = all.first().and_then(|first| weekday(&first.word));
    let mut rest = &all[..];
    if weekday.is_some() {
        rest = &rest[1..];
        while let [first, more @ ..] = rest
            && first.is_any(&[",", ".", "the"])
        {
            rest = more;
        }
    }
    match day(rest, month_first) {
        (Beginning::None, _) => {}
        (found, used) => {
            let end = rest[used - 1].span.end;
            return match found {
                Beginning::Day(written, _) => Beginning::Day(written, end),
                _ => Beginning::Impossible(end),
            };
        }
    }
    // A weekday by itself stands alone or before a sign: `sat` may have been sat on.
    match (weekday, all.get(1)) {
        (Some(day), None) if line.len() == end => Beginning::Day(Written::Weekday(day), all[0].span.end),
        (Some(day), Some(sign)) if sign.is_any(&[":", "-", "–", "—"]) => {
            Beginning::Day(Written::Weekday(day), all[0].span.end)
        }
        _ => Beginning::None,
    }
}

/// The same tokens with the two numbers of `11.3.` apart.
fn points_apart(mut tokens: Vec<Token>) -> Vec<Token> {
    let at = usize::from(tokens.first().is_some_and(|first| weekday(&first.word).is_some()));
    let point = tokens.get(at + 1).is_some_and(|point| point.is(".") && point.glued);
    let parts = tokens.get(at).filter(|_| point).and_then(|token| token.word.split_once('.'));
    let Some((one, two)) = parts.map(|(one, two)| (one.to_owned(), two.to_owned())) else { return tokens };
    let start = tokens[at].span.start;
    let middle = start + one.len();
    let token = |word: &str, start: usize, glued: bool| Token {
        word: word.to_owned(),
        number: word.parse().ok(),
        span: start..start + word.len(),
        glued,
    };
    let parted =
        [token(&one, start, tokens[at].glued), token(".", middle, true), token(&two, middle + 1, true)];
    tokens.splice(at..=at, parted);
    tokens
}

/// The day that these tokens begin with, and how many of them say it.
fn day(tokens: &[Token], month_first: bool) -> (Beginning, usize) {
    let number = |at: usize| -> Option<u32> {
        let token: &Token = tokens.get(at)?;
        let digits = token.word.bytes().all(|byte| byte.is_ascii_digit());
        if digits && token.word.len() <= 4 { token.number?.to_u32() } else { None }
    };
    let sign = |at: usize, glued: bool| -> Option<&str> {
        tokens.get(at).filter(|token| token.glued || !glued).map(|token| token.word.as_str())
    };
    let whole = |year: u32, month: u32, day: u32, doubtful: bool, used: usize| match made(year, month, day) {
        Some(date) => (Beginning::Day(Written::Whole(date, doubtful), 0), used),
        None => (Beginning::Impossible(0), used),
    };
    // 2026-03-11, 2026/3/11, 2026.3.11
    if let (Some(year @ 1000..), Some("-" | "/" | "."), Some(month), Some(second), Some(day)) =
        (number(0), sign(1, true), number(2), sign(3, true), number(4))
        && sign(1, true) == Some(second)
    {
        return whole(year, month, day, false, 5);
    }
    // 11 March, 11th Mar 2026, 11-Mar-26
    let first = number(0);
    let ordinal = usize::from(sign(1, true).is_some_and(|end| ["st", "nd", "rd", "th"].contains(&end)));
    if let Some(day @ 1..=39) = first {
        let of = |at: usize| usize::from(tokens.get(at).is_some_and(|token| token.is_any(&["of", "-", "."])));
        let at = 1 + ordinal + of(1 + ordinal);
        if let Some(month) = tokens.get(at).and_then(|token| month(&token.word)) {
            let (year, used) = year_after(tokens, at + 1);
            return dated(day, month, year, used);
        }
    }
    // March 11, Mar 11th 2026
    if let (Some(month), Some(day @ 1..=39)) =
        (tokens.first().and_then(|token| month(&token.word)), number(1))
    {
        let ends = |at: usize| {
            usize::from(sign(at, true).is_some_and(|end| ["st", "nd", "rd", "th"].contains(&end)))
        };
        let (year, used) = year_after(tokens, 2 + ends(2));
        return dated(day, month, year, used);
    }
    // 11/3, 11/3/26, 11.3.26
    let (Some(one @ 1..=99), Some(parts @ ("/" | "." | "-")), Some(two @ 1..=99)) =
        (first, sign(1, true), number(2))
    else {
        return (Beginning::None, 0);
    };
    let parted = sign(3, true) == Some(parts);
    let year = number(4).filter(|year| parted && (*year < 100 || *year > 999) && tokens[4].glued);
    let is_fraction = one < two && [2, 4, 8, 16].contains(&two);
    let used = match (year, parts) {
        (Some(_), _) => 5,
        // `11.3.` has a day's points; `3.30` and `10-12` are times.
        (None, ".") if parted => 4,
        (None, "/") if !(is_fraction && tokens.get(3).is_some_and(|next| next.is_any(MEASURED))) => 3,
        _ => return (Beginning::None, 0),
    };
    let year = year.map(|year| if year < 100 { 2000 + year } else { year });
    let order = |day: u32, month: u32| made(year.unwrap_or(2024), month, day).is_some();
    let ((day, month), other) = match month_first {
        true => ((two, one), (one, two)),
        false => ((one, two), (two, one)),
    };
    let both = order(day, month) && order(other.0, other.1) && day != month;
    match (order(day, month), order(other.0, other.1)) {
        (true, _) => match year {
            Some(year) => whole(year, month, day, both, used),
            None => (Beginning::Day(Written::DayAndMonth(day, month, both), 0), used),
        },
        (false, true) => match year {
            Some(year) => whole(year, other.1, other.0, false, used),
            None => (Beginning::Day(Written::DayAndMonth(other.0, other.1, false), 0), used),
        },
        (false, false) if one <= 31 && two <= 31 => (Beginning::Impossible(0), used),
        (false, false) => (Beginning::None, 0),
    }
}

/// A day of a named month, with the year that follows it.
fn dated(day: u32, month: u32, year: Option<u32>, used: usize) -> (Beginning, usize) {
    match (year, made(year.unwrap_or(2024), month, day)) {
        (_, None) => (Beginning::Impossible(0), used),
        (Some(_), Some(date)) => (Beginning::Day(Written::Whole(date, false), 0), used),
        (None, Some(_)) => (Beginning::Day(Written::DayAndMonth(day, month, false), 0), used),
    }
}

/// The year at this place, after a comma or a hyphen, and where what follows begins.
fn year_after(tokens: &[Token], at: usize) -> (Option<u32>, usize) {
    let skip = usize::from(tokens.get(at).is_some_and(|token| token.is_any(&[",", "-", "'", "’", "."])));
    let year = tokens.get(at + skip).filter(|token| token.word.bytes().all(|byte| byte.is_ascii_digit()));
    let year = year.and_then(|token| match token.word.len() {
        4 => token.number?.to_u32().filter(|year| (1900..2200).contains(year)),
        2 if skip == 1 && tokens[at].is_any(&["-", "'", "’"]) => Some(2000 + token.number?.to_u32()?),
        _ => None,
    });
    match year {
        Some(year) => (Some(year), at + skip + 1),
        None => (None, at),
    }
}

fn made(year: u32, month: u32, day: u32) -> Option<NaiveDate> {
    let year = i32::try_from(year).ok().filter(|year| (1900..2200).contains(year))?;
    NaiveDate::from_ymd_opt(year, month, day)
}

/// The first such weekday after a day.
pub(super) fn next_weekday(after: NaiveDate, weekday: Weekday) -> Option<NaiveDate> {
    let days = (weekday.num_days_from_monday() + 7 - after.weekday().num_days_from_monday()) % 7;
    after.checked_add_days(Days::new(u64::from(if days == 0 { 7 } else { days })))
}

/// The day of this day and month that lies nearest to another day.
pub(super) fn nearest(day: u32, month: u32, to: NaiveDate) -> Option<NaiveDate> {
    let years = [to.year() - 1, to.year(), to.year() + 1];
    let days = years.into_iter().filter_map(|year| NaiveDate::from_ymd_opt(year, month, day));
    days.min_by_key(|date| (*date - to).num_days().abs())
}

/// The first day of this day and month from another day on.
pub(super) fn first_from(day: u32, month: u32, from: NaiveDate) -> Option<NaiveDate> {
    let years = from.year()..from.year() + 5;
    years.filter_map(|year| NaiveDate::from_ymd_opt(year, month, day)).find(|date| *date >= from)
}

/// The last day of this day and month up to another day.
pub(super) fn last_until(day: u32, month: u32, until: NaiveDate) -> Option<NaiveDate> {
    let years = (until.year() - 4..=until.year()).rev();
    years.filter_map(|year| NaiveDate::from_ymd_opt(year, month, day)).find(|date| *date <= until)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn read(line: &str, month_first: bool) -> String {
        match beginning(line, month_first) {
            Beginning::Day(Written::Whole(date, doubtful), end) => {
                format!("{date}{}|{}", if doubtful { "?" } else { "" }, &line[end..])
            }
            Beginning::Day(Written::DayAndMonth(day, month, doubtful), end) => {
                format!("{day}.{month}.{}|{}", if doubtful { "?" } else { "" }, &line[end..])
            }
            Beginning::Day(Written::Weekday(day), end) => format!("{day}|{}", &line[end..]),
            Beginning::Impossible(end) => format!("impossible|{}", &line[end..]),
            Beginning::None => String::new(),
        }
    }

    #[test]
    fn days_are_read_as_people_write_them() {
        for (line, wanted) in [
            ("2026-03-11 x", "2026-03-11| x"),
            ("2026/3/11", "2026-03-11|"),
            ("11/3 x", "11.3.?| x"),
            ("22/9 runners", "22.9.| runners"),
            ("9/22 runners", "22.9.| runners"),
            ("11/3/26: x", "2026-03-11?|: x"),
            ("11.3.26 x", "2026-03-11?| x"),
            ("11.3. x", "11.3.?| x"),
            ("11 March x", "11.3.| x"),
            ("11th March 2026", "2026-03-11|"),
            ("11-Mar-26 x", "2026-03-11| x"),
            ("11 Mar, x", "11.3.|, x"),
            ("Mar 11 x", "11.3.| x"),
            ("March 11th, 2026 x", "2026-03-11| x"),
            ("Wed 11 March x", "11.3.| x"),
            ("Wednesday, 11 March 2026", "2026-03-11|"),
            ("Sat 1st of August x", "1.8.| x"),
            ("weds: x", "Wed|: x"),
            ("Thursday", "Thu|"),
            ("31/2 x", "impossible| x"),
            ("2026-02-30", "impossible|"),
            ("30 February x", "impossible| x"),
        ] {
            assert_eq!(read(line, false), wanted, "{line}");
        }
        assert_eq!(read("9/4 x", true), "4.9.?| x");
        assert_eq!(read("9/22/26 x", true), "2026-09-22| x");
    }

    #[test]
    fn what_only_looks_like_a_day_is_none() {
        for line in [
            "10-12 regluing",
            "1/2 hr",
            "3/4 done",
            "50/50 turps",
            "0000 wire wool",
            "6x20 lipping",
            "1700-1830",
            "3.30",
            "sat on it",
            "may do a coat",
            "45 min",
            "2 coats",
            "march on",
            "",
            "1/2 tin",
        ] {
            assert_eq!(read(line, false), "", "{line}");
        }
    }

    #[test]
    fn years_follow_from_what_is_near() {
        let day = |text: &str| -> NaiveDate { text.parse().unwrap() };
        assert_eq!(nearest(30, 12, day("2026-01-03")), Some(day("2025-12-30")));
        assert_eq!(nearest(2, 1, day("2025-12-30")), Some(day("2026-01-02")));
        assert_eq!(first_from(10, 1, day("2025-11-02")), Some(day("2026-01-10")));
        assert_eq!(first_from(29, 2, day("2025-11-02")), Some(day("2028-02-29")));
        assert_eq!(next_weekday(day("2026-03-11"), Weekday::Wed), Some(day("2026-03-18")));
    }
}
