//! How many parts have which standing.

use serde::Serialize;

use crate::view::context::PieceContext;

/// How many parts have a standing.
#[derive(Debug, Clone, Serialize)]
pub struct StandingRow {
    /// The standing, in words.
    pub standing: String,
    /// The standing as the record writes it, for a theme's marks.
    pub standing_word: String,
    /// What it means.
    pub meaning: String,
    /// How many parts.
    pub count: u32,
    /// How many leaves it has where the parts are drawn as a stack: one a part, and a share of 200 where
    /// there are more parts than that.
    pub leaves: u32,
}

/// The most leaves that can be told apart in a drawing as wide as a page.
const MOST_LEAVES: u32 = 200;

pub(crate) fn standings(context: &PieceContext<'_>) -> Vec<StandingRow> {
    let words = context.house.words();
    let all: u32 = context.facts.standings.iter().map(|(_, count)| count).sum();
    let leaves = |count: u32| match all {
        0..=MOST_LEAVES => count,
        _ => (f64::from(count) * f64::from(MOST_LEAVES) / f64::from(all)).ceil() as u32,
    };
    context
        .facts
        .standings
        .iter()
        .map(|(standing, count)| StandingRow {
            standing: words.word("standing", standing.word()),
            standing_word: standing.word().to_owned(),
            meaning: words.word("meaning", standing.word()),
            count,
            leaves: leaves(count),
        })
        .collect()
}
