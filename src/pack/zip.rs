//! A bag as one file.

use std::io::{self, Cursor, Write};

use chrono::{Datelike, NaiveDate};
use zip::write::SimpleFileOptions;
use zip::{CompressionMethod, DateTime, ZipWriter};

use super::File;

/// Files as a zip, below one folder named `top`, sorted by path, all with the day `stamp`.
///
/// Nothing is compressed: nearly all of a pack is pictures and papers that are compressed already, and which bytes
/// a compressor makes may differ between processors, while the same pack is to give the same bytes.
///
/// # Errors
/// Where the library refuses, such as at 4 GB in one file.
pub fn zip(top: &str, files: &[File], stamp: NaiveDate) -> io::Result<Vec<u8>> {
    let year = stamp.year().clamp(1980, 2107) as u16;
    let day = DateTime::from_date_and_time(year, stamp.month() as u8, stamp.day() as u8, 0, 0, 0);
    let options = SimpleFileOptions::default()
        .compression_method(CompressionMethod::Stored)
        .last_modified_time(day.unwrap_or_default())
        .unix_permissions(0o644);
    let mut sorted: Vec<&File> = files.iter().collect();
    sorted.sort_by(|one, other| one.path.cmp(&other.path));
    let mut writer = ZipWriter::new(Cursor::new(Vec::new()));
    for file in sorted {
        writer.start_file(format!("{top}/{}", file.path), options)?;
        writer.write_all(&file.bytes)?;
    }
    Ok(writer.finish()?.into_inner())
}
