//! `words`: the trade's words that the program knows, and what a spoken word is taken for.

use std::path::{Path, PathBuf};

use clap::Args;

use super::voice::Voice;
use super::{Outcome, Trouble};
use crate::source::Tree;
use crate::trade::{Entry, Sense, Told, Trade, WordTable};
use crate::unit::wrapped;

#[derive(Debug, Args)]
pub(super) struct Vocabulary {
    /// The word or phrase as you would say it; none lists all
    word: Vec<String>,
    /// The workshop, if not this folder
    #[arg(long, value_name = "PATH")]
    workshop: Option<PathBuf>,
}

impl Vocabulary {
    pub(super) fn run(self) -> Result<Outcome, Trouble> {
        let voice = Voice::out();
        // Outside a workshop the words are those of the trade.
        let tree = match &self.workshop {
            Some(path) => Some(Tree::open(path)?),
            None => Tree::open(Path::new(".")).ok(),
        };
        let trade = tree.map_or_else(|| Trade::built_in().clone(), |tree| Trade::with(&tree, None).0);
        if self.word.is_empty() {
            voice.say(all(&trade, &voice))?;
            return Ok(Outcome::Clean);
        }
        let word = self.word.join(" ");
        let senses = trade.senses(&word);
        voice.say(match senses.is_empty() {
            true => unknown(&trade, &word),
            false => senses.iter().map(|sense| told(sense, &voice)).collect::<Vec<_>>().join("\n"),
        })?;
        let taken = senses.iter().any(|sense| !matches!(sense.told, Told::Elsewhere(_)));
        Ok(if taken { Outcome::Clean } else { Outcome::Mistakes })
    }
}

/// Where a record writes the words of a table.
fn place(table: WordTable) -> &'static str {
    match table {
        WordTable::Board => "as a board",
        WordTable::Covering => "as a covering",
        WordTable::Edging => "as an edging",
        WordTable::Finish => "as a finish",
        WordTable::Fixing => "as a fixing",
        WordTable::Material => "as a material",
        WordTable::Repair => "as a repair",
        WordTable::Term => "as something seen",
        WordTable::Timber => "as a timber",
        WordTable::Treatment => "as a treatment",
    }
}

/// What a word is taken for in one table, and by which words of a phrase.
fn told(sense: &Sense, voice: &Voice) -> String {
    let mut lines = vec![voice.strong(place(sense.table)).to_string()];
    if !sense.by.is_empty() {
        lines.push(line(&format!("By the words: {}.", sense.by.join(", ")), voice));
    }
    match &sense.told {
        Told::Row { entry: row, ask, was_for } => {
            lines.push(entry(row, voice));
            if let Some(was_for) = was_for {
                let text = format!("The workshop's own row takes this word over; it was for {was_for}.");
                lines.push(line(&text, voice));
            }
            lines.extend(ask.as_ref().map(|ask| line(ask, voice)));
        }
        Told::Asked { may_be, ask } => {
            let rows = may_be.join(", ");
            match ask {
                Some(ask) => {
                    lines.push(line(ask, voice));
                    lines.extend((!rows.is_empty()).then(|| line(&format!("Among them: {rows}."), voice)));
                }
                None if may_be.len() == 1 => lines.push(line(&format!("Perhaps {rows}: is it that?"), voice)),
                None => lines.push(line(&format!("It tells of several: {rows}. Which?"), voice)),
            }
        }
        Told::Elsewhere(say) => lines.push(line(say, voice)),
    }
    lines.join("\n")
}

/// A row: its id, what it is, and how people say it.
fn entry(row: &Entry, voice: &Voice) -> String {
    let own = if row.own { " (this workshop's own row)" } else { "" };
    let mut text = format!("  {}{own}\n    {}", row.id, wrapped(&row.name, voice.text_width() - 4, "    "));
    if !row.also.is_empty() {
        let also = wrapped(&row.also.join(", "), voice.text_width() - 4, "    ");
        text.push_str(&format!("\n    {}", voice.faint(also)));
    }
    text
}

fn line(text: &str, voice: &Voice) -> String {
    format!("  {}", wrapped(text, voice.text_width() - 2, "  "))
}

/// What to say of a word that no table knows.
fn unknown(trade: &Trade, word: &str) -> String {
    let mut lines =
        vec![format!("no table knows `{word}`: it would be printed as typed, with no advice of ours")];
    for (table, words) in trade.near(word) {
        lines.push(format!("  {}, perhaps {}", place(table), words.join(", ")));
    }
    lines.join("\n")
}

/// Every word, by table.
fn all(trade: &Trade, voice: &Voice) -> String {
    let table = |(table, entries): (WordTable, Vec<Entry>)| {
        let rows: Vec<String> = entries.iter().map(|row| entry(row, voice)).collect();
        format!("{}\n{}", voice.strong(place(table)), rows.join("\n"))
    };
    trade.vocabulary().into_iter().map(table).collect::<Vec<_>>().join("\n\n")
}
