//! An id that no part has.

use super::names::KnownIds;
use crate::diag::{Code, Diagnostic, Rank};
use crate::inspect::{Case, Check, Rule};

pub(super) static RULE: Rule = Rule { code: &CODE, check: Check::Piece(check), needs_whole: true };

static CODE: Code = Code {
    name: "unknown-part",
    rank: Rank::Mistake,
    why: "What is said here would be printed about no part of the piece, or about the wrong one.",
    fix: "Write the id of a part, or add the part.",
};

fn check(case: &Case<'_>, seen: &mut Vec<Diagnostic>) {
    let record = case.intended();
    let after = record.after.for_archive();
    let parts = KnownIds {
        kind: "part",
        known: record.parts.iter().map(|part| part.id.0.as_str()).collect(),
        example: "`[[part]]` with `id`, `name` and `standing`",
    };
    let lists = (record.findings.iter().map(|finding| &finding.part))
        .chain(record.parts.iter().flat_map(|part| [&part.under, &part.behind, &part.fixed_by]))
        .chain(record.works.iter().map(|work| &work.part))
        .chain(record.fixings.iter().map(|fixing| &fixing.part))
        .chain(record.tests.iter().map(|test| &test.part))
        .chain(record.swatches.iter().map(|swatch| &swatch.part))
        .chain(after.iter().map(|after| &after.part))
        .chain(record.openings.for_archive().iter().map(|opening| &opening.part))
        .chain(record.surfaces.iter().map(|surface| &surface.parts))
        .chain(record.surfaces.iter().flat_map(|surface| &surface.steps).map(|step| &step.only));
    let marks = record.photos.iter().flat_map(|photo| &photo.marks).filter_map(|mark| mark.part.as_ref());
    let patches = record.patches.iter().map(|patch| &patch.part);
    let shelves = record.r#use.iter().flat_map(|r#use| &r#use.shelves).map(|shelf| &shelf.part);
    for used in lists.flat_map(|list| list.iter()).chain(marks).chain(patches).chain(shelves) {
        parts.look_up(case, &CODE, used, seen);
    }
}

#[cfg(test)]
mod tests {
    use super::RULE;
    use crate::inspect::testing::{bench, sees};

    #[test]
    fn the_nearest_part_is_suggested() {
        let finding = r#"
part = [{ id = "leaf-left", name = "Left leaf", standing = "original" }]
finding = [{ id = "f1", part = "leaf-lefft", seen = "split" }]"#;
        assert_eq!(sees(&RULE, finding), "2: no part has the id `leaf-lefft` [write \"leaf-left\"]");
    }

    #[test]
    fn every_place_that_names_a_part_is_looked_at() {
        let places = r#"
work = [{ part = "a", did = "glued it" }]
fixing = [{ part = "b", kind = "hide-glue", standing = "new" }]
test = [{ of = "lead", part = "c", result = "negative" }]
surface = [{ parts = ["d"], steps = [{ clean = "water", only = "e" }] }]
photo = [{ file = "a.jpg", marks = [{ at = [0.1, 0.1], part = "f" }] }]
swatch = [{ photo = "a.jpg", target = [0, 0, 1, 1], result = [0, 0, 1, 1], part = "g" }]
use = { shelves = [{ part = "h" }] }
patch = [{ part = "i", what = "filled hole", standing = "new" }]
after = [{ on = 2026-05-02, what = "call", part = "j" }]
opening = [{ what = "front door", width = 800, height = 2000, part = "k" }]"#;
        let lines = sees(&RULE, places);
        for id in ["a", "b", "c", "d", "e", "f", "g", "h", "i", "j", "k"] {
            assert!(
                lines.contains(&format!("no part has the id `{id}` [nothing gives a part its id yet; add"))
            );
        }
    }

    #[test]
    fn a_part_left_out_while_reading_is_not_missed() {
        let broken =
            "part = [{ id = \"top\", name = \"Top\" }]\nwork = [{ part = \"top\", did = \"waxed it\" }]";
        assert_eq!(bench(broken).sees(&RULE), "");
    }
}
