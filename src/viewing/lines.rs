//! Which lines a change takes away and which it brings.

use serde::Serialize;

/// A line near a change.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Line {
    /// A space where it stays, `-` where it goes, `+` where it comes.
    pub sign: char,
    /// Its number, counted from 1, in the text that has it; in the new one where it stays.
    pub number: usize,
    /// The line, without its end.
    pub text: String,
}

/// How many lines that stay are shown around a change.
const AROUND: usize = 3;

/// Beyond this many lines on both sides, a change is shown as all of the old ones and all of the new ones.
const MOST: usize = 2000;

/// The lines that differ between two texts, with a few around them. Empty where none does.
pub fn difference(old: &str, new: &str) -> Vec<Line> {
    let (old, new): (Vec<&str>, Vec<&str>) = (old.lines().collect(), new.lines().collect());
    let same = |pair: &(&&str, &&str)| pair.0 == pair.1;
    let head = old.iter().zip(&new).take_while(same).count();
    let tail = old[head..].iter().rev().zip(new[head..].iter().rev()).take_while(same).count();
    let (gone, fresh) = (&old[head..old.len() - tail], &new[head..new.len() - tail]);
    if gone.is_empty() && fresh.is_empty() {
        return Vec::new();
    }
    let stays = |place: usize| Line { sign: ' ', number: place + 1, text: new[place].to_owned() };
    let mut lines: Vec<Line> = (head.saturating_sub(AROUND)..head).map(stays).collect();
    lines.extend(between(gone, fresh, head));
    lines.extend((new.len() - tail..new.len().min(new.len() - tail + AROUND)).map(stays));
    lines
}

/// The lines of a stretch in which the texts differ, after so many that they have in common.
fn between(old: &[&str], new: &[&str], before: usize) -> Vec<Line> {
    let line =
        |sign, place: usize, text: &str| Line { sign, number: before + place + 1, text: text.to_owned() };
    let (mut i, mut j) = (0, 0);
    let mut lines = Vec::new();
    // How many lines the rests have in common, by the lengths already walked; only for stretches of a sensible size.
    let common = if old.len() * new.len() <= MOST * MOST { common(old, new) } else { Vec::new() };
    let width = new.len() + 1;
    while i < old.len() || j < new.len() {
        let at = |i: usize, j: usize| common.get(i * width + j).copied().unwrap_or(0);
        if i < old.len() && j < new.len() && old[i] == new[j] && !common.is_empty() {
            lines.push(line(' ', j, new[j]));
            (i, j) = (i + 1, j + 1);
        } else if i < old.len() && (j == new.len() || at(i + 1, j) >= at(i, j + 1)) {
            lines.push(line('-', i, old[i]));
            i += 1;
        } else {
            lines.push(line('+', j, new[j]));
            j += 1;
        }
    }
    lines
}

/// The length of the longest common subsequence of each pair of rests.
fn common(old: &[&str], new: &[&str]) -> Vec<u32> {
    let width = new.len() + 1;
    let mut table = vec![0; (old.len() + 1) * width];
    for i in (0..old.len()).rev() {
        for j in (0..new.len()).rev() {
            table[i * width + j] = if old[i] == new[j] {
                table[(i + 1) * width + j + 1] + 1
            } else {
                table[(i + 1) * width + j].max(table[i * width + j + 1])
            };
        }
    }
    table
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    fn shown(old: &str, new: &str) -> String {
        difference(old, new)
            .iter()
            .map(|line| format!("{}{} {}\n", line.sign, line.number, line.text))
            .collect()
    }

    #[test]
    fn a_change_is_shown_with_a_few_lines_around_it() {
        assert_eq!(shown("a\nb\n", "a\nb\n"), "");
        assert_eq!(
            shown("a\nb\nc\nd\ne\nf\n", "a\nb\nc\nd\nX\ne\nf\n"),
            " 2 b\n 3 c\n 4 d\n+5 X\n 6 e\n 7 f\n"
        );
        assert_eq!(shown("a\nb\nc\n", "a\nB\nc\n"), " 1 a\n-2 b\n+2 B\n 3 c\n");
        assert_eq!(shown("a\nb\nc\nd\n", "X\nb\nc\nY\n"), "-1 a\n+1 X\n 2 b\n 3 c\n-4 d\n+4 Y\n");
        assert_eq!(shown("", "a\n"), "+1 a\n");
    }

    proptest! {
        /// What stays and goes is the old stretch, what stays and comes is the new one.
        #[test]
        fn both_texts_can_be_read_off(old in "([abc]\n){0,12}", new in "([abc]\n){0,12}") {
            let lines = difference(&old, &new);
            let of = |text: &str, sign: char| {
                let numbered: Vec<&str> = text.lines().collect();
                lines.iter().filter(|line| line.sign == sign).all(|line| numbered[line.number - 1] == line.text)
            };
            prop_assert!(of(&old, '-') && of(&new, '+') && of(&new, ' '));
            let count = |sign: char| lines.iter().filter(|line| line.sign == sign).count();
            prop_assert_eq!(old.lines().count() + count('+'), new.lines().count() + count('-'));
            prop_assert_eq!(lines.is_empty(), old == new);
        }
    }
}
