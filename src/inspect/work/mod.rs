//! What was done and what was left, how far it went, and how it can be undone.

rules! {
    hours_twice,
    lesson_of_another_piece,
    no_level,
    no_stance,
    undoable_without_how,
    undone_without_effect,
    unsafe_left_undone,
    work_failed_and_left,
    work_without_date,
    work_without_hours,
}
