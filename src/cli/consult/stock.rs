//! `consult stock`: what there was, what is left, and where the rest went.

use rust_decimal::Decimal;

use super::Context;
use crate::archive::{ArchiveFault, StockAnswer, StockLine, StockUse, TinLine};
use crate::cli::sheet::{Cell, Row, Sheet, Table};
use crate::cli::words::count;

pub(super) fn stock(context: &Context<'_>, id: Option<&str>) -> Result<Sheet, ArchiveFault> {
    let answer = context.asking.stock(id)?;
    let uses = |line: &StockLine| line.uses.clone();
    let pieces =
        answer.stock.iter().flat_map(uses).chain(answer.tins.iter().flat_map(|tin| tin.uses.clone()));
    Ok(Sheet {
        asked: id.map_or_else(|| "What is in stock".to_owned(), |id| format!("What is in stock of \"{id}\"")),
        said: said(&answer, id),
        answered: !answer.stock.is_empty() || !answer.tins.is_empty(),
        pieces: pieces.map(|used| used.piece).collect(),
        tables: vec![
            Table {
                name: "stock",
                heading: "Kept for later".to_owned(),
                columns: &[
                    "id",
                    "what",
                    "origin",
                    "paid",
                    "count",
                    "unit",
                    "used",
                    "used-is-all",
                    "left",
                    "note",
                ],
                rows: answer.stock.iter().map(|line| stock_row(line, context)).collect(),
                shown: &[],
            },
            Table {
                name: "stock-uses",
                heading: String::new(),
                columns: &["id", "piece", "parts", "used", "bears"],
                rows: answer
                    .stock
                    .iter()
                    .flat_map(|line| line.uses.iter().map(|used| use_row(&line.id, used)))
                    .collect(),
                shown: &[],
            },
            Table {
                name: "tins",
                heading: "Tins, as shares of a full one".to_owned(),
                columns: &["id", "what", "litres", "price", "used-least", "used-most", "used-is-all"],
                rows: answer.tins.iter().map(|tin| tin_row(tin, context)).collect(),
                shown: &[],
            },
            Table {
                name: "tin-uses",
                heading: String::new(),
                columns: &["id", "piece", "used-least", "used-most", "recorded", "bears"],
                rows: answer
                    .tins
                    .iter()
                    .flat_map(|tin| tin.uses.iter().map(|used| tin_use_row(&tin.id, used)))
                    .collect(),
                shown: &[],
            },
        ],
    })
}

fn said(answer: &StockAnswer, id: Option<&str>) -> Vec<String> {
    match (answer.stock.is_empty() && answer.tins.is_empty(), id) {
        (false, _) => Vec::new(),
        (true, None) => vec!["Neither stock.toml nor workshop.toml names any.".to_owned()],
        (true, Some(_)) => {
            let near = if answer.near.is_empty() {
                String::new()
            } else {
                format!(" Perhaps {}?", answer.near.join(", "))
            };
            let looked = count(answer.looked_through, "item or tin was", "items and tins were");
            vec![format!("There is none of that name: {looked} looked through.{near}")]
        }
    }
}

/// A quantity with its unit.
fn quantity(number: Decimal, unit: Option<&str>) -> String {
    format!("{} {}", Cell::hours(number).shown(), unit.unwrap_or("pieces"))
}

fn stock_row(line: &StockLine, context: &Context<'_>) -> Row {
    let (used, is_all) = line.used();
    let unit = line.unit.as_deref();
    let mut told = vec![format!("{}: {}", line.id, line.what)];
    told.extend(line.origin.iter().map(|origin| format!("    from {origin}")));
    let at_most = if is_all { "" } else { "at most " };
    told.push(match (line.count, line.left()) {
        (Some(count), Some(left)) if left < Decimal::ZERO => {
            format!(
                "    {} recorded, {} used: more than there was",
                quantity(count, unit),
                quantity(used, unit)
            )
        }
        (Some(count), Some(left)) => format!(
            "    {} recorded, {} used, {at_most}{} left",
            quantity(count, unit),
            quantity(used, unit),
            quantity(left, unit)
        ),
        _ => {
            "    How much there was is not recorded (`count`, and `unit` where it is not pieces).".to_owned()
        }
    });
    for used in &line.uses {
        let much =
            used.most.map_or_else(|| "how much is not recorded".to_owned(), |much| quantity(much, unit));
        let bears = used
            .bears
            .map_or_else(String::new, |bears| format!("; bears {} of its price", context.money(bears)));
        told.push(format!("    {} {}: {} ({much}{bears})", used.piece.number, used.piece.title, used.parts));
    }
    if let Some(paid) = line.paid {
        told.push(format!("    It cost {}, which its pieces bear in equal parts.", context.money(paid)));
    }
    told.extend(line.note.iter().map(|note| format!("    {note}")));
    told.push(String::new());
    Row {
        told,
        cells: vec![
            Cell::Text(line.id.clone()),
            Cell::Text(line.what.clone()),
            Cell::maybe(line.origin.clone(), Cell::Text),
            Cell::maybe(line.paid, Cell::money),
            Cell::maybe(line.count, Cell::hours),
            Cell::maybe(line.unit.clone(), Cell::Text),
            Cell::hours(used),
            Cell::Is(is_all),
            Cell::maybe(line.left(), Cell::hours),
            Cell::maybe(line.note.clone(), Cell::Text),
        ],
    }
}

fn use_row(id: &str, used: &StockUse) -> Row {
    Row {
        told: Vec::new(),
        cells: vec![
            Cell::Text(id.to_owned()),
            Cell::Piece(used.piece.clone()),
            Cell::Text(used.parts.clone()),
            Cell::maybe(used.most, Cell::hours),
            Cell::maybe(used.bears, Cell::money),
        ],
    }
}

/// A share of a tin, from the least to the most.
fn share(least: Option<Decimal>, most: Option<Decimal>) -> String {
    let shown = |share: Decimal| Cell::hours(share).shown();
    match (least, most) {
        (Some(least), Some(most)) if shown(least) == shown(most) => shown(most),
        (Some(least), Some(most)) => format!("{} to {}", shown(least), shown(most)),
        _ => "how much is not known".to_owned(),
    }
}

fn tin_row(tin: &TinLine, context: &Context<'_>) -> Row {
    let (least, most, is_all) = tin.used();
    let mut told = vec![format!("{}: {}", tin.id, tin.name)];
    let price = tin
        .price
        .map_or_else(|| "no price recorded".to_owned(), |price| format!("{} full", context.money(price)));
    let more = if is_all { "" } else { ", and some of which it is not known how much" };
    told.push(format!("    {} tins used{more}; {price}", share(Some(least), Some(most))));
    for used in &tin.uses {
        let known = if used.recorded { "recorded" } else { "reckoned from the area" };
        let bears = used.bears.map_or_else(String::new, |bears| format!("; {}", context.money(bears)));
        told.push(format!(
            "    {} {}: {} ({known}{bears})",
            used.piece.number,
            used.piece.title,
            share(used.least, used.most)
        ));
    }
    told.push(String::new());
    Row {
        told,
        cells: vec![
            Cell::Text(tin.id.clone()),
            Cell::Text(tin.name.clone()),
            Cell::maybe(tin.litres, Cell::hours),
            Cell::maybe(tin.price, Cell::money),
            Cell::hours(least),
            Cell::hours(most),
            Cell::Is(is_all),
        ],
    }
}

fn tin_use_row(id: &str, used: &StockUse) -> Row {
    Row {
        told: Vec::new(),
        cells: vec![
            Cell::Text(id.to_owned()),
            Cell::Piece(used.piece.clone()),
            Cell::maybe(used.least, Cell::hours),
            Cell::maybe(used.most, Cell::hours),
            Cell::Is(used.recorded),
            Cell::maybe(used.bears, Cell::money),
        ],
    }
}
