//! A pair that is not one photograph from before and one from after.

use crate::diag::{Code, Diagnostic, Rank};
use crate::inspect::{Case, Check, Rule};
use crate::record::PhotoStage;

pub(super) static RULE: Rule = Rule { code: &CODE, check: Check::Piece(check), needs_whole: false };

static CODE: Code = Code {
    name: "pair-of-unlike",
    rank: Rank::Doubt,
    why: "The pair is shown as before and after, and would show something else.",
    fix: "Name a photograph from before and one from after of the same view, or correct their stages.",
};

fn check(case: &Case<'_>, seen: &mut Vec<Diagnostic>) {
    // A photograph that is missing or without a stage is for other rules.
    let stage = |file: &str| case.facts.photographs.named(file).and_then(|photo| photo.stage);
    for pair in &case.record.pairs {
        if pair.before.value == pair.after.value {
            let message = format!("`{}` is paired with itself", pair.before.0);
            seen.push(
                case.at(&CODE, &pair.after.span, message).help("name the photograph from after the work"),
            );
            continue;
        }
        let ends = [
            (&pair.before, "before", &[PhotoStage::Before][..]),
            (&pair.after, "after", &[PhotoStage::After, PhotoStage::Handover]),
        ];
        for (file, end, wanted) in ends {
            if let Some(stage) = stage(&file.0).filter(|stage| !wanted.contains(stage)) {
                let message = format!("`{}` stands for {end}, and its stage is `{}`", file.0, stage.word());
                let help = format!("name a photograph from {end} the work, or correct its stage");
                seen.push(case.at(&CODE, &file.span, message).help(help));
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::RULE;
    use crate::inspect::testing::sees;

    fn pair(before: &str, after: &str) -> String {
        let photos = "#- photos/before.jpg\n#- photos/during.jpg\n#- photos/after.jpg\n#- photos/handover.jpg\n#- photos/x.jpg\n";
        sees(&RULE, &format!("pair = [{{ before = \"{before}.jpg\", after = \"{after}.jpg\" }}]\n{photos}"))
    }

    #[test]
    fn during_is_neither_before_nor_after() {
        assert_eq!(
            pair("during", "after"),
            "1: `during.jpg` stands for before, and its stage is `during` \
             [name a photograph from before the work, or correct its stage]"
        );
        assert_eq!(pair("after", "before").lines().count(), 2);
        assert_eq!(
            pair("before", "before"),
            "1: `before.jpg` is paired with itself [name the photograph from after the work]"
        );
    }

    #[test]
    fn before_with_after_or_handover() {
        for (before, after) in
            [("before", "after"), ("before", "handover"), ("x", "after"), ("gone", "after")]
        {
            assert_eq!(pair(before, after), "", "{before} {after}");
        }
    }
}
