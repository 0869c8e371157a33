//! Surfaces as a page shows them: the layers of today, the cut through them, and the steps that led there.

use serde::Serialize;

use super::Source;
use super::layers_svg::{Drawn, Ground, layers_svg};
use super::words;
use crate::derive::{Film, Layered, coating};
use crate::fields::Said;
use crate::record::{Act, Build, NOT_TESTED, Step, Surface, UNKNOWN};
use crate::trade::Layer;

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
    /// Whether it is the one that decides the care.
    pub decides_care: bool,
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
pub(super) fn surface_name(source: &Source<'_>, surface: &Surface) -> String {
    match &surface.name {
        Some(name) => name.to_string(),
        None => words::capital(&source.names.parts(&surface.parts)),
    }
}

pub(super) fn surface_view(source: &Source<'_>, index: usize, surface: &Surface) -> SurfaceView {
    let build = &source.facts.surfaces[index];
    let decides = build.decides_care();
    SurfaceView {
        name: surface_name(source, surface),
        anchor: format!("surface-{}", index + 1),
        parts: source.names.parts(&surface.parts),
        layers: build
            .layers
            .iter()
            .rev()
            .map(|layer| {
                layer_row(source, layer, decides.is_some_and(|decides| std::ptr::eq(decides, layer)))
            })
            .collect(),
        layers_svg_html: layers_drawing(source, index, surface),
        removed: build.removed.iter().map(film_words).collect(),
        undone: build
            .undone
            .iter()
            .map(|film| match film.on {
                Some(on) => format!("{}, laid on {}", film_words(film), words::day(on)),
                None => film_words(film),
            })
            .collect(),
        steps: surface
            .steps
            .iter()
            .enumerate()
            .map(|(index, step)| {
                step_row(source, step, build.undone.iter().any(|film| film.step == Some(index)))
            })
            .collect(),
    }
}

/// The layers of a surface as a drawing. A material that is its own surface is what the others lie on.
fn layers_drawing(source: &Source<'_>, index: usize, surface: &Surface) -> String {
    let layers = &source.facts.surfaces[index].layers;
    let is_ground = |layer: &Layered| layer.film.layer == Some(Layer::Surface);
    let ground = match layers.first().filter(|layer| is_ground(layer)) {
        Some(layer) => Ground {
            name: words::capital(&film_words(&layer.film)),
            grain: layer.film.finish.as_deref() == Some("bare-wood"),
        },
        None => ground_of(source, surface),
    };
    let drawn: Vec<Drawn> = layers
        .iter()
        .enumerate()
        .filter(|(place, layer)| *place > 0 || !is_ground(layer))
        .map(|(_, layer)| Drawn {
            name: words::capital(&film_words(&layer.film)),
            kind: layer.film.layer,
            coats: layer.film.coats,
            exception: exception(source, layer),
        })
        .collect();
    match layers.is_empty() {
        true => String::new(),
        false => layers_svg(
            &format!("surface-{}-layers", index + 1),
            &surface_name(source, surface),
            &ground,
            &drawn,
        ),
    }
}

/// What a surface's parts are made of, where all of them are of one material that is not wood.
fn ground_of(source: &Source<'_>, surface: &Surface) -> Ground {
    let build = |id: &Said<crate::fields::Id>| {
        let part = source.record.parts.iter().find(|part| part.id.0 == id.0)?;
        Some(part.build.as_ref()?.value)
    };
    let other = [Build::Metal, Build::Glass, Build::Stone, Build::Textile, Build::Leather];
    let same = surface.parts.first().and_then(build).filter(|build| other.contains(build));
    match same.filter(|one| surface.parts.iter().all(|part| build(part) == Some(*one))) {
        Some(build) => Ground { name: words::capital(words::build(build)), grain: false },
        None => Ground { name: "Wood".to_owned(), grain: true },
    }
}

/// A film with its coats: `satin varnish, 3 coats`.
pub(super) fn film_words(film: &Film) -> String {
    let name = match film.name.as_str() {
        UNKNOWN => "a finish that is not known",
        name => name,
    };
    match (film.step, film.coats) {
        (Some(_), coats) if coats > 1 => format!("{name}, {coats} coats"),
        _ => name.to_owned(),
    }
}

fn layer_row(source: &Source<'_>, layer: &Layered, decides_care: bool) -> LayerRow {
    LayerRow {
        name: words::capital(&film_words(&layer.film)),
        lies: words::layer(layer.film.layer).to_owned(),
        kind: layer.film.layer.map_or("unknown", |layer| layer.word()).to_owned(),
        since: match (layer.film.step, layer.film.on) {
            (None, _) => "found on the piece".to_owned(),
            (Some(_), Some(on)) => format!("laid from {}", words::day(on)),
            (Some(_), None) => "laid by this workshop".to_owned(),
        },
        exception: exception(source, layer),
        decides_care,
    }
}

/// Where a layer is not whole; empty where it is.
fn exception(source: &Source<'_>, layer: &Layered) -> String {
    let parts = |ids: &[String]| {
        words::list(
            &ids.iter().map(|id| source.names.part(&crate::fields::Id(id.clone()))).collect::<Vec<_>>(),
        )
    };
    let mut exception: Vec<String> = Vec::new();
    if !layer.only_on.is_empty() {
        exception.push(format!("only on {}", parts(&layer.only_on)));
    }
    if !layer.gone_from.is_empty() {
        exception.push(format!("taken off again from {}", parts(&layer.gone_from)));
    }
    exception.join("; ")
}

fn step_row(source: &Source<'_>, step: &Step, undone: bool) -> StepRow {
    let (kind, mut said) = match step.act() {
        Some(Act::Clean(with)) => ("clean", format!("Cleaned with {}", words::said(with))),
        Some(Act::Test(of)) => ("test", test_words(step, &words::said(of))),
        Some(Act::Remove(what)) => ("remove", format!("Removed {}", removal_words(source, what))),
        Some(Act::Abrade(grits)) => {
            let grits: Vec<String> = grits.iter().map(|grit| grit.to_string()).collect();
            ("abrade", format!("Abraded with {}", grits.join(", then ")))
        }
        Some(Act::Apply(what)) => ("apply", apply_words(source, step, what)),
        None => ("unknown", "Not recorded".to_owned()),
    };
    if let Some(by) = step.by.as_ref() {
        said.push_str(&format!(", by {}", words::said(by)));
    }
    if !step.only.is_empty() {
        said.push_str(&format!(", only on {}", source.names.parts(&step.only)));
    }
    if let Some(why) = step.why.as_ref() {
        said.push_str(&format!(": {}", words::said(why)));
    }
    let mut text = words::sentence(&said);
    if let Some(note) = step.note.as_ref() {
        text = format!("{text} {}", words::sentence(&words::said(note)));
    }
    StepRow {
        day: step.on.as_ref().map_or(String::new(), |on| words::day(on.value)),
        text,
        kind: kind.to_owned(),
        undone,
    }
}

fn test_words(step: &Step, of: &str) -> String {
    match step.result.as_ref() {
        Some(result) if result.0 == NOT_TESTED => format!("{of}: not tested"),
        Some(result) => format!("Tested ({of}): {}", words::said(result)),
        None => format!("Tested ({of}): the result was not recorded"),
    }
}

fn removal_words(source: &Source<'_>, what: &str) -> String {
    match what {
        "all" => "everything down to the wood".to_owned(),
        UNKNOWN => "a finish that is not known".to_owned(),
        other => coating_words(source, other),
    }
}

fn apply_words(source: &Source<'_>, step: &Step, what: &str) -> String {
    format!("Applied {}", laid_words(source, step, what))
}

/// What an applying step laid: the finish with its mix, its coats and how they were laid.
pub(super) fn laid_words(source: &Source<'_>, step: &Step, what: &str) -> String {
    let mut said = coating_words(source, what);
    if !step.mix.is_empty() {
        let mix: Vec<String> = step
            .mix
            .iter()
            .map(|ingredient| {
                format!("{} {}", words::span(&ingredient.parts, "part", "parts"), words::said(&ingredient.of))
            })
            .collect();
        said.push_str(&format!(" ({})", words::list(&mix)));
    }
    if step.coat_count() > 1 {
        said.push_str(&format!(", {} coats", step.coat_count()));
    }
    if let Some(every) = step.every_hours.as_ref() {
        said.push_str(&format!(", {} apart", words::span(every, "hour", "hours")));
    }
    if let Some(grit) = step.abrade_between.as_ref() {
        said.push_str(&format!(", abraded with {} between coats", words::said(grit)));
    }
    said
}

/// What the papers call a finish: the workshop's name for its tin, else the family's.
pub(super) fn coating_words(source: &Source<'_>, what: &str) -> String {
    match coating(what, source.tins, source.trade) {
        Some(coating) => match coating.tin.and_then(|tin| tin.name.as_ref()) {
            Some(name) => name.to_string(),
            None => coating.finish.name.to_lowercase(),
        },
        None => what.to_owned(),
    }
}
