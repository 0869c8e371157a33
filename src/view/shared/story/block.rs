//! A story as blocks of plain text, for papers that are not HTML.

use serde::Serialize;

use crate::view::shared::photograph::PhotoView;

/// A block of a story, for papers that are not HTML. All texts are plain.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[serde(tag = "kind", rename_all = "kebab-case")]
pub enum StoryBlock {
    /// A paragraph.
    Paragraph {
        /// What stands in it.
        inlines: Vec<StoryInline>,
    },
    /// A heading.
    Heading {
        /// Its rank: 3 for the highest, none skipped.
        level: u8,
        /// Its words.
        inlines: Vec<StoryInline>,
    },
    /// A list.
    List {
        /// Its first number; none where it is not numbered.
        start: Option<u64>,
        /// What stands in each of its items.
        items: Vec<Vec<StoryBlock>>,
    },
    /// A quotation.
    Quote {
        /// What is quoted.
        blocks: Vec<StoryBlock>,
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
        head: Vec<Vec<StoryInline>>,
        /// Its rows, as many cells each.
        rows: Vec<Vec<Vec<StoryInline>>>,
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
        blocks: Vec<StoryBlock>,
    },
}

/// A run of text within a block.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[serde(tag = "kind", rename_all = "kebab-case")]
pub enum StoryInline {
    /// Plain text.
    Text {
        /// The text.
        text: String,
    },
    /// Stressed.
    Emphasis {
        /// What is stressed.
        inlines: Vec<StoryInline>,
    },
    /// Strongly stressed.
    Strong {
        /// What is stressed.
        inlines: Vec<StoryInline>,
    },
    /// Struck out.
    Struck {
        /// What is struck out.
        inlines: Vec<StoryInline>,
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
        inlines: Vec<StoryInline>,
    },
    /// A new line.
    Break,
    /// A mark that leads to a note.
    NoteMark {
        /// The note's number.
        number: usize,
    },
}
