//! Two pieces whose numbers lead to one address.

use crate::diag::Place;
use crate::diag::{Code, Diagnostic, Rank};
use crate::inspect::{Check, Rule, Shop};
use crate::record::{Piece, Record};
use std::collections::BTreeMap;

pub(super) static RULE: Rule = Rule { code: &CODE, check: Check::Workshop(check), needs_whole: false };

static CODE: Code = Code {
    name: "duplicate-number",
    rank: Rank::Mistake,
    why: "The number names the piece's pages and papers, so two pieces with one number would overwrite each other.",
    fix: "Give one of the pieces another number; capitals, spaces and punctuation do not tell numbers apart.",
};

fn check(shop: &Shop<'_>, seen: &mut Vec<Diagnostic>) {
    let mut by_address: BTreeMap<String, Vec<(&Piece, &Record)>> = BTreeMap::new();
    for piece in &shop.folder.pieces {
        if let Some(record) = &piece.record {
            by_address.entry(slug::slugify(&record.number.0)).or_default().push((piece, record));
        }
    }
    by_address.remove("");
    for pieces in by_address.values().filter(|pieces| pieces.len() > 1) {
        for (piece, record) in pieces {
            let (other, its) = pieces
                .iter()
                .find(|(other, _)| other.folder != piece.folder)
                .expect("two pieces are not in one folder");
            let number = &record.number.0;
            let message = match *number == its.number.0 {
                true => format!("pieces/{} has the number `{number}` too", other.folder),
                false => format!(
                    "the number `{number}` leads to the same address as `{}` of pieces/{}",
                    its.number.0, other.folder
                ),
            };
            let place = Place::at(&piece.record_path(), &record.number.span);
            seen.push(Diagnostic::new(&CODE, place, message).help("give one of the two another number"));
        }
    }
}

#[cfg(test)]
mod tests {
    use super::RULE;
    use crate::inspect::testing::sees;

    fn two(number: &str) -> String {
        let chair = format!("title = \"Chair\"\nnumber = \"{number}\"\nkind = \"chair/side\"\n");
        sees(&RULE, &format!("number = \"T-1\"\n#- pieces/chair/record.toml\n{chair}"))
    }

    #[test]
    fn both_pieces_are_told() {
        let help = "[give one of the two another number]";
        assert_eq!(
            two("T-1"),
            format!(
                "pieces/chair/record.toml 2: pieces/table has the number `T-1` too {help}\n\
                 1: pieces/chair has the number `T-1` too {help}"
            )
        );
        assert!(two("t 1").contains("the number `t 1` leads to the same address as `T-1` of pieces/table"));
    }

    #[test]
    fn another_digit_is_another_number() {
        assert_eq!(two("T-11"), "");
    }
}
