//! The order of a job: words by which its steps are told apart.

use super::Trade;
use super::stem::stems;
use super::table::{by_id, trade_row, trade_table};
use crate::fields::{Id, Said, Text};

trade_row! {
    /// Words that tell one kind of step or surface.
    pub struct SequenceWords ("[[sequence]]") {
        /// The kind.
        "id" => id: Said<Id>,
        /// The words.
        "words" => words: Vec<Said<Text>>,
        /// Where the row comes from.
        "source" => source: Said<Text>,
    }
}

trade_table! {
    /// The table of the order of a job.
    pub struct SequenceTable ("sequence.toml") {
        /// The rows.
        "sequence" => rows: Vec<Said<SequenceWords>>,
    }
}

/// What words tell of a step or a surface.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Telling {
    /// A part is taken off.
    TakeOff,
    /// A part is put back.
    PutBack,
    /// A surface that is done before those outside.
    Inside,
    /// A test of what dissolves a coat.
    Solubility,
}

impl Trade {
    /// Whether a text has words of a kind.
    pub fn tells(&self, telling: Telling, text: &str) -> bool {
        self.tells_of(telling, text, "")
    }

    /// The same, where the words may also stand around the name of what they are done to.
    pub fn tells_of(&self, telling: Telling, text: &str, name: &str) -> bool {
        let id = match telling {
            Telling::TakeOff => "take-off",
            Telling::PutBack => "put-back",
            Telling::Inside => "inside",
            Telling::Solubility => "solubility",
        };
        let Some(row) = by_id(&self.sequences.rows, id) else { return false };
        let (said, name) = (words(text), words(name));
        row.words
            .iter()
            .map(|phrase| words(phrase))
            .any(|phrase| has(&said, &phrase) || (!name.is_empty() && has_around(&said, &phrase, &name)))
    }
}

/// Whether some words stand together among others.
fn has(said: &[String], wanted: &[String]) -> bool {
    !wanted.is_empty() && said.windows(wanted.len()).any(|window| window == wanted)
}

/// How many words may stand between the two of a phrase, such as those of `took the old back board off`.
const CLOSE: usize = 5;

/// Whether two words stand around one of others, or around a word for it.
fn has_around(said: &[String], wanted: &[String], around: &[String]) -> bool {
    let [first, second] = wanted else { return false };
    let begins = said.iter().enumerate().filter(|(_, word)| *word == first).map(|(at, _)| at + 1);
    begins.into_iter().any(|begin| {
        let near = &said[begin..said.len().min(begin + CLOSE + 1)];
        let end = near.iter().position(|word| word == second);
        let named = |word: &String| around.contains(word) || ["it", "them"].contains(&word.as_str());
        end.is_some_and(|end| near[..end].iter().any(named))
    })
}

/// A text's words without their endings.
fn words(text: &str) -> Vec<String> {
    stems(text).split_whitespace().map(str::to_owned).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn words_in_all_their_endings() {
        let trade = Trade::built_in();
        for text in ["Took off the back board", "removing the drawer stops", "the plinth was unscrewed"] {
            assert!(trade.tells(Telling::TakeOff, text), "{text}");
        }
        for text in ["took the dust off", "offered up the new runner", ""] {
            assert!(!trade.tells(Telling::TakeOff, text), "{text}");
        }
        assert!(trade.tells_of(Telling::TakeOff, "took the old back board off", "Back boards"));
        assert!(!trade.tells_of(Telling::TakeOff, "took the dust off", "Back board"));
        assert!(trade.tells(Telling::PutBack, "Refitted both doors"));
        assert!(trade.tells(Telling::Inside, "Carcase, inside") && !trade.tells(Telling::Inside, "Outside"));
        assert!(trade.tells(Telling::Solubility, "methylated spirits on a hidden spot"));
    }
}
