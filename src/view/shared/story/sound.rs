//! What a story says, with everything unsound made plain text.

use pulldown_cmark::{Event, HeadingLevel, Tag, TagEnd};

use crate::record::{Story, may_link};

/// The headings of a story begin one level below the page's own `h2`.
const TOP_HEADING: u8 = 3;

/// What a story says, with everything unsound made plain text.
pub(crate) enum SoundEvent {
    /// Sound Markdown.
    Event(Event<'static>),
    /// A picture, which may or may not be a photograph of the piece.
    Picture {
        /// The file it names.
        file: String,
        /// Its words.
        alt: String,
    },
}

/// Reads a story: raw HTML becomes text, unsound links lose their address, and headings skip nothing.
pub(crate) fn sound(story: &Story) -> Vec<SoundEvent> {
    let mut depth = Depth::default();
    let mut links: Vec<bool> = Vec::new();
    let mut image: Option<(String, String)> = None;
    let mut all: Vec<SoundEvent> = Vec::new();
    for event in story.events().map(|(event, _)| event.clone()) {
        if let Some((_, alt)) = &mut image {
            match event {
                Event::End(TagEnd::Image) => {
                    all.extend(image.take().map(|(file, alt)| SoundEvent::Picture { file, alt }));
                }
                Event::Text(text) | Event::Code(text) => alt.push_str(&text),
                Event::SoftBreak | Event::HardBreak => alt.push(' '),
                _ => {}
            }
            continue;
        }
        let event = match event {
            Event::Html(html) | Event::InlineHtml(html) => Event::Text(html),
            Event::Start(Tag::HtmlBlock) => Event::Start(Tag::Paragraph),
            Event::End(TagEnd::HtmlBlock) => Event::End(TagEnd::Paragraph),
            Event::Start(Tag::Image { dest_url, .. }) => {
                image = Some((dest_url.to_string(), String::new()));
                continue;
            }
            Event::Start(Tag::Link { ref dest_url, .. }) => {
                let sound = may_link(dest_url);
                links.push(sound);
                if !sound {
                    continue;
                }
                event
            }
            Event::End(TagEnd::Link) if links.pop() != Some(true) => continue,
            Event::Start(Tag::Heading { level, .. }) => {
                let level = depth.enter(level as u8);
                Event::Start(Tag::Heading { level, id: None, classes: Vec::new(), attrs: Vec::new() })
            }
            Event::End(TagEnd::Heading(_)) => Event::End(TagEnd::Heading(depth.level)),
            other => other,
        };
        all.push(SoundEvent::Event(event));
    }
    all
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
