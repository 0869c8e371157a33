//! Days and years that contradict each other, and years that are not told.

mod doubt;

rules! {
    date_in_the_future,
    made_after_found,
    no_years_of_making,
    part_before_its_time,
    part_early_for_its_time,
    redone_before_done,
    season_for_span,
    set_work_after_leaving,
    since_before_made,
    work_before_found,
    years_without_basis,
}
