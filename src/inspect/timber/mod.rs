//! Of which wood, and how far it moves in the buyer's air.

rules! {
    climate_out_of_reach,
    climate_upside_down,
    no_climate,
    part_without_material,
    part_without_timber,
    wide_part_held_fast,
}
