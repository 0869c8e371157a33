//! What the piece cost, and what it took out of tins and stock.

use chrono::NaiveDate;

use crate::archive::table::entry;
use crate::fields::Share;
use crate::unit::Money;

entry! {
    /// Something that cost money: a cost of the record, an item of stock that a part was made from, or something that
    /// happened after the piece had left.
    pub struct CostEntry ("cost") {
        /// What it was.
        what: String,
        /// The day, where it is recorded.
        on_day: Option<NaiveDate>,
        /// Where the amount comes from: `said`, `tin`, `stock`, `after`, or `refunded` for what was paid back after a sale.
        origin: &'static str,
        /// The tin that it came out of.
        tin: Option<String>,
        /// How much of the full tin.
        share: Option<Share>,
        /// The item of stock.
        stock: Option<String>,
        /// What it cost; empty where that is not known.
        amount: Option<Money>,
    }
}

entry! {
    /// A receipt that was given. Its amount is part of the price and counts for nothing by itself.
    pub struct ReceiptEntry ("receipt") {
        /// Its number, counted over all pieces.
        number: u32,
        /// The day.
        on_day: NaiveDate,
        /// `deposit`, `balance`, `full` or `refund`.
        what: &'static str,
        /// How much was paid.
        amount: Money,
        /// How it was paid.
        means: Option<String>,
    }
}

entry! {
    /// What a piece took out of one tin: by its costs where they say a share, else by the reckoned coverage of its steps.
    pub struct TinUseEntry ("tin_use") {
        /// The tin.
        tin: String,
        /// The least share of a full tin.
        share_least: Option<f64>,
        /// The most.
        share_most: Option<f64>,
        /// `cost` or `coverage`.
        known_by: &'static str,
    }
}

entry! {
    /// That a part was made from an item of stock.
    pub struct StockUseEntry ("stock_use") {
        /// The item.
        stock: String,
        /// The number of the part.
        part: usize,
        /// How much it took, in the unit of the item; empty where that cannot be known.
        used: Option<f64>,
    }
}

entry! {
    /// An item of the workshop's stock. It belongs to no piece.
    pub struct StockEntry ("stock") {
        /// Its id.
        id: String,
        /// What it is.
        what: String,
        /// Where it came from.
        origin: Option<String>,
        /// Its timber or board, as written.
        timber: Option<String>,
        /// What it cost.
        paid: Option<Money>,
        /// How much there was.
        count: Option<f64>,
        /// In which unit; pieces where that is not said.
        unit: Option<String>,
        /// Length of one in millimetres.
        length: Option<f64>,
        /// Width in millimetres.
        width: Option<f64>,
        /// Thickness in millimetres.
        thick: Option<f64>,
        /// Anything else.
        note: Option<String>,
    }
}

entry! {
    /// One of the workshop's tins. It belongs to no piece.
    pub struct TinEntry ("tin") {
        /// Its id.
        id: String,
        /// The finish family.
        finish: String,
        /// What the papers call it.
        name: Option<String>,
        /// What it held when full, in litres.
        litres: Option<f64>,
        /// What the full tin cost.
        price: Option<Money>,
        /// Anything else.
        note: Option<String>,
    }
}
