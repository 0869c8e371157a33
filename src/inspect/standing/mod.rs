//! What of a piece is original, and what was added or taken away.

rules! {
    modern_fixing_unexplained,
    original_since,
    original_without_how_known,
    part_unaccounted,
    replacement_without_old,
}
