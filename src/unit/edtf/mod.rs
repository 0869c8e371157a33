//! Dates of making, as EDTF: `1926`, `192X`, `1920~`, `1920/1935~`, `../1935`.
//!
//! Source: Library of Congress, *Extended Date/Time Format (EDTF) Specification*, 4 February 2019, levels 0 and 1
//! (ISO 8601-2:2019 as a profile). Beyond level 1, unspecified digits are also read at the ends of an interval.
//! Narrower than it: an interval needs a date at one end at least, and may not end before it starts.

mod guess;

use std::{fmt, ops::Range};

use chrono::{Datelike, NaiveDate};

use crate::unit::calendar::MONTHS;

/// The seasons' names, spring first.
const SEASONS: [&str; 4] = ["spring", "summer", "autumn", "winter"];

/// How many letters a clock has: `23:20:30`.
const CLOCK: usize = 8;

/// A date of levels 0 and 1, which may be approximate, uncertain or an interval. Prints as it was written.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Edtf {
    text: String,
    start: End,
    /// None when it is no interval.
    end: Option<End>,
}

/// One end of a span of time, in years.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Bound {
    /// A year, itself included. Year 0 is 1 BC, as ISO 8601-1:2019 counts.
    Year(i32),
    /// `..`: no end is given, because there is none or for another reason.
    Open,
    /// There is an end, and it is not known.
    Unknown,
}

/// The years that a date can mean, both included, before any allowance for `~` and `?`.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct YearSpan {
    /// The first year it can be.
    pub earliest: Bound,
    /// The last year it can be; never before `earliest` when both are years.
    pub latest: Bound,
}

/// Why a text is no date that we read.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("{kind}")]
pub struct EdtfFault {
    /// The bytes of the text that are at fault.
    pub at: Range<usize>,
    /// What is wrong with them.
    pub kind: FaultKind,
    /// What was probably meant, in EDTF; every entry can be read.
    pub instead: Vec<String>,
}

/// What is wrong with a date.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[allow(missing_docs, reason = "each variant says what it means in its message")]
pub enum FaultKind {
    #[error("no date is written here")]
    Empty,
    #[error("`{0}` is not an EDTF date")]
    NotADate(String),
    #[error("there is no year `{0}`")]
    NoYear(String),
    #[error("the letter Y is only for years of more than four digits, up to 2147483647")]
    LetterYear,
    #[error("there is no month {0:02}")]
    NoMonth(u32),
    #[error("{month} {year} has no day {day:02}")]
    NoDay { year: i32, month: &'static str, day: u32 },
    #[error("`{0}` is not a time of day, such as `23:20:30` or `23:20:30Z`")]
    NoTime(String),
    #[error("an interval runs between dates, without times of day")]
    TimeInInterval,
    #[error("this interval has neither a start nor an end")]
    NoEnds,
    #[error("the interval ends before it starts")]
    EndBeforeStart,
    #[error("{0} is EDTF level 2, which is not read")]
    Level2(&'static str),
}

/// One end of a span of time, as it was written.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum End {
    /// A date.
    Date(Date),
    /// `..`: none is given.
    Open,
    /// There is one, and it is not known.
    Unknown,
}

/// A year, or a season, month or day of it, as it was written.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Date {
    /// The same year twice unless digits are unspecified.
    pub years: (i32, i32),
    /// What follows the year.
    pub within: Within,
    /// Whether it is marked with `~`.
    pub approximate: bool,
    /// Whether it is marked with `?`.
    pub uncertain: bool,
}

/// What follows the year; `None` stands for `XX`.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Within {
    /// Nothing.
    Year,
    /// A season, from spring as 0. Its months are left open, as they depend on the hemisphere.
    Season(usize),
    /// A month, from January as 1.
    Month(Option<u32>),
    /// A month and a day of it.
    Day(Option<(u32, Option<u32>)>),
}

impl Edtf {
    /// Reads one EDTF date, date and time, or interval.
    ///
    /// # Errors
    ///
    /// When the text is something else, is level 2, names a day that no calendar has, or ends before it starts.
    pub fn parse(text: &str) -> Result<Edtf, EdtfFault> {
        match read(text) {
            Ok((start, end)) => Ok(Edtf { text: text.to_owned(), start, end }),
            Err(fault) => Err(EdtfFault { instead: guess::readings(text), ..fault }),
        }
    }

    /// The years it can mean. A season counts as within its year.
    pub fn years(&self) -> YearSpan {
        let bound = |end: &End, year: fn(&Date) -> i32| match end {
            End::Date(date) => Bound::Year(year(date)),
            End::Open => Bound::Open,
            End::Unknown => Bound::Unknown,
        };
        YearSpan { earliest: bound(&self.start, |d| d.years.0), latest: bound(self.end(), |d| d.years.1) }
    }

    /// The years it can mean, with so many years added at each end that is marked `~` or `%`.
    ///
    /// EDTF does not say how far "about" reaches, so that the allowance is the caller's own choice.
    pub fn years_allowing(&self, allowance: u16) -> YearSpan {
        let marked = |end: &End| end.date().is_some_and(|date| date.approximate);
        let more = |end: &End| if marked(end) { i32::from(allowance) } else { 0 };
        let YearSpan { earliest, latest } = self.years();
        YearSpan { earliest: earliest.moved(-more(&self.start)), latest: latest.moved(more(self.end())) }
    }

    /// The first day it can be; none when the start is open, unknown, or beyond the years that chrono counts.
    pub fn earliest_date(&self) -> Option<NaiveDate> {
        let (year, month, day) = self.start.date()?.first();
        NaiveDate::from_ymd_opt(year, month, day)
    }

    /// The last day it can be; none when the end is open, unknown, or beyond the years that chrono counts.
    pub fn latest_date(&self) -> Option<NaiveDate> {
        let (year, month, day) = self.end().date()?.last();
        NaiveDate::from_ymd_opt(year, month, day)
    }

    /// Whether any part is marked `~` or `%`.
    pub fn is_approximate(&self) -> bool {
        self.dates().any(|date| date.approximate)
    }

    /// Whether any part is marked `?` or `%`.
    pub fn is_uncertain(&self) -> bool {
        self.dates().any(|date| date.uncertain)
    }

    /// Its start.
    pub fn start(&self) -> &End {
        &self.start
    }

    /// Its end, where it is a span.
    pub fn span_end(&self) -> Option<&End> {
        self.end.as_ref()
    }

    /// The time of day and its shift from UTC, where one is said: `23:20:30` and `-04`, `Z` or nothing.
    pub fn time(&self) -> Option<(&str, &str)> {
        split_time(&self.text).map(|(_, time)| time.split_at(CLOCK))
    }

    fn dates(&self) -> impl Iterator<Item = &Date> {
        [self.start.date(), self.end().date()].into_iter().flatten()
    }

    fn end(&self) -> &End {
        self.end.as_ref().unwrap_or(&self.start)
    }
}

impl Bound {
    /// So many years later; an end without a year stays what it is.
    fn moved(self, years: i32) -> Bound {
        match self {
            Bound::Year(year) => Bound::Year(year.saturating_add(years)),
            other => other,
        }
    }
}

impl fmt::Display for Edtf {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.text)
    }
}

impl EdtfFault {
    fn new(at: Range<usize>, kind: FaultKind) -> EdtfFault {
        EdtfFault { at, kind, instead: Vec::new() }
    }

    /// What to write instead: lower case, no full stop.
    pub fn help(&self) -> String {
        if !self.instead.is_empty() {
            return format!("write `{}`", self.instead.join("` or `"));
        }
        let advice = match self.kind {
            FaultKind::NoDay { .. } => "leave the day out if it is not known, as in `1926-03`",
            FaultKind::Level2(_) => "give the first and the last year it can be, as in `1920/1935`",
            _ => "write a year `1926`, about a year `1926~`, a decade `192X` or a range `1920/1935`",
        };
        advice.to_owned()
    }
}

impl End {
    fn date(&self) -> Option<&Date> {
        if let End::Date(date) = self { Some(date) } else { None }
    }
}

impl Date {
    /// Year, month and day.
    fn first(&self) -> (i32, u32, u32) {
        match self.within {
            Within::Month(Some(month)) | Within::Day(Some((month, None))) => (self.years.0, month, 1),
            Within::Day(Some((month, Some(day)))) => (self.years.0, month, day),
            _ => (self.years.0, 1, 1),
        }
    }

    fn last(&self) -> (i32, u32, u32) {
        let year = self.years.1;
        match self.within {
            Within::Month(Some(month)) | Within::Day(Some((month, None))) => {
                (year, month, days_in(year, month))
            }
            Within::Day(Some((month, Some(day)))) => (year, month, day),
            _ => (year, 12, 31),
        }
    }
}

/// Years beyond chrono's carry no month, so only their December is asked for.
fn days_in(year: i32, month: u32) -> u32 {
    NaiveDate::from_ymd_opt(year, month, 1).map_or(31, |day| day.num_days_in_month().into())
}

fn read(text: &str) -> Result<(End, Option<End>), EdtfFault> {
    let fault = |kind| Err(EdtfFault::new(0..text.len(), kind));
    if text.trim().is_empty() {
        return fault(FaultKind::Empty);
    }
    if text.contains(['[', ']', '{', '}']) {
        return fault(FaultKind::Level2("a set of dates"));
    }
    let Some((start, end)) = text.split_once('/') else {
        let date = split_time(text).map_or_else(|| date(text, 0), |(day, time)| moment(day, time))?;
        return Ok((End::Date(date), None));
    };
    if end.contains('/') {
        return fault(FaultKind::NotADate(text.to_owned()));
    }
    let (start, end) = (interval_end(start, 0)?, interval_end(end, start.len() + 1)?);
    match (start.date(), end.date()) {
        (None, None) => fault(FaultKind::NoEnds),
        (Some(a), Some(b)) if b.last() < a.first() => fault(FaultKind::EndBeforeStart),
        _ => Ok((start, Some(end))),
    }
}

fn interval_end(text: &str, at: usize) -> Result<End, EdtfFault> {
    match text {
        "" => Ok(End::Unknown),
        ".." => Ok(End::Open),
        _ if split_time(text).is_some() => {
            Err(EdtfFault::new(at..at + text.len(), FaultKind::TimeInInterval))
        }
        _ => date(text, at).map(End::Date),
    }
}

fn split_time(text: &str) -> Option<(&str, &str)> {
    text.split_once('T').filter(|(day, _)| day.starts_with(|c: char| c == '-' || c.is_ascii_digit()))
}

fn moment(day: &str, time: &str) -> Result<Date, EdtfFault> {
    let date = date(day, 0)?;
    if !matches!(date.within, Within::Day(Some((_, Some(_))))) || date.approximate || date.uncertain {
        return Err(EdtfFault::new(0..day.len(), FaultKind::NotADate(format!("{day}T{time}"))));
    }
    if !is_time(time) {
        let from = day.len() + 1;
        return Err(EdtfFault::new(from..from + time.len(), FaultKind::NoTime(time.to_owned())));
    }
    Ok(date)
}

/// `hh:mm:ss`, then nothing, `Z`, `±hh` or `±hh:mm`. A leap second is second 60.
fn is_time(time: &str) -> bool {
    let below = |text: &str, limit: u32| number(text, 2).is_some_and(|n| n < limit);
    let (Some(clock), Some(shift)) = (time.get(..8), time.get(8..)) else {
        return false;
    };
    let clock: Vec<&str> = clock.split(':').collect();
    let clock = matches!(clock[..], [h, m, s] if below(h, 24) && below(m, 60) && below(s, 61));
    let shift = match shift.strip_prefix(['+', '-']) {
        Some(shift) => shift.split_once(':').map_or(below(shift, 24), |(h, m)| below(h, 24) && below(m, 60)),
        None => shift.is_empty() || shift == "Z",
    };
    clock && shift
}

/// A number of exactly so many digits.
fn number(text: &str, digits: usize) -> Option<u32> {
    (text.len() == digits && text.bytes().all(|b| b.is_ascii_digit())).then(|| text.parse().ok())?
}

/// Reads one date, with the mark that may end it; `at` is where it stands in the whole text.
fn date(text: &str, at: usize) -> Result<Date, EdtfFault> {
    const MARKS: [char; 3] = ['?', '~', '%'];
    let fault = |kind| Err(EdtfFault::new(at..at + text.len(), kind));
    let body = text.strip_suffix(MARKS).unwrap_or(text);
    let (approximate, uncertain) = (text.ends_with(['~', '%']), text.ends_with(['?', '%']));
    let bare = body.replace(MARKS, "");
    if bare.len() < body.len() && !body.ends_with(MARKS) && calendar(&bare).is_ok() {
        return fault(FaultKind::Level2("a mark on one part of a date"));
    }
    match calendar(body) {
        Ok((years, within)) => Ok(Date { years, within, approximate, uncertain }),
        Err(FaultKind::NotADate(_)) => fault(FaultKind::NotADate(text.to_owned())),
        Err(kind) => fault(kind),
    }
}

fn calendar(text: &str) -> Result<((i32, i32), Within), FaultKind> {
    let not_a_date = || FaultKind::NotADate(text.to_owned());
    if is_short_form(text) {
        return Err(FaultKind::Level2("a year in powers of ten or significant digits"));
    }
    if let Some(year) = text.strip_prefix('Y') {
        let digits = year.strip_prefix('-').unwrap_or(year);
        if digits.is_empty() || !digits.bytes().all(|b| b.is_ascii_digit()) {
            return Err(not_a_date());
        }
        let long = digits.len() > 4 && !digits.starts_with('0');
        let year = year.parse().ok().filter(|_| long).ok_or(FaultKind::LetterYear)?;
        return Ok(((year, year), Within::Year));
    }
    let positive = text.strip_prefix('-').unwrap_or(text);
    let parts: Vec<&str> = positive.split('-').collect();
    let is_part =
        |part: &str, len| part.len() == len && part.bytes().all(|b| b.is_ascii_digit() || b == b'X');
    let (year, rest) = parts.split_first().ok_or_else(not_a_date)?;
    if !is_part(year, 4) || rest.len() > 2 || !rest.iter().all(|part| is_part(part, 2)) {
        return Err(not_a_date());
    }

    let elsewhere = FaultKind::Level2("a digit left out at this place");
    let known = year.trim_end_matches('X');
    let hidden = 4 - known.len();
    if known.contains('X') || hidden > 2 || hidden > 0 && !rest.is_empty() {
        return Err(elsewhere);
    }
    let step = 10_i32.pow(hidden as u32);
    let first = known.parse::<i32>().map_err(|_| not_a_date())? * step;
    let last = first + step - 1;
    // There is no year -0000, so `-000X` stops at -1.
    let years = if positive == text { (first, last) } else { (-last, (-first).min(-1)) };
    if years.0 > years.1 {
        return Err(FaultKind::NoYear(format!("-{year}")));
    }

    let within = match *rest {
        [] => Within::Year,
        ["XX"] => Within::Month(None),
        ["XX", "XX"] => Within::Day(None),
        [month, ..] if month.contains('X') => return Err(elsewhere),
        [_, day] if day != "XX" && day.contains('X') => return Err(elsewhere),
        [month, ref day @ ..] => match (number(month, 2).ok_or_else(not_a_date)?, day) {
            (month @ 1..=12, []) => Within::Month(Some(month)),
            (month @ 1..=12, [day, ..]) => Within::Day(Some((month, day_of(years.0, month, day)?))),
            (season @ 21..=24, []) => Within::Season(season as usize - 21),
            (25..=41, []) => return Err(FaultKind::Level2("a part of a year numbered 25 to 41")),
            (month, _) => return Err(FaultKind::NoMonth(month)),
        },
    };
    Ok((years, within))
}

/// The day, or `None` for `XX`.
fn day_of(year: i32, month: u32, day: &str) -> Result<Option<u32>, FaultKind> {
    match number(day, 2) {
        Some(day) if day == 0 || day > days_in(year, month) => {
            Err(FaultKind::NoDay { year, month: MONTHS[month as usize - 1], day })
        }
        day => Ok(day),
    }
}

/// `Y-17E7`, `1950S2`, `Y3388E2S3`.
fn is_short_form(text: &str) -> bool {
    let year = text.strip_prefix('Y').unwrap_or(text);
    let year = year.strip_prefix('-').unwrap_or(year);
    let mut parts = year.split(['E', 'S']);
    year.contains(['E', 'S'])
        && parts.all(|part| !part.is_empty() && part.bytes().all(|b| b.is_ascii_digit()))
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[derive(serde::Deserialize)]
    struct Specification {
        example: Vec<Example>,
        level_2: Vec<String>,
    }

    #[derive(serde::Deserialize)]
    struct Example {
        text: String,
        earliest: String,
        latest: String,
        first: Option<String>,
        last: Option<String>,
        #[serde(default)]
        approximate: bool,
        #[serde(default)]
        uncertain: bool,
    }

    fn specification() -> Specification {
        toml::from_str(include_str!("../../../tests/data/edtf.toml")).unwrap()
    }

    /// The rows `left = right` of a table.
    fn rows(table: &str) -> impl Iterator<Item = (&str, &str)> {
        table.lines().filter_map(|line| line.trim().split_once(" = "))
    }

    fn bound(bound: Bound) -> String {
        match bound {
            Bound::Year(year) => year.to_string(),
            Bound::Open => "open".to_owned(),
            Bound::Unknown => "unknown".to_owned(),
        }
    }

    #[test]
    fn every_example_of_levels_0_and_1_is_read() {
        let examples = specification().example;
        assert_eq!(examples.len(), 37);
        for example in examples {
            let date = Edtf::parse(&example.text).unwrap_or_else(|fault| panic!("{}: {fault}", example.text));
            let YearSpan { earliest, latest } = date.years();
            let years = [bound(earliest), bound(latest)];
            assert_eq!(years, [example.earliest, example.latest], "{date}");
            let days = [date.earliest_date(), date.latest_date()];
            let days = days.map(|day| day.map(|day| day.to_string()));
            assert_eq!(days, [example.first, example.last], "{date}");
            let marks = [date.is_approximate(), date.is_uncertain()];
            assert_eq!(marks, [example.approximate, example.uncertain], "{date}");
        }
    }

    #[test]
    fn every_example_of_level_2_is_named_as_such() {
        for text in specification().level_2 {
            let fault = Edtf::parse(&text).unwrap_err();
            assert!(matches!(fault.kind, FaultKind::Level2(_)), "{text}");
        }
    }

    #[test]
    fn a_guess_at_what_was_meant() {
        let table = "
            circa 1920 = write `1920~`
            c. 1900 = write `1900~`
            1920s = write `192X`
            the 1900s = write `190X` or `19XX`
            1920-1935 = write `1920/1935`
            1920–c.1935 = write `1920/1935~`
            1920-35 = write `1920/1935`
            between 1920 and 1935 = write `1920/1935`
            1935/1920 = write `1920/1935`
            19th century = write `18XX`
            1920?~ = write `1920%`
            perhaps circa 1920 = write `1920%`
            1920 / 1935 = write `1920/1935`
            before 1935 = write `../1935`
            12.3.1926 = write `1926-03-12` or `1926-12-03`
            25/03/1926 = write `1926-03-25`
            12th March, 1926 = write `1926-03-12`
            Spring 1926 = write `1926-21`
            1926-3 = write `1926-03`
            old = write a year `1926`, about a year `1926~`, a decade `192X` or a range `1920/1935`
            1900-02-29 = leave the day out if it is not known, as in `1926-03`
            2004?-06-11 = give the first and the last year it can be, as in `1920/1935`";
        for (text, help) in rows(table) {
            assert_eq!(Edtf::parse(text).unwrap_err().help(), help, "{text}");
        }
    }

    #[test]
    fn a_fault_says_where_and_what() {
        let table = "
            old = 0..3 `old` is not an EDTF date
            1920/circa 1935 = 5..15 `circa 1935` is not an EDTF date
            1920-13 = 0..7 there is no month 13
            1900-02-29~ = 0..11 February 1900 has no day 29
            1935/1920 = 0..9 the interval ends before it starts
            ../ = 0..3 this interval has neither a start nor an end
            -0000 = 0..5 there is no year `-0000`
            Y1985 = 0..5 the letter Y is only for years of more than four digits, up to 2147483647
            1926/1927-03-12T10:00:00 = 5..24 an interval runs between dates, without times of day
            1926-03-12T24:00 = 11..16 `24:00` is not a time of day, such as `23:20:30` or `23:20:30Z`
            1920/[1921,1922] = 0..16 a set of dates is EDTF level 2, which is not read";
        for (text, expected) in rows(table) {
            let fault = Edtf::parse(text).unwrap_err();
            assert_eq!(format!("{:?} {fault}", fault.at), expected, "{text}");
        }
        assert_eq!(Edtf::parse(" ").unwrap_err().kind, FaultKind::Empty);
    }

    #[test]
    fn near_misses_are_refused() {
        let refused = "85 985 12000 Y01985 Y3000000000 1985-4-1 1985-04-00 1985-04-31 1985-00 1985-20
            1985-21-01 19850412 1985- 1985-04-12T 1985-04T10:00:00 1985-04-12~T10:00:00
            1985-04-12T10:00 1985-04-12T10:00:00.5 1985-04-12T10:00:00+4 1985-04-12T10:00:00Z~
            1985~~ ~1985 1985-04-12/1985-04-11 1984/1985/1986 1985/... / ../.. ١٩٨٥ 2XXX 19X5
            198X-04 1985-XX-12 19xx +1985 2001-25 2001-42";
        for text in refused.split_whitespace().chain([" 1985", "1985\n"]) {
            assert!(Edtf::parse(text).is_err(), "{text}");
        }
        let read = "1984-02-29 -0004-02-29 1985-04-12T23:59:60Z 1985/1985 1985-06/1985 192X/1925~ 1985-04-12/1985-04-12";
        for text in read.split_whitespace() {
            assert!(Edtf::parse(text).is_ok(), "{text}");
        }
    }

    /// Prints back what it read, in order; a fault points into the text and proposes only what reads.
    fn holds(text: &str) {
        match Edtf::parse(text) {
            Ok(date) => {
                assert_eq!(date.to_string(), text);
                let YearSpan { earliest, latest } = date.years();
                if let (Bound::Year(earliest), Bound::Year(latest)) = (earliest, latest) {
                    assert!(earliest <= latest, "{text}");
                }
                if let (Some(first), Some(last)) = (date.earliest_date(), date.latest_date()) {
                    assert!(first <= last, "{text}");
                }
            }
            Err(fault) => {
                assert!(text.get(fault.at.clone()).is_some(), "{text}");
                let reads = |text: &String| Edtf::parse(text).is_ok();
                assert!(fault.instead.iter().all(reads), "{text}");
                assert!(!fault.help().is_empty());
            }
        }
    }

    proptest! {
        #[test]
        fn any_text_is_read_or_refused(text in any::<String>()) {
            holds(&text);
        }

        #[test]
        fn text_like_dates_is_read_or_refused(
            text in "(circa |c|~)?(Y?-?[0-2X][0-9X]{3}(-[012X][0-9X](-[0123X][0-9X])?)?[?~%s]?|\\.\\.)?([/–T-](\\.\\.|[0-9X:-]{0,10}[?~%Zé]?))?"
        ) {
            holds(&text);
        }

        #[test]
        fn any_day_reads_as_itself(year in -9999..=9999_i32, ordinal in 1..=366_u32) {
            prop_assume!(year != 0);
            if let Some(day) = NaiveDate::from_yo_opt(year, ordinal) {
                let date = Edtf::parse(&day.to_string()).unwrap();
                prop_assert_eq!((date.earliest_date(), date.latest_date()), (Some(day), Some(day)));
            }
        }
    }
}
