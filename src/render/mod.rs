//! Views and a theme become files in memory; nothing here touches the disk.

mod calendar;
mod label;
mod pack;
#[cfg(feature = "papers")]
pub mod paper;
#[cfg(test)]
mod pseudo;
mod published;
mod site;
mod theme;

pub use calendar::calendar;
pub use label::{code_lines, label_svg};
pub use pack::pack;
pub use site::{
    ARCHIVE, BuyersFolder, LINKED, PieceEntries, SHOWROOM, Shown, archive_pages, buyer_pages, buyer_papers,
    piece_pages, showroom_pages,
};
pub use theme::{Colour, LabelInks, PaperInks, Theme, ThemeChoice, ThemeFile, TreeKind, built_in};

pub use crate::pack::File;

/// Why a page could not be made.
#[derive(Debug, thiserror::Error)]
pub enum RenderError {
    /// A template does not read, or asks for what the page does not have.
    #[error("the theme cannot be used: {0}")]
    Template(tera::Error),
    /// A template is not UTF-8 text.
    #[error("`{0}` of the theme is not UTF-8 text")]
    NotText(String),
    /// A file of the workshop's own theme cannot be read.
    #[error("cannot read `{path}`")]
    File {
        /// Its path from the workshop's root.
        path: String,
        /// The system's error.
        source: std::io::Error,
    },
    /// A font of the theme cannot be used.
    #[error("`{path}` of the theme cannot be used as a font: {why}")]
    Font {
        /// Its path in the theme.
        path: String,
        /// What is wrong with it.
        why: String,
    },
    /// A paper's template is at fault.
    #[cfg(feature = "papers")]
    #[error("{0}")]
    Paper(Box<paper::PaperFault>),
    /// The system gave no thread to set papers on.
    #[error("no thread could be started to set papers: {0}")]
    Thread(String),
}

impl RenderError {
    /// Whether one sheet is at fault, with what it was to say, and not the theme as a whole.
    pub fn is_of_one_sheet(&self) -> bool {
        match self {
            #[cfg(feature = "papers")]
            RenderError::Paper(_) => true,
            _ => false,
        }
    }
}
