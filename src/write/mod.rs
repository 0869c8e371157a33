//! The only writing of files: a whole tree that is staged beside the old one and then swapped for it, the store of
//! what was made once, and single files that are added to a workshop.
//!
//! What it promises:
//!
//! - **The old tree or the new one, never a mixture.** A [`Stage`] fills a hidden folder beside the target and swaps
//!   it in at the end. Where the system can exchange two folders in one step (Linux), there is no moment without a
//!   whole tree; elsewhere the old one is moved aside first, and the next run moves it back if the swap was cut short.
//! - **Nobody else's files are lost.** A tree lists what it holds in [`MANIFEST`], in the form that `sha256sum -c`
//!   checks. A target that holds anything else, or a listed file that somebody changed since, is refused by name.
//! - **A file added is a file that was not there.** [`add()`] never overwrites, and never leaves half a file behind.
//!
//! It knows nothing of records, pages or photographs: paths and bytes come in finished.

mod add;
mod fault;
mod manifest;
mod ownership;
mod place;
mod secret;
mod stage;
pub mod store;
mod swap;
#[cfg(test)]
mod tests;

use std::path::Path;

pub use add::{add, folder};
pub use fault::WriteError;
pub use manifest::MANIFEST;
pub use place::keep_clear;
pub use secret::{FILE as SECRET, Secret};
pub use stage::{Stage, Written};
pub use store::{Kept, KeptFile, Key, Store};

/// The SHA-256 of some bytes, in lower-case hexadecimal, as `sha256sum` prints it.
pub fn fingerprint(bytes: &[u8]) -> String {
    use sha2::Digest;
    sha2::Sha256::digest(bytes).iter().map(|byte| format!("{byte:02x}")).collect()
}

/// Attaches what was being done, and to what, to an error of the system.
fn cannot(doing: &'static str, path: &Path) -> impl FnOnce(std::io::Error) -> WriteError {
    let path = path.to_owned();
    move |source| WriteError::System { doing, path, source }
}
