//! Stock: what there was, what is left, and where the rest went.

use std::collections::BTreeMap;

use rust_decimal::Decimal;

use super::{Asking, PieceName, amount};
use crate::archive::database::ArchiveFault;
use crate::unit::fold::folded;

/// What a piece took of an item of stock, or out of a tin.
#[derive(Debug, Clone, PartialEq)]
pub struct StockUse {
    /// The piece.
    pub piece: PieceName,
    /// For which parts; empty for a tin.
    pub parts: String,
    /// The least it took; `None` where that is not known.
    pub least: Option<Decimal>,
    /// The most.
    pub most: Option<Decimal>,
    /// Whether that was recorded; reckoned from the area that was covered else.
    pub recorded: bool,
    /// What of the price falls to the piece; `None` where that is not known or not reckoned.
    pub bears: Option<Decimal>,
}

/// An item of stock.
#[derive(Debug, Clone, PartialEq)]
pub struct StockLine {
    /// Its id.
    pub id: String,
    /// What it is.
    pub what: String,
    /// Where it came from.
    pub origin: Option<String>,
    /// What it cost.
    pub paid: Option<Decimal>,
    /// How much there was.
    pub count: Option<Decimal>,
    /// In which unit; pieces where that is not said.
    pub unit: Option<String>,
    /// Notes.
    pub note: Option<String>,
    /// Where it went.
    pub uses: Vec<StockUse>,
}

impl StockLine {
    /// How much was used as far as is recorded, and whether that is all.
    pub fn used(&self) -> (Decimal, bool) {
        let used = self.uses.iter().filter_map(|used| used.most).sum();
        (used, self.uses.iter().all(|used| used.most.is_some()))
    }

    /// What is left by that: at most so much where some use is not recorded. Below nothing where more was used than there
    /// was.
    pub fn left(&self) -> Option<Decimal> {
        Some(self.count? - self.used().0)
    }
}

/// One of the workshop's tins.
#[derive(Debug, Clone, PartialEq)]
pub struct TinLine {
    /// Its id.
    pub id: String,
    /// What it is called.
    pub name: String,
    /// What it held when full, in litres.
    pub litres: Option<Decimal>,
    /// What the full tin cost.
    pub price: Option<Decimal>,
    /// Where it went, as shares of a full tin.
    pub uses: Vec<StockUse>,
}

impl TinLine {
    /// How many full tins were used, from the least to the most, as far as is known, and whether that is all.
    pub fn used(&self) -> (Decimal, Decimal, bool) {
        let sum = |of: fn(&StockUse) -> Option<Decimal>| self.uses.iter().filter_map(of).sum();
        (sum(|used| used.least), sum(|used| used.most), self.uses.iter().all(|used| used.most.is_some()))
    }
}

/// What the archive has on stock.
#[derive(Debug, Clone, PartialEq)]
pub struct StockAnswer {
    /// Items of stock.
    pub stock: Vec<StockLine>,
    /// Tins.
    pub tins: Vec<TinLine>,
    /// Ids that come near to one that is not there.
    pub near: Vec<String>,
    /// How many items and tins were looked through.
    pub looked_through: usize,
}

impl Asking<'_> {
    /// An item of stock or a tin, by its id or a word of what it is; all of them where none is asked for.
    ///
    /// # Errors
    /// [`ArchiveFault`] where the archive cannot be read.
    pub fn stock(&self, asked: Option<&str>) -> Result<StockAnswer, ArchiveFault> {
        let (mut stock, mut tins) = (self.stock_lines()?, self.tin_lines()?);
        let looked_through = stock.len() + tins.len();
        let mut near = Vec::new();
        if let Some(asked) = asked {
            let bare = folded(asked.trim().trim_start_matches("tin:"));
            let named = |id: &str| folded(id) == bare;
            let exact = stock.iter().any(|line| named(&line.id)) || tins.iter().any(|line| named(&line.id));
            let within = |text: &str| !bare.is_empty() && folded(text).contains(&bare);
            let ids = stock.iter().map(|line| line.id.clone()).chain(tins.iter().map(|line| line.id.clone()));
            let ids: Vec<String> = ids.collect();
            stock.retain(|line| if exact { named(&line.id) } else { within(&line.id) || within(&line.what) });
            tins.retain(|line| if exact { named(&line.id) } else { within(&line.id) || within(&line.name) });
            if stock.is_empty() && tins.is_empty() {
                let mut likely: Vec<(f64, String)> = ids
                    .into_iter()
                    .map(|id| (strsim::jaro_winkler(&id.to_lowercase(), &asked.to_lowercase()), id))
                    .filter(|(like, _)| *like > 0.75)
                    .collect();
                likely.sort_by(|(one, _), (other, _)| other.total_cmp(one));
                near = likely.into_iter().map(|(_, id)| id).take(3).collect();
            }
        }
        Ok(StockAnswer { stock, tins, near, looked_through })
    }

    fn stock_lines(&self) -> Result<Vec<StockLine>, ArchiveFault> {
        let names = self.pieces()?;
        // What a piece bears of the price stands among its costs, once for all of its parts.
        let bears = self.rows("SELECT piece, stock, amount FROM cost WHERE origin = 'stock'", [], |row| {
            Ok(((row.get::<_, i64>(0)?, row.get::<_, Option<String>>(1)?), amount(row, "amount")?))
        })?;
        let bears: BTreeMap<(i64, Option<String>), Option<Decimal>> = bears.into_iter().collect();
        let mut uses: BTreeMap<String, BTreeMap<i64, StockUse>> = BTreeMap::new();
        let rows = self.rows(
            "SELECT stock_use.piece, stock_use.stock, stock_use.used, part.name FROM stock_use
             JOIN part ON part.piece = stock_use.piece AND part.no = stock_use.part ORDER BY stock_use.piece, stock_use.no",
            [],
            |row| Ok((row.get::<_, i64>(0)?, row.get::<_, String>(1)?, amount(row, "used")?, row.get::<_, String>(3)?)),
        )?;
        for (piece, stock, used, part) in rows {
            let Some(name) = names.get(&piece) else { continue };
            let bears = bears.get(&(piece, Some(stock.clone()))).copied().flatten();
            match uses.entry(stock).or_default().entry(piece) {
                std::collections::btree_map::Entry::Vacant(place) => {
                    place.insert(StockUse {
                        piece: name.clone(),
                        parts: part,
                        least: used,
                        most: used,
                        recorded: true,
                        bears,
                    });
                }
                std::collections::btree_map::Entry::Occupied(mut known) => {
                    let known = known.get_mut();
                    known.parts = format!("{}, {part}", known.parts);
                    known.least = known.least.zip(used).map(|(one, other)| one + other);
                    known.most = known.least;
                }
            }
        }
        let line = |row: &rusqlite::Row<'_>| {
            Ok(StockLine {
                id: row.get("id")?,
                what: row.get("what")?,
                origin: row.get("origin")?,
                paid: amount(row, "paid")?,
                count: amount(row, "count")?,
                unit: row.get("unit")?,
                note: row.get("note")?,
                uses: Vec::new(),
            })
        };
        let mut lines = self.rows("SELECT * FROM stock ORDER BY no", [], line)?;
        for line in &mut lines {
            line.uses = uses.remove(&line.id).unwrap_or_default().into_values().collect();
            line.uses.sort_by(|one, other| one.piece.cmp(&other.piece));
        }
        Ok(lines)
    }

    fn tin_lines(&self) -> Result<Vec<TinLine>, ArchiveFault> {
        let names = self.pieces()?;
        let costs = self.rows("SELECT piece, tin, amount FROM cost WHERE origin = 'tin'", [], |row| {
            Ok(((row.get::<_, i64>(0)?, row.get::<_, String>(1)?), amount(row, "amount")?))
        })?;
        let mut bears: BTreeMap<(i64, String), Decimal> = BTreeMap::new();
        for (at, amount) in costs {
            *bears.entry(at).or_default() += amount.unwrap_or_default();
        }
        let uses = self.rows("SELECT * FROM tin_use ORDER BY piece, no", [], |row| {
            Ok((
                row.get::<_, i64>("piece")?,
                row.get::<_, String>("tin")?,
                amount(row, "share_least")?,
                amount(row, "share_most")?,
                row.get::<_, String>("known_by")? == "cost",
            ))
        })?;
        let line = |row: &rusqlite::Row<'_>| {
            let (finish, name): (String, Option<String>) = (row.get("finish")?, row.get("name")?);
            Ok(TinLine {
                id: row.get("id")?,
                name: name.unwrap_or(finish),
                litres: amount(row, "litres")?,
                price: amount(row, "price")?,
                uses: Vec::new(),
            })
        };
        let mut lines = self.rows("SELECT * FROM tin ORDER BY no", [], line)?;
        for (piece, tin, least, most, recorded) in uses {
            let line = lines.iter_mut().find(|line| line.id == tin);
            let (Some(line), Some(name)) = (line, names.get(&piece)) else { continue };
            let bears = bears.get(&(piece, tin)).copied().filter(|_| recorded);
            line.uses.push(StockUse {
                piece: name.clone(),
                parts: String::new(),
                least,
                most,
                recorded,
                bears,
            });
        }
        lines.iter_mut().for_each(|line| line.uses.sort_by(|one, other| one.piece.cmp(&other.piece)));
        Ok(lines)
    }
}
