//! What may harm: tests for it, and what the buyer is told.

pub use test_not_declared::NAME as TEST_NOT_DECLARED;

rules! {
    hazard_without_caution,
    result_not_understood,
    test_clears_nothing,
    test_not_declared,
    test_without_result,
}
