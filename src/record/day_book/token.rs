//! A jotted line in its words, numbers and signs, each with its place.

use std::ops::Range;

use rust_decimal::Decimal;

use crate::unit::fold::plain;
use crate::unit::number::{fraction_sign, in_letters};

/// One word, number or sign of a line.
#[derive(Debug, Clone, PartialEq)]
pub struct Token {
    /// The word in small letters without accents and apostrophes, the digits as they stand, or the sign.
    pub word: String,
    /// The number, where it is one.
    pub number: Option<Decimal>,
    /// Where it stands in the line, in bytes.
    pub span: Range<usize>,
    /// Whether nothing stands between it and what comes before it.
    pub glued: bool,
}

impl Token {
    /// Whether it is this word or sign.
    pub fn is(&self, word: &str) -> bool {
        self.word == word
    }

    /// Whether it is one of these words or signs.
    pub fn is_any(&self, words: &[&str]) -> bool {
        words.contains(&self.word.as_str())
    }

    /// Whether it is a word of letters.
    pub fn is_word(&self) -> bool {
        self.word.starts_with(char::is_alphabetic)
    }

    /// The number that it is, in digits or in letters.
    pub fn value(&self) -> Option<Decimal> {
        self.number.or_else(|| in_letters(&self.word).map(Decimal::from))
    }
}

/// The tokens of a line, with fractions as one number each.
pub fn tokens(line: &str) -> Vec<Token> {
    joined_fractions(apart(line))
}

/// The tokens of a line, with the numbers and the stroke of a fraction apart.
pub(super) fn apart(line: &str) -> Vec<Token> {
    let mut tokens: Vec<Token> = Vec::new();
    let mut at = 0;
    while let Some(first) = line[at..].chars().next() {
        let rest = &line[at..];
        let length = match first {
            _ if first.is_ascii_digit() && follows_point(&tokens, at) => {
                rest.find(|c: char| !c.is_ascii_digit()).unwrap_or(rest.len())
            }
            _ if first.is_ascii_digit() => digits(rest),
            _ if first.is_alphabetic() => letters(rest),
            _ => first.len_utf8(),
        };
        let span = at..at + length;
        at += length;
        if first.is_whitespace() || first.is_control() {
            continue;
        }
        let glued = tokens.last().is_some_and(|last| last.span.end == span.start);
        let text = &line[span.clone()];
        let fraction = fraction_sign(first);
        let number = match fraction {
            Some(fraction) => Some(fraction),
            None if first.is_ascii_digit() => number(text),
            None => None,
        };
        let word = if first.is_alphabetic() { plain(text).into_owned() } else { text.to_owned() };
        tokens.push(Token { word, number, span, glued });
    }
    tokens
}

/// The clauses of a line, as ranges of its tokens without the signs that part them.
pub fn clauses(tokens: &[Token]) -> Vec<Range<usize>> {
    let mut clauses = Vec::new();
    let mut start = 0;
    for at in 0..=tokens.len() {
        if at == tokens.len() || parts_clauses(tokens, at) {
            if start < at {
                clauses.push(start..at);
            }
            start = at + 1;
        }
    }
    clauses
}

/// Whether a token is a sign that parts two clauses.
pub fn parts_clauses(tokens: &[Token], at: usize) -> bool {
    let sign = &tokens[at];
    if sign.is_any(&[",", ";", "(", ")", "!", "?", "[", "]", "…", "—"]) {
        return true;
    }
    let apart = tokens.get(at + 1).is_none_or(|next| !next.glued);
    // A point within a number is part of it, and one in `e.g.` or `approx.` parts nothing that matters.
    (sign.is(".") || sign.is(":")) && apart || (sign.is("-") || sign.is("–")) && apart && !sign.glued
}

/// Whether a number with its point stands right before: `11.` of `11.3.26`.
fn follows_point(tokens: &[Token], at: usize) -> bool {
    match tokens {
        [.., number, point] => {
            point.is(".") && point.glued && point.span.end == at && number.number.is_some()
        }
        _ => false,
    }
}

/// How long a run of digits is, with a point or a comma between two of them.
fn digits(text: &str) -> usize {
    let is_part = |c: char| c.is_ascii_digit() || c == '.' || c == ',';
    let length = text.find(|c| !is_part(c)).unwrap_or(text.len());
    let run = &text[..length];
    // Two marks beside each other, or one at the end, belong to the sentence.
    let end = run.find(",,").or_else(|| run.find("..")).unwrap_or(run.len());
    let run = run[..end].trim_end_matches(['.', ',']);
    // Of three numbers with points each stands alone: `11.3.26`.
    match run.matches('.').count() > 1 {
        true => run.find('.').unwrap_or(run.len()),
        false => run.len(),
    }
}

/// How long a word is, with the apostrophes in it.
fn letters(text: &str) -> usize {
    let mut end = text.len();
    let mut chars = text.char_indices().peekable();
    while let Some((at, c)) = chars.next() {
        let joins = (c == '\'' || c == '’') && chars.peek().is_some_and(|(_, next)| next.is_alphabetic());
        let mark = unicode_normalization::char::is_combining_mark(c);
        if !c.is_alphabetic() && !joins && !mark {
            end = at;
            break;
        }
    }
    end
}

/// A number with a point or a comma in it: a comma before three digits parts thousands.
fn number(text: &str) -> Option<Decimal> {
    if text.len() > 15 {
        return None;
    }
    let plain = match text.rsplit_once(',') {
        Some((_, end)) if end.len() == 3 => text.replace(',', ""),
        Some(_) if text.contains('.') => return None,
        Some(_) => text.replace(',', "."),
        None => text.to_owned(),
    };
    plain.parse().ok()
}

/// The same tokens with `1 1/2`, `3/4` and `1½` as one number each; `50/50` and dates stay as they are.
fn joined_fractions(tokens: Vec<Token>) -> Vec<Token> {
    let mut joined: Vec<Token> = Vec::new();
    let mut rest = tokens.into_iter().peekable();
    while let Some(token) = rest.next() {
        let fraction = token.number.is_some_and(|number| number < Decimal::ONE && !number.is_zero());
        let sign = token.word.chars().next().and_then(fraction_sign).is_some();
        if let (true, true, Some(last)) = (sign, fraction, joined.last_mut())
            && let Some(whole) = last.number.filter(|whole| whole.is_integer())
            && last.span.end + 1 >= token.span.start
        {
            last.number = token.number.map(|part| whole + part);
            last.span.end = token.span.end;
            last.word.push_str(&token.word);
            continue;
        }
        let above = token.number.filter(|number| number.is_integer() && *number > Decimal::ZERO);
        let is_half = |below: &Token| {
            let usual = [2, 3, 4, 8, 16].map(Decimal::from);
            below.glued && below.number.is_some_and(|below| usual.contains(&below) && above < Some(below))
        };
        let over = rest.peek().is_some_and(|sign| sign.glued && (sign.is("/") || sign.is("⁄")));
        if let (Some(number), true) = (above, over) {
            let sign = rest.next();
            match rest.next_if(|below| is_half(below)) {
                Some(below) if !rest.peek().is_some_and(|next| next.glued && next.is("/")) => {
                    let part = number / below.number.unwrap_or(Decimal::ONE);
                    let whole = joined.last_mut().filter(|last| {
                        last.number.is_some_and(|whole| whole.is_integer())
                            && last.span.end + 1 == token.span.start
                    });
                    match whole {
                        Some(whole) => {
                            whole.number = whole.number.map(|number| number + part);
                            whole.word = format!("{} {}/{}", whole.word, token.word, below.word);
                            whole.span.end = below.span.end;
                        }
                        None => joined.push(Token {
                            word: format!("{}/{}", token.word, below.word),
                            number: Some(part),
                            span: token.span.start..below.span.end,
                            glued: token.glued,
                        }),
                    }
                }
                other => {
                    joined.push(token);
                    joined.extend(sign);
                    joined.extend(other);
                }
            }
            continue;
        }
        joined.push(token);
    }
    joined
}

#[cfg(test)]
mod tests {
    use super::*;

    fn words(line: &str) -> Vec<String> {
        tokens(line).into_iter().map(|token| token.word).collect()
    }

    #[test]
    fn words_numbers_and_signs_are_parted() {
        assert_eq!(words("22/9 runners, 3.5h"), ["22", "/", "9", "runners", ",", "3.5", "h"]);
        assert_eq!(words("didn’t P180 1h30."), ["didnt", "p", "180", "1", "h", "30", "."]);
        assert_eq!(words("11.3.26 0000"), ["11", ".", "3", ".", "26", "0000"]);
        assert_eq!(words("1,959 mm"), ["1,959", "mm"]);
    }

    #[test]
    fn fractions_are_one_number() {
        let numbers = |line: &str| -> Vec<String> {
            tokens(line).iter().filter_map(|token| token.number).map(|n| n.normalize().to_string()).collect()
        };
        assert_eq!(numbers("1 1/2 hr"), ["1.5"]);
        assert_eq!(numbers("3/4 done"), ["0.75"]);
        assert_eq!(numbers("1½ h and ½ h"), ["1.5", "0.5"]);
        assert_eq!(numbers("50/50 1/2/26 9/4"), ["50", "50", "1", "2", "26", "9", "4"]);
        assert_eq!(numbers("1,5 h 1,959"), ["1.5", "1959"]);
    }

    #[test]
    fn any_text_has_tokens_in_order() {
        for text in ["", "\u{202e}\u{0}٣ ½½ 1/ /2 9..9 ,,", "🪑🪑 3×4", "é\u{301}'s '"] {
            let tokens = tokens(text);
            assert!(tokens.windows(2).all(|pair| pair[0].span.end <= pair[1].span.start), "{text}");
        }
    }
}
