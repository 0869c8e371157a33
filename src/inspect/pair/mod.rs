//! Photographs from before and after, laid onto each other by landmarks.

rules! {
    landmarks_do_not_fit,
    landmarks_refused,
    landmarks_untested,
    pair_of_unlike,
    pair_shares_little,
    too_few_landmarks,
}
