//! How a phrase is understood: by the words of it that tell something.
//!
//! A maker writes "nasty black water ring on the top" where the table has "black water ring". A phrase is cut into
//! clauses (at commas, `and`) and each clause into its leading and its lesser parts (`on the top`). Then every spoken
//! form of the table is looked for whose words all stand in it, whatever their endings; the longest win. What the
//! leading part turns on must be among the words found: the last one where the table holds things (an oak veneer is
//! a veneer), any one where it holds what happened. Words that tell nothing are passed over. A word that nobody knows may change
//! the meaning, so that no precise row is taken then; and what is denied, doubted or only likened is never taken.

use std::sync::OnceLock;

use super::bearing::{Bearing, SmallWords};
use super::clause::{self, Phrase, Token};
use super::form::Forms;
use super::hearing::Hearing;
use super::slip::slips_of_word;
use super::spoken::WordTable;
use super::stem::{Ending, begun_otherwise, ending};

/// No spoken form has more words.
pub(super) const LONGEST_FORM: usize = 8;

/// Shorter words are not taken for others that were meant.
const SHORTEST_SLIP: usize = 5;

/// What rows a table holds.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Kind {
    /// Things, which a phrase names last: an oak veneer is a veneer.
    Things,
    /// What is laid or used on them, which a phrase may name by what was done: `waxed`.
    Coats,
    /// What is seen or was done, which a phrase says anywhere.
    Happenings,
}

impl Kind {
    /// Whether a phrase names them last.
    pub(super) fn is_things(self) -> bool {
        self != Kind::Happenings
    }
}

/// How far a form may be trusted with words around it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Breadth {
    /// One sort, which another word may make another sort.
    Precise,
    /// All sorts of a kind, or what is asked about anyway.
    General,
    /// Something of another table.
    Elsewhere,
}

/// What the forms of a table stand for.
pub(super) trait Meanings<M> {
    /// How wide a meaning is.
    fn breadth(&self, meaning: M) -> Breadth;
    /// Whether a general meaning stands for this one too.
    fn includes(&self, general: M, meaning: M) -> bool;
    /// What stands for a form as a whole.
    fn meaning(&self, form: &str) -> Option<M>;
}

/// What a phrase is taken for.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) enum Reading<M> {
    /// One meaning.
    Takes(M),
    /// One of these, as far as the phrase tells.
    Asks(Vec<M>),
    /// Nothing.
    Nothing,
}

/// The spoken forms of a table as phrases are held against them.
#[derive(Debug)]
pub(super) struct Phrases {
    pub(super) table: WordTable,
    /// Each form by its stems, once a phrase has a word of it; nothing for one that tells too little or has no say.
    patterns: Vec<OnceLock<Option<Pattern>>>,
}

/// A spoken form by the stems of its words.
#[derive(Debug)]
pub(super) struct Pattern {
    pub(super) stems: Vec<String>,
    /// Whether the order of its words matters: it says what lies over what.
    pub(super) ordered: bool,
    /// Whether it joins two things.
    pub(super) joined: bool,
    /// The ending, where it is one word that has one: `yellowing` is not `yellow`.
    pub(super) ending: Option<Ending>,
}

/// The forms of a table, with what else a phrase is read by.
#[derive(Debug)]
pub(super) struct PhraseReader<'a, M, S> {
    pub(super) phrases: &'a Phrases,
    pub(super) forms: &'a Forms<M>,
    pub(super) small: &'a SmallWords,
    pub(super) meanings: &'a S,
}

impl Phrases {
    /// The forms of a table, none of which has been looked at yet.
    pub(super) fn of<M>(forms: &Forms<M>, table: WordTable) -> Phrases {
        Phrases { table, patterns: forms.all().iter().map(|_| OnceLock::new()).collect() }
    }
}

impl<M: Copy + PartialEq, S: Meanings<M>> PhraseReader<'_, M, S> {
    /// What a phrase is taken for, and the words by which it is.
    pub(super) fn read(&self, phrase: &str) -> (Reading<M>, Vec<String>) {
        let Some(mut phrase) = self.cut(phrase) else { return (Reading::Nothing, Vec::new()) };
        for token in &mut phrase.tokens {
            // How badly or slightly tells nothing.
            if token.tells() && !token.known() && token.form.ends_with("ly") {
                token.bearing = Some(Bearing::Passes);
            }
        }
        let slipped = self.put_right(&mut phrase);
        let (reading, words) = Hearing { reader: self, phrase: &phrase }.answer();
        let reading = match reading {
            Reading::Takes(meaning) if slipped => Reading::Asks(vec![meaning]),
            reading => reading,
        };
        (reading, phrase.typed(words))
    }

    /// A phrase in its words, clauses and parts; `None` where it is too long for one.
    fn cut(&self, phrase: &str) -> Option<Phrase> {
        let table = self.phrases.table;
        let mut phrase = Phrase::of(phrase, self.forms)?;
        phrase.bear(self.small, table);
        for token in &mut phrase.tokens {
            token.take_stem();
            token.forms = self.forms_of(&token.stem);
        }
        phrase.cut(table.kind());
        Some(phrase)
    }

    /// The forms that have a word of this stem, in their order.
    fn forms_of(&self, stem: &str) -> Vec<usize> {
        let beginnings = std::iter::once(stem).chain(begun_otherwise(stem));
        let mut forms: Vec<usize> = beginnings.flat_map(|word| self.forms.beginning_as(word)).collect();
        forms.sort_unstable();
        forms.dedup();
        forms.retain(|form| {
            self.pattern(*form).is_some_and(|pattern| pattern.stems.iter().any(|of| of == stem))
        });
        forms
    }

    /// A form by its stems; none where it tells too little, or where another row has it.
    pub(super) fn pattern(&self, form: usize) -> Option<&Pattern> {
        self.phrases.patterns[form].get_or_init(|| self.taken_apart(form)).as_ref()
    }

    fn taken_apart(&self, form: usize) -> Option<Pattern> {
        let form = &self.forms.all()[form];
        if self.meanings.meaning(&form.words.concat()) != Some(form.meaning) {
            return None;
        }
        let mut tokens: Vec<Token> = Vec::new();
        form.words.iter().for_each(|word| clause::add(&mut tokens, word, (0, 0), false, self.forms));
        clause::bear(&mut tokens, &[], self.small, self.phrases.table);
        tokens.iter_mut().for_each(Token::take_stem);
        let needed = |token: &&Token| {
            !matches!(token.bearing, Some(Bearing::Silent | Bearing::Of | Bearing::Parts | Bearing::Joins))
        };
        let mut stems: Vec<String> = Vec::new();
        for token in tokens.iter().filter(needed) {
            if !stems.contains(&token.stem) {
                stems.push(token.stem.clone());
            }
        }
        // What is left of `in the drawer with it` or `our oil` tells too little: they count as they stand.
        let telling = tokens.iter().any(Token::tells_within) && (tokens.len() == 1 || stems.len() > 1);
        (telling && stems.len() <= LONGEST_FORM).then(|| Pattern {
            stems,
            ordered: tokens.iter().filter(needed).any(|token| token.bearing == Some(Bearing::Lies)),
            joined: tokens.iter().any(|token| token.bearing == Some(Bearing::Joins)),
            ending: if let [one] = &tokens[..] { ending(&one.form) } else { None },
        })
    }

    /// Takes each unknown word for the one known word that a slip of the finger makes it of; whether there was one.
    fn put_right(&self, phrase: &mut Phrase) -> bool {
        let mut slipped = false;
        if phrase.tokens.len() < 2 {
            return false;
        }
        for token in phrase.tokens.iter_mut().filter(|token| token.tells() && !token.known()) {
            if token.form.chars().count() < SHORTEST_SLIP {
                continue;
            }
            if let Some(word) = self.meant(&token.form) {
                token.form = word.to_owned();
                token.take_stem();
                token.forms = self.forms_of(&token.stem);
                slipped = true;
            }
        }
        slipped
    }

    /// The one word of the forms that a slip of the finger turns into this one.
    fn meant(&self, typed: &str) -> Option<&str> {
        // Another ending makes another word, not a wrong one.
        let ending = |word: &str| {
            let ascii = word.is_ascii() && typed.is_ascii();
            ascii && word.len() == typed.len() && word[..word.len() - 1] == typed[..word.len() - 1]
        };
        let words = self.forms.near(typed, false).filter(|(word, _)| !ending(word));
        let near: Vec<(usize, &str)> =
            words.filter_map(|(word, _)| Some((slips_of_word(typed, word)?, word))).collect();
        let least = near.iter().map(|(slips, _)| *slips).min();
        let mut meant = near.iter().filter(|(slips, _)| Some(*slips) == least).map(|(_, word)| *word);
        let first = meant.next()?;
        meant.all(|word| word == first).then_some(first)
    }
}

#[cfg(test)]
mod tests {
    use super::super::Trade;
    use super::super::lookup::Taken;

    /// What a phrase is taken for in a table, `?` and the ids where it is asked about, and nothing where it is unknown.
    macro_rules! taken {
        ($words:ident, $phrase:expr) => {
            match Trade::built_in().$words().taken($phrase) {
                Taken::Row(row) => row.id.0.clone(),
                Taken::Asked(row) => format!("? {}", row.word.value.0),
                Taken::Between(rows) => {
                    format!("? {}", rows.iter().map(|row| row.id.0.as_str()).collect::<Vec<_>>().join(" "))
                }
                Taken::Elsewhere(_) => "elsewhere".to_owned(),
                Taken::Unknown => String::new(),
            }
        };
    }

    #[test]
    fn telling_words_endings_and_the_longest_form_decide() {
        assert_eq!(taken!(term_words, "nasty black water ring on the top"), "black-ring");
        assert_eq!(taken!(term_words, "veneer on the door split"), "veneer-crack");
        assert_eq!(taken!(term_words, "top splitting at one end"), "split");
        assert_eq!(taken!(finish_words, "three coats of thinned shellac"), "shellac");
        assert_eq!(taken!(finish_words, "rubbed in oil"), "oil-unknown");
        assert_eq!(taken!(fixing_words, "brass castors, one missing"), "castor");
        assert_eq!(taken!(timber_words, "walnut, french, figured"), "european-walnut");
    }

    #[test]
    fn a_thing_is_named_last_and_what_follows_a_small_word_is_the_lesser_part() {
        assert_eq!(taken!(timber_words, "oak with ebony stringing"), "oak");
        assert_eq!(taken!(timber_words, "painted pine"), "pine");
        assert_eq!(taken!(timber_words, "softwood painted black"), "softwood");
        assert_eq!(taken!(timber_words, "elm veneer"), "? elm");
        assert_eq!(taken!(timber_words, "oak barrel"), "? oak");
        assert_eq!(taken!(finish_words, "japanned tin box"), "japanning");
        assert_eq!(taken!(fixing_words, "screws in oak pegs"), "screw");
    }

    #[test]
    fn a_word_that_nobody_knows_makes_no_precise_row() {
        assert_eq!(taken!(finish_words, "quondam shellac"), "? shellac");
        assert_eq!(taken!(finish_words, "burr oxide oil"), "oil-unknown");
        assert_eq!(taken!(finish_words, "tung nut lacquer"), "lacquer-unknown");
        assert_eq!(taken!(timber_words, "quondam european oak"), "oak");
    }

    #[test]
    fn what_may_be_about_something_else_is_asked_or_nothing() {
        // What a thing is of tells what it is.
        assert_eq!(taken!(fixing_words, "wedge of cheese"), "? wedge");
        assert_eq!(taken!(fixing_words, "knob of brass"), "knob-metal");
        // A mixture with something that nobody knows.
        assert_eq!(taken!(finish_words, "rottenstone and oil"), "? oil-unknown");
        assert_eq!(taken!(timber_words, "oak carved and gilded"), "oak");
        // What somebody is to do, and one word beside others that nobody knows.
        assert_eq!(taken!(term_words, "check the size"), "? check");
        assert_eq!(taken!(term_words, "split the whole length"), "split");
        assert_eq!(taken!(term_words, "dent in the budget"), "? dent");
        assert_eq!(taken!(term_words, "want to replace the feet"), "? replaced-part-found");
        // Turns of speech keep the words that stand outside of them.
        assert_eq!(taken!(term_words, "shake hands"), "");
        assert_eq!(taken!(term_words, "bow fronted drawer split"), "split");
    }

    #[test]
    fn words_that_stand_together_are_not_torn_apart() {
        assert_eq!(taken!(term_words, "loose veneer on the drawer front"), "lifting-veneer");
        assert_eq!(taken!(fixing_words, "wooden corner blocks glued and screwed"), "corner-block");
        assert!(taken!(finish_words, "stained and varnished").starts_with('?'));
    }

    #[test]
    fn what_is_denied_doubted_or_likened_is_never_taken() {
        for phrase in ["no worm", "no sign of worm or rot", "cracks: none", "not warped"] {
            assert_eq!(taken!(term_words, phrase), "", "{phrase}");
        }
        assert_eq!(taken!(term_words, "no worm but rotten feet"), "rot");
        assert_eq!(taken!(timber_words, "deal, not oak"), "softwood");
        for phrase in
            ["maybe shellac", "shellac, I think", "shellac?", "like shellac", "shellac, later removed"]
        {
            assert_eq!(taken!(finish_words, phrase), "? shellac", "{phrase}");
        }
        assert_eq!(taken!(timber_words, "oak or chestnut"), "? oak chestnut");
        assert_eq!(taken!(finish_words, "varnish remover"), "");
    }

    #[test]
    fn words_written_apart_or_together_are_one() {
        assert_eq!(taken!(finish_words, "waterbased satin varnish"), "water-polyurethane");
        assert_eq!(taken!(term_words, "chip board back"), "");
        assert_eq!(taken!(board_words, "thick chip board shelf"), "chipboard");
        assert_eq!(taken!(fixing_words, "eight woodscrews"), "screw");
        assert_eq!(taken!(fixing_words, "screws, no. 8"), "screw");
    }

    #[test]
    fn what_lies_over_what_matters() {
        assert_eq!(taken!(finish_words, "wax over the old shellac"), "wax-over-film");
        assert_ne!(taken!(finish_words, "shellac over the old wax"), "wax-over-film");
    }
}
