//! Names of files in a pack: which are safe to unpack, and which are safe to write.

use unicode_normalization::UnicodeNormalization;

use crate::unit::legible;

/// The longest path that is read, in bytes; no system unpacks a longer one.
const LONGEST: usize = 4096;

/// Whether a path stays below the folder that it is unpacked into, on every system.
///
/// A colon names a drive or a second stream of a file on Windows, and a backslash a folder.
pub(super) fn stays_inside(path: &str) -> bool {
    let part = |part: &str| !matches!(part, "" | "." | "..");
    let character = |c: char| !c.is_control() && !matches!(c, '\\' | ':');
    path.len() <= LONGEST && path.split('/').all(part) && path.chars().all(character)
}

/// Whether a path may be written into a pack: it stays inside, every common system can hold it, and `sha256sum`,
/// bags and other readers of bags spell it alike (they differ in how they write `%`).
pub(super) fn may_be_written(path: &str) -> bool {
    let character =
        |c: char| !matches!(c, '%' | '<' | '>' | '"' | '|' | '?' | '*' | char::REPLACEMENT_CHARACTER);
    let part = |part: &str| !part.ends_with(['.', ' ']) && !part.starts_with(' ');
    let sound = stays_inside(path) && can_be_held(path) && is_legible(path);
    sound && path.chars().all(character) && path.split('/').all(part)
}

/// Names that Windows keeps for devices, with any ending.
fn is_device(part: &str) -> bool {
    let stem = part.split('.').next().unwrap_or_default().to_ascii_uppercase();
    let numbered = |of: &str| {
        stem.strip_prefix(of).is_some_and(|rest| rest.len() == 1 && rest.bytes().all(|c| c.is_ascii_digit()))
    };
    matches!(stem.as_str(), "CON" | "PRN" | "AUX" | "NUL") || numbered("COM") || numbered("LPT")
}

/// Whether every system can hold a path, and takes it for one of a file.
pub(super) fn can_be_held(path: &str) -> bool {
    path.split('/').all(|part| part.len() <= 255 && !is_device(part))
}

/// Whether a path reads as what it is: nothing in it is unseen.
pub(super) fn is_legible(path: &str) -> bool {
    legible::unseen(path).next().is_none()
}

/// A path with its letters and accents put together, as all but macOS leaves them.
///
/// # Source
/// RFC 8493, section 6.1.1.2: names that differ in nothing else are one.
pub(super) fn composed(path: &str) -> String {
    path.nfc().collect()
}

/// A path as systems see it that do not tell capitals from small letters, or drop dots and spaces at the end of a name.
pub(super) fn folded(path: &str) -> String {
    let parts: Vec<&str> = path.split('/').map(|part| part.trim_end_matches(['.', ' '])).collect();
    parts.join("/").nfc().flat_map(char::to_lowercase).collect()
}

/// Files that file managers leave in every folder they show.
pub(super) fn is_nobodys(path: &str) -> bool {
    let last = path.rsplit('/').next().unwrap_or_default();
    matches!(last, ".DS_Store" | "Thumbs.db" | "desktop.ini")
        || last.starts_with("._")
        || path.starts_with("__MACOSX/")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_that_leave_the_folder_are_told() {
        for path in [
            "../evil",
            "a/../../evil",
            "/etc/passwd",
            "C:/evil",
            "c:evil",
            "..\\evil",
            "a\\b",
            "\\\\host\\share",
            "",
            "a//b",
            "a/",
            "./a",
            "a/./b",
            "a\0b",
            "a\nb",
            "file.txt:stream",
        ] {
            assert!(!stays_inside(path), "{path:?}");
        }
        assert!(!stays_inside(&"a/".repeat(3000)));
        for path in ["a", "data/a b.html", "data/..a", "data/كرسي.jpg", "data/50%.txt"] {
            assert!(stays_inside(path), "{path:?}");
        }
    }

    #[test]
    fn names_that_some_system_cannot_hold_are_not_written() {
        for path in ["data/50%.txt", "a?", "a*", "a.", "a ", "con", "data/NUL.txt", "COM1", "a\"b", "a|b"] {
            assert!(!may_be_written(path), "{path:?}");
        }
        assert!(!may_be_written(&"x".repeat(256)));
        for path in
            ["data/record.toml", "data/pictures/1-before-front-960.jpg", "console.txt", "data/Tür.jpg"]
        {
            assert!(may_be_written(path), "{path:?}");
        }
    }
}
