//! The story of a piece: its Markdown, read once.

use std::ops::Range;

use pulldown_cmark::{Event, Options, Parser};

/// A story, and what its Markdown says.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Story {
    text: String,
    events: Vec<(Event<'static>, Range<usize>)>,
}

impl Story {
    /// Reads Markdown with tables, footnotes, strikethrough and smart punctuation.
    pub fn read(text: String) -> Story {
        let options = Options::ENABLE_TABLES
            | Options::ENABLE_FOOTNOTES
            | Options::ENABLE_SMART_PUNCTUATION
            | Options::ENABLE_STRIKETHROUGH;
        let events = Parser::new_ext(&text, options).into_offset_iter();
        let events = events.map(|(event, span)| (event.into_static(), span)).collect();
        Story { text, events }
    }

    /// The file's text.
    pub fn text(&self) -> &str {
        &self.text
    }

    /// What it says, each event with its byte range.
    pub fn events(&self) -> impl Iterator<Item = (&Event<'static>, &Range<usize>)> {
        self.events.iter().map(|(event, span)| (event, span))
    }

    /// Whether it says nothing that would be printed; remarks are not.
    pub fn is_empty(&self) -> bool {
        self.events.is_empty()
    }
}

/// Whether a link leads to a web page, a mail address or a place of the page itself; no other may stand.
pub fn may_link(address: &str) -> bool {
    let begins =
        |scheme: &str| address.get(..scheme.len()).is_some_and(|head| head.eq_ignore_ascii_case(scheme));
    address.starts_with('#') || ["http://", "https://", "mailto:"].into_iter().any(begins)
}
