//! The year: what was taken, spent and earned, by month, kind and piece.

use std::collections::BTreeSet;

use chrono::{Datelike, NaiveDate};
use rust_decimal::Decimal;
use rust_decimal::prelude::ToPrimitive;
use serde::Serialize;

use super::across::{Across, PieceLink};
use crate::archive::{ArchiveFault, MoneyAnswer, MoneyRow, Unsold};
use crate::claim::says;
use crate::view::shared::fact::Fact;
use crate::words::capital;

/// How high the drawing of the months is, above and below its line.
const HIGH: i64 = 100;

/// What was taken, spent and earned in one year, or in all.
#[derive(Debug, Clone, Serialize)]
pub struct YearPage {
    /// The year, or that it is all of them.
    pub title: String,
    /// The years that have a page, the newest first, and all of them together.
    pub years: Vec<YearLink>,
    /// The sums.
    pub sums: Vec<Fact>,
    /// What the sums do not hold, in sentences.
    pub gaps: Vec<String>,
    /// Month by month, or year by year.
    pub months: Vec<Month>,
    /// Whether those are years.
    pub of_all: bool,
    /// By kind of piece.
    pub kinds: Vec<MoneyLine>,
    /// By piece, those that brought in most first.
    pub pieces: Vec<MoneyLine>,
    /// What is still there today.
    pub unsold: Vec<UnsoldRow>,
}

/// The way to the page of a year.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct YearLink {
    /// Its words.
    pub label: String,
    /// Its page.
    pub href: String,
    /// Whether it is this page.
    pub current: bool,
}

/// A month, or a year.
#[derive(Debug, Clone, Serialize)]
pub struct Month {
    /// What it brought.
    #[serde(flatten)]
    pub line: MoneyLine,
    /// How high what was taken is drawn.
    pub taken_high: i64,
    /// How deep what was spent is drawn.
    pub spent_deep: i64,
}

/// Money of one row; what is nothing is empty.
#[derive(Debug, Clone, Serialize)]
pub struct MoneyLine {
    /// What it is of.
    pub of: String,
    /// The piece, where it is of one.
    pub piece: Option<PieceLink>,
    /// How many pieces left.
    pub sold: String,
    /// Taken.
    pub taken: String,
    /// Spent.
    pub spent: String,
    /// Hours.
    pub hours: String,
    /// What each hour of the pieces that left earned.
    pub earned: String,
}

/// A piece that is still there.
#[derive(Debug, Clone, Serialize)]
pub struct UnsoldRow {
    /// The piece.
    pub piece: PieceLink,
    /// What was paid for it and spent on it.
    pub spent: String,
    /// The price asked; may be empty.
    pub asking: String,
}

/// The pages of all years, each with its file; the newest year is the one that is opened.
pub(super) fn year_pages(across: &Across<'_>) -> Result<Vec<(String, YearPage)>, ArchiveFault> {
    let all = across.asking.money(None)?;
    let known = all.by_time.keys().filter_map(|year| i32::try_from(*year).ok());
    let years: BTreeSet<i32> = known.chain(all.by_time.is_empty().then(|| across.today.year())).collect();
    let newest = years.last().copied();
    let file = |year: Option<i32>| match year {
        year if year == newest => "year.html".to_owned(),
        Some(year) => format!("year-{year}.html"),
        None => "years.html".to_owned(),
    };
    let offered: Vec<Option<i32>> = match years.len() {
        1 => vec![newest],
        _ => years.iter().rev().copied().map(Some).chain([None]).collect(),
    };
    let label =
        |year: Option<i32>| year.map_or_else(|| across.say(says!("years-all")), |year| year.to_string());
    let mut pages = Vec::new();
    for year in &offered {
        let links = offered.iter().map(|other| YearLink {
            label: label(*other),
            href: file(*other),
            current: other == year,
        });
        let answer = match year {
            Some(year) => across.asking.money(Some(*year))?,
            None => all.clone(),
        };
        pages.push((file(*year), page(across, &answer, label(*year), links.collect())));
    }
    Ok(pages)
}

fn page(across: &Across<'_>, answer: &MoneyAnswer, title: String, years: Vec<YearLink>) -> YearPage {
    let mut pieces: Vec<_> = answer.by_piece.iter().collect();
    pieces.sort_by(|(one, less), (other, more)| {
        (more.taken, more.spent).cmp(&(less.taken, less.spent)).then_with(|| one.cmp(other))
    });
    YearPage {
        title,
        years: if years.len() > 1 { years } else { Vec::new() },
        sums: sums(across, answer),
        gaps: gaps(across, answer),
        months: months(across, answer),
        of_all: answer.year.is_none(),
        kinds: answer
            .by_sort
            .iter()
            .map(|(sort, row)| line(across, &capital(&across.sort(sort)), None, row))
            .collect(),
        pieces: pieces
            .into_iter()
            .map(|(piece, row)| line(across, &piece.title, Some(across.link(piece, "ledger")), row))
            .collect(),
        unsold: answer.unsold.iter().map(|unsold| unsold_row(across, unsold)).collect(),
    }
}

fn sums(across: &Across<'_>, answer: &MoneyAnswer) -> Vec<Fact> {
    let MoneyRow { taken, spent, hours, sold, earned } = &answer.whole;
    let fact = |label, text| Fact { label: across.say(label), text };
    let stands: Decimal = answer.unsold.iter().map(|unsold| unsold.spent).sum();
    let asked: Decimal = answer.unsold.iter().filter_map(|unsold| unsold.asking).sum();
    let spent = across.money(*spent);
    let mut sums = vec![
        fact(
            says!("year-taken"),
            across.say(says!("year-taken-of", amount = across.money(*taken), pieces = *sold)),
        ),
        fact(
            says!("total-spent"),
            if answer.without_amount > 0 {
                across.say(says!("account-at-least", amount = spent))
            } else {
                spent
            },
        ),
        fact(says!("total-hours"), across.hours(*hours)),
    ];
    sums.extend(earned.per_hour().map(|each| {
        let earned = says!("year-earned-of", amount = across.money(each), pieces = earned.pieces);
        fact(says!("year-earned"), across.say(earned))
    }));
    if !answer.unsold.is_empty() {
        let of = says!("year-unsold-of", spent = across.money(stands), asked = across.money(asked));
        sums.push(fact(says!("year-unsold"), across.say(of)));
    }
    sums
}

/// What the sums do not hold.
fn gaps(across: &Across<'_>, answer: &MoneyAnswer) -> Vec<String> {
    let gaps = [
        (answer.without_price.len(), says!("gaps-price", count = answer.without_price.len())),
        (answer.without_amount, says!("gaps-amount", count = answer.without_amount)),
        (answer.undated, says!("gaps-undated", count = answer.undated)),
        (answer.dayless, says!("gaps-dayless", count = answer.dayless)),
    ];
    gaps.into_iter().filter(|(count, _)| *count > 0).map(|(_, gap)| across.say(gap)).collect()
}

/// Month by month, those without anything too; or the years that have anything.
fn months(across: &Across<'_>, answer: &MoneyAnswer) -> Vec<Month> {
    let nothing = MoneyRow::default();
    let most = answer.by_time.values().map(|row| row.taken.max(row.spent)).max().unwrap_or_default();
    let high = |amount: Decimal| {
        let share = amount.checked_div(most).unwrap_or_default() * Decimal::from(HIGH);
        share.round().to_i64().unwrap_or(0).clamp(0, HIGH)
    };
    let last = match answer.year {
        Some(year) if year == across.today.year() => across.today.month(),
        _ => 12,
    };
    let last =
        last.max(answer.by_time.keys().next_back().copied().filter(|_| answer.year.is_some()).unwrap_or(0));
    let times: Vec<(u32, String)> = match answer.year {
        Some(year) => (1..=last)
            .filter_map(|month| NaiveDate::from_ymd_opt(year, month, 1))
            .map(|day| (day.month(), across.words.month_name(day)))
            .collect(),
        None => answer.by_time.keys().map(|year| (*year, year.to_string())).collect(),
    };
    let month = |(time, name): (u32, String)| {
        let row = answer.by_time.get(&time).unwrap_or(&nothing);
        Month {
            line: line(across, &name, None, row),
            taken_high: high(row.taken),
            spent_deep: high(row.spent),
        }
    };
    times.into_iter().map(month).collect()
}

fn line(across: &Across<'_>, of: &str, piece: Option<PieceLink>, row: &MoneyRow) -> MoneyLine {
    let some = |amount: Decimal| if amount.is_zero() { String::new() } else { across.money(amount) };
    MoneyLine {
        of: of.to_owned(),
        piece,
        sold: if row.sold == 0 { String::new() } else { row.sold.to_string() },
        taken: some(row.taken),
        spent: some(row.spent),
        hours: if row.hours.is_zero() { String::new() } else { across.digits(row.hours) },
        earned: across.maybe_money(row.earned.per_hour()),
    }
}

fn unsold_row(across: &Across<'_>, unsold: &Unsold) -> UnsoldRow {
    let spent = across.money(unsold.spent);
    UnsoldRow {
        piece: across.link(&unsold.piece, "ledger"),
        spent: if unsold.spent_is_all {
            spent
        } else {
            across.say(says!("account-at-least", amount = spent))
        },
        asking: across.maybe_money(unsold.asking),
    }
}
