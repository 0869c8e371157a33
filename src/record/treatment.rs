//! What was seen, decided and done at the bench, and what was left.

use chrono::NaiveDate;

use super::{FindingId, PartId, TestResult, TinId, WorkId};
use crate::fields::shape::{table, words};
use crate::fields::{OneOrMore, Private, Said, Share, Text};
use crate::unit::{Hours, Money};

words! {
    /// How far a finding goes.
    pub enum FindingSeverity {
        /// Noticed only on close inspection.
        Trace = "trace" [
            "barely there", "close inspection only", "faint", "hardly visible", "negligible",
            "only just visible", "slight", "tiny", "touch of", "very slight", "wee bit",
        ],
        /// Visible, with no risk of further loss.
        Minor = "minor" [
            "a bit", "cosmetic", "light", "little", "low", "mild", "small", "superficial", "surface only",
        ],
        /// Noticeable; affects look or use.
        Moderate = "moderate" ["fairly bad", "medium", "middling", "noticeable", "obvious"],
        /// Conspicuous or structural; unsafe or getting worse.
        Major = "major" [
            "bad", "dangerous", "extensive", "getting worse", "high", "serious", "severe", "structural",
            "unsafe", "very bad",
        ],
    }
}

words! {
    /// How sure a guess is.
    pub enum Confidence {
        /// Little more than a hunch.
        Low = "low" ["a guess", "could be", "guess", "hunch", "maybe", "might be", "perhaps", "possibly"],
        /// More likely than not.
        Fair = "fair" [
            "appears to be", "i think", "likely", "looks like", "medium", "most likely", "probable",
            "probably", "reckon", "seems to be",
        ],
        /// Hardly doubted.
        High = "high" [
            "certain", "clearly", "definitely", "for sure", "hardly doubted", "must be", "no doubt",
            "obviously", "sure",
        ],
    }
}

words! {
    /// Whether a piece of work can be undone.
    pub enum Undoable {
        /// Without loss of old material.
        Yes = "yes" ["can be undone", "fully reversible", "reversible", "true"],
        /// In part, or with some loss.
        Partly = "partly" [
            "in part", "not entirely", "partially", "partly reversible", "some loss", "with some loss",
        ],
        /// Not without destroying something.
        No = "no" [
            "cannot be undone", "false", "for good", "irreversible", "not reversible", "one way",
            "permanent",
        ],
    }
}

words! {
    /// How a piece of work turned out.
    pub enum Outcome {
        /// As intended.
        Well = "well" [
            "as intended", "came out well", "done and sound", "good", "holds", "perfect", "sorted",
            "spot on", "success", "worked",
        ],
        /// In part.
        Partly = "partly" [
            "half worked", "improved", "in part", "mostly", "nearly", "not perfect", "ok ish", "partially",
            "so so", "still shows",
        ],
        /// It did not hold, or had to be done again.
        Failed = "failed" [
            "back to square one", "came loose again", "did not hold", "did not take", "did not work",
            "didn't work", "failed again", "had to redo", "let go", "no good", "no joy", "peeled",
        ],
    }
}

words! {
    /// Why something was left unmended.
    pub enum Why {
        /// Sound and safe as it is.
        NotNeeded = "not-needed" [
            "does no harm", "fine as it is", "no need", "not necessary", "ok as is", "safe as it is",
            "sound as it is",
        ],
        /// Mending would have cost original material.
        WouldCostOriginal = "would-cost-original" [
            "did not want to lose original material", "too invasive", "would lose old wood",
            "would lose original", "would ruin patina", "would strip the history",
        ],
        /// No fitting part could be found.
        NoPart = "no-part" [
            "can't get one", "can't get the part", "could not source", "no matching part", "no part found",
            "no replacement found", "none to be had", "part not available", "unobtainable",
        ],
        /// Beyond the workshop's skill or tools.
        NoSkill = "no-skill" [
            "above my pay grade", "beyond me", "beyond us", "cannot do it here", "don't know how",
            "needs a specialist", "no tools for it", "not able", "not qualified", "outside our skill",
            "specialist job",
        ],
        /// It would have cost more than it gives.
        NotWorth = "not-worth" [
            "cost more than it is worth", "costs too much", "not economical", "not viable", "not worth it",
            "price would not bear it", "too dear", "too expensive", "uneconomic",
        ],
        /// Opening it up would do harm.
        Unsafe = "unsafe" [
            "could do harm", "dangerous to disturb", "may break if opened", "not safe to touch", "risky",
            "unsafe to open", "would make dust",
        ],
        /// Nothing sound is left to fix to.
        TooWorn = "too-worn" [
            "no meat left", "no wood left", "nothing sound to fix to", "nothing to fix to", "past repair",
            "rotten beyond repair", "too far gone", "too rotten",
        ],
    }
}

table! {
    /// A guess at how something came about.
    pub struct Cause ("cause") {
        /// The guess.
        "guess" => guess: Said<Text>,
        /// How sure it is.
        "confidence" => confidence: Said<Confidence>,
    }
}

table! {
    /// Something observed on a part: the result seen, never its cause.
    pub struct Finding ("[[finding]]") {
        /// Short name that work and marks call it by.
        "id" => id: Said<FindingId>,
        /// Where it is.
        "part" => part: OneOrMore<PartId>,
        /// What is seen; a term of the trade, or free words.
        "seen" => seen: Said<Text>,
        /// How far it goes and where.
        "extent" => extent: Option<Said<Text>>,
        /// How much it matters.
        "severity" => severity: Option<Said<FindingSeverity>>,
        /// A guess at the cause.
        "cause" => cause: Option<Said<Cause>>,
        /// The lines of the day book that it was entered from; for the archive alone.
        "from-daybook" => from_daybook: Private<OneOrMore<Text>>,
    }
}

table! {
    /// One way that was open.
    pub struct Choice ("option") {
        /// What would have been done.
        "plan" => plan: Said<Text>,
        /// What speaks for it.
        "for" => r#for: Option<Said<Text>>,
        /// What speaks against it.
        "against" => against: Option<Said<Text>>,
    }
}

table! {
    /// A question, the ways that were open, the one taken, and why.
    pub struct Decision ("[[decision]]") {
        /// The question.
        "ask" => ask: Said<Text>,
        /// The ways that were open, doing nothing included.
        "options" => options: Vec<Said<Choice>>,
        /// The way taken.
        "chose" => chose: Said<Text>,
        /// Why.
        "because" => because: Option<Said<Text>>,
        /// The lines of the day book that it was entered from; for the archive alone.
        "from-daybook" => from_daybook: Private<OneOrMore<Text>>,
    }
    example = "ask = \"Strip the finish or keep it?\"\nchose = \"keep it\"";
}

table! {
    /// A dated act.
    pub struct Work ("[[work]]") {
        /// Short name that marks and later work call it by.
        "id" => id: Option<Said<WorkId>>,
        /// The day.
        "on" => on: Option<Said<NaiveDate>>,
        /// The parts worked on.
        "part" => part: OneOrMore<PartId>,
        /// What was done.
        "did" => did: Said<Text>,
        /// Whether it is still to be done; papers tell nothing of it.
        "planned" => planned: Option<Said<bool>>,
        /// The way of a decision that it is planned for, as `plan` of the option says it; for the archive alone.
        "option" => option: Private<Option<Said<Text>>>,
        /// The work that has to be done before.
        "follows" => follows: OneOrMore<WorkId>,
        /// Why.
        "why" => why: Option<Said<Text>>,
        /// By what means.
        "by" => by: Option<Said<Text>>,
        /// The findings it mends.
        "mends" => mends: OneOrMore<FindingId>,
        /// The earlier work that it does again.
        "redoes" => redoes: Option<Said<WorkId>>,
        /// How it turned out.
        "turned-out" => turned_out: Option<Said<Outcome>>,
        /// What kind of task it was, for the archive's times.
        "task" => task: Option<Said<Text>>,
        /// How long it took.
        "hours" => hours: Private<Option<Said<Hours>>>,
        /// How to undo it.
        "undo" => undo: Option<Said<Text>>,
        /// Whether it can be undone.
        "undoable" => undoable: Option<Said<Undoable>>,
        /// The lines of the day book that it was entered from; for the archive alone.
        "from-daybook" => from_daybook: Private<OneOrMore<Text>>,
    }
}

table! {
    /// A test made or declared not made.
    pub struct Test ("[[test]]") {
        /// What was tested for, such as `lead` or `earth continuity`.
        "of" => of: Said<Text>,
        /// The parts tested.
        "part" => part: OneOrMore<PartId>,
        /// The day.
        "on" => on: Option<Said<NaiveDate>>,
        /// By what means.
        "by" => by: Option<Said<Text>>,
        /// What came out, or `not-tested`.
        "result" => result: Said<TestResult>,
        /// The lines of the day book that it was entered from; for the archive alone.
        "from-daybook" => from_daybook: Private<OneOrMore<Text>>,
    }
}

table! {
    /// What was left unmended, why, and what it means for the buyer.
    pub struct Undone ("[[undone]]") {
        /// What was left.
        "what" => what: Said<Text>,
        /// The findings it leaves.
        "leaves" => leaves: OneOrMore<FindingId>,
        /// Why.
        "why" => why: Said<Why>,
        /// What it means for the buyer.
        "effect" => effect: Option<Said<Text>>,
        /// The lines of the day book that it was entered from; for the archive alone.
        "from-daybook" => from_daybook: Private<OneOrMore<Text>>,
    }
}

table! {
    /// Something still to do or to decide before handover.
    pub struct Open ("[[open]]") {
        /// What.
        "what" => what: Said<Text>,
        /// Before what.
        "before" => before: Option<Said<Text>>,
        /// The day it is due.
        "due" => due: Private<Option<Said<NaiveDate>>>,
        /// The lines of the day book that it was entered from; for the archive alone.
        "from-daybook" => from_daybook: Private<OneOrMore<Text>>,
    }
}

table! {
    /// A promise to come back to the owner.
    pub struct CallBack ("[[call-back]]") {
        /// The day.
        "on" => on: Option<Said<NaiveDate>>,
        /// What for.
        "what" => what: Said<Text>,
        /// The day it was done.
        "done" => done: Option<Said<NaiveDate>>,
    }
}

table! {
    /// Something to remember for later pieces.
    pub struct Lesson ("[[lesson]]") {
        /// The lesson.
        "text" => text: Said<Text>,
        /// The kinds of piece or work it applies to.
        "for" => r#for: OneOrMore<Text>,
    }
}

table! {
    /// Something that cost money.
    pub struct Cost ("[[cost]]") {
        /// What it was.
        "what" => what: Said<Text>,
        /// The day it was paid.
        "on" => on: Option<Said<NaiveDate>>,
        /// What it cost; or, instead, a share of one of the workshop's tins.
        "amount" => amount: Option<Said<Money>>,
        /// The tin it came out of; its price is that of the full tin in `workshop.toml`.
        "tin" => tin: Option<Said<TinId>>,
        /// How much of the tin, as a share of the full one: 0.25 is a quarter.
        "share" => share: Option<Said<Share>>,
        /// The lines of the day book that it was entered from; for the archive alone.
        "from-daybook" => from_daybook: Private<OneOrMore<Text>>,
    }
}
