//! Rules that look at a record and never change it.
//!
//! One file per rule, in the folder of its family, which lists it; [`RULES`] has them all, and `why`, the table in
//! the docs and the tests walk that list. A rule gets one piece with its facts, or the workshop as a whole, and says
//! what it sees. It is quiet where `unknown` was declared. What rules share stands in their family, or in `case` and
//! `words` where several families use it; no rule uses another.

#[macro_use]
mod rule;

mod additions;
mod case;
mod summed_up;
#[cfg(test)]
mod testing;
mod unmade;
mod verdict;
mod words;

use std::sync::LazyLock;

use chrono::NaiveDate;
use rayon::prelude::*;

use crate::derive::Workpiece;
use crate::diag::{self, Code, Diagnostic};
use crate::fields::code;
use crate::record::{
    DAY_BOOK_TOO_LONG, DAY_NOT_UNDERSTOOD, Folder, LINE_OF_NO_PIECE, LOOSE_AFTER_SEAL, NO_RECORD,
    OF_ONE_PIECE_ALONE, SEAL_BROKEN, SET_INCOMPLETE, SET_OVERFULL, UNKNOWN_PIECE_OF_SET, UNKNOWN_SET, settle,
};
use crate::trade::{self, Trade};

pub use additions::Addition;
pub use case::{Case, Shop};
pub use handover::still_open;
pub use hazard::TEST_NOT_DECLARED;
pub use rule::{Check, LookAtPiece, LookAtWorkshop, Rule};
pub use summed_up::{PAPER_SUMS_UP, paper_sums_up};
pub use unmade::{PAPER_NOT_MADE, paper_not_made};
pub use verdict::{Hindrance, Outlook, Todo, Verdict, keeps_from_sealing, outlook};

families! {
    abrasion,
    after,
    dates,
    day_book,
    decision,
    finding,
    finish,
    handover,
    hazard,
    identity,
    load,
    mark,
    money,
    pair,
    photograph,
    plan,
    receipt,
    references,
    seal,
    showroom,
    standing,
    story,
    surface,
    swatch,
    timber,
    work,
}

/// Every rule, by name.
pub static RULES: LazyLock<Vec<&'static Rule>> = LazyLock::new(|| {
    let mut rules = FAMILIES.concat();
    rules.sort_by_key(|rule| rule.code.name);
    rules
});

/// Asks every rule about the workshop and about every piece whose record was read.
///
/// The most serious comes first, then by file and place.
pub fn inspect(folder: &Folder, pieces: &[Workpiece], trade: &Trade, today: NaiveDate) -> Vec<Diagnostic> {
    let mut seen = Vec::new();
    let shop = Shop { folder, trade };
    for look in RULES.iter().filter_map(|rule| rule.for_workshop()) {
        look(&shop, &mut seen);
    }
    let of_piece = |workpiece| of_one(&Case::of(folder, workpiece, trade, today));
    seen.extend(pieces.par_iter().flat_map_iter(of_piece).collect::<Vec<_>>());
    settle(folder, &mut seen);
    diag::sort(&mut seen);
    seen
}

/// Asks about one piece the rules that speak of the work at the bench: what goes on what and when, abrasives, hazards,
/// loads, movement, and names that nothing has.
pub fn at_the_bench(
    folder: &Folder,
    workpiece: &Workpiece,
    trade: &Trade,
    today: NaiveDate,
) -> Vec<Diagnostic> {
    let families =
        [abrasion::RULES, finish::RULES, hazard::RULES, load::RULES, references::RULES, timber::RULES];
    let case = Case::of(folder, workpiece, trade, today);
    let mut seen = Vec::new();
    for look in families.concat().iter().filter_map(|rule| rule.for_piece()) {
        look(&case, &mut seen);
    }
    settle(folder, &mut seen);
    diag::sort(&mut seen);
    seen
}

/// Asks every rule about one piece.
fn of_one(case: &Case<'_>) -> Vec<Diagnostic> {
    let mut seen = Vec::new();
    let asked = RULES.iter().filter(|rule| !(rule.needs_whole && case.piece.partial));
    for look in asked.filter_map(|rule| rule.for_piece()) {
        look(case, &mut seen);
    }
    seen
}

/// Every kind of fault that reading and inspecting can find, by name.
pub fn codes() -> Vec<&'static Code> {
    let reading = code::CODES
        .iter()
        .copied()
        .chain([&NO_RECORD, &LOOSE_AFTER_SEAL, &SEAL_BROKEN, &PAPER_NOT_MADE, &PAPER_SUMS_UP])
        .chain([&DAY_BOOK_TOO_LONG, &DAY_NOT_UNDERSTOOD, &LINE_OF_NO_PIECE])
        .chain([&OF_ONE_PIECE_ALONE, &SET_INCOMPLETE, &SET_OVERFULL, &UNKNOWN_PIECE_OF_SET, &UNKNOWN_SET])
        .chain(trade::CODES.iter().copied())
        .chain(crate::words::CODES.iter().copied());
    let mut codes: Vec<_> = reading.chain(RULES.iter().map(|rule| rule.code)).collect();
    codes.sort_by_key(|code| code.name);
    codes
}

/// A Markdown table of every kind of fault.
pub fn table() -> String {
    let rows = codes().into_iter().map(|code| {
        format!("| `{}` | {} | {} |\n", code.name, code.rank.word(), code.why.replace('|', "\\|"))
    });
    format!("| code | rank | why |\n| --- | --- | --- |\n{}", rows.collect::<String>())
}

#[cfg(test)]
mod tests {
    use super::testing::{bench, check};
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn every_code_is_kebab_case_and_stands_once() {
        let codes = codes();
        for pair in codes.windows(2) {
            assert!(pair[0].name < pair[1].name, "{} and {}", pair[0].name, pair[1].name);
        }
        for code in codes {
            let name = code.name;
            let sound = |word: &str| !word.is_empty() && word.bytes().all(|b| b.is_ascii_lowercase());
            assert!(name.split('-').all(sound), "{name}");
        }
    }

    #[test]
    fn every_code_says_why_and_what_to_do() {
        for code in codes() {
            for text in [code.why, code.fix] {
                assert!(
                    text.trim_start_matches('"').starts_with(char::is_uppercase) && text.ends_with('.'),
                    "{}: {text}",
                    code.name
                );
            }
            assert_ne!(code.why, code.fix);
        }
    }

    #[test]
    fn the_rules_are_listed_by_name() {
        let names: Vec<&str> = RULES.iter().map(|rule| rule.code.name).collect();
        assert!(names.is_sorted(), "{names:?}");
        assert!(names.len() >= 40);
    }

    #[test]
    fn a_record_that_cannot_be_read_is_not_judged() {
        assert_eq!(check("title = = 3").lines().count(), 1);
    }

    const LINES: &[&str] = &[
        "made = \"1920-22\"",
        "made = \"../1850~\"",
        "cover = \"\\u0301/é.jpg\"",
        "hours = 3",
        "asking = 10.00",
        "[[part]]\nid = \"a\"\nname = \"A\"\nstanding = \"new\"\ntimber = \"Öak\"\nsince = \"1700/..\"",
        "[[part]]\nid = \"a\"\nname = \"A\"\nstanding = \"original\"\nbuild = \"solid\"\nfrom-stock = \"x\"",
        "[[part]]\nid = \"b\"\nname = \"B\"\nstanding = \"missing\"",
        "[[finding]]\nid = \"f\"\npart = [\"a\", \"z\"]\nseen = \"splitt\"\nseverity = \"major\"",
        "[[decision]]\nask = \"?\"\nchose = \"é\"\noptions = [{ plan = \"e\" }]",
        "[[work]]\nid = \"w\"\non = 2027-01-01\ndid = \"x\"\nredoes = \"w\"\nturned-out = \"failed\"\nhours = 1",
        "[[work]]\ndid = \"y\"\nundoable = \"yes\"\nmends = \"f\"",
        "[[fixing]]\npart = \"a\"\nkind = \"epoxy\"\nstanding = \"new\"",
        "[[surface]]\nparts = \"a\"\nfound = \"old-finish\"\nsteps = [{ abrade = \"P80\" }, { on = 2026-01-01, remove = \"tin:x\" }]",
        "[[surface]]\nsteps = [{ on = 2026-02-01, apply = \"é\", clean = \"x\" }, { on = 2025-01-01, test = \"lead\" }, {}]",
        "[[undone]]\nwhat = \"x\"\nwhy = \"unsafe\"\nleaves = \"f\"",
        "[[open]]\nwhat = \"x\"",
        "[[photo]]\nfile = \"ß:\"\nmarks = [{ at = [0.5, 0.5] }]",
        "[[pair]]\nbefore = \"a.jpg\"\nafter = \"a.jpg\"\nlandmarks = [[0, 0, 1, 1]]",
        "[[swatch]]\nphoto = \"a.jpg\"\ntarget = [0, 0, 1, 1]\nresult = [0, 0, 1, 1]\nsurface = 9",
        "[use]\nshelves = [{ part = \"b\" }]",
        "[use]\nshelves = [{ part = \"a\", load = 0.001, span = 20000 }, { part = \"c\", ends = \"fixed\" }]",
        "[[part]]\nid = \"a\"\nname = \"A\"\nstanding = \"new\"\nbuild = \"panel\"\nground = \"mdf\"\nsize = { length = 20000, width = 1e-9, thick = 0.0001 }\nlipping = { timber = \"european-oak\", depth = 1, thick = 1 }",
        "[[part]]\nid = \"c\"\nname = \"C\"\nstanding = \"new\"\nbuild = \"solid\"\ntimber = \"european-oak\"\ngrain = \"width\"\ncount = 100000\nsize = { length = 20000, width = 20000, thick = 20000, wall = 19000, diameter = 1e-300 }\nopens = { as = \"drawer\", by = 20000 }",
        "weighs = 1e-300",
        "size = { width = 1e-300, depth = 20000, height = 1e-300 }",
        "[handover]\non = 2020-02-30",
        "[handover]\non = 2020-02-29\nprice = 1",
        "[found]\non = 2026-02-28",
        "part = 3",
        "é = \"",
    ];

    /// Reads, derives, inspects, proposes additions and prints it all; none of it may panic.
    fn survives(record: &str) {
        check(record);
        bench(record).additions();
    }

    proptest! {
        #[test]
        fn any_text_is_inspected(record in any::<String>()) {
            survives(&record);
        }

        #[test]
        fn lines_of_records_in_any_order_are_inspected(
            lines in prop::collection::vec(prop::sample::select(LINES), 0..12)
        ) {
            survives(&lines.join("\n"));
        }

        #[test]
        fn any_story_is_inspected(story in any::<String>()) {
            survives(&format!("#- story.md\n{story}"));
        }
    }
}
