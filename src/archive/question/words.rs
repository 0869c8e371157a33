//! Words: every line of every piece that has them.

use std::collections::{BTreeMap, BTreeSet};

use super::wording::Wording;
use super::{Asking, PieceName, Searched};
use crate::archive::database::{ArchiveFault, LINES};

/// How lines were found.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Found {
    /// They have all words, as they were said or as others say them.
    AllWords,
    /// They have words that begin so.
    Beginnings,
    /// They have some of the words.
    SomeWords,
    /// They hold the very characters, of which none is a letter or digit.
    Characters,
    /// None was.
    Nothing,
}

/// A line that was found.
#[derive(Debug, Clone, PartialEq)]
pub struct Hit {
    /// Its piece.
    pub piece: PieceName,
    /// What it tells of: the name of a table, or `summary`, `story` and the like.
    pub section: String,
    /// The number of the row that it tells of; 0 for the piece as a whole.
    pub no: i64,
    /// The sentence, with what was found between [`Hit::OPEN`] and [`Hit::CLOSE`].
    pub sentence: String,
    /// Whether it has the words as they were said.
    pub direct: bool,
}

impl Hit {
    /// Stands before what was found. It is a character of private use, which no index has for a word.
    pub const OPEN: char = '\u{e000}';
    /// Stands behind what was found.
    pub const CLOSE: char = '\u{e001}';

    /// The sentence alone.
    pub fn plain(&self) -> String {
        self.sentence.replace([Hit::OPEN, Hit::CLOSE], "")
    }
}

/// What the archive has on some words.
#[derive(Debug, Clone, PartialEq)]
pub struct WordsAnswer {
    /// What was searched for.
    pub wording: Wording,
    /// How lines were found.
    pub found: Found,
    /// How many lines there are in all.
    pub lines: usize,
    /// How many pieces they are of.
    pub pieces: usize,
    /// The likeliest, those of one piece together.
    pub hits: Vec<Hit>,
    /// Words of the archive that a slip of the finger would turn into those that it does not have.
    pub near: Vec<String>,
    /// How much was looked through.
    pub searched: Searched,
}

impl Asking<'_> {
    /// The lines that have some words: at most `most` of them, and of one piece at most `of_each`.
    ///
    /// # Errors
    /// [`ArchiveFault`] where the archive cannot be read.
    pub fn words(&self, typed: &str, most: usize, of_each: usize) -> Result<WordsAnswer, ArchiveFault> {
        let wording = Wording::of(typed, self.trade);
        let searched = self.searched("line")?;
        let mut answer = WordsAnswer {
            found: Found::Nothing,
            lines: 0,
            pieces: 0,
            hits: Vec::new(),
            near: Vec::new(),
            searched,
            wording,
        };
        if answer.wording.is_wordless() {
            if !answer.wording.typed().is_empty() {
                self.characters(&mut answer, most)?;
            }
            return Ok(answer);
        }
        let ways = [
            (Found::AllWords, answer.wording.widened()),
            (Found::Beginnings, answer.wording.beginnings()),
            (Found::SomeWords, answer.wording.any()),
        ];
        for (found, query) in ways {
            let Some(query) = query else { continue };
            // The piece stands before the line in its number, so that no line is looked at.
            let counted = self.rows(
                "SELECT count(*), count(DISTINCT rowid / ?2) FROM words WHERE words MATCH ?1",
                rusqlite::params![query, LINES],
                |row| Ok((row.get::<_, i64>(0)?, row.get::<_, i64>(1)?)),
            )?;
            let (lines, pieces) = counted.first().copied().unwrap_or_default();
            if lines == 0 {
                continue;
            }
            answer.found = found;
            answer.lines = usize::try_from(lines).unwrap_or(0);
            answer.pieces = usize::try_from(pieces).unwrap_or(0);
            answer.hits = self.hits(&answer.wording, found, &query, most, of_each)?;
            return Ok(answer);
        }
        answer.near = self.near(&answer.wording)?;
        Ok(answer)
    }

    /// The likeliest lines: those that have the words as they were said before those that say it otherwise, and then those
    /// of one piece together.
    fn hits(
        &self,
        wording: &Wording,
        found: Found,
        query: &str,
        most: usize,
        of_each: usize,
    ) -> Result<Vec<Hit>, ArchiveFault> {
        let mut order = match found {
            Found::AllWords => self.ranked(&wording.direct().unwrap_or_default(), most)?,
            _ => Vec::new(),
        };
        let direct: BTreeSet<i64> = order.iter().copied().collect();
        if order.len() < most.saturating_mul(SPARE) {
            order.extend(self.ranked(query, most)?.into_iter().filter(|id| !direct.contains(id)));
        }
        let mut places: BTreeMap<i64, usize> = BTreeMap::new();
        let mut by_piece: Vec<Vec<i64>> = Vec::new();
        for id in order {
            let place = *places.entry(id / LINES).or_insert_with(|| {
                by_piece.push(Vec::new());
                by_piece.len() - 1
            });
            by_piece[place].push(id);
        }
        let shown = by_piece.into_iter().flat_map(|lines| lines.into_iter().take(of_each));
        let shown: Vec<i64> = shown.take(most).collect();
        let (as_said, otherwise): (Vec<i64>, Vec<i64>) =
            shown.iter().copied().partition(|id| direct.contains(id));
        let mut hits = self.told(&wording.direct().unwrap_or_default(), &as_said, true)?;
        hits.extend(self.told(query, &otherwise, false)?);
        Ok(shown.iter().filter_map(|id| hits.remove(id)).collect())
    }

    /// Lines that a query finds, by their numbers, with what it finds in them.
    fn told(&self, query: &str, ids: &[i64], direct: bool) -> Result<BTreeMap<i64, Hit>, ArchiveFault> {
        if ids.is_empty() {
            return Ok(BTreeMap::new());
        }
        let ids = serde_json::to_string(ids).expect("numbers are JSON");
        let (open, close) = (Hit::OPEN.to_string(), Hit::CLOSE.to_string());
        // The plus keeps the index from being asked anew for each of them.
        let hits = self.rows(
            "SELECT words.rowid, section, line.no, highlight(words, 0, ?2, ?3), number, title, folder
             FROM words JOIN line ON line.id = words.rowid JOIN piece ON piece.id = line.piece
             WHERE words MATCH ?1 AND +words.rowid IN (SELECT value FROM json_each(?4))",
            [query, &open, &close, &ids],
            |row| {
                let piece = PieceName { number: row.get(4)?, title: row.get(5)?, folder: row.get(6)? };
                let sentence = sentence(&row.get::<_, String>(3)?);
                Ok((row.get(0)?, Hit { piece, section: row.get(1)?, no: row.get(2)?, sentence, direct }))
            },
        )?;
        Ok(hits.into_iter().collect())
    }

    /// The likeliest lines that a query finds, by their numbers.
    fn ranked(&self, query: &str, most: usize) -> Result<Vec<i64>, ArchiveFault> {
        let weighed = i64::try_from(most).unwrap_or(i64::MAX).max(WEIGHED);
        let mut lines = self.rows(
            "SELECT rowid, bm25(words) FROM words WHERE words MATCH ?1 LIMIT ?2",
            rusqlite::params![query, weighed],
            |row| Ok((row.get::<_, f64>(1)?, row.get::<_, i64>(0)?)),
        )?;
        lines.sort_by(|(one, a), (other, b)| one.total_cmp(other).then(a.cmp(b)));
        lines.truncate(most.saturating_mul(SPARE));
        Ok(lines.into_iter().map(|(_, id)| id).collect())
    }

    /// Lines that hold the very characters, where none of them is a letter or digit.
    fn characters(&self, answer: &mut WordsAnswer, most: usize) -> Result<(), ArchiveFault> {
        let typed = answer.wording.typed().to_owned();
        answer.lines = self.count("SELECT count(*) FROM line WHERE instr(text, ?1)", [&typed])?;
        if answer.lines == 0 {
            return Ok(());
        }
        answer.found = Found::Characters;
        answer.pieces =
            self.count("SELECT count(DISTINCT piece) FROM line WHERE instr(text, ?1)", [&typed])?;
        let names = self.pieces()?;
        let query = "SELECT piece, section, no, text FROM line WHERE instr(text, ?1) ORDER BY id LIMIT ?2";
        let rows = self.rows(query, rusqlite::params![typed, most.min(5_000) as i64], |row| {
            Ok((row.get::<_, i64>(0)?, row.get(1)?, row.get(2)?, row.get::<_, String>(3)?))
        })?;
        answer.hits = rows
            .into_iter()
            .filter_map(|(piece, section, no, text)| {
                let marked = text.replacen(&typed, &format!("{}{typed}{}", Hit::OPEN, Hit::CLOSE), 1);
                Some(Hit {
                    piece: names.get(&piece)?.clone(),
                    section,
                    no,
                    sentence: sentence(&marked),
                    direct: true,
                })
            })
            .collect();
        Ok(())
    }

    /// Words of the archive that come near to those which it does not have.
    fn near(&self, wording: &Wording) -> Result<Vec<String>, ArchiveFault> {
        let connection = &self.archive.connection;
        connection.execute_batch(
            "CREATE VIRTUAL TABLE IF NOT EXISTS temp.vocabulary USING fts5vocab ('main', 'words', 'row');",
        )?;
        let terms = self.rows("SELECT term FROM temp.vocabulary", [], |row| row.get::<_, String>(0))?;
        let mut near = Vec::new();
        for word in wording.said().filter(|word| word.chars().count() > 2) {
            let likely = terms.iter().map(|term| (strsim::jaro_winkler(term, word), term));
            let best =
                likely.filter(|(like, _)| *like > 0.88).max_by(|(one, _), (other, _)| one.total_cmp(other));
            near.extend(best.map(|(_, term)| term.clone()));
        }
        // The index has stems; what people read is a word that has one.
        let whole = |stem: &String| {
            let query = "SELECT highlight(words, 0, ?2, ?3) FROM words WHERE words MATCH ?1 LIMIT 1";
            let (open, close) = (Hit::OPEN.to_string(), Hit::CLOSE.to_string());
            let line = connection
                .query_row(query, [format!("\"{stem}\" *"), open, close], |row| row.get::<_, String>(0));
            let line = line.ok()?;
            let from = line.find(Hit::OPEN)? + Hit::OPEN.len_utf8();
            Some(line[from..].split(Hit::CLOSE).next()?.to_lowercase())
        };
        Ok(near.iter().map(|stem| whole(stem).unwrap_or_else(|| stem.clone())).collect())
    }
}

/// So many lines are weighed against each other: of words that more of them have, those few that are shown are as good as
/// any others.
const WEIGHED: i64 = 1_000;

/// So many times as many lines as are shown are ranked, since of one piece not all are shown.
const SPARE: usize = 4;

/// The longest sentence that is shown whole, in characters.
const LONGEST: usize = 280;

/// The sentence of a line in which the first of what was found stands; of a long one as much as is read at a glance.
fn sentence(marked: &str) -> String {
    let first = marked.find(Hit::OPEN).unwrap_or(0);
    let ends = |text: &str, at: usize, c: char| {
        matches!(c, '.' | '!' | '?') && text[at + c.len_utf8()..].starts_with(char::is_whitespace)
    };
    let before = marked[..first].char_indices().rfind(|(at, c)| ends(marked, *at, *c));
    let from = before.map_or(0, |(at, c)| at + c.len_utf8());
    let after = marked[first..].char_indices().find(|(at, c)| ends(marked, first + at, *c));
    let to = after.map_or(marked.len(), |(at, c)| first + at + c.len_utf8());
    let whole = marked[from..to].trim();
    if whole.chars().count() <= LONGEST {
        return whole.to_owned();
    }
    let characters: Vec<char> = whole.chars().collect();
    let place = characters.iter().position(|c| *c == Hit::OPEN).unwrap_or(0);
    let start = place.saturating_sub(LONGEST / 3);
    let end = (start + LONGEST).min(characters.len());
    let mut cut: String = characters[start..end].iter().collect();
    if start > 0 {
        cut = format!("… {}", cut.split_once(' ').map_or(cut.as_str(), |(_, rest)| rest));
    }
    if end < characters.len() {
        cut = format!("{} …", cut.rsplit_once(' ').map_or(cut.as_str(), |(rest, _)| rest));
    }
    // A mark that was cut off closes where the text does.
    if cut.matches(Hit::OPEN).count() > cut.matches(Hit::CLOSE).count() {
        cut.push(Hit::CLOSE);
    }
    cut
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_sentence_is_the_one_with_the_word() {
        let marked = "It came in pieces. The \u{e000}runner\u{e001} was worn. We let in oak.";
        assert_eq!(sentence(marked), "The \u{e000}runner\u{e001} was worn.");
        assert_eq!(sentence("no mark at all, 2.5 mm"), "no mark at all, 2.5 mm");
        let long = format!("{} \u{e000}oak\u{e001} {}", "word ".repeat(100), "more ".repeat(100));
        let cut = sentence(&long);
        assert!(cut.contains("\u{e000}oak\u{e001}") && cut.starts_with("… ") && cut.ends_with(" …"), "{cut}");
        assert!(cut.chars().count() < LONGEST + 10);
        let odd = sentence(&format!("🪑{}", "é".repeat(900)));
        assert!(odd.chars().count() < LONGEST + 10, "{odd}");
    }
}
