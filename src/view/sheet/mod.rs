//! The papers themselves, one file a paper. None uses another; what two of them show is made in `shared`.

pub(super) mod build_record;
pub(super) mod calendar;
pub(super) mod care;
pub(super) mod disclosure;
pub(super) mod label;
pub(super) mod undo;
