//! A paper of one page that has no room for what its record says; it is found by laying the page out, and not by a rule.

use crate::derive::Workpiece;
use crate::diag::{Code, Diagnostic, Place, Rank};

/// A paper of one page that sums up.
pub static PAPER_SUMS_UP: Code = Code {
    name: "paper-sums-up",
    rank: Rank::Doubt,
    why: "A paper of one page shows what has room; the rest is only counted there, and stands whole in the build record alone.",
    fix: "Shorten these texts, or join several into one, if all of them are to stand on the page.",
};

/// Says that a paper of a piece counts so many things under a heading, at the title of its record.
pub fn paper_sums_up(workpiece: &Workpiece, paper: &str, heading: &str, count: usize) -> Diagnostic {
    let place = Place::at(&workpiece.piece.record_path(), &workpiece.record.title.span);
    let things = if count == 1 { "one thing" } else { "things" };
    let number = if count == 1 { String::new() } else { format!("{count} ") };
    let message = format!(
        "under “{heading}” the {paper} has no room for {number}{things} that the record says, or cuts them."
    );
    Diagnostic::new(&PAPER_SUMS_UP, place, message).help(PAPER_SUMS_UP.fix)
}
