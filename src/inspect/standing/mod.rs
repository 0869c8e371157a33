//! What of a piece is original, and what was added or taken away.

rules! {
    fixing_in_part_gone,
    modern_fixing_unexplained,
    old_part_from_stock,
    original_instead_of,
    original_since,
    original_without_how_known,
    part_unaccounted,
    patch_larger_than_part,
    patch_on_part_gone,
    replacement_without_old,
}
