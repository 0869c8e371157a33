//! Recipes: what coloured which timber, measured or not.

use std::collections::BTreeMap;

use serde::Serialize;

use super::across::{Across, PieceLink};
use super::filter::Filter;
use crate::archive::{ArchiveFault, ColourQuestion, MeasuredColour, Recipe, RecipeStep};
use crate::claim::{Value, says};
use crate::derive::Which;
use crate::view::shared::swatch::{ColourView, colour_of, difference_of};
use crate::words::{capital, sentence};

/// What coloured which timber.
#[derive(Debug, Clone, Serialize)]
pub struct RecipesPage {
    /// How many, and how many of them measured, in words.
    pub count: String,
    /// What they can be narrowed by.
    pub filters: Vec<Filter>,
    /// Timber by timber, those together that lie on the same.
    pub timbers: Vec<TimberRecipes>,
}

/// What coloured one timber.
#[derive(Debug, Clone, Serialize)]
pub struct TimberRecipes {
    /// The timber, or several of one surface.
    pub name: String,
    /// The recipes: measured ones first.
    pub cards: Vec<RecipeCard>,
}

/// What coloured one surface.
#[derive(Debug, Clone, Serialize)]
pub struct RecipeCard {
    /// The surface; may be empty.
    pub surface: String,
    /// The timber, as rows are narrowed by it.
    pub timber: String,
    /// What lies uppermost today; may be empty.
    pub finish: String,
    /// The colour aimed at; none where none was measured.
    pub target: Option<ColourView>,
    /// The colour reached; none where none was measured.
    pub result: Option<ColourView>,
    /// How far apart they are; may be empty.
    pub difference: String,
    /// What the figures hold for: without a grey card, that it was taken off again; may be empty.
    pub notes: Vec<String>,
    /// What was laid for the colour, in its order.
    pub steps: Vec<String>,
    /// What lies over it.
    pub over: Vec<String>,
    /// The piece.
    pub piece: PieceLink,
    /// The month of the last step; may be empty.
    pub month: String,
}

pub(super) fn recipes_page(across: &Across<'_>) -> Result<RecipesPage, ArchiveFault> {
    let answer = across.asking.colour(ColourQuestion::default())?;
    let measured = answer.measured.iter().map(|colour| measured(across, colour));
    let others = answer.unmeasured.iter().map(|(recipe, _)| unmeasured(across, recipe));
    let mut timbers: BTreeMap<String, Vec<RecipeCard>> = BTreeMap::new();
    for card in measured.chain(others) {
        timbers.entry(card.timber.clone()).or_default().push(card);
    }
    let cards = || timbers.values().flatten();
    let filters = [
        Filter::by(across.words, "timber", says!("column-timber"), cards().map(|card| card.timber.as_str())),
        Filter::by(across.words, "finish", says!("filter-finish"), cards().map(|card| card.finish.as_str())),
    ];
    let count = says!("recipes-count", recipes = cards().count(), measured = answer.measured.len());
    Ok(RecipesPage {
        count: across.say(count),
        filters: filters.into_iter().flatten().collect(),
        timbers: timbers
            .into_iter()
            .map(|(name, cards)| TimberRecipes { name: capital(&name), cards })
            .collect(),
    })
}

fn measured(across: &Across<'_>, colour: &MeasuredColour) -> RecipeCard {
    let mut card = card(across, &colour.recipe, &format!("swatch-{}", colour.no));
    card.result = Some(colour_of(across.words, Which::Result, colour.lab));
    if let Some((target, difference, doubt)) = colour.aimed {
        card.target = Some(colour_of(across.words, Which::Target, target));
        card.difference = difference_of(across.words, difference, doubt);
    }
    if !colour.grey_card {
        card.notes.push(across.say(says!("recipe-no-card")));
    }
    card.notes.extend(colour.note.iter().map(|note| sentence(&across.said(note))));
    card
}

fn unmeasured(across: &Across<'_>, recipe: &Recipe) -> RecipeCard {
    let mut card = card(across, recipe, "surfaces");
    card.notes.push(across.say(says!("recipe-not-measured")));
    if recipe.undone {
        card.notes.push(across.say(says!("recipe-undone")));
    }
    card
}

fn card(across: &Across<'_>, recipe: &Recipe, place: &str) -> RecipeCard {
    let steps = |steps: &[RecipeStep]| steps.iter().map(|step| step_words(across, step)).collect();
    let last = recipe.steps.iter().chain(&recipe.over).filter_map(|step| step.on).max();
    RecipeCard {
        surface: recipe.surface.clone(),
        timber: timbers(across, &recipe.timbers),
        finish: recipe.top.clone().unwrap_or_default(),
        target: None,
        result: None,
        difference: String::new(),
        notes: Vec::new(),
        steps: steps(&recipe.steps),
        over: steps(&recipe.over),
        piece: across.link(&recipe.piece, place),
        month: last.map_or(String::new(), |last| across.words.month(last)),
    }
}

/// A step: what was laid, of what it was mixed, how many coats, and by what means.
fn step_words(across: &Across<'_>, step: &RecipeStep) -> String {
    let name = capital(&step.name);
    let mixed = match step.mix.as_str() {
        "" => name,
        mix => across.say(says!("recipe-mixed", what = name, mix = mix)),
    };
    let coats =
        step.coats.filter(|coats| *coats > 1).map(|coats| across.say(says!("recipe-coats", count = coats)));
    let means = step.means.as_ref().map(|means| across.said(means));
    across.words.series(&std::iter::once(mixed).chain(coats).chain(means).collect::<Vec<_>>())
}

/// The timbers of a surface by their names in the table, and else as they were written.
fn timbers(across: &Across<'_>, said: &str) -> String {
    if said.is_empty() {
        return across.say(says!("recipe-timber-unknown"));
    }
    let trade = across.asking.trade;
    let name = |word: &str| match trade.timber(word) {
        Some(timber) if timber.id.0 == word => across.words.value(&Value::Name(timber.name.to_string())),
        _ => word.replace('-', " "),
    };
    let mut names: Vec<String> = said.split(", ").map(name).collect();
    names.dedup();
    across.words.list(&names)
}
