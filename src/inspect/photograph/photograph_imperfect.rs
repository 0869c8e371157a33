//! A photograph with something odd about it that costs no part of the picture.

use super::loses;
use crate::diag::{Code, Diagnostic, Rank};
use crate::inspect::{Case, Check, Rule};
use crate::photo::Defect;

pub(super) static RULE: Rule = Rule { code: &CODE, check: Check::Piece(check), needs_whole: false };

static CODE: Code = Code {
    name: "photograph-imperfect",
    rank: Rank::Hint,
    why: "Its colours, its orientation or its time may be off, though the picture itself is whole.",
    fix: "Look at the picture on the page; where it is right, nothing needs doing.",
};

fn check(case: &Case<'_>, seen: &mut Vec<Diagnostic>) {
    for (file, check) in case.checks() {
        let defects = check.iter().flat_map(|checked| &checked.defects);
        // Stray bytes change nothing that anybody could see.
        for defect in defects.filter(|defect| !loses(defect) && **defect != Defect::StrayBytes) {
            let message = format!("the photograph `{file}`: {defect}");
            seen.push(
                case.photo(&CODE, file, message).help("look at it on the page, or export it anew as JPEG"),
            );
        }
    }
}

#[cfg(test)]
mod tests {
    use super::RULE;
    use crate::inspect::testing::bench;
    use crate::photo::{Checked, Defect, Format, Header};

    #[test]
    fn an_odd_profile_is_seen_and_stray_bytes_are_not() {
        let look = |defect| {
            let header = Header { format: Format::Png, width: 3, height: 2, taken: None };
            let bench = bench("#- photos/after-front.jpg\n");
            bench
                .look("after-front.jpg", Ok(Checked { header, defects: vec![defect], patches: Vec::new() }))
                .sees(&RULE)
        };
        assert_eq!(
            look(Defect::ApproximateColours),
            "photos/after-front.jpg: the photograph `after-front.jpg`: printing inks (CMYK) without a usable \
             profile: the colours are approximate [look at it on the page, or export it anew as JPEG]"
        );
        assert_eq!(look(Defect::StrayBytes), "");
    }
}
