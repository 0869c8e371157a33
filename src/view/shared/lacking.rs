//! What papers lack because part of the record could not be read.

use crate::record::Piece;
use crate::words;

/// The tables of a record that everybody may read, and what one and several of their rows are called.
const ROWS: [(&str, &str, &str); 13] = [
    ("[[part]]", "part", "parts"),
    ("[[patch]]", "patch", "patches"),
    ("[[fixing]]", "fixing", "fixings"),
    ("[[finding]]", "finding", "findings"),
    ("[[decision]]", "decision", "decisions"),
    ("[[work]]", "piece of work", "pieces of work"),
    ("[[surface]]", "surface", "surfaces"),
    ("[[test]]", "test", "tests"),
    ("[[undone]]", "thing left undone", "things left undone"),
    ("[[open]]", "open question", "open questions"),
    ("[[pair]]", "pair of photographs", "pairs of photographs"),
    ("[[swatch]]", "colour match", "colour matches"),
    ("[[amendment]]", "reason for a change", "reasons for a change"),
];

/// What is missing because it could not be read, in a sentence; empty where nothing is. What only the archive tells is
/// passed over.
pub(crate) fn lacking(piece: &Piece) -> String {
    let row = |&(table, one, several): &(&str, &str, &str)| {
        let number = u32::try_from(*piece.lacks.get(table)?).unwrap_or(u32::MAX);
        Some(words::count(number, one, several))
    };
    let rows: Vec<String> = ROWS.iter().filter_map(row).collect();
    match rows.as_slice() {
        [] => String::new(),
        rows => format!(
            "Incomplete: part of the record could not be read. Left out, wholly or in part: {}.",
            words::list(rows)
        ),
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
        lacking(&folder.pieces[0])
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
