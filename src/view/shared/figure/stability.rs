//! Whether a tall piece stands, and when to anchor it.

use serde::Serialize;

use super::basis::Basis;
use crate::derive::part_name;
use crate::derive::{Prompt, StabilityCheck, Verdict};
use crate::unit::GRAVITY;
use crate::view::context::PieceContext;
use crate::words::{self, trimmed};

/// Whether a tall piece stands, and when to anchor it.
#[derive(Debug, Clone, Serialize)]
pub struct StabilityView {
    /// Whether to anchor it, in a sentence.
    pub advice: String,
    /// Whether an anchor is prompted, for a theme's marks.
    pub anchor: bool,
    /// Why, in sentences.
    pub reasons: Vec<String>,
    /// What a simple check gives, in sentences.
    pub checks: Vec<String>,
    /// How to anchor and use it.
    pub how: Vec<String>,
    /// What this is not.
    pub limits: String,
    /// Why.
    pub basis: Vec<Basis>,
}

/// The check of a piece that can tip; `None` for others.
pub(crate) fn stability(context: &PieceContext<'_>) -> Option<StabilityView> {
    let found = context.facts.stability.as_ref()?;
    let anchor = !found.prompts.is_empty();
    let (checks, basis) = match &found.checked {
        Ok(checked) => (checks(context, checked), basis(context, checked)),
        Err(why) => (vec![format!("What it takes to tip it was not reckoned: {why}.")], Vec::new()),
    };
    let table = &context.trade.stability;
    let opens = context.record.parts.iter().any(|part| part.present() && part.opens.is_some());
    let how =
        table.advice.iter().filter(|row| row.id.0 != "anchor-height" && (opens || row.id.0 != "one-drawer"));
    Some(StabilityView {
        advice: match (anchor, context.record.size.is_some()) {
            (true, _) => "We recommend anchoring it to the wall before it is filled.",
            (false, true) => "It is low; in a home with young children consider an anchor all the same.",
            (false, false) => "How high and deep it is was not recorded: if it is tall for its depth, anchor it to the wall.",
        }
        .to_owned(),
        anchor,
        reasons: found.prompts.iter().map(|prompt| reason(context, *prompt)).collect(),
        checks,
        how: how.map(|row| row.text.to_string()).collect(),
        limits: "This is simple statics with the piece as recorded, on a hard, level floor and with empty drawers. A child that climbs or pulls can tip it whatever stands here. Nothing was tested to any standard, and no conformity is claimed; heed local rules.".to_owned(),
        basis,
    })
}

fn reason(context: &PieceContext<'_>, prompt: Prompt) -> String {
    let size = context.record.size.as_ref();
    let mm = |length: Option<crate::unit::Length>| {
        length.map_or(String::new(), |length| context.house.units.lengths(&[length]))
    };
    let height = mm(size.map(|size| size.height.value));
    let depth = mm(size.map(|size| size.depth.value));
    match prompt {
        Prompt::High => {
            let from = context.trade.stability.advice("anchor-height").and_then(|row| row.height_mm.as_ref());
            let from = from.map_or(String::new(), |from| trimmed(from.0, 0));
            format!("It is {height} high, and rules of some countries begin at {from} mm.")
        }
        Prompt::Kind => "Furniture that carries a screen is anchored at any height.".to_owned(),
        Prompt::Shallow => format!("It is {height} high and only {depth} deep."),
        Prompt::Falls => "Something that we reckoned pulls it over: see below.".to_owned(),
        Prompt::NearlyFalls => "Something that we reckoned nearly pulls it over: see below.".to_owned(),
    }
}

fn checks(context: &PieceContext<'_>, checked: &StabilityCheck) -> Vec<String> {
    let mut said = vec![format!(
        "Closed and empty, a forward pull like the weight of {} at its top edge begins to tip it.",
        pull(checked.pull)
    )];
    for (part, opened) in &checked.opened {
        let name = part_name(part);
        said.push(match opened {
            Err(why) => format!("{name}: not reckoned, as {why}."),
            Ok(opened) => {
                let one = if part.how_many() > 1 { "one of them open" } else { "open" };
                let open = format!("{one} by {}", context.house.units.lengths(&[opened.by]));
                let child = opened.with_child.verdict();
                match (opened.empty.verdict(), child) {
                    (Verdict::Far, Verdict::Far) => {
                        format!("{name}: {open} and empty, it does not pull the piece over.")
                    }
                    (Verdict::Far, child) => format!(
                        "{name}: {open} and empty, it does not pull the piece over; with a young child's weight on its outer edge the piece {}.",
                        comes_to(child)
                    ),
                    (empty, _) => format!(
                        "{name}: {open} and empty, the piece {}; with a young child's weight on its outer edge it {}.",
                        comes_to(empty),
                        comes_to(child)
                    ),
                }
            }
        });
    }
    if let Some(all) = checked.all_open {
        said.push(match all.verdict() {
            Verdict::Far => "All of them open and empty do not pull the piece over.".to_owned(),
            verdict => format!("With all of them open and empty, the piece {}.", comes_to(verdict)),
        });
    }
    if !checked.weighed && checked.left_out > 0 {
        said.push(format!(
            "{} left out of its weight, so the true figures differ.",
            words::capital(&words::count(checked.left_out, "part is", "parts are"))
        ));
    }
    said
}

fn comes_to(verdict: Verdict) -> &'static str {
    match verdict {
        Verdict::Tips => "tips over",
        Verdict::Near => "is near tipping",
        Verdict::Far => "was not reckoned to tip",
    }
}

/// A pull as the weight that would give it, rounded down.
fn pull(newtons: f64) -> String {
    let kg = newtons / GRAVITY;
    match kg {
        kg if kg < 1.0 => "not even 1 kg".to_owned(),
        kg => format!("about {:.0} kg", kg.floor()),
    }
}

/// Where its front feet were taken to stand.
fn feet(context: &PieceContext<'_>) -> String {
    let size = context.record.size.as_ref();
    match size.and_then(|size| size.feet_in.as_ref()) {
        Some(feet) => format!("its front feet stand {} in", context.house.units.lengths(&[feet.value])),
        None => "its feet taken to stand at its outline".to_owned(),
    }
}

fn basis(context: &PieceContext<'_>, checked: &StabilityCheck) -> Vec<Basis> {
    let house = &context.house.units;
    let child = context.trade.stability.load("child");
    let weighed =
        if checked.weighed { "put on a scale" } else { "reckoned from its parts, the light end used" };
    let mut rows = vec![Basis {
        figure: pull(checked.pull),
        how: format!(
            "the weight of the piece, {} {weighed}, times how far its middle lies behind its front feet over its height; {} and its centre taken to lie in the middle of its depth",
            house.mass(checked.mass),
            feet(context)
        ),
        source: "statics; our own choice of what to reckon".to_owned(),
    }];
    for (part, opened) in
        checked.opened.iter().filter_map(|(part, opened)| Some((part, opened.as_ref().ok()?)))
    {
        rows.push(Basis {
            figure: format!(
                "{} against {} N m",
                trimmed(opened.with_child.tips, 0),
                trimmed(opened.with_child.holds, 0)
            ),
            how: format!(
                "turning about the front feet, {} open: itself, with its middle half as far out as it reaches, and {} kg on its edge, against the rest of the piece; what is open weighs the heavy end of its range, and so much less is left of the piece",
                part.name.to_lowercase(),
                child.map_or(String::new(), |row| trimmed(row.kg.0, 1))
            ),
            source: child.map_or(String::new(), |row| format!("statics; {}", row.seen.cite(&row.source))),
        });
    }
    if let Some(row) = context.trade.stability.advice("anchor-height") {
        rows.push(Basis {
            figure: row.height_mm.as_ref().map_or(String::new(), |from| format!("{} mm", trimmed(from.0, 0))),
            how: "the height at which American and Australian rules for new furniture start; they do not bind this piece".to_owned(),
            source: row.seen.cite(&row.source),
        });
    }
    rows
}
