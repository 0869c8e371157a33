//! Numbers as they are said: in letters, and as the single characters of fractions.

use rust_decimal::Decimal;

/// Numbers in letters.
const NUMBERS: [(&str, u32); 30] = [
    ("one", 1),
    ("two", 2),
    ("three", 3),
    ("four", 4),
    ("five", 5),
    ("six", 6),
    ("seven", 7),
    ("eight", 8),
    ("nine", 9),
    ("ten", 10),
    ("eleven", 11),
    ("twelve", 12),
    ("dozen", 12),
    ("thirteen", 13),
    ("fourteen", 14),
    ("fifteen", 15),
    ("sixteen", 16),
    ("seventeen", 17),
    ("eighteen", 18),
    ("nineteen", 19),
    ("twenty", 20),
    ("thirty", 30),
    ("forty", 40),
    ("fourty", 40),
    ("fifty", 50),
    ("sixty", 60),
    ("seventy", 70),
    ("eighty", 80),
    ("ninety", 90),
    ("hundred", 100),
];

/// Single characters that are fractions, with what they are in thousandths.
const FRACTIONS: [(char, i64); 7] =
    [('½', 500), ('¼', 250), ('¾', 750), ('⅛', 125), ('⅜', 375), ('⅝', 625), ('⅞', 875)];

/// The number that a word in small letters says.
pub fn in_letters(word: &str) -> Option<u32> {
    NUMBERS.iter().find(|(known, _)| *known == word).map(|(_, number)| *number)
}

/// The fraction that a single character is.
pub fn fraction_sign(sign: char) -> Option<Decimal> {
    FRACTIONS.iter().find(|(known, _)| *known == sign).map(|(_, thousandths)| Decimal::new(*thousandths, 3))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn words_and_signs_are_numbers_and_others_are_none() {
        assert_eq!(
            (in_letters("twelve"), in_letters("dozen"), in_letters("first")),
            (Some(12), Some(12), None)
        );
        assert_eq!(fraction_sign('¾'), Some(Decimal::new(75, 2)));
        assert_eq!(fraction_sign('3'), None);
    }
}
