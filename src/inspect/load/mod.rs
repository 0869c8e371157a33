//! What parts measure and weigh, what shelves bear, and whether a piece tips.

rules! {
    box_without_wall,
    few_parts_sized,
    opens_without_reach,
    part_longer_than_piece,
    shelf_not_there,
    shelf_outside_theory,
    shelf_overloaded,
    tipping_without_caution,
    weighs_less_than_its_parts,
}
