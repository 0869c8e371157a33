//! Locks that a process may hold for a moment without knowing.

use std::fs::{File, TryLockError};
use std::thread::sleep;
use std::time::Duration;

/// Tries to lock for a quarter of a second: a process that is just being started holds a copy of every open file.
pub(super) fn patiently(lock: &File) -> Result<(), TryLockError> {
    for _ in 0..25 {
        match lock.try_lock() {
            Err(TryLockError::WouldBlock) => sleep(Duration::from_millis(10)),
            other => return other,
        }
    }
    lock.try_lock()
}
