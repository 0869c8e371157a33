//! `consult quote`: what a new piece is likely to take.

use clap::Args;
use rust_decimal::Decimal;

use super::time::{spread, spread_cells};
use super::{Context, hours};
use crate::archive::{ArchiveFault, Case, PieceName, QuoteAnswer, QuotedTask, Spread, Worth};
use crate::cli::sheet::{Cell, Row, Sheet, Table};
use crate::cli::words::count;
use crate::derive::Overhead;

/// What is asked of the price.
#[derive(Debug, Args)]
pub(super) struct Price {
    /// What an hour is to earn beyond overhead; else the workshop's hourly-rate
    #[arg(long, value_name = "AMOUNT", value_parser = amount, allow_hyphen_values = true)]
    earn: Option<Decimal>,
    /// What it is likely to be sold for: says the most to pay for it
    #[arg(long, value_name = "AMOUNT", value_parser = amount, allow_hyphen_values = true)]
    sell: Option<Decimal>,
    /// What is paid for it: says what to ask for it
    #[arg(long, value_name = "AMOUNT", value_parser = amount, allow_hyphen_values = true)]
    pay: Option<Decimal>,
}

/// An amount of money that is none below nothing.
fn amount(typed: &str) -> Result<Decimal, String> {
    match typed.trim().parse::<Decimal>() {
        Ok(amount) if !amount.is_sign_negative() && amount < Decimal::from(1_000_000_000) => Ok(amount),
        _ => Err("write an amount in the workshop's currency, such as 240 or 12.50".to_owned()),
    }
}

pub(super) fn quote(
    context: &Context<'_>,
    kind: &str,
    tasks: &[String],
    price: &Price,
) -> Result<Sheet, ArchiveFault> {
    let answer = context.asking.quote(kind, tasks)?;
    let mut rows = Vec::new();
    if let Some(hours) = answer.hours.filter(|_| answer.tasks.is_empty()) {
        rows.push(row("the whole piece", &hours, true));
    }
    rows.extend(answer.tasks.iter().filter_map(|task| Some(row(&task.task, &task.hours?, task.of_kind))));
    let materials = answer.materials.map(|spread| {
        let cells = [spread.least, spread.lower, spread.median, spread.upper, spread.most].map(Cell::money);
        Row { cells: std::iter::once(Cell::Count(spread.count)).chain(cells).collect(), told: Vec::new() }
    });
    let answered = answer.expected().is_some() || answer.materials.is_some();
    let pieces: Vec<PieceName> = match answer.tasks.is_empty() {
        true => answer.pieces.clone(),
        false => {
            answer.tasks.iter().flat_map(|task| task.pieces.clone()).chain(answer.pieces.clone()).collect()
        }
    };
    Ok(Sheet {
        asked: match tasks {
            [] => format!("What a piece of the kind \"{kind}\" is likely to take"),
            tasks => {
                format!("What a piece of the kind \"{kind}\" is likely to take for {}", tasks.join(", "))
            }
        },
        said: said(&answer, context).into_iter().chain(priced(&answer, price, context)).collect(),
        answered,
        pieces: if answered { pieces } else { Vec::new() },
        tables: vec![
            Table {
                name: "hours",
                heading: "Hours for a piece".to_owned(),
                columns: &[
                    "task",
                    "of-kind",
                    "pieces",
                    "least",
                    "lower-quartile",
                    "median",
                    "upper-quartile",
                    "most",
                ],
                rows,
                shown: &[
                    (0, "task"),
                    (1, "of kind"),
                    (2, "pieces"),
                    (3, "least"),
                    (4, "lower ¼"),
                    (5, "median"),
                    (6, "upper ¼"),
                    (7, "most"),
                ],
            },
            Table {
                name: "materials",
                heading: "Materials for a piece, beyond what was paid for it".to_owned(),
                columns: &["pieces", "least", "lower-quartile", "median", "upper-quartile", "most"],
                rows: materials.into_iter().collect(),
                shown: &[
                    (0, "pieces"),
                    (1, "least"),
                    (2, "lower ¼"),
                    (3, "median"),
                    (4, "upper ¼"),
                    (5, "most"),
                ],
            },
            Table {
                name: "price",
                heading: "If it takes".to_owned(),
                columns: &["of-what-to-expect", "hours", "materials", "pay-at-most", "ask-at-least"],
                rows: price_rows(&answer, price),
                shown: &[(0, ""), (1, "hours"), (2, "materials"), (3, "pay at most"), (4, "ask at least")],
            },
        ],
    })
}

/// What it is worth at what an hour is to earn, where a price is asked about and enough is known.
fn worth(answer: &QuoteAnswer, price: &Price) -> Option<Worth> {
    let asked = price.earn.or(price.sell).or(price.pay).is_some();
    answer.worth(price.earn.or(answer.rate)?).filter(|_| asked)
}

fn price_rows(answer: &QuoteAnswer, price: &Price) -> Vec<Row> {
    let Some(worth) = worth(answer, price) else { return Vec::new() };
    let pay = price.sell.map(|sell| worth.pay(sell));
    let ask = worth.ask(price.pay.unwrap_or_default());
    let row = |at: usize, name: &str| {
        let Case { hours, materials } = worth.cases[at];
        let cells = vec![
            Cell::Text(name.to_owned()),
            Cell::hours(hours),
            Cell::money(materials),
            Cell::maybe(pay, |pay| Cell::money(pay[at])),
            Cell::money(ask[at]),
        ];
        Row { cells, told: Vec::new() }
    };
    vec![row(0, "the least"), row(1, "the middle"), row(2, "the most")]
}

/// What may be paid and what must be asked, in sentences, with what would have to be true.
fn priced(answer: &QuoteAnswer, price: &Price, context: &Context<'_>) -> Vec<String> {
    if price.earn.or(price.sell).or(price.pay).is_none() {
        return Vec::new();
    }
    let Some(earn) = price.earn.or(answer.rate) else {
        return vec!["What may be paid depends on what an hour is to earn: say it with --earn, or as hourly-rate in workshop.toml.".to_owned()];
    };
    let Some(worth) = worth(answer, price) else {
        return vec![
            "No price can be told, since the hours or the materials of such pieces are not on record."
                .to_owned(),
        ];
    };
    let money = |amount: Decimal| context.money(amount);
    let overhead = match worth.overhead {
        Overhead::None => String::new(),
        Overhead::PerHour(each) => format!(" and {} of overhead", money(each.0)),
        Overhead::Percent(percent) => {
            format!(", with {} % of overhead on what is spent", percent.normalize())
        }
    };
    let mut said = Vec::new();
    if !answer.tasks.is_empty() {
        said.push("The materials are those of whole pieces, not of these tasks alone.".to_owned());
    }
    let middle = worth.cases[1].materials;
    let holds = |paid: Decimal, sell: Decimal| {
        let most = worth.hours(paid, sell)?;
        Some(match most.is_zero() {
            true => "no hour of it is paid for".to_owned(),
            false => format!(
                "it may take {} at most, with {} of materials, and must bring {}",
                hours(most),
                money(middle),
                money(sell)
            ),
        })
    };
    if let Some(sell) = price.sell {
        let [most, likely, least] = worth.pay(sell);
        let earning = format!("{} an hour{overhead}", money(earn));
        match likely >= Decimal::ZERO {
            true => {
                let far = match (least == most, least >= Decimal::ZERO) {
                    (true, _) => String::new(),
                    (_, true) => format!(
                        ", {} if it takes the most and {} if it takes the least",
                        money(least),
                        money(most)
                    ),
                    (_, false) => format!(
                        ", nothing at all if it takes the most and {} if it takes the least",
                        money(most)
                    ),
                };
                let (sell, likely) = (money(sell), money(likely));
                said.push(format!("To earn {earning}, sold for {sell}: pay {likely} at most{far}."));
            }
            false => {
                let unless = match most >= Decimal::ZERO {
                    true => format!(", unless it takes the least: then pay {} at most", money(most)),
                    false => String::new(),
                };
                let sell = money(sell);
                said.push(format!(
                    "Sold for {sell} it does not earn {earning}, even where nothing is paid for it{unless}."
                ));
            }
        }
        let (paid, lead) = match price.pay {
            Some(paid) => (paid, format!("Paid {}", money(paid))),
            None if likely > Decimal::ZERO => (likely, format!("Paid {}", money(likely))),
            None => (Decimal::ZERO, "Even given".to_owned()),
        };
        said.extend(holds(paid, sell).map(|holds| format!("{lead}, {holds}.")));
    }
    let [least, likely, most] = worth.ask(price.pay.unwrap_or_default());
    let lead = match price.pay {
        Some(paid) => format!("Paid {}", money(paid)),
        None => "Without what is paid for it".to_owned(),
    };
    let far = match least == most {
        true => String::new(),
        false => format!(", from {} to {} as the hours fall", money(least), money(most)),
    };
    said.push(format!("{lead}, an asking price of {} pays the hours{far}.", money(likely)));
    said
}

fn row(task: &str, hours: &Spread, of_kind: bool) -> Row {
    let lead = [Cell::Text(task.to_owned()), Cell::Is(of_kind)];
    Row { cells: lead.into_iter().chain(spread_cells(hours)).collect(), told: Vec::new() }
}

/// From one amount to another, where they are two.
fn span(context: &Context<'_>, low: Decimal, high: Decimal) -> String {
    match low == high {
        true => context.money(low),
        false => format!("{} to {}", context.money(low), context.money(high)),
    }
}

fn said(answer: &QuoteAnswer, context: &Context<'_>) -> Vec<String> {
    if answer.looked_through == 0 {
        return vec!["There is no piece in the archive yet.".to_owned()];
    }
    let mut said = Vec::new();
    match &answer.by {
        Some(by) if *by == answer.kind => {}
        Some(by) => {
            said.push(format!("Too few pieces are of just that kind, so these are all of the kind \"{by}\"."))
        }
        None => said.push(format!(
            "No piece is of that kind; these are all {}.",
            count(answer.looked_through, "piece", "pieces")
        )),
    }
    for QuotedTask { task, hours, of_kind, .. } in &answer.tasks {
        match hours {
            None => said.push(format!("For \"{task}\" no hours are on record, so no sum can be given.")),
            Some(_) if !of_kind => said.push(format!("\"{task}\" is reckoned by pieces of all kinds.")),
            Some(_) => {}
        }
    }
    match answer.expected() {
        Some((low, middle, high)) => {
            let behind = match answer.hours.filter(|_| answer.tasks.is_empty()) {
                Some(whole) => format!(" ({})", spread(&whole)),
                None => String::new(),
            };
            said.push(match low == high {
                true => format!("Expect {}{behind}.", hours(high)),
                false => format!(
                    "Expect {} to {}, {} in the middle{behind}.",
                    Cell::hours(low).shown(),
                    hours(high),
                    Cell::hours(middle).shown()
                ),
            });
            if let Some(rate) = answer.rate {
                let that = span(context, low * rate, high * rate);
                said.push(format!("At {} an hour that is {that}.", context.money(rate)));
            }
        }
        None if answer.tasks.is_empty() => said.push("No hours are recorded for any of them.".to_owned()),
        None => {}
    }
    match answer.materials {
        Some(materials) => {
            let (low, high) = materials.likely();
            let middle = match low == high {
                true => String::new(),
                false => format!(", {} in the middle", context.money(materials.median)),
            };
            said.push(format!("Materials: {}{middle}.", span(context, low, high)));
        }
        None => said
            .push("No piece of them has all of its costs on record, so materials cannot be told.".to_owned()),
    }
    if !answer.often.is_empty() {
        let often: Vec<String> =
            answer.often.iter().map(|(what, pieces)| format!("{what} ({pieces})")).collect();
        said.push(format!("Bought for them: {}.", often.join(", ")));
    }
    said
}
