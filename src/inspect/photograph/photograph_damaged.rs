//! A photograph of which something is lost.

use super::loses;
use crate::diag::{Code, Diagnostic, Rank};
use crate::inspect::{Case, Check, Rule};

pub(super) static RULE: Rule = Rule { code: &CODE, check: Check::Piece(check), needs_whole: false };

static CODE: Code = Code {
    name: "photograph-damaged",
    rank: Rank::Doubt,
    why: "Part of the picture is grey or wrong, and would be published so.",
    fix: "Copy it again from the camera; a copy that was broken off is the usual reason.",
};

fn check(case: &Case<'_>, seen: &mut Vec<Diagnostic>) {
    for (file, check) in case.checks() {
        for defect in check.iter().flat_map(|checked| &checked.defects).filter(|defect| loses(defect)) {
            let message = format!("the photograph `{file}`: {defect}");
            seen.push(case.photo(&CODE, file, message).help("copy it again from the camera"));
        }
    }
}

#[cfg(test)]
mod tests {
    use super::RULE;
    use crate::inspect::testing::bench;
    use crate::photo::{Checked, Defect, Format, Header};

    #[test]
    fn a_lost_half_is_seen_and_an_odd_profile_is_not() {
        let look = |defect| {
            let header = Header { format: Format::Png, width: 3, height: 2, taken: None };
            let bench = bench("#- photos/after-front.jpg\n");
            bench
                .look("after-front.jpg", Ok(Checked { header, defects: vec![defect], patches: Vec::new() }))
                .sees(&RULE)
        };
        assert_eq!(
            look(Defect::CutShort { missing: 50 }),
            "photos/after-front.jpg: the photograph `after-front.jpg`: the file is cut short: \
             the lower 50 % of the picture is missing and left grey [copy it again from the camera]"
        );
        assert_eq!(look(Defect::ProfileIgnored("too long".to_owned())), "");
    }
}
