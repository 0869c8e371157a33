//! A finish that is neither a family of the trade nor a tin of the workshop.

use super::names::meant;
use crate::derive::coating;
use crate::diag::{Code, Diagnostic, Rank};
use crate::inspect::words::declared_unknown;
use crate::inspect::{Case, Check, Rule, Shop};
use crate::record::{Act, FinishName};
use crate::trade::Trade;

pub(super) static RULE: Rule = Rule { code: &CODE, check: Check::Both(piece, workshop), needs_whole: false };

static CODE: Code = Code {
    name: "unknown-finish",
    rank: Rank::Mistake,
    why: "Care, drying times and how to undo a finish all follow from its family, so none of them could be printed.",
    fix: "Write a finish family such as `shellac`, or `tin:` and the id of a tin in `workshop.toml` whose `is` names one.",
};

fn piece(case: &Case<'_>, seen: &mut Vec<Diagnostic>) {
    for surface in &case.record.surfaces {
        let steps = surface.steps.iter().flat_map(|step| step.acts());
        let named = steps.filter_map(|act| match act {
            Act::Remove(what) => Some((what.layer()?, &what.span)),
            Act::Apply(what) => Some((&what.value, &what.span)),
            _ => None,
        });
        let found = surface.found.iter().map(|found| (&found.value, &found.span));
        for (name, span) in found.chain(named) {
            // Without a workshop's file its tins are not known to be wrong.
            let tin = name.tin();
            if declared_unknown(name) || tin.is_some() && case.folder.workshop.is_none() {
                continue;
            }
            // A known tin of an unknown family is reported at the tin.
            let known = match tin {
                Some(id) => case.tins().iter().any(|tin| tin.id.value == *id),
                None => coating(name, &[], case.trade).is_some(),
            };
            if !known {
                seen.push(case.at(&CODE, span, message(name)).help(help(name, case)));
            }
        }
    }
}

fn workshop(shop: &Shop<'_>, seen: &mut Vec<Diagnostic>) {
    let tins = shop.folder.workshop.iter().flat_map(|workshop| &workshop.tins);
    for family in tins.map(|tin| &tin.is).filter(|is| shop.trade.finish(is).is_none()) {
        let help = meant(family, &families(shop.trade)).unwrap_or_else(|| EXAMPLE.to_owned());
        seen.push(shop.at(&CODE, &family.span, no_finish(family)).help(help));
    }
}

const EXAMPLE: &str =
    "write a finish family such as `shellac`, `paste-wax`, `oil-polyurethane` or `water-polyurethane`";

fn message(name: &FinishName) -> String {
    match name.tin() {
        Some(id) => format!("workshop.toml has no tin with the id `{}`", id.0),
        None => no_finish(name),
    }
}

fn no_finish(name: &str) -> String {
    format!("`{name}` is no finish that is known here")
}

fn help(name: &FinishName, case: &Case<'_>) -> String {
    let tins: Vec<String> = case.tins().iter().map(|tin| format!("tin:{}", tin.id.0)).collect();
    let tins: Vec<&str> = tins.iter().map(String::as_str).collect();
    match name.tin() {
        Some(id) => meant(name, &tins).unwrap_or_else(|| {
            format!("add to workshop.toml:\n[[tin]]\nid = \"{}\"\nis = \"oil-polyurethane\"", id.0)
        }),
        None => meant(name, &[families(case.trade), tins].concat()).unwrap_or_else(|| EXAMPLE.to_owned()),
    }
}

fn families(trade: &Trade) -> Vec<&str> {
    trade.finishes.rows.iter().map(|row| row.id.0.as_str()).collect()
}

#[cfg(test)]
mod tests {
    use super::RULE;
    use crate::inspect::testing::sees;

    fn apply(what: &str) -> String {
        let tins =
            "#- workshop.toml\nname = \"Bench\"\ntin = [{ id = \"satin\", is = \"oil-polyurethane\" }]";
        sees(&RULE, &format!("surface = [{{ steps = [{{ apply = \"{what}\" }}] }}]\n{tins}"))
    }

    #[test]
    fn the_nearest_finish_or_tin_is_suggested() {
        assert_eq!(apply("shelac"), "1: `shelac` is no finish that is known here [write \"shellac\"]");
        assert_eq!(
            apply("tin:sattin"),
            "1: workshop.toml has no tin with the id `sattin` [write \"tin:satin\"]"
        );
        assert!(apply("satin varnish").contains("[perhaps one of `alkyd-varnish`"));
        assert!(apply("gold leaf").contains("[write a finish family such as"));
    }

    #[test]
    fn families_tins_and_not_known_are_quiet() {
        for what in ["shellac", "tin:satin", "unknown"] {
            assert_eq!(apply(what), "", "{what}");
        }
    }

    #[test]
    fn all_can_be_removed_but_not_found() {
        assert_eq!(sees(&RULE, "surface = [{ found = \"old-finish\", steps = [{ remove = \"all\" }] }]"), "");
        assert_ne!(sees(&RULE, "surface = [{ found = \"all\" }]"), "");
    }

    #[test]
    fn a_tin_needs_a_family() {
        let tin = "#- workshop.toml\nname = \"Bench\"\ntin = [{ id = \"a\", is = \"satin-lacker\" }]";
        assert!(
            sees(&RULE, tin).starts_with("workshop.toml 2: `satin-lacker` is no finish that is known here")
        );
    }
}
