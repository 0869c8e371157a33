//! How much may come in within a while: far more than anybody does by hand, and no disk is filled over night.

use std::time::{Duration, Instant};

/// The while.
const WHILE: Duration = Duration::from_secs(600);

/// What may come in within it.
const ENTRIES: u32 = 400;
const PIECES: u32 = 30;
const BYTES: u64 = 1_500_000_000;

/// What came in since a moment.
#[derive(Debug)]
pub(super) struct Allowance {
    since: Instant,
    entries: u32,
    pieces: u32,
    bytes: u64,
}

impl Allowance {
    pub(super) fn from(now: Instant) -> Allowance {
        Allowance { since: now, entries: 0, pieces: 0, bytes: 0 }
    }

    /// Notes an entry of so many bytes, or says that it is too much.
    pub(super) fn entry(&mut self, now: Instant, bytes: u64) -> bool {
        self.renew(now);
        let fits = self.entries < ENTRIES && self.bytes + bytes <= BYTES;
        if fits {
            self.entries += 1;
            self.bytes += bytes;
        }
        fits
    }

    /// Notes a new piece, or says that it is too much.
    pub(super) fn piece(&mut self, now: Instant) -> bool {
        self.renew(now);
        let fits = self.pieces < PIECES;
        self.pieces += u32::from(fits);
        fits
    }

    fn renew(&mut self, now: Instant) {
        if now.saturating_duration_since(self.since) >= WHILE {
            *self = Allowance::from(now);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn so_much_comes_in_and_more_after_a_while() {
        let start = Instant::now();
        let mut allowance = Allowance::from(start);
        assert_eq!((0..1000).filter(|_| allowance.entry(start, 10)).count(), ENTRIES as usize);
        assert_eq!((0..1000).filter(|_| allowance.piece(start)).count(), PIECES as usize);
        let later = start + WHILE;
        assert!(allowance.entry(later, BYTES) && !allowance.entry(later, 1) && allowance.piece(later));
    }
}
