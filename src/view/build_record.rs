//! The build record: before and after, what was found, decided, done, redone and left.
//!
//! Nothing here is private; what the archive adds stands in `archive`.

use serde::Serialize;

use super::Source;
use super::mark::Pointers;
use super::names::{finding_anchor, seen, work_anchor};
use super::originality::{OriginalityView, originality};
use super::pair::PairView;
use super::part::{PartRow, StandingRow, part_row, standings, standings_sentence, timbers};
use super::picture::{PhotoView, StageView};
use super::shown::{Sees, Shown};
use super::story::{Block, story_blocks, story_html};
use super::surface::{SurfaceView, surface_view};
use super::swatch::{SwatchView, swatch_views};
use super::words;
use crate::derive::{Film, Photograph};
use crate::fields::Said;
use crate::record::{Act, Decision, Finding, Fixing, Level, NOT_TESTED, Part, Standing, UNKNOWN, Work};

/// A word for part of a list, and its meaning.
#[derive(Debug, Clone, Serialize)]
pub struct Fact {
    /// What is told.
    pub label: String,
    /// What is told of it.
    pub text: String,
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
