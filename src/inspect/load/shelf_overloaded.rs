//! A shelf that is to carry more than it bears.

use crate::derive::{NoLoad, ShelfFacts};
use crate::diag::{Code, Diagnostic, Rank};
use crate::inspect::{Case, Check, Rule};

pub(super) static RULE: Rule = Rule { code: &CODE, check: Check::Piece(check), needs_whole: false };

static CODE: Code = Code {
    name: "shelf-overloaded",
    rank: Rank::Doubt,
    why: "The buyer would be told to load it until it sags for all to see, or gives way.",
    fix: "Lower `load`, or correct the shelf's size, span, timber or board. The care sheet prints the smaller figure.",
};

fn check(case: &Case<'_>, seen: &mut Vec<Diagnostic>) {
    for ShelfFacts { shelf, capacity, .. } in &case.facts.shelves {
        let Some(load) = &shelf.load else { continue };
        let bears = match capacity {
            Some(Ok(capacity)) if load.value > capacity.promised() => {
                format!("it is reckoned to bear {:.0} kg", capacity.promised().kg().floor())
            }
            Some(Err(NoLoad::OwnWeight)) => NoLoad::OwnWeight.to_string(),
            _ => continue,
        };
        let message = format!("the shelf `{}` is to carry {} kg, and {bears}", shelf.part.0, load.kg());
        seen.push(
            case.at(&CODE, &load.span, message).help("lower `load`, or correct the shelf's size or span"),
        );
    }
}

#[cfg(test)]
mod tests {
    use super::RULE;
    use crate::inspect::testing::sees;

    fn shelf(load: f64, length: u32) -> String {
        let part = format!(
            "part = [{{ id = \"s\", name = \"S\", standing = \"new\", build = \"panel\", ground = \"mdf\", \
             size = {{ length = {length}, width = 250, thick = 18 }} }}]"
        );
        let used = format!("use = {{ shelves = [{{ part = \"s\", ends = \"supported\", load = {load} }}] }}");
        sees(&RULE, &format!("{used}\n{part}"))
    }

    #[test]
    fn more_than_it_bears() {
        assert_eq!(
            shelf(2.5, 600),
            "1: the shelf `s` is to carry 2.5 kg, and it is reckoned to bear 2 kg \
             [lower `load`, or correct the shelf's size or span]"
        );
        assert!(shelf(0.5, 900).contains("under its own weight alone"));
    }

    #[test]
    fn what_it_bears_is_quiet() {
        assert_eq!(shelf(2.49, 600), "");
    }
}
