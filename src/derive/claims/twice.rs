//! What the workshop tells of one thing twice in its own words: as a caution, and of what it left as it is.

use std::collections::HashSet;

use super::telling::Telling;
use crate::fields::{Said, Text};
use crate::record::Undone;
use crate::trade::stem;
use crate::unit::fold::plain;

/// Words of so few letters, and names of so few words, tell nothing alone.
const TELLING: usize = 4;
const NAME: usize = 3;

/// What of a row of what was left a caution tells too.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub(super) struct Twice {
    /// What it is.
    pub(super) what: bool,
    /// What it means in use.
    pub(super) effect: bool,
}

/// What of a row of what was left the workshop's cautions tell too: what it is where they name it so, and what it means in
/// use where both speak of one danger, mostly in the same words.
pub(super) fn twice(telling: &Telling<'_>, undone: &Undone) -> Twice {
    let cautions = telling.record.r#use.iter().flat_map(|used| &used.cautions);
    cautions.into_iter().fold(Twice::default(), |told, caution| Twice {
        what: told.what || names(caution, &undone.what),
        effect: told.effect
            || undone.effect.as_ref().is_some_and(|effect| {
                of_one_danger(telling, caution, effect) && says_mostly(caution, effect)
            }),
    })
}

fn of_one_danger(telling: &Telling<'_>, caution: &Said<Text>, effect: &Said<Text>) -> bool {
    let mut hazards = telling.facts.hazards.iter();
    hazards.any(|implied| implied.cautions.contains(caution) && implied.effects.contains(effect))
}

fn words(text: &str) -> Vec<String> {
    let text = plain(text);
    let words = text.split(|letter: char| !letter.is_alphanumeric());
    words.filter(|word| !word.is_empty()).map(str::to_owned).collect()
}

/// Whether a text has these words one after the other.
fn names(text: &str, what: &str) -> bool {
    let (text, what) = (words(text), words(what));
    what.len() >= NAME && text.windows(what.len()).any(|window| *window == what[..])
}

/// Whether more than half of what a text tells stands in another.
fn says_mostly(other: &str, text: &str) -> bool {
    let telling = |text: &str| -> HashSet<String> {
        words(text).iter().filter(|word| word.chars().count() >= TELLING).map(|word| stem(word)).collect()
    };
    let (other, text) = (telling(other), telling(text));
    !text.is_empty() && 2 * text.intersection(&other).count() > text.len()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_named_in_the_same_words_is_told() {
        assert!(names("The lid has no stay, and falls.", "the lid has no stay"));
        assert!(!names("The lid has a new stay, and falls.", "the lid has no stay"));
        // A word alone may stand anywhere.
        assert!(!names("Lift the lid with both hands.", "the lid"));
    }

    #[test]
    fn an_act_is_told_where_most_of_its_words_are() {
        let caution = "There is lead in the old paint. Where it chips, wipe it wet and touch it in.";
        assert!(says_mostly(caution, "Where the paint is chipped, wipe it wet."));
        assert!(!says_mostly(
            caution,
            "Flakes in the drawer hold lead too: vacuum them before the first use."
        ));
        assert!(!says_mostly(caution, ""));
    }
}
