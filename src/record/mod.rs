//! What a workshop's folder says: typed values, each with its place.
//!
//! Reading never stops at the first mistake, never looks at the clock, and never
//! judges: whether the record makes sense is for `inspect`.

mod bench;
mod part;
mod photo;
mod piece;
mod surface;
mod workshop;

pub use bench::{
    Cause, Choice, Confidence, Cost, Decision, Finding, Lesson, Open, Outcome, Severity, Trial, Undoable,
    Undone, Why, Work,
};
pub use part::{Build, Ends, Fixing, Grain, Held, Lipping, Part, PartSize, Sawn, Standing};
pub use photo::{Mark, Pair, PhotoEntry, Stage, Swatch};
pub use piece::{Found, Handover, Level, Record, Shelf, Size, Use};
pub use surface::{Act, Ingredient, Step, Surface};
pub use workshop::{Climate, Language, Paper, Stock, StockItem, Tin, Units, Workshop};

use crate::diag::{Code, Diagnostic, Place, Severity as Weight};
use crate::fields::{Fields, Reader, code, read_text};
use crate::source::Tree;

/// A folder in `pieces/` that is no piece yet.
pub static NO_RECORD: Code = Code {
    name: "no-record",
    severity: Weight::Error,
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
    /// `stock.toml`; empty where there is none.
    pub stock: Stock,
    /// The pieces, by folder name.
    pub pieces: Vec<Piece>,
}

/// One piece's folder.
#[derive(Debug)]
pub struct Piece {
    /// The folder's name below `pieces/`.
    pub folder: String,
    /// `record.toml`; `None` where it could not be read at all.
    pub record: Option<Record>,
    /// Whether some table of the record had to be left out because it could not be read.
    pub partial: bool,
    /// `story.md`, empty where there is none.
    pub story: String,
    /// Names of the files in `photos/`, sorted.
    pub photos: Vec<String>,
}

impl Piece {
    /// The path of the piece's record from the workshop's root.
    pub fn record_path(&self) -> String {
        format!("pieces/{}/record.toml", self.folder)
    }

    /// The path of one of its photographs from the workshop's root.
    pub fn photo_path(&self, file: &str) -> String {
        format!("pieces/{}/photos/{file}", self.folder)
    }
}

/// Reads everything, and says what could not be read.
pub fn read(tree: &Tree) -> (Folder, Vec<Diagnostic>) {
    let mut problems: Vec<Diagnostic> = tree
        .faults()
        .iter()
        .map(|(path, fault)| Diagnostic::new(&code::UNREADABLE_TEXT, Place::file(path), fault.clone()))
        .collect();
    let workshop = read_file(tree, "workshop.toml", Workshop::read_table, &mut problems);
    let stock = match tree.has("stock.toml") {
        true => read_file(tree, "stock.toml", Stock::read_table, &mut problems),
        false => None,
    };
    let pieces = folders(tree).into_iter().map(|folder| read_piece(tree, folder, &mut problems)).collect();
    (Folder { workshop, stock: stock.unwrap_or(Stock { items: Vec::new() }), pieces }, problems)
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
    let before = problems.len();
    let record = if tree.has(&path) {
        read_file(tree, &path, Record::read_table, problems)
    } else {
        let place = Place::file(&format!("pieces/{folder}"));
        problems.push(
            Diagnostic::new(&NO_RECORD, place, "this folder has no record.toml")
                .help(format!("`witnessmark intake` makes one; or move `{folder}` out of pieces/")),
        );
        None
    };
    let dropping =
        [code::MISSING_KEY.name, code::WRONG_KIND.name, code::UNSOUND_ID.name, code::EMPTY_TEXT.name];
    let partial = problems[before..].iter().any(|problem| dropping.contains(&problem.code.name));
    let story_path = format!("pieces/{folder}/story.md");
    let story = match tree.text(&story_path) {
        Some(Ok(text)) => text.to_owned(),
        Some(Err(fault)) => {
            problems.push(Diagnostic::new(
                &code::UNREADABLE_TEXT,
                Place::file(&story_path),
                format!("the story is {fault}"),
            ));
            String::new()
        }
        None => String::new(),
    };
    let prefix = format!("pieces/{folder}/photos/");
    let photos = tree
        .below(&format!("pieces/{folder}/photos"))
        .filter_map(|path| path.strip_prefix(&prefix))
        .filter(|file| !file.starts_with('.') && !file.contains("/."))
        .map(str::to_owned)
        .collect();
    Piece { folder, record, partial, story, photos }
}

/// Reads one TOML file into a table's type.
fn read_file<T>(
    tree: &Tree,
    path: &str,
    read: fn(&Fields<'_>, &mut Reader<'_>) -> Option<T>,
    problems: &mut Vec<Diagnostic>,
) -> Option<T> {
    let text = match tree.text(path)? {
        Ok(text) => text,
        Err(fault) => {
            problems.push(Diagnostic::new(
                &code::UNREADABLE_TEXT,
                Place::file(path),
                format!("this file is {fault}"),
            ));
            return None;
        }
    };
    let (found, mut mistakes) = read_text(path, text, read);
    problems.append(&mut mistakes);
    found
}
