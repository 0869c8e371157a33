//! The rows of a piece that several sheets show, made once for a reader.

mod decision;
mod finding;
mod fixing;
mod part;
mod standing;
mod test;
mod undone;
mod work;

pub use decision::{ChoiceRow, DecisionRow};
pub use finding::{FindingRow, Settled};
pub use fixing::FixingRow;
pub use part::PartRow;
pub use standing::StandingRow;
pub(crate) use standing::standings;
pub use test::TestRow;
pub use undone::UndoneRow;
pub use work::WorkRow;

use crate::view::context::PieceContext;
use crate::view::shared::photograph::{Pointers, Sees};
use crate::view::shared::surface::{SurfaceView, surface_view};

/// What the build record tells and other sheets sort, each list in the order of the record.
pub(crate) struct Rows {
    /// Parts.
    pub(crate) parts: Vec<PartRow>,
    /// Parts counted by standing.
    pub(crate) standings: Vec<StandingRow>,
    /// What was found.
    pub(crate) findings: Vec<FindingRow>,
    /// What was decided.
    pub(crate) decisions: Vec<DecisionRow>,
    /// What was done.
    pub(crate) works: Vec<WorkRow>,
    /// The surfaces.
    pub(crate) surfaces: Vec<SurfaceView>,
    /// The fixings.
    pub(crate) fixings: Vec<FixingRow>,
    /// Tests made and not made.
    pub(crate) tests: Vec<TestRow>,
    /// What was left unmended.
    pub(crate) undone: Vec<UndoneRow>,
}

impl Rows {
    /// The rows for a reader, with links to the marks that this reader sees.
    pub(crate) fn of(context: &PieceContext<'_>, sees: Sees) -> Rows {
        let (record, pointers) = (context.record, Pointers::of(context, sees));
        let (parts, findings, works) = (record.parts.iter(), record.findings.iter(), record.works.iter());
        Rows {
            parts: parts
                .enumerate()
                .map(|(index, part)| part::part_row(context, index, part, &pointers))
                .collect(),
            standings: standing::standings(context),
            findings: findings
                .enumerate()
                .map(|(index, finding)| finding::finding_row(context, index, finding, &pointers))
                .collect(),
            decisions: record
                .decisions
                .iter()
                .map(|decision| decision::decision_row(context.house.words(), decision))
                .collect(),
            works: works
                .enumerate()
                .map(|(index, work)| work::work_row(context, index, work, &pointers))
                .collect(),
            surfaces: context.facts.surfaces.iter().map(|facts| surface_view(context, facts)).collect(),
            fixings: record.fixings.iter().map(|fixing| fixing::fixing_row(context, fixing)).collect(),
            tests: test::tests(context),
            undone: undone::undone(context),
        }
    }
}
