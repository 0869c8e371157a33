//! Lessons: what was to be remembered.

use std::collections::{BTreeMap, BTreeSet};

use super::wording::Wording;
use super::{Asking, PieceName, Searched};
use crate::archive::database::ArchiveFault;
use crate::unit::fold::folded;

/// Something that was to be remembered.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Lesson {
    /// The piece that taught it.
    pub piece: PieceName,
    /// The lesson.
    pub lesson: String,
    /// What it applies to.
    pub words: Vec<String>,
}

/// What was to be remembered.
#[derive(Debug, Clone, PartialEq)]
pub struct LessonsAnswer {
    /// What was asked for; `None` for all.
    pub wording: Option<Wording>,
    /// The lessons: those that apply to just that first.
    pub lessons: Vec<Lesson>,
    /// How much was looked through.
    pub searched: Searched,
}

impl Asking<'_> {
    /// The lessons that apply to these words or speak of them; all of them where none are given.
    ///
    /// # Errors
    /// [`ArchiveFault`] where the archive cannot be read.
    pub fn lessons(&self, typed: Option<&str>) -> Result<LessonsAnswer, ArchiveFault> {
        let wording = typed.map(|typed| Wording::of(typed, self.trade));
        let names = self.pieces()?;
        let mut words: BTreeMap<(i64, i64), Vec<String>> = BTreeMap::new();
        let query = "SELECT piece, lesson, word FROM lesson_for ORDER BY piece, no";
        for (at, word) in self.rows(query, [], |row| Ok(((row.get(0)?, row.get(1)?), row.get(2)?)))? {
            words.entry(at).or_default().push(word);
        }
        let all: Vec<((i64, i64), String)> =
            self.rows("SELECT piece, no, lesson FROM lesson", [], |row| {
                Ok(((row.get(0)?, row.get(1)?), row.get(2)?))
            })?;
        let spoken_of: BTreeSet<(i64, i64)> = match &wording {
            Some(wording) => self.lines_of("lesson", wording)?.into_iter().collect(),
            None => BTreeSet::new(),
        };
        let mut told: Vec<(u8, Lesson)> = Vec::new();
        for (at, lesson) in all {
            let Some(piece) = names.get(&at.0) else { continue };
            let words = words.remove(&at).unwrap_or_default();
            let rank = match &wording {
                None => 0,
                Some(wording) if words.iter().any(|word| wording.is_like(word)) => 0,
                Some(wording) if words.iter().any(|word| wording.has(word)) => 1,
                Some(_) if spoken_of.contains(&at) => 2,
                Some(_) => continue,
            };
            told.push((rank, Lesson { piece: piece.clone(), lesson, words }));
        }
        told.sort_by(|(one, a), (other, b)| one.cmp(other).then_with(|| a.piece.cmp(&b.piece)));
        let lessons = told.into_iter().map(|(_, lesson)| lesson).collect();
        Ok(LessonsAnswer { wording, lessons, searched: self.searched("lesson")? })
    }

    /// The lessons that apply to a kind of piece, in whatever words that is said, or to any words of its name.
    ///
    /// # Errors
    /// [`ArchiveFault`] where the archive cannot be read.
    pub fn lessons_for(&self, kind: &str, name: &str) -> Result<Vec<Lesson>, ArchiveFault> {
        let said = |text: &str| text.split_whitespace().map(folded).collect::<BTreeSet<String>>();
        let (levels, named) = (kind.split('/').map(folded).collect::<BTreeSet<String>>(), said(name));
        let ear = self.trade.looking.ear();
        let applies = |word: &String| {
            let (form, words) = (folded(word), said(word));
            !form.is_empty()
                && (levels.contains(&form)
                    || words.is_subset(&named)
                    || ear.is_same_kind(word, kind)
                    || ear.is_same_kind(word, name))
        };
        let all = self.lessons(None)?.lessons.into_iter();
        Ok(all.filter(|lesson| lesson.words.iter().any(applies)).collect())
    }
}
