//! What a word or a phrase of a record is taken for: the row of a table that it names, however it is said.
//!
//! A row is named by its id, by the names that are printed for it, and by the words of its `also`; such a form is looked
//! up as a whole. What is no form of the table is read as a phrase. A lookup is made once for a table, when first a
//! word is asked for that is no id, and a form is taken apart when first a phrase has a word of it.

use std::borrow::Cow;
use std::collections::hash_map::Entry;
use std::collections::{BTreeSet, HashMap};
use std::sync::OnceLock;

use super::bearing::SmallWords;
use super::form::Forms;
use super::phrase::{Breadth, Meanings, PhraseReader, Phrases, Reading};
use super::slip::slips;
use super::spoken::{Ambiguous, Misplaced, SpokenTable, WordTable};
use super::table::{TradeRow, by_id};
use super::{BearingTable, Trade};
use crate::fields::Said;
use crate::unit::fold::{folded, folded_words};

/// What a word is taken for.
#[derive(Debug, PartialEq)]
pub enum Taken<'a, R> {
    /// This row.
    Row(&'a R),
    /// Nothing yet: it means several things.
    Asked(&'a Ambiguous),
    /// Nothing yet: as far as it tells it is one of these, or doubtfully the one.
    Between(Vec<&'a R>),
    /// Nothing: it belongs in another place of the record.
    Elsewhere(&'a Misplaced),
    /// Nothing: no table knows it.
    Unknown,
}

impl<'a, R> Taken<'a, R> {
    /// The row, where it is taken for one.
    pub fn row(self) -> Option<&'a R> {
        match self {
            Taken::Row(row) => Some(row),
            _ => None,
        }
    }
}

/// What stands for one form: a position in the table's rows or in the lists of words.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Meaning {
    Row(usize),
    Asked(usize),
    Elsewhere(usize),
}

/// The words of one table. A copy is empty, since rows may be laid over those that it was made of.
#[derive(Debug, Default)]
struct Lookup {
    known: OnceLock<Known>,
    phrases: OnceLock<Phrases>,
}

/// What each form of a table stands for.
#[derive(Debug, Default)]
struct Known {
    /// Every form; of two alike that stand for different things one has no say.
    forms: Forms<Meaning>,
    /// Where it is all that was written.
    whole: HashMap<String, Meaning>,
    /// Where other words stand around it, if that differs: the id of one kind is said of others too.
    within: HashMap<String, Meaning>,
    /// The words about which there is something to ask, by their place in the list.
    asked: HashMap<String, usize>,
}

/// A lookup for each table of words, and which rows are the workshop's own.
#[derive(Debug, Default)]
pub(super) struct Lookups {
    pub(super) own: OwnRows,
    small: OnceLock<SmallWords>,
    tables: [Lookup; WordTable::ALL.len()],
}

impl Clone for Lookups {
    fn clone(&self) -> Lookups {
        Lookups { own: self.own.clone(), ..Lookups::default() }
    }
}

/// Lookups follow from the rows, and those are compared.
impl PartialEq for Lookups {
    fn eq(&self, other: &Lookups) -> bool {
        self.own == other.own
    }
}

/// The rows that are the workshop's own: what a list's rows are called, and the key of the row.
pub(super) type OwnRows = BTreeSet<(&'static str, String)>;

/// Where the words of a table are looked up.
#[derive(Debug)]
pub struct Words<'a, R> {
    pub(super) table: WordTable,
    pub(super) rows: &'a [Said<R>],
    lookup: &'a Lookup,
    small: &'a OnceLock<SmallWords>,
    own: &'a OwnRows,
    spoken: &'a SpokenTable,
    bearings: &'a BearingTable,
}

impl Trade {
    /// Where the words of one of these tables are looked up.
    pub(super) fn words_of<'a, R>(&'a self, table: WordTable, rows: &'a [Said<R>]) -> Words<'a, R> {
        Words {
            table,
            rows,
            lookup: &self.words.tables[table as usize],
            small: &self.words.small,
            own: &self.words.own,
            spoken: &self.spoken,
            bearings: &self.bearings,
        }
    }
}

impl<'a, R: TradeRow> Words<'a, R> {
    /// What a word or phrase is taken for. An id costs no more than the way to its row.
    pub fn taken(&self, word: &str) -> Taken<'a, R> {
        self.understood(word).0
    }

    /// The same, with the words by which a phrase is taken so; without any where it is a form of the table.
    pub fn understood(&self, word: &str) -> (Taken<'a, R>, Vec<String>) {
        if let Some(row) = by_id(self.rows, word) {
            return (Taken::Row(row), Vec::new());
        }
        if let Some(meaning) = self.whole(word) {
            return (self.told(meaning), Vec::new());
        }
        let near = self.nearest(word);
        if !near.is_empty() {
            let rows: Vec<&R> = near.into_iter().map(|(row, _)| row).collect();
            return (Taken::Between(rows), Vec::new());
        }
        let forms = &self.known().forms;
        let phrases = self.lookup.phrases.get_or_init(|| Phrases::of(forms, self.table));
        let small = self.small.get_or_init(|| SmallWords::of(self.bearings));
        let (reading, by) = PhraseReader { phrases, forms, small, meanings: self }.read(word);
        let taken = match reading {
            Reading::Takes(meaning) => self.told(meaning),
            Reading::Asks(meanings) => self.between(&meanings),
            Reading::Nothing => Taken::Unknown,
        };
        (taken, by)
    }

    /// The row that a word is an id or a form of, as it stands.
    pub fn form(&self, word: &str) -> Option<&'a R> {
        by_id(self.rows, word).or_else(|| self.told(self.whole(word)?).row())
    }

    /// The row by whose printed name a paper may call what was written so: the name says no more than that did, and no
    /// less.
    pub fn called(&self, word: &str) -> Option<&'a R> {
        self.form(word).filter(|row| row.key() == word || !row.is_general())
    }

    /// What to ask about a word that is taken for a row, though it means others as well.
    pub fn question(&self, word: &str) -> Option<&'a Ambiguous> {
        let asked = self.known().asked.get(&folded(word));
        asked.map(|at| &self.spoken.ambiguous[*at].value)
    }

    /// Whether a row is the workshop's own.
    pub fn is_own(&self, row: &R) -> bool {
        self.own.contains(&(R::CALLED, row.key().into_owned()))
    }

    /// The row of ours, or the word of several meanings, that a word was for before the workshop's own row took it over.
    pub fn taken_over(&self, word: &str) -> Option<String> {
        let Some(Meaning::Row(at)) = self.whole(word) else { return None };
        if by_id(self.rows, word).is_some() || !self.is_own(&self.rows[at].value) {
            return None;
        }
        let form = folded(word);
        let ours = self.rows.iter().map(|row| &row.value).filter(|row| !self.is_own(row));
        let ours = ours.filter(|row| row.words().into_iter().any(|word| folded(&word.value) == form));
        let mut others = ours.map(|row| row.key().into_owned());
        others.next().or_else(|| self.question(word).map(|row| row.word.value.0.clone()))
    }

    /// The ids and spoken words of rows that a slip of the finger would turn into this one: the likeliest, one for a row.
    ///
    /// Resemblance alone is none: a name has its first letter and its numbers, and what is wrong is a letter or two.
    /// Nothing is near to a word that the table knows.
    pub fn near(&self, typed: &str) -> Vec<String> {
        self.nearest(typed).into_iter().map(|(_, word)| word).collect()
    }

    fn nearest(&self, typed: &str) -> Vec<(&'a R, String)> {
        if by_id(self.rows, typed).is_some() || self.whole(typed).is_some() {
            return Vec::new();
        }
        let typed = folded_words(typed);
        let forms = &self.known().forms;
        let likely = typed.first().into_iter().flat_map(|first| forms.near(first, true));
        let likely = likely.map(|(_, form)| &forms.all()[form]);
        let rows: BTreeSet<usize> = likely
            .filter(|form| slips(&typed, &form.words).is_some())
            .filter_map(|form| if let Meaning::Row(at) = form.meaning { Some(at) } else { None })
            .collect();
        let mut near: Vec<(usize, &R, String)> = Vec::new();
        for row in rows.into_iter().map(|at| &self.rows[at].value) {
            let also = row.words().into_iter().map(|word| Cow::Borrowed(&*word.value.0));
            let words = std::iter::once(row.key()).chain(also);
            let slips = words.filter_map(|word| Some((slips(&typed, &folded_words(&word))?, word)));
            let least = slips.min_by_key(|(few, _)| *few);
            near.extend(least.map(|(few, word)| (few, row, word.into_owned())));
        }
        let least = near.iter().map(|(few, ..)| *few).min();
        near.retain(|(few, ..)| Some(*few) == least);
        near.into_iter().map(|(_, row, word)| (row, word)).take(3).collect()
    }

    fn told(&self, meaning: Meaning) -> Taken<'a, R> {
        match meaning {
            Meaning::Row(at) => Taken::Row(&self.rows[at].value),
            Meaning::Asked(at) => Taken::Asked(&self.spoken.ambiguous[at].value),
            Meaning::Elsewhere(at) => Taken::Elsewhere(&self.spoken.misplaced[at].value),
        }
    }

    /// What is asked where a phrase leaves several meanings, or one in doubt.
    fn between(&self, meanings: &[Meaning]) -> Taken<'a, R> {
        if let [meaning @ (Meaning::Asked(_) | Meaning::Elsewhere(_))] = meanings {
            return self.told(*meaning);
        }
        let mut rows: Vec<&R> = Vec::new();
        for meaning in meanings {
            let found = match self.told(*meaning) {
                Taken::Row(row) => vec![row],
                Taken::Asked(row) => {
                    row.may_be.iter().filter_map(|id| by_id(self.rows, &id.value.0)).collect()
                }
                _ => Vec::new(),
            };
            let new = |row: &&R| !rows.iter().any(|known| std::ptr::eq(*known, *row));
            let new: Vec<&R> = found.into_iter().filter(new).collect();
            rows.extend(new);
        }
        if rows.is_empty() { Taken::Unknown } else { Taken::Between(rows) }
    }

    /// The words of the table that mean several things, with their places in the list.
    fn asked(&self) -> impl Iterator<Item = (usize, &'a Ambiguous)> + use<'a, R> {
        let (table, ambiguous) = (self.table, &self.spoken.ambiguous);
        let rows = ambiguous.iter().map(|row| &row.value).enumerate();
        rows.filter(move |(_, row)| row.r#in.value == table)
    }

    /// Every form of the table with what it stands for, the first of two alike. An id is its row's; then come the
    /// workshop's own words, those that mean several things, those of our rows, and those that belong elsewhere.
    fn forms(&self) -> Vec<(Cow<'a, str>, Meaning)> {
        let mut forms: Vec<(Cow<'a, str>, Meaning)> = Vec::new();
        forms.extend(self.rows.iter().enumerate().map(|(at, row)| (row.value.key(), Meaning::Row(at))));
        let (own, ours): (Vec<_>, Vec<_>) = self
            .rows
            .iter()
            .enumerate()
            .partition(|(_, row)| !self.own.is_empty() && self.is_own(&row.value));
        let of_rows = |(at, row): (usize, &'a Said<R>)| {
            let words = row.value.words().into_iter();
            words.map(move |word| (Cow::Borrowed(&*word.value.0), Meaning::Row(at)))
        };
        forms.extend(own.into_iter().flat_map(of_rows));
        for (at, row) in self.asked() {
            let take = row.take.as_ref();
            let taken = take.and_then(|id| self.rows.iter().position(|row| row.value.key() == id.value.0));
            let meaning = taken.map_or(Meaning::Asked(at), Meaning::Row);
            forms.extend(row.words().into_iter().map(|word| (Cow::Borrowed(&*word.value.0), meaning)));
        }
        forms.extend(ours.into_iter().flat_map(of_rows));
        let misplaced = self.spoken.misplaced.iter().map(|row| &row.value).enumerate();
        for (at, row) in misplaced.filter(|(_, row)| row.r#in.value == self.table) {
            let words = row.words().into_iter();
            forms.extend(words.map(|word| (Cow::Borrowed(&*word.value.0), Meaning::Elsewhere(at))));
        }
        forms
    }

    /// What a form of the table stands for; none where it is asked with a mark of doubt.
    fn whole(&self, word: &str) -> Option<Meaning> {
        if word.contains('?') { None } else { self.of_form(&folded(word)) }
    }

    fn of_form(&self, form: &str) -> Option<Meaning> {
        self.known().whole.get(form).copied()
    }

    fn known(&self) -> &'a Known {
        self.lookup.known.get_or_init(|| {
            let mut known = Known::default();
            for (word, meaning) in self.forms() {
                let words = folded_words(&word);
                let form = words.concat();
                if form.is_empty() {
                    continue;
                }
                let is_general = |meaning| self.breadth(meaning) == Breadth::General;
                match known.whole.entry(form) {
                    Entry::Vacant(new) => {
                        new.insert(meaning);
                    }
                    Entry::Occupied(old) if !is_general(*old.get()) && is_general(meaning) => {
                        known.within.entry(old.key().clone()).or_insert(meaning);
                    }
                    Entry::Occupied(_) => {}
                }
                known.forms.add(words, meaning);
            }
            for (at, row) in self.asked() {
                for word in row.words() {
                    known.asked.entry(folded(&word.value)).or_insert(at);
                }
            }
            known
        })
    }
}

impl<R: TradeRow> Meanings<Meaning> for Words<'_, R> {
    fn breadth(&self, meaning: Meaning) -> Breadth {
        match meaning {
            Meaning::Row(at) if !self.rows[at].value.is_general() => Breadth::Precise,
            Meaning::Row(_) | Meaning::Asked(_) => Breadth::General,
            Meaning::Elsewhere(_) => Breadth::Elsewhere,
        }
    }

    fn includes(&self, general: Meaning, meaning: Meaning) -> bool {
        let Meaning::Row(at) = meaning else { return false };
        let mut open = match general {
            Meaning::Row(general) if general != at => self.rows[general].value.stands_for().to_vec(),
            Meaning::Asked(general) => self.spoken.ambiguous[general].may_be.clone(),
            Meaning::Row(_) | Meaning::Elsewhere(_) => return false,
        };
        // A workshop's rows may name one another in a ring.
        let mut passed: Vec<String> = Vec::new();
        while let Some(id) = open.pop() {
            if self.rows[at].value.key() == id.value.0 {
                return true;
            }
            if !passed.contains(&id.value.0) {
                let row = by_id(self.rows, &id.value.0);
                open.extend(row.map_or(&[][..], |row| row.stands_for()).iter().cloned());
                passed.push(id.value.0);
            }
        }
        false
    }

    fn meaning(&self, form: &str) -> Option<Meaning> {
        let known = self.known();
        known.within.get(form).or_else(|| known.whole.get(form)).copied()
    }
}

#[cfg(test)]
mod tests {
    use std::collections::BTreeMap;

    use super::super::Trade;
    use super::super::table::List;
    use super::*;

    #[test]
    fn spoken_words_are_taken_for_rows() {
        let trade = Trade::built_in();
        let finish = |word: &str| trade.finish(word).map(|row| row.id.0.as_str());
        for word in ["shellac", "French polish", "french-polish", "FRENCH POLISHES"] {
            assert_eq!(finish(word), Some("shellac"), "{word}");
        }
        assert_eq!(finish("danish oil"), Some("wiping-oil-blend"));
        let fixing = |word: &str| trade.fixing(word).map(|row| row.id.0.as_str());
        assert_eq!(fixing("PVA"), Some("pva-glue"));
        assert_eq!(fixing("cross dowel and bolts"), Some("barrel-nut"));
        assert_eq!(trade.term("Wobbly joint").map(|row| row.id.0.as_str()), Some("loose-joint"));
        assert_eq!(trade.timber("Scotch pine").map(|row| row.id.0.as_str()), Some("scots-pine"));
        assert_eq!(finish("oxalic"), None);
        assert_eq!(finish(""), None);
    }

    #[test]
    fn a_slip_of_the_finger_is_seen_and_resemblance_is_none() {
        let trade = Trade::built_in();
        assert_eq!(trade.finish_words().near("shellca"), ["shellac"]);
        assert_eq!(trade.finish_words().near("hsellac"), ["shellac"]);
        assert_eq!(trade.finish_words().near("dansh oil"), ["danish oil"]);
        assert_eq!(trade.timber_words().near("whit-oak"), ["white-oak"]);
        assert_eq!(trade.timber_words().near("sapela"), ["sapele"]);
        for word in ["oxalic acid", "satin paint", "gold leaf", "hardener", "aerosol", ""] {
            assert!(trade.finish_words().near(word).is_empty(), "{word}");
        }
        for word in ["hardwood", "pins", "task", "white elm", "red oat meal", "fir"] {
            assert!(trade.timber_words().near(word).is_empty(), "{word}");
        }
        for word in ["kissing", "broken lass", "gist", "leafing"] {
            assert!(trade.term_words().near(word).is_empty(), "{word}");
        }
        assert!(trade.fixing_words().near("36mm hinge").is_empty());
    }

    #[test]
    fn within_a_table_a_form_stands_for_one_row() {
        for List { key, rows, words } in Trade::built_in().listed().into_iter().flat_map(|table| table.lists)
        {
            let mut forms: BTreeMap<(&str, String), &str> = BTreeMap::new();
            for ((id, _), words) in rows.iter().zip(&words) {
                // Spoken words of no row are those of several tables, each named before a stroke.
                let (table, _) = id.split_once('/').unwrap_or((key, id));
                for word in words {
                    let other = forms.insert((table, folded(word)), id).filter(|other| other != id);
                    assert_eq!(other, None, "[[{key}]] {id}: {word}");
                }
            }
        }
    }

    #[test]
    fn spoken_words_are_sorted_and_say_nothing_twice() {
        for table in Trade::built_in().listed() {
            let lists: toml::Table = table.text.parse().unwrap();
            for row in lists.values().flat_map(|rows| rows.as_array().unwrap()) {
                let Some(also) = row.get("also") else { continue };
                let also: Vec<&str> =
                    also.as_array().unwrap().iter().map(|word| word.as_str().unwrap()).collect();
                let order: Vec<String> = also.iter().map(|word| word.to_lowercase()).collect();
                assert!(order.is_sorted(), "{}: {also:?}", table.file);
                let names =
                    ["id", "word", "name", "label"].into_iter().filter_map(|key| row.get(key)?.as_str());
                let forms: BTreeSet<String> = names.map(folded).collect();
                let all: BTreeSet<String> =
                    also.iter().map(|word| folded(word)).chain(forms.clone()).collect();
                assert_eq!(all.len(), forms.len() + also.len(), "{}: {also:?}", table.file);
                assert!(!all.contains(""), "{}: {also:?}", table.file);
            }
        }
    }

    #[test]
    fn what_is_taken_for_a_word_of_several_meanings_stands_for_each_of_them() {
        fn check<R: TradeRow>(words: &Words<'_, R>) -> usize {
            let taken = words.asked().filter_map(|(at, row)| Some((at, row, row.take.as_ref()?)));
            let mut checked = 0;
            for (at, row, take) in taken {
                let row_at = |id: &str| words.rows.iter().position(|row| row.value.key() == id).expect(id);
                let general = Meaning::Row(row_at(&take.value.0));
                for id in &row.may_be {
                    let one = Meaning::Row(row_at(&id.value.0));
                    let stands = general == one || words.includes(general, one);
                    assert!(
                        stands && words.includes(Meaning::Asked(at), one),
                        "{}: {}",
                        row.word.value.0,
                        id.value.0
                    );
                    checked += 1;
                }
            }
            checked
        }
        let trade = Trade::built_in();
        let checked = check(&trade.board_words())
            + check(&trade.finish_words())
            + check(&trade.fixing_words())
            + check(&trade.timber_words());
        assert!(checked > 100);
        let takes = trade.spoken.ambiguous.iter().filter(|row| row.take.is_some());
        let tables = [WordTable::Board, WordTable::Finish, WordTable::Fixing, WordTable::Timber];
        assert!(takes.map(|row| row.r#in.value).all(|table| tables.contains(&table)));
    }

    #[test]
    fn a_mark_of_doubt_is_asked_about_and_the_id_of_one_kind_stands_for_others_within_a_phrase() {
        let trade = Trade::built_in();
        let timber = |word: &str| trade.timber(word).map(|row| row.id.0.as_str());
        assert_eq!(timber("mahogany"), Some("mahogany"));
        assert_eq!(timber("old mahogany boards"), Some("mahogany-type"));
        assert_eq!(timber("mahogany?"), None);
        assert!(trade.timber_words().question("Mahogany").is_some());
        assert!(matches!(trade.finish_words().taken("shellac?"), Taken::Between(rows) if rows.len() == 1));
    }

    #[test]
    fn long_and_strange_words_are_read_in_no_time_and_taken_for_nothing() {
        let trade = Trade::built_in();
        for word in [
            "oak ".repeat(2500),
            "o".repeat(10_000),
            "\u{202e}\u{0}\u{7}".repeat(3000),
            "дуб и орех".to_owned(),
            "オーク材".to_owned(),
            "no no no no".to_owned(),
            ",;—?".to_owned(),
            String::new(),
        ] {
            assert!(trade.senses(&word).is_empty(), "{word}");
        }
    }
}
