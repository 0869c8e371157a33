//! Patches: places of a part that are new since the work that a line tells.

use toml_edit::{InlineTable, Value};

use super::{LineReader, decimal};
use crate::daybook::amounts::two_by_times;
use crate::daybook::hits::Table;
use crate::daybook::line::Mood;
use crate::daybook::proposal::Proposal;

/// The repairs that leave a patch.
const PATCHES: [&str; 2] = ["patch", "veneer-patch"];

impl LineReader<'_, '_> {
    /// A patch that was let in, with its wood and its size.
    pub(super) fn patches(&mut self, deeds: &[String]) {
        let Some(deed) = deeds.iter().find(|deed| PATCHES.contains(&deed.as_str())) else { return };
        let Some(label) = self.label(deed) else { return };
        let all = self.all();
        let parts = self.parts_in(&all);
        // The first part that is told is that which has the patch.
        let part = parts.first().cloned();
        let text = self.line.text.clone();
        let mut proposal =
            self.with_parts(Proposal::new("patch", &text), "part", part.iter().cloned().collect());
        if part.is_none() {
            proposal = proposal.asking("on which part?");
        }
        proposal = proposal.with("what", label);
        if let Some((length, width)) = two_by_times(&self.line) {
            let mut size = InlineTable::new();
            size.insert("length", decimal(length));
            size.insert("width", decimal(width));
            proposal = proposal.with("size", Value::InlineTable(size));
        }
        proposal = proposal.with("standing", "new");
        let wood = self.hits.iter().find(|hit| hit.table == Table::Timber && hit.mood == Mood::Told);
        let with = wood.map(|wood| self.words_of(wood.at.clone()));
        self.out.push(proposal.with_some("with", with));
    }
}
