//! The days that an owner keeps: when a finish may be used, when it is hard, when to look after it.

use chrono::{Datelike, Months, NaiveDate};

use super::cure::Hardening;
use super::surface::SurfaceFacts;
use crate::fields::{Row, Said};
use crate::record::{Piece, Record, Surface};
use crate::trade::{Finish, Trade};

/// What a day is kept for.
#[derive(Debug, Clone, PartialEq)]
pub enum UpkeepTask {
    /// A surface may be used lightly.
    LightUse(Row<Surface>),
    /// A surface is fully hard.
    FullCure(Row<Surface>),
    /// A surface is looked at, and renewed where it needs it.
    Renewing(Row<Surface>),
    /// Screws, hinges and joints are looked at.
    Fixings,
}

/// One day to keep, or the first of a row of them.
#[derive(Debug, Clone, PartialEq)]
pub struct Due {
    /// What for.
    pub task: UpkeepTask,
    /// The day, or the first.
    pub on: NaiveDate,
    /// After how many months it comes again, at least 1; `None` where it does not.
    pub every_months: Option<u32>,
}

/// Everything that an owner keeps.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Upkeep {
    /// The days: first those of each surface, in the order of the record, then those of the piece.
    pub due: Vec<Due>,
    /// The day that renewing is counted from: that of the handover, else of the last work; `None` with neither.
    pub from: Option<NaiveDate>,
    /// The latest day that the record tells of, amendments and seals among them.
    pub latest: Option<NaiveDate>,
    /// How often the calendar may have been issued anew: amendments and seals together. With the day it tells a
    /// calendar that it is newer, even than one of the same day.
    pub issues: usize,
}

/// Months between two looks at the fixings.
///
/// # Source
/// common practice, no source.
const FIXINGS_MONTHS: u32 = 12;

/// The days that an owner keeps.
///
/// Light use and full hardness are taken at their late end, so that nobody begins too soon. Renewing falls due at the
/// short end of its family's span, as a day to look and not to act on, and never before the surface is fully hard.
/// Days to come again are no later than the 28th, since a month without a 31st would be passed over in silence.
///
/// # Source
/// Drying times and renewing of the table of finishes; the choice of ends is our own.
pub(in crate::derive) fn upkeep(
    record: &Record,
    piece: &Piece,
    surfaces: &[SurfaceFacts],
    trade: &Trade,
) -> Upkeep {
    let handover = piece.handed_over();
    let worked = last_work(record);
    let from = handover.or(worked);
    let mut due = Vec::new();
    for facts in surfaces {
        let surface = || facts.surface.clone();
        let cure = match &facts.hardening {
            Hardening::By(cure) => Some(&**cure),
            _ => None,
        };
        if let Some(cure) = cure {
            let once = |task, on| Due { task, on, every_months: None };
            due.push(once(UpkeepTask::LightUse(surface()), cure.light_use.days.last));
            let full =
                cure.full_cure.iter().map(|full| once(UpkeepTask::FullCure(surface()), full.days.last));
            due.extend(full);
        }
        let months = renewing(facts, trade);
        // A surface that hardens at a time nobody knows is not to be rubbed by a date either.
        let unknown = matches!(facts.hardening, Hardening::NotKnown { .. });
        if let (Some(months), Some(from), false) = (months, from, unknown) {
            let start = cure.map_or(from, |cure| from.max(cure.over()));
            due.extend(again(UpkeepTask::Renewing(surface()), start, months));
        }
    }
    due.extend(from.and_then(|from| again(UpkeepTask::Fixings, from, FIXINGS_MONTHS)));
    due.retain(|due| (1..=LAST_YEAR).contains(&due.on.year()));
    let amended = record.amendments.iter().map(|amended| amended.on.value);
    let said = amended.chain(piece.seals.iter().map(|seal| seal.on)).max();
    let issues = record.amendments.len() + piece.seals.len();
    Upkeep { due, from, latest: worked.max(handover).max(said), issues }
}

/// The last year that a calendar can write, in four digits.
const LAST_YEAR: i32 = 9999;

/// The months after which a surface is to be looked at, where its owner may renew it: by the face of most parts.
fn renewing(facts: &SurfaceFacts, trade: &Trade) -> Option<u32> {
    let finish: &Finish = trade.finish(facts.faces.first()?.renewal.as_deref().ok()?)?;
    let months = finish.renew_months.as_ref()?.low.ceil();
    (1.0..=1200.0).contains(&months).then_some(months as u32)
}

/// A row of days, the first of them so many months after `start`.
fn again(task: UpkeepTask, start: NaiveDate, months: u32) -> Option<Due> {
    let on = start.checked_add_months(Months::new(months))?;
    let on = on.with_day(on.day().min(28))?;
    Some(Due { task, on, every_months: Some(months) })
}

/// The latest day on which something was done.
fn last_work(record: &Record) -> Option<NaiveDate> {
    let works = record.works.iter().map(|work| &work.on);
    let steps = record.surfaces.iter().flat_map(|surface| &surface.steps).map(|step| &step.on);
    let tests = record.tests.iter().map(|test| &test.on);
    works.chain(steps).chain(tests).flatten().map(|on: &Said<NaiveDate>| on.value).max()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::derive::testing::facts;

    const WORKSHOP: &str = "name = \"Bench\"\n";
    /// Hardwax oil or the like is not used here: the times are the tin's, so that the table may change.
    const TIN: &str = "name = \"Bench\"\n[[tin]]\nid = \"wax\"\nis = \"paste-wax\"\ndust-dry-hours = [1, 1]\nlight-use-days = [1, 2]\nfull-cure-days = [3, 10]\n";

    /// What is kept, in a word, when, and how often.
    fn of(record: &str, workshop: &str) -> Vec<(&'static str, String, Option<u32>)> {
        let word = |task| match task {
            UpkeepTask::LightUse(_) => "light use",
            UpkeepTask::FullCure(_) => "full cure",
            UpkeepTask::Renewing(_) => "renewing",
            UpkeepTask::Fixings => "fixings",
        };
        let upkeep = facts(record, workshop).upkeep;
        upkeep.due.into_iter().map(|due| (word(due.task), due.on.to_string(), due.every_months)).collect()
    }

    fn wax_months() -> u32 {
        let finish = Trade::built_in().finish("paste-wax").unwrap();
        finish.renew_months.as_ref().unwrap().low.ceil() as u32
    }

    #[test]
    fn a_waxed_top_is_kept_from_its_handover() {
        let record = "surface = [{ found = \"bare-wood\", steps = [{ on = 2026-03-16, apply = \"tin:wax\" }] }]\nhandover = { on = 2026-04-20 }";
        let wax = wax_months();
        let first = NaiveDate::from_ymd_opt(2026, 4, 20).unwrap() + Months::new(wax);
        assert_eq!(
            of(record, TIN),
            [
                ("light use", "2026-03-18".to_owned(), None),
                ("full cure", "2026-03-26".to_owned(), None),
                ("renewing", first.to_string(), Some(wax)),
                ("fixings", "2027-04-20".to_owned(), Some(12)),
            ]
        );
    }

    #[test]
    fn without_a_handover_the_last_work_counts_and_without_either_nothing_is_dated() {
        let record =
            "work = [{ on = 2026-05-31, did = \"glued it\" }, { on = 2026-01-01, did = \"cleaned it\" }]";
        assert_eq!(of(record, WORKSHOP), [("fixings", "2027-05-28".to_owned(), Some(12))]);
        assert_eq!(of("", WORKSHOP), []);
        assert_eq!(facts("", WORKSHOP).upkeep, Upkeep::default());
    }

    #[test]
    fn renewing_waits_until_the_finish_is_hard_and_is_not_dated_where_that_is_not_known() {
        let soon = "surface = [{ found = \"bare-wood\", steps = [{ on = 2026-03-16, apply = \"tin:wax\" }] }]\nhandover = { on = 2026-03-17 }";
        let renewing =
            |record: &str| of(record, TIN).into_iter().find(|due| due.0 == "renewing").map(|due| due.1);
        let first = NaiveDate::from_ymd_opt(2026, 3, 26).unwrap() + Months::new(wax_months());
        assert_eq!(renewing(soon), Some(first.to_string()));
        assert_eq!(renewing(&soon.replace("on = 2026-03-16, ", "")), None);
    }

    #[test]
    fn a_finish_that_was_found_and_kept_is_looked_at_too() {
        let record = "surface = [{ found = \"paste-wax\" }]\nhandover = { on = 2026-04-20 }";
        let kept: Vec<&str> = of(record, WORKSHOP).into_iter().map(|due| due.0).collect();
        assert_eq!(kept, ["renewing", "fixings"]);
    }

    #[test]
    fn days_beyond_the_calendar_are_left_out() {
        let record = "work = [{ on = 9999-12-31, did = \"glued it\" }]";
        assert_eq!(of(record, WORKSHOP), []);
    }
}
