//! The disclosure sheet: everything a buyer would rather know before than after, on one page.
//!
//! What is summed up there stands whole in the build record.

use serde::Serialize;

use crate::claim::{Claim, says};
use crate::view::context::PieceContext;
use crate::view::shared::front_page::{FrontPage, front_page};
use crate::view::shared::photograph::Gallery;
use crate::view::shared::row::{StandingRow, standings};
use crate::view::shared::section::{Arranged, Form};
use crate::words::{Sentence, shortened};

/// Letters of a buyer's name that have room beside the signature.
const NAME: usize = 70;

/// The disclosure sheet of one piece.
#[derive(Debug, Clone, Serialize)]
pub struct Disclosure {
    /// What a buyer reads on one page.
    pub front: FrontPage,
    /// The parts in a sentence or two, by their counts.
    pub verdict: String,
    /// Parts counted by standing, as they are drawn.
    pub standings: Vec<StandingRow>,
    /// What goes with the piece.
    pub given: Vec<Sentence>,
    /// To whom it goes; empty where not recorded.
    pub handed_to: String,
    /// The day it goes; empty where not recorded.
    pub handed_on: String,
}

/// What the sheet says, in the order in which it is read.
pub(crate) fn arranged<'a>(context: &PieceContext<'a>) -> Vec<Arranged<'a>> {
    let claims = context.claims;
    let section = Arranged::new;
    let parts: Vec<&'a Claim> =
        claims.verdict.iter().take(1).chain(claims.part_lines.iter().map(|line| &line.claim)).collect();
    let first = [
        section("piece", says!("heading-piece"), Form::Columns, &claims.identity),
        section("level", says!("heading-level"), Form::Lines, &claims.level),
        section("know", says!("heading-know"), Form::Lines, &claims.know),
        Arranged {
            name: "parts".into(),
            heading: says!("heading-parts"),
            form: Form::Columns,
            claims: parts,
        },
    ];
    let ledger = [
        section("further", says!("ledger-further"), Form::Lines, &claims.further),
        section("finish", says!("ledger-finish"), Form::Lines, &claims.finish_lines),
        section("lost", says!("ledger-lost"), Form::Lines, &claims.lost_lines),
        section("patches", says!("ledger-patches"), Form::Columns, &claims.patches),
        section("fixings", says!("ledger-fixings"), Form::Lines, &claims.fixing_lines),
        section("tests-made", says!("ledger-tests"), Form::Columns, &claims.tests_made),
        section("tests-not-made", says!("ledger-not-tested"), Form::Columns, &claims.tests_not_made),
        section("left", says!("ledger-left"), Form::Columns, &claims.left),
        section("open", says!("ledger-open"), Form::Lines, &claims.open),
        section("unknown", says!("ledger-unknown"), Form::Lines, &claims.unknown),
        section("given", says!("ledger-given"), Form::Lines, &claims.given),
    ];
    first.into_iter().chain(ledger).collect()
}

/// Builds the disclosure sheet.
pub(crate) fn disclosure(context: &PieceContext<'_>, gallery: &Gallery<'_>) -> Disclosure {
    let claims = context.claims;
    let words = context.house.words();
    let verdict = words.sentences(&claims.verdict);
    let handover = context.piece.handover();
    Disclosure {
        front: front_page(context, gallery),
        verdict: verdict.iter().map(Sentence::whole).collect::<Vec<_>>().join(" "),
        standings: standings(context),
        given: words.sentences(&claims.given),
        handed_to: handover
            .and_then(|handover| handover.to.for_buyer().as_ref())
            .map_or(String::new(), |to| shortened(&words.said(to), NAME)),
        handed_on: context.piece.handed_over().map_or(String::new(), |on| words.day(on)),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::view::shared::photograph::Sees;
    use crate::view::testing::shown;

    fn front(record: &str) -> FrontPage {
        shown(record, "", |context| disclosure(context, &Gallery::of(context, Sees::Public)).front)
    }

    #[test]
    fn the_worst_comes_first_and_five_lines_are_enough() {
        let front = front(
            "part = [{ id = \"a\", name = \"Lid\", standing = \"original\" }]\n\
             surface = [{ name = \"Outside\", parts = \"a\", found = \"oil-paint\", steps = [{ remove = \"all\", only = \"a\" }] }, \
             { name = \"Inside\", parts = \"a\", found = \"oil-paint\" }]\n\
             test = [{ of = \"lead\", by = \"laboratory\", part = \"a\", result = \"positive\" }]\n\
             finding = [{ id = \"f\", part = \"a\", seen = \"split\", severity = \"major\" }]\n\
             use = { cautions = [\"Hold the lid.\", \"Mind the lock.\", \"Keep it dry.\", \"Nobody sits on it.\"] }",
        );
        assert_eq!(front.know.len(), 5);
        assert!(front.know[0].lead.starts_with("Lead was found in"), "{:?}", front.know);
        assert!(front.know[4].lead.contains("finish that was found there is gone"), "{:?}", front.know);
        let left: Vec<&str> = front
            .ledger
            .iter()
            .filter(|row| row.label == "Known faults")
            .map(|row| row.text.as_str())
            .collect();
        assert_eq!(left, ["Split."], "what has no room above is told below");
    }

    /// The texts of the rows under a label.
    fn under<'a>(front: &'a FrontPage, label: &str) -> Vec<&'a str> {
        front.ledger.iter().filter(|row| row.label == label).map(|row| row.text.as_str()).collect()
    }

    #[test]
    fn that_all_is_well_is_no_fault_and_what_is_not_recorded_was_not_done() {
        let told = front(
            "finding = [{ id = \"a\", seen = \"no worm\" }, { id = \"b\", seen = \"sound\" }, { id = \"c\", seen = \"no key\" }]",
        );
        assert_eq!(under(&told, "Known faults"), ["No key."]);
        assert_eq!(told.says, "What was done to it is not recorded.");
        let worked = front("work = [{ did = \"waxed it\" }]");
        assert_eq!(worked.says, "Worked on. How far the work went is not known.");
    }

    #[test]
    fn the_gravest_test_is_named_first() {
        let told = front(
            "surface = [{ name = \"Outside\", found = \"oil-paint\" }]\n\
             test = [{ of = \"load\", result = \"held\" }, { of = \"lead\", by = \"laboratory\", result = \"positive\" }]",
        );
        let made = under(&told, "Tests made");
        assert!(made[0].starts_with("Lead"), "{made:?}");
    }

    #[test]
    fn a_fault_is_told_once_with_its_number() {
        let front = front(
            "part = [{ id = \"a\", name = \"Top\", standing = \"original\" }]\n\
             finding = [{ id = \"x\", seen = \"a dent\" }, { id = \"f\", part = \"a\", seen = \"split\", severity = \"major\" }]\n\
             undone = [{ what = \"The split\", leaves = \"f\", why = \"not-worth\", effect = \"It catches cloth.\" }]",
        );
        let told: Vec<(&str, &str)> =
            front.know.iter().map(|line| (line.lead.as_str(), line.place.as_str())).collect();
        assert_eq!(told, [("The split.", "finding 2")]);
    }

    #[test]
    fn a_rich_record_is_summed_up_and_says_so() {
        let parts = |count: usize, standing: &str| -> Vec<String> {
            let part =
                |n| format!("{{ id = \"{standing}-{n}\", name = \"Part {n}\", standing = \"{standing}\" }}");
            (0..count).map(part).collect()
        };
        let parts = [parts(40, "original"), parts(30, "new"), parts(2, "missing")].concat().join(", ");
        let tests: Vec<String> =
            (0..50).map(|n| format!("{{ of = \"thing {n} of many\", result = \"not-tested\" }}")).collect();
        let front = front(&format!("part = [{parts}]\ntest = [{}]", tests.join(", ")));
        assert_eq!(front.parts.len(), 8, "{:?}", front.parts);
        assert!(front.parts[0].text.starts_with("as first made: Part 0, Part 1"), "{:?}", front.parts[0]);
        let row = front.ledger.iter().find(|row| row.label == "Not tested").expect("they are told");
        assert!(
            row.text.ends_with(" more in the build record.") && row.text.chars().count() < 260,
            "{}",
            row.text
        );
        let few = self::front(
            "part = [{ id = \"a\", name = \"Top\", standing = \"new\", instead-of = \"a lost one\" }]",
        );
        assert_eq!(
            (few.parts[0].name.as_str(), few.parts[0].text.as_str()),
            ("Top", "new, in place of a lost one")
        );
    }
}
