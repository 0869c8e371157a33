//! A photograph's name that leads out of the piece's `photos/`.

use super::leads_outside;
use crate::diag::{Code, Diagnostic, Rank};
use crate::inspect::{Case, Check, Rule};

pub(super) static RULE: Rule = Rule { code: &CODE, check: Check::Piece(check), needs_whole: false };

static CODE: Code = Code {
    name: "photograph-outside",
    rank: Rank::Mistake,
    why: "Only what lies in the piece's own `photos/` is published, so that no other file of the computer ever can be.",
    fix: "Copy the photograph into the piece's `photos/` and write its bare file name.",
};

fn check(case: &Case<'_>, seen: &mut Vec<Diagnostic>) {
    for name in case.named_files().filter(|name| leads_outside(name)) {
        let bare = name.0.rsplit(['/', '\\', ':']).next().unwrap_or_default();
        let help = match bare {
            "" | "." | ".." => "write the bare name of a file in photos/".to_owned(),
            bare => format!("copy it into photos/ and write \"{bare}\""),
        };
        let message = format!("`{}` is not the bare name of a file in photos/", name.0);
        seen.push(case.at(&CODE, &name.span, message).help(help));
    }
}

#[cfg(test)]
mod tests {
    use super::RULE;
    use crate::inspect::testing::sees;

    #[test]
    fn every_place_that_names_a_file_is_looked_at() {
        let record = r#"
cover = "/home/before.jpg"
photo = [{ file = "photos/before.jpg" }]
pair = [{ before = "..\\before.jpg", after = "c:after.jpg" }]
swatch = [{ photo = "..", target = [0, 0, 1, 1], result = [0, 0, 1, 1] }]"#;
        assert_eq!(
            sees(&RULE, record),
            "1: `/home/before.jpg` is not the bare name of a file in photos/ \
             [copy it into photos/ and write \"before.jpg\"]\n\
             2: `photos/before.jpg` is not the bare name of a file in photos/ \
             [copy it into photos/ and write \"before.jpg\"]\n\
             3: `..\\before.jpg` is not the bare name of a file in photos/ \
             [copy it into photos/ and write \"before.jpg\"]\n\
             3: `c:after.jpg` is not the bare name of a file in photos/ \
             [copy it into photos/ and write \"after.jpg\"]\n\
             4: `..` is not the bare name of a file in photos/ [write the bare name of a file in photos/]"
        );
    }

    #[test]
    fn dots_inside_a_name_are_no_way_out() {
        assert_eq!(
            sees(&RULE, "cover = \"after..front.jpg\"\nphoto = [{ file = \"before - 10:30.jpg\" }]"),
            ""
        );
    }
}
