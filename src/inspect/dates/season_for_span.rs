//! Years of making written as a season or month where a span was probably meant.

use crate::diag::{Code, Diagnostic, Rank};
use crate::inspect::{Case, Check, Rule};
use crate::words::Words;

pub(super) static RULE: Rule = Rule { code: &CODE, check: Check::Piece(check), needs_whole: false };

static CODE: Code = Code {
    name: "season-for-span",
    rank: Rank::Hint,
    why: "In EDTF `1920-22` is summer 1920, and would be printed so.",
    fix: "Write a span with a stroke and four digits: `1920/1922`.",
};

fn check(case: &Case<'_>, seen: &mut Vec<Diagnostic>) {
    let Some(made) = &case.record.made else { return };
    let written = made.to_string();
    if let Some((start, end)) = as_span(&written) {
        let message = format!("`{written}` means {}", Words::for_diagnostics().years(made));
        let help = format!("write `made = \"{start}/{end}\"` if the years from {start} to {end} are meant");
        seen.push(case.at(&CODE, &made.span, message).help(help));
    }
}

/// A year and a month or season that could also be the last two digits of a later year.
fn as_span(written: &str) -> Option<(i32, i32)> {
    let (year, end) = written.trim_end_matches(['~', '?', '%']).split_once('-')?;
    if year.len() != 4 || end.len() != 2 {
        return None;
    }
    let (year, end) = (year.parse::<i32>().ok()?, end.parse::<i32>().ok()?);
    (end > year % 100).then_some((year, year - year % 100 + end))
}

#[cfg(test)]
mod tests {
    use super::RULE;
    use crate::inspect::testing::sees;

    fn made(years: &str) -> String {
        sees(&RULE, &format!("made = \"{years}\""))
    }

    #[test]
    fn two_digits_that_could_be_a_later_year() {
        assert_eq!(
            made("1920-22"),
            "1: `1920-22` means summer 1920 [write `made = \"1920/1922\"` if the years from 1920 to 1922 are meant]"
        );
        assert!(made("1905-12~").starts_with("1: `1905-12~` means about December 1905"));
    }

    #[test]
    fn an_earlier_number_is_a_month_or_season_indeed() {
        for years in ["1922-22", "1912-03", "1926", "1920/1922", "1905-12-03", "190X"] {
            assert_eq!(made(years), "", "{years}");
        }
    }
}
