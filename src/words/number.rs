//! Bare numbers, spans and hours.

use rust_decimal::Decimal;

use super::Words;
use crate::claim::{Value, says};
use crate::fields::Range;
use crate::unit::Hours;

impl Words {
    /// A number with at most so many decimals and no trailing zeros.
    pub fn number(&self, number: f64, decimals: usize) -> String {
        self.marked(trimmed(number, decimals))
    }

    /// A number with exactly so many decimals.
    pub fn fixed(&self, number: f64, decimals: usize) -> String {
        self.marked(format!("{number:.decimals$}"))
    }

    /// Digits as the language writes them.
    pub(super) fn marked(&self, digits: String) -> String {
        let marks = self.language().marks();
        let (digits, below) = match digits.strip_prefix('-') {
            Some(digits) => (digits.to_owned(), true),
            None => (digits, false),
        };
        let digits = match marks.decimal.as_str() {
            "." => digits,
            mark => digits.replace('.', mark),
        };
        if below { format!("{}{digits}", marks.minus) } else { digits }
    }

    /// From one number to another, with at most so many decimals: `12 to 24`, or `12` where both are the same.
    pub fn span(&self, range: &Range, decimals: usize) -> String {
        let (low, high) = (self.number(range.low, decimals), self.number(range.high, decimals));
        if low == high { low } else { self.say(&says!("span", low = low, high = high)) }
    }

    /// A span of months, or of years where both ends are whole years: `every` stands before it.
    pub fn months(&self, range: &Range) -> String {
        let whole = |n: f64| n % 12.0 == 0.0;
        if whole(range.low) && whole(range.high) && range.high >= 24.0 {
            let years = Range { low: range.low / 12.0, high: range.high / 12.0 };
            let count = Value::Number(years.high, 2);
            return self.say(&says!("years", figure = self.span(&years, 2), count = count));
        }
        let count = Value::Number(range.high, 2);
        self.say(&says!("months", figure = self.span(range, 2), count = count))
    }

    /// Hours of work, to the hundredth: `1 hour`, `3.5 hours`.
    pub fn hours(&self, hours: Hours) -> String {
        self.say(&says!("hours", hours = self.decimal(hours.count().round_dp(2))))
    }

    /// A decimal number without trailing zeros.
    pub fn digits(&self, number: Decimal) -> String {
        self.marked(number.normalize().to_string())
    }

    /// A decimal number as a value of a message: a whole one decides the plural.
    pub(super) fn decimal(&self, number: Decimal) -> Value {
        let number = number.normalize();
        match u64::try_from(number) {
            Ok(whole) if number.scale() == 0 => Value::Count(whole),
            _ => Value::Text(self.marked(number.to_string())),
        }
    }
}

/// A number with at most so many decimals and no trailing zeros, in digits that programs read.
pub(crate) fn trimmed(number: f64, decimals: usize) -> String {
    let text = format!("{number:.decimals$}");
    match text.contains('.') {
        true => text.trim_end_matches('0').trim_end_matches('.').to_owned(),
        false => text,
    }
}

/// The letter of a place in a list, counted from 1: `A` to `Z`, then `AA`.
pub(crate) fn letter(place: usize) -> String {
    let mut rest = place;
    let mut letters = Vec::new();
    while rest > 0 {
        rest -= 1;
        letters.push(char::from(b'A' + u8::try_from(rest % 26).unwrap_or(0)));
        rest /= 26;
    }
    letters.iter().rev().collect()
}
