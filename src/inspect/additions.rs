//! What would improve a piece's papers most: the answer to "what should I write next?"
//!
//! The checklist is a table of the trade, `documentation.toml`, and `derive` compares the record with it.

use super::Case;
pub use crate::derive::Addition;

/// How many additions are proposed at once.
const AT_ONCE: usize = 3;

/// The three additions that would improve the piece's papers most besides those that were said, the best first; empty where
/// nothing is missing.
pub(super) fn additions(case: &Case<'_>, said: &[&Addition]) -> Vec<Addition> {
    let all = case.facts.completeness.additions.iter().filter(|addition| !said.contains(addition));
    all.take(AT_ONCE).cloned().collect()
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use crate::inspect::testing::bench;
    use crate::trade::Trade;

    /// The additions proposed for the piece `table`, a line each.
    fn proposed(text: &str) -> String {
        let bench = bench(text);
        let lines: Vec<String> =
            bench.additions().iter().map(|addition| addition.to_string().replace('\n', " / ")).collect();
        lines.join("\n")
    }

    /// How much of the checklist the piece `table` tells, in percent.
    fn percent(text: &str) -> u64 {
        bench(text).completeness().percent()
    }

    #[test]
    fn a_bare_record_is_asked_for_the_heaviest_three() {
        assert_eq!(
            proposed(""),
            "show the piece as it was found: pieces/table/photos/before-front.jpg\n\
             say what was done: / [[work]] / on = 2026-03-11 / did = \"…\" / undo = \"…\"\n\
             say of which parts it is made, and which of them are original: \
             / [[part]] / id = \"top\" / name = \"Top\" / standing = \"unknown\" / timber = \"unknown\""
        );
    }

    const WELL_TOLD: &str = r#"
made = "1920/1935~"
basis = "unknown"
maker = "unknown"
inscriptions = "none found"
subject = "none"
told-by = "an ink stain inside the drawer"
level = "repair"
summary = "A table for six."
stance = "No more than needed."
size = { width = 910, depth = 1200, height = 735 }
part = [{ id = "top", name = "Top", standing = "unknown", timber = "unknown" }]
finding = [{ id = "f1", seen = "split" }]
decision = [{ ask = "The split?", chose = "close it" }]
work = [{ did = "closed it", mends = "f1", undoable = "no" }]
surface = [{ parts = "top", found = "shellac" }]
test = [{ of = "lead", result = "not-tested" }]
undone = [{ what = "a burn", why = "not-needed" }]
photo = [{ file = "before.jpg", alt = "The front." }, { file = "after.jpg", alt = "The front." }]
use = { for = "meals" }
#- photos/before.jpg
#- photos/after.jpg
#- story.md
It came with a split.
"#;

    #[test]
    fn nothing_is_proposed_where_nothing_is_missing() {
        assert_eq!(proposed(WELL_TOLD), "");
    }

    #[test]
    fn each_line_of_a_record_is_missed_when_it_is_gone() {
        let lines: Vec<&str> = WELL_TOLD.trim().lines().collect();
        // Years are not asked for where their basis says that nothing tells.
        for gone in lines.iter().filter(|line| !line.starts_with("made")) {
            let rest: Vec<&str> = lines.iter().copied().filter(|line| line != gone).collect();
            assert_ne!(proposed(&rest.join("\n")), "", "{gone}");
        }
        let undated = WELL_TOLD.replace("made = \"1920/1935~\"\nbasis = \"unknown\"\n", "");
        assert_eq!(proposed(&undated), "say when it was made: made = \"1920/1935~\"");
    }

    #[test]
    fn the_percentage_is_of_the_weights_and_rounded_down() {
        assert_eq!(percent(WELL_TOLD), 100);
        // Type and title are in every record: 38 and 37 of the 1415 that all weights come to.
        let all: u32 = Trade::built_in().documentation.rows.iter().map(|item| item.weight.0).sum();
        assert_eq!(all, 1415);
        assert_eq!(percent(""), 5);
        assert_eq!(percent("subject = \"none\""), 6);
        // 1405 of 1415 are 99.3 %.
        assert_eq!(percent(&WELL_TOLD.replace("subject = \"none\"\n", "")), 99);
    }

    #[test]
    fn a_workshop_adds_to_the_checklist_and_corrects_it() {
        let own = "#- trade/documentation.toml
[[item]]
id = \"stock\"
category = \"treatment\"
counts = \"decision\"
asked = \"always\"
say = \"say where the old timber came from\"
write = \"from-stock = \\\"…\\\"\"
weight = 400
source = \"our own habit\"
";
        let first = proposed(own).lines().next().map(str::to_owned);
        assert_eq!(first.as_deref(), Some("say where the old timber came from: from-stock = \"…\""));
        let quiet = own.replace("\"stock\"", "\"photograph-before\"").replace("400", "1");
        assert!(!proposed(&quiet).contains("as it was found"), "{}", proposed(&quiet));
    }

    proptest! {
        /// No line that is added to a record lowers its percentage.
        #[test]
        fn a_fact_never_lowers_the_percentage(
            lines in prop::sample::subsequence(FACTS.to_vec(), 0..FACTS.len()), more in prop::sample::select(FACTS)
        ) {
            let less = percent(&lines.join("\n"));
            if !lines.contains(&more) {
                let mut lines = lines;
                lines.push(more);
                prop_assert!(percent(&lines.join("\n")) >= less);
            }
        }
    }

    /// Lines of a record that may stand in any order and number.
    const FACTS: &[&str] = &[
        "made = \"1920/1935~\"",
        "basis = \"unknown\"",
        "maker = \"unknown\"",
        "level = \"repair\"",
        "stance = \"No more than needed.\"",
        "size = { width = 910, depth = 1200, height = 735 }",
        "part = [{ id = \"top\", name = \"Top\", standing = \"unknown\", timber = \"unknown\" }]",
        "work = [{ did = \"closed it\" }]",
        "test = [{ of = \"lead\", result = \"not-tested\" }]",
        "surface = [{ parts = \"top\", found = \"shellac\" }]",
    ];
}
