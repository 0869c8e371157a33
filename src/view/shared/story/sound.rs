//! What a story says, with everything unsound made plain text.

use pulldown_cmark::{Event, HeadingLevel, Tag, TagEnd};

use crate::record::{Story, may_link};
use crate::unit::legible::is_visible;

/// The headings of a story begin one level below the page's own `h2`.
const TOP_HEADING: u8 = 3;

/// What a story says, with everything unsound made plain text.
#[derive(Clone)]
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

impl SoundEvent {
    /// The file of a picture.
    pub(crate) fn picture(&self) -> Option<&str> {
        match self {
            SoundEvent::Picture { file, .. } => Some(file),
            SoundEvent::Event(_) => None,
        }
    }
}

/// Where the first paragraph of a story ends, and how many letters it has; `None` where it begins with anything else, or
/// has a picture or a note in it.
pub(crate) fn first_paragraph(story: &[SoundEvent]) -> Option<(usize, usize)> {
    let mut letters = 0;
    for (at, said) in story.iter().enumerate() {
        match said {
            SoundEvent::Event(Event::Start(Tag::Paragraph)) if at == 0 => {}
            _ if at == 0 => return None,
            SoundEvent::Event(Event::End(TagEnd::Paragraph)) => return Some((at + 1, letters)),
            SoundEvent::Event(Event::Text(text) | Event::Code(text)) => letters += text.chars().count(),
            SoundEvent::Event(Event::FootnoteReference(_)) | SoundEvent::Picture { .. } => return None,
            SoundEvent::Event(_) => {}
        }
    }
    None
}

/// Reads a story: raw HTML becomes text, unsound links lose their address, headings skip nothing, and headings and links
/// without a word that could be seen are left out.
pub(crate) fn sound(story: &Story) -> Vec<SoundEvent> {
    let mut reading = SoundReading::default();
    story.events().for_each(|(event, _)| reading.take(event.clone()));
    reading.all
}

/// A story being made sound.
#[derive(Default)]
struct SoundReading {
    all: Vec<SoundEvent>,
    depth: Depth,
    /// The links that are open: the place of each, where it may stand.
    links: Vec<Option<usize>>,
    /// The heading that is open: its place, and the headings before it.
    heading: Option<(usize, Depth)>,
    /// The picture that is open: its file, its words, and how many pictures stand open within its words.
    picture: Option<(String, String, usize)>,
}

impl SoundReading {
    fn take(&mut self, event: Event<'static>) {
        if self.picture.is_some() {
            return self.take_words_of_picture(event);
        }
        match event {
            Event::Html(html) | Event::InlineHtml(html) => self.push(Event::Text(html)),
            Event::Start(Tag::HtmlBlock) => self.push(Event::Start(Tag::Paragraph)),
            Event::End(TagEnd::HtmlBlock) => self.push(Event::End(TagEnd::Paragraph)),
            Event::Start(Tag::Image { dest_url, .. }) => {
                self.picture = Some((dest_url.to_string(), String::new(), 0));
            }
            Event::Start(Tag::Link { ref dest_url, .. }) => {
                let place = may_link(dest_url).then_some(self.all.len());
                self.links.push(place);
                if place.is_some() {
                    self.push(event);
                }
            }
            Event::End(TagEnd::Link) => match self.links.pop().flatten() {
                Some(place) if self.shows_from(place) => self.push(event),
                Some(place) => self.all.truncate(place),
                None => {}
            },
            Event::Start(Tag::Heading { level, .. }) => {
                self.heading = Some((self.all.len(), self.depth.clone()));
                let level = self.depth.enter(level as u8);
                self.push(Event::Start(Tag::Heading {
                    level,
                    id: None,
                    classes: Vec::new(),
                    attrs: Vec::new(),
                }));
            }
            Event::End(TagEnd::Heading(_)) => match self.heading.take() {
                Some((place, before)) if !self.shows_from(place) => {
                    self.all.truncate(place);
                    self.depth = before;
                }
                _ => self.push(Event::End(TagEnd::Heading(self.depth.level))),
            },
            other => self.push(other),
        }
    }

    /// The words of a picture are all that is kept of what stands in them.
    fn take_words_of_picture(&mut self, event: Event<'static>) {
        let Some((_, words, within)) = &mut self.picture else { return };
        match event {
            Event::Start(Tag::Image { .. }) => *within += 1,
            Event::End(TagEnd::Image) if *within > 0 => *within -= 1,
            Event::End(TagEnd::Image) => {
                let picture = self.picture.take().map(|(file, alt, _)| SoundEvent::Picture { file, alt });
                self.all.extend(picture);
            }
            Event::Text(text) | Event::Code(text) | Event::Html(text) | Event::InlineHtml(text) => {
                words.push_str(&text);
            }
            Event::SoftBreak | Event::HardBreak => words.push(' '),
            _ => {}
        }
    }

    fn push(&mut self, event: Event<'static>) {
        self.all.push(SoundEvent::Event(event));
    }

    /// Whether anything since a place can be seen.
    fn shows_from(&self, place: usize) -> bool {
        self.all[place..].iter().any(|said| match said {
            SoundEvent::Event(Event::Text(text) | Event::Code(text)) => is_visible(text),
            SoundEvent::Event(_) => false,
            SoundEvent::Picture { .. } => true,
        })
    }
}

/// Keeps the story's headings in step: none deeper than one below the last.
#[derive(Clone)]
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
