//! `record.toml`: one piece of furniture.

use chrono::NaiveDate;

use super::after::After;
use super::part::{Ends, Fixing, Part, Patch, Rest};
use super::photo::{Pair, PhotoEntry, Swatch};
use super::receipt::Receipt;
use super::seal::Amended;
use super::surface::Surface;
use super::treatment::{CallBack, Cost, Decision, Finding, Lesson, Open, Test, Undone, Work};
use super::{Answer, PartId};
use crate::fields::shape::{table, words};
use crate::fields::{Brief, Count, OneOrMore, Personal, Private, Row, Said, Text};
use crate::unit::{Edtf, Hours, Length, Mass, Money};

words! {
    /// How far the work went.
    pub enum Level {
        /// Present damage stopped, nothing more.
        Stabilise = "stabilise" [
            "conservation only", "conserved", "consolidated", "held as is", "made safe",
            "preserved as found", "stabilised", "stopped it getting worse",
        ],
        /// Brought back to a known earlier look or use.
        Restore = "restore" [
            "back to how it was", "back to original", "full restoration", "returned to former look",
        ],
        /// Made sound and usable; looks second.
        Repair = "repair" [
            "fixed", "fixed up", "just the repairs", "made good", "made sound", "mend", "mended",
            "put right", "repaired",
        ],
        /// Made good for use today, with modern parts where that is practical.
        Refurbish = "refurbish" [
            "did up", "done up", "made good for use", "overhauled", "recondition", "reconditioned",
            "refurb", "refurbished", "renovate", "renovated",
        ],
        /// The surface coating removed and renewed.
        Refinish = "refinish" [
            "refinished", "refinishing", "repolish", "repolished", "stripped and finished",
            "stripped and waxed",
        ],
        /// Changed for another use.
        Adapt = "adapt" [
            "adapted", "altered for another use", "conversion", "converted", "modified", "repurposed",
            "turned into something else", "upcycle", "upcycled",
        ],
    }
}

table! {
    /// The piece's outer dimensions.
    pub struct Size ("size") {
        /// Width in millimetres, from side to side.
        "width" => width: Said<Length>,
        /// Depth in millimetres, from front to back.
        "depth" => depth: Said<Length>,
        /// Height in millimetres.
        "height" => height: Said<Length>,
        /// How far its front feet stand in from its front, in millimetres.
        "feet-in" => feet_in: Option<Said<Length>>,
        /// Its outer dimensions with leaves down or folded up.
        "folded" => folded: Option<Said<FoldedSize>>,
    }
    order = &["width", "depth", "height"];
}

table! {
    /// Outer dimensions of the piece folded up.
    pub struct FoldedSize ("size.folded") {
        /// Width in millimetres, from side to side.
        "width" => width: Said<Length>,
        /// Depth in millimetres, from front to back.
        "depth" => depth: Said<Length>,
        /// Height in millimetres.
        "height" => height: Said<Length>,
    }
    order = &["width", "depth", "height"];
}

table! {
    /// That the piece is kept for somebody.
    pub struct Reserved ("[reserved]") {
        /// Since when.
        "on" => on: Option<Said<NaiveDate>>,
        /// The last day on which it is kept.
        "until" => until: Option<Said<NaiveDate>>,
        /// For whom; for the archive alone.
        "to" => to: Private<Option<Said<Text>>>,
        /// What was paid down; for the archive alone.
        "deposit" => deposit: Private<Option<Said<Money>>>,
    }
}

table! {
    /// How the piece was come by; for the archive alone.
    pub struct Found ("[found]") {
        /// The day.
        "on" => on: Option<Said<NaiveDate>>,
        /// From where.
        "from" => from: Option<Said<Text>>,
        /// What it cost.
        "paid" => paid: Option<Said<Money>>,
        /// Anything else.
        "note" => note: Option<Said<Text>>,
    }
}

table! {
    /// A shelf that the buyer will load.
    pub struct Shelf ("shelf") {
        /// The part.
        "part" => part: Said<PartId>,
        /// How its ends are held.
        "ends" => ends: Option<Said<Ends>>,
        /// The free span in millimetres; the part's length if not said.
        "span" => span: Option<Said<Length>>,
        /// What the workshop lets it carry, spread evenly, in kilograms; the computed load is printed if not said.
        "load" => load: Option<Said<Mass>>,
    }
}

table! {
    /// What the buyer may do with the piece, and how.
    pub struct Use ("[use]") {
        /// What it is for.
        "for" => r#for: Option<Said<Text>>,
        /// Its shelves.
        "shelves" => shelves: Vec<Row<Shelf>>,
        /// Putting it up and together, step by step.
        "assembly" => assembly: Vec<Said<Text>>,
        /// Moving and taking apart, step by step.
        "moving" => moving: Vec<Said<Text>>,
        /// What to beware of.
        "cautions" => cautions: Vec<Said<Text>>,
    }
}

table! {
    /// The day the piece leaves.
    pub struct Handover ("[handover]") {
        /// To whom.
        "to" => to: Personal<Option<Said<Text>>>,
        /// The day.
        "on" => on: Option<Said<NaiveDate>>,
        /// For how much.
        "price" => price: Private<Option<Said<Money>>>,
        /// The language of its papers for the buyer; the workshop's if not said.
        "language" => language: Option<Said<Text>>,
        /// What goes with it.
        "given" => given: Vec<Said<Text>>,
    }
}

table! {
    /// An opening that the piece, or some of its parts, must pass: a door, a lift, the front of a cupboard.
    pub struct Passage ("[[opening]]") {
        /// What it is.
        "what" => what: Said<Text>,
        /// Its width in millimetres.
        "width" => width: Said<Length>,
        /// Its height in millimetres.
        "height" => height: Said<Length>,
        /// The parts that must pass; the whole piece if not said.
        "part" => part: OneOrMore<PartId>,
    }
    order = &["width", "height"];
}

table! {
    /// A film, a thread or a page elsewhere that shows the piece.
    pub struct WebLink ("[[link]]") {
        /// Its address on the web.
        "to" => to: Said<Brief<2000>>,
        /// What is to be seen there, as printed.
        "what" => what: Said<Brief<200>>,
    }
}

table! {
    /// Everything that is known about one piece.
    pub struct Record ("record.toml") {
        /// What it is, in a few words.
        "title" => title: Said<Brief<200>>,
        /// The workshop's number for it.
        "number" => number: Said<Brief<60>>,
        /// What it is, in two levels such as `table/gateleg`.
        "kind" => kind: Said<Brief<100>>,
        /// The folder of the record that has what it shares with the other pieces of its set.
        "set" => set: Option<Said<Brief<200>>>,
        /// Of how many pieces, each with a record of its own, this is what they share: the record is then no piece itself.
        "set-of" => set_of: Option<Said<Count>>,
        /// Years of making; EDTF.
        "made" => made: Option<Said<Edtf>>,
        /// What the years of making rest on.
        "basis" => basis: Option<Said<Text>>,
        /// Who made it, or `unknown`.
        "maker" => maker: Option<Said<Answer>>,
        /// Labels, stamps, pencil marks and the like.
        "inscriptions" => inscriptions: Option<Said<Text>>,
        /// What is pictured or represented on it, or `none`.
        "subject" => subject: Option<Said<Text>>,
        /// By what it can be told from others of its kind.
        "told-by" => told_by: Option<Said<Text>>,
        /// How far the work went.
        "level" => level: Option<Said<Level>>,
        /// The piece in a sentence.
        "summary" => summary: Option<Said<Text>>,
        /// How far the work went and why, signed by the workshop.
        "stance" => stance: Option<Said<Text>>,
        /// Whether the showroom shows it; true if not said.
        "publish" => publish: Option<Said<bool>>,
        /// The price asked, printed in the showroom until handover.
        "asking" => asking: Option<Said<Money>>,
        /// The day from which it can be had; the day of the last work if not said.
        "for-sale-since" => for_sale_since: Option<Said<NaiveDate>>,
        /// That somebody keeps it for the moment.
        "reserved" => reserved: Option<Said<Reserved>>,
        /// The photograph that stands for the piece.
        "cover" => cover: Option<Said<Text>>,
        /// A total of hours by estimate, where work entries carry none.
        "hours" => hours: Private<Option<Said<Hours>>>,
        /// Notes for the archive alone.
        "notes" => notes: Private<Option<Said<Text>>>,
        /// Its outer dimensions.
        "size" => size: Option<Said<Size>>,
        /// What it weighs, in kilograms, where it was put on a scale; reckoned from its parts if not said.
        "weighs" => weighs: Option<Said<Mass>>,
        /// How it was come by.
        "found" => found: Private<Option<Said<Found>>>,
        /// Its parts.
        "part" => parts: Vec<Row<Part>>,
        /// What holds for all parts that are not listed.
        "rest" => rest: Option<Said<Rest>>,
        /// Places of parts that are not what their part is.
        "patch" => patches: Vec<Row<Patch>>,
        /// What was observed.
        "finding" => findings: Vec<Row<Finding>>,
        /// What was decided.
        "decision" => decisions: Vec<Row<Decision>>,
        /// What was done.
        "work" => works: Vec<Row<Work>>,
        /// Screws, hinges, glues and the like.
        "fixing" => fixings: Vec<Row<Fixing>>,
        /// What was done to the surfaces.
        "surface" => surfaces: Vec<Row<Surface>>,
        /// Tests made or declared not made.
        "test" => tests: Vec<Row<Test>>,
        /// What was left unmended.
        "undone" => undone: Vec<Row<Undone>>,
        /// What is still to do or to decide.
        "open" => open: Vec<Row<Open>>,
        /// What it, or some of its parts, must pass; for the archive alone.
        "opening" => openings: Private<Vec<Said<Passage>>>,
        /// What was promised to its owner.
        "call-back" => call_backs: Private<Vec<Said<CallBack>>>,
        /// What the record adds to its photographs.
        "photo" => photos: Vec<Row<PhotoEntry>>,
        /// Before and after, where file names do not say so.
        "pair" => pairs: Vec<Row<Pair>>,
        /// Colours measured from photographs.
        "swatch" => swatches: Vec<Row<Swatch>>,
        /// Where else on the web it is shown.
        "link" => links: Vec<Row<WebLink>>,
        /// What to remember; for the archive alone.
        "lesson" => lessons: Private<Vec<Said<Lesson>>>,
        /// What it cost; for the archive alone.
        "cost" => costs: Private<Vec<Said<Cost>>>,
        /// What the buyer may do with it.
        "use" => r#use: Option<Said<Use>>,
        /// The day it leaves.
        "handover" => handover: Option<Said<Handover>>,
        /// Receipts that were given for it; for the archive alone.
        "receipt" => receipts: Private<Vec<Said<Receipt>>>,
        /// What happened after it had left; for the archive alone.
        "after" => after: Private<Vec<Said<After>>>,
        /// Up to which day the day book was looked through; for the archive alone.
        "day-book-read" => day_book_read: Private<Option<Said<NaiveDate>>>,
        /// Why the record was changed after it was sealed.
        "amendment" => amendments: Vec<Said<Amended>>,
    }
}
