//! One door for the tests of what follows from a record: text in, facts out.

use super::Facts;
use crate::record::{self, Folder};
use crate::source::Tree;
use crate::trade::Trade;

/// Reads one piece's record, without its title, number and kind, and a workshop, without its name.
#[track_caller]
pub(super) fn folder(record: &str, workshop: &str) -> Folder {
    let record = format!("title = \"Table\"\nnumber = \"T-1\"\nkind = \"table/gateleg\"\n{record}");
    let (folder, problems) = record::read(&Tree::of([
        ("workshop.toml".to_owned(), format!("name = \"Bench\"\ncurrency = \"GBP\"\n{workshop}")),
        ("pieces/table/record.toml".to_owned(), record),
    ]));
    assert_eq!(problems, [], "the fixture cannot be read");
    folder
}

/// A workshop whose buyers' rooms have this air at 20 °C.
pub(super) fn workshop(low: f64, high: f64) -> String {
    format!(
        "name = \"Bench\"\nclimate = {{ humidity-low = {low}, humidity-high = {high}, temperature = 20 }}\n"
    )
}

/// What follows from a record; title, number and kind are added where it lacks them.
#[track_caller]
pub(super) fn facts(record: &str, workshop: &str) -> Facts {
    let mut text = String::new();
    for (key, value) in [("title", "Piece"), ("number", "T-1"), ("kind", "case/bookcase")] {
        if !record.lines().any(|line| line.starts_with(&format!("{key} ="))) {
            text.push_str(&format!("{key} = \"{value}\"\n"));
        }
    }
    text.push_str(record);
    let tree = Tree::of([
        ("workshop.toml".to_owned(), workshop.as_bytes().to_vec()),
        ("pieces/one/record.toml".to_owned(), text.into_bytes()),
    ]);
    let (folder, problems) = record::read(&tree);
    assert_eq!(problems, [], "the fixture cannot be read");
    let piece = &folder.pieces[0];
    super::facts(&folder, piece, piece.record.as_ref().expect("it was read"), None, Trade::built_in())
}
