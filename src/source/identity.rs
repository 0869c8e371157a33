//! By what a file is known again without being read.

use std::fs::{self, Metadata};
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

    /// The identity of the program that runs; `None` where the system does not say where it lies.
    pub fn of_program() -> Option<Identity> {
        let program = std::env::current_exe().ok()?;
        fs::metadata(program).ok().map(|found| Identity::of(&found))
    }

    /// Whether its dates lie so far before a moment that any change after that gives another date.
    pub fn is_settled(&self, moment: u64) -> bool {
        self.modified.max(self.changed).saturating_add(TICK) < moment
    }

    /// All of it as bytes, to be part of a fingerprint.
    pub fn bytes(&self) -> [u8; 32] {
        let mut bytes = [0; 32];
        let Identity { length, modified, changed, number } = *self;
        for (place, figure) in bytes.chunks_exact_mut(8).zip([length, modified, changed, number]) {
            place.copy_from_slice(&figure.to_le_bytes());
        }
        bytes
    }
}

/// How much older than a look at it a file must be before its dates are trusted, in nanoseconds.
///
/// Memory cards count in steps of two seconds: within one, a second change would not show.
const TICK: u64 = 2_000_000_000;

/// Nanoseconds since 1970; 0 for what is older, and after the year 2554.
pub fn nanoseconds(time: SystemTime) -> u64 {
    time.duration_since(UNIX_EPOCH).ok().and_then(|since| u64::try_from(since.as_nanos()).ok()).unwrap_or(0)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_file_changed_within_a_tick_of_a_look_at_it_is_too_young() {
        let at = |modified, changed| Identity { length: 4, modified, changed, number: 9 };
        let moment = 10 * TICK;
        assert!(at(9 * TICK - 1, 0).is_settled(moment));
        assert!(!at(9 * TICK, 0).is_settled(moment));
        assert!(!at(0, 9 * TICK).is_settled(moment), "its date was set back");
        assert!(!at(u64::MAX, 0).is_settled(moment));
    }
}
