//! Whether a piece may go out, and what keeps it.

use chrono::NaiveDate;

use super::additions::additions;
use super::{Addition, Case};
use crate::derive::cure::Hardening;
use crate::diag::{Diagnostic, Rank};
use crate::fields::code;
use crate::trade::Requirement;

/// Whether a piece may be handed over.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Verdict {
    /// It left on this day.
    Gone(NaiveDate),
    /// It may; with so many gaps in its papers, of those that would help most.
    Fit {
        /// How many.
        gaps: usize,
    },
    /// Not yet, for these reasons.
    NotYet(Vec<Hindrance>),
}

/// What keeps a piece from being handed over.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Hindrance {
    /// So many mistakes, which would be sealed with it.
    Mistakes(usize),
    /// Nothing tells what was done to it.
    NoWork,
    /// Nothing tells which of its parts are original, which is the first that its papers are asked.
    NoStandings,
    /// Nothing tells what is on its surfaces, from which all care follows.
    NoSurfaces,
    /// So many things are still open.
    Open(usize),
    /// A surface bears no use before this day.
    Soft {
        /// The surface.
        surface: String,
        /// The day.
        from: NaiveDate,
    },
}

/// Whether a piece may be handed over, and what is to be done: one list, first what keeps it, then what would help its
/// papers most.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Outlook {
    /// Whether it may.
    pub verdict: Verdict,
    /// What is to be done.
    pub todo: Vec<Todo>,
}

/// Something that is to be done before a piece is handed over, or that would help its papers.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Todo {
    /// What keeps the piece as long as it is not done; `None` where nothing does.
    pub keeps: Option<Hindrance>,
    /// What to write; `None` where the checklist has no line for it.
    pub addition: Option<Addition>,
}

impl Hindrance {
    /// What of the checklist it waits for.
    fn waits_for(&self) -> Option<Requirement> {
        match self {
            Hindrance::NoWork => Some(Requirement::Work),
            Hindrance::NoStandings => Some(Requirement::Parts),
            Hindrance::NoSurfaces => Some(Requirement::Surfaces),
            Hindrance::Mistakes(_) | Hindrance::Open(_) | Hindrance::Soft { .. } => None,
        }
    }
}

/// Whether a piece may be handed over with so many mistakes standing, and what is to be done.
pub fn outlook(case: &Case<'_>, mistakes: usize) -> Outlook {
    let hindrances = match case.left_on() {
        Some(_) => Vec::new(),
        None => hindrances(case, mistakes),
    };
    let all = &case.facts.completeness.additions;
    let keeping = hindrances.iter().map(|hindrance| Todo {
        keeps: Some(hindrance.clone()),
        addition: hindrance
            .waits_for()
            .and_then(|what| all.iter().find(|addition| addition.counts.contains(&what)).cloned()),
    });
    let mut todo: Vec<Todo> = keeping.collect();
    // What keeps it is not said a second time among what would help.
    let said: Vec<&Addition> = todo.iter().filter_map(|todo| todo.addition.as_ref()).collect();
    let helping = additions(case, &said);
    let verdict = match case.left_on() {
        Some(on) => Verdict::Gone(on),
        None if hindrances.is_empty() => Verdict::Fit { gaps: helping.len() },
        None => Verdict::NotYet(hindrances),
    };
    todo.extend(helping.into_iter().map(|addition| Todo { keeps: None, addition: Some(addition) }));
    Outlook { verdict, todo }
}

/// What keeps a piece from being handed over, with so many mistakes standing.
fn hindrances(case: &Case<'_>, mistakes: usize) -> Vec<Hindrance> {
    let mut hindrances = Vec::new();
    if mistakes > 0 {
        hindrances.push(Hindrance::Mistakes(mistakes));
    }
    if !case.has_work() {
        hindrances.push(Hindrance::NoWork);
    }
    if case.record.parts.is_empty() && case.record.rest.is_none() {
        hindrances.push(Hindrance::NoStandings);
    }
    if case.record.surfaces.is_empty() {
        hindrances.push(Hindrance::NoSurfaces);
    }
    let open = case.still_open();
    if open > 0 {
        hindrances.push(Hindrance::Open(open));
    }
    for facts in &case.facts.surfaces {
        let Hardening::By(cure) = &facts.hardening else { continue };
        let from = cure.light_use.days.first;
        if case.today < from {
            let name = facts.surface.name.as_ref();
            let surface = name.map_or_else(|| format!("surface {}", facts.number), |name| name.0.clone());
            hindrances.push(Hindrance::Soft { surface, from });
        }
    }
    hindrances
}

/// Whether something that was found keeps a record from being sealed: a mistake, or what can only be read by guessing.
pub fn keeps_from_sealing(found: &Diagnostic) -> bool {
    found.rank() == Rank::Mistake || code::is_loose(found.code)
}

#[cfg(test)]
mod tests {
    use super::{Hindrance, Outlook, Verdict};
    use crate::inspect::testing::bench;

    /// Which parts are original, and what is on the surfaces.
    const TOLD: &str = "rest = \"original\"\nsurface = [{ name = \"Top\", found = \"shellac\" }]\n";
    const WORK: &str = "rest = \"original\"\nsurface = [{ name = \"Top\", found = \"shellac\" }]\n\
                        work = [{ on = 2026-03-11, did = \"glued it\" }]\n";

    #[test]
    fn a_piece_with_work_and_nothing_open_may_go_with_what_is_missing() {
        assert_eq!(bench(WORK).verdict(0), Verdict::Fit { gaps: 3 });
        let nothing = [Hindrance::NoWork, Hindrance::NoStandings, Hindrance::NoSurfaces];
        assert_eq!(bench("").verdict(0), Verdict::NotYet(nothing.to_vec()));
        assert_eq!(bench(TOLD).verdict(0), Verdict::NotYet(vec![Hindrance::NoWork]));
        assert_eq!(bench(WORK).verdict(2), Verdict::NotYet(vec![Hindrance::Mistakes(2)]));
        let jotted = format!("{TOLD}#- pieces/table/daybook.txt\n2026-03-11 glued the leaf");
        assert_eq!(bench(&jotted).verdict(0), Verdict::Fit { gaps: 3 });
    }

    #[test]
    fn what_is_open_in_the_record_or_planned_last_in_the_day_book_keeps_it() {
        let open = format!("{WORK}open = [{{ what = \"fit felt\" }}]");
        assert_eq!(bench(&open).verdict(0), Verdict::NotYet(vec![Hindrance::Open(1)]));
        let planned = |lines: &str| bench(&format!("{TOLD}#- pieces/table/daybook.txt\n{lines}")).verdict(0);
        let last = "2026-03-11 glued the leaf\n2026-03-11 must order glides";
        assert_eq!(planned(last), Verdict::NotYet(vec![Hindrance::Open(1)]));
        assert_eq!(planned(&format!("{last}\n2026-03-14 glides on")), Verdict::Fit { gaps: 3 });
    }

    #[test]
    fn a_soft_coat_keeps_it_until_it_bears_use_and_a_piece_that_left_is_not_asked() {
        // The inspection is of 2026-06-01; oil-polyurethane in finish.toml bears light use after 3 to 7 days.
        let surface = |on: &str| {
            format!(
                "rest = \"original\"\nsurface = [{{ name = \"Top\", steps = [{{ on = {on}, apply = \"oil-polyurethane\", coats = 1 }}] }}]"
            )
        };
        let soft = Hindrance::Soft { surface: "Top".to_owned(), from: "2026-06-02".parse().unwrap() };
        assert_eq!(bench(&surface("2026-05-30")).verdict(0), Verdict::NotYet(vec![soft]));
        assert!(matches!(bench(&surface("2026-05-20")).verdict(0), Verdict::Fit { .. }));
        let left = format!("{WORK}handover = {{ on = 2026-04-01 }}");
        assert_eq!(bench(&left).verdict(0), Verdict::Gone("2026-04-01".parse().unwrap()));
    }

    #[test]
    fn what_keeps_it_stands_first_with_what_to_write_and_is_said_once() {
        let Outlook { todo, .. } = bench("").outlook(1);
        let told: Vec<(bool, &str)> = todo
            .iter()
            .map(|todo| {
                let say = todo.addition.as_ref().map_or("", |addition| addition.say.as_str());
                (todo.keeps.is_some(), say)
            })
            .collect();
        assert_eq!(
            told,
            [
                (true, ""),
                (true, "say what was done"),
                (true, "say of which parts it is made, and which of them are original"),
                (true, "say what lies on its surfaces, since care follows from it"),
                (false, "show the piece as it was found"),
                (false, "say how large it is"),
                (false, "say when it was made"),
            ]
        );
        let left = format!("{WORK}handover = {{ on = 2026-04-01 }}");
        assert!(bench(&left).outlook(2).todo.iter().all(|todo| todo.keeps.is_none()));
    }
}
