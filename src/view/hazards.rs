//! Cautions that a record implies: for the bench, and for the buyer.

use serde::Serialize;

use super::Source;
use super::surface::surface_name;
use super::words;
use crate::derive::{Because, Coating, Implied, Tested, Verdict, coating};
use crate::record::{Act, NOT_TESTED, UNKNOWN};
use crate::trade::{Cites, Hazard, HazardRegion, Readers, Verification};

/// A rule of law or of a standard, as it was read.
#[derive(Debug, Clone, Serialize)]
pub struct LawRow {
    /// Where it holds.
    pub region: String,
    /// The rule; may be empty, where only its source is known.
    pub text: String,
    /// What was not settled; may be empty.
    pub note: String,
    /// Where it was read, or that it is common practice.
    pub source: String,
    /// When it was written down, such as `November 2026`.
    pub written_on: String,
}

/// One caution.
#[derive(Debug, Clone, Serialize)]
pub struct Caution {
    /// The hazard's name.
    pub title: String,
    /// Its subject as a word, for a theme's marks.
    pub subject: String,
    /// The usual caution.
    pub text: String,
    /// What in the record raises it.
    pub because: String,
    /// What tests showed, or that there was none; empty where no test would tell.
    pub tested: String,
    /// Whether a test showed that it is really there.
    pub known: bool,
    /// The rules of each region.
    pub rules: Vec<LawRow>,
}

/// Something that was tested for and not found.
#[derive(Debug, Clone, Serialize)]
pub struct Cleared {
    /// The hazard's name.
    pub title: String,
    /// What was tested, where, and what came out.
    pub tested: String,
}

/// The cautions for one reader.
#[derive(Debug, Clone, Serialize)]
pub struct HazardSheet {
    /// The cautions, those that a test confirmed first.
    pub cautions: Vec<Caution>,
    /// What was tested for and not found.
    pub cleared: Vec<Cleared>,
    /// Whom to ask, and that nothing here is law; empty where there is no caution.
    pub closing: String,
}

/// What using one finish asks for at the bench.
#[derive(Debug, Clone, Serialize)]
pub struct FinishHazards {
    /// The finish.
    pub finish: String,
    /// The cautions.
    pub texts: Vec<String>,
    /// Where they come from.
    pub source: String,
}

/// The cautions at the bench; for the archive.
#[derive(Debug, Clone, Serialize)]
pub struct BenchSheet {
    /// The cautions and whom to ask.
    pub sheet: HazardSheet,
    /// The cautions of each finish that was applied.
    pub finishes: Vec<FinishHazards>,
}

/// Whom to ask, and that nothing here is law.
const CLOSING: &str = "This is usual practice on the day it was written down, and no legal advice: rules change and differ \
                       from place to place. Local codes and licensed trades decide.";

/// The cautions for the buyer.
pub(super) fn for_buyer(source: &Source<'_>) -> HazardSheet {
    sheet(source, &[Readers::Buyer, Readers::Both], |_| true, |row| words::said(&row.tell))
}

/// The cautions for whoever opens the piece up again: those that lie in the piece itself, and not in what this
/// workshop used on the way.
pub(super) fn for_restorer(source: &Source<'_>) -> HazardSheet {
    let lasts = |because: &Because| {
        matches!(
            because,
            Because::Coat { .. }
                | Because::CoatNotRecorded { .. }
                | Because::Part { .. }
                | Because::Fixing { .. }
                | Because::Timber { .. }
                | Because::Finding { .. }
                | Because::Tested
        )
    };
    let readers = [Readers::Bench, Readers::Both];
    sheet(source, &readers, |implied| implied.because.iter().any(lasts), |row| words::said(&row.r#do))
}

/// The cautions at the bench.
pub(super) fn for_bench(source: &Source<'_>) -> BenchSheet {
    BenchSheet {
        sheet: sheet(source, &[Readers::Bench, Readers::Both], |_| true, |row| words::said(&row.r#do)),
        finishes: finishes(source),
    }
}

fn sheet(
    source: &Source<'_>,
    readers: &[Readers],
    wanted: impl Fn(&Implied) -> bool,
    text: impl Fn(&Hazard) -> String,
) -> HazardSheet {
    let (mut cautions, mut cleared) = (Vec::new(), Vec::new());
    for implied in source.facts.hazards.iter().filter(|implied| wanted(implied)) {
        let rows: Vec<&Hazard> = implied
            .rows
            .iter()
            .filter_map(|id| source.trade.hazard(id))
            .filter(|row| readers.contains(&row.readers.value))
            .collect();
        let Some(first) = rows.first() else { continue };
        match implied.verdict {
            Verdict::Negative => cleared
                .push(Cleared { title: words::said(&first.name), tested: tested(source, implied, first) }),
            _ => cautions.push(caution(source, implied, &rows, &text)),
        }
    }
    cautions.sort_by_key(|caution| !caution.known);
    let closing = if cautions.is_empty() { String::new() } else { CLOSING.to_owned() };
    HazardSheet { cautions, cleared, closing }
}

fn caution(
    source: &Source<'_>,
    implied: &Implied,
    rows: &[&Hazard],
    text: &impl Fn(&Hazard) -> String,
) -> Caution {
    // Rows of several regions say the same in their own words; each is said once.
    let mut texts: Vec<String> = Vec::new();
    for row in rows {
        let said = words::sentence(&text(row));
        if !texts.contains(&said) {
            texts.push(said);
        }
    }
    Caution {
        title: words::said(&rows[0].name),
        subject: implied.subject.clone(),
        text: texts.join(" "),
        because: reasons(source, &implied.because),
        tested: tested(source, implied, rows[0]),
        known: implied.verdict == Verdict::Positive,
        rules: rows.iter().map(|row| law(row)).collect(),
    }
}

fn law(row: &Hazard) -> LawRow {
    let memory = if row.seen.value == Verification::Memory { ", from memory" } else { "" };
    LawRow {
        region: match row.region.value {
            HazardRegion::All => "Everywhere",
            HazardRegion::UnitedKingdom => "United Kingdom",
            HazardRegion::UnitedKingdomAndEurope => "United Kingdom and European Union",
            HazardRegion::UnitedStates => "United States",
        }
        .to_owned(),
        text: row.rule.as_ref().map_or_else(String::new, |rule| words::sentence(&words::said(rule))),
        note: row.note.as_ref().map_or_else(String::new, |note| words::sentence(&words::said(note))),
        source: format!("{}{memory}", *row.source),
        written_on: month(&row.as_of),
    }
}

/// `November 2026` from `2026-11`; any other text as it is.
fn month(written: &str) -> String {
    let day = chrono::NaiveDate::parse_from_str(&format!("{written}-01"), "%Y-%m-%d");
    day.map_or_else(|_| written.to_owned(), words::month)
}

/// What raises a hazard, in a sentence; reasons of one kind are said together.
fn reasons(source: &Source<'_>, because: &[Because]) -> String {
    let mut said: Vec<(&str, Vec<String>)> = Vec::new();
    for one in because {
        let (before, what) = reason(source, one);
        match said.iter_mut().find(|(known, _)| *known == before && !before.is_empty()) {
            Some((_, all)) => all.push(what),
            None => said.push((before, vec![what])),
        }
    }
    let said: Vec<String> =
        said.into_iter().map(|(before, all)| format!("{before}{}", words::list(&all))).collect();
    words::sentence(&said.join("; "))
}

/// One reason: the words that it shares with others of its kind, and its own.
fn reason(source: &Source<'_>, because: &Because) -> (&'static str, String) {
    let surface = |index: usize| surface_name(source, &source.record.surfaces[index]);
    match because {
        Because::Applied { finish, surface: index } => {
            ("applied: ", format!("{} ({})", finish.to_lowercase(), surface(*index)))
        }
        Because::Coat { coat, surface: index } => {
            ("found on it: ", format!("{} ({})", coat_words(source, coat), surface(*index)))
        }
        Because::CoatNotRecorded { surface: index } => {
            ("what lay there before is not recorded: ", surface(*index))
        }
        Because::Abraded { surface: index } => ("abraded: ", surface(*index)),
        Because::Used { word } => ("the work names ", word.clone()),
        Because::Part { part } => ("part: ", source.names.part(part)),
        Because::Fixing { kind } => ("fixing: ", kind.clone()),
        Because::Timber { part, timber, appendix } => (
            "timber, with its appendix in the convention on endangered species as recalled: ",
            format!(
                "{} ({}, appendix {})",
                source.names.part(part),
                timber.to_lowercase(),
                match appendix {
                    Cites::None => "none",
                    Cites::One => "I",
                    Cites::Two => "II",
                    Cites::Three => "III",
                }
            ),
        ),
        Because::Finding { finding } => ("seen: ", words::said(&source.record.findings[*finding].seen)),
        Because::Kind => ("", "it follows from the kind of piece".to_owned()),
        Because::Height(height) => {
            ("", format!("it stands {} high", source.house.quantities.lengths(&[*height])))
        }
        Because::HeightNotRecorded => {
            ("", "pieces of its kind can be tall, and its height is not recorded".to_owned())
        }
        Because::Tested => ("", "a test for it is recorded".to_owned()),
    }
}

/// What the record calls an old coat.
fn coat_words(source: &Source<'_>, coat: &str) -> String {
    match (coat, source.trade.finish(coat)) {
        (UNKNOWN, _) => "an old coat of unknown make".to_owned(),
        ("old-finish" | "all", _) => "an old finish of unknown make".to_owned(),
        (_, Some(finish)) => format!("an old coat of {}", finish.name.to_lowercase()),
        (_, None) => format!("an old coat, “{coat}”"),
    }
}

/// What was tested, in sentences; that nothing was, where a test would tell.
fn tested(source: &Source<'_>, implied: &Implied, row: &Hazard) -> String {
    if implied.tests.is_empty() {
        return if row.tests.is_empty() { String::new() } else { "No test is recorded.".to_owned() };
    }
    implied.tests.iter().map(|test| test_words(source, test)).collect::<Vec<_>>().join(" ")
}

fn test_words(source: &Source<'_>, test: &Tested) -> String {
    let names: Vec<String> = test.parts.iter().map(|part| source.names.part(part)).collect();
    let means = if test.by.is_empty() { String::new() } else { format!("by {}", test.by) };
    let how: Vec<String> = [words::list(&names), means].into_iter().filter(|how| !how.is_empty()).collect();
    let of = match how.is_empty() {
        true => test.of.clone(),
        false => format!("{} ({})", test.of, how.join("; ")),
    };
    match test.result.as_str() {
        NOT_TESTED => format!("Not tested: {of}."),
        "" => format!("Tested: {of}; no result is recorded."),
        UNKNOWN => format!("Tested: {of}; the result is not known."),
        result => words::sentence(&format!("Tested: {of}: {result}")),
    }
}

/// The cautions of each finish that this workshop applied, each finish once, in the order of the steps.
fn finishes(source: &Source<'_>) -> Vec<FinishHazards> {
    let steps = source.record.surfaces.iter().flat_map(|surface| &surface.steps);
    let mut found: Vec<FinishHazards> = Vec::new();
    for step in steps {
        let Some(Act::Apply(name)) = step.act() else { continue };
        let Some(Coating { finish, .. }) = coating(name, source.tins, source.trade) else { continue };
        let known = found.iter().any(|known| known.finish == **finish.name);
        if known || finish.bench_hazards.is_empty() {
            continue;
        }
        found.push(FinishHazards {
            finish: finish.name.to_string(),
            texts: finish.bench_hazards.iter().map(|text| words::sentence(&words::said(text))).collect(),
            source: finish.source.to_string(),
        });
    }
    found
}
