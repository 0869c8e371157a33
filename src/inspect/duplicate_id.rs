//! One id given twice.

use super::{Case, Check, Rule, Shop};
use crate::diag::Place;
use crate::diag::{Code, Diagnostic, Severity};
use crate::fields::{Id, Said};

pub(super) static RULE: Rule = Rule { code: &CODE, check: Check::Both(piece, workshop), needs_whole: false };

static CODE: Code = Code {
    name: "duplicate-id",
    severity: Severity::Error,
    why: "Work, marks and steps point at things by their ids, and with two of one name nobody can tell which is meant.",
    fix: "Give the second one an id of its own, and check who points at it.",
};

fn piece(case: &Case<'_>, seen: &mut Vec<Diagnostic>) {
    let record = case.record;
    let mut look = |kind, ids: Vec<&Said<Id>>| {
        for again in repeated(&ids) {
            let message = format!("another {kind} has the id `{}` already", again.0);
            seen.push(case.at(&CODE, &again.span, message).help(another(again)));
        }
    };
    look("part", record.parts.iter().map(|part| &part.id).collect());
    look("finding", record.findings.iter().map(|finding| &finding.id).collect());
    look("work", record.works.iter().filter_map(|work| work.id.as_ref()).collect());
}

fn workshop(shop: &Shop<'_>, seen: &mut Vec<Diagnostic>) {
    let tins = shop.folder.workshop.iter().flat_map(|workshop| &workshop.tins);
    let tins: Vec<_> = tins.map(|tin| &tin.id).collect();
    let stock: Vec<_> = shop.folder.stock.items.iter().map(|item| &item.id).collect();
    for (file, kind, ids) in [("workshop.toml", "tin", tins), ("stock.toml", "stock", stock)] {
        for again in repeated(&ids) {
            let message = format!("another {kind} has the id `{}` already", again.0);
            let place = Place::at(file, &again.span);
            seen.push(Diagnostic::new(&CODE, place, message).help(another(again)));
        }
    }
}

/// The ids that stand earlier in the list already.
fn repeated<'a>(ids: &[&'a Said<Id>]) -> Vec<&'a Said<Id>> {
    let earlier = |place: usize| ids[..place].iter().any(|earlier| earlier.value == ids[place].value);
    (0..ids.len()).filter(|place| earlier(*place)).map(|place| ids[place]).collect()
}

fn another(id: &Id) -> String {
    format!("write another, such as `id = \"{}-2\"`", id.0)
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
