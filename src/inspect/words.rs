//! Small words of messages that several families share.

use crate::record::UNKNOWN;

/// At most twelve words in back-ticks, with commas between.
pub(super) fn quoted<'a>(words: impl IntoIterator<Item = &'a str>) -> String {
    let words: Vec<String> = words.into_iter().map(|word| format!("`{word}`")).collect();
    match words.len() {
        0..=12 => words.join(", "),
        more => format!("{} and {} more", words[..12].join(", "), more - 12),
    }
}

/// Whether a text declares that something is not known, which every rule takes for an answer.
pub(super) fn declared_unknown(text: &str) -> bool {
    text.eq_ignore_ascii_case(UNKNOWN)
}

#[cfg(test)]
mod tests {
    use super::quoted;

    #[test]
    fn long_lists_are_cut() {
        assert_eq!(quoted(["a"; 12]).matches('`').count(), 24);
        assert!(quoted(["a"; 13]).ends_with("and 1 more"));
    }
}
