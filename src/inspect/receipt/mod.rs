//! Receipts, whose numbers are counted over all pieces.

mod given;

rules! {
    receipt_number_missing,
    receipt_number_twice,
    receipt_out_of_order,
}
