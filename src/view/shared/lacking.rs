//! What papers lack because part of the record could not be read.

use crate::claim::{Message, Value, says};
use crate::record::Piece;
use crate::words::Words;

/// Lists of a record whose rows papers show.
const ROWS: [&str; 13] = [
    "part",
    "patch",
    "fixing",
    "finding",
    "decision",
    "work",
    "surface",
    "test",
    "undone",
    "open",
    "pair",
    "swatch",
    "amendment",
];

/// A sentence on the rows that could not be read; empty where all could.
pub(crate) fn lacking(piece: &Piece, words: &Words) -> String {
    let row = |table: &&str| {
        let count = Value::from(*piece.lacks.get(&*format!("[[{table}]]"))?);
        Some(Value::Message(Message { values: vec![("count", count)], ..Message::word("lacks", table) }))
    };
    let rows: Vec<Value> = ROWS.iter().filter_map(row).collect();
    match rows.is_empty() {
        true => String::new(),
        false => words.say(&says!("lacking", rows = Value::All(rows))),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::record;
    use crate::source::Tree;

    fn lacks(rows: &str) -> String {
        let record = format!("title = \"T\"\nnumber = \"T-1\"\nkind = \"table\"\n{rows}");
        let (folder, _) = record::read(&Tree::of([("pieces/t/record.toml", record)]));
        lacking(&folder.pieces[0], &Words::with_currency("GBP"))
    }

    #[test]
    fn rows_are_counted_by_what_they_are() {
        assert_eq!(lacks("[[part]]\nid = \"a\"\nname = \"A\"\nstanding = \"new\"\n"), "");
        assert_eq!(
            lacks(
                "finding = [{ seen = 1 }]\n[[part]]\nid = \"A\"\nname = 1\nstanding = \"x\"\n[[part]]\nnam = 1\n"
            ),
            "Incomplete: part of the record could not be read. Left out, wholly or in part: 2 parts and 1 finding."
        );
    }

    #[test]
    fn what_only_the_archive_tells_is_not_named() {
        assert_eq!(lacks("[[cost]]\nfor = 1\n"), "");
    }
}
