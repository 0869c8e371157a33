//! Words at the start of a sentence.

/// The same text with a capital at its start.
pub fn capital(text: &str) -> String {
    let mut characters = text.chars();
    match characters.next() {
        Some(first) => first.to_uppercase().chain(characters).collect(),
        None => String::new(),
    }
}

#[cfg(test)]
mod tests {
    #[test]
    fn the_first_letter_alone_is_changed() {
        assert_eq!(["", "a b", "éclat", "ßa", "1 a"].map(super::capital), ["", "A b", "Éclat", "SSa", "1 a"]);
    }
}
