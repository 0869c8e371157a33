//! What was done, day by day.

use chrono::NaiveDate;
use serde::Serialize;

use crate::claim::says;
use crate::record::Outcome;
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

/// Works and steps by their days, the earliest first; what has no day comes last.
pub(super) fn days_done(context: &PieceContext<'_>, rows: &Rows) -> Vec<DayDone> {
    let mut lines: Vec<(Option<NaiveDate>, DoneLine)> = Vec::new();
    for (surface, view) in context.facts.surfaces.iter().zip(&rows.surfaces) {
        let mut last: Option<(Option<NaiveDate>, bool)> = None;
        for (step, row) in surface.surface.steps.iter().zip(&view.steps) {
            let on = step.on.as_ref().map(|on| on.value);
            let text = words::sentence(&row.text);
            // Steps on one surface on one day are told together.
            match lines.last_mut().filter(|_| last == Some((on, row.undone))) {
                Some((_, line)) => line.text = format!("{} {text}", line.text),
                None => {
                    let text = format!("{}: {text}", view.name);
                    let taken_off = || context.house.words().heading(&says!("done-taken-off"));
                    let outcome = if row.undone { taken_off() } else { String::new() };
                    lines.push((on, DoneLine { text, mends: Vec::new(), outcome, failed: row.undone }));
                }
            }
            last = Some((on, row.undone));
        }
    }
    for work in &rows.works {
        let numbers = work.row.mends.iter().filter_map(|id| context.names.finding(id));
        let finding = |number: usize| Finding {
            number,
            anchor: finding_anchor(number),
            seen: rows.findings.get(number - 1).map_or(String::new(), |finding| finding.seen.clone()),
        };
        let failed = work.row.turned_out.as_ref().is_some_and(|outcome| outcome.value == Outcome::Failed);
        let line = DoneLine {
            text: work.did.clone(),
            mends: numbers.map(finding).collect(),
            outcome: words::capital(&work.outcome),
            failed,
        };
        lines.push((work.row.on.as_ref().map(|on| on.value), line));
    }
    lines.sort_by_key(|(on, _)| (on.is_none(), *on));
    let mut days: Vec<(Option<NaiveDate>, DayDone)> = Vec::new();
    for (on, line) in lines {
        match days.last_mut().filter(|(day, _)| *day == on) {
            Some((_, day)) => day.lines.push(line),
            None => {
                let before = days.last().and_then(|(day, _)| *day);
                days.push((on, DayDone { lines: vec![line], ..named(context, on, before) }));
            }
        }
    }
    days.into_iter().map(|(_, day)| day).collect()
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
        assert!(days[0].lines[0].text.starts_with("Top: "), "{}", days[0].lines[0].text);
    }
}
