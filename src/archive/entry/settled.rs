//! What was decided, left, still open, learnt and sealed.

use chrono::NaiveDate;

use crate::archive::table::entry;
use crate::unit::{Hours, Money};

entry! {
    /// A question, the way taken, and why.
    pub struct DecisionEntry ("decision") {
        /// The question.
        question: String,
        /// The way taken.
        chose: String,
        /// Why.
        because: Option<String>,
    }
}

entry! {
    /// A way that was open.
    pub struct OptionEntry ("option") {
        /// The number of the decision.
        decision: usize,
        /// What would have been done.
        plan: String,
        /// What spoke for it.
        pro: Option<String>,
        /// What spoke against it.
        contra: Option<String>,
    }
}

entry! {
    /// What was left unmended.
    pub struct UndoneEntry ("undone") {
        /// What was left.
        what: String,
        /// Why.
        why: &'static str,
        /// What it means for the owner.
        effect: Option<String>,
    }
}

entry! {
    /// That something left unmended is a finding.
    pub struct UndoneFindingEntry ("undone_finding") {
        /// The number of what was left.
        undone: usize,
        /// The number of the finding.
        finding: usize,
    }
}

entry! {
    /// Something still to do or to decide.
    pub struct OpenEntry ("open") {
        /// What.
        what: String,
        /// Before what.
        before: Option<String>,
        /// The day it is due.
        due: Option<NaiveDate>,
    }
}

entry! {
    /// A promise to come back to the owner.
    pub struct CallBackEntry ("call_back") {
        /// What for.
        what: String,
        /// The day.
        on_day: Option<NaiveDate>,
        /// The day it was done; empty where it was not.
        done: Option<NaiveDate>,
    }
}

entry! {
    /// Something that happened after the piece had left. What it cost is in `cost`, too.
    pub struct AfterEntry ("after") {
        /// The day.
        on_day: NaiveDate,
        /// What it was, in a word of the record.
        what: &'static str,
        /// What was said or done.
        said: Option<String>,
        /// The parts that it is about, by name.
        parts: String,
        /// The findings that it is about, as they were seen.
        findings: String,
        /// How long it took; empty where that is not recorded.
        hours: Option<Hours>,
        /// What it cost the workshop.
        cost: Option<Money>,
        /// What was paid back to the owner.
        refunded: Option<Money>,
        /// Anything else.
        note: Option<String>,
    }
}

entry! {
    /// Something to remember.
    pub struct LessonEntry ("lesson") {
        /// The lesson.
        lesson: String,
    }
}

entry! {
    /// What a lesson applies to.
    pub struct LessonForEntry ("lesson_for") {
        /// The number of the lesson.
        lesson: usize,
        /// A kind of piece or work.
        word: String,
    }
}

entry! {
    /// A seal.
    pub struct SealEntry ("seal") {
        /// The day of sealing.
        on_day: NaiveDate,
        /// The day of handover that was sealed.
        handed_over: NaiveDate,
        /// Its fingerprint.
        digest: String,
    }
}

entry! {
    /// A change after the seal: why, in the workshop's words, or what the program sees that changed.
    pub struct AmendmentEntry ("amendment") {
        /// The day, where it is a reason that the workshop gave.
        on_day: Option<NaiveDate>,
        /// The reason, or what changed.
        said: String,
        /// `reason` or `change`.
        sort: &'static str,
    }
}
