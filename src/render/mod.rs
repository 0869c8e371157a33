//! Views and a theme become files in memory; nothing here touches the disk.

mod calendar;
mod pack;
mod site;
mod theme;

pub use calendar::calendar;
pub use pack::pack;
pub use site::{archive, buyers, showroom};
pub use theme::{DEFAULT, Theme};

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
}
