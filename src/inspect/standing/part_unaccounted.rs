//! A new, salvaged or removed part that nothing accounts for.

use crate::diag::{Code, Diagnostic, Rank};
use crate::inspect::{Case, Check, Rule};
use crate::record::Standing;

pub(super) static RULE: Rule = Rule { code: &CODE, check: Check::Piece(check), needs_whole: true };

static CODE: Code = Code {
    name: "part-unaccounted",
    rank: Rank::Doubt,
    why: "A buyer who reads that a part was fitted or taken away will ask how, and the papers would not say.",
    fix: "Name the part in the work, fixing or surface that it belongs to.",
};

fn check(case: &Case<'_>, seen: &mut Vec<Diagnostic>) {
    let record = case.record;
    let lists = (record.works.iter().map(|work| &work.part))
        .chain(record.fixings.iter().map(|fixing| &fixing.part))
        .chain(record.surfaces.iter().map(|surface| &surface.parts));
    let named: Vec<&str> = lists.flat_map(|list| list.iter()).map(|part| part.0.as_str()).collect();
    for part in &record.parts {
        let id = &part.id.0;
        let ours = match part.standing.value {
            Standing::New | Standing::Salvaged => true,
            // A note on a part that is gone says what became of it.
            Standing::Removed => part.note.is_none(),
            _ => false,
        };
        if ours && !named.contains(&id.as_str()) {
            let message = format!("part `{id}` is {}, and no work says so", part.standing.word());
            let did = if part.standing.value == Standing::Removed { "took off …" } else { "fitted …" };
            let help = format!("add\n[[work]]\npart = \"{id}\"\ndid = \"{did}\"");
            seen.push(case.at(&CODE, &part.id.span, message).help(help));
        }
    }
}

#[cfg(test)]
mod tests {
    use super::RULE;
    use crate::inspect::testing::sees;

    #[test]
    fn a_new_part_that_nobody_fitted() {
        assert_eq!(
            sees(&RULE, "part = [{ id = \"stop\", name = \"Gate stop\", standing = \"new\" }]"),
            "1: part `stop` is new, and no work says so [add / [[work]] / part = \"stop\" / did = \"fitted …\"]"
        );
    }

    #[test]
    fn work_fixing_or_surface_is_enough_and_the_rest_was_there() {
        let record = r#"
part = [
  { id = "a", name = "A", standing = "new" },
  { id = "b", name = "B", standing = "salvaged" },
  { id = "c", name = "C", standing = "removed" },
  { id = "d", name = "D", standing = "later" },
  { id = "e", name = "E", standing = "missing" },
  { id = "f", name = "F", standing = "unknown" },
  { id = "g", name = "G", standing = "removed", note = "Burnt because of the worm." },
]
work = [{ part = "c", did = "took it off" }]
fixing = [{ part = ["d", "a"], kind = "hide-glue", standing = "new" }]
surface = [{ parts = "b" }]"#;
        assert_eq!(sees(&RULE, record), "");
    }
}
