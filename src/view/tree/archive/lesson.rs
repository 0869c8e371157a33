//! What was learnt from a piece.

use serde::Serialize;

use crate::record;
use crate::view::context::PieceContext;
use crate::words::sentence;

/// A lesson with the piece it comes from.
#[derive(Debug, Clone, Serialize)]
pub struct LessonRow {
    /// The lesson.
    pub text: String,
    /// What it applies to.
    pub applies_to: String,
    /// The piece's title.
    pub title: String,
    /// Address of its page.
    pub href: String,
}

/// The lessons of one piece; `href` is the address of its page, from the page that shows them.
pub(super) fn lessons(context: &PieceContext<'_>, href: &str) -> Vec<LessonRow> {
    let words = context.house.words();
    let row = |lesson: &record::Lesson| LessonRow {
        text: sentence(&words.said(&lesson.text)),
        applies_to: words.list(&lesson.r#for.iter().map(|kind| kind.to_string()).collect::<Vec<_>>()),
        title: context.bare_title().to_owned(),
        href: href.to_owned(),
    };
    context.record.lessons.for_archive().iter().map(|lesson| row(lesson)).collect()
}
