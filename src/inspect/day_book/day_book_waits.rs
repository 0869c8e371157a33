//! Lines of the day book that propose something that the record does not have.

use crate::daybook::{Bench, waiting};
use crate::diag::{Code, Diagnostic, Place, Rank};
use crate::inspect::{Case, Check, Rule};
use crate::record::{Piece, Record};

pub(super) static RULE: Rule = Rule { code: &CODE, check: Check::Piece(check), needs_whole: true };

static CODE: Code = Code {
    name: "day-book-waits",
    rank: Rank::Hint,
    why: "A line counts as work as it stands, and nothing else that it says of finishes, faults, tests and money is in the papers.",
    fix: "Look through them with `witnessmark enter PIECE`, and take what is right.",
};

fn check(case: &Case<'_>, seen: &mut Vec<Diagnostic>) {
    if let Some(set) = case.piece.set.as_ref().filter(|set| set.place == 0)
        && let Some(piece) = case.folder.found_in(set.folder())
        && let Some(record) = &piece.record
    {
        look(case, piece, record, seen);
    }
    // A piece that has left is told by what it was sealed with.
    if case.left_on().is_none() {
        look(case, case.piece, case.record, seen);
    }
}

/// Looks through the day book of a piece or a set.
fn look(case: &Case<'_>, piece: &Piece, record: &Record, seen: &mut Vec<Diagnostic>) {
    if piece.jottings.is_empty() {
        return;
    }
    let bench = Bench::of(case.trade, Some(record)).stocked(&case.folder.stock.items);
    let lines = waiting(piece, record, &bench);
    let Some(first) = lines.first() else { return };
    let rows: usize = lines.iter().map(|line| line.proposals.len()).sum();
    let (line, row) =
        (if lines.len() == 1 { "line" } else { "lines" }, if rows == 1 { "row" } else { "rows" });
    let message = format!(
        "{} {line} of the day book, from this one on, may make {rows} {row} of the record",
        lines.len()
    );
    let help = format!("`witnessmark enter {}` shows them and asks", piece.folder);
    seen.push(
        Diagnostic::new(&CODE, Place::at(&first.jotting.path, &first.jotting.span), message).help(help),
    );
}

#[cfg(test)]
mod tests {
    use super::RULE;
    use crate::inspect::testing::sees;

    fn told(record: &str, lines: &str) -> String {
        sees(&RULE, &format!("{record}\n#- pieces/table/daybook.txt\n{lines}"))
    }

    #[test]
    fn lines_wait_until_they_are_entered_or_looked_through() {
        let lines = "2026-03-10 swept up\n2026-03-11 lead swab top neg\n";
        assert_eq!(
            told("", lines),
            "daybook.txt 2: 1 line of the day book, from this one on, may make 1 row of the record \
             [`witnessmark enter table` shows them and asks]"
        );
        assert_eq!(told("day-book-read = 2026-03-11", lines), "");
        let test = "test = [{ of = \"lead\", result = \"negative\", from-daybook = \"2026-03-11 lead swab top neg\" }]";
        assert_eq!(told(test, lines), "");
        assert_eq!(told("handover = { on = 2026-04-01 }", lines), "");
        assert_eq!(told("", "2026-03-10 swept up"), "");
    }
}
