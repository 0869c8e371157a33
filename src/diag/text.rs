//! Drawing a diagnostic for a terminal, with the source line under it. Characters that nobody sees are shown.

use annotate_snippets::renderer::DecorStyle;
use annotate_snippets::{AnnotationKind, Group, Level, Origin, Renderer, Snippet};

use super::{Diagnostic, Severity, floor_boundary};
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
        let level = match diagnostic.severity() {
            Severity::Error => Level::ERROR,
            Severity::Warning => Level::WARNING,
            Severity::Advice => Level::NOTE.with_name("advice"),
        };
        let (message, help) = (legible(&diagnostic.message), legible(&diagnostic.help));
        let title = level.primary_title(message).id(diagnostic.code.name);
        let path = one_line(&diagnostic.place.path);
        let mut group = match (diagnostic.place.span, source) {
            (Some((start, end)), Some(text)) => {
                let start = floor_boundary(text, start);
                let end = end_of_first_line(text, start, floor_boundary(text, end));
                // Made legible piece by piece, since the marked one must be found again.
                let [before, marked, after] = [&text[..start], &text[start..end], &text[end..]].map(legible);
                let span = before.len()..before.len() + marked.len();
                let source = [before, marked, after].concat();
                title.element(
                    Snippet::source(source).path(path).annotation(AnnotationKind::Primary.span(span)),
                )
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

/// Where an annotation ends that is to mark no more than its first line.
///
/// A whole `[[part]]` table would otherwise be drawn line by line.
fn end_of_first_line(text: &str, start: usize, end: usize) -> usize {
    text[start..end.max(start)].find('\n').map_or(end.max(start), |length| start + length)
}
