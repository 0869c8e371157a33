//! From a piece that is finished to its seal and its pack, or to the reasons why not.

use chrono::NaiveDate;

use super::darkroom::{Album, Darkroom, prints_afresh};
use super::{Error, Printing, Progress, Read, Survey, printing, settings, whereabouts};
use crate::derive;
use crate::diag::{Diagnostic, Severity};
use crate::inspect;
use crate::pack::{self, BagInfo, File, Signer};
use crate::record::{self, Seal};
use crate::render::{self, Whereabouts};
use crate::source::Tree;
use crate::view::{Household, Source};
use crate::write::{Sealing, Secret, Store};

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
    /// Errors stand, which the survey tells.
    Errors,
    /// Questions stand open.
    Open(Vec<Diagnostic>),
    /// The record names another day than was asked for.
    OtherDay {
        /// The record's day.
        said: NaiveDate,
        /// The day asked for.
        asked: NaiveDate,
    },
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
    let store = Store::open_to_seal(tree.root(), &sealing);
    let mut read = Read::of(tree, &store);
    let since = sealed(&mut read, tree, today, order);
    let darkroom = Darkroom::new(tree, &store, settings(read.folder.workshop.as_ref()));
    let (looks, album) = read.pictures(&darkroom, progress, |_| true)?;
    let mut survey = read.inspected(looks, today);
    survey.diagnostics.retain(|found| found.place.piece().is_none_or(|piece| piece == order.piece));
    let refusal = refusal(&survey, order);
    if let Some(refusal) = refusal {
        return Ok((survey, Err(refusal)));
    }
    let handed = {
        let workshop = survey.folder.workshop.as_ref().expect("its absence is an error, which was refused");
        let house = Household::of(workshop);
        let source = source(&survey, order.piece, &house).expect("an unread record was refused");
        let theme = render::Theme::load(tree)?;
        let (pack, seal) = source.pack_and_seal().expect("the piece was sealed above");
        // The address is the same that `writeup` gives the papers; without one, no secret is needed.
        let address = match (&workshop.papers_address, tree.root()) {
            (Some(_), Some(root)) => whereabouts(&house, &source, &Secret::of(root)?).address,
            _ => None,
        };
        let payload = payload(&theme, &house, &source, address, &album, &store, order)?;
        let bag = bag(payload, &house, &source, (&pack, seal), order.signer)?;
        let zip = pack::zip(&pack, &bag, seal.on).map_err(Error::Zip)?;
        let paths: Vec<String> = bag.iter().map(|file| format!("{pack}/{}", file.path)).collect();
        let (head, one) = (format!("{}.toml", seal.name()), format!("{pack}.zip"));
        let text = seal.file();
        let files = paths.iter().map(String::as_str).zip(bag.iter().map(|file| file.bytes.as_slice()));
        sealing.commit(files.chain([(one.as_str(), zip.as_slice()), (head.as_str(), text.as_bytes())]))?;
        Handed {
            title: source.title(),
            seal: seal.clone(),
            since,
            pack,
            files: bag.len(),
            bytes: bag.iter().map(|file| file.bytes.len() as u64).sum(),
            signed: order.signer.map(|signer| signer.key().id()),
        }
    };
    store.settle();
    Ok((survey, Ok(handed)))
}

/// Seals the ordered piece in memory, so that everything that follows sees it as it will be, and leaves the others
/// out; what changed since the seal before, where there is one.
fn sealed(read: &mut Read, tree: &Tree, today: NaiveDate, order: &Order<'_>) -> Option<Vec<String>> {
    let mut since = None;
    for index in 0..read.folder.pieces.len() {
        let facts = read.facts[index].take();
        let piece = &mut read.folder.pieces[index];
        if piece.folder != order.piece {
            continue;
        }
        let words = facts.iter().flat_map(|facts| &facts.amendments).map(|amendment| amendment.words.clone());
        since = (!piece.seals.is_empty()).then(|| words.collect());
        if let Some(canon) = record::today_for_buyer(tree, piece) {
            let handed_over = order.on.or(piece.handed_over()).unwrap_or(today);
            let prints = prints_afresh(tree, piece);
            let seal = Seal::of(canon.clone(), &prints, &piece.seals, today, handed_over);
            piece.seals.push(seal);
            (piece.for_buyer, piece.prints) = (Some(canon), Some(prints));
        }
        let piece = &read.folder.pieces[index];
        read.facts[index] =
            piece.record.as_ref().map(|record| derive::facts(&read.folder, piece, record, &read.trade));
    }
    since
}

/// What the buyer gets: pages, papers to print, the record, and the pictures that they show.
fn payload(
    theme: &render::Theme,
    house: &Household,
    source: &Source<'_>,
    address: Option<String>,
    album: &Album,
    store: &Store,
    order: &Order<'_>,
) -> Result<Vec<File>, Error> {
    let mut printed = Vec::new();
    // The papers lie in the pack's own folder, which has no name.
    let papers = Whereabouts { folder: String::new(), address };
    for (path, paper) in printing::print(theme, house, &[(source, &papers)], album, store, Printing::All)? {
        let paper = paper.expect("none waits where all are printed");
        printed.push(File { path: path.trim_start_matches('/').to_owned(), bytes: paper.bytes()? });
    }
    let mut payload = render::pack(theme, house, source, papers.address, printed, order.signer.is_some())?;
    for name in source.public_pictures() {
        if let Some(picture) = album.get(order.piece, &name) {
            payload.push(File { path: format!("pictures/{name}"), bytes: picture.bytes()? });
        }
    }
    Ok(payload)
}

/// The same as a bag of this name under this seal, signed where somebody signs.
fn bag(
    payload: Vec<File>,
    house: &Household,
    source: &Source<'_>,
    (name, seal): (&str, &Seal),
    signer: Option<&Signer>,
) -> Result<Vec<File>, Error> {
    let info = BagInfo {
        organisation: house.view().name.clone(),
        title: source.bare_title().to_owned(),
        number: source.number().to_owned(),
        on: seal.on,
        description: format!("The papers of {}, sealed when it was handed over.", source.title()),
        record_seal: Some(seal.print.clone()),
        signing_key: signer.map(|signer| signer.key().clone()),
    };
    let bag = pack::bag(payload, &info)?;
    match signer {
        Some(signer) => {
            let comment = format!("{name}, sealed {} by {}", seal.on, house.view().name);
            Ok(pack::signed(bag, signer, &comment)?)
        }
        None => Ok(bag),
    }
}

/// Why the piece cannot be handed over; the gravest reason.
fn refusal(survey: &Survey, order: &Order<'_>) -> Option<Refusal> {
    let piece = survey.folder.pieces.iter().find(|piece| piece.folder == order.piece);
    let Some((piece, record)) = piece.and_then(|piece| Some((piece, piece.record.as_ref()?))) else {
        return Some(Refusal::Errors);
    };
    let unread = survey.folder.workshop.is_none();
    if unread || survey.diagnostics.iter().any(|found| found.severity() == Severity::Error) {
        return Some(Refusal::Errors);
    }
    let said = record.handover.as_ref().and_then(|handover| handover.on.as_ref()).map(|on| on.value);
    if let (Some(said), Some(asked)) = (said, order.on)
        && said != asked
    {
        return Some(Refusal::OtherDay { said, asked });
    }
    let open = inspect::still_open(&piece.record_path(), record);
    (!open.is_empty() && !order.with_open_questions).then_some(Refusal::Open(open))
}

fn source<'s>(survey: &'s Survey, piece: &str, house: &'s Household) -> Option<Source<'s>> {
    let index = survey.folder.pieces.iter().position(|each| each.folder == piece)?;
    let (facts, looks) = (survey.facts[index].as_ref(), &survey.looks[index]);
    Source::of(&survey.folder, &survey.folder.pieces[index], facts, looks, &survey.trade, house)
}
