//! `consult colour`: colours that were measured and come nearest, and mixes that nobody measured.

use std::path::Path;

use clap::Args;

use super::Context;
use crate::archive::{
    ArchiveFault, Asking, ColourAnswer, ColourQuestion, MeasuredColour, Recipe, RecipeStep,
};
use crate::cli::Trouble;
use crate::cli::sheet::{Cell, Row, Sheet, Table};
use crate::cli::words::count;
use crate::derive::colour::Lab;
use crate::journey;
use crate::unit::{Fraction, Point, Rectangle};

#[derive(Debug, Args)]
#[group(id = "wanted-colour")]
pub(super) struct Colour {
    /// Like a place on a photograph, in fractions of its width and height
    #[arg(long, value_name = "PIECE/FILE@X,Y,W,H", conflicts_with_all = ["lab", "swatch"])]
    like: Option<String>,
    /// Like this colour in CIELAB, D65
    #[arg(long, value_name = "L,A,B", conflicts_with = "swatch", allow_hyphen_values = true)]
    lab: Option<String>,
    /// Like the result of a swatch, counted from 1
    #[arg(long, value_name = "PIECE/N")]
    swatch: Option<String>,
    /// The timber it is wanted on: colours on that come first
    #[arg(long, value_name = "TIMBER")]
    on: Option<String>,
    /// Only colours that were measured on this timber
    #[arg(long, value_name = "TIMBER")]
    from: Option<String>,
}

impl Colour {
    /// The question, with the colour measured or looked up.
    pub(super) fn question(&self, asking: &Asking<'_>, workshop: &Path) -> Result<ColourQuestion, Trouble> {
        let mut question =
            ColourQuestion { on: self.on.clone(), from: self.from.clone(), ..ColourQuestion::default() };
        if let Some(lab) = &self.lab {
            let [l, a, b] =
                numbers(lab).ok_or_else(|| unclear("--lab", lab, "three numbers, such as 42,12,25"))?;
            if !(0.0..=100.0).contains(&l) || a.abs() > 200.0 || b.abs() > 200.0 {
                return Err(unclear("--lab", lab, "L from 0 to 100, and a and b from -200 to 200"));
            }
            question.wanted = Some((Lab { l, a, b }, 0.0));
        }
        if let Some(swatch) = &self.swatch {
            let example = "a piece and a number, such as WT-011/1";
            let (piece, no) = swatch.rsplit_once('/').ok_or_else(|| unclear("--swatch", swatch, example))?;
            let no: usize = no.trim().parse().map_err(|_| unclear("--swatch", swatch, example))?;
            let (id, piece) = piece_of(asking, piece)?;
            let found = asking.swatch(id, no).map_err(journey::OpenError::from)?;
            let none = || Trouble::Question(format!("{} has no swatch {no} that was measured", piece.number));
            question.wanted = Some(found.ok_or_else(none)?);
            question.itself = Some((piece.folder, no));
        }
        if let Some(like) = &self.like {
            let example =
                "a piece, a photograph and its place, such as WT-011/after-front.jpg@0.4,0.5,0.1,0.1";
            let wrong = || unclear("--like", like, example);
            let (named, place) = like.rsplit_once('@').ok_or_else(wrong)?;
            let (piece, file) = named.rsplit_once('/').ok_or_else(wrong)?;
            let [x, y, width, height] = numbers(place).ok_or_else(wrong)?;
            let [x, y, width, height] = [x, y, width, height].map(Fraction::new);
            let corner = x.zip(y).map(|(x, y)| Point { x, y });
            let place =
                corner.zip(width.zip(height)).and_then(|(corner, (w, h))| Rectangle::new(corner, w, h));
            let place = place.ok_or_else(|| {
                unclear("--like", like, "a place within the photograph, in fractions from 0 to 1")
            })?;
            let piece = piece.strip_suffix("/photos").unwrap_or(piece);
            let (_, piece) = piece_of(asking, piece)?;
            let read = journey::read_colour(workshop, &piece.folder, file, place)?;
            question.wanted = Some((read.lab, read.uncertainty));
        }
        Ok(question)
    }
}

/// A piece that is named in a question.
pub(super) fn piece_of(
    asking: &Asking<'_>,
    named: &str,
) -> Result<(i64, crate::archive::PieceName), Trouble> {
    let found = asking.piece(named).map_err(journey::OpenError::from)?;
    found.map_err(|near| super::no_piece(named, &near))
}

fn unclear(option: &str, typed: &str, wanted: &str) -> Trouble {
    Trouble::Question(format!("`{option} {typed}` is not understood: it takes {wanted}"))
}

/// So many numbers, joined by commas.
fn numbers<const N: usize>(text: &str) -> Option<[f64; N]> {
    let numbers: Option<Vec<f64>> =
        text.split(',').map(|number| number.trim().parse::<f64>().ok().filter(|n| n.is_finite())).collect();
    numbers?.try_into().ok()
}

pub(super) fn colour(
    context: &Context<'_>,
    question: ColourQuestion,
    all: bool,
) -> Result<Sheet, ArchiveFault> {
    let answer = context.asking.colour(question)?;
    let shown = if all { usize::MAX } else { 10 };
    let measured = answer.measured.iter().take(shown).map(|colour| measured(colour, &answer, context));
    let unmeasured =
        answer.unmeasured.iter().take(shown).map(|(recipe, on_timber)| unmeasured(recipe, *on_timber));
    let pieces = answer.measured.iter().map(|colour| &colour.recipe.piece);
    let pieces = pieces.chain(answer.unmeasured.iter().map(|(recipe, _)| &recipe.piece)).cloned();
    Ok(Sheet {
        asked: asked(&answer.question),
        said: said(&answer, shown),
        answered: !answer.measured.is_empty() || !answer.unmeasured.is_empty(),
        pieces: pieces.collect(),
        tables: vec![
            Table {
                name: "measured",
                heading: "Measured, the nearest first".to_owned(),
                columns: &[
                    "piece",
                    "swatch",
                    "photograph",
                    "l",
                    "a",
                    "b",
                    "difference",
                    "uncertainty",
                    "grey-card",
                    "on-timber",
                    "surface",
                    "timbers",
                    "recipe",
                    "over",
                    "finish",
                    "note",
                ],
                rows: measured.collect(),
                shown: &[],
            },
            Table {
                name: "not-measured",
                heading: "Mixes that nobody measured".to_owned(),
                columns: &["piece", "surface", "timbers", "recipe", "finish", "on-timber", "taken-off-again"],
                rows: unmeasured.collect(),
                shown: &[],
            },
        ],
    })
}

fn asked(question: &ColourQuestion) -> String {
    let mut asked = match question.wanted {
        Some((lab, _)) => format!("Colours like L* {:.1}, a* {:.1}, b* {:.1}", lab.l, lab.a, lab.b),
        None => "Colours".to_owned(),
    };
    if let Some(on) = &question.on {
        asked.push_str(&format!(" on {on}"));
    }
    if let Some(from) = &question.from {
        asked.push_str(&format!(", of those measured on {from}"));
    }
    asked
}

fn said(answer: &ColourAnswer, shown: usize) -> Vec<String> {
    let looked = format!(
        "{} of {}",
        count(answer.searched.rows, "measured colour", "measured colours"),
        count(answer.searched.pieces, "piece", "pieces")
    );
    let mixes = match answer.unmeasured.len() {
        0 => "there is no other mix".to_owned(),
        mixes => format!("{} nobody measured", count(mixes, "mix", "mixes")),
    };
    let mut said = vec![match answer.measured.len() {
        0 => format!("None among {looked}; {mixes}."),
        _ => format!("Looked through: {looked}; {mixes}."),
    }];
    if answer.question.wanted.is_some() && answer.measured.iter().any(|colour| !colour.grey_card) {
        said.push("Colours without a grey card may be off by the light of their photograph.".to_owned());
    }
    if answer.question.on.is_some()
        && !answer.measured.is_empty()
        && !answer.measured.iter().any(|colour| colour.on_timber)
    {
        said.push("None of them was measured on that timber.".to_owned());
    }
    if answer.measured.len().max(answer.unmeasured.len()) > shown {
        said.push(format!("The first {shown} of each are told; --all tells all."));
    }
    said
}

/// A step of a recipe, in words.
fn step(step: &RecipeStep) -> String {
    let mix = if step.mix.is_empty() { String::new() } else { format!(" ({})", step.mix) };
    let coats =
        step.coats.filter(|coats| *coats > 1).map_or_else(String::new, |coats| format!(", {coats} coats"));
    let means = step.means.as_ref().map_or_else(String::new, |means| format!(", {means}"));
    format!("{}{mix}{coats}{means}", step.name)
}

fn steps(steps: &[RecipeStep]) -> String {
    steps.iter().map(step).collect::<Vec<_>>().join("; then ")
}

/// What made it, line by line.
fn recipe_lines(recipe: &Recipe) -> Vec<String> {
    let on = match (recipe.surface.is_empty(), recipe.timbers.is_empty()) {
        (true, true) => "surface not recorded".to_owned(),
        (true, false) => recipe.timbers.clone(),
        (false, true) => format!("{}, timber not recorded", recipe.surface),
        (false, false) => format!("{}, {}", recipe.surface, recipe.timbers),
    };
    let mut lines = vec![format!("on\t{on}")];
    lines.push(match recipe.steps.is_empty() {
        true => "by\tnothing that colours: the wood and its old finish".to_owned(),
        false => format!("by\t{}", steps(&recipe.steps)),
    });
    if !recipe.over.is_empty() {
        lines.push(format!("over it\t{}", steps(&recipe.over)));
    } else if let Some(top) = &recipe.top {
        lines.push(format!("on top\t{top}"));
    }
    lines
}

fn measured(colour: &MeasuredColour, answer: &ColourAnswer, context: &Context<'_>) -> Row {
    let Lab { l, a, b } = colour.lab;
    let reads = match (colour.difference, colour.uncertainty) {
        (Some(difference), Some(doubt)) => {
            let band = context.asking.trade.colour.band(difference).map_or("", |band| &band.words.value.0);
            format!("ΔE00 {difference:.1} ± {doubt:.1}: {band}")
        }
        (Some(difference), None) => format!("ΔE00 {difference:.1}"),
        _ => format!("L* {l:.1}, a* {a:.1}, b* {b:.1}"),
    };
    let card = if colour.grey_card { "" } else { "; no grey card" };
    let other = if answer.question.on.is_some() && !colour.on_timber { "; on another timber" } else { "" };
    let mut told = vec![format!("swatch {}\t{reads}{card}{other}", colour.no)];
    told.extend(recipe_lines(&colour.recipe));
    told.extend(colour.note.iter().map(|note| format!("\t{note}")));
    Row {
        told,
        cells: vec![
            Cell::Piece(colour.recipe.piece.clone()),
            Cell::Count(colour.no),
            Cell::Text(colour.photograph.clone()),
            Cell::Measure(l, 2),
            Cell::Measure(a, 2),
            Cell::Measure(b, 2),
            Cell::maybe(colour.difference, |number| Cell::Measure(number, 2)),
            Cell::maybe(colour.uncertainty, |number| Cell::Measure(number, 2)),
            Cell::Is(colour.grey_card),
            Cell::Is(colour.on_timber),
            Cell::Text(colour.recipe.surface.clone()),
            Cell::Text(colour.recipe.timbers.clone()),
            Cell::Text(steps(&colour.recipe.steps)),
            Cell::Text(steps(&colour.recipe.over)),
            Cell::maybe(colour.recipe.top.clone(), Cell::Text),
            Cell::maybe(colour.note.clone(), Cell::Text),
        ],
    }
}

fn unmeasured(recipe: &Recipe, on_timber: bool) -> Row {
    let mut told = recipe_lines(recipe);
    if recipe.undone {
        told.push("\tIt was taken off again.".to_owned());
    }
    Row {
        told,
        cells: vec![
            Cell::Piece(recipe.piece.clone()),
            Cell::Text(recipe.surface.clone()),
            Cell::Text(recipe.timbers.clone()),
            Cell::Text(steps(&recipe.steps)),
            Cell::maybe(recipe.top.clone(), Cell::Text),
            Cell::Is(on_timber),
            Cell::Is(recipe.undone),
        ],
    }
}
