//! A photograph without words for those who cannot see it.

use crate::diag::{Code, Diagnostic, Rank};
use crate::inspect::{Case, Check, Rule};

pub(super) static RULE: Rule = Rule { code: &CODE, check: Check::Piece(check), needs_whole: false };

static CODE: Code = Code {
    name: "no-alternative-text",
    rank: Rank::Doubt,
    why: "A reader who hears the page instead of seeing it gets nothing from this picture (WCAG 2.2, criterion 1.1.1).",
    fix: "Say with `alt` what the picture shows, in a sentence.",
};

/// A piece that was only just opened has time until something is done to it.
fn check(case: &Case<'_>, seen: &mut Vec<Diagnostic>) {
    if case.lost("[[photo]]") || case.is_just_opened() {
        return;
    }
    let photographs = &case.facts.photographs.all;
    for photograph in photographs.iter().filter(|photo| photo.alt.is_none() && !photo.private) {
        let file = &photograph.file;
        let message = format!("`{file}` has no words for those who cannot see it");
        let help = match &photograph.entry {
            Some(_) => "add `alt = \"…\"`".to_owned(),
            None => format!("add\n[[photo]]\nfile = \"{file}\"\nalt = \"…\""),
        };
        seen.push(case.entry(&CODE, photograph, message).help(help));
    }
}

#[cfg(test)]
mod tests {
    use super::RULE;
    use crate::inspect::testing::sees;

    #[test]
    fn with_and_without_an_entry() {
        let photos =
            "#- photos/after.jpg\n#- photos/before.jpg\n#- photos/during.jpg\n#- photos/hidden.jpg\n";
        let entries = "photo = [
  { file = \"before.jpg\" },
  { file = \"during.jpg\", private = true },
  { file = \"hidden.jpg\", alt = \"The gate's inside.\" },
]\n";
        assert_eq!(
            sees(&RULE, &format!("{entries}{photos}")),
            "photos/after.jpg: `after.jpg` has no words for those who cannot see it \
             [add / [[photo]] / file = \"after.jpg\" / alt = \"…\"]\n\
             2: `before.jpg` has no words for those who cannot see it [add `alt = \"…\"`]"
        );
    }

    #[test]
    fn a_piece_just_opened_has_time_until_something_is_done() {
        let photo = "#- photos/before.jpg\n";
        assert_eq!(sees(&RULE, &format!("publish = false\n{photo}")), "");
        assert_ne!(sees(&RULE, &format!("publish = false\nwork = [{{ did = \"waxed it\" }}]\n{photo}")), "");
        assert_ne!(sees(&RULE, &format!("publish = false\nhandover = {{ on = 2026-04-20 }}\n{photo}")), "");
    }
}
