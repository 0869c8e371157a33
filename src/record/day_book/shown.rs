//! What of a jotted line a buyer and the public may read.
//!
//! Nobody is asked before a line is printed, so a line stays in the archive as soon as anything in it may be private: a
//! person, a word that may be somebody's name, where somebody is reached, money. How long it took is left out of every
//! line, as all hours are the archive's.

use std::ops::Range;

use super::kind::is_done;
use super::spent::{Duration, Whose};
use super::token::{Token, clauses};
use super::words::{is_known, is_known_capital, private};
use crate::fields::Private;

/// Why a line stays in the archive, with the word that keeps it there.
#[derive(Debug, Clone, PartialEq)]
pub struct Withheld {
    /// Why.
    pub why: Why,
    /// The word; empty where it is the whole line.
    pub word: Private<String>,
}

/// What may be private of a line.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Why {
    /// Its maker says so.
    Asked,
    /// It speaks of people.
    People,
    /// A word may be somebody's name.
    Name,
    /// It tells where somebody lives or is reached.
    Address,
    /// It speaks of money.
    Money,
    /// It tells a time and nothing else.
    Nothing,
}

impl Withheld {
    pub(super) fn new(why: Why, word: &str) -> Withheld {
        Withheld { why, word: Private::new(word.to_owned()) }
    }

    /// Why, for the workshop's own eyes: `“Oakley” may be a name`.
    pub fn told(&self) -> String {
        let word = self.word.for_archive();
        match self.why {
            Why::Asked => "it says that it is private".to_owned(),
            Why::People => format!("“{word}” speaks of people"),
            Why::Name => format!("“{word}” may be a name"),
            Why::Address => format!("“{word}” may say where somebody is reached"),
            Why::Money => format!("“{word}” speaks of money"),
            Why::Nothing => "it tells a time and nothing else".to_owned(),
        }
    }
}

/// What of a line others than the workshop may read.
pub(super) fn shown(line: &str, tokens: &[Token], durations: &[Duration]) -> Result<String, Withheld> {
    let all = clauses(tokens);
    for (at, token) in tokens.iter().enumerate() {
        if let Some(why) = why_private(line, tokens, at, &all, durations) {
            return Err(Withheld::new(why, &line[token.span.clone()]));
        }
    }
    let times = durations.iter().filter(|one| [Whose::Own, Whose::Helper, Whose::Total].contains(&one.whose));
    let hidden: Vec<Range<usize>> = times.map(|one| with_fillers(tokens, &one.at, &all)).collect();
    let text = left(line, tokens, &hidden);
    match text.chars().any(char::is_alphabetic) {
        true => Ok(text),
        false => Err(Withheld::new(Why::Nothing, "")),
    }
}

/// What may be private of the word at a place.
fn why_private(
    line: &str,
    tokens: &[Token],
    at: usize,
    clauses: &[Range<usize>],
    durations: &[Duration],
) -> Option<Why> {
    let (token, words) = (&tokens[at], private());
    if words.people.contains(&token.word) {
        return Some(Why::People);
    }
    if words.places.contains(&token.word) || token.is("@") || is_web_address(tokens, at) {
        return Some(Why::Address);
    }
    if is_called_number(tokens, at) || is_postcode(line, token) {
        return Some(Why::Address);
    }
    let timed = durations.iter().any(|one| one.at.contains(&at));
    if words.money.contains(&token.word)
        || words.money_signs.contains(&token.word)
        || !timed && is_price(tokens, at)
    {
        return Some(Why::Money);
    }
    may_be_name(line, tokens, at, clauses).then_some(Why::Name)
}

/// A time with the words before it that say nothing without it: `took about`, `spent`.
fn with_fillers(tokens: &[Token], at: &Range<usize>, clauses: &[Range<usize>]) -> Range<usize> {
    const BEFORE: &[&str] = &[
        "about", "took", "me", "spent", "say", "approx", "roughly", "in", "for", "just", "over", "nearly",
        "only", "~", "prob", "probably", "+", "another", "all",
    ];
    let start = clauses.iter().find(|clause| clause.contains(&at.start)).map_or(0, |clause| clause.start);
    let mut from = at.start;
    while from > start && tokens[from - 1].is_any(BEFORE) {
        from -= 1;
    }
    from..at.end
}

/// The text without what is hidden, and without signs that are left over.
fn left(line: &str, tokens: &[Token], hidden: &[Range<usize>]) -> String {
    let is_hidden = |at: usize| hidden.iter().any(|range| range.contains(&at));
    let mut text = String::new();
    let mut last_kept: Option<usize> = None;
    for (at, token) in tokens.iter().enumerate() {
        if is_hidden(at) {
            continue;
        }
        let is_sign = !token.is_word() && token.number.is_none();
        let gap = match last_kept {
            Some(last) if last + 1 == at => &line[tokens[last].span.end..token.span.start],
            Some(_) if token.is_any(&[",", ";", ".", ":", ")", "!", "?"]) => "",
            Some(_) => " ",
            None => "",
        };
        // A sign behind what was hidden has nothing to part.
        let parts = token.is_any(&[",", ";", ":", "-", "–", "+", "&"]);
        let after_gap = last_kept.is_none_or(|last| last + 1 != at);
        if is_sign
            && parts
            && after_gap
            && (text.is_empty() || text.ends_with([',', ';', ':', '-', '–', '+', '.']))
        {
            continue;
        }
        text.push_str(gap);
        text.push_str(&line[token.span.clone()]);
        last_kept = Some(at);
    }
    let text = text.trim().trim_end_matches([',', ';', ':', '-', '–', '+', ' ', '(', '&']);
    text.trim_start_matches([',', ';', ':', '–', '+', ' ', ')', '&', '.']).to_owned()
}

/// Whether a word may be somebody's name: a given name, one with a capital that names nothing of the bench, or one that is
/// not known where a name may stand.
fn may_be_name(line: &str, tokens: &[Token], at: usize, clauses: &[Range<usize>]) -> bool {
    let token = &tokens[at];
    if !token.is_word() {
        return false;
    }
    let (text, words) = (&line[token.span.clone()], private());
    // `Dora's`, and `it's`
    let base = text.split(['\'', '’']).next().unwrap_or_default();
    let base = crate::unit::fold::plain(base).into_owned();
    let single = token.word.strip_suffix('s').unwrap_or(&token.word);
    if [token.word.as_str(), single, &base].iter().any(|word| words.given_names.contains(*word)) {
        return true;
    }
    // Of other letters it cannot be told what is a name.
    if !token.word.is_ascii() {
        return true;
    }
    let known = |word: &str| word.len() == 1 || is_known(word);
    let next = tokens.get(at + 1);
    let capital = text.chars().any(char::is_uppercase);
    if text.chars().count() == 1 {
        let initial = next.is_some_and(|point| point.is(".") && point.glued) && tokens.len() > at + 2;
        return capital && (initial || !LETTERS.contains(text));
    }
    let known = known(&token.word) || known(&base);
    if capital && !known {
        return true;
    }
    let before = at.checked_sub(1).map(|at| &tokens[at]);
    let told = next.is_some_and(|next| words.says.contains(&next.word));
    let after = before.is_some_and(|before| words.before_names.contains(&before.word));
    let begins = clauses.iter().any(|clause| clause.start == at);
    if capital && !is_known_capital(&token.word) && !(text.chars().all(char::is_uppercase) && text.len() < 5)
    {
        return told || after && !begins;
    }
    let beside_me = before.is_some_and(|and| and.is_any(&["and", "&", "+"]))
        && at.checked_sub(2).is_some_and(|me| tokens[me].is_any(&["me", "i", "myself", "us"]))
        || next.is_some_and(|and| and.is_any(&["and", "&", "+"]))
            && tokens.get(at + 2).is_some_and(|me| me.is_any(&["me", "i", "myself", "us"]));
    let does = begins && next.is_some_and(is_done);
    !known && token.word.len() > 2 && (told || after || beside_me || does)
}

/// Capitals that stand alone and are no initials: `I`, `P180`, `T hinge`, the sides of a size.
const LETTERS: &str = "ABCDGHILPSTUVWX";

/// Whether a web address stands at a place: `x.com`, with or without what comes before it.
fn is_web_address(tokens: &[Token], at: usize) -> bool {
    let ends = ["com", "org", "net", "co", "uk", "eu", "de", "fr", "info", "shop", "io"];
    tokens[at].is(".")
        && tokens[at].glued
        && at > 0
        && tokens[at - 1].is_word()
        && tokens.get(at + 1).is_some_and(|next| next.glued && next.is_any(&ends))
}

/// Whether a number that somebody is called by begins at a place: six digits or more, or nine and more in a row.
fn is_called_number(tokens: &[Token], at: usize) -> bool {
    let digits = |token: &Token| match token.number.is_some() && !token.word.contains(['.', '/', ',']) {
        true => token.word.bytes().filter(u8::is_ascii_digit).count(),
        false => 0,
    };
    if digits(&tokens[at]) >= 6 {
        return true;
    }
    let (mut spaced, mut signed) = (0, 0);
    let mut parted = false;
    for token in &tokens[at..] {
        match digits(token) {
            0 if token.is_any(&["-", "–", "(", ")", "/", "."]) => parted = true,
            0 => break,
            count => {
                signed += count;
                spaced += if parted { 0 } else { count };
            }
        }
    }
    spaced >= 9 || signed >= 10
}

/// Whether a British postcode begins with this word: `AB1 2CD`.
fn is_postcode(line: &str, token: &Token) -> bool {
    let mut words = line[token.span.start..].split([' ', ',', '.']);
    let (Some(out), Some(inward)) = (words.next(), words.next()) else { return false };
    let letters = out.bytes().take_while(u8::is_ascii_alphabetic).count();
    let begins_whole = token.span.start == 0 || !token.glued;
    let [first, second, third] = inward.as_bytes() else { return false };
    begins_whole
        && (1..=2).contains(&letters)
        && (letters + 1..=letters + 2).contains(&out.len())
        && out.as_bytes()[letters].is_ascii_digit()
        && first.is_ascii_digit()
        && second.is_ascii_alphabetic()
        && third.is_ascii_alphabetic()
}

/// Whether a number is a price by its form: `40p`, `12.50`, `12 each`.
fn is_price(tokens: &[Token], at: usize) -> bool {
    let Some(amount) = tokens[at].number else { return false };
    let next = tokens.get(at + 1);
    // `320p` is a grit to some.
    let pence = next.is_some_and(|p| p.glued && p.is("p"))
        && (amount < rust_decimal::Decimal::from(40)
            || tokens.get(at + 2).is_some_and(|each| each.is_any(&["a", "per", "each"])));
    let units =
        ["mm", "cm", "m", "kg", "g", "l", "ml", "h", "hr", "hrs", "in", "inch", "inches", "\"", "%", "x"];
    let hundredths = tokens[at].word.rsplit_once(['.', ',']).is_some_and(|(_, part)| part.len() == 2);
    let thirds = hundredths && !next.is_some_and(|unit| unit.is_any(&units));
    pence || thirds || next.is_some_and(|each| each.is("each"))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::record::day_book::spent::durations;
    use crate::record::day_book::token::tokens;

    fn told(line: &str) -> Result<String, Why> {
        let tokens = tokens(line);
        shown(line, &tokens, &durations(&tokens)).map_err(|withheld| withheld.why)
    }

    #[test]
    fn hours_are_left_out_and_the_rest_stays_as_it_was_written() {
        for (line, wanted) in [
            (
                "left leaf: closed the split, hide glue, two keys, 1.5h",
                "left leaf: closed the split, hide glue, two keys",
            ),
            ("2h sanding the top", "sanding the top"),
            (
                "rewebbed it with black and white took about an hour and a quarter",
                "rewebbed it with black and white",
            ),
            ("glued, clamped 24h, 0.5h", "glued, clamped 24h"),
            ("wax, first coat, 0.75h", "wax, first coat"),
            ("half an hour on the Danish oil", "on the Danish oil"),
        ] {
            assert_eq!(told(line).as_deref(), Ok(wanted), "{line}");
        }
    }

    #[test]
    fn lines_of_the_bench_are_shown() {
        let lines = include_str!("../../../tests/data/daybook_shown.txt");
        let kept: Vec<String> = lines
            .lines()
            .filter(|line| !line.is_empty() && !line.starts_with('#'))
            .filter_map(|line| told(line).err().map(|why| format!("{why:?}: {line}")))
            .collect();
        assert_eq!(kept, [""; 0]);
    }

    #[test]
    fn what_may_be_private_stays_in_the_archive() {
        let lines = include_str!("../../../tests/data/daybook_private.txt");
        let mut why = Why::Nothing;
        let mut failed = Vec::new();
        for line in lines.lines().filter(|line| !line.is_empty()) {
            why = match line {
                "# people" => Why::People,
                "# names" => Why::Name,
                "# addresses" => Why::Address,
                "# money" => Why::Money,
                _ if line.starts_with('#') => why,
                _ => {
                    // Which of several reasons is told first matters to nobody.
                    if told(line).is_ok() {
                        failed.push(format!("{why:?}: {line}"));
                    }
                    why
                }
            };
        }
        assert_eq!(failed, [""; 0]);
        assert_eq!(told("1 1/2 hr"), Err(Why::Nothing));
        assert_eq!(told("…"), Err(Why::Nothing));
    }
}
