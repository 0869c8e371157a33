//! A part added before the piece was made.

use crate::diag::{Code, Diagnostic, Rank};
use crate::inspect::{Case, Check, Rule};
use crate::unit::edtf::Bound;

pub(super) static RULE: Rule = Rule { code: &CODE, check: Check::Piece(check), needs_whole: false };

static CODE: Code = Code {
    name: "since-before-made",
    rank: Rank::Doubt,
    why: "A part that was added later cannot be older on the piece than the piece itself.",
    fix: "Correct the part's `since`, or the piece's `made`.",
};

fn check(case: &Case<'_>, seen: &mut Vec<Diagnostic>) {
    let Some(Bound::Year(made)) = case.record.made.as_ref().map(|made| made.years().earliest) else { return };
    for part in &case.record.parts {
        let Some(since) = &part.since else { continue };
        if let Bound::Year(latest) = since.years().latest
            && latest < made
        {
            let message = format!(
                "part `{}` was added in {latest} at the latest, and the piece made in {made} at the earliest",
                part.id.0
            );
            seen.push(case.at(&CODE, &since.span, message).help("correct one of the two"));
        }
    }
}

#[cfg(test)]
mod tests {
    use super::RULE;
    use crate::inspect::testing::sees;

    fn since(years: &str) -> String {
        let part = "id = \"back\", name = \"Back\", standing = \"later\"";
        sees(&RULE, &format!("made = \"1920/1935\"\npart = [{{ {part}, since = \"{years}\" }}]"))
    }

    #[test]
    fn the_year_of_making_is_late_enough() {
        assert_eq!(
            since("191X"),
            "2: part `back` was added in 1919 at the latest, and the piece made in 1920 at the earliest \
             [correct one of the two]"
        );
        assert_eq!(since("1910/1920"), "");
        assert_eq!(since("1950/.."), "");
    }
}
