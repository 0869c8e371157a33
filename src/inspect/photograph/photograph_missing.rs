//! A photograph that the record names and nobody finds.

use super::leads_outside;
use crate::diag::nearest;
use crate::diag::{Code, Diagnostic, Rank};
use crate::inspect::{Case, Check, Rule};

pub(super) static RULE: Rule = Rule { code: &CODE, check: Check::Piece(check), needs_whole: false };

static CODE: Code = Code {
    name: "photograph-missing",
    rank: Rank::Doubt,
    why: "The papers would lack a picture that the record speaks of.",
    fix: "Copy the photograph into the piece's `photos/`, or correct its name; capitals count.",
};

fn check(case: &Case<'_>, seen: &mut Vec<Diagnostic>) {
    let files = &case.piece.photos;
    for name in case.named_files().filter(|name| !leads_outside(name) && !files.contains(&name.0)) {
        let other_case = files.iter().find(|file| file.eq_ignore_ascii_case(name)).map(String::as_str);
        let help = match other_case.or_else(|| nearest(name, files.iter().map(String::as_str))) {
            Some(near) => format!("write \"{near}\""),
            None => format!("copy it to {}", case.piece.photo_path(&name.0)),
        };
        seen.push(case.at(&CODE, &name.span, format!("there is no photograph `{}`", name.0)).help(help));
    }
}

#[cfg(test)]
mod tests {
    use super::RULE;
    use crate::inspect::testing::sees;

    fn cover(name: &str) -> String {
        sees(&RULE, &format!("cover = \"{name}\"\n#- photos/After-front.JPG\n"))
    }

    #[test]
    fn capitals_count() {
        assert_eq!(
            cover("after-front.jpg"),
            "1: there is no photograph `after-front.jpg` [write \"After-front.JPG\"]"
        );
        assert_eq!(cover("After-front.JPG"), "");
        assert_eq!(
            cover("inside.jpg"),
            "1: there is no photograph `inside.jpg` [copy it to pieces/table/photos/inside.jpg]"
        );
    }

    #[test]
    fn a_path_is_for_another_rule() {
        assert_eq!(cover("../after-front.jpg"), "");
    }
}
