//! Bare numbers, spans and hours.

use rust_decimal::Decimal;

use crate::fields::Range;
use crate::unit::Hours;

/// A number with at most so many decimals and no trailing zeros.
pub(crate) fn trimmed(number: f64, decimals: usize) -> String {
    let text = format!("{number:.decimals$}");
    match text.contains('.') {
        true => text.trim_end_matches('0').trim_end_matches('.').to_owned(),
        false => text,
    }
}

/// A span of a unit of time: `12 to 24 months`.
pub(crate) fn span(range: &Range, one: &str, several: &str) -> String {
    let (low, high) = (trimmed(range.low, 2), trimmed(range.high, 2));
    match low == high {
        true if low == "1" => format!("1 {one}"),
        true => format!("{low} {several}"),
        false => format!("{low} to {high} {several}"),
    }
}

/// A span of months, or of years where both ends are whole years: `every` stands before it.
pub(crate) fn months(range: &Range) -> String {
    let whole = |n: f64| n % 12.0 == 0.0;
    if whole(range.low) && whole(range.high) && range.high >= 24.0 {
        let years = Range { low: range.low / 12.0, high: range.high / 12.0 };
        return span(&years, "year", "years");
    }
    span(range, "month", "months")
}

/// Hours of work: `1 hour`, `3.5 hours`.
pub(crate) fn hours(hours: Hours) -> String {
    let count = hours.count().normalize();
    if count == Decimal::ONE { "1 hour".to_owned() } else { format!("{count} hours") }
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
