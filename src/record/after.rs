//! What happened after a piece had left, and whether it came back.

use chrono::NaiveDate;

use super::{FindingId, Handover, PartId, Piece};
use crate::fields::shape::{choices, table};
use crate::fields::{OneOrMore, Said, Text};
use crate::unit::{Hours, Money};

choices! {
    /// What happened after the piece had left.
    pub enum Aftermath {
        /// Its owner asked something, or told how it does.
        Call = "call" ["called", "email", "letter", "message", "phone call", "phoned", "question", "rang", "wrote"],
        /// The workshop said what to do.
        Advice = "advice" ["advised", "answer", "answered", "recommended", "told them"],
        /// Its owner is not content with it.
        Complaint = "complaint" ["complained", "fault reported", "not happy", "problem", "unhappy"],
        /// It was looked at where it stands now.
        Visit = "visit" ["call-out", "home visit", "looked at it there", "visited"],
        /// Something of it was mended, and it stays its owner's.
        Repair = "repair" ["fixed", "mend", "mended", "put right", "repaired", "touched up"],
        /// It came back, and is the workshop's again.
        Return = "return" ["bought back", "came back", "given back", "returned", "sent back", "taken back"],
    }
}

table! {
    /// Something that happened after the piece had left.
    pub struct After ("[[after]]") {
        /// The day.
        "on" => on: Said<NaiveDate>,
        /// What it was.
        "what" => what: Said<Aftermath>,
        /// What was said or done.
        "said" => said: Option<Said<Text>>,
        /// The parts that it is about.
        "part" => part: OneOrMore<PartId>,
        /// The findings that it is about.
        "finding" => finding: OneOrMore<FindingId>,
        /// How long it took the workshop.
        "hours" => hours: Option<Said<Hours>>,
        /// What it cost the workshop.
        "cost" => cost: Option<Said<Money>>,
        /// What was paid back to its owner; of a piece that came back the price counts no longer, whatever this says.
        "refunded" => refunded: Option<Said<Money>>,
        /// Anything else.
        "note" => note: Option<Said<Text>>,
    }
}

impl Piece {
    /// The day it left, or is to leave, and since when it has not come back: as the record says, or else its last seal.
    pub fn handed_over(&self) -> Option<NaiveDate> {
        self.left().filter(|_| self.came_back().is_none())
    }

    /// The day on which it came back, where it has not left again since.
    pub fn came_back(&self) -> Option<NaiveDate> {
        let left = self.left()?;
        self.last_return().filter(|back| *back >= left)
    }

    /// The last day on which it came back, whether it left again since or not.
    pub fn last_return(&self) -> Option<NaiveDate> {
        let after = self.record.iter().flat_map(|record| record.after.for_archive());
        after.filter(|row| row.what.value == Aftermath::Return).map(|row| row.on.value).max()
    }

    /// The handover that holds: none where the piece came back after it.
    pub fn handover(&self) -> Option<&Said<Handover>> {
        self.record.as_ref()?.handover.as_ref().filter(|_| self.came_back().is_none())
    }

    /// The days on which it left, or is to leave, as far as the record and its seals tell; sorted.
    pub fn days_of_leaving(&self) -> Vec<NaiveDate> {
        let sealed = self.seals.iter().map(|seal| seal.handed_over);
        let mut days: Vec<NaiveDate> = sealed.chain(self.said_to_leave()).collect();
        days.sort_unstable();
        days.dedup();
        days
    }

    /// The last day on which it left, or is to leave.
    fn left(&self) -> Option<NaiveDate> {
        self.said_to_leave().or_else(|| self.seals.last().map(|seal| seal.handed_over))
    }

    /// The day on which it left, or is to leave, as the record says.
    pub fn said_to_leave(&self) -> Option<NaiveDate> {
        Some(self.record.as_ref()?.handover.as_ref()?.on.as_ref()?.value)
    }
}

#[cfg(test)]
mod tests {
    use crate::record::{self, Piece};
    use crate::source::Tree;

    const LEFT: &str = "handover = { on = 2026-03-14, to = \"A\" }\n";

    fn piece(more: &str) -> Piece {
        let record = format!("title = \"Chair\"\nnumber = \"A-1\"\nkind = \"seating\"\n{more}");
        let files = [("workshop.toml", "name = \"W\"".to_owned()), ("pieces/a/record.toml", record)];
        let (folder, problems) = record::read(&Tree::of(files));
        assert_eq!(problems, []);
        (*folder.pieces[0]).clone()
    }

    /// The day it left, the day it came back, and whether its handover holds.
    fn days(more: &str) -> (Option<String>, Option<String>, bool) {
        let piece = piece(more);
        let text = |day: Option<chrono::NaiveDate>| day.map(|day| day.to_string());
        (text(piece.handed_over()), text(piece.came_back()), piece.handover().is_some())
    }

    #[test]
    fn a_piece_that_came_back_is_here_until_it_leaves_again() {
        let day = |day: &str| Some(day.to_owned());
        let back = "after = [{ on = 2026-04-01, what = \"return\" }]\n";
        assert_eq!(days(LEFT), (day("2026-03-14"), None, true));
        assert_eq!(days(&format!("{LEFT}{back}")), (None, day("2026-04-01"), false));
        let again = LEFT.replace("03-14", "05-02");
        assert_eq!(days(&format!("{again}{back}")), (day("2026-05-02"), None, true));
        let same_day = back.replace("04-01", "03-14");
        assert_eq!(days(&format!("{LEFT}{same_day}")), (None, day("2026-03-14"), false));
        let call = back.replace("return", "call");
        assert_eq!(days(&format!("{LEFT}{call}")), (day("2026-03-14"), None, true));
        // It cannot come back that never left.
        assert_eq!(days(back), (None, None, false));
    }
}
