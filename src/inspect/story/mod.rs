//! The story that leads the page.

rules! {
    link_dropped,
    no_story,
    raw_html_in_story,
    unseen_in_story,
}
