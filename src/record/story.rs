//! The story of a piece: its Markdown, read once.

use std::collections::BTreeSet;
use std::ops::Range;

use pulldown_cmark::{Event, LinkType, Options, Parser, Tag, TagEnd};

use crate::diag::Code;
use crate::fields::code;

/// The most lists and quotations within one another; a page has no room for more.
const DEEPEST: usize = 10;

/// The most ways of stress, links and the like within one another.
const DEEPEST_STYLE: usize = 20;

/// The most characters of a paragraph: some ten printed pages.
const LONGEST_PARAGRAPH: usize = 20_000;

/// The most paragraphs, list items, table cells and the like.
const MOST_PIECES: usize = 5_000;

/// The longest address of a link, in bytes; browsers take no longer ones everywhere, and a PDF none above 32,767.
const LONGEST_ADDRESS: usize = 2_000;

/// The most characters of a heading.
const LONGEST_HEADING: usize = 300;

/// A story, and what its Markdown says.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Story {
    text: String,
    said: String,
    events: Vec<(Event<'static>, Range<usize>)>,
}

/// Why a story cannot be printed.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct StoryFault {
    /// The kind of fault.
    pub(super) code: &'static Code,
    /// Where, as bytes of the file.
    pub(super) span: Range<usize>,
    /// What is wrong.
    pub(super) message: String,
    /// What to write instead.
    pub(super) help: &'static str,
}

impl Story {
    /// Reads Markdown with tables, footnotes, strikethrough and smart punctuation.
    pub fn read(text: String) -> Story {
        let events = events(&text);
        let said = said(&text, &events);
        Story { text, said, events }
    }

    /// The file's text.
    pub fn text(&self) -> &str {
        &self.text
    }

    /// The file's text without what is never printed: comments, and definitions of links that nothing uses.
    pub fn said(&self) -> &str {
        &self.said
    }

    /// What it says, each event with its byte range in the file.
    pub fn events(&self) -> impl Iterator<Item = (&Event<'static>, &Range<usize>)> {
        self.events.iter().map(|(event, span)| (event, span))
    }

    /// Whether it says nothing that would be printed; remarks are not.
    pub fn is_empty(&self) -> bool {
        self.events.is_empty()
    }

    /// The first thing that no page could hold; `None` where all of it can be printed.
    pub(super) fn fault(&self) -> Option<StoryFault> {
        let mut so_far = Measured::default();
        self.events.iter().find_map(|(event, span)| {
            so_far.take(event);
            let (code, message, help) = so_far.fault()?;
            let end =
                self.text[span.start..].find('\n').map_or(self.text.len(), |length| span.start + length);
            Some(StoryFault { code, span: span.start..end, message, help })
        })
    }
}

/// How much of everything a story has, up to some place.
#[derive(Default)]
struct Measured {
    /// Lists and quotations around it.
    blocks: usize,
    /// Styles around it.
    styles: usize,
    /// Paragraphs, headings, list items, table cells, notes, pictures and forced line ends before it.
    pieces: usize,
    /// Characters of the paragraph or heading before it.
    characters: usize,
    in_heading: bool,
}

impl Measured {
    fn take(&mut self, event: &Event<'_>) {
        match event {
            Event::Start(tag) => {
                match Nesting::of(tag.to_end()) {
                    Nesting::Block => self.blocks += 1,
                    Nesting::Style => self.styles += 1,
                    Nesting::None => self.characters = 0,
                }
                self.pieces += usize::from(!matches!(Nesting::of(tag.to_end()), Nesting::Style));
                self.pieces += usize::from(matches!(tag, Tag::Image { .. }));
                self.in_heading |= matches!(tag, Tag::Heading { .. });
            }
            Event::End(end) => {
                match Nesting::of(*end) {
                    Nesting::Block => self.blocks -= 1,
                    Nesting::Style => self.styles -= 1,
                    Nesting::None => self.characters = 0,
                }
                self.in_heading &= !matches!(end, TagEnd::Heading(_));
            }
            Event::Text(text) | Event::Code(text) | Event::Html(text) | Event::InlineHtml(text) => {
                self.characters += text.chars().count();
            }
            Event::HardBreak | Event::Rule | Event::FootnoteReference(_) => self.pieces += 1,
            _ => {}
        }
    }

    /// What is too much by now: the kind of fault, what is wrong, and what to write instead.
    fn fault(&self) -> Option<(&'static Code, String, &'static str)> {
        let Measured { blocks, styles, pieces, characters, in_heading } = *self;
        let (code, message, help) = if blocks > DEEPEST {
            let message =
                format!("this stands in more than {DEEPEST} lists and quotations within one another");
            (&code::TOO_DEEP, message, "take it out of some of them")
        } else if styles > DEEPEST_STYLE {
            let message = format!("this has more than {DEEPEST_STYLE} styles within one another");
            (&code::TOO_DEEP, message, "take it out of some of them")
        } else if in_heading && characters > LONGEST_HEADING {
            let message = format!("this heading has more than {LONGEST_HEADING} characters");
            (&code::TOO_LONG, message, "make it a paragraph")
        } else if characters > LONGEST_PARAGRAPH {
            let message = format!("this paragraph has more than {LONGEST_PARAGRAPH} characters");
            (&code::TOO_LONG, message, "part it with an empty line")
        } else if pieces > MOST_PIECES {
            let message = format!(
                "the story has more than {MOST_PIECES} paragraphs, list items, table cells and the like before this"
            );
            (&code::TOO_LONG, message, "shorten it")
        } else {
            return None;
        };
        Some((code, message, help))
    }
}

/// What a tag does to the room on the page, or to the style of words.
enum Nesting {
    /// It narrows the block.
    Block,
    /// It styles words.
    Style,
    /// Neither.
    None,
}

impl Nesting {
    fn of(tag: TagEnd) -> Nesting {
        match tag {
            TagEnd::BlockQuote(_) | TagEnd::List(_) | TagEnd::FootnoteDefinition => Nesting::Block,
            TagEnd::Emphasis | TagEnd::Strong | TagEnd::Strikethrough | TagEnd::Link | TagEnd::Image => {
                Nesting::Style
            }
            _ => Nesting::None,
        }
    }
}

const OPTIONS: Options = Options::ENABLE_TABLES
    .union(Options::ENABLE_FOOTNOTES)
    .union(Options::ENABLE_SMART_PUNCTUATION)
    .union(Options::ENABLE_STRIKETHROUGH);

fn events(text: &str) -> Vec<(Event<'static>, Range<usize>)> {
    let events = Parser::new_ext(text, OPTIONS).into_offset_iter();
    events.map(|(event, span)| (event.into_static(), span)).collect()
}

/// The text without the lines that say nothing: comments, written as definitions of links, and definitions that no link
/// uses. Where leaving them out would change what the rest says, the bare words of the rest.
fn said(text: &str, whole: &[(Event<'static>, Range<usize>)]) -> String {
    let mut kept = String::with_capacity(text.len());
    // Whether the line before was left out, and whether the last one that was kept is empty or there is none.
    let (mut after_remark, mut after_empty) = (false, true);
    for (line, spoken) in text.split_inclusive('\n').zip(spoken_lines(text, whole)) {
        let empty = line.trim().is_empty();
        let marks = markers(line);
        if !spoken && !empty && marks.is_empty() {
            after_remark = true;
            continue;
        }
        if empty && after_remark && after_empty {
            continue;
        }
        match spoken || marks.len() == line.trim_end().len() {
            true => kept.push_str(line),
            false => {
                kept.push_str(marks);
                kept.push('\n');
            }
        }
        (after_remark, after_empty) = (false, empty);
    }
    if kept.len() == text.len() {
        return kept;
    }
    let same = events(&kept);
    match same.iter().map(|(event, _)| event).eq(whole.iter().map(|(event, _)| event)) {
        true => kept,
        false => bare_words(whole),
    }
}

/// Which lines are printed, or lead a link somewhere.
fn spoken_lines(text: &str, whole: &[(Event<'static>, Range<usize>)]) -> Vec<bool> {
    let starts: Vec<usize> =
        std::iter::once(0).chain(memchr::memchr_iter(b'\n', text.as_bytes()).map(|at| at + 1)).collect();
    let mut spoken = vec![false; starts.len()];
    let mut mark = |span: &Range<usize>| {
        let first = starts.partition_point(|start| *start <= span.start) - 1;
        let last = starts.partition_point(|start| *start < span.end.max(span.start + 1)) - 1;
        spoken[first..=last].fill(true);
    };
    let mut used: BTreeSet<&str> = BTreeSet::new();
    for (event, span) in whole {
        match event {
            // What holds other blocks may hold comments, and a paragraph may begin with some.
            Event::Start(
                Tag::Paragraph | Tag::BlockQuote(_) | Tag::List(_) | Tag::Item | Tag::FootnoteDefinition(_),
            )
            | Event::End(_) => {}
            Event::Start(Tag::Link { link_type, id, .. } | Tag::Image { link_type, id, .. }) => {
                if matches!(link_type, LinkType::Reference | LinkType::Collapsed | LinkType::Shortcut) {
                    used.insert(id);
                }
            }
            _ => mark(span),
        }
    }
    if !used.is_empty() {
        let parser = Parser::new_ext(text, OPTIONS);
        let definitions = parser.reference_definitions();
        used.iter().filter_map(|label| definitions.get(label)).for_each(|definition| mark(&definition.span));
    }
    spoken
}

/// The marks of quotations and lists that an unspoken line begins with, which hold the blocks around it together.
fn markers(line: &str) -> &str {
    let mut rest = line;
    loop {
        rest = rest.trim_start_matches([' ', '\t', '>']);
        let digits = rest.len() - rest.trim_start_matches(|c: char| c.is_ascii_digit()).len();
        let bullet = if digits > 0 {
            rest[digits..].starts_with(['.', ')'])
        } else {
            rest.starts_with(['-', '+', '*'])
        };
        match bullet && rest[digits + 1..].starts_with(|c: char| c.is_ascii_whitespace()) {
            true => rest = &rest[digits + 1..],
            false => return line[..line.len() - rest.len()].trim_end(),
        }
    }
}

/// The words of a story without any markup, a line for each block.
fn bare_words(whole: &[(Event<'static>, Range<usize>)]) -> String {
    let mut words = String::new();
    for (event, _) in whole {
        match event {
            Event::Text(text) | Event::Code(text) | Event::Html(text) | Event::InlineHtml(text) => {
                words.push_str(text)
            }
            Event::SoftBreak => words.push(' '),
            Event::HardBreak
            | Event::End(TagEnd::Paragraph | TagEnd::Heading(_) | TagEnd::TableCell | TagEnd::Item) => {
                words.push('\n');
            }
            _ => {}
        }
    }
    words
}

/// Whether a link leads to a web page, a mail address or a place of the page itself, at an address of a usual length; no
/// other may stand.
pub fn may_link(address: &str) -> bool {
    let begins =
        |scheme: &str| address.get(..scheme.len()).is_some_and(|head| head.eq_ignore_ascii_case(scheme));
    address.len() <= LONGEST_ADDRESS
        && (address.starts_with('#') || ["http://", "https://", "mailto:"].into_iter().any(begins))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn said(text: &str) -> String {
        Story::read(text.to_owned()).said().to_owned()
    }

    #[test]
    fn comments_and_unused_definitions_are_not_said() {
        assert_eq!(said("[//]: # (for me)\n\nIt came.\n"), "It came.\n");
        assert_eq!(said("It came.\n\n[//]: # (one)\n[//]: # (two)\n\nIt went.\n"), "It came.\n\nIt went.\n");
        assert_eq!(said("[//]: # (for me)\nIt came.\n"), "It came.\n");
        assert_eq!(said("> It came.\n>\n> [//]: # (for me)\n"), "> It came.\n>\n>\n");
        assert_eq!(said("[a]: https://example.org (for me)\n"), "");
        assert_eq!(said("- a\n\n- [//]: # (for me)\n  b\n"), "- a\n\n-\n  b\n");
        assert_eq!(said("[//]: # (over\ntwo lines)\n\n- one\n- two\n"), "- one\n- two\n");
    }

    #[test]
    fn what_is_printed_stays_as_it_was_typed() {
        for text in [
            "See [here][a].\n\n[a]: https://example.org\n",
            "Title\n=====\n\n|a|b|\n|-|-|\n|1|2|\n\n```\n[//]: # (code)\n```\n\n***\n\nwords[^1]\n\n[^1]: note\n",
            "[//]: no comment\n",
            "- a\n\n  b\n\n1. c\n",
            "a [link\nover](https://example.org\n\"two lines\") b\n",
        ] {
            assert_eq!(said(text), text);
        }
    }

    fn words_of(event: &Event<'_>) -> Option<String> {
        match event {
            Event::Text(text) | Event::Code(text) | Event::Html(text) | Event::InlineHtml(text) => {
                Some(text.to_string())
            }
            _ => None,
        }
    }

    fn fault(text: &str) -> Option<(&'static str, Range<usize>)> {
        Story::read(text.to_owned()).fault().map(|fault| (fault.code.name, fault.span))
    }

    #[test]
    fn levels_and_headings_have_an_end() {
        let list = |levels: usize| {
            (0..levels).map(|level| format!("{}- a\n", "  ".repeat(level))).collect::<String>()
        };
        assert_eq!(fault(&list(10)), None);
        assert_eq!(fault(&list(11)), Some(("too-deep", list(10).len() + 20..list(10).len() + 23)));
        assert_eq!(fault(&(">".repeat(10) + "a")), None);
        assert_eq!(fault(&(">".repeat(20_000) + "a")).map(|(name, _)| name), Some("too-deep"));
        assert_eq!(fault(&format!("# {}", "a".repeat(300))), None);
        assert_eq!(fault(&format!("x\n\n# {}", "a".repeat(301))), Some(("too-long", 5..306)));
    }

    proptest::proptest! {
        #[test]
        fn no_comment_is_ever_said_and_the_rest_says_the_same(
            lines in proptest::collection::vec("([>*-] ){0,2}(  )?(SECRET|\\[//\\]: # \\(SECRET\\)|\\[a\\]: /SECRET|a|[^a]|# a|===|---|\\|a\\|b\\||\\|-\\|-\\||```|\\[a\\]|)", 0..12)
        ) {
            let text = lines.join("\n");
            let story = Story::read(text.clone());
            let printed: String = story
                .events()
                .filter_map(|(event, _)| match event {
                    Event::Start(Tag::Link { dest_url, title, .. }) => Some(format!("{dest_url}{title}")),
                    event => words_of(event),
                })
                .collect();
            let secrets = |text: &str| text.matches("SECRET").count();
            proptest::prop_assert!(secrets(story.said()) <= secrets(&printed), "{text:?} says {:?}", story.said());
        }
    }
}
