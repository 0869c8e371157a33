//! Fixings of one kind.

use serde::Serialize;

use crate::claim::says;
use crate::derive::{fixing_name, standing_of_fixing};
use crate::fields::Row;
use crate::record::Fixing;
use crate::trade::Era;
use crate::view::context::PieceContext;
use crate::words::{capital, sentence};

/// Fixings of one kind.
#[derive(Debug, Clone, Serialize)]
pub struct FixingRow {
    /// Count and kind.
    pub name: String,
    /// The parts it holds; may be empty.
    pub parts: String,
    /// Standing in words.
    pub standing: String,
    /// Standing as the record writes it.
    pub standing_word: String,
    /// When such a fixing belongs to the trade; empty where not known.
    pub era: String,
    /// Whether it is a modern kind.
    pub modern: bool,
    /// What it replaces, why, and anything else.
    pub notes: Vec<String>,
    /// How it comes out; empty where not known.
    pub undo: String,
    /// The row of the record, for what follows from it.
    #[serde(skip)]
    pub row: Row<Fixing>,
}

pub(super) fn fixing_row(context: &PieceContext<'_>, fixing: &Row<Fixing>) -> FixingRow {
    let words = context.house.words();
    let kind = context.trade.fixing(&fixing.kind);
    let era = kind.map(|kind| kind.era.value);
    let modern = era == Some(Era::Modern);
    FixingRow {
        name: capital(&words.value(&fixing_name(fixing, context.trade))),
        parts: context.names.parts(&fixing.part),
        standing: words.word("standing", standing_of_fixing(fixing).word()),
        standing_word: standing_of_fixing(fixing).word().to_owned(),
        era: era.map_or(String::new(), |era| words.word("era", era.word())),
        modern,
        notes: [
            fixing.instead_of.as_ref().map(|old| words.say(&says!("in-place-of", old = words.said(old)))),
            fixing.why.as_ref().map(|why| words.said(why)),
            fixing.note.as_ref().map(|note| words.said(note)),
        ]
        .into_iter()
        .flatten()
        .map(|note| sentence(&note))
        .collect(),
        undo: fixing
            .undo
            .as_ref()
            .map(|undo| sentence(&words.said(undo)))
            .or_else(|| kind.map(|kind| kind.undo.to_string()))
            .unwrap_or_default(),
        row: fixing.clone(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::record::Standing;
    use crate::view::testing::shown;

    #[test]
    fn kinds_are_counted_and_named_in_plain_words() {
        let row = |keys: &str| {
            let record = format!("fixing = [{{ {keys} }}]");
            shown(&record, "", |context| fixing_row(context, &context.record.fixings[0]))
        };
        let screws = row("kind = \"screw-crosshead\", count = 6, standing = \"new\", instead-of = \"nails\"");
        assert_eq!((screws.name.as_str(), screws.modern), ("6 cross-head screws", true));
        assert_eq!(
            (screws.row.standing.value, screws.notes[0].as_str()),
            (Standing::New, "In place of nails.")
        );
        let glue = row("kind = \"hide-glue\", standing = \"original\"");
        assert_eq!((glue.name.as_str(), glue.modern), ("Hide glue", false));
        let own = row("kind = \"bent-hairpin\", standing = \"later\"");
        assert_eq!((own.name.as_str(), own.era.as_str(), own.undo.as_str()), ("Bent hairpin", "", ""));
    }
}
