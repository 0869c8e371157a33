//! Words: every line of every piece that has them.

use std::collections::{BTreeMap, BTreeSet};

use super::wording::Wording;
use super::{Asking, PieceName, Searched};
use crate::archive::database::{ArchiveFault, LINES, PIECES};

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
    /// How many lines there are in all, or were counted.
    pub lines: usize,
    /// How many pieces they are of.
    pub pieces: usize,
    /// Whether there are more, which were not counted.
    pub more: bool,
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
            more: false,
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
        // Of few lines, none has too many.
        if answer.searched.rows > COMMON {
            answer.wording.note_common(|query| self.is_common(query, answer.searched.rows))?;
        }
        let ways = [
            (Found::AllWords, answer.wording.widened()),
            (Found::Beginnings, answer.wording.beginnings()),
            (Found::SomeWords, answer.wording.any()),
        ];
        let as_said = self.passed(&answer.wording.direct().unwrap_or_default(), most)?;
        for (found, query) in ways {
            let Some(query) = query else { continue };
            // What is found so often as it was said is not looked for in other words.
            let other =
                found != Found::AllWords || !as_said.more && answer.wording.widened_by().next().is_some();
            let other = if other { Some(self.passed(&query, most)?) } else { None };
            let all = other.as_ref().unwrap_or(&as_said);
            if all.lines == 0 {
                continue;
            }
            answer.found = found;
            (answer.lines, answer.pieces, answer.more) = (all.lines, all.pieces, all.more);
            answer.hits = self.hits(&answer.wording, as_said, other, &query, (most, of_each))?;
            return Ok(answer);
        }
        answer.near = self.near(&answer.wording)?;
        Ok(answer)
    }

    /// Whether so many lines have this that it tells none from another.
    ///
    /// Where it stands in [`COMMON`] lines, it is told from how far these reach among all of them, that is by the numbers of
    /// pieces, which lie evenly: so nothing that is in every line is gone through.
    fn is_common(&self, query: &str, lines: usize) -> Result<bool, ArchiveFault> {
        let beyond = "SELECT rowid FROM words WHERE words MATCH ?1 LIMIT 1 OFFSET ?2";
        let reached: Vec<i64> =
            self.rows(beyond, rusqlite::params![query, COMMON as i64], |row| row.get(0))?;
        let part = reached.first().map(|id| (id / LINES) as f64 / (1_u64 << PIECES) as f64);
        Ok(part.is_some_and(|part| COMMON as f64 > part * lines as f64 * TELLING))
    }

    /// Passes over the lines that a query finds, without a look at any: the piece stands before the line in its number.
    fn passed(&self, query: &str, most: usize) -> Result<Passed, ArchiveFault> {
        let (bound, weighed) = (most.max(COMMON), most.max(WEIGHED));
        let mut rows = self
            .archive
            .connection
            .prepare_cached("SELECT rowid FROM words WHERE words MATCH ?1 LIMIT ?2")?;
        let mut rows = rows.query(rusqlite::params![query, (bound + 1) as i64])?;
        let (mut passed, mut last) = (Passed::default(), None);
        while let Some(row) = rows.next()? {
            if passed.lines == bound {
                passed.more = true;
                break;
            }
            let id: i64 = row.get(0)?;
            passed.lines += 1;
            if last.replace(id / LINES) != Some(id / LINES) {
                passed.pieces += 1;
            }
            if passed.first.len() < weighed {
                passed.first.push(id);
            }
        }
        Ok(passed)
    }

    /// The likeliest lines: those that have the words as they were said before those that say it otherwise, and then those
    /// of one piece together.
    fn hits(
        &self,
        wording: &Wording,
        as_said: Passed,
        other: Option<Passed>,
        query: &str,
        (most, of_each): (usize, usize),
    ) -> Result<Vec<Hit>, ArchiveFault> {
        let enough = most.saturating_mul(SPARE);
        let direct_query = wording.direct().unwrap_or_default();
        let mut order = as_said.first;
        // Where so many lines have a word, to reckon how much it weighs takes longer than everything else.
        self.rank(&mut order, &direct_query, as_said.lines >= COMMON)?;
        order.truncate(enough);
        let direct: BTreeSet<i64> = order.iter().copied().collect();
        if order.len() < enough
            && let Some(mut others) = other
        {
            // Each way of saying it would have to be weighed by itself.
            self.rank(&mut others.first, query, others.lines > WEIGHED)?;
            others.first.truncate(enough);
            order.extend(others.first.into_iter().filter(|id| !direct.contains(id)));
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
        let (said, otherwise): (Vec<i64>, Vec<i64>) =
            shown.iter().copied().partition(|id| direct.contains(id));
        let mut hits = self.told(&direct_query, &said, true)?;
        hits.extend(self.told(query, &otherwise, false)?);
        Ok(shown.iter().filter_map(|id| hits.remove(id)).collect())
    }

    /// Lines that a query finds, by their numbers, with what it finds in them.
    fn told(&self, query: &str, ids: &[i64], direct: bool) -> Result<BTreeMap<i64, Hit>, ArchiveFault> {
        if ids.is_empty() {
            return Ok(BTreeMap::new());
        }
        // No line behind the last of them is looked at.
        let last = ids.iter().copied().max().unwrap_or_default();
        let ids = serde_json::to_string(ids).expect("numbers are JSON");
        let (open, close) = (Hit::OPEN.to_string(), Hit::CLOSE.to_string());
        // The plus keeps the index from being asked anew for each of them.
        let hits = self.rows(
            "SELECT words.rowid, section, line.no, highlight(words, 0, ?2, ?3), number, title, folder
             FROM words JOIN line ON line.id = words.rowid JOIN piece ON piece.id = line.piece
             WHERE words MATCH ?1 AND words.rowid <= ?5 AND +words.rowid IN (SELECT value FROM json_each(?4))",
            rusqlite::params![query, open, close, ids, last],
            |row| {
                let piece = PieceName { number: row.get(4)?, title: row.get(5)?, folder: row.get(6)? };
                let sentence = sentence(&row.get::<_, String>(3)?);
                Ok((row.get(0)?, Hit { piece, section: row.get(1)?, no: row.get(2)?, sentence, direct }))
            },
        )?;
        Ok(hits.into_iter().collect())
    }

    /// Puts the first lines that a query finds in order, the likeliest before the others: by what each of its words weighs,
    /// or by how little else they say.
    fn rank(&self, lines: &mut Vec<i64>, query: &str, by_length: bool) -> Result<(), ArchiveFault> {
        if lines.is_empty() {
            return Ok(());
        }
        if by_length {
            // The index keeps how many words a line has as a number of SQLite's, of which the longer is the greater.
            let ids = serde_json::to_string(lines).expect("numbers are JSON");
            let by_length = "SELECT id FROM words_docsize WHERE id IN (SELECT value FROM json_each(?1))
                             ORDER BY length(sz), sz, id";
            *lines = self.rows(by_length, [ids], |row| row.get(0))?;
            return Ok(());
        }
        let weighing = "SELECT rowid, bm25(words) FROM words WHERE words MATCH ?1 LIMIT ?2";
        let mut weighed = self.rows(weighing, rusqlite::params![query, lines.len() as i64], |row| {
            Ok((row.get::<_, f64>(1)?, row.get::<_, i64>(0)?))
        })?;
        weighed.sort_by(|(one, a), (other, b)| one.total_cmp(other).then(a.cmp(b)));
        *lines = weighed.into_iter().map(|(_, id)| id).collect();
        Ok(())
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

    /// Words of the archive that come near to those which it does not have: those that begin alike, and those that are
    /// one slip away.
    fn near(&self, wording: &Wording) -> Result<Vec<String>, ArchiveFault> {
        let connection = &self.archive.connection;
        connection.execute_batch(
            "CREATE VIRTUAL TABLE IF NOT EXISTS temp.vocabulary USING fts5vocab ('main', 'words', 'row');",
        )?;
        let mut near = Vec::new();
        for word in wording.telling().filter(|word| word.chars().count() > 2).take(LOOKED_UP) {
            let begin: String = word.chars().take(2).collect();
            let alike = "SELECT term FROM temp.vocabulary WHERE term >= ?1 AND term < ?2";
            let mut terms =
                self.rows(alike, [&begin, &format!("{begin}\u{10ffff}")], |row| row.get::<_, String>(0))?;
            for slip in slips(word) {
                let one = "SELECT 1 FROM words WHERE words MATCH ?1 LIMIT 1";
                if !self.rows(one, [format!("\"{slip}\"")], |_| Ok(()))?.is_empty() {
                    terms.push(slip);
                }
            }
            let likely = terms.into_iter().map(|term| (strsim::jaro_winkler(&term, word), term));
            let best = likely
                .filter(|(like, _)| *like > 0.88)
                .max_by(|(one, a), (other, b)| one.total_cmp(other).then_with(|| b.cmp(a)));
            near.extend(best.map(|(_, term)| term));
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

/// Lines that a query finds.
#[derive(Debug, Default)]
struct Passed {
    /// How many there are, or were counted.
    lines: usize,
    /// How many pieces they are of.
    pieces: usize,
    /// Whether there are more.
    more: bool,
    /// The first of them.
    first: Vec<i64>,
}

/// So many lines are weighed against each other: of words that more of them have, those few that are shown are as good as
/// any others.
const WEIGHED: usize = 1_000;

/// So many lines are counted where fewer are asked for; of more it is told that there are more.
const COMMON: usize = 20_000;

/// What a greater share of all lines has tells none from another.
const TELLING: f64 = 0.15;

/// Of so many words that no line has, those that come near are looked up.
const LOOKED_UP: usize = 6;

/// The longest word of which slips are tried.
const SLIPPED: usize = 20;

/// The words that one slip of the finger makes of a word: a letter too many, a letter of its own or a vowel left out or in
/// another's place, two letters exchanged.
fn slips(word: &str) -> BTreeSet<String> {
    let letters: Vec<char> = word.chars().collect();
    if letters.len() > SLIPPED {
        return BTreeSet::new();
    }
    let likely: BTreeSet<char> = "aeiou".chars().chain(letters.iter().copied()).collect();
    let mut slips = BTreeSet::new();
    for at in 0..=letters.len() {
        let (before, after) = letters.split_at(at);
        let mut slip = |middle: &[char], from: usize| {
            let rest = after.get(from..).unwrap_or_default();
            slips.insert([before, middle, rest].concat().into_iter().collect::<String>());
        };
        if let [first, ..] = after {
            slip(&[], 1);
            if let Some(second) = after.get(1) {
                slip(&[*second, *first], 2);
            }
        }
        for letter in &likely {
            slip(&[*letter], 0);
            slip(&[*letter], 1);
        }
    }
    slips.remove(word);
    slips
}

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
    fn a_slip_is_one_letter_away() {
        let slips = slips("runer");
        for slip in ["runner", "rune", "runes", "urner", "ruiner", "uner", "crune"] {
            assert_eq!(slips.contains(slip), !["crune", "runes"].contains(&slip), "{slip}");
        }
        assert!(!slips.contains("runer") && super::slips(&"a".repeat(SLIPPED + 1)).is_empty());
    }

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
