//! Parts as a page shows them, and how many have which standing.

use serde::Serialize;

use super::Source;
use super::build_record::Link;
use super::mark::Pointers;
use super::names::part_anchor;
use super::words;
use crate::record::{Part, Standing, UNKNOWN};
use crate::trade::in_text;

/// One part of the piece.
#[derive(Debug, Clone, Serialize)]
pub struct PartRow {
    /// Its id on the page.
    pub anchor: String,
    /// The marks on photographs that point at it.
    pub marks: Vec<Link>,
    /// Its name; with a count where there are several alike.
    pub name: String,
    /// Its standing, in words.
    pub standing: String,
    /// Its standing as the record writes it, for a theme's marks.
    pub standing_word: String,
    /// Whether it is as first made.
    pub original: bool,
    /// Timber, build and size.
    pub made_of: String,
    /// How its standing is known, when it was added, what it replaces, where it came from, how it comes off.
    pub notes: Vec<String>,
}

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
}

/// The timbers of the parts that are there today, each once, in the order of the parts.
pub(super) fn timbers(source: &Source<'_>) -> Vec<String> {
    let absent = [Standing::Removed, Standing::Missing];
    let mut timbers: Vec<String> = Vec::new();
    for part in source.record.parts.iter().filter(|part| !absent.contains(&part.standing.value)) {
        for timber in [&part.timber, &part.veneer].into_iter().flatten().filter(|timber| timber.0 != UNKNOWN)
        {
            let name = timber_words(source, timber);
            if !timbers.contains(&name) {
                timbers.push(name);
            }
        }
    }
    timbers
}

pub(super) fn timber_words(source: &Source<'_>, timber: &str) -> String {
    match source.trade.timber(timber) {
        Some(known) => in_text(&known.name),
        None if timber == UNKNOWN => "timber not known".to_owned(),
        None => timber.replace('-', " "),
    }
}

/// What the papers call a part; with a count where there are several alike.
pub(super) fn part_name(part: &Part) -> String {
    match part.how_many() {
        1 => part.name.to_string(),
        several => format!("{} (× {several})", part.name.value),
    }
}

pub(super) fn part_row(source: &Source<'_>, index: usize, part: &Part, pointers: &Pointers<'_>) -> PartRow {
    let mut made_of: Vec<String> = Vec::new();
    let timber = part.timber.as_ref().map(|timber| timber_words(source, timber));
    let build = part.build.as_ref().map(|build| words::build(build.value).to_owned());
    made_of.extend(match (build, timber) {
        (Some(build), Some(timber)) if build == "solid" || build == "turned" || build == "bent" => {
            Some(format!("{build} {timber}"))
        }
        (Some(build), Some(timber)) => Some(format!("{build}, {timber}")),
        (build, timber) => build.or(timber),
    });
    if let Some(veneer) = &part.veneer {
        made_of.push(format!("veneer {}", timber_words(source, veneer)));
    }
    if let Some(material) = &part.material {
        made_of.push(words::said(material));
    }
    if let Some(ground) = &part.ground {
        made_of.push(format!("on {}", words::said(ground)));
    }
    if let Some(size) = &part.size {
        let lengths: Vec<_> = [&size.length, &size.width, &size.thick]
            .into_iter()
            .flatten()
            .map(|length| length.value)
            .collect();
        if !lengths.is_empty() {
            made_of.push(source.house.quantities.lengths(&lengths));
        }
        if let Some(diameter) = &size.diameter {
            made_of.push(format!("{} across", source.house.quantities.lengths(&[diameter.value])));
        }
    }
    if let Some(lipping) = &part.lipping {
        made_of.push(format!("lipped with {}", timber_words(source, &lipping.timber)));
    }
    if let Some(held) = &part.held {
        made_of.push(words::held(held.value).to_owned());
    }
    PartRow {
        anchor: part_anchor(index + 1),
        marks: pointers.to(|mark| mark.part.as_ref().is_some_and(|named| named.value == part.id.value)),
        name: part_name(part),
        standing: words::standing(part.standing.value).to_owned(),
        standing_word: part.standing.word().to_owned(),
        original: part.standing.value == Standing::Original,
        made_of: words::capital(&made_of.join(", ")),
        notes: part_notes(source, part),
    }
}

fn part_notes(source: &Source<'_>, part: &Part) -> Vec<String> {
    let stock = part.from_stock.as_ref().and_then(|id| source.stock(id)).map(|item| match &item.origin {
        Some(origin) => format!("Made from stock: {} ({})", words::said(&item.what), words::said(origin)),
        None => format!("Made from stock: {}", words::said(&item.what)),
    });
    let known = part.how_known.as_ref().map(|known| match part.standing.value {
        Standing::Original => format!("Known by {}", words::said(known)),
        _ => words::said(known),
    });
    [
        known,
        part.since.as_ref().map(|since| format!("Since {}", since.words())),
        part.instead_of.as_ref().map(|old| format!("In place of {}", words::said(old))),
        stock,
        part.undo.as_ref().map(|undo| format!("To undo: {}", words::said(undo))),
        part.note.as_ref().map(|note| words::said(note)),
    ]
    .into_iter()
    .flatten()
    .map(|note| words::sentence(&note))
    .collect()
}

pub(super) fn standings(source: &Source<'_>) -> Vec<StandingRow> {
    source
        .facts
        .standings
        .iter()
        .map(|(standing, count)| StandingRow {
            standing: words::standing(standing).to_owned(),
            standing_word: standing.word().to_owned(),
            meaning: words::standing_meaning(standing).to_owned(),
            count,
        })
        .collect()
}

/// `7 of its 11 parts are original as far as is known; 2 are new and 1 salvaged; of 1 it is not known.`
pub(super) fn standings_sentence(source: &Source<'_>) -> String {
    let counts = &source.facts.standings;
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
