//! Stock: what is left of tins and timber, and into which pieces the rest went.

use rust_decimal::Decimal;
use rust_decimal::prelude::ToPrimitive;
use serde::Serialize;

use super::across::{Across, PieceLink};
use crate::archive::{ArchiveFault, StockLine, StockUse, TinLine};
use crate::claim::says;
use crate::words::capital;

/// What is left of tins and timber.
#[derive(Debug, Clone, Serialize)]
pub struct StockPage {
    /// Tins.
    pub tins: Vec<StockRow>,
    /// Timber, board, fittings and whatever else is kept.
    pub items: Vec<StockRow>,
}

/// One tin, or one item of stock.
#[derive(Debug, Clone, Serialize)]
pub struct StockRow {
    /// Its id.
    pub id: String,
    /// What it is.
    pub what: String,
    /// What there was, what it cost and where it came from; may be empty.
    pub about: String,
    /// Notes; may be empty.
    pub note: String,
    /// What is left, in words.
    pub left: String,
    /// The same drawn; none where it is not known.
    pub level: Option<Level>,
    /// Where it went.
    pub uses: Vec<UsedRow>,
}

/// What is left, out of a hundred.
#[derive(Debug, Clone, Serialize)]
pub struct Level {
    /// At least so much.
    pub least: i64,
    /// At most so much.
    pub most: i64,
}

/// What one piece took.
#[derive(Debug, Clone, Serialize)]
pub struct UsedRow {
    /// The piece.
    pub piece: PieceLink,
    /// For which parts; may be empty.
    pub parts: String,
    /// How much.
    pub took: String,
    /// What of the price falls to it; may be empty.
    pub bears: String,
}

pub(super) fn stock_page(across: &Across<'_>) -> Result<StockPage, ArchiveFault> {
    let answer = across.asking.stock(None)?;
    Ok(StockPage {
        tins: answer.tins.iter().map(|tin| tin_row(across, tin)).collect(),
        items: answer.stock.iter().map(|item| item_row(across, item)).collect(),
    })
}

fn tin_row(across: &Across<'_>, tin: &TinLine) -> StockRow {
    let (least, most, all) = tin.used();
    let left = [Decimal::ONE - most, Decimal::ONE - least].map(|left| left.max(Decimal::ZERO));
    let known = all && most <= Decimal::ONE;
    let percent = |share: Decimal| (share * Decimal::ONE_HUNDRED).round();
    let said = match (known, all, tin.litres) {
        (true, _, Some(litres)) => {
            says!("left-litres", litres = across.span(left[0] * litres, left[1] * litres))
        }
        (true, _, None) => says!("left-share", share = across.span(percent(left[0]), percent(left[1]))),
        (false, true, _) => says!("left-more-than-one", tins = across.span(least, most)),
        (false, false, _) => says!("left-not-known-tin"),
    };
    let litres = tin.litres.map(|litres| across.say(says!("unit-l", figure = across.digits(litres))));
    let about: Vec<String> = litres.into_iter().chain(tin.price.map(|price| across.money(price))).collect();
    let took = |used: &StockUse| match (used.least.zip(used.most), tin.litres) {
        (Some((low, high)), Some(litres)) => {
            across.say(says!("unit-l", figure = across.span(low * litres, high * litres)))
        }
        (Some((low, high)), None) => {
            across.say(says!("share-percent", figure = across.span(percent(low), percent(high))))
        }
        (None, _) => across.say(says!("account-not-known")),
    };
    StockRow {
        id: tin.id.clone(),
        what: capital(&tin.name.replace('-', " ")),
        about: across.words.series(&about),
        note: String::new(),
        left: across.say(said),
        level: known.then(|| level(left[0], left[1])),
        uses: tin.uses.iter().map(|used| used_row(across, used, took(used))).collect(),
    }
}

fn item_row(across: &Across<'_>, item: &StockLine) -> StockRow {
    let (used, all) = item.used();
    let counted = |figure: Decimal| match &item.unit {
        Some(unit) => {
            across.say(says!("stock-of-unit", figure = across.digits(figure), unit = unit.as_str()))
        }
        None => across.digits(figure),
    };
    let left = match (item.left(), all) {
        (Some(left), _) if left.is_sign_negative() && !left.is_zero() => {
            says!("left-below-nothing", used = counted(used))
        }
        (Some(left), true) => says!("left-of", left = counted(left)),
        (Some(left), false) => says!("left-at-most", left = counted(left)),
        (None, _) => says!("left-not-known"),
    };
    let drawn = item
        .left()
        .zip(item.count)
        .filter(|(left, count)| count.is_sign_positive() && !count.is_zero() && !left.is_sign_negative());
    let about = [
        item.count.map(counted),
        item.origin.as_ref().map(|origin| across.said(origin)),
        item.paid.map(|paid| across.money(paid)),
    ];
    let took = |used: &StockUse| used.most.map_or_else(|| across.say(says!("account-not-known")), counted);
    StockRow {
        id: item.id.clone(),
        what: capital(&across.said(&item.what)),
        about: across.words.series(&about.into_iter().flatten().collect::<Vec<_>>()),
        note: item.note.as_ref().map_or(String::new(), |note| across.said(note)),
        left: across.say(left),
        level: drawn.map(|(left, count)| level(if all { left / count } else { Decimal::ZERO }, left / count)),
        uses: item.uses.iter().map(|used| used_row(across, used, took(used))).collect(),
    }
}

/// Shares of a whole, as they are drawn.
fn level(least: Decimal, most: Decimal) -> Level {
    let percent = |share: Decimal| (share * Decimal::ONE_HUNDRED).round().to_i64().unwrap_or(0).clamp(0, 100);
    Level { least: percent(least), most: percent(most) }
}

fn used_row(across: &Across<'_>, used: &StockUse, took: String) -> UsedRow {
    UsedRow {
        piece: across.link(&used.piece, "ledger"),
        parts: across.said(&used.parts),
        took,
        bears: across.maybe_money(used.bears),
    }
}
