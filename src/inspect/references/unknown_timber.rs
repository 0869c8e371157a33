//! A timber that is not in the tables.

use super::names::meant;
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
    let solid = case.record.parts.iter().filter(of_timber).filter_map(|part| part.timber.as_ref());
    let veneers = case.record.parts.iter().filter_map(|part| part.veneer.as_ref());
    let lippings =
        case.record.parts.iter().filter_map(|part| part.lipping.as_ref()).map(|lipping| &lipping.timber);
    for timber in solid.chain(veneers).chain(lippings) {
        if declared_unknown(timber) || case.trade.timber(timber).is_some() {
            continue;
        }
        let help =
            meant(timber, &names(case)).unwrap_or_else(|| "write its common name, or \"unknown\"".to_owned());
        let message = format!("the timber `{}` is not known here", timber.value);
        seen.push(case.at(&CODE, &timber.span, message).help(help));
    }
}

/// Every name of every timber.
fn names<'a>(case: &Case<'a>) -> Vec<&'a str> {
    let timbers = case.trade.timbers.rows.iter();
    let names = timbers.flat_map(|row| {
        [row.id.0.as_str(), row.name.0.as_str()]
            .into_iter()
            .chain(row.also.iter().map(|also| also.0.as_str()))
    });
    names.collect()
}

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
            "1: the timber `whit-oak` is not known here [write \"white-oak\"]"
        );
        assert!(part("veneer = \"burr walnut\"").contains("`burr walnut` is not known here [perhaps "));
        assert!(part("timber = \"satinwood\"").ends_with("[write its common name, or \"unknown\"]"));
    }

    #[test]
    fn ids_common_names_unknown_and_panels_are_quiet() {
        for keys in [
            "timber = \"white-oak\"",
            "veneer = \"birch\"",
            "timber = \"unknown\"",
            "build = \"panel\", timber = \"hardboard\"",
        ] {
            assert_eq!(part(keys), "", "{keys}");
        }
    }
}
