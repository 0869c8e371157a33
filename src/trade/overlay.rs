//! A workshop's own rows, laid over the tables that are compiled in.
//!
//! It knows nothing of any one table: each says for itself which lists it has, and what its rows are called by.

use std::collections::HashMap;

use super::lookup::OwnRows;
use super::table::{TradeRow, TradeTable};
use crate::diag::{Code, Diagnostic, Place, Rank, nearest};
use crate::fields::{Said, Text, code, read_text};
use crate::source::Tree;
use crate::unit::fold::folded;

/// The folder of a workshop's own rows.
const FOLDER: &str = "trade";

static UNKNOWN_TABLE: Code = Code {
    name: "unknown-table",
    rank: Rank::Mistake,
    why: "A file in `trade/` is laid over the table of the same name, and there is no table of this name.",
    fix: "Give the file the name of a table, or move it out of `trade/`.",
};

static ROW_SAID_TWICE: Code = Code {
    name: "row-said-twice",
    rank: Rank::Mistake,
    why: "Of two rows with one id only one can be meant, and the papers would be written from the wrong one.",
    fix: "Keep one of them, or give the other an id of its own.",
};

static WORD_SAID_TWICE: Code = Code {
    name: "word-said-twice",
    rank: Rank::Doubt,
    why: "A word in a record is taken for one row, and here it would name two.",
    fix: "Leave it to the row that is meant by it, and take it out of the other's `also`.",
};

/// Every fault that laying a workshop's rows over the tables can find, besides those of reading.
pub static CODES: &[&Code] = &[&ROW_SAID_TWICE, &UNKNOWN_TABLE, &WORD_SAID_TWICE];

/// The files of a workshop's `trade/` folder, while they are laid over the tables.
pub(super) struct OwnFiles<'a> {
    tree: &'a Tree,
    known: Vec<&'static str>,
    laid: OwnRows,
    problems: Vec<Diagnostic>,
}

/// The rows of one file.
pub(super) struct Laying<'a> {
    path: &'a str,
    laid: &'a mut OwnRows,
    problems: &'a mut Vec<Diagnostic>,
}

impl<'a> OwnFiles<'a> {
    pub(super) fn of(tree: &'a Tree) -> OwnFiles<'a> {
        OwnFiles { tree, known: Vec::new(), laid: OwnRows::new(), problems: Vec::new() }
    }

    /// Reads the workshop's file of one table, if it has one, and lays its rows over those of the table.
    pub(super) fn lay_over<T: TradeTable>(&mut self, table: &mut T) {
        self.known.push(T::FILE);
        let path = format!("{FOLDER}/{}", T::FILE);
        let text = match self.tree.text(&path) {
            None => return,
            Some(Ok(text)) => text,
            Some(Err(fault)) => {
                let message = format!("this file {fault}");
                let told = Diagnostic::new(&code::UNREADABLE_TEXT, Place::file(&path), message);
                self.problems.push(told.help(fault.remedy()));
                return;
            }
        };
        let mut reading = read_text(&path, text, T::read);
        self.problems.append(&mut reading.problems);
        if let Some(own) = reading.table {
            let laying = &mut Laying { path: &path, laid: &mut self.laid, problems: &mut self.problems };
            table.lay(own, laying);
        }
    }

    /// The rows that were laid, and everything that is wrong with the folder, the files of no table included.
    pub(super) fn finish(mut self) -> (OwnRows, Vec<Diagnostic>) {
        for path in self.tree.below(FOLDER) {
            let name = path.strip_prefix("trade/").unwrap_or(path);
            // Whatever else lies there, such as notes, is the workshop's own affair.
            if self.known.contains(&name) || !name.ends_with(".toml") {
                continue;
            }
            let help = match nearest(name, self.known.iter().copied()) {
                Some(near) => format!("call it `{near}`"),
                None => format!("the tables are {}", self.known.join(", ")),
            };
            let message = format!("the trade has no table `{name}`");
            self.problems.push(Diagnostic::new(&UNKNOWN_TABLE, Place::file(path), message).help(help));
        }
        (self.laid, self.problems)
    }
}

impl Laying<'_> {
    /// Lays rows over a table's: each takes the place of the row of its key, or is added at the end.
    pub(super) fn rows<R: TradeRow>(&mut self, table: &mut Vec<Said<R>>, own: Vec<Said<R>>) {
        let mut laid: Vec<String> = Vec::new();
        self.words(table, &own);
        for mut row in own {
            let key = row.value.key().into_owned();
            if laid.contains(&key) {
                let message = format!("`{key}` stands in this file before");
                let place = Place::at(self.path, &row.span);
                self.problems
                    .push(Diagnostic::new(&ROW_SAID_TWICE, place, message).help("keep one of the two"));
                continue;
            }
            let source = row.value.source();
            source.value = Text(format!("{} (this workshop's own row, {})", source.value, self.path));
            match table.iter_mut().find(|known| known.value.key() == key.as_str()) {
                Some(known) => *known = row,
                None => table.push(row),
            }
            self.laid.insert((R::CALLED, key.clone()));
            laid.push(key);
        }
    }

    /// Reports every word by which a workshop's rows would name two rows. A word of one of our rows may be taken over,
    /// but not its id.
    fn words<R: TradeRow>(&mut self, table: &[Said<R>], own: &[Said<R>]) {
        let ids = table.iter().chain(own).map(|row| row.value.key().into_owned());
        let mut named: HashMap<String, String> = ids.map(|id| (folded(&id), id)).collect();
        for row in own {
            let key = row.value.key();
            for word in row.value.words() {
                let other = named.entry(folded(&word.value)).or_insert_with(|| key.clone().into_owned());
                if *other != key {
                    let message =
                        format!("\"{}\" is a word for `{other}` already, and here for `{key}`", word.value.0);
                    let place = Place::at(self.path, &word.span);
                    let help = "leave it to one of the two";
                    self.problems.push(Diagnostic::new(&WORD_SAID_TWICE, place, message).help(help));
                }
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use crate::diag::{Diagnostic, line_and_column};
    use crate::source::Tree;
    use crate::trade::Trade;

    const HOUSE_PINE: &str = r#"
[[timber]]
id = "house-pine"
name = "House pine"
also = []
botanical = "Pinus sp."
moe = 9.5
specific-gravity = 0.45
cites = "none"
source = "our own weighing, 2026"
seen = "read"
"#;

    fn with(files: &[(&str, &str)]) -> (Trade, Vec<Diagnostic>) {
        Trade::with(&Tree::of(files.iter().copied()), None)
    }

    /// Code, line and help of everything that is wrong with one file.
    fn wrong(path: &str, text: &str) -> Vec<String> {
        let (_, problems) = with(&[(path, text)]);
        assert!(problems.iter().all(|found| found.place.path == path));
        let line = |found: &Diagnostic| found.place.span.map_or(0, |(at, _)| line_and_column(text, at).0);
        problems.iter().map(|found| format!("{} {}: {}", found.code.name, line(found), found.help)).collect()
    }

    #[test]
    fn without_a_folder_the_tables_are_those_compiled_in() {
        let (trade, problems) = with(&[]);
        assert_eq!(problems, []);
        assert_eq!(trade, *Trade::built_in());
    }

    #[test]
    fn a_new_row_is_added_and_says_whose_it_is() {
        let (trade, problems) = with(&[("trade/timber.toml", HOUSE_PINE)]);
        assert_eq!(problems, []);
        assert_eq!(trade.timbers.rows.len(), Trade::built_in().timbers.rows.len() + 1);
        let source = &*trade.timber("house-pine").expect("it was added").source;
        assert_eq!(&**source, "our own weighing, 2026 (this workshop's own row, trade/timber.toml)");
    }

    #[test]
    fn a_row_of_a_known_id_takes_the_place_of_ours() {
        let own = HOUSE_PINE.replace("house-pine", "scots-pine");
        let (trade, problems) = with(&[("trade/timber.toml", &own)]);
        assert_eq!(problems, []);
        assert_eq!(trade.timbers.rows.len(), Trade::built_in().timbers.rows.len());
        assert_eq!(&**trade.timber("scots-pine").expect("it is ours").name, "House pine");
    }

    /// The first row of every list of a table's text, with a source of the workshop's own.
    fn first_rows(text: &str) -> String {
        let mut table: toml::Table = text.parse().unwrap();
        for (_, rows) in &mut table {
            let rows = rows.as_array_mut().unwrap();
            rows.truncate(1);
            rows[0].as_table_mut().unwrap().insert("source".to_owned(), "our own book".into());
        }
        table.to_string()
    }

    #[test]
    fn every_list_of_every_table_takes_a_row() {
        let ours = Trade::built_in().listed();
        let files = ours.iter().map(|table| (format!("trade/{}", table.file), first_rows(table.text)));
        let (trade, problems) = Trade::with(&Tree::of(files), None);
        assert_eq!(problems, []);
        for (mut ours, laid) in ours.into_iter().zip(trade.listed()) {
            for list in &mut ours.lists {
                list.rows[0].1 = format!("our own book (this workshop's own row, trade/{})", ours.file);
            }
            assert_eq!(laid.lists, ours.lists, "{}", ours.file);
        }
    }

    #[test]
    fn columns_and_lists_that_nothing_read_are_passed_over() {
        let term = "[[term]]\nid = \"ring\"\nlabel = \"ring\"\nmeaning = \"a ring\"\nsource = \"ours\"\n";
        assert_eq!(wrong("trade/term.toml", &format!("{term}group = \"stain\"\n")), [""; 0]);
        assert_eq!(wrong("trade/term.toml", &format!("{term}grup = \"stain\"\n")).len(), 1);
        assert_eq!(wrong("trade/abrasive.toml", "[[rule]]\nid = \"ours\"\ntext = \"Go slowly.\"\n"), [""; 0]);
    }

    #[test]
    fn tables_of_several_lists_take_rows_in_each() {
        let own = "[[board]]\nid = \"plywood\"\nname = \"Our plywood\"\nalso = []\ndensity = [600, 620]\n\
                   source = \"our own weighing, 2026\"\nseen = \"read\"\n\
                   [[panel]]\nid = \"our-ply\"\nname = \"Our plywood\"\nbasis = \"typical\"\n\
                   moe = [8, 9]\nsource = \"our own bending, 2026\"\nseen = \"read\"\n";
        let (trade, problems) = with(&[("trade/panel.toml", own)]);
        assert_eq!(problems, []);
        assert_eq!(trade.board("plywood").map(|row| row.density.low), Some(600.0));
        assert!(trade.panel.panel("our-ply").is_some() && trade.board("mdf").is_some());
    }

    #[test]
    fn a_row_without_a_source_is_left_out_at_its_line() {
        let own = format!("\n\n{}", HOUSE_PINE.replace("source =", "# source ="));
        assert_eq!(wrong("trade/timber.toml", &own), ["missing-key 4: add `source`\nsource = \"…\""]);
        let (trade, _) = with(&[("trade/timber.toml", &own)]);
        assert_eq!(trade.timber_words().form("house-pine"), None);
    }

    #[test]
    fn wrong_rows_leave_the_others_alone() {
        let own = format!(
            "{}{HOUSE_PINE}",
            HOUSE_PINE.replace("house-pine", "scots-pine").replace("\"read\"", "9.5")
        );
        assert_eq!(
            wrong("trade/timber.toml", &own),
            ["wrong-kind 11: write one of `read`, `memory`, `computed`, in quotes"]
        );
        let (trade, _) = with(&[("trade/timber.toml", &own)]);
        assert_eq!(trade.timber("scots-pine"), Trade::built_in().timber("scots-pine"));
        assert!(trade.timber("house-pine").is_some());
    }

    #[test]
    fn a_word_for_two_rows_is_said_and_a_word_of_ours_is_taken_over() {
        let other = HOUSE_PINE.replace("house-pine", "shed-pine").replace("House pine", "Shed pine");
        let one = HOUSE_PINE.replace("also = []", "also = [\"our pine\", \"Scotch pine\", \"white oaks\"]");
        let own = format!("{one}{}", other.replace("also = []", "also = [\"Our-Pines\"]"));
        assert_eq!(
            wrong("trade/timber.toml", &own),
            [
                "word-said-twice 5: leave it to one of the two",
                "word-said-twice 16: leave it to one of the two"
            ]
        );
        let (trade, problems) = with(&[("trade/timber.toml", &own)]);
        assert_eq!(
            problems.iter().map(|found| found.message.as_str()).collect::<Vec<_>>(),
            [
                "\"white oaks\" is a word for `white-oak` already, and here for `house-pine`",
                "\"Our-Pines\" is a word for `house-pine` already, and here for `shed-pine`"
            ]
        );
        let taken = |word: &str| trade.timber(word).map(|row| row.id.0.as_str());
        assert_eq!(taken("scotch pine"), Some("house-pine"));
        assert_eq!(taken("Scots pine"), Some("scots-pine"));
        assert_eq!(taken("our pine"), Some("house-pine"));
        assert_eq!(taken("white oaks"), Some("white-oak"));
    }

    #[test]
    fn a_row_twice_a_table_that_is_none_and_broken_text() {
        let twice = format!("{HOUSE_PINE}{HOUSE_PINE}");
        assert_eq!(wrong("trade/timber.toml", &twice), ["row-said-twice 13: keep one of the two"]);
        assert_eq!(wrong("trade/timbers.toml", HOUSE_PINE), ["unknown-table 0: call it `timber.toml`"]);
        assert_eq!(wrong("trade/timber.toml", "[[timber]\nid = 3").len(), 1);
        assert_eq!(wrong("trade/notes.md", "Ask about the pine."), Vec::<String>::new());
    }
}
