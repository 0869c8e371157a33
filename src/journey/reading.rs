//! Reading a workshop: what its folder says, what follows from it, and what its photographs tell.

use std::collections::BTreeMap;
use std::sync::Arc;

use chrono::NaiveDate;
use rayon::prelude::*;

use super::workroom::{Handling, Pictures, Workroom};
use super::{Progress, Survey};
use crate::derive::{self, Digests, Facts, Workpiece};
use crate::diag::{self, Diagnostic};
use crate::inspect;
use crate::record::{self, Folder, Piece, Record};
use crate::render::ThemeChoice;
use crate::source::Tree;
use crate::trade::Trade;
use crate::view::{self, HouseStyle, PieceContext};
use crate::words::Languages;
use crate::write::WriteError;

/// A workshop that has been read, before its photographs are looked at.
pub(super) struct ReadWorkshop {
    /// What its folder says.
    pub(super) folder: Folder,
    trade: Arc<Trade>,
    theme: ThemeChoice,
    languages: Languages,
    diagnostics: Vec<Diagnostic>,
}

/// A piece before its photographs are looked at.
pub(super) struct Draft {
    piece: Arc<Piece>,
    record: Arc<Record>,
    facts: Facts,
}

/// The pictures of each piece that has any, by the piece's folder.
pub(super) type PicturesOfAll = BTreeMap<String, Pictures>;

impl Draft {
    /// The piece that it is of.
    pub(super) fn piece(&self) -> &Piece {
        &self.piece
    }
}

impl ReadWorkshop {
    pub(super) fn of(tree: &Tree) -> ReadWorkshop {
        let (folder, mut diagnostics) = record::read(tree);
        let (languages, problems) = Languages::of(tree, &folder);
        diagnostics.extend(problems);
        let (trade, problems) = languages.workshop().trade(tree);
        diagnostics.extend(problems);
        let (theme, problems) = ThemeChoice::of(tree, folder.workshop.as_ref());
        diagnostics.extend(problems);
        ReadWorkshop { folder, trade: Arc::new(trade), theme, languages, diagnostics }
    }

    /// What follows from each record that could be read; `digests` gives those of a piece's public photographs.
    pub(super) fn drafts(&self, digests: impl Fn(&Piece) -> Digests + Sync) -> Vec<Draft> {
        let draft = |piece: &Arc<Piece>| {
            // What changed since a seal is told of photographs, too.
            let digests = (!piece.seals.is_empty()).then(|| digests(piece));
            self.draft(piece, digests.as_ref())
        };
        self.folder.pieces.par_iter().filter_map(draft).collect()
    }

    /// What follows from one record; `None` where it could not be read.
    pub(super) fn draft(&self, piece: &Arc<Piece>, digests: Option<&Digests>) -> Option<Draft> {
        let record = piece.record.clone()?;
        let facts = derive::facts(&self.folder, piece, &record, digests, &self.trade);
        Some(Draft { piece: piece.clone(), record, facts })
    }

    /// Handles the photographs of pieces, several at once, and inspects what was read.
    ///
    /// # Errors
    /// [`WriteError`] where pictures cannot be kept.
    pub(super) fn inspected(
        self,
        drafts: Vec<Draft>,
        room: &Workroom<'_>,
        handling: impl Fn(&Piece) -> Handling + Sync,
        today: NaiveDate,
        progress: &dyn Progress,
    ) -> Result<(Survey, PicturesOfAll), WriteError> {
        progress.begin(drafts.iter().map(|draft| draft.facts.photographs.all.len()).sum());
        let finish = |draft: Draft| {
            let Draft { piece, record, facts } = draft;
            let handling = handling(&piece);
            let (photographs, pictures) = room.photographs(&piece, &record, &facts, handling, progress)?;
            let folder = piece.folder.clone();
            let workpiece = Workpiece::of(&self.folder, piece, record, facts, photographs, &self.trade);
            Ok((workpiece, (folder, pictures)))
        };
        let finished = drafts.into_par_iter().map(finish).collect::<Result<Vec<_>, WriteError>>();
        progress.end();
        let (pieces, pictures): (Vec<Workpiece>, PicturesOfAll) = finished?.into_iter().unzip();
        let ReadWorkshop { folder, trade, theme, languages, mut diagnostics } = self;
        diagnostics.extend(inspect::inspect(&folder, &pieces, &trade, today));
        diagnostics.extend(summed_up(&folder, &pieces, &trade, &languages, today));
        record::settle(&folder, &mut diagnostics);
        diag::sort(&mut diagnostics);
        diag::bound(&mut diagnostics);
        Ok((Survey { folder, pieces, trade, theme, languages, diagnostics, today }, pictures))
    }
}

/// What the papers of one page have no room for.
fn summed_up(
    folder: &Folder,
    pieces: &[Workpiece],
    trade: &Trade,
    languages: &Languages,
    today: NaiveDate,
) -> Vec<Diagnostic> {
    let Some(workshop) = &folder.workshop else { return Vec::new() };
    let house = HouseStyle::of(workshop, languages.workshop(), today);
    let of = |workpiece: &Workpiece| {
        let context = PieceContext::of(folder, workpiece, trade, &house);
        let summed_up = view::summed_up(&context).into_iter();
        let told = summed_up.map(|of| inspect::paper_sums_up(workpiece, of.paper, &of.heading, of.count));
        told.collect::<Vec<_>>()
    };
    pieces.par_iter().flat_map_iter(of).collect()
}
