//! What happened after a piece had left.

rules! {
    after_before_leaving,
    after_counted_twice,
    after_to_come,
    handover_of_before_return,
    returned_twice,
}
