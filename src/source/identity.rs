//! By what a file is known again without being read.

use std::fs::Metadata;
use std::time::{SystemTime, UNIX_EPOCH};

/// What the system says of a file: where all of it is as it was, so are the bytes.
///
/// Dates are in nanoseconds since 1970, as finely as the filesystem counts; 0 where it has none.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Identity {
    /// Bytes.
    pub length: u64,
    /// When the bytes were last changed. Programs can set it back.
    pub modified: u64,
    /// When anything of the file was last changed, which no program can set back; 0 where the system does not say.
    pub changed: u64,
    /// The file's number on its filesystem, so that two files which change names are told apart; 0 where there is none.
    pub number: u64,
}

impl Identity {
    /// Reads it off what the system said.
    pub fn of(found: &Metadata) -> Identity {
        let modified = found.modified().map_or(0, nanoseconds);
        #[cfg(unix)]
        let (changed, number) = {
            use std::os::unix::fs::MetadataExt;
            let changed =
                found.ctime().checked_mul(1_000_000_000).and_then(|s| s.checked_add(found.ctime_nsec()));
            (changed.and_then(|it| u64::try_from(it).ok()).unwrap_or(0), found.ino())
        };
        #[cfg(not(unix))]
        let (changed, number) = (0, 0);
        Identity { length: found.len(), modified, changed, number }
    }
}

/// Nanoseconds since 1970; 0 for what is older, and after the year 2554.
pub fn nanoseconds(time: SystemTime) -> u64 {
    time.duration_since(UNIX_EPOCH).ok().and_then(|since| u64::try_from(since.as_nanos()).ok()).unwrap_or(0)
}
