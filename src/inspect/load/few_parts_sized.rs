//! Sizes of too few parts to speak of the whole.

use crate::derive::MissingInput;
use crate::diag::{Code, Diagnostic, Rank};
use crate::inspect::{Case, Check, Rule};

pub(super) static RULE: Rule = Rule { code: &CODE, check: Check::Piece(check), needs_whole: true };

static CODE: Code = Code {
    name: "few-parts-sized",
    rank: Rank::Doubt,
    why: "A figure for the whole needs the whole: without it the papers tell neither what the piece weighs nor whether it tips.",
    fix: "Write `size`, `build` and material of the large parts too, or put the piece on a scale and write `weighs`.",
};

fn check(case: &Case<'_>, seen: &mut Vec<Diagnostic>) {
    if case.record.weighs.is_some() || case.facts.lifting != Err(MissingInput::Coverage) {
        return;
    }
    let there: Vec<_> = case.facts.parts.iter().filter(|facts| facts.part.present()).collect();
    let sized = there.iter().filter(|facts| facts.mass.is_ok()).count();
    let first = there.iter().filter(|facts| facts.mass.is_ok()).find_map(|facts| facts.part.size.as_ref());
    // One that was sized by the way asks for nothing.
    let Some(size) = first.filter(|_| sized < there.len()) else { return };
    let message = format!(
        "{sized} of {} parts can be weighed by their sizes, which is too little to speak of the whole",
        there.len()
    );
    seen.push(
        case.at(&CODE, &size.span, message)
            .help("give the large parts their sizes and materials, or write `weighs`"),
    );
}

#[cfg(test)]
mod tests {
    use super::RULE;
    use crate::inspect::testing::sees;

    fn parts(sized: usize, bare: usize, keys: &str) -> String {
        let part = |n: usize, more: &str| {
            format!("{{ id = \"p{n}\", name = \"P\", standing = \"original\"{more} }}")
        };
        let pane = ", build = \"glass\", size = { length = 1000, width = 1000, thick = 4 }";
        let sized = (0..sized).map(|n| part(n, pane));
        let bare = (0..bare).map(|n| part(100 + n, ""));
        let parts: Vec<String> = sized.chain(bare).collect();
        sees(&RULE, &format!("{keys}part = [{}]", parts.join(", ")))
    }

    #[test]
    fn one_part_in_twenty() {
        assert_eq!(
            parts(1, 19, ""),
            "1: 1 of 20 parts can be weighed by their sizes, which is too little to speak of the whole \
             [give the large parts their sizes and materials, or write `weighs`]"
        );
    }

    #[test]
    fn all_none_or_a_scale_is_quiet() {
        assert_eq!(parts(2, 0, ""), "");
        assert_eq!(parts(0, 20, ""), "");
        assert_eq!(parts(1, 19, "weighs = 30\n"), "");
    }
}
