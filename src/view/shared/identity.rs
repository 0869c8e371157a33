//! What a piece is: its type, years, maker, size and materials, and how far the work went.

use super::fact::Fact;
use crate::derive::timber_name;
use crate::record::{Answer, Level, Standing};
use crate::view::context::PieceContext;
use crate::words::{self, Sentence};

/// Type of piece, in words: `table, gateleg`.
pub(crate) fn kind(context: &PieceContext<'_>) -> String {
    let said = context.claims.identity.iter().find(|claim| claim.message.name == "fact-kind");
    said.map_or(String::new(), |claim| context.house.words().say(&claim.message))
}

/// Years of making, in words.
pub(crate) fn made(context: &PieceContext<'_>) -> String {
    context.record.made.as_ref().map_or_else(|| "not known".to_owned(), |made| made.words())
}

/// How far the work went, in a word, and what that word means.
pub(crate) fn level(context: &PieceContext<'_>) -> (&'static str, &'static str) {
    words::level(context.record.level.as_ref().map_or(Level::Unknown, |level| level.value))
}

/// The workshop's stance; may be empty.
pub(crate) fn stance(context: &PieceContext<'_>) -> String {
    context.record.stance.as_ref().map_or(String::new(), |stance| words::sentence(stance))
}

/// The timbers of the parts that are there today, each once, in the order of the parts; may be empty.
pub(crate) fn materials(context: &PieceContext<'_>) -> String {
    let absent = [Standing::Removed, Standing::Missing];
    let mut timbers: Vec<String> = Vec::new();
    for part in context.record.parts.iter().filter(|part| !absent.contains(&part.standing.value)) {
        let told = [&part.timber, &part.veneer].into_iter().flatten();
        for timber in told.filter(|timber| timber.value != Answer::Unknown) {
            let name = timber_name(timber, context.trade);
            if !timbers.contains(&name) {
                timbers.push(name);
            }
        }
    }
    words::list(&timbers)
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
