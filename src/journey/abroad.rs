//! Pieces whose buyer reads another language than the workshop's.

use std::collections::BTreeMap;
use std::sync::Arc;

use chrono::NaiveDate;

use super::Survey;
use crate::derive::Workpiece;
use crate::source::Tree;
use crate::trade::Trade;
use crate::view::{HouseStyle, PieceContext};
use crate::words::Language;

/// The pieces of a survey whose papers are in another language, and what they are written by.
#[derive(Default)]
pub(super) struct Abroad {
    /// By the tag of a language.
    languages: BTreeMap<String, (HouseStyle, Trade)>,
    /// By the piece's folder: its language's tag, and the piece by that language's tables.
    pieces: BTreeMap<String, (String, Workpiece)>,
}

impl Abroad {
    /// Those that are wanted.
    pub(super) fn of(
        tree: &Tree,
        survey: &Survey,
        wanted: impl Fn(&Workpiece) -> bool,
        today: NaiveDate,
    ) -> Abroad {
        let mut abroad = Abroad::default();
        let Some(workshop) = survey.folder.workshop.as_ref() else { return abroad };
        for workpiece in survey.pieces.iter().filter(|workpiece| wanted(workpiece)) {
            let language: &Arc<Language> = survey.languages.buyers(&workpiece.record);
            if language.tag() == survey.languages.workshop().tag() {
                continue;
            }
            let (_, trade) = abroad.languages.entry(language.tag().to_owned()).or_insert_with(|| {
                // What is wrong with the workshop's own rows was told with its own language.
                (HouseStyle::of(workshop, language, today), language.trade(tree).0)
            });
            let piece = workpiece.by(&survey.folder, trade);
            abroad.pieces.insert(piece.piece.folder.clone(), (language.tag().to_owned(), piece));
        }
        abroad
    }

    /// What a piece's papers for its buyer are made from; `None` where they are in the workshop's own language.
    pub(super) fn context<'a>(&'a self, survey: &'a Survey, folder: &str) -> Option<PieceContext<'a>> {
        let (tag, workpiece) = self.pieces.get(folder)?;
        let (house, trade) = self.languages.get(tag)?;
        Some(PieceContext::of(&survey.folder, workpiece, trade, house))
    }
}
