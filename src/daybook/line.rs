//! A jotted line made ready for reading: its words put right, its clauses, and what of it is told, denied or planned.

use std::collections::BTreeSet;
use std::ops::Range;

use super::words::lists;
use crate::record::day_book::{Token, clauses, is_done, is_plan, tokens};
use crate::trade::Trade;
use crate::unit::fold::{folded_word, folded_words};

/// How a word of a line is meant.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Mood {
    /// It is so.
    Told,
    /// It may be so.
    Doubted,
    /// It is still to be.
    Planned,
    /// It is asked.
    Asked,
    /// It is not so.
    Denied,
}

/// A line made ready.
#[derive(Debug)]
pub(super) struct Line {
    /// The line itself.
    pub(super) text: String,
    /// Its words, put right.
    pub(super) tokens: Vec<Token>,
    /// How each word is meant.
    pub(super) moods: Vec<Mood>,
    /// Its clauses, parted by signs and by words that join.
    pub(super) clauses: Vec<Range<usize>>,
}

/// Every word that the tables of the trade have, for putting words right.
#[derive(Debug)]
pub(super) struct Known(BTreeSet<String>);

impl Known {
    pub(super) fn of(trade: &Trade) -> Known {
        let entries = trade.vocabulary().into_iter().flat_map(|(_, entries)| entries);
        let forms = entries.flat_map(|entry| entry.also.into_iter().chain([entry.id, entry.name]));
        let mut words: BTreeSet<String> = forms.flat_map(|form| folded_words(&form)).collect();
        words.extend(lists().parts.names.iter().map(|part| folded_word(part)));
        Known(words)
    }

    fn has(&self, word: &str) -> bool {
        self.0.contains(&folded_word(word))
    }

    /// The one word that a shortened or mistyped one stands for.
    fn meant(&self, word: &str) -> Option<&str> {
        let letters = word.chars().count();
        if !word.is_ascii() || letters < 3 {
            return None;
        }
        let vowel = |c: char| "aeiou".contains(c);
        let one = |mut found: Vec<&'static str>| {
            found.sort_unstable();
            found.dedup();
            if found.len() == 1 { found.pop() } else { None }
        };
        // Without its vowels: `rplcd`, `scrtch`, `crnr`.
        if !word.contains(vowel) && letters >= 4 {
            let skeleton = |known: &str| -> String {
                let mut bones = String::new();
                for c in known.chars().filter(|c| !vowel(*c)) {
                    if !bones.ends_with(c) {
                        bones.push(c);
                    }
                }
                bones
            };
            let wanted = skeleton(word);
            let bench =
                lists().line.often.iter().copied().filter(|known| skeleton(known) == wanted).collect();
            return one(bench);
        }
        // With a slip of the finger: two letters the other way round, one doubled, missing or wrong.
        if letters >= 5 && !self.has(word) && !lists().line.often.contains(&word) {
            let near = lists().line.often.iter().copied().filter(|known| slips(word, known)).collect();
            return one(near);
        }
        None
    }
}

/// Whether one slip of the finger makes one word of the other.
fn slips(typed: &str, word: &str) -> bool {
    let (typed, word) = (typed.as_bytes(), word.as_bytes());
    if typed[0] != word[0] || typed.len().abs_diff(word.len()) > 1 {
        return false;
    }
    let head = typed.iter().zip(word).take_while(|(a, b)| a == b).count();
    let (typed, word) = (&typed[head..], &word[head..]);
    let tail = typed.iter().rev().zip(word.iter().rev()).take_while(|(a, b)| a == b).count();
    let (typed, word) = (&typed[..typed.len() - tail], &word[..word.len() - tail]);
    match (typed, word) {
        ([], [_]) | ([_], []) => true,
        // Another last letter makes another word: `waxes`.
        ([_], [_]) => tail > 0,
        ([a, b], [c, d]) => a == d && b == c,
        _ => false,
    }
}

impl Line {
    /// Makes a line ready.
    pub(super) fn of(text: &str, known: &Known) -> Line {
        let tokens = put_right(text, tokens(text), known);
        let clauses = parted(&tokens);
        let moods = moods(&tokens, &clauses);
        Line { text: text.to_owned(), tokens, moods, clauses }
    }

    /// The word at a place; empty beyond the end.
    pub(super) fn word(&self, at: usize) -> &str {
        self.tokens.get(at).map_or("", |token| token.word.as_str())
    }

    /// The words of some tokens as they are compared.
    pub(super) fn phrase(&self, range: Range<usize>) -> String {
        self.tokens[range].iter().map(|token| token.word.as_str()).collect::<Vec<_>>().join(" ")
    }

    /// The words of some tokens as they were written.
    pub(super) fn written(&self, range: Range<usize>) -> &str {
        match (self.tokens.get(range.start), self.tokens.get(range.end.wrapping_sub(1))) {
            (Some(first), Some(last)) if range.start < range.end => {
                self.text[first.span.start..last.span.end].trim()
            }
            _ => "",
        }
    }

    /// The whole line without the spaces around it.
    pub(super) fn clone_words(&self) -> String {
        self.text.trim().to_owned()
    }

    /// The clause that a token stands in.
    pub(super) fn clause(&self, at: usize) -> Range<usize> {
        self.clauses.iter().find(|clause| clause.contains(&at)).cloned().unwrap_or(at..at + 1)
    }

    /// Whether a clause has one of these words, or of these pairs of words.
    pub(super) fn has(&self, range: &Range<usize>, words: &[&str]) -> bool {
        range.clone().any(|at| words.iter().any(|word| self.stands(at, word, range.end)))
    }

    /// Where one of these words stands first in a range.
    pub(super) fn find(&self, range: &Range<usize>, words: &[&str]) -> Option<usize> {
        range.clone().find(|at| words.iter().any(|word| self.stands(*at, word, range.end)))
    }

    /// Whether a word, or some words, stand at a place before the end.
    pub(super) fn stands(&self, at: usize, words: &str, end: usize) -> bool {
        let mut place = at;
        words.split(' ').all(|word| {
            let here = place < end && self.word(place) == word;
            place += 1;
            here
        })
    }

    /// Whether a deed stands at a place: in its own form, as `planing`, or as `had to plane`.
    pub(super) fn does(&self, at: usize, words: &str, end: usize) -> bool {
        if self.stands(at, words, end) {
            return true;
        }
        let (first, rest) = words.split_once(' ').unwrap_or((words, ""));
        let Some(stem) = first.strip_suffix("ed").filter(|stem| stem.len() > 2) else { return false };
        let word = self.word(at);
        let bare = word.strip_prefix(stem).unwrap_or("-");
        let before = |back: usize| at.checked_sub(back).map_or("", |at| self.word(at));
        let tool = lists().line.tools.contains(&self.word(at + 1));
        let goes_on = !tool
            && ["ing", "ning", "ping", "ming"].contains(&bare)
            && !lists().line.no_deed.contains(&before(1));
        let had_to = ["", "e"].contains(&bare) && before(1) == "to" && before(2) == "had";
        (goes_on || had_to) && at < end && (rest.is_empty() || self.stands(at + 1, rest, end))
    }

    /// The sentence around a token: what lies between full stops, semicolons and the like.
    pub(super) fn sentence(&self, at: usize) -> Range<usize> {
        let is_end = |at: &usize| {
            let token = &self.tokens[*at];
            token.is_any(&[";", "!", "?", "—"])
                || token.is_any(&[".", ":"]) && self.tokens.get(at + 1).is_none_or(|next| !next.glued)
                || token.is_any(&["-", "–"])
                    && !token.glued
                    && self.tokens.get(at + 1).is_some_and(|next| !next.glued)
        };
        let start = (0..at).rev().find(is_end).map_or(0, |end| end + 1);
        let end = (at..self.tokens.len()).find(is_end).unwrap_or(self.tokens.len());
        start..end.max(at)
    }
}

/// The same tokens with shortened and mistyped words put right, and words of several parts as one.
fn put_right(text: &str, all: Vec<Token>, known: &Known) -> Vec<Token> {
    let mut right: Vec<Token> = Vec::new();
    let mut at = 0;
    let is = |at: usize, word: &str| all.get(at).is_some_and(|token| token.is(word));
    let glued = |at: usize| all.get(at).is_some_and(|token| token.glued);
    let glues = |token: &Token| lists().deeds.glue.iter().any(|deed| token.is(deed));
    while at < all.len() {
        let token = &all[at];
        let merged = |words: &str, until: usize| Token {
            word: words.to_owned(),
            number: None,
            span: token.span.start..all[until].span.end,
            glued: token.glued,
        };
        let stroke = is(at + 1, "/") && glued(at + 1);
        let (made, used) = match token.word.as_str() {
            "w" if stroke && is(at + 2, "s") && glued(at + 2) => (merged("white spirit", at + 2), 3),
            "w" if stroke => (merged("with", at + 1), 2),
            "h" if stroke && is(at + 2, "wax") => (merged("hardwax", at + 2), 3),
            "o" if stroke && is(at + 2, "n") => (merged("overnight", at + 2), 3),
            "re" | "un" | "de" if is(at + 1, "-") && glued(at + 1) && glued(at + 2) => {
                let whole = format!("{}{}", token.word, all[at + 2].word);
                let whole = lists().short.get(whole.as_str()).copied().unwrap_or(&whole);
                (merged(whole, at + 2), 3)
            }
            "w" if all.get(at + 1).is_some_and(|next| !next.glued && next.is_word()) => {
                (merged("with", at), 1)
            }
            "hardwax" if !is(at + 1, "oil") => (merged("hardwax oil", at), 1),
            "fp" => (merged("french polished", at), 1),
            // `reglued, hide, cramped overnight`
            "hide"
                if !is(at + 1, "glue")
                    && all.iter().any(glues)
                    && (at == 0 || all[at - 1].is_any(&lists().line.before_glue)) =>
            {
                (merged("hide glue", at), 1)
            }
            "slotted"
                if !["screw", "screws", "angle", "bracket", "plate", "table", "plates"]
                    .contains(&all.get(at + 1).map_or("", |next| next.word.as_str())) =>
            {
                (merged("slotted screws", at), 1)
            }
            _ => (put_right_word(text, token, known), 1),
        };
        // What stands for several words is told by each of them.
        for (number, word) in made.word.split(' ').enumerate() {
            right.push(Token {
                word: word.to_owned(),
                number: made.number,
                span: made.span.clone(),
                glued: made.glued && number == 0,
            });
        }
        at += used;
    }
    right
}

fn put_right_word(text: &str, token: &Token, known: &Known) -> Token {
    if !token.is_word() {
        return token.clone();
    }
    let word = token.word.as_str();
    let long = lists().short.get(word).copied();
    // Names of people and places are left alone.
    let first = text[token.span.clone()].chars().next().is_some_and(char::is_uppercase);
    let name = first && token.span.start > 0 && text[token.span.clone()].chars().any(char::is_lowercase);
    let word = long.or_else(|| if name { None } else { known.meant(word) }).unwrap_or(word);
    Token { word: word.to_owned(), ..token.clone() }
}

/// The clauses of a line, parted by signs and by words that join.
fn parted(tokens: &[Token]) -> Vec<Range<usize>> {
    let mut parts = Vec::new();
    for clause in clauses(tokens) {
        let mut start = clause.start;
        for at in clause.clone() {
            // `two and a half`, `salt and vinegar`: only a word with a deed after it makes another clause of `and`.
            let joins = tokens[at].is_any(&lists().line.joins) && at > start && at + 1 < clause.end;
            let small = tokens[at].is_any(&["and", "&", "+", "also", "plus"]);
            if joins
                && (!small
                    || tokens[at + 1..clause.end.min(at + 6)]
                        .iter()
                        .any(|token| is_done(token) || token.value().is_some())
                    || tokens[at].is("+"))
            {
                parts.push(start..at);
                start = at + 1;
            }
        }
        if start < clause.end {
            parts.push(start..clause.end);
        }
    }
    parts
}

/// How each word is meant.
fn moods(tokens: &[Token], clauses: &[Range<usize>]) -> Vec<Mood> {
    let mut moods = vec![Mood::Told; tokens.len()];
    let mut planning: Option<usize> = None;
    for (number, clause) in clauses.iter().enumerate() {
        let words = &tokens[clause.clone()];
        let sign = |at: usize| tokens.get(at).map_or("", |token| token.word.as_str());
        let after_stop = number > 0
            && (clauses[number - 1].end..clause.start).any(|at| [".", ";", "!", "?"].contains(&sign(at)));
        if after_stop {
            planning = None;
        }
        let asked = (clause.end..clauses.get(number + 1).map_or(tokens.len(), |next| next.start))
            .any(|at| sign(at) == "?");
        let done = words.iter().any(is_done);
        let plan = is_plan(words);
        if plan && !done {
            // What stands behind `todo:` is planned too, however it goes on.
            let headed = sign(clause.end) == ":" || words.len() == 1;
            planning = headed.then_some(number);
        }
        // A need that the line itself answers is none any more: `seat needs new webbing so rewebbed it`.
        let needs = words.iter().any(|token| token.is_any(&["needs", "need", "needed"]));
        let answered = needs
            && clauses[number + 1..].iter().any(|later| {
                tokens[later.clone()]
                    .iter()
                    .any(|token| is_done(token) && !token.is_any(&["is", "was", "were", "had"]))
            });
        let plan = plan && !answered;
        let planned = !done && (plan || planning.is_some());
        for at in clause.clone() {
            if planned {
                moods[at] = Mood::Planned;
            }
            if asked {
                moods[at] = moods[at].max(Mood::Asked);
            }
        }
        if words.first().is_some_and(|first| first.is_any(&["ordered", "order", "ordering"])) && !planned {
            clause.clone().for_each(|at| moods[at] = Mood::Planned);
        }
        // A plan that comes behind what was done: `glued it today clamps off tomorrow`.
        if plan && done && !planned {
            let from =
                words.iter().position(|token| token.is_any(&["must", "needs", "need", "should", "todo"]));
            if let Some(from) = from {
                moods[clause.start + from..clause.end].iter_mut().for_each(|mood| *mood = Mood::Planned);
            }
        }
        let doubt = lists().line.doubts.iter().any(|doubt| {
            let parts: Vec<&str> = doubt.split(' ').collect();
            words.windows(parts.len()).any(|run| run.iter().zip(&parts).all(|(token, part)| token.is(part)))
        });
        if doubt {
            clause.clone().for_each(|at| moods[at] = moods[at].max(Mood::Doubted));
        }
        deny(tokens, clause, &mut moods);
    }
    moods
}

/// Marks what is denied: what follows a word that denies, up to the end of its clause or to a number.
fn deny(tokens: &[Token], clause: &Range<usize>, moods: &mut [Mood]) {
    let mut at = clause.start;
    while at < clause.end {
        let next = tokens.get(at + 1);
        let is_next = |words: &[&str]| next.is_some_and(|next| next.is_any(words));
        // `no more than`, `not only`, `no wait`, `no two` and `no 8 screws` deny nothing.
        let nothing = is_next(&lists().line.denies_nothing)
            || tokens[at].is("no") && next.is_some_and(|next| next.value().is_some())
            || is_next(&["-", "–"]);
        // Nor does a test for nothing: `nothing wrong`.
        if !tokens[at].is_any(&lists().line.denies)
            && !tokens
                .get(at..at + 2)
                .is_some_and(|two| two[0].is_any(&["instead", "rather"]) && two[1].is_any(&["of", "than"]))
            || nothing
        {
            at += 1;
            continue;
        }
        let only_thing = tokens[at].is("without");
        for place in at + 1..clause.end {
            if only_thing && (tokens[place].number.is_some() || place > at + 4) {
                break;
            }
            if place > at + 1 && tokens[place].is_any(&["just", "only", "but", "except"]) {
                break;
            }
            moods[place] = Mood::Denied;
        }
        break;
    }
    // `worm: none`, `stripped? no`
    if clause.len() <= 2
        && clause.start > 1
        && tokens[clause.start].is_any(&["none", "no", "nope", "not"])
        && tokens[clause.start - 1].is_any(&[":", "?"])
    {
        let before = (0..clause.start - 1).rev().take_while(|at| !tokens[*at].is_any(&[",", ";", "."]));
        before.for_each(|at| moods[at] = Mood::Denied);
    }
}
