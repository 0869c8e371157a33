//! What the day book says beside the record: what waits to be entered, and what would count twice.

rules! {
    day_book_line_gone,
    day_book_waits,
    day_counted_twice,
    jotted_kept_private,
    jotted_out_of_time,
}
