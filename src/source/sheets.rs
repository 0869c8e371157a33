//! A written folder, of which single files are handed out.

use std::path::{Path, PathBuf};

use super::{PlainFile, limit};

/// A folder whose files are asked for by path, and nothing outside it.
#[derive(Debug, Clone)]
pub struct Sheets {
    root: PathBuf,
}

impl Sheets {
    /// The files of a folder, which need not exist yet.
    pub fn of(root: &Path) -> Sheets {
        Sheets { root: root.to_owned() }
    }

    /// The bytes of a file; `None` where there is none.
    ///
    /// `path` is relative, with forward slashes. A path that leads out of the folder, through a link or to anything
    /// that is no plain file names nothing.
    pub fn file(&self, path: &str) -> Option<Vec<u8>> {
        let plain = |part: &str| {
            !matches!(part, "" | "." | "..") && !part.contains(['\\', '\0', ':']) && !part.starts_with('.')
        };
        if !path.split('/').all(plain) {
            return None;
        }
        // A link anywhere on the way makes the two differ; the opening refuses one that comes later.
        let root = self.root.canonicalize().ok()?;
        let file = root.join(path);
        if file.canonicalize().ok()? != file {
            return None;
        }
        PlainFile::below(&root, Path::new(path)).ok()?.all(limit::WRITTEN).ok()
    }
}

#[cfg(test)]
mod tests {
    use std::fs;

    use super::*;

    #[test]
    fn only_plain_files_below_the_folder_are_handed_out() {
        let home = tempfile::tempdir().unwrap();
        fs::create_dir_all(home.path().join("written/archive/pieces")).unwrap();
        fs::write(home.path().join("secret.txt"), "secret").unwrap();
        fs::write(home.path().join("written/archive/index.html"), "page").unwrap();
        fs::write(home.path().join("written/.witnessmark"), "list").unwrap();
        let sheets = Sheets::of(&home.path().join("written"));
        assert_eq!(sheets.file("archive/index.html").as_deref(), Some(b"page".as_slice()));
        for path in [
            "",
            "archive",
            "archive/",
            "archive/pieces",
            "/archive/index.html",
            "archive//index.html",
            "./archive/index.html",
            "../secret.txt",
            "archive/../../secret.txt",
            "archive\\index.html",
            "archive/index.html\0",
            ".witnessmark",
            "nothing.html",
        ] {
            assert_eq!(sheets.file(path), None, "{path:?}");
        }
        let whole = home.path().join("secret.txt");
        assert_eq!(sheets.file(whole.to_str().unwrap()), None);
        assert_eq!(Sheets::of(&home.path().join("nowhere")).file("index.html"), None);
    }

    #[cfg(unix)]
    #[test]
    fn links_are_not_followed() {
        let home = tempfile::tempdir().unwrap();
        let written = home.path().join("written");
        fs::create_dir_all(written.join("archive")).unwrap();
        fs::write(home.path().join("secret.txt"), "secret").unwrap();
        fs::write(written.join("archive/page.html"), "page").unwrap();
        std::os::unix::fs::symlink(home.path().join("secret.txt"), written.join("link.txt")).unwrap();
        std::os::unix::fs::symlink(home.path(), written.join("out")).unwrap();
        std::os::unix::fs::symlink(written.join("archive"), written.join("in")).unwrap();
        let sheets = Sheets::of(&written);
        for path in ["link.txt", "out/secret.txt", "in/page.html"] {
            assert_eq!(sheets.file(path), None, "{path}");
        }
        // The folder itself may be reached through a link: that is where the user put it.
        std::os::unix::fs::symlink(&written, home.path().join("elsewhere")).unwrap();
        assert!(Sheets::of(&home.path().join("elsewhere")).file("archive/page.html").is_some());
    }
}
