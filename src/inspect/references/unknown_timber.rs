//! A timber that is not in the tables.

use super::names::not_taken;
use crate::diag::{Code, Diagnostic, Rank};
use crate::fields::Row;
use crate::inspect::words::declared_unknown;
use crate::inspect::{Case, Check, Rule};
use crate::record::{Construction, Part};

pub(super) static RULE: Rule = Rule { code: &CODE, check: Check::Piece(check), needs_whole: false };

static CODE: Code = Code {
    name: "unknown-timber",
    rank: Rank::Doubt,
    why: "Movement, weight and load follow from the timber, and are left out where it is not known.",
    fix: "Write a timber's id or common name, or `unknown`; a trade name in the part's `note`.",
};

fn check(case: &Case<'_>, seen: &mut Vec<Diagnostic>) {
    // Plywood and fibreboard are no timbers, and are told by their own names.
    let of_timber =
        |part: &&Row<Part>| part.build.as_ref().is_none_or(|build| build.value != Construction::Panel);
    let solid = case.intended().parts.iter().filter(of_timber).filter_map(|part| part.timber.as_ref());
    let veneers = case.intended().parts.iter().filter_map(|part| part.veneer.as_ref());
    let lippings =
        case.intended().parts.iter().filter_map(|part| part.lipping.as_ref()).map(|lipping| &lipping.timber);
    for timber in solid.chain(veneers).chain(lippings) {
        if declared_unknown(timber) {
            continue;
        }
        if let Some((message, help)) = not_taken(timber, &case.trade.timber_words(), "timber", AS_TYPED) {
            seen.push(case.at(&CODE, &timber.span, message).help(help));
        }
    }
}

const AS_TYPED: &str =
    "it is printed as typed, and nothing is reckoned from it; write its common name, or \"unknown\"";

#[cfg(test)]
mod tests {
    use super::RULE;
    use crate::inspect::testing::sees;

    fn part(keys: &str) -> String {
        sees(&RULE, &format!("part = [{{ id = \"a\", name = \"A\", standing = \"later\", {keys} }}]"))
    }

    #[test]
    fn a_slip_is_put_right() {
        assert_eq!(
            part("timber = \"whit-oak\""),
            "1: `whit-oak` is no timber that is known here [write \"white-oak\"]"
        );
        assert!(
            part("veneer = \"whitewood\"").contains("`whitewood` may mean more than one timber [Whitewood: ")
        );
        assert!(part("timber = \"Plywood\"").contains("`Plywood` is no timber [That is a board"));
        assert!(part("timber = \"gidgee\"").ends_with(
            "[it is printed as typed, and nothing is reckoned from it; \
            write its common name, or \"unknown\"]"
        ));
    }

    #[test]
    fn ids_common_names_unknown_and_panels_are_quiet() {
        for keys in [
            "timber = \"white-oak\"",
            "veneer = \"paper-birch\"",
            "timber = \"Scotch pine\"",
            "timber = \"oak\"",
            "timber = \"unknown\"",
            "build = \"panel\", timber = \"hardboard\"",
        ] {
            assert_eq!(part(keys), "", "{keys}");
        }
    }
}
