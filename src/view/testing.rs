//! A piece in memory, for the tests of this floor.

use super::context::{HouseStyle, PieceContext};
use crate::derive::Workpiece;
use crate::record;
use crate::source::Tree;
use crate::trade::Trade;

/// Shows a piece made from a record, without its title, number and kind, in a workshop without its name.
pub(super) fn shown<T>(text: &str, workshop: &str, see: impl FnOnce(&PieceContext<'_>) -> T) -> T {
    piece(&[], text, workshop, see)
}

/// The same with photographs that nobody opens, by their file names.
pub(super) fn photographed<T>(files: &[&str], text: &str, see: impl FnOnce(&PieceContext<'_>) -> T) -> T {
    piece(files, text, "", see)
}

fn piece<T>(photographs: &[&str], text: &str, workshop: &str, see: impl FnOnce(&PieceContext<'_>) -> T) -> T {
    let record = format!("title = \"Table\"\nnumber = \"T-1\"\nkind = \"table/gateleg\"\n{text}");
    let mut files = vec![
        ("workshop.toml".to_owned(), format!("name = \"Bench\"\ncurrency = \"GBP\"\n{workshop}")),
        ("pieces/table/record.toml".to_owned(), record),
    ];
    files.extend(photographs.iter().map(|file| (format!("pieces/table/photos/{file}"), String::new())));
    let (folder, problems) = record::read(&Tree::of(files));
    assert_eq!(problems, [], "the fixture cannot be read");
    let trade = Trade::built_in();
    let workpiece = Workpiece::unopened(&folder, &folder.pieces[0], trade).expect("it was read");
    let house = HouseStyle::of(
        folder.workshop.as_ref().expect("it was read"),
        &crate::words::Language::british(),
        chrono::NaiveDate::default(),
    );
    see(&PieceContext::of(&folder, &workpiece, trade, &house))
}
