//! Old paint or an unknown old finish disturbed without a word on lead.

use crate::derive::laid;
use crate::diag::{Code, Diagnostic, Rank};
use crate::fields::Row;
use crate::inspect::{Case, Check, Rule};
use crate::record::{Act, FinishName, Standing, Step, Surface};
use crate::unit::edtf::Bound;

pub(super) static RULE: Rule = Rule { code: &CODE, check: Check::Piece(check), needs_whole: true };

static CODE: Code = Code {
    name: "test-not-declared",
    rank: Rank::Doubt,
    why: "Old paint may hold lead, whose dust harms those at the bench and in the house; silence would read as a clean test.",
    fix: "Record the test before the step, or declare with `result = \"not-tested\"` that there was none. Follow local rules for work on lead paint.",
};

/// Paint from this year on is taken to be free of lead. Bans came in 1978 (16 CFR part 1303) and in 1992
/// (SI 1992/31); some household paint held lead to the 1980s, so the year is a compromise of our own.
const LEAD_FREE_FROM: i32 = 1980;

fn check(case: &Case<'_>, seen: &mut Vec<Diagnostic>) {
    let made = case.record.made.as_ref().map(|made| made.years().earliest);
    if matches!(made, Some(Bound::Year(year)) if year >= LEAD_FREE_FROM) {
        return;
    }
    for surface in &case.record.surfaces {
        if is_all_new(case, surface) || is_declared(case, surface) {
            continue;
        }
        if let Some(step) = disturbs(case, surface) {
            let message =
                "an old coat of unknown make is disturbed, and nothing says whether it was tested for lead";
            let help = "put before this step `{ test = \"lead\", result = \"not-tested\" }`, or what a test showed; \
                        where the old coat is known, say what it is in `found`";
            seen.push(case.at(&CODE, &step.span, message).help(help));
        }
    }
}

/// The first step that takes off or abrades a coat that may be old paint.
fn disturbs<'a>(case: &Case<'_>, surface: &'a Surface) -> Option<&'a Row<Step>> {
    let doubtful = |name: &FinishName| match case.trade.finish(name) {
        Some(family) => case.trade.may_hold_lead(family),
        None => name.tin().is_none(),
    };
    let mut doubt = surface.found.is_empty() || surface.found.iter().any(|found| doubtful(found));
    let mut applied: Vec<&FinishName> = Vec::new();
    for step in &surface.steps {
        match step.act() {
            Some(Act::Apply(_)) => applied.extend(laid(step, case.trade).map(|what| &what.value)),
            // The workshop knows what it laid itself.
            Some(Act::Remove(what)) if what.layer().is_some_and(|name| applied.contains(&name)) => {}
            Some(Act::Remove(what)) if doubt && what.layer().is_none_or(doubtful) => return Some(step),
            // Naming what was taken off says what was there.
            Some(Act::Remove(_)) if surface.found.is_empty() => doubt = false,
            // From the first new coat on, abrading meets that coat.
            Some(Act::Abrade(_)) if doubt && applied.is_empty() => return Some(step),
            _ => {}
        }
    }
    None
}

/// Whether the surface lies on nothing but new parts.
fn is_all_new(case: &Case<'_>, surface: &Surface) -> bool {
    let new = |id: &str| case.part(id).is_some_and(|part| part.standing.value == Standing::New);
    !surface.parts.is_empty() && surface.parts.iter().all(|part| new(&part.0))
}

/// Whether a test for lead is recorded, or declared not made, for this surface or for the whole piece.
fn is_declared(case: &Case<'_>, surface: &Surface) -> bool {
    let lead = |words: &str| words.to_lowercase().contains("lead");
    let here = |id: &str| surface.parts.iter().any(|part| part.0 == id);
    surface.steps.iter().any(|step| matches!(step.act(), Some(Act::Test(of)) if lead(of)))
        || case.record.tests.iter().any(|test| {
            lead(&test.of) && (test.part.is_empty() || test.part.iter().any(|part| here(&part.0)))
        })
}

#[cfg(test)]
mod tests {
    use super::RULE;
    use crate::inspect::testing::sees;

    fn surface(made: &str, found: &str, steps: &str) -> String {
        let parts = "part = [{ id = \"top\", name = \"Top\", standing = \"original\" }, { id = \"lip\", name = \"Lip\", standing = \"new\" }]";
        sees(
            &RULE,
            &format!(
                "made = \"{made}\"\n{parts}\nsurface = [{{ parts = \"top\", {found} steps = [\n{steps}\n] }}]"
            ),
        )
    }

    #[test]
    fn an_old_finish_scraped_off() {
        assert_eq!(
            surface("1979", "", "{ clean = \"water\" },\n{ remove = \"old-finish\" }"),
            "5: an old coat of unknown make is disturbed, and nothing says whether it was tested for lead \
             [put before this step `{ test = \"lead\", result = \"not-tested\" }`, or what a test showed; \
             where the old coat is known, say what it is in `found`]"
        );
    }

    #[test]
    fn paint_and_unknown_coats_abraded() {
        for found in [
            "",
            "found = \"unknown\",",
            "found = \"existing coating\",",
            "found = [\"shellac\", \"alkyd-eggshell\"],",
        ] {
            assert_ne!(surface("1930~", found, "{ abrade = \"P180\" }"), "", "{found}");
        }
    }

    #[test]
    fn a_declaration_is_enough() {
        let step = "{ test = \"Lead swab\", result = \"not-tested\" },\n{ remove = \"all\" }";
        assert_eq!(surface("1930~", "", step), "");
        let whole = "test = [{ of = \"lead\", result = \"negative\" }]\nsurface = [{ steps = [{ remove = \"all\" }] }]";
        assert_eq!(sees(&RULE, whole), "");
        let other = "part = [{ id = \"a\", name = \"A\", standing = \"later\" }]
test = [{ of = \"lead\", part = \"a\", result = \"negative\" }]\nsurface = [{ steps = [{ remove = \"all\" }] }]";
        assert_ne!(sees(&RULE, other), "");
    }

    #[test]
    fn young_new_known_or_covered_is_quiet() {
        assert_eq!(surface("1980", "", "{ remove = \"old-finish\" }"), "");
        assert_eq!(
            surface("1930", "found = \"shellac\",", "{ abrade = \"P180\" },\n{ remove = \"shellac\" }"),
            ""
        );
        assert_eq!(surface("1930", "", "{ remove = \"shellac\" },\n{ abrade = \"P180\" }"), "");
        assert_eq!(surface("1930", "", "{ apply = \"shellac\" },\n{ abrade = \"P400\" }"), "");
        assert_eq!(surface("1930", "", "{ apply = \"chalk-paint\" },\n{ remove = \"chalk-paint\" }"), "");
        let new = "part = [{ id = \"lip\", name = \"Lip\", standing = \"new\" }]
surface = [{ parts = \"lip\", steps = [{ abrade = \"P180\" }] }]";
        assert_eq!(sees(&RULE, new), "");
    }
}
