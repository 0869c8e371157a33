//! Money: what was taken, spent and earned, by month, kind and piece.

use std::collections::BTreeMap;

use chrono::{Datelike, NaiveDate};
use rust_decimal::Decimal;

use super::{Asking, PieceName, amount, day};
use crate::archive::database::ArchiveFault;

/// What was taken and spent.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct MoneyRow {
    /// Taken for pieces that left.
    pub taken: Decimal,
    /// Paid for pieces, and spent on them.
    pub spent: Decimal,
    /// Hours of work.
    pub hours: Decimal,
    /// How many pieces left.
    pub sold: usize,
    /// What the pieces that left earned for the hours spent on them, whenever that was.
    pub earned: Earned,
}

/// What pieces that left brought in beyond what they cost.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Earned {
    /// What is left of their prices, of those of which that is known.
    pub margin: Decimal,
    /// All hours of those pieces.
    pub hours: Decimal,
    /// Of how many of the pieces that is known.
    pub pieces: usize,
}

impl Earned {
    /// For each hour; `None` where nothing is known.
    pub fn per_hour(&self) -> Option<Decimal> {
        self.margin.checked_div(self.hours).filter(|_| self.pieces > 0)
    }
}

/// A piece that is still there.
#[derive(Debug, Clone, PartialEq)]
pub struct Unsold {
    /// The piece.
    pub piece: PieceName,
    /// What was paid for it and spent on it.
    pub spent: Decimal,
    /// Whether that is all.
    pub spent_is_all: bool,
    /// The price asked.
    pub asking: Option<Decimal>,
}

/// What was taken, spent and earned.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct MoneyAnswer {
    /// The year; `None` for all years together.
    pub year: Option<i32>,
    /// All of it.
    pub whole: MoneyRow,
    /// By year, or by month of the year.
    pub by_time: BTreeMap<u32, MoneyRow>,
    /// By the first level of the kind.
    pub by_sort: BTreeMap<String, MoneyRow>,
    /// By piece.
    pub by_piece: BTreeMap<PieceName, MoneyRow>,
    /// Pieces that are still there, today.
    pub unsold: Vec<Unsold>,
    /// How many amounts and hours have no day of their own, and count on the day of the piece's last work.
    pub undated: usize,
    /// How many count nowhere, since the piece has no day at all.
    pub dayless: usize,
    /// Pieces that left for a price that is not recorded.
    pub without_price: Vec<PieceName>,
    /// How many amounts are not known.
    pub without_amount: usize,
    /// How many pieces were looked through.
    pub pieces: usize,
}

/// What every amount of a piece is booked with.
struct Booked {
    name: PieceName,
    sort: String,
    last: Option<NaiveDate>,
}

impl MoneyAnswer {
    /// Books something on a day, or on that of the piece's last work; says whether it is of the year that is asked about.
    fn book(&mut self, piece: &Booked, on: Option<NaiveDate>, add: impl Fn(&mut MoneyRow)) -> bool {
        let Some(day) = on.or(piece.last) else {
            self.dayless += 1;
            return false;
        };
        if self.year.is_some_and(|year| day.year() != year) {
            return false;
        }
        self.undated += usize::from(on.is_none());
        let time = if self.year.is_some() { day.month() } else { day.year().max(0) as u32 };
        add(&mut self.whole);
        add(self.by_time.entry(time).or_default());
        add(self.by_sort.entry(piece.sort.clone()).or_default());
        add(self.by_piece.entry(piece.name.clone()).or_default());
        true
    }
}

impl Asking<'_> {
    /// What was taken, spent and earned in a year, or in all.
    ///
    /// # Errors
    /// [`ArchiveFault`] where the archive cannot be read.
    pub fn money(&self, year: Option<i32>) -> Result<MoneyAnswer, ArchiveFault> {
        let mut answer = MoneyAnswer { year, ..MoneyAnswer::default() };
        let mut booked: BTreeMap<i64, Booked> = BTreeMap::new();
        let pieces = self.rows("SELECT * FROM piece ORDER BY id", [], |row| {
            let name = PieceName {
                number: row.get("number")?,
                title: row.get("title")?,
                folder: row.get("folder")?,
            };
            let left = day(row, "handed_over")?.filter(|on| *on <= self.today);
            let last = day(row, "last_work")?.or(left).or(day(row, "found_on")?);
            let piece = Booked { name, sort: row.get("sort")?, last };
            let money =
                ["paid", "price", "hours", "margin", "spent", "asking"].map(|column| amount(row, column));
            let [paid, price, hours, margin, spent, asking] = money;
            let found_on = day(row, "found_on")?;
            let (estimated, all): (bool, bool) = (row.get("estimated")?, row.get("spent_is_all")?);
            let id: i64 = row.get("id")?;
            Ok((id, piece, left, found_on, (paid?, price?, hours?, margin?, spent?, asking?), estimated, all))
        })?;
        answer.pieces = pieces.len();
        let hours_of = |query: &str| {
            self.rows(query, [], |row| {
                Ok((row.get::<_, i64>(0)?, day(row, "on_day")?, amount(row, "hours")?.unwrap_or_default()))
            })
        };
        let afterwards =
            hours_of("SELECT piece, on_day, hours FROM after WHERE hours IS NOT NULL ORDER BY piece, no")?;
        for (id, piece, left, found_on, (paid, price, hours, margin, spent, asking), estimated, all) in pieces
        {
            match left {
                Some(left) => {
                    let of_year = answer.book(&piece, Some(left), |row| {
                        row.sold += 1;
                        row.taken += price.unwrap_or_default();
                        if let (Some(margin), Some(hours), Some(_)) = (margin, hours, price) {
                            row.earned.margin += margin;
                            row.earned.hours += hours;
                            row.earned.pieces += 1;
                        }
                    });
                    if of_year && price.is_none() {
                        answer.without_price.push(piece.name.clone());
                    }
                }
                None => answer.unsold.push(Unsold {
                    piece: piece.name.clone(),
                    spent: spent.unwrap_or_default(),
                    spent_is_all: all,
                    asking,
                }),
            }
            match paid {
                Some(paid) if !paid.is_zero() => {
                    answer.book(&piece, found_on, |row| row.spent += paid);
                }
                Some(_) => {}
                None => answer.without_amount += 1,
            }
            if let Some(hours) = hours.filter(|_| estimated) {
                // Hours after the sale have their own days.
                let after: Decimal =
                    afterwards.iter().filter(|(of, ..)| *of == id).map(|(.., hours)| *hours).sum();
                answer.book(&piece, None, |row| row.hours += hours - after);
            }
            booked.insert(id, piece);
        }
        let costs = self.rows("SELECT piece, on_day, amount FROM cost ORDER BY piece, no", [], |row| {
            Ok((row.get::<_, i64>(0)?, day(row, "on_day")?, amount(row, "amount")?))
        })?;
        for (piece, on, amount) in costs {
            let Some(piece) = booked.get(&piece) else { continue };
            match amount {
                Some(amount) => _ = answer.book(piece, on, |row| row.spent += amount),
                None => answer.without_amount += 1,
            }
        }
        let hours =
            hours_of("SELECT piece, on_day, hours FROM work WHERE hours IS NOT NULL ORDER BY piece, no")?;
        for (piece, on, hours) in hours.into_iter().chain(afterwards) {
            if let Some(piece) = booked.get(&piece) {
                answer.book(piece, on, |row| row.hours += hours);
            }
        }
        answer
            .unsold
            .sort_by(|one, other| other.spent.cmp(&one.spent).then_with(|| one.piece.cmp(&other.piece)));
        Ok(answer)
    }
}
