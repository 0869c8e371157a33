//! What is wrong with a record, where, and what to write instead.
//!
//! A [`Diagnostic`] is a finished sentence with a place; this floor knows how to
//! draw it for a terminal and how to list it as data. It never decides anything.

mod nearest;
mod text;

use std::collections::BTreeMap;
use std::ops::Range;

use serde::Serialize;

pub use nearest::nearest;
pub use text::Drawing;

/// How much a diagnostic matters.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Rank {
    /// The papers would be wrong: what it touches stays out of them until it is mended.
    Mistake,
    /// The papers are written, but something in them is missing or doubtful.
    Doubt,
    /// The record is sound; this would make its papers better.
    Hint,
}

impl Rank {
    /// The word that is printed for it.
    pub fn word(self) -> &'static str {
        match self {
            Rank::Mistake => "mistake",
            Rank::Doubt => "doubt",
            Rank::Hint => "hint",
        }
    }
}

/// One kind of fault: its name, and what `why` prints about it.
#[derive(Debug, PartialEq, Eq)]
pub struct Code {
    /// Kebab-case; names the fault as it looks, never its cure.
    pub name: &'static str,
    /// How much it matters.
    pub rank: Rank,
    /// Why it matters to the workshop or the buyer.
    pub why: &'static str,
    /// What to do about it.
    pub fix: &'static str,
}

/// Where in the workshop's folder a diagnostic belongs.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub struct Place {
    /// Path from the workshop's root, with forward slashes.
    pub path: String,
    /// Byte range in that file; `None` where the file as a whole is meant.
    pub span: Option<(usize, usize)>,
}

impl Place {
    /// A byte range of a text file.
    pub fn at(path: &str, span: &Range<usize>) -> Self {
        Place { path: path.to_owned(), span: Some((span.start, span.end)) }
    }

    /// A file or folder as a whole.
    pub fn file(path: &str) -> Self {
        Place { path: path.to_owned(), span: None }
    }

    /// The folder of the piece that the file belongs to, if it belongs to one.
    pub fn piece(&self) -> Option<&str> {
        self.path.strip_prefix("pieces/")?.split('/').next()
    }
}

/// A mistake or a gap in the records, with its place and its cure.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Diagnostic {
    /// The kind of fault.
    pub code: &'static Code,
    /// Where it is.
    pub place: Place,
    /// What is wrong, in lower case and without a full stop.
    pub message: String,
    /// What to write instead; empty where the message says it all.
    pub help: String,
}

impl Diagnostic {
    /// A diagnostic without help.
    pub fn new(code: &'static Code, place: Place, message: impl Into<String>) -> Self {
        Diagnostic { code, place, message: message.into(), help: String::new() }
    }

    /// The same diagnostic, saying what to write instead.
    pub fn help(mut self, help: impl Into<String>) -> Self {
        self.help = help.into();
        self
    }

    /// How much it matters.
    pub fn rank(&self) -> Rank {
        self.code.rank
    }
}

/// Sorts the most serious first, then by file and place.
pub fn sort(diagnostics: &mut [Diagnostic]) {
    diagnostics.sort_by(|a, b| {
        (a.rank(), &a.place, a.code.name, &a.message).cmp(&(b.rank(), &b.place, b.code.name, &b.message))
    });
}

/// How many of one kind are told of one piece before the rest is only counted.
const MOST_OF_A_KIND: usize = 100;

/// Leaves of each kind the first ones of a piece, and one more that counts the rest.
pub fn bound(diagnostics: &mut Vec<Diagnostic>) {
    let kind = |found: &Diagnostic| (found.place.piece().map(str::to_owned), found.code.name);
    let (mut all, mut told) = (BTreeMap::new(), BTreeMap::new());
    diagnostics.iter().for_each(|found| *all.entry(kind(found)).or_insert(0) += 1);
    diagnostics.retain_mut(|found| {
        let kind = kind(found);
        let rest = all[&kind] - MOST_OF_A_KIND.min(all[&kind]);
        let place = told.entry(kind).or_insert(0);
        *place += 1;
        // A single one more is told itself, since counting it would be no shorter.
        if *place == MOST_OF_A_KIND + 1 && rest > 1 {
            found.message = format!("there are {rest} more of this kind, from this one on");
            found.help = String::new();
        }
        *place <= MOST_OF_A_KIND + 1
    });
}

/// Line and column of a byte offset, both counted from 1; columns count characters.
pub fn line_and_column(text: &str, offset: usize) -> (usize, usize) {
    let before = &text[..floor_boundary(text, offset)];
    let line_start = before.rfind('\n').map_or(0, |newline| newline + 1);
    (before.matches('\n').count() + 1, before[line_start..].chars().count() + 1)
}

/// The largest character boundary at or below `offset`.
fn floor_boundary(text: &str, offset: usize) -> usize {
    let mut at = offset.min(text.len());
    while !text.is_char_boundary(at) {
        at -= 1;
    }
    at
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn very_many_of_a_kind_are_counted() {
        static CODE: Code = Code { name: "x", rank: Rank::Hint, why: "", fix: "" };
        let told = |number: usize| {
            let place = |at: usize| Place::file(&format!("pieces/a/photos/{at:04}.jpg"));
            let mut all: Vec<Diagnostic> =
                (0..number).map(|at| Diagnostic::new(&CODE, place(at), "it").help("mend it")).collect();
            all.push(Diagnostic::new(&CODE, Place::file("pieces/b/record.toml"), "it"));
            bound(&mut all);
            let last = all[all.len() - 2].clone();
            (all.len() - 1, last.place.path, last.message)
        };
        assert_eq!(told(101), (101, "pieces/a/photos/0100.jpg".to_owned(), "it".to_owned()));
        let words = "there are 900 more of this kind, from this one on".to_owned();
        assert_eq!(told(1000), (101, "pieces/a/photos/0100.jpg".to_owned(), words));
    }

    #[test]
    fn columns_count_characters_not_bytes() {
        assert_eq!(line_and_column("äö = 1\nx = 2", 5), (1, 4));
        assert_eq!(line_and_column("äö = 1\nx = 2", 9), (2, 1));
    }

    #[test]
    fn an_offset_inside_a_character_or_past_the_end_is_still_a_place() {
        assert_eq!(line_and_column("ä", 1), (1, 1));
        assert_eq!(line_and_column("ab", 99), (1, 3));
    }
}
