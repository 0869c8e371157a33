//! Surfaces as a page shows them: the layers of today, the cut through them, and the steps that led there.

use serde::Serialize;

use super::layers_svg::{Drawn, Ground, layers_svg};
use crate::claim::{Message, Value, says};
use crate::derive::{Coat, Stratum, SurfaceFacts, coating};
use crate::fields::{Row, Said};
use crate::record::{Act, Construction, FinishName, Ingredient, PartId, Removal, Step, Surface, TestResult};
use crate::trade::{BARE_WOOD, Layer};
use crate::view::context::PieceContext;
use crate::words::{Words, capital, sentence};

/// One layer of a surface.
#[derive(Debug, Clone, Serialize)]
pub struct LayerRow {
    /// What it is, with its coats.
    pub name: String,
    /// Where it lies.
    pub lies: String,
    /// The kind of layer as a word for a theme: `film`, `in-wood`, `colour` and so on, or `unknown`.
    pub kind: String,
    /// When it was laid, or that it was found.
    pub since: String,
    /// Where it is not whole; may be empty.
    pub exception: String,
    /// Whether it lies open on most parts, and so decides how the surface is dusted and wiped.
    pub exposed: bool,
    /// The layer itself, for what follows from it.
    #[serde(skip)]
    pub coat: Coat,
}

/// One step on a surface.
#[derive(Debug, Clone, Serialize)]
pub struct StepRow {
    /// The day; empty where not recorded.
    pub day: String,
    /// What was done.
    pub text: String,
    /// Its kind, for a theme: `clean`, `test`, `remove`, `abrade` or `apply`.
    pub kind: String,
    /// Whether its layer was taken off again.
    pub undone: bool,
}

/// Parts that share a finish.
#[derive(Debug, Clone, Serialize)]
pub struct SurfaceView {
    /// Its name.
    pub name: String,
    /// Its id on the page.
    pub anchor: String,
    /// Its parts.
    pub parts: String,
    /// Its layers today, topmost first.
    pub layers: Vec<LayerRow>,
    /// The same drawn as a cut through them; empty where no layers are recorded.
    pub layers_svg_html: String,
    /// What was found on it and taken off.
    pub removed: Vec<String>,
    /// What was laid and taken off again.
    pub undone: Vec<String>,
    /// The steps, in the order they were taken.
    pub steps: Vec<StepRow>,
}

/// What the papers call a surface: its own name, or the names of its parts.
pub(crate) fn surface_name(context: &PieceContext<'_>, surface: &Surface) -> String {
    match &surface.name {
        Some(name) => name.to_string(),
        None if surface.parts.is_empty() => context.house.words().say(&says!("surface-unnamed")),
        None => capital(&context.names.parts(&surface.parts)),
    }
}

/// The id of a surface on a page; empty where the record has none such.
pub(crate) fn surface_anchor(context: &PieceContext<'_>, surface: &Row<Surface>) -> String {
    let facts = context.facts.surfaces.iter().find(|facts| facts.surface.is(surface));
    facts.map_or_else(String::new, |facts| format!("surface-{}", facts.number))
}

pub(crate) fn surface_view(context: &PieceContext<'_>, facts: &SurfaceFacts) -> SurfaceView {
    let words = context.house.words();
    let SurfaceFacts { surface, today, .. } = facts;
    let exposed = facts.faces.first().and_then(|face| face.exposed()?.place);
    SurfaceView {
        name: surface_name(context, surface),
        anchor: surface_anchor(context, surface),
        parts: context.names.parts(&surface.parts),
        layers: today
            .layers
            .iter()
            .enumerate()
            .rev()
            .map(|(place, layer)| layer_row(context, layer, exposed == Some(place)))
            .collect(),
        layers_svg_html: layers_drawing(context, facts),
        removed: today.removed.iter().map(|coat| coat_words(context, coat)).collect(),
        undone: today
            .undone
            .iter()
            .map(|coat| match coat.on {
                Some(on) => words.say(&says!("coat-laid-on", coat = coat_words(context, coat), day = on)),
                None => coat_words(context, coat),
            })
            .collect(),
        steps: surface.steps.iter().map(|step| step_row(context, step, today.took_off_again(step))).collect(),
    }
}

/// The layers of a surface as a drawing. A material that is its own surface is what the others lie on.
fn layers_drawing(context: &PieceContext<'_>, facts: &SurfaceFacts) -> String {
    let SurfaceFacts { surface, today, number, .. } = facts;
    let layers = &today.layers;
    let is_ground = |layer: &Stratum| layer.coat.layer == Some(Layer::Surface);
    let ground = match layers.first().filter(|layer| is_ground(layer)) {
        Some(layer) => Ground {
            name: capital(&coat_words(context, &layer.coat)),
            grain: layer.coat.finish.as_deref() == Some(BARE_WOOD),
        },
        None => ground_of(context, surface),
    };
    let drawn: Vec<Drawn> = layers
        .iter()
        .enumerate()
        .filter(|(place, layer)| *place > 0 || !is_ground(layer))
        .map(|(_, layer)| Drawn {
            name: capital(&coat_words(context, &layer.coat)),
            kind: layer.coat.layer,
            coats: layer.coat.coats,
            exception: exception(context, layer),
        })
        .collect();
    match layers.is_empty() {
        true => String::new(),
        false => {
            let id = format!("surface-{number}-layers");
            layers_svg(context.house.words(), &id, &surface_name(context, surface), &ground, &drawn)
        }
    }
}

/// What a surface's parts are made of, where all of them are of one material that is not wood.
pub(crate) fn ground_of(context: &PieceContext<'_>, surface: &Surface) -> Ground {
    let build = |id: &Said<PartId>| {
        let part = context.record.parts.iter().find(|part| part.id.value == id.value)?;
        Some(part.build.as_ref()?.value)
    };
    let other = [
        Construction::Metal,
        Construction::Glass,
        Construction::Stone,
        Construction::Textile,
        Construction::Leather,
    ];
    let words = context.house.words();
    let same = surface.parts.first().and_then(build).filter(|build| other.contains(build));
    match same.filter(|one| surface.parts.iter().all(|part| build(part) == Some(*one))) {
        Some(build) => Ground { name: capital(&words.word("build", build.word())), grain: false },
        None => Ground { name: words.say(&says!("ground-wood")), grain: true },
    }
}

/// A layer with its coats: `satin varnish, 3 coats`.
pub(crate) fn coat_words(context: &PieceContext<'_>, coat: &Coat) -> String {
    let words = context.house.words();
    let name = match coat.written {
        FinishName::Unknown => words.say(&says!("coat-not-known")),
        _ => coat.name.clone(),
    };
    match (&coat.step, coat.coats) {
        (Some(_), coats) if coats > 1 => words.say(&says!("coats-laid", coat = name, coats = coats)),
        _ => name,
    }
}

fn layer_row(context: &PieceContext<'_>, layer: &Stratum, exposed: bool) -> LayerRow {
    let words = context.house.words();
    let kind = layer.coat.layer.map_or("unknown", |layer| layer.word());
    LayerRow {
        name: capital(&coat_words(context, &layer.coat)),
        lies: words.word("lies", kind),
        kind: kind.to_owned(),
        since: match (&layer.coat.step, layer.coat.on) {
            (None, _) => words.say(&says!("layer-found")),
            (Some(_), Some(on)) => words.say(&says!("layer-laid-from", on = on)),
            (Some(_), None) => words.say(&says!("layer-laid")),
        },
        exception: exception(context, layer),
        exposed,
        coat: layer.coat.clone(),
    }
}

/// Where a layer is not whole; empty where it is.
fn exception(context: &PieceContext<'_>, layer: &Stratum) -> String {
    let words = context.house.words();
    let parts = |ids: &[PartId]| words.list(&ids.iter().map(|id| context.names.part(id)).collect::<Vec<_>>());
    let mut exception: Vec<String> = Vec::new();
    if !layer.only_on.is_empty() {
        exception.push(words.say(&says!("layer-only-on", parts = parts(&layer.only_on))));
    }
    if !layer.gone_from.is_empty() {
        exception.push(words.say(&says!("layer-gone-from", parts = parts(&layer.gone_from))));
    }
    exception.join("; ")
}

fn step_row(context: &PieceContext<'_>, step: &Step, undone: bool) -> StepRow {
    let words = context.house.words();
    let (kind, mut said) = match step.act() {
        Some(Act::Clean(with)) => ("clean", says!("step-clean", with = words.said(with))),
        Some(Act::Test(of)) => ("test", test_message(words, step, words.said(of))),
        Some(Act::Remove(what)) => ("remove", says!("step-remove", what = removal_words(context, what))),
        Some(Act::Abrade(grits)) => {
            let mut grits = grits.iter().map(|grit| Value::from(grit.to_string()));
            let first = grits.next().unwrap_or(Value::Series(Vec::new()));
            let then = |all: Value, next: Value| says!("step-abrade-then", grit = all, next = next).into();
            ("abrade", says!("step-abrade", grits = grits.fold(first, then)))
        }
        Some(Act::Apply(what)) => ("apply", says!("step-apply", what = laid_words(context, step, what))),
        None => ("unknown", says!("step-unknown")),
    };
    if let Some(by) = step.by.as_ref() {
        said = says!("step-by", step = said, by = words.said(by));
    }
    if !step.only.is_empty() {
        said = says!("step-only", step = said, parts = context.names.parts(&step.only));
    }
    if let Some(why) = step.why.as_ref() {
        said = says!("step-why", step = said, why = words.said(why));
    }
    let mut text = sentence(&words.say(&said));
    if let Some(note) = step.note.as_ref() {
        text = format!("{text} {}", sentence(&words.said(note)));
    }
    StepRow {
        day: step.on.as_ref().map_or(String::new(), |on| words.day(on.value)),
        text,
        kind: kind.to_owned(),
        undone,
    }
}

fn test_message(words: &Words, step: &Step, of: String) -> Message {
    match step.result.as_ref() {
        Some(result) if result.value == TestResult::NotTested => says!("step-test-not-made", of = of),
        Some(result) => says!("step-test", of = of, result = words.said(result)),
        None => says!("step-test-no-result", of = of),
    }
}

fn removal_words(context: &PieceContext<'_>, what: &Removal) -> String {
    match what {
        Removal::All => context.house.words().say(&says!("removal-all")),
        Removal::Layer(FinishName::Unknown) => context.house.words().say(&says!("coat-not-known")),
        Removal::Layer(name) => coating_words(context, name),
    }
}

/// What an applying step laid: the finish with its mix, its coats and how they were laid.
pub(crate) fn laid_words(context: &PieceContext<'_>, step: &Step, what: &FinishName) -> String {
    let words = context.house.words();
    let mut said = Value::from(coating_words(context, what));
    if !step.mix.is_empty() {
        let part = |ingredient: &Said<Ingredient>| {
            let (figure, count) = (words.span(&ingredient.parts, 2), Value::Number(ingredient.parts.high, 2));
            says!("mix-parts", figure = figure, count = count, of = words.said(&ingredient.of)).into()
        };
        let mix = Value::All(step.mix.iter().map(part).collect());
        said = says!("coat-mixed", coat = said, mix = mix).into();
    }
    if step.coat_count() > 1 {
        said = says!("coats-laid", coat = said, coats = step.coat_count()).into();
    }
    if let Some(every) = step.every_hours.as_ref() {
        let (figure, count) = (words.span(every, 2), Value::Number(every.high, 2));
        said = says!("coats-apart", coat = said, figure = figure, count = count).into();
    }
    if let Some(grit) = step.abrade_between.as_ref() {
        said = says!("coats-abraded-between", coat = said, grit = words.said(grit)).into();
    }
    words.value(&said)
}

/// What the papers call a finish: the workshop's name for its tin, else the family's.
pub(crate) fn coating_words(context: &PieceContext<'_>, what: &FinishName) -> String {
    let within = |name: &str| context.house.words().value(&Value::Name(name.to_owned()));
    match coating(what, context.tins, context.trade) {
        Some(coating) => match coating.tin.map(|tin| &tin.name) {
            Some(Some(name)) => name.to_string(),
            Some(None) => within(&coating.finish.name),
            None => within(&context.trade.finish_name(what)),
        },
        None => what.to_string(),
    }
}
