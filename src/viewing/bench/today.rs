//! What is shown at the bench: the pieces to choose from, and what was jotted today. Nothing else of the workshop is.
//!
//! What was read of a piece is kept, and holds as long as the dates of its files do: so a look reads what has changed since
//! the last one, and of all else the dates.

use std::collections::BTreeMap;
use std::path::Path;
use std::sync::Arc;

use chrono::NaiveDate;
use serde::Serialize;

use super::taking::spoken;
use crate::record::{self, DAY_BOOK, Jotting, Piece};
use crate::source::{Dates, Tree, TreeError};
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

/// How long a file may change again without another date, in nanoseconds: one that changed so shortly before the latest
/// is read anew.
const UNSURE: u64 = 2_000_000_000;

/// What all pieces share that their lines follow from.
const SHARED: [&str; 2] = ["workshop.toml", DAY_BOOK];

/// What is known of the pieces since the last look.
#[derive(Debug, Default)]
pub(super) struct Shelf {
    /// The day that their lines are of.
    day: NaiveDate,
    /// What the shared files said.
    shared: Vec<String>,
    pieces: BTreeMap<String, Kept>,
}

/// What is kept of a piece.
#[derive(Debug)]
struct Kept {
    /// The date of its files.
    dated: u64,
    /// Whether it is in nobody's hands any more.
    gone: bool,
    /// Whether it is a set or of one.
    kin: bool,
    title: String,
    number: String,
    /// What its own day book and the workshop's have of it.
    own: Lines,
    shared: Lines,
}

/// What is shown of the lines of a piece in one day book.
#[derive(Debug, Default, Clone)]
struct Lines {
    /// The last day of a line.
    last: Option<NaiveDate>,
    /// Today's, the first one first: its words, empty where they are for the archive alone, and its minutes.
    today: Vec<(String, Option<u32>)>,
}

impl Lines {
    fn of<'a>(jottings: impl Iterator<Item = &'a Jotting>, today: NaiveDate) -> Lines {
        let mut lines = Lines::default();
        for jotting in jottings {
            lines.last = lines.last.max(jotting.on);
            if jotting.on == Some(today) {
                let (words, spent) = jotting.at_the_bench();
                lines.today.push((words.unwrap_or_default().chars().take(SHOWN).collect(), spent));
            }
        }
        lines
    }
}

impl Kept {
    fn of(piece: &Piece, (dated, kin): (u64, bool), today: NaiveDate) -> Kept {
        let is_shared = |jotting: &&Jotting| jotting.path == DAY_BOOK;
        // What is of a whole set, or was jotted in its day book, stands with the set.
        let of_set = piece.set.as_ref().map(|set| format!("pieces/{}/{DAY_BOOK}", set.folder()));
        let is_own = |jotting: &&Jotting| !jotting.of_set && Some(&jotting.path) != of_set.as_ref();
        let jottings = || piece.jottings.iter().filter(is_own);
        Kept {
            dated,
            gone: piece.handed_over().is_some(),
            kin,
            title: title(piece),
            number: number(piece),
            own: Lines::of(jottings().filter(|jotting| !is_shared(jotting)), today),
            shared: Lines::of(jottings().filter(is_shared), today),
        }
    }

    /// Whether a line of the workshop's day book that names the one names the other.
    fn is_called_like(&self, other: &Kept) -> bool {
        self.title == other.title && self.number == other.number
    }

    fn last(&self) -> Option<NaiveDate> {
        self.own.last.max(self.shared.last)
    }
}

impl Shelf {
    /// A workshop as it is now.
    ///
    /// # Errors
    /// [`TreeError`].
    pub(super) fn today(&mut self, root: &Path, today: NaiveDate) -> Result<Today, TreeError> {
        let dates = Dates::of(root);
        let shared = Tree::open_files(root, SHARED)?;
        let shared: Vec<String> =
            SHARED.iter().map(|file| shared.read_text(file).unwrap_or_default()).collect();
        if self.day != today || self.shared != shared {
            self.pieces.clear();
        }
        let is_there = |folder: &String| dates.pieces.contains_key(folder);
        if self.pieces.iter().any(|(folder, kept)| kept.kin && !is_there(folder)) {
            self.pieces.clear();
        }
        self.pieces.retain(|folder, _| is_there(folder));
        let newest = dates.pieces.values().copied().max().unwrap_or(0);
        let holds = |folder: &String, dated: u64| {
            let kept = self.pieces.get(folder).is_some_and(|kept| kept.dated == dated);
            kept && dated.saturating_add(UNSURE) < newest
        };
        let changed = dates.pieces.iter().filter(|(folder, dated)| !holds(folder, **dated));
        let changed: Vec<&str> = changed.map(|(folder, _)| folder.as_str()).collect();
        let read = |tree: &Tree| -> BTreeMap<String, Kept> {
            let kept = |piece: &Arc<Piece>| {
                let dated = dates.pieces.get(&piece.folder).copied().unwrap_or(0);
                let kin = record::names_a_set(tree, &piece.folder);
                (piece.folder.clone(), Kept::of(piece, (dated, kin), today))
            };
            record::read(tree).0.all().iter().map(kept).collect()
        };
        let mut fresh = read(&Tree::open_some(root, changed.iter().copied())?);
        // Who is meant in the workshop's day book follows from the names of all pieces, and what a piece of a set is called
        // from the set's record.
        let as_before = |(folder, kept): (&String, &Kept)| {
            self.pieces.get(folder).is_some_and(|before| before.is_called_like(kept))
        };
        let is_kin = fresh.values().any(|kept| kept.kin);
        match (has_day_book(&shared), fresh.iter().all(as_before)) {
            (true, false) => fresh = read(&Tree::open(root)?),
            _ if is_kin => fresh = read(&Tree::open(root)?),
            (true, true) => {
                fresh.iter_mut().for_each(|(folder, kept)| kept.shared = self.pieces[folder].shared.clone());
            }
            (false, _) => {}
        }
        self.pieces.extend(fresh);
        (self.day, self.shared) = (today, shared);
        Ok(self.shown())
    }

    fn shown(&self) -> Today {
        // A piece that has left is in nobody's hands any more.
        let mut pieces: Vec<(&String, &Kept)> = self.pieces.iter().filter(|(_, kept)| !kept.gone).collect();
        pieces.sort_by_key(|(folder, kept)| (std::cmp::Reverse(kept.last()), &kept.number, *folder));
        let (mut entries, mut minutes) = (Vec::new(), 0);
        for (_, kept) in &pieces {
            for (words, spent) in kept.own.today.iter().chain(&kept.shared.today).rev() {
                minutes += spent.unwrap_or(0);
                entries.push(Jotted {
                    piece: kept.title.clone(),
                    words: words.clone(),
                    spent: spent.map(spoken).unwrap_or_default(),
                });
            }
        }
        let choice = |(folder, kept): &(&String, &Kept)| Choice {
            folder: (*folder).clone(),
            title: kept.title.clone(),
            number: kept.number.clone(),
        };
        Today {
            pieces: pieces.iter().map(choice).collect(),
            entries,
            sum: if minutes > 0 { spoken(minutes) } else { String::new() },
            day: self.day.to_string(),
            date: self.day.format("%A %-d %B").to_string(),
        }
    }
}

/// Whether the workshop has a day book with something in it.
fn has_day_book(shared: &[String]) -> bool {
    shared.last().is_some_and(|text| !text.trim().is_empty())
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
        let today = Shelf::default().today(home.path(), "2026-03-17".parse().unwrap()).unwrap();
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

    /// Whatever is changed in between, a look that goes on from the last one shows what a first one does.
    #[test]
    fn what_is_kept_shows_what_would_be_read() {
        let home = tempfile::tempdir().unwrap();
        let day = |day: &str| day.parse::<NaiveDate>().unwrap();
        let put = |path: &str, text: &str| {
            let path = home.path().join(path);
            std::fs::create_dir_all(path.parent().unwrap()).unwrap();
            std::fs::write(path, text).unwrap();
        };
        let record = |title: &str, number: &str| {
            format!("title = \"{title}\"\nnumber = \"{number}\"\nkind = \"table\"\n")
        };
        put("workshop.toml", "name = \"W\"\nregion = \"united-kingdom\"\n");
        put("pieces/a/record.toml", &record("Oak stool", "T-1"));
        put("pieces/b/record.toml", &record("Pine box", "T-2"));
        let mut shelf = Shelf::default();
        let mut look = |on: &str, wanted: usize| {
            let kept = serde_json::to_string(&shelf.today(home.path(), day(on)).unwrap()).unwrap();
            let read = Shelf::default().today(home.path(), day(on)).unwrap();
            assert_eq!(kept, serde_json::to_string(&read).unwrap());
            assert_eq!(read.entries.len(), wanted, "{kept}");
        };
        look("2026-03-17", 0);
        put("pieces/b/daybook.txt", "2026-03-17 sanded it, 1h\n");
        look("2026-03-17", 1);
        look("2026-03-17", 1);
        put("pieces/b/daybook.txt", "2026-03-17 sanded it, 1h\n2026-03-17 waxed it\n");
        look("2026-03-17", 2);
        put("daybook.txt", "2026-03-17\nOak stool: glued the rungs, 30 min\n");
        look("2026-03-17", 3);
        put("pieces/b/daybook.txt", "2026-03-17 sanded it, 1h\n");
        look("2026-03-17", 2);
        put("pieces/a/record.toml", &record("Elm stool", "T-1"));
        look("2026-03-17", 1);
        put("pieces/a/record.toml", &record("Oak stool", "T-1"));
        look("2026-03-17", 2);
        look("2026-03-18", 0);
        put("pieces/c/record.toml", &record("Ash rack", "T-3"));
        put("pieces/c/daybook.txt", "2026-03-18 cut the slats\n");
        look("2026-03-18", 1);
        std::fs::remove_dir_all(home.path().join("pieces/b")).unwrap();
        put("pieces/c/record.toml", &(record("Ash rack", "T-3") + "[handover]\non = 2026-03-18\n"));
        look("2026-03-18", 0);
        let set =
            |title: &str| format!("title = \"{title}\"\nnumber = \"K\"\nkind = \"chair\"\nset-of = 1\n");
        put("daybook.txt", "");
        put("pieces/k/record.toml", &set("Kitchen chair"));
        put("pieces/k-1/record.toml", "set = \"k\"\nnumber = \"K-1\"\n");
        put("pieces/k-1/daybook.txt", "2026-03-18 glued a leg\n");
        put("pieces/k/daybook.txt", "2026-03-18 waxed it\n");
        look("2026-03-18", 2);
        put("pieces/k/record.toml", &set("Windsor chair"));
        look("2026-03-18", 2);
        std::fs::remove_dir_all(home.path().join("pieces/k")).unwrap();
        look("2026-03-18", 1);
    }

    /// What a look costs in a workshop of a thousand pieces: one that reads everything, and those that go on from it.
    #[test]
    #[ignore = "measures looks: cargo test --lib -- --ignored --nocapture looks_at_a_large"]
    #[allow(clippy::print_stdout)]
    fn looks_at_a_large_workshop() {
        let home = tempfile::tempdir().unwrap();
        let example = Path::new(env!("CARGO_MANIFEST_DIR")).join("example-project");
        let text = |path: &str| std::fs::read_to_string(example.join(path)).unwrap();
        std::fs::write(home.path().join("workshop.toml"), text("workshop.toml")).unwrap();
        let patterns = ["dower-chest", "open-shelves", "rush-chair", "writing-table"];
        for number in 0..1000 {
            let pattern = patterns[number % patterns.len()];
            let folder = home.path().join(format!("pieces/{pattern}-{number:04}"));
            std::fs::create_dir_all(folder.join("photos")).unwrap();
            let record = text(&format!("pieces/{pattern}/record.toml"));
            std::fs::write(folder.join("record.toml"), record).unwrap();
            let lines = "2026-03-16 glued it, 1h\n2026-03-17 sanded it, 45 min\n";
            std::fs::write(folder.join("daybook.txt"), lines).unwrap();
        }
        let mut shelf = Shelf::default();
        let mut look = |what: &str| {
            let start = std::time::Instant::now();
            let today = shelf.today(home.path(), "2026-03-17".parse().unwrap()).unwrap();
            let ms = start.elapsed().as_millis();
            println!("{what}: {ms} ms, {} pieces, {} lines", today.pieces.len(), today.entries.len());
        };
        look("everything is read");
        std::thread::sleep(std::time::Duration::from_millis(2100));
        let line = home.path().join("pieces/rush-chair-0002/daybook.txt");
        std::fs::write(line, "2026-03-17 sanded it, 45 min\n2026-03-17 waxed it\n").unwrap();
        for what in ["a line came", "nothing came", "nothing came"] {
            look(what);
        }
    }
}
