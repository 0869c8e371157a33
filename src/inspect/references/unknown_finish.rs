//! A finish that is neither a family of the trade nor a tin of the workshop.

use super::names::not_taken;
use crate::diag::{Code, Diagnostic, Rank, nearest};
use crate::inspect::words::declared_unknown;
use crate::inspect::{Case, Check, Rule, Shop};
use crate::record::{Act, FinishName, TinId};
use crate::trade::{Taken, Trade};

pub(super) static RULE: Rule = Rule { code: &CODE, check: Check::Both(piece, workshop), needs_whole: false };

static CODE: Code = Code {
    name: "unknown-finish",
    rank: Rank::Doubt,
    why: "Care, drying times and how to undo a finish all follow from its family; of a word that names none the papers print only the word, with no advice of ours.",
    fix: "Write a finish family such as `shellac`, or `tin:` and the id of a tin in `workshop.toml` whose `is` names one.",
};

fn piece(case: &Case<'_>, seen: &mut Vec<Diagnostic>) {
    for surface in &case.intended().surfaces {
        let steps = surface.steps.iter().flat_map(|step| step.acts());
        let named = steps.filter_map(|act| match act {
            Act::Remove(what) => Some((what.layer()?, &what.span)),
            Act::Apply(what) => Some((&what.value, &what.span)),
            _ => None,
        });
        let found = surface.found.iter().map(|found| (&found.value, &found.span));
        for (name, span) in found.chain(named) {
            let wrong = match name.tin() {
                // Without a workshop's file its tins are not known to be wrong.
                Some(id) => case.folder.workshop.as_ref().and_then(|_| no_tin(id, case)),
                None if declared_unknown(name) => None,
                None => no_finish(name, case),
            };
            if let Some((message, help)) = wrong {
                seen.push(case.at(&CODE, span, message).help(help));
            }
        }
    }
}

fn workshop(shop: &Shop<'_>, seen: &mut Vec<Diagnostic>) {
    let tins = shop.folder.workshop.iter().flat_map(|workshop| &workshop.tins);
    for family in tins.map(|tin| &tin.is) {
        if let Some((message, help)) = not_taken(family, &shop.trade.finish_words(), "finish", EXAMPLE) {
            seen.push(shop.at(&CODE, &family.span, message).help(help));
        }
    }
}

const EXAMPLE: &str =
    "write a finish family such as `shellac`, `paste-wax`, `oil-polyurethane` or `water-polyurethane`";

/// What is wrong with the name of a tin, if anything: a known tin of an unknown family is reported at the tin.
fn no_tin(id: &TinId, case: &Case<'_>) -> Option<(String, String)> {
    let tins: Vec<&str> = case.tins().iter().map(|tin| tin.id.0.as_str()).collect();
    if tins.contains(&id.0.as_str()) {
        return None;
    }
    let help = match nearest(&id.0, tins) {
        Some(near) => format!("write \"tin:{near}\""),
        None => format!("add to workshop.toml:\n[[tin]]\nid = \"{}\"\nis = \"oil-polyurethane\"", id.0),
    };
    Some((format!("workshop.toml has no tin with the id `{}`", id.0), help))
}

/// What is wrong with the name of a finish, if anything: it may be a tin, written as a finish, or a word that belongs
/// elsewhere.
fn no_finish(name: &FinishName, case: &Case<'_>) -> Option<(String, String)> {
    let (message, help) = not_taken(name, &case.trade.finish_words(), "finish", AS_TYPED)?;
    let help = match case.trade.finish_words().understood(name) {
        (Taken::Unknown, _) => belongs(name, case.trade, false).unwrap_or(help),
        // What another table has as it stands is told better by that than by one of its words here.
        (Taken::Elsewhere(_) | Taken::Between(_), by) if !by.is_empty() => {
            belongs(name, case.trade, true).unwrap_or(help)
        }
        _ => help,
    };
    let tin = case.tins().iter().find(|tin| tin.id.0.eq_ignore_ascii_case(name));
    Some((message, tin.map_or(help, |tin| format!("write \"tin:{}\"", tin.id.0))))
}

/// Where a word belongs that is no finish, as other tables know it, or only where they have it as it stands.
fn belongs(name: &FinishName, trade: &Trade, as_it_stands: bool) -> Option<String> {
    let (treatments, coverings) = (trade.treatment_words(), trade.covering_words());
    let treatment = if as_it_stands { treatments.form(name) } else { treatments.taken(name).row() };
    let treatment = treatment.map(|row| format!("it leaves no layer of its own: write it {}", row.belongs()));
    let covering = || {
        let row = if as_it_stands { coverings.form(name) } else { coverings.taken(name).row() }?;
        Some(format!(
            "it is what a part is covered with: write it at the part, material = \"{}\"",
            &**row.label
        ))
    };
    treatment.or_else(covering)
}

const AS_TYPED: &str = "it is printed as typed, with no advice of ours; where it is a finish family by another name, \
                        write that, such as `shellac` or `paste-wax`";

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
        assert_eq!(apply("shelllac"), "1: `shelllac` is no finish that is known here [write \"shellac\"]");
        assert_eq!(
            apply("tin:sattin"),
            "1: workshop.toml has no tin with the id `sattin` [write \"tin:satin\"]"
        );
        assert!(apply("satin").ends_with("[write \"tin:satin\"]"));
        assert!(apply("eggshell").contains("may mean more than one finish [That word tells the sheen"));
        assert!(apply("turps substitute").ends_with(
            "[it leaves no layer of its own: write it as a step of its own, clean = \"white spirit\"]"
        ));
        assert!(
            apply("rush seat")
                .ends_with("[it is what a part is covered with: write it at the part, material = \"rush\"]")
        );
        assert!(apply("fish skin").contains("[it is printed as typed, with no advice of ours;"));
    }

    #[test]
    fn families_tins_and_not_known_are_quiet() {
        for what in ["shellac", "tin:satin", "unknown", "French polish", "Danish-oil"] {
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
