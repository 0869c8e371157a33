//! Faults: what was found like it, what was done about it, and how that turned out.

use std::collections::{BTreeMap, BTreeSet};

use chrono::NaiveDate;
use rust_decimal::Decimal;

use super::wording::Wording;
use super::{Asking, PieceName, Searched, Spread};
use crate::archive::database::ArchiveFault;
use crate::unit::fold::folded;

/// A row by the numbers of its piece and its own.
type Place = (i64, i64);

/// What was done about a fault.
#[derive(Debug, Clone, PartialEq)]
pub struct Remedy {
    /// The day.
    pub on: Option<NaiveDate>,
    /// What was done.
    pub did: String,
    /// By what means.
    pub means: Option<String>,
    /// How long it took.
    pub hours: Option<Decimal>,
    /// How it turned out.
    pub turned_out: Option<String>,
    /// Whether it does earlier work again.
    pub again: bool,
    /// Whether other faults were mended by the same work, so that its hours are not of this one alone.
    pub shared: bool,
}

/// A fault that was found before.
#[derive(Debug, Clone, PartialEq)]
pub struct Fault {
    /// Its piece.
    pub piece: PieceName,
    /// Its number in the order of the record, counted from 1.
    pub no: usize,
    /// What was seen.
    pub seen: String,
    /// Where.
    pub parts: String,
    /// How far it went.
    pub extent: Option<String>,
    /// How much it mattered.
    pub severity: Option<String>,
    /// What was done about it, in the order of the days, with what was done again.
    pub remedies: Vec<Remedy>,
    /// What came of it: `held`, `partly`, `failed`; `None` where no work mends it.
    pub outcome: Option<String>,
    /// What of it was left; empty where nothing was.
    pub left: Vec<LeftFault>,
}

/// That a fault was left, in whole or in part.
#[derive(Debug, Clone, PartialEq)]
pub struct LeftFault {
    /// What was left.
    pub what: String,
    /// Why, as a word of the record.
    pub why: String,
    /// What it means for the owner.
    pub effect: Option<String>,
}

/// All faults of one kind.
#[derive(Debug, Clone, PartialEq)]
pub struct FaultKind {
    /// What the table calls it, or else the words in which it was first written.
    pub name: String,
    /// The faults: those last worked on first.
    pub faults: Vec<Fault>,
    /// How long mending one took, of those whose hours are their own.
    pub hours: Option<Spread>,
}

impl Fault {
    /// The hours of its remedies, where all of them are recorded and none mended another fault as well.
    pub fn hours(&self) -> Option<Decimal> {
        let own = !self.remedies.is_empty() && self.remedies.iter().all(|remedy| !remedy.shared);
        let hours: Option<Vec<Decimal>> = self.remedies.iter().map(|remedy| remedy.hours).collect();
        hours.filter(|_| own).map(|hours| hours.into_iter().sum())
    }

    /// The day of the last work on it.
    fn last_day(&self) -> Option<NaiveDate> {
        self.remedies.iter().filter_map(|remedy| remedy.on).max()
    }

    /// Whether work on it was done again.
    pub fn redone(&self) -> bool {
        self.remedies.iter().any(|remedy| remedy.again)
    }
}

/// What the archive has on a fault.
#[derive(Debug, Clone, PartialEq)]
pub struct FaultsAnswer {
    /// What was asked for.
    pub wording: Wording,
    /// The faults, the likeliest first.
    pub faults: Vec<Fault>,
    /// How long mending one took, of those whose hours are their own.
    pub hours: Option<Spread>,
    /// How much was looked through.
    pub searched: Searched,
}

impl Asking<'_> {
    /// What was found that has these words, and what was done about it.
    ///
    /// # Errors
    /// [`ArchiveFault`] where the archive cannot be read.
    pub fn faults(&self, typed: &str) -> Result<FaultsAnswer, ArchiveFault> {
        let wording = Wording::of(typed, self.trade);
        // A term of the table is found however it was written, and then come lines with the words.
        let mut order: Vec<(i64, i64)> = Vec::new();
        if let Some(term) = self.trade.term(typed) {
            let of_term = "SELECT piece, no FROM finding WHERE term = ?1 ORDER BY piece, no";
            order.extend(self.rows(of_term, [&term.id.0], |row| Ok((row.get(0)?, row.get(1)?)))?);
        }
        let mut known: BTreeSet<(i64, i64)> = order.iter().copied().collect();
        order.extend(self.lines_of("finding", &wording)?.into_iter().filter(|at| known.insert(*at)));
        let faults = self.faults_at(&order)?;
        let hours = Spread::of(faults.iter().filter_map(Fault::hours));
        Ok(FaultsAnswer { wording, faults, hours, searched: self.searched("finding")? })
    }

    /// Everything that was found, with what was done about it: fault by fault in the order of their words, those that are
    /// one term of the table together however they were written.
    ///
    /// # Errors
    /// [`ArchiveFault`] where the archive cannot be read.
    pub fn all_faults(&self) -> Result<Vec<FaultKind>, ArchiveFault> {
        let rows = self.rows("SELECT piece, no, term, seen FROM finding JOIN piece ON piece.id = finding.piece ORDER BY piece, no", [], |row| {
            Ok(((row.get(0)?, row.get(1)?), row.get::<_, Option<String>>(2)?, row.get::<_, String>(3)?))
        })?;
        let order: Vec<Place> = rows.iter().map(|(at, ..)| *at).collect();
        let mut kinds: BTreeMap<String, FaultKind> = BTreeMap::new();
        for (fault, (_, term, seen)) in self.faults_at(&order)?.into_iter().zip(rows) {
            let called = term.unwrap_or_else(|| folded(&seen).replace('-', " "));
            let kind = kinds.entry(called.clone()).or_insert_with(|| FaultKind {
                name: self.trade.term(&called).map_or(seen, |term| term.label.to_string()),
                faults: Vec::new(),
                hours: None,
            });
            kind.faults.push(fault);
        }
        let mut kinds: Vec<FaultKind> = kinds.into_values().collect();
        for kind in &mut kinds {
            kind.hours = Spread::of(kind.faults.iter().filter_map(Fault::hours));
            kind.faults.sort_by(|one, other| {
                other.last_day().cmp(&one.last_day()).then_with(|| one.piece.cmp(&other.piece))
            });
        }
        kinds.sort_by_cached_key(|kind| folded(&kind.name));
        Ok(kinds)
    }

    /// The findings at these places, with what was done about each.
    fn faults_at(&self, order: &[Place]) -> Result<Vec<Fault>, ArchiveFault> {
        let names = self.pieces()?;
        let works: BTreeMap<Place, _> = self.past_works()?.into_iter().collect();
        let redone = self.redone()?;
        let mut mended_by: BTreeMap<Place, Vec<i64>> = BTreeMap::new();
        let mut mends: BTreeMap<Place, usize> = BTreeMap::new();
        for (work, finding) in self.mends()? {
            mended_by.entry((work.0, finding)).or_default().push(work.1);
            *mends.entry(work).or_default() += 1;
        }
        let mut faults = Vec::new();
        for at in order {
            let Some(piece) = names.get(&at.0) else { continue };
            let mut works_of = mended_by.get(at).cloned().unwrap_or_default();
            let mut next = 0;
            // What was done again, and that again.
            while next < works_of.len() {
                let again = redone.get(&(at.0, works_of[next])).into_iter().flatten();
                let again: Vec<i64> = again.copied().filter(|work| !works_of.contains(work)).collect();
                works_of.extend(again);
                next += 1;
            }
            let remedy = |no: &i64| {
                let work = works.get(&(at.0, *no))?;
                Some(Remedy {
                    on: work.on,
                    did: work.did.clone(),
                    means: work.means.clone(),
                    hours: work.hours,
                    turned_out: work.turned_out.clone(),
                    again: work.again,
                    shared: mends.get(&(at.0, *no)).is_some_and(|findings| *findings > 1),
                })
            };
            let mut remedies: Vec<Remedy> = works_of.iter().filter_map(remedy).collect();
            remedies.sort_by_key(|remedy| (remedy.on.is_none(), remedy.on));
            let left = self.rows(
                "SELECT undone.what, undone.why, undone.effect FROM undone_finding
                 JOIN undone ON undone.piece = undone_finding.piece AND undone.no = undone_finding.undone
                 WHERE undone_finding.piece = ?1 AND undone_finding.finding = ?2 ORDER BY undone.no",
                [at.0, at.1],
                |row| Ok(LeftFault { what: row.get(0)?, why: row.get(1)?, effect: row.get(2)? }),
            )?;
            let query =
                "SELECT seen, parts, extent, severity, outcome FROM finding WHERE piece = ?1 AND no = ?2";
            let mut fault = self.rows(query, [at.0, at.1], |row| {
                Ok(Fault {
                    piece: piece.clone(),
                    no: usize::try_from(at.1).unwrap_or(0),
                    seen: row.get(0)?,
                    parts: row.get(1)?,
                    extent: row.get(2)?,
                    severity: row.get(3)?,
                    outcome: row.get(4)?,
                    remedies: Vec::new(),
                    left: Vec::new(),
                })
            })?;
            faults.extend(fault.pop().map(|fault| Fault { remedies, left, ..fault }));
        }
        Ok(faults)
    }

    /// The works that do each work again.
    fn redone(&self) -> Result<BTreeMap<(i64, i64), Vec<i64>>, ArchiveFault> {
        let query = "SELECT piece, redoes, no FROM work WHERE redoes IS NOT NULL ORDER BY piece, no";
        let mut redone: BTreeMap<(i64, i64), Vec<i64>> = BTreeMap::new();
        for (of, no) in self.rows(query, [], |row| Ok(((row.get(0)?, row.get(1)?), row.get(2)?)))? {
            redone.entry(of).or_default().push(no);
        }
        Ok(redone)
    }

    /// Which work mends which finding.
    fn mends(&self) -> Result<Vec<(Place, i64)>, ArchiveFault> {
        self.rows("SELECT piece, work, finding FROM mend ORDER BY piece, no", [], |row| {
            Ok(((row.get(0)?, row.get(1)?), row.get(2)?))
        })
    }
}
