//! `daybook.txt`: lines as they were jotted at the bench, by day, in a piece's folder or for all pieces in the workshop's.
//!
//! An entry is a line that begins with a day or stands under one; what is indented below it goes on with it. What it
//! proposes for the record is for the floor `daybook`; here are its day, its time, and what of it others may read.

mod day;
mod kind;
mod rows;
mod shown;
mod spent;
mod token;
mod words;

use std::ops::Range;

use chrono::NaiveDate;

pub use kind::{Kind, is_done, is_plan, kind};
pub use rows::Entered;
pub use shown::{Why, Withheld};
pub use spent::{Duration, Whose, durations, spent};
pub use token::{Token, clauses, parts_clauses, tokens};

use super::{Piece, Record, Region, Workshop};
use crate::diag::{Code, Diagnostic, Place, Rank};
use crate::fields::{Private, code};
use crate::source::{TextFault, Tree};
use crate::unit::legible;
use day::{Beginning, Written};

/// The name of a day book's file.
pub const DAY_BOOK: &str = "daybook.txt";

/// A jotted line whose day cannot be told.
pub static DAY_NOT_UNDERSTOOD: Code = Code {
    name: "day-not-understood",
    rank: Rank::Doubt,
    why: "The order of the work is its story, and a line without a day has no place in it.",
    fix: "Begin the line with its day, such as `2026-03-11`, or put it under a line that is one.",
};

/// A line of the workshop's day book that names no piece.
pub static LINE_OF_NO_PIECE: Code = Code {
    name: "line-of-no-piece",
    rank: Rank::Doubt,
    why: "The workshop's day book is for all pieces, and a line that names none stands on no paper.",
    fix: "Put the piece's number, its folder's name or its title before the line, with a colon.",
};

/// A day book with more than is read.
pub static DAY_BOOK_TOO_LONG: Code = Code {
    name: "day-book-too-long",
    rank: Rank::Doubt,
    why: "Lines far beyond what one piece or a paper can hold would be read by nobody, and slow every piece down.",
    fix: "Split the file by pieces or years, and shorten what was pasted into it.",
};

/// The most entries of one day book that are read.
const MOST_ENTRIES: usize = 2_000;

/// The longest entry that is read, in bytes.
const LONGEST_ENTRY: usize = 4_000;

/// How much of an entry stands in the name by which rows tell it, in characters.
const LONGEST_NAME: usize = 120;

/// One entry of a day book.
#[derive(Debug, Clone, PartialEq)]
pub struct Jotting {
    /// The file that it stands in, from the workshop's root.
    pub path: String,
    /// Where its words stand there.
    pub span: Range<usize>,
    /// Its day, where one is told.
    pub on: Option<NaiveDate>,
    /// All its words, without the day.
    pub words: Private<String>,
    /// Those of them that others may read, or why it is for the archive alone.
    pub said: Result<String, Withheld>,
    /// What it is.
    pub kind: Kind,
    /// How long the work took, in minutes.
    pub minutes: Private<Option<u32>>,
    /// The name by which rows of the record tell that they come from it: its day and its words.
    pub name: Private<String>,
    /// Whether it was jotted of several pieces of the set that the piece is of.
    pub of_set: bool,
    /// Which of those the piece is, counted from 0.
    place: usize,
}

impl Jotting {
    /// The line for one of several pieces that it is about: its minutes are divided, and the first get what is over.
    pub fn shared(&self, place: usize, between: usize) -> Jotting {
        let share = |minutes: u32| {
            let (each, over) = (minutes as usize / between.max(1), minutes as usize % between.max(1));
            (each + usize::from(place < over)) as u32
        };
        let minutes = Private::new(self.minutes.for_archive().map(share));
        Jotting { minutes, of_set: true, place, ..self.clone() }
    }

    /// Whether another piece of the set has it, too, and comes first.
    pub fn is_told_before(&self) -> bool {
        self.place > 0
    }

    /// The name by which rows of the record tell that they come from it, for the workshop's own eyes.
    pub fn name_of_line(&self) -> String {
        self.name.for_archive().clone()
    }

    /// What is shown of it at the bench: the words that others may read, where they may, and how long the work took.
    pub fn at_the_bench(&self) -> (Option<&str>, Option<u32>) {
        (self.said.as_deref().ok(), *self.minutes.for_archive())
    }

    /// A line by itself, which may begin with its day; else it is of the last day that it may be of.
    pub fn alone(line: &str, calendar: Calendar) -> Jotting {
        let mut entries = entries(DAY_BOOK, line, calendar, &mut Vec::new());
        match entries.pop() {
            Some(entry) if entries.is_empty() => {
                let words = entry.words(line);
                Jotting::of(DAY_BOOK, entry.span, entry.on.or(calendar.until), &words)
            }
            _ => Jotting::of(DAY_BOOK, 0..line.len(), calendar.until, line),
        }
    }

    /// An entry of these words.
    pub fn of(path: &str, span: Range<usize>, on: Option<NaiveDate>, words: &str) -> Jotting {
        let words = &*legible::without_unseen(words);
        let tokens = tokens(words);
        let durations = durations(&tokens);
        let said = match is_private(words) {
            true => Err(Withheld::new(Why::Asked, "")),
            false => shown::shown(words, &tokens, &durations),
        };
        Jotting {
            path: path.to_owned(),
            span,
            on,
            said,
            kind: kind(words),
            minutes: Private::new(spent(&durations)),
            name: Private::new(name(on, words)),
            words: Private::new(words.to_owned()),
            of_set: false,
            place: 0,
        }
    }
}

/// The name of an entry, by which rows of the record tell that they come from it.
fn name(on: Option<NaiveDate>, words: &str) -> String {
    let day = on.map(|on| format!("{on} ")).unwrap_or_default();
    let words = words.split_whitespace().collect::<Vec<_>>().join(" ");
    let words = legible::without_unseen(&words).into_owned();
    match words.char_indices().nth(LONGEST_NAME) {
        Some((end, _)) => format!("{day}{}…", words[..end].trim_end()),
        None => day + &words,
    }
}

/// Whether a row names a line: spaces and signs at its end make no difference.
pub fn same(row: &str, line: &str) -> bool {
    let bare = |text: &str| -> String {
        let words: Vec<&str> = text.split_whitespace().collect();
        words.join(" ").trim_end_matches(['.', ',', ';', '…', ' ']).to_owned()
    };
    bare(row) == bare(line)
}

impl Piece {
    /// The lines of the day book that are told by no row of the record: work of which no work was entered, and plans of the
    /// last day of work of which nothing was.
    pub fn jotted(&self, record: &Record) -> Vec<(&Jotting, Kind)> {
        let entered = record.entered();
        let told = |jotting: &&Jotting| {
            let name = jotting.name.for_archive();
            let mut rows = entered.iter().filter(|row| same(&row.from.value.0, name));
            match jotting.kind {
                Kind::Work => rows.any(|row| row.table == "work"),
                Kind::Plan => rows.next().is_some(),
                Kind::Question => false,
            }
        };
        // A plan holds until the next day of work: what came of it stands in the lines after it, or nowhere.
        let worked = self.jottings.iter().filter(|jotting| jotting.kind == Kind::Work);
        let worked = worked.filter_map(|jotting| jotting.on).max();
        let past = |plan: &Jotting| plan.on.zip(worked).is_some_and(|(on, worked)| on < worked);
        let left = self.jottings.iter().filter(|jotting| !told(jotting));
        let left = left.filter(|jotting| !(jotting.kind == Kind::Plan && past(jotting)));
        left.map(|jotting| (jotting, jotting.kind)).collect()
    }
}

/// Whether a line says its day itself, whichever of day and month comes first.
pub fn begins_with_day(line: &str) -> bool {
    matches!(day::beginning(line, false), Beginning::Day(Written::Whole(..) | Written::DayAndMonth(..), _))
}

/// Whether an entry says that it is for the archive alone: it begins with `private:` or stands in square brackets.
fn is_private(words: &str) -> bool {
    let begins = words.get(..8).is_some_and(|begins| begins.eq_ignore_ascii_case("private:"));
    begins || words.starts_with('[') && words.ends_with(']')
}

/// What days of a day book follow from.
#[derive(Debug, Clone, Copy, Default)]
pub struct Calendar {
    /// Whether the month comes first.
    pub month_first: bool,
    /// Whether somebody said which of the two comes first.
    pub order_known: bool,
    /// A day from which on the entries are: that on which the piece was found.
    pub from: Option<NaiveDate>,
    /// The last day that an entry may be of, where it is known: that on which it was jotted.
    pub until: Option<NaiveDate>,
}

impl Calendar {
    /// What days follow from in a workshop, for the day book of this piece.
    pub fn of(workshop: Option<&Workshop>, record: Option<&Record>) -> Calendar {
        let language = workshop.and_then(|workshop| workshop.language.as_ref());
        let region = workshop.and_then(|workshop| workshop.region.as_ref());
        let says_american = |language: &str| {
            ["en-us", "american", "american english"].contains(&language.trim().to_lowercase().as_str())
        };
        let american = language.is_some_and(|language| says_american(&language.value.0))
            || region.is_some_and(|region| region.value == Region::UnitedStates);
        let found = record.and_then(|record| record.found.for_archive().as_ref());
        Calendar {
            month_first: american,
            order_known: language.is_some() || region.is_some(),
            from: found.and_then(|found| found.on.as_ref()).map(|on| on.value),
            until: None,
        }
    }
}

/// Gives each piece its entries of the workshop's day book.
pub(super) fn share_out(
    tree: &Tree,
    pieces: &mut [Piece],
    sets: &mut [Piece],
    workshop: Option<&Workshop>,
    problems: &mut Vec<Diagnostic>,
) {
    if !tree.has(DAY_BOOK) {
        return;
    }
    let called = |piece: &Piece| {
        let record = piece.record.iter();
        let told = record.flat_map(|record| {
            // A title that it has from its set means the set.
            let own = !piece.has_from_set(&record.title.span);
            std::iter::once(record.number.to_string()).chain(own.then(|| record.title.to_string()))
        });
        (piece.folder.clone(), std::iter::once(piece.folder.clone()).chain(told).collect())
    };
    let names: Names = pieces.iter().chain(&*sets).map(called).collect();
    for (folder, jotting) in of_workshop(tree, &names, Calendar::of(workshop, None), problems) {
        if let Some(piece) = pieces.iter_mut().chain(&mut *sets).find(|piece| piece.folder == folder) {
            piece.jottings.push(jotting);
        }
    }
}

/// Who an entry of the workshop's day book may be about: each piece's folder, with its names.
type Names = Vec<(String, Vec<String>)>;

/// The entries of one piece's day book, and what is wrong with it.
pub(super) fn of_piece(
    tree: &Tree,
    path: &str,
    calendar: Calendar,
    problems: &mut Vec<Diagnostic>,
) -> Vec<Jotting> {
    let Some(text) = text(tree, path, problems) else { return Vec::new() };
    entries(path, text, calendar, problems)
        .into_iter()
        .map(|entry| Jotting::of(path, entry.span.clone(), entry.on, entry.words(text).as_str()))
        .collect()
}

/// The entries of the workshop's day book, each with the folder of its piece.
///
/// The piece that was named last goes on until another is named; within one line another may be named after a full stop
/// or a semicolon.
fn of_workshop(
    tree: &Tree,
    names: &Names,
    calendar: Calendar,
    problems: &mut Vec<Diagnostic>,
) -> Vec<(String, Jotting)> {
    let Some(text) = text(tree, DAY_BOOK, problems) else { return Vec::new() };
    let (mut found, mut current, mut astray): (Vec<(String, Jotting)>, Option<&str>, usize) =
        (Vec::new(), None, 0);
    let mut first_astray = 0..0;
    for entry in entries(DAY_BOOK, text, calendar, problems) {
        for span in segments(text, &entry.span, names) {
            let words = joined(&text[span.clone()]);
            let (named, rest) = named(&words, names);
            current = named.or(current);
            let words = rest.trim();
            if words.is_empty() {
                continue;
            }
            match current {
                Some(folder) => {
                    found.push((folder.to_owned(), Jotting::of(DAY_BOOK, span, entry.on, words)));
                }
                None => {
                    astray += 1;
                    if astray == 1 {
                        first_astray = span;
                    }
                }
            }
        }
    }
    if astray > 0 {
        let message = match astray {
            1 => "this line names no piece".to_owned(),
            more => format!("this line names no piece, nor do {} after it", more - 1),
        };
        let help = "begin it with a piece's number, folder or title and a colon";
        problems
            .push(Diagnostic::new(&LINE_OF_NO_PIECE, Place::at(DAY_BOOK, &first_astray), message).help(help));
    }
    found
}

/// The text of a day book; nothing where there is none, or where it cannot be read, which is told.
fn text<'a>(tree: &'a Tree, path: &str, problems: &mut Vec<Diagnostic>) -> Option<&'a str> {
    match tree.text(path)? {
        Ok(text) => Some(text),
        Err(fault) => {
            let (message, help) = told(tree, path, fault);
            problems.push(Diagnostic::new(&code::UNREADABLE_TEXT, Place::file(path), message).help(help));
            None
        }
    }
}

/// What is wrong with a day book that is no text, and what to do.
fn told(tree: &Tree, path: &str, fault: &TextFault) -> (String, String) {
    let TextFault::NotUtf8(place) = fault else {
        return (format!("the day book {fault}"), fault.remedy().to_owned());
    };
    let bytes = tree.bytes(path).unwrap_or_default();
    let wide = bytes.starts_with(&[0xff, 0xfe]) || bytes.starts_with(&[0xfe, 0xff]);
    let line = bytes[..(*place).min(bytes.len())].iter().filter(|byte| **byte == b'\n').count() + 1;
    let message = match wide {
        true => "the day book is UTF-16 text, and UTF-8 is read".to_owned(),
        false => {
            format!("the day book is not UTF-8 text: line {line} has a byte that is part of no character")
        }
    };
    let help = "open it in an editor and save it as UTF-8; until then none of its lines is on any paper, and none is lost";
    (message, help.to_owned())
}

/// An entry before its words are read.
#[derive(Debug)]
struct Entry {
    on: Option<NaiveDate>,
    span: Range<usize>,
}

impl Entry {
    fn words(&self, text: &str) -> String {
        joined(&text[self.span.clone()])
    }
}

/// The words of an entry in one line.
fn joined(text: &str) -> String {
    match text.contains('\n') {
        true => text.split_whitespace().collect::<Vec<_>>().join(" "),
        false => text.trim().to_owned(),
    }
}

/// The entries of a text, and what is wrong with their days.
fn entries(path: &str, text: &str, calendar: Calendar, problems: &mut Vec<Diagnostic>) -> Vec<Entry> {
    let mut reading = Reading {
        path,
        calendar,
        entries: Vec::new(),
        day: None,
        open: false,
        days: Vec::new(),
        doubted: false,
    };
    let mut start = 0;
    for line in text.split_inclusive('\n') {
        let place = start;
        start += line.len();
        if reading.entries.len() >= MOST_ENTRIES {
            let rest = text[place..].lines().filter(|line| !line.trim().is_empty()).count();
            let message = format!(
                "the day book has more than {MOST_ENTRIES} entries, and {rest} lines from here on are not read"
            );
            let place = Place::at(path, &(place..place + line.trim_end().len()));
            problems.push(Diagnostic::new(&DAY_BOOK_TOO_LONG, place, message).help(DAY_BOOK_TOO_LONG.fix));
            break;
        }
        reading.line(line, place, text, problems);
    }
    reading.dated(text, problems)
}

/// A day as the text tells it, before its year is known.
#[derive(Debug, Clone)]
enum Told {
    Known(NaiveDate),
    Open(u32, u32),
    Weekday(chrono::Weekday),
}

/// A text that is being cut into entries.
struct Reading<'a> {
    path: &'a str,
    calendar: Calendar,
    /// The entries, each with its day by its place among those told.
    entries: Vec<(Option<usize>, Range<usize>)>,
    /// Which of the days told so far holds for the next line.
    day: Option<usize>,
    /// Whether what is indented goes on with the last entry.
    open: bool,
    /// The days told, with where.
    days: Vec<(Told, Range<usize>)>,
    /// Whether it was told that days may be taken for others.
    doubted: bool,
}

impl Reading<'_> {
    /// Takes in one line, which begins at this place of the text.
    fn line(&mut self, line: &str, place: usize, text: &str, problems: &mut Vec<Diagnostic>) {
        let bare = line.trim_start_matches('\u{feff}');
        let place = place + (line.len() - bare.len());
        let words = bare.trim();
        if words.is_empty() {
            self.open = false;
            return;
        }
        let begins = place + (bare.len() - bare.trim_start().len());
        let indented = bare.starts_with([' ', '\t']);
        let bullet = words.trim_start_matches(['#', '*', '-', '•', '>', '–']);
        let is_bullet = bullet.len() < words.len() && bullet.starts_with([' ', '\t']);
        let words = if is_bullet { bullet.trim_start() } else { words };
        let begins = begins + (bare.trim().len() - words.len());
        if words.is_empty() {
            return;
        }
        if let Some((message, help)) =
            code::unseen_character(legible::unseen(words).map(|(_, unseen)| unseen))
        {
            let place = Place::at(self.path, &(begins..begins + words.len()));
            problems.push(Diagnostic::new(&code::UNSEEN_CHARACTER, place, message).help(help));
        }
        let found = day::beginning(words, self.calendar.month_first);
        let (used, day) = match found {
            Beginning::None if indented && self.open && !is_bullet => {
                if let Some(last) = self.entries.last_mut()
                    && begins + words.len() - last.1.start <= LONGEST_ENTRY
                {
                    last.1.end = begins + words.len();
                }
                return;
            }
            Beginning::None => (0, self.day),
            Beginning::Impossible(used) => {
                let place = Place::at(self.path, &(begins..begins + used));
                let message = format!("`{}` is no day of the calendar", &words[..used]);
                let help = "correct it; until then the line stands without a day";
                problems.push(Diagnostic::new(&DAY_NOT_UNDERSTOOD, place, message).help(help));
                (used, None)
            }
            Beginning::Day(written, used) => {
                let span = begins..begins + used;
                let told = self.told(written, &span, &words[..used], problems);
                self.days.push((told, span));
                (used, Some(self.days.len() - 1))
            }
        };
        self.day = day;
        let rest = words[used..].trim_start_matches([':', ',', '-', '–', '—', '.', ' ', '\t', ')', '=']);
        let rest = if used == 0 { words } else { rest };
        if !rest.chars().any(char::is_alphanumeric) {
            self.open = false;
            return;
        }
        let from = begins + words.len() - rest.len();
        let mut end = from + rest.len();
        if rest.len() > LONGEST_ENTRY {
            let place = Place::at(self.path, &(from..from + 40.min(rest.len())));
            let message = format!("this line has {} bytes, and {LONGEST_ENTRY} of them are read", rest.len());
            problems
                .push(Diagnostic::new(&DAY_BOOK_TOO_LONG, place, message).help("make several lines of it"));
            end = from + LONGEST_ENTRY;
            while !text.is_char_boundary(end) {
                end -= 1;
            }
        }
        self.entries.push((day, from..end));
        self.open = true;
    }

    /// A day as it was written; what may be taken for another is told.
    fn told(
        &mut self,
        written: Written,
        span: &Range<usize>,
        words: &str,
        problems: &mut Vec<Diagnostic>,
    ) -> Told {
        let (told, doubtful) = match written {
            Written::Whole(day, doubtful) => (Told::Known(day), doubtful),
            Written::DayAndMonth(day, month, doubtful) => (Told::Open(day, month), doubtful),
            Written::Weekday(day) => (Told::Weekday(day), false),
        };
        let known = self.calendar.order_known || self.doubted;
        if doubtful && !known {
            let first = if self.calendar.month_first { "month" } else { "day" };
            let message = format!(
                "`{words}` may be one of two days, and is read with its {first} first, as all such days of the file"
            );
            let help = "write days as `2026-03-11`, or say in workshop.toml which `region` it is in";
            let place = Place::at(self.path, span);
            problems.push(Diagnostic::new(&DAY_NOT_UNDERSTOOD, place, message).help(help));
        }
        self.doubted |= doubtful && !known;
        told
    }

    /// The entries with their days, once all are known from which years follow.
    fn dated(self, text: &str, problems: &mut Vec<Diagnostic>) -> Vec<Entry> {
        let Reading { path, calendar, entries, days, .. } = self;
        let first_known = days.iter().find_map(|(told, _)| match told {
            Told::Known(day) => Some(*day),
            _ => None,
        });
        let mut last: Option<NaiveDate> = None;
        let mut known: Vec<Option<NaiveDate>> = Vec::new();
        for (told, span) in &days {
            let day = match told {
                Told::Known(day) => Some(*day),
                Told::Open(day, month) => match (last, calendar.from, first_known) {
                    (None, None, None) => {
                        calendar.until.and_then(|until| day::last_until(*day, *month, until))
                    }
                    (Some(last), _, _) => day::nearest(*day, *month, last),
                    (None, Some(from), _) => day::first_from(*day, *month, from),
                    // A book goes on in the order of its days.
                    (None, None, Some(first)) => day::last_until(*day, *month, first),
                },
                Told::Weekday(weekday) => last.and_then(|last| day::next_weekday(last, *weekday)),
            };
            if day.is_none() && known.iter().all(Option::is_some) {
                let (what, help) = match told {
                    Told::Weekday(_) => ("week", "write the day itself, such as `2026-03-11`"),
                    _ => (
                        "year",
                        "write the year with the first day, such as `2026-03-11`; the others follow from it",
                    ),
                };
                let message = format!("of which {what} `{}` is cannot be told", &text[span.clone()]);
                problems
                    .push(Diagnostic::new(&DAY_NOT_UNDERSTOOD, Place::at(path, span), message).help(help));
            }
            last = day.or(last);
            known.push(day);
        }
        let undated: Vec<&Range<usize>> =
            entries.iter().filter(|(day, _)| day.is_none()).map(|(_, span)| span).collect();
        if let Some(first) = undated.first() {
            let message = match undated.len() {
                1 => "this line has no day".to_owned(),
                more => format!("this line has no day, nor have {} others", more - 1),
            };
            let help = "begin it with its day, such as `2026-03-11`, or put it under a line that is one";
            problems.push(Diagnostic::new(&DAY_NOT_UNDERSTOOD, Place::at(path, first), message).help(help));
        }
        let entry =
            |(day, span): (Option<usize>, Range<usize>)| Entry { on: day.and_then(|at| known[at]), span };
        entries.into_iter().map(entry).collect()
    }
}

/// The parts of an entry that may be about different pieces: another is named after a full stop or a semicolon.
fn segments(text: &str, span: &Range<usize>, names: &Names) -> Vec<Range<usize>> {
    let words = &text[span.clone()];
    let mut starts = vec![0];
    for (at, sign) in words.match_indices(['.', ';']) {
        let after = at + sign.len();
        let rest = words[after..].trim_start();
        let from = words.len() - rest.len();
        if from > after && named(rest, names).0.is_some() {
            starts.push(from);
        }
    }
    let ends = starts.iter().skip(1).copied().chain([words.len()]);
    let part = |(from, to): (usize, usize)| {
        let trimmed = words[from..to].trim_end_matches([';', ' ', '\t', '\r', '\n']);
        span.start + from..span.start + from + trimmed.len()
    };
    starts.iter().copied().zip(ends).map(part).filter(|part| !part.is_empty()).collect()
}

/// The piece that a line begins with, and what follows its name.
fn named<'n, 'l>(line: &'l str, names: &'n Names) -> (Option<&'n str>, &'l str) {
    let fits = |name: &str| -> Option<&'l str> {
        let begins = line.get(..name.len()).filter(|begins| begins.to_lowercase() == name.to_lowercase())?;
        let rest = &line[begins.len()..];
        (!name.is_empty() && !rest.starts_with(|c: char| c.is_alphanumeric() || c == '-')).then_some(rest)
    };
    let all = names.iter().flat_map(|(folder, names)| names.iter().map(move |name| (folder, name)));
    let found = all.filter_map(|(folder, name)| Some((folder, name.len(), fits(name)?)));
    match found.max_by_key(|(_, length, _)| *length) {
        Some((folder, _, rest)) => {
            (Some(folder), rest.trim_start_matches([':', ',', '-', '–', '—', ' ', '\t']))
        }
        None => (None, line),
    }
}

/// A line of a set's day book without the name of the piece that it begins with.
pub(super) fn without_name<'n>(line: &Jotting, names: impl Iterator<Item = &'n str>) -> Jotting {
    let words = line.words.for_archive();
    let names: Names = vec![(String::new(), names.map(str::to_owned).collect())];
    match named(words, &names) {
        (Some(_), rest) if !rest.is_empty() => Jotting::of(&line.path, line.span.clone(), line.on, rest),
        _ => line.clone(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn calendar() -> Calendar {
        Calendar { month_first: false, order_known: true, from: None, until: None }
    }

    /// The entries of a text, a line each, and what is told of it.
    fn read(text: &str, calendar: Calendar) -> (Vec<String>, Vec<String>) {
        let tree = Tree::of([("pieces/a/daybook.txt", text)]);
        let mut problems = Vec::new();
        let jottings = of_piece(&tree, "pieces/a/daybook.txt", calendar, &mut problems);
        let line = |jotting: &Jotting| jotting.name.for_archive().clone();
        let told = |problem: &Diagnostic| {
            let line = problem.place.span.map_or(0, |(at, _)| crate::diag::line_and_column(text, at).0);
            format!("{line}: {}", problem.message)
        };
        (jottings.iter().map(line).collect(), problems.iter().map(told).collect())
    }

    #[test]
    fn entries_begin_with_a_day_or_stand_under_one() {
        let text = "2026-03-11 glued the leaf, 1.5h\n\n## 12 March\n- waxed it\n  and buffed it\nchecked\n\nFri:\nran well\n1/4: sold\n";
        let (entries, told) = read(text, calendar());
        assert_eq!(
            entries,
            [
                "2026-03-11 glued the leaf, 1.5h",
                "2026-03-12 waxed it and buffed it",
                "2026-03-12 checked",
                "2026-03-13 ran well",
                "2026-04-01 sold"
            ]
        );
        assert_eq!(told, [""; 0]);
    }

    #[test]
    fn a_year_follows_from_the_day_before_the_find_or_the_next_whole_day() {
        let days = |text: &str, calendar: Calendar| read(text, calendar).0.concat();
        assert_eq!(days("2025-12-30 a\n3/1 b\n29/12 c", calendar()), "2025-12-30 a2026-01-03 b2025-12-29 c");
        let found = Calendar { from: Some("2025-11-02".parse().unwrap()), ..calendar() };
        assert_eq!(days("10 Jan a", found), "2026-01-10 a");
        assert_eq!(days("10 Jan a\n2026-02-01 b", calendar()), "2026-01-10 a2026-02-01 b");
        assert_eq!(days("11 March a\n2026-11-30 b", calendar()), "2026-03-11 a2026-11-30 b");
        let (entries, told) = read("10 Jan a\n11 Jan b", calendar());
        assert_eq!(entries, ["a", "b"]);
        assert_eq!(told, ["1: of which year `10 Jan` is cannot be told"]);
    }

    #[test]
    fn what_is_doubtful_impossible_or_missing_is_told_with_its_line() {
        let open = Calendar { order_known: false, ..calendar() };
        let (_, told) = read("2026-01-01 x\n3/4 a\n5/6 b\n31/2 c\n", open);
        assert_eq!(
            told,
            [
                "2: `3/4` may be one of two days, and is read with its day first, as all such days of the file",
                "4: `31/2` is no day of the calendar",
                "4: this line has no day",
            ]
        );
        assert_eq!(read("a\nb\nc", calendar()).1, ["1: this line has no day, nor have 2 others"]);
        assert_eq!(read("2026-01-01 a\u{7}b", calendar()).1.len(), 1);
    }

    #[test]
    fn what_is_private_says_so_or_speaks_of_people_and_money() {
        let said = |text: &str| Jotting::of("a", 0..0, None, text).said.map_err(|withheld| withheld.why);
        assert_eq!(said("private: the top is veneer after all"), Err(Why::Asked));
        assert_eq!(said("[do not tell them about the drawer]"), Err(Why::Asked));
        assert_eq!(said("glued it, 2h").as_deref(), Ok("glued it"));
    }

    #[test]
    fn lines_of_the_workshop_go_to_the_piece_that_was_named_last() {
        let text = "2026-03-11 T-1: glued it. Oak chair: seat off; t-1 clamp off\nwaxed it\n2026-03-12 chair-2 caned\n";
        let tree = Tree::of([(DAY_BOOK, text)]);
        let names = vec![
            ("table".to_owned(), vec!["table".to_owned(), "T-1".to_owned(), "Oak table".to_owned()]),
            ("chair".to_owned(), vec!["chair".to_owned(), "C-1".to_owned(), "Oak chair".to_owned()]),
            ("chair-2".to_owned(), vec!["chair-2".to_owned()]),
        ];
        let mut problems = Vec::new();
        let found = of_workshop(&tree, &names, calendar(), &mut problems);
        let told: Vec<String> = found
            .iter()
            .map(|(folder, jotting)| format!("{folder}: {}", jotting.name.for_archive()))
            .collect();
        assert_eq!(
            told,
            [
                "table: 2026-03-11 glued it.",
                "chair: 2026-03-11 seat off",
                "table: 2026-03-11 clamp off",
                "table: 2026-03-11 waxed it",
                "chair-2: 2026-03-12 caned"
            ]
        );
        assert!(problems.is_empty());
        let tree = Tree::of([(DAY_BOOK, "2026-03-11 swept the floor\nT-1 x\n")]);
        assert_eq!(of_workshop(&tree, &names, calendar(), &mut problems).len(), 1);
        assert_eq!(problems[0].message, "this line names no piece");
    }

    #[test]
    fn other_encodings_and_very_long_books_are_told_and_stop_nothing() {
        let told = |bytes: Vec<u8>| {
            let tree = Tree::of([("pieces/a/daybook.txt", bytes)]);
            let mut problems = Vec::new();
            let entries = of_piece(&tree, "pieces/a/daybook.txt", calendar(), &mut problems).len();
            (entries, problems.into_iter().map(|problem| problem.message).collect::<Vec<_>>().join("; "))
        };
        let (none, latin) = told(b"2026-01-01 a\n2026-01-02 caf\xe9\n".to_vec());
        assert_eq!((none, latin.contains("line 2 has a byte")), (0, true), "{latin}");
        assert!(told(b"\xff\xfe2\x000\x00".to_vec()).1.contains("UTF-16"));
        let (entries, long) = told("2026-01-01 waxed\n".repeat(3000).into_bytes());
        assert_eq!((entries, long.contains("1000 lines")), (MOST_ENTRIES, true), "{long}");
        assert!(told(vec![b'a'; 5_000_000]).1.contains("at most"));
        let (entries, long) = told(format!("2026-01-01 {}", "é".repeat(40_000)).into_bytes());
        assert_eq!((entries, long.contains("80000 bytes")), (1, true), "{long}");
    }
}
