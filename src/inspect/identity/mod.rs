//! What a piece is: its number, its kind, its size and its one sentence.

rules! {
    duplicate_number,
    kind_in_one_level,
    no_size,
    no_summary,
    number_without_letters,
}
