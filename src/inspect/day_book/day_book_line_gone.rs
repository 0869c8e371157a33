//! Rows from a line that no day book has.

use crate::daybook::same;
use crate::diag::{Code, Diagnostic, Rank, nearest};
use crate::inspect::{Case, Check, Rule};

pub(super) static RULE: Rule = Rule { code: &CODE, check: Check::Piece(check), needs_whole: false };

static CODE: Code = Code {
    name: "day-book-line-gone",
    rank: Rank::Doubt,
    why: "A line is told by the rows entered from it, so one that reads otherwise than they say is told and counted twice.",
    fix: "Write after `from-daybook` what the line says today, with its day as `2026-03-11`; or take the key out.",
};

fn check(case: &Case<'_>, seen: &mut Vec<Diagnostic>) {
    let names: Vec<&str> =
        case.piece.jottings.iter().map(|jotting| jotting.name.for_archive().as_str()).collect();
    for row in case.record.entered() {
        let from = row.from.value.0.as_str();
        if names.iter().any(|name| same(from, name)) {
            continue;
        }
        // Most often the line of that day was corrected after it was entered.
        let day = from.get(..10).unwrap_or_default();
        let close = nearest(from, names.iter().copied())
            .or_else(|| names.iter().copied().find(|name| !day.is_empty() && name.starts_with(day)));
        let help = match close {
            Some(name) => format!("write \"{name}\""),
            None => "correct it, or take the key out".to_owned(),
        };
        seen.push(case.at(&CODE, &row.from.span, "no line of the day book reads so").help(help));
    }
}

#[cfg(test)]
mod tests {
    use super::RULE;
    use crate::inspect::testing::sees;

    #[test]
    fn a_line_that_was_corrected_is_shown() {
        let record = |from: &str| {
            format!(
                "work = [{{ did = \"x\", from-daybook = \"{from}\" }}]\n#- pieces/table/daybook.txt\n2026-03-11 glued the leaf, 2h"
            )
        };
        assert_eq!(sees(&RULE, &record("2026-03-11 glued the leaf, 2h")), "");
        assert_eq!(
            sees(&RULE, &record("2026-03-11 glued teh leaf, 1h")),
            "1: no line of the day book reads so [write \"2026-03-11 glued the leaf, 2h\"]"
        );
        assert_eq!(
            sees(&RULE, &record("2026-04-01 y")),
            "1: no line of the day book reads so [correct it, or take the key out]"
        );
    }
}
