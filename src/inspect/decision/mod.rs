//! What was decided, between which ways and why.

rules! {
    choice_not_offered,
    decision_without_options,
    decision_without_reason,
}
