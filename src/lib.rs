//! Witnessmark: from a folder per piece of furniture to honest papers.

pub mod cli;
pub mod derive;
pub mod diag;
pub mod fields;
pub mod inspect;
pub mod photo;
pub mod record;
pub mod source;
pub mod trade;
pub mod unit;
pub mod write;

/// The journey, as far as it goes yet: records are read, and a plain list of the pieces is written.
pub mod journey {
    use std::path::Path;

    use chrono::NaiveDate;

    use crate::derive::Facts;
    use crate::diag::{Code, Diagnostic, Severity};
    use crate::inspect::Looks;
    use crate::record::{self, Folder};
    use crate::source::Tree;
    use crate::write::{Stage, WriteError};

    /// Told how far the photographs are.
    pub trait Progress: Sync {
        /// So many photographs are ahead.
        fn begin(&self, photographs: u64);
        /// One is done.
        fn tick(&self);
        /// All are done.
        fn end(&self);
    }

    /// Something that would make a piece's papers better.
    #[derive(Debug, Clone, PartialEq, Eq)]
    pub struct Addition {
        /// What to write, in lower case and without a full stop.
        pub what: String,
        /// What the papers gain by it.
        pub why: String,
    }

    /// Everything that is known about a workshop.
    #[derive(Debug)]
    pub struct Survey {
        /// What its folder says.
        pub folder: Folder,
        /// What follows, piece by piece.
        pub facts: Vec<Option<Facts>>,
        /// How the photographs answered, piece by piece.
        pub looks: Vec<Looks>,
        /// What is wrong or missing.
        pub diagnostics: Vec<Diagnostic>,
        /// What would help most, by the piece's folder.
        pub additions: Vec<(String, Vec<Addition>)>,
    }

    /// What a writing did.
    #[derive(Debug)]
    pub struct Written {
        /// Title and number of each piece that was written.
        pub pieces: Vec<String>,
        /// Folder of each piece that was not, and why.
        pub left_out: Vec<(String, String)>,
        /// How many files.
        pub files: usize,
        /// Their bytes.
        pub bytes: u64,
        /// How many photographs were developed.
        pub photographs: usize,
    }

    /// Why the journey ended early.
    #[derive(Debug, thiserror::Error)]
    pub enum Error {
        /// Something could not be written.
        #[error(transparent)]
        Write(#[from] WriteError),
    }

    /// Every fault that has a name.
    pub fn codes() -> Vec<&'static Code> {
        crate::fields::code::CODES.iter().copied().chain([&record::NO_RECORD]).collect()
    }

    /// Reads a workshop.
    pub fn survey(tree: &Tree, _today: NaiveDate, progress: &dyn Progress) -> Survey {
        let (folder, diagnostics) = record::read(tree);
        let photographs = folder.pieces.iter().map(|piece| piece.photos.len() as u64).sum();
        progress.begin(photographs);
        (0..photographs).for_each(|_| progress.tick());
        progress.end();
        Survey { folder, facts: Vec::new(), looks: Vec::new(), diagnostics, additions: Vec::new() }
    }

    /// Writes a list of the pieces.
    ///
    /// # Errors
    /// [`Error`] where the target cannot be written.
    pub fn writeup(
        _tree: &Tree,
        survey: Survey,
        target: &Path,
        only: Option<&str>,
        _progress: &dyn Progress,
    ) -> Result<Written, Error> {
        let stage = Stage::open(target)?;
        let (mut pieces, mut left_out) = (Vec::new(), Vec::new());
        for piece in &survey.folder.pieces {
            let path = format!("showroom/{}/index.html", piece.folder);
            if only.is_some_and(|only| only != piece.folder) {
                stage.carry(|carried| carried == path)?;
                continue;
            }
            let faults = survey.diagnostics.iter().filter(|diagnostic| {
                diagnostic.severity() == Severity::Error
                    && diagnostic.place.path.starts_with(&format!("pieces/{}", piece.folder))
            });
            match (&piece.record, faults.count()) {
                (Some(record), 0) => {
                    stage.put(&path, record.title.as_bytes())?;
                    pieces.push(format!("{} ({})", &**record.title, &**record.number));
                }
                (_, count) => left_out.push((piece.folder.clone(), format!("{count} errors in its record"))),
            }
        }
        stage.put("showroom/index.html", pieces.join("\n").as_bytes())?;
        let written = stage.commit()?;
        Ok(Written { pieces, left_out, files: written.files, bytes: written.bytes, photographs: 0 })
    }
}
