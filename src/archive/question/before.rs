//! Before: what was found on pieces of a kind, and what was to be remembered of them.

use super::{Asking, Lesson, PieceName};
use crate::archive::database::ArchiveFault;

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

impl Asking<'_> {
    /// What was found on pieces of a kind, in whatever words that is said.
    ///
    /// # Errors
    /// [`ArchiveFault`] where the archive cannot be read.
    pub fn before(&self, kind: &str) -> Result<BeforeAnswer, ArchiveFault> {
        let all =
            self.rows("SELECT number, title, folder, kind FROM piece ORDER BY number, folder", [], |row| {
                let name = PieceName { number: row.get(0)?, title: row.get(1)?, folder: row.get(2)? };
                Ok((name, row.get::<_, String>(3)?))
            })?;
        let ear = self.trade.looking.ear();
        let alike = all.into_iter().filter(|(_, of)| ear.is_same_kind(of, kind));
        let pieces: Vec<PieceName> = alike.map(|(name, _)| name).collect();
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
