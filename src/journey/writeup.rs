//! From a survey to papers that stand in place, piece by piece.

use std::borrow::Cow;
use std::collections::BTreeMap;
use std::path::PathBuf;

use chrono::NaiveDate;
use rayon::prelude::*;
use serde::{Deserialize, Serialize};

use super::abroad::Abroad;
use super::cutting::cut;
use super::printing::{PaperPrinter, Sheet, receipts, sheets};
use super::reading::{PicturesOfAll, ReadWorkshop};
use super::receipt::{self, Ground, LeftPapers, PiecePapers};
use super::standing::{Standing, Stands, note};
use super::workroom::{self, Handling, Pictures, Workroom};
use super::{Error, Printing, Progress, Survey, archive, buyers_folder, settings};
use crate::archive::Asking;
use crate::derive::Workpiece;
use crate::diag::{self, Diagnostic};
use crate::inspect;
use crate::record::{self, Folder, Piece};
use crate::render::{
    self, ARCHIVE, BuyersFolder, PieceEntries, RenderError, SHOWROOM, Shown, Theme, TreeKind,
};
use crate::source::Tree;
use crate::view::buyer::Papers;
use crate::view::showroom::{self, Card, Order};
use crate::view::{self, HouseStyle, PieceContext, all_pictures, post_cuts, public_pictures, share_cut};
use crate::write::{Darkroom, KeptFile, Repeated, Secret, Stage, TreeSize, WriteError, fingerprint};

/// How many pieces are made at once before their papers are printed: few enough to hold, enough for every thread.
const AT_ONCE: usize = 16;

/// What a writing put in place.
#[derive(Debug)]
pub struct Written {
    /// Titles and numbers of the pieces that were written.
    pub pieces: Vec<String>,
    /// The pieces that were not written.
    pub left_out: Vec<LeftOut>,
    /// How many photographs were developed.
    pub developed: usize,
    /// How many photographs were taken from the darkroom as they had been developed before.
    pub taken: usize,
    /// How many papers wait to be printed, and stand as they were printed before; the archive's database counts as one.
    pub waiting: usize,
    /// The papers to print that were not printed.
    pub unprinted: Vec<Unprinted>,
    /// How many files the tree has.
    pub files: usize,
    /// Their bytes together.
    pub bytes: u64,
    /// The darkroom as this writing used it, which may now be cleared.
    pub darkroom: Darkroom,
    /// How many of the pieces were not made, since their papers stand from before with nothing changed.
    pub stood: usize,
    /// What the papers of one piece take from other pieces, as a fingerprint.
    pub(super) taken_from_others: String,
    /// Where the papers of each piece are, by its folder.
    pub(super) papers: BTreeMap<String, LeftPapers>,
}

/// A paper that was not printed, and is not as its record would have it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Unprinted {
    /// Title and number of its piece.
    pub piece: String,
    /// Its file, beside the buyer's pages.
    pub file: String,
    /// Whether one of before stands there.
    pub stands: bool,
}

/// A piece that was not written.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct LeftOut {
    /// Its folder below `pieces/`.
    pub folder: String,
    /// Why.
    pub why: Cow<'static, str>,
    /// Its papers of an earlier writing, where these stay.
    pub stands: Option<Stands>,
}

impl LeftOut {
    fn of(folder: &str, why: &'static str) -> LeftOut {
        LeftOut { folder: folder.to_owned(), why: why.into(), stands: None }
    }
}

/// What is wanted of one writing.
#[derive(Clone, Copy)]
pub struct Wanted<'a> {
    /// The day of the writing.
    pub today: NaiveDate,
    /// Makes the addresses of the buyers' papers unguessable.
    pub secret: &'a Secret,
    /// The folder of the one piece that is written, where it is not all: the papers of other pieces stay as they were
    /// written before, and pieces that were not are left out.
    pub only: Option<&'a str>,
    /// Which papers are printed.
    pub printing: Printing<'a>,
    /// By what papers are known that need not be made again.
    pub ground: Option<&'a Ground>,
}

impl<'a> Wanted<'a> {
    /// All papers of all pieces, whatever stands from before.
    pub fn everything(today: NaiveDate, secret: &'a Secret) -> Wanted<'a> {
        Wanted { today, secret, only: None, printing: Printing::All, ground: None }
    }
}

/// Papers that are made and not yet in place.
#[derive(Debug)]
pub struct Proof {
    stage: Stage,
    written: Written,
}

impl Proof {
    /// What is to be put in place; its files are not counted yet.
    pub fn written(&self) -> &Written {
        &self.written
    }

    /// Where the bytes lie of every file that does not stand yet, by its path in the tree.
    pub fn fresh(&self) -> BTreeMap<String, PathBuf> {
        self.stage.fresh()
    }

    /// Puts the papers in place, all in one step.
    ///
    /// # Errors
    /// [`WriteError`] where that cannot be done; what stood before then still stands.
    pub fn place(self) -> Result<Written, WriteError> {
        self.placed(Stage::commit)
    }

    /// Puts what changed of the papers in place, file by file, which is as quick as little changed.
    ///
    /// # Errors
    /// As [`Proof::place`], but where the system refuses halfway, the next writing does the rest.
    pub fn place_piecemeal(self) -> Result<Written, WriteError> {
        self.placed(Stage::commit_piecemeal)
    }

    fn placed(
        self,
        commit: impl FnOnce(Stage) -> Result<TreeSize, WriteError>,
    ) -> Result<Written, WriteError> {
        let Proof { stage, mut written } = self;
        let tree = commit(stage)?;
        written.darkroom.settle();
        (written.files, written.bytes) = (tree.files, tree.bytes);
        Ok(written)
    }
}

/// Reads, inspects and writes a workshop: showroom, buyers' papers and archive.
///
/// A piece whose papers cannot be made keeps those of an earlier writing, as far as there are any; so does a sealed piece
/// whose folder is gone. A single paper to print that cannot be made is left out, and the others are written.
///
/// # Errors
/// [`Error`] where nothing was written; what stood in the stage's target then still stands.
pub fn writeup(
    tree: &Tree,
    stage: Stage,
    wanted: Wanted<'_>,
    progress: &dyn Progress,
) -> Result<(Survey, Option<Written>), Error> {
    let (survey, proof) = proof(tree, stage, wanted, progress)?;
    Ok((survey, proof.map(Proof::place).transpose()?))
}

/// As [`writeup`], without putting anything in place.
///
/// # Errors
/// As [`writeup`].
pub fn proof(
    tree: &Tree,
    stage: Stage,
    wanted: Wanted<'_>,
    progress: &dyn Progress,
) -> Result<(Survey, Option<Proof>), Error> {
    let Wanted { today, secret, only, printing, ground } = wanted;
    let darkroom = Darkroom::open(tree.root(), &stage);
    let read = ReadWorkshop::of(tree);
    let drafts = read.drafts(|piece| workroom::digests(tree, &darkroom, piece));
    let room = Workroom::new(tree, &darkroom, settings(read.folder.workshop.as_ref()));
    let scope = Scope { only, stage: &stage };
    let (mut survey, pictures) =
        read.inspected(drafts, &room, |piece| scope.handling(piece), today, progress)?;
    let taken_from_others = receipt::taken_from_others(tree, &survey.folder);
    let made = {
        let Some(workshop) = survey.folder.workshop.as_ref() else { return Ok((survey, None)) };
        let house = HouseStyle::of(workshop, survey.languages.workshop(), today);
        let abroad = Abroad::of(tree, &survey, |workpiece| scope.writes(&workpiece.piece), today);
        let theme = Theme::load(tree, &survey.theme, &survey.languages)?;
        let printer = PaperPrinter::of(&theme, &darkroom)?;
        let (pieces, left_out) = scope.pieces(&survey, &house, &abroad, &pictures, secret);
        let assets = theme.all_assets().map(|(path, bytes)| (path, Repeated::of(bytes))).collect();
        let order = hung(&pieces, &house);
        let writing = Writing {
            scope: &scope,
            theme: &theme,
            house: &house,
            printer: &printer,
            darkroom: &darkroom,
            order: &order,
            assets,
            standing: ground
                .map(|ground| ground.standing(&taken_from_others, &survey.folder))
                .unwrap_or_default(),
        };
        let mut made = MadePieces { left_out, ..MadePieces::default() };
        writing.pieces(&pieces, printing, &mut made)?;
        writing.carry(&mut made, &survey.folder, today)?;
        let (cards, entries): (Vec<_>, BTreeMap<_, _>) = std::mem::take(&mut made.entries)
            .into_iter()
            .map(|(folder, told)| (told.card, (folder, told.entry)))
            .unzip();
        for file in render::showroom_pages(&theme, &house, cards.into_iter().flatten().collect())? {
            writing.put(file)?;
        }
        // What nobody has waited for before is made at once, so that no page leads nowhere.
        if !printing.is_awaited() || printing.goes_on() || !archive::stands(&stage) {
            let archive = archive::write(&stage, tree, &survey)?;
            let asking = Asking { archive: &archive, trade: &survey.trade, today };
            let pages = view::archive::pages(&entries, &asking, &house)?;
            for file in render::archive_pages(&theme, &house, &pages)? {
                writing.put(file)?;
            }
        } else {
            made.waiting += usize::from(!archive::keep(&stage, tree, &survey)?);
        }
        made
    };
    let MadePieces { titles, left_out, waiting, unprinted, faults, stood, mut papers, .. } = made;
    // What could not be made may be for another reason the next time.
    faults.iter().filter_map(|fault| fault.place.piece()).for_each(|folder| _ = papers.remove(folder));
    if only.is_some() {
        papers.clear();
    }
    survey.diagnostics.extend(faults);
    record::settle(&survey.folder, &mut survey.diagnostics);
    diag::sort(&mut survey.diagnostics);
    let (developed, taken) = room.counts();
    let written = Written {
        pieces: titles,
        left_out,
        developed,
        taken,
        waiting,
        unprinted,
        files: 0,
        bytes: 0,
        darkroom,
        stood,
        taken_from_others,
        papers,
    };
    Ok((survey, Some(Proof { stage, written })))
}

/// The pieces that the public may see, in the order of the showroom.
fn hung(pieces: &[ToWrite<'_>], house: &HouseStyle) -> Order {
    let published = pieces.par_iter().filter(|piece| piece.context.published());
    let cards: Vec<Card> = published.map(|piece| showroom::card(&piece.context)).collect();
    Order::of(cards, house)
}

/// Where a piece's own pages of the archive are.
fn archive_folder(context: &PieceContext<'_>) -> String {
    format!("{ARCHIVE}/pieces/{}", context.slug())
}

/// Which pieces one writing writes.
struct Scope<'a> {
    only: Option<&'a str>,
    stage: &'a Stage,
}

/// A piece that is written.
struct ToWrite<'a> {
    workpiece: &'a Workpiece,
    context: PieceContext<'a>,
    /// The same in the language of its buyer, where that is another one.
    abroad: Option<PieceContext<'a>>,
    buyers: BuyersFolder,
    pictures: &'a Pictures,
}

impl ToWrite<'_> {
    /// What a later writing needs to keep these papers.
    fn standing(&self, entries: PieceEntries) -> Standing {
        Standing {
            folder: self.context.folder().to_owned(),
            title: self.context.title(),
            slug: self.context.slug(),
            buyers: self.buyers.folder.clone(),
            sealed: !self.workpiece.piece.seals.is_empty(),
            since: None,
            entries,
        }
    }

    /// Something about this piece that could not be made.
    fn fault(&self, fault: &RenderError) -> Diagnostic {
        inspect::paper_not_made(self.workpiece, fault.to_string())
    }
}

impl Scope<'_> {
    /// Whether a piece's papers are written anew.
    fn wants(&self, folder: &str) -> bool {
        self.only.is_none_or(|only| folder == only)
    }

    /// Whether a piece that is not wanted was written before, so that its papers can stay.
    fn wrote_before(&self, piece: &Piece) -> bool {
        let slug = piece.record.as_ref().map(|record| view::slug(&record.number));
        slug.is_some_and(|slug| self.stage.had(&format!("{ARCHIVE}/pieces/{slug}/index.html")))
    }

    /// Whether the tree will have a piece's papers, anew or as they were.
    fn writes(&self, piece: &Piece) -> bool {
        self.wants(&piece.folder) || self.wrote_before(piece)
    }

    fn handling(&self, piece: &Piece) -> Handling {
        if self.writes(piece) { Handling::Develop } else { Handling::Look }
    }

    /// The pieces that are written, and those that are left out with the reason, each in the order of their folders.
    fn pieces<'s>(
        &self,
        survey: &'s Survey,
        house: &'s HouseStyle,
        abroad: &'s Abroad,
        pictures: &'s PicturesOfAll,
        secret: &Secret,
    ) -> (Vec<ToWrite<'s>>, Vec<LeftOut>) {
        let (mut pieces, mut left_out) = (Vec::new(), Vec::new());
        for piece in &survey.folder.pieces {
            let folder = piece.folder.as_str();
            let why = match (survey.piece(folder), pictures.get(folder)) {
                (Some(_), _) if survey.unsound(piece) => "its record has mistakes",
                (Some(_), _) if !self.writes(piece) => "not asked for, and not written before",
                (Some(workpiece), Some(pictures)) => {
                    let context = PieceContext::of(&survey.folder, workpiece, &survey.trade, house);
                    let buyers = buyers_folder(&context, secret);
                    let abroad = abroad.context(survey, folder);
                    pieces.push(ToWrite { workpiece, context, abroad, buyers, pictures });
                    continue;
                }
                _ => "its record could not be read",
            };
            left_out.push(LeftOut::of(folder, why));
        }
        (pieces, left_out)
    }
}

/// What all pieces of one writing are made with.
struct Writing<'a> {
    scope: &'a Scope<'a>,
    theme: &'a Theme,
    house: &'a HouseStyle,
    printer: &'a PaperPrinter<'a>,
    darkroom: &'a Darkroom,
    /// The pieces that the public may see, in the order of the showroom.
    order: &'a Order,
    /// The theme's assets, by their path in a tree.
    assets: BTreeMap<&'a str, Repeated<'a>>,
    /// Papers of an earlier writing that stay where their pieces have the neighbours that they had, by the piece's folder.
    standing: BTreeMap<&'a str, &'a LeftPapers>,
}

/// What has been made of the pieces so far.
#[derive(Default)]
struct MadePieces {
    /// Titles and numbers of those that were written.
    titles: Vec<String>,
    /// What the front pages tell of each, by its folder.
    entries: BTreeMap<String, PieceEntries>,
    left_out: Vec<LeftOut>,
    /// How many papers wait to be printed.
    waiting: usize,
    /// The same of each piece of which any do, by its folder.
    waiting_of: BTreeMap<String, usize>,
    unprinted: Vec<Unprinted>,
    /// What could not be made, and of which piece.
    faults: Vec<Diagnostic>,
    /// Where the papers of each piece are.
    papers: BTreeMap<String, LeftPapers>,
    /// How many pieces were left as they stood.
    stood: usize,
}

/// A piece whose papers are made, before its pages are.
struct Begun {
    papers: Papers,
    /// Those for the buyer, where they are in another language.
    abroad: Option<Papers>,
    /// Papers as they were printed before from the same record, each with the folder that it is for.
    printed: Vec<(String, KeptFile)>,
    /// Those that were not.
    unprinted: Vec<(String, Sheet)>,
}

impl Begun {
    /// Leads nowhere to a paper that is not there.
    fn forget(&mut self, file: &str, is_receipts: bool) {
        match is_receipts {
            true => self.papers.receipts_printed = false,
            false => self.abroad.as_mut().unwrap_or(&mut self.papers).forget_printed(file),
        }
    }
}

impl Writing<'_> {
    /// Makes all pieces, a few at once: first what their papers say, then the papers to print, and last the pages, which
    /// lead to those that could be printed.
    ///
    /// # Errors
    /// [`Error`] where files cannot be put in place, and where the theme fits no piece at all.
    fn pieces(
        &self,
        pieces: &[ToWrite<'_>],
        printing: Printing<'_>,
        made: &mut MadePieces,
    ) -> Result<(), Error> {
        self.put_assets(TreeKind::Showroom, SHOWROOM)?;
        self.put_assets(TreeKind::Archive, ARCHIVE)?;
        let mut unfit = None;
        let anew = self.left(pieces.iter().collect(), printing, made)?;
        for some in anew.chunks(AT_ONCE) {
            // Meanwhile somebody may have come to wait for pages, so that papers to print wait once more.
            let some = match printing.is_awaited() {
                true => self.left(some.to_vec(), printing, made)?,
                false => some.to_vec(),
            };
            let mut begun: Vec<Begun> = some.par_iter().map(|piece| self.begin(piece)).collect();
            for (piece, begun) in some.iter().zip(&mut begun) {
                self.print(piece, begun, printing, made)?;
            }
            let finish = |(piece, begun): (&&ToWrite<'_>, _)| self.finish(piece, begun);
            let finished = some.par_iter().zip(begun).map(finish).collect::<Result<Vec<_>, Error>>()?;
            for (piece, finished) in some.iter().zip(finished) {
                let folder = piece.context.folder();
                match finished {
                    Ok(entries) => _ = made.entries.insert(folder.to_owned(), entries),
                    Err(fault) => {
                        made.faults.push(piece.fault(&fault));
                        made.left_out.push(LeftOut::of(folder, "its pages cannot be made"));
                        unfit.get_or_insert(fault);
                    }
                }
            }
        }
        for piece in pieces.iter().filter(|piece| made.entries.contains_key(piece.context.folder())) {
            let folder = piece.context.folder();
            made.titles.push(piece.context.title());
            let waiting = made.waiting_of.get(folder).copied().unwrap_or_default();
            made.waiting += waiting;
            made.papers.insert(folder.to_owned(), LeftPapers { papers: self.papers(piece), waiting });
        }
        match unfit {
            Some(fault) if made.titles.is_empty() => Err(fault.into()),
            _ => Ok(()),
        }
    }

    /// Leaves the papers of pieces that may stay, and gives the pieces whose papers are made anew.
    fn left<'p>(
        &self,
        pieces: Vec<&'p ToWrite<'p>>,
        printing: Printing<'_>,
        made: &mut MadePieces,
    ) -> Result<Vec<&'p ToWrite<'p>>, Error> {
        let waits = printing.is_awaited() && !printing.goes_on();
        let leave = |piece: &&ToWrite<'_>| self.leave(piece, waits);
        let left = pieces.par_iter().map(leave).collect::<Result<Vec<_>, Error>>()?;
        let mut anew = Vec::new();
        for (piece, left) in pieces.into_iter().zip(left) {
            let Some((entries, waiting)) = left else {
                anew.push(piece);
                continue;
            };
            let folder = piece.context.folder();
            made.entries.insert(folder.to_owned(), entries);
            made.waiting_of.insert(folder.to_owned(), waiting);
            made.stood += 1;
        }
        Ok(anew)
    }

    /// Leaves a piece's papers as they stand, and gives what the front pages tell of it and how many of its papers wait to
    /// be printed; `None` where they are made anew. Some may wait only where `waits`.
    fn leave(&self, piece: &ToWrite<'_>, waits: bool) -> Result<Option<(PieceEntries, usize)>, Error> {
        let left = self.standing.get(piece.context.folder());
        let left = left.filter(|left| (waits || left.waiting == 0) && left.papers == self.papers(piece));
        let Some(LeftPapers { papers, waiting }) = left else { return Ok(None) };
        let Some(standing) = Standing::before(self.stage(), &piece.buyers.folder) else { return Ok(None) };
        for place in &papers.places {
            self.stage().carry(place)?;
            self.stage().keep(place);
        }
        Ok(Some((standing.entries, *waiting)))
    }

    /// Where a piece's papers are, and beside what.
    fn papers(&self, ToWrite { context, buyers, .. }: &ToWrite<'_>) -> PiecePapers {
        let slug = context.slug();
        let shown = self.shown(context);
        let cards =
            shown.as_ref().map(|shown| [Some(shown.card), shown.neighbours.before, shown.neighbours.after]);
        let cards = serde_json::to_vec(&cards).expect("text, numbers and dates are always JSON");
        let tree = |tree: &str| format!("{tree}/pieces/{slug}");
        let showroom = shown.map(|_| tree(SHOWROOM));
        let places = [tree(ARCHIVE), buyers.folder.clone(), note(&buyers.folder)].into_iter().chain(showroom);
        PiecePapers { neighbours: fingerprint(&cards), places: places.collect() }
    }

    /// Makes what a piece's papers say, and looks which of them were printed before from the same record.
    fn begin(&self, piece: &ToWrite<'_>) -> Begun {
        let ToWrite { context, abroad, buyers, pictures, .. } = piece;
        let made = |context| render::buyer_papers(context, buyers.address.as_deref());
        let mut papers = made(context);
        let abroad = abroad.as_ref().map(|context| (context.house(), made(context)));
        let (house, for_buyer) =
            abroad.as_ref().map_or((self.house, &papers), |(house, made)| (*house, made));
        let (mut printed, mut unprinted) = (Vec::new(), Vec::new());
        if self.scope.wants(context.folder()) {
            // Receipts are the workshop's own, and in its language.
            let receipts = receipts(context);
            let has_receipts = receipts.is_some();
            let sheets = sheets(house, for_buyer, context.last_day()).into_iter();
            let sheets = sheets.map(|sheet| (buyers.folder.clone(), sheet));
            let receipts = receipts.map(|sheet| (archive_folder(context), sheet));
            for (folder, sheet) in sheets.chain(receipts) {
                match self.printer.known(&sheet, pictures) {
                    Some(paper) => printed.push((format!("{folder}/{}", sheet.file), paper)),
                    None => unprinted.push((folder, sheet)),
                }
            }
            papers.receipts_printed = has_receipts;
        }
        Begun { abroad: abroad.map(|(_, papers)| papers), papers, printed, unprinted }
    }

    /// Prints a piece's papers, as far as `printing` says. One that cannot be printed is left out, and told.
    fn print(
        &self,
        piece: &ToWrite<'_>,
        begun: &mut Begun,
        printing: Printing<'_>,
        made: &mut MadePieces,
    ) -> Result<(), Error> {
        for (folder, sheet) in std::mem::take(&mut begun.unprinted) {
            let (place, is_receipts) = (format!("{folder}/{}", sheet.file), folder != piece.buyers.folder);
            if !printing.goes_on() {
                let stands = self.stage().had(&place);
                if !stands && !printing.is_awaited() {
                    begun.forget(&sheet.file, is_receipts);
                }
                let (title, file) = (piece.context.title(), sheet.file.clone());
                made.unprinted.push(Unprinted { piece: title, file, stands });
                *made.waiting_of.entry(piece.context.folder().to_owned()).or_default() += 1;
                begun.unprinted.push((folder, sheet));
                continue;
            }
            match self.printer.print(&sheet, piece.pictures) {
                Ok(paper) => begun.printed.push((place, paper)),
                Err(Error::Render(fault)) if fault.is_of_one_sheet() => {
                    begun.forget(&sheet.file, is_receipts);
                    made.faults.push(piece.fault(&fault));
                }
                Err(error) => return Err(error),
            }
        }
        Ok(())
    }

    /// Makes a piece's pages, and puts them in place with its pictures and papers; or says why there are no pages.
    fn finish(&self, piece: &ToWrite<'_>, begun: Begun) -> Result<Result<PieceEntries, RenderError>, Error> {
        let ToWrite { context, abroad, buyers, .. } = piece;
        let Begun { papers, abroad: papers_abroad, printed, unprinted } = begun;
        let wanted = self.scope.wants(context.folder());
        let shown = self.shown(context);
        let house = abroad.as_ref().map_or(self.house, |context| context.house());
        let pages = render::piece_pages(self.theme, context, &papers, buyers, shown, wanted).and_then(
            |(own, entries)| {
                let for_buyer = papers_abroad.as_ref().unwrap_or(&papers);
                let buyers_pages = match wanted {
                    true => render::buyer_pages(self.theme, house, for_buyer, &buyers.folder)?,
                    false => Vec::new(),
                };
                Ok((own.into_iter().chain(buyers_pages), entries))
            },
        );
        let (mut files, entries) = match pages {
            Ok(pages) => pages,
            Err(fault) => return Ok(Err(fault)),
        };
        self.hang_pictures(piece)?;
        // What was carried over stays.
        files.try_for_each(|file| self.put(file))?;
        let standing = piece.standing(entries.clone());
        if wanted {
            self.put_assets(TreeKind::Buyer, &buyers.folder)?;
            self.stage().put(&standing.path(), &standing.bytes())?;
        } else {
            self.stage().keep(&standing.path());
        }
        for (place, paper) in printed {
            self.stage().hang(&paper, &place)?;
        }
        unprinted.iter().for_each(|(folder, sheet)| self.stage().keep(&format!("{folder}/{}", sheet.file)));
        Ok(Ok(entries))
    }

    /// A piece's place in the showroom; `None` where the public does not see it.
    fn shown(&self, context: &PieceContext<'_>) -> Option<Shown<'_>> {
        let (card, neighbours) =
            self.order.piece(&showroom::address(context)).filter(|_| context.published())?;
        Some(Shown { card, neighbours })
    }

    /// Takes over the papers of an earlier writing: of pieces that were left out now, and of sealed ones that are gone.
    fn carry(&self, made: &mut MadePieces, folder: &Folder, today: NaiveDate) -> Result<(), Error> {
        for standing in Standing::of_old(self.stage()) {
            let piece = folder.pieces.iter().find(|piece| piece.folder == standing.folder);
            let left_out = made.left_out.iter_mut().find(|left_out| left_out.folder == standing.folder);
            if left_out.is_none() && !standing.sealed {
                continue;
            }
            let folder = standing.folder.clone();
            let (stands, entries) =
                standing.carry(self.stage(), piece.map(|piece| &**piece), self.house.words(), today)?;
            if let Some(entries) = entries {
                made.entries.insert(folder.clone(), entries);
            }
            match left_out {
                Some(left_out) => left_out.stands = Some(stands),
                None => made.left_out.push(LeftOut {
                    folder,
                    why: Cow::from(match piece {
                        Some(_) => {
                            "its papers have another address now, and those that were sealed keep theirs"
                        }
                        None => "its folder is gone, and it was sealed",
                    }),
                    stands: Some(stands),
                }),
            }
        }
        made.left_out.sort_by(|a, b| a.folder.cmp(&b.folder));
        Ok(())
    }

    /// Hangs a piece's pictures into its folders; of a piece that is not wanted, what was written before comes first.
    fn hang_pictures(
        &self,
        ToWrite { context, buyers, pictures, .. }: &ToWrite<'_>,
    ) -> Result<(), WriteError> {
        let (stage, slug) = (self.stage(), context.slug());
        let mut folders = vec![
            (format!("{ARCHIVE}/pieces/{slug}"), all_pictures(context)),
            (buyers.folder.clone(), public_pictures(context)),
        ];
        if context.published() {
            folders.push((format!("{SHOWROOM}/pieces/{slug}"), public_pictures(context)));
        }
        for (folder, names) in folders {
            if !self.scope.wants(context.folder()) {
                stage.carry(&folder)?;
            }
            for name in names {
                let path = format!("{folder}/pictures/{name}");
                if let Some(picture) = pictures.get(&name).filter(|_| !stage.has(&path)) {
                    stage.hang(picture, &path)?;
                }
            }
        }
        if !context.published() {
            return Ok(());
        }
        let share = share_cut(context).map(|cut| (format!("{SHOWROOM}/pieces/{slug}/pictures"), cut));
        let posts = post_cuts(context).into_iter().map(|cut| (format!("{ARCHIVE}/pieces/{slug}/post"), cut));
        for (folder, wanted) in share.into_iter().chain(posts) {
            let path = format!("{folder}/{}", wanted.name);
            if stage.has(&path) {
                continue;
            }
            if let Some(picture) = cut(self.darkroom, pictures, &wanted)? {
                stage.hang(&picture, &path)?;
            }
        }
        Ok(())
    }

    fn put_assets(&self, kind: TreeKind, folder: &str) -> Result<(), WriteError> {
        let put =
            |(path, _): (&str, _)| self.stage().put_again(&format!("{folder}/{path}"), &self.assets[path]);
        self.theme.assets(kind).try_for_each(put)
    }

    /// Puts a page into the tree, unless one was carried over.
    fn put(&self, file: render::File) -> Result<(), Error> {
        if self.stage().has(&file.path) {
            return Ok(());
        }
        Ok(self.stage().put(&file.path, &file.bytes)?)
    }

    fn stage(&self) -> &Stage {
        self.scope.stage
    }
}
