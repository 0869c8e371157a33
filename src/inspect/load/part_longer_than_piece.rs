//! A part that does not fit into the piece.

use crate::diag::{Code, Diagnostic, Rank};
use crate::inspect::{Case, Check, Rule};
use crate::record::{Construction, PartSize, Size};

pub(super) static RULE: Rule = Rule { code: &CODE, check: Check::Piece(check), needs_whole: false };

static CODE: Code = Code {
    name: "part-longer-than-piece",
    rank: Rank::Hint,
    why: "Weight, movement and loads follow from the sizes, and one of these two is wrong or means several pieces.",
    fix: "Correct the part's or the piece's size; where several pieces were added up, give one with `count`.",
};

fn check(case: &Case<'_>, seen: &mut Vec<Diagnostic>) {
    let Some(outer) = &case.record.size else { return };
    let most = diagonal(outer);
    for part in case.record.parts.iter().filter(|part| part.present()) {
        let bent = part.build.as_ref().is_some_and(|build| build.value == Construction::Bent);
        let Some(size) = part.size.as_ref().filter(|_| !bent) else { continue };
        let longest = longest(size);
        if longest > most {
            let message = format!(
                "part `{}` is {longest:.0} mm long, and the piece {most:.0} mm from corner to corner",
                part.id.0
            );
            let help = "correct one of them; where several pieces were added up, give one with `count`";
            seen.push(case.at(&CODE, &size.span, message).help(help));
        }
    }
}

/// From one corner to the far one, in millimetres.
fn diagonal(size: &Size) -> f64 {
    let squares = [&size.width, &size.depth, &size.height].map(|side| side.mm() * side.mm());
    libm::sqrt(squares.iter().sum())
}

fn longest(size: &PartSize) -> f64 {
    let sides = [&size.length, &size.width, &size.thick, &size.diameter].into_iter().flatten();
    sides.map(|side| side.mm()).fold(0.0, f64::max)
}

#[cfg(test)]
mod tests {
    use super::RULE;
    use crate::inspect::testing::sees;

    fn part(keys: &str) -> String {
        let size = "size = { width = 300, depth = 400, height = 1200 }";
        sees(&RULE, &format!("{size}\npart = [{{ id = \"a\", name = \"A\", {keys} }}]"))
    }

    #[test]
    fn longer_than_from_corner_to_corner() {
        assert_eq!(
            part("standing = \"new\", size = { length = 1301 }"),
            "2: part `a` is 1301 mm long, and the piece 1300 mm from corner to corner \
             [correct one of them; where several pieces were added up, give one with `count`]"
        );
    }

    #[test]
    fn what_fits_is_bent_or_is_gone() {
        for keys in [
            "standing = \"new\", size = { length = 1300 }",
            "standing = \"new\", build = \"bent\", size = { length = 2000 }",
            "standing = \"removed\", size = { length = 2000 }",
        ] {
            assert_eq!(part(keys), "", "{keys}");
        }
    }
}
