//! What a workshop's folder says: typed values, each with its place.
//!
//! Reading never stops at the first mistake, never looks at the clock, and never
//! judges: whether the record makes sense is for `inspect`.

mod answer;
mod canon;
mod finish_name;
mod id;
mod part;
mod photo;
mod piece;
mod seal;
mod story;
mod surface;
mod treatment;
mod workshop;

pub use answer::{Answer, TestResult};
pub use canon::{CanonicalValue, Form, SchemaNode};
pub use finish_name::{FinishName, Removal};
pub use id::{FindingId, PartId, StockId, TinId, WorkId};
pub use part::{
    Construction, Ends, Fixing, Grain, Held, Lipping, Opening, Opens, Part, PartSize, Sawn, Standing,
};
pub use photo::{Mark, Pair, PhotoEntry, PhotoStage, Scale, Shape, Swatch, looks_like_photograph};
pub use piece::{Found, Handover, Level, Record, Shelf, Size, Use};
pub use seal::{Amended, SEAL_BROKEN, Seal, schema_of_seals, today_for_buyer};
pub use story::{Story, may_link};
pub use surface::{Act, Ingredient, Step, Surface};
pub use treatment::{
    Cause, Choice, Confidence, Cost, Decision, Finding, FindingSeverity, Lesson, Open, Outcome, Test,
    Undoable, Undone, Why, Work,
};
pub use workshop::{Climate, Drying, Language, Paper, Region, Stock, StockItem, Tin, Units, Workshop};

use std::cell::LazyCell;
use std::collections::BTreeMap;
use std::sync::Arc;

use chrono::NaiveDate;

use crate::diag::{Code, Diagnostic, Place, Rank};
pub use crate::fields::HEAD;
use crate::fields::{Fields, Reader, Reading, code, read_text};
use crate::source::Tree;
use seal::NamedElsewhere;

/// A folder in `pieces/` that is no piece yet.
pub static NO_RECORD: Code = Code {
    name: "no-record",
    rank: Rank::Mistake,
    why: "A folder in `pieces/` without a `record.toml` is no piece yet, and nothing is written for it.",
    fix: "Make the record with `witnessmark intake`, or move the folder out of `pieces/`.",
};

/// The word that says a test was not made.
pub const NOT_TESTED: &str = "not-tested";

/// The word that says something is not known.
pub const UNKNOWN: &str = "unknown";

/// Everything that a workshop's folder says.
#[derive(Debug)]
pub struct Folder {
    /// `workshop.toml`; `None` where it could not be read.
    pub workshop: Option<Workshop>,
    /// Whether its `[climate]` has a mistake, so that the buyers' air is said but not known.
    pub climate_unread: bool,
    /// `stock.toml`; empty where there is none.
    pub stock: Stock,
    /// The pieces, by folder name.
    pub pieces: Vec<Arc<Piece>>,
}

/// One piece's folder.
#[derive(Debug, Clone)]
pub struct Piece {
    /// The folder's name below `pieces/`.
    pub folder: String,
    /// `record.toml`; `None` where it could not be read at all.
    pub record: Option<Arc<Record>>,
    /// Whether some table of the record had to be left out because it could not be read.
    pub partial: bool,
    /// What the record lacks because of mistakes: how many of its tables have one, by the table's name, such as
    /// `[[part]]`; the file's own keys count as one under [`HEAD`].
    pub lacks: BTreeMap<&'static str, usize>,
    /// `story.md`, empty where there is none.
    pub story: Story,
    /// Names of the files in `photos/`, sorted.
    pub photos: Vec<String>,
    /// Its seals, the first one first.
    pub seals: Vec<Seal>,
    /// What the buyer may read of it today, in canonical form; `None` where it was never sealed or cannot be read.
    pub for_buyer: Option<CanonicalValue>,
}

impl Piece {
    /// The path of the piece's record from the workshop's root.
    pub fn record_path(&self) -> String {
        format!("pieces/{}/record.toml", self.folder)
    }

    /// The day it left: as the record says, or else its last seal.
    pub fn handed_over(&self) -> Option<NaiveDate> {
        let said = self.record.as_ref().and_then(|record| record.handover.as_ref()?.on.as_ref());
        said.map(|on| on.value).or_else(|| self.seals.last().map(|seal| seal.handed_over))
    }

    /// The photographs in `photos/` that are not for the archive alone, sorted.
    pub fn public_photographs(&self) -> Vec<String> {
        let entries = self.record.iter().flat_map(|record| &record.photos);
        let private: Vec<&str> = entries
            .filter(|entry| entry.private.as_ref().is_some_and(|private| private.value))
            .map(|entry| &**entry.file)
            .collect();
        let public = |file: &&String| {
            looks_like_photograph(file) && !file.contains('/') && !private.contains(&file.as_str())
        };
        self.photos.iter().filter(public).cloned().collect()
    }

    /// Whether all mistakes of reading its record are in rows of lists, each of which costs its own row alone.
    ///
    /// A mistake elsewhere may hide what nobody is to see: a photograph that is private, a piece that is not published.
    pub fn lacks_rows_alone(&self) -> bool {
        self.lacks.keys().all(|table| table.starts_with("[[") && *table != "[[photo]]")
    }

    /// The path of one of its photographs from the workshop's root.
    pub fn photo_path(&self, file: &str) -> String {
        format!("pieces/{}/photos/{file}", self.folder)
    }
}

/// Reads everything, and says what could not be read.
pub fn read(tree: &Tree) -> (Folder, Vec<Diagnostic>) {
    let mut problems: Vec<Diagnostic> =
        tree.faults().iter().map(|(path, why)| unreadable(path, &format!("this {why}"))).collect();
    let workshop = read_file(tree, "workshop.toml", Workshop::read_table, &mut problems);
    let stock = read_file(tree, "stock.toml", Stock::read_table, &mut problems);
    // A tin or stock that could not be read must not make every piece that uses it look wrong.
    let whole = workshop.whole && stock.whole;
    let elsewhere = LazyCell::new(|| NamedElsewhere::of(tree));
    let mut pieces = Vec::new();
    for folder in folders(tree) {
        let mut piece = read_piece(tree, folder, &mut problems);
        piece.partial |= !whole;
        if !piece.seals.is_empty() {
            piece.for_buyer = seal::for_buyer(tree, &piece, &elsewhere);
        }
        pieces.push(Arc::new(piece));
    }
    let stock = stock.table.unwrap_or(Stock { items: Vec::new() });
    let climate_unread = workshop.lacks.contains_key("[climate]");
    (Folder { workshop: workshop.table, climate_unread, stock, pieces }, problems)
}

/// The JSON Schema of `record.toml`.
pub fn record_schema() -> schemars::Schema {
    schemars::schema_for!(Record)
}

/// The JSON Schema of `workshop.toml`.
pub fn workshop_schema() -> schemars::Schema {
    schemars::schema_for!(Workshop)
}

/// The JSON Schema of `stock.toml`.
pub fn stock_schema() -> schemars::Schema {
    schemars::schema_for!(Stock)
}

/// The names of the folders in `pieces/`, sorted.
fn folders(tree: &Tree) -> Vec<String> {
    let mut names: Vec<String> = tree
        .below("pieces")
        .filter_map(|path| path.strip_prefix("pieces/")?.split_once('/'))
        .map(|(folder, _)| folder.to_owned())
        .collect();
    names.dedup();
    names.sort();
    names.dedup();
    names
}

fn read_piece(tree: &Tree, folder: String, problems: &mut Vec<Diagnostic>) -> Piece {
    let path = format!("pieces/{folder}/record.toml");
    let reading = read_file(tree, &path, Record::read_table, problems);
    if !tree.has(&path) {
        let place = Place::file(&format!("pieces/{folder}"));
        problems.push(
            Diagnostic::new(&NO_RECORD, place, "this folder has no record.toml")
                .help(format!("`witnessmark intake` makes one; or move `{folder}` out of pieces/")),
        );
    }
    let story = read_story(tree, &format!("pieces/{folder}/story.md"), problems);
    let prefix = format!("pieces/{folder}/photos/");
    let photos = tree
        .below(&format!("pieces/{folder}/photos"))
        .filter_map(|path| path.strip_prefix(&prefix))
        .filter(|file| !file.starts_with('.') && !file.contains("/."))
        .map(str::to_owned)
        .collect();
    let seals = seal::read(tree, &folder, problems);
    Piece {
        folder,
        record: reading.table.map(Arc::new),
        partial: !reading.whole,
        lacks: reading.lacks,
        story,
        photos,
        seals,
        for_buyer: None,
    }
}

/// Reads a story; one that cannot be printed is told and says nothing.
fn read_story(tree: &Tree, path: &str, problems: &mut Vec<Diagnostic>) -> Story {
    let text = match tree.text(path) {
        None => return Story::default(),
        Some(Ok(text)) => text,
        Some(Err(fault)) => {
            problems.push(unreadable(path, &format!("the story {fault}")).help(fault.remedy()));
            return Story::default();
        }
    };
    let story = Story::read(text.to_owned());
    let Some(fault) = story.fault() else { return story };
    problems.push(Diagnostic::new(fault.code, Place::at(path, &fault.span), fault.message).help(fault.help));
    Story::default()
}

fn unreadable(path: &str, why: &str) -> Diagnostic {
    Diagnostic::new(&code::UNREADABLE_TEXT, Place::file(path), why)
}

/// Reads one TOML file into a table's type; a file that is not there says nothing and lacks nothing.
fn read_file<T>(
    tree: &Tree,
    path: &str,
    read: fn(&Fields<'_>, &mut Reader<'_>) -> Option<T>,
    problems: &mut Vec<Diagnostic>,
) -> Reading<T> {
    let mut reading = match tree.text(path) {
        None => return Reading::nothing(None),
        Some(Ok(text)) => read_text(path, text, read),
        Some(Err(fault)) => {
            Reading::nothing(Some(unreadable(path, &format!("this file {fault}")).help(fault.remedy())))
        }
    };
    problems.append(&mut reading.problems);
    reading
}

#[cfg(test)]
mod tests {
    use super::*;

    fn problems(record: &str) -> Vec<String> {
        let tree = Tree::of([("workshop.toml", "name = \"W\""), ("pieces/a/record.toml", record)]);
        let (_, problems) = read(&tree);
        problems
            .iter()
            .map(|problem| {
                let (start, _) = problem.place.span.unwrap_or_default();
                let (line, column) = crate::diag::line_and_column(record, start);
                format!("{line}:{column} {}: {} [{}]", problem.code.name, problem.message, problem.help)
            })
            .collect()
    }

    const HEAD: &str = "title = \"Chair\"\nnumber = \"A-1\"\nkind = \"seating\"\n";

    #[test]
    fn several_mistakes_are_told_in_one_go() {
        let record = format!(
            "{HEAD}hours = \"three\"\nsumary = \"x\"\n[[part]]\nid = \"Leaf Left\"\nname = \"\"\nstanding = \"orignal\"\n"
        );
        assert_eq!(
            problems(&record),
            [
                "5:1 unknown-key: the file has no key `sumary` [write `summary`]",
                "4:9 wrong-kind: this is text, and hours of work, from 0 to 10 000 is wanted [write it as 1.5, without quotes]",
                "7:6 unsound-id: `Leaf Left` is no id: small letters, digits and hyphens, at most 60 [write `leaf-left`]",
                "8:8 empty-text: this says nothing [write something, or leave the key out]",
                "9:12 unknown-word: `orignal` is not a word that is known here [write \"original\"]",
            ]
        );
    }

    #[test]
    fn a_mistyped_required_key_is_told_once() {
        assert_eq!(
            problems("titel = \"Chair\"\nnumber = \"A-1\"\nkind = \"seating\"\n"),
            ["1:1 unknown-key: the file has no key `titel` [write `title`]"]
        );
    }

    #[test]
    fn a_single_table_for_a_list_is_shown_its_brackets() {
        assert_eq!(
            problems(&format!("{HEAD}[part]\nid = \"a\"\n")),
            ["4:1 wrong-kind: this is a table, and a list is wanted [write `[[part]]`, with two brackets]"]
        );
    }

    #[test]
    fn money_is_decimal_and_never_negative() {
        assert_eq!(problems(&format!("{HEAD}asking = 0.10\n")), Vec::<String>::new());
        assert_eq!(
            problems(&format!("{HEAD}asking = -1\n")),
            [
                "4:10 out-of-range: this cannot be an amount of money, from 0 to 10 000 000 [write it as 35.00]"
            ]
        );
    }

    #[test]
    fn a_part_left_out_leaves_the_record_partial() {
        let record = format!("{HEAD}[[part]]\nid = \"a\"\nname = \"A\"\nstanding = \"orignal\"\n");
        let (folder, _) =
            read(&Tree::of([("workshop.toml", "name = \"W\""), ("pieces/a/record.toml", &record)]));
        assert!(folder.pieces[0].partial);
        assert!(folder.pieces[0].record.is_some());
    }

    #[test]
    fn broken_toml_in_one_piece_leaves_the_others_alone() {
        let tree = Tree::of([
            ("workshop.toml", "name = \"W\""),
            ("pieces/a/record.toml", "title = \"Ch\nnumber = "),
            ("pieces/b/record.toml", HEAD),
        ]);
        let (folder, problems) = read(&tree);
        assert!(folder.pieces[0].record.is_none());
        assert!(folder.pieces[1].record.is_some());
        assert!(problems.iter().all(|problem| problem.place.path == "pieces/a/record.toml"));
        assert!(problems.len() >= 2, "{problems:?}");
    }

    #[test]
    fn deep_nesting_is_a_diagnostic() {
        let deep = format!("a = {}{}", "[".repeat(5000), "]".repeat(5000));
        assert!(problems(&deep).iter().all(|problem| problem.contains("broken-toml")));
        assert!(!problems(&deep).is_empty());
    }
}
