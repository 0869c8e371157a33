//! The build record: before and after, what was found, decided, done, redone and left.
//!
//! Nothing here is private; what the archive adds stands in its own pages.

use serde::Serialize;

use crate::claim::says;
use crate::view::context::PieceContext;
use crate::view::shared::fact::Fact;
use crate::view::shared::identity::{self, standings_sentence, unknowns};
use crate::view::shared::lacking::lacking;
use crate::view::shared::photograph::{Gallery, PairView, PhotoView, StageView};
use crate::view::shared::row::{
    DecisionRow, FindingRow, FixingRow, PartRow, Rows, StandingRow, TestRow, UndoneRow, WorkRow,
};
use crate::view::shared::section::{Arranged, Form, Section, worded};
use crate::view::shared::story::{StoryBlock, sound, story_blocks, story_html};
use crate::view::shared::surface::SurfaceView;
use crate::view::shared::swatch::{SwatchView, swatch_views};
use crate::words;

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
}

/// How much of it has which standing, and what was dated; the rest stands in rows with their photographs.
fn sections<'a>(context: &PieceContext<'a>) -> Vec<Arranged<'a>> {
    let claims = context.claims;
    vec![
        Arranged::new("shares", says!("heading-shares"), Form::Columns, &claims.shares),
        Arranged::new("dated", says!("heading-dated"), Form::Columns, &claims.dated),
    ]
}

/// What the record says, section by section, rows included.
pub(crate) fn arranged<'a>(context: &PieceContext<'a>) -> Vec<Arranged<'a>> {
    let claims = context.claims;
    let section = Arranged::new;
    let first = [
        section("piece", says!("heading-piece"), Form::Columns, &claims.identity),
        section("level", says!("heading-level"), Form::Lines, &claims.level),
    ];
    let rows = [
        section("faults", says!("heading-faults"), Form::Columns, &claims.standing_faults),
        section("mended", says!("heading-mended"), Form::Columns, &claims.mended),
        section("decisions", says!("heading-decisions"), Form::Columns, &claims.decisions),
        section("works", says!("heading-works"), Form::Columns, &claims.works),
        section("finishes", says!("heading-finishes"), Form::Columns, &claims.finishes),
        section("original", says!("heading-original"), Form::Columns, &claims.original),
        section("not-original", says!("heading-not-original"), Form::Columns, &claims.not_original),
        section("repairs", says!("heading-repairs"), Form::Columns, &claims.earlier_repairs),
        section("patches", says!("heading-patches"), Form::Columns, &claims.patches),
        section("fixings", says!("heading-fixings"), Form::Columns, &claims.fixings),
        section("tests-made", says!("heading-tests-made"), Form::Columns, &claims.tests_made),
        section("tests-not-made", says!("heading-tests-not-made"), Form::Columns, &claims.tests_not_made),
        section("undone", says!("heading-undone"), Form::Columns, &claims.undone),
        section("unknown", says!("heading-unknown"), Form::Lines, &claims.unknown),
    ];
    first.into_iter().chain(sections(context)).chain(rows).collect()
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
        summary: record.summary.as_ref().map_or(String::new(), |summary| words::sentence(summary)),
        lacking: lacking(context.piece),
        made: identity::made(context),
        level: level.to_owned(),
        level_meaning: level_meaning.to_owned(),
        stance: identity::stance(context),
        facts: identity::facts(context),
        cover: gallery.cover(),
        pairs: gallery.pairs(),
        gallery: gallery.stages(),
        story_html: story_html(&story, |file| gallery.named(file)),
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
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::view::shared::photograph::Sees;
    use crate::view::testing::shown;

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
                ("Made", "1920 to 1930 (its hinges)"),
                ("Maker", "Not known"),
                ("Size", "910 × 1200 × 735 mm (width × depth × height)"),
                ("Materials", "White oak"),
            ]
        );
        assert_eq!((told.level.as_str(), told.summary.as_str()), ("Repaired", "Made sound."));
        let silent = record("");
        assert_eq!((silent.level.as_str(), silent.made.as_str()), ("Worked on", "not known"));
        assert_eq!(silent.facts.len(), 3);
        assert!(silent.sections.is_empty() && silent.standings_sentence.is_empty());
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
}
