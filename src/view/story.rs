//! The story: Markdown that is not trusted, as HTML that is.
//!
//! Raw HTML is shown as the text it is, links lead only to http, https, mailto and
//! places in the page, and pictures are photographs of the same piece or nothing.

use pulldown_cmark::{CowStr, Event, HeadingLevel, Tag, TagEnd};
use serde::Serialize;

use super::picture::PhotoView;
use crate::record::story::{may_link, parser};

/// The headings of a story begin one level below the page's own `h2`.
const TOP_HEADING: u8 = 3;

/// A block of a story, for papers that are not HTML. All texts are plain.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[serde(tag = "kind", rename_all = "kebab-case")]
pub enum Block {
    /// A paragraph.
    Paragraph {
        /// What stands in it.
        inlines: Vec<Inline>,
    },
    /// A heading.
    Heading {
        /// Its rank: 3 for the highest, none skipped.
        level: u8,
        /// Its words.
        inlines: Vec<Inline>,
    },
    /// A list.
    List {
        /// Its first number; none where it is not numbered.
        start: Option<u64>,
        /// What stands in each of its items.
        items: Vec<Vec<Block>>,
    },
    /// A quotation.
    Quote {
        /// What is quoted.
        blocks: Vec<Block>,
    },
    /// Text to print as it stands.
    Code {
        /// The text.
        text: String,
    },
    /// A break between two parts.
    Rule,
    /// A table.
    Table {
        /// The cells of its heading.
        head: Vec<Vec<Inline>>,
        /// Its rows, as many cells each.
        rows: Vec<Vec<Vec<Inline>>>,
    },
    /// A photograph of the piece.
    Picture {
        /// The photograph.
        photo: Box<PhotoView>,
        /// Its words in the story.
        alt: String,
    },
    /// A note at the foot.
    Note {
        /// Its number.
        number: usize,
        /// What it says.
        blocks: Vec<Block>,
    },
}

/// A run of text within a block.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[serde(tag = "kind", rename_all = "kebab-case")]
pub enum Inline {
    /// Plain text.
    Text {
        /// The text.
        text: String,
    },
    /// Stressed.
    Emphasis {
        /// What is stressed.
        inlines: Vec<Inline>,
    },
    /// Strongly stressed.
    Strong {
        /// What is stressed.
        inlines: Vec<Inline>,
    },
    /// Struck out.
    Struck {
        /// What is struck out.
        inlines: Vec<Inline>,
    },
    /// Text to print as it stands.
    Code {
        /// The text.
        text: String,
    },
    /// A link to a web or mail address.
    Link {
        /// Where it leads.
        address: String,
        /// Its words.
        inlines: Vec<Inline>,
    },
    /// A new line.
    Break,
    /// A mark that leads to a note.
    NoteMark {
        /// The note's number.
        number: usize,
    },
}

/// A story as HTML.
///
/// `picture` finds a photograph of the piece by its file name.
pub(super) fn story_html<'a>(markdown: &str, picture: impl Fn(&str) -> Option<&'a PhotoView>) -> String {
    let events = sound(markdown).into_iter().map(|said| match said {
        Said::Event(event) => event,
        Said::Picture { file, alt } => figure(picture(&file), &alt),
    });
    let mut html = String::with_capacity(markdown.len() * 5 / 4);
    pulldown_cmark::html::push_html(&mut html, events);
    html
}

/// A story as blocks of plain text.
///
/// `picture` finds a photograph of the piece by its file name.
pub(super) fn story_blocks<'v>(
    markdown: &str,
    picture: &dyn Fn(&str) -> Option<&'v PhotoView>,
) -> Vec<Block> {
    let mut reader = Reader { said: sound(markdown).into_iter(), notes: Vec::new(), picture };
    reader.blocks()
}

/// What a story says, with everything unsound made plain text.
enum Said<'a> {
    /// Sound Markdown.
    Event(Event<'a>),
    /// A picture, which may or may not be a photograph of the piece.
    Picture {
        /// The file it names.
        file: String,
        /// Its words.
        alt: String,
    },
}

/// Reads a story: raw HTML becomes text, unsound links lose their address, and headings skip nothing.
fn sound(markdown: &str) -> Vec<Said<'_>> {
    let mut depth = Depth::default();
    let mut links: Vec<bool> = Vec::new();
    let mut image: Option<(String, String)> = None;
    let mut all: Vec<Said<'_>> = Vec::new();
    for event in parser(markdown) {
        if let Some((_, alt)) = &mut image {
            match event {
                Event::End(TagEnd::Image) => {
                    all.extend(image.take().map(|(file, alt)| Said::Picture { file, alt }));
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
        all.push(Said::Event(event));
    }
    all
}

/// Builds blocks out of what a story says.
struct Reader<'a, 'p, 'v> {
    said: std::vec::IntoIter<Said<'a>>,
    /// The notes' labels, in the order in which they are first met; their numbers count from 1.
    notes: Vec<String>,
    picture: &'p dyn Fn(&str) -> Option<&'v PhotoView>,
}

impl<'a> Reader<'a, '_, '_> {
    /// Blocks up to the end of what holds them.
    fn blocks(&mut self) -> Vec<Block> {
        let mut blocks: Vec<Block> = Vec::new();
        // Tight list items hold text without a paragraph around it.
        let mut loose: Vec<Inline> = Vec::new();
        while let Some(said) = self.said.next() {
            let block = match said {
                Said::Event(Event::Start(tag)) => match self.block(tag, &mut blocks) {
                    Ok(block) => block,
                    Err(tag) => {
                        loose.extend(self.styled(tag));
                        continue;
                    }
                },
                Said::Event(Event::Rule) => Some(Block::Rule),
                Said::Event(Event::End(_)) => break,
                Said::Picture { file, alt } => match self.photograph(&file, &alt) {
                    Ok(block) => Some(block),
                    Err(words) => {
                        loose.push(words);
                        continue;
                    }
                },
                Said::Event(event) => {
                    loose.extend(self.inline(event));
                    continue;
                }
            };
            settle(&mut loose, &mut blocks);
            blocks.extend(block);
        }
        settle(&mut loose, &mut blocks);
        blocks
    }

    /// A block that a tag begins; the tag back where it begins none.
    fn block(&mut self, tag: Tag<'a>, before: &mut Vec<Block>) -> Result<Option<Block>, Tag<'a>> {
        Ok(Some(match tag {
            Tag::Paragraph => {
                self.paragraph(before);
                return Ok(None);
            }
            Tag::Heading { level, .. } => Block::Heading { level: level as u8, inlines: self.inlines() },
            Tag::BlockQuote(_) => Block::Quote { blocks: self.blocks() },
            Tag::CodeBlock(_) => Block::Code { text: words(&self.inlines()) },
            Tag::List(start) => Block::List { start, items: self.items() },
            Tag::FootnoteDefinition(label) => {
                Block::Note { number: self.note(&label), blocks: self.blocks() }
            }
            Tag::Table(_) => self.table(),
            Tag::Item | Tag::MetadataBlock(_) => Block::Quote { blocks: self.blocks() },
            other => return Err(other),
        }))
    }

    /// A paragraph, parted where a photograph stands in it.
    fn paragraph(&mut self, blocks: &mut Vec<Block>) {
        let mut inlines = Vec::new();
        while let Some(said) = self.said.next() {
            match said {
                Said::Event(Event::End(TagEnd::Paragraph)) => break,
                Said::Event(Event::Start(tag)) => inlines.extend(self.styled(tag)),
                Said::Event(event) => inlines.extend(self.inline(event)),
                Said::Picture { file, alt } => match self.photograph(&file, &alt) {
                    Ok(block) => {
                        settle(&mut inlines, blocks);
                        blocks.push(block);
                    }
                    Err(words) => inlines.push(words),
                },
            }
        }
        settle(&mut inlines, blocks);
    }

    fn items(&mut self) -> Vec<Vec<Block>> {
        let mut items = Vec::new();
        while let Some(Said::Event(Event::Start(Tag::Item))) = self.said.next() {
            items.push(self.blocks());
        }
        items
    }

    fn table(&mut self) -> Block {
        let (mut head, mut rows) = (Vec::new(), Vec::new());
        while let Some(Said::Event(Event::Start(tag))) = self.said.next() {
            let mut cells = Vec::new();
            while let Some(Said::Event(Event::Start(Tag::TableCell))) = self.said.next() {
                cells.push(self.inlines());
            }
            match tag {
                Tag::TableHead => head = cells,
                _ => rows.push(cells),
            }
        }
        Block::Table { head, rows }
    }

    /// Inlines up to the end of what holds them.
    fn inlines(&mut self) -> Vec<Inline> {
        let mut inlines = Vec::new();
        while let Some(said) = self.said.next() {
            match said {
                Said::Event(Event::End(_)) => break,
                Said::Event(Event::Start(tag)) => inlines.extend(self.styled(tag)),
                Said::Event(event) => inlines.extend(self.inline(event)),
                Said::Picture { alt, .. } => inlines.push(Inline::Text { text: format!("[{alt}]") }),
            }
        }
        inlines
    }

    /// What a tag of style holds.
    fn styled(&mut self, tag: Tag<'a>) -> Option<Inline> {
        let inlines = self.inlines();
        Some(match tag {
            Tag::Emphasis => Inline::Emphasis { inlines },
            Tag::Strong => Inline::Strong { inlines },
            Tag::Strikethrough => Inline::Struck { inlines },
            // Places of a page are not places of a paper.
            Tag::Link { dest_url, .. } if !dest_url.starts_with('#') => {
                Inline::Link { address: dest_url.to_string(), inlines }
            }
            _ => match inlines.is_empty() {
                true => return None,
                false => Inline::Text { text: words(&inlines) },
            },
        })
    }

    fn inline(&mut self, event: Event<'a>) -> Option<Inline> {
        Some(match event {
            Event::Text(text) => Inline::Text { text: text.to_string() },
            Event::Code(text) => Inline::Code { text: text.to_string() },
            Event::SoftBreak => Inline::Text { text: " ".to_owned() },
            Event::HardBreak => Inline::Break,
            Event::FootnoteReference(label) => Inline::NoteMark { number: self.note(&label) },
            _ => return None,
        })
    }

    /// A note's number, from the order in which notes are first met.
    fn note(&mut self, label: &str) -> usize {
        match self.notes.iter().position(|known| known == label) {
            Some(place) => place + 1,
            None => {
                self.notes.push(label.to_owned());
                self.notes.len()
            }
        }
    }

    /// A photograph of the piece as a block, or its words where there is none to show.
    fn photograph(&self, file: &str, alt: &str) -> Result<Block, Inline> {
        match (self.picture)(file) {
            Some(photo) if photo.fault.is_empty() => {
                let words = if alt.trim().is_empty() { photo.alt.clone() } else { alt.to_owned() };
                Ok(Block::Picture { photo: Box::new(photo.clone()), alt: words })
            }
            _ => Err(Inline::Text { text: format!("[{alt}]") }),
        }
    }
}

/// Makes a paragraph of what stands between two blocks; spaces alone make none.
fn settle(inlines: &mut Vec<Inline>, blocks: &mut Vec<Block>) {
    let inlines = std::mem::take(inlines);
    let blank = |inline: &Inline| match inline {
        Inline::Text { text } => text.trim().is_empty(),
        Inline::Break => true,
        _ => false,
    };
    if !inlines.iter().all(blank) {
        blocks.push(Block::Paragraph { inlines });
    }
}

/// The words of inlines without their style.
fn words(inlines: &[Inline]) -> String {
    inlines
        .iter()
        .map(|inline| match inline {
            Inline::Text { text } | Inline::Code { text } => text.clone(),
            Inline::Emphasis { inlines }
            | Inline::Strong { inlines }
            | Inline::Struck { inlines }
            | Inline::Link { inlines, .. } => words(inlines),
            Inline::Break => "\n".to_owned(),
            Inline::NoteMark { .. } => String::new(),
        })
        .collect()
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

    fn blocks(markdown: &str) -> serde_json::Value {
        serde_json::to_value(story_blocks(markdown, &|_| None)).unwrap()
    }

    #[test]
    fn blocks_say_what_the_page_says() {
        use serde_json::json;
        let text = |text: &str| json!({"kind": "text", "text": text});
        assert_eq!(
            blocks("# a\n\nso *it* `is`"),
            json!([
                {"kind": "heading", "level": 3, "inlines": [text("a")]},
                {"kind": "paragraph", "inlines": [
                    text("so "), {"kind": "emphasis", "inlines": [text("it")]}, text(" "), {"kind": "code", "text": "is"}
                ]},
            ])
        );
        assert_eq!(
            blocks("2. a\n3. b\n   - c"),
            json!([{"kind": "list", "start": 2, "items": [
                [{"kind": "paragraph", "inlines": [text("a")]}],
                [{"kind": "paragraph", "inlines": [text("b")]},
                 {"kind": "list", "start": null, "items": [[{"kind": "paragraph", "inlines": [text("c")]}]]}],
            ]}])
        );
        assert_eq!(
            blocks("|a|b|\n|-|-|\n|1|2|"),
            json!([{"kind": "table", "head": [[text("a")], [text("b")]], "rows": [[[text("1")], [text("2")]]]}])
        );
        assert_eq!(
            blocks("> q[^x]\n\n[^x]: n"),
            json!([
                {"kind": "quote", "blocks": [
                    {"kind": "paragraph", "inlines": [text("q"), {"kind": "note-mark", "number": 1}]}
                ]},
                {"kind": "note", "number": 1, "blocks": [{"kind": "paragraph", "inlines": [text("n")]}]},
            ])
        );
    }

    #[test]
    fn blocks_keep_no_unsound_link_and_no_markup() {
        assert_eq!(
            blocks("[click](javascript:alert(1)) <b>x</b> ![me](https://example.org/x.png)").to_string(),
            r#"[{"inlines":[{"kind":"text","text":"click"},{"kind":"text","text":" "},{"kind":"text","text":"<b>"},{"kind":"text","text":"x"},{"kind":"text","text":"</b>"},{"kind":"text","text":" "},{"kind":"text","text":"[me]"}],"kind":"paragraph"}]"#
        );
    }

    /// The letters of a page's text, in order.
    fn letters(html: &str) -> String {
        let mut within = false;
        html.chars()
            .filter(|character| {
                within = (within || *character == '<') && *character != '>';
                !within && character.is_ascii_alphabetic()
            })
            .collect()
    }

    /// The letters of blocks, in order.
    fn spoken(value: &serde_json::Value) -> String {
        match value {
            serde_json::Value::Array(all) => all.iter().map(spoken).collect(),
            serde_json::Value::Object(map) => {
                let text = map.get("text").and_then(|text| text.as_str()).map(letters).unwrap_or_default();
                let rest = ["head", "rows", "inlines", "items", "blocks"];
                text + &rest.into_iter().filter_map(|key| map.get(key)).map(spoken).collect::<String>()
            }
            _ => String::new(),
        }
    }

    proptest::proptest! {
        #[test]
        fn blocks_say_every_letter_of_the_page_in_its_order(markdown in "[-a-d*_#>0-9. \\[\\]()!^:|`~\n]{0,120}") {
            proptest::prop_assert_eq!(spoken(&blocks(&markdown)), letters(&html(&markdown).replace("&gt;", "")));
        }
    }

    #[test]
    fn a_picture_from_elsewhere_is_words() {
        assert_eq!(html("![me](https://example.org/x.png)"), "<p>[me]</p>\n");
    }
}
