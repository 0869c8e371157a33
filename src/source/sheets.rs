//! A written folder, of which single files are handed out.

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};

use super::{PlainFile, limit};

/// A folder whose files are asked for by path, and nothing outside it but what is to come into it.
#[derive(Debug, Clone, Default)]
pub struct Sheets {
    root: PathBuf,
    coming: BTreeMap<String, PathBuf>,
}

impl Sheets {
    /// The files of a folder, which need not exist yet.
    pub fn of(root: &Path) -> Sheets {
        Sheets { root: root.to_owned(), coming: BTreeMap::new() }
    }

    /// The same, with files that are about to come into the folder, by their paths in it, where they lie until then.
    pub fn with_coming(root: &Path, coming: BTreeMap<String, PathBuf>) -> Sheets {
        Sheets { root: root.to_owned(), coming }
    }

    /// The bytes of a file; `None` where there is none.
    ///
    /// `path` is relative, with forward slashes. A path that leads out of the folder, through a link or to anything
    /// that is no plain file names nothing.
    pub fn file(&self, path: &str) -> Option<Vec<u8>> {
        // One that came meanwhile stands in the folder.
        let coming = self.coming.get(path).and_then(|file| PlainFile::open(file).ok());
        coming.or_else(|| self.opened(path))?.all(limit::WRITTEN).ok()
    }

    /// Whether there is such a file.
    pub fn has(&self, path: &str) -> bool {
        self.coming.contains_key(path) || self.opened(path).is_some()
    }

    fn opened(&self, path: &str) -> Option<PlainFile> {
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
        PlainFile::below(&root, Path::new(path)).ok()
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
            assert!(!sheets.has(path), "{path:?}");
        }
        let whole = home.path().join("secret.txt");
        assert_eq!(sheets.file(whole.to_str().unwrap()), None);
        assert_eq!(Sheets::of(&home.path().join("nowhere")).file("index.html"), None);
    }

    #[test]
    fn what_is_to_come_is_handed_out_before_and_after_it_came() {
        let home = tempfile::tempdir().unwrap();
        let (written, stage) = (home.path().join("written"), home.path().join("stage"));
        for (folder, text) in [(&written, "before"), (&stage, "after")] {
            fs::create_dir(folder).unwrap();
            fs::write(folder.join("page.html"), text).unwrap();
        }
        fs::write(stage.join("new.html"), "new").unwrap();
        let coming = ["page.html", "new.html"].map(|name| (name.to_owned(), stage.join(name)));
        let sheets = Sheets::with_coming(&written, coming.into());
        assert_eq!(sheets.file("page.html").as_deref(), Some(b"after".as_slice()));
        assert!(sheets.has("new.html"));
        fs::remove_dir_all(&written).unwrap();
        fs::rename(&stage, &written).unwrap();
        assert_eq!(sheets.file("page.html").as_deref(), Some(b"after".as_slice()));
        assert_eq!(sheets.file("new.html").as_deref(), Some(b"new".as_slice()));
        assert_eq!(sheets.file("other.html"), None);
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
