//! `consult money`: what was taken, spent and earned.

use rust_decimal::Decimal;

use super::{Context, all_kinds, hours};
use crate::archive::{ArchiveFault, MoneyAnswer, MoneyRow};
use crate::cli::sheet::{Cell, Row, Sheet, Table};
use crate::cli::words::count;
use crate::unit::calendar::MONTHS;

const COLUMNS: &[&str] = &["of", "sold", "taken", "spent", "hours", "margin", "earned-per-hour"];
const SHOWN: &[(usize, &str)] =
    &[(0, ""), (1, "sold"), (2, "taken"), (3, "spent"), (4, "hours"), (5, "margin"), (6, "an hour")];

/// How many pieces are told, where not all are asked for.
const MOST: usize = 20;

pub(super) fn money(context: &Context<'_>, year: Option<i32>, all: bool) -> Result<Sheet, ArchiveFault> {
    let answer = context.asking.money(year)?;
    let time = |time: &u32| match answer.year {
        Some(_) => MONTHS.get(*time as usize - 1).map_or_else(String::new, |month| (*month).to_owned()),
        None => time.to_string(),
    };
    let most = if all { usize::MAX } else { MOST };
    let by_piece = answer.by_piece.iter().take(most).map(|(piece, money)| Row {
        cells: std::iter::once(Cell::Piece(piece.clone())).chain(cells(money)).collect(),
        told: Vec::new(),
    });
    let unsold = answer.unsold.iter().take(most).map(|unsold| Row {
        cells: vec![
            Cell::Piece(unsold.piece.clone()),
            Cell::Text(unsold.piece.title.clone()),
            Cell::money(unsold.spent),
            Cell::Is(unsold.spent_is_all),
            Cell::maybe(unsold.asking, Cell::money),
        ],
        told: Vec::new(),
    });
    Ok(Sheet {
        asked: answer.year.map_or_else(|| "Money of all years".to_owned(), |year| format!("Money of {year}")),
        said: said(&answer, context),
        answered: !answer.by_piece.is_empty() || !answer.unsold.is_empty(),
        pieces: answer
            .by_piece
            .keys()
            .cloned()
            .chain(answer.unsold.iter().map(|unsold| unsold.piece.clone()))
            .collect(),
        tables: vec![
            Table {
                name: if answer.year.is_some() { "months" } else { "years" },
                heading: if answer.year.is_some() { "By month" } else { "By year" }.to_owned(),
                columns: COLUMNS,
                rows: answer.by_time.iter().map(|(at, money)| row(&time(at), money)).collect(),
                shown: SHOWN,
            },
            Table {
                name: "kinds",
                heading: "By kind".to_owned(),
                columns: COLUMNS,
                rows: answer.by_sort.iter().map(|(sort, money)| row(&all_kinds(sort), money)).collect(),
                shown: SHOWN,
            },
            Table {
                name: "pieces",
                heading: "By piece".to_owned(),
                columns: &["piece", "sold", "taken", "spent", "hours", "margin", "earned-per-hour"],
                rows: by_piece.collect(),
                shown: SHOWN,
            },
            Table {
                name: "unsold",
                heading: "Still here, at what was spent".to_owned(),
                columns: &["piece", "title", "spent", "spent-is-all", "asking"],
                rows: unsold.collect(),
                shown: &[(0, ""), (1, "piece"), (2, "spent"), (3, "all known"), (4, "asking")],
            },
        ],
    })
}

fn cells(money: &MoneyRow) -> Vec<Cell> {
    let earned = (money.earned.pieces > 0).then_some(&money.earned);
    vec![
        Cell::Count(money.sold),
        Cell::money(money.taken),
        Cell::money(money.spent),
        Cell::hours(money.hours),
        Cell::maybe(earned, |earned| Cell::money(earned.margin)),
        Cell::maybe(money.earned.per_hour(), Cell::money),
    ]
}

fn row(of: &str, money: &MoneyRow) -> Row {
    Row { cells: std::iter::once(Cell::Text(of.to_owned())).chain(cells(money)).collect(), told: Vec::new() }
}

fn said(answer: &MoneyAnswer, context: &Context<'_>) -> Vec<String> {
    let whole = &answer.whole;
    if answer.by_piece.is_empty() {
        let unsold = if answer.unsold.is_empty() {
            String::new()
        } else {
            format!(" {} still here.", count(answer.unsold.len(), "piece is", "pieces are"))
        };
        return vec![format!(
            "Nothing was taken, spent or worked: {} looked through.{unsold}",
            count(answer.pieces, "piece was", "pieces were")
        )];
    }
    let mut said = vec![format!(
        "Taken {} for {}; spent {}; worked {}.",
        context.money(whole.taken),
        count(whole.sold, "piece", "pieces"),
        context.money(whole.spent),
        hours(whole.hours)
    )];
    match whole.earned.per_hour() {
        Some(per_hour) => said.push(format!(
            "Earned {} an hour on {}, over all hours that went into {}.",
            context.money(per_hour),
            count(whole.earned.pieces, "piece that left", "pieces that left"),
            if whole.earned.pieces == 1 { "it" } else { "them" }
        )),
        None if whole.sold > 0 => said.push("What was earned an hour cannot be told: of no piece that left are price, costs and hours all recorded.".to_owned()),
        None => {}
    }
    let unsold: Decimal = answer.unsold.iter().map(|unsold| unsold.spent).sum();
    if !answer.unsold.is_empty() {
        said.push(format!(
            "{} still here, on which {} was spent.",
            count(answer.unsold.len(), "piece is", "pieces are"),
            context.money(unsold)
        ));
    }
    if answer.undated > 0 {
        said.push(format!(
            "{} no day and {} on the day of the piece's last work.",
            count(answer.undated, "amount or span of hours has", "amounts and spans of hours have"),
            if answer.undated == 1 { "counts" } else { "count" }
        ));
    }
    if answer.dayless > 0 {
        said.push(format!(
            "{} nowhere, since the piece has no day at all.",
            count(answer.dayless, "amount counts", "amounts count")
        ));
    }
    if answer.without_amount > 0 {
        said.push(format!(
            "{} not known and missing here (all years).",
            count(answer.without_amount, "amount is", "amounts are")
        ));
    }
    if !answer.without_price.is_empty() {
        let numbers: Vec<&str> = answer.without_price.iter().map(|piece| piece.number.as_str()).collect();
        said.push(format!("Left for a price that is not recorded: {}.", numbers.join(", ")));
    }
    said
}
