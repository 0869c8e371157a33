//! Marks on photographs, and the sizes of outlined areas.

rules! {
    area_without_size,
    mark_in_two_places,
    mark_without_meaning,
    mark_without_place,
    scale_without_outline,
}
