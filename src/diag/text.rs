//! Drawing a diagnostic for a terminal, with the source line under it. Characters that nobody sees are shown.

use std::ops::Range;

use annotate_snippets::renderer::DecorStyle;
use annotate_snippets::{AnnotationKind, Group, Level, Origin, Renderer, Snippet};

use super::{Diagnostic, Rank, floor_boundary};
use crate::unit::legible;
use crate::unit::legible::one_line;

/// How diagnostics are drawn: with or without colour, and how wide.
pub struct Drawing {
    renderer: Renderer,
    style: Option<String>,
}

impl Drawing {
    /// Draws with terminal colours, each of which begins with `style` instead of `ESC [`.
    pub fn coloured(width: usize, style: &str) -> Self {
        Drawing::with(Renderer::styled(), width, Some(style.to_owned()))
    }

    /// Draws plain text.
    pub fn plain(width: usize) -> Self {
        Drawing::with(Renderer::plain(), width, None)
    }

    fn with(renderer: Renderer, width: usize, style: Option<String>) -> Self {
        Drawing { renderer: renderer.decor_style(DecorStyle::Unicode).term_width(width), style }
    }

    /// The diagnostic as lines of text without a final newline.
    ///
    /// `source` is the text of the file it is about, where that file is text.
    pub fn draw(&self, diagnostic: &Diagnostic, source: Option<&str>) -> String {
        let level = match diagnostic.rank() {
            Rank::Mistake => Level::ERROR,
            Rank::Doubt => Level::WARNING,
            Rank::Hint => Level::NOTE.with_name("advice"),
        };
        let (message, help) = (legible(&diagnostic.message), legible(&diagnostic.help));
        let title = level.primary_title(message).id(diagnostic.code.name);
        let path = one_line(&diagnostic.place.path);
        let mut group = match (diagnostic.place.span, source) {
            (Some((start, end)), Some(text)) => {
                let start = floor_boundary(text, start);
                let end = end_of_first_line(text, start, floor_boundary(text, end));
                // The one line alone, so that a large file costs no more than a small one.
                let head = text[..start].rfind('\n').map_or(0, |newline| newline + 1);
                let tail = text[end..].find('\n').map_or(text.len(), |newline| end + newline);
                let line = memchr::memchr_iter(b'\n', &text.as_bytes()[..head]).count() + 1;
                let shown = near(text, head..tail, start..end);
                // Made legible piece by piece, since the marked one must be found again.
                let [before, marked, after] = [
                    &text[shown.start..start],
                    &text[start..end.min(shown.end)],
                    &text[end.min(shown.end)..shown.end],
                ]
                .map(legible);
                let span = before.len()..before.len() + marked.len();
                let source = [before, marked, after].concat();
                let annotation = AnnotationKind::Primary.span(span);
                title.element(Snippet::source(source).line_start(line).path(path).annotation(annotation))
            }
            _ => Group::with_title(title).element(Origin::path(path)),
        };
        if !help.is_empty() {
            group = group.element(Level::HELP.message(help));
        }
        let drawn = self.renderer.render(&[group]);
        match &self.style {
            // All that is left of `ESC` by now is the renderer's own.
            Some(style) => drawn.replace("\x1b[", style),
            None => drawn,
        }
    }
}

/// The part of a very long line that is near to what is marked in it.
fn near(text: &str, line: Range<usize>, marked: Range<usize>) -> Range<usize> {
    const NEAR: usize = 2_000;
    let start = floor_boundary(text, marked.start.saturating_sub(NEAR)).max(line.start);
    let end = floor_boundary(text, (marked.start + NEAR).max(marked.end.min(marked.start + 2 * NEAR)));
    start..end.clamp(marked.start, line.end)
}

/// Where an annotation ends that is to mark no more than its first line.
///
/// A whole `[[part]]` table would otherwise be drawn line by line.
fn end_of_first_line(text: &str, start: usize, end: usize) -> usize {
    text[start..end.max(start)].find('\n').map_or(end.max(start), |length| start + length)
}
