//! When in the work photographs were taken, by their dates beside those of the work.

use chrono::NaiveDate;

use crate::derive::stage_and_view;
use crate::photo;
use crate::record::{PhotoStage, Piece};
use crate::source::Tree;

/// The days between which a piece was worked on, and whether it is finished.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct WorkDays {
    first: NaiveDate,
    last: NaiveDate,
    finished: bool,
}

impl WorkDays {
    /// Those of a piece; none where no day of work is told yet.
    pub fn of(piece: &Piece) -> Option<WorkDays> {
        let record = piece.record.as_ref()?;
        let works = record.works.iter().filter_map(|work| work.on.as_ref());
        let steps = record.surfaces.iter().flat_map(|surface| &surface.steps);
        let told = works.chain(steps.filter_map(|step| step.on.as_ref())).map(|on| on.value);
        let days: Vec<NaiveDate> =
            told.chain(piece.jottings.iter().filter_map(|jotting| jotting.on)).collect();
        // Work that has not been written down yet may go on: only what is for sale or gone is finished.
        let finished = record.asking.is_some() || piece.handed_over().is_some();
        Some(WorkDays { first: *days.iter().min()?, last: *days.iter().max()?, finished })
    }

    /// Those of a piece of which no day of work is told yet: they begin after the day on which it was last photographed as
    /// found. None where no photograph tells that day.
    pub fn after_arrival(tree: &Tree, piece: &Piece) -> Option<WorkDays> {
        let as_found = piece.photos.iter().filter(|file| stage_and_view(file).0 == Some(PhotoStage::Before));
        let days = as_found.filter_map(|file| {
            let bytes = tree.bytes(&piece.photo_path(file)).ok()?;
            photo::header(&bytes, u64::MAX).ok()?.taken.map(|taken| taken.date())
        });
        let first = days.max()?.succ_opt()?;
        Some(WorkDays { first, last: first, finished: false })
    }

    /// The stage of a photograph that was taken on this day.
    pub fn stage(self, taken: Option<NaiveDate>) -> PhotoStage {
        match taken {
            Some(taken) if taken < self.first => PhotoStage::Before,
            Some(taken) if taken > self.last && self.finished => PhotoStage::After,
            _ => PhotoStage::During,
        }
    }

    /// The stage that the day of a photograph speaks for, where it is said to be of no stage, or of another; none where the
    /// day lets what is said be so.
    pub fn against(self, said: Option<PhotoStage>, taken: NaiveDate) -> Option<PhotoStage> {
        let may_be = match said {
            None => false,
            // What is photographed on the first and the last day may be before and after that day's work.
            Some(PhotoStage::Before) => taken <= self.first,
            Some(PhotoStage::After | PhotoStage::Handover) => taken >= self.last,
            Some(PhotoStage::During) => taken >= self.first,
            Some(PhotoStage::Hidden) => true,
        };
        (!may_be).then(|| self.stage(Some(taken)))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::source::Tree;

    fn stages(record: &str, jotted: &str) -> Option<Vec<&'static str>> {
        let record = format!("title = \"T\"\nnumber = \"T-1\"\nkind = \"table\"\n{record}");
        let tree = Tree::of([
            ("workshop.toml", "name = \"W\""),
            ("pieces/a/record.toml", record.as_str()),
            ("pieces/a/daybook.txt", jotted),
        ]);
        let days = WorkDays::of(&crate::record::read(&tree).0.pieces[0])?;
        let taken = ["2026-03-01", "2026-03-04", "2026-03-10", "2026-03-11"];
        let stage = |day: &str| days.stage(Some(day.parse().unwrap())).word();
        Some(taken.map(stage).into_iter().chain([days.stage(None).word()]).collect())
    }

    #[test]
    fn photographs_are_before_the_first_day_during_the_work_and_after_it_where_it_is_finished() {
        let lines = "2026-03-02 seat off\n2026-03-10 waxed\n";
        assert_eq!(stages("", ""), None);
        assert_eq!(stages("", lines).unwrap(), ["before", "during", "during", "during", "during"]);
        assert_eq!(stages("asking = 90", lines).unwrap(), ["before", "during", "during", "after", "during"]);
    }

    #[test]
    fn a_day_speaks_against_a_stage_that_it_cannot_be_of() {
        let day = |day: &str| day.parse::<NaiveDate>().unwrap();
        let days = WorkDays { first: day("2026-03-02"), last: day("2026-03-10"), finished: false };
        let against = |said: Option<PhotoStage>, taken: &str| {
            days.against(said, day(taken)).map_or("", |stage| stage.word())
        };
        assert_eq!(
            [None, Some(PhotoStage::Before), Some(PhotoStage::After), Some(PhotoStage::Hidden)]
                .map(|said| against(said, "2026-03-05")),
            ["during", "during", "during", ""]
        );
        assert_eq!(against(Some(PhotoStage::During), "2026-03-01"), "before");
        for (said, taken) in [(PhotoStage::Before, "2026-03-02"), (PhotoStage::After, "2026-03-10")] {
            assert_eq!(against(Some(said), taken), "");
        }
    }
}
