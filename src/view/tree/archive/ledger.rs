//! The ledger of one piece, ready to print; for the archive alone.

use std::collections::BTreeSet;

use rust_decimal::{Decimal, RoundingStrategy};
use serde::Serialize;

use crate::claim::{Message, says};
use crate::derive::{CostOrigin, Ledger, LedgerGap, MaterialCost, Overhead, Price, Task};
use crate::unit::{Hours, Money};
use crate::view::shared::reckoning::Reckoning;
use crate::words::{Words, capital};

/// One line of the ledger.
#[derive(Debug, Clone, Serialize)]
pub struct LedgerLine {
    /// What the amount is.
    pub label: String,
    /// The amount; `not known` where something is missing.
    pub amount: String,
    /// How it comes about, or what is missing; may be empty.
    pub how: String,
}

/// Hours spent on one task, with their share of all hours.
#[derive(Debug, Clone, Serialize)]
pub struct TaskShare {
    /// The task.
    pub task: String,
    /// How long it took.
    pub hours: String,
    /// Its share of all hours, such as `27 %`; empty where all hours are none.
    pub share: String,
}

/// The ledger of one piece.
#[derive(Debug, Clone, Serialize)]
pub struct LedgerSheet {
    /// The ledger in a sentence.
    pub sentence: String,
    /// Hours by task.
    pub tasks: Vec<TaskShare>,
    /// All hours in words; may be empty.
    pub hours: String,
    /// That hours and costs of its set are divided; may be empty.
    pub shared: String,
    /// What was spent, row by row.
    pub spent: Vec<LedgerLine>,
    /// Sums and results, from what was spent to what was earned.
    pub results: Vec<LedgerLine>,
    /// Why printed pennies may seem not to add up.
    pub rounding: String,
    /// Why the results are what they are.
    pub basis: Vec<Reckoning>,
}

/// Prints a ledger.
pub(super) fn ledger_sheet(ledger: &Ledger, of_set: Option<u32>, words: &Words) -> LedgerSheet {
    let printer = LedgerPrinter { ledger, words };
    let (mut spent, mut results) = (printer.spent(), printer.results());
    tell_once(spent.iter_mut().chain(&mut results), &words.say(&says!("account-not-known")));
    LedgerSheet {
        sentence: printer.sentence(),
        tasks: printer.tasks(),
        hours: match (ledger.hours, ledger.estimated) {
            (Some(hours), true) => words.say(&says!("account-by-estimate", hours = words.hours(hours))),
            (Some(hours), false) => words.hours(hours),
            (None, _) => String::new(),
        },
        shared: of_set.map_or(String::new(), |count| words.say(&says!("account-of-set", count = count))),
        spent,
        results,
        rounding: words.say(&says!("account-rounding")),
        basis: printer.basis(),
    }
}

/// Leaves what is missing to the first of the lines that lack it.
fn tell_once<'l>(lines: impl Iterator<Item = &'l mut LedgerLine>, not_known: &str) {
    let mut told = BTreeSet::new();
    for line in lines.filter(|line| line.amount == not_known) {
        if !told.insert(line.how.clone()) {
            line.how.clear();
        }
    }
}

/// Whether everything that was spent is known.
fn spent_is_all(ledger: &Ledger) -> bool {
    ledger.missing().iter().all(|missing| *missing == LedgerGap::Hours)
}

/// What was spent, in words.
pub(super) fn spent_words(ledger: &Ledger, words: &Words) -> String {
    let amount = words.money(ledger.spent());
    if spent_is_all(ledger) { amount } else { words.say(&says!("account-at-least", amount = amount)) }
}

/// A ledger and how its workshop prints money.
struct LedgerPrinter<'a> {
    ledger: &'a Ledger,
    words: &'a Words,
}

impl LedgerPrinter<'_> {
    fn tasks(&self) -> Vec<TaskShare> {
        let all = self.ledger.hours.unwrap_or_default().count();
        let share = |hours: Hours| {
            hours.count().checked_div(all).map_or_else(String::new, |share| self.percent(share))
        };
        let rows = self.ledger.by_task.iter();
        rows.map(|(task, hours)| TaskShare {
            task: capital(&match task {
                Task::Named(name) => name.clone(),
                Task::Jotted => self.say(says!("account-as-jotted")),
                Task::Other => self.say(says!("account-other-work")),
                Task::After => self.say(says!("account-after-sale")),
            }),
            hours: self.words.hours(*hours),
            share: share(*hours),
        })
        .collect()
    }

    fn spent(&self) -> Vec<LedgerLine> {
        let paid = self.line(says!("account-piece"), self.ledger.paid.ok_or(LedgerGap::Paid), String::new());
        let materials = self.ledger.materials.iter().map(|material| {
            let how = self.origin(material);
            self.line_called(capital(&material.what), material.amount.clone(), how)
        });
        std::iter::once(paid).chain(materials).collect()
    }

    /// How a material's amount comes about.
    fn origin(&self, material: &MaterialCost) -> String {
        match &material.origin {
            CostOrigin::Said => String::new(),
            CostOrigin::Tin { tin, share, price: Some(price) } => {
                let (share, price) = (self.percent(share.0), self.money(*price));
                self.say(says!("account-of-tin-at", share = share, tin = tin.as_str(), price = price))
            }
            CostOrigin::Tin { tin, share, price: None } => {
                self.say(says!("account-of-tin", share = self.percent(share.0), tin = tin.as_str()))
            }
            CostOrigin::Stock { paid: Some(paid), pieces } if *pieces > 1 => {
                self.say(says!("account-stock-shared", paid = self.money(*paid), pieces = pieces.to_string()))
            }
            CostOrigin::Stock { .. } => self.say(says!("account-stock")),
            CostOrigin::After { on, refunded: false } => self.say(says!("account-after", day = *on)),
            CostOrigin::After { on, refunded: true } => self.say(says!("account-refunded", day = *on)),
        }
    }

    fn results(&self) -> Vec<LedgerLine> {
        let ledger = self.ledger;
        let all = spent_is_all(ledger);
        let spent = LedgerLine {
            label: self.say(says!("account-spent")),
            amount: spent_words(ledger, self.words),
            how: if all { String::new() } else { self.say(says!("account-some-unknown")) },
        };
        let overhead = (ledger.overhead != Overhead::None)
            .then(|| self.line(says!("account-overhead"), ledger.overhead(), self.overhead_words()));
        let price = ledger.price.map(Price::amount).ok_or(LedgerGap::Price);
        let price_label = match ledger.price {
            Some(Price::Asked(_)) => says!("account-price-asked"),
            _ => says!("account-price"),
        };
        let rest = [
            self.line(says!("account-break-even-unpaid"), ledger.cost(), String::new()),
            self.line(says!("account-at-rate"), ledger.labour(), self.rate_words()),
            self.line(says!("account-with-wage"), ledger.price_with_wage(), String::new()),
            self.line(price_label, price, String::new()),
            self.line(says!("account-margin"), ledger.margin(), self.margin_words()),
            self.line(says!("account-earned"), ledger.earned_per_hour(), self.compared()),
        ];
        std::iter::once(spent).chain(overhead).chain(rest).collect()
    }

    fn basis(&self) -> Vec<Reckoning> {
        let ledger = self.ledger;
        let basis = |figure: Message, amount: Result<Money, LedgerGap>, how: Message| {
            let figure = format!("{}: {}", self.say(figure), self.money(amount.ok()?));
            Some(Reckoning { figure, how: self.say(how), source: self.say(says!("account-source")) })
        };
        [
            basis(says!("account-break-even"), ledger.cost(), says!("account-break-even-how")),
            basis(says!("account-with-wage"), ledger.price_with_wage(), says!("account-with-wage-how")),
            basis(says!("account-margin"), ledger.margin(), says!("account-margin-how")),
            basis(says!("account-earned"), ledger.earned_per_hour(), says!("account-earned-how")),
        ]
        .into_iter()
        .flatten()
        .collect()
    }

    fn overhead_words(&self) -> String {
        match self.ledger.overhead {
            Overhead::None => String::new(),
            Overhead::PerHour(each) => self.say(says!("account-overhead-hour", amount = self.money(each))),
            Overhead::Percent(rate) => {
                let rate = says!("share-percent", figure = self.words.digits(rate));
                self.say(says!("account-overhead-share", share = rate))
            }
        }
    }

    fn rate_words(&self) -> String {
        match (self.ledger.rate, self.ledger.hours) {
            (Some(rate), Some(hours)) => self.say(says!(
                "account-at-rate-how",
                hours = self.words.hours(hours),
                rate = self.money(rate)
            )),
            _ => String::new(),
        }
    }

    fn margin_words(&self) -> String {
        self.ledger.margin_of_price().map_or_else(
            |_| String::new(),
            |share| self.say(says!("account-margin-share", share = self.percent(share))),
        )
    }

    /// What was earned in an hour, beside the workshop's rate.
    fn compared(&self) -> String {
        let (Ok(earned), Some(rate)) = (self.ledger.earned_per_hour(), self.ledger.rate) else {
            return String::new();
        };
        let (rate_words, difference) = (self.money(rate), Money(earned.0 - rate.0));
        match difference.0.round_dp(2) {
            zero if zero.is_zero() => self.say(says!("account-as-rate", rate = rate_words)),
            less if less.is_sign_negative() => {
                let amount = self.money(Money(-difference.0));
                self.say(says!("account-below-rate", amount = amount, rate = rate_words))
            }
            _ => self.say(says!("account-above-rate", amount = self.money(difference), rate = rate_words)),
        }
    }

    fn line(&self, label: Message, amount: Result<Money, LedgerGap>, how: String) -> LedgerLine {
        self.line_called(self.say(label), amount, how)
    }

    fn line_called(&self, label: String, amount: Result<Money, LedgerGap>, how: String) -> LedgerLine {
        match amount {
            Ok(amount) => LedgerLine { label, amount: self.money(amount), how },
            Err(missing) => {
                let amount = self.say(says!("account-not-known"));
                LedgerLine { label, amount, how: self.say(gap(&missing)) }
            }
        }
    }

    fn sentence(&self) -> String {
        let ledger = self.ledger;
        self.say(match (ledger.margin(), ledger.earned_per_hour(), ledger.price) {
            (Ok(margin), _, Some(_)) if margin.0.is_sign_negative() && !margin.0.is_zero() => {
                says!("account-loss", amount = self.money(Money(-margin.0)))
            }
            (Ok(margin), Ok(each), Some(Price::Paid(_))) => {
                says!("account-left", amount = self.money(margin), hour = self.money(each))
            }
            (Ok(margin), Ok(each), _) => {
                says!("account-leaves", amount = self.money(margin), hour = self.money(each))
            }
            (Ok(margin), Err(_), _) => says!("account-leaves-hours-unknown", amount = self.money(margin)),
            (Err(_), ..) => says!("account-earns-unknown"),
        })
    }

    fn say(&self, message: Message) -> String {
        self.words.say(&message)
    }

    fn money(&self, money: Money) -> String {
        self.words.money(money)
    }

    fn percent(&self, fraction: Decimal) -> String {
        let percent = fraction * Decimal::ONE_HUNDRED;
        let percent = percent.round_dp_with_strategy(1, RoundingStrategy::MidpointAwayFromZero);
        self.say(says!("share-percent", figure = self.words.digits(percent)))
    }
}

/// What a result needs and the records do not say.
fn gap(missing: &LedgerGap) -> Message {
    match missing {
        LedgerGap::Paid => says!("gap-paid"),
        LedgerGap::Amount(what) => says!("gap-amount", what = what.as_str()),
        LedgerGap::Tin(tin) => says!("gap-tin", tin = tin.as_str()),
        LedgerGap::TinPrice(tin) => says!("gap-tin-price", tin = tin.as_str()),
        LedgerGap::Stock(stock) => says!("gap-stock", stock = stock.as_str()),
        LedgerGap::StockPaid(stock) => says!("gap-stock-paid", stock = stock.as_str()),
        LedgerGap::Hours => says!("gap-hours"),
        LedgerGap::Rate => says!("gap-rate"),
        LedgerGap::Price => says!("gap-price"),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::derive::MaterialCost;
    use crate::fields::Share;

    fn money(pence: i64) -> Money {
        Money(Decimal::new(pence, 2))
    }

    fn hours(tenths: i64) -> Option<Hours> {
        Hours::new(Decimal::new(tenths, 1))
    }

    /// The example of `derive::ledger`, reckoned by hand there.
    fn example() -> Ledger {
        let tin = CostOrigin::Tin {
            tin: "varnish".to_owned(),
            share: Share(Decimal::new(25, 2)),
            price: Some(money(2150)),
        };
        let stock = CostOrigin::Stock { paid: Some(money(1200)), pieces: 2 };
        Ledger {
            hours: hours(40),
            estimated: false,
            by_task: vec![
                (Task::Named("gluing".to_owned()), hours(37).expect("hours")),
                (Task::Other, hours(3).expect("hours")),
            ],
            paid: Some(money(3500)),
            materials: vec![
                MaterialCost {
                    what: "hinge screws".to_owned(),
                    origin: CostOrigin::Said,
                    amount: Ok(money(240)),
                },
                MaterialCost {
                    what: "varnish".to_owned(),
                    origin: tin,
                    amount: Ok(Money(Decimal::new(5375, 3))),
                },
                MaterialCost { what: "plywood".to_owned(), origin: stock, amount: Ok(money(600)) },
            ],
            overhead: Overhead::PerHour(money(300)),
            rate: Some(money(1800)),
            price: Some(Price::Paid(money(24000))),
        }
    }

    fn printed(ledger: &Ledger) -> String {
        let sheet = ledger_sheet(ledger, None, &Words::with_currency("GBP"));
        let lines = sheet.spent.iter().chain(&sheet.results);
        lines.map(|line| format!("{} | {} | {}\n", line.label, line.amount, line.how)).collect()
    }

    #[test]
    fn the_example_as_it_is_printed() {
        assert_eq!(
            printed(&example()),
            "The piece itself | £35.00 | \n\
             Hinge screws | £2.40 | \n\
             Varnish | £5.38 | 25 % of the tin “varnish” at £21.50\n\
             Plywood | £6.00 | from stock at £12.00, shared alike by 2 pieces\n\
             Spent | £48.78 | \n\
             Overhead | £12.00 | £3.00 for each hour\n\
             Break-even price, hours unpaid | £60.78 | \n\
             Hours at the workshop's rate | £72.00 | 4 hours at £18.00 an hour\n\
             Price that pays the hours as well | £132.78 | \n\
             Price | £240.00 | \n\
             Left for the hours | £179.23 | 74.7 % of the price\n\
             Earned per hour | £44.81 | £26.81 above the rate of £18.00\n"
        );
        let sheet = ledger_sheet(&example(), None, &Words::with_currency("GBP"));
        assert_eq!(sheet.sentence, "It left £179.23, which is £44.81 an hour.");
        assert_eq!(
            sheet.tasks.iter().map(|task| task.share.as_str()).collect::<Vec<_>>(),
            ["92.5 %", "7.5 %"]
        );
    }

    #[test]
    fn a_loss_is_called_one() {
        let loss = Ledger { price: Some(Price::Asked(money(5000))), ..example() };
        let sheet = ledger_sheet(&loss, None, &Words::with_currency("GBP"));
        assert_eq!(sheet.sentence, "It brings in £10.78 less than it cost.");
    }

    #[test]
    fn what_is_missing_stands_in_the_place_of_the_number() {
        let unpaid = Ledger { paid: None, ..example() };
        let printed = printed(&unpaid);
        let missing = "what was paid for the piece is not recorded; 0 says that it cost nothing";
        assert!(printed.starts_with(&format!("The piece itself | not known | {missing}\n")), "{printed}");
        assert!(printed.contains("Earned per hour | not known | \n"), "{printed}");
        assert_eq!(printed.matches(missing).count(), 1, "{printed}");
        assert!(printed.contains("Spent | at least £13.78 | some of it is not known\n"), "{printed}");
        let sheet = ledger_sheet(&unpaid, None, &Words::with_currency("GBP"));
        assert_eq!(sheet.sentence, "What it earns is not known, since something above is missing.");
    }
}
