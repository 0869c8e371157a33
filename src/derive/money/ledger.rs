//! Hours, costs and earnings of one piece; for the archive alone.
//!
//! Everything is decimal and nothing is rounded: that is for the view. Where a figure is missing that
//! a result needs, the result says which, and gives no number.

use std::collections::BTreeMap;

use chrono::NaiveDate;
use rust_decimal::Decimal;

use crate::fields::{Said, Share};
use crate::record::{After, Aftermath, Cost, Folder, Jotting, Piece, Record, StockId, Tin, Workshop};
use crate::unit::{Hours, Money};

/// What a result of the ledger needs and the records do not say.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum LedgerGap {
    /// What was paid for the piece; nothing paid has to be said too.
    Paid,
    /// A cost row's amount, by what it was for.
    Amount(String),
    /// A tin that `workshop.toml` does not have.
    Tin(String),
    /// A tin's price.
    TinPrice(String),
    /// An item that `stock.toml` does not have.
    Stock(String),
    /// What was paid for an item of stock.
    StockPaid(String),
    /// The hours, or all of them are zero.
    Hours,
    /// What an hour is reckoned at.
    Rate,
    /// The price at handover, or the one asked.
    Price,
}

/// Why a material cost what it did.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum CostOrigin {
    /// The record says the amount.
    Said,
    /// So much of a tin whose price when full is known.
    Tin {
        /// The tin's id.
        tin: String,
        /// How much of it.
        share: Share,
        /// What the full tin cost; `None` where not recorded.
        price: Option<Money>,
    },
    /// An item of stock, its price shared alike between the pieces that use it.
    Stock {
        /// What the whole item cost; `None` where not recorded.
        paid: Option<Money>,
        /// How many pieces use it, this one included; at least 1.
        pieces: u32,
    },
    /// Something that happened after the piece had left cost it.
    After {
        /// The day.
        on: NaiveDate,
        /// Whether it was paid back to the owner.
        refunded: bool,
    },
}

/// One material.
#[derive(Debug, Clone, PartialEq)]
pub struct MaterialCost {
    /// What it is.
    pub what: String,
    /// Why it cost what it did.
    pub origin: CostOrigin,
    /// What it cost, unrounded; or what is missing to know.
    pub amount: Result<Money, LedgerGap>,
}

/// How overhead is reckoned.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Overhead {
    /// The workshop reckons with none.
    None,
    /// So much for each hour of work.
    PerHour(Money),
    /// So many percent of what was spent.
    Percent(Decimal),
}

/// Which price the ledger reckons with.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Price {
    /// The price at handover.
    Paid(Money),
    /// The price asked, where no other is recorded.
    Asked(Money),
}

impl Price {
    /// The amount.
    pub fn amount(self) -> Money {
        match self {
            Price::Paid(amount) | Price::Asked(amount) => amount,
        }
    }
}

/// What hours were spent on.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub enum Task {
    /// A task by its name.
    Named(String),
    /// Work that only the day book tells of.
    Jotted,
    /// Work of which no task is named.
    Other,
    /// What came after the piece had left.
    After,
}

/// What a piece took, cost and brought in.
#[derive(Debug, Clone, PartialEq)]
pub struct Ledger {
    /// All hours; `None` where the record says none.
    pub hours: Option<Hours>,
    /// Whether the hours are one estimate rather than a sum of dated work.
    pub estimated: bool,
    /// Hours by task: by the tasks' names, then work without one.
    pub by_task: Vec<(Task, Hours)>,
    /// What was paid for the piece; `None` where the record does not say.
    pub paid: Option<Money>,
    /// Its materials: cost rows in the record's order, then stock in the order of the parts, then what came after the
    /// piece had left.
    pub materials: Vec<MaterialCost>,
    /// How overhead is reckoned.
    pub overhead: Overhead,
    /// What an hour of work is reckoned at.
    pub rate: Option<Money>,
    /// The price.
    pub price: Option<Price>,
}

impl Ledger {
    /// Everything that is known to have been spent; a lower bound where something is missing.
    pub fn spent(&self) -> Money {
        let known = self.materials.iter().filter_map(|material| material.amount.as_ref().ok());
        self.paid.iter().chain(known).copied().sum()
    }

    /// What keeps [`Ledger::cost`] from being known, in the order of the ledger.
    pub fn missing(&self) -> Vec<LedgerGap> {
        let paid = self.paid.is_none().then_some(LedgerGap::Paid);
        let materials = self.materials.iter().filter_map(|material| material.amount.clone().err());
        let hours = (matches!(self.overhead, Overhead::PerHour(_)) && self.hours.is_none())
            .then_some(LedgerGap::Hours);
        paid.into_iter().chain(materials).chain(hours).collect()
    }

    /// The overhead that falls to the piece, unrounded.
    ///
    /// # Errors
    /// [`LedgerGap`] where the hours or the sum that it is reckoned from are not known.
    ///
    /// # Source
    /// common practice, no source: workshops reckon by the hour or by percentage of costs.
    pub fn overhead(&self) -> Result<Money, LedgerGap> {
        match self.overhead {
            Overhead::None => Ok(Money::default()),
            Overhead::PerHour(each) => Ok(times(each, self.hours.ok_or(LedgerGap::Hours)?.count())),
            Overhead::Percent(percent) => Ok(times(self.all_spent()?, percent / Decimal::ONE_HUNDRED)),
        }
    }

    /// What the piece cost: paid, materials and overhead, without any wage; the price that breaks even.
    ///
    /// # Errors
    /// The first of [`Ledger::missing`].
    pub fn cost(&self) -> Result<Money, LedgerGap> {
        Ok([self.all_spent()?, self.overhead()?].into_iter().sum())
    }

    /// What the hours come to at the workshop's rate.
    ///
    /// # Errors
    /// [`LedgerGap::Hours`], [`LedgerGap::Rate`].
    pub fn labour(&self) -> Result<Money, LedgerGap> {
        let hours = self.hours.ok_or(LedgerGap::Hours)?;
        Ok(times(self.rate.ok_or(LedgerGap::Rate)?, hours.count()))
    }

    /// The price that would have paid the costs and every hour at the workshop's rate.
    ///
    /// # Errors
    /// Whatever [`Ledger::cost`] or [`Ledger::labour`] miss.
    pub fn price_with_wage(&self) -> Result<Money, LedgerGap> {
        Ok([self.cost()?, self.labour()?].into_iter().sum())
    }

    /// What is left of the price for the hours; negative for a loss.
    ///
    /// # Errors
    /// [`LedgerGap::Price`], or whatever [`Ledger::cost`] misses.
    pub fn margin(&self) -> Result<Money, LedgerGap> {
        let price = self.price.ok_or(LedgerGap::Price)?;
        Ok(Money(price.amount().0 - self.cost()?.0))
    }

    /// The margin as a fraction of the price.
    ///
    /// # Errors
    /// Whatever [`Ledger::margin`] misses; [`LedgerGap::Price`] for a piece that was given away.
    pub fn margin_of_price(&self) -> Result<Decimal, LedgerGap> {
        let price = self.price.ok_or(LedgerGap::Price)?.amount().0;
        self.margin()?.0.checked_div(price).ok_or(LedgerGap::Price)
    }

    /// The margin for each hour of work; negative for a loss.
    ///
    /// # Errors
    /// Whatever [`Ledger::margin`] misses; [`LedgerGap::Hours`] where there are none to divide by.
    pub fn earned_per_hour(&self) -> Result<Money, LedgerGap> {
        let margin = self.margin()?;
        let hours = self.hours.ok_or(LedgerGap::Hours)?.count();
        margin.0.checked_div(hours).map(Money).ok_or(LedgerGap::Hours)
    }

    /// How much more than its rate the workshop earned over all hours; negative for less.
    ///
    /// # Errors
    /// Whatever [`Ledger::margin`] or [`Ledger::labour`] miss.
    pub fn above_rate(&self) -> Result<Money, LedgerGap> {
        Ok(Money(self.margin()?.0 - self.labour()?.0))
    }

    /// What was spent, where all of it is known.
    fn all_spent(&self) -> Result<Money, LedgerGap> {
        self.paid.ok_or(LedgerGap::Paid)?;
        match self.materials.iter().find_map(|material| material.amount.clone().err()) {
            Some(missing) => Err(missing),
            None => Ok(self.spent()),
        }
    }
}

/// Money times a number. Both are bounded when they are read, so that the product is far from overflowing.
fn times(money: Money, number: Decimal) -> Money {
    Money(money.0 * number)
}

/// Adds up a piece's hours, materials, overhead and price.
///
/// Hours on work entries and lines of the day book are summed; the record's own total counts only where none of them
/// has hours, since adding both would count the same work twice. What was spent after the piece had left comes on top.
pub(in crate::derive) fn ledger(
    folder: &Folder,
    piece: &Piece,
    record: &Record,
    jotted: &[Jotting],
) -> Ledger {
    let mut by_task: BTreeMap<Task, Vec<Hours>> = BTreeMap::new();
    for work in &record.works {
        if let Some(hours) = work.hours.for_archive() {
            let task = work.task.as_ref().map_or(Task::Other, |task| Task::Named(task.to_string()));
            by_task.entry(task).or_default().push(hours.value);
        }
    }
    let minutes = jotted.iter().filter_map(|jotting| *jotting.minutes.for_archive());
    for hours in minutes.filter_map(|minutes| Hours::new(Decimal::from(minutes) / Decimal::from(60))) {
        by_task.entry(Task::Jotted).or_default().push(hours);
    }
    let summed = !by_task.is_empty();
    let estimate = record.hours.for_archive().as_ref().map(|hours| hours.value);
    let hours = if summed { Some(by_task.values().flatten().copied().sum()) } else { estimate };
    let after = record.after.for_archive();
    let afterwards: Vec<Hours> =
        after.iter().filter_map(|row| row.hours.as_ref()).map(|hours| hours.value).collect();
    let hours = hours.map(|hours| std::iter::once(hours).chain(afterwards.iter().copied()).sum());
    if !afterwards.is_empty() {
        by_task.insert(Task::After, afterwards);
    }
    let found = record.found.for_archive().as_ref();
    let workshop = folder.workshop.as_ref();
    let tins = workshop.map_or(&[][..], |workshop| &workshop.tins);
    let costs = record.costs.for_archive().iter().map(|cost| material(cost, tins));
    Ledger {
        hours,
        estimated: !summed && estimate.is_some(),
        by_task: by_task.into_iter().map(|(task, hours)| (task, hours.into_iter().sum())).collect(),
        paid: found.and_then(|found| found.paid.as_ref()).map(|paid| paid.value),
        materials: costs.chain(stock(folder, record)).chain(after.iter().flat_map(spent_after)).collect(),
        overhead: workshop.map_or(Overhead::None, Overhead::of),
        rate: workshop
            .and_then(|workshop| workshop.hourly_rate.for_archive().as_ref())
            .map(|rate| rate.value),
        price: price(piece, record),
    }
}

/// The material of one cost row. An amount counts where there is one: it is what was really paid.
fn material(cost: &Cost, tins: &[Said<Tin>]) -> MaterialCost {
    let what = cost.what.to_string();
    let (origin, amount) = match (&cost.amount, &cost.tin, &cost.share) {
        (Some(amount), _, _) => (CostOrigin::Said, Ok(amount.value)),
        (None, Some(id), Some(share)) => {
            let tin = tins.iter().find(|tin| tin.id.value == id.value);
            let price = tin.and_then(|tin| tin.price.for_archive().as_ref()).map(|price| price.value);
            let amount = match (tin, price) {
                (None, _) => Err(LedgerGap::Tin(id.0.clone())),
                (Some(_), None) => Err(LedgerGap::TinPrice(id.0.clone())),
                (Some(_), Some(price)) => Ok(times(price, share.0)),
            };
            (CostOrigin::Tin { tin: id.0.clone(), share: share.value, price }, amount)
        }
        _ => (CostOrigin::Said, Err(LedgerGap::Amount(what.clone()))),
    };
    MaterialCost { what, origin, amount }
}

/// The items of stock that a piece's parts were made from, each once.
///
/// An item's price is shared alike between the pieces that use it, however much each took: how much
/// is rarely known. So a piece's share falls when another piece uses the item too.
fn stock(folder: &Folder, record: &Record) -> Vec<MaterialCost> {
    let mut used: Vec<&StockId> = Vec::new();
    for id in stock_of(record) {
        if !used.contains(&id) {
            used.push(id);
        }
    }
    used.into_iter().map(|id| stock_item(folder, id)).collect()
}

fn stock_of(record: &Record) -> impl Iterator<Item = &StockId> {
    record.parts.iter().filter_map(|part| part.from_stock.as_ref()).map(|id| &id.value)
}

fn stock_item(folder: &Folder, id: &StockId) -> MaterialCost {
    let records = folder.pieces.iter().filter_map(|piece| piece.record.as_ref());
    let users = records.filter(|record| stock_of(record).any(|used| used == id)).count();
    let pieces = u32::try_from(users).unwrap_or(u32::MAX).max(1);
    let item = folder.stock.items.iter().find(|item| item.id.value == *id);
    let paid = item.and_then(|item| item.paid.for_archive().as_ref()).map(|paid| paid.value);
    let amount = match (item, paid) {
        (None, _) => Err(LedgerGap::Stock(id.0.clone())),
        (Some(_), None) => Err(LedgerGap::StockPaid(id.0.clone())),
        (Some(_), Some(paid)) => Ok(Money(paid.0 / Decimal::from(pieces))),
    };
    let what = item.map_or_else(|| id.0.clone(), |item| item.what.to_string());
    MaterialCost { what, origin: CostOrigin::Stock { paid, pieces }, amount }
}

impl Overhead {
    /// How a workshop reckons it: by the hour where it says both ways, since the hours are what a workshop runs out of.
    pub fn of(workshop: &Workshop) -> Overhead {
        let (hour, percent) =
            (workshop.overhead_per_hour.for_archive(), workshop.overhead_percent.for_archive());
        match (hour, percent) {
            (Some(each), _) => Overhead::PerHour(each.value),
            (None, Some(percent)) => Overhead::Percent(percent.0),
            (None, None) => Overhead::None,
        }
    }
}

/// What something cost that happened after the piece had left. With a piece that came back its whole sale falls away, so
/// that what was paid back for it is no cost.
fn spent_after(after: &Said<After>) -> impl Iterator<Item = MaterialCost> {
    let what = after.said.as_ref().map_or_else(|| after.what.word().to_owned(), |said| said.to_string());
    let on = after.on.value;
    let refunded = after.refunded.as_ref().filter(|_| after.what.value != Aftermath::Return);
    [(after.cost.as_ref(), false), (refunded, true)].into_iter().filter_map(move |(amount, refunded)| {
        let (what, origin) = (what.clone(), CostOrigin::After { on, refunded });
        Some(MaterialCost { what, origin, amount: Ok(amount?.value) })
    })
}

/// The price that was paid, unless the piece came back; else the one asked.
fn price(piece: &Piece, record: &Record) -> Option<Price> {
    let handed = piece.handover().and_then(|handover| handover.price.for_archive().as_ref());
    let asked = record.asking.as_ref().map(|asking| Price::Asked(asking.value));
    handed.map(|price| Price::Paid(price.value)).or(asked)
}

#[cfg(test)]
mod tests {
    use std::str::FromStr;

    use proptest::prelude::*;

    use super::*;
    use crate::record;
    use crate::source::Tree;

    const NEEDED: &str = "title = \"Oak table\"\nnumber = \"T-1\"\nkind = \"table/gateleg\"\n";

    const WORKSHOP: &str = r#"
name = "Bench"
currency = "GBP"
hourly-rate = 18.00
tin = [
  { id = "varnish", is = "oil-polyurethane", price = 21.50 },
  { id = "wax", is = "paste-wax" },
]
"#;

    const STOCK: &str = "stock = [{ id = \"ply\", what = \"Birch plywood\", paid = 12.00 }]";

    /// The ledger of the piece `a` in a workshop of these texts.
    fn ledger_of(workshop: &str, a: &str, b: &str) -> Ledger {
        let tree = Tree::of([
            ("workshop.toml".to_owned(), workshop.to_owned()),
            ("stock.toml".to_owned(), STOCK.to_owned()),
            ("pieces/a/record.toml".to_owned(), format!("{NEEDED}{a}")),
            ("pieces/b/record.toml".to_owned(), format!("{NEEDED}{b}")),
        ]);
        let (folder, problems) = record::read(&tree);
        assert_eq!(problems, []);
        let piece = &folder.pieces[0];
        ledger(&folder, piece, piece.record.as_ref().expect("it was read"), &piece.jottings)
    }

    fn money(amount: &str) -> Money {
        Money(Decimal::from_str(amount).expect("an amount"))
    }

    const TABLE: &str = r#"
found = { paid = 35.00 }
cost = [{ what = "hinge screws", amount = 2.40 }, { what = "varnish", tin = "varnish", share = 0.25 }]
part = [
  { id = "a", name = "Drawer bottom", standing = "salvaged", from-stock = "ply" },
  { id = "b", name = "Drawer back", standing = "salvaged", from-stock = "ply" },
]
work = [
  { did = "glued", task = "gluing", hours = 1.5 },
  { did = "glued again", task = "gluing", hours = 2.25 },
  { did = "varnished", hours = 0.25 },
]
handover = { price = 240.00 }
asking = 260.00
"#;

    const OTHER: &str = "part = [{ id = \"a\", name = \"Shelf\", standing = \"new\", from-stock = \"ply\" }]";

    /// By hand, with an overhead of 3.00 an hour:
    ///
    /// | what                                        | amount  |
    /// | ------------------------------------------- | ------- |
    /// | paid for the piece                          |  35.00  |
    /// | hinge screws                                |   2.40  |
    /// | a quarter of the tin: 0.25 × 21.50          |   5.375 |
    /// | plywood, shared by two pieces: 12.00 / 2    |   6.00  |
    /// | spent                                       |  48.775 |
    /// | overhead: 4 h × 3.00                        |  12.00  |
    /// | cost, which is the price that breaks even   |  60.775 |
    /// | hours at the rate: 4 h × 18.00              |  72.00  |
    /// | the price that pays the hours as well       | 132.775 |
    /// | price                                       | 240.00  |
    /// | margin: 240.00 − 60.775                     | 179.225 |
    /// | earned an hour: 179.225 / 4                 |  44.80625 |
    /// | above the rate: 179.225 − 72.00             | 107.225 |
    #[test]
    fn the_example_reckoned_by_hand() {
        let ledger = ledger_of(&format!("overhead-per-hour = 3.00\n{WORKSHOP}"), TABLE, OTHER);
        assert_eq!(ledger.missing(), []);
        assert_eq!(ledger.hours.map(Hours::count), Some(Decimal::from(4)));
        assert!(!ledger.estimated);
        let tasks: Vec<(Task, String)> =
            ledger.by_task.iter().map(|(task, hours)| (task.clone(), hours.count().to_string())).collect();
        assert_eq!(
            tasks,
            [(Task::Named("gluing".to_owned()), "3.75".to_owned()), (Task::Other, "0.25".to_owned())]
        );
        let amounts: Vec<_> = ledger.materials.iter().map(|material| material.amount.clone()).collect();
        assert_eq!(amounts, [Ok(money("2.40")), Ok(money("5.375")), Ok(money("6.00"))]);
        assert_eq!(ledger.spent(), money("48.775"));
        assert_eq!(ledger.overhead(), Ok(money("12.00")));
        assert_eq!(ledger.cost(), Ok(money("60.775")));
        assert_eq!(ledger.labour(), Ok(money("72.00")));
        assert_eq!(ledger.price_with_wage(), Ok(money("132.775")));
        assert_eq!(ledger.price, Some(Price::Paid(money("240.00"))));
        assert_eq!(ledger.margin(), Ok(money("179.225")));
        assert_eq!(ledger.earned_per_hour(), Ok(money("44.80625")));
        assert_eq!(ledger.above_rate(), Ok(money("107.225")));
    }

    /// By hand: 12.5 % of the 48.775 spent above is 6.096875, so that the cost is 54.871875.
    #[test]
    fn overhead_as_a_percentage_of_what_was_spent() {
        let ledger = ledger_of(&format!("overhead-percent = 12.5\n{WORKSHOP}"), TABLE, OTHER);
        assert_eq!(ledger.overhead(), Ok(money("6.096875")));
        assert_eq!(ledger.cost(), Ok(money("54.871875")));
    }

    /// By hand: 48.775 was spent before, 6.50 on the call and 20.00 paid back, so that 75.275 were spent; with 4 hours at
    /// the bench and 1.5 after, overhead is 16.50, the cost 91.775 and the margin 240.00 − 91.775 = 148.225. Once it came
    /// back, its price counts no longer, and what was paid back then is no cost.
    #[test]
    fn what_comes_after_the_sale_comes_on_top() {
        let workshop = format!("overhead-per-hour = 3.00\n{WORKSHOP}");
        let table = TABLE.replace("price = 240.00", "price = 240.00, on = 2026-03-14");
        let repair = "[[after]]\non = 2026-04-02\nwhat = \"repair\"\nsaid = \"glued the rail again\"\nhours = 1.5\n\
                      cost = 6.50\nrefunded = 20\n";
        let ledger = ledger_of(&workshop, &format!("{table}{repair}"), OTHER);
        assert_eq!(ledger.by_task.last(), Some(&(Task::After, Hours::new(Decimal::new(15, 1)).unwrap())));
        let on = NaiveDate::from_ymd_opt(2026, 4, 2).unwrap();
        let after = |amount: &str, refunded| MaterialCost {
            what: "glued the rail again".to_owned(),
            origin: CostOrigin::After { on, refunded },
            amount: Ok(money(amount)),
        };
        assert_eq!(ledger.materials[3..], [after("6.50", false), after("20", true)]);
        assert_eq!(ledger.hours.map(Hours::count), Some(Decimal::new(55, 1)));
        assert_eq!((ledger.spent(), ledger.margin()), (money("75.275"), Ok(money("148.225"))));
        let back = "[[after]]\non = 2026-05-01\nwhat = \"return\"\nrefunded = 240\n";
        let ledger = ledger_of(&workshop, &format!("{table}{repair}{back}"), OTHER);
        assert_eq!((ledger.spent(), ledger.price), (money("75.275"), Some(Price::Asked(money("260.00")))));
    }

    #[test]
    fn hours_after_the_sale_make_no_total_where_none_is_known_and_keep_an_estimate() {
        let call =
            "after = [{ on = 2026-04-02, what = \"call\", hours = 0.5 }]\nhandover = { on = 2026-03-14 }\n";
        let estimate = ledger_of(WORKSHOP, &format!("hours = 14\n{call}"), "");
        assert_eq!(
            (estimate.hours.map(Hours::count), estimate.estimated),
            (Some(Decimal::new(145, 1)), true)
        );
        assert_eq!(ledger_of(WORKSHOP, call, "").hours, None);
    }

    #[test]
    fn tenths_that_binary_fractions_cannot_hold_add_up() {
        let ledger = ledger_of(
            WORKSHOP,
            "found = { paid = 0 }\ncost = [{ what = \"a\", amount = 0.10 }, { what = \"b\", amount = 0.20 }]",
            "",
        );
        assert_eq!(ledger.cost(), Ok(money("0.30")));
        assert_eq!(ledger.earned_per_hour(), Err(LedgerGap::Price));
    }

    #[track_caller]
    fn lacks(workshop: &str, record: &str, missing: LedgerGap) {
        let ledger = ledger_of(workshop, record, "");
        assert_eq!(ledger.missing(), std::slice::from_ref(&missing), "{record}");
        assert_eq!(ledger.cost(), Err(missing.clone()), "{record}");
        assert_eq!(ledger.margin(), Err(missing.clone()), "{record}");
        assert_eq!(ledger.earned_per_hour(), Err(missing), "{record}");
    }

    #[test]
    fn what_is_missing_is_named_and_no_number_given() {
        let record = |line: &str| format!("found = {{ paid = 1 }}\nasking = 9\nhours = 2\n{line}");
        lacks(WORKSHOP, "asking = 9\nhours = 2", LedgerGap::Paid);
        lacks(WORKSHOP, &record("cost = [{ what = \"wax\" }]"), LedgerGap::Amount("wax".to_owned()));
        let tin = |tin: &str| record(&format!("cost = [{{ what = \"it\", tin = \"{tin}\", share = 0.5 }}]"));
        lacks(WORKSHOP, &tin("wax"), LedgerGap::TinPrice("wax".to_owned()));
        lacks(WORKSHOP, &tin("vax"), LedgerGap::Tin("vax".to_owned()));
        let part = |stock: &str| {
            record(&format!(
                "part = [{{ id = \"p\", name = \"P\", standing = \"new\", from-stock = \"{stock}\" }}]"
            ))
        };
        lacks(WORKSHOP, &part("oak"), LedgerGap::Stock("oak".to_owned()));
        let per_hour = format!("overhead-per-hour = 3\n{WORKSHOP}");
        lacks(&per_hour, "found = { paid = 1 }\nasking = 9", LedgerGap::Hours);
        let unpriced = ledger_of(WORKSHOP, "found = { paid = 1 }\nhours = 2", "");
        assert_eq!((unpriced.missing(), unpriced.margin()), (vec![], Err(LedgerGap::Price)));
        let unrated = ledger_of("name = \"Bench\"", &record(""), "");
        assert_eq!((unrated.margin(), unrated.labour()), (Ok(money("8")), Err(LedgerGap::Rate)));
    }

    #[test]
    fn nothing_is_divided_by_nothing() {
        let ledger = ledger_of(WORKSHOP, "found = { paid = 1 }\nhours = 0\nhandover = { price = 0 }", "");
        assert_eq!(ledger.earned_per_hour(), Err(LedgerGap::Hours));
        assert_eq!(ledger.margin_of_price(), Err(LedgerGap::Price));
        assert_eq!(ledger.margin(), Ok(money("-1")));
    }

    #[test]
    fn a_total_by_estimate_counts_only_by_itself() {
        let estimate = ledger_of(WORKSHOP, "hours = 14\nwork = [{ did = \"x\" }]", "");
        assert_eq!((estimate.hours.map(Hours::count), estimate.estimated), (Some(Decimal::from(14)), true));
        let both = ledger_of(WORKSHOP, "hours = 14\nwork = [{ did = \"x\", hours = 1 }]", "");
        assert_eq!((both.hours.map(Hours::count), both.estimated), (Some(Decimal::ONE), false));
    }

    proptest! {
        /// A penny more in price is a penny more in margin, and a penny more in costs one less.
        #[test]
        fn pennies_are_kept(paid in 0..1_000_000_i64, cost in 0..1_000_000_i64, price in 1..1_000_000_i64) {
            let pounds = |pence: i64| Decimal::new(pence, 2);
            let margin = |cost: i64, price: i64| {
                let record = format!(
                    "found = {{ paid = {} }}\nasking = {}\ncost = [{{ what = \"x\", amount = {} }}]\nhours = 3",
                    pounds(paid), pounds(price), pounds(cost)
                );
                ledger_of(WORKSHOP, &record, "").margin().expect("nothing is missing").0
            };
            let here = margin(cost, price);
            prop_assert_eq!(here, pounds(price - paid - cost));
            prop_assert_eq!(margin(cost, price + 1) - here, pounds(1));
            prop_assert_eq!(margin(cost + 1, price) - here, pounds(-1));
        }

        /// A share is exact: as many of them as make the whole cost the whole.
        #[test]
        fn shares_of_a_tin_make_the_whole(parts in prop::sample::select(vec![1_i64, 2, 4, 5, 8, 10, 16, 20, 25, 32])) {
            let share = Decimal::ONE / Decimal::from(parts);
            let record = format!("cost = [{{ what = \"x\", tin = \"varnish\", share = {share} }}]");
            let each = ledger_of(WORKSHOP, &record, "").spent().0;
            prop_assert_eq!(each * Decimal::from(parts), Decimal::new(2150, 2));
        }
    }
}
