//! The care sheet: what to do with the finish that is really on each surface.

use serde::Serialize;

use crate::claim::says;
use crate::derive::{Stratigraphy, Stratum, SurfaceFacts};
use crate::fields::{Said, Text};
use crate::record::{Part, PartId};
use crate::trade::{Finish, in_text};
use crate::view::context::PieceContext;
use crate::view::shared::figure::{
    CureView, LiftingView, LoadsView, MovementView, cure, lifting, loads, movement,
};
use crate::view::shared::renewing::renewing;
use crate::view::shared::section::{Arranged, Form, Section, worded};
use crate::view::shared::surface::{coat_words, surface_name};
use crate::words;

/// How one surface is cared for.
#[derive(Debug, Clone, Serialize)]
pub struct SurfaceCare {
    /// The surface's name.
    pub name: String,
    /// Its parts.
    pub parts: String,
    /// What it is finished with, in everyday words.
    pub what: String,
    /// Dusting.
    pub dust: String,
    /// Cleaning.
    pub clean: String,
    /// Spills.
    pub spill: String,
    /// Rings.
    pub ring: String,
    /// Renewing, and how often.
    pub renew: String,
    /// What never to do; each follows the word "Never".
    pub never: Vec<String>,
    /// Whether the owner can mend small faults.
    pub owner_repair: String,
    /// Where the layer is not whole, or its age is not known; may be empty.
    pub exception: String,
    /// What the advice rests on.
    pub source: String,
}

/// A surface for which no advice can be given, and why.
#[derive(Debug, Clone, Serialize)]
pub struct NoCare {
    /// The surface's name.
    pub name: String,
    /// Why there is no advice.
    pub why: String,
}

/// How a part's covering is looked after.
#[derive(Debug, Clone, Serialize)]
pub struct CoveringCare {
    /// The part.
    pub name: String,
    /// What it is covered with, in the record's words.
    pub what: String,
    /// How it is looked after.
    pub text: String,
    /// What the advice rests on.
    pub source: String,
}

/// The care sheet of one piece.
#[derive(Debug, Clone, Serialize)]
pub struct Care {
    /// Surfaces with advice.
    pub surfaces: Vec<SurfaceCare>,
    /// Surfaces without.
    pub without: Vec<NoCare>,
    /// Coverings with advice: woven seats, leather and cloth.
    pub coverings: Vec<CoveringCare>,
    /// What it is for; may be empty.
    pub purpose: String,
    /// The room: what suits wood, in general words.
    pub room: Vec<String>,
    /// Putting it up, step by step.
    pub assembly: Vec<String>,
    /// Moving and taking apart, step by step.
    pub moving: Vec<String>,
    /// What to beware of.
    pub cautions: Vec<String>,
    /// Substances and other dangers that it may hold; a section, or none.
    pub substances: Vec<Section>,
    /// What was left unmended and what it means in use.
    pub in_use: Vec<String>,
    /// From when the finish may be dusted and used.
    pub cure: CureView,
    /// Whom to ask.
    pub ask: String,
    /// How far the wood moves through the buyer's year; none where the piece has no solid parts.
    pub movement: Option<MovementView>,
    /// What may be put on the shelves; none where the record tells of none.
    pub loads: Option<LoadsView>,
    /// What it weighs, and how many people that asks for.
    pub lifting: LiftingView,
}

/// Builds the care sheet.
pub(crate) fn care(context: &PieceContext<'_>) -> Care {
    let mut surfaces = Vec::new();
    let mut without = Vec::new();
    for facts in &context.facts.surfaces {
        match surface_care(context, facts) {
            Ok(care) => surfaces.push(care),
            Err(why) => without.push(NoCare { name: surface_name(context, &facts.surface), why }),
        }
    }
    let used = context.record.r#use.as_ref();
    let sentences = |texts: &[Said<Text>]| -> Vec<String> {
        texts.iter().map(|text| words::sentence(&words::said(text))).collect()
    };
    Care {
        coverings: coverings(context),
        surfaces,
        without,
        purpose: used
            .and_then(|used| used.r#for.as_ref())
            .map_or(String::new(), |text| words::sentence(&words::said(text))),
        room: room(),
        assembly: used.map_or(Vec::new(), |used| sentences(&used.assembly)),
        moving: used.map_or(Vec::new(), |used| sentences(&used.moving)),
        cautions: used.map_or(Vec::new(), |used| sentences(&used.cautions)),
        substances: worded(
            context,
            &[Arranged::new(
                "substances",
                says!("heading-substances"),
                Form::Lines,
                &context.claims.substances,
            )],
        ),
        in_use: context
            .record
            .undone
            .iter()
            .filter_map(|undone| undone.effect.as_ref())
            .map(|effect| words::sentence(&words::said(effect)))
            .collect(),
        cure: cure(context),
        ask: match (&context.house.contact, &context.house.name) {
            (Some(contact), name) => format!("{name}, {contact}"),
            (None, name) => name.clone(),
        },
        movement: movement(context),
        loads: loads(context),
        lifting: lifting(context),
    }
}

fn surface_care(context: &PieceContext<'_>, facts: &SurfaceFacts) -> Result<SurfaceCare, String> {
    let SurfaceFacts { surface, today, .. } = facts;
    let Some(layer) = today.decides_care() else {
        return Err("no protective finish is recorded on it, so no advice is given".to_owned());
    };
    let finish = layer.coat.finish.as_deref().and_then(|id| context.trade.finish(id));
    let Some(finish) = finish else {
        return Err(format!(
            "its finish, {}, is not in our table: no advice of ours",
            coat_words(&layer.coat)
        ));
    };
    let parts =
        |ids: &[PartId]| words::list(&ids.iter().map(|id| context.names.part(id)).collect::<Vec<_>>());
    let exception = match (layer.gone_from.is_empty(), layer.only_on.is_empty()) {
        (true, true) => String::new(),
        (false, _) => {
            let gone = parts(&layer.gone_from);
            format!(
                "This does not hold for {gone}, where it was taken off again{}.",
                instead(context, today, layer)
            )
        }
        (true, false) => format!("This holds only for {}.", parts(&layer.only_on)),
    };
    Ok(SurfaceCare {
        name: surface_name(context, surface),
        parts: context.names.parts(&surface.parts),
        what: what(&layer.coat.name, layer.coat.step.is_none(), finish),
        dust: words::text(Some(&finish.dust)),
        clean: words::text(Some(&finish.clean)),
        spill: words::text(Some(&finish.spill)),
        ring: words::text(Some(&finish.ring)),
        renew: renewing(finish),
        never: finish.never.iter().map(|never| never.to_string()).collect(),
        owner_repair: words::owner_repair(finish.owner_repair.value).to_owned(),
        exception,
        source: finish.source.to_string(),
    })
}

/// The coverings that parts are said to be of, but for parts that lie on a surface: that says how they are cared for.
fn coverings(context: &PieceContext<'_>) -> Vec<CoveringCare> {
    let record = context.record;
    let on_surface = |part: &Part| {
        record.surfaces.iter().flat_map(|surface| surface.parts.iter()).any(|on| on.value == part.id.value)
    };
    let covering = |part: &Part| {
        let word = part.material.as_ref()?.known()?;
        let covering = context.trade.covering(word)?;
        Some(CoveringCare {
            name: part.name.to_string(),
            what: words::said(word),
            text: words::text(covering.owner.as_ref()),
            source: covering.source.to_string(),
        })
    };
    let parts =
        record.parts.iter().map(|part| &part.value).filter(|part| part.present() && !on_surface(part));
    parts.filter_map(covering).filter(|care| !care.text.is_empty()).collect()
}

/// What decides on the parts that a layer was taken off: `; shellac is on top there`.
fn instead(context: &PieceContext<'_>, today: &Stratigraphy, layer: &Stratum) -> String {
    let mut tops: Vec<(String, Vec<String>)> = Vec::new();
    for part in &layer.gone_from {
        let name = today
            .decides_care_on(part)
            .map_or_else(|| "nothing that protects it".to_owned(), |top| coat_words(&top.coat));
        let part = context.names.part(part);
        match tops.iter_mut().find(|(known, _)| *known == name) {
            Some((_, parts)) => parts.push(part),
            None => tops.push((name, vec![part])),
        }
    }
    match tops.as_slice() {
        [] => String::new(),
        [(name, _)] => format!("; on top there is {name}"),
        several => several
            .iter()
            .map(|(name, parts)| format!("; on top of {} is {name}", words::list(parts)))
            .collect(),
    }
}

/// `Satin varnish (Oil-based polyurethane): a tough film that lies on the wood.`
fn what(name: &str, found: bool, finish: &Finish) -> String {
    let family = if name == &**finish.name { String::new() } else { format!(", {}", in_text(&finish.name)) };
    let age = if found { ", which was there when the piece came" } else { "" };
    format!("{}{family}{age}: {}.", words::capital(name), finish.plain.trim_end_matches('.'))
}

/// What suits a room with wooden furniture.
///
/// # Source
/// Western Australian Museum, *Conservation and Care of Collections* (2017), wood; American Institute for
/// Conservation, leaflet on caring for furniture; Smithsonian Museum Conservation Institute, *Furniture Care
/// and Handling*. The three differ in their figures and agree that steadiness matters most.
fn room() -> Vec<String> {
    [
        "About 40 to 60 % relative humidity suits wood, and above all a steady room: swings do more harm than any one figure.",
        "Keep it out of direct sun, and away from radiators, stoves and the outlets of heating.",
        "Do not let the air stay above 65 %, where mould can grow.",
    ]
    .map(str::to_owned)
    .to_vec()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::view::testing::shown;

    #[test]
    fn a_part_without_the_topmost_layer_is_told_what_is_on_it() {
        let exception = |steps: &str| {
            let parts = "part = [{ id = \"a\", name = \"Top\", standing = \"original\" }, { id = \"b\", name = \"Leaf\", standing = \"original\" }]\n";
            let record = format!(
                "{parts}surface = [{{ parts = [\"a\", \"b\"], found = \"shellac\", steps = [{steps}] }}]"
            );
            shown(&record, "", |context| care(context).surfaces[0].exception.clone())
        };
        assert_eq!(
            exception("{ apply = \"paste-wax\" }, { remove = \"paste-wax\", only = \"b\" }"),
            "This does not hold for Leaf, where it was taken off again; on top there is Shellac."
        );
        assert_eq!(
            exception("{ apply = \"paste-wax\" }, { remove = \"all\", only = \"b\" }"),
            "This does not hold for Leaf, where it was taken off again; on top there is nothing that protects it."
        );
        assert_eq!(exception("{ apply = \"paste-wax\" }"), "");
    }

    #[test]
    fn a_covering_that_the_record_names_is_looked_after() {
        let told = |material: &str, rest: &str| {
            let record = format!(
                "part = [{{ id = \"seat\", name = \"Seat\", standing = \"original\", build = \"textile\"{material} }}]\n{rest}"
            );
            let told = |care: CoveringCare| format!("{} ({}): {}", care.name, care.what, care.text);
            shown(&record, "", |context| care(context).coverings.into_iter().map(told).collect::<Vec<_>>())
        };
        let cane = told(", material = \"Caned seat\"", "");
        assert!(
            cane[0].starts_with("Seat (Caned seat): Draw dust off") && cane[0].contains("do not wet it"),
            "{cane:?}"
        );
        assert_eq!(told("", ""), [""; 0]);
        assert_eq!(told(", material = \"unknown\"", ""), [""; 0]);
        assert_eq!(told(", material = \"moon cloth\"", ""), [""; 0]);
        let surface = "surface = [{ parts = [\"seat\"], found = \"baize\" }]";
        assert_eq!(told(", material = \"cloth\"", surface), [""; 0]);
    }
}
