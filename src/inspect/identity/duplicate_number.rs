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
    // A set is named by its number, too, and comes after the pieces.
    for piece in shop.folder.pieces.iter().chain(&shop.folder.sets) {
        if let Some(record) = &piece.record {
            by_address.entry(slug::slugify(&record.number.0)).or_default().push((piece, record));
        }
    }
    by_address.remove("");
    for mut pieces in by_address.into_values().filter(|pieces| pieces.len() > 1) {
        // The first one keeps the number, so that a copy of a folder costs the piece that was there nothing: a sealed
        // one before others, since its label leads to the number.
        pieces.sort_by_key(|(piece, _)| piece.seals.is_empty());
        let (first, its) = pieces[0];
        for (piece, record) in &pieces[1..] {
            let number = &record.number.0;
            let message = match *number == its.number.0 {
                true => format!("pieces/{} has the number `{number}` too", first.folder),
                false => format!(
                    "the number `{number}` leads to the same address as `{}` of pieces/{}",
                    its.number.0, first.folder
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
    fn a_set_has_a_number_of_its_own() {
        let set = "title = \"Chairs\"\nnumber = \"T-1\"\nkind = \"chair/side\"\nset-of = 1\n";
        let told = sees(&RULE, &format!("set = \"chairs\"\n#- pieces/chairs/record.toml\n{set}"));
        assert!(
            told.contains("pieces/chairs/record.toml 2: pieces/table has the number `T-1` too"),
            "{told}"
        );
    }

    #[test]
    fn all_but_the_first_piece_are_told() {
        let help = "[give one of the two another number]";
        assert_eq!(two("T-1"), format!("1: pieces/chair has the number `T-1` too {help}"));
        assert!(two("t 1").contains("the number `T-1` leads to the same address as `t 1` of pieces/chair"));
    }

    #[test]
    fn another_digit_is_another_number() {
        assert_eq!(two("T-11"), "");
    }
}
