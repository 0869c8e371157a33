//! Lines of the day book that stay in the archive, because something in them may be private.

use crate::diag::{Code, Diagnostic, Place, Rank};
use crate::inspect::{Case, Check, Rule};
use crate::record::day_book::{Kind, Why};

pub(super) static RULE: Rule = Rule { code: &CODE, check: Check::Piece(check), needs_whole: false };

static CODE: Code = Code {
    name: "jotted-kept-private",
    rank: Rank::Hint,
    why: "A line that may name somebody, say where somebody is reached or speak of money is on no paper but the archive's; its hours count.",
    fix: "Nothing, where that is right. Write it without that word where others may read it, or enter it with `witnessmark enter PIECE`.",
};

fn check(case: &Case<'_>, seen: &mut Vec<Diagnostic>) {
    // A piece that has left is told by what it was sealed with.
    if case.left_on().is_some() {
        return;
    }
    let lines = case.piece.jotted(case.record);
    let lines = lines.into_iter().filter(|(_, kind)| *kind != Kind::Question);
    // What its maker marked as private, and a bare time, are kept on purpose.
    let meant = |why: Why| ![Why::Asked, Why::Nothing].contains(&why);
    let kept: Vec<_> = lines
        .filter_map(|(jotting, _)| Some((jotting, jotting.said.as_ref().err()?)))
        .filter(|(_, withheld)| meant(withheld.why))
        .collect();
    let Some((first, withheld)) = kept.first() else { return };
    let message = match kept.len() {
        1 => "this line of the day book stays in the archive".to_owned(),
        several => format!("{several} lines of the day book, from this one on, stay in the archive"),
    };
    let count = |of: Why| kept.iter().filter(|(_, withheld)| withheld.why == of).count();
    let reasons = [
        (Why::People, "of people"),
        (Why::Name, "of what may be a name"),
        (Why::Address, "of what may say where somebody is reached"),
        (Why::Money, "of money"),
    ];
    let told = reasons.into_iter().map(|(why, what)| (count(why), what)).filter(|(count, _)| *count > 0);
    let help = match kept.len() {
        1 => withheld.told(),
        _ => {
            let told: Vec<String> = told.map(|(count, what)| format!("{count} {what}")).collect();
            format!("because {}; in this one {}", told.join(", "), withheld.told())
        }
    };
    seen.push(Diagnostic::new(&CODE, Place::at(&first.path, &first.span), message).help(help));
}

#[cfg(test)]
mod tests {
    use super::RULE;
    use crate::inspect::testing::sees;

    #[test]
    fn it_says_how_many_lines_stay_and_why() {
        let told = |lines: &str| sees(&RULE, &format!("#- pieces/table/daybook.txt\n{lines}"));
        assert_eq!(told("2026-03-11 glued the leaf, 2h\n2026-03-11 20 min\n2026-03-11 private: x"), "");
        assert_eq!(
            told("2026-03-11 glued the leaf\n2026-03-12 Bogdan lifted it"),
            "daybook.txt 2: this line of the day book stays in the archive [“Bogdan” may be a name]"
        );
        assert_eq!(
            told("2026-03-11 hinges £4\n2026-03-12 Bogdan lifted it\n2026-03-13 wilmot said oak"),
            "daybook.txt 1: 3 lines of the day book, from this one on, stay in the archive \
             [because 2 of what may be a name, 1 of money; in this one “£” speaks of money]"
        );
    }
}
