//! Receipts: what was paid for a piece, each under a number that the workshop counts over all its pieces.

use chrono::NaiveDate;

use crate::fields::shape::{choices, table};
use crate::fields::{Count, Said, Text};
use crate::unit::Money;

choices! {
    /// What a payment was.
    pub enum Payment {
        /// A part of the price, so that the piece is kept.
        Deposit = "deposit" ["down payment", "holding fee", "paid down", "part payment"],
        /// What was left of the price.
        Balance = "balance" ["final payment", "remainder", "rest", "the rest"],
        /// All of the price at once.
        Full = "full" ["all", "in full", "paid in full", "whole", "whole price"],
        /// Paid back to whoever had paid.
        Refund = "refund" ["given back", "paid back", "refunded", "returned"],
    }
}

table! {
    /// A receipt that was given.
    pub struct Receipt ("[[receipt]]") {
        /// Its number, one more than the last one that was given for any piece.
        "number" => number: Said<Count>,
        /// The day.
        "on" => on: Said<NaiveDate>,
        /// What the payment was.
        "what" => what: Said<Payment>,
        /// How much was paid.
        "amount" => amount: Said<Money>,
        /// How it was paid, such as `cash`.
        "by" => by: Option<Said<Text>>,
    }
}
