//! Colours: those that were measured and come nearest, and mixes that nobody measured.

use std::collections::{BTreeMap, BTreeSet};

use chrono::NaiveDate;

use super::{Asking, PieceName, Searched, day};
use crate::archive::database::ArchiveFault;
use crate::derive::colour::{Lab, difference};
use crate::trade::Trade;
use crate::unit::fold::folded;

/// What is asked about colours.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct ColourQuestion {
    /// The colour wanted, and how far it may be off.
    pub wanted: Option<(Lab, f64)>,
    /// The measured colour that it is, so that it is not found as its own nearest: folder and number.
    pub itself: Option<(String, usize)>,
    /// The timber that it is wanted on: colours measured there come first.
    pub on: Option<String>,
    /// The timber of which alone colours are told.
    pub from: Option<String>,
}

/// A step of a recipe.
#[derive(Debug, Clone, PartialEq)]
pub struct RecipeStep {
    /// The day.
    pub on: Option<NaiveDate>,
    /// What was applied, by the name of the tin or of the finish.
    pub name: String,
    /// How many coats.
    pub coats: Option<u32>,
    /// What was mixed, as `3 garnet : 1 pale`; empty where nothing was.
    pub mix: String,
    /// By what means.
    pub means: Option<String>,
    /// Anything else.
    pub note: Option<String>,
}

/// What coloured a surface.
#[derive(Debug, Clone, PartialEq)]
pub struct Recipe {
    /// Its piece.
    pub piece: PieceName,
    /// What the surface is called; empty where it is not known.
    pub surface: String,
    /// The timbers below.
    pub timbers: String,
    /// The finish that lies uppermost today.
    pub top: Option<String>,
    /// The steps that colour it.
    pub steps: Vec<RecipeStep>,
    /// The steps that lie over those.
    pub over: Vec<RecipeStep>,
    /// Whether its layers were taken off again.
    pub undone: bool,
}

/// A colour that was measured.
#[derive(Debug, Clone, PartialEq)]
pub struct MeasuredColour {
    /// The number of the swatch within the piece, counted from 1.
    pub no: usize,
    /// The photograph.
    pub photograph: String,
    /// The colour reached.
    pub lab: Lab,
    /// The colour that it was to meet, CIEDE2000 between the two, and how far that may be off.
    pub aimed: Option<(Lab, f64, f64)>,
    /// CIEDE2000 to the colour wanted; `None` where none is.
    pub difference: Option<f64>,
    /// How far that may be off.
    pub uncertainty: Option<f64>,
    /// Whether a grey card was on the photograph.
    pub grey_card: bool,
    /// Whether it lies on the timber that is asked for; true where none is.
    pub on_timber: bool,
    /// What made it.
    pub recipe: Recipe,
    /// Anything else.
    pub note: Option<String>,
}

/// What the archive has on colours.
#[derive(Debug, Clone, PartialEq)]
pub struct ColourAnswer {
    /// What was asked.
    pub question: ColourQuestion,
    /// The measured colours: those on the timber first, and of them the nearest.
    pub measured: Vec<MeasuredColour>,
    /// Mixes that nobody measured, those on the timber first.
    pub unmeasured: Vec<(Recipe, bool)>,
    /// How much was looked through.
    pub searched: Searched,
}

/// A timber that is asked for: the ids that it may be, and its word.
struct Asked {
    ids: BTreeSet<String>,
    word: String,
}

impl Asked {
    fn of(typed: &str, trade: &Trade) -> Asked {
        let ids = trade.timber(typed).map(|timber| {
            let may_be = trade.timbers_of(timber).into_iter().map(|timber| timber.id.0.clone());
            may_be.chain([timber.id.0.clone()]).collect()
        });
        Asked { ids: ids.unwrap_or_default(), word: folded(typed) }
    }

    /// Whether one of these timbers may be it.
    fn is_among(&self, timbers: &str, trade: &Trade) -> bool {
        timbers.split(", ").any(|timber| {
            let other = Asked::of(timber, trade);
            folded(timber) == self.word || other.ids.iter().any(|id| self.ids.contains(id))
        })
    }
}

impl Asking<'_> {
    /// The colours that were measured, the nearest first, and the mixes that were not.
    ///
    /// # Errors
    /// [`ArchiveFault`] where the archive cannot be read.
    pub fn colour(&self, question: ColourQuestion) -> Result<ColourAnswer, ArchiveFault> {
        let on = question.on.as_deref().map(|typed| Asked::of(typed, self.trade));
        let from = question.from.as_deref().map(|typed| Asked::of(typed, self.trade));
        let mut known: BTreeMap<String, (bool, bool)> = BTreeMap::new();
        let mut fits = |timbers: &str| {
            *known.entry(timbers.to_owned()).or_insert_with(|| {
                let among = |asked: &Option<Asked>| {
                    asked.as_ref().is_none_or(|asked| asked.is_among(timbers, self.trade))
                };
                (among(&on), among(&from))
            })
        };
        let names = self.pieces()?;
        let rows = self.rows(
            "SELECT colour.*, surface.name AS surface_name, surface.top FROM colour
             LEFT JOIN surface ON surface.piece = colour.piece AND surface.no = colour.surface
             ORDER BY colour.piece, colour.no",
            [],
            |row| {
                let lab = |l: &str, a: &str, b: &str| -> rusqlite::Result<Option<Lab>> {
                    let (l, a, b): (Option<f64>, Option<f64>, Option<f64>) =
                        (row.get(l)?, row.get(a)?, row.get(b)?);
                    Ok(l.zip(a).zip(b).map(|((l, a), b)| Lab { l, a, b }))
                };
                Ok((
                    (row.get::<_, i64>("piece")?, row.get::<_, i64>("no")?),
                    (lab("result_l", "result_a", "result_b")?, lab("target_l", "target_a", "target_b")?),
                    row.get::<_, Option<f64>>("difference")?,
                    row.get::<_, Option<f64>>("uncertainty")?,
                    row.get::<_, bool>("grey_card")?,
                    (row.get::<_, String>("recipe")?, row.get::<_, String>("over")?),
                    (row.get::<_, Option<String>>("surface_name")?, row.get::<_, Option<String>>("top")?),
                    (row.get::<_, String>("timbers")?, row.get::<_, String>("photograph")?),
                    (row.get::<_, Option<i64>>("surface")?, row.get::<_, Option<String>>("note")?),
                ))
            },
        )?;
        let looked_at = rows.len();
        let mut measured_surfaces: BTreeSet<(i64, i64)> = BTreeSet::new();
        let mut measured = Vec::new();
        for (
            (piece, no),
            (lab, target),
            off,
            doubt,
            grey_card,
            (recipe, over),
            (surface, top),
            (timbers, photograph),
            (at, note),
        ) in rows
        {
            let (Some(name), Some(lab)) = (names.get(&piece), lab) else { continue };
            measured_surfaces.extend(at.map(|at| (piece, at)));
            let itself = question
                .itself
                .as_ref()
                .is_some_and(|(folder, own)| *folder == name.folder && *own == no as usize);
            let (on_timber, wanted_from) = fits(&timbers);
            if itself || !wanted_from {
                continue;
            }
            measured.push(MeasuredColour {
                no: usize::try_from(no).unwrap_or(0),
                photograph,
                lab,
                aimed: target.zip(off).map(|(target, off)| (target, off, doubt.unwrap_or_default())),
                difference: question.wanted.map(|(wanted, _)| difference(wanted, lab)),
                uncertainty: question.wanted.and_then(|(_, own)| Some(libm::hypot(own, doubt?))),
                grey_card,
                on_timber,
                recipe: Recipe {
                    piece: name.clone(),
                    surface: surface.unwrap_or_default(),
                    timbers,
                    top,
                    steps: self.recipe_steps(piece, &recipe)?,
                    over: self.recipe_steps(piece, &over)?,
                    undone: false,
                },
                note,
            });
        }
        measured.sort_by(|one, other| {
            let far = |colour: &MeasuredColour| colour.difference.unwrap_or(0.0);
            let by_colour = (!one.on_timber).cmp(&!other.on_timber).then(far(one).total_cmp(&far(other)));
            by_colour.then_with(|| (&one.recipe.piece, one.no).cmp(&(&other.recipe.piece, other.no)))
        });
        let unmeasured = self.unmeasured(&names, &measured_surfaces, &mut fits)?;
        let pieces = self.count("SELECT count(*) FROM piece", [])?;
        Ok(ColourAnswer { question, measured, unmeasured, searched: Searched { pieces, rows: looked_at } })
    }

    /// Mixes on surfaces of which no colour was measured.
    fn unmeasured(
        &self,
        names: &BTreeMap<i64, PieceName>,
        measured: &BTreeSet<(i64, i64)>,
        fits: &mut impl FnMut(&str) -> (bool, bool),
    ) -> Result<Vec<(Recipe, bool)>, ArchiveFault> {
        let rows = self.rows(
            "SELECT step.piece, step.surface, group_concat(step.no, ', '), max(step.undone), surface.name, surface.timbers,
               surface.top
             FROM step JOIN surface ON surface.piece = step.piece AND surface.no = step.surface
             WHERE EXISTS (SELECT 1 FROM mix WHERE mix.piece = step.piece AND mix.step = step.no)
             GROUP BY step.piece, step.surface ORDER BY step.piece, step.surface",
            [],
            |row| {
                Ok((
                    (row.get::<_, i64>(0)?, row.get::<_, i64>(1)?),
                    row.get::<_, String>(2)?,
                    row.get::<_, bool>(3)?,
                    (row.get::<_, String>(4)?, row.get::<_, String>(5)?, row.get::<_, Option<String>>(6)?),
                ))
            },
        )?;
        let mut recipes = Vec::new();
        for (at, steps, undone, (surface, timbers, top)) in rows {
            let (on_timber, wanted_from) = fits(&timbers);
            let Some(name) = names.get(&at.0).filter(|_| wanted_from && !measured.contains(&at)) else {
                continue;
            };
            let steps = self.recipe_steps(at.0, &steps)?;
            let recipe =
                Recipe { piece: name.clone(), surface, timbers, top, steps, over: Vec::new(), undone };
            recipes.push((recipe, on_timber));
        }
        recipes.sort_by(|(one, a), (other, b)| {
            (!a, &one.timbers, &one.top, &one.piece).cmp(&(!b, &other.timbers, &other.top, &other.piece))
        });
        Ok(recipes)
    }

    /// Steps of a piece by their numbers, which commas join.
    fn recipe_steps(&self, piece: i64, numbers: &str) -> Result<Vec<RecipeStep>, ArchiveFault> {
        let mut steps = Vec::new();
        for no in numbers.split(", ").filter_map(|no| no.parse::<i64>().ok()) {
            let mixed = self.rows(
                "SELECT ingredient, parts_least, parts_most FROM mix WHERE piece = ?1 AND step = ?2 ORDER BY no",
                [piece, no],
                |row| {
                    let parts = crate::fields::Range { low: row.get(1)?, high: row.get(2)? };
                    Ok(format!("{} {}", crate::archive::entries::parts_words(parts), row.get::<_, String>(0)?))
                },
            )?;
            steps.extend(self.rows(
                "SELECT step.*, tin.name AS tin_name FROM step LEFT JOIN tin ON tin.id = step.tin
                 WHERE step.piece = ?1 AND step.no = ?2",
                [piece, no],
                |row| {
                    let (tin, finish): (Option<String>, Option<String>) =
                        (row.get("tin_name")?, row.get("finish")?);
                    let named = finish.map(|finish| {
                        self.trade.finish_name(&crate::record::FinishName::from(crate::fields::Text(finish)))
                    });
                    let what: String = row.get("what")?;
                    Ok(RecipeStep {
                        on: day(row, "on_day")?,
                        name: tin.or(named).unwrap_or(what),
                        coats: row.get("coats")?,
                        mix: mixed.join(" : "),
                        means: row.get("means")?,
                        note: row.get("note")?,
                    })
                },
            )?);
        }
        Ok(steps)
    }

    /// The first timber below a surface of a piece, counted from 1.
    ///
    /// # Errors
    /// [`ArchiveFault`] where the archive cannot be read.
    pub fn timber_below(&self, piece: i64, surface: i64) -> Result<Option<String>, ArchiveFault> {
        let query = "SELECT timbers FROM surface WHERE piece = ?1 AND no = ?2";
        let timbers = self.rows(query, [piece, surface], |row| row.get::<_, String>(0))?;
        let first = timbers.first().and_then(|timbers| timbers.split(", ").next());
        Ok(first.filter(|timber| !timber.is_empty()).map(str::to_owned))
    }

    /// The colour of a swatch of a piece, counted from 1, with how far it may be off.
    ///
    /// # Errors
    /// [`ArchiveFault`] where the archive cannot be read.
    pub fn swatch(&self, piece: i64, no: usize) -> Result<Option<(Lab, f64)>, ArchiveFault> {
        let found = self.rows(
            "SELECT result_l, result_a, result_b, uncertainty FROM colour
             WHERE piece = ?1 AND no = ?2 AND result_l IS NOT NULL",
            rusqlite::params![piece, no as i64],
            |row| Ok((Lab { l: row.get(0)?, a: row.get(1)?, b: row.get(2)? }, row.get(3)?)),
        )?;
        Ok(found.into_iter().next())
    }
}
