//! A paper that cannot be made of a record; it is found by making it, and not by a rule.

use crate::derive::Workpiece;
use crate::diag::{Code, Diagnostic, Place, Rank};

/// A paper that cannot be made.
pub static PAPER_NOT_MADE: Code = Code {
    name: "paper-not-made",
    rank: Rank::Mistake,
    why: "Something in the record or in the workshop's own theme cannot be set on this paper. The others are written.",
    fix: "Look for something far out of the ordinary in the record, such as a very long word, or for the place in the theme that is named.",
};

/// Says that a paper of a piece cannot be made, at the title of its record.
pub fn paper_not_made(workpiece: &Workpiece, message: impl Into<String>) -> Diagnostic {
    let place = Place::at(&workpiece.piece.record_path(), &workpiece.record.title.span);
    Diagnostic::new(&PAPER_NOT_MADE, place, message).help(PAPER_NOT_MADE.fix)
}
