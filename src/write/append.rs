//! Putting a line at the end of a file.

use std::fs::{self, File};
use std::io::{Read, Write};
use std::path::Path;

use super::add::add;
use super::lock::patiently;
use super::{WriteError, cannot};
use crate::source::{FileFault, PlainFile};

/// How often a file that another program exchanged meanwhile is looked at again.
const TRIES: usize = 8;

/// Puts a line at the end of a file, which is made where it is missing. What stands there is never touched.
///
/// Lines end as the file's first one does, and a last line without an end gets one first. Several runs write one after
/// the other, under a lock; where an editor put another file in the place meanwhile, the line goes into that one.
///
/// # Errors
/// [`WriteError::NotAFile`] for a link, a pipe or a folder, [`WriteError::Full`] where the file would have more than
/// `limit` bytes, [`WriteError::Appending`] where another run does not come to its end, [`WriteError::System`].
pub fn append(path: &Path, line: &str, limit: u64) -> Result<(), WriteError> {
    for _ in 0..TRIES {
        let file = match PlainFile::to_append(path) {
            Ok(file) => file.into_file(),
            Err(FileFault::Missing) => {
                if add(path, format!("{line}\n").as_bytes())? {
                    return Ok(());
                }
                // It is there by now, or it is a link to nowhere.
                if fs::symlink_metadata(path).is_ok_and(|found| found.is_symlink()) {
                    return Err(WriteError::NotAFile(path.to_owned()));
                }
                continue;
            }
            Err(FileFault::Link | FileFault::NotPlain(_)) => {
                return Err(WriteError::NotAFile(path.to_owned()));
            }
            Err(FileFault::Forbidden) => return Err(WriteError::Protected(path.to_owned())),
            Err(fault) => return Err(cannot("open", path)(fault.into())),
        };
        // Several short waits: each is a quarter of a second, and a line takes a thousandth of one.
        if (0..TRIES).all(|_| patiently(&file).is_err()) {
            return Err(WriteError::Appending(path.to_owned()));
        }
        if !is_at(&file, path) {
            continue;
        }
        put(&file, line, limit, path)?;
        if is_at(&file, path) {
            return Ok(());
        }
    }
    Err(WriteError::Meanwhile(path.to_owned()))
}

fn put(mut file: &File, line: &str, limit: u64, path: &Path) -> Result<(), WriteError> {
    let mut text = Vec::new();
    file.take(limit + 1).read_to_end(&mut text).map_err(cannot("read", path))?;
    let first_end = text.iter().position(|byte| *byte == b'\n');
    let end = if first_end.is_some_and(|at| text[..at].ends_with(b"\r")) { "\r\n" } else { "\n" };
    let open = if text.is_empty() || text.ends_with(b"\n") { "" } else { end };
    let more = format!("{open}{line}{end}");
    if text.len() as u64 + more.len() as u64 > limit {
        return Err(WriteError::Full(path.to_owned()));
    }
    file.write_all(more.as_bytes()).and_then(|()| file.sync_all()).map_err(cannot("write", path))
}

/// Whether an opened file is still the one that has the name.
#[cfg(unix)]
fn is_at(file: &File, path: &Path) -> bool {
    use std::os::unix::fs::MetadataExt;
    let named = fs::symlink_metadata(path);
    let opened = file.metadata();
    matches!((named, opened), (Ok(named), Ok(opened)) if named.dev() == opened.dev() && named.ino() == opened.ino())
}

#[cfg(not(unix))]
fn is_at(_: &File, path: &Path) -> bool {
    fs::symlink_metadata(path).is_ok()
}

#[cfg(test)]
mod tests {
    use super::*;

    const LIMIT: u64 = 100;

    #[test]
    fn lines_are_put_at_the_end_and_nothing_else_changes() {
        let home = tempfile::tempdir().unwrap();
        let path = home.path().join("book.txt");
        for (before, after) in [
            (None, "new\n"),
            (Some(""), "new\n"),
            (Some("a\n"), "a\nnew\n"),
            (Some("a"), "a\nnew\n"),
            (Some("a\r\nb"), "a\r\nb\r\nnew\r\n"),
            (Some("\n\n"), "\n\nnew\n"),
        ] {
            let _ = fs::remove_file(&path);
            if let Some(before) = before {
                fs::write(&path, before).unwrap();
            }
            append(&path, "new", LIMIT).unwrap();
            assert_eq!(fs::read_to_string(&path).unwrap(), after, "{before:?}");
        }
        fs::write(&path, "x".repeat(98)).unwrap();
        assert!(matches!(append(&path, "new", LIMIT), Err(WriteError::Full(_))));
        assert_eq!(fs::read(&path).unwrap().len(), 98);
    }

    #[test]
    fn many_writers_at_once_lose_no_line_and_tear_none() {
        let home = tempfile::tempdir().unwrap();
        let path = home.path().join("book.txt");
        std::thread::scope(|scope| {
            for writer in 0..8 {
                let path = &path;
                scope.spawn(move || {
                    for line in 0..20 {
                        append(path, &format!("writer {writer} line {line}"), 1_000_000).unwrap();
                    }
                });
            }
        });
        let text = fs::read_to_string(&path).unwrap();
        let mut lines: Vec<&str> = text.lines().collect();
        lines.sort_unstable();
        lines.dedup();
        assert_eq!(lines.len(), 160);
        assert!(lines.iter().all(|line| line.starts_with("writer ") && line.contains(" line ")));
    }

    #[cfg(unix)]
    #[test]
    fn links_pipes_and_folders_are_refused() {
        let home = tempfile::tempdir().unwrap();
        let at = |name: &str| home.path().join(name);
        fs::create_dir(at("folder")).unwrap();
        fs::write(at("file"), "x").unwrap();
        rustix::fs::mkfifoat(rustix::fs::CWD, at("pipe"), 0o600.into()).unwrap();
        std::os::unix::fs::symlink(at("file"), at("link")).unwrap();
        std::os::unix::fs::symlink(at("gone"), at("nowhere")).unwrap();
        for name in ["folder", "pipe", "link", "nowhere"] {
            assert!(matches!(append(&at(name), "new", LIMIT), Err(WriteError::NotAFile(_))), "{name}");
        }
        assert_eq!(fs::read(at("file")).unwrap(), b"x");
    }
}
