//! How a phrase is cut into words, clauses and parts.
//!
//! Clauses end at commas and at words that join, and each has its leading part and its lesser ones (`on the top`). What is
//! denied is marked, and how the small words bear on it.

use super::bearing::{Bearing, SmallWords};
use super::form::{Forms, SHORTEST_OF_PAIR};
use super::phrase::Kind;
use super::spoken::WordTable;
use super::stem::{Ending, ending, stem};
use crate::unit::fold::{folded_word, plain};

/// No phrase is longer, in bytes; what is longer are sentences.
const LONGEST_PHRASE: usize = 200;

/// No phrase has more words, so that a set of them is the bits of a number.
const MOST_WORDS: usize = 32;

/// A word of a phrase.
#[derive(Debug)]
pub(super) struct Token {
    pub(super) form: String,
    pub(super) stem: String,
    pub(super) bearing: Option<Bearing>,
    /// Where the word stands in the phrase, in bytes of its plain text.
    place: (usize, usize),
    /// Which clause it stands in, and which part of that.
    pub(super) clause: usize,
    pub(super) part: usize,
    pub(super) denied: bool,
    /// The forms of the table that it stands in, whatever its ending.
    pub(super) forms: Vec<usize>,
}

impl Token {
    pub(super) fn new(form: &str, place: (usize, usize)) -> Token {
        let (form, forms) = (form.to_owned(), Vec::new());
        Token { stem: form.clone(), form, bearing: None, place, clause: 0, part: 0, denied: false, forms }
    }

    /// Whether a form of the table has it.
    pub(super) fn known(&self) -> bool {
        !self.forms.is_empty()
    }

    pub(super) fn tells(&self) -> bool {
        self.bearing.is_none()
    }

    /// Whether it tells something within a spoken form: `no` does in `no key`.
    pub(super) fn tells_within(&self) -> bool {
        !matches!(
            self.bearing,
            Some(Bearing::Silent | Bearing::Of | Bearing::Parts | Bearing::Joins | Bearing::Passes)
        )
    }

    /// Whether it says what was done to a thing, so that the thing may follow.
    pub(super) fn is_participle(&self) -> bool {
        let is_noun = ["eed", "based", "headed"].iter().any(|end| self.form.ends_with(end));
        self.form.len() > 3 && !is_noun && ending(&self.form) == Some(Ending::Done)
    }

    /// In which clause and which part of it the word stands.
    pub(super) fn spot(&self) -> (usize, usize) {
        (self.clause, self.part)
    }

    /// Gives the word its stem. A word that is passed over is itself: a moulding is no mould.
    pub(super) fn take_stem(&mut self) {
        if self.bearing != Some(Bearing::Passes) {
            self.stem = stem(&self.form);
        }
    }
}

/// How a clause is set off from the one before it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Break {
    Comma,
    Join,
}

/// A phrase in its words.
#[derive(Debug)]
pub(super) struct Phrase {
    text: String,
    pub(super) tokens: Vec<Token>,
    /// Which words a comma or its like stands before.
    commas: Vec<usize>,
    breaks: Vec<Break>,
    /// Whether it is asked and not told.
    pub(super) doubted: bool,
}

impl Phrase {
    /// The words of a phrase as the table writes them; `None` where it is too long for one.
    pub(super) fn of<M>(phrase: &str, forms: &Forms<M>) -> Option<Phrase> {
        if phrase.len() > LONGEST_PHRASE {
            return None;
        }
        let text = plain(phrase).into_owned();
        let (tokens, commas, breaks) = (Vec::new(), Vec::new(), Vec::new());
        let mut phrase = Phrase { text, tokens, commas, breaks, doubted: false };
        let mut rest = 0;
        while rest < phrase.text.len() {
            let text = &phrase.text;
            let start = text[rest..].find(char::is_alphanumeric).map_or(text.len(), |at| rest + at);
            let length = text[start..].find(|c: char| !c.is_alphanumeric());
            let end = length.map_or(text.len(), |length| start + length);
            let gap = &text[rest..start];
            phrase.doubted |= gap.contains('?');
            let apart = sets_off(gap, &text[..rest], &text[start..]);
            let form = folded_word(&text[start..end]);
            if apart {
                phrase.commas.push(phrase.tokens.len());
            }
            add(&mut phrase.tokens, &form, (start, end), apart, forms);
            if phrase.tokens.len() > MOST_WORDS {
                return None;
            }
            rest = end;
        }
        Some(phrase)
    }

    /// Numbers its clauses and their parts, once it is known how each word bears on it and which of them the table has.
    pub(super) fn cut(&mut self, kind: Kind) {
        self.breaks = cut(&mut self.tokens, &self.commas, kind);
        deny(&mut self.tokens);
    }

    /// Finds how each word bears on it.
    pub(super) fn bear(&mut self, small: &SmallWords, table: WordTable) {
        bear(&mut self.tokens, &self.commas, small, table);
    }

    /// The words of these bits as they were typed.
    pub(super) fn typed(&self, words: u32) -> Vec<String> {
        let told = self.tokens.iter().enumerate().filter(|(at, _)| words & bit(*at) != 0);
        let mut places: Vec<(usize, usize)> = told.map(|(_, token)| token.place).collect();
        places.dedup();
        places.into_iter().map(|(start, end)| self.text[start..end].to_owned()).collect()
    }

    /// Whether a word such as `and` lies between two clauses that stand beside each other.
    pub(super) fn joined(&self, one: usize, other: usize) -> bool {
        one.abs_diff(other) == 1 && self.breaks[one.min(other)] == Break::Join
    }

    /// Whether only commas lie between two clauses.
    pub(super) fn only_commas(&self, first: usize, last: usize) -> bool {
        self.breaks[first..last].iter().all(|between| *between == Break::Comma)
    }
}

/// Adds a word as the table writes it: two words may stand as one, as `waterbased`, and one as two, as `chip board`.
pub(super) fn add<M>(
    tokens: &mut Vec<Token>,
    form: &str,
    place: (usize, usize),
    apart: bool,
    forms: &Forms<M>,
) {
    if form.is_empty() {
        return;
    }
    if let Some(before) = tokens.last_mut().filter(|_| !apart) {
        let both = format!("{}{form}", before.form);
        let short = before.form.len().min(form.len()) < SHORTEST_OF_PAIR;
        if !short && forms.has_word(&both) && forms.parted(&both).is_none() {
            *before = Token::new(&both, (before.place.0, place.1));
            return;
        }
    }
    let (first, second) = forms.parted(form).map_or((form, ""), |at| form.split_at(at));
    for form in [first, second].into_iter().filter(|form| !form.is_empty()) {
        tokens.push(Token::new(form, place));
    }
}

/// Whether what stands between two words sets a clause off.
fn sets_off(gap: &str, before: &str, after: &str) -> bool {
    if gap == " " {
        return false;
    }
    let digits = |text: Option<char>| text.is_some_and(|c| c.is_ascii_digit());
    let between_digits = digits(before.chars().next_back()) && digits(after.chars().next());
    let dashed = gap.trim() != gap && ["-", "–", "—"].contains(&gap.trim());
    // A number is often written `no. 6`.
    let numbered = gap.trim() == "." && digits(after.chars().next());
    !between_digits
        && !numbered
        && (dashed || gap.contains([',', ';', ':', '(', ')', '.', '/', '?', '!', '[', '+']))
}

/// Finds how each word bears on the phrase: the longest entry of the table that begins with it says.
pub(super) fn bear(tokens: &mut [Token], commas: &[usize], small: &SmallWords, table: WordTable) {
    let is_number = |token: &Token| token.form.starts_with(|c: char| c.is_ascii_digit());
    let mut at = 0;
    while at < tokens.len() {
        let longest = (tokens.len() - at).min(small.longest(&tokens[at].form));
        let found = (1..=longest).rev().find_map(|many| {
            let one_clause = !commas.iter().any(|comma| (at + 1..at + many).contains(comma));
            let key: String = tokens[at..at + many].iter().map(|token| token.form.as_str()).collect();
            small.bearing(&key, table).filter(|_| one_clause).map(|bearing| (many, bearing))
        });
        let (many, mut bearing) = found.map_or((1, None), |(many, bearing)| (many, Some(bearing)));
        let counted = || at > 0 && is_number(&tokens[at - 1]) || tokens.get(at + 1).is_some_and(is_number);
        if is_number(&tokens[at]) || ["no", "nos"].contains(&tokens[at].form.as_str()) && counted() {
            bearing = Some(Bearing::Passes);
        }
        // An hour is a measure after a number, and else it may be a rush hour.
        let measured = || tokens[..at].last().is_some_and(|token| token.bearing == Some(Bearing::Passes));
        if bearing == Some(Bearing::Measures) {
            bearing = measured().then_some(Bearing::Passes);
        }
        tokens[at..at + many].iter_mut().for_each(|token| token.bearing = bearing);
        at += many;
    }
}

/// Numbers the clauses of a phrase and the parts of each; how each clause but the first is set off.
fn cut(tokens: &mut [Token], commas: &[usize], kind: Kind) -> Vec<Break> {
    let mut breaks = Vec::new();
    let (mut clause, mut part, mut told) = (0, 0, false);
    for (at, token) in tokens.iter_mut().enumerate() {
        let joins = matches!(token.bearing, Some(Bearing::Joins | Bearing::Doubts));
        let new = match (commas.contains(&at), joins) {
            (true, _) => Some(Break::Comma),
            (false, true) => Some(Break::Join),
            (false, false) => None,
        };
        if let Some(new) = new.filter(|_| at > 0) {
            breaks.push(new);
            (clause, part, told) = (clause + 1, 0, false);
        }
        let of_another = match token.bearing {
            Some(Bearing::Parts | Bearing::Lies) => true,
            Some(Bearing::Of) => kind.is_things(),
            // What was done to a thing that was named: `softwood painted black`.
            bearing @ (None | Some(Bearing::Passes | Bearing::Turns)) => {
                let described = bearing.is_some() || !token.known();
                kind.is_things() && told && described && token.is_participle()
            }
            _ => false,
        };
        part += usize::from(of_another);
        told |= token.tells();
        (token.clause, token.part) = (clause, part);
    }
    breaks
}

/// Marks what is denied: what follows in the clause and in what `or` adds to it; where nothing follows, the clause, and
/// where nothing else is in it either, the one before: `cracks: none`.
fn deny(tokens: &mut [Token]) {
    for at in 0..tokens.len() {
        if tokens[at].bearing != Some(Bearing::Denies) {
            continue;
        }
        let clause = tokens[at].clause;
        let tells = |token: &&Token| token.clause == clause && token.tells();
        let (from, first) = match (
            tokens[at + 1..].iter().any(|token| tells(&token)),
            tokens.iter().any(|token| tells(&token)),
        ) {
            (true, _) => (at + 1, clause),
            (false, true) => (0, clause),
            (false, false) => (0, clause.saturating_sub(1)),
        };
        let mut last = clause;
        for token in tokens.iter_mut().skip(from) {
            if token.clause == last + 1 && token.form == "or" {
                last = token.clause;
            }
            token.denied |= (first..=last).contains(&token.clause);
        }
    }
}

/// The bit of a word in a set of them.
pub(super) fn bit(at: usize) -> u32 {
    1 << at
}
