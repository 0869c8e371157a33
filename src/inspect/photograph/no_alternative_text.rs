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

/// More photographs of one piece than these that no `[[photo]]` names are told together.
const SINGLY: usize = 3;

/// Names of the others that are told.
const NAMED: usize = 6;

/// A piece that was only just opened has time until something is done to it.
fn check(case: &Case<'_>, seen: &mut Vec<Diagnostic>) {
    if case.lost("[[photo]]") || case.is_just_opened() {
        return;
    }
    look(case, false, seen);
    // What all pieces of a set share is told of once.
    if case.piece.set.as_ref().is_some_and(|set| set.place == 0) {
        look(case, true, seen);
    }
}

/// Looks at the photographs of the piece itself, or at those that its set lends.
fn look(case: &Case<'_>, lent: bool, seen: &mut Vec<Diagnostic>) {
    let photographs = &case.facts.photographs.all;
    let own = photographs.iter().filter(|photo| case.piece.shares_photograph(&photo.file) == lent);
    let wordless: Vec<_> = own.filter(|photo| photo.alt.is_none() && !photo.private).collect();
    let bare: Vec<_> = wordless.iter().filter(|photo| photo.entry.is_none()).collect();
    let together = bare.len() > SINGLY;
    for photograph in wordless.iter().filter(|photo| photo.entry.is_some() || !together) {
        let file = &photograph.file;
        let message = format!("`{file}` has no words for those who cannot see it");
        let help = match &photograph.entry {
            Some(_) => "add `alt = \"…\"`".to_owned(),
            None => row(file),
        };
        seen.push(case.entry(&CODE, photograph, message).help(help));
    }
    if let [first, others @ ..] = &bare[..]
        && together
    {
        let message = format!("{} photographs have no words for those who cannot see them", bare.len());
        let named: Vec<&str> = others.iter().take(NAMED).map(|photo| &*photo.file).collect();
        let more = match others.len().saturating_sub(NAMED) {
            0 => String::new(),
            more => format!(" and {more} more"),
        };
        let help = format!("{}\nand the same for {}{more}", row(&first.file), named.join(", "));
        seen.push(case.entry(&CODE, first, message).help(help));
    }
}

/// The row that gives a photograph its words.
fn row(file: &str) -> String {
    format!("add\n[[photo]]\nfile = \"{file}\"\nalt = \"…\"")
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
    fn many_are_told_together() {
        let photos: String = (10..20).map(|n| format!("#- photos/after-{n}.jpg\n")).collect();
        assert_eq!(
            sees(&RULE, &photos),
            "photos/after-10.jpg: 10 photographs have no words for those who cannot see them \
             [add / [[photo]] / file = \"after-10.jpg\" / alt = \"…\" / and the same for after-11.jpg, after-12.jpg, \
             after-13.jpg, after-14.jpg, after-15.jpg, after-16.jpg and 3 more]"
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
