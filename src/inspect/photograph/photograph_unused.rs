//! A file in `photos/` that is not used.

use crate::diag::{Code, Diagnostic, Rank};
use crate::inspect::{Case, Check, Rule};
use crate::record::looks_like_photograph;

pub(super) static RULE: Rule = Rule { code: &CODE, check: Check::Piece(check), needs_whole: false };

static CODE: Code = Code {
    name: "photograph-unused",
    rank: Rank::Doubt,
    why: "Only photographs that lie in `photos/` itself are used, so this file appears on no page.",
    fix: "Move photographs out of subfolders; keep other files elsewhere in the piece's folder.",
};

/// Files that systems leave in folders by themselves.
const LEFT_BY_SYSTEMS: [&str; 2] = ["thumbs.db", "desktop.ini"];

fn check(case: &Case<'_>, seen: &mut Vec<Diagnostic>) {
    for file in &case.piece.photos {
        let (message, help) = match file.rsplit_once('/') {
            Some((folder, bare)) => (
                format!("`{bare}` lies in the subfolder `{folder}` and is not used"),
                "move it into photos/ itself",
            ),
            None if LEFT_BY_SYSTEMS.contains(&file.to_lowercase().as_str()) => continue,
            None if looks_like_photograph(file) => continue,
            None => (
                format!("`{file}` is no photograph by its ending and is not used"),
                "export it as JPEG, or move it out of photos/",
            ),
        };
        seen.push(case.photo(&CODE, file, message).help(help));
    }
}

#[cfg(test)]
mod tests {
    use super::RULE;
    use crate::inspect::testing::sees;

    #[test]
    fn subfolders_and_other_endings() {
        assert_eq!(
            sees(&RULE, "#- photos/front.xcf\n#- photos/old/before-front.jpg\n"),
            "photos/front.xcf: `front.xcf` is no photograph by its ending and is not used \
             [export it as JPEG, or move it out of photos/]\n\
             photos/old/before-front.jpg: `before-front.jpg` lies in the subfolder `old` and is not used \
             [move it into photos/ itself]"
        );
    }

    #[test]
    fn photographs_and_what_systems_leave() {
        assert_eq!(sees(&RULE, "#- photos/front.JPEG\n#- photos/Thumbs.db\n#- photos/.hidden\n"), "");
    }
}
