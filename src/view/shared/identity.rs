//! What a piece is: its type, years, maker, size and materials, and how far the work went.

use super::fact::Fact;
use crate::claim::{Message, says};
use crate::derive::{NOTHING_DONE, level_word};
use crate::view::context::PieceContext;
use crate::words::{Sentence, sentence};

/// What is told of the piece by a message, as it stands within a sentence; `None` where the record says nothing of it.
pub(crate) fn fact(context: &PieceContext<'_>, message: &str) -> Option<String> {
    let said = context.claims.identity.iter().find(|claim| claim.message.name == message)?;
    Some(context.house.words().say(&said.message))
}

/// Type of piece, in words: `table, gateleg`.
pub(crate) fn kind(context: &PieceContext<'_>) -> String {
    fact(context, "fact-kind").unwrap_or_default()
}

/// Years of making, in words.
pub(crate) fn made(context: &PieceContext<'_>) -> String {
    let words = context.house.words();
    context.record.made.as_ref().map_or_else(|| words.say(&says!("made-not-known")), |made| words.years(made))
}

/// How far the work went, in a word, and what that word means; no meaning where nothing is recorded of the work.
pub(crate) fn level(context: &PieceContext<'_>) -> (String, String) {
    let words = context.house.words();
    let level = level_word(context.record, &context.facts.day_book);
    let meaning = match level {
        NOTHING_DONE => String::new(),
        level => words.say(&Message::word("level", level)),
    };
    (words.word("done", level), meaning)
}

/// The workshop's stance; may be empty.
pub(crate) fn stance(context: &PieceContext<'_>) -> String {
    context.record.stance.as_ref().map_or(String::new(), |stance| sentence(stance))
}

/// The timbers of the parts that are there today; may be empty.
pub(crate) fn materials(context: &PieceContext<'_>) -> String {
    fact(context, "fact-materials").unwrap_or_default()
}

/// Type, years, maker, size, materials, inscriptions and features.
pub(crate) fn facts(context: &PieceContext<'_>) -> Vec<Fact> {
    let sentences = context.house.words().sentences(&context.claims.identity);
    let bare = |text: String| text.strip_suffix('.').map(str::to_owned).unwrap_or(text);
    sentences.into_iter().map(|said| Fact { label: said.lead, text: bare(said.text) }).collect()
}

/// How many parts have which standing, in a sentence; empty where no parts are recorded.
pub(crate) fn standings_sentence(context: &PieceContext<'_>) -> String {
    let counted = context.claims.verdict.first().filter(|_| !context.record.parts.is_empty());
    counted.map_or(String::new(), |claim| context.house.words().sentence(claim).whole())
}

/// What is not known, in sentences.
pub(crate) fn unknowns(context: &PieceContext<'_>) -> Vec<String> {
    context.house.words().sentences(&context.claims.unknown).iter().map(Sentence::whole).collect()
}
