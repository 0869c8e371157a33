//! A piece in memory, for the tests of this floor.

use super::context::{HouseStyle, PieceContext};
use crate::derive::Workpiece;
use crate::record;
use crate::source::Tree;
use crate::trade::Trade;

/// Shows a piece made from a record, without its title, number and kind, in a workshop without its name.
pub(super) fn shown<T>(text: &str, workshop: &str, see: impl FnOnce(&PieceContext<'_>) -> T) -> T {
    let record = format!("title = \"Table\"\nnumber = \"T-1\"\nkind = \"table/gateleg\"\n{text}");
    let (folder, problems) = record::read(&Tree::of([
        ("workshop.toml".to_owned(), format!("name = \"Bench\"\ncurrency = \"GBP\"\n{workshop}")),
        ("pieces/table/record.toml".to_owned(), record),
    ]));
    assert_eq!(problems, [], "the fixture cannot be read");
    let trade = Trade::built_in();
    let workpiece = Workpiece::unopened(&folder, &folder.pieces[0], trade).expect("it was read");
    let house = HouseStyle::of(folder.workshop.as_ref().expect("it was read"));
    see(&PieceContext::of(&folder, &workpiece, trade, &house))
}
