//! The ledger of one piece, ready to print; for the archive alone.

use rust_decimal::{Decimal, RoundingStrategy};
use serde::Serialize;

use crate::derive::{CostOrigin, Ledger, LedgerGap, MaterialCost, Overhead, Price};
use crate::unit::{Hours, Money};
use crate::view::shared::reckoning::Reckoning;
use crate::words::{self, UnitFormat};

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
    /// What was spent, row by row.
    pub spent: Vec<LedgerLine>,
    /// Sums and results, from what was spent to what was earned.
    pub results: Vec<LedgerLine>,
    /// What is missing, in sentences.
    pub missing: Vec<String>,
    /// Why printed pennies may seem not to add up.
    pub rounding: String,
    /// Why the results are what they are.
    pub basis: Vec<Reckoning>,
}

/// What the sums rest on.
const OWN: &str = "this workshop's own figures; common practice, no source";

/// Prints a ledger.
pub(super) fn ledger_sheet(ledger: &Ledger, units: &UnitFormat) -> LedgerSheet {
    let printer = LedgerPrinter { ledger, units };
    LedgerSheet {
        sentence: printer.sentence(),
        tasks: printer.tasks(),
        hours: match (ledger.hours, ledger.estimated) {
            (Some(hours), true) => format!("{}, by estimate", words::hours(hours)),
            (Some(hours), false) => words::hours(hours),
            (None, _) => String::new(),
        },
        spent: printer.spent(),
        results: printer.results(),
        missing: ledger.missing().iter().map(|missing| words::sentence(&missing.to_string())).collect(),
        rounding: "Sums are kept exact and rounded only here, so that a penny may seem to be missing."
            .to_owned(),
        basis: printer.basis(),
    }
}

/// A ledger and how its workshop prints money.
struct LedgerPrinter<'a> {
    ledger: &'a Ledger,
    units: &'a UnitFormat,
}

impl LedgerPrinter<'_> {
    fn tasks(&self) -> Vec<TaskShare> {
        let all = self.ledger.hours.unwrap_or_default().count();
        let share = |hours: Hours| hours.count().checked_div(all).map_or_else(String::new, percent);
        let rows = self.ledger.by_task.iter();
        rows.map(|(task, hours)| TaskShare {
            task: words::capital(task),
            hours: words::hours(*hours),
            share: share(*hours),
        })
        .collect()
    }

    fn spent(&self) -> Vec<LedgerLine> {
        let paid = self.line("The piece itself", self.ledger.paid.ok_or(LedgerGap::Paid), String::new());
        let materials = self.ledger.materials.iter().map(|material| {
            let how = self.origin(material);
            self.line(&words::capital(&material.what), material.amount.clone(), how)
        });
        std::iter::once(paid).chain(materials).collect()
    }

    /// How a material's amount comes about.
    fn origin(&self, material: &MaterialCost) -> String {
        match &material.origin {
            CostOrigin::Said => String::new(),
            CostOrigin::Tin { tin, share, price: Some(price) } => {
                format!("{} of the tin `{tin}` at {}", percent(share.0), self.units.money(*price))
            }
            CostOrigin::Tin { tin, share, price: None } => format!("{} of the tin `{tin}`", percent(share.0)),
            CostOrigin::Stock { paid: Some(paid), pieces } if *pieces > 1 => {
                format!("from stock at {}, shared alike by {pieces} pieces", self.units.money(*paid))
            }
            CostOrigin::Stock { .. } => "from stock, used by this piece alone".to_owned(),
        }
    }

    fn results(&self) -> Vec<LedgerLine> {
        let ledger = self.ledger;
        let spent = match ledger.missing().iter().any(|missing| *missing != LedgerGap::Hours) {
            true => LedgerLine {
                label: "Spent".to_owned(),
                amount: format!("at least {}", self.units.money(ledger.spent())),
                how: "some of it is not known".to_owned(),
            },
            false => self.line("Spent", Ok(ledger.spent()), String::new()),
        };
        let overhead = (ledger.overhead != Overhead::None)
            .then(|| self.line("Overhead", ledger.overhead(), self.overhead_words()));
        let price = ledger.price.map(Price::amount).ok_or(LedgerGap::Price);
        let price_label = match ledger.price {
            Some(Price::Asked(_)) => "Price asked",
            _ => "Price",
        };
        let rest = [
            self.line("Break-even price, hours unpaid", ledger.cost(), String::new()),
            self.line("Hours at the workshop's rate", ledger.labour(), self.rate_words()),
            self.line("Price that pays the hours as well", ledger.price_with_wage(), String::new()),
            self.line(price_label, price, String::new()),
            self.line("Left for the hours", ledger.margin(), self.margin_words()),
            self.line("Earned per hour", ledger.earned_per_hour(), self.compared()),
        ];
        std::iter::once(spent).chain(overhead).chain(rest).collect()
    }

    fn basis(&self) -> Vec<Reckoning> {
        let ledger = self.ledger;
        let basis = |figure: &str, amount: Result<Money, LedgerGap>, how: &str| {
            let figure = format!("{figure}: {}", self.units.money(amount.ok()?));
            Some(Reckoning { figure, how: how.to_owned(), source: OWN.to_owned() })
        };
        [
            basis("Break-even price", ledger.cost(), "what was paid, materials and overhead; no wage in it"),
            basis(
                "Price that pays the hours as well",
                ledger.price_with_wage(),
                "the break-even price, and every hour at the workshop's rate",
            ),
            basis("Left for the hours", ledger.margin(), "the price less the break-even price"),
            basis("Earned per hour", ledger.earned_per_hour(), "what is left for the hours, over all hours"),
        ]
        .into_iter()
        .flatten()
        .collect()
    }

    fn overhead_words(&self) -> String {
        match self.ledger.overhead {
            Overhead::None => String::new(),
            Overhead::PerHour(each) => format!("{} for each hour", self.units.money(each)),
            Overhead::Percent(rate) => format!("{} % of what was spent", rate.normalize()),
        }
    }

    fn rate_words(&self) -> String {
        match (self.ledger.rate, self.ledger.hours) {
            (Some(rate), Some(hours)) => {
                format!("{} at {} an hour", words::hours(hours), self.units.money(rate))
            }
            _ => String::new(),
        }
    }

    fn margin_words(&self) -> String {
        self.ledger
            .margin_of_price()
            .map_or_else(|_| String::new(), |share| format!("{} of the price", percent(share)))
    }

    /// What was earned in an hour, beside the workshop's rate.
    fn compared(&self) -> String {
        let (Ok(earned), Some(rate)) = (self.ledger.earned_per_hour(), self.ledger.rate) else {
            return String::new();
        };
        let (rate_words, difference) = (self.units.money(rate), Money(earned.0 - rate.0));
        match difference.0.round_dp(2) {
            zero if zero.is_zero() => format!("the same as the rate of {rate_words}"),
            less if less.is_sign_negative() => {
                format!("{} below the rate of {rate_words}", self.units.money(Money(-difference.0)))
            }
            _ => format!("{} above the rate of {rate_words}", self.units.money(difference)),
        }
    }

    fn line(&self, label: &str, amount: Result<Money, LedgerGap>, how: String) -> LedgerLine {
        let label = label.to_owned();
        match amount {
            Ok(amount) => LedgerLine { label, amount: self.units.money(amount), how },
            Err(missing) => LedgerLine { label, amount: "not known".to_owned(), how: missing.to_string() },
        }
    }

    fn sentence(&self) -> String {
        let ledger = self.ledger;
        match (ledger.margin(), ledger.earned_per_hour(), ledger.price) {
            (Ok(margin), _, Some(_)) if margin.0.is_sign_negative() && !margin.0.is_zero() => {
                format!("It brings in {} less than it cost.", self.units.money(Money(-margin.0)))
            }
            (Ok(margin), Ok(each), Some(Price::Paid(_))) => {
                format!("It left {}, which is {} an hour.", self.units.money(margin), self.units.money(each))
            }
            (Ok(margin), Ok(each), _) => {
                format!(
                    "At the price asked it leaves {}, which is {} an hour.",
                    self.units.money(margin),
                    self.units.money(each)
                )
            }
            (Ok(margin), Err(missing), _) => {
                format!(
                    "It leaves {}; what that is an hour is not known, since {missing}.",
                    self.units.money(margin)
                )
            }
            (Err(missing), _, _) => format!("What it earns is not known: {missing}."),
        }
    }
}

/// A fraction as a percentage with at most one decimal, halves rounded away from zero.
fn percent(fraction: Decimal) -> String {
    let rounded =
        (fraction * Decimal::ONE_HUNDRED).round_dp_with_strategy(1, RoundingStrategy::MidpointAwayFromZero);
    format!("{} %", rounded.normalize())
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
                ("gluing".to_owned(), hours(37).expect("hours")),
                ("other work".to_owned(), hours(3).expect("hours")),
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
        let sheet = ledger_sheet(ledger, &UnitFormat::with_currency("GBP"));
        let lines = sheet.spent.iter().chain(&sheet.results);
        lines.map(|line| format!("{} | {} | {}\n", line.label, line.amount, line.how)).collect()
    }

    #[test]
    fn the_example_as_it_is_printed() {
        assert_eq!(
            printed(&example()),
            "The piece itself | £35.00 | \n\
             Hinge screws | £2.40 | \n\
             Varnish | £5.38 | 25 % of the tin `varnish` at £21.50\n\
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
        let sheet = ledger_sheet(&example(), &UnitFormat::with_currency("GBP"));
        assert_eq!(sheet.sentence, "It left £179.23, which is £44.81 an hour.");
        assert_eq!(
            sheet.tasks.iter().map(|task| task.share.as_str()).collect::<Vec<_>>(),
            ["92.5 %", "7.5 %"]
        );
        assert_eq!(sheet.missing, Vec::<String>::new());
    }

    #[test]
    fn a_loss_is_called_one() {
        let loss = Ledger { price: Some(Price::Asked(money(5000))), ..example() };
        let sheet = ledger_sheet(&loss, &UnitFormat::with_currency("GBP"));
        assert_eq!(sheet.sentence, "It brings in £10.78 less than it cost.");
    }

    #[test]
    fn what_is_missing_stands_in_the_place_of_the_number() {
        let unpaid = Ledger { paid: None, ..example() };
        let printed = printed(&unpaid);
        let missing = "what was paid for the piece is not recorded (`paid = 0` says that nothing was)";
        assert!(printed.contains(&format!("Earned per hour | not known | {missing}\n")), "{printed}");
        assert!(printed.contains("Spent | at least £13.78 | some of it is not known\n"), "{printed}");
    }
}
