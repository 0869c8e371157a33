//! Words of the trade at the fields that take them: which there are, and what a typed one is taken for.

use crate::fields::Key;
use crate::trade::{Told, Trade, WordTable};

/// Where a field's words come from.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Source {
    /// These tables of the trade.
    Trade(&'static [WordTable]),
    /// The names of the piece's photographs.
    Photographs,
}

/// The keys that take words of the trade, by the table that they are keys of; a part of a table stands behind a dot.
const SOURCES: &[(&str, &str, Source)] = &[
    ("", "cover", Source::Photographs),
    ("part", "timber", Source::Trade(&[WordTable::Timber])),
    ("part", "veneer", Source::Trade(&[WordTable::Timber])),
    ("part", "ground", Source::Trade(&[WordTable::Board, WordTable::Timber])),
    ("part", "material", Source::Trade(&[WordTable::Material, WordTable::Covering])),
    ("part.lipping", "timber", Source::Trade(&[WordTable::Timber])),
    ("finding", "seen", Source::Trade(&[WordTable::Term])),
    ("fixing", "kind", Source::Trade(&[WordTable::Fixing])),
    ("surface", "found", Source::Trade(&[WordTable::Finish])),
    ("surface.steps", "clean", Source::Trade(&[WordTable::Treatment])),
    ("surface.steps", "remove", Source::Trade(&[WordTable::Finish])),
    ("surface.steps", "apply", Source::Trade(&[WordTable::Finish])),
    ("surface.steps.mix", "of", Source::Trade(&[WordTable::Finish])),
    ("photo", "file", Source::Photographs),
    ("pair", "before", Source::Photographs),
    ("pair", "after", Source::Photographs),
    ("swatch", "photo", Source::Photographs),
];

/// Where the words of a key of a table come from, if it takes any.
pub(super) fn source(table: &str, key: &Key) -> Option<Source> {
    SOURCES.iter().find(|(of, name, _)| *of == table && *name == key.name).map(|(.., source)| *source)
}

impl Source {
    /// What its list is called on the page.
    pub(super) fn list(self) -> String {
        match self {
            Source::Trade(tables) => {
                let words: Vec<&str> = tables.iter().map(|table| table.word()).collect();
                format!("words-{}", words.join("-"))
            }
            Source::Photographs => "photographs".to_owned(),
        }
    }
}

/// The words of some tables, each with what it means and how people say it.
pub(super) fn all(trade: &Trade, tables: &[WordTable]) -> Vec<(String, String)> {
    let wanted = trade.vocabulary().into_iter().filter(|(table, _)| tables.contains(table));
    let entries = wanted.flat_map(|(_, entries)| entries);
    entries
        .map(|entry| {
            let also =
                if entry.also.is_empty() { String::new() } else { format!(" ({})", entry.also.join(", ")) };
            (entry.id, entry.name + &also)
        })
        .collect()
}

/// What a typed word is taken for in the place of some tables, as a sentence without its full stop.
pub(super) fn taken(trade: &Trade, tables: &[WordTable], typed: &str) -> String {
    if typed.trim().is_empty() || typed == "unknown" || typed.starts_with("tin:") {
        return String::new();
    }
    let senses = trade.senses(typed);
    let mine: Vec<String> = senses
        .iter()
        .filter(|sense| tables.contains(&sense.table))
        .map(|sense| match &sense.told {
            Told::Row { entry, ask, .. } => match ask {
                Some(ask) => format!("taken as {}; {ask}", entry.name),
                None => format!("taken as {}", entry.name),
            },
            Told::Asked { may_be, ask } => match ask {
                Some(ask) => ask.clone(),
                None => format!("not taken yet: it may be {}", may_be.join(" or ")),
            },
            Told::Elsewhere(say) => say.clone(),
        })
        .collect();
    match mine.is_empty() {
        true => {
            "no table of the trade knows it: it is printed as you type it, with no advice of ours".to_owned()
        }
        false => mine.join("; "),
    }
}

#[cfg(test)]
mod tests {
    use super::super::place::Place;
    use super::*;

    #[test]
    fn every_source_is_of_a_key_of_the_schema() {
        for (table, name, _) in SOURCES {
            let mut keys = Place::record().keys;
            for part in table.split('.').filter(|part| !part.is_empty()) {
                keys = keys.iter().find(|key| key.name == part).unwrap().about.keys;
            }
            assert!(keys.iter().any(|key| key.name == *name), "{table} {name}");
        }
    }

    #[test]
    fn a_spoken_word_is_taken_for_a_row_and_another_for_none() {
        let taken = |typed: &str| taken(Trade::built_in(), &[WordTable::Fixing], typed);
        assert!(taken("white glue").starts_with("taken as "), "{}", taken("white glue"));
        assert!(taken("moonbeams").starts_with("no table"), "{}", taken("moonbeams"));
        assert_eq!(taken("unknown"), "");
    }
}
