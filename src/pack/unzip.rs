//! Reading a zip that somebody sent, without unpacking it.

use std::io::{Read, Seek};

use zip::result::ZipError;
use zip::{CompressionMethod, ZipArchive};

use super::{Contents, Problem, Reading, layout, name};

/// A file that unpacks to more than this many bytes, and this many times what it takes in the zip, is not read.
/// Pictures and papers are compressed already and text shrinks ten times; only a trap shrinks two hundred times.
const LARGE: u64 = 100_000_000;
const RATIO: u64 = 200;

const FILE_TYPE: u32 = 0o170_000;
const REGULAR: u32 = 0o100_000;

/// What a zip holds, read in constant memory. Whatever is wrong with it is among the problems.
pub fn unzip(mut reader: impl Read + Seek) -> Contents {
    let mut reading = Reading::new();
    match ZipArchive::new(&mut reader) {
        Ok(mut archive) => {
            look_into(&mut archive, &mut reading);
            let entries = archive.len();
            if !reading.is_full() {
                match layout::fault(&mut reader, entries) {
                    Ok(None) => {}
                    Ok(Some(why)) => reading.note(Problem::Layout(why)),
                    Err(error) => reading.note(Problem::Damaged(error.to_string())),
                }
            }
        }
        Err(error) => reading.note(Problem::Damaged(words(&error))),
    }
    reading.finish()
}

fn look_into<R: Read + Seek>(archive: &mut ZipArchive<R>, reading: &mut Reading) {
    if !are_few_enough(archive, reading) {
        return;
    }
    // Two programs can read two different packs out of one zip whose two tables of contents differ.
    if let Err(error) = archive.validate_header_consistency() {
        reading.note(Problem::Damaged(words(&error)));
    }
    for place in 0..archive.len() {
        let path = archive.name_for_index(place).and_then(Result::ok).map(|name| name.into_owned());
        let going_on = match archive.by_index(place) {
            Ok(file) => entry(file, reading),
            Err(error) => {
                reading.note(Problem::Unreadable { path: path.unwrap_or_default(), why: words(&error) });
                true
            }
        };
        if !going_on {
            return;
        }
    }
}

/// Whether the table of contents promises no more than is read. What the files really hold is limited once more
/// while they are read, since a table of contents can lie.
fn are_few_enough<R: Read + Seek>(archive: &mut ZipArchive<R>, reading: &mut Reading) -> bool {
    let (mut bytes, mut packed) = (0_u128, 0_u128);
    for place in 0..archive.len() {
        let Ok(entry) = archive.by_index_data(place) else { continue };
        bytes += u128::from(entry.size());
        packed += u128::from(entry.compressed_size());
        if entry.size() > LARGE && entry.size() / RATIO > entry.compressed_size() {
            let path = entry.name().unwrap_or_default().into_owned();
            let megabytes = entry.size() / 1_000_000;
            return reading.stop(format!(
                "`{path}` would unpack to {megabytes} MB, over {RATIO} times what it takes in the zip, as in a zip bomb"
            ));
        }
    }
    if bytes > u128::from(LARGE) && bytes / u128::from(RATIO) > packed {
        let megabytes = bytes / 1_000_000;
        return reading.stop(format!(
            "it would unpack to {megabytes} MB, over {RATIO} times what it takes as a zip, as in a zip bomb"
        ));
    }
    reading.may_hold(archive.len(), bytes)
}

/// Reads one entry; says `false` where nothing more is to be read.
fn entry<R: Read>(file: zip::read::ZipFile<'_, R>, reading: &mut Reading) -> bool {
    let path = match file.name() {
        Ok(path) => path.into_owned(),
        Err(_) => {
            reading.note(Problem::Outside(String::from_utf8_lossy(file.name_raw()).into_owned()));
            return true;
        }
    };
    let kind = file.unix_mode().map_or(0, |mode| mode & FILE_TYPE);
    if file.is_dir() {
        // A folder has no bytes, so only its name can do harm.
        if !name::stays_inside(path.strip_suffix('/').unwrap_or(&path)) {
            reading.note(Problem::Outside(path));
        } else if file.size() > 0 || file.compressed_size() > 0 {
            reading.note(Problem::Strange(path));
        }
        return true;
    }
    if file.is_symlink() {
        reading.note(Problem::Link(path));
        return true;
    }
    if !matches!(kind, 0 | REGULAR) {
        reading.note(Problem::Strange(path));
        return true;
    }
    if !matches!(file.compression(), CompressionMethod::Stored | CompressionMethod::Deflated) {
        let why = "it is compressed in a way that packs are not; make the zip again with usual settings";
        reading.note(Problem::Unreadable { path, why: why.to_owned() });
        return true;
    }
    let size = file.size();
    // One byte more than was promised is enough to see that the promise was false.
    reading.file(&path, file.take(size.saturating_add(1)))
}

/// The library's error in our words, as far as it is one that people meet.
fn words(error: &ZipError) -> String {
    match error {
        ZipError::UnsupportedArchive(what) if *what == ZipError::PASSWORD_REQUIRED => {
            "it is locked with a password; packs are not".to_owned()
        }
        ZipError::InvalidArchive(what) => what.to_string(),
        ZipError::Io(error) => error.to_string(),
        other => other.to_string(),
    }
}
