//! Slips of the finger and of the ear: which word was meant by one that is nearly it.

/// How many slips of the finger lie between two names, where so few letters are wrong that the one was meant for the
/// other; each word of one is held against that of the other, or both as a whole where a space is wrong.
pub(super) fn slips(typed: &[String], meant: &[String]) -> Option<usize> {
    if typed.len() == meant.len() {
        return typed.iter().zip(meant).map(|(typed, meant)| slips_of_word(typed, meant)).sum();
    }
    slips_of_word(&typed.concat(), &meant.concat()).filter(|slips| *slips < 2)
}

/// The same for a word: one slip, and two in a long word. A letter stands for another only where a finger or an ear may
/// take the one for the other, and in short words nothing does, since those are other words.
///
/// Source: our own choice.
pub(super) fn slips_of_word(typed: &str, meant: &str) -> Option<usize> {
    let (long, other) = (typed.chars().count(), meant.chars().count());
    let allowed = match long.min(other) {
        0..4 => 0,
        4..12 => 1,
        _ => 2,
    };
    if long.abs_diff(other) > allowed || digits(typed).ne(digits(meant)) || !same_start(typed, meant) {
        return None;
    }
    let slips = strsim::osa_distance(typed, meant);
    let sorted = |word: &str| {
        let mut letters: Vec<char> = word.chars().collect();
        letters.sort_unstable();
        letters
    };
    let replaced = long == other && sorted(typed) != sorted(meant);
    let mut other_letters = typed.chars().zip(meant.chars()).filter(|(typed, meant)| typed != meant);
    let by_mistake = !replaced || long > 5 && other_letters.all(|(typed, meant)| mistaken(typed, meant));
    (slips <= allowed && by_mistake).then_some(slips)
}

/// Whether one letter is written for the other: its key lies beside it, or both are vowels.
fn mistaken(typed: char, meant: char) -> bool {
    const ROWS: [&str; 3] = ["qwertyuiop", "asdfghjkl", "zxcvbnm"];
    let key = |letter: char| {
        ROWS.iter()
            .enumerate()
            .find_map(|(row, keys)| Some((row, keys.chars().position(|key| key == letter)?)))
    };
    let beside = |(row, at): (usize, usize), (other, place): (usize, usize)| {
        row.abs_diff(other) <= 1 && at.abs_diff(place) <= 1
    };
    let vowels = |letter| "aeiouy".contains(letter);
    key(typed).zip(key(meant)).is_some_and(|(typed, meant)| beside(typed, meant))
        || vowels(typed) && vowels(meant)
}

fn digits(word: &str) -> impl Iterator<Item = char> + '_ {
    word.chars().filter(char::is_ascii_digit)
}

/// Whether two forms begin with one letter, or with the same two the other way round.
fn same_start(typed: &str, meant: &str) -> bool {
    let start = |word: &str| {
        let mut letters = word.chars();
        (letters.next(), letters.next())
    };
    let ((first, second), (other, next)) = (start(typed), start(meant));
    first == other || (first == next && second == other)
}
