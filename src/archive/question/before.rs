//! Before: what was found on pieces of a kind, and what was to be remembered of them.

use super::{Asking, Lesson, PieceName, Spread};
use crate::archive::database::ArchiveFault;
use crate::record::UNKNOWN;

/// What the archive has on pieces of a kind.
#[derive(Debug, Clone, PartialEq)]
pub struct BeforeAnswer {
    /// The pieces of the kind.
    pub pieces: Vec<PieceName>,
    /// What was found on them, by what the table calls it or else in its own words, with the pieces that had it: what
    /// most of them had comes first.
    pub found: Vec<(String, Vec<PieceName>)>,
    /// What was to be remembered of such pieces.
    pub lessons: Vec<Lesson>,
}

/// What the archive has for a piece that is begun.
#[derive(Debug, Clone, PartialEq)]
pub struct BegunAnswer {
    /// How long pieces of its kind took, with what they are called.
    pub hours: Option<(String, Spread)>,
    /// What was to be remembered: of its kind and for the words of its name, and then what pieces of its kind taught.
    pub lessons: Vec<Lesson>,
}

impl Asking<'_> {
    /// What is known for a piece that is begun, by its kind, and where that is not known, by the kind that its name tells.
    ///
    /// # Errors
    /// [`ArchiveFault`] where the archive cannot be read.
    pub fn begun(&self, kind: &str, name: &str) -> Result<BegunAnswer, ArchiveFault> {
        let kind = match kind.trim() {
            "" | UNKNOWN => {
                let heard = self.trade.looking.ear().heard(name);
                heard.kinds.first().map(|kind| kind.name.to_lowercase())
            }
            kind => Some(kind.to_owned()),
        };
        let mut lessons = self.lessons_for(kind.as_deref().unwrap_or_default(), name)?;
        let Some(kind) = kind else { return Ok(BegunAnswer { hours: None, lessons }) };
        let alike = self.pieces_like(&kind)?;
        let taught = self.lessons(None)?.lessons.into_iter().filter(|lesson| alike.contains(&lesson.piece));
        let taught: Vec<Lesson> = taught.filter(|lesson| !lessons.contains(lesson)).collect();
        lessons.extend(taught);
        let quote = self.quote(&kind, &[])?;
        Ok(BegunAnswer { hours: quote.by.zip(quote.hours), lessons })
    }

    /// The pieces of a kind, in whatever words that is said.
    fn pieces_like(&self, kind: &str) -> Result<Vec<PieceName>, ArchiveFault> {
        let all =
            self.rows("SELECT number, title, folder, kind FROM piece ORDER BY number, folder", [], |row| {
                let name = PieceName { number: row.get(0)?, title: row.get(1)?, folder: row.get(2)? };
                Ok((name, row.get::<_, String>(3)?))
            })?;
        let ear = self.trade.looking.ear();
        let alike = all.into_iter().filter(|(_, of)| ear.is_same_kind(of, kind));
        Ok(alike.map(|(name, _)| name).collect())
    }

    /// What was found on pieces of a kind, in whatever words that is said.
    ///
    /// # Errors
    /// [`ArchiveFault`] where the archive cannot be read.
    pub fn before(&self, kind: &str) -> Result<BeforeAnswer, ArchiveFault> {
        let pieces = self.pieces_like(kind)?;
        let mut found = Vec::new();
        for fault in self.all_faults()? {
            let mut on: Vec<PieceName> = fault.faults.into_iter().map(|fault| fault.piece).collect();
            on.retain(|piece| pieces.contains(piece));
            on.sort();
            on.dedup();
            if !on.is_empty() {
                found.push((fault.name, on));
            }
        }
        found.sort_by_key(|(_, on)| std::cmp::Reverse(on.len()));
        Ok(BeforeAnswer { pieces, found, lessons: self.lessons_for(kind, kind)? })
    }
}
