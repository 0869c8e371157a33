//! The archive as one SQLite database: made from nothing or from an older one, and replaced piece by piece.

use std::collections::{BTreeMap, BTreeSet};

use rusqlite::types::Value;
use rusqlite::{Connection, MAIN_DB, OptionalExtension, Transaction, params, params_from_iter};

use super::entries::Entries;
use super::entry::{PieceEntry, StockEntry, TABLES, TinEntry};
use super::shared::{SET, Shared};
use super::table::{Entry, Table};
use crate::unit::fingerprint;

/// The version of the tables, which `PRAGMA user_version` tells.
pub const VERSION: i32 = 5;

/// What `PRAGMA application_id` tells: "Witn", read as a number.
const APPLICATION: i32 = 0x5769_746e;

/// Up to so many pieces a changed archive is made from nothing, which takes no longer than anybody notices: so it has the
/// same bytes however it came about.
const ANEW: usize = 200;

/// A piece has room for so many lines that are searched.
pub(super) const LINES: i64 = 1 << 20;

/// The numbers of pieces have so many bits, and lie evenly below their bound.
pub(super) const PIECES: u32 = 40;

/// Why a database cannot be used.
#[derive(Debug, thiserror::Error)]
pub enum ArchiveFault {
    /// SQLite refuses.
    #[error("it is damaged, or no database of ours: {0}")]
    Sqlite(#[from] rusqlite::Error),
    /// A newer program wrote it.
    #[error("it is of version {0}, which a newer witnessmark wrote; this one reads version {VERSION}")]
    Newer(i32),
    /// An older program wrote it, or another one altogether.
    #[error("it is of another version, or no database of ours")]
    Another,
    /// It is shorter or longer than it says.
    #[error("it is cut short")]
    CutShort,
}

/// The archive.
#[derive(Debug)]
pub struct Archive {
    pub(super) connection: Connection,
}

/// What bringing an archive up to date changed.
#[derive(Debug, Default, Clone, Copy, PartialEq, Eq)]
pub struct Brought {
    /// How many pieces were replaced or added.
    pub replaced: usize,
    /// How many pieces were taken out.
    pub removed: usize,
    /// How many pieces cannot be read at present, and keep their rows.
    pub unread: usize,
    /// Whether the workshop's own tables were replaced, or a piece became unreadable.
    pub beside: bool,
}

impl Brought {
    /// Whether anything changed.
    pub fn anything(self) -> bool {
        self.replaced + self.removed > 0 || self.beside
    }
}

impl Archive {
    /// An archive of nothing, in memory.
    ///
    /// # Errors
    /// [`ArchiveFault`] where memory does not suffice.
    pub fn new() -> Result<Archive, ArchiveFault> {
        let connection = Connection::open_in_memory()?;
        settle(&connection)?;
        connection.execute_batch(&schema())?;
        Ok(Archive { connection })
    }

    /// The archive that was written as these bytes, in memory.
    ///
    /// # Errors
    /// [`ArchiveFault`] where they are none of this version.
    pub fn of(bytes: &[u8]) -> Result<Archive, ArchiveFault> {
        let mut connection = Connection::open_in_memory()?;
        connection.deserialize_read_exact(MAIN_DB, bytes, bytes.len(), false)?;
        settle(&connection)?;
        Archive::reading(connection, bytes.len() as u64)
    }

    /// The archive that a connection leads to, whose file has so many bytes.
    ///
    /// # Errors
    /// [`ArchiveFault`] where it is none of this version.
    pub fn reading(connection: Connection, length: u64) -> Result<Archive, ArchiveFault> {
        let pragma = |name: &str| connection.pragma_query_value(None, name, |row| row.get::<_, i64>(0));
        let version = pragma("user_version")?;
        if pragma("application_id")? != i64::from(APPLICATION) {
            return Err(ArchiveFault::Another);
        }
        match i32::try_from(version) {
            Ok(VERSION) => {}
            Ok(newer) if newer > VERSION => return Err(ArchiveFault::Newer(newer)),
            _ => return Err(ArchiveFault::Another),
        }
        let said = pragma("page_count")?.saturating_mul(pragma("page_size")?);
        if u64::try_from(said).ok() != Some(length) {
            return Err(ArchiveFault::CutShort);
        }
        Ok(Archive { connection })
    }

    /// The archive of a workshop: brought up to date from the one that was written before, or made from nothing where
    /// that is missing, old or damaged.
    ///
    /// `folders` are those of all its pieces, sorted; a piece among them that is not among `pieces` cannot be read at
    /// present, and keeps its rows. `pieces` can be gone through twice.
    ///
    /// # Errors
    /// [`ArchiveFault`] where memory does not suffice.
    pub fn brought<P: Iterator<Item = Entries>>(
        before: Option<&[u8]>,
        shared: &Shared,
        folders: &[String],
        pieces: impl Fn() -> P,
    ) -> Result<(Archive, Brought), ArchiveFault> {
        if let Some(mut archive) = before.and_then(|bytes| Archive::of(bytes).ok())
            && let Ok(brought) = archive.bring(shared, folders, pieces())
        {
            let as_good = brought.anything() && brought.unread == 0 && folders.len() <= ANEW;
            if !as_good {
                return Ok((archive, brought));
            }
        }
        let mut archive = Archive::new()?;
        let mut brought = archive.bring(shared, folders, pieces())?;
        brought.beside = true;
        Ok((archive, brought))
    }

    /// Brings it up to date in one step; what did not change is not touched.
    pub(super) fn bring(
        &mut self,
        shared: &Shared,
        folders: &[String],
        pieces: impl Iterator<Item = Entries>,
    ) -> Result<Brought, ArchiveFault> {
        let ids = ids(folders);
        let transaction = self.connection.transaction()?;
        let old = pieces_of(&transaction)?;
        let mut brought = Brought { beside: shared.write(&transaction)?, ..Brought::default() };
        for (folder, known) in &old {
            if ids.get(folder) != Some(&known.id) {
                remove(&transaction, known.id)?;
                brought.removed += 1;
            }
        }
        let mut read: BTreeSet<String> = BTreeSet::new();
        for entries in pieces {
            let Some(id) = ids.get(&entries.folder).copied() else { continue };
            let known = old.get(&entries.folder).filter(|known| known.id == id);
            read.insert(entries.folder.clone());
            if known.is_some_and(|known| known.content == entries.content && !known.unread) {
                continue;
            }
            if known.is_some() {
                remove(&transaction, id)?;
            }
            insert(&transaction, id, &entries)?;
            brought.replaced += 1;
        }
        for (folder, known) in &old {
            if ids.get(folder) != Some(&known.id) || read.contains(folder) {
                continue;
            }
            brought.unread += 1;
            if !known.unread {
                transaction.execute("UPDATE piece SET unread = 1 WHERE id = ?1", [known.id])?;
                brought.beside = true;
            }
        }
        transaction.commit()?;
        Ok(brought)
    }

    /// Replaces the rows of one piece that it has, in one step.
    ///
    /// # Errors
    /// [`ArchiveFault`] where memory does not suffice.
    pub fn replace(&mut self, entries: &Entries) -> Result<(), ArchiveFault> {
        let transaction = self.connection.transaction()?;
        let known = "SELECT id FROM piece WHERE folder = ?1";
        let id: Option<i64> = transaction.query_row(known, [&entries.folder], |row| row.get(0)).optional()?;
        if let Some(id) = id {
            remove(&transaction, id)?;
            insert(&transaction, id, entries)?;
        }
        Ok(transaction.commit()?)
    }

    /// Its bytes, as a file has them.
    ///
    /// # Errors
    /// [`ArchiveFault`] where memory does not suffice.
    pub fn bytes(&mut self) -> Result<Vec<u8>, ArchiveFault> {
        Ok(self.connection.serialize(MAIN_DB)?.to_vec())
    }

    /// A fact about the archive as a whole.
    ///
    /// # Errors
    /// [`ArchiveFault`] where it cannot be read.
    pub fn about(&self, key: &str) -> Result<Option<String>, ArchiveFault> {
        let found =
            self.connection.query_row("SELECT value FROM about WHERE key = ?1", [key], |row| row.get(0));
        Ok(found.optional()?)
    }

    /// The fingerprints of the files of each piece and set, by its folder; empty for one that could not be read.
    ///
    /// # Errors
    /// [`ArchiveFault`] where it cannot be read.
    pub fn sources(&self) -> Result<BTreeMap<String, String>, ArchiveFault> {
        let query = "SELECT folder, iif(unread, '', source) FROM piece
                     UNION ALL SELECT substr(key, length(?1) + 1), value FROM about WHERE substr(key, 1, length(?1)) = ?1";
        let mut rows = self.connection.prepare(query)?;
        let sources = rows.query_map([SET], |row| Ok((row.get(0)?, row.get(1)?)))?;
        Ok(sources.collect::<Result<_, _>>()?)
    }
}

/// A piece as the archive has it before it is brought up to date.
struct Known {
    id: i64,
    content: String,
    unread: bool,
}

fn pieces_of(transaction: &Transaction<'_>) -> Result<BTreeMap<String, Known>, ArchiveFault> {
    let mut rows = transaction.prepare("SELECT folder, id, content, unread FROM piece")?;
    let known = rows.query_map([], |row| {
        Ok((row.get(0)?, Known { id: row.get(1)?, content: row.get(2)?, unread: row.get(3)? }))
    })?;
    Ok(known.collect::<Result<_, _>>()?)
}

/// How our own connections are set. The bundled SQLite would else look for every piece at each of its rows.
fn settle(connection: &Connection) -> Result<(), ArchiveFault> {
    connection.execute_batch(
        "PRAGMA foreign_keys = OFF; PRAGMA temp_store = MEMORY; PRAGMA cache_size = -16000;",
    )?;
    connection.set_prepared_statement_cache_capacity(2 * TABLES.len() + 16);
    Ok(())
}

/// A number for each folder, which it has in every archive that has these folders.
fn ids(folders: &[String]) -> BTreeMap<String, i64> {
    let mut taken = BTreeSet::new();
    let mut ids = BTreeMap::new();
    for folder in folders {
        let mut tries = 0_u32;
        let id = loop {
            let name = if tries == 0 { folder.clone() } else { format!("{folder}/{tries}") };
            // So many bits that a piece's lines can be numbered behind them.
            let digits = PIECES as usize / 4;
            let id = i64::from_str_radix(&fingerprint(name.as_bytes())[..digits], 16)
                .expect("ten digits of a number");
            if id > 0 && taken.insert(id) {
                break id;
            }
            tries += 1;
        };
        ids.insert(folder.clone(), id);
    }
    ids
}

fn remove(transaction: &Transaction<'_>, id: i64) -> Result<(), ArchiveFault> {
    let lines = params![id * LINES, (id + 1) * LINES];
    transaction
        .prepare_cached(
            "INSERT INTO words (words, rowid, text) SELECT 'delete', id, text FROM line WHERE id >= ?1 AND id < ?2",
        )?
        .execute(lines)?;
    transaction.prepare_cached("DELETE FROM line WHERE id >= ?1 AND id < ?2")?.execute(lines)?;
    for table in TABLES {
        transaction
            .prepare_cached(&format!("DELETE FROM \"{}\" WHERE piece = ?1", table.name))?
            .execute([id])?;
    }
    transaction.prepare_cached("DELETE FROM piece WHERE id = ?1")?.execute([id])?;
    Ok(())
}

fn insert(transaction: &Transaction<'_>, id: i64, entries: &Entries) -> Result<(), ArchiveFault> {
    let own = entries.piece.iter().cloned();
    let marks =
        [Value::Text(entries.source.clone()), Value::Text(entries.content.clone()), Value::Integer(0)];
    let columns = PieceEntry::TABLE.columns.len() + 4;
    transaction
        .prepare_cached(&format!("INSERT INTO piece VALUES ({})", places(columns)))?
        .execute(params_from_iter(std::iter::once(Value::Integer(id)).chain(own).chain(marks)))?;
    for table in TABLES {
        let Some(rows) = entries.rows.get(table.name) else { continue };
        let into = format!("INSERT INTO \"{}\" VALUES ({})", table.name, places(table.columns.len() + 2));
        let mut into = transaction.prepare_cached(&into)?;
        for (row, no) in rows.iter().zip(1_i64..) {
            let keys = [Value::Integer(id), Value::Integer(no)];
            into.execute(params_from_iter(keys.iter().chain(row)))?;
        }
    }
    let mut line = transaction.prepare_cached("INSERT INTO line VALUES (?1, ?2, ?3, ?4, ?5)")?;
    let mut words = transaction.prepare_cached("INSERT INTO words (rowid, text) VALUES (?1, ?2)")?;
    for (told, at) in entries.lines.iter().zip(1..LINES) {
        let no = i64::try_from(told.no).unwrap_or(0);
        line.execute(params![id * LINES + at, id, told.section, no, told.text])?;
        words.execute(params![id * LINES + at, told.text])?;
    }
    Ok(())
}

pub(super) fn places(columns: usize) -> String {
    (1..=columns).map(|at| format!("?{at}")).collect::<Vec<_>>().join(", ")
}

/// The tables and the index of words, in SQL.
fn schema() -> String {
    let columns = |table: &Table| {
        let column = |column: &super::table::Column| format!(", \"{}\" {}", column.name, column.kind);
        table.columns.iter().map(column).collect::<String>()
    };
    let mut schema = format!(
        "PRAGMA application_id = {APPLICATION};
        PRAGMA user_version = {VERSION};
        BEGIN;
        CREATE TABLE about (key TEXT PRIMARY KEY, value TEXT NOT NULL) WITHOUT ROWID;
        CREATE TABLE documentation (of_table TEXT, of_column TEXT, says TEXT NOT NULL, PRIMARY KEY (of_table, of_column))
          WITHOUT ROWID;
        CREATE TABLE piece (id INTEGER PRIMARY KEY{}, source TEXT NOT NULL, content TEXT NOT NULL, unread INTEGER NOT NULL);
        CREATE UNIQUE INDEX piece_by_folder ON piece (folder);\n",
        columns(PieceEntry::TABLE),
    );
    for table in TABLES {
        schema.push_str(&format!(
            "CREATE TABLE \"{}\" (piece INTEGER NOT NULL REFERENCES piece (id), no INTEGER NOT NULL{}, \
             PRIMARY KEY (piece, no)) WITHOUT ROWID;\n",
            table.name,
            columns(table),
        ));
    }
    for table in [StockEntry::TABLE, TinEntry::TABLE] {
        schema.push_str(&format!(
            "CREATE TABLE \"{}\" (no INTEGER PRIMARY KEY{});\n",
            table.name,
            columns(table),
        ));
    }
    schema.push_str(
        "CREATE TABLE line (id INTEGER PRIMARY KEY, piece INTEGER NOT NULL REFERENCES piece (id), section TEXT NOT NULL,
          no INTEGER NOT NULL, text TEXT NOT NULL);
        CREATE VIRTUAL TABLE words USING fts5 (text, content = 'line', content_rowid = 'id',
          tokenize = 'porter unicode61 remove_diacritics 2');\n",
    );
    let quoted = |text: &str| format!("'{}'", text.trim().replace('\'', "''"));
    for (table, column, says) in documentation() {
        schema.push_str(&format!(
            "INSERT INTO documentation VALUES ({}, {}, {});\n",
            quoted(table),
            quoted(column),
            quoted(&says)
        ));
    }
    schema.push_str("COMMIT;");
    schema
}

/// What each table is, with no column, and what each of its columns holds.
pub fn documentation() -> Vec<(&'static str, &'static str, String)> {
    let mut told: Vec<(&str, &str, String)> = vec![
        (
            "about",
            "",
            "The archive as a whole: the workshop's name, its currency, what an hour is reckoned at, what the rows were made from."
                .to_owned(),
        ),
        ("documentation", "", "This: every table, with no column, and every column.".to_owned()),
        ("line", "", "Every line that is searched; `words` is its full-text index (FTS5).".to_owned()),
        (
            "line",
            "section",
            "The table that it tells of, or `title`, `summary`, `story` and the like.".to_owned(),
        ),
        ("line", "no", "The number of the row that it tells of; 0 for the piece as a whole.".to_owned()),
        ("line", "text", "What it says.".to_owned()),
        (
            "piece",
            "id",
            "Its number, by which all other tables name it; it follows from the folder.".to_owned(),
        ),
        ("piece", "source", "A fingerprint of the files that it was read from.".to_owned()),
        ("piece", "content", "A fingerprint of all of its rows.".to_owned()),
        (
            "piece",
            "unread",
            "1 where its record cannot be read at present, and these rows are from before.".to_owned(),
        ),
        ("words", "", "The full-text index of `line`.".to_owned()),
    ];
    let beside = [PieceEntry::TABLE, StockEntry::TABLE, TinEntry::TABLE];
    for table in TABLES.into_iter().chain(beside) {
        told.push((table.name, "", table.about.trim().to_owned()));
        told.extend(
            table.columns.iter().map(|column| (table.name, column.name, column.about.trim().to_owned())),
        );
    }
    told
}
