//! Words as they are searched for: each with the other ways of saying it that the trade's tables know.

use crate::trade::{Entry, Trade, stems};
use crate::unit::fold::{folded, plain, spellings};

/// No more words of a question are looked at.
const MOST_WORDS: usize = 24;

/// A phrase of the tables has at most so many words.
const LONGEST_PHRASE: usize = 4;

/// One thing that is asked for, as it was said and as others say it.
#[derive(Debug, Clone, PartialEq, Eq)]
struct Group {
    said: Vec<String>,
    others: Vec<String>,
    /// Whether so many lines have it that it tells none from another.
    common: bool,
}

/// What is searched for. Nothing of what was typed is taken for a command of the search.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Wording {
    typed: String,
    groups: Vec<Group>,
}

impl Wording {
    /// What somebody typed, widened by the tables.
    pub fn of(typed: &str, trade: &Trade) -> Wording {
        let words: Vec<String> = words(typed).into_iter().take(MOST_WORDS).collect();
        let mut groups = Vec::new();
        let mut at = 0;
        while at < words.len() {
            let longest = LONGEST_PHRASE.min(words.len() - at);
            let phrase = (1..=longest).rev().find_map(|length| {
                let said = &words[at..at + length];
                let others = others(said, trade);
                (!others.is_empty()).then(|| Group { said: said.to_vec(), others, common: false })
            });
            let alone = || Group { said: vec![words[at].clone()], others: Vec::new(), common: false };
            let group = phrase.unwrap_or_else(alone);
            at += group.said.len();
            groups.push(group);
        }
        for group in &mut groups {
            let spelt = group.said.iter().flat_map(|word| match group.said.len() {
                1 => spellings(word),
                _ => Vec::new(),
            });
            let spelt: Vec<String> = spelt.filter(|word| !group.others.contains(word)).collect();
            group.others.extend(spelt);
        }
        Wording { typed: typed.trim().to_owned(), groups }
    }

    /// What was typed.
    pub fn typed(&self) -> &str {
        &self.typed
    }

    /// Whether there is nothing in it that has letters or digits.
    pub fn is_wordless(&self) -> bool {
        self.groups.is_empty()
    }

    /// The other ways of saying each thing, with what was said.
    pub fn widened_by(&self) -> impl Iterator<Item = (String, &[String])> {
        let widened = self.groups.iter().filter(|group| !group.others.is_empty());
        widened.map(|group| (group.said.join(" "), group.others.as_slice()))
    }

    /// Notes of each thing whether so many lines have it, as it was said, that it tells none from another.
    pub(super) fn note_common<E>(
        &mut self,
        mut is_common: impl FnMut(&str) -> Result<bool, E>,
    ) -> Result<(), E> {
        for group in &mut self.groups {
            group.common = is_common(&group.whole())?;
        }
        Ok(())
    }

    /// The things that so many lines have.
    pub fn common(&self) -> impl Iterator<Item = String> {
        self.groups.iter().filter(|group| group.common).map(|group| group.said.join(" "))
    }

    /// Whether some thing that is asked for is not in so many lines.
    pub fn tells_something(&self) -> bool {
        self.groups.iter().any(|group| !group.common)
    }

    /// A query for lines that have all words as they were said; `None` where there are none. What tells nothing is left out
    /// where something else tells.
    pub(super) fn direct(&self) -> Option<String> {
        self.query(" AND ", |group| group.whole())
    }

    /// A query for lines that have all things, however they are said.
    pub(super) fn widened(&self) -> Option<String> {
        self.query(" AND ", Group::either)
    }

    /// A query for lines that have words which begin so.
    pub(super) fn beginnings(&self) -> Option<String> {
        self.query(" AND ", |group| {
            let begin = |word: &String| {
                if word.chars().count() > 2 { format!("{} *", quoted(word)) } else { quoted(word) }
            };
            group.said.iter().map(begin).collect::<Vec<_>>().join(" AND ")
        })
    }

    /// A query for lines that have any of the things, however they are said.
    pub(super) fn any(&self) -> Option<String> {
        self.query(" OR ", Group::either)
    }

    /// Whether some words are those of a text, in any of their forms.
    pub(super) fn is_like(&self, text: &str) -> bool {
        let form = folded(text);
        let is = |group: &Group| {
            folded(&group.said.join(" ")) == form || group.others.iter().any(|other| folded(other) == form)
        };
        !form.is_empty()
            && (folded(&self.typed) == form || self.groups.len() == 1 && self.groups.iter().any(is))
    }

    /// Whether any of the things is this text, in any of its forms.
    pub(super) fn has(&self, text: &str) -> bool {
        let form = folded(text);
        let is = |group: &Group| {
            folded(&group.said.join(" ")) == form || group.others.iter().any(|other| folded(other) == form)
        };
        !form.is_empty() && self.groups.iter().any(is)
    }

    /// The single words that were said, without those that so many lines have.
    pub(super) fn telling(&self) -> impl Iterator<Item = &String> {
        self.groups.iter().filter(|group| !group.common).flat_map(|group| &group.said)
    }

    fn query(&self, joined: &str, each: impl Fn(&Group) -> String) -> Option<String> {
        let all = !self.tells_something();
        let groups = self.groups.iter().filter(|group| all || !group.common);
        let groups: Vec<String> = groups.map(|group| format!("({})", each(group))).collect();
        (!groups.is_empty()).then(|| groups.join(joined))
    }
}

impl Group {
    /// A query for all words that were said.
    fn whole(&self) -> String {
        self.said.iter().map(|word| quoted(word)).collect::<Vec<_>>().join(" AND ")
    }

    /// A query for any way of saying it.
    fn either(&self) -> String {
        let said = self.whole();
        let others = self.others.iter().filter(|other| !words(other).is_empty()).map(|other| quoted(other));
        std::iter::once(format!("({said})")).chain(others).collect::<Vec<_>>().join(" OR ")
    }
}

/// The words of a text as the index has them.
fn words(text: &str) -> Vec<String> {
    let plain = plain(text);
    plain.split(|c: char| !c.is_alphanumeric()).filter(|word| !word.is_empty()).map(str::to_owned).collect()
}

/// The other ways of saying a phrase that some table knows as it stands; those of every table that does.
fn others(said: &[String], trade: &Trade) -> Vec<String> {
    let phrase = said.join(" ");
    let mut others: Vec<String> = Vec::new();
    let mut named = trade.named(&phrase);
    // A phrase that is a form of one thing's own name, as `scraped` of the scraper's, says another only by the way.
    if named.iter().any(|entry| is_called_so(entry, said)) {
        named.retain(|entry| is_called_so(entry, said));
    }
    for entry in named {
        let name = entry.name.split(':').next().unwrap_or_default().to_owned();
        for other in [entry.id.replace('-', " "), name].into_iter().chain(entry.also) {
            let known = |known: &String| folded(known) == folded(&other);
            if folded(&other) != folded(&phrase) && !others.iter().any(known) {
                others.push(other);
            }
        }
    }
    for other in trade.may_mean(&phrase) {
        if !others.iter().any(|known| folded(known) == folded(&other)) {
            others.push(other);
        }
    }
    others
}

/// Whether a row's own name has a word that begins as one of a phrase does without its ending.
fn is_called_so(entry: &Entry, said: &[String]) -> bool {
    let own = stems(&format!("{} {}", entry.id, entry.name.split(':').next().unwrap_or_default()));
    said.iter().map(|word| stems(word)).any(|word| own.contains(word.trim_end()))
}

/// Words as one phrase of a query, in which nothing is a command.
fn quoted(words: &str) -> String {
    format!("\"{}\"", words.replace('"', " "))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn wording(typed: &str) -> Wording {
        Wording::of(typed, Trade::built_in())
    }

    #[test]
    fn a_phrase_of_the_tables_is_widened_as_a_whole_and_other_words_are_not() {
        let asked = wording("white glue runner");
        let widened: Vec<(String, &[String])> = asked.widened_by().collect();
        assert_eq!(widened[0].0, "white glue");
        assert!(widened[0].1.iter().any(|other| other == "pva glue"), "{widened:?}");
        let scraped = wording("scraped").widened().unwrap();
        assert!(scraped.contains("scraper") && !scraped.contains("scratch"), "{scraped}");
        let worm = wording("worm").widened().unwrap();
        assert!(worm.contains("\"woodworm\"") && worm.contains("\"flight holes\""), "{worm}");
        assert!(wording("PVA").widened().unwrap().contains("\"white glue\""));
        assert_eq!(wording("colour").widened().unwrap(), "((\"colour\") OR \"color\")");
    }

    #[test]
    fn a_word_of_many_lines_is_left_out_where_another_tells_something() {
        let mut asked = wording("the runner");
        asked.note_common(|query| Ok::<_, ()>(query.contains("\"the\""))).unwrap();
        assert_eq!(asked.common().collect::<Vec<_>>(), ["the"]);
        for query in [asked.direct(), asked.widened(), asked.beginnings(), asked.any()] {
            assert!(query.as_ref().is_some_and(|query| !query.contains("\"the\"")), "{query:?}");
        }
        let mut alone = wording("the");
        alone.note_common(|_| Ok::<_, ()>(true)).unwrap();
        assert!(!alone.tells_something());
        assert_eq!(alone.direct().unwrap(), "(\"the\")");
    }

    #[test]
    fn nothing_that_is_typed_commands_the_search() {
        for typed in [
            "a\" OR text : *",
            "NEAR(a b)",
            "-x ^y",
            "col:umn",
            "a AND NOT b",
            "\u{202e}abc",
            "'; DROP TABLE",
        ] {
            let query = wording(typed).direct().unwrap();
            let outside: String = query.split('"').step_by(2).collect();
            let left = outside.replace(['(', ')'], "").replace(" AND ", "");
            assert_eq!(left.trim(), "", "{typed}: {query}");
        }
        for typed in ["", "  ", "\"", "🪑", "* ^ -"] {
            assert_eq!(wording(typed).direct(), None, "{typed}");
        }
    }
}
