//! Coats: what lies on what, how long was waited, and what a tin says of it.

rules! {
    finish_over_doubtful_layer,
    finish_over_wrong_layer,
    recoat_window_missed,
    recoated_too_soon,
    removal_of_nothing,
    tin_times_upside_down,
}
