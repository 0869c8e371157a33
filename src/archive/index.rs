//! The search of the archive's pages: small scripts that load when they are needed, so that a folder is searched without a
//! server.
//!
//! `pieces.js` lists the pieces, the newest first; `words-xx.js` has the words that begin so, each with the places of its
//! pieces in that list; one script a piece has its lines. Each hands its data to a function of the page.

use std::collections::BTreeMap;
use std::collections::BTreeSet;

use serde_json::json;

use super::database::{Archive, ArchiveFault};
use crate::unit::fold::plain;
use crate::unit::legible::escaped_json;

/// A script of the search: its name and its bytes.
pub type SearchScript = (String, Vec<u8>);

impl Archive {
    /// The scripts of the search, by name.
    ///
    /// # Errors
    /// [`ArchiveFault`] where the archive cannot be read.
    pub fn search_scripts(&self) -> Result<Vec<SearchScript>, ArchiveFault> {
        let mut rows = self.connection.prepare(
            "SELECT id, number, title, kind, page FROM piece
             ORDER BY coalesce(handed_over, last_work, found_on, '') DESC, number DESC, folder",
        )?;
        let pieces = rows.query_map([], |row| {
            let id: i64 = row.get(0)?;
            let texts: [String; 4] = [row.get(1)?, row.get(2)?, row.get(3)?, row.get(4)?];
            Ok((id, texts))
        })?;
        let pieces = pieces.collect::<Result<Vec<_>, _>>()?;
        let mut lines =
            self.connection.prepare("SELECT section, text FROM line WHERE piece = ?1 ORDER BY id")?;
        let mut words: BTreeMap<String, BTreeMap<String, Vec<usize>>> = BTreeMap::new();
        let mut scripts = Vec::new();
        for (place, (id, _)) in pieces.iter().enumerate() {
            let told =
                lines.query_map([id], |row| Ok([row.get::<_, String>(0)?, row.get::<_, String>(1)?]))?;
            let told = told.collect::<Result<Vec<_>, _>>()?;
            let mut own = BTreeSet::new();
            for [_, text] in &told {
                own.extend(words_of(text));
            }
            for word in own {
                words.entry(beginning(&word)).or_default().entry(word).or_default().push(place);
            }
            scripts.push(script(&format!("{id:x}"), "piece", &json!(told)));
        }
        for (begin, words) in words {
            let packed: BTreeMap<String, String> =
                words.into_iter().map(|(word, places)| (word, packed(&places))).collect();
            scripts.push(script(&format!("words-{begin}"), "words", &json!(packed)));
        }
        let listed: Vec<_> = pieces
            .iter()
            .map(|(id, [number, title, kind, page])| json!([format!("{id:x}"), number, title, kind, page]))
            .collect();
        scripts.push(script("pieces", "pieces", &json!(listed)));
        Ok(scripts)
    }
}

fn script(name: &str, what: &str, data: &serde_json::Value) -> SearchScript {
    let json = data.to_string();
    let text = format!("archiveSearch.{what}({}, {});\n", json!(name), escaped_json(&json));
    (format!("{name}.js"), text.into_bytes())
}

/// The words of a text as the page makes them of what is typed: small letters without accents.
fn words_of(text: &str) -> BTreeSet<String> {
    let plain = plain(text);
    let words = plain.split(|c: char| !c.is_alphanumeric()).filter(|word| !word.is_empty());
    words.map(|word| word.chars().take(40).collect()).collect()
}

/// The name of the script that has a word: its first two characters where they are plain letters and digits, and else the
/// number of its first one.
fn beginning(word: &str) -> String {
    let first: String = word.chars().take(2).collect();
    match first.chars().all(|c| c.is_ascii_alphanumeric()) {
        true => first,
        false => format!("u{:x}", u32::from(first.chars().next().unwrap_or('-'))),
    }
}

/// Places in rising order, each as the step from the one before, in base 36.
fn packed(places: &[usize]) -> String {
    let mut last = 0;
    let mut text = String::new();
    for place in places {
        if !text.is_empty() {
            text.push(' ');
        }
        text.push_str(&base36(place - last));
        last = *place;
    }
    text
}

fn base36(mut number: usize) -> String {
    let mut digits = Vec::new();
    loop {
        digits.push(char::from_digit((number % 36) as u32, 36).unwrap_or('0'));
        number /= 36;
        if number == 0 {
            return digits.into_iter().rev().collect();
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn places_are_packed_as_steps() {
        assert_eq!(packed(&[0, 1, 40, 1337]), "0 1 13 101");
        assert_eq!((base36(0), base36(35), base36(36)), ("0".to_owned(), "z".to_owned(), "10".to_owned()));
    }

    #[test]
    fn a_word_is_looked_for_where_it_lies() {
        let words: Vec<String> = words_of("Möbel, Ølje: a 2.5 mm כיסא").into_iter().collect();
        assert_eq!(words, ["2", "5", "a", "mm", "mobel", "ølje", "כיסא"]);
        let begun: Vec<String> = words.iter().map(|word| beginning(word)).collect();
        assert_eq!(begun, ["2", "5", "a", "mm", "mo", "uf8", "u5db"]);
    }
}
