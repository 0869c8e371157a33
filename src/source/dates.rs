//! When what a workshop's records say was last changed, without reading any of it.

use std::collections::BTreeMap;
use std::fs;
use std::path::Path;

use super::Identity;

/// What all pieces share: two files and a folder.
pub const SHARED: [&str; 4] = ["workshop.toml", "stock.toml", "daybook.txt", "trade"];

/// When files were last changed, in nanoseconds since 1970.
#[derive(Debug, Default, Clone, PartialEq, Eq)]
pub struct Dates {
    /// What all pieces share.
    pub shared: u64,
    /// Each folder of `pieces/`: its record, its story, its day book, and which files lie beside them.
    pub pieces: BTreeMap<String, u64>,
}

impl Dates {
    /// Looks at the dates of a workshop.
    pub fn of(root: &Path) -> Dates {
        let date = |path: &Path| {
            let found = fs::symlink_metadata(path).ok().map(|found| Identity::of(&found));
            found.map_or(0, |found| found.modified.max(found.changed))
        };
        let within = |folder: &Path| -> u64 {
            let files = fs::read_dir(folder).into_iter().flatten().flatten();
            files.map(|file| date(&file.path())).max().unwrap_or(0)
        };
        let shared = SHARED.iter().map(|name| date(&root.join(name))).max().unwrap_or(0);
        let mut pieces = BTreeMap::new();
        for folder in fs::read_dir(root.join("pieces")).into_iter().flatten().flatten() {
            if !folder.file_type().is_ok_and(|kind| kind.is_dir()) {
                continue;
            }
            let path = folder.path();
            let files = ["record.toml", "story.md", "daybook.txt", "photos", "sealed"]
                .map(|name| date(&path.join(name)));
            let newest = files.into_iter().max().unwrap_or(0);
            if let Ok(name) = folder.file_name().into_string() {
                pieces.insert(name, newest);
            }
        }
        Dates { shared: shared.max(within(&root.join("trade"))), pieces }
    }

    /// The latest of them all.
    pub fn latest(&self) -> u64 {
        self.pieces.values().copied().max().unwrap_or(0).max(self.shared)
    }
}
