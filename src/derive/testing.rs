//! A workshop in memory, for the tests of this floor.

use crate::record::{self, Folder};
use crate::source::Tree;

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
