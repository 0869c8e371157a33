//! How a finish is renewed, and how often.

use crate::fields::Range;
use crate::trade::Finish;
use crate::words;

/// How it is renewed, and how often.
pub(crate) fn renewing(finish: &Finish) -> String {
    let advice = words::text(Some(&finish.renew));
    match &finish.renew_months {
        Some(months) => format!("{advice} As a rule, every {}.", months_words(months)),
        None => advice,
    }
}

/// Months, or years where both ends are whole years.
fn months_words(months: &Range) -> String {
    let whole = |n: f64| n % 12.0 == 0.0;
    if whole(months.low) && whole(months.high) && months.high >= 24.0 {
        let years = Range { low: months.low / 12.0, high: months.high / 12.0 };
        return words::span(&years, "year", "years");
    }
    words::span(months, "month", "months")
}
