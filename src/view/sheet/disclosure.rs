//! The disclosure sheet: everything a buyer would rather know before than after.

use serde::Serialize;

use crate::record::{Open, Outcome, Standing};
use crate::view::context::PieceContext;
use crate::view::shared::dating::{DatingView, dating};
use crate::view::shared::fact::Fact;
use crate::view::shared::figure::{OriginalityView, StabilityView, originality, stability};
use crate::view::shared::hazards::{HazardSheet, for_buyer};
use crate::view::shared::identity;
use crate::view::shared::row::{
    FindingRow, FixingRow, PartRow, Rows, Settled, StandingRow, TrialRow, UndoneRow, WorkRow,
};
use crate::view::words;

/// What one surface lost and got.
#[derive(Debug, Clone, Serialize)]
pub struct Finished {
    /// The surface's name.
    pub name: String,
    /// What lies on it today, topmost first.
    pub today: Vec<String>,
    /// What was found and taken off.
    pub removed: Vec<String>,
    /// What was laid and taken off again.
    pub undone: Vec<String>,
}

/// The disclosure sheet of one piece.
#[derive(Debug, Clone, Serialize)]
pub struct Disclosure {
    /// Identity.
    pub facts: Vec<Fact>,
    /// How far the work went, and what that word means.
    pub level: String,
    /// The sheet in a sentence or two.
    pub verdict: String,
    /// The workshop's stance; may be empty.
    pub stance: String,
    /// Parts counted by standing.
    pub standings: Vec<StandingRow>,
    /// Parts that are not original, or not known to be.
    pub not_original: Vec<PartRow>,
    /// Parts that are original.
    pub original: Vec<PartRow>,
    /// Fixings and glues that are not original, or not known to be.
    pub fixings: Vec<FixingRow>,
    /// Earlier repairs: parts of that standing.
    pub earlier_repairs: Vec<PartRow>,
    /// What the surfaces lost and got.
    pub finishes: Vec<Finished>,
    /// Tests that were made.
    pub tests_made: Vec<TrialRow>,
    /// Tests that were not made.
    pub tests_not_made: Vec<TrialRow>,
    /// Findings that were mended.
    pub mended: Vec<FindingRow>,
    /// Findings that stand.
    pub standing_findings: Vec<FindingRow>,
    /// What was left unmended, and why.
    pub undone: Vec<UndoneRow>,
    /// Work that failed or turned out only in part.
    pub failures: Vec<WorkRow>,
    /// What is still open.
    pub open: Vec<String>,
    /// What is not known.
    pub unknowns: Vec<String>,
    /// The date check.
    pub dating: DatingView,
    /// Cautions that follow from what the record says.
    pub hazards: HazardSheet,
    /// What goes with the piece.
    pub given: Vec<String>,
    /// To whom it goes; empty where not recorded.
    pub handed_to: String,
    /// The day it goes; empty where not recorded.
    pub handed_on: String,
    /// How much of it is as first made, by count and by mass; none where no parts are recorded.
    pub originality: Option<OriginalityView>,
    /// Whether it stands, and when to anchor it; none where it is no piece that tips.
    pub stability: Option<StabilityView>,
}

/// Builds the disclosure sheet from the same rows as the build record.
pub(crate) fn disclosure(context: &PieceContext<'_>, rows: &Rows) -> Disclosure {
    let of_standing = |wanted: &[Standing]| -> Vec<PartRow> {
        rows.parts.iter().filter(|part| wanted.contains(&part.row.standing.value)).cloned().collect()
    };
    let not_original = of_standing(&[
        Standing::Later,
        Standing::Salvaged,
        Standing::New,
        Standing::Removed,
        Standing::Missing,
        Standing::Unknown,
    ]);
    let fixings = rows
        .fixings
        .iter()
        .filter(|fixing| fixing.row.standing.value != Standing::Original)
        .cloned()
        .collect();
    let (mended, standing_findings) =
        rows.findings.iter().cloned().partition::<Vec<_>, _>(|finding| finding.settled == Settled::Mended);
    let (tests_made, tests_not_made) = rows.trials.iter().cloned().partition::<Vec<_>, _>(|trial| trial.made);
    let handover = context.record.handover.as_ref();
    let (level, level_meaning) = identity::level(context);
    Disclosure {
        facts: identity::facts(context),
        level: format!("{level}: {level_meaning}."),
        verdict: verdict(rows),
        stance: identity::stance(context),
        standings: rows.standings.clone(),
        not_original,
        original: of_standing(&[Standing::Original]),
        fixings,
        earlier_repairs: of_standing(&[Standing::OldRepair]),
        finishes: rows
            .surfaces
            .iter()
            .map(|surface| Finished {
                name: surface.name.clone(),
                today: surface
                    .layers
                    .iter()
                    .map(|layer| match layer.exception.as_str() {
                        "" => format!("{} ({})", layer.name, layer.since),
                        exception => format!("{} ({}; {exception})", layer.name, layer.since),
                    })
                    .collect(),
                removed: surface.removed.clone(),
                undone: surface.undone.clone(),
            })
            .collect(),
        tests_made,
        tests_not_made,
        mended,
        standing_findings,
        undone: rows.undone.clone(),
        failures: failures(rows),
        open: context.record.open.iter().map(|open| open_words(open)).collect(),
        unknowns: rows.unknowns.clone(),
        dating: dating(context),
        hazards: for_buyer(context),
        given: handover.map_or(Vec::new(), |handover| {
            handover.given.iter().map(|given| words::sentence(&words::said(given))).collect()
        }),
        handed_to: handover
            .and_then(|handover| handover.to.for_buyer().as_ref())
            .map_or(String::new(), |to| words::said(to)),
        handed_on: context.piece.handed_over().map_or(String::new(), words::day),
        originality: originality(context),
        stability: stability(context),
    }
}

/// Something still open, with what it has to be done before.
fn open_words(open: &Open) -> String {
    match &open.before {
        Some(before) => {
            format!("{} (before {}).", words::capital(&words::said(&open.what)), words::said(before))
        }
        None => words::sentence(&words::said(&open.what)),
    }
}

fn failures(rows: &Rows) -> Vec<WorkRow> {
    let failed = |work: &&WorkRow| {
        let outcome = work.row.turned_out.as_ref().map(|outcome| outcome.value);
        matches!(outcome, Some(Outcome::Failed | Outcome::Partly))
    };
    rows.works.iter().filter(failed).cloned().collect()
}

/// The sheet in a sentence or two, computed from its counts.
fn verdict(rows: &Rows) -> String {
    let mut said: Vec<String> = Vec::new();
    match rows.standings_sentence.as_str() {
        "" => said.push("Its parts were not recorded, so nothing is said of what is original.".to_owned()),
        sentence => said.push(words::capital(sentence)),
    }
    let left = rows.undone.len();
    said.push(match left {
        0 => "Nothing is recorded as left unmended.".to_owned(),
        _ => format!("{} left unmended, and said why.", count_is(left, "thing was", "things were")),
    });
    let unsaid = rows.findings.iter().filter(|finding| finding.settled == Settled::NotSaid).count();
    if unsaid > 0 {
        said.push(format!(
            "Of {} it is not recorded what became.",
            words::count(unsaid as u32, "finding", "findings")
        ));
    }
    let untested = rows.trials.iter().filter(|trial| !trial.made).count();
    if untested > 0 {
        said.push(format!("{} not made.", count_is(untested, "test was", "tests were")));
    }
    said.join(" ")
}

fn count_is(number: usize, one: &str, several: &str) -> String {
    words::capital(&words::count(u32::try_from(number).unwrap_or(u32::MAX), one, several))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::view::shared::photograph::Sees;
    use crate::view::testing::shown;

    fn sheet(record: &str) -> Disclosure {
        shown(record, "", |context| disclosure(context, &Rows::of(context, Sees::Public)))
    }

    #[test]
    fn parts_are_sorted_by_standing_and_none_is_lost() {
        let standings =
            ["original", "old-repair", "later", "salvaged", "new", "removed", "missing", "unknown"];
        let parts =
            standings.map(|word| format!("{{ id = \"{word}\", name = \"{word}\", standing = \"{word}\" }}"));
        let sheet = sheet(&format!("part = [{}]", parts.join(", ")));
        let names = |rows: &[PartRow]| rows.iter().map(|row| row.name.clone()).collect::<Vec<_>>();
        assert_eq!(names(&sheet.original), ["original"]);
        assert_eq!(names(&sheet.earlier_repairs), ["old-repair"]);
        assert_eq!(names(&sheet.not_original), standings[2..]);
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
        assert_eq!((said.tests_made.len(), said.tests_not_made.len()), (1, 1));
    }
}
