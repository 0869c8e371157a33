//! The build record: before and after, what was found, decided, done, redone and left.
//!
//! Nothing here is private; what the archive adds stands in its own pages.

mod account;
mod timeline;

use serde::Serialize;

use crate::claim::says;
use crate::view::context::PieceContext;
use crate::view::shared::care_card::card;
use crate::view::shared::fact::Fact;
use crate::view::shared::identity::{self, standings_sentence, unknowns};
use crate::view::shared::lacking::lacking;
use crate::view::shared::photograph::{Gallery, PairView, PhotoView, StageView};
use crate::view::shared::row::{
    DecisionRow, FindingRow, FixingRow, PartRow, Rows, StandingRow, TestRow, UndoneRow, WorkRow,
};
use crate::view::shared::section::{Arranged, Form, Section, worded};
use crate::view::shared::story::{StoryBlock, StoryPicture, sound, story_blocks, story_html};
use crate::view::shared::surface::SurfaceView;
use crate::view::shared::swatch::{SwatchView, swatch_views};
use crate::words::sentence;

use account::account;
pub use account::{Account, CutLayer, CutView, DecidedRow, FoundRow};
pub(crate) use timeline::timeline;
pub use timeline::{Column, Lane, Point, Run, Timeline};

/// Everything about one piece that anybody may read.
#[derive(Debug, Clone, Serialize)]
pub struct BuildRecord {
    /// What it is.
    pub title: String,
    /// The workshop's number for it.
    pub number: String,
    /// Type of piece, in words.
    pub kind: String,
    /// The piece in a sentence; may be empty.
    pub summary: String,
    /// What is missing because the record could not be read in full, in a sentence; mostly empty.
    pub lacking: String,
    /// Years of making, in words.
    pub made: String,
    /// How far the work went, in a word.
    pub level: String,
    /// What that word means.
    pub level_meaning: String,
    /// The workshop's stance; may be empty.
    pub stance: String,
    /// Identity: type, date, maker, size, inscriptions, features.
    pub facts: Vec<Fact>,
    /// The photograph that stands for the piece.
    pub cover: Option<PhotoView>,
    /// Before and after of the same views.
    pub pairs: Vec<PairView>,
    /// The other photographs, by stage.
    pub gallery: Vec<StageView>,
    /// The story, as safe HTML; may be empty.
    pub story_html: String,
    /// The same as blocks of plain text, for papers that are not HTML.
    pub story: Vec<StoryBlock>,
    /// Parts.
    pub parts: Vec<PartRow>,
    /// Parts counted by standing.
    pub standings: Vec<StandingRow>,
    /// The same in a sentence; empty where no parts are recorded.
    pub standings_sentence: String,
    /// What was found.
    pub findings: Vec<FindingRow>,
    /// What was decided.
    pub decisions: Vec<DecisionRow>,
    /// What was done.
    pub works: Vec<WorkRow>,
    /// The surfaces.
    pub surfaces: Vec<SurfaceView>,
    /// Colours that were matched, with their recipes.
    pub swatches: Vec<SwatchView>,
    /// The fixings.
    pub fixings: Vec<FixingRow>,
    /// Tests made and not made.
    pub tests: Vec<TestRow>,
    /// What was left unmended.
    pub undone: Vec<UndoneRow>,
    /// What is not known, in sentences.
    pub unknowns: Vec<String>,
    /// How much of it has which standing, and what was dated.
    pub sections: Vec<Section>,
    /// What the card of its care has no room for.
    pub care: Vec<Section>,
    /// The same record as it is read: in few pages, with an annex.
    pub account: Account,
}

/// How much of it has which standing, and what was dated; the rest stands in rows with their photographs.
fn sections<'a>(context: &PieceContext<'a>) -> Vec<Arranged<'a>> {
    let claims = context.claims;
    vec![
        Arranged::new("shares", says!("heading-shares"), Form::Columns, &claims.shares),
        Arranged::new("patches", says!("heading-patches"), Form::Columns, &claims.patches),
        Arranged::new("dating", says!("heading-dating"), Form::Lines, &claims.dating),
        Arranged::new("dated", says!("heading-dated"), Form::Columns, &claims.dated),
    ]
}

/// What the record says, in the order in which it is read.
pub(crate) fn arranged<'a>(context: &PieceContext<'a>) -> Vec<Arranged<'a>> {
    account::arranged(context)
}

/// Builds the record of one piece from the photographs and rows that its reader sees.
pub(crate) fn build_record(context: &PieceContext<'_>, gallery: &Gallery<'_>, rows: &Rows) -> BuildRecord {
    let record = context.record;
    let (level, level_meaning) = identity::level(context);
    let story = sound(&context.piece.story);
    BuildRecord {
        title: record.title.to_string(),
        number: record.number.to_string(),
        kind: identity::kind(context),
        summary: record.summary.as_ref().map_or(String::new(), |summary| sentence(summary)),
        lacking: lacking(context.piece, context.house.words()),
        made: identity::made(context),
        level,
        level_meaning,
        stance: identity::stance(context),
        facts: identity::facts(context),
        cover: gallery.cover(),
        pairs: gallery.pairs(),
        gallery: gallery.stages(),
        story_html: story_html(&story, |file| gallery.named(file).map(StoryPicture::Photo)),
        story: story_blocks(story, &|file| gallery.named(file)),
        parts: rows.parts.clone(),
        standings: rows.standings.clone(),
        standings_sentence: standings_sentence(context),
        findings: rows.findings.clone(),
        decisions: rows.decisions.clone(),
        works: rows.works.clone(),
        surfaces: rows.surfaces.clone(),
        swatches: swatch_views(context, gallery),
        fixings: rows.fixings.clone(),
        tests: rows.tests.clone(),
        undone: rows.undone.clone(),
        unknowns: unknowns(context),
        sections: worded(context, &sections(context)),
        care: worded(context, &card(context).rest),
        account: account(context, gallery),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::view::shared::photograph::Sees;
    use crate::view::testing::shown;
    use crate::words::Sentence;

    fn record(text: &str) -> BuildRecord {
        shown(text, "", |context| {
            build_record(context, &Gallery::of(context, Sees::Public), &Rows::of(context, Sees::Public))
        })
    }

    #[test]
    fn a_piece_is_told_by_what_the_record_says_and_silence_is_said() {
        let told = record(
            "made = \"1920/1930\"\nbasis = \"its hinges\"\nlevel = \"repair\"\nsummary = \"made sound\"\n\
             size = { width = 910, depth = 1200, height = 735 }\n\
             part = [{ id = \"a\", name = \"Top\", standing = \"original\", timber = \"white-oak\" }, \
             { id = \"b\", name = \"Leaf\", standing = \"removed\", timber = \"scots-pine\" }]",
        );
        let facts: Vec<(&str, &str)> =
            told.facts.iter().map(|fact| (fact.label.as_str(), fact.text.as_str())).collect();
        assert_eq!(
            facts,
            [
                ("Type", "Table, gateleg"),
                ("Made", "1920–30 (its hinges)"),
                ("Maker", "Not known"),
                ("Size", "910 × 1200 × 735 mm (width × depth × height)"),
                ("Materials", "White oak"),
            ]
        );
        assert_eq!((told.level.as_str(), told.summary.as_str()), ("Repaired", "Made sound."));
        let silent = record("");
        assert_eq!(
            (silent.level.as_str(), silent.made.as_str()),
            ("What was done is not recorded", "not known")
        );
        assert_eq!(silent.facts.len(), 3);
        assert!(silent.standings_sentence.is_empty());
        assert_eq!(
            silent.sections.iter().map(|section| section.name.as_ref()).collect::<Vec<_>>(),
            ["dating"]
        );
        assert_eq!(silent.unknowns, ["When it was made is not known.", "Who made it is not known."]);
    }

    #[test]
    fn findings_and_works_are_numbered_and_point_at_each_other() {
        let told = record(
            "finding = [{ id = \"gap\", seen = \"a gap\" }, { id = \"split\", seen = \"split\" }]\n\
             work = [{ did = \"looked\" }, { did = \"glued it\", mends = [\"split\"] }]",
        );
        let (split, glued) = (&told.findings[1], &told.works[1]);
        assert_eq!((split.number, split.anchor.as_str()), (2, "finding-2"));
        assert_eq!(split.mended_by[0].anchor, glued.anchor);
        assert_eq!((glued.mends[0].anchor.as_str(), glued.mends[0].text.as_str()), ("finding-2", "split"));
        assert!(told.findings[0].mended_by.is_empty() && told.works[0].mends.is_empty());
    }

    /// Everything that is told of a piece, section by section.
    fn sheet(text: &str) -> Vec<Section> {
        shown(text, "", |context| {
            let claims = context.claims;
            let told = [
                Arranged::new("verdict", says!("heading-parts"), Form::Lines, &claims.verdict),
                Arranged::new("substances", says!("heading-substances"), Form::Lines, &claims.substances),
                // The annex leaves it to the disclosure where that has room for all of it.
                Arranged::new("unknown", says!("heading-unknown"), Form::Lines, &claims.unknown),
            ];
            worded(context, &told.into_iter().chain(arranged(context)).collect::<Vec<_>>())
        })
    }

    /// The piece in a sentence or two, by its counts.
    fn verdict(sheet: &[Section]) -> String {
        lines(sheet, "verdict").join(" ")
    }

    fn leads(sheet: &[Section], name: &str) -> Vec<String> {
        let section = sheet.iter().find(|section| section.name == name);
        let lines = section.iter().flat_map(|section| &section.lines);
        lines.map(|line| line.lead.to_lowercase()).collect()
    }

    fn lines(sheet: &[Section], name: &str) -> Vec<String> {
        let section = sheet.iter().find(|section| section.name == name);
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
    fn every_part_is_listed_whatever_its_standing() {
        let standings =
            ["original", "old-repair", "later", "salvaged", "new", "removed", "missing", "unknown"];
        let parts =
            standings.map(|word| format!("{{ id = \"{word}\", name = \"{word}\", standing = \"{word}\" }}"));
        let sheet = sheet(&format!("part = [{}]", parts.join(", ")));
        assert_eq!(leads(&sheet, "parts")[..7], standings[..7]);
        let said = lines(&sheet, "parts");
        assert_eq!((said[0].as_str(), said[1].as_str()), ("Original.", "Old-repair. Old repair."));
    }

    const TOP: &str = "part = [{ id = \"top\", name = \"Top\", standing = \"original\", size = { length = 1000, width = 400 } }, \
                       { id = \"pins\", name = \"Pins\", standing = \"new\", count = 16 }]\n";

    #[test]
    fn a_set_counts_once_and_of_the_rest_it_is_said_what_holds() {
        let told_of = |keys: &str| verdict(&sheet(&format!("{keys}{TOP}")));
        let counted = "1 of its 2 recorded parts is as first made, as far as is known (a set counts once). Of the others: 1 new. ";
        for (rest, said) in [
            ("", "Of other parts nothing is recorded."),
            ("rest = \"original\"\n", "All other parts are as first made, as far as is known."),
            ("rest = \"not-looked-at\"\n", "Other parts were not looked at."),
        ] {
            let said = format!("{counted}{said} Nothing is recorded as left unmended.");
            assert_eq!(told_of(rest), said);
        }
        let bare = verdict(&sheet("rest = \"not-looked-at\""));
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
            lines(&sheet, "parts")[0],
            "Top. 1000 × 400 mm. Except for: veneer patch (new, about 2 % of its face) and filled hole (not known)."
        );
        assert_eq!(
            lines(&sheet, "patches"),
            [
                "Veneer patch, Top. New, 200 × 40 mm, about 2 % of its face. Made with old oak.",
                "Filled hole, Top. Not known.",
                "Inlay, Top. Original."
            ]
        );
        assert!(
            verdict(&sheet).contains(
                "Of those that are as first made, 1 has a patch that is not, or is not known to be."
            ),
            "{}",
            verdict(&sheet)
        );
    }

    #[test]
    fn what_became_of_a_finding_is_told_and_never_guessed() {
        let became = |rest: &str| {
            let sheet = sheet(&format!("finding = [{{ id = \"ring\", seen = \"a black ring\" }}]\n{rest}"));
            lines(&sheet, "findings")[1].clone()
        };
        let works = |works: &str| became(&format!("work = [{works}]"));
        let work = |keys: &str| format!("{{ did = \"bleached it\", mends = \"ring\"{keys} }}");
        assert_eq!(works(&work("")), "Bleached it.");
        assert_eq!(works(&work(", turned-out = \"partly\"")), "In part: Bleached it.");
        let failed = work(", id = \"one\", turned-out = \"failed\"");
        assert_eq!(works(&failed), "Tried, and it did not hold: Bleached it.");
        let again = "{ did = \"bleached it again\", redoes = \"one\", mends = \"ring\" }";
        assert_eq!(works(&format!("{failed}, {again}")), "Bleached it again.");
        let left = "undone = [{ what = \"the ring\", why = \"not-needed\", leaves = \"ring\" }]";
        assert_eq!(became(left), "Left as it is: no mending was needed.");
        assert_eq!(became(""), "What became of it is not recorded.");
    }

    #[test]
    fn what_a_finding_tells_of_a_work_is_not_told_again() {
        let sheet = sheet(
            "finding = [{ id = \"f\", seen = \"a gap\" }]\n\
             work = [{ on = 2026-03-02, did = \"filled it\", mends = \"f\", undo = \"pick it out\", undoable = \"yes\" }, \
             { on = 2026-03-03, did = \"waxed it\", undoable = \"no\" }, { did = \"looked\" }]",
        );
        assert_eq!(
            lines(&sheet, "log"),
            [
                "2 March 2026. As told at finding 1. To undo: pick it out.",
                "3 March 2026. Waxed it. Cannot be undone.",
                "Day not recorded. Looked.",
            ]
        );
        assert_eq!(
            lines(&sheet, "undo-lost"),
            ["Of one work the record does not say whether it can be undone."]
        );
    }

    #[test]
    fn layers_come_off_from_the_top_and_what_is_not_known_is_said() {
        let steps = "steps = [{ on = 2026-03-02, apply = \"paste-wax\", coats = 2 }]";
        let sheet = sheet(&format!(
            "{PARTS}surface = [{{ parts = \"top\", found = \"shellac\", {steps} }}, \
             {{ parts = \"leg\", found = \"unknown\", {steps} }}]\n\
             fixing = [{{ kind = \"hide-glue\", part = \"top\", standing = \"original\" }}, \
             {{ kind = \"screw-slotted\", part = \"top\", standing = \"original\" }}]"
        ));
        let undo = leads(&sheet, "undo");
        assert_eq!(
            undo,
            ["paste wax: top, leg", "shellac: top", "a finish that is not known: leg", "hide glue"]
        );
        assert!(
            lines(&sheet, "undo")[2].ends_with("How it comes off is not known: try in a hidden place first.")
        );
    }

    #[test]
    fn a_fitted_part_says_once_how_it_comes_off() {
        let stop = "part = [{ id = \"stop\", name = \"Stop\", standing = \"new\", undo = \"two screws from below\" }]\n";
        assert_eq!(lines(&sheet(stop), "undo"), ["Stop. Two screws from below."]);
        let fitted = |undo: &str| {
            let work =
                format!("{stop}work = [{{ did = \"fitted it\", part = \"stop\", undo = \"{undo}\" }}]");
            let sheet = sheet(&work);
            (lines(&sheet, "undo").len(), lines(&sheet, "log")[0].clone())
        };
        let told = |said: &str| (0, format!("Day not recorded. Fitted it. To undo: {said}"));
        assert_eq!(fitted("two screws from below"), told("two screws from below."));
        assert_eq!(fitted("lift it off"), told("lift it off. Stop: two screws from below."));
    }

    #[test]
    fn the_gravest_twelve_findings_come_first_and_the_others_keep_their_numbers() {
        let finding = |number: usize| {
            let severity = if number.is_multiple_of(2) { "major" } else { "trace" };
            format!("{{ id = \"f{number}\", seen = \"fault {number}\", severity = \"{severity}\" }}")
        };
        let all: Vec<String> = (1..=16).map(finding).collect();
        let account = record(&format!("finding = [{}]", all.join(", "))).account;
        let numbers = |rows: &[FoundRow]| rows.iter().map(|row| row.number).collect::<Vec<_>>();
        assert_eq!(numbers(&account.findings), [1, 2, 3, 4, 5, 6, 7, 8, 10, 12, 14, 16]);
        assert_eq!(numbers(&account.further), [9, 11, 13, 15]);
    }

    #[test]
    fn the_verdict_counts_what_was_left_and_not_tested() {
        let said = sheet(
            "undone = [{ what = \"a dent\", why = \"not-worth\" }]\nfinding = [{ id = \"f\", seen = \"a gap\" }]\n\
             test = [{ of = \"lead\", result = \"not-tested\" }, { of = \"arsenic\", result = \"negative\" }]",
        );
        assert_eq!(
            verdict(&said),
            "Its parts were not recorded, so nothing is said of what is original. 1 thing was left unmended, and said why. \
             Of 1 finding it is not recorded what became. 1 test was not made."
        );
        assert_eq!(leads(&said, "tests"), ["arsenic", "lead"]);
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
            Some("It has, or has had, woodworm.")
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
