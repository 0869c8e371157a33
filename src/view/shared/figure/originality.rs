//! How much of the piece is as first made, by count and by mass.

use serde::Serialize;

use super::basis::Basis;
use crate::derive::{MissingInput, Originality, StandingShare};
use crate::record::Standing;
use crate::view::context::PieceContext;
use crate::words;

/// The parts of one standing.
#[derive(Debug, Clone, Serialize)]
pub struct ShareRow {
    /// The standing, in words.
    pub standing: String,
    /// The standing as the record writes it, for a theme's marks.
    pub standing_word: String,
    /// How many parts.
    pub count: u32,
    /// Their share of all parts, such as `60 %`.
    pub by_count: String,
    /// Their share of all mass that is known; `not known` where none of theirs is, empty where none at all is.
    pub by_mass: String,
    /// What those of them weigh whose mass is known; empty where none is.
    pub mass: String,
}

/// How much of the piece is as first made.
#[derive(Debug, Clone, Serialize)]
pub struct OriginalityView {
    /// The standings of the parts it has today.
    pub rows: Vec<ShareRow>,
    /// The same in a sentence or two.
    pub sentence: String,
    /// What could not be counted by mass; empty where everything was.
    pub left_out: String,
    /// A bar of the shares by count, and below it by mass where that is known; as SVG with attributes alone.
    pub bars_svg_html: String,
    /// Why.
    pub basis: Vec<Basis>,
}

/// The shares; `None` where the piece has no recorded part.
pub(crate) fn originality(context: &PieceContext<'_>) -> Option<OriginalityView> {
    let found = &context.facts.originality;
    if found.parts == 0 {
        return None;
    }
    let by_mass = found.shares.iter().any(|share| share.mass_percent.is_some());
    let left_out = match (found.unweighed, by_mass) {
        (0, _) => String::new(),
        (_, false) => format!("Nothing is said by mass, as {}.", MissingInput::Coverage),
        (left, true) => format!(
            "{} counted by mass, as size or material is not known.",
            words::capital(&words::count(left, "part is not", "parts are not"))
        ),
    };
    let mut basis = vec![Basis {
        figure: "by count".to_owned(),
        how: "parts of each standing over all recorded parts that are there; rounded so that all together make 100 %"
            .to_owned(),
        source: "our own reckoning; rounding by largest remainder".to_owned(),
    }];
    if by_mass {
        basis.push(Basis {
            figure: "by mass".to_owned(),
            how: "the same with the weight of each part, in the middle of its range, reckoned from its size and material".to_owned(),
            source: "our own reckoning; densities as for the weight of the piece".to_owned(),
        });
    }
    Some(OriginalityView {
        rows: found.shares.iter().map(|share| row(context, share)).collect(),
        sentence: sentence(found),
        left_out,
        bars_svg_html: bars(found, by_mass),
        basis,
    })
}

fn row(context: &PieceContext<'_>, share: &StandingShare) -> ShareRow {
    let weighs = share.mass.high > crate::unit::Mass::default();
    ShareRow {
        standing: words::standing(share.standing).to_owned(),
        standing_word: share.standing.word().to_owned(),
        count: share.count,
        by_count: percent(share.count_percent, true),
        by_mass: match share.mass_percent {
            None => String::new(),
            Some(_) if !weighs => "not known".to_owned(),
            Some(by_mass) => percent(by_mass, true),
        },
        mass: if weighs && share.mass_percent.is_some() {
            context.house.units.mass(share.mass)
        } else {
            String::new()
        },
    }
}

/// `60 %`; a share that is there but rounds to nothing is `under 1 %`.
fn percent(percent: u32, there: bool) -> String {
    match (percent, there) {
        (0, true) => "under 1 %".to_owned(),
        (percent, _) => format!("{percent} %"),
    }
}

/// `60 % of its parts are original as far as is known, and 72 % of their mass.`
fn sentence(found: &Originality) -> String {
    let of = |standing: Standing| found.shares.iter().find(|share| share.standing == standing);
    let by_mass = found.shares.iter().any(|share| share.mass_percent.is_some());
    let weighed = |share: &StandingShare| {
        share.mass_percent.map(|by_mass| percent(by_mass, share.mass.high > crate::unit::Mass::default()))
    };
    let original = of(Standing::Original);
    let mut said = format!(
        "{} of its parts are original as far as is known",
        words::capital(&original.map_or("0 %".to_owned(), |share| percent(share.count_percent, true)))
    );
    if by_mass {
        let mass = original.and_then(weighed).unwrap_or_else(|| "0 %".to_owned());
        said.push_str(&match found.unweighed {
            0 => format!(", and {mass} of their mass"),
            _ => format!(", and {mass} of the mass that is known"),
        });
    }
    if let Some(unknown) = of(Standing::Unknown) {
        said.push_str(&format!("; of {} it is not known", percent(unknown.count_percent, true)));
    }
    said.push('.');
    said
}

/// Width of a bar.
const WIDE: u32 = 400;

/// Height of a bar and of the gap below it.
const HIGH: u32 = 24;

fn bars(found: &Originality, by_mass: bool) -> String {
    let words = |percent: &dyn Fn(&StandingShare) -> u32| {
        let said: Vec<String> = found
            .shares
            .iter()
            .map(|share| format!("{} {} %", words::standing(share.standing), percent(share)))
            .collect();
        words::list(&said)
    };
    let count = |share: &StandingShare| share.count_percent;
    let mass = |share: &StandingShare| share.mass_percent.unwrap_or(0);
    let mut label = format!("By count: {}.", words(&count));
    let mut drawn = bar(found, 0, &count);
    let mut high = HIGH;
    if by_mass {
        label.push_str(&format!(" By mass: {}.", words(&mass)));
        drawn.push_str(&bar(found, HIGH + HIGH / 3, &mass));
        high += HIGH + HIGH / 3;
    }
    // The words come from our own vocabulary, so nothing of a record has to be escaped here.
    format!(
        "<svg viewBox=\"0 0 {WIDE} {high}\" width=\"{WIDE}\" height=\"{high}\" role=\"img\" aria-label=\"{label}\">{drawn}</svg>"
    )
}

/// One bar; a theme may colour its rectangles by their class.
fn bar(found: &Originality, top: u32, percent: &dyn Fn(&StandingShare) -> u32) -> String {
    let mut left = 0;
    let mut drawn = String::new();
    for share in &found.shares {
        let wide = percent(share) * WIDE / 100;
        if wide > 0 {
            drawn.push_str(&format!(
                "<rect class=\"standing-{}\" x=\"{left}\" y=\"{top}\" width=\"{wide}\" height=\"{HIGH}\" fill=\"{}\" stroke=\"#fff\"/>",
                share.standing.word(),
                shade(share.standing)
            ));
        }
        left += wide;
    }
    drawn
}

/// A grey for where no theme colours the bar.
fn shade(standing: Standing) -> &'static str {
    match standing {
        Standing::Original => "#333",
        Standing::OldRepair => "#666",
        Standing::Later => "#888",
        Standing::Salvaged => "#aaa",
        Standing::New => "#ccc",
        Standing::Removed | Standing::Missing | Standing::Unknown => "#eee",
    }
}
