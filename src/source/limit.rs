//! How many bytes are read of a file of each kind, at most: generous for what people make, and far below what would
//! fill the memory of a small computer.

/// A record, `workshop.toml`, `stock.toml`, a table of the trade, what a theme says of itself.
pub const RECORD: u64 = 4_000_000;

/// A story.
pub const STORY: u64 = 200_000;

/// A day book: some 10,000 lines.
pub const DAY_BOOK: u64 = 1_000_000;

/// A seal: the record with its story once more, in canonical form.
pub const SEAL: u64 = 16_000_000;

/// A photograph: six times what the largest cameras write of theirs as JPEG.
pub const PHOTOGRAPH: u64 = 200_000_000;

/// A text that may lie in a workshop and is none of its own files, and one of its pages.
pub const TEXT: u64 = 4_000_000;

/// A file of a theme: a page, a font, a picture.
pub const THEME: u64 = 50_000_000;

/// A file that was written: a page, a picture, a printed paper, the archive's database.
pub const WRITTEN: u64 = 1_000_000_000;

/// A list of what was written or made: about 500,000 files.
pub const LIST: u64 = 100_000_000;

/// A key, a secret, a password.
pub const KEY: u64 = 4_096;

/// The limit of a file of a workshop, by its path from the root.
pub(super) fn of(path: &str) -> u64 {
    let mut parts = path.split('/');
    match (parts.next(), parts.nth(1)) {
        (Some("pieces"), Some("photos")) => PHOTOGRAPH,
        (Some("pieces"), Some("sealed")) => SEAL,
        (Some("pieces"), Some("story.md")) => STORY,
        (Some("pieces"), Some("daybook.txt")) | (Some("daybook.txt"), None) => DAY_BOOK,
        (Some("theme"), _) if path != "theme/theme.toml" => THEME,
        _ => RECORD,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn each_kind_of_file_has_its_limit() {
        for (path, limit) in [
            ("workshop.toml", RECORD),
            ("pieces/a/record.toml", RECORD),
            ("pieces/photos/record.toml", RECORD),
            ("pieces/a/story.md", STORY),
            ("pieces/a/daybook.txt", DAY_BOOK),
            ("daybook.txt", DAY_BOOK),
            ("pieces/a/photos/after.jpg", PHOTOGRAPH),
            ("pieces/a/sealed/001.toml", SEAL),
            ("theme/theme.toml", RECORD),
            ("theme/assets/style.css", THEME),
            ("trade/finishes.toml", RECORD),
        ] {
            assert_eq!(of(path), limit, "{path}");
        }
    }
}
