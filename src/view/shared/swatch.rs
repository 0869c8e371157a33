//! Colour matches, for printing: how close the result came, by what recipe, and what that rests on.

use serde::Serialize;

use super::photograph::{Gallery, PhotoView};
use super::reckoning::{Reckoning, cited};
use super::surface::{laid_words, surface_anchor, surface_name};
use crate::claim::{Message, Value, says};
use crate::derive::colour::{Lab, srgb, xyz_of};
use crate::derive::swatch::UNEVEN_LIGHT;
use crate::derive::timber_name;
use crate::derive::{Match, Measured, SwatchFacts, Unmeasured, Which};
use crate::fields::Row;
use crate::record::{Act, Part, PartId, Step, Surface};
use crate::trade::{Band, ColourTable};
use crate::view::context::PieceContext;
use crate::words::{Words, capital, sentence};

/// A measured colour.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct ColourView {
    /// `Target`, `Result` or `Grey card`.
    pub label: String,
    /// The colour for a screen, as `#rrggbb`.
    pub fill: String,
    /// CIELAB, rounded to tenths.
    pub lab: String,
}

/// One colour match.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct SwatchView {
    /// Its id on the page.
    pub anchor: String,
    /// The surface or the parts it is for.
    pub title: String,
    /// The id of the surface on the same page; empty where it has none.
    pub surface: String,
    /// The timber it lies on; may be empty.
    pub timber: String,
    /// What made the colour, in the order it was laid; empty where no step says.
    pub recipe: Vec<String>,
    /// What lies over it today; may be empty.
    pub over: Vec<String>,
    /// The colour aimed at; none where it could not be measured.
    pub target: Option<ColourView>,
    /// The colour reached.
    pub result: Option<ColourView>,
    /// The grey card.
    pub grey: Option<ColourView>,
    /// `ΔE00 1.4 ± 0.3`; empty where it could not be measured.
    pub difference: String,
    /// The difference as a bare number, for sorting; may be empty.
    pub difference_key: String,
    /// The same in words; where it could not be measured, why.
    pub verdict: String,
    /// What it holds for.
    pub notes: Vec<String>,
    /// The photograph with the patches outlined, where the reader may see it.
    pub photo: Option<PhotoView>,
    /// What the figures rest on.
    pub basis: Vec<Reckoning>,
}

/// A piece's colour matches, each with its photograph where the reader sees it.
pub(crate) fn swatch_views(context: &PieceContext<'_>, gallery: &Gallery<'_>) -> Vec<SwatchView> {
    let all = context.photographs.swatches.iter().zip(1..);
    all.map(|(facts, number)| swatch_view(context, number, facts, gallery.measured(&facts.swatch))).collect()
}

fn swatch_view(
    context: &PieceContext<'_>,
    number: usize,
    facts: &SwatchFacts,
    photo: Option<PhotoView>,
) -> SwatchView {
    let words = context.house.words();
    let SwatchFacts { swatch, surface, .. } = facts;
    let surface = surface.as_ref();
    let named = context.names.parts(&swatch.part);
    let title = match surface {
        _ if !named.is_empty() => capital(&named),
        Some(surface) => surface_name(context, surface),
        None => words.say(&says!("swatch-number", number = number)),
    };
    let steps = |steps: &[Row<Step>]| -> Vec<String> {
        let laid = steps.iter().filter_map(|step| match step.act() {
            Some(Act::Apply(what)) => Some(capital(&laid_words(context, step, what))),
            _ => None,
        });
        laid.collect()
    };
    let mut recipe: Vec<String> =
        surface.and_then(|surface| sanded(words, surface, &facts.recipe)).into_iter().collect();
    recipe.extend(steps(&facts.recipe));
    let colours = facts.colours.as_ref().ok();
    let table = &context.trade.colour;
    let mut notes: Vec<String> = colours.map_or_else(Vec::new, |found| notes(words, found, table));
    notes.extend(swatch.note.as_ref().map(|note| sentence(&words.said(note))));
    SwatchView {
        anchor: format!("swatch-{number}"),
        title,
        surface: surface.map_or(String::new(), |surface| surface_anchor(context, surface)),
        timber: timber(context, facts),
        recipe,
        over: steps(&facts.over),
        target: colours.map(|found| colour_view(words, &found.target)),
        result: colours.map(|found| colour_view(words, &found.result)),
        grey: colours.and_then(|found| found.grey.as_ref()).map(|grey| colour_view(words, grey)),
        difference: colours.map_or(String::new(), |found| difference_words(words, found)),
        difference_key: colours.map_or(String::new(), |found| format!("{:.2}", found.difference)),
        verdict: match &facts.colours {
            Ok(found) => verdict(words, found, table),
            Err(why) => words.say(&unmeasured(*why)),
        },
        notes,
        photo,
        basis: colours.map_or_else(Vec::new, |found| basis(words, found, table)),
    }
}

/// How fine the wood was before the first colour: stains take darker on coarser wood.
fn sanded(words: &Words, surface: &Surface, recipe: &[Row<Step>]) -> Option<String> {
    let first = recipe.first()?;
    let before = surface.steps.iter().take_while(|step| !step.is(first));
    let grit = before.filter_map(|step| step.abrade.last()).last()?;
    Some(words.say(&says!("swatch-abraded", grit = words.said(grit))))
}

/// The timbers of the swatch's parts, or of its surface's, each once.
fn timber(context: &PieceContext<'_>, SwatchFacts { swatch, surface, .. }: &SwatchFacts) -> String {
    let ids = match swatch.part.is_empty() {
        false => &swatch.part,
        true => match surface {
            Some(surface) => &surface.parts,
            None => return String::new(),
        },
    };
    let part =
        |id: &PartId| context.record.parts.iter().map(|part| &part.value).find(|part| part.id.value == *id);
    let seen_timber = |part: &Part| {
        part.veneer.as_ref().or(part.timber.as_ref()).map(|timber| timber_name(timber, context.trade))
    };
    let mut timbers: Vec<Value> = Vec::new();
    for timber in ids.iter().filter_map(|id| part(id)).filter_map(seen_timber) {
        if !timbers.contains(&timber) {
            timbers.push(timber);
        }
    }
    context.house.words().value(&Value::All(timbers))
}

fn colour_view(words: &Words, measured: &Measured) -> ColourView {
    colour_of(words, measured.which, measured.lab)
}

/// A colour for the page, from its numbers.
pub(crate) fn colour_of(words: &Words, which: Which, lab: Lab) -> ColourView {
    let [red, green, blue] = srgb(xyz_of(lab));
    ColourView {
        label: words.say(&match which {
            Which::Grey => says!("measured-grey"),
            Which::Target => says!("measured-target"),
            Which::Result => says!("measured-result"),
        }),
        fill: format!("#{red:02x}{green:02x}{blue:02x}"),
        lab: lab_words(words, lab),
    }
}

fn lab_words(words: &Words, lab: Lab) -> String {
    let tenth = |number: f64| {
        let rounded = (number * 10.0).round() / 10.0;
        words.fixed(if rounded == 0.0 { 0.0 } else { rounded }, 1)
    };
    words.say(&says!("colour-lab", light = tenth(lab.l), red = tenth(lab.a), yellow = tenth(lab.b)))
}

/// The uncertainty in tenths, rounded up: a smaller one than found would claim too much.
fn doubt(uncertainty: f64) -> f64 {
    ((uncertainty * 10.0 - 1e-9).ceil() / 10.0).max(0.1)
}

fn difference_words(words: &Words, found: &Match) -> String {
    difference_of(words, found.difference, found.uncertainty)
}

/// A difference of two colours and how far it may be off.
pub(crate) fn difference_of(words: &Words, difference: f64, uncertainty: f64) -> String {
    let [difference, doubt] = [difference, doubt(uncertainty)].map(|figure| words.fixed(figure, 1));
    words.say(&says!("colour-difference", difference = difference, doubt = doubt))
}

fn verdict(words: &Words, found: &Match, table: &ColourTable) -> String {
    let said = |band: Option<&Band>| band.map_or(String::new(), |band| band.words.to_string());
    if found.difference <= found.uncertainty {
        return words.say(&says!("swatch-none-visible"));
    }
    let middle = capital(&said(table.band(found.difference)));
    let ends = [found.difference - found.uncertainty, found.difference + found.uncertainty];
    let [low, high] = ends.map(|difference| table.band(difference));
    match low.map(|band| &band.id) == high.map(|band| &band.id) {
        true => middle,
        false => words.say(&says!("swatch-between", middle = middle, low = said(low), high = said(high))),
    }
}

fn notes(words: &Words, found: &Match, table: &ColourTable) -> Vec<String> {
    let light = match (found.grey, found.reflectance) {
        (Some(_), Some(reflectance)) => {
            says!("swatch-grey-known", percent = words.number(reflectance * 100.0, 1))
        }
        (Some(_), None) => says!("swatch-grey"),
        (None, _) => says!("swatch-no-grey"),
    };
    let own = table.value("own-spread");
    let itself =
        (found.difference <= own).then(|| says!("swatch-wood-itself", spread = words.number(own, 1)));
    let said = [Some(says!("swatch-one-light")), Some(light), itself];
    said.into_iter().flatten().map(|note| sentence(&words.say(&note))).collect()
}

fn unmeasured(why: Unmeasured) -> Message {
    match why {
        Unmeasured::NoPhotograph => says!("swatch-no-photograph"),
        Unmeasured::TooSmall(_) => says!("swatch-too-small"),
        Unmeasured::BlackCard => says!("swatch-black-card"),
    }
}

fn basis(words: &Words, found: &Match, table: &ColourTable) -> Vec<Reckoning> {
    let row = |figure: Message, how: Message, source: &str| Reckoning {
        figure: words.say(&figure),
        how: words.say(&how),
        source: source.to_owned(),
    };
    let hundredth = |figure: f64| words.fixed(figure, 2);
    let mut rows = vec![row(
        says!("swatch-patches"),
        says!("swatch-patches-how"),
        "IEC 61966-2-1:1999; ISO/CIE 11664-4; the tenth is common practice, no source",
    )];
    if found.grey.is_some() {
        rows.push(row(
            says!("measured-grey"),
            says!("swatch-grey-how"),
            "Scaling after von Kries with the matrix of Bradford, ICC.1, annex E",
        ));
    }
    rows.push(row(
        says!("swatch-difference"),
        says!(
            "swatch-difference-how",
            difference = hundredth(found.difference),
            noise = hundredth(found.from_noise),
            light = hundredth(found.from_light),
            percent = words.number(UNEVEN_LIGHT * 100.0, 0),
        ),
        "Sharma, Wu and Dalal, The CIEDE2000 Color-Difference Formula, Color Research and Application 30 (2005)",
    ));
    if let Some(band) = table.band(found.difference) {
        let narrower = table.band_below(found.difference);
        let border = |band: &Band| band.below.as_ref().map(|below| words.number(below.0, 1));
        let stands_for = match (narrower.and_then(border), border(band)) {
            (Some(from), Some(below)) => says!("swatch-from-to", from = from, below = below),
            (Some(from), None) => says!("swatch-from", from = from),
            (None, Some(below)) => says!("swatch-below", below = below),
            (None, None) => says!("swatch-every"),
        };
        let sources =
            narrower.into_iter().chain([band]).map(|band| Message::cited(band.seen.value, &band.source));
        let how = says!("swatch-words-how", words = capital(&band.words), differences = stands_for);
        rows.push(row(says!("swatch-words"), how, &cited(words, sources)));
    }
    if let Some(limit) = table.limit("own-spread") {
        let spread = words.number(limit.value.0, 1);
        let how = says!("swatch-wood-how", what = capital(&limit.name), spread = spread);
        rows.push(row(
            says!("swatch-wood"),
            how,
            &cited(words, [Message::cited(limit.seen.value, &limit.source)]),
        ));
    }
    rows
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::trade::Trade;

    fn found(difference: f64, uncertainty: f64) -> Match {
        let lab = Lab { l: 50.04, a: -0.04, b: -12.36 };
        let patch =
            |which| Measured { which, seen: lab, xyz: [0.2; 3], lab, side: 90, clipped: 0.0, slope: 0.0 };
        let (target, result) = (patch(Which::Target), patch(Which::Result));
        Match {
            target,
            result,
            grey: None,
            reflectance: None,
            difference,
            uncertainty,
            from_noise: uncertainty,
            from_light: 0.0,
        }
    }

    #[test]
    fn doubt_is_rounded_up_and_never_nothing() {
        assert_eq!(difference_words(&Words::with_currency("GBP"), &found(1.44, 0.21)), "ΔE00 1.4 ± 0.3");
        assert_eq!(difference_words(&Words::with_currency("GBP"), &found(0.0, 0.0)), "ΔE00 0.0 ± 0.1");
        assert_eq!(difference_words(&Words::with_currency("GBP"), &found(12.0, 0.3)), "ΔE00 12.0 ± 0.3");
    }

    #[test]
    fn words_say_no_more_than_was_measured() {
        let words = |difference, uncertainty| {
            verdict(&Words::with_currency("GBP"), &found(difference, uncertainty), &Trade::built_in().colour)
        };
        assert_eq!(words(1.2, 0.3), "Hardly visible side by side");
        assert_eq!(words(0.3, 0.3), "No difference that this photograph could show");
        assert_eq!(
            words(1.7, 0.3),
            "Hardly visible side by side; within its uncertainty, from “hardly visible side by side” to “visible side by side”"
        );
        assert_eq!(words(9.0, 0.5), "Two different colours");
    }

    #[test]
    fn figures_have_a_true_minus_and_no_negative_nothing() {
        assert_eq!(
            lab_words(&Words::with_currency("GBP"), found(0.0, 0.0).target.lab),
            "L* 50.0, a* 0.0, b* −12.4"
        );
    }
}
