//! Opening a database that was written, for reading alone.

use std::path::Path;

use rusqlite::{Connection, OpenFlags};

use super::plain::{FileFault, PlainFile};

/// A database that was opened for reading.
#[derive(Debug)]
pub struct OpenedDatabase {
    /// What leads to it.
    pub connection: Connection,
    /// The bytes of its file.
    pub length: u64,
    /// When the file was last changed, in nanoseconds since 1970.
    pub modified: u64,
}

/// Why a database could not be opened.
#[derive(Debug, thiserror::Error)]
pub enum DatabaseFault {
    /// Its file cannot be read.
    #[error(transparent)]
    File(#[from] FileFault),
    /// SQLite refuses.
    #[error("it cannot be opened: {0}")]
    Sqlite(#[from] rusqlite::Error),
}

/// Opens a database for reading. Nothing is written beside it, and no lock that another program holds is waited for: what
/// was written is replaced as a whole, and never changed.
///
/// # Errors
/// [`DatabaseFault`] where there is no such file, or it is none of SQLite's.
pub fn open_database(path: &Path) -> Result<OpenedDatabase, DatabaseFault> {
    let identity = PlainFile::open(path)?.identity();
    let flags =
        OpenFlags::SQLITE_OPEN_READ_ONLY | OpenFlags::SQLITE_OPEN_URI | OpenFlags::SQLITE_OPEN_NO_MUTEX;
    let connection = Connection::open_with_flags(address(path), flags)?;
    Ok(OpenedDatabase { connection, length: identity.length, modified: identity.modified })
}

/// The address of a file as SQLite takes one, in which no character of its name means anything.
fn address(path: &Path) -> String {
    let path = std::path::absolute(path).unwrap_or_else(|_| path.to_owned());
    let mut address = "file:".to_owned();
    for byte in path.as_os_str().as_encoded_bytes() {
        match byte {
            b'a'..=b'z' | b'A'..=b'Z' | b'0'..=b'9' | b'/' | b'-' | b'_' | b'.' | b'~' => {
                address.push(char::from(*byte))
            }
            b'\\' if cfg!(windows) => address.push('/'),
            other => address.push_str(&format!("%{other:02X}")),
        }
    }
    address + "?immutable=1"
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_name_means_nothing_but_itself() {
        let home = tempfile::tempdir().unwrap();
        for name in ["a.db", "a b?mode=rw#x%20.db", "🪑 é.db"] {
            let path = home.path().join(name);
            Connection::open(&path)
                .unwrap()
                .execute_batch("CREATE TABLE t (a); INSERT INTO t VALUES (7);")
                .unwrap();
            let opened = open_database(&path).unwrap();
            let seven: i64 = opened.connection.query_row("SELECT a FROM t", [], |row| row.get(0)).unwrap();
            assert_eq!(seven, 7, "{name}");
            assert!(
                opened.connection.execute_batch("INSERT INTO t VALUES (8)").is_err(),
                "{name} is read alone"
            );
        }
        assert_eq!(std::fs::read_dir(home.path()).unwrap().count(), 3, "nothing is left beside them");
        assert!(open_database(&home.path().join("none.db")).is_err());
    }
}
