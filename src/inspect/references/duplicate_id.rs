//! One id given twice.

use std::collections::BTreeSet;
use std::ops::{Deref, Range};

use crate::diag::{Code, Diagnostic, Place, Rank};
use crate::fields::Said;
use crate::inspect::{Case, Check, Rule, Shop};

pub(super) static RULE: Rule = Rule { code: &CODE, check: Check::Both(piece, workshop), needs_whole: false };

static CODE: Code = Code {
    name: "duplicate-id",
    rank: Rank::Mistake,
    why: "Work, marks and steps point at things by their ids, and with two of one name nobody can tell which is meant.",
    fix: "Give the second one an id of its own, and check who points at it.",
};

fn piece(case: &Case<'_>, seen: &mut Vec<Diagnostic>) {
    let record = case.intended();
    let place = |span: &Range<usize>| Place::at(&case.path, span);
    look("part", record.parts.iter().map(|part| &part.id), place, seen);
    look("finding", record.findings.iter().map(|finding| &finding.id), place, seen);
    look("patch", record.patches.iter().filter_map(|patch| patch.id.as_ref()), place, seen);
    look("work", record.works.iter().filter_map(|work| work.id.as_ref()), place, seen);
}

fn workshop(shop: &Shop<'_>, seen: &mut Vec<Diagnostic>) {
    let tins = shop.folder.workshop.iter().flat_map(|workshop| &workshop.tins);
    look("tin", tins.map(|tin| &tin.id), |span| Place::at("workshop.toml", span), seen);
    let stock = shop.folder.stock.items.iter().map(|item| &item.id);
    look("stock", stock, |span| Place::at("stock.toml", span), seen);
}

/// Reports every id of a list that stands in it earlier already.
fn look<'a, I: Deref<Target = str> + 'a>(
    kind: &str,
    ids: impl Iterator<Item = &'a Said<I>>,
    place: impl Fn(&Range<usize>) -> Place,
    seen: &mut Vec<Diagnostic>,
) {
    let mut known: BTreeSet<&str> = BTreeSet::new();
    for id in ids {
        if !known.insert(&id.value) {
            let name: &str = &id.value;
            let message = format!("another {kind} has the id `{name}` already");
            let help = format!("write another, such as `id = \"{name}-2\"`");
            seen.push(Diagnostic::new(&CODE, place(&id.span), message).help(help));
        }
    }
}

#[cfg(test)]
mod tests {
    use super::RULE;
    use crate::inspect::testing::sees;

    #[test]
    fn the_second_of_two_parts() {
        let parts = r#"
part = [
  { id = "top", name = "Top", standing = "new" },
  { id = "top", name = "Under top", standing = "new" },
]"#;
        assert_eq!(
            sees(&RULE, parts),
            "3: another part has the id `top` already [write another, such as `id = \"top-2\"`]"
        );
    }

    #[test]
    fn a_finding_may_be_called_as_its_part_is() {
        let both = r#"
part = [{ id = "top", name = "Top", standing = "new" }]
finding = [{ id = "top", part = "top", seen = "split" }]
work = [{ id = "top", did = "closed it" }, { did = "waxed it" }, { did = "dusted it" }]"#;
        assert_eq!(sees(&RULE, both), "");
    }

    #[test]
    fn two_tins_and_two_kept_boards() {
        let tins = "
#- workshop.toml
name = \"Bench\"
tin = [{ id = \"wax\", is = \"paste-wax\" }, { id = \"wax\", is = \"paste-wax\" }]
#- stock.toml
stock = [{ id = \"ply\", what = \"Plywood\" }, { id = \"ply\", what = \"Plywood\" }]";
        assert_eq!(sees(&RULE, tins).lines().count(), 2);
    }
}
