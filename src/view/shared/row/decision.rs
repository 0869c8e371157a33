//! A question, the ways that were open, and the one taken.

use serde::Serialize;

use crate::record::Decision;
use crate::words::Words;

/// One way that was open.
#[derive(Debug, Clone, Serialize)]
pub struct ChoiceRow {
    /// What would have been done.
    pub plan: String,
    /// What spoke for it; may be empty.
    pub speaks_for: String,
    /// What spoke against it; may be empty.
    pub speaks_against: String,
    /// Whether it was the way taken.
    pub taken: bool,
}

/// A question and the way taken.
#[derive(Debug, Clone, Serialize)]
pub struct DecisionRow {
    /// The question.
    pub ask: String,
    /// The ways that were open.
    pub choices: Vec<ChoiceRow>,
    /// The way taken.
    pub chose: String,
    /// Why; may be empty.
    pub because: String,
}

/// A decision with its ways; the one taken stands among them even where the record did not offer it.
pub(super) fn decision_row(words: &Words, decision: &Decision) -> DecisionRow {
    let mut choices: Vec<ChoiceRow> = decision
        .options
        .iter()
        .map(|choice| ChoiceRow {
            plan: choice.plan.to_string(),
            speaks_for: words.said_or_nothing(choice.r#for.as_ref()),
            speaks_against: words.said_or_nothing(choice.against.as_ref()),
            taken: choice.plan.value == decision.chose.value,
        })
        .collect();
    if !choices.iter().any(|choice| choice.taken) {
        choices.push(ChoiceRow {
            plan: decision.chose.to_string(),
            speaks_for: String::new(),
            speaks_against: String::new(),
            taken: true,
        });
    }
    DecisionRow {
        ask: decision.ask.to_string(),
        choices,
        chose: decision.chose.to_string(),
        because: words.said_or_nothing(decision.because.as_ref()),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::view::testing::shown;

    #[test]
    fn the_way_taken_stands_among_the_ways_even_where_it_was_not_offered() {
        let taken = |chose: &str| {
            let record = format!(
                "decision = [{{ ask = \"what now\", options = [{{ plan = \"wait\" }}], chose = \"{chose}\" }}]"
            );
            let row = shown(&record, "", |context| {
                decision_row(context.house.words(), &context.record.decisions[0])
            });
            row.choices.iter().map(|choice| (choice.plan.clone(), choice.taken)).collect::<Vec<_>>()
        };
        assert_eq!(taken("wait"), [("wait".to_owned(), true)]);
        assert_eq!(taken("go on"), [("wait".to_owned(), false), ("go on".to_owned(), true)]);
    }
}
