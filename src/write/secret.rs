//! The workshop's secret, which makes the addresses of buyers' papers unguessable.

use std::fs;
use std::io;
use std::path::Path;

use super::{WriteError, add, cannot, fingerprint};

/// The file that keeps it, in the workshop's root.
pub const FILE: &str = "buyers-secret.txt";

/// 256 bits that only the workshop knows.
///
/// A buyer's folder is named by a part of the hash of this secret with the piece's folder name, so that
/// the name stays the same for a piece, and tells nobody the name of another.
pub struct Secret(String);

impl Secret {
    /// Reads the workshop's secret, and makes it where there is none yet.
    ///
    /// # Errors
    /// [`WriteError::System`] where the file cannot be read or made, or holds no secret.
    pub fn of(workshop: &Path) -> Result<Secret, WriteError> {
        let path = workshop.join(FILE);
        let mut random = [0_u8; 32];
        getrandom::fill(&mut random)
            .map_err(|error| cannot("make", &path)(io::Error::other(error.to_string())))?;
        let fresh: String = random.iter().map(|byte| format!("{byte:02x}")).collect();
        add(&path, format!("{EXPLANATION}{fresh}\n").as_bytes())?;
        let text = fs::read_to_string(&path).map_err(cannot("read", &path))?;
        Secret::from_text(&text).ok_or_else(|| {
            let what =
                io::Error::new(io::ErrorKind::InvalidData, "it holds no secret of at least 32 characters");
            cannot("use", &path)(what)
        })
    }

    /// The secret that a file's text holds: its last line that is not empty and not a remark.
    pub fn from_text(text: &str) -> Option<Secret> {
        let line = text.lines().map(str::trim).rfind(|line| !line.is_empty() && !line.starts_with('#'))?;
        (line.len() >= 32).then(|| Secret(line.to_owned()))
    }

    /// The name of the folder of a piece's papers for its buyer: what it begins with, from the piece's number, and a part
    /// that nobody guesses.
    pub fn folder(&self, slug: &str, piece: &str) -> String {
        format!("{slug}-{}", self.token(piece))
    }

    /// The unguessable part of a piece's address: 128 bits in hexadecimal.
    fn token(&self, piece: &str) -> String {
        fingerprint(format!("buyer's papers\n{}\n{piece}", self.0).as_bytes())[..32].to_owned()
    }
}

const EXPLANATION: &str = "\
# The addresses of the buyers' papers are made from this secret. Keep it with the workshop and do not
# publish it: whoever has it can find every buyer's papers. Changing it changes all their addresses.
";

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_token_is_stable_and_differs_between_pieces_and_secrets() {
        let secret = |text: &str| Secret::from_text(text).expect("long enough");
        let one = secret("# remark\n0123456789abcdef0123456789abcdef\n");
        assert_eq!(one.token("chair"), secret("0123456789abcdef0123456789abcdef").token("chair"));
        assert_ne!(one.token("chair"), one.token("table"));
        assert_ne!(one.token("chair"), secret("0123456789abcdef0123456789abcdee").token("chair"));
        assert_eq!(one.token("chair").len() * 4, 128);
    }

    #[test]
    fn a_short_secret_is_none() {
        assert!(Secret::from_text("# only remarks\nabc").is_none());
    }

    #[test]
    fn it_is_made_once_and_kept() {
        let folder = tempfile::tempdir().expect("a folder for the test");
        let first = Secret::of(folder.path()).expect("made");
        let second = Secret::of(folder.path()).expect("read");
        assert_eq!(first.token("chair"), second.token("chair"));
    }
}
