//! From a piece that is finished to its seal and its pack, or to the reasons why not.

use std::sync::Arc;

use chrono::NaiveDate;

use super::abroad::Abroad;
use super::printing::{PaperPrinter, sheets};
use super::reading::{Draft, ReadWorkshop};
use super::workroom::{self, Handling, Pictures, Workroom};
use super::{Error, Progress, Survey, buyers_folder, settings};
use crate::claim::says;
use crate::derive::{self, Digests};
use crate::diag::Diagnostic;
use crate::inspect;
use crate::pack::{self, BagInfo, File, Signer};
use crate::record::{self, Piece, Seal};
use crate::render::{self, Theme};
use crate::source::Tree;
use crate::view::buyer::Papers;
use crate::view::{HouseStyle, PieceContext, public_pictures};
use crate::words::{Words, capital};
use crate::write::{Darkroom, Sealing, Secret};

/// What is to be handed over, and how.
pub struct Order<'a> {
    /// The piece's folder in `pieces/`.
    pub piece: &'a str,
    /// The day it leaves; the record's own where this says nothing, and today where neither does.
    pub on: Option<NaiveDate>,
    /// Whether questions may stand open, which the papers then print.
    pub with_open_questions: bool,
    /// Who signs the pack.
    pub signer: Option<&'a Signer>,
}

/// Why a piece was not handed over; nothing was written.
#[derive(Debug)]
pub enum Refusal {
    /// Mistakes stand, which the survey tells.
    Mistakes,
    /// Questions stand open.
    Open(Vec<Diagnostic>),
    /// The record names another day than was asked for.
    OtherDay {
        /// The record's day.
        said: NaiveDate,
        /// The day asked for.
        asked: NaiveDate,
    },
    /// It came back on this day, and the record still has the handover of before.
    CameBack(NaiveDate),
}

/// A piece that was handed over.
#[derive(Debug)]
pub struct Handed {
    /// Its title and number.
    pub title: String,
    /// Its seal.
    pub seal: Seal,
    /// What changed since the seal before, in words; `None` for a first seal.
    pub since: Option<Vec<String>>,
    /// The pack's name: that of its folder, and before `.zip` of its one file.
    pub pack: String,
    /// How many files the pack has.
    pub files: usize,
    /// Their bytes together.
    pub bytes: u64,
    /// The signing key's identity, where it was signed.
    pub signed: Option<String>,
}

/// Inspects one piece as it would be on the day it leaves, seals its record, and writes the buyer's pack.
///
/// The survey tells of this piece and of the workshop's own files alone.
///
/// # Errors
/// [`Error`] where nothing was written.
pub fn handover(
    tree: &Tree,
    today: NaiveDate,
    sealing: Sealing,
    order: &Order<'_>,
    progress: &dyn Progress,
) -> Result<(Survey, Result<Handed, Refusal>), Error> {
    let darkroom = Darkroom::open_to_seal(tree.root(), &sealing);
    let mut read = ReadWorkshop::of(tree);
    let (drafts, since, digests) = sealed(&mut read, tree, &darkroom, today, order);
    let room = Workroom::new(tree, &darkroom, settings(read.folder.workshop.as_ref()));
    if let (Some(draft), Some(digests)) = (drafts.first(), &digests) {
        // What is sealed is what is shown.
        room.expect(draft.piece(), digests);
    }
    let (mut survey, pictures) = read.inspected(drafts, &room, |_| Handling::Develop, today, progress)?;
    let of_piece = survey.folder.pieces.iter().find(|piece| piece.folder == order.piece);
    let concerns = |found: &Diagnostic| {
        found.place.piece().is_none() || of_piece.is_none_or(|piece| piece.is_read_from(&found.place))
    };
    survey.diagnostics.retain(concerns);
    let refusal = refusal(&survey, order);
    if let Some(refusal) = refusal {
        return Ok((survey, Err(refusal)));
    }
    let handed = {
        let workshop = survey.folder.workshop.as_ref().expect("its absence is a mistake, which was refused");
        let house = HouseStyle::of(workshop, survey.languages.workshop(), today);
        let workpiece = survey.piece(order.piece).expect("an unread record was refused");
        let abroad = Abroad::of(tree, &survey, |workpiece| workpiece.piece.folder == order.piece, today);
        let own = || PieceContext::of(&survey.folder, workpiece, &survey.trade, &house);
        let context = abroad.context(&survey, order.piece).unwrap_or_else(own);
        let pictures = pictures.get(order.piece).expect("every piece has its pictures, be there none");
        let theme = Theme::load(tree, &survey.theme, &survey.languages)?;
        let (pack, seal) = context.pack_and_seal().expect("the piece was sealed above");
        // The address is the same that `writeup` gives the papers; without one, no secret is needed.
        let address = match (&workshop.papers_address, tree.root()) {
            (Some(_), Some(root)) => buyers_folder(&context, &Secret::of(root)?).address,
            _ => None,
        };
        let papers = render::buyer_papers(&context, address.as_deref());
        let payload = match payload(&theme, &context, &papers, pictures, &darkroom, order.signer.is_some()) {
            Err(Error::Render(fault)) if fault.is_of_one_sheet() => {
                let fault = inspect::paper_not_made(workpiece, fault.to_string());
                survey.diagnostics.push(fault);
                return Ok((survey, Err(Refusal::Mistakes)));
            }
            payload => payload?,
        };
        let bag = bag(payload, &context, (&pack, seal), order.signer)?;
        let zip = pack::zip(&pack, &bag, seal.on).map_err(Error::Zip)?;
        let paths: Vec<String> = bag.iter().map(|file| format!("{pack}/{}", file.path)).collect();
        let (head, one) = (format!("{}.toml", seal.name()), format!("{pack}.zip"));
        let text = seal.file();
        let files = paths.iter().map(String::as_str).zip(bag.iter().map(|file| file.bytes.as_slice()));
        sealing.commit(files.chain([(one.as_str(), zip.as_slice()), (head.as_str(), text.as_bytes())]))?;
        Handed {
            title: context.title(),
            seal: seal.clone(),
            since,
            pack,
            files: bag.len(),
            bytes: bag.iter().map(|file| file.bytes.len() as u64).sum(),
            signed: order.signer.map(|signer| signer.key().id()),
        }
    };
    darkroom.settle();
    Ok((survey, Ok(handed)))
}

/// Seals the ordered piece in memory, so that everything that follows sees it as it will be, and leaves the others
/// out; what changed since the seal before, where there is one; and the photographs' digests that were sealed.
fn sealed(
    read: &mut ReadWorkshop,
    tree: &Tree,
    darkroom: &Darkroom,
    today: NaiveDate,
    order: &Order<'_>,
) -> (Vec<Draft>, Option<Vec<String>>, Option<Digests>) {
    let Some(place) = read.folder.pieces.iter_mut().find(|piece| piece.folder == order.piece) else {
        return (Vec::new(), None, None);
    };
    let was = place.clone();
    let since = (!was.seals.is_empty()).then(|| {
        let amendments = derive::amendments(&was, Some(&workroom::digests(tree, darkroom, &was)));
        let words = Words::for_diagnostics();
        amendments.iter().map(|amendment| capital(&words.say(&amendment.message))).collect()
    });
    let mut digests = None;
    if let Some(canon) = record::today_for_buyer(tree, &was) {
        let handed_over = order.on.or(was.said_to_leave()).or(was.handed_over()).unwrap_or(today);
        let afresh = workroom::digests_afresh(tree, &was);
        let mut piece = Piece::clone(&was);
        piece.seals.push(Seal::of(canon.clone(), &afresh, &was.seals, today, handed_over));
        piece.for_buyer = Some(canon);
        *place = Arc::new(piece);
        digests = Some(afresh);
    }
    let piece = place.clone();
    (read.draft(&piece, digests.as_ref()).into_iter().collect(), since, digests)
}

/// What the buyer gets: pages, papers to print, the record, and the pictures that they show.
fn payload(
    theme: &Theme,
    context: &PieceContext<'_>,
    papers: &Papers,
    pictures: &Pictures,
    darkroom: &Darkroom,
    signed: bool,
) -> Result<Vec<File>, Error> {
    let printer = PaperPrinter::of(theme, darkroom)?;
    let mut printed = Vec::new();
    for sheet in sheets(context.house(), papers, context.last_day()) {
        let paper = printer.print(&sheet, pictures)?;
        printed.push(File { path: sheet.file.to_owned(), bytes: paper.bytes()? });
    }
    let mut payload = render::pack(theme, context, papers, printed, signed)?;
    for name in public_pictures(context) {
        if let Some(picture) = pictures.get(&name) {
            payload.push(File { path: format!("pictures/{name}"), bytes: picture.bytes()? });
        }
    }
    Ok(payload)
}

/// The same as a bag of this name under this seal, signed where somebody signs.
fn bag(
    payload: Vec<File>,
    context: &PieceContext<'_>,
    (name, seal): (&str, &Seal),
    signer: Option<&Signer>,
) -> Result<Vec<File>, Error> {
    let workshop = &context.house().view().name;
    let info = BagInfo {
        organisation: workshop.clone(),
        title: context.bare_title().to_owned(),
        number: context.number().to_owned(),
        on: seal.on,
        description: context.house().words().say(&says!("pack-description", piece = context.title())),
        record_seal: Some(seal.digest.clone()),
        signing_key: signer.map(|signer| signer.key().clone()),
    };
    let bag = pack::bag(payload, &info)?;
    match signer {
        Some(signer) => {
            let comment = format!("{name}, sealed {} by {workshop}", seal.on);
            Ok(pack::signed(bag, signer, &comment)?)
        }
        None => Ok(bag),
    }
}

/// Why the piece cannot be handed over; the gravest reason.
fn refusal(survey: &Survey, order: &Order<'_>) -> Option<Refusal> {
    let piece = survey.folder.pieces.iter().find(|piece| piece.folder == order.piece);
    let Some((piece, record)) = piece.and_then(|piece| Some((piece, piece.record.as_ref()?))) else {
        return Some(Refusal::Mistakes);
    };
    let unread = survey.folder.workshop.is_none();
    if unread || survey.diagnostics.iter().any(inspect::keeps_from_sealing) {
        return Some(Refusal::Mistakes);
    }
    // Its new seal is among its seals already, and says the day on which it is to leave.
    if let Some(back) = piece.came_back() {
        return Some(Refusal::CameBack(back));
    }
    let said = record.handover.as_ref().and_then(|handover| handover.on.as_ref()).map(|on| on.value);
    if let (Some(said), Some(asked)) = (said, order.on)
        && said != asked
    {
        return Some(Refusal::OtherDay { said, asked });
    }
    let mut open = inspect::still_open(&piece.record_path(), piece, record);
    record::settle(&survey.folder, &mut open);
    (!open.is_empty() && !order.with_open_questions).then_some(Refusal::Open(open))
}
