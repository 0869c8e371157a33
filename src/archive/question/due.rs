//! Due: what waits for the workshop.

use chrono::{Datelike, Months, NaiveDate};
use rust_decimal::Decimal;

use super::{Asking, PieceName, amount, day};
use crate::archive::database::ArchiveFault;
use crate::archive::shared::UNSOLD_AFTER_DAYS;

/// What kind of thing waits.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum DueKind {
    /// Something still to do or to decide.
    Open,
    /// A promise to come back to the owner.
    CallBack,
    /// A piece that is kept for somebody.
    Reserved,
    /// A piece that was sold and is to be collected.
    Collection,
    /// A finish that may be used, or is hard, from a day.
    Curing,
    /// A finish of a piece that has left is to be looked at.
    Renewal,
    /// A piece that has been for sale for long.
    Unsold,
    /// A line of the day book that may make rows which the record does not have.
    DayBook,
}

impl DueKind {
    /// All kinds, in the order in which they are told.
    pub const ALL: [DueKind; 8] = [
        DueKind::Open,
        DueKind::CallBack,
        DueKind::Reserved,
        DueKind::Collection,
        DueKind::Curing,
        DueKind::Renewal,
        DueKind::Unsold,
        DueKind::DayBook,
    ];

    /// The kind in a word for other programs.
    pub fn word(self) -> &'static str {
        match self {
            DueKind::Open => "open",
            DueKind::CallBack => "call-back",
            DueKind::Reserved => "reserved",
            DueKind::Collection => "to-be-collected",
            DueKind::Curing => "curing",
            DueKind::Renewal => "renewal",
            DueKind::Unsold => "unsold",
            DueKind::DayBook => "day-book",
        }
    }
}

/// One thing that waits.
#[derive(Debug, Clone, PartialEq)]
pub struct Due {
    /// What kind of thing.
    pub kind: DueKind,
    /// Its piece.
    pub piece: PieceName,
    /// What: in the words of the record or of its day book; of a finish the surface and what lies uppermost.
    pub what: String,
    /// What is to be done to a finish or a piece that hardens or is looked at: `light-use`, `full-cure`, `renewing`,
    /// `fixings`.
    pub task: Option<String>,
    /// Before what it is to be done, where the record says so.
    pub before: Option<String>,
    /// The day; `None` where none is set.
    pub on: Option<NaiveDate>,
    /// For whom it is kept, or who has it, where that is recorded.
    pub who: Option<String>,
    /// The price asked.
    pub asking: Option<Decimal>,
    /// What was spent on it, where that is asked about.
    pub spent: Option<Decimal>,
}

impl Due {
    /// Whether it was to be done by a day that has passed.
    pub fn is_late(&self, today: NaiveDate) -> bool {
        matches!(self.kind, DueKind::Open | DueKind::CallBack) && self.on.is_some_and(|on| on < today)
    }
}

/// What waits.
#[derive(Debug, Clone, PartialEq)]
pub struct DueAnswer {
    /// The last day that is looked at.
    pub until: NaiveDate,
    /// After how many days a piece that is still for sale is called to mind.
    pub unsold_after: i64,
    /// What waits: kind by kind, the earliest first, and last what has no day.
    pub due: Vec<Due>,
    /// How many pieces were looked through.
    pub pieces: usize,
}

impl Asking<'_> {
    /// What waits until a day.
    ///
    /// # Errors
    /// [`ArchiveFault`] where the archive cannot be read.
    pub fn due(&self, until: NaiveDate) -> Result<DueAnswer, ArchiveFault> {
        let said = self.archive.about("unsold-after-days")?;
        let unsold_after = said.and_then(|days| days.parse().ok()).unwrap_or(i64::from(UNSOLD_AFTER_DAYS));
        let mut due = self.asked_for()?;
        due.extend(self.pieces_waiting(unsold_after)?);
        due.extend(self.upkeep(until)?);
        due.extend(self.jotted()?);
        due.retain(|due| {
            let always = [DueKind::Reserved, DueKind::Collection, DueKind::DayBook].contains(&due.kind);
            always || due.on.is_none_or(|on| on <= until)
        });
        due.sort_by(|one, other| {
            (one.kind, one.on.is_none(), one.on, &one.piece, &one.what).cmp(&(
                other.kind,
                other.on.is_none(),
                other.on,
                &other.piece,
                &other.what,
            ))
        });
        Ok(DueAnswer { until, unsold_after, due, pieces: self.count("SELECT count(*) FROM piece", [])? })
    }

    /// What somebody wrote down to be done.
    fn asked_for(&self) -> Result<Vec<Due>, ArchiveFault> {
        self.rows(
            "SELECT 'open' AS kind, what, before, due AS on_day, number, title, folder, buyer FROM open JOIN piece ON piece.id = open.piece
             UNION ALL
             SELECT 'call-back', what, NULL, on_day, number, title, folder, buyer
               FROM call_back JOIN piece ON piece.id = call_back.piece WHERE done IS NULL",
            [],
            |row| {
                let open = row.get::<_, String>("kind")? == "open";
                Ok(Due {
                    kind: if open { DueKind::Open } else { DueKind::CallBack },
                    piece: PieceName { number: row.get("number")?, title: row.get("title")?, folder: row.get("folder")? },
                    what: row.get("what")?,
                    task: None,
                    before: row.get("before")?,
                    on: day(row, "on_day")?,
                    who: if open { None } else { row.get("buyer")? },
                    asking: None,
                    spent: None,
                })
            },
        )
    }

    /// Pieces that are kept for somebody, to be collected, or have been for sale for long.
    fn pieces_waiting(&self, unsold_after: i64) -> Result<Vec<Due>, ArchiveFault> {
        let found = self.rows("SELECT * FROM piece", [], |row| {
            let handed_over = day(row, "handed_over")?;
            let kept_for: Option<String> = row.get("reserved_for")?;
            let kept_until = day(row, "reserved_until")?;
            let kept = kept_for.is_some() && kept_until.is_none_or(|until| until >= self.today);
            let since = day(row, "for_sale_since")?.or(day(row, "last_work")?).or(day(row, "found_on")?);
            let asking = amount(row, "asking")?;
            let (kind, on) = match (handed_over, asking) {
                (Some(on), _) if on > self.today => (DueKind::Collection, Some(on)),
                (Some(_), _) => return Ok(None),
                _ if kept => (DueKind::Reserved, kept_until),
                (None, Some(_))
                    if since.is_some_and(|since| (self.today - since).num_days() > unsold_after) =>
                {
                    (DueKind::Unsold, since)
                }
                _ => return Ok(None),
            };
            let piece = PieceName {
                number: row.get("number")?,
                title: row.get("title")?,
                folder: row.get("folder")?,
            };
            let who = match kind {
                DueKind::Reserved => kept_for,
                DueKind::Collection => row.get("buyer")?,
                _ => None,
            };
            let (what, spent) = (String::new(), amount(row, "spent")?);
            Ok(Some(Due { kind, piece, what, task: None, before: None, on, who, asking, spent }))
        })?;
        Ok(found.into_iter().flatten().collect())
    }

    /// Lines of day books that nobody has looked through.
    fn jotted(&self) -> Result<Vec<Due>, ArchiveFault> {
        self.rows(
            "SELECT on_day, line, number, title, folder FROM day_book JOIN piece ON piece.id = day_book.piece WHERE waits > 0",
            [],
            |row| {
                Ok(Due {
                    kind: DueKind::DayBook,
                    piece: PieceName { number: row.get("number")?, title: row.get("title")?, folder: row.get("folder")? },
                    what: row.get("line")?,
                    task: None,
                    before: None,
                    on: day(row, "on_day")?,
                    who: None,
                    asking: None,
                    spent: None,
                })
            },
        )
    }

    /// Finishes that harden in the workshop, and those of pieces that have left and are to be looked at.
    fn upkeep(&self, until: NaiveDate) -> Result<Vec<Due>, ArchiveFault> {
        let found = self.rows(
            "SELECT upkeep.task, upkeep.on_day, upkeep.every_months, surface.name, surface.top, piece.handed_over,
               piece.number, piece.title, piece.folder, piece.buyer
             FROM upkeep JOIN piece ON piece.id = upkeep.piece
             LEFT JOIN surface ON surface.piece = upkeep.piece AND surface.no = upkeep.surface",
            [],
            |row| {
                let task: String = row.get("task")?;
                let Some(first) = day(row, "on_day")? else { return Ok(None) };
                let left = day(row, "handed_over")?.is_some_and(|on| on <= self.today);
                let curing = ["light-use", "full-cure"].contains(&task.as_str());
                let on = match row.get::<_, Option<u32>>("every_months")? {
                    Some(months) => next(first, months, self.today),
                    None => first,
                };
                if curing == left || on < self.today || on > until {
                    return Ok(None);
                }
                let (name, top): (Option<String>, Option<String>) = (row.get("name")?, row.get("top")?);
                let of = [name, top].into_iter().flatten().collect::<Vec<_>>().join(", ");
                Ok(Some(Due {
                    kind: if curing { DueKind::Curing } else { DueKind::Renewal },
                    piece: PieceName { number: row.get("number")?, title: row.get("title")?, folder: row.get("folder")? },
                    what: of,
                    task: Some(task),
                    before: None,
                    on: Some(on),
                    who: row.get("buyer")?,
                    asking: None,
                    spent: None,
                }))
            },
        )?;
        Ok(found.into_iter().flatten().collect())
    }
}

/// The first day of a row of days, so many months apart, that is not before a day.
fn next(first: NaiveDate, months: u32, day: NaiveDate) -> NaiveDate {
    if first >= day {
        return first;
    }
    let between = (day.year() - first.year()) * 12 + day.month() as i32 - first.month() as i32;
    let turns = u32::try_from(between).unwrap_or(0) / months.max(1);
    let at =
        |turns: u32| first.checked_add_months(Months::new(turns.saturating_mul(months))).unwrap_or(first);
    if at(turns) >= day { at(turns) } else { at(turns + 1) }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn days_come_again() {
        let day = |text: &str| text.parse::<NaiveDate>().unwrap();
        for (first, months, on, wanted) in [
            ("2026-03-01", 12, "2026-02-01", "2026-03-01"),
            ("2026-03-01", 12, "2026-03-02", "2027-03-01"),
            ("2024-01-31", 1, "2026-02-10", "2026-02-28"),
            ("2020-05-05", 6, "2026-05-05", "2026-05-05"),
        ] {
            assert_eq!(next(day(first), months, day(on)), day(wanted), "{first} {months} {on}");
        }
    }
}
