//! Grades of abrasive, and how one follows the other.

mod stride;

rules! {
    coarse_between_coats,
    grit_goes_back,
    grit_jump,
    grit_step_wide,
    grit_unknown,
}
