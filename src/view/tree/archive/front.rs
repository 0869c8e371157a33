//! The archive's front page: what waits, what was worked on last, every piece in a list, and what was learnt.

use chrono::Duration;
use serde::Serialize;

use super::across::{Across, PieceLink};
use super::entry::ArchiveRow;
use super::filter::Filter;
use super::lesson::LessonRow;
use crate::archive::{ArchiveFault, Due, DueAnswer, DueKind, Lesson};
use crate::claim::says;
use crate::unit::{Hours, Money};
use crate::view::shared::fact::Fact;
use crate::words::{capital, sentence};

/// How many days ahead the front page looks.
const DUE_WITHIN: i64 = 30;

/// How many pieces are shown with a large picture.
const RECENT: usize = 6;

/// The archive's front page.
#[derive(Debug, Clone, Serialize)]
pub struct ArchiveFront {
    /// The day of writing.
    pub day: String,
    /// What waits, by its kind; the kinds of which something waits.
    pub due: Vec<DueGroup>,
    /// The pieces that were worked on last, the newest first.
    pub recent: Vec<ArchiveRow>,
    /// All pieces, the newest first.
    pub rows: Vec<ArchiveRow>,
    /// What the list can be narrowed by.
    pub filters: Vec<Filter>,
    /// Totals in words.
    pub totals: Vec<Fact>,
    /// What was learnt, of the newest piece first.
    pub lessons: Vec<LessonRow>,
}

/// What waits of one kind.
#[derive(Debug, Clone, Serialize)]
pub struct DueGroup {
    /// The kind as a word.
    pub kind: &'static str,
    /// The same as a heading.
    pub heading: String,
    /// What waits.
    pub rows: Vec<DueRow>,
}

/// One thing that waits.
#[derive(Debug, Clone, Serialize)]
pub struct DueRow {
    /// What.
    pub what: String,
    /// The piece.
    pub piece: PieceLink,
    /// When, and for whom; may be empty.
    pub when: String,
    /// Whether that day has passed.
    pub late: bool,
}

/// The archive's front page.
pub(super) fn front(across: &Across<'_>) -> Result<ArchiveFront, ArchiveFault> {
    let due = across.asking.due(across.today + Duration::days(DUE_WITHIN))?;
    let mut rows: Vec<&ArchiveRow> = across.entries.values().map(|entry| &entry.row).collect();
    rows.sort_by(|one, other| other.last.cmp(&one.last).then_with(|| one.number.cmp(&other.number)));
    let mut lessons = across.asking.lessons(None)?.lessons;
    let last = |lesson: &Lesson| across.row(&lesson.piece).map_or("", |row| row.last.as_str());
    lessons.sort_by(|one, other| last(other).cmp(last(one)).then_with(|| one.piece.cmp(&other.piece)));
    Ok(ArchiveFront {
        day: across.words.day(across.today),
        due: DueKind::ALL.iter().filter_map(|kind| group(across, &due, *kind)).collect(),
        recent: rows.iter().take(RECENT).map(|row| (*row).clone()).collect(),
        filters: filters(across, &rows),
        totals: totals(across),
        lessons: lessons.iter().map(|lesson| lesson_row(across, lesson)).collect(),
        rows: rows.into_iter().cloned().collect(),
    })
}

fn group(across: &Across<'_>, answer: &DueAnswer, kind: DueKind) -> Option<DueGroup> {
    let rows: Vec<DueRow> =
        answer.due.iter().filter(|due| due.kind == kind).map(|due| due_row(across, due)).collect();
    let heading = match kind {
        DueKind::Unsold => {
            across.say(says!("waits-unsold", days = u64::try_from(answer.unsold_after).unwrap_or(0)))
        }
        _ => across.words.word("waits", kind.word()),
    };
    (!rows.is_empty()).then(|| DueGroup { kind: kind.word(), heading, rows })
}

fn due_row(across: &Across<'_>, due: &Due) -> DueRow {
    let late = due.is_late(across.today);
    let place = match due.kind {
        DueKind::Open | DueKind::Unsold => "ledger",
        DueKind::Curing | DueKind::Renewal => "surfaces",
        DueKind::DayBook => "day-book",
        _ => "",
    };
    DueRow {
        what: what(across, due),
        piece: across.link(&due.piece, place),
        when: when(across, due, late),
        late,
    }
}

/// What waits, in a sentence.
fn what(across: &Across<'_>, due: &Due) -> String {
    let task = due.task.as_ref().map(|task| across.words.word("looked-at", task));
    let what = match (task, due.kind) {
        (Some(task), _) if due.what.is_empty() => task,
        (Some(task), _) => across.say(says!("looked-at-surface", task = task, surface = due.what.as_str())),
        (None, DueKind::Reserved) => across.say(says!("waits-kept", who = who(across, due))),
        (None, DueKind::Collection) => across.say(says!("waits-collected", who = who(across, due))),
        (None, DueKind::Unsold) => match due.asking {
            Some(asking) => across.say(says!("waits-asked", amount = across.money(asking))),
            None => String::new(),
        },
        (None, _) => match &due.before {
            Some(before) => {
                across.say(says!("waits-before", what = due.what.as_str(), before = before.as_str()))
            }
            None => across.said(&due.what),
        },
    };
    sentence(&what)
}

/// For whom it is, as far as that is recorded.
fn who(across: &Across<'_>, due: &Due) -> String {
    match due.who.as_deref() {
        None | Some("somebody") => across.say(says!("waits-somebody")),
        Some(who) => across.said(who),
    }
}

/// When it is due, or since when.
fn when(across: &Across<'_>, due: &Due, late: bool) -> String {
    let Some(on) = due.on else { return String::new() };
    across.say(match due.kind {
        DueKind::Unsold => {
            let days = u64::try_from((across.today - on).num_days()).unwrap_or(0);
            says!("waits-for-sale", day = on, days = days)
        }
        DueKind::Reserved => says!("waits-until", day = on),
        DueKind::DayBook => says!("waits-of", day = on),
        _ if late => says!("waits-since", day = on),
        _ => says!("waits-on", day = on),
    })
}

fn filters(across: &Across<'_>, rows: &[&ArchiveRow]) -> Vec<Filter> {
    let one = |of: fn(&ArchiveRow) -> &str| rows.iter().map(move |row| of(row));
    let each =
        |of: fn(&ArchiveRow) -> &Vec<String>| rows.iter().flat_map(move |row| of(row)).map(String::as_str);
    let years = Filter::by(across.words, "year", says!("filter-year"), one(|row| &row.year));
    let newest_first = |mut years: Filter| {
        years.options.reverse();
        years
    };
    [
        Filter::by(across.words, "kind", says!("filter-kind"), one(|row| &row.sort)),
        Filter::by(across.words, "state", says!("column-state"), one(|row| &row.state_word)),
        years.map(newest_first),
        Filter::by(across.words, "timber", says!("column-timber"), each(|row| &row.timber_words)),
        Filter::by(across.words, "finish", says!("filter-finish"), each(|row| &row.finish_words)),
    ]
    .into_iter()
    .flatten()
    .collect()
}

fn totals(across: &Across<'_>) -> Vec<Fact> {
    let hours: Hours = across.entries.values().filter_map(|entry| entry.hours).sum();
    let spent: Money = across.entries.values().map(|entry| entry.spent).sum();
    let fact = |label, text| Fact { label: across.say(label), text };
    vec![
        fact(says!("total-pieces"), across.entries.len().to_string()),
        fact(says!("total-hours"), across.words.hours(hours)),
        fact(says!("total-spent"), across.words.money(spent)),
    ]
}

fn lesson_row(across: &Across<'_>, lesson: &Lesson) -> LessonRow {
    let piece = across.link(&lesson.piece, "ledger");
    LessonRow {
        text: sentence(&across.said(&lesson.lesson)),
        applies_to: capital(&across.words.list(&lesson.words)),
        title: piece.title,
        href: piece.href,
    }
}
