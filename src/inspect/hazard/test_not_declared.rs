//! Old paint or an unknown old finish disturbed without a word on lead.

use crate::derive::{Implied, OldCoatKind};
use crate::diag::{Code, Diagnostic, Rank};
use crate::fields::Row;
use crate::inspect::{Case, Check, Rule};
use crate::record::Step;

pub(super) static RULE: Rule = Rule { code: &CODE, check: Check::Piece(check), needs_whole: true };

/// The name of the fault.
pub const NAME: &str = "test-not-declared";

static CODE: Code = Code {
    name: NAME,
    rank: Rank::Doubt,
    why: "Old paint may hold lead, whose dust harms those at the bench and in the house; silence would read as a clean test.",
    fix: "Record the test before the step, or declare with `result = \"not-tested\"` that there was none. Follow local rules for work on lead paint.",
};

fn check(case: &Case<'_>, seen: &mut Vec<Diagnostic>) {
    let mut told: Vec<&Row<Step>> = Vec::new();
    for coat in case.facts.hazards.iter().flat_map(Implied::coats) {
        let Some(step) = &coat.disturbed_by else { continue };
        let is_declared = !coat.tests.is_empty() || coat.kind == OldCoatKind::Clear;
        if is_declared || told.iter().any(|known| known.is(step)) {
            continue;
        }
        told.push(step);
        let message =
            "an old coat of unknown make is disturbed, and nothing says whether it was tested for lead";
        let help = "put before this step `{ test = \"lead\", result = \"not-tested\" }`, or what a test showed; \
                    where the old coat is known, say what it is in `found`";
        seen.push(case.at(&CODE, &step.span, message).help(help));
    }
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
        assert_eq!(surface("1992", "", "{ remove = \"old-finish\" }"), "");
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
