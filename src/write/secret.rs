//! The workshop's secret, which makes the addresses of buyers' papers unguessable.

use std::io;
use std::path::Path;

use super::add::add_for;
use super::half::{Whom, clear_halves, is_open_to_others};
use super::{WriteError, cannot, fingerprint};
use crate::source::{FileFault, PlainFile, limit};

/// The file that keeps it, in the workshop's root.
pub const FILE: &str = "buyers-secret.txt";

/// 256 bits that only the workshop knows.
///
/// A buyer's folder is named by a part of the hash of this secret with the piece's folder name, so that
/// the name stays the same for a piece, and tells nobody the name of another.
pub struct Secret {
    words: String,
    open_to_others: bool,
}

impl Secret {
    /// Reads the workshop's secret, and makes it where there is none yet. Only its owner may read the file afterwards,
    /// where the disk can keep files from others.
    ///
    /// # Errors
    /// [`WriteError::System`] where the file cannot be read or made, or holds no secret.
    pub fn of(workshop: &Path) -> Result<Secret, WriteError> {
        let path = workshop.join(FILE);
        let mut random = [0_u8; 32];
        getrandom::fill(&mut random)
            .map_err(|error| cannot("make", &path)(io::Error::other(error.to_string())))?;
        let fresh: String = random.iter().map(|byte| format!("{byte:02x}")).collect();
        clear_halves(workshop);
        add_for(Whom::OwnerIfPossible, &path, format!("{EXPLANATION}{fresh}\n").as_bytes())?;
        let unread = |fault: FileFault| cannot("read", &path)(fault.into());
        let text = PlainFile::open(&path).and_then(|file| file.all(limit::KEY)).map_err(unread)?;
        let secret = Secret::from_text(&String::from_utf8_lossy(&text)).ok_or_else(|| {
            let what =
                io::Error::new(io::ErrorKind::InvalidData, "it holds no secret of at least 32 characters");
            cannot("use", &path)(what)
        })?;
        let open_to_others = !keep_to_owner(&path).unwrap_or(false);
        Ok(Secret { open_to_others, ..secret })
    }

    /// Whether other users of the computer can read the file, and nothing could be done about it.
    pub fn is_open_to_others(&self) -> bool {
        self.open_to_others
    }

    /// The secret that a file's text holds: its last line that is not empty and not a remark.
    pub fn from_text(text: &str) -> Option<Secret> {
        let line = text.lines().map(str::trim).rfind(|line| !line.is_empty() && !line.starts_with('#'))?;
        (line.len() >= 32).then(|| Secret { words: line.to_owned(), open_to_others: false })
    }

    /// The name of the folder of a piece's papers for its buyer: what it begins with, from the piece's number, and a part
    /// that nobody guesses.
    pub fn folder(&self, slug: &str, piece: &str) -> String {
        format!("{slug}-{}", self.token(piece))
    }

    /// The unguessable part of a piece's address: 128 bits in hexadecimal.
    fn token(&self, piece: &str) -> String {
        fingerprint(format!("buyer's papers\n{}\n{piece}", self.words).as_bytes())[..32].to_owned()
    }
}

/// Takes a file from everybody but its owner; says whether others now cannot read it.
fn keep_to_owner(path: &Path) -> io::Result<bool> {
    let file = PlainFile::open(path)?.into_file();
    #[cfg(unix)]
    if is_open_to_others(&file)? {
        use std::os::unix::fs::PermissionsExt;
        let mut rights = file.metadata()?.permissions();
        rights.set_mode(rights.mode() & 0o700);
        // Only its owner may do so, and some disks cannot.
        let _ = file.set_permissions(rights);
    }
    Ok(!is_open_to_others(&file)?)
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

    #[cfg(unix)]
    #[test]
    fn only_its_owner_may_read_it_and_one_that_others_could_read_is_taken_from_them() {
        use std::os::unix::fs::PermissionsExt;
        let folder = tempfile::tempdir().expect("a folder for the test");
        let path = folder.path().join(FILE);
        let mode = || std::fs::metadata(&path).expect("made").permissions().mode() & 0o777;
        let made = Secret::of(folder.path()).expect("made");
        assert!(mode() == 0o600 && !made.is_open_to_others());
        std::fs::set_permissions(&path, std::fs::Permissions::from_mode(0o644)).expect("opened to all");
        let read = Secret::of(folder.path()).expect("read");
        assert!(mode() == 0o600 && !read.is_open_to_others());
        assert_eq!(made.token("chair"), read.token("chair"));
    }

    #[cfg(unix)]
    #[test]
    fn a_pipe_or_a_link_is_no_secret() {
        let folder = tempfile::tempdir().expect("a folder for the test");
        let path = folder.path().join(FILE);
        std::os::unix::fs::symlink("/dev/zero", &path).expect("a link");
        assert!(Secret::of(folder.path()).is_err());
        std::fs::remove_file(&path).expect("taken away");
        rustix::fs::mkfifoat(rustix::fs::CWD, &path, 0o600.into()).expect("a pipe");
        assert!(Secret::of(folder.path()).is_err());
    }

    #[test]
    fn it_is_made_once_and_kept() {
        let folder = tempfile::tempdir().expect("a folder for the test");
        let first = Secret::of(folder.path()).expect("made");
        let second = Secret::of(folder.path()).expect("read");
        assert_eq!(first.token("chair"), second.token("chair"));
    }
}
