//! Which content a file had, by its identity: so that a file which nobody touched is not read.

use std::collections::BTreeMap;

use super::{sealed, unsealed};
use crate::source::Identity;

/// The fingerprints of files by their paths.
#[derive(Debug, Default, PartialEq, Eq)]
pub(super) struct Index(BTreeMap<String, (Identity, String)>);

impl Index {
    /// The fingerprint of a file that is as it was.
    pub(super) fn get(&self, path: &str, identity: &Identity) -> Option<String> {
        let (known, digest) = self.0.get(path)?;
        (known == identity).then(|| digest.clone())
    }

    pub(super) fn insert(&mut self, path: &str, identity: Identity, digest: &str) {
        // A line for each file: a name with a break in it is read anew each time.
        if !path.contains(['\n', '\r']) {
            self.0.insert(path.to_owned(), (identity, digest.to_owned()));
        }
    }

    /// The index as text, its fingerprint first.
    pub(super) fn text(&self) -> String {
        let line = |(path, (identity, digest)): (&String, &(Identity, String))| {
            let Identity { length, modified, changed, number } = identity;
            format!("{digest} {length} {modified} {changed} {number} {path}\n")
        };
        sealed(&self.0.iter().map(line).collect::<String>())
    }

    /// Reads an index; one that is damaged is empty.
    pub(super) fn read(bytes: &[u8]) -> Index {
        let entries = unsealed(bytes).and_then(|text| text.lines().map(entry).collect::<Option<_>>());
        Index(entries.unwrap_or_default())
    }
}

fn entry(line: &str) -> Option<(String, (Identity, String))> {
    let mut words = line.splitn(6, ' ');
    let digest = words.next()?.to_owned();
    let mut figure = || words.next()?.parse().ok();
    let identity = Identity { length: figure()?, modified: figure()?, changed: figure()?, number: figure()? };
    Some((words.next()?.to_owned(), (identity, digest)))
}

#[cfg(test)]
mod tests {
    use super::*;

    const IDENTITY: Identity = Identity { length: 4, modified: 7, changed: 8, number: 9 };

    #[test]
    fn an_index_survives_being_written_and_read() {
        let mut index = Index::default();
        index.insert("pieces/chair/photos/after front.jpg", IDENTITY, "ab12");
        index.insert("pieces/a\nb.jpg", IDENTITY, "ab12");
        let read = Index::read(index.text().as_bytes());
        assert_eq!(read, index);
        assert_eq!(read.get("pieces/chair/photos/after front.jpg", &IDENTITY).as_deref(), Some("ab12"));
        assert_eq!(read.get("pieces/a\nb.jpg", &IDENTITY), None);
    }

    #[test]
    fn any_other_identity_is_another_file() {
        let mut index = Index::default();
        index.insert("a", IDENTITY, "ab12");
        for other in [
            Identity { length: 5, ..IDENTITY },
            Identity { modified: 5, ..IDENTITY },
            Identity { changed: 5, ..IDENTITY },
            Identity { number: 5, ..IDENTITY },
        ] {
            assert_eq!(index.get("a", &other), None);
        }
        assert_eq!(index.get("b", &IDENTITY), None);
    }

    #[test]
    fn a_damaged_index_is_empty() {
        let mut index = Index::default();
        index.insert("a", IDENTITY, "ab12");
        let text = index.text();
        for bad in [text.replace("ab12", "ab13"), text[..text.len() - 2].to_owned(), String::new()] {
            assert_eq!(Index::read(bad.as_bytes()), Index::default(), "{bad:?}");
        }
    }
}
