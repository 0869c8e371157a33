//! What papers say, as values: a sentence's message with its quantities, how much it matters, and what it rests on.
//!
//! `derive` makes claims, `words` puts them into a language, and views only arrange them. A claim is made with the
//! first thing that it rests on, so that none can be made without.

mod basis;
mod message;

pub use basis::{Basis, Ground};
pub(crate) use message::says;
pub use message::{Message, Value};

/// How much a sentence matters to whoever buys the piece; the gravest first.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Weight {
    /// A danger that a test or the build confirms.
    Danger,
    /// A danger in ordinary use.
    DangerInUse,
    /// A danger that nobody tested for.
    UntestedDanger,
    /// What may fail or move.
    MayFail,
    /// What it does not do.
    DoesNot,
    /// What was altered for good on a face that shows.
    Altered,
    /// What is not known of a part that carries load.
    LoadNotKnown,
    /// Everything else.
    Plain,
}

impl Weight {
    /// Whether it matters to whoever uses the piece: what it does not do, or what was altered on it, does not.
    pub fn warns(self) -> bool {
        self <= Weight::MayFail || self == Weight::LoadNotKnown
    }

    /// The weight as a word for other programs.
    pub fn word(self) -> &'static str {
        match self {
            Weight::Danger => "danger",
            Weight::DangerInUse => "danger-in-use",
            Weight::UntestedDanger => "untested-danger",
            Weight::MayFail => "may-fail",
            Weight::DoesNot => "does-not",
            Weight::Altered => "altered",
            Weight::LoadNotKnown => "load-not-known",
            Weight::Plain => "plain",
        }
    }
}

/// One sentence of a paper, or two that belong together.
#[derive(Debug, Clone, PartialEq)]
pub struct Claim {
    /// What it says.
    pub message: Message,
    /// How much it matters.
    pub weight: Weight,
    /// What it rests on; never empty.
    basis: Vec<Basis>,
}

impl Claim {
    /// A plain claim that rests on this.
    pub fn new(message: Message, basis: Basis) -> Claim {
        Claim { message, weight: Weight::Plain, basis: vec![basis] }
    }

    /// The same claim, resting on this too.
    #[must_use]
    pub fn and(mut self, basis: Basis) -> Claim {
        if !self.basis.contains(&basis) {
            self.basis.push(basis);
        }
        self
    }

    /// The same claim, resting on all of these too.
    #[must_use]
    pub fn and_all(self, basis: impl IntoIterator<Item = Basis>) -> Claim {
        basis.into_iter().fold(self, Claim::and)
    }

    /// The same claim, mattering so much.
    #[must_use]
    pub fn weighing(mut self, weight: Weight) -> Claim {
        self.weight = weight;
        self
    }

    /// What it rests on: rows of the record, rows of tables, and what the record leaves out; never empty.
    pub fn basis(&self) -> &[Basis] {
        &self.basis
    }
}
