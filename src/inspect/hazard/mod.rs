//! What may harm: tests for it, and what the buyer is told.

rules! {
    hazard_without_caution,
    test_not_declared,
    test_without_result,
}
