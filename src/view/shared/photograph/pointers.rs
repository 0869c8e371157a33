//! Which marks on photographs point at something.

use super::mark::mark_anchor;
use super::picture::stage_word;
use super::sees::Sees;
use crate::claim::{Message, says};
use crate::record::Mark;
use crate::view::context::PieceContext;
use crate::view::shared::link::Link;

/// Which marks of the photographs that a reader sees point at what.
pub(crate) struct Pointers<'a> {
    context: &'a PieceContext<'a>,
    sees: Sees,
}

impl<'a> Pointers<'a> {
    pub(crate) fn of(context: &'a PieceContext<'a>, sees: Sees) -> Pointers<'a> {
        Pointers { context, sees }
    }

    /// Links to every mark of which `points` holds, in the order of the photographs.
    pub(crate) fn to(&self, points: impl Fn(&Mark) -> bool) -> Vec<Link> {
        let mut links = Vec::new();
        let all = self.context.photographs.all.iter();
        for facts in all.filter(|facts| self.sees.photograph(&facts.photograph)) {
            let photograph = &facts.photograph;
            for marked in facts.marks.iter().filter(|marked| points(&marked.mark)) {
                let taken = Message::word("taken", stage_word(photograph.stage));
                let text = self.context.house.words().say(&match photograph.view.as_str() {
                    "" => says!("pointer", taken = taken, number = marked.number),
                    view => says!("pointer-view", taken = taken, view = view, number = marked.number),
                });
                links.push(Link { anchor: mark_anchor(photograph, marked.number), text });
            }
        }
        links
    }
}
