//! A photograph that does not say when in the work it was taken.

use crate::diag::{Code, Diagnostic, Rank};
use crate::inspect::{Case, Check, Rule};

pub(super) static RULE: Rule = Rule { code: &CODE, check: Check::Piece(check), needs_whole: false };

static CODE: Code = Code {
    name: "photograph-without-stage",
    rank: Rank::Doubt,
    why: "A picture of the damage that passes for one of the finished piece misleads the buyer.",
    fix: "Begin the file's name with `before`, `during`, `hidden`, `after` or `handover`, or write its `stage`.",
};

fn check(case: &Case<'_>, seen: &mut Vec<Diagnostic>) {
    if case.lost("[[photo]]") {
        return;
    }
    let photographs = &case.facts.photographs.all;
    for photograph in photographs.iter().filter(|photo| photo.stage.is_none() && !photo.private) {
        let file = &photograph.file;
        let message = format!("nothing says when in the work `{file}` was taken");
        let help = match photograph.entry {
            Some(_) => "add `stage = \"before\"`, or `during`, `hidden`, `after`, `handover`".to_owned(),
            None => format!(
                "rename it to `before-{file}`, `after-{file}`, or add\n[[photo]]\nfile = \"{file}\"\nstage = \"before\""
            ),
        };
        seen.push(case.entry(&CODE, photograph, message).help(help));
    }
}

#[cfg(test)]
mod tests {
    use super::RULE;
    use crate::inspect::testing::sees;

    #[test]
    fn a_name_from_the_camera_says_nothing() {
        assert_eq!(
            sees(&RULE, "#- photos/IMG_1.jpg\n#- photos/before-front.jpg\n"),
            "photos/IMG_1.jpg: nothing says when in the work `IMG_1.jpg` was taken [rename it to `before-IMG_1.jpg`, \
             `after-IMG_1.jpg`, or add / [[photo]] / file = \"IMG_1.jpg\" / stage = \"before\"]"
        );
    }

    #[test]
    fn an_entry_says_it_or_keeps_it_private() {
        let entry = |more: &str| {
            sees(&RULE, &format!("photo = [{{ file = \"IMG_1.jpg\"{more} }}]\n#- photos/IMG_1.jpg\n"))
        };
        assert!(entry("").starts_with("1: nothing says when"));
        assert_eq!(entry(", stage = \"hidden\""), "");
        assert_eq!(entry(", private = true"), "");
    }
}
