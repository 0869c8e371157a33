//! What was done, day by day.

use chrono::NaiveDate;
use serde::Serialize;

use crate::claim::says;
use crate::derive::{Doing, LogEntry};
use crate::fields::Row;
use crate::record::Step;
use crate::view::context::PieceContext;
use crate::view::names::finding_anchor;
use crate::view::shared::row::Rows;
use crate::words;

/// What was done on one day.
#[derive(Debug, Clone, Serialize)]
pub struct DayDone {
    /// The day, without its year; or that it is not recorded.
    pub day: String,
    /// The year, where it is another than that of the day before; else empty.
    pub year: String,
    /// What was done, in the order of the record.
    pub lines: Vec<DoneLine>,
}

/// One thing that was done.
#[derive(Debug, Clone, Serialize)]
pub struct DoneLine {
    /// What, in sentences.
    pub text: String,
    /// The findings that it mends.
    pub mends: Vec<Finding>,
    /// How it turned out; empty where that is not recorded.
    pub outcome: String,
    /// Whether it did not hold, or was taken off again.
    pub failed: bool,
}

/// A finding by its number.
#[derive(Debug, Clone, Serialize)]
pub struct Finding {
    /// Its number.
    pub number: usize,
    /// Its id on the page.
    pub anchor: String,
    /// What was seen.
    pub seen: String,
}

/// What was done by its days, as the log tells it, the earliest first; what has no day comes last.
pub(super) fn days_done(context: &PieceContext<'_>, rows: &Rows) -> Vec<DayDone> {
    let mut days: Vec<(Option<NaiveDate>, DayDone)> = Vec::new();
    let mut last: Option<&LogEntry> = None;
    for entry in &context.claims.log {
        if days.last().is_none_or(|(day, _)| *day != entry.on) {
            let before = days.last().and_then(|(day, _)| *day);
            days.push((entry.on, named(context, entry.on, before)));
        }
        let Some((_, day)) = days.last_mut() else { continue };
        match day.lines.last_mut().filter(|_| last.is_some_and(|last| goes_on(last, entry))) {
            Some(line) => {
                let more = context.house.words().say_all(entry.said.iter().cloned());
                line.text = format!("{} {more}", line.text);
            }
            None => day.lines.push(line(context, rows, entry)),
        }
        last = Some(entry);
    }
    days.into_iter().map(|(_, day)| day).collect()
}

/// Whether the same surfaces were worked on further on the same day, so that both are told together.
fn goes_on(before: &LogEntry, entry: &LogEntry) -> bool {
    let (Doing::Steps(one), Doing::Steps(other)) = (&before.doing, &entry.doing) else { return false };
    let surfaces = |steps: &[(usize, Row<Step>)]| steps.iter().map(|(number, _)| *number).collect::<Vec<_>>();
    before.on == entry.on && before.lost == entry.lost && surfaces(one) == surfaces(other)
}

/// One thing that was done: on surfaces with their names, else in its maker's own words.
fn line(context: &PieceContext<'_>, rows: &Rows, entry: &LogEntry) -> DoneLine {
    let words = context.house.words();
    let work = match &entry.doing {
        Doing::Work(work) => rows.works.iter().find(|row| row.row.is(work)),
        Doing::Steps(_) | Doing::Jotted => None,
    };
    let mends = work.iter().flat_map(|work| work.row.mends.iter());
    let finding = |number: usize| Finding {
        number,
        anchor: finding_anchor(number),
        seen: rows.findings.get(number - 1).map_or(String::new(), |finding| finding.seen.clone()),
    };
    DoneLine {
        text: match &entry.doing {
            Doing::Steps(_) => words.sentence(&entry.claim).text,
            Doing::Work(_) | Doing::Jotted => words.say_all(entry.said.iter().cloned()),
        },
        mends: mends.filter_map(|id| context.names.finding(id)).map(finding).collect(),
        outcome: match entry.lost {
            true => words.heading(&says!("done-taken-off")),
            false => work.map_or(String::new(), |work| words::capital(&work.outcome)),
        },
        failed: entry.lost || work.is_some_and(|work| work.failed),
    }
}

/// A day by its name, after the one before.
fn named(context: &PieceContext<'_>, on: Option<NaiveDate>, before: Option<NaiveDate>) -> DayDone {
    use chrono::Datelike;
    let Some(on) = on else {
        let day = context.house.words().heading(&says!("done-undated"));
        return DayDone { day, year: String::new(), lines: Vec::new() };
    };
    let year = if before.map(|before| before.year()) == Some(on.year()) {
        String::new()
    } else {
        on.year().to_string()
    };
    DayDone { day: context.house.words().day_of_year(on), year, lines: Vec::new() }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::view::shared::photograph::Sees;
    use crate::view::testing::shown;

    #[test]
    fn the_work_is_told_by_its_days() {
        let days = shown(
            "part = [{ id = \"top\", name = \"Top\", standing = \"original\" }]\n\
             finding = [{ id = \"f\", part = \"top\", seen = \"split\" }]\n\
             work = [{ did = \"swept up\" }, { on = 2026-03-12, did = \"closed it\", mends = \"f\", turned-out = \"failed\" }]\n\
             surface = [{ parts = \"top\", steps = [{ on = 2025-03-12, clean = \"white spirit\" }, { on = 2025-03-12, abrade = [\"P120\"] }] }]",
            "",
            |context| days_done(context, &Rows::of(context, Sees::Public)),
        );
        let told: Vec<(&str, &str, usize)> =
            days.iter().map(|day| (day.day.as_str(), day.year.as_str(), day.lines.len())).collect();
        assert_eq!(told, [("12 March", "2025", 1), ("12 March", "2026", 1), ("Day not recorded", "", 1)]);
        let line = &days[1].lines[0];
        assert_eq!((line.failed, line.mends[0].number), (true, 1));
        assert_eq!(days[0].lines[0].text, "Top: cleaned with white spirit. Rubbed down with P120.");
    }
}
