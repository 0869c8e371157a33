//! What was found, where, how much it matters and what became of it.

rules! {
    finding_left_open,
    finding_without_part,
    finding_without_severity,
    mended_on_part_gone,
}
