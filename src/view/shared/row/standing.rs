//! How many parts have which standing.

use serde::Serialize;

use crate::record::Standing;
use crate::view::context::PieceContext;
use crate::view::words;

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

pub(super) fn standings(context: &PieceContext<'_>) -> Vec<StandingRow> {
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
            standing: words::standing(standing).to_owned(),
            standing_word: standing.word().to_owned(),
            meaning: words::standing_meaning(standing).to_owned(),
            count,
            leaves: leaves(count),
        })
        .collect()
}

/// `7 of its 11 parts are original as far as is known; 2 are new and 1 salvaged; of 1 it is not known.`
pub(super) fn standings_sentence(context: &PieceContext<'_>) -> String {
    let counts = &context.facts.standings;
    let present = counts.present();
    if present == 0 {
        return String::new();
    }
    let original = counts.of(Standing::Original);
    let is = if original == 1 { "is" } else { "are" };
    let mut said = format!(
        "{original} of its {} {is} original, as far as is known",
        words::count(present, "recorded part", "recorded parts")
    );
    let others: Vec<String> = [Standing::OldRepair, Standing::Later, Standing::Salvaged, Standing::New]
        .into_iter()
        .filter(|standing| counts.of(*standing) > 0)
        .map(|standing| {
            format!(
                "{} {}",
                counts.of(standing),
                match standing {
                    Standing::OldRepair => "an old repair",
                    other => words::standing(other),
                }
            )
        })
        .collect();
    if !others.is_empty() {
        said.push_str(&format!("; {}", words::list(&others)));
    }
    let unknown = counts.of(Standing::Unknown);
    if unknown > 0 {
        said.push_str(&format!("; of {unknown} it is not known"));
    }
    for (standing, word) in [(Standing::Removed, "removed"), (Standing::Missing, "missing")] {
        let count = counts.of(standing);
        if count > 0 {
            said.push_str(&format!("; {count} {} {word}", if count == 1 { "was" } else { "were" }));
        }
    }
    said.push('.');
    said
}
