//! Surfaces, their parts, and the steps done to them.

rules! {
    part_without_surface,
    step_on_other_part,
    step_with_two_acts,
    step_without_act,
    step_without_date,
    surface_step_out_of_order,
    surface_without_found,
    surface_without_layers,
    surface_without_parts,
}
