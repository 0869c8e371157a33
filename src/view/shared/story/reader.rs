//! Reads what a story says into blocks.

use pulldown_cmark::{Event, Tag, TagEnd};

use super::block::{Block, Inline};
use super::sound::Said;
use crate::view::shared::photograph::PhotoView;

/// A story as blocks of plain text.
///
/// `picture` finds a photograph of the piece by its file name.
pub(crate) fn story_blocks<'v>(
    story: Vec<Said>,
    picture: &dyn Fn(&str) -> Option<&'v PhotoView>,
) -> Vec<Block> {
    let mut reader = Reader { said: story.into_iter(), notes: Vec::new(), picture };
    reader.blocks()
}

/// Builds blocks out of what a story says.
struct Reader<'p, 'v> {
    said: std::vec::IntoIter<Said>,
    /// The notes' labels, in the order in which they are first met; their numbers count from 1.
    notes: Vec<String>,
    picture: &'p dyn Fn(&str) -> Option<&'v PhotoView>,
}

impl Reader<'_, '_> {
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
    fn block(&mut self, tag: Tag<'static>, before: &mut Vec<Block>) -> Result<Option<Block>, Tag<'static>> {
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
    fn styled(&mut self, tag: Tag<'static>) -> Option<Inline> {
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

    fn inline(&mut self, event: Event<'static>) -> Option<Inline> {
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
