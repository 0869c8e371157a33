//! Cautions that a record implies, for the bench and for whoever opens the piece up again; the buyer's are claims.

use std::mem::discriminant;

use serde::Serialize;

use super::surface::surface_name;
use crate::claim::{Message, Value, says};
use crate::derive::{
    Because, Coating, Implied, OldCoat, OldCoatName, OldCoatTold, TestReading, Tested, coating, seen,
};
use crate::record::{Act, FinishName, NOT_TESTED, UNKNOWN};
use crate::trade::{Cites, Finish, Hazard, Readers, Verification};
use crate::view::context::PieceContext;
use crate::words::{Words, sentence};

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

/// The cautions at the bench.
pub(crate) fn for_bench(context: &PieceContext<'_>) -> BenchSheet {
    BenchSheet {
        sheet: sheet(
            context,
            &[Readers::Bench, Readers::Both],
            |implied| !implied.because.is_empty(),
            |row| context.house.words().said(&row.r#do),
        ),
        finishes: finishes(context),
    }
}

fn sheet(
    context: &PieceContext<'_>,
    readers: &[Readers],
    wanted: impl Fn(&Implied) -> bool,
    text: impl Fn(&Hazard) -> String,
) -> HazardSheet {
    let (mut cautions, mut cleared) = (Vec::new(), Vec::new());
    for implied in context.facts.hazards.iter().filter(|implied| wanted(implied)) {
        let rows: Vec<&Hazard> = implied
            .rows
            .iter()
            .filter_map(|id| context.trade.hazard(id))
            .filter(|row| readers.contains(&row.readers.value))
            .collect();
        let Some(first) = rows.first() else { continue };
        match implied.reading {
            TestReading::Negative => cleared.push(Cleared {
                title: context.house.words().said(&first.name),
                tested: tested(context, implied, first),
            }),
            _ => cautions.push(caution(context, implied, &rows, &text)),
        }
    }
    cautions.sort_by_key(|caution| !caution.known);
    let words = context.house.words();
    let closing = match (cautions.is_empty(), context.facts.region) {
        (true, _) => String::new(),
        (false, Some(_)) => words.say(&says!("hazard-usual-practice")),
        (false, None) => words.say_all([says!("hazard-usual-practice"), says!("hazard-no-region")]),
    };
    HazardSheet { cautions, cleared, closing }
}

fn caution(
    context: &PieceContext<'_>,
    implied: &Implied,
    rows: &[&Hazard],
    text: &impl Fn(&Hazard) -> String,
) -> Caution {
    // Rows of several regions say the same in their own words; each is said once.
    let mut texts: Vec<String> = Vec::new();
    for row in rows {
        let said = sentence(&text(row));
        if !texts.contains(&said) {
            texts.push(said);
        }
    }
    Caution {
        title: context.house.words().said(&rows[0].name),
        subject: implied.subject.clone(),
        text: texts.join(" "),
        because: reasons(context, &implied.because),
        tested: tested(context, implied, rows[0]),
        known: implied.reading == TestReading::Positive,
        rules: rows
            .iter()
            .filter(|row| implied.rules.contains(&row.id.0))
            .map(|row| law(context.house.words(), row))
            .collect(),
    }
}

fn law(words: &Words, row: &Hazard) -> LawRow {
    let source = row.source.to_string();
    LawRow {
        region: words.word("region", row.region.value.word()),
        text: row.rule.as_ref().map_or_else(String::new, |rule| sentence(&words.said(rule))),
        note: row.note.as_ref().map_or_else(String::new, |note| sentence(&words.said(note))),
        source: match row.seen.value == Verification::Memory {
            true => words.say(&says!("from-memory", source = source)),
            false => source,
        },
        written_on: month(words, &row.as_of),
    }
}

/// `November 2026` from `2026-11`; any other text as it is.
fn month(words: &Words, written: &str) -> String {
    let day = chrono::NaiveDate::parse_from_str(&format!("{written}-01"), "%Y-%m-%d");
    day.map_or_else(|_| written.to_owned(), |day| words.month(day))
}

/// Why a caution is told, in a sentence; reasons of one kind are said together.
fn reasons(context: &PieceContext<'_>, because: &[Because]) -> String {
    let mut kinds: Vec<(&Because, Vec<Value>)> = Vec::new();
    for one in because {
        let what = reason(context, one);
        match kinds.iter_mut().find(|(known, _)| together(known, one)) {
            Some((_, all)) if all.contains(&what) => {}
            Some((_, all)) => all.push(what),
            None => kinds.push((one, vec![what])),
        }
    }
    let words = context.house.words();
    let said = kinds.into_iter().map(|(kind, all)| match lead(kind) {
        Some(lead) => words.say(&Message { values: vec![("things", Value::All(all))], ..lead }),
        None => words.value(&Value::All(all)),
    });
    sentence(&said.collect::<Vec<_>>().join("; "))
}

fn together(one: &Because, other: &Because) -> bool {
    discriminant(one) == discriminant(other) && lead(one).is_some()
}

/// What several reasons of one kind are told with.
fn lead(because: &Because) -> Option<Message> {
    Some(match because {
        Because::Applied { .. } => Message::word("because", "applied"),
        Because::Lies { .. } => Message::word("because", "lies"),
        Because::Coat(_) => Message::word("because", "coat"),
        Because::Abraded { .. } => Message::word("because", "abraded"),
        Because::Used { .. } => Message::word("because", "used"),
        Because::Part { .. } => Message::word("because", "part"),
        Because::Fixing(_) => Message::word("because", "fixing"),
        Because::Timber { .. } => Message::word("because", "timber"),
        Because::Finding { .. } => Message::word("because", "finding"),
        Because::Kind | Because::Height(_) | Because::HeightNotRecorded | Because::Tested => return None,
    })
}

fn reason(context: &PieceContext<'_>, because: &Because) -> Value {
    match because {
        Because::Applied { finish, surface } | Because::Lies { finish, surface } => {
            let surface = surface_name(context, surface);
            says!("finish-on-surface", finish = finish.to_lowercase(), surface = surface).into()
        }
        Because::Coat(coat) => old_coat(context, coat).into(),
        Because::Abraded { surface } => surface_name(context, surface).into(),
        Because::Used { word, .. } => word.as_str().into(),
        Because::Part { part } => context.names.part(part).into(),
        Because::Fixing(fixing) => Value::Text(fixing.kind.to_string()),
        Because::Timber { part, timber, listing } => {
            let (part, timber) = (context.names.part(part), Value::Name(timber.clone()));
            let appendix = match listing.appendix {
                Cites::None => says!("appendix-none").into(),
                Cites::One => Value::from("I"),
                Cites::Two => Value::from("II"),
                Cites::Three => Value::from("III"),
            };
            match listing.certain {
                true => says!("timber-in-appendix", part = part, timber = timber, appendix = appendix),
                false => {
                    says!("timber-perhaps-in-appendix", part = part, timber = timber, appendix = appendix)
                }
            }
            .into()
        }
        Because::Finding { finding } => seen(&finding.seen, context.trade).into(),
        Because::Kind => says!("because-kind").into(),
        Because::Height(height) => says!("because-height", height = *height).into(),
        Because::HeightNotRecorded => says!("because-height-not-recorded").into(),
        Because::Tested => says!("because-tested").into(),
    }
}

/// What an old coat is called, with where it lies or lay.
fn old_coat(context: &PieceContext<'_>, coat: &OldCoat) -> Message {
    let name = match &coat.name {
        OldCoatName::Named(FinishName::Unknown) => says!("coat-of-unknown-make"),
        OldCoatName::All => says!("old-finish-of-unknown-make"),
        OldCoatName::NotRecorded => says!("coat-that-lay-there"),
        OldCoatName::Paint => match &coat.told {
            OldCoatTold::Finding(finding) => {
                says!("coat-old-paint-seen", seen = seen(&finding.seen, context.trade))
            }
            OldCoatTold::Work(work) => {
                says!("coat-old-paint-in-work", did = Value::Text(work.did.to_string()))
            }
            OldCoatTold::Surface(_) => says!("coat-old-paint"),
        },
        OldCoatName::Named(name) => match context.trade.finish(name) {
            Some(finish) if finish.is_old() => says!("old-finish-of-unknown-make"),
            Some(_) => says!("coat-old", name = Value::Name(context.trade.finish_name(name))),
            None => says!("coat-old-called", name = name.to_string()),
        },
    };
    let names: Vec<String> = coat.parts.iter().map(|part| context.names.part(part)).collect();
    let place = match &coat.told {
        OldCoatTold::Surface(surface) => surface_name(context, surface),
        _ => context.house.words().list(&names),
    };
    match (place.is_empty(), coat.gone) {
        (true, false) => name,
        (false, false) => says!("coat-at", coat = name, place = place),
        (true, true) => says!("coat-taken-off", coat = name),
        (false, true) => says!("coat-at-taken-off", coat = name, place = place),
    }
}

/// What tests say of it, in sentences; empty where none was to be made.
fn tested(context: &PieceContext<'_>, implied: &Implied, row: &Hazard) -> String {
    let words = context.house.words();
    if implied.tests.is_empty() {
        return if row.tests.is_empty() { String::new() } else { words.say_all([says!("hazard-no-test")]) };
    }
    words.say_all(implied.tests.iter().map(|test| test_message(context, test)))
}

fn test_message(context: &PieceContext<'_>, test: &Tested) -> Message {
    let parts: Vec<Value> = test.parts.iter().map(|part| context.names.part(part).into()).collect();
    let (of, by) = (test.of.as_str(), test.by.as_str());
    let of = match (parts.is_empty(), by.is_empty()) {
        (true, true) => Value::from(of),
        (false, true) => says!("tested-on", of = of, parts = Value::All(parts)).into(),
        (true, false) => says!("tested-by", of = of, means = by).into(),
        (false, false) => says!("tested-on-by", of = of, parts = Value::All(parts), means = by).into(),
    };
    match test.result.as_str() {
        NOT_TESTED => says!("hazard-not-tested", of = of),
        "" => says!("hazard-tested-no-result", of = of),
        UNKNOWN => says!("hazard-tested-not-known", of = of),
        result => says!("hazard-tested", of = of, result = result),
    }
}

/// The cautions of each finish that this workshop applied, each finish once, in the order of the steps.
fn finishes(context: &PieceContext<'_>) -> Vec<FinishHazards> {
    let steps = context.record.surfaces.iter().flat_map(|surface| &surface.steps);
    let mut found: Vec<&Finish> = Vec::new();
    for step in steps {
        let Some(Act::Apply(name)) = step.act() else { continue };
        let Some(Coating { finish, .. }) = coating(name, context.tins, context.trade) else { continue };
        let known = found.iter().any(|known| known.id.value == finish.id.value);
        if !known && !finish.bench_hazards.is_empty() {
            found.push(finish);
        }
    }
    let row = |finish: &Finish| FinishHazards {
        finish: finish.name.to_string(),
        texts: finish.bench_hazards.iter().map(|text| sentence(&context.house.words().said(text))).collect(),
        source: finish.source.to_string(),
    };
    found.into_iter().map(row).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::view::testing::shown;

    const CLOSING: &str = "This is usual practice on the day it was written down, and no legal advice: rules change and \
                           differ from place to place. Local codes and licensed trades decide.";

    const PAINTED: &str = "part = [{ id = \"top\", name = \"Top\", standing = \"original\" }]\n\
        surface = [{ parts = [\"top\"], found = \"alkyd-eggshell\", steps = [] }]\n";

    fn at_bench(context: &PieceContext<'_>) -> HazardSheet {
        for_bench(context).sheet
    }

    fn lead(sheet: &HazardSheet) -> Option<&Caution> {
        sheet.cautions.iter().find(|caution| caution.subject == "lead")
    }

    #[test]
    fn an_old_coat_raises_a_caution_that_says_why_and_that_nothing_was_tested() {
        let sheet = shown(PAINTED, "", at_bench);
        let lead = lead(&sheet).expect("lead may be in old paint");
        assert_eq!(
            lead.because,
            "Found on it, or told of it: an old coat of oil paint (eggshell or gloss) (Top)."
        );
        assert_eq!((lead.known, lead.tested.as_str()), (false, "No test is recorded."));
        assert!(!lead.text.is_empty() && lead.rules.is_empty());
        assert!(sheet.closing.starts_with(CLOSING) && sheet.closing.ends_with("names no region."));
        let nothing = shown("", "", at_bench);
        assert_eq!((nothing.cautions.len(), nothing.closing.as_str()), (0, ""));
    }

    #[test]
    fn what_a_test_found_goes_first_and_what_it_did_not_find_is_cleared() {
        let tested = |result: &str| {
            let test = format!(
                "test = [{{ of = \"lead\", part = \"top\", by = \"laboratory, through all coats\", result = \"{result}\" }}]\n"
            );
            shown(&format!("{PAINTED}{test}"), "", at_bench)
        };
        let found = tested("positive");
        assert!(found.cautions[0].known && found.cautions[0].subject == "lead");
        assert_eq!(
            found.cautions[0].tested,
            "Tested: lead (Top; by laboratory, through all coats): positive."
        );
        let clear = tested("negative");
        assert!(lead(&clear).is_none());
        assert_eq!(
            clear.cleared[0].tested,
            "Tested: lead (Top; by laboratory, through all coats): negative."
        );
        assert_eq!(
            lead(&tested("not-tested")).expect("it stays").tested,
            "Not tested: lead (Top; by laboratory, through all coats)."
        );
    }

    #[test]
    fn a_region_decides_which_rules_are_printed() {
        let rules = |workshop: &str| -> Vec<String> {
            let sheet = shown(PAINTED, workshop, at_bench);
            lead(&sheet)
                .expect("lead may be in old paint")
                .rules
                .iter()
                .map(|rule| rule.region.clone())
                .collect()
        };
        assert_eq!(rules("region = \"united-kingdom\"\n"), ["United Kingdom"]);
        assert_eq!(rules("region = \"europe\"\n"), ["European Union"]);
        assert_eq!(rules("region = \"elsewhere\"\n"), [""; 0]);
        let closing = |workshop: &str| shown(PAINTED, workshop, at_bench).closing;
        assert_eq!(closing("region = \"united-states\"\n"), CLOSING);
    }

    #[test]
    fn reasons_of_one_kind_are_said_together() {
        let two = "part = [{ id = \"top\", name = \"Top\", standing = \"original\" }, \
                   { id = \"leaf\", name = \"Leaf\", standing = \"original\" }]\n\
                   surface = [{ parts = [\"top\"], found = \"alkyd-eggshell\" }, \
                   { parts = [\"leaf\"], found = \"alkyd-eggshell\" }]\n";
        let sheet = shown(two, "", at_bench);
        assert_eq!(
            lead(&sheet).expect("lead may be in old paint").because,
            "Found on it, or told of it: an old coat of oil paint (eggshell or gloss) (Top) and an old coat of oil paint (eggshell or gloss) (Leaf)."
        );
    }

    #[test]
    fn each_finish_is_spoken_of_once_at_the_bench() {
        let steps = "{ apply = \"tin:one\" }, { apply = \"shellac\" }, { apply = \"tin:two\" }";
        let tins = "tin = [{ id = \"one\", is = \"oil-polyurethane\", name = \"Satin\" }, \
                    { id = \"two\", is = \"oil-polyurethane\", name = \"Gloss\" }]";
        let record = format!("surface = [{{ steps = [{steps}] }}]");
        let finishes = shown(&record, tins, for_bench).finishes;
        let names: Vec<&str> = finishes.iter().map(|row| row.finish.as_str()).collect();
        assert_eq!(names, ["Polyurethane varnish (oil-based)", "Shellac"]);
        assert!(finishes.iter().all(|row| !row.texts.is_empty()));
    }

    #[test]
    fn a_month_is_written_out() {
        assert_eq!(month(&Words::with_currency("GBP"), "2026-11"), "November 2026");
        assert_eq!(month(&Words::with_currency("GBP"), "some time"), "some time");
    }
}
