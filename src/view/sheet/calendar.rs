//! The owner's calendar of one piece: days to keep, in words.

use chrono::{Datelike, Days, NaiveDate};
use serde::Serialize;

use crate::claim::says;
use crate::derive::{DayKept, UpkeepTask};
use crate::fields::Row;
use crate::record::Surface;
use crate::unit::fingerprint;
use crate::view::context::PieceContext;

/// A piece's calendar.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Calendar {
    /// What it is called.
    pub name: String,
    /// The language tag of its words.
    pub language: String,
    /// The day that it was last revised: the latest that the record tells of.
    ///
    /// # Source
    /// RFC 5545, section 3.8.7.2: what the stamp of an event means where the calendar names no method.
    #[serde(skip)]
    pub issued: NaiveDate,
    /// Rises with the latest day that the record tells of and with every amendment and seal, so that a calendar
    /// issued again is known to be newer.
    pub edition: u32,
    /// The days, in order.
    pub events: Vec<Event>,
}

/// One day to keep, or the first of a row.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Event {
    /// Names the event in every issue of the calendar, the same each time.
    pub id: String,
    /// The day, or the first.
    #[serde(skip)]
    pub on: NaiveDate,
    /// The day after it, with which an event of one whole day ends.
    #[serde(skip)]
    pub until: NaiveDate,
    /// After how many months it comes again; 0 where it does not.
    pub every_months: u32,
    /// The day as it is printed.
    pub day: String,
    /// How often it comes again, as it is printed; empty where it does not.
    pub again: String,
    /// What the day is for, in a few words.
    pub title: String,
    /// The same with the piece's title, for a calendar that holds more than this piece.
    pub heading: String,
    /// What to do, in sentences.
    pub text: String,
}

/// The most letters of a piece's title that stand in the heading of a day.
const TITLE: usize = 60;

/// The first day that editions are counted from; any would do that never changes.
const EPOCH: (i32, u32, u32) = (2000, 1, 1);

/// The calendar; `None` where no day is known.
pub(crate) fn calendar(context: &PieceContext<'_>) -> Option<Calendar> {
    let upkeep = &context.facts.upkeep;
    let days = &context.claims.care.days;
    let mut events: Vec<Event> = days.iter().filter_map(|kept| event(context, kept)).collect();
    events.sort_by_key(|event| event.on);
    let issued = upkeep.latest.or(events.first().map(|event| event.on))?;
    let epoch = NaiveDate::from_ymd_opt(EPOCH.0, EPOCH.1, EPOCH.2).expect("it is a day");
    let edition = upkeep.latest.map_or(0, |latest| (latest - epoch).num_days().max(0)) + upkeep.issues as i64;
    (!events.is_empty()).then(|| Calendar {
        name: context.house.words().say(&says!(
            "calendar-name",
            piece = short(&context.record.title),
            number = &context.record.number
        )),
        language: context.house.words().language().tag().to_owned(),
        issued,
        edition: u32::try_from(edition).unwrap_or(u32::MAX),
        events,
    })
}

fn event(context: &PieceContext<'_>, kept: &DayKept) -> Option<Event> {
    let DayKept { due, claim } = kept;
    let words = context.house.words();
    let said = words.sentence(claim);
    let (title, text) = (short(&said.lead), said.text);
    let ask = words.sentences(&context.claims.care.ask);
    let ask: String = ask.iter().map(|whom| whom.text.trim_end_matches('.')).collect();
    let piece = short(&context.record.title);
    Some(Event {
        id: id(context, &due.task),
        on: due.on,
        until: due.on.checked_add_days(Days::new(1)).filter(|until| until.year() <= 9999)?,
        every_months: due.every_months.unwrap_or(0),
        day: words.day(due.on),
        again: match due.every_months {
            None => String::new(),
            Some(months) if months % 12 == 0 => words.say(&says!("then-every-years", years = months / 12)),
            Some(months) => words.say(&says!("then-every-months", months = months)),
        },
        heading: words.say(&says!("event-heading", what = title.as_str(), piece = piece)),
        title,
        text: {
            let (piece, number) = (&context.record.title, &context.record.number);
            let piece = says!("piece-with-number", piece = piece, number = number);
            words.say(&says!("event-text", text = text.as_str(), piece = piece, whom = ask))
        },
    })
}

/// A name that stays the same while the workshop, the piece's number and the surface's parts do, whatever else changes.
fn id(context: &PieceContext<'_>, task: &UpkeepTask) -> String {
    let of = match task {
        UpkeepTask::LightUse(surface) => format!("light use\n{}", key(context, surface)),
        UpkeepTask::FullCure(surface) => format!("full cure\n{}", key(context, surface)),
        UpkeepTask::Renewing(surface) => format!("renewing\n{}", key(context, surface)),
        UpkeepTask::Fixings => "fixings".to_owned(),
    };
    let all = format!("care calendar\n{}\n{}\n{of}", context.house.name, context.record.number.value);
    format!("{}@witnessmark", &fingerprint(all.as_bytes())[..32])
}

/// A surface by its parts, else its name; of several alike, the second and further are counted.
fn key(context: &PieceContext<'_>, surface: &Row<Surface>) -> String {
    let own = |surface: &Surface| {
        let parts: Vec<&str> = surface.parts.iter().map(|part| part.0.as_str()).collect();
        match (parts.is_empty(), &surface.name) {
            (true, Some(name)) => format!("named {}", name.value),
            _ => parts.join(" "),
        }
    };
    let before = context.record.surfaces.iter().take_while(|before| !before.is(surface));
    let alike = before.filter(|before| own(before) == own(surface)).count();
    format!("{}\n{alike}", own(surface))
}

/// A text that fits into a heading.
fn short(text: &str) -> String {
    match text.char_indices().nth(TITLE) {
        Some((end, _)) => format!("{}…", text[..end].trim_end()),
        None => text.to_owned(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::view::testing::shown;

    const PIECE: &str = "part = [{ id = \"a\", name = \"Top\", standing = \"original\" }, { id = \"b\", name = \"Leaf\", standing = \"original\" }]\n\
        surface = [{ parts = \"a\", found = \"bare-wood\", steps = [{ on = 2026-03-16, apply = \"shellac\" }] }, { parts = \"b\", found = \"bare-wood\", steps = [{ on = 2026-03-17, apply = \"shellac\" }] }]\n";

    fn of(record: &str, workshop: &str) -> Option<Calendar> {
        shown(record, workshop, calendar)
    }

    #[test]
    fn each_day_says_what_it_is_for() {
        let calendar =
            of(&format!("{PIECE}handover = {{ on = 2026-04-20 }}"), "contact = \"bench@example.org\"")
                .unwrap();
        assert_eq!(calendar.name, "Care of Table (T-1)");
        assert_eq!(calendar.issued.to_string(), "2026-04-20");
        let titles: Vec<&str> = calendar.events.iter().map(|event| event.heading.as_str()).collect();
        assert!(!titles.contains(&"Light use: Top – Table"), "what is over needs no day: {titles:?}");
        assert!(titles.contains(&"Look over screws, hinges and joints – Table"), "{titles:?}");
        assert!(calendar.events.is_sorted_by_key(|event| event.on));
        assert!(
            calendar.events.iter().all(|event| event.text.ends_with("Whom to ask: Bench, bench@example.org"))
        );
        assert_eq!(of(PIECE.split_once('\n').unwrap().0, ""), None, "no day is known");
    }

    #[test]
    fn names_of_days_stay_when_dates_names_and_order_change() {
        let ids = |record: &str| {
            let mut ids: Vec<String> =
                of(record, "").unwrap().events.into_iter().map(|event| event.id).collect();
            ids.sort();
            ids
        };
        let before = ids(PIECE);
        let mut all_differ = before.clone();
        all_differ.dedup();
        assert_eq!(all_differ.len(), before.len());
        assert_eq!(ids(&format!("{PIECE}handover = {{ on = 2026-03-16 }}")), before);
        assert_eq!(ids(&PIECE.replace("\"Top\"", "\"The top\"").replace("03-16", "03-30")), before);
        let (parts, surfaces) = PIECE.split_once('\n').unwrap();
        let swapped = surfaces.replace("\"a\"", "\"x\"").replace("\"b\"", "\"a\"").replace("\"x\"", "\"b\"");
        assert_ne!(surfaces, swapped);
        assert_eq!(ids(&format!("{parts}\n{swapped}")), before);
    }

    #[test]
    fn two_surfaces_without_parts_have_names_of_their_own() {
        let steps = "steps = [{ on = 2026-03-16, apply = \"paste-wax\" }]";
        let record = format!("surface = [{{ {steps} }}, {{ {steps} }}]");
        let mut ids: Vec<String> =
            of(&record, "").unwrap().events.into_iter().map(|event| event.id).collect();
        let number = ids.len();
        ids.sort();
        ids.dedup();
        assert_eq!(ids.len(), number);
    }

    #[test]
    fn an_edition_rises_with_the_record() {
        let edition = |record: &str| of(record, "").unwrap().edition;
        let before = edition(PIECE);
        assert!(edition(&format!("{PIECE}handover = {{ on = 2026-04-20 }}")) > before);
        assert!(
            edition(&format!("{PIECE}work = [{{ on = 2026-03-18, did = \"waxed it again\" }}]")) > before
        );
        let amended = |days: &str| edition(&format!("{PIECE}amendment = [{days}]"));
        let one = "{ on = 2026-06-01, because = \"x\" }";
        assert!(amended(one) > before && amended(&format!("{one}, {one}")) > amended(one));
        assert!(amended("{ on = 2020-01-01, because = \"x\" }") > before);
    }

    #[test]
    fn a_title_without_end_is_cut_in_headings_alone() {
        let long = "كرسي 🪑 ".repeat(300);
        let title = format!("{}…", long.chars().take(TITLE).collect::<String>().trim_end());
        assert_eq!(short(&long), title);
        assert_eq!(short("Table"), "Table");
    }
}
