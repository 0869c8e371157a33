//! The receipt of a writing: what it was made from, what stood afterwards, and what was told of it. Where a later writing
//! finds all of that as it was, it has nothing to do, and says what it would say. Else the papers of those pieces stay for
//! which nothing changed: their own files, what all pieces share, what they take from other pieces, and their neighbours
//! in the showroom.
//!
//! What goes in is the program, the day, what was asked for, the secret, and every file that is looked at in the workshop:
//! records, stories, day books, photographs, seals, the workshop's own file and its stock, theme, tables and words. No
//! file is read for this but one that was changed within two seconds before it was looked at. A receipt that is missing,
//! damaged or of another program costs its time, and so does one that could not be left.

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};
use std::sync::Arc;

use chrono::NaiveDate;
use rayon::prelude::*;
use serde::{Deserialize, Serialize};

use super::{LeftOut, Survey, Written};
use crate::derive::Workpiece;
use crate::diag::{Code, Diagnostic, Place, Rank};
use crate::fields::code;
use crate::inspect;
use crate::photo::Fault;
use crate::record::{DAY_BOOK, Folder};
use crate::source::{Identity, Seen, Tree};
use crate::unit::fingerprint;
use crate::write::{Darkroom, Key, Likeness, Receipts, Secret};

/// Which writing is asked for.
#[derive(Debug, Clone, Copy)]
pub struct Asked<'a> {
    /// The workshop's folder.
    pub workshop: &'a Path,
    /// The folder that is written.
    pub target: &'a Path,
    /// The one piece that is written, as it was named; `None` for all.
    pub only: Option<&'a str>,
    /// The day of the writing.
    pub today: NaiveDate,
}

/// A writing that has nothing to do.
#[derive(Debug)]
pub struct Unchanged {
    /// What it would put in place, which stands already.
    pub written: Written,
    /// The mistakes and doubts that it would tell of.
    pub grave: Vec<Diagnostic>,
    /// How many hints it would count.
    pub hints: usize,
    /// Whether other users of the computer can read the workshop's secret.
    pub secret_is_open: bool,
}

/// What a writing is made from, as it stood before any of it was read.
#[derive(Debug)]
pub struct Ground {
    target: PathBuf,
    workshop: PathBuf,
    receipts: Receipts,
    name: String,
    key: Key,
    seen: Seen,
    /// What an earlier writing left.
    before: Option<Arc<Left>>,
}

/// A piece's papers, as a writing left them.
#[derive(Debug, Clone, Serialize, Deserialize)]
pub(super) struct LeftPapers {
    /// Where they are.
    pub(super) papers: PiecePapers,
    /// How many of them wait to be printed.
    pub(super) waiting: usize,
}

/// A piece's papers, as a writing makes them or leaves them.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub(super) struct PiecePapers {
    /// The fingerprint of what its page in the showroom shows of those beside it.
    pub(super) neighbours: String,
    /// The folders that they are in, and the note on them.
    pub(super) places: Vec<String>,
}

/// What a writing left of each piece, and what it was made from.
#[derive(Debug, Serialize, Deserialize)]
pub struct Left {
    /// What was asked for, of whom, and when.
    key: Key,
    /// What the workshop held.
    seen: Seen,
    /// The fingerprint of what the papers of one piece take from others.
    taken: String,
    /// The papers of each piece by its folder, and what they looked like.
    papers: BTreeMap<String, (LeftPapers, Likeness)>,
}

/// The receipt as it is kept.
#[derive(Debug, Serialize, Deserialize)]
struct Receipt {
    left: Left,
    /// What stood afterwards.
    whole: Likeness,
    pieces: Vec<String>,
    left_out: Vec<LeftOut>,
    photographs: usize,
    files: usize,
    bytes: u64,
    grave: Vec<Told>,
    hints: usize,
}

/// A diagnostic as it is kept.
#[derive(Debug, Serialize, Deserialize)]
struct Told {
    code: String,
    path: String,
    span: Option<(usize, usize)>,
    message: String,
    help: String,
}

/// The writing that is asked for, where it has nothing to do.
pub fn unchanged(asked: &Asked<'_>) -> Option<Unchanged> {
    if !Receipts::reading(asked.workshop)?.has(&Receipts::name(asked.target)?) {
        return None;
    }
    let secret = Secret::of(asked.workshop).ok()?;
    let ground = Ground::of(asked, &secret)?;
    let receipt: Receipt = ground.receipts.get(&ground.name)?;
    let holds = receipt.left.key == ground.key
        && receipt.left.seen.is_still(&ground.seen, asked.workshop)
        && Likeness::of(asked.target).as_ref() == Some(&receipt.whole);
    if !holds {
        return None;
    }
    let receipt = ground.settle(receipt);
    let codes: BTreeMap<&str, &'static Code> =
        inspect::codes().into_iter().map(|code| (code.name, code)).collect();
    let grave = receipt.grave.into_iter().map(|told| told.diagnostic(&codes)).collect::<Option<_>>()?;
    let written = Written {
        pieces: receipt.pieces,
        left_out: receipt.left_out,
        developed: 0,
        taken: receipt.photographs,
        waiting: 0,
        unprinted: Vec::new(),
        files: receipt.files,
        bytes: receipt.bytes,
        darkroom: Darkroom::reading(None),
        stood: receipt.left.papers.len(),
        taken_from_others: receipt.left.taken,
        papers: BTreeMap::new(),
    };
    Some(Unchanged { written, grave, hints: receipt.hints, secret_is_open: secret.is_open_to_others() })
}

impl Ground {
    /// What a writing would be made from now; `None` where no receipt could be left of it.
    pub fn of(asked: &Asked<'_>, secret: &Secret) -> Option<Ground> {
        let receipts = Receipts::open(asked.workshop)?;
        let name = Receipts::name(asked.target)?;
        let key = Key::of(
            "receipt",
            &[
                env!("CARGO_PKG_VERSION").as_bytes(),
                &Identity::of_program()?.bytes(),
                asked.today.to_string().as_bytes(),
                &[u8::from(asked.only.is_some())],
                asked.only.unwrap_or_default().as_bytes(),
                name.as_bytes(),
                // No piece has this folder, so that its token says nothing of any piece's.
                secret.folder("receipt", "").as_bytes(),
            ],
        );
        let seen = Seen::of(asked.workshop, receipts.opened()?)?;
        let (workshop, target) = (asked.workshop.to_owned(), asked.target.to_owned());
        Some(Ground { workshop, target, receipts, name, key, seen, before: None })
    }

    /// The same, with what an earlier writing left; where this is not given, as the last receipt tells it.
    pub fn after(self, left: Option<Arc<Left>>) -> Ground {
        let told = || Some(Arc::new(self.receipts.get::<Receipt>(&self.name)?.left));
        let before = left.or_else(told);
        Ground { before, ..self }
    }

    /// The papers of an earlier writing that stand as it left them, of pieces whose own files are as they were; none where
    /// anything else is not. Their neighbours are not looked at.
    pub(super) fn standing(&self, taken: &str, folder: &Folder) -> BTreeMap<&str, &LeftPapers> {
        let as_before = |before: &&Left| {
            before.key == self.key
                && before.taken == taken
                && before.seen.shared_is_still(&self.seen, &self.workshop)
        };
        let Some(before) = self.before.as_deref().filter(as_before) else { return BTreeMap::new() };
        let sets: BTreeMap<&str, bool> = folder
            .sets
            .iter()
            .map(|set| (&*set.folder, before.seen.piece_is_still(&set.folder, &self.seen, &self.workshop)))
            .collect();
        let of_sets =
            folder.pieces.iter().filter_map(|piece| Some((&*piece.folder, piece.set.as_ref()?.folder())));
        let of_sets: BTreeMap<&str, &str> = of_sets.collect();
        let stands = |(folder, (left, look)): &(&String, &(LeftPapers, Likeness))| {
            of_sets.get(folder.as_str()).is_none_or(|set| sets.get(set) == Some(&true))
                && before.seen.piece_is_still(folder, &self.seen, &self.workshop)
                && Likeness::of_places(&self.target, &left.papers.places).as_ref() == Some(look)
        };
        let standing = before.papers.par_iter().filter(stands);
        standing.map(|(folder, (papers, _))| (folder.as_str(), papers)).collect()
    }

    /// Leaves a receipt of what was written from it, where nothing waits, and says what was left of each piece; `None` where
    /// not all of the workshop could be read.
    pub fn leave(self, survey: &Survey, written: &Written) -> Option<Left> {
        let Ground { target, receipts, name, key, seen, .. } = self;
        if !was_all_read(survey) {
            return None;
        }
        // Before the tree as a whole is found untouched: a change in between would else pass for what was written.
        let look = |(folder, left): (&String, &LeftPapers)| {
            let look = Likeness::of_places(&target, &left.papers.places)?;
            Some((folder.clone(), (left.clone(), look)))
        };
        let papers = written.papers.par_iter().filter_map(look).collect();
        let left = Left { key, seen, taken: written.taken_from_others.clone(), papers };
        let whole = if written.waiting > 0 { None } else { Likeness::of_untouched(&target) };
        let Some(whole) = whole else { return Some(left) };
        let (hints, grave): (Vec<_>, Vec<_>) =
            survey.diagnostics.iter().partition(|found| found.rank() == Rank::Hint);
        let receipt = Receipt {
            left,
            whole,
            pieces: written.pieces.clone(),
            left_out: written.left_out.clone(),
            photographs: written.developed + written.taken,
            files: written.files,
            bytes: written.bytes,
            grave: grave.into_iter().map(Told::of).collect(),
            hints: hints.len(),
        };
        receipts.leave(&name, &receipt);
        Some(receipt.left)
    }

    /// Leaves a receipt that holds once more, where fewer files have to be read by now to know that it does.
    fn settle(self, receipt: Receipt) -> Receipt {
        if self.seen.read() >= receipt.left.seen.read() {
            return receipt;
        }
        let receipt = Receipt { left: Left { seen: self.seen, ..receipt.left }, ..receipt };
        self.receipts.leave(&self.name, &receipt);
        receipt
    }
}

/// The fingerprint of what the papers of one piece take from other pieces: which of them used the same stock, and by which
/// names the workshop's day book may mean them.
pub(super) fn taken_from_others(tree: &Tree, folder: &Folder) -> String {
    let mut all = Vec::new();
    let mut add = |text: &str| {
        all.extend(text.as_bytes());
        all.push(0);
    };
    for piece in &folder.pieces {
        let Some(record) = &piece.record else { continue };
        let used = record.parts.iter().filter_map(|part| part.from_stock.as_ref());
        used.for_each(|id| [&*piece.folder, &*id.value.0].into_iter().for_each(&mut add));
        // Which pieces are of a set, and what its record may call them.
        if let Some(set) = &piece.set {
            [set.folder(), &*piece.folder, &**record.number].into_iter().for_each(&mut add);
        }
        if tree.has(DAY_BOOK) {
            [&*piece.folder, &**record.number, &**record.title].into_iter().for_each(&mut add);
        }
    }
    fingerprint(&all)
}

/// Whether every file could be read. One that could not, perhaps for a moment or by this user alone, is tried again.
fn was_all_read(survey: &Survey) -> bool {
    let unread = |workpiece: &Workpiece| {
        let mut photographs = workpiece.photographs.all.iter();
        photographs.any(|photograph| matches!(photograph.check, Some(Err(Fault::File { .. }))))
    };
    survey.diagnostics.iter().all(|found| found.code != &code::UNREADABLE_TEXT)
        && !survey.pieces.iter().any(unread)
}

impl Told {
    fn of(found: &Diagnostic) -> Told {
        let Diagnostic { code, place: Place { path, span }, message, help } = found.clone();
        Told { code: code.name.to_owned(), path, span, message, help }
    }

    /// The diagnostic; `None` where no rule has its name.
    fn diagnostic(self, codes: &BTreeMap<&str, &'static Code>) -> Option<Diagnostic> {
        let Told { code, path, span, message, help } = self;
        Some(Diagnostic { code: codes.get(code.as_str())?, place: Place { path, span }, message, help })
    }
}
