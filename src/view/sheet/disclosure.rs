//! The disclosure sheet: everything a buyer would rather know before than after.

use serde::Serialize;

use crate::claim::says;
use crate::view::context::PieceContext;
use crate::view::shared::front_page::{FrontPage, front_page};
use crate::view::shared::photograph::Gallery;
use crate::view::shared::row::{StandingRow, standings};
use crate::view::shared::section::{Arranged, Form, Section, worded};
use crate::words::{self, Sentence};

/// The disclosure sheet of one piece.
#[derive(Debug, Clone, Serialize)]
pub struct Disclosure {
    /// What a buyer reads on one page.
    pub front: FrontPage,
    /// How far the work went, and in the workshop's words why.
    pub level: Vec<Sentence>,
    /// The sheet in a sentence or two.
    pub verdict: String,
    /// Parts counted by standing, as they are drawn.
    pub standings: Vec<StandingRow>,
    /// What it says, in the order in which it is read.
    pub sections: Vec<Section>,
    /// What goes with the piece.
    pub given: Vec<Sentence>,
    /// To whom it goes; empty where not recorded.
    pub handed_to: String,
    /// The day it goes; empty where not recorded.
    pub handed_on: String,
}

/// The section that stands at the head of the sheet, beside its title.
const HEAD: &str = "verdict";

/// What the sheet says, section by section.
pub(crate) fn arranged<'a>(context: &PieceContext<'a>) -> Vec<Arranged<'a>> {
    let claims = &context.claims;
    let section = Arranged::new;
    vec![
        section(HEAD, says!("heading-counts"), Form::Lines, &claims.verdict),
        section("know", says!("heading-know"), Form::Lines, &claims.know),
        section("piece", says!("heading-piece"), Form::Columns, &claims.identity),
        section("level", says!("heading-level"), Form::Lines, &claims.level),
        section("shares", says!("heading-shares"), Form::Columns, &claims.shares),
        section("stability", says!("heading-stability"), Form::Lines, &claims.stability),
        section("substances", says!("heading-substances"), Form::Lines, &claims.substances),
        section("not-original", says!("heading-not-original"), Form::Columns, &claims.not_original),
        section("patches", says!("heading-patches"), Form::Columns, &claims.patches),
        section("repairs", says!("heading-repairs"), Form::Columns, &claims.earlier_repairs),
        section("original", says!("heading-original"), Form::Columns, &claims.original),
        section("fixings", says!("heading-fixings"), Form::Columns, &claims.fixings),
        section("finishes", says!("heading-finishes"), Form::Columns, &claims.finishes),
        section("tests-made", says!("heading-tests-made"), Form::Columns, &claims.tests_made),
        section("tests-not-made", says!("heading-tests-not-made"), Form::Columns, &claims.tests_not_made),
        section("undone", says!("heading-undone"), Form::Columns, &claims.undone),
        section("faults", says!("heading-faults"), Form::Columns, &claims.standing_faults),
        section("mended", says!("heading-mended"), Form::Columns, &claims.mended),
        section("failures", says!("heading-failures"), Form::Columns, &claims.failures),
        section("open", says!("heading-open"), Form::Lines, &claims.open),
        section("unknown", says!("heading-unknown"), Form::Lines, &claims.unknown),
        section("dating", says!("heading-dating"), Form::Lines, &claims.dating),
        section("given", says!("heading-given"), Form::Lines, &claims.given),
    ]
}

/// Builds the disclosure sheet.
pub(crate) fn disclosure(context: &PieceContext<'_>, gallery: &Gallery<'_>) -> Disclosure {
    let claims = &context.claims;
    let words = context.house.words();
    let verdict = words.sentences(&claims.verdict);
    let handover = context.record.handover.as_ref();
    Disclosure {
        front: front_page(context, gallery),
        level: words.sentences(&claims.level),
        verdict: verdict.iter().map(Sentence::whole).collect::<Vec<_>>().join(" "),
        standings: standings(context),
        sections: worded(context, &arranged(context)).into_iter().filter(|told| told.name != HEAD).collect(),
        given: words.sentences(&claims.given),
        handed_to: handover
            .and_then(|handover| handover.to.for_buyer().as_ref())
            .map_or(String::new(), |to| words::said(to)),
        handed_on: context.piece.handed_over().map_or(String::new(), words::day),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::view::shared::photograph::Sees;
    use crate::view::testing::shown;

    fn sheet(record: &str) -> Disclosure {
        shown(record, "", |context| disclosure(context, &Gallery::of(context, Sees::Public)))
    }

    fn leads(sheet: &Disclosure, name: &str) -> Vec<String> {
        let section = sheet.sections.iter().find(|section| section.name == name);
        let lines = section.iter().flat_map(|section| &section.lines);
        lines.map(|line| line.lead.to_lowercase()).collect()
    }

    fn lines(sheet: &Disclosure, name: &str) -> Vec<String> {
        let section = sheet.sections.iter().find(|section| section.name == name);
        section.iter().flat_map(|section| &section.lines).map(Sentence::whole).collect()
    }

    #[test]
    fn everything_that_is_not_known_is_said() {
        let said = |record: &str| lines(&sheet(record), "unknown");
        let whole = "made = \"1920\"\nmaker = \"a joiner\"\n";
        assert_eq!(said(whole), Vec::<String>::new());
        let parts = "part = [{ id = \"a\", name = \"Knob\", standing = \"unknown\" }, \
                     { id = \"b\", name = \"Leaf\", standing = \"original\", timber = \"unknown\" }]\n";
        let rest = "fixing = [{ kind = \"screw-slotted\", standing = \"unknown\" }]\n\
                    surface = [{ parts = [\"a\"], found = \"old-finish\" }, \
                    { parts = [\"b\"], found = \"unknown\", steps = [{ remove = \"all\" }, { apply = \"house brew\" }] }]\n";
        assert_eq!(
            said(&format!("{whole}{parts}{rest}")),
            [
                "Whether these parts are original is not known: Knob.",
                "The timber of these parts is not known: Leaf.",
                "Whether these fixings are original is not known: slotted wood screw.",
                "The old finish on Knob was not identified.",
                "The old finish taken off Leaf was not identified.",
                "What “house brew” on Leaf is, is not known here.",
            ]
        );
    }

    #[test]
    fn parts_are_sorted_by_standing_and_none_is_lost() {
        let standings =
            ["original", "old-repair", "later", "salvaged", "new", "removed", "missing", "unknown"];
        let parts =
            standings.map(|word| format!("{{ id = \"{word}\", name = \"{word}\", standing = \"{word}\" }}"));
        let sheet = sheet(&format!("part = [{}]", parts.join(", ")));
        assert_eq!(leads(&sheet, "original"), ["original"]);
        assert_eq!(leads(&sheet, "repairs"), ["old-repair"]);
        assert_eq!(
            leads(&sheet, "not-original"),
            ["later", "salvaged", "new", "removed", "missing", "not known"]
        );
    }

    const TOP: &str = "part = [{ id = \"top\", name = \"Top\", standing = \"original\", size = { length = 1000, width = 400 } }, \
                       { id = \"pins\", name = \"Pins\", standing = \"new\", count = 16 }]\n";

    #[test]
    fn a_set_counts_once_and_of_the_rest_it_is_said_what_holds() {
        let verdict = |keys: &str| sheet(&format!("{keys}{TOP}")).verdict;
        let counted = "1 of its 2 recorded parts is as first made, as far as is known (a set counts once). Of the others: 1 new. ";
        for (rest, said) in [
            ("", "Of other parts nothing is recorded."),
            ("rest = \"original\"\n", "All other parts are as first made, as far as is known."),
            ("rest = \"not-looked-at\"\n", "Other parts were not looked at."),
        ] {
            let said = format!("{counted}{said} Nothing is recorded as left unmended.");
            assert_eq!(verdict(rest), said);
        }
        let bare = sheet("rest = \"not-looked-at\"").verdict;
        assert!(
            bare.starts_with("Its parts were not looked at, so nothing is said of what is original."),
            "{bare}"
        );
    }

    #[test]
    fn a_patch_leaves_its_part_original_and_is_never_silent() {
        let patches = "patch = [{ part = \"top\", what = \"veneer patch\", standing = \"new\", size = { length = 200, width = 40 }, \
                       with = \"old oak\", undo = \"warm, damp\" }, { part = \"top\", what = \"filled hole\", standing = \"unknown\" }, \
                       { part = \"top\", what = \"inlay\", standing = \"original\" }]";
        let sheet = sheet(&format!("{TOP}{patches}"));
        assert_eq!(
            lines(&sheet, "original"),
            [
                "Top. Original; 1000 × 400 mm. Except for: veneer patch (new, about 2 % of its face) and filled hole (not known)."
            ]
        );
        assert_eq!(
            lines(&sheet, "patches"),
            [
                "Veneer patch, Top. New, 200 × 40 mm, about 2 % of its face. Made with old oak. To undo: warm, damp.",
                "Filled hole, Top. Not known.",
                "Inlay, Top. Original."
            ]
        );
        assert!(
            sheet.verdict.contains(
                "Of those that are as first made, 1 has a patch that is not, or is not known to be."
            ),
            "{}",
            sheet.verdict
        );
    }

    #[test]
    fn what_was_mended_only_in_part_or_in_vain_stands_among_the_faults() {
        let became = |works: &str| {
            let sheet =
                sheet(&format!("finding = [{{ id = \"ring\", seen = \"a black ring\" }}]\nwork = [{works}]"));
            (lines(&sheet, "mended").len(), lines(&sheet, "faults"))
        };
        let work = |keys: &str| format!("{{ did = \"bleached it\", mends = \"ring\"{keys} }}");
        assert_eq!(became(&work("")), (1, vec![]));
        assert_eq!(became(&work(", turned-out = \"well\"")), (1, vec![]));
        let (mended, faults) = became(&work(", turned-out = \"partly\""));
        assert_eq!((mended, faults), (0, vec!["A black ring. Mended only in part: bleached it.".to_owned()]));
        let failed = work(", id = \"one\", turned-out = \"failed\"");
        assert_eq!(became(&failed).1, ["A black ring. Tried, and it did not hold: bleached it."]);
        let again = format!("{failed}, {{ did = \"bleached it again\", redoes = \"one\" }}");
        assert_eq!(became(&again), (1, vec![]));
        let circle = "{ id = \"one\", did = \"x\", mends = \"ring\", redoes = \"two\" }, { id = \"two\", did = \"y\", redoes = \"one\" }";
        assert_eq!(became(circle).0, 1);
    }

    #[test]
    fn the_verdict_counts_what_was_left_and_not_tested() {
        let said = sheet(
            "undone = [{ what = \"a dent\", why = \"not-worth\" }]\nfinding = [{ id = \"f\", seen = \"a gap\" }]\n\
             test = [{ of = \"lead\", result = \"not-tested\" }, { of = \"arsenic\", result = \"negative\" }]",
        );
        assert_eq!(
            said.verdict,
            "Its parts were not recorded, so nothing is said of what is original. 1 thing was left unmended, and said why. \
             Of 1 finding it is not recorded what became. 1 test was not made."
        );
        assert_eq!(leads(&said, "tests-made"), ["arsenic"]);
        assert_eq!(leads(&said, "tests-not-made"), ["lead"]);
    }

    const PARTS: &str = "part = [{ id = \"top\", name = \"Top\", standing = \"original\" }, \
                       { id = \"leg\", name = \"Leg\", standing = \"original\" }]\n";

    /// What is said of substances where the top has an old coat of this name, and these steps.
    fn of_top(found: &str, steps: &str) -> Vec<String> {
        let surface = format!("surface = [{{ parts = \"top\", found = \"{found}\", steps = [{steps}] }}]\n");
        lines(&sheet(&format!("{PARTS}{surface}")), "substances")
    }

    const LEAVE_IT: &str = "Do not sand, scrape or burn it. Keep it from children who chew; where it chips, wipe it wet and ask us.";

    #[test]
    fn lead_is_one_line_with_what_was_tested_and_what_that_does_not_prove() {
        assert_eq!(
            of_top("old-finish", ""),
            [format!("The old finish on Top was not tested for lead. {LEAVE_IT}")]
        );
        // "None of the kits consistently detected lead in products if the lead was covered" (US Consumer Product Safety
        // Commission, news release of 22 October 2007).
        let rub = "{ on = 2026-03-12, test = \"lead swab\", result = \"negative\" }";
        assert_eq!(
            of_top("old-finish", rub),
            [format!(
                "The old finish on Top may hold lead. A rub test of 12 March 2026 found none; that proves nothing for \
                 coats below. {LEAVE_IT}"
            )]
        );
        let chip = "{ on = 2026-03-14, test = \"lead\", by = \"laboratory, chip\", result = \"positive\" }";
        assert_eq!(
            of_top("old-finish", &format!("{rub}, {chip}, {{ apply = \"shellac\" }}")),
            [format!(
                "Lead was found in the old finish on Top. A rub test of 12 March 2026 found none; that proves nothing \
                 for coats below. A laboratory test of 14 March 2026: positive. Over it today: shellac. {LEAVE_IT}"
            )]
        );
    }

    #[test]
    fn what_was_taken_off_is_told_as_that_and_a_clear_coat_as_that() {
        // "lead remaining in previously painted or coated stripped wood was carried from the workplace" (Morbidity and
        // Mortality Weekly Report 50(13), 6 April 2001).
        assert_eq!(
            of_top("old-finish", "{ remove = \"all\" }"),
            [format!(
                "The old finish was taken off Top, which does not prove that the wood is free of lead. {LEAVE_IT}"
            )]
        );
        assert_eq!(
            of_top("oleoresinous-varnish", "")[0].split_inclusive('.').next().expect("a sentence"),
            "The old oil varnish of natural resin on Top may hold lead from its driers."
        );
        assert_eq!(of_top("shellac", ""), [""; 0]);
    }

    #[test]
    fn a_substance_says_where_it_was_seen_and_used() {
        let said = |record: &str| lines(&sheet(&format!("{PARTS}{record}")), "substances");
        assert_eq!(
            said("work = [{ did = \"took out a stain\", part = \"top\", by = \"oxalic acid\" }]"),
            [
                "Oxalic acid from bleaching may be left in the wood. Do not sand it dry. Used: oxalic acid (Top)."
            ]
        );
        assert_eq!(
            said("finding = [{ id = \"f\", part = \"leg\", seen = \"flight-holes\" }]")[0]
                .split_inclusive('.')
                .next(),
            Some("It has flight holes of woodworm.")
        );
        // A part that is gone took with it what was found in it.
        let gone = format!("{PARTS}finding = [{{ id = \"f\", part = \"leg\", seen = \"flight-holes\" }}]");
        assert_eq!(
            lines(
                &sheet(&gone.replace("\"Leg\", standing = \"original\"", "\"Leg\", standing = \"removed\"")),
                "substances"
            ),
            [""; 0]
        );
    }

    #[test]
    fn every_line_on_substances_names_what_it_rests_on() {
        let record = format!(
            "{PARTS}surface = [{{ parts = \"top\", found = \"oil-paint\" }}]\ntest = [{{ of = \"mercury\", result = \"positive\" }}]"
        );
        shown(&record, "", |context| {
            let claims = &context.claims.substances;
            assert_eq!(claims.len(), 2, "{claims:?}");
            for claim in claims {
                assert!(claim.basis().len() > 1 && claim.weight < crate::claim::Weight::Plain, "{claim:?}");
            }
        });
    }
}
