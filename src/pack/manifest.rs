//! Lists of files with their fingerprints, and lists of labels with their values, as bags spell them.

use std::collections::BTreeMap;

use super::name;

/// A manifest as text: fingerprint, two spaces, path; sorted by path, in the form that `sha256sum -c` reads.
///
/// # Source
/// RFC 8493, section 2.1.3, "Payload Manifest".
pub(super) fn text<'a>(files: impl IntoIterator<Item = (&'a str, String)>) -> String {
    let files: BTreeMap<&str, String> = files.into_iter().collect();
    files.iter().map(|(path, digest)| format!("{digest}  {}\n", encoded(path))).collect()
}

/// Why a list could not be read: the line, counted from 1, and what is wrong with it.
pub(super) type Fault = (usize, &'static str);

/// Reads a manifest of fingerprints with so many hexadecimal digits: the fingerprint of each file by its path.
///
/// # Errors
/// The first line that cannot be understood.
pub(super) fn read(bytes: &[u8], digits: usize) -> Result<BTreeMap<String, String>, Fault> {
    let mut files = BTreeMap::new();
    for (place, line) in lines(bytes)? {
        if line.is_empty() {
            continue;
        }
        let (digest, path) =
            line.split_once([' ', '\t']).ok_or((place, "it is no fingerprint with a path"))?;
        if digest.len() != digits || !digest.bytes().all(|byte| byte.is_ascii_hexdigit()) {
            return Err((place, "it does not begin with a fingerprint of the right length"));
        }
        // `sha256sum` marks files read as binary by a star before the path, which bags allow to be read.
        let path = path.trim_start_matches([' ', '\t']);
        let path = decoded(path.strip_prefix('*').unwrap_or(path));
        let path = name::composed(path.strip_prefix("./").unwrap_or(&path));
        if files.insert(path, digest.to_ascii_lowercase()).is_some() {
            return Err((place, "it lists a file for the second time"));
        }
    }
    Ok(files)
}

/// Reads labels with their values, in order; a line that begins with a space goes on with the one before.
///
/// # Errors
/// The first line that cannot be understood.
///
/// # Source
/// RFC 8493, section 2.2.2, "Bag Metadata".
pub(super) fn labels(bytes: &[u8]) -> Result<Vec<(String, String)>, Fault> {
    let mut labels: Vec<(String, String)> = Vec::new();
    for (place, line) in lines(bytes)? {
        if line.trim().is_empty() {
            continue;
        }
        if line.starts_with([' ', '\t']) {
            let (_, value) = labels.last_mut().ok_or((place, "it goes on with a line that is not there"))?;
            value.push(' ');
            value.push_str(line.trim());
            continue;
        }
        let (label, value) = line.split_once(':').ok_or((place, "it is no label with a value"))?;
        labels.push((label.trim().to_owned(), value.trim().to_owned()));
    }
    Ok(labels)
}

/// The lines of a tag file, counted from 1; they end in LF, CR or both.
fn lines(bytes: &[u8]) -> Result<Vec<(usize, &str)>, Fault> {
    let text = std::str::from_utf8(bytes).map_err(|error| {
        let before = bytes[..error.valid_up_to()].iter().filter(|byte| **byte == b'\n').count();
        (before + 1, "it is not UTF-8 text")
    })?;
    let text = text.strip_prefix('\u{feff}').unwrap_or(text);
    let lines = text.split('\n').flat_map(|line| line.strip_suffix('\r').unwrap_or(line).split('\r'));
    Ok(lines.enumerate().map(|(place, line)| (place + 1, line)).collect())
}

/// A path as a manifest spells it: line ends and the percent sign itself as percent and two digits.
fn encoded(path: &str) -> String {
    path.replace('%', "%25").replace('\n', "%0A").replace('\r', "%0D")
}

/// The path that a manifest spells. Other percent signs stay as they are, as other writers of bags leave them.
fn decoded(path: &str) -> String {
    let mut text = path.to_owned();
    for (spelt, sign) in [("%0A", "\n"), ("%0a", "\n"), ("%0D", "\r"), ("%0d", "\r"), ("%25", "%")] {
        text = text.replace(spelt, sign);
    }
    text
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_manifest_survives_being_written_and_read() {
        let digest = "0".repeat(64);
        let paths = ["data/b", "data/a  c", "data/50%", "data/a\nb", "data/%0A"];
        let written = text(paths.map(|path| (path, digest.clone())));
        assert!(written.starts_with(&format!("{digest}  data/%250A\n")), "sorted and encoded: {written}");
        let read = read(written.as_bytes(), 64).unwrap();
        assert_eq!(read.len(), paths.len());
        assert!(paths.iter().all(|path| read.contains_key(*path)), "{read:?}");
    }

    #[test]
    fn a_manifest_of_another_hand_is_read() {
        let digest = "A".repeat(64);
        let text = format!("{digest} *data/a\r\n{digest}\t./data/b\r{digest}  data/c");
        let read = read(text.as_bytes(), 64).unwrap();
        assert_eq!(read.keys().collect::<Vec<_>>(), ["data/a", "data/b", "data/c"]);
        assert!(read.values().all(|value| *value == digest.to_lowercase()));
    }

    #[test]
    fn what_is_no_manifest_says_in_which_line() {
        let good = format!("{}  a\n", "0".repeat(64));
        for (bad, line) in [
            ("notes", 2),
            ("abc  a", 2),
            (&good, 2),
            ("\n\nx", 4),
            ("\u{0}", 2),
            (&format!("{}g  a", "0".repeat(63)), 2),
        ] {
            assert_eq!(read(format!("{good}{bad}").as_bytes(), 64).unwrap_err().0, line, "{bad:?}");
        }
        assert_eq!(read(b"\n\xff", 64).unwrap_err(), (2, "it is not UTF-8 text"));
    }

    #[test]
    fn labels_go_on_over_lines() {
        let read = labels(b"A: one\r\n  two\nB-C:three: four\n\n").unwrap();
        let expected = [("A", "one two"), ("B-C", "three: four")].map(|(l, v)| (l.to_owned(), v.to_owned()));
        assert_eq!(read, expected);
        assert_eq!(labels(b" x").unwrap_err().0, 1);
        assert_eq!(labels(b"A: b\nx").unwrap_err().0, 2);
    }
}
