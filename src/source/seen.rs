//! What stood in a workshop's folder at one moment, so that it is known again without being read.

use std::collections::BTreeMap;
use std::fs;
use std::path::Path;

use serde::{Deserialize, Serialize};

use super::{Identity, LOOKED_AT, PlainFile, limit, listing};
use crate::unit::fingerprint;

/// All that is looked at in a workshop, as the system told of it at one moment: what pieces share, under an empty name, and
/// each piece's folder.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Seen(BTreeMap<String, Lot>);

/// Files that are known again together.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize, Deserialize)]
struct Lot {
    /// The fingerprint of every file's path and identity, and of what could not be listed.
    print: String,
    /// Files changed so lately that their dates could not show a further change, by their paths on the disk, with the
    /// fingerprints of their bytes.
    young: BTreeMap<String, String>,
}

impl Seen {
    /// Looks at a workshop. `moment` is the filesystem's own time before that, in nanoseconds since 1970.
    ///
    /// `None` where a file changed lately cannot be read, and so could not be known again.
    pub fn of(root: &Path, moment: u64) -> Option<Seen> {
        let (files, faults) = listing::list(root, &LOOKED_AT);
        let mut lots: BTreeMap<&str, (Vec<u8>, BTreeMap<String, String>)> = BTreeMap::new();
        for (path, disk) in &files {
            let (all, young) = lots.entry(lot_of(path)).or_default();
            all.extend(path.as_bytes());
            all.push(0);
            let Ok(found) = fs::symlink_metadata(root.join(disk)) else { continue };
            let identity = Identity::of(&found);
            all.push(if found.is_file() { b'f' } else { b'o' });
            all.extend(identity.bytes());
            if found.is_file() && !identity.is_settled(moment) {
                young.insert(disk.to_str()?.to_owned(), print_of(root, disk)?);
            }
        }
        for (path, why) in &faults {
            let (all, _) = lots.entry(lot_of(path)).or_default();
            all.extend([path.as_bytes(), b"\0", why.as_bytes(), b"\0"].concat());
        }
        let lot = |(name, (all, young)): (&str, (Vec<u8>, _))| {
            (name.to_owned(), Lot { print: fingerprint(&all), young })
        };
        Some(Seen(lots.into_iter().map(lot).collect()))
    }

    /// Whether a workshop that was seen so before holds just the same now, when it is seen like this.
    pub fn is_still(&self, now: &Seen, root: &Path) -> bool {
        self.0.len() == now.0.len() && self.0.iter().all(|(name, lot)| lot.is_still(now.0.get(name), root))
    }

    /// The same of what pieces share.
    pub fn shared_is_still(&self, now: &Seen, root: &Path) -> bool {
        self.piece_is_still("", now, root)
    }

    /// The same of one piece's folder.
    pub fn piece_is_still(&self, folder: &str, now: &Seen, root: &Path) -> bool {
        self.0.get(folder).is_some_and(|lot| lot.is_still(now.0.get(folder), root))
    }

    /// How many files had to be read to be known.
    pub fn read(&self) -> usize {
        self.0.values().map(|lot| lot.young.len()).sum()
    }
}

impl Lot {
    fn is_still(&self, now: Option<&Lot>, root: &Path) -> bool {
        let Some(now) = now.filter(|now| now.print == self.print) else { return false };
        self.young.iter().all(|(disk, print)| match now.young.get(disk) {
            Some(known) => known == print,
            None => print_of(root, Path::new(disk)).as_ref() == Some(print),
        })
    }
}

/// The folder of the piece that a file lies in; empty for what pieces share.
fn lot_of(path: &str) -> &str {
    let within = path.strip_prefix("pieces/").and_then(|rest| rest.split_once('/'));
    within.map_or("", |(folder, _)| folder)
}

/// The fingerprint of a file's bytes.
fn print_of(root: &Path, disk: &Path) -> Option<String> {
    let limit = limit::of(disk.to_str()?);
    PlainFile::below(root, disk).and_then(|file| file.all(limit)).ok().map(|bytes| fingerprint(&bytes))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::source::identity::nanoseconds;
    use std::time::{Duration, SystemTime};

    const RECORD: &str = "pieces/chair/record.toml";

    fn workshop() -> tempfile::TempDir {
        let home = tempfile::tempdir().unwrap();
        for file in ["workshop.toml", RECORD, "pieces/chair/photos/after.jpg", "written/index.html"] {
            let path = home.path().join(file);
            fs::create_dir_all(path.parent().unwrap()).unwrap();
            fs::write(path, file).unwrap();
        }
        home
    }

    /// Some hours from now, when everything is settled.
    fn later() -> u64 {
        nanoseconds(SystemTime::now() + Duration::from_secs(10_000))
    }

    #[test]
    fn what_nobody_touched_is_known_again_and_settled_files_are_not_read() {
        let home = workshop();
        let early = Seen::of(home.path(), 0).unwrap();
        assert_eq!(early.read(), 3, "what was written is none of it");
        let late = Seen::of(home.path(), later()).unwrap();
        assert_eq!(late.read(), 0);
        assert!(early.is_still(&late, home.path()) && late.is_still(&early, home.path()));
    }

    #[test]
    fn any_file_more_or_less_or_other_is_seen() {
        let home = workshop();
        let before = Seen::of(home.path(), later()).unwrap();
        let is_still = || before.is_still(&Seen::of(home.path(), later()).unwrap(), home.path());
        assert!(is_still());
        for file in ["pieces/chair/story.md", "theme/theme.toml", "words/en-GB.ftl", "stock.toml"] {
            let path = home.path().join(file);
            fs::create_dir_all(path.parent().unwrap()).unwrap();
            fs::write(&path, "").unwrap();
            assert!(!is_still(), "{file}");
            fs::remove_file(&path).unwrap();
            assert!(is_still(), "{file} is gone again");
        }
        fs::write(home.path().join(RECORD), "other").unwrap();
        assert!(!is_still());
    }

    #[test]
    fn a_young_file_is_known_by_its_bytes() {
        let home = workshop();
        let mut before = Seen::of(home.path(), 0).unwrap();
        let now = Seen::of(home.path(), later()).unwrap();
        let lot = before.0.get_mut("chair").unwrap();
        lot.young.insert(RECORD.to_owned(), fingerprint(b"what it was when it was as old as this"));
        assert!(!before.is_still(&now, home.path()));
        assert!(before.shared_is_still(&now, home.path()));
        assert!(!before.piece_is_still("chair", &now, home.path()));
    }

    #[cfg(unix)]
    #[test]
    fn other_bytes_under_the_old_length_and_date_are_seen() {
        let home = workshop();
        let photograph = home.path().join("pieces/chair/photos/after.jpg");
        let date = fs::metadata(&photograph).unwrap().modified().unwrap();
        let before = Seen::of(home.path(), later()).unwrap();
        let bytes = fs::read(&photograph).unwrap().to_ascii_uppercase();
        std::thread::sleep(Duration::from_millis(20));
        fs::write(&photograph, bytes).unwrap();
        fs::File::options().write(true).open(&photograph).unwrap().set_modified(date).unwrap();
        assert!(!before.is_still(&Seen::of(home.path(), later()).unwrap(), home.path()));
    }
}
