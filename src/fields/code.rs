//! The faults that reading itself can find.

use crate::diag::{Code, Rank};
use crate::unit::legible;

macro_rules! codes {
    ($($constant:ident = $rank:ident $name:literal { why: $why:literal, fix: $fix:literal })*) => {
        $(pub(crate) static $constant: Code = Code { name: $name, rank: Rank::$rank, why: $why, fix: $fix };)*

        /// Every fault that reading can find.
        pub static CODES: &[&Code] = &[$(&$constant),*];
    };
}

codes! {
    BROKEN_TOML = Mistake "broken-toml" {
        why: "What breaks the grammar of TOML cannot be read; the rest of the file is.",
        fix: "Mend the marked place; most often a quote, a bracket or an equals sign is missing."
    }
    LOOSE_TOML = Doubt "loose-toml" {
        why: "It breaks the grammar of TOML, so no other program reads it; what it seems to mean was read, and may not be what was meant.",
        fix: "Write the line as the help shows it, and see whether it says what you mean."
    }
    LOOSE_VALUE = Doubt "loose-value" {
        why: "It is written otherwise than the format has it; what it seems to mean was read, and may not be what was meant.",
        fix: "Write it as the help shows it, and see whether it says what you mean."
    }
    UNREADABLE_TEXT = Mistake "unreadable-text" {
        why: "A record or story that is not UTF-8 text, is far too long, or is a link cannot be read safely.",
        fix: "Save the file as UTF-8 in an editor, in the piece's own folder."
    }
    MISSING_KEY = Mistake "missing-key" {
        why: "Without this key the table says nothing that could be printed.",
        fix: "Add the key. Where the answer is not known, most words may be `unknown`."
    }
    UNKNOWN_KEY = Mistake "unknown-key" {
        why: "A key that is not read would be lost without a word, and with it a fact about the piece.",
        fix: "Correct the spelling, or put the fact where the record has a place for it."
    }
    UNKNOWN_WORD = Mistake "unknown-word" {
        why: "These words are printed and counted, so only words with a fixed meaning are taken.",
        fix: "Take the nearest word of the list; `unknown` is always one of them where a piece is described."
    }
    WRONG_KIND = Mistake "wrong-kind" {
        why: "The value is of another kind than the key takes, so it would be printed wrongly.",
        fix: "Write the value as the help line shows."
    }
    OUT_OF_RANGE = Mistake "out-of-range" {
        why: "The number cannot be what it is meant to be, and everything computed from it would be wrong.",
        fix: "Check the unit: lengths are millimetres, places on photographs are fractions from 0 to 1."
    }
    EMPTY_TEXT = Mistake "empty-text" {
        why: "An empty text would print as an empty line, which a buyer may read as \"nothing to report\".",
        fix: "Say it, or leave the key out."
    }
    TOO_LONG = Mistake "too-long" {
        why: "A text or a list far beyond what a paper can hold would not be read by anybody, and makes papers that cannot be printed.",
        fix: "Shorten it; a long account belongs in the story."
    }
    TOO_DEEP = Mistake "too-deep" {
        why: "Lists and quotations within one another stand narrower with each level, until no word has room on a page.",
        fix: "Take the marked lines out of some of the lists or quotations that they stand in."
    }
    MANY_MISTAKES = Mistake "many-mistakes" {
        why: "Beyond some hundreds of mistakes in one file, most often one of them is the cause of the others.",
        fix: "Mend those above first; the next run tells the others."
    }
    UNSOUND_ID = Mistake "unsound-id" {
        why: "Ids are typed again in other places of the record and become parts of addresses.",
        fix: "Use small letters, digits and hyphens only."
    }
    UNREADABLE_YEAR = Mistake "unreadable-year" {
        why: "Years of making are compared with the dates of materials and fixings, so they must be exact about being inexact.",
        fix: "Write EDTF: `1925`, `192X` for the 1920s, `1920/1935` for a span, `~` after a year for about, `?` for not certain."
    }
    UNSEEN_CHARACTER = Doubt "unseen-character" {
        why: "A character that nobody sees makes a text say something else to a search, a program or a terminal than to a reader; the papers leave it out.",
        fix: "Type the text anew there; such characters come along with text that is pasted from web pages and word processors."
    }
}

/// Whether a fault was read nevertheless, as what it seems to mean.
pub(crate) fn is_loose(code: &Code) -> bool {
    [LOOSE_TOML.name, LOOSE_VALUE.name].contains(&code.name)
}

/// What is said of the characters of a text that nobody sees: what they are, and what to do; `None` where it has none.
pub(crate) fn unseen_character(mut unseen: impl Iterator<Item = char>) -> Option<(String, String)> {
    let first = unseen.next()?;
    let more = match unseen.count() {
        0 => String::new(),
        1 => ", and one more that nobody sees".to_owned(),
        more => format!(", and {more} more that nobody sees"),
    };
    let message = format!("this text holds {}, {}{more}", legible::code_point(first), legible::kind(first));
    Some((message, "type it anew without; the papers leave it out".to_owned()))
}
