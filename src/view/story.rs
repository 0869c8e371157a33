//! The story: Markdown that is not trusted, as HTML that is.
//!
//! Raw HTML is shown as the text it is, links lead only to http, https, mailto and
//! places in the page, and pictures are photographs of the same piece or nothing.

use pulldown_cmark::{CowStr, Event, HeadingLevel, Tag, TagEnd};

use super::picture::PhotoView;
use crate::record::story::{may_link, parser};

/// The headings of a story begin one level below the page's own `h2`.
const TOP_HEADING: u8 = 3;

/// A story as HTML.
///
/// `picture` finds a photograph of the piece by its file name.
pub(super) fn story_html<'a>(markdown: &str, picture: impl Fn(&str) -> Option<&'a PhotoView>) -> String {
    let mut depth = Depth::default();
    let mut links: Vec<bool> = Vec::new();
    let mut image: Option<(String, String)> = None;
    let mut events: Vec<Event<'_>> = Vec::new();
    for event in parser(markdown) {
        if let Some((destination, alt)) = &mut image {
            match event {
                Event::End(TagEnd::Image) => {
                    events.push(figure(picture(destination), alt));
                    image = None;
                }
                Event::Text(text) | Event::Code(text) => alt.push_str(&text),
                Event::SoftBreak | Event::HardBreak => alt.push(' '),
                _ => {}
            }
            continue;
        }
        match event {
            Event::Html(html) | Event::InlineHtml(html) => events.push(Event::Text(html)),
            Event::Start(Tag::HtmlBlock) => events.push(Event::Start(Tag::Paragraph)),
            Event::End(TagEnd::HtmlBlock) => events.push(Event::End(TagEnd::Paragraph)),
            Event::Start(Tag::Image { dest_url, .. }) => image = Some((dest_url.to_string(), String::new())),
            Event::Start(Tag::Link { ref dest_url, .. }) => {
                let sound = may_link(dest_url);
                links.push(sound);
                if sound {
                    events.push(event);
                }
            }
            Event::End(TagEnd::Link) => {
                if links.pop() == Some(true) {
                    events.push(event);
                }
            }
            Event::Start(Tag::Heading { level, .. }) => {
                let level = depth.enter(level as u8);
                events.push(Event::Start(Tag::Heading {
                    level,
                    id: None,
                    classes: Vec::new(),
                    attrs: Vec::new(),
                }));
            }
            Event::End(TagEnd::Heading(_)) => events.push(Event::End(TagEnd::Heading(depth.level))),
            other => events.push(other),
        }
    }
    let mut html = String::with_capacity(markdown.len() * 5 / 4);
    pulldown_cmark::html::push_html(&mut html, events.into_iter());
    html
}

/// A photograph within the story, or its words where there is none to show.
fn figure(photograph: Option<&PhotoView>, alt: &str) -> Event<'static> {
    match photograph {
        Some(photo) if photo.fault.is_empty() => {
            let words = if alt.trim().is_empty() { photo.alt.as_str() } else { alt };
            let html = format!(
                "<img src=\"{}\" srcset=\"{}\" sizes=\"(min-width: 60rem) 40rem, 92vw\" width=\"{}\" height=\"{}\" loading=\"lazy\" alt=\"{}\">",
                photo.src,
                photo.srcset,
                photo.width,
                photo.height,
                escaped(words)
            );
            Event::InlineHtml(CowStr::from(html))
        }
        _ => Event::Text(CowStr::from(format!("[{alt}]"))),
    }
}

/// Text made safe to stand in an attribute.
fn escaped(text: &str) -> String {
    let mut safe = String::new();
    // Writing into a string cannot fail.
    let _ = pulldown_cmark_escape::escape_html(&mut safe, text);
    safe
}

/// Keeps the story's headings in step: none deeper than one below the last.
struct Depth {
    written: Vec<u8>,
    level: HeadingLevel,
}

impl Default for Depth {
    fn default() -> Self {
        Depth { written: Vec::new(), level: HeadingLevel::H3 }
    }
}

impl Depth {
    fn enter(&mut self, written: u8) -> HeadingLevel {
        while self.written.last().is_some_and(|last| *last >= written) {
            self.written.pop();
        }
        self.written.push(written);
        let level = (TOP_HEADING + self.written.len() as u8 - 1).min(6);
        self.level = HeadingLevel::try_from(usize::from(level)).unwrap_or(HeadingLevel::H6);
        self.level
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn html(markdown: &str) -> String {
        story_html(markdown, |_| None)
    }

    #[test]
    fn raw_html_is_shown_as_text() {
        assert_eq!(html("a <b>bold</b> claim"), "<p>a &lt;b&gt;bold&lt;/b&gt; claim</p>\n");
        assert!(html("<script>alert(1)</script>").contains("&lt;script&gt;"));
    }

    #[test]
    fn unsound_links_keep_their_words_only() {
        assert_eq!(html("[click](javascript:alert(1))"), "<p>click</p>\n");
        assert_eq!(html("[page](https://example.org)"), "<p><a href=\"https://example.org\">page</a></p>\n");
        assert_eq!(html("[data](DATA:text/html,x)"), "<p>data</p>\n");
        assert_eq!(html("<javascript:alert(1)>"), "<p>javascript:alert(1)</p>\n");
    }

    #[test]
    fn headings_start_at_three_and_skip_nothing() {
        assert_eq!(html("# a\n#### b\n## c"), "<h3>a</h3>\n<h4>b</h4>\n<h4>c</h4>\n");
    }

    #[test]
    fn tables_footnotes_and_smart_punctuation_are_read() {
        let page = html("\"So\" -- yes[^1]\n\n|a|b|\n|-|-|\n|1|2|\n\n[^1]: note");
        assert!(page.contains("“So” – yes"), "{page}");
        assert!(page.contains("<table>") && page.contains("footnote"), "{page}");
    }

    #[test]
    fn a_picture_from_elsewhere_is_words() {
        assert_eq!(html("![me](https://example.org/x.png)"), "<p>[me]</p>\n");
    }
}
