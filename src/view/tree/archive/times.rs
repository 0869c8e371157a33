//! Times: how long what took, task by task.

use rust_decimal::Decimal;
use rust_decimal::prelude::ToPrimitive;
use serde::Serialize;

use super::across::{Across, PieceLink};
use crate::archive::{ArchiveFault, PastWork, Spread, TaskTimes, TimeRow};
use crate::claim::says;
use crate::words::{capital, sentence};

/// How wide the drawing of a spread is.
const WIDE: i64 = 340;

/// How long what took.
#[derive(Debug, Clone, Serialize)]
pub struct TimesPage {
    /// How much it rests on, in words.
    pub count: String,
    /// By task, the one with most hours first.
    pub tasks: Vec<TaskRow>,
    /// What the drawings of tasks go up to.
    pub scale: Scale,
    /// Whole pieces: all together, and by kind.
    pub whole: Vec<SpreadRow>,
    /// The same of whole pieces.
    pub whole_scale: Scale,
}

/// The marks below drawings of hours.
#[derive(Debug, Clone, Serialize)]
pub struct Scale {
    /// Places from the left, with their words.
    pub marks: Vec<(i64, String)>,
}

/// One task.
#[derive(Debug, Clone, Serialize)]
pub struct TaskRow {
    /// What it is called.
    pub task: String,
    /// All kinds together; none where no hours are recorded.
    pub all: Option<SpreadRow>,
    /// By kind, where there are several.
    pub kinds: Vec<SpreadRow>,
    /// The works behind it, the newest first.
    pub works: Vec<WorkLine>,
    /// What attempts that failed took; empty where none did.
    pub failed: String,
    /// How many works have no hours; empty where all have.
    pub without_hours: String,
}

/// How hours lie.
#[derive(Debug, Clone, Serialize)]
pub struct SpreadRow {
    /// Of which kind of piece.
    pub kind: String,
    /// Their middle.
    pub median: String,
    /// From the lower to the upper quartile; empty where there are too few for them.
    pub quartiles: String,
    /// From the least to the most; of one piece that it is one.
    pub range: String,
    /// Of how many pieces.
    pub pieces: usize,
    /// The same drawn.
    pub bar: Bar,
}

/// A spread as it is drawn, from the left.
#[derive(Debug, Clone, Serialize)]
pub struct Bar {
    /// The least.
    pub least: i64,
    /// The lower quartile, or the least where there are too few for one.
    pub low: i64,
    /// The middle.
    pub median: i64,
    /// The upper quartile, or the most.
    pub high: i64,
    /// The most.
    pub most: i64,
}

/// One work behind a task.
#[derive(Debug, Clone, Serialize)]
pub struct WorkLine {
    /// The piece.
    pub piece: PieceLink,
    /// Its kind.
    pub kind: String,
    /// The day; may be empty.
    pub day: String,
    /// What was done.
    pub did: String,
    /// How long it took; may be empty.
    pub hours: String,
    /// That it failed, or was done again; may be empty.
    pub ended: String,
}

pub(super) fn times_page(across: &Across<'_>) -> Result<TimesPage, ArchiveFault> {
    let answer = across.asking.times()?;
    let most =
        |rows: &mut dyn Iterator<Item = &TimeRow>| rows.map(|row| row.hours.most).max().unwrap_or_default();
    let of_tasks = top(most(&mut answer.tasks.iter().flat_map(|task| &task.rows)));
    let of_whole = top(most(&mut answer.whole.iter()));
    Ok(TimesPage {
        count: across.say(says!(
            "times-count",
            hours = across.hours(answer.hours),
            pieces = answer.whole.first().map_or(0, |row| row.hours.count)
        )),
        tasks: answer.tasks.iter().map(|task| task_row(across, task, of_tasks)).collect(),
        scale: scale(across, of_tasks),
        whole: answer.whole.iter().map(|row| spread_row(across, row, of_whole)).collect(),
        whole_scale: scale(across, of_whole),
    })
}

fn task_row(across: &Across<'_>, task: &TaskTimes, top: Decimal) -> TaskRow {
    let mut rows = task.rows.iter().map(|row| spread_row(across, row, top));
    let failed: Decimal = task.works.iter().filter(|work| failed(work)).filter_map(|work| work.hours).sum();
    let without = task.works.iter().filter(|work| work.hours.is_none()).count();
    TaskRow {
        task: match task.task.as_str() {
            "" => capital(&across.say(says!("account-other-work"))),
            task => capital(&across.said(task)),
        },
        all: rows.next(),
        kinds: rows.collect(),
        works: task.works.iter().map(|work| work_line(across, work)).collect(),
        failed: match failed.is_zero() {
            true => String::new(),
            false => across.say(says!("times-failed", hours = across.hours(failed))),
        },
        without_hours: match without {
            0 => String::new(),
            works => across.say(says!("times-without-hours", works = works)),
        },
    }
}

fn failed(work: &PastWork) -> bool {
    work.turned_out.as_deref() == Some("failed")
}

fn work_line(across: &Across<'_>, work: &PastWork) -> WorkLine {
    let ended = match (failed(work), work.again) {
        (true, _) => across.say(says!("ended-failed")),
        (_, true) => across.say(says!("ended-again")),
        _ => String::new(),
    };
    WorkLine {
        piece: across.link(&work.piece, "work"),
        kind: across.sort(&work.sort),
        day: across.day(work.on),
        did: sentence(&across.said(&work.did)),
        hours: work.hours.map_or(String::new(), |hours| across.hours(hours)),
        ended,
    }
}

fn spread_row(across: &Across<'_>, row: &TimeRow, top: Decimal) -> SpreadRow {
    let hours = &row.hours;
    let enough = hours.count >= Spread::ENOUGH;
    let (low, high) = hours.likely();
    let at = |hours: Decimal| {
        let share = hours.checked_div(top).unwrap_or_default() * Decimal::from(WIDE);
        share.round().to_i64().unwrap_or(0).clamp(0, WIDE)
    };
    SpreadRow {
        kind: capital(&across.sort(&row.sort)),
        median: across.hours(hours.median),
        quartiles: if enough { across.span(hours.lower, hours.upper) } else { String::new() },
        range: match hours.count {
            1 => across.say(says!("spread-one")),
            _ => across.span(hours.least, hours.most),
        },
        pieces: hours.count,
        bar: Bar {
            least: at(hours.least),
            low: at(low),
            median: at(hours.median),
            high: at(high),
            most: at(hours.most),
        },
    }
}

/// Up to how many hours a drawing goes: a round number that is no less.
fn top(most: Decimal) -> Decimal {
    let mut step = Decimal::ONE;
    loop {
        for times in [1, 2, 4, 8] {
            let top = step * Decimal::from(times);
            if top >= most {
                return top;
            }
        }
        step *= Decimal::TEN;
    }
}

fn scale(across: &Across<'_>, top: Decimal) -> Scale {
    let mark = |quarter: i64| {
        let hours = top * Decimal::from(quarter) / Decimal::from(4);
        (WIDE * quarter / 4, across.digits(hours))
    };
    Scale { marks: (0..=4).map(mark).collect() }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_drawing_goes_up_to_a_round_number_of_hours() {
        for (most, wanted) in
            [("0", "1"), ("1", "1"), ("1.25", "2"), ("7.5", "8"), ("8.25", "10"), ("131", "200")]
        {
            assert_eq!(top(most.parse().unwrap()), wanted.parse().unwrap(), "{most}");
        }
    }
}
