//! A sealed record that was changed, and nothing says why.

use crate::diag::{Code, Diagnostic, Place, Rank};
use crate::inspect::{Case, Check, Rule};
use crate::words::{Words, capital};

pub(super) static RULE: Rule = Rule { code: &CODE, check: Check::Piece(check), needs_whole: true };

static CODE: Code = Code {
    name: "amendment-unexplained",
    rank: Rank::Doubt,
    why: "A change to a sealed record without a reason looks like a fact put right in silence.",
    fix: "Add `[[amendment]]` with `on`, the day, and `because`; or take the change back.",
};

fn check(case: &Case<'_>, seen: &mut Vec<Diagnostic>) {
    let (Some(seal), [first, ..]) = (case.piece.seals.last(), case.facts.amendments.as_slice()) else {
        return;
    };
    if case.record.amendments.iter().any(|amended| amended.on.value >= seal.on) {
        return;
    }
    let more = match case.facts.amendments.len() - 1 {
        0 => String::new(),
        1 => ", and 1 other thing was changed".to_owned(),
        more => format!(", and {more} other things were changed"),
    };
    let message = format!(
        "the record was changed since seal {} of {}, and nothing says why: {}{more}",
        seal.number,
        seal.on,
        capital(&Words::for_diagnostics().say(&first.message))
    );
    let help = format!("add\n[[amendment]]\non = {}\nbecause = \"…\"", case.today);
    seen.push(Diagnostic::new(&CODE, Place::file(&case.path), message).help(help));
}

#[cfg(test)]
mod tests {
    use super::RULE;
    use crate::inspect::testing::{amended, sees};

    #[test]
    fn a_reason_from_before_the_seal_is_none() {
        let why = |day: &str| format!("maker = \"B\"\namendment = [{{ on = {day}, because = \"x\" }}]");
        assert_eq!(
            sees(&RULE, &amended("maker = \"A\"", &why("2026-05-15"))),
            "-: the record was changed since seal 1 of 2026-05-16, and nothing says why: Maker: “A” before, “B” now \
             [add / [[amendment]] / on = 2026-06-01 / because = \"…\"]"
        );
        assert_eq!(sees(&RULE, &amended("maker = \"A\"", &why("2026-05-16"))), "");
        assert_eq!(sees(&RULE, &amended("maker = \"B\"", "maker = \"B\"")), "");
    }
}
