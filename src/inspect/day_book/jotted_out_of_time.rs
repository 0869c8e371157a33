//! A jotted line of a day that has not come, or before the piece was there.

use crate::diag::{Code, Diagnostic, Place, Rank};
use crate::inspect::{Case, Check, Rule};

pub(super) static RULE: Rule = Rule { code: &CODE, check: Check::Piece(check), needs_whole: false };

static CODE: Code = Code {
    name: "jotted-out-of-time",
    rank: Rank::Doubt,
    why: "The papers say what was done on which day, and nothing was done to a piece before it came or on a day to come.",
    fix: "Correct the day in the day book, or the day in `[found]`.",
};

fn check(case: &Case<'_>, seen: &mut Vec<Diagnostic>) {
    let found = case.record.found.for_archive().as_ref();
    let found = found.and_then(|found| found.on.as_ref()).map(|on| on.value);
    for jotting in &case.piece.jottings {
        let Some(on) = jotting.on else { continue };
        let message = match found {
            _ if on > case.today => format!("this line is of {on}, and today is {}", case.today),
            Some(found) if on < found => {
                format!("this line is of {on}, before the piece was found on {found}")
            }
            _ => continue,
        };
        seen.push(
            Diagnostic::new(&CODE, Place::at(&jotting.path, &jotting.span), message).help("correct its day"),
        );
    }
}

#[cfg(test)]
mod tests {
    use super::RULE;
    use crate::inspect::testing::sees;

    #[test]
    fn days_before_the_find_and_to_come() {
        let told = |lines: &str| {
            sees(&RULE, &format!("found = {{ on = 2026-03-04 }}\n#- pieces/table/daybook.txt\n{lines}"))
        };
        assert_eq!(told("2026-03-04 a\n2026-06-01 b"), "");
        assert_eq!(
            told("2026-03-03 a\n2026-06-02 b"),
            "daybook.txt 1: this line is of 2026-03-03, before the piece was found on 2026-03-04 [correct its day]\n\
             daybook.txt 2: this line is of 2026-06-02, and today is 2026-06-01 [correct its day]"
        );
    }
}
