//! Reads what a story says into blocks.

use pulldown_cmark::{Event, Tag, TagEnd};

use super::block::{StoryBlock, StoryInline};
use super::sound::SoundEvent;
use crate::unit::legible::is_visible;
use crate::view::shared::photograph::PhotoView;

/// A story as blocks of plain text.
///
/// `picture` finds a photograph of the piece by its file name.
pub(crate) fn story_blocks<'v>(
    story: Vec<SoundEvent>,
    picture: &dyn Fn(&str) -> Option<&'v PhotoView>,
) -> Vec<StoryBlock> {
    let mut reader = BlockReader { said: story.into_iter(), notes: Vec::new(), picture };
    reader.blocks()
}

/// Builds blocks out of what a story says.
struct BlockReader<'p, 'v> {
    said: std::vec::IntoIter<SoundEvent>,
    /// The notes' labels, in the order in which they are first met; their numbers count from 1.
    notes: Vec<String>,
    picture: &'p dyn Fn(&str) -> Option<&'v PhotoView>,
}

impl BlockReader<'_, '_> {
    /// Blocks up to the end of what holds them.
    fn blocks(&mut self) -> Vec<StoryBlock> {
        let mut blocks: Vec<StoryBlock> = Vec::new();
        // Tight list items hold text without a paragraph around it.
        let mut loose: Vec<StoryInline> = Vec::new();
        while let Some(said) = self.said.next() {
            let block = match said {
                SoundEvent::Event(Event::Start(tag)) => match self.block(tag, &mut blocks) {
                    Ok(block) => block,
                    Err(tag) => {
                        loose.extend(self.styled(tag));
                        continue;
                    }
                },
                SoundEvent::Event(Event::Rule) => Some(StoryBlock::Rule),
                SoundEvent::Event(Event::End(_)) => break,
                SoundEvent::Picture { file, alt } => match self.photograph(&file, &alt) {
                    Ok(block) => Some(block),
                    Err(words) => {
                        loose.push(words);
                        continue;
                    }
                },
                SoundEvent::Event(event) => {
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
    fn block(
        &mut self,
        tag: Tag<'static>,
        before: &mut Vec<StoryBlock>,
    ) -> Result<Option<StoryBlock>, Tag<'static>> {
        Ok(Some(match tag {
            Tag::Paragraph => {
                self.paragraph(before);
                return Ok(None);
            }
            Tag::Heading { level, .. } => StoryBlock::Heading { level: level as u8, inlines: self.inlines() },
            Tag::BlockQuote(_) => StoryBlock::Quote { blocks: self.blocks() },
            Tag::CodeBlock(_) => StoryBlock::Code { text: words(&self.inlines()) },
            Tag::List(start) => StoryBlock::List { start, items: self.items() },
            Tag::FootnoteDefinition(label) => {
                StoryBlock::Note { number: self.note(&label), blocks: self.blocks() }
            }
            Tag::Table(_) => self.table(),
            Tag::Item | Tag::MetadataBlock(_) => StoryBlock::Quote { blocks: self.blocks() },
            other => return Err(other),
        }))
    }

    /// A paragraph, parted where a photograph stands in it.
    fn paragraph(&mut self, blocks: &mut Vec<StoryBlock>) {
        let mut inlines = Vec::new();
        while let Some(said) = self.said.next() {
            match said {
                SoundEvent::Event(Event::End(TagEnd::Paragraph)) => break,
                SoundEvent::Event(Event::Start(tag)) => inlines.extend(self.styled(tag)),
                SoundEvent::Event(event) => inlines.extend(self.inline(event)),
                SoundEvent::Picture { file, alt } => match self.photograph(&file, &alt) {
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

    fn items(&mut self) -> Vec<Vec<StoryBlock>> {
        let mut items = Vec::new();
        while let Some(SoundEvent::Event(Event::Start(Tag::Item))) = self.said.next() {
            items.push(self.blocks());
        }
        items
    }

    fn table(&mut self) -> StoryBlock {
        let (mut head, mut rows) = (Vec::new(), Vec::new());
        while let Some(SoundEvent::Event(Event::Start(tag))) = self.said.next() {
            let mut cells = Vec::new();
            while let Some(SoundEvent::Event(Event::Start(Tag::TableCell))) = self.said.next() {
                cells.push(self.inlines());
            }
            match tag {
                Tag::TableHead => head = cells,
                _ => rows.push(cells),
            }
        }
        StoryBlock::Table { head, rows }
    }

    /// Inlines up to the end of what holds them.
    fn inlines(&mut self) -> Vec<StoryInline> {
        let mut inlines = Vec::new();
        while let Some(said) = self.said.next() {
            match said {
                SoundEvent::Event(Event::End(_)) => break,
                SoundEvent::Event(Event::Start(tag)) => inlines.extend(self.styled(tag)),
                SoundEvent::Event(event) => inlines.extend(self.inline(event)),
                SoundEvent::Picture { alt, .. } => {
                    inlines.push(StoryInline::Text { text: format!("[{alt}]") })
                }
            }
        }
        inlines
    }

    /// What a tag of style holds.
    fn styled(&mut self, tag: Tag<'static>) -> Option<StoryInline> {
        let inlines = self.inlines();
        Some(match tag {
            Tag::Emphasis => StoryInline::Emphasis { inlines },
            Tag::Strong => StoryInline::Strong { inlines },
            Tag::Strikethrough => StoryInline::Struck { inlines },
            // Places of a page are not places of a paper.
            Tag::Link { dest_url, .. } if !dest_url.starts_with('#') => {
                StoryInline::Link { address: dest_url.to_string(), inlines }
            }
            _ => match inlines.is_empty() {
                true => return None,
                false => StoryInline::Text { text: words(&inlines) },
            },
        })
    }

    fn inline(&mut self, event: Event<'static>) -> Option<StoryInline> {
        Some(match event {
            Event::Text(text) => StoryInline::Text { text: text.to_string() },
            Event::Code(text) => StoryInline::Code { text: text.to_string() },
            Event::SoftBreak => StoryInline::Text { text: " ".to_owned() },
            Event::HardBreak => StoryInline::Break,
            Event::FootnoteReference(label) => StoryInline::NoteMark { number: self.note(&label) },
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
    fn photograph(&self, file: &str, alt: &str) -> Result<StoryBlock, StoryInline> {
        match (self.picture)(file) {
            Some(photo) if photo.fault.is_empty() => {
                let words = if is_visible(alt) { alt.to_owned() } else { photo.alt.clone() };
                Ok(StoryBlock::Picture { photo: Box::new(photo.clone()), alt: words })
            }
            _ => Err(StoryInline::Text { text: format!("[{alt}]") }),
        }
    }
}

/// Makes a paragraph of what stands between two blocks; spaces alone make none.
fn settle(inlines: &mut Vec<StoryInline>, blocks: &mut Vec<StoryBlock>) {
    let inlines = std::mem::take(inlines);
    let blank = |inline: &StoryInline| match inline {
        StoryInline::Text { text } => !is_visible(text),
        StoryInline::Break => true,
        _ => false,
    };
    if !inlines.iter().all(blank) {
        blocks.push(StoryBlock::Paragraph { inlines });
    }
}

/// The words of inlines without their style.
fn words(inlines: &[StoryInline]) -> String {
    inlines
        .iter()
        .map(|inline| match inline {
            StoryInline::Text { text } | StoryInline::Code { text } => text.clone(),
            StoryInline::Emphasis { inlines }
            | StoryInline::Strong { inlines }
            | StoryInline::Struck { inlines }
            | StoryInline::Link { inlines, .. } => words(inlines),
            StoryInline::Break => "\n".to_owned(),
            StoryInline::NoteMark { .. } => String::new(),
        })
        .collect()
}
