//! Dates of making, as EDTF: `1926`, `192X`, `1920~`, `1920/1935~`, `../1935`.
//!
//! Source: Library of Congress, *Extended Date/Time Format (EDTF) Specification*, 4 February 2019, levels 0 and 1
//! (ISO 8601-2:2019 as a profile). Beyond level 1, unspecified digits are also read at the ends of an interval.
//! Narrower than it: an interval needs a date at one end at least, and may not end before it starts.

use std::{fmt, ops::Range};

use chrono::{Datelike, NaiveDate};

const MONTHS: [&str; 12] = [
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
const SEASONS: [&str; 4] = ["spring", "summer", "autumn", "winter"];

/// A date of levels 0 and 1, which may be approximate, uncertain or an interval. Prints as it was written.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Edtf {
    text: String,
    shape: Shape,
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

#[derive(Debug, Clone, PartialEq, Eq)]
enum Shape {
    Date(Date),
    Moment { date: Date, time: String },
    Interval(End, End),
}

#[derive(Debug, Clone, PartialEq, Eq)]
enum End {
    Date(Date),
    Open,
    Unknown,
}

#[derive(Debug, Clone, PartialEq, Eq)]
struct Date {
    /// The same year twice unless digits are unspecified.
    years: (i32, i32),
    within: Within,
    approximate: bool,
    uncertain: bool,
}

/// What follows the year; `None` stands for `XX`.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Within {
    Year,
    /// A place in [`SEASONS`]. Its months are left open, as they depend on the hemisphere.
    Season(usize),
    Month(Option<u32>),
    Day(Option<(u32, Option<u32>)>),
}

impl Edtf {
    /// Reads one EDTF date, date and time, or interval.
    ///
    /// # Errors
    ///
    /// When the text is something else, is level 2, names a day that no calendar has, or ends before it starts.
    pub fn parse(text: &str) -> Result<Edtf, EdtfFault> {
        match shape(text) {
            Ok(shape) => Ok(Edtf { text: text.to_owned(), shape }),
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
        let (start, end) = self.ends();
        YearSpan { earliest: bound(&start, |d| d.years.0), latest: bound(&end, |d| d.years.1) }
    }

    /// The first day it can be; none when the start is open, unknown, or beyond the years that chrono counts.
    pub fn earliest_date(&self) -> Option<NaiveDate> {
        let (year, month, day) = self.ends().0.date()?.first();
        NaiveDate::from_ymd_opt(year, month, day)
    }

    /// The last day it can be; none when the end is open, unknown, or beyond the years that chrono counts.
    pub fn latest_date(&self) -> Option<NaiveDate> {
        let (year, month, day) = self.ends().1.date()?.last();
        NaiveDate::from_ymd_opt(year, month, day)
    }

    /// Whether any part is marked `~` or `%`.
    pub fn is_approximate(&self) -> bool {
        let (start, end) = self.ends();
        [start, end].iter().any(|end| end.date().is_some_and(|date| date.approximate))
    }

    /// Whether any part is marked `?` or `%`.
    pub fn is_uncertain(&self) -> bool {
        let (start, end) = self.ends();
        [start, end].iter().any(|end| end.date().is_some_and(|date| date.uncertain))
    }

    /// In British English, to follow "made": `about 1920`, `the 1880s`, `1900–1999`, `1920 to about 1935`.
    ///
    /// An open end takes in the year itself, so `../1935` is `1935 or earlier`, not "before 1935".
    pub fn words(&self) -> String {
        match &self.shape {
            Shape::Date(date) => date.words(", ", ""),
            Shape::Moment { date, time } => {
                format!("{} at {}", date.words(", ", ""), time_words(time))
            }
            Shape::Interval(End::Date(a), End::Date(b)) => {
                format!("{} to {}", a.words(" (", ")"), b.words(" (", ")"))
            }
            Shape::Interval(End::Date(a), End::Open) => format!("{} or later", a.words(" (", ")")),
            Shape::Interval(End::Date(a), _) => {
                format!("from {}, end not known", a.words(" (", ")"))
            }
            Shape::Interval(End::Open, End::Date(b)) => {
                format!("{} or earlier", b.words(" (", ")"))
            }
            Shape::Interval(_, End::Date(b)) => {
                format!("until {}, start not known", b.words(" (", ")"))
            }
            Shape::Interval(_, _) => {
                unreachable!("an interval without a date at either end is not read")
            }
        }
    }

    fn ends(&self) -> (End, End) {
        match &self.shape {
            Shape::Date(date) | Shape::Moment { date, .. } => {
                (End::Date(date.clone()), End::Date(date.clone()))
            }
            Shape::Interval(start, end) => (start.clone(), end.clone()),
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
        match self.kind {
            FaultKind::NoDay { .. } => "leave the day out if it is not known, as in `1926-03`".to_owned(),
            FaultKind::Level2(_) => {
                "give the first and the last year it can be, as in `1920/1935`".to_owned()
            }
            _ => {
                "write a year `1926`, about a year `1926~`, a decade `192X` or a range `1920/1935`".to_owned()
            }
        }
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

    /// The date, then what is to be said of it between `open` and `close`.
    fn words(&self, open: &str, close: &str) -> String {
        let years = years_in_words(self.years);
        let month = |month: u32| MONTHS[month as usize - 1];
        let (date, missing) = match self.within {
            Within::Year => (years, ""),
            Within::Season(season) => (format!("{} {years}", SEASONS[season]), ""),
            Within::Month(None) => (years, "month not known"),
            Within::Month(Some(m)) => (format!("{} {years}", month(m)), ""),
            Within::Day(None) => (years, "month and day not known"),
            Within::Day(Some((m, None))) => (format!("{} {years}", month(m)), "day not known"),
            Within::Day(Some((m, Some(day)))) => (format!("{day} {} {years}", month(m)), ""),
        };
        let about = if self.approximate { "about " } else { "" };
        let notes: Vec<&str> = [if self.uncertain { "not certain" } else { "" }, missing]
            .into_iter()
            .filter(|note| !note.is_empty())
            .collect();
        if notes.is_empty() {
            format!("{about}{date}")
        } else {
            format!("{about}{date}{open}{}{close}", notes.join(", "))
        }
    }
}

/// "The 1900s" could be a decade or a century, so only the other decades are named that way.
fn years_in_words((first, last): (i32, i32)) -> String {
    let bare = |year: i32| {
        if year > 0 { year.into() } else { 1 - i64::from(year) }
    };
    match (first, last) {
        _ if first == last && first >= 1000 => first.to_string(),
        _ if first == last && first > 0 => format!("AD {first}"),
        _ if first == last => format!("{} BC", bare(first)),
        _ if first >= 1000 && last - first == 9 && first % 100 != 0 => format!("the {first}s"),
        _ if first >= 1000 => format!("{first}–{last}"),
        _ if first > 0 => format!("AD {first}–{last}"),
        _ if last > 0 => format!("{} BC–AD {last}", bare(first)),
        _ => format!("{}–{} BC", bare(first), bare(last)),
    }
}

fn time_words(time: &str) -> String {
    let (clock, shift) = time.split_at(8);
    match shift {
        "" => clock.to_owned(),
        "Z" => format!("{clock} UTC"),
        shift => format!("{clock} (UTC{shift})"),
    }
}

/// Years beyond chrono's carry no month, so only their December is asked for.
fn days_in(year: i32, month: u32) -> u32 {
    NaiveDate::from_ymd_opt(year, month, 1).map_or(31, |day| day.num_days_in_month().into())
}

fn shape(text: &str) -> Result<Shape, EdtfFault> {
    let fault = |kind| Err(EdtfFault::new(0..text.len(), kind));
    if text.trim().is_empty() {
        return fault(FaultKind::Empty);
    }
    if text.contains(['[', ']', '{', '}']) {
        return fault(FaultKind::Level2("a set of dates"));
    }
    let Some((start, end)) = text.split_once('/') else {
        return match split_time(text) {
            None => date(text, 0).map(Shape::Date),
            Some((day, time)) => moment(day, time),
        };
    };
    if end.contains('/') {
        return fault(FaultKind::NotADate(text.to_owned()));
    }
    let (start, end) = (interval_end(start, 0)?, interval_end(end, start.len() + 1)?);
    match (start.date(), end.date()) {
        (None, None) => fault(FaultKind::NoEnds),
        (Some(a), Some(b)) if b.last() < a.first() => fault(FaultKind::EndBeforeStart),
        _ => Ok(Shape::Interval(start, end)),
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

fn moment(day: &str, time: &str) -> Result<Shape, EdtfFault> {
    let date = date(day, 0)?;
    if !matches!(date.within, Within::Day(Some((_, Some(_))))) || date.approximate || date.uncertain {
        return Err(EdtfFault::new(0..day.len(), FaultKind::NotADate(format!("{day}T{time}"))));
    }
    if !is_time(time) {
        let from = day.len() + 1;
        return Err(EdtfFault::new(from..from + time.len(), FaultKind::NoTime(time.to_owned())));
    }
    Ok(Shape::Moment { date, time: time.to_owned() })
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
    let digits = |text: &str| !text.is_empty() && text.bytes().all(|b| b.is_ascii_digit());
    let (year, significant) = text.split_once('S').map_or((text, None), |(year, n)| (year, Some(n)));
    let (year, power) = year.split_once('E').map_or((year, None), |(year, n)| (year, Some(n)));
    let year = year.strip_prefix('Y').unwrap_or(year);
    let year = year.strip_prefix('-').unwrap_or(year);
    (significant.is_some() || power.is_some())
        && [Some(year), significant, power].into_iter().flatten().all(digits)
}

/// What people write for a date, turned into EDTF.
mod guess {
    use super::{MONTHS, SEASONS, shape};

    /// The readings that are EDTF. Rules may propose nonsense: only what reads is kept.
    pub(super) fn readings(text: &str) -> Vec<String> {
        let plain = text.to_lowercase().replace(['–', '—', '‑', '−'], "-");
        let plain = plain.split_whitespace().collect::<Vec<_>>().join(" ");
        let mut found: Vec<String> = Vec::new();
        for reading in ranges(&plain).into_iter().chain(single(&plain)) {
            if !found.contains(&reading) && shape(&reading).is_ok() {
                found.push(reading);
            }
        }
        found
    }

    fn ranges(text: &str) -> Vec<String> {
        for (word, before, after) in [
            ("before ", "../", ""),
            ("until ", "../", ""),
            ("by ", "../", ""),
            ("after ", "", "/.."),
            ("since ", "", "/.."),
        ] {
            if let Some(rest) = text.strip_prefix(word) {
                return single(rest).into_iter().map(|date| format!("{before}{date}{after}")).collect();
            }
        }
        let text = text.strip_prefix("between ").or(text.strip_prefix("from ")).unwrap_or(text);
        let mut found = Vec::new();
        for separator in [" to ", " and ", "/", " - ", "-"] {
            let Some((start, end)) = text.split_once(separator) else {
                continue;
            };
            let (start, end) = (start.trim(), end.trim());
            let mut ends = end_of_range(end);
            if let ([century, _], [_, _]) =
                (start.as_bytes().chunks(2).collect::<Vec<_>>().as_slice(), end.as_bytes())
            {
                // `1920-35` repeats the century.
                ends.push(format!("{}{end}", String::from_utf8_lossy(century)));
            }
            for start in end_of_range(start) {
                // Written backwards, it is turned round.
                found
                    .extend(ends.iter().flat_map(|end| [format!("{start}/{end}"), format!("{end}/{start}")]));
            }
        }
        found
    }

    fn end_of_range(text: &str) -> Vec<String> {
        match text {
            "open" | ".." => vec!["..".to_owned()],
            "unknown" | "" => vec![String::new()],
            text => single(text),
        }
    }

    /// One date, with the words and marks for `~` and `?` taken off and put at the end.
    fn single(text: &str) -> Vec<String> {
        let (mut rest, mut approximate, mut uncertain) = (text, false, false);
        for word in ["possibly ", "probably ", "perhaps ", "?"] {
            if let Some(tail) = rest.strip_prefix(word) {
                (rest, uncertain) = (tail.trim_start(), true);
            }
        }
        for word in ["circa", "about", "around", "approximately", "ca.", "ca", "c.", "c", "~"] {
            if let Some(tail) = rest.strip_prefix(word) {
                (rest, approximate) = (tail.trim_start(), true);
            }
        }
        while let Some(tail) = rest.strip_suffix(['?', '~', '%']) {
            approximate |= !rest.ends_with('?');
            uncertain |= !rest.ends_with('~');
            rest = tail.trim_end();
        }
        let mark = match (approximate, uncertain) {
            (true, true) => "%",
            (true, false) => "~",
            (false, true) => "?",
            (false, false) => "",
        };
        bare(rest.strip_prefix("the ").unwrap_or(rest)).into_iter().map(|date| date + mark).collect()
    }

    fn bare(text: &str) -> Vec<String> {
        let words: Vec<&str> =
            text.split([' ', '.', '/', '-', ',']).filter(|word| !word.is_empty()).collect();
        let two = |word: &str| format!("{:0>2}", word.trim_end_matches(char::is_alphabetic));
        let month = |word: &str| {
            let place = MONTHS.iter().position(|m| word.len() > 2 && m.to_lowercase().starts_with(word));
            place.map(|place| format!("{:02}", place + 1))
        };
        let season = |word: &str| SEASONS.iter().position(|s| *s == word).map(|place| place + 21);
        match words[..] {
            [n, "century"] => match two(n).parse::<u32>() {
                Ok(century @ 1..) => vec![format!("{:02}XX", century - 1)],
                _ => Vec::new(),
            },
            [one] => match one.strip_suffix("'s").or(one.strip_suffix("’s")).or(one.strip_suffix('s')) {
                // "The 1900s" may be ten years or a hundred.
                Some(year) if year.ends_with("00") => {
                    vec![year.replace("00", "0X"), year.replace("00", "XX")]
                }
                Some(year) => year.strip_suffix('0').map(|decade| format!("{decade}X")).into_iter().collect(),
                None => vec![one.to_uppercase()],
            },
            [a, b] => match (month(a), season(a)) {
                (Some(month), _) => vec![format!("{b}-{month}")],
                (_, Some(season)) => vec![format!("{b}-{season}")],
                _ => vec![format!("{a}-{}", two(b))],
            },
            [a, b, c] => match (month(a), month(b)) {
                (Some(month), _) => vec![format!("{c}-{month}-{}", two(b))],
                (_, Some(month)) => vec![format!("{c}-{month}-{}", two(a))],
                // Day first or, where the numbers allow it, month first.
                _ if c.len() == 4 => {
                    vec![format!("{c}-{}-{}", two(b), two(a)), format!("{c}-{}-{}", two(a), two(b))]
                }
                _ => vec![format!("{a}-{}-{}", two(b), two(c))],
            },
            _ => Vec::new(),
        }
    }
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
        toml::from_str(include_str!("../../tests/data/edtf.toml")).unwrap()
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
            let years = date.years();
            assert_eq!((bound(years.earliest), bound(years.latest)), (example.earliest, example.latest));
            let days = [date.earliest_date(), date.latest_date()].map(|day| day.map(|day| day.to_string()));
            assert_eq!(days, [example.first, example.last], "{date}");
            assert_eq!(
                (date.is_approximate(), date.is_uncertain()),
                (example.approximate, example.uncertain),
                "{date}"
            );
        }
    }

    #[test]
    fn every_example_of_level_2_is_named_as_such() {
        for text in specification().level_2 {
            let fault = Edtf::parse(&text).unwrap_err();
            assert!(matches!(fault.kind, FaultKind::Level2(_)), "{text}: {fault}");
        }
    }

    #[test]
    fn words_for_papers() {
        for (text, words) in [
            ("1926", "1926"),
            ("1920~", "about 1920"),
            ("1922?", "1922, not certain"),
            ("1922%", "about 1922, not certain"),
            ("188X", "the 1880s"),
            ("190X~", "about 1900–1909"),
            ("19XX", "1900–1999"),
            ("1926-21", "spring 1926"),
            ("1926-XX", "1926, month not known"),
            ("1926-03-XX?", "March 1926, not certain, day not known"),
            ("1926-XX-XX", "1926, month and day not known"),
            ("1926-03-12", "12 March 1926"),
            ("1926-03-12T09:05:00-04", "12 March 1926 at 09:05:00 (UTC-04)"),
            ("1920~/1935", "about 1920 to 1935"),
            ("1920?/1935~", "1920 (not certain) to about 1935"),
            ("18XX/192X", "1800–1899 to the 1920s"),
            ("../1935", "1935 or earlier"),
            ("1920/..", "1920 or later"),
            ("/1935", "until 1935, start not known"),
            ("1920-03/", "from March 1920, end not known"),
            ("0985", "AD 985"),
            ("0000", "1 BC"),
            ("-198X", "1990–1981 BC"),
            ("000X", "1 BC–AD 9"),
            ("Y-2147483648", "2147483649 BC"),
        ] {
            assert_eq!(Edtf::parse(text).unwrap().words(), words, "{text}");
        }
    }

    #[test]
    fn a_fault_says_where_and_what_to_write() {
        let not_certain = "write a year `1926`, about a year `1926~`, a decade `192X` or a range `1920/1935`";
        for (text, at, message, help) in [
            ("", 0..0, "no date is written here", not_certain),
            ("old", 0..3, "`old` is not an EDTF date", not_certain),
            ("circa 1920", 0..10, "`circa 1920` is not an EDTF date", "write `1920~`"),
            ("c. 1900", 0..7, "`c. 1900` is not an EDTF date", "write `1900~`"),
            ("1920s", 0..5, "`1920s` is not an EDTF date", "write `192X`"),
            ("the 1900s", 0..9, "`the 1900s` is not an EDTF date", "write `190X` or `19XX`"),
            ("1920-1935", 0..9, "`1920-1935` is not an EDTF date", "write `1920/1935`"),
            ("1920–c.1935", 0..13, "`1920–c.1935` is not an EDTF date", "write `1920/1935~`"),
            ("19th century", 0..12, "`19th century` is not an EDTF date", "write `18XX`"),
            ("1920?~", 0..6, "`1920?~` is not an EDTF date", "write `1920%`"),
            ("1920 / 1935", 0..5, "`1920 ` is not an EDTF date", "write `1920/1935`"),
            ("1920/circa 1935", 5..15, "`circa 1935` is not an EDTF date", "write `1920/1935~`"),
            ("before 1935", 0..11, "`before 1935` is not an EDTF date", "write `../1935`"),
            ("12.3.1926", 0..9, "`12.3.1926` is not an EDTF date", "write `1926-03-12` or `1926-12-03`"),
            ("25/03/1926", 0..10, "`25/03/1926` is not an EDTF date", "write `1926-03-25`"),
            ("12th March, 1926", 0..16, "`12th March, 1926` is not an EDTF date", "write `1926-03-12`"),
            ("Spring 1926", 0..11, "`Spring 1926` is not an EDTF date", "write `1926-21`"),
            ("1926-3", 0..6, "`1926-3` is not an EDTF date", "write `1926-03`"),
            ("1920-13", 0..7, "there is no month 13", not_certain),
            (
                "1920-35",
                0..7,
                "a part of a year numbered 25 to 41 is EDTF level 2, which is not read",
                "write `1920/1935`",
            ),
            (
                "1900-02-29",
                0..10,
                "February 1900 has no day 29",
                "leave the day out if it is not known, as in `1926-03`",
            ),
            ("1935/1920", 0..9, "the interval ends before it starts", "write `1920/1935`"),
            ("../", 0..3, "this interval has neither a start nor an end", not_certain),
            ("-0000", 0..5, "there is no year `-0000`", not_certain),
            (
                "1926/1927-03-12T10:00:00",
                5..24,
                "an interval runs between dates, without times of day",
                not_certain,
            ),
            (
                "1926-03-12T24:00:00",
                11..19,
                "`24:00:00` is not a time of day, such as `23:20:30` or `23:20:30Z`",
                not_certain,
            ),
        ] {
            let fault = Edtf::parse(text).unwrap_err();
            assert_eq!(
                (fault.at.clone(), fault.to_string().as_str(), fault.help().as_str()),
                (at, message, help)
            );
        }
    }

    #[test]
    fn near_misses_are_refused() {
        for text in [
            "85",
            "985",
            "12000",
            "Y1985",
            "Y01985",
            "Y3000000000",
            "1985-4-1",
            "1985-04-00",
            "1985-04-31",
            "1985-00",
            "1985-20",
            "1985-21-01",
            "19850412",
            "1985-",
            "1985-04-12T",
            "1985-04T10:00:00",
            "1985-04-12~T10:00:00",
            "1985-04-12T10:00",
            "1985-04-12T10:00:00.5",
            "1985-04-12T10:00:00+4",
            "1985-04-12T10:00:00Z~",
            "1985~~",
            "~1985",
            "1985/1984",
            "1985-04-12/1985-04-11",
            "1984/1985/1986",
            "1985/...",
            "/",
            "../..",
            " 1985",
            "1985\n",
            "١٩٨٥",
            "2XXX",
            "19X5",
            "198X-04",
            "1985-XX-12",
            "19xx",
            "+1985",
        ] {
            assert!(Edtf::parse(text).is_err(), "{text}");
        }
        for text in
            ["1984-02-29", "-0004-02-29", "1985-04-12T23:59:60Z", "1985/1985", "1985-06/1985", "192X/1925~"]
        {
            assert!(Edtf::parse(text).is_ok(), "{text}");
        }
    }

    /// Prints back what it read, in order; a fault points into the text and proposes only what reads.
    fn holds(text: &str) {
        match Edtf::parse(text) {
            Ok(date) => {
                assert_eq!(date.to_string(), text);
                assert!(!date.words().contains('X'));
                if let YearSpan { earliest: Bound::Year(earliest), latest: Bound::Year(latest) } =
                    date.years()
                {
                    assert!(earliest <= latest, "{text}");
                }
                if let (Some(first), Some(last)) = (date.earliest_date(), date.latest_date()) {
                    assert!(first <= last, "{text}");
                }
            }
            Err(fault) => {
                assert!(text.get(fault.at.clone()).is_some(), "{text}");
                assert!(fault.instead.iter().all(|instead| Edtf::parse(instead).is_ok()), "{text}");
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
