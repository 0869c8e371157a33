//! Time: how long work like this took before.

use std::collections::BTreeMap;

use chrono::NaiveDate;
use rust_decimal::Decimal;

use super::wording::Wording;
use super::{Asking, PieceName, Searched, Spread, amount, day};
use crate::archive::database::ArchiveFault;
use crate::unit::fold::folded;

/// A work that was done before.
#[derive(Debug, Clone, PartialEq)]
pub struct PastWork {
    /// Its piece.
    pub piece: PieceName,
    /// The first level of the piece's kind.
    pub sort: String,
    /// The day.
    pub on: Option<NaiveDate>,
    /// What was done.
    pub did: String,
    /// By what means.
    pub means: Option<String>,
    /// The parts worked on.
    pub parts: String,
    /// What kind of task it was.
    pub task: Option<String>,
    /// How long it took; `None` where that is not recorded.
    pub hours: Option<Decimal>,
    /// How it turned out.
    pub turned_out: Option<String>,
    /// Whether it does earlier work again.
    pub again: bool,
    /// On how many pieces of a set it was done at once, this one included; 1 where it is of this one alone.
    pub pieces: u32,
    /// The set that its piece is of, by its folder.
    pub set: Option<String>,
    /// Whether it is counted: not where it is counted with another piece of the set.
    counted: bool,
}

impl PastWork {
    /// The work as it was done, on however many pieces: its hours are all that it took.
    fn whole(&self) -> PastWork {
        let hours = self.hours.map(|hours| (hours * Decimal::from(self.pieces)).round_dp(6).normalize());
        PastWork { hours, ..self.clone() }
    }
}

/// Works once each, with all that they took, however many pieces of a set they were done on.
pub(super) fn once(works: Vec<PastWork>) -> Vec<PastWork> {
    works.into_iter().filter(|work| work.counted).map(|work| work.whole()).collect()
}

/// What one figure is of: a piece, or those pieces of a set sold apart that took anything, which count as their mean.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Figure {
    Piece(PieceName),
    Set(String),
}

impl Figure {
    /// That of a piece which is of a set, or of none.
    pub(super) fn of(piece: &PieceName, set: Option<&str>) -> Figure {
        set.map_or_else(|| Figure::Piece(piece.clone()), |set| Figure::Set(set.to_owned()))
    }
}

/// How long works like this took on pieces of one kind: the hours of one piece count as one figure.
#[derive(Debug, Clone, PartialEq)]
pub struct TimeRow {
    /// The first level of the kind; empty for all kinds together.
    pub sort: String,
    /// The hours.
    pub hours: Spread,
}

/// How long work like this took.
#[derive(Debug, Clone, PartialEq)]
pub struct TimeAnswer {
    /// What was asked for.
    pub wording: Wording,
    /// For all kinds together, and then by kind; of none where no hours are recorded.
    pub rows: Vec<TimeRow>,
    /// The works behind it, the newest first.
    pub works: Vec<PastWork>,
    /// How many of them have no hours.
    pub without_hours: usize,
    /// The tasks that the archive knows, with how many works each.
    pub tasks: Vec<(String, usize)>,
    /// How much was looked through.
    pub searched: Searched,
}

/// The works of one task.
#[derive(Debug, Clone, PartialEq)]
pub struct TaskTimes {
    /// The task as it was first written; empty for works of which none is recorded.
    pub task: String,
    /// Its hours: for all kinds together, and then by kind; of none where no hours are recorded.
    pub rows: Vec<TimeRow>,
    /// The works, the newest first.
    pub works: Vec<PastWork>,
}

/// How long everything took.
#[derive(Debug, Clone, PartialEq)]
pub struct TimesAnswer {
    /// By task, the one with most hours first; what has no task comes last.
    pub tasks: Vec<TaskTimes>,
    /// Whole pieces: all hours of each, for all kinds together and then by kind.
    pub whole: Vec<TimeRow>,
    /// All hours of all pieces.
    pub hours: Decimal,
    /// How much was looked through.
    pub searched: Searched,
}

/// A work with the numbers of its piece and its own.
type Numbered = ((i64, i64), PastWork);

impl Asking<'_> {
    /// How long works took whose task is called so, or where none is, whose lines have these words.
    ///
    /// # Errors
    /// [`ArchiveFault`] where the archive cannot be read.
    pub fn time(&self, typed: &str) -> Result<TimeAnswer, ArchiveFault> {
        let wording = Wording::of(typed, self.trade);
        let all = self.past_works()?;
        let works = self.works_like(&wording, &all)?;
        let (rows, works) = (time_rows(&works), once(works));
        let searched = self.searched("work")?;
        let mut tasks: BTreeMap<String, usize> = BTreeMap::new();
        for task in all.iter().filter(|(_, work)| work.counted).filter_map(|(_, work)| work.task.as_ref()) {
            *tasks.entry(task.clone()).or_default() += 1;
        }
        let mut tasks: Vec<(String, usize)> = tasks.into_iter().collect();
        tasks.sort_by(|(one, few), (other, many)| many.cmp(few).then_with(|| one.cmp(other)));
        let without_hours = works.iter().filter(|work| work.hours.is_none()).count();
        Ok(TimeAnswer { rows, works, without_hours, tasks, searched, wording })
    }

    /// How long everything took, task by task.
    ///
    /// # Errors
    /// [`ArchiveFault`] where the archive cannot be read.
    pub fn times(&self) -> Result<TimesAnswer, ArchiveFault> {
        let mut tasks: BTreeMap<String, TaskTimes> = BTreeMap::new();
        for (_, work) in self.past_works()? {
            let task = work.task.clone().unwrap_or_default();
            let of = || TaskTimes { task: task.clone(), rows: Vec::new(), works: Vec::new() };
            tasks.entry(folded(&task)).or_insert_with(of).works.push(work);
        }
        let mut tasks: Vec<TaskTimes> = tasks.into_values().collect();
        for task in &mut tasks {
            newest_first(&mut task.works);
            task.rows = time_rows(&task.works);
            task.works = once(std::mem::take(&mut task.works));
        }
        let all = |task: &TaskTimes| task.works.iter().filter_map(|work| work.hours).sum::<Decimal>();
        tasks.sort_by_cached_key(|task| {
            (task.task.is_empty(), std::cmp::Reverse(all(task)), task.task.clone())
        });
        let query = "SELECT number, title, folder, sort, hours, of_set FROM piece WHERE hours IS NOT NULL ORDER BY id";
        let pieces = self.rows(query, [], |row| {
            let piece = PieceName { number: row.get(0)?, title: row.get(1)?, folder: row.get(2)? };
            let figure = Figure::of(&piece, row.get::<_, Option<String>>("of_set")?.as_deref());
            Ok((row.get::<_, String>(3)?, figure, amount(row, "hours")?.unwrap_or_default()))
        })?;
        let each = pieces.iter().map(|(sort, figure, hours)| ((sort.as_str(), figure.clone()), *hours));
        Ok(TimesAnswer {
            whole: spread_rows(&means(each)),
            hours: pieces.iter().map(|(.., hours)| *hours).sum(),
            tasks,
            searched: self.searched("work")?,
        })
    }

    /// Works whose task is called so; where none is, works whose lines have these words. The newest first.
    pub(super) fn works_like(
        &self,
        wording: &Wording,
        all: &[Numbered],
    ) -> Result<Vec<PastWork>, ArchiveFault> {
        let of_task = |(_, work): &&Numbered| work.task.as_ref().is_some_and(|task| wording.is_like(task));
        let mut works: Vec<PastWork> = all.iter().filter(of_task).map(|(_, work)| work.clone()).collect();
        if works.is_empty() {
            let lines = self.lines_of("work", wording)?;
            let lines: std::collections::BTreeSet<(i64, i64)> = lines.into_iter().collect();
            works.extend(all.iter().filter(|(at, _)| lines.contains(at)).map(|(_, work)| work.clone()));
        }
        newest_first(&mut works);
        Ok(works)
    }

    /// Every work of the archive, with what fell to its piece; those of several pieces of a set are in each.
    pub(super) fn past_works(&self) -> Result<Vec<Numbered>, ArchiveFault> {
        self.rows(
            "SELECT work.*, piece.number, piece.title, piece.folder, piece.sort, piece.of_set
             FROM work JOIN piece ON piece.id = work.piece ORDER BY work.piece, work.no",
            [],
            |row| {
                let piece = PieceName {
                    number: row.get("number")?,
                    title: row.get("title")?,
                    folder: row.get("folder")?,
                };
                let work = PastWork {
                    piece,
                    sort: row.get("sort")?,
                    on: day(row, "on_day")?,
                    did: row.get("did")?,
                    means: row.get("means")?,
                    parts: row.get("parts")?,
                    task: row.get("task")?,
                    hours: amount(row, "hours")?,
                    turned_out: row.get("turned_out")?,
                    again: row.get::<_, Option<i64>>("redoes")?.is_some(),
                    pieces: row.get::<_, Option<u32>>("of_pieces")?.unwrap_or(1),
                    set: row.get("of_set")?,
                    counted: row.get("counted")?,
                };
                Ok(((row.get("piece")?, row.get("no")?), work))
            },
        )
    }
}

/// What pieces took at the mean, by figure.
pub(super) fn means<K: Ord>(pieces: impl Iterator<Item = (K, Decimal)>) -> BTreeMap<K, Decimal> {
    let mut sums: BTreeMap<K, (Decimal, u32)> = BTreeMap::new();
    for (figure, amount) in pieces {
        let (sum, count) = sums.entry(figure).or_default();
        (*sum, *count) = (*sum + amount, *count + 1);
    }
    let mean = |(sum, count): (Decimal, u32)| match count {
        1 => sum,
        _ => (sum / Decimal::from(count)).round_dp(6).normalize(),
    };
    sums.into_iter().map(|(figure, sums)| (figure, mean(sums))).collect()
}

/// Sorts works by their days, the newest first.
fn newest_first(works: &mut [PastWork]) {
    works.sort_by(|one, other| other.on.cmp(&one.on).then_with(|| one.piece.cmp(&other.piece)));
}

/// The hours of works, those of one piece together: for all kinds, and then by kind.
pub(super) fn time_rows(works: &[PastWork]) -> Vec<TimeRow> {
    let mut by_piece: BTreeMap<(&str, &PieceName, Option<&str>), Decimal> = BTreeMap::new();
    for work in works {
        if let Some(hours) = work.hours {
            *by_piece.entry((&work.sort, &work.piece, work.set.as_deref())).or_default() += hours;
        }
    }
    let each =
        by_piece.into_iter().map(|((sort, piece, set), hours)| ((sort, Figure::of(piece, set)), hours));
    spread_rows(&means(each))
}

/// How the hours of pieces lie: for all kinds, and then by kind where there are several.
fn spread_rows(by_piece: &BTreeMap<(&str, Figure), Decimal>) -> Vec<TimeRow> {
    let mut sorts: Vec<&str> = by_piece.keys().map(|(sort, _)| *sort).collect();
    sorts.dedup_by_key(|sort| folded(sort));
    let row = |sort: &str, of: &dyn Fn(&str) -> bool| {
        let hours = by_piece.iter().filter(|((sort, _), _)| of(sort)).map(|(_, hours)| *hours);
        Spread::of(hours).map(|hours| TimeRow { sort: sort.to_owned(), hours })
    };
    let mut rows: Vec<TimeRow> = row("", &|_| true).into_iter().collect();
    if sorts.len() > 1 {
        rows.extend(sorts.iter().filter_map(|sort| row(sort, &|other| folded(other) == folded(sort))));
    }
    rows
}
