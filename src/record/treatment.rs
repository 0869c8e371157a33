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
        Trace = "trace",
        /// Visible, with no risk of further loss.
        Minor = "minor",
        /// Noticeable; affects look or use.
        Moderate = "moderate",
        /// Conspicuous or structural; unsafe or getting worse.
        Major = "major",
    }
}

words! {
    /// How sure a guess is.
    pub enum Confidence {
        /// Little more than a hunch.
        Low = "low",
        /// More likely than not.
        Fair = "fair",
        /// Hardly doubted.
        High = "high",
    }
}

words! {
    /// Whether a piece of work can be undone.
    pub enum Undoable {
        /// Without loss of old material.
        Yes = "yes",
        /// In part, or with some loss.
        Partly = "partly",
        /// Not without destroying something.
        No = "no",
    }
}

words! {
    /// How a piece of work turned out.
    pub enum Outcome {
        /// As intended.
        Well = "well",
        /// In part.
        Partly = "partly",
        /// It did not hold, or had to be done again.
        Failed = "failed",
    }
}

words! {
    /// Why something was left unmended.
    pub enum Why {
        /// Sound and safe as it is.
        NotNeeded = "not-needed",
        /// Mending would have cost original material.
        WouldCostOriginal = "would-cost-original",
        /// No fitting part could be found.
        NoPart = "no-part",
        /// Beyond the workshop's skill or tools.
        NoSkill = "no-skill",
        /// It would have cost more than it gives.
        NotWorth = "not-worth",
        /// Opening it up would do harm.
        Unsafe = "unsafe",
        /// Nothing sound is left to fix to.
        TooWorn = "too-worn",
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
    }
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
    }
}

table! {
    /// Something still to do or to decide before handover.
    pub struct Open ("[[open]]") {
        /// What.
        "what" => what: Said<Text>,
        /// Before what.
        "before" => before: Option<Said<Text>>,
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
        /// What it cost; or, instead, a share of one of the workshop's tins.
        "amount" => amount: Option<Said<Money>>,
        /// The tin it came out of; its price is that of the full tin in `workshop.toml`.
        "tin" => tin: Option<Said<TinId>>,
        /// How much of the tin, as a share of the full one: 0.25 is a quarter.
        "share" => share: Option<Said<Share>>,
    }
}
