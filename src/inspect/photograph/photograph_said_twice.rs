//! Two entries for one photograph.

use crate::diag::{Code, Diagnostic, Rank};
use crate::inspect::{Case, Check, Rule};

pub(super) static RULE: Rule = Rule { code: &CODE, check: Check::Piece(check), needs_whole: false };

static CODE: Code = Code {
    name: "photograph-said-twice",
    rank: Rank::Doubt,
    why: "Only the first entry of a photograph is read, so what the second says would be lost.",
    fix: "Put both into one `[[photo]]`.",
};

fn check(case: &Case<'_>, seen: &mut Vec<Diagnostic>) {
    let photos = &case.record.photos;
    for (place, photo) in photos.iter().enumerate() {
        if photos[..place].iter().any(|earlier| earlier.file.value == photo.file.value) {
            let message = format!("`{}` has another `[[photo]]` already", photo.file.0);
            seen.push(case.at(&CODE, &photo.file.span, message).help("put both into one `[[photo]]`"));
        }
    }
}

#[cfg(test)]
mod tests {
    use super::RULE;
    use crate::inspect::testing::sees;

    #[test]
    fn the_second_entry_would_be_lost() {
        assert_eq!(
            sees(&RULE, "photo = [{ file = \"a.jpg\" },\n{ file = \"a.jpg\", alt = \"The front.\" }]"),
            "2: `a.jpg` has another `[[photo]]` already [put both into one `[[photo]]`]"
        );
        assert_eq!(sees(&RULE, "photo = [{ file = \"a.jpg\" }, { file = \"a.png\" }]"), "");
    }
}
