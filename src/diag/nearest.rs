//! Spelling: the known word that a mistyped one was probably meant to be.

/// More bytes than any word that a record may take has, even if it is mistyped.
const LONGEST_WORD: usize = 200;

/// The word of `known` nearest to `typed`, if any is near enough to be worth suggesting.
///
/// Underscores and spaces count as hyphens and case is ignored, since those are
/// how the right word is most often mistyped.
///
/// Nothing is near to a text of more than 200 bytes, which is longer than any word.
pub fn nearest<'a>(typed: &str, known: impl IntoIterator<Item = &'a str>) -> Option<&'a str> {
    if typed.len() > LONGEST_WORD {
        return None;
    }
    let typed = typed.trim().to_lowercase().replace(['_', ' '], "-");
    known
        .into_iter()
        .map(|word| (strsim::damerau_levenshtein(&typed, word), word))
        .filter(|(distance, word)| *distance <= word.chars().count().max(typed.chars().count()) / 3)
        .min_by_key(|(distance, word)| (*distance, *word))
        .map(|(_, word)| word)
}

#[cfg(test)]
mod tests {
    use super::nearest;

    #[test]
    fn finds_the_word_that_was_meant() {
        let known = ["how-known", "held", "standing", "size"];
        assert_eq!(nearest("standng", known), Some("standing"));
        assert_eq!(nearest("How_Known", known), Some("how-known"));
        assert_eq!(nearest("dle", known), None);
    }
}
