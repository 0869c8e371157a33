//! What the pages across all pieces are made from, and how they say it.

use std::collections::BTreeMap;

use chrono::NaiveDate;
use rust_decimal::Decimal;
use serde::Serialize;

use super::entry::{ArchiveEntry, ArchiveRow};
use crate::archive::{Asking, PieceName};
use crate::claim::{Message, says};
use crate::unit::{Hours, Money};
use crate::words::Words;

/// What the pages are made from.
pub(super) struct Across<'a> {
    pub(super) entries: &'a BTreeMap<String, ArchiveEntry>,
    pub(super) asking: &'a Asking<'a>,
    pub(super) words: &'a Words,
    pub(super) today: NaiveDate,
}

/// A piece as a line names it.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct PieceLink {
    /// What it is.
    pub title: String,
    /// The workshop's number for it.
    pub number: String,
    /// Address of its page, from the archive's root; empty where it has none.
    pub href: String,
}

impl Across<'_> {
    /// What the list tells of a piece; `None` where it has no page.
    pub(super) fn row(&self, piece: &PieceName) -> Option<&ArchiveRow> {
        self.entries.get(&piece.folder).map(|entry| &entry.row)
    }

    /// A piece, with the way to a place of its page: an id, or nothing.
    pub(super) fn link(&self, piece: &PieceName, place: &str) -> PieceLink {
        let way = |row: &ArchiveRow| {
            if place.is_empty() { row.href.clone() } else { format!("{}#{place}", row.href) }
        };
        PieceLink {
            title: piece.title.clone(),
            number: piece.number.clone(),
            href: self.row(piece).map_or(String::new(), way),
        }
    }

    /// Words of a message.
    pub(super) fn say(&self, message: Message) -> String {
        self.words.say(&message)
    }

    /// An amount of money.
    pub(super) fn money(&self, amount: Decimal) -> String {
        self.words.money(Money(amount))
    }

    /// An amount that may not be known.
    pub(super) fn maybe_money(&self, amount: Option<Decimal>) -> String {
        amount.map_or(String::new(), |amount| self.money(amount))
    }

    /// A bare number with at most two decimals.
    pub(super) fn digits(&self, number: Decimal) -> String {
        self.words.digits(number.round_dp(2))
    }

    /// Hours of work, with their unit.
    pub(super) fn hours(&self, hours: Decimal) -> String {
        Hours::new(hours.round_dp(2)).map_or(String::new(), |hours| self.words.hours(hours))
    }

    /// From one number to another, or the one where both are the same.
    pub(super) fn span(&self, low: Decimal, high: Decimal) -> String {
        let (low, high) = (self.digits(low), self.digits(high));
        if low == high { low } else { self.say(says!("span", low = low, high = high)) }
    }

    /// A day, where there is one.
    pub(super) fn day(&self, day: Option<NaiveDate>) -> String {
        day.map_or(String::new(), |day| self.words.day(day))
    }

    /// Text of a record.
    pub(super) fn said(&self, text: &str) -> String {
        self.words.said(text)
    }

    /// The first level of a kind, as it stands in a list; all kinds where it is empty.
    pub(super) fn sort(&self, sort: &str) -> String {
        if sort.is_empty() { self.say(says!("kinds-all")) } else { sort.replace('-', " ") }
    }
}
