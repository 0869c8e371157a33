//! Photographs: whether they are there and sound, and what is said of them.

use crate::photo::Defect;

rules! {
    no_after_photograph,
    no_alternative_text,
    no_before_photograph,
    photograph_damaged,
    photograph_imperfect,
    photograph_missing,
    photograph_outside,
    photograph_said_twice,
    photograph_unreadable,
    photograph_unused,
    photograph_without_stage,
}

/// Whether some of the picture itself is lost.
fn loses(defect: &Defect) -> bool {
    matches!(defect, Defect::CutShort { .. } | Defect::Damaged { .. })
}

/// Whether a name is more than a bare file name on any system: a path, a parent folder or a drive.
fn leads_outside(name: &str) -> bool {
    name.contains(['/', '\\']) || name == "." || name == ".." || name.as_bytes().get(1) == Some(&b':')
}
