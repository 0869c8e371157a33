//! What to look for on a piece at the seller's: a list for the workshop, and no paper of a piece.

use serde::Serialize;

use crate::archive::BeforeAnswer;
use crate::claim::{Value, says};
use crate::trade::{Heard, Look, LookingOver};
use crate::unit::legible::one_line;
use crate::words::{Words, capital};

/// How many faults and lessons of earlier pieces stand on the list.
const REMEMBERED: usize = 4;

/// A line: what to do, what to look for, and what a yes means.
#[derive(Debug, Clone, Serialize)]
pub struct LookRow {
    /// What to do, in a word or two.
    pub deed: String,
    /// What to look for, as a question.
    pub look: String,
    /// What a yes means for price or work.
    pub means: String,
}

/// The lines of one feature.
#[derive(Debug, Clone, Serialize)]
pub struct LookPart {
    /// What the feature is called.
    pub name: String,
    /// Its lines, those that matter most first.
    pub rows: Vec<LookRow>,
}

/// What to look for on a piece of a kind.
#[derive(Debug, Clone, Serialize)]
pub struct LookOver {
    /// The kind, in the words in which it was asked for.
    pub kind: String,
    /// What it was taken for, in a sentence.
    pub heard: String,
    /// The signs of danger.
    pub dangers: Vec<LookRow>,
    /// Everything else.
    pub parts: Vec<LookPart>,
    /// What was found on such pieces before, a line each; empty where there were none.
    pub found: Vec<String>,
    /// What was to be remembered of such pieces.
    pub lessons: Vec<String>,
}

impl LookOver {
    /// The list for a kind; `before` is what the archive has of such pieces.
    pub fn of(kind: &str, over: &LookingOver<'_>, before: Option<&BeforeAnswer>, words: &Words) -> LookOver {
        let row = |look: &&Look| LookRow {
            deed: words.word("deed", look.r#do.word()),
            look: look.look.to_string(),
            means: look.means.to_string(),
        };
        let part = |of: &crate::trade::LooksOf<'_>| LookPart {
            name: of.feature.name.to_string(),
            rows: of.looks.iter().map(row).collect(),
        };
        LookOver {
            kind: one_line(kind),
            heard: words.sentence_of(&heard(&over.heard)),
            dangers: over.dangers.iter().map(row).collect(),
            parts: over.rest.iter().map(part).collect(),
            found: before.map_or_else(Vec::new, |before| found(before, words)),
            lessons: before.map_or_else(Vec::new, |before| lessons(before, words)),
        }
    }
}

/// What the words for a kind were taken for.
fn heard(heard: &Heard<'_>) -> crate::claim::Message {
    let names =
        |names: Vec<&str>| Value::All(names.into_iter().map(|name| Value::Name(name.to_owned())).collect());
    let kinds = names(heard.kinds.iter().map(|kind| &**kind.name).collect());
    let with = names(heard.with.iter().map(|feature| &**feature.name).collect());
    match (heard.kinds.is_empty(), heard.near, heard.with.is_empty()) {
        (true, Some(near), _) => says!("look-over-near", kind = Value::Name(near.name.to_string())),
        (true, None, _) => says!("look-over-unknown"),
        (false, _, true) => says!("look-over-heard", kinds = kinds),
        (false, _, false) => says!("look-over-heard-with", kinds = kinds, with = with),
    }
}

fn found(before: &BeforeAnswer, words: &Words) -> Vec<String> {
    let pieces = before.pieces.len();
    let line = |(what, on): &(String, Vec<_>)| {
        capital(&words.say(&says!("look-over-found", what = one_line(what), on = on.len(), pieces = pieces)))
    };
    before.found.iter().take(REMEMBERED).map(line).collect()
}

fn lessons(before: &BeforeAnswer, words: &Words) -> Vec<String> {
    let lines = before.lessons.iter().take(REMEMBERED).map(|lesson| {
        let (said, number) = (one_line(&lesson.lesson), one_line(&lesson.piece.number));
        words.say(&says!("look-over-lesson", lesson = said, number = number))
    });
    lines.collect()
}
