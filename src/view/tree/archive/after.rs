//! What happened after a piece had left, for the workshop that hears of it.

use chrono::NaiveDate;
use serde::Serialize;

use crate::claim::{Message, says};
use crate::fields::Said;
use crate::record::After;
use crate::view::context::PieceContext;
use crate::words::{capital, sentence};

/// Something that happened after the piece had left.
#[derive(Debug, Clone, Serialize)]
pub struct AfterRow {
    /// The day.
    pub day: String,
    /// What it was.
    pub what: String,
    /// What was said or done; may be empty.
    pub said: String,
    /// Parts and findings that it is about; may be empty.
    pub about: String,
    /// How long it took; may be empty.
    pub time: String,
    /// What it cost, and what was paid back.
    pub amounts: Vec<String>,
    /// Anything else; may be empty.
    pub note: String,
}

/// What happened after the piece had left, the earliest first.
pub(super) fn after(context: &PieceContext<'_>) -> Vec<AfterRow> {
    let words = context.house.words();
    let row = |after: &Said<After>| {
        let findings = after.finding.iter().filter_map(|id| context.names.finding(id));
        let findings = findings.map(|number| words.say(&says!("after-finding", number = number)));
        let parts = (!after.part.is_empty()).then(|| context.names.parts(&after.part));
        let about: Vec<String> = parts.into_iter().chain(findings).collect();
        let cost = after.cost.as_ref().map(|cost| words.money(cost.value));
        let refunded = after.refunded.as_ref();
        let refunded = refunded
            .map(|refunded| words.say(&says!("after-refunded", amount = words.money(refunded.value))));
        AfterRow {
            day: words.day(after.on.value),
            what: capital(&words.say(&kind(after))),
            said: after.said.as_ref().map_or(String::new(), |said| sentence(&words.said(said))),
            about: capital(&about.join("; ")),
            time: after.hours.as_ref().map_or(String::new(), |hours| words.hours(hours.value)),
            amounts: cost.into_iter().chain(refunded).collect(),
            note: after.note.as_ref().map_or(String::new(), |note| sentence(&words.said(note))),
        }
    };
    in_order(context).into_iter().map(row).collect()
}

/// The same in few words for the timeline.
pub(super) fn points(context: &PieceContext<'_>) -> Vec<(NaiveDate, Message)> {
    in_order(context).into_iter().map(|after| (after.on.value, kind(after))).collect()
}

fn kind(after: &After) -> Message {
    Message::word("aftermath", after.what.value.word())
}

fn in_order<'a>(context: &PieceContext<'a>) -> Vec<&'a Said<After>> {
    let mut rows: Vec<&Said<After>> = context.record.after.for_archive().iter().collect();
    rows.sort_by_key(|row| row.on.value);
    rows
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::view::testing::shown;
    use crate::view::tree::archive::piece_page;
    use crate::view::tree::buyer::papers;

    const RECORD: &str = r#"
part = [{ id = "rail", name = "Back rail", standing = "original" }]
finding = [{ id = "loose", part = "rail", seen = "loose joint" }]
work = [{ on = 2026-03-11, part = "rail", did = "glued the rail", mends = "loose" }]
handover = { on = 2026-03-14, to = "A" }
after = [
  { on = 2026-05-02, what = "repair", said = "glued it again", part = "rail", finding = "loose", hours = 1.5, cost = 6.5, refunded = 20 },
  { on = 2026-04-02, what = "call", said = "it creaks", note = "in a warm room" },
]
"#;

    #[test]
    fn it_is_told_by_its_days_with_what_it_is_about_and_cost() {
        let rows = shown(RECORD, "", after);
        let told: Vec<String> = rows
            .iter()
            .map(|row| {
                let AfterRow { day, what, said, about, time, amounts, note } = row;
                format!("{day} | {what} | {said} | {about} | {time} | {} | {note}", amounts.join(", "))
            })
            .collect();
        assert_eq!(
            told,
            [
                "2 April 2026 | Call | It creaks. |  |  |  | In a warm room.",
                "2 May 2026 | Repair | Glued it again. | Back rail; finding 1 | 1.5 hours | £6.50, £20.00 paid back | ",
            ]
        );
    }

    #[test]
    fn the_timeline_has_it_in_the_archive_and_nowhere_else() {
        let lanes = |timeline: &crate::view::sheet::build_record::Timeline| -> Vec<String> {
            timeline.lanes.iter().map(|lane| lane.name.clone()).collect()
        };
        shown(RECORD, "", |context| {
            let papers = papers(context);
            let page = piece_page(context, &papers, "");
            let timeline = page.record.account.timeline.as_ref().expect("it has days");
            assert_eq!(lanes(timeline), ["The work", "After it had left"]);
            let last = &timeline.lanes[1];
            let points: Vec<(usize, &str)> =
                last.points.iter().map(|point| (point.at, point.label.as_str())).collect();
            assert_eq!(points, [(1, "call"), (2, "repair")]);
            let buyers = papers.sheets.record.account.timeline.as_ref().expect("it has days");
            assert_eq!((lanes(buyers), buyers.columns.len()), (vec!["The work".to_owned()], 1));
        });
    }

    #[test]
    fn a_piece_that_came_back_is_nobodys() {
        let back = format!("asking = 90\n{RECORD}").replace("what = \"call\"", "what = \"return\"");
        let (private, handed_to) = shown(&back, "", |context| {
            let papers = papers(context);
            let page = piece_page(context, &papers, "");
            let facts = page.private.iter().map(|fact| format!("{}: {}", fact.label, fact.text));
            (facts.collect::<Vec<_>>(), papers.sheets.disclosure.handed_to.clone())
        });
        assert!(private.contains(&"Came back on: 2 April 2026".to_owned()), "{private:?}");
        assert!(!private.iter().any(|fact| fact.starts_with("Went on")), "{private:?}");
        assert_eq!(handed_to, "");
    }
}
