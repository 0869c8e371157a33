//! The time that a jotted line says was spent, told apart from drying, from a helper's and from a total so far.

use std::ops::Range;

use rust_decimal::Decimal;
use rust_decimal::prelude::ToPrimitive;

use super::token::{Token, clauses};

/// A length of time in a line.
#[derive(Debug, Clone, PartialEq)]
pub struct Duration {
    /// How long, in minutes.
    pub minutes: u32,
    /// Which tokens say it.
    pub at: Range<usize>,
    /// What was done meanwhile, and by whom.
    pub whose: Whose,
    /// Whether it is only about so long, or at most.
    pub about: bool,
    /// Whether it was guessed that it is a time, or in which unit.
    pub guessed: bool,
}

/// What a length of time was for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Whose {
    /// One's own work.
    Own,
    /// Drying, soaking, waiting.
    Wait,
    /// Somebody else's work.
    Helper,
    /// All work so far.
    Total,
    /// A part of another time that is told, or of time to come.
    Other,
}

const HOURS: &[&str] = &["h", "hr", "hrs", "hour", "hours", "hourse"];
const MINUTES: &[&str] = &["min", "mins", "minute", "minutes", "minits"];

/// Words around a time that make it none of work, wherever they stand in its clause.
const WAITING: &[&str] = &[
    "dry",
    "drying",
    "dried",
    "soak",
    "soaked",
    "soaking",
    "wait",
    "waited",
    "waiting",
    "cure",
    "cures",
    "curing",
    "cured",
    "overnight",
    "between",
    "btwn",
    "apart",
    "setting",
    "later",
    "every",
    "within",
    "steep",
    "steeped",
    "rest",
    "rested",
    "bottles",
    "touch",
    "flash",
    "sweat",
    "poultice",
    "recoat",
];

/// Words that make it so for hours, but not for a few minutes.
const HELD: &[&str] = &["clamp", "clamped", "clamps", "cramp", "cramped", "cramps", "weighted"];

/// Words for those who worked as well.
const HELPED: &[&str] =
    &["helped", "helper", "helping", "apprentice", "lad", "brother", "mate", "son", "daughter"];

/// Words that say nothing more in a clause that tells a time.
const FILLERS: &[&str] = &[
    "about",
    "took",
    "me",
    "spent",
    "say",
    "approx",
    "approximately",
    "roughly",
    "in",
    "all",
    "total",
    "on",
    "it",
    "work",
    "time",
    "for",
    "just",
    "over",
    "under",
    "nearly",
    "only",
    "the",
    "lot",
    "~",
    "c",
    "ca",
    "prob",
    "probably",
    "and",
    "+",
    "so",
    "today",
    "of",
    "another",
    "a",
    "good",
    "no",
    "more",
    "than",
    "up",
    "to",
    "most",
    "at",
    "ish",
];

/// Words before a time that make it one of about.
const ABOUT: &[&str] = &[
    "about",
    "say",
    "approx",
    "approximately",
    "roughly",
    "~",
    "c",
    "ca",
    "prob",
    "probably",
    "nearly",
    "almost",
    "maybe",
    "around",
    "than",
    "guess",
    "reckon",
];

/// Words of time to come, and of what is left out.
const TO_COME: &[&str] = &["tomorrow", "tmrw", "need", "needs", "allow", "will", "ll", "should", "another"];

/// The lengths of time in a line.
pub fn durations(tokens: &[Token]) -> Vec<Duration> {
    let mut found: Vec<Duration> = Vec::new();
    let mut at = 0;
    while at < tokens.len() {
        match duration_at(tokens, at).or_else(|| span_at(tokens, at, &found)) {
            Some((minutes, end, guessed)) if !minutes.is_zero() && minutes <= Decimal::from(60 * 100) => {
                let (minutes, from, end) = multiplied(tokens, minutes, at..end);
                let minutes = minutes.round().to_u32().unwrap_or(0);
                found.push(Duration { minutes, at: from..end, whose: Whose::Own, about: false, guessed });
                at = end;
            }
            _ => at += 1,
        }
    }
    sums(tokens, &mut found);
    let clauses = clauses(tokens);
    let plain: Vec<bool> = found.iter().map(|one| is_plain(tokens, one, &found, &clauses)).collect();
    let any_plain = plain.contains(&true);
    for (one, plain) in found.iter_mut().zip(plain) {
        let clause = clause_of(&clauses, one.at.start);
        one.whose = whose(tokens, one, clause.clone(), any_plain && !plain);
        let before = &tokens[clause.start.max(one.at.start.saturating_sub(4))..one.at.start];
        let after = tokens.get(one.at.end);
        one.about |= before.iter().any(|token| token.is_any(ABOUT))
            || after.is_some_and(|token| token.is_any(&["ish", "inc", "incl", "tops", "max"]));
    }
    found
}

/// How many minutes of one's own work a line tells; none where it tells no time.
pub fn spent(durations: &[Duration]) -> Option<u32> {
    let own: Vec<u32> =
        durations.iter().filter(|one| one.whose == Whose::Own).map(|one| one.minutes).collect();
    (!own.is_empty()).then(|| own.iter().sum())
}

/// Whether the clause of a time says nothing else.
fn is_plain(tokens: &[Token], one: &Duration, all: &[Duration], clauses: &[Range<usize>]) -> bool {
    clause_of(clauses, one.at.start).all(|at| {
        tokens[at].is_any(FILLERS)
            || !tokens[at].is_word() && tokens[at].number.is_none()
            || all.iter().any(|other| other.at.contains(&at))
    })
}

fn clause_of(clauses: &[Range<usize>], at: usize) -> Range<usize> {
    clauses.iter().find(|clause| clause.contains(&at)).cloned().unwrap_or(at..at + 1)
}

/// What a length of time was for, by the words beside it.
fn whose(tokens: &[Token], one: &Duration, clause: Range<usize>, beside_plain: bool) -> Whose {
    let before = &tokens[clause.start..one.at.start.max(clause.start)];
    let after = &tokens[one.at.end.min(clause.end)..clause.end];
    let near = &after[..after.len().min(3)];
    let has = |side: &[Token], words: &[&str]| side.iter().any(|token| token.is_any(words));
    let pair = |side: &[Token], first: &[&str], second: &[&str]| {
        side.windows(2).any(|two| two[0].is_any(first) && two[1].is_any(second))
    };
    if pair(near, &["all", "so", "to", "up"], &["in", "far", "told", "date", "to", "now"])
        || has(near, &["altogether", "running"])
        || pair(before, &["so", "running", "to"], &["far", "total", "date"])
    {
        return Whose::Total;
    }
    let helped = tokens.iter().any(|token| token.is_any(HELPED));
    if helped && near.first().is_some_and(|token| token.is("each")) {
        return Whose::Own;
    }
    if helped && has(before, HELPED) {
        return Whose::Helper;
    }
    if near.first().is_some_and(|token| token.is("each")) {
        return Whose::Wait;
    }
    if before.last().is_some_and(|token| token.is_any(&["incl", "including", "inc", "which"])) {
        return Whose::Other;
    }
    let left = before.iter().position(|token| token.is_any(&["left", "leave", "leaving", "stand", "stood"]));
    let left = left.is_some_and(|at| {
        before.get(at + 1).is_none_or(|next| {
            next.is_any(&["to", "for", "it", "overnight", "them", "that", "on", "a", "in", "all"])
                || next.number.is_some()
        })
    });
    // `held by a strap an hour`
    let by = |two: &[Token]| {
        two[0].is("held") && two[1].is_any(&["by", "with", "w", "in", "under", "down", "for"])
    };
    let held = one.minutes >= 90 && (has(before, HELD) || has(near, HELD)) || before.windows(2).any(by);
    if has(before, WAITING) || has(near, WAITING) || left || held {
        return Whose::Wait;
    }
    if before.last().is_some_and(|token| token.is("after")) {
        return Whose::Wait;
    }
    if has(before, TO_COME) && !has(before, &["took", "spent"]) || has(near, &["tomorrow", "tmrw"]) {
        return Whose::Other;
    }
    // `bottles on the joints for half an hour`, and how long it took in all stands by itself.
    let last_two = &before[before.len().saturating_sub(2)..];
    if beside_plain && has(last_two, &["for"]) {
        return Whose::Wait;
    }
    Whose::Own
}

/// The time that begins at this token: how many minutes, where it ends, whether it is guessed.
fn duration_at(tokens: &[Token], at: usize) -> Option<(Decimal, usize, bool)> {
    let word = |at: usize| tokens.get(at).map_or("", |token| token.word.as_str());
    let is_hour = |at: usize| HOURS.contains(&word(at));
    let is_minute = |at: usize| MINUTES.contains(&word(at));
    let (hour, half) = (Decimal::from(60), Decimal::from(30));
    let article = |at: usize| usize::from(["an", "a"].contains(&word(at)));
    match word(at) {
        "half" => {
            let unit = at + 1 + article(at + 1);
            return is_hour(unit).then_some((half, unit + 1, false));
        }
        "quarter" | "quarters" => {
            let of = at + 1 + usize::from(word(at + 1) == "of");
            let unit = of + article(of);
            return is_hour(unit).then_some((Decimal::from(15), unit + 1, false));
        }
        "couple" => {
            let unit = at + 1 + usize::from(word(at + 1) == "of");
            return is_hour(unit).then_some((Decimal::from(120), unit + 1, true));
        }
        _ => {}
    }
    let value = match word(at) {
        "an" | "a" if is_hour(at + 1) => Decimal::ONE,
        _ => tokens[at].value()?,
    };
    // Sides of a piece: `d 460 h 760`.
    let side = at > 0 && ["w", "d", "l", "h", "t"].contains(&word(at - 1)) && !tokens[at].glued;
    if side || value.is_sign_negative() {
        return None;
    }
    if value == Decimal::from(3) && word(at + 1) == "quarters" {
        let of = at + 2 + usize::from(word(at + 2) == "of");
        let unit = of + article(of);
        return is_hour(unit).then_some((Decimal::from(45), unit + 1, false));
    }
    // `two and a half hours`
    if word(at + 1) == "and"
        && word(at + 2) == "a"
        && ["half", "quarter"].contains(&word(at + 3))
        && is_hour(at + 4)
    {
        let part = if word(at + 3) == "half" { half } else { Decimal::from(15) };
        return Some((value * hour + part, at + 5, false));
    }
    if word(at + 1) == "and"
        && is_hour(at + 3)
        && tokens[at + 2].number.is_some_and(|part| part < Decimal::ONE)
    {
        return Some(((value + tokens[at + 2].number?) * hour, at + 4, false));
    }
    // `1:30 h`
    if word(at + 1) == ":" && tokens[at + 1].glued && is_hour(at + 3) {
        let minutes = tokens.get(at + 2)?.number.filter(|minutes| *minutes < hour)?;
        return Some((value * hour + minutes, at + 4, false));
    }
    if is_minute(at + 1) {
        return Some((value, at + 2, false));
    }
    // `30m`, and not the metres of a board.
    let tens = value.is_integer() && value >= Decimal::TEN && (value % Decimal::from(5)).is_zero();
    if word(at + 1) == "m" && tens && value < Decimal::from(300) {
        return Some((value, at + 2, false));
    }
    if !is_hour(at + 1) || value > Decimal::from(60) {
        return None;
    }
    let (mut minutes, mut end) = (value * hour, at + 2);
    let and = usize::from(["and", "&"].contains(&word(end)));
    let below_hour = |at: usize| {
        let token = tokens.get(at)?;
        token.value().filter(|number| number.is_integer() && *number < hour)
    };
    match below_hour(end + and) {
        Some(more) if is_minute(end + and + 1) || word(end + and + 1) == "m" => {
            (minutes, end) = (minutes + more, end + and + 2);
        }
        Some(more)
            if and == 0
                && tokens[end].glued
                && !tokens.get(end + 1).is_some_and(|next| next.glued && next.is_word()) =>
        {
            (minutes, end) = (minutes + more, end + 1);
        }
        // `2h 20`, where nothing is counted by the second number.
        Some(more)
            if and == 0
                && (more % Decimal::from(5)).is_zero()
                && tokens[end].number.is_some()
                && tokens
                    .get(end + 1)
                    .is_none_or(|next| !next.is_word() && !next.glued && next.number.is_none()) =>
        {
            (minutes, end) = (minutes + more, end + 1);
        }
        Some(_)
            if and == 0
                && !tokens[end].glued
                && !word(end + 1).is_empty()
                && tokens[end].number.is_some()
                && word(at + 1) == "h"
                && side_follows(tokens, end) =>
        {
            return None;
        }
        _ => {}
    }
    if word(end) == "and" && word(end + 1) == "a" && ["half", "quarter", "bit"].contains(&word(end + 2)) {
        minutes += match word(end + 2) {
            "half" => half,
            "quarter" => Decimal::from(15),
            _ => Decimal::ZERO,
        };
        end += 3;
    }
    Some((minutes, end, false))
}

/// Whether a number is the side of a piece, by the letter behind it.
fn side_follows(tokens: &[Token], at: usize) -> bool {
    tokens.get(at + 1).is_some_and(|next| next.is_any(&["w", "d", "l", "t", "mm", "cm"]))
}

/// The time that passed between two times of the clock: `10-12`, `1-3.30`, `1700-1830`, `from 9 to 11.15`.
fn span_at(tokens: &[Token], at: usize, found: &[Duration]) -> Option<(Decimal, usize, bool)> {
    let (from, from_exact, mut next) = clock(tokens, at)?;
    let sign = tokens.get(next)?;
    if !sign.is_any(&["-", "–", "to", "till", "til", "until"]) {
        return None;
    }
    let told = at > 0 && tokens[at - 1].is_any(&["from", "worked"]);
    next += 1;
    let (mut to, to_exact, mut end) = clock(tokens, next)?;
    if sign.is_word() && !(told || from_exact && to_exact) {
        return None;
    }
    // Numbers alone are times where nothing is counted by them: at the beginning of a line, or beside other times.
    let first = at == 0 || found.last().is_some_and(|last| last.at.end + 1 >= at);
    let after = tokens.get(end);
    let counts = after.is_some_and(|next| {
        next.is_word() && !["ing", "ed"].iter().any(|ending| next.word.ends_with(ending)) && !told
            || next.is_any(&["\"", "%", "/", "-", "–", "x"])
    });
    let whole_days = tokens[at].word.len() == 4 && !tokens[at].word.contains('.');
    let alone =
        whole_days && (at == 0 || !tokens[at - 1].is_word()) && after.is_none_or(|next| !next.is_word());
    if !(from_exact || to_exact || told || first && !counts) || whole_days && !alone {
        return None;
    }
    if (from_exact || to_exact) && counts && !first && !told {
        return None;
    }
    if to <= from {
        to += 12 * 60;
    }
    let minutes = to.checked_sub(from).filter(|minutes| (5..=14 * 60).contains(minutes))?;
    if after.is_some_and(|next| next.is("h")) {
        end += 1;
    }
    Some((Decimal::from(minutes), end, whole_days))
}

/// A time of the clock in minutes, whether it can be nothing else, and where it ends.
fn clock(tokens: &[Token], at: usize) -> Option<(u32, bool, usize)> {
    let token = tokens.get(at)?;
    let number = token.number?;
    let (mut hour, minute, mut exact, mut end) = if token.word.len() == 4 && number.is_integer() {
        let whole = number.to_u32()?;
        (whole / 100, whole % 100, false, at + 1)
    } else if let Some((hour, minute)) = token.word.split_once('.') {
        if minute.len() != 2 {
            return None;
        }
        (hour.parse().ok()?, minute.parse().ok()?, false, at + 1)
    } else if tokens.get(at + 1).is_some_and(|sign| sign.is(":") && sign.glued)
        && let Some(minutes) = tokens.get(at + 2).filter(|token| token.glued && token.word.len() == 2)
    {
        (number.to_u32()?, minutes.number?.to_u32()?, true, at + 3)
    } else {
        (number.is_integer().then(|| number.to_u32())??, 0, false, at + 1)
    };
    if hour > 24 || minute > 59 || token.word.len() > 5 {
        return None;
    }
    if let Some(half) = tokens.get(end).filter(|half| half.is_any(&["am", "pm"])) {
        hour = match (half.word.as_str(), hour) {
            ("pm", 1..=11) => hour + 12,
            ("am", 12) => 0,
            _ => hour,
        };
        (exact, end) = (true, end + 1);
    }
    Some((hour * 60 + minute, exact, end))
}

/// A time that is said to have been spent several times: `4 sess x 30m`, `45 min x 2`.
fn multiplied(tokens: &[Token], minutes: Decimal, at: Range<usize>) -> (Decimal, usize, usize) {
    let times = |token: &Token| token.is_any(&["x", "×", "*"]);
    if at.start > 1 && times(&tokens[at.start - 1]) {
        let from = if tokens[at.start - 2].is_word() && at.start > 2 { at.start - 3 } else { at.start - 2 };
        if let Some(many) =
            tokens[from].value().filter(|many| many.is_integer() && *many <= Decimal::from(30))
        {
            return (minutes * many, from, at.end);
        }
    }
    if let [sign, many, ..] = &tokens[at.end.min(tokens.len())..]
        && times(sign)
        && let Some(many) = many.value().filter(|many| many.is_integer() && *many <= Decimal::from(30))
    {
        return (minutes * many, at.start, at.end + 2);
    }
    (minutes, at.start, at.end)
}

/// Numbers that are added to a time: `2hr15 + 40 + 1.25`.
fn sums(tokens: &[Token], found: &mut Vec<Duration>) {
    let Some(mut end) = found.first().map(|first| first.at.end) else { return };
    while tokens.get(end).is_some_and(|sign| sign.is("+")) {
        if let Some(next) = found.iter().find(|one| one.at.start == end + 1) {
            end = next.at.end;
            continue;
        }
        let Some(number) = tokens.get(end + 1).and_then(|token| token.number) else { return };
        if tokens.get(end + 2).is_some_and(|next| !next.is_any(&["+", ",", ";", "."])) {
            return;
        }
        let minutes = if number.is_integer() && number >= Decimal::from(5) {
            number
        } else {
            number * Decimal::from(60)
        };
        let Some(minutes) = minutes.round().to_u32().filter(|minutes| *minutes < 1440) else { return };
        found.push(Duration {
            minutes,
            at: end + 1..end + 2,
            whose: Whose::Own,
            about: false,
            guessed: !number.is_integer(),
        });
        end += 2;
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::record::day_book::token::tokens;

    fn own(line: &str) -> Option<u32> {
        spent(&durations(&tokens(line)))
    }

    #[test]
    fn times_are_read_as_people_write_them() {
        for (line, minutes) in [
            ("x, 1.5h", 90),
            ("x 1,5 h", 90),
            ("90 min", 90),
            ("x 1h30", 90),
            ("x, 2h 20", 140),
            ("x 1 1/2 hrs", 90),
            ("1½ hr", 90),
            ("an hour and a half on the top", 90),
            ("half an hour", 30),
            ("half hr", 30),
            ("20 mins", 20),
            ("three quarters of an hour", 45),
            ("two and a half hours", 150),
            ("1 hr 20 min", 80),
            ("an hour and 20 minutes", 80),
            ("took about an hour and a quarter", 75),
            ("2hr15 + 40 + 1.25", 250),
            ("2h sanding, 1.5h gluing", 210),
            ("FP 4 sess x 30m, spirited off", 120),
            ("2 x 45 min", 90),
            ("10-12, 1-3.30 regluing", 270),
            ("1700-1830", 90),
            ("9.15am - 11am stripping", 105),
            ("worked from 2 till 4", 120),
            ("spent ages. prob 6hrs inc lunch", 360),
            ("no more than 20 mins on the castors", 20),
            ("half day on veneer, say 4h", 240),
            ("my brother helped, 2 hrs each", 120),
            ("left leg: glued, 1h", 60),
        ] {
            assert_eq!(own(line), Some(minutes), "{line}");
        }
    }

    #[test]
    fn waiting_helpers_totals_and_sizes_are_no_time_spent() {
        for line in [
            "left to dry 24h",
            "clamped for 24 hours",
            "2 coats, 12h between",
            "two coats 8 hours apart",
            "oxalic x2 on ring, 10 mins each, rinsed",
            "done! 14h20 all in",
            "w 915 d 460 h 760",
            "6-8 screws per side",
            "made 1900-1925 or so",
            "6 brass screws",
            "another 2h tomorrow",
            "soaked it half an hour",
            "3.30",
            "8am coat 1",
            "half a day",
            "",
        ] {
            assert_eq!(own(line), None, "{line}");
        }
        assert_eq!(own("case: hot-water bottles on the joints for half an hour, hide glue, 3h"), Some(180));
        assert_eq!(own("glued and left overnight 12h, 0.5h"), Some(30));
    }
}
