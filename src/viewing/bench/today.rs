//! What is shown at the bench: the pieces to choose from, and what was jotted today. Nothing else of the workshop is.

use std::path::Path;
use std::sync::Arc;

use chrono::NaiveDate;
use serde::Serialize;

use super::taking::spoken;
use crate::record::{self, Piece};
use crate::source::{Tree, TreeError};
use crate::unit::legible::without_unseen;

/// The longest line that is shown, in characters.
const SHOWN: usize = 300;

/// What is shown.
#[derive(Debug, Default, Serialize)]
pub(super) struct Today {
    /// The pieces in work, the last jotted one first.
    pub(super) pieces: Vec<Choice>,
    /// Today's entries, the last one first.
    pub(super) entries: Vec<Jotted>,
    /// All the time of today's entries; empty where none tells any.
    pub(super) sum: String,
    /// The day.
    pub(super) day: String,
    /// The same in words.
    pub(super) date: String,
}

/// A piece to choose.
#[derive(Debug, Serialize)]
pub(super) struct Choice {
    pub(super) folder: String,
    pub(super) title: String,
    pub(super) number: String,
}

/// A line of today.
#[derive(Debug, Serialize)]
pub(super) struct Jotted {
    /// The title of its piece.
    pub(super) piece: String,
    /// Its words; empty where they are for the archive alone.
    pub(super) words: String,
    /// How long it took; empty where it does not say.
    pub(super) spent: String,
}

impl Today {
    /// Reads a workshop as it is now.
    ///
    /// # Errors
    /// [`TreeError`].
    pub(super) fn of(root: &Path, today: NaiveDate) -> Result<Today, TreeError> {
        let tree = Tree::open(root)?;
        let mut pieces = record::read(&tree).0.all();
        // A piece that has left is in nobody's hands any more.
        pieces.retain(|piece| piece.handed_over().is_none());
        let last = |piece: &Arc<Piece>| piece.jottings.iter().filter_map(|jotting| jotting.on).max();
        pieces.sort_by_cached_key(|piece| {
            (std::cmp::Reverse(last(piece)), number(piece), piece.folder.clone())
        });
        let (mut entries, mut minutes) = (Vec::new(), 0);
        for piece in &pieces {
            // What is of a whole set stands with the set.
            let own = piece.jottings.iter().filter(|jotting| !jotting.of_set);
            let of_today = own.filter(|jotting| jotting.on == Some(today));
            let of_piece: Vec<_> = of_today.map(|jotting| jotting.at_the_bench()).collect();
            for (words, spent) in of_piece.into_iter().rev() {
                minutes += spent.unwrap_or(0);
                entries.push(Jotted {
                    piece: title(piece),
                    words: words.unwrap_or_default().chars().take(SHOWN).collect(),
                    spent: spent.map(spoken).unwrap_or_default(),
                });
            }
        }
        let choice = |piece: &Arc<Piece>| Choice {
            folder: piece.folder.clone(),
            title: title(piece),
            number: number(piece),
        };
        Ok(Today {
            pieces: pieces.iter().map(choice).collect(),
            entries,
            sum: if minutes > 0 { spoken(minutes) } else { String::new() },
            day: today.to_string(),
            date: today.format("%A %-d %B").to_string(),
        })
    }
}

fn title(piece: &Piece) -> String {
    let title = piece.record.as_ref().map_or_else(|| piece.folder.clone(), |record| record.title.to_string());
    without_unseen(&title).into_owned()
}

fn number(piece: &Piece) -> String {
    let number = piece.record.as_ref().map_or_else(String::new, |record| record.number.to_string());
    without_unseen(&number).into_owned()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn pieces_in_work_and_the_lines_of_today_are_shown_and_nothing_else() {
        let home = tempfile::tempdir().unwrap();
        let write = |path: &str, text: &str| {
            let path = home.path().join(path);
            std::fs::create_dir_all(path.parent().unwrap()).unwrap();
            std::fs::write(path, text).unwrap();
        };
        write("workshop.toml", "name = \"W\"\nhourly-rate = 28\n");
        let record = |title: &str, number: &str, more: &str| {
            format!("title = \"{title}\"\nnumber = \"{number}\"\nkind = \"table\"\n{more}")
        };
        write("pieces/a/record.toml", &record("First", "T-1", "asking = 240\n"));
        write("pieces/b/record.toml", &record("Second", "T-2", ""));
        write(
            "pieces/c/record.toml",
            &record("Gone", "T-3", "[handover]\non = 2026-03-01\nto = \"Somebody\"\n"),
        );
        write(
            "pieces/b/daybook.txt",
            "2026-03-16 glued it, 1h\n2026-03-17 sanded it, 45 min\n2026-03-17 paid £40 for wax\n2026-03-17 private: rang the owner\n",
        );
        write("pieces/c/daybook.txt", "2026-03-17 waxed it\n");
        let today = Today::of(home.path(), "2026-03-17".parse().unwrap()).unwrap();
        let pieces: Vec<&str> = today.pieces.iter().map(|piece| piece.number.as_str()).collect();
        assert_eq!(pieces, ["T-2", "T-1"]);
        let entries: Vec<(&str, &str)> =
            today.entries.iter().map(|entry| (entry.words.as_str(), entry.spent.as_str())).collect();
        assert_eq!(entries, [("", ""), ("", ""), ("sanded it", "45 min")]);
        assert_eq!((today.sum.as_str(), today.date.as_str()), ("45 min", "Tuesday 17 March"));
        let all = serde_json::to_string(&today).unwrap();
        for private in ["240", "28", "40", "Somebody", "owner", "Gone", "glued"] {
            assert!(!all.contains(private), "{private} in {all}");
        }
    }
}
