//! What is planned, as far as it can be wrong by itself; what would come of it is for `plan` to say.

rules! {
    planned_after_handover,
    planned_before_done,
    planned_day_passed,
    planned_for_no_option,
}
