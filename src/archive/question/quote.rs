//! Quote: what a new piece is likely to take, by those like it.

use std::collections::BTreeSet;

use rust_decimal::Decimal;

use super::time::{Figure, means, once, time_rows};
use super::wording::Wording;
use super::{Asking, PieceName, Spread, amount};
use crate::archive::database::ArchiveFault;
use crate::archive::shared::{OVERHEAD_PER_HOUR, OVERHEAD_PERCENT};
use crate::derive::Overhead;
use crate::unit::Money;
use crate::unit::fold::folded;

/// A task that a quote is asked for.
#[derive(Debug, Clone, PartialEq)]
pub struct QuotedTask {
    /// The task as it was asked for.
    pub task: String,
    /// How long it took, a piece; `None` where nothing like it has hours.
    pub hours: Option<Spread>,
    /// Whether that is of pieces of the kind alone.
    pub of_kind: bool,
    /// The pieces behind it.
    pub pieces: Vec<PieceName>,
}

/// What a new piece is likely to take.
#[derive(Debug, Clone, PartialEq)]
pub struct QuoteAnswer {
    /// The kind as it was asked for.
    pub kind: String,
    /// The kind by which pieces were chosen: the one asked for, its first level, or none for all pieces.
    pub by: Option<String>,
    /// All hours of such a piece.
    pub hours: Option<Spread>,
    /// What was spent on such a piece beyond what was paid for it.
    pub materials: Option<Spread>,
    /// Materials of such pieces, with the pieces that had them, the commonest first.
    pub often: Vec<(String, usize)>,
    /// The tasks that were asked for.
    pub tasks: Vec<QuotedTask>,
    /// What an hour is reckoned at.
    pub rate: Option<Decimal>,
    /// How overhead is reckoned.
    pub overhead: Overhead,
    /// The pieces of the kind.
    pub pieces: Vec<PieceName>,
    /// How many pieces were looked through.
    pub looked_through: usize,
}

impl QuoteAnswer {
    /// The hours to expect: of the tasks together where some were asked for and each is known, else of the whole piece.
    pub fn expected(&self) -> Option<(Decimal, Decimal, Decimal)> {
        if self.tasks.is_empty() {
            let hours = self.hours?;
            let (low, high) = hours.likely();
            return Some((low, hours.median, high));
        }
        let tasks: Option<Vec<Spread>> = self.tasks.iter().map(|task| task.hours).collect();
        Some(tasks?.iter().fold((Decimal::ZERO, Decimal::ZERO, Decimal::ZERO), |sum, hours| {
            let (low, high) = hours.likely();
            (sum.0 + low, sum.1 + hours.median, sum.2 + high)
        }))
    }
}

/// What a piece may cost, and what it must bring, where its hours are to earn so much.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Worth {
    /// What an hour is to earn, beyond overhead.
    pub earn: Decimal,
    /// The least hours and materials to expect, those in the middle, and the most.
    pub cases: [Case; 3],
    /// How overhead is reckoned.
    pub overhead: Overhead,
}

/// What a piece takes.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Case {
    /// Hours.
    pub hours: Decimal,
    /// Materials, beyond what was paid for it.
    pub materials: Decimal,
}

impl QuoteAnswer {
    /// What it is worth where an hour is to earn so much; `None` where hours or materials are not known.
    pub fn worth(&self, earn: Decimal) -> Option<Worth> {
        let (low, middle, high) = self.expected()?;
        let materials = self.materials?;
        let (least, most) = materials.likely();
        let case = |hours, materials| Case { hours, materials };
        let cases = [case(low, least), case(middle, materials.median), case(high, most)];
        Some(Worth { earn, cases, overhead: self.overhead })
    }
}

impl Worth {
    /// The most that may be paid for it where it is sold for so much, in each case; below nothing where the hours do not
    /// earn as much even if it is given.
    pub fn pay(&self, sell: Decimal) -> [Decimal; 3] {
        self.cases.map(|case| (sell - case.hours * self.an_hour()) / self.with_percent() - case.materials)
    }

    /// What it must be sold for so that the hours earn as much, in each case, where so much was paid for it.
    pub fn ask(&self, paid: Decimal) -> [Decimal; 3] {
        self.cases.map(|case| (paid + case.materials) * self.with_percent() + case.hours * self.an_hour())
    }

    /// The most hours that it may take where it is paid and sold for so much, with materials as in the middle; `None` where
    /// hours cost nothing.
    pub fn hours(&self, paid: Decimal, sell: Decimal) -> Option<Decimal> {
        let left = sell - (paid + self.cases[1].materials) * self.with_percent();
        left.checked_div(self.an_hour()).map(|hours| hours.max(Decimal::ZERO))
    }

    /// What an hour costs: what it is to earn, and its overhead.
    fn an_hour(&self) -> Decimal {
        match self.overhead {
            Overhead::PerHour(each) => self.earn + each.0,
            _ => self.earn,
        }
    }

    /// What is spent, with the overhead that is reckoned from it, for each that is spent.
    fn with_percent(&self) -> Decimal {
        match self.overhead {
            Overhead::Percent(percent) => Decimal::ONE + percent / Decimal::ONE_HUNDRED,
            _ => Decimal::ONE,
        }
    }
}

/// What was spent on materials, and on which how often.
type Materials = (Option<Spread>, Vec<(String, usize)>);

/// A piece as a quote knows it.
struct Known {
    id: i64,
    name: PieceName,
    kind: String,
    sort: String,
    hours: Option<Decimal>,
    /// What its hours and materials are one figure with.
    figure: Figure,
}

/// From how many pieces on figures of the kind itself are taken, where those of a wider one could be.
const OF_KIND: usize = 3;

impl Asking<'_> {
    /// What a piece of a kind is likely to take, as a whole or for some tasks.
    ///
    /// # Errors
    /// [`ArchiveFault`] where the archive cannot be read.
    pub fn quote(&self, kind: &str, tasks: &[String]) -> Result<QuoteAnswer, ArchiveFault> {
        let all = self.rows(
            "SELECT id, number, title, folder, kind, sort, hours, of_set FROM piece ORDER BY number, folder",
            [],
            |row| {
                let name = PieceName { number: row.get(1)?, title: row.get(2)?, folder: row.get(3)? };
                let (kind, sort): (String, String) = (row.get("kind")?, row.get("sort")?);
                let figure = Figure::of(&name, row.get::<_, Option<String>>("of_set")?.as_deref());
                Ok(Known { id: row.get(0)?, name, kind, sort, hours: amount(row, "hours")?, figure })
            },
        )?;
        let (whole, first) = (folded(kind), folded(kind.split('/').next().unwrap_or_default()));
        let levels = |of: &str| of.split('/').map(folded).collect::<Vec<_>>();
        let of_kind = |of: &str| folded(of) == whole || levels(of).contains(&whole);
        let of_first = |sort: &str| !first.is_empty() && folded(sort) == first;
        let count = |with_hours: usize, all: usize| with_hours > 0 || all > 0;
        let exact: Vec<&Known> = all.iter().filter(|piece| of_kind(&piece.kind)).collect();
        let wide: Vec<&Known> = all.iter().filter(|piece| of_first(&piece.sort)).collect();
        // The pieces of one set are one figure.
        let with_hours = |rows: &[&Known]| {
            let figures = rows.iter().filter(|piece| piece.hours.is_some()).map(|piece| &piece.figure);
            figures.collect::<BTreeSet<_>>().len()
        };
        // Of one piece nothing can be told where there are several that are nearly like it.
        let (by, chosen) = if with_hours(&exact) >= OF_KIND
            || (with_hours(&exact) >= with_hours(&wide) && count(with_hours(&exact), exact.len()))
        {
            (Some(kind.trim().to_owned()), exact)
        } else if !wide.is_empty() {
            (Some(kind.split('/').next().unwrap_or_default().trim().to_owned()), wide)
        } else {
            (None, all.iter().collect())
        };
        let hours = means(chosen.iter().filter_map(|piece| Some((&piece.figure, piece.hours?))));
        let hours = Spread::of(hours.into_values());
        let (materials, often) = self.materials(&chosen)?;
        let names: Vec<PieceName> = chosen.iter().map(|piece| piece.name.clone()).collect();
        let works = if tasks.is_empty() { Vec::new() } else { self.past_works()? };
        let mut quoted = Vec::new();
        for task in tasks {
            let like = self.works_like(&Wording::of(task, self.trade), &works)?;
            let of_kind: Vec<_> = like.iter().filter(|work| names.contains(&work.piece)).cloned().collect();
            let own = time_rows(&of_kind).into_iter().next().map(|row| row.hours);
            let enough = by.is_some() && own.is_some_and(|hours| hours.count >= OF_KIND);
            let (hours, of_kind, taken) = match enough {
                true => (own, true, of_kind),
                false => (time_rows(&like).into_iter().next().map(|row| row.hours), false, like),
            };
            let mut pieces: Vec<PieceName> =
                once(taken).into_iter().filter(|work| work.hours.is_some()).map(|work| work.piece).collect();
            pieces.sort();
            pieces.dedup();
            quoted.push(QuotedTask { task: task.clone(), hours, of_kind, pieces });
        }
        let rate = self.archive.about("hourly-rate")?.and_then(|rate| rate.parse().ok());
        Ok(QuoteAnswer {
            kind: kind.to_owned(),
            by,
            hours,
            materials,
            often,
            tasks: quoted,
            rate,
            overhead: self.overhead()?,
            pieces: names,
            looked_through: all.len(),
        })
    }

    /// How the workshop reckons overhead.
    fn overhead(&self) -> Result<Overhead, ArchiveFault> {
        let said = |key: &str| -> Result<Option<Decimal>, ArchiveFault> {
            Ok(self.archive.about(key)?.and_then(|said| said.parse().ok()))
        };
        Ok(match (said(OVERHEAD_PER_HOUR)?, said(OVERHEAD_PERCENT)?) {
            (Some(each), _) => Overhead::PerHour(Money(each)),
            (None, Some(percent)) => Overhead::Percent(percent),
            (None, None) => Overhead::None,
        })
    }

    /// What was spent on each of some pieces beyond what was paid for them, where all of it is known; and on what.
    fn materials(&self, pieces: &[&Known]) -> Result<Materials, ArchiveFault> {
        let mut sums = Vec::new();
        let mut often: Vec<(String, String, usize)> = Vec::new();
        let mut counted: BTreeSet<(&Figure, String)> = BTreeSet::new();
        for piece in pieces {
            // What came after a sale is nothing that a piece is made with.
            let query = "SELECT what, amount FROM cost WHERE piece = ?1 AND origin NOT IN ('after', 'refunded') ORDER BY no";
            let costs =
                self.rows(query, [piece.id], |row| Ok((row.get::<_, String>(0)?, amount(row, "amount")?)))?;
            let amounts: Option<Vec<Decimal>> = costs.iter().map(|(_, amount)| *amount).collect();
            sums.extend(
                amounts
                    .filter(|amounts| !amounts.is_empty())
                    .map(|amounts| (&piece.figure, amounts.into_iter().sum::<Decimal>())),
            );
            let mut of_piece: Vec<String> = costs.into_iter().map(|(what, _)| what).collect();
            of_piece.sort();
            of_piece.dedup();
            for what in of_piece {
                let form = folded(&what);
                if !counted.insert((&piece.figure, form.clone())) {
                    continue;
                }
                match often.iter_mut().find(|(known, ..)| *known == form) {
                    Some((.., count)) => *count += 1,
                    None => often.push((form, what, 1)),
                }
            }
        }
        often.sort_by(|(.., few), (.., many)| many.cmp(few));
        let often = often.into_iter().map(|(_, what, count)| (what, count)).take(8).collect();
        Ok((Spread::of(means(sums.into_iter()).into_values()), often))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn worth(overhead: Overhead) -> Worth {
        let case = |hours: i64, materials: i64| Case { hours: hours.into(), materials: materials.into() };
        Worth { earn: Decimal::from(10), cases: [case(2, 4), case(3, 6), case(5, 10)], overhead }
    }

    fn shown(figures: [Decimal; 3]) -> [String; 3] {
        figures.map(|figure| figure.round_dp(2).normalize().to_string())
    }

    /// By hand, an hour to earn 10 and the piece sold for 100, with no overhead, with 2 an hour, and with 10 % of what is
    /// spent:
    ///
    /// | | least | middle | most |
    /// |---|---|---|---|
    /// | hours and materials | 2 h, 4 | 3 h, 6 | 5 h, 10 |
    /// | none: 100 - 10 h - materials | 76 | 64 | 40 |
    /// | 2 an hour: 100 - 12 h - materials | 72 | 58 | 30 |
    /// | 10 %: (100 - 10 h) / 1.1 - materials | 68.73 | 57.64 | 35.45 |
    #[test]
    fn the_price_to_pay_by_hand() {
        let hundred = Decimal::ONE_HUNDRED;
        let pay = |overhead| shown(worth(overhead).pay(hundred));
        assert_eq!(pay(Overhead::None), ["76", "64", "40"]);
        assert_eq!(pay(Overhead::PerHour(Money(2.into()))), ["72", "58", "30"]);
        assert_eq!(pay(Overhead::Percent(10.into())), ["68.73", "57.64", "35.45"]);
        assert_eq!(shown(worth(Overhead::None).pay(30.into())), ["6", "-6", "-30"]);
    }

    /// By hand: paid 20, so that 20 + 6 + 3 h at 12 make 62 in the middle; and what is paid and asked so earns the hours again.
    #[test]
    fn what_to_ask_and_how_long_it_may_take_by_hand() {
        let worth = worth(Overhead::PerHour(Money(2.into())));
        assert_eq!(shown(worth.ask(20.into())), ["48", "62", "90"]);
        assert_eq!(worth.hours(20.into(), 62.into()), Some(3.into()));
        assert_eq!(
            worth.hours(Decimal::ZERO, 66.into()),
            Some(5.into()),
            "66 less 6 for materials, at 12 an hour"
        );
        assert_eq!(worth.hours(90.into(), 62.into()), Some(Decimal::ZERO));
        let free = Worth { earn: Decimal::ZERO, overhead: Overhead::None, ..worth };
        assert_eq!(free.hours(20.into(), 62.into()), None);
    }
}
