//! What day books mean: which lines are work, which are plans, and what rows for the record they propose.
//!
//! A line is a work in its maker's own words at once, and nothing else of it is taken as fact: what it says of finishes,
//! faults, tests and money is only proposed, row by row, for somebody to look at.

mod amounts;
mod hits;
mod lexicon;
mod line;
#[cfg(test)]
mod measure;
mod planned;
mod proposal;
mod reading;
mod words;

pub use crate::record::day_book::{Kind, kind, same};
use crate::record::{Jotting, Piece, Record};

pub use proposal::{PartSaid, Proposal};
pub use reading::Bench;

/// The day book of one piece, as far as its record does not tell it by rows.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct DayBook {
    /// What was done, the earliest first; what has no day comes last.
    pub works: Vec<Jotting>,
    /// What is still to be done.
    pub plans: Vec<Jotting>,
}

/// The day book of a piece: a line from which a work was entered is told by that work, and a plan from which any row was.
pub fn day_book(piece: &Piece, record: &Record) -> DayBook {
    let mut book = DayBook::default();
    for (jotting, kind) in piece.jotted(record) {
        match kind {
            Kind::Work => book.works.push(jotting.clone()),
            Kind::Plan => book.plans.push(jotting.clone()),
            Kind::Question => {}
        }
    }
    book.works.sort_by_key(|jotting| (jotting.on.is_none(), jotting.on));
    book
}

/// A line of a day book with the rows that it proposes and that the record does not have yet.
#[derive(Debug, Clone)]
pub struct Waiting {
    /// The line.
    pub jotting: Jotting,
    /// The rows.
    pub proposals: Vec<Proposal>,
}

/// The lines of a piece that propose something that its record does not have, the earliest first.
///
/// Lines up to the day that the record calls read are done with. Of each table a line proposes only what goes beyond the
/// rows that were entered from it.
pub fn waiting(piece: &Piece, record: &Record, bench: &Bench<'_>) -> Vec<Waiting> {
    let entered = record.entered();
    let read = record.day_book_read.for_archive().as_ref().map(|day| day.value);
    // What was jotted of a set is entered into the set's record.
    let mut lines: Vec<&Jotting> = piece.jottings.iter().filter(|line| !line.of_set).collect();
    lines.retain(|line| read.is_none_or(|read| line.on.is_none_or(|on| on > read)));
    lines.sort_by_key(|line| (line.on.is_none(), line.on));
    let waiting = |jotting: &Jotting| {
        let name = jotting.name.for_archive();
        let mut told: Vec<&str> =
            entered.iter().filter(|row| same(&row.from.value.0, name)).map(|row| row.table).collect();
        let mut proposals = bench.proposals(jotting);
        proposals.retain(|proposal| {
            let row = told.iter().position(|table| *table == proposal.table);
            row.map(|row| told.swap_remove(row)).is_none() && !is_said(record, proposal)
        });
        (!proposals.is_empty()).then(|| Waiting { jotting: jotting.clone(), proposals })
    };
    lines.into_iter().filter_map(waiting).collect()
}

/// Whether a record says already what a proposal would put into a place that holds one thing.
fn is_said(record: &Record, proposal: &Proposal) -> bool {
    let has = |key: &str| proposal.value(key).is_some();
    let found = record.found.for_archive().as_ref();
    match proposal.table {
        "" => {
            has("asking") && record.asking.is_some()
                || has("size") && record.size.is_some()
                || has("weighs") && record.weighs.is_some()
                || has("inscriptions") && record.inscriptions.is_some()
                || has("made") && record.made.is_some()
        }
        "found" => found
            .is_some_and(|found| has("paid") && found.paid.is_some() || has("note") && found.note.is_some()),
        "handover" => record.handover.as_ref().is_some_and(|handover| handover.price.for_archive().is_some()),
        "part" => {
            let id = proposal.value("id").and_then(|id| id.as_str()).unwrap_or_default();
            let row = record.parts.iter().find(|part| part.id.0 == id);
            row.is_some_and(|part| {
                has("timber") && part.timber.is_some()
                    || has("size") && part.size.as_ref().is_some_and(|size| size.thick.is_some())
            })
        }
        "surface" => {
            let parts: Vec<&str> =
                proposal.parts.iter().flat_map(|part| &part.ids).map(String::as_str).collect();
            let of = |surface: &crate::record::Surface| {
                let all = surface.parts.iter().map(|part| part.value.0.as_str());
                all.into_iter().any(|part| parts.contains(&part))
            };
            has("found") && record.surfaces.iter().any(|surface| of(surface) && !surface.found.is_empty())
        }
        _ => false,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::source::Tree;

    fn book(record: &str, lines: &str) -> DayBook {
        let record = format!("title = \"T\"\nnumber = \"T-1\"\nkind = \"table/gateleg\"\n{record}");
        let tree = Tree::of([
            ("workshop.toml", "name = \"W\"\nregion = \"united-kingdom\""),
            ("pieces/a/record.toml", record.as_str()),
            ("pieces/a/daybook.txt", lines),
        ]);
        let piece = crate::record::read(&tree).0.pieces.remove(0);
        day_book(&piece, piece.record.as_ref().expect("it reads"))
    }

    fn words(jottings: &[Jotting]) -> Vec<&str> {
        jottings.iter().map(|jotting| jotting.words.for_archive().as_str()).collect()
    }

    #[test]
    fn lines_are_work_plans_or_questions_and_sorted_by_day() {
        let lines = "2026-03-12 waxed it\n2026-03-11 glued the leaf, 1h\n2026-03-13 must order glides\n2026-03-13 is it oak?\n";
        let book = book("", lines);
        assert_eq!(words(&book.works), ["glued the leaf, 1h", "waxed it"]);
        assert_eq!(words(&book.plans), ["must order glides"]);
        assert!(!words(&book.works).contains(&"is it oak?") && !words(&book.plans).contains(&"is it oak?"));
    }

    #[test]
    fn a_line_that_a_work_was_entered_from_is_told_by_it_alone() {
        let lines = "2026-03-11 glued the leaf, 1h.\n2026-03-11 must order glides\n";
        let work = "[[work]]\ndid = \"glued it\"\nfrom-daybook = \"2026-03-11  glued the leaf, 1h\"\n";
        let told = book(work, lines);
        assert_eq!((told.works.len(), told.plans.len()), (0, 1));
        let finding = "[[finding]]\nid = \"f\"\npart = \"a\"\nseen = \"a gap\"\nfrom-daybook = \"2026-03-11 glued the leaf, 1h.\"\n\
                       [[fixing]]\nkind = \"glide\"\nstanding = \"new\"\nfrom-daybook = \"2026-03-11 must order glides\"";
        let told = book(finding, lines);
        assert_eq!((told.works.len(), told.plans.len()), (1, 0));
    }
}
