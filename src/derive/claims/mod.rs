//! What a buyer is told, as claims: each follows from the facts of the piece as it stands, and says from what.
//!
//! A file a subject; the order of the claims within one is that of the record. Which paper shows which, and where, is
//! the view's business.

mod care;
mod dating;
mod decided;
mod finishes;
mod fixings;
mod found;
mod identity;
mod know;
mod label;
mod lead;
mod left;
mod lifting;
mod loads;
mod log;
mod missing;
mod movement;
mod parts;
mod patches;
#[cfg(test)]
mod properties;
mod reckoned;
mod share;
mod short;
mod stability;
mod substances;
mod telling;
mod tests;
mod twice;
mod undoing;
mod unknown;

use chrono::NaiveDate;

use super::facts::Facts;
use super::photograph::facts::PhotoFacts;
use crate::claim::{Claim, Message};
use crate::record::{Folder, Piece, Record};
use crate::trade::Trade;
use telling::Telling;

pub use care::{CareClaims, CareRow, DayKept, FaceCare, FromDay};
pub use decided::Decided;
pub use finishes::Cut;
pub use found::Found;
pub use log::{Doing, LogEntry};
pub use short::PartLine;
pub use undoing::UndoClaims;

/// Everything that a buyer is told of one piece.
#[derive(Debug, Clone, Default)]
pub struct Claims {
    /// What a buyer must know, the worst first, five lines at most.
    pub know: Vec<Claim>,
    /// What else warns, the worst first.
    pub further: Vec<Claim>,
    /// What was left as it is and is told by none of these lines.
    pub left: Vec<Claim>,
    /// What it is.
    pub identity: Vec<Claim>,
    /// How far the work went.
    pub level: Vec<Claim>,
    /// The piece in a sentence or two, by its counts.
    pub verdict: Vec<Claim>,
    /// How much of it has which standing.
    pub shares: Vec<Claim>,
    /// Whether to anchor it, and what pulls it over; empty where it is no piece that tips.
    pub stability: Vec<Claim>,
    /// What came of the date check, and what speaks against the years that are claimed.
    pub dating: Vec<Claim>,
    /// What can be dated and speaks against nothing.
    pub dated: Vec<Claim>,
    /// What its shelves carry; empty where the record tells of none.
    pub shelves: Vec<Claim>,
    /// How far its wood moves, where that is noticed.
    pub movement: Vec<Claim>,
    /// What it weighs, and how many people that asks for.
    pub lifting: Vec<Claim>,
    /// What was done to it and when, in two words.
    pub done: Vec<Claim>,
    /// Substances and other dangers that it may hold, the gravest first.
    pub substances: Vec<Claim>,
    /// Those of them that warn, and of which no caution of the workshop's own speaks.
    pub warnings: Vec<Claim>,
    /// Every part, and how that is known.
    pub parts: Vec<Claim>,
    /// What most of them are made of, where that is said once for all.
    pub parts_usual: Vec<Claim>,
    /// Places of parts that are not what their part is.
    pub patches: Vec<Claim>,
    /// Fixings and glues.
    pub fixings: Vec<Claim>,
    /// What lies on the surfaces today, and what they lost.
    pub cuts: Vec<Cut>,
    /// Tests that were made.
    pub tests_made: Vec<Claim>,
    /// The same in a few words, by their days.
    pub test_days: Vec<(NaiveDate, Message)>,
    /// Tests that were not made.
    pub tests_not_made: Vec<Claim>,
    /// What was left unmended, and why.
    pub undone: Vec<Claim>,
    /// The same as the build record tells it.
    pub left_and_why: Vec<Claim>,
    /// Faults that stand, or of which it is not said what became.
    pub standing_faults: Vec<Claim>,
    /// Everything that was found, and what became of it.
    pub found: Vec<Found>,
    /// What was decided.
    pub decisions: Vec<Decided>,
    /// What was done, day by day.
    pub log: Vec<LogEntry>,
    /// How everything that was added comes off again.
    pub undo: UndoClaims,
    /// What it weighs, and how that is known.
    pub weight: Vec<Claim>,
    /// How near colours came.
    pub colours: Vec<Claim>,
    /// What the figures of the papers rest on.
    pub sources: Vec<Claim>,
    /// Finishes that were found and are no more.
    pub altered: Vec<Claim>,
    /// Each part in a line, eight lines at most.
    pub part_lines: Vec<PartLine>,
    /// What lies on each surface today, in a line.
    pub finish_lines: Vec<Claim>,
    /// What was found on each surface and is gone, in a line.
    pub lost_lines: Vec<Claim>,
    /// Fixings and glues that are not original, by their names.
    pub fixing_lines: Vec<Claim>,
    /// What is still open.
    pub open: Vec<Claim>,
    /// What is not known.
    pub unknown: Vec<Claim>,
    /// What goes with the piece.
    pub given: Vec<Claim>,
    /// How it is looked after.
    pub care: CareClaims,
}

/// Makes the claims of one piece from all of its other facts.
pub(in crate::derive) fn claims(
    folder: &Folder,
    piece: &Piece,
    record: &Record,
    (facts, photographs): (&Facts, &PhotoFacts),
    trade: &Trade,
) -> Claims {
    let telling = Telling::of(folder, piece, record, (facts, photographs), trade);
    let (tests_made, tests_not_made) = tests::tests(&telling);
    let (substances, warnings) = substances::substances(&telling);
    let (finish_lines, lost_lines) = short::finishes(&telling);
    let (parts, parts_usual) = parts::parts(&telling);
    let (movement, shelves) = (movement::movement(&telling), loads::loads(&telling));
    let reckoned_for_a_room = !movement.is_empty() || !shelves.is_empty();
    let mut claims = Claims {
        know: Vec::new(),
        further: Vec::new(),
        left: Vec::new(),
        identity: identity::identity(&telling),
        level: identity::level(&telling),
        verdict: [parts::counted(&telling)]
            .into_iter()
            .chain(left::verdict(&telling, &tests_not_made))
            .collect(),
        shares: share::shares(&telling),
        stability: stability::stability(&telling),
        dating: dating::against(&telling),
        dated: dating::fitting(&telling),
        shelves,
        movement,
        lifting: lifting::lifting(&telling),
        done: label::done(&telling),
        substances,
        warnings,
        parts,
        parts_usual,
        patches: patches::patches(&telling),
        fixings: fixings::fixings(&telling),
        cuts: finishes::cuts(&telling),
        tests_made,
        test_days: log::test_days(&telling),
        tests_not_made,
        undone: left::undone(&telling),
        left_and_why: Vec::new(),
        standing_faults: left::standing_faults(&telling),
        found: found::found(&telling),
        decisions: decided::decided(&telling),
        log: log::log(&telling),
        undo: undoing::undoing(&telling),
        weight: reckoned::weight(&telling),
        colours: reckoned::colours(&telling),
        sources: reckoned::sources(&telling),
        altered: finishes::altered(&telling),
        part_lines: short::part_lines(&telling),
        finish_lines,
        lost_lines,
        fixing_lines: short::fixings(&telling),
        open: left::open(&telling),
        unknown: unknown::unknown(&telling),
        given: left::given(&telling),
        care: care::care(&telling, reckoned_for_a_room),
    };
    let grave: [&[Claim]; 8] = [
        &claims.care.cautions,
        &claims.warnings,
        &claims.stability,
        &claims.shelves,
        &claims.movement,
        // Of a fault that was left it is told what it means in use.
        &claims.undone,
        &claims.standing_faults,
        &claims.altered,
    ];
    (claims.know, claims.further) = know::know(&telling, &grave);
    claims.care.in_use = care::in_use(&telling, &claims.undone, &claims.know);
    claims.care.standing = know::standing(&telling, &claims.know, &claims.stability);
    claims.left_and_why = left::left_and_why(&telling, &claims.undone, &claims.know);
    claims.left = know::left(&telling, &claims.know, &[&claims.undone, &claims.standing_faults]);
    claims
}
