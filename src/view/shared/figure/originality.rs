//! How much of the piece is as first made, by count and by mass.

use serde::Serialize;

use super::basis::Basis;
use crate::derive::{Originality, StandingShare, percent};
use crate::record::Standing;
use crate::view::context::PieceContext;
use crate::view::shared::identity::standings_sentence;
use crate::words;

/// The parts of one standing.
#[derive(Debug, Clone, Serialize)]
pub struct ShareRow {
    /// The standing, in words.
    pub standing: String,
    /// The standing as the record writes it, for a theme's marks.
    pub standing_word: String,
    /// How many parts; a set counts once.
    pub count: u32,
    /// Their share of all parts, such as `at least 60 %`; empty where not all of the piece is accounted for.
    pub by_count: String,
    /// Their share of all mass that is known; `not known` where none of theirs is, empty where it covers too little of
    /// the piece.
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
    /// What the shares leave out, or why there are none; empty where they cover everything.
    pub left_out: String,
    /// A bar of the recorded parts by count, and below it by mass where that is told; as SVG with attributes alone.
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
    let by_count = found.shares.iter().any(|share| share.count_percent.is_some());
    let by_mass = found.is_weighed();
    let mut basis = Vec::new();
    if by_count {
        basis.push(Basis {
            figure: "by count".to_owned(),
            how: "recorded parts of each standing over all recorded parts that are there; a set counts once"
                .to_owned(),
            source: "our own reckoning".to_owned(),
        });
    }
    if by_mass {
        basis.push(Basis {
            figure: "by mass".to_owned(),
            how: "the weight of the parts of each standing, in the middle of its range, over the weight of all parts that is known; \
                  reckoned from sizes and materials".to_owned(),
            source: "our own reckoning; densities as for the weight of the piece".to_owned(),
        });
    }
    let left_out = [not_by_count(by_count), not_by_mass(found), patched(context)];
    Some(OriginalityView {
        rows: found.shares.iter().map(|share| row(context, share)).collect(),
        sentence: standings_sentence(context),
        left_out: left_out.into_iter().filter(|said| !said.is_empty()).collect::<Vec<_>>().join(" "),
        bars_svg_html: bars(found, by_mass),
        basis,
    })
}

fn not_by_count(by_count: bool) -> String {
    match by_count {
        true => String::new(),
        false => "No share of the whole is given by count, as not all of it is accounted for.".to_owned(),
    }
}

/// Why there is no share by mass, or how much of the piece it covers; empty where it covers all.
fn not_by_mass(found: &Originality) -> String {
    let whole = found.covered.map(|covered| percent(covered, 1.0).unwrap_or(0));
    match (whole, found.unweighed) {
        (Some(100), 0) => String::new(),
        (Some(covered), _) if found.is_weighed() => {
            format!("By mass it covers the parts of which that is known: at least {covered} % of the piece.")
        }
        (Some(covered), _) => {
            format!("No share is given by mass, as that is known of only {} of the piece.", printed(covered))
        }
        (None, 0) => "No share is given by mass, as not all of the piece was weighed.".to_owned(),
        (None, left) => format!(
            "No share is given by mass, as of {} size or material is not known.",
            words::count(left, "part", "parts")
        ),
    }
}

fn patched(context: &PieceContext<'_>) -> String {
    match context.photographs.patches.is_empty() {
        true => String::new(),
        false => "Patches are counted with the part they are on.".to_owned(),
    }
}

fn row(context: &PieceContext<'_>, share: &StandingShare) -> ShareRow {
    let weighs = share.mass.high > crate::unit::Mass::default();
    ShareRow {
        standing: words::standing(share.standing).to_owned(),
        standing_word: share.standing.word().to_owned(),
        count: share.count,
        by_count: share.count_percent.map_or(String::new(), |percent| bounded(share.standing, percent)),
        by_mass: match share.mass_percent {
            None => String::new(),
            Some(_) if !weighs => "not known".to_owned(),
            Some(by_mass) => printed(by_mass),
        },
        mass: if weighs && share.mass_percent.is_some() {
            context.house.units.mass(share.mass)
        } else {
            String::new()
        },
    }
}

/// A share of the recorded parts as one of the whole, whose other parts are as first made.
fn bounded(standing: Standing, percent: u32) -> String {
    match (standing, percent) {
        (_, 0 | 100) => printed(percent),
        (Standing::Original, _) => format!("at least {percent} %"),
        _ => format!("at most {percent} %"),
    }
}

/// `60 %`; a share that is there but rounds to nothing is `under 1 %`.
fn printed(percent: u32) -> String {
    match percent {
        0 => "under 1 %".to_owned(),
        percent => format!("{percent} %"),
    }
}

/// Width of a bar.
const WIDE: u32 = 400;

/// Height of a bar and of the gap below it.
const HIGH: u32 = 24;

fn bars(found: &Originality, by_mass: bool) -> String {
    let said = |share: &StandingShare| format!("{} {}", share.count, words::standing(share.standing));
    let counts: Vec<String> = found.shares.iter().map(said).collect();
    let mut label = format!("Recorded parts: {}.", words::list(&counts));
    let mut drawn = bar(found, 0, &|share| f64::from(share.count));
    let mut high = HIGH;
    if by_mass {
        let said = |share: &StandingShare| {
            Some(format!("{} {}", words::standing(share.standing), printed(share.mass_percent?)))
        };
        let masses: Vec<String> = found.shares.iter().filter_map(said).collect();
        label.push_str(&format!(" By mass: {}.", words::list(&masses)));
        drawn.push_str(&bar(found, HIGH + HIGH / 3, &|share| share.mass.middle().kg()));
        high += HIGH + HIGH / 3;
    }
    // The words come from our own vocabulary, so nothing of a record has to be escaped here.
    format!(
        "<svg viewBox=\"0 0 {WIDE} {high}\" width=\"{WIDE}\" height=\"{high}\" role=\"img\" aria-label=\"{label}\">{drawn}</svg>"
    )
}

/// One bar; a theme may colour its rectangles by their class.
fn bar(found: &Originality, top: u32, amount: &dyn Fn(&StandingShare) -> f64) -> String {
    let whole: f64 = found.shares.iter().map(amount).sum();
    let mut left = 0;
    let mut drawn = String::new();
    for share in &found.shares {
        let wide = (amount(share) / whole * f64::from(WIDE)) as u32;
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
