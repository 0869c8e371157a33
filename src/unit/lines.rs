//! Lines of a width: how running text is broken, and how much of a line fits.

use console::measure_text_width;

/// Running text broken at spaces to lines of a width, each after the first led in by `indent`, which is not counted.
pub fn wrapped(text: &str, width: usize, indent: &str) -> String {
    let mut lines = String::new();
    let mut column = 0;
    for word in text.split_whitespace() {
        let length = measure_text_width(word);
        if column > 0 && column + 1 + length > width {
            lines.push('\n');
            lines.push_str(indent);
            column = 0;
        } else if column > 0 {
            lines.push(' ');
            column += 1;
        }
        lines.push_str(word);
        column += length;
    }
    lines
}

/// The beginning of a text that is at most so many columns wide. What joins a character to the one before it stays.
pub fn beginning(text: &str, width: usize) -> &str {
    let fits = |(place, _): &(usize, char)| measure_text_width(&text[..*place]) <= width;
    let last = starts(text).chain([(text.len(), '\0')]).take_while(fits).last();
    &text[..last.map_or(0, |(place, _)| place)]
}

/// The end of a text that is at most so many columns wide.
pub fn ending(text: &str, width: usize) -> &str {
    let fits = |(place, _): &(usize, char)| measure_text_width(&text[*place..]) <= width;
    let first = starts(text).find(fits);
    &text[first.map_or(text.len(), |(place, _)| place)..]
}

/// Where the characters of a text begin that take room of their own.
fn starts(text: &str) -> impl Iterator<Item = (usize, char)> {
    let takes_room = |character: char| measure_text_width(character.encode_utf8(&mut [0; 4])) > 0;
    text.char_indices().filter(move |(place, character)| *place == 0 || takes_room(*character))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lines_are_as_long_as_they_may_be_and_no_longer() {
        assert_eq!(wrapped("ab cd ef", 5, "  "), "ab cd\n  ef");
        assert_eq!(wrapped("ab cd ef", 4, ""), "ab\ncd\nef");
        assert_eq!(wrapped("", 4, ""), "");
    }

    #[test]
    fn what_fits_is_measured_in_columns_and_tears_no_character() {
        assert_eq!([beginning("äöü", 2), ending("äöü", 2)], ["äö", "öü"]);
        assert_eq!([beginning("木の家", 3), ending("木の家", 3)], ["木", "家"]);
        let combined = "e\u{301}e\u{301}";
        assert_eq!([beginning(combined, 1), ending(combined, 1)], ["e\u{301}"; 2]);
        assert_eq!(
            [beginning("oak", 9), ending("oak", 9), beginning("oak", 0), ending("oak", 0)],
            ["oak", "oak", "", ""]
        );
    }
}
