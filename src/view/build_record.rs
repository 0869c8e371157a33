//! The build record: before and after, what was found, decided, done, redone and left.
//!
//! Nothing here is private; what the archive adds stands in `archive`.

use serde::Serialize;

use super::Source;
use super::layers_svg::{Drawn, Ground, layers_svg};
use super::mark::Pointers;
use super::names::{finding_anchor, part_anchor, seen, work_anchor};
use super::originality::{OriginalityView, originality};
use super::pair::{PairView, laid, pair_view};
use super::picture::{PhotoView, StageView, patches, photo_view};
use super::story::{Block, story_blocks, story_html};
use super::swatch::{SwatchView, swatch_views};
use super::words;
use crate::derive::{Film, Layered, Pairing, Photograph, coating};
use crate::fields::Said;
use crate::record::{
    Act, Build, Decision, Finding, Fixing, Level, NOT_TESTED, Part, Standing, Step, Surface, Swatch, UNKNOWN,
    Work,
};
use crate::trade::Layer;
use crate::trade::in_text;

/// A word for part of a list, and its meaning.
#[derive(Debug, Clone, Serialize)]
pub struct Fact {
    /// What is told.
    pub label: String,
    /// What is told of it.
    pub text: String,
}

/// One part of the piece.
#[derive(Debug, Clone, Serialize)]
pub struct PartRow {
    /// Its id on the page.
    pub anchor: String,
    /// The marks on photographs that point at it.
    pub marks: Vec<Link>,
    /// Its name; with a count where there are several alike.
    pub name: String,
    /// Its standing, in words.
    pub standing: String,
    /// Its standing as the record writes it, for a theme's marks.
    pub standing_word: String,
    /// Whether it is as first made.
    pub original: bool,
    /// Timber, build and size.
    pub made_of: String,
    /// How its standing is known, when it was added, what it replaces, where it came from, how it comes off.
    pub notes: Vec<String>,
}

/// How many parts have a standing.
#[derive(Debug, Clone, Serialize)]
pub struct StandingRow {
    /// The standing, in words.
    pub standing: String,
    /// The standing as the record writes it, for a theme's marks.
    pub standing_word: String,
    /// What it means.
    pub meaning: String,
    /// How many parts.
    pub count: u32,
}

/// Something observed.
#[derive(Debug, Clone, Serialize)]
pub struct FindingRow {
    /// Its number on the page.
    pub number: usize,
    /// Its id on the page.
    pub anchor: String,
    /// What is seen.
    pub seen: String,
    /// What the word means; empty for free words.
    pub meaning: String,
    /// Where.
    pub parts: String,
    /// How far it goes; may be empty.
    pub extent: String,
    /// How much it matters; may be empty.
    pub severity: String,
    /// A guess at the cause, with its confidence; may be empty.
    pub cause: String,
    /// What became of it.
    pub outcome: String,
    /// Whether it was mended, left, or neither.
    pub settled: Settled,
    /// The work that mended it.
    pub mended_by: Vec<Link>,
    /// The marks on photographs that point at it.
    pub marks: Vec<Link>,
}

/// What became of a finding.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Settled {
    /// Some work mends it.
    Mended,
    /// It was left, and the record says why.
    Left,
    /// The record does not say.
    NotSaid,
}

/// A place on the same page.
#[derive(Debug, Clone, Serialize)]
pub struct Link {
    /// Its id.
    pub anchor: String,
    /// Its words.
    pub text: String,
}

/// One way that was open.
#[derive(Debug, Clone, Serialize)]
pub struct ChoiceRow {
    /// What would have been done.
    pub plan: String,
    /// What spoke for it; may be empty.
    pub speaks_for: String,
    /// What spoke against it; may be empty.
    pub speaks_against: String,
    /// Whether it was the way taken.
    pub taken: bool,
}

/// A question and the way taken.
#[derive(Debug, Clone, Serialize)]
pub struct DecisionRow {
    /// The question.
    pub ask: String,
    /// The ways that were open.
    pub choices: Vec<ChoiceRow>,
    /// The way taken.
    pub chose: String,
    /// Why; may be empty.
    pub because: String,
}

/// A dated act.
#[derive(Debug, Clone, Serialize)]
pub struct WorkRow {
    /// Its number on the page.
    pub number: usize,
    /// Its id on the page.
    pub anchor: String,
    /// The day; empty where not recorded.
    pub day: String,
    /// What was done.
    pub did: String,
    /// The parts worked on; may be empty.
    pub parts: String,
    /// Why; may be empty.
    pub why: String,
    /// By what means; may be empty.
    pub by: String,
    /// The findings it mends.
    pub mends: Vec<Link>,
    /// The earlier work that it did again.
    pub redoes: Option<Link>,
    /// The later work that did it again.
    pub redone_by: Option<Link>,
    /// How it turned out; empty where not recorded.
    pub outcome: String,
    /// Whether it did not hold.
    pub failed: bool,
    /// How it can be undone; may be empty.
    pub undo: String,
    /// The marks on photographs that point at it.
    pub marks: Vec<Link>,
}

/// One layer of a surface.
#[derive(Debug, Clone, Serialize)]
pub struct LayerRow {
    /// What it is, with its coats.
    pub name: String,
    /// Where it lies.
    pub lies: String,
    /// The kind of layer as a word for a theme: `film`, `in-wood`, `colour` and so on, or `unknown`.
    pub kind: String,
    /// When it was laid, or that it was found.
    pub since: String,
    /// Where it is not whole; may be empty.
    pub exception: String,
    /// Whether it is the one that decides the care.
    pub decides_care: bool,
}

/// One step on a surface.
#[derive(Debug, Clone, Serialize)]
pub struct StepRow {
    /// The day; empty where not recorded.
    pub day: String,
    /// What was done.
    pub text: String,
    /// Its kind, for a theme: `clean`, `test`, `remove`, `abrade` or `apply`.
    pub kind: String,
    /// Whether its layer was taken off again.
    pub undone: bool,
}

/// Parts that share a finish.
#[derive(Debug, Clone, Serialize)]
pub struct SurfaceView {
    /// Its name.
    pub name: String,
    /// Its id on the page.
    pub anchor: String,
    /// Its parts.
    pub parts: String,
    /// Its layers today, topmost first.
    pub layers: Vec<LayerRow>,
    /// The same drawn as a cut through them; empty where no layers are recorded.
    pub layers_svg_html: String,
    /// What was found on it and taken off.
    pub removed: Vec<String>,
    /// What was laid and taken off again.
    pub undone: Vec<String>,
    /// The steps, in the order they were taken.
    pub steps: Vec<StepRow>,
}

/// Fixings of one kind.
#[derive(Debug, Clone, Serialize)]
pub struct FixingRow {
    /// Count and kind.
    pub name: String,
    /// The parts it holds; may be empty.
    pub parts: String,
    /// Standing in words.
    pub standing: String,
    /// Standing as the record writes it.
    pub standing_word: String,
    /// When such a fixing belongs to the trade; empty where not known.
    pub era: String,
    /// Whether it is a modern kind.
    pub modern: bool,
    /// What it replaces, why, and anything else.
    pub notes: Vec<String>,
    /// How it comes out; empty where not known.
    pub undo: String,
}

/// A test, made or not.
#[derive(Debug, Clone, Serialize)]
pub struct TrialRow {
    /// What was tested.
    pub of: String,
    /// Where; may be empty.
    pub parts: String,
    /// What came out.
    pub result: String,
    /// Whether it was made.
    pub made: bool,
    /// The day and the means; may be empty.
    pub how: String,
}

/// What was left unmended.
#[derive(Debug, Clone, Serialize)]
pub struct UndoneRow {
    /// What.
    pub what: String,
    /// Why.
    pub why: String,
    /// What it means for the buyer; may be empty.
    pub effect: String,
}

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
    pub story: Vec<Block>,
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
    pub trials: Vec<TrialRow>,
    /// What was left unmended.
    pub undone: Vec<UndoneRow>,
    /// What is not known, in sentences.
    pub unknowns: Vec<String>,
    /// How much of it is as first made, by count and by mass; none where no parts are recorded.
    pub originality: Option<OriginalityView>,
}

/// Which photographs a reader may see.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Sees {
    /// All but the private ones.
    Public,
    /// All.
    Everything,
}

impl Sees {
    pub(super) fn photograph(self, photograph: &Photograph) -> bool {
        self == Sees::Everything || !photograph.private
    }
}

/// Builds the record of one piece for a reader.
pub(super) fn build_record(source: &Source<'_>, sees: Sees) -> BuildRecord {
    let record = source.record;
    let shown = Shown::of(source, sees);
    let seen = |photograph: &Photograph| sees.photograph(photograph);
    let pointers = Pointers::of(source, &seen);
    let (level, level_meaning) =
        words::level(record.level.as_ref().map_or(Level::Unknown, |level| level.value));
    BuildRecord {
        title: record.title.to_string(),
        number: record.number.to_string(),
        kind: kind_words(&record.kind),
        summary: record.summary.as_ref().map_or(String::new(), |summary| words::sentence(summary)),
        made: made_words(source),
        level: level.to_owned(),
        level_meaning: level_meaning.to_owned(),
        stance: record.stance.as_ref().map_or(String::new(), |stance| words::sentence(stance)),
        facts: facts(source),
        cover: shown.cover(source),
        pairs: shown.pairs(source),
        gallery: shown.gallery(source),
        story_html: story_html(&source.piece.story, |file| shown.named(source, file)),
        story: story_blocks(&source.piece.story, &|file| shown.named(source, file)),
        parts: record
            .parts
            .iter()
            .enumerate()
            .map(|(index, part)| part_row(source, index, part, &pointers))
            .collect(),
        standings: standings(source),
        standings_sentence: standings_sentence(source),
        findings: record
            .findings
            .iter()
            .enumerate()
            .map(|(index, finding)| finding_row(source, index, finding, &pointers))
            .collect(),
        decisions: record.decisions.iter().map(|decision| decision_row(decision)).collect(),
        works: record
            .works
            .iter()
            .enumerate()
            .map(|(index, work)| work_row(source, index, work, &pointers))
            .collect(),
        surfaces: record
            .surfaces
            .iter()
            .enumerate()
            .map(|(index, surface)| surface_view(source, index, surface))
            .collect(),
        swatches: swatch_views(source, |file, swatch| shown.measured(source, file, swatch)),
        fixings: record.fixings.iter().map(|fixing| fixing_row(source, fixing)).collect(),
        trials: trials(source),
        undone: undone(source),
        unknowns: unknowns(source),
        originality: originality(source),
    }
}

/// The photographs of a piece that one reader may see, as views.
struct Shown {
    views: Vec<Option<PhotoView>>,
}

impl Shown {
    fn of(source: &Source<'_>, sees: Sees) -> Shown {
        let view = |(place, photograph): (usize, &Photograph)| {
            sees.photograph(photograph).then(|| photo_view(source, place))
        };
        Shown { views: source.facts.photographs.all.iter().enumerate().map(view).collect() }
    }

    /// The place of the photograph that stands for the piece.
    fn covering(&self, source: &Source<'_>) -> Option<usize> {
        let chosen = source.facts.photographs.cover.filter(|cover| self.views[*cover].is_some());
        let sound = |view: &Option<PhotoView>| view.as_ref().is_some_and(|view| view.fault.is_empty());
        chosen.or_else(|| self.views.iter().position(sound))
    }

    /// Photographs that have a place of their own on the page, apart from the cover's and the gallery.
    fn placed(&self, source: &Source<'_>) -> Vec<usize> {
        let swatches = source.record.swatches.iter().filter_map(|swatch| self.place(source, &swatch.photo));
        self.paired(source).into_iter().chain(swatches).collect()
    }

    /// Photographs that stand side by side as before and after. A pair that is laid onto each other shows a part of
    /// each photograph, changed and without its marks, so the whole ones have their places as if there were no pair.
    fn paired(&self, source: &Source<'_>) -> Vec<usize> {
        let whole = |pair: &&Pairing| {
            laid(pair).is_none() && self.views[pair.before].is_some() && self.views[pair.after].is_some()
        };
        let pairs = source.facts.photographs.pairs.iter().filter(whole);
        pairs.flat_map(|pair| [pair.before, pair.after]).collect()
    }

    fn cover(&self, source: &Source<'_>) -> Option<PhotoView> {
        let place = self.covering(source)?;
        let mut view = self.views[place].clone()?;
        // Its marks are explained once more where the photograph has its own place, and an id stands once on a page.
        if self.placed(source).contains(&place) {
            view.marks.iter_mut().for_each(|mark| mark.id.clear());
        }
        Some(view)
    }

    /// The photograph of a swatch with its patches outlined, for the first swatch that names it with its marks.
    fn measured(&self, source: &Source<'_>, file: &str, swatch: &Swatch) -> Option<PhotoView> {
        let place = self.place(source, file)?;
        let mut view = self.views[place].clone()?;
        view.patches = patches(swatch, view.width, view.height);
        let first = source.record.swatches.iter().find(|swatch| **swatch.photo == *file);
        let first = first.is_some_and(|first| std::ptr::eq(&first.value, swatch));
        if !first || self.paired(source).contains(&place) {
            view.marks.clear();
        }
        Some(view)
    }

    fn pairs(&self, source: &Source<'_>) -> Vec<PairView> {
        let pair = |(place, pair): (usize, &Pairing)| {
            let (before, after) = (self.views[pair.before].as_ref()?, self.views[pair.after].as_ref()?);
            Some(pair_view(source, place, pair, before, after))
        };
        source.facts.photographs.pairs.iter().enumerate().filter_map(pair).collect()
    }

    fn gallery(&self, source: &Source<'_>) -> Vec<StageView> {
        let mut elsewhere = self.placed(source);
        elsewhere.extend(self.covering(source));
        let mut stages: Vec<StageView> = Vec::new();
        for (place, view) in self.views.iter().enumerate() {
            let Some(view) = view.as_ref().filter(|_| !elsewhere.contains(&place)) else { continue };
            match stages.last_mut().filter(|stage| stage.stage == view.stage) {
                Some(stage) => stage.photographs.push(view.clone()),
                None => stages.push(StageView { stage: view.stage.clone(), photographs: vec![view.clone()] }),
            }
        }
        stages
    }

    fn named(&self, source: &Source<'_>, file: &str) -> Option<&PhotoView> {
        self.views[self.place(source, file)?].as_ref()
    }

    fn place(&self, source: &Source<'_>, file: &str) -> Option<usize> {
        source.facts.photographs.all.iter().position(|photograph| photograph.file == file)
    }
}

/// Free text or nothing.
pub(super) fn text(said: Option<&Said<crate::fields::Text>>) -> String {
    said.map_or(String::new(), |said| words::said(said))
}

/// `table/gateleg` as `table, gateleg`.
pub(super) fn kind_words(kind: &str) -> String {
    kind.split('/').map(|level| level.trim().replace('-', " ")).collect::<Vec<_>>().join(", ")
}

/// Years of making, in words.
pub(super) fn made_words(source: &Source<'_>) -> String {
    source.record.made.as_ref().map_or_else(|| "not known".to_owned(), |made| made.words())
}

fn facts(source: &Source<'_>) -> Vec<Fact> {
    let record = source.record;
    let mut facts = vec![
        Fact { label: "Type".to_owned(), text: kind_words(&record.kind) },
        Fact {
            label: "Made".to_owned(),
            text: match &record.basis {
                Some(basis) => format!("{} ({})", made_words(source), words::said(basis)),
                None => made_words(source),
            },
        },
        Fact {
            label: "Maker".to_owned(),
            text: record.maker.as_ref().map_or_else(|| "not known".to_owned(), |maker| words::said(maker)),
        },
    ];
    if let Some(size) = &record.size {
        facts.push(Fact { label: "Size".to_owned(), text: source.house.quantities.size(size) });
    }
    let timbers = timbers(source);
    if !timbers.is_empty() {
        facts.push(Fact { label: "Materials".to_owned(), text: words::list(&timbers) });
    }
    for (label, said) in
        [("Inscriptions", &record.inscriptions), ("Shows", &record.subject), ("Told by", &record.told_by)]
    {
        if let Some(said) = said {
            facts.push(Fact { label: label.to_owned(), text: words::said(said) });
        }
    }
    facts
}

/// The timbers of the parts that are there today, each once, in the order of the parts.
fn timbers(source: &Source<'_>) -> Vec<String> {
    let absent = [Standing::Removed, Standing::Missing];
    let mut timbers: Vec<String> = Vec::new();
    for part in source.record.parts.iter().filter(|part| !absent.contains(&part.standing.value)) {
        for timber in [&part.timber, &part.veneer].into_iter().flatten().filter(|timber| timber.0 != UNKNOWN)
        {
            let name = timber_words(source, timber);
            if !timbers.contains(&name) {
                timbers.push(name);
            }
        }
    }
    timbers
}

pub(super) fn timber_words(source: &Source<'_>, timber: &str) -> String {
    match source.trade.timber(timber) {
        Some(known) => in_text(&known.name),
        None if timber == UNKNOWN => "timber not known".to_owned(),
        None => timber.replace('-', " "),
    }
}

/// What the papers call a part; with a count where there are several alike.
pub(super) fn part_name(part: &Part) -> String {
    match part.how_many() {
        1 => part.name.to_string(),
        several => format!("{} (× {several})", part.name.value),
    }
}

fn part_row(source: &Source<'_>, index: usize, part: &Part, pointers: &Pointers<'_>) -> PartRow {
    let mut made_of: Vec<String> = Vec::new();
    let timber = part.timber.as_ref().map(|timber| timber_words(source, timber));
    let build = part.build.as_ref().map(|build| words::build(build.value).to_owned());
    made_of.extend(match (build, timber) {
        (Some(build), Some(timber)) if build == "solid" || build == "turned" || build == "bent" => {
            Some(format!("{build} {timber}"))
        }
        (Some(build), Some(timber)) => Some(format!("{build}, {timber}")),
        (build, timber) => build.or(timber),
    });
    if let Some(veneer) = &part.veneer {
        made_of.push(format!("veneer {}", timber_words(source, veneer)));
    }
    if let Some(material) = &part.material {
        made_of.push(words::said(material));
    }
    if let Some(ground) = &part.ground {
        made_of.push(format!("on {}", words::said(ground)));
    }
    if let Some(size) = &part.size {
        let lengths: Vec<_> = [&size.length, &size.width, &size.thick]
            .into_iter()
            .flatten()
            .map(|length| length.value)
            .collect();
        if !lengths.is_empty() {
            made_of.push(source.house.quantities.lengths(&lengths));
        }
        if let Some(diameter) = &size.diameter {
            made_of.push(format!("{} across", source.house.quantities.lengths(&[diameter.value])));
        }
    }
    if let Some(lipping) = &part.lipping {
        made_of.push(format!("lipped with {}", timber_words(source, &lipping.timber)));
    }
    if let Some(held) = &part.held {
        made_of.push(words::held(held.value).to_owned());
    }
    PartRow {
        anchor: part_anchor(index + 1),
        marks: pointers.to(|mark| mark.part.as_ref().is_some_and(|named| named.value == part.id.value)),
        name: part_name(part),
        standing: words::standing(part.standing.value).to_owned(),
        standing_word: part.standing.word().to_owned(),
        original: part.standing.value == Standing::Original,
        made_of: words::capital(&made_of.join(", ")),
        notes: part_notes(source, part),
    }
}

fn part_notes(source: &Source<'_>, part: &Part) -> Vec<String> {
    let stock = part.from_stock.as_ref().and_then(|id| source.stock(id)).map(|item| match &item.origin {
        Some(origin) => format!("Made from stock: {} ({})", words::said(&item.what), words::said(origin)),
        None => format!("Made from stock: {}", words::said(&item.what)),
    });
    let known = part.how_known.as_ref().map(|known| match part.standing.value {
        Standing::Original => format!("Known by {}", words::said(known)),
        _ => words::said(known),
    });
    [
        known,
        part.since.as_ref().map(|since| format!("Since {}", since.words())),
        part.instead_of.as_ref().map(|old| format!("In place of {}", words::said(old))),
        stock,
        part.undo.as_ref().map(|undo| format!("To undo: {}", words::said(undo))),
        part.note.as_ref().map(|note| words::said(note)),
    ]
    .into_iter()
    .flatten()
    .map(|note| words::sentence(&note))
    .collect()
}

fn standings(source: &Source<'_>) -> Vec<StandingRow> {
    source
        .facts
        .standings
        .iter()
        .map(|(standing, count)| StandingRow {
            standing: words::standing(standing).to_owned(),
            standing_word: standing.word().to_owned(),
            meaning: words::standing_meaning(standing).to_owned(),
            count,
        })
        .collect()
}

/// `7 of its 11 parts are original as far as is known; 2 are new and 1 salvaged; of 1 it is not known.`
pub(super) fn standings_sentence(source: &Source<'_>) -> String {
    let counts = &source.facts.standings;
    let present = counts.present();
    if present == 0 {
        return String::new();
    }
    let original = counts.of(Standing::Original);
    let is = if original == 1 { "is" } else { "are" };
    let mut said = format!(
        "{original} of its {} {is} original, as far as is known",
        words::count(present, "recorded part", "recorded parts")
    );
    let others: Vec<String> = [Standing::OldRepair, Standing::Later, Standing::Salvaged, Standing::New]
        .into_iter()
        .filter(|standing| counts.of(*standing) > 0)
        .map(|standing| {
            format!(
                "{} {}",
                counts.of(standing),
                match standing {
                    Standing::OldRepair => "an old repair",
                    other => words::standing(other),
                }
            )
        })
        .collect();
    if !others.is_empty() {
        said.push_str(&format!("; {}", words::list(&others)));
    }
    let unknown = counts.of(Standing::Unknown);
    if unknown > 0 {
        said.push_str(&format!("; of {unknown} it is not known"));
    }
    for (standing, word) in [(Standing::Removed, "removed"), (Standing::Missing, "missing")] {
        let count = counts.of(standing);
        if count > 0 {
            said.push_str(&format!("; {count} {} {word}", if count == 1 { "was" } else { "were" }));
        }
    }
    said.push('.');
    said
}

/// A decision with its ways; the one taken stands among them even where the record did not offer it.
fn decision_row(decision: &Decision) -> DecisionRow {
    let mut choices: Vec<ChoiceRow> = decision
        .options
        .iter()
        .map(|choice| ChoiceRow {
            plan: choice.plan.to_string(),
            speaks_for: text(choice.r#for.as_ref()),
            speaks_against: text(choice.against.as_ref()),
            taken: choice.plan.value == decision.chose.value,
        })
        .collect();
    if !choices.iter().any(|choice| choice.taken) {
        choices.push(ChoiceRow {
            plan: decision.chose.to_string(),
            speaks_for: String::new(),
            speaks_against: String::new(),
            taken: true,
        });
    }
    DecisionRow {
        ask: decision.ask.to_string(),
        choices,
        chose: decision.chose.to_string(),
        because: text(decision.because.as_ref()),
    }
}

fn finding_row(source: &Source<'_>, index: usize, finding: &Finding, pointers: &Pointers<'_>) -> FindingRow {
    let id = &finding.id.value;
    let mended_by: Vec<Link> = source
        .record
        .works
        .iter()
        .enumerate()
        .filter(|(_, work)| work.mends.iter().any(|mended| mended.value == *id))
        .map(|(index, work)| Link { anchor: work_anchor(index + 1), text: work.did.to_string() })
        .collect();
    let left = source.record.undone.iter().find(|undone| undone.leaves.iter().any(|left| left.value == *id));
    let (settled, outcome) = match (mended_by.is_empty(), left) {
        (false, None) => (Settled::Mended, "mended".to_owned()),
        (false, Some(_)) => (Settled::Left, "mended in part, and in part left".to_owned()),
        (true, Some(undone)) => (Settled::Left, format!("left: {}", words::why_undone(undone.why.value))),
        (true, None) => (Settled::NotSaid, "what became of it is not recorded".to_owned()),
    };
    let term = source.trade.term(&finding.seen);
    FindingRow {
        number: index + 1,
        anchor: finding_anchor(index + 1),
        marks: pointers.to(|mark| mark.finding.as_ref().is_some_and(|named| named.value == *id)),
        seen: words::capital(&seen(&finding.seen, source.trade)),
        meaning: term.map_or(String::new(), |term| term.meaning.to_string()),
        parts: source.names.parts(&finding.part),
        extent: text(finding.extent.as_ref()),
        severity: finding
            .severity
            .as_ref()
            .map_or(String::new(), |severity| words::severity(severity.value).to_owned()),
        cause: finding.cause.as_ref().map_or(String::new(), |cause| {
            format!("{} ({})", words::said(&cause.guess), words::confidence(cause.confidence.value))
        }),
        outcome,
        settled,
        mended_by,
    }
}

fn work_row(source: &Source<'_>, index: usize, work: &Work, pointers: &Pointers<'_>) -> WorkRow {
    let redone_by = work.id.as_ref().and_then(|id| {
        let works = source.record.works.iter().enumerate();
        works
            .filter(|(_, later)| later.redoes.as_ref().is_some_and(|redone| redone.value == id.value))
            .map(|(index, later)| Link { anchor: work_anchor(index + 1), text: later.did.to_string() })
            .next()
    });
    let undo = match (&work.undo, &work.undoable) {
        (Some(undo), Some(undoable)) => format!("{}: {}", words::undoable(undoable.value), words::said(undo)),
        (Some(undo), None) => words::said(undo),
        (None, Some(undoable)) => words::undoable(undoable.value).to_owned(),
        (None, None) => String::new(),
    };
    WorkRow {
        number: index + 1,
        anchor: work_anchor(index + 1),
        marks: pointers.to(|mark| {
            mark.work.as_ref().zip(work.id.as_ref()).is_some_and(|(named, id)| named.value == id.value)
        }),
        day: work.on.as_ref().map_or(String::new(), |on| words::day(on.value)),
        did: words::sentence(&work.did),
        parts: source.names.parts(&work.part),
        why: text(work.why.as_ref()),
        by: text(work.by.as_ref()),
        mends: work
            .mends
            .iter()
            .filter_map(|id| source.names.finding(id))
            .map(|number| Link {
                anchor: finding_anchor(number),
                text: seen(&source.record.findings[number - 1].seen, source.trade),
            })
            .collect(),
        redoes: work.redoes.as_ref().and_then(|id| source.names.work(id)).map(|number| Link {
            anchor: work_anchor(number),
            text: source.record.works[number - 1].did.to_string(),
        }),
        redone_by,
        outcome: work
            .turned_out
            .as_ref()
            .map_or(String::new(), |outcome| words::outcome(outcome.value).to_owned()),
        failed: work
            .turned_out
            .as_ref()
            .is_some_and(|outcome| outcome.value == crate::record::Outcome::Failed),
        undo: words::sentence(&undo),
    }
}

/// What the papers call a surface: its own name, or the names of its parts.
pub(super) fn surface_name(source: &Source<'_>, surface: &Surface) -> String {
    match &surface.name {
        Some(name) => name.to_string(),
        None => words::capital(&source.names.parts(&surface.parts)),
    }
}

fn surface_view(source: &Source<'_>, index: usize, surface: &Surface) -> SurfaceView {
    let build = &source.facts.surfaces[index];
    let decides = build.decides_care();
    SurfaceView {
        name: surface_name(source, surface),
        anchor: format!("surface-{}", index + 1),
        parts: source.names.parts(&surface.parts),
        layers: build
            .layers
            .iter()
            .rev()
            .map(|layer| {
                layer_row(source, layer, decides.is_some_and(|decides| std::ptr::eq(decides, layer)))
            })
            .collect(),
        layers_svg_html: layers_drawing(source, index, surface),
        removed: build.removed.iter().map(film_words).collect(),
        undone: build
            .undone
            .iter()
            .map(|film| match film.on {
                Some(on) => format!("{}, laid on {}", film_words(film), words::day(on)),
                None => film_words(film),
            })
            .collect(),
        steps: surface
            .steps
            .iter()
            .enumerate()
            .map(|(index, step)| {
                step_row(source, step, build.undone.iter().any(|film| film.step == Some(index)))
            })
            .collect(),
    }
}

/// The layers of a surface as a drawing. A material that is its own surface is what the others lie on.
fn layers_drawing(source: &Source<'_>, index: usize, surface: &Surface) -> String {
    let layers = &source.facts.surfaces[index].layers;
    let is_ground = |layer: &Layered| layer.film.layer == Some(Layer::Surface);
    let ground = match layers.first().filter(|layer| is_ground(layer)) {
        Some(layer) => Ground {
            name: words::capital(&film_words(&layer.film)),
            grain: layer.film.finish.as_deref() == Some("bare-wood"),
        },
        None => ground_of(source, surface),
    };
    let drawn: Vec<Drawn> = layers
        .iter()
        .enumerate()
        .filter(|(place, layer)| *place > 0 || !is_ground(layer))
        .map(|(_, layer)| Drawn {
            name: words::capital(&film_words(&layer.film)),
            kind: layer.film.layer,
            coats: layer.film.coats,
            exception: exception(source, layer),
        })
        .collect();
    match layers.is_empty() {
        true => String::new(),
        false => layers_svg(
            &format!("surface-{}-layers", index + 1),
            &surface_name(source, surface),
            &ground,
            &drawn,
        ),
    }
}

/// What a surface's parts are made of, where all of them are of one material that is not wood.
fn ground_of(source: &Source<'_>, surface: &Surface) -> Ground {
    let build = |id: &Said<crate::fields::Id>| {
        let part = source.record.parts.iter().find(|part| part.id.0 == id.0)?;
        Some(part.build.as_ref()?.value)
    };
    let other = [Build::Metal, Build::Glass, Build::Stone, Build::Textile, Build::Leather];
    let same = surface.parts.first().and_then(build).filter(|build| other.contains(build));
    match same.filter(|one| surface.parts.iter().all(|part| build(part) == Some(*one))) {
        Some(build) => Ground { name: words::capital(words::build(build)), grain: false },
        None => Ground { name: "Wood".to_owned(), grain: true },
    }
}

/// A film with its coats: `satin varnish, 3 coats`.
pub(super) fn film_words(film: &Film) -> String {
    let name = match film.name.as_str() {
        UNKNOWN => "a finish that is not known",
        name => name,
    };
    match (film.step, film.coats) {
        (Some(_), coats) if coats > 1 => format!("{name}, {coats} coats"),
        _ => name.to_owned(),
    }
}

fn layer_row(source: &Source<'_>, layer: &Layered, decides_care: bool) -> LayerRow {
    LayerRow {
        name: words::capital(&film_words(&layer.film)),
        lies: words::layer(layer.film.layer).to_owned(),
        kind: layer.film.layer.map_or("unknown", |layer| layer.word()).to_owned(),
        since: match (layer.film.step, layer.film.on) {
            (None, _) => "found on the piece".to_owned(),
            (Some(_), Some(on)) => format!("laid from {}", words::day(on)),
            (Some(_), None) => "laid by this workshop".to_owned(),
        },
        exception: exception(source, layer),
        decides_care,
    }
}

/// Where a layer is not whole; empty where it is.
fn exception(source: &Source<'_>, layer: &Layered) -> String {
    let parts = |ids: &[String]| {
        words::list(
            &ids.iter().map(|id| source.names.part(&crate::fields::Id(id.clone()))).collect::<Vec<_>>(),
        )
    };
    let mut exception: Vec<String> = Vec::new();
    if !layer.only_on.is_empty() {
        exception.push(format!("only on {}", parts(&layer.only_on)));
    }
    if !layer.gone_from.is_empty() {
        exception.push(format!("taken off again from {}", parts(&layer.gone_from)));
    }
    exception.join("; ")
}

fn step_row(source: &Source<'_>, step: &Step, undone: bool) -> StepRow {
    let (kind, mut said) = match step.act() {
        Some(Act::Clean(with)) => ("clean", format!("Cleaned with {}", words::said(with))),
        Some(Act::Test(of)) => ("test", test_words(step, &words::said(of))),
        Some(Act::Remove(what)) => ("remove", format!("Removed {}", removal_words(source, what))),
        Some(Act::Abrade(grits)) => {
            let grits: Vec<String> = grits.iter().map(|grit| grit.to_string()).collect();
            ("abrade", format!("Abraded with {}", grits.join(", then ")))
        }
        Some(Act::Apply(what)) => ("apply", apply_words(source, step, what)),
        None => ("unknown", "Not recorded".to_owned()),
    };
    if let Some(by) = step.by.as_ref() {
        said.push_str(&format!(", by {}", words::said(by)));
    }
    if !step.only.is_empty() {
        said.push_str(&format!(", only on {}", source.names.parts(&step.only)));
    }
    if let Some(why) = step.why.as_ref() {
        said.push_str(&format!(": {}", words::said(why)));
    }
    let mut text = words::sentence(&said);
    if let Some(note) = step.note.as_ref() {
        text = format!("{text} {}", words::sentence(&words::said(note)));
    }
    StepRow {
        day: step.on.as_ref().map_or(String::new(), |on| words::day(on.value)),
        text,
        kind: kind.to_owned(),
        undone,
    }
}

fn test_words(step: &Step, of: &str) -> String {
    match step.result.as_ref() {
        Some(result) if result.0 == NOT_TESTED => format!("{of}: not tested"),
        Some(result) => format!("Tested ({of}): {}", words::said(result)),
        None => format!("Tested ({of}): the result was not recorded"),
    }
}

fn removal_words(source: &Source<'_>, what: &str) -> String {
    match what {
        "all" => "everything down to the wood".to_owned(),
        UNKNOWN => "a finish that is not known".to_owned(),
        other => coating_words(source, other),
    }
}

fn apply_words(source: &Source<'_>, step: &Step, what: &str) -> String {
    format!("Applied {}", laid_words(source, step, what))
}

/// What an applying step laid: the finish with its mix, its coats and how they were laid.
pub(super) fn laid_words(source: &Source<'_>, step: &Step, what: &str) -> String {
    let mut said = coating_words(source, what);
    if !step.mix.is_empty() {
        let mix: Vec<String> = step
            .mix
            .iter()
            .map(|ingredient| {
                format!("{} {}", words::span(&ingredient.parts, "part", "parts"), words::said(&ingredient.of))
            })
            .collect();
        said.push_str(&format!(" ({})", words::list(&mix)));
    }
    if step.coat_count() > 1 {
        said.push_str(&format!(", {} coats", step.coat_count()));
    }
    if let Some(every) = step.every_hours.as_ref() {
        said.push_str(&format!(", {} apart", words::span(every, "hour", "hours")));
    }
    if let Some(grit) = step.abrade_between.as_ref() {
        said.push_str(&format!(", abraded with {} between coats", words::said(grit)));
    }
    said
}

/// What the papers call a finish: the workshop's name for its tin, else the family's.
pub(super) fn coating_words(source: &Source<'_>, what: &str) -> String {
    match coating(what, source.tins, source.trade) {
        Some(coating) => match coating.tin.and_then(|tin| tin.name.as_ref()) {
            Some(name) => name.to_string(),
            None => coating.finish.name.to_lowercase(),
        },
        None => what.to_owned(),
    }
}

fn fixing_row(source: &Source<'_>, fixing: &Fixing) -> FixingRow {
    let kind = source.trade.fixing(&fixing.kind);
    let several = fixing.count.as_ref().map(|count| count.0);
    let label = match (kind, several) {
        (Some(kind), Some(1) | None) => kind.label.to_string(),
        (Some(kind), Some(_)) => kind.label_plural.to_string(),
        (None, _) => words::said(&fixing.kind).replace('-', " "),
    };
    let name = match several {
        Some(count) => format!("{count} {label}"),
        None => words::capital(&label),
    };
    let era = kind.map(|kind| kind.era.value);
    let modern = era == Some(crate::trade::Era::Modern);
    FixingRow {
        name,
        parts: source.names.parts(&fixing.part),
        standing: words::standing(fixing.standing.value).to_owned(),
        standing_word: fixing.standing.word().to_owned(),
        era: era.map_or(String::new(), |era| words::era(era).to_owned()),
        modern,
        notes: [
            fixing.instead_of.as_ref().map(|old| format!("In place of {}", words::said(old))),
            fixing.why.as_ref().map(|why| words::said(why)),
            fixing.note.as_ref().map(|note| words::said(note)),
        ]
        .into_iter()
        .flatten()
        .map(|note| words::sentence(&note))
        .collect(),
        undo: fixing
            .undo
            .as_ref()
            .map(|undo| words::sentence(&words::said(undo)))
            .or_else(|| kind.map(|kind| kind.undo.to_string()))
            .unwrap_or_default(),
    }
}

/// Tests of the record, and those among the steps of its surfaces.
pub(super) fn trials(source: &Source<'_>) -> Vec<TrialRow> {
    let declared = source.record.trials.iter().map(|trial| TrialRow {
        of: words::capital(&words::said(&trial.of)),
        parts: source.names.parts(&trial.part),
        result: words::said(&trial.result),
        made: trial.result.0 != NOT_TESTED,
        how: how(
            trial.on.as_ref().map(|on| words::day(on.value)),
            trial.by.as_ref().map(|by| words::said(by)),
        ),
    });
    let among_steps = source.record.surfaces.iter().flat_map(|surface| {
        surface.steps.iter().filter_map(|step| match step.act() {
            Some(Act::Test(of)) => Some(TrialRow {
                of: words::capital(&words::said(of)),
                parts: match step.only.is_empty() {
                    true => source.names.parts(&surface.parts),
                    false => source.names.parts(&step.only),
                },
                result: step
                    .result
                    .as_ref()
                    .map_or_else(|| "not recorded".to_owned(), |result| words::said(result)),
                made: step.result.as_ref().is_some_and(|result| result.0 != NOT_TESTED),
                how: how(
                    step.on.as_ref().map(|on| words::day(on.value)),
                    step.by.as_ref().map(|by| words::said(by)),
                ),
            }),
            _ => None,
        })
    });
    declared.chain(among_steps).collect()
}

fn how(day: Option<String>, by: Option<String>) -> String {
    [day, by].into_iter().flatten().collect::<Vec<_>>().join(", ")
}

/// What was left unmended.
pub(super) fn undone(source: &Source<'_>) -> Vec<UndoneRow> {
    source
        .record
        .undone
        .iter()
        .map(|undone| UndoneRow {
            what: words::sentence(&words::said(&undone.what)),
            why: words::why_undone(undone.why.value).to_owned(),
            effect: undone
                .effect
                .as_ref()
                .map_or(String::new(), |effect| words::sentence(&words::said(effect))),
        })
        .collect()
}

/// What is not known about the piece, one sentence each. Silence would read as a claim.
pub(super) fn unknowns(source: &Source<'_>) -> Vec<String> {
    let record = source.record;
    let mut unknowns: Vec<String> = Vec::new();
    if record.made.is_none() {
        unknowns.push("When it was made is not known.".to_owned());
    }
    if record.maker.as_ref().is_none_or(|maker| maker.0 == UNKNOWN) {
        unknowns.push("Who made it is not known.".to_owned());
    }
    let named =
        |parts: Vec<&Part>| words::list(&parts.iter().map(|part| part.name.to_string()).collect::<Vec<_>>());
    let of_standing: Vec<&Part> = record
        .parts
        .iter()
        .map(|part| &part.value)
        .filter(|part| part.standing.value == Standing::Unknown)
        .collect();
    if !of_standing.is_empty() {
        unknowns.push(format!("Whether these parts are original is not known: {}.", named(of_standing)));
    }
    let of_timber: Vec<&Part> = record
        .parts
        .iter()
        .map(|part| &part.value)
        .filter(|part| part.timber.as_ref().is_some_and(|timber| timber.0 == UNKNOWN))
        .collect();
    if !of_timber.is_empty() {
        unknowns.push(format!("The timber of these parts is not known: {}.", named(of_timber)));
    }
    let fixings: Vec<String> = record
        .fixings
        .iter()
        .filter(|fixing| fixing.standing.value == Standing::Unknown)
        .map(|fixing| fixing_row(source, fixing).name)
        .collect();
    if !fixings.is_empty() {
        unknowns.push(format!("Whether these fixings are original is not known: {}.", words::list(&fixings)));
    }
    for (surface, build) in record.surfaces.iter().zip(&source.facts.surfaces) {
        let unknown = |film: &Film| film.finish.is_none() || film.finish.as_deref() == Some("old-finish");
        if build.layers.iter().any(|layer| unknown(&layer.film)) {
            unknowns.push(format!(
                "The old finish on {} was not identified.",
                source.names.parts(&surface.parts)
            ));
        } else if build.removed.iter().any(unknown) {
            unknowns.push(format!(
                "The old finish taken off {} was not identified.",
                source.names.parts(&surface.parts)
            ));
        }
    }
    unknowns
}
