//! The undo sheet: for whoever restores the piece next.
//!
//! It gathers from the record how everything that was added comes off again, layer by layer and part by part,
//! what is gone for good, what can no longer be seen, and what to beware of while opening it up.

use serde::Serialize;

use crate::claim::{Value, says};
use crate::derive::{PatchFacts, standing_of_fixing, standing_of_patch};
use crate::fields::Row;
use crate::record::{Act, PhotoStage, Standing, Step, Surface, Undoable};
use crate::trade::{Layer, Sort};
use crate::view::context::PieceContext;
use crate::view::shared::hazards::{HazardSheet, for_restorer};
use crate::view::shared::identity::unknowns;
use crate::view::shared::photograph::{Gallery, PhotoView};
use crate::view::shared::row::Rows;
use crate::view::shared::surface::{LayerRow, SurfaceView, coat_words, coating_words, surface_name};
use crate::words::{Words, capital, sentence};

/// The undo sheet of one piece.
#[derive(Debug, Clone, Serialize)]
pub struct UndoSheet {
    /// The sheet in a sentence or two.
    pub verdict: String,
    /// What to beware of while opening the piece up.
    pub hazards: HazardSheet,
    /// Surfaces, and how each of their layers comes off.
    pub surfaces: Vec<UndoSurface>,
    /// Parts that were fitted or taken away, and after them patches.
    pub parts: Vec<UndoPart>,
    /// Fixings that are not original, or not known to be, glues left out.
    pub fixings: Vec<UndoFixing>,
    /// Glues, whatever their age.
    pub glues: Vec<UndoFixing>,
    /// Work that can be undone, in whole or in part, in the order it was done.
    pub can: Vec<UndoWork>,
    /// Work that cannot be undone.
    pub cannot: Vec<UndoWork>,
    /// Work of which nothing is said.
    pub not_said: Vec<UndoWork>,
    /// Recipes of colours, to match them again.
    pub recipes: Vec<Recipe>,
    /// What is gone for good, in sentences.
    pub gone: Vec<String>,
    /// Photographs of what can no longer be seen.
    pub hidden: Vec<PhotoView>,
    /// What is not known, in sentences.
    pub unknowns: Vec<String>,
    /// What was kept and goes with the piece.
    pub given: Vec<String>,
}

/// A surface and its layers, topmost first.
#[derive(Debug, Clone, Serialize)]
pub struct UndoSurface {
    /// The surface's name.
    pub name: String,
    /// Its parts; may be empty.
    pub parts: String,
    /// Its layers in the order in which they come off; empty where none is recorded.
    pub layers: Vec<UndoLayer>,
}

/// One layer, and how it comes off.
#[derive(Debug, Clone, Serialize)]
pub struct UndoLayer {
    /// What it is, with its coats.
    pub name: String,
    /// Its finish family in the words of the trade, where the name does not say it; may be empty.
    pub family: String,
    /// When it was laid, or that it was found.
    pub since: String,
    /// Where it is not whole; may be empty.
    pub exception: String,
    /// How it comes off; that it is not known, where it is not.
    pub undo: String,
    /// What the advice rests on; may be empty.
    pub source: String,
}

/// A part that is not original, and how it comes off again.
#[derive(Debug, Clone, Serialize)]
pub struct UndoPart {
    /// The part.
    pub name: String,
    /// Its standing, in words.
    pub standing: String,
    /// Its standing as the record writes it, for a theme's marks.
    pub standing_word: String,
    /// What stood there before; may be empty.
    pub instead_of: String,
    /// How it comes off; that the record does not say, where it does not.
    pub undo: String,
}

/// A fixing or glue, and how it comes out.
#[derive(Debug, Clone, Serialize)]
pub struct UndoFixing {
    /// Count and kind.
    pub name: String,
    /// The parts it holds; may be empty.
    pub parts: String,
    /// Its standing, in words.
    pub standing: String,
    /// Its standing as the record writes it.
    pub standing_word: String,
    /// How it comes out; that it is not known, where it is not.
    pub undo: String,
}

/// A piece of work, and how it is undone.
#[derive(Debug, Clone, Serialize)]
pub struct UndoWork {
    /// Its number in the build record.
    pub number: usize,
    /// Its id on the build record's page.
    pub anchor: String,
    /// The day; empty where not recorded.
    pub day: String,
    /// What was done.
    pub did: String,
    /// The parts worked on; may be empty.
    pub parts: String,
    /// By what means; may be empty.
    pub by: String,
    /// Whether and how it is undone; may be empty.
    pub undo: String,
}

/// What a colour was mixed from.
#[derive(Debug, Clone, Serialize)]
pub struct Recipe {
    /// The surface.
    pub surface: String,
    /// What was laid.
    pub what: String,
    /// The day; empty where not recorded.
    pub day: String,
    /// Its ingredients, in sentences.
    pub mix: String,
}

/// Builds the undo sheet from the record, and from the rows and photographs that the build record shows too.
pub(crate) fn undo(context: &PieceContext<'_>, rows: &Rows, gallery: &Gallery<'_>) -> UndoSheet {
    let (can, cannot, not_said) = works(rows);
    let surfaces: Vec<UndoSurface> = rows.surfaces.iter().map(|row| surface(context, row)).collect();
    let (glues, fixings) = fixings(context, rows);
    UndoSheet {
        verdict: verdict(context.house.words(), &can, &cannot, &not_said),
        hazards: for_restorer(context),
        surfaces,
        parts: parts(context.house.words(), rows).into_iter().chain(patches(context)).collect(),
        fixings,
        glues,
        can,
        cannot,
        not_said,
        recipes: recipes(context),
        gone: gone(context),
        hidden: gallery.at(PhotoStage::Hidden),
        unknowns: unknowns(context),
        given: context.record.handover.as_ref().map_or(Vec::new(), |handover| {
            handover.given.iter().map(|given| sentence(&context.house.words().said(given))).collect()
        }),
    }
}

fn surface(context: &PieceContext<'_>, shown: &SurfaceView) -> UndoSurface {
    let layer = |row: &LayerRow| {
        let finish = row.coat.finish.as_deref().and_then(|id| context.trade.finish(id));
        // A material that is its own surface is what the others come off from.
        let own = row.coat.layer == Some(Layer::Surface);
        (!own).then(|| UndoLayer {
            name: row.name.clone(),
            family: finish
                .map(|finish| finish.name.to_string())
                .filter(|family| !row.name.to_lowercase().starts_with(&family.to_lowercase()))
                .unwrap_or_default(),
            since: row.since.clone(),
            exception: row.exception.clone(),
            undo: finish.map_or_else(
                || "How it comes off is not known: try in a hidden place first.".to_owned(),
                |finish| context.house.words().said_or_nothing(Some(&finish.undo)),
            ),
            source: finish.map_or_else(String::new, |finish| finish.source.to_string()),
        })
    };
    UndoSurface {
        name: shown.name.clone(),
        parts: shown.parts.clone(),
        layers: shown.layers.iter().filter_map(layer).collect(),
    }
}

fn parts(words: &Words, rows: &Rows) -> Vec<UndoPart> {
    let fitted = [Standing::Later, Standing::Salvaged, Standing::New, Standing::OldRepair, Standing::Removed];
    let parts = rows.parts.iter().map(|row| (&row.row, row));
    parts
        .filter(|(part, _)| fitted.contains(&part.standing.value))
        .map(|(part, row)| UndoPart {
            name: row.name.clone(),
            standing: row.standing.clone(),
            standing_word: row.standing_word.clone(),
            instead_of: part.instead_of.as_ref().map_or(String::new(), |old| sentence(&words.said(old))),
            undo: match (&part.undo, part.standing.value) {
                (Some(undo), _) => sentence(&words.said(undo)),
                (None, Standing::Removed) => "It was taken away.".to_owned(),
                (None, _) => "The record does not say how it comes off.".to_owned(),
            },
        })
        .collect()
}

/// Patches that are not as first made, on parts that are there today.
fn patches(context: &PieceContext<'_>) -> Vec<UndoPart> {
    let words = context.house.words();
    let patches = context.photographs.patches.iter();
    let others = patches.filter(|facts| standing_of_patch(&facts.patch) != Standing::Original);
    others
        .map(|PatchFacts { patch, part, .. }| UndoPart {
            name: format!("{}, {}", capital(&words.said(&patch.what)), part.name.value),
            standing: words.word("standing", standing_of_patch(patch).word()),
            standing_word: standing_of_patch(patch).word().to_owned(),
            instead_of: patch.instead_of.as_ref().map_or(String::new(), |old| sentence(&words.said(old))),
            undo: match (&patch.undo, patch.standing.value) {
                (Some(undo), _) => sentence(&words.said(undo)),
                (None, Standing::Removed) => "It was taken away.".to_owned(),
                (None, Standing::Missing) => "It was gone already.".to_owned(),
                (None, _) => "The record does not say how it comes out.".to_owned(),
            },
        })
        .collect()
}

/// Glues, and the other fixings that are not original.
fn fixings(context: &PieceContext<'_>, rows: &Rows) -> (Vec<UndoFixing>, Vec<UndoFixing>) {
    let (mut glues, mut others) = (Vec::new(), Vec::new());
    for row in &rows.fixings {
        let fixing = &row.row;
        let glue = context.trade.fixing(&fixing.kind).is_some_and(|kind| kind.sort.value == Sort::Glue);
        let undo = UndoFixing {
            name: row.name.clone(),
            parts: row.parts.clone(),
            standing: row.standing.clone(),
            standing_word: row.standing_word.clone(),
            undo: match row.undo.as_str() {
                "" => "How it comes out is not known.".to_owned(),
                undo => undo.to_owned(),
            },
        };
        if glue {
            glues.push(undo);
        } else if standing_of_fixing(fixing) != Standing::Original {
            others.push(undo);
        }
    }
    (glues, others)
}

/// Work by whether it can be undone: can, cannot, and not said.
fn works(rows: &Rows) -> (Vec<UndoWork>, Vec<UndoWork>, Vec<UndoWork>) {
    let (mut can, mut cannot, mut not_said) = (Vec::new(), Vec::new(), Vec::new());
    for row in &rows.works {
        let work = &row.row;
        let undo = UndoWork {
            number: row.number,
            anchor: row.anchor.clone(),
            day: row.day.clone(),
            did: row.did.clone(),
            parts: row.parts.clone(),
            by: row.by.clone(),
            undo: row.undo.clone(),
        };
        match work.undoable.as_ref().map(|undoable| undoable.value) {
            Some(Undoable::Yes | Undoable::Partly) => can.push(undo),
            Some(Undoable::No) => cannot.push(undo),
            None if work.undo.is_some() => can.push(undo),
            Some(Undoable::Unknown) | None => not_said.push(undo),
        }
    }
    (can, cannot, not_said)
}

/// Mixtures that were laid, surface by surface.
fn recipes(context: &PieceContext<'_>) -> Vec<Recipe> {
    let words = context.house.words();
    let of_surface = |surface: &Row<Surface>| {
        let steps = surface.steps.iter().filter(|step| !step.mix.is_empty());
        let recipe = |step: &Row<Step>| {
            let Some(Act::Apply(what)) = step.act() else { return None };
            let mix: Vec<String> = step
                .mix
                .iter()
                .map(|one| {
                    let (figure, count) = (words.span(&one.parts, 2), Value::Number(one.parts.high, 2));
                    words.say(&says!("mix-parts", figure = figure, count = count, of = words.said(&one.of)))
                })
                .collect();
            Some(Recipe {
                surface: surface_name(context, surface),
                what: capital(&coating_words(context, what)),
                day: step.on.as_ref().map_or(String::new(), |on| words.day(on.value)),
                mix: sentence(&words.list(&mix)),
            })
        };
        steps.filter_map(recipe).collect::<Vec<_>>()
    };
    context.record.surfaces.iter().flat_map(of_surface).collect()
}

/// What no later hand brings back: finishes and parts that were taken away.
fn gone(context: &PieceContext<'_>) -> Vec<String> {
    let words = context.house.words();
    let finishes = context.facts.surfaces.iter().filter(|facts| !facts.today.removed.is_empty());
    let finishes = finishes.map(|facts| {
        let coats: Vec<String> = facts.today.removed.iter().map(|coat| coat_words(context, coat)).collect();
        let surface = surface_name(context, &facts.surface);
        sentence(&format!("taken off {surface}: {}", words.list(&coats)))
    });
    let removed = context.record.parts.iter().filter(|part| part.standing.value == Standing::Removed);
    let parts = removed.map(|part| sentence(&format!("taken away: {}", part.name.value)));
    let untested = context.record.tests.iter().filter(|test| !test.result.made());
    let untested =
        untested.map(|test| sentence(&format!("not tested before work began: {}", words.said(&test.of))));
    finishes.chain(parts).chain(untested).collect()
}

/// The sheet in a sentence or two, from its counts.
fn verdict(words: &Words, can: &[UndoWork], cannot: &[UndoWork], not_said: &[UndoWork]) -> String {
    let all = can.len() + cannot.len() + not_said.len();
    if all == 0 {
        return "No work is recorded, so nothing is said of how it is undone.".to_owned();
    }
    let number = |of: &[UndoWork]| u32::try_from(of.len()).unwrap_or(u32::MAX);
    let mut said = vec![format!(
        "Of {}, {} can be undone, in whole or in part.",
        words.say(&says!("undo-works", count = all)),
        number(can)
    )];
    if !cannot.is_empty() {
        said.push(format!("{} cannot.", number(cannot)));
    }
    if !not_said.is_empty() {
        said.push(format!("Of {} the record does not say.", number(not_said)));
    }
    said.join(" ")
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::view::shared::photograph::Sees;
    use crate::view::testing::shown;

    const PARTS: &str = "part = [{ id = \"top\", name = \"Top\", standing = \"original\" }, { id = \"stop\", name = \"Stop\", standing = \"new\", \
         instead-of = \"a lost stop\", undo = \"two screws from below\" }]\n";

    fn sheet(record: &str) -> UndoSheet {
        shown(&format!("{PARTS}{record}"), "", |context| {
            let (rows, gallery) = (Rows::of(context, Sees::Public), Gallery::of(context, Sees::Public));
            undo(context, &rows, &gallery)
        })
    }

    #[test]
    fn layers_come_off_from_the_top_and_found_ones_last() {
        let sheet = sheet(
            "surface = [{ parts = [\"top\"], found = \"shellac\", steps = [{ on = 2026-03-02, apply = \"paste-wax\", \
             coats = 2 }] }]",
        );
        let names: Vec<&str> = sheet.surfaces[0].layers.iter().map(|layer| layer.name.as_str()).collect();
        assert_eq!(names, ["Paste wax, 2 coats", "Shellac"]);
        assert!(sheet.surfaces[0].layers.iter().all(|layer| !layer.undo.is_empty()));
    }

    #[test]
    fn a_layer_outside_the_tables_is_said_to_be_unknown() {
        let sheet = sheet("surface = [{ parts = [\"top\"], found = \"unknown\", steps = [] }]");
        let layer = &sheet.surfaces[0].layers[0];
        assert_eq!(layer.undo, "How it comes off is not known: try in a hidden place first.");
    }

    #[test]
    fn work_is_sorted_by_whether_it_can_be_undone_and_silence_is_said() {
        let sheet = sheet(
            "work = [{ did = \"a\", part = \"top\", undoable = \"yes\" }, { did = \"b\", part = \"top\", undoable = \"no\" }, \
             { did = \"c\", part = \"top\" }, { did = \"d\", part = \"top\", undo = \"warm it\" }]",
        );
        let did = |rows: &[UndoWork]| rows.iter().map(|row| row.did.clone()).collect::<Vec<_>>();
        assert_eq!(did(&sheet.can), ["A.", "D."]);
        assert_eq!(did(&sheet.cannot), ["B."]);
        assert_eq!(did(&sheet.not_said), ["C."]);
        assert_eq!(
            sheet.verdict,
            "Of 4 recorded pieces of work, 2 can be undone, in whole or in part. 1 cannot. Of 1 the record does not say."
        );
    }

    #[test]
    fn glues_stand_apart_from_fixings_and_original_screws_are_left_alone() {
        let sheet = sheet(
            "fixing = [{ kind = \"hide-glue\", part = \"top\", standing = \"original\" }, \
             { kind = \"screw-crosshead\", count = 2, part = \"top\", standing = \"new\" }, \
             { kind = \"screw-slotted\", part = \"top\", standing = \"original\" }]",
        );
        assert_eq!((sheet.glues.len(), sheet.fixings.len()), (1, 1));
    }

    #[test]
    fn a_fitted_part_says_how_it_comes_off() {
        let parts = sheet("").parts;
        assert_eq!(parts.len(), 1);
        assert_eq!(
            (parts[0].instead_of.as_str(), parts[0].undo.as_str()),
            ("A lost stop.", "Two screws from below.")
        );
    }
}
