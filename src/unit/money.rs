//! Money and working time, both decimal: sums of either must come out exact.

use std::iter::Sum;

use rust_decimal::Decimal;
use serde::{Deserialize, Serialize};

/// An amount in the workshop's currency.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Default, Serialize, Deserialize)]
pub struct Money(pub Decimal);

impl Sum for Money {
    fn sum<I: Iterator<Item = Money>>(amounts: I) -> Money {
        Money(amounts.map(|amount| amount.0).sum())
    }
}

/// Hours of work; never negative.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Default, Serialize, Deserialize)]
pub struct Hours(Decimal);

impl Hours {
    /// Hours from a decimal; `None` below zero.
    pub fn new(hours: Decimal) -> Option<Hours> {
        (!hours.is_sign_negative() || hours.is_zero()).then_some(Hours(hours))
    }

    /// The number of hours.
    pub fn count(self) -> Decimal {
        self.0
    }
}

impl Sum for Hours {
    fn sum<I: Iterator<Item = Hours>>(hours: I) -> Hours {
        Hours(hours.map(|hours| hours.0).sum())
    }
}
