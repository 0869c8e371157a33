//! A piece in memory, for the tests of this floor.

use super::{Household, Source};
use crate::derive;
use crate::inspect::Looks;
use crate::record;
use crate::source::Tree;
use crate::trade::Trade;

/// Shows a piece made from a record, without its title, number and kind, in a workshop without its name.
pub(super) fn shown<T>(text: &str, workshop: &str, see: impl FnOnce(&Source<'_>) -> T) -> T {
    let record = format!("title = \"Table\"\nnumber = \"T-1\"\nkind = \"table/gateleg\"\n{text}");
    let (folder, problems) = record::read(&Tree::of([
        ("workshop.toml".to_owned(), format!("name = \"Bench\"\ncurrency = \"GBP\"\n{workshop}")),
        ("pieces/table/record.toml".to_owned(), record),
    ]));
    assert_eq!(problems, [], "the fixture cannot be read");
    let (trade, looks) = (Trade::built_in(), Looks::new());
    let piece = &folder.pieces[0];
    let facts = derive::facts(&folder, piece, piece.record.as_ref().expect("it was read"), trade);
    let house = Household::of(folder.workshop.as_ref().expect("it was read"));
    see(&Source::of(&folder, piece, Some(&facts), &looks, trade, &house).expect("the record was read"))
}
