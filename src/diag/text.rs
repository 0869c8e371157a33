//! Drawing a diagnostic for a terminal, with the source line under it.

use annotate_snippets::renderer::DecorStyle;
use annotate_snippets::{AnnotationKind, Group, Level, Origin, Renderer, Snippet};

use super::{Diagnostic, Severity, floor_boundary};

/// How diagnostics are drawn: with or without colour, and how wide.
pub struct Drawing {
    renderer: Renderer,
}

impl Drawing {
    /// Draws with terminal colours.
    pub fn coloured(width: usize) -> Self {
        Drawing::with(Renderer::styled(), width)
    }

    /// Draws plain text.
    pub fn plain(width: usize) -> Self {
        Drawing::with(Renderer::plain(), width)
    }

    fn with(renderer: Renderer, width: usize) -> Self {
        Drawing { renderer: renderer.decor_style(DecorStyle::Unicode).term_width(width) }
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
        let title = level.primary_title(&diagnostic.message).id(diagnostic.code.name);
        let path = diagnostic.place.path.as_str();
        let mut group = match (diagnostic.place.span, source) {
            (Some((start, end)), Some(text)) => {
                let start = floor_boundary(text, start);
                let end = end_of_first_line(text, start, floor_boundary(text, end));
                title.element(
                    Snippet::source(text).path(path).annotation(AnnotationKind::Primary.span(start..end)),
                )
            }
            _ => Group::with_title(title).element(Origin::path(path)),
        };
        if !diagnostic.help.is_empty() {
            group = group.element(Level::HELP.message(&diagnostic.help));
        }
        self.renderer.render(&[group])
    }
}

/// Where an annotation ends that is to mark no more than its first line.
///
/// A whole `[[part]]` table would otherwise be drawn line by line.
fn end_of_first_line(text: &str, start: usize, end: usize) -> usize {
    text[start..end.max(start)].find('\n').map_or(end.max(start), |length| start + length)
}
