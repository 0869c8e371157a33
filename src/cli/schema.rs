//! `schema`: the JSON Schema of the files that people write.

use clap::{Args, ValueEnum};

use super::voice::Voice;
use super::{Outcome, Trouble};
use crate::record;

#[derive(Debug, Args)]
pub(super) struct Schema {
    /// The file that it describes
    file: File,
}

#[derive(Debug, Clone, Copy, ValueEnum)]
pub(super) enum File {
    /// `record.toml`
    Record,
    /// `workshop.toml`
    Workshop,
}

impl Schema {
    pub(super) fn run(self) -> Result<Outcome, Trouble> {
        Voice::out().print(&text(self.file))?;
        Ok(Outcome::Clean)
    }
}

/// The schema of a file, as text that ends in a newline.
pub(super) fn text(file: File) -> String {
    let schema = match file {
        File::Record => record::typed_schema(),
        File::Workshop => record::workshop_schema(),
    };
    format!("{:#}\n", schema.as_value())
}
