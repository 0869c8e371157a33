//! Hours or costs after the sale that stand in another row too.

use crate::diag::{Code, Diagnostic, Rank};
use crate::inspect::{Case, Check, Rule};

pub(super) static RULE: Rule = Rule { code: &CODE, check: Check::Piece(check), needs_whole: false };

static CODE: Code = Code {
    name: "after-counted-twice",
    rank: Rank::Doubt,
    why: "The ledger adds up hours and costs wherever they stand, so one that is told in two rows counts twice.",
    fix: "Keep it in one of the two: what was spent after the piece had left belongs in `[[after]]`.",
};

fn check(case: &Case<'_>, seen: &mut Vec<Diagnostic>) {
    for after in case.record.after.for_archive() {
        let works = case.record.works.iter().filter(|work| {
            work.on.as_ref().is_some_and(|on| on.value == after.on.value)
                && work.hours.for_archive().is_some()
        });
        if let (Some(hours), true) = (&after.hours, works.count() > 0) {
            let message = format!("a work of {} has hours, too", after.on.value);
            seen.push(
                case.at(&CODE, &hours.span, message).help("where it is the same, leave one of the two out"),
            );
        }
        let costs = case.record.costs.for_archive().iter();
        let same = |amount: &rust_decimal::Decimal| {
            costs.clone().any(|cost| {
                cost.on.as_ref().is_some_and(|on| on.value == after.on.value)
                    && cost.amount.as_ref().is_some_and(|cost| cost.value.0 == *amount)
            })
        };
        for amount in [&after.cost, &after.refunded].into_iter().flatten() {
            if same(&amount.value.0) {
                let message = format!("a `[[cost]]` of {} has the same amount", after.on.value);
                seen.push(
                    case.at(&CODE, &amount.span, message)
                        .help("where it is the same, leave one of the two out"),
                );
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::RULE;
    use crate::inspect::testing::sees;

    #[test]
    fn the_same_day_and_the_same_amount() {
        let record = |day: &str, amount: &str| {
            let after = "handover = { on = 2026-03-14 }\n\
                         after = [{ on = 2026-05-02, what = \"repair\", hours = 1.5, cost = 6.50 }]\n";
            sees(
                &RULE,
                &format!(
                    "{after}work = [{{ on = {day}, did = \"glued it\", hours = 1.5 }}]\n\
                     cost = [{{ on = {day}, what = \"glue\", amount = {amount} }}]"
                ),
            )
        };
        assert_eq!(
            record("2026-05-02", "6.5"),
            "2: a work of 2026-05-02 has hours, too [where it is the same, leave one of the two out]\n\
             2: a `[[cost]]` of 2026-05-02 has the same amount [where it is the same, leave one of the two out]"
        );
        assert_eq!(record("2026-05-03", "6.5"), "");
        assert_eq!(record("2026-05-02", "7").lines().count(), 1);
    }
}
