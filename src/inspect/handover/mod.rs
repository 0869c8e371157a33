//! A piece that leaves, and what it is not ready for.

pub use open_at_handover::still_open;

rules! {
    handover_before_last_work,
    handover_before_light_use,
    open_at_handover,
}
