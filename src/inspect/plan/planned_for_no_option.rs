//! Something planned for a way that no decision has.

use crate::derive::plan::unknown_ways;
use crate::diag::{Code, Diagnostic, Rank, nearest};
use crate::inspect::{Case, Check, Rule};

pub(super) static RULE: Rule = Rule { code: &CODE, check: Check::Piece(check), needs_whole: true };

static CODE: Code = Code {
    name: "planned-for-no-option",
    rank: Rank::Doubt,
    why: "It is planned whatever is decided, and compared with no other way.",
    fix: "Write the `plan` of an option, or take `option` away.",
};

fn check(case: &Case<'_>, seen: &mut Vec<Diagnostic>) {
    let record = case.intended();
    for way in unknown_ways(record) {
        let options = record.decisions.iter().flat_map(|decision| &decision.options);
        let help = match nearest(&way, options.map(|option| &*option.plan.value.0)) {
            Some(near) => format!("write \"{near}\""),
            None => "write the `plan` of an option of a `[[decision]]`, or take it away".to_owned(),
        };
        let message = format!("no decision has the option `{}`", way.value.0);
        seen.push(case.at(&CODE, &way.span, message).help(help));
    }
}

#[cfg(test)]
mod tests {
    use super::RULE;
    use crate::inspect::testing::sees;

    #[test]
    fn an_option_is_named_as_its_plan_says_it() {
        let seen = |option: &str| {
            let record = format!(
                "work = [{{ did = \"strip it\", planned = true, option = \"{option}\" }}]\n\
                 decision = [{{ ask = \"How?\", options = [{{ plan = \"strip-it\" }}], chose = \"not yet\" }}]"
            );
            sees(&RULE, &record)
        };
        assert_eq!(seen("Strip it"), "");
        assert_eq!(seen("strip-in"), "1: no decision has the option `strip-in` [write \"strip-it\"]");
        assert!(seen("wax").contains("no decision has the option `wax` [write the `plan` of an option"));
    }
}
