//! A finish taken off that nothing says was there.

use crate::derive::coating;
use crate::diag::{Code, Diagnostic, Rank};
use crate::fields::Row;
use crate::inspect::{Case, Check, Rule};
use crate::record::{Act, FinishName, Step, Surface};
use crate::trade::Finish;

pub(super) static RULE: Rule = Rule { code: &CODE, check: Check::Piece(check), needs_whole: true };

static CODE: Code = Code {
    name: "removal-of-nothing",
    rank: Rank::Doubt,
    why: "The layers are worked out from what was found and applied, so this removal would be left out of the papers.",
    fix: "Name the finish in the surface's `found`, or write `remove = \"old-finish\"` where its kind was not known.",
};

fn check(case: &Case<'_>, seen: &mut Vec<Diagnostic>) {
    for surface in &case.record.surfaces {
        for step in &surface.steps {
            let Some(Act::Remove(what)) = step.act() else { continue };
            // Everything, or an old finish of any kind, is always there to be taken off.
            let is_old = |name: &FinishName| case.trade.finish(name).is_some_and(Finish::is_old);
            let Some(name) = what.layer().filter(|name| !is_old(name)) else { continue };
            if coating(name, case.tins(), case.trade).is_some() && !was_there(case, surface, step, name) {
                let message = format!("`{name}` is taken off, and nothing says that it was there");
                let help = format!("write `found = \"{name}\"` at the surface, or `remove = \"old-finish\"`");
                seen.push(case.at(&CODE, &what.span, message).help(help));
            }
        }
    }
}

/// Whether what a step takes off was found, or applied in an earlier step.
fn was_there(case: &Case<'_>, surface: &Surface, removal: &Row<Step>, what: &FinishName) -> bool {
    let family = |name: &FinishName| coating(name, case.tins(), case.trade).map(|known| known.finish);
    let alike = |one: &FinishName| {
        family(one).zip(family(what)).is_some_and(|(one, other)| case.trade.may_be_one(one, other))
    };
    let earlier = surface.steps.iter().take_while(|step| !step.is(removal));
    let applied = earlier.filter_map(|step| match step.act() {
        Some(Act::Apply(what)) => Some(what),
        _ => None,
    });
    let mut layers = surface.found.iter().chain(applied);
    layers.any(|layer| layer.value == *what || alike(layer))
}

#[cfg(test)]
mod tests {
    use super::RULE;
    use crate::inspect::testing::sees;

    fn removed(what: &str) -> String {
        let tins =
            "#- workshop.toml\nname = \"Bench\"\ntin = [{ id = \"satin\", is = \"oil-polyurethane\" }]";
        let steps = format!("{{ apply = \"tin:satin\" }}, {{ remove = \"{what}\" }}");
        sees(&RULE, &format!("surface = [{{ found = \"shellac\", steps = [{steps}] }}]\n{tins}"))
    }

    #[test]
    fn wax_that_was_never_there() {
        assert_eq!(
            removed("paste-wax"),
            "1: `paste-wax` is taken off, and nothing says that it was there \
             [write `found = \"paste-wax\"` at the surface, or `remove = \"old-finish\"`]"
        );
    }

    #[test]
    fn found_applied_or_whatever_it_was() {
        for what in ["shellac", "tin:satin", "oil-polyurethane", "all", "old-finish", "Original finish"] {
            assert_eq!(removed(what), "", "{what}");
        }
    }
}
