//! A set whose pieces are sold apart: one record for what they share, and one of its own for each of them.
//!
//! The set's record says of how many pieces it is, and is no piece itself. A piece of it names the set's folder in its own
//! record, and is read from both: what the set's record says holds for each of its pieces, unless a row names some of
//! them, and hours and costs are divided between those. From then on nobody needs to know of the set.
//! What comes from the set's record has its places from [`BELOW`] on, and [`settle`] leads them back.

use std::cell::RefCell;
use std::collections::{BTreeMap, BTreeSet};
use std::ops::Range;
use std::path::Path;
use std::sync::{Arc, LazyLock};

use rust_decimal::Decimal;
use toml::Spanned;
use toml::de::{DeArray, DeTable, DeValue};

use super::{Folder, Jotting, Piece, Record, day_book};
use crate::diag::{Code, Diagnostic, Place, Rank, nearest};
use crate::fields::code::UNKNOWN_KEY;
use crate::fields::{BELOW, HEAD, MOST_ELEMENTS, Private, Row, Said, Share, placed_table, with_document};
use crate::source::{Tree, TreeError, normal_form};
use crate::unit::fold::folded;
use crate::unit::{Hours, Money};

/// A record that is of a set which is not there.
pub static UNKNOWN_SET: Code = Code {
    name: "unknown-set",
    rank: Rank::Mistake,
    why: "A piece of a set is read from the set's record and its own, and without the first its papers would leave out half.",
    fix: "Name the folder of the set's record below `pieces/`, which says with `set-of` of how many pieces it is.",
};

/// A row of a set's record that names a piece which is not of the set.
pub static UNKNOWN_PIECE_OF_SET: Code = Code {
    name: "unknown-piece-of-set",
    rank: Rank::Mistake,
    why: "A row that names some pieces of a set stands on their papers alone, and here it would stand on none.",
    fix: "Name pieces of the set by their numbers or folders, or leave `piece` out where the row is of all of them.",
};

/// Something in a set's record that only a piece can have.
pub static OF_ONE_PIECE_ALONE: Code = Code {
    name: "of-one-piece-alone",
    rank: Rank::Mistake,
    why: "A set's record is no piece: nothing is sold, sealed or promised by it, and what it says of that would be lost.",
    fix: "Write it in the record of the piece that it is about.",
};

/// A set of which more records are than it has pieces.
pub static SET_OVERFULL: Code = Code {
    name: "set-overfull",
    rank: Rank::Mistake,
    why: "Hours and costs of a set are divided between its pieces, and would be counted more than once.",
    fix: "Correct `set-of`, or take `set` out of the record that is of no piece of it.",
};

/// A set of which fewer records are than it has pieces.
pub static SET_INCOMPLETE: Code = Code {
    name: "set-incomplete",
    rank: Rank::Doubt,
    why: "A share of a set's hours and costs goes to each of its pieces, and that of a piece without a record is counted nowhere.",
    fix: "Make a record with `set` and a number for each piece, or correct `set-of`.",
};

/// The key by which a row of a set's record names the pieces that it is about.
const PIECE: &str = "piece";

/// Keys that a piece says for itself and never takes from its set.
const OWN: [&str; 9] =
    ["number", "set", "hours", "reserved", "handover", "receipt", "after", "amendment", "call-back"];

/// Keys of those that say nothing in a set's record. Its number only names it.
const OF_ONE: [&str; 7] = ["hours", "reserved", "handover", "receipt", "after", "amendment", "call-back"];

/// Keys that say what the set is rather than what its pieces are.
const READ_BY_ITSELF: &str = "day-book-read";

/// What a piece is of, that belongs to a set.
#[derive(Debug, Clone, PartialEq)]
pub struct OfSet {
    set: Arc<Set>,
    /// Which of the set's pieces it is, counted from 0 in the order of their folders.
    pub place: usize,
    /// Between how many pieces rows of the set are shared that name some, by where they begin, and which of them it is.
    rows: BTreeMap<usize, (u32, usize)>,
    /// Those of its photographs that lie in the set's folder.
    photos: BTreeSet<String>,
    /// Whether its story is the set's.
    story: bool,
}

impl OfSet {
    /// The folder of the set's record below `pieces/`.
    pub fn folder(&self) -> &str {
        &self.set.folder
    }

    /// Of how many pieces the set is.
    pub fn pieces(&self) -> u32 {
        self.set.of
    }

    /// What its piece is read from: what its own record says, and what the set's says of it.
    pub(super) fn together<'d>(&self, piece: &Piece, own: &DeTable<'d>, shared: &DeTable<'d>) -> DeTable<'d> {
        let photos = piece.photos.iter().filter(|file| !self.photos.contains(*file)).cloned().collect();
        self.set.together(self.place, own, shared, &photos, &Shares::default())
    }
}

impl Piece {
    /// Whether it has this place of its record, by where it stands, from its set.
    pub fn has_from_set(&self, span: &Range<usize>) -> bool {
        self.set.is_some() && span.start >= BELOW
    }

    /// Between how many pieces of its set a row of its record is shared, and which of them it is, counted from 0; `None` for
    /// one of its own.
    pub fn shared_between(&self, span: &Range<usize>) -> Option<(u32, usize)> {
        let set = self.set.as_ref().filter(|_| self.has_from_set(span))?;
        Some(set.rows.get(&span.start).copied().unwrap_or((set.set.of, set.place)))
    }

    /// Whether a file is among those that it is read from: its own, or its set's.
    pub fn is_read_from(&self, place: &Place) -> bool {
        let folder = place.piece();
        folder.is_some() && (folder == Some(&self.folder) || folder == self.set.as_ref().map(OfSet::folder))
    }

    /// Whether its record is that of a set, and it no piece.
    pub fn is_set(&self) -> bool {
        self.set.is_none() && self.record.as_ref().is_some_and(|record| record.set_of.is_some())
    }

    /// Whether another piece is of the same set.
    pub fn is_set_with(&self, other: &Piece) -> bool {
        let set = |piece: &Piece| piece.set.as_ref().map(|set| set.folder().to_owned());
        set(self).is_some() && set(self) == set(other)
    }

    /// The folder in which a photograph of it lies, below `pieces/`.
    pub(super) fn home_of(&self, file: &str) -> &str {
        self.set.as_ref().filter(|set| set.photos.contains(file)).map_or(self.folder.as_str(), OfSet::folder)
    }

    /// Whether a photograph of it lies with its set, so that it may show more than this piece.
    pub fn shares_photograph(&self, file: &str) -> bool {
        self.set.as_ref().is_some_and(|set| set.photos.contains(file))
    }

    /// Whether its story is the set's.
    pub fn story_is_of_set(&self) -> bool {
        self.set.as_ref().is_some_and(|set| set.story)
    }

    /// The path of its set's record from the workshop's root.
    pub fn set_record_path(&self) -> Option<String> {
        self.set.as_ref().map(|set| set.set.path())
    }

    /// The path of its story from the workshop's root.
    pub fn story_path(&self) -> String {
        let set = self.set.as_ref().filter(|set| set.story);
        format!("pieces/{}/story.md", set.map_or(self.folder.as_str(), OfSet::folder))
    }
}

impl Folder {
    /// A place of a piece's record as its file has it, where that is the record of its set.
    pub fn settled(&self, mut place: Place) -> Place {
        let Some((start, end)) = place.span.filter(|(start, _)| *start >= BELOW) else { return place };
        let piece = self.pieces.iter().find(|piece| Some(piece.folder.as_str()) == place.piece());
        if let Some(set) = piece.and_then(|piece| piece.set.as_ref()) {
            place = Place::at(&format!("pieces/{}/record.toml", set.folder()), &(start - BELOW..end - BELOW));
        }
        place
    }

    /// Every piece, and after them every set.
    pub fn all(&self) -> Vec<Arc<Piece>> {
        self.pieces.iter().chain(&self.sets).cloned().collect()
    }

    /// The records of pieces and of sets that are found in this folder of `pieces/`.
    pub fn found_in(&self, folder: &str) -> Option<&Arc<Piece>> {
        self.pieces.iter().chain(&self.sets).find(|piece| piece.folder == folder)
    }
}

/// A workshop with one folder of `pieces/`, and with that of the set which its record names; the whole of it for a set,
/// which is known by its pieces.
///
/// # Errors
/// As [`Tree::open`].
pub fn open_with_sets(root: &Path, folder: &str) -> Result<Tree, TreeError> {
    let tree = Tree::open_some(root, [folder])?;
    let text = tree.text(&format!("pieces/{folder}/record.toml")).and_then(Result::ok);
    match text.map(Kin::of) {
        Some(Kin::Piece { set, .. }) if Tree::is_folder_name(&set) => {
            Tree::open_some(root, [folder, set.as_str()])
        }
        Some(Kin::Set { .. }) => Tree::open(root),
        _ => Ok(tree),
    }
}

/// Whether the record in this folder of `pieces/` is that of a set, or names one.
pub fn names_a_set(tree: &Tree, folder: &str) -> bool {
    let text = tree.text(&format!("pieces/{folder}/record.toml")).and_then(Result::ok);
    text.is_some_and(|text| !matches!(Kin::of(text), Kin::Alone))
}

/// Leads what was told of pieces to the records of their sets, each once.
pub fn settle(folder: &Folder, told: &mut Vec<Diagnostic>) {
    if folder.sets.is_empty() {
        return;
    }
    let mut known: Vec<Diagnostic> = Vec::new();
    told.retain_mut(|found| {
        let settled = folder.settled(found.place.clone());
        if settled == found.place && !folder.sets.iter().any(|set| Some(&*set.folder) == settled.piece()) {
            return true;
        }
        found.place = settled;
        let new = !known.contains(found);
        if new {
            known.push(found.clone());
        }
        new
    });
}

/// A record by itself, of a set, or of a piece of one.
enum Kin {
    Alone,
    Set { of: u32, said: Range<usize>, within: Option<Range<usize>> },
    Piece { set: String, said: Range<usize>, number: Option<String> },
}

impl Kin {
    /// What a record's text says of sets; nothing is read of one that does not seem to speak of any.
    fn of(text: &str) -> Kin {
        let speaks = |line: &str| {
            let line = line.trim_start().trim_start_matches(['"', '\'']);
            line.get(..3).is_some_and(|begins| begins.eq_ignore_ascii_case("set"))
        };
        if !text.lines().any(speaks) {
            return Kin::Alone;
        }
        with_document(text, Kin::said).unwrap_or(Kin::Alone)
    }

    fn said(document: &DeTable<'_>) -> Kin {
        let get = |key: &str| {
            let alike = || document.iter().find(|(known, _)| folded(known.get_ref()) == folded(key));
            document.get(key).or_else(|| alike().map(|(_, value)| value))
        };
        let set =
            get("set").and_then(|value| Some((value.get_ref().as_str()?.trim().to_owned(), value.span())));
        let of = get("set-of").and_then(|value| {
            let of: u32 = value.get_ref().as_integer()?.as_str().replace('_', "").parse().ok()?;
            (1..=MOST_ELEMENTS as u32).contains(&of).then(|| (of, value.span()))
        });
        match (of, set) {
            (Some((of, said)), set) => Kin::Set { of, said, within: set.map(|(_, said)| said) },
            (None, Some((set, said))) => {
                let number = get("number").map(|value| match value.get_ref() {
                    DeValue::Integer(number) => number.as_str().to_owned(),
                    other => other.as_str().unwrap_or_default().trim().to_owned(),
                });
                let set = set.trim_start_matches("pieces/").trim_end_matches('/').to_owned();
                Kin::Piece { set, said, number: number.filter(|number| !number.is_empty()) }
            }
            (None, None) => Kin::Alone,
        }
    }
}

/// A piece of a set, by its names.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Member {
    pub(super) folder: String,
    number: Option<String>,
    said: Range<usize>,
}

impl Member {
    /// Whether it is called so: by its number or its folder.
    fn is_called(&self, name: &str) -> bool {
        self.names().any(|known| known.eq_ignore_ascii_case(name.trim()))
    }

    fn names(&self) -> impl Iterator<Item = &str> {
        self.number.iter().map(String::as_str).chain([self.folder.as_str()])
    }
}

/// A set as its folder says it.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Set {
    pub(super) folder: String,
    /// Of how many pieces it is.
    of: u32,
    said: Range<usize>,
    within: Option<Range<usize>>,
    /// Those that have a record, in the order of their folders.
    pub(super) pieces: Vec<Member>,
}

/// The sets of a workshop.
#[derive(Debug, Default)]
pub(super) struct Sets(Vec<Arc<Set>>);

impl Sets {
    /// The sets that records speak of, and what is wrong with that.
    pub(super) fn of(tree: &Tree, folders: &[String], problems: &mut Vec<Diagnostic>) -> Sets {
        let (mut sets, mut pieces): (Vec<Set>, Vec<(String, Member)>) = (Vec::new(), Vec::new());
        for folder in folders {
            let Some(Ok(text)) = tree.text(&format!("pieces/{folder}/record.toml")) else { continue };
            match Kin::of(text) {
                Kin::Alone => {}
                Kin::Set { of, said, within } => {
                    sets.push(Set { folder: folder.clone(), of, said, within, pieces: Vec::new() });
                }
                Kin::Piece { set, said, number } => {
                    pieces.push((set, Member { folder: folder.clone(), number, said }));
                }
            }
        }
        for (name, piece) in pieces {
            match sets.iter_mut().find(|set| set.folder == name) {
                Some(set) => set.pieces.push(piece),
                None => problems.push(unknown(tree, &name, &piece, &sets)),
            }
        }
        for set in &sets {
            set.tell(tree, problems);
        }
        Sets(sets.into_iter().map(Arc::new).collect())
    }

    /// Every set.
    pub(super) fn iter(&self) -> impl Iterator<Item = &Arc<Set>> {
        self.0.iter()
    }

    /// Whether a folder is a set's, or that of a piece of one.
    pub(super) fn has(&self, folder: &str) -> bool {
        self.0.iter().any(|set| set.folder == folder || set.pieces.iter().any(|piece| piece.folder == folder))
    }
}

/// That a record names a set which is none.
fn unknown(tree: &Tree, name: &str, piece: &Member, sets: &[Set]) -> Diagnostic {
    let record = format!("pieces/{name}/record.toml");
    let near = nearest(name, sets.iter().map(|set| set.folder.as_str()));
    let (message, help) = match (tree.has(&record), near) {
        (true, _) => (
            format!("`{record}` is of no set"),
            "write in it of how many pieces it is, such as\nset-of = 6".to_owned(),
        ),
        (false, Some(near)) => (format!("there is no pieces/{name}"), format!("write `set = \"{near}\"`")),
        (false, None) => (
            format!("there is no pieces/{name}"),
            "name the folder of the record that has what the pieces share, and `set-of` among it".to_owned(),
        ),
    };
    let place = Place::at(&format!("pieces/{}/record.toml", piece.folder), &piece.said);
    Diagnostic::new(&UNKNOWN_SET, place, message).help(help)
}

/// What of two records one piece has.
#[derive(Debug, Default)]
pub(super) struct Shares {
    /// Between how many pieces a row of the set is shared, by where it begins, if not between all; and which of them the
    /// piece is, counted from 0.
    by_row: RefCell<BTreeMap<usize, (u32, usize)>>,
    /// Photographs of the set that are of other pieces alone.
    without: RefCell<BTreeSet<String>>,
}

impl Set {
    fn path(&self) -> String {
        format!("pieces/{}/record.toml", self.folder)
    }

    /// What is wrong with it as a set.
    fn tell(&self, tree: &Tree, problems: &mut Vec<Diagnostic>) {
        let path = self.path();
        let (of, there) = (self.of as usize, self.pieces.len());
        if let Some(within) = &self.within {
            let message = "this record is a set's itself, and a set is of no other";
            problems.push(
                Diagnostic::new(&UNKNOWN_SET, Place::at(&path, within), message)
                    .help("leave `set` out here, or `set-of` where this is one of its pieces"),
            );
        }
        if there != of {
            let records = match there {
                0 => "no record is".to_owned(),
                1 => "one record is".to_owned(),
                more => format!("{more} records are"),
            };
            let message = format!("this is a set of {of}, and {records} of it");
            let place = Place::at(&path, &self.said);
            let (code, help) = match there > of {
                true => (&SET_OVERFULL, format!("write `set-of = {there}` where that is right")),
                false => (
                    &SET_INCOMPLETE,
                    format!(
                        "give each piece a folder with a record that says\nset = \"{}\"\nnumber = \"…\"",
                        self.folder
                    ),
                ),
            };
            problems.push(Diagnostic::new(code, place, message).help(help));
        }
        let Some(Ok(text)) = tree.text(&path) else { return };
        with_document(text, |document| self.tell_of(document, problems));
    }

    fn tell_of(&self, document: &DeTable<'_>, problems: &mut Vec<Diagnostic>) {
        let path = self.path();
        for (key, value) in document {
            let word = key.get_ref();
            if OF_ONE.contains(&word.as_ref()) {
                let message = format!("`{word}` is of one piece, and this record is of {}", self.of);
                let help = match word.as_ref() {
                    "hours" => {
                        "write them on the rows of [[work]], or in the record of each piece".to_owned()
                    }
                    _ => "write it in the record of the piece that it is about".to_owned(),
                };
                problems.push(
                    Diagnostic::new(&OF_ONE_PIECE_ALONE, Place::at(&path, &key.span()), message).help(help),
                );
                continue;
            }
            for row in rows(value).iter().filter_map(|row| row.get_ref().as_table()) {
                let Some(said) = row.get(PIECE) else { continue };
                for (name, span) in names(said) {
                    if name
                        .as_deref()
                        .is_some_and(|name| self.pieces.iter().any(|piece| piece.is_called(name)))
                    {
                        continue;
                    }
                    problems.push(self.unknown_piece(name.as_deref(), &span));
                }
            }
        }
    }

    fn unknown_piece(&self, name: Option<&str>, span: &Range<usize>) -> Diagnostic {
        let known: Vec<&str> = self.pieces.iter().filter_map(|piece| piece.names().next()).collect();
        let all = || self.pieces.iter().flat_map(Member::names);
        let message = match name {
            Some(name) => format!("the set has no piece `{name}`"),
            None => "this names no piece of the set".to_owned(),
        };
        let help = match name.and_then(|name| nearest(name, all())) {
            Some(near) => format!("write \"{near}\""),
            None if known.is_empty() => "leave it out until its pieces have records".to_owned(),
            None => format!("it has {}", known.join(", ")),
        };
        Diagnostic::new(&UNKNOWN_PIECE_OF_SET, Place::at(&self.path(), span), message).help(help)
    }

    /// The set's record as it is read by itself: without what says which of its rows are of which pieces.
    pub(super) fn by_itself<'d>(document: &DeTable<'d>) -> DeTable<'d> {
        let mut whole = document.clone();
        for (_, value) in &mut whole {
            let span = value.span();
            if let DeValue::Array(list) = value.get_ref() {
                let mut bare = DeArray::new();
                list.iter().for_each(|row| bare.push(without_piece(row)));
                *value = Spanned::new(span, DeValue::Array(bare));
            }
        }
        whole
    }

    /// What one of its pieces is read from: its own record, and below it what the set's says of it.
    pub(super) fn together<'d>(
        &self,
        place: usize,
        own: &DeTable<'d>,
        shared: &DeTable<'d>,
        photos: &BTreeSet<String>,
        shares: &Shares,
    ) -> DeTable<'d> {
        let shared = placed_table(shared.clone(), &|span| span.start + BELOW..span.end + BELOW);
        let is_of = |row: &Spanned<DeValue<'d>>| {
            let Some(said) = row.get_ref().as_table().and_then(|row| row.get(PIECE)) else { return true };
            let named = names(said);
            let is_named = |piece: &Member| {
                named.iter().any(|(name, _)| name.as_deref().is_some_and(|name| piece.is_called(name)))
            };
            let of = self.pieces.iter().filter(|piece| is_named(piece)).count();
            let rank = self.pieces[..place].iter().filter(|piece| is_named(piece)).count();
            shares.by_row.borrow_mut().insert(row.span().start, ((of as u32).max(1), rank));
            is_named(&self.pieces[place])
        };
        let files = |row: &Spanned<DeValue<'d>>| -> Vec<String> {
            let table = row.get_ref().as_table();
            let keys = ["file", "before", "after", "photo"];
            let said = keys.into_iter().filter_map(|key| table?.get(key)?.get_ref().as_str());
            said.map(normal_form).collect()
        };
        let listed = |key: &str| Record::KEYS.iter().any(|known| known.name == key && known.many);
        let mut whole = own.clone();
        // Photographs first: what else names one that this piece does not have goes with it.
        let entries = shared.get("photo").map(rows).unwrap_or_default();
        let of_others = entries.iter().filter(|row| !is_of(row)).flat_map(&files);
        let mut hidden: BTreeSet<String> = of_others.collect();
        shares.without.borrow_mut().clone_from(&hidden);
        hidden.extend(photos.iter().cloned());
        let restated = parts_of_surfaces(own);
        // What a row of all pieces names of another piece alone is none of this one's.
        let mut gone: BTreeMap<&str, BTreeSet<String>> = BTreeMap::new();
        for list in ["finding", "part", "patch", "work"] {
            let shared = shared.get(list).map(rows).unwrap_or_default();
            let (here, away): (Vec<_>, Vec<_>) = shared.into_iter().partition(|row| is_of(row));
            let here = here.into_iter().chain(own.get(list).map(rows).unwrap_or_default());
            let here: BTreeSet<String> = here.filter_map(|row| id_of(&row)).collect();
            let away = away.iter().filter_map(id_of).filter(|id| !here.contains(id));
            gone.insert(list, away.collect());
        }
        // The places that surfaces of the set have among those of the piece.
        let mut surfaces: Vec<Option<usize>> = Vec::new();
        let keys = shared.iter().filter(|(key, _)| !OWN.contains(&key.get_ref().as_ref()));
        let keys = keys.filter(|(key, _)| key.get_ref().as_ref() != READ_BY_ITSELF);
        for (key, value) in keys {
            let word = key.get_ref().as_ref();
            // What is to be remembered is so once.
            if word == "lesson" && place > 0 {
                continue;
            }
            if !listed(word) {
                if !whole.contains_key(word)
                    && let Some(value) = trimmed(value.clone(), &gone)
                {
                    whole.insert(key.clone(), value);
                }
                continue;
            }
            let own_rows = own.get(word).map(rows).unwrap_or_default();
            let mut kept = DeArray::new();
            for row in rows(value) {
                let named = files(&row);
                let stays = is_of(&row)
                    && !named.iter().any(|file| hidden.contains(file))
                    && !is_restated(&row, &own_rows);
                let row = if stays { trimmed(without_piece(&row), &gone) } else { None };
                let row = match word {
                    "surface" => row.and_then(|row| without_parts(row, &restated)),
                    _ => row,
                };
                if word == "surface" {
                    surfaces.push(row.is_some().then(|| kept.iter().count()));
                }
                row.into_iter().for_each(|row| kept.push(row));
            }
            if kept.iter().next().is_none() {
                continue;
            }
            own_rows.into_iter().for_each(|row| kept.push(row));
            let span = own.get(word).unwrap_or(value).span();
            whole.insert(key.clone(), Spanned::new(span, DeValue::Array(kept)));
        }
        count_surfaces_anew(&mut whole, &surfaces);
        whole
    }

    /// Divides hours and costs that a piece has from its set, as far as they are its.
    pub(super) fn divide(&self, record: &mut Record, shares: &Shares) {
        let by_row = shares.by_row.borrow();
        let of = |span: &Range<usize>| {
            let between = by_row.get(&span.start).map_or(self.of, |(between, _)| *between);
            (span.start >= BELOW).then(|| Decimal::from(between))
        };
        let hours = |said: &Said<Hours>, of: Decimal| Said {
            value: Hours::new(said.value.count() / of).unwrap_or(said.value),
            span: said.span.clone(),
        };
        let money = |said: &mut Said<Money>, of: Decimal| said.value = Money(said.value.0 / of);
        for work in &mut record.works {
            if let (Some(said), Some(of)) = (work.hours.for_archive(), of(&work.span)) {
                let mut value = work.value.clone();
                value.hours = Private::new(Some(hours(said, of)));
                *work = Row::new(Said { value, span: work.span.clone() });
            }
        }
        for part in &mut record.parts {
            if let (Some(used), Some(of)) = (part.used.for_archive(), of(&part.span)) {
                let (mut value, mut used) = (part.value.clone(), used.clone());
                used.value.0 /= f64::from(u32::try_from(of).unwrap_or(1).max(1));
                value.used = Private::new(Some(used));
                *part = Row::new(Said { value, span: part.span.clone() });
            }
        }
        let mut costs = record.costs.for_archive().clone();
        for cost in &mut costs {
            if let Some(of) = of(&cost.span) {
                cost.value.amount.iter_mut().for_each(|amount| money(amount, of));
                cost.value.share.iter_mut().for_each(|share| share.value = Share(share.value.0 / of));
            }
        }
        record.costs = Private::new(costs);
        let mut found = record.found.for_archive().clone();
        if let Some(found) = &mut found
            && let Some(of) = of(&found.span)
        {
            found.value.paid.iter_mut().for_each(|paid| money(paid, of));
        }
        record.found = Private::new(found);
    }

    /// Gives its pieces the lines of its day book: all of them, or those that a line names. A line that names one is that
    /// piece's own, and none of the set's.
    pub(super) fn share_lines(&self, lines: &mut Vec<Jotting>, pieces: &mut [Piece]) {
        lines.retain(|line| {
            let said = |piece: &&Member| piece.names().any(|name| has_words(line.words.for_archive(), name));
            let named: Vec<&Member> = self.pieces.iter().filter(said).collect();
            let (to, between) = match named.len() {
                0 => (self.pieces.iter().collect(), self.of as usize),
                several => (named.clone(), several),
            };
            for (place, member) in to.into_iter().enumerate() {
                if let Some(piece) = pieces.iter_mut().find(|piece| piece.folder == member.folder) {
                    piece.jottings.push(match between {
                        1 => day_book::without_name(line, member.names()),
                        _ => line.shared(place, between),
                    });
                }
            }
            named.is_empty()
        });
    }

    /// Gives one of its pieces the photographs and the story of the set, where it has none of that name of its own.
    pub(super) fn lend(self: &Arc<Set>, place: usize, set: &Piece, piece: &mut Piece, shares: &Shares) {
        let without = shares.without.borrow();
        let lent = set.photos.iter().filter(|file| !piece.photos.contains(file) && !without.contains(*file));
        let photos: BTreeSet<String> = lent.cloned().collect();
        piece.photos.extend(photos.iter().cloned());
        piece.photos.sort();
        let story = piece.story.said().trim().is_empty() && !set.story.said().trim().is_empty();
        if story {
            piece.story = set.story.clone();
        }
        piece.partial |= set.partial;
        for (table, count) in &set.lacks {
            let known = piece.lacks.entry(*table).or_default();
            // The file's own keys count as one, wherever they stand.
            *known = if *table == HEAD { 1 } else { *known + count };
        }
        let rows = shares.by_row.borrow().clone();
        piece.set = Some(OfSet { set: Arc::clone(self), place, rows, photos, story });
    }
}

/// Whether words hold a name as words of their own; a hyphen and a space are alike.
fn has_words(words: &str, name: &str) -> bool {
    let plain = |text: &str| -> String {
        let letter =
            |c: char| if c.is_alphanumeric() { c.to_lowercase().to_string() } else { " ".to_owned() };
        let plain: String = text.chars().map(letter).collect();
        format!(" {} ", plain.split_whitespace().collect::<Vec<_>>().join(" "))
    };
    let name = plain(name);
    !name.trim().is_empty() && plain(words).contains(&name)
}

/// Says of a key that a row does not have where it is meant to name pieces of the set.
pub(super) fn tell_of_piece(found: &mut Diagnostic) {
    let key = found.message.rsplit_once("has no key `").and_then(|(_, key)| key.strip_suffix('`'));
    if found.code == &UNKNOWN_KEY && key.is_some_and(|key| nearest(key, [PIECE]).is_some()) {
        found.help = format!("write `{PIECE}`");
    }
}

/// The rows under a key of a list, which may be one written without brackets.
fn rows<'d>(value: &Spanned<DeValue<'d>>) -> Vec<Spanned<DeValue<'d>>> {
    match value.get_ref() {
        DeValue::Array(list) => list.iter().cloned().collect(),
        _ => vec![value.clone()],
    }
}

/// The names that a row says, with where; none for what is no text.
fn names(said: &Spanned<DeValue<'_>>) -> Vec<(Option<String>, Range<usize>)> {
    let name = |value: &Spanned<DeValue<'_>>| {
        let name = match value.get_ref() {
            DeValue::Integer(number) => Some(number.as_str().to_owned()),
            other => other.as_str().map(str::to_owned),
        };
        (name, value.span())
    };
    match said.get_ref() {
        DeValue::Array(list) if !list.is_empty() => list.iter().map(name).collect(),
        _ => vec![name(said)],
    }
}

/// A row without what says of which pieces it is.
fn without_piece<'d>(row: &Spanned<DeValue<'d>>) -> Spanned<DeValue<'d>> {
    match row.get_ref() {
        DeValue::Table(table) if table.contains_key(PIECE) => {
            let kept = table.iter().filter(|(key, _)| key.get_ref() != PIECE);
            let kept: DeTable<'d> = kept.map(|(key, value)| (key.clone(), value.clone())).collect();
            Spanned::new(row.span(), DeValue::Table(kept))
        }
        _ => row.clone(),
    }
}

fn id_of(row: &Spanned<DeValue<'_>>) -> Option<String> {
    Some(row.get_ref().as_table()?.get("id")?.get_ref().as_str()?.trim().to_owned())
}

/// Keys by which a row names rows of a list, and whether it says nothing without them.
const NAMED: [(&str, &str, bool); 13] = [
    ("mends", "finding", false),
    ("leaves", "finding", false),
    ("finding", "finding", true),
    ("part", "part", true),
    ("parts", "part", true),
    ("only", "part", true),
    ("under", "part", false),
    ("behind", "part", false),
    ("fixed-by", "part", false),
    ("redoes", "work", false),
    ("follows", "work", false),
    ("work", "work", true),
    ("patch", "patch", true),
];

/// A row of the set without what it names of other pieces alone; `None` where nothing else is left of it.
fn trimmed<'d>(
    row: Spanned<DeValue<'d>>,
    gone: &BTreeMap<&str, BTreeSet<String>>,
) -> Option<Spanned<DeValue<'d>>> {
    let span = row.span();
    let inner = match row.into_inner() {
        DeValue::Array(list) => {
            let mut kept = DeArray::new();
            list.into_iter().filter_map(|row| trimmed(row, gone)).for_each(|row| kept.push(row));
            DeValue::Array(kept)
        }
        DeValue::Table(table) => {
            let mut kept = DeTable::new();
            for (key, value) in table {
                let named = NAMED.iter().find(|(name, ..)| *name == key.get_ref().as_ref());
                let Some((_, list, needed)) = named else {
                    if let Some(value) = trimmed(value, gone) {
                        kept.insert(key, value);
                    }
                    continue;
                };
                let is_gone = |name: &Spanned<DeValue<'_>>| {
                    name.get_ref().as_str().is_some_and(|name| gone[list].contains(name.trim()))
                };
                let names = rows(&value);
                if !names.iter().any(is_gone) {
                    kept.insert(key, value);
                    continue;
                }
                let mut left = DeArray::new();
                names.into_iter().filter(|name| !is_gone(name)).for_each(|name| left.push(name));
                match (left.iter().next().is_some(), needed) {
                    (true, _) => _ = kept.insert(key, Spanned::new(value.span(), DeValue::Array(left))),
                    (false, true) => return None,
                    (false, false) => {}
                }
            }
            DeValue::Table(kept)
        }
        single => single,
    };
    Some(Spanned::new(span, inner))
}

/// Whether a piece says a row of its set anew: one with the same id, or of the same photograph.
fn is_restated(row: &Spanned<DeValue<'_>>, own: &[Spanned<DeValue<'_>>]) -> bool {
    let called = |row: &Spanned<DeValue<'_>>| -> Option<String> {
        let table = row.get_ref().as_table()?;
        let called = table.get("id").or_else(|| table.get("file"))?;
        Some(called.get_ref().as_str()?.trim().to_owned())
    };
    called(row).is_some_and(|said| own.iter().any(|own| called(own).as_ref() == Some(&said)))
}

/// The parts that a record's own surfaces name.
fn parts_of_surfaces(own: &DeTable<'_>) -> BTreeSet<String> {
    let surfaces = own.get("surface").map(rows).unwrap_or_default();
    let parts = surfaces.iter().filter_map(|row| row.get_ref().as_table()?.get("parts"));
    parts.flat_map(names).filter_map(|(name, _)| name).collect()
}

/// A surface of the set without parts whose surface the piece tells by itself; `None` where no part is left.
fn without_parts<'d>(row: Spanned<DeValue<'d>>, told: &BTreeSet<String>) -> Option<Spanned<DeValue<'d>>> {
    let table = row.get_ref().as_table()?;
    let Some(parts) = table.get("parts") else { return Some(row) };
    let (mut left, mut fewer) = (DeArray::new(), false);
    for part in rows(parts) {
        match part.get_ref().as_str().is_some_and(|part| told.contains(part)) {
            true => fewer = true,
            false => left.push(part),
        }
    }
    if !fewer {
        return Some(row);
    }
    left.iter().next()?;
    let mut table = table.clone();
    let (span, key) = (parts.span(), table.iter().find(|(key, _)| key.get_ref() == "parts")?.0.clone());
    table.insert(key, Spanned::new(span, DeValue::Array(left)));
    Some(Spanned::new(row.span(), DeValue::Table(table)))
}

/// The numbers by which swatches may name a surface.
static COUNTS: LazyLock<Vec<String>> =
    LazyLock::new(|| (1..=2 * MOST_ELEMENTS).map(|count| count.to_string()).collect());

/// Lets swatches name their surfaces by the places that these have now: `of_set` are those of the set's, which come first.
fn count_surfaces_anew(whole: &mut DeTable<'_>, of_set: &[Option<usize>]) {
    let before_own = of_set.iter().flatten().count();
    let Some(swatches) = whole.get_mut("swatch") else { return };
    let span = swatches.span();
    let mut counted = DeArray::new();
    for row in rows(swatches) {
        let said = row.get_ref().as_table().and_then(|row| row.get("surface")).map(Spanned::get_ref);
        let said =
            said.and_then(|said| said.as_integer()?.as_str().parse::<usize>().ok()).filter(|said| *said > 0);
        let now = match said {
            None => {
                counted.push(row);
                continue;
            }
            Some(said) if row.span().start < BELOW => Some(said + before_own),
            Some(said) => of_set.get(said - 1).copied().unwrap_or(Some(said - 1)).map(|place| place + 1),
        };
        // A colour of a surface that the piece does not have is none of its.
        let Some(now) = now else { continue };
        let (at, DeValue::Table(mut table)) = (row.span(), row.into_inner()) else { continue };
        if let Some(number) = COUNTS.get(now - 1).and_then(|text| DeValue::parse(text).ok())
            && let Some(said) = table.get_mut("surface")
        {
            *said = Spanned::new(said.span(), number.into_inner());
        }
        counted.push(Spanned::new(at, DeValue::Table(table)));
    }
    *swatches = Spanned::new(span, DeValue::Array(counted));
}

/// The schema of a record as people type it: with what a set's record says of its rows, and without what a piece has from
/// its set.
pub fn typed_schema() -> schemars::Schema {
    let mut schema = super::record_schema().to_value();
    let kinds: Vec<String> = schema["properties"]
        .as_object()
        .into_iter()
        .flatten()
        .filter_map(|(_, of)| {
            let kind = of["items"]["$ref"].as_str()?;
            Some(kind.trim_start_matches("#/$defs/").to_owned())
        })
        .collect();
    for kind in kinds {
        if let Some(properties) = schema["$defs"][&kind]["properties"].as_object_mut() {
            properties.insert(PIECE.to_owned(), serde_json::json!({
                "description": "In the record of a set, the pieces that the row is about, by number or folder; all of them if not said.",
                "anyOf": [{ "type": "string" }, { "type": "array", "items": { "type": "string" } }],
            }));
        }
    }
    if let Some(whole) = schema.as_object_mut() {
        let required = whole.remove("required").unwrap_or_default();
        whole.insert(
            "anyOf".to_owned(),
            serde_json::json!([
                { "required": required },
                { "required": ["number", "set"] },
            ]),
        );
    }
    schema.try_into().expect("a schema with more in it is one")
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::record;

    const SET: &str = r#"
title = "Ladder-back chair"
number = "CH"
kind = "seating/chair"
set-of = 3
found = { paid = 60.00 }
part = [{ id = "seat", name = "Seat", standing = "original" }, { id = "leg", name = "Back leg", standing = "original" }]
finding = [{ id = "f-dirt", seen = "dirt" }, { id = "f-split", part = "leg", seen = "split", piece = "CH-3" }]
work = [
  { did = "washed them", hours = 3 },
  { did = "glued the leg", mends = "f-split", hours = 1, piece = ["chair-3"] },
  { did = "waxed two", hours = 1, piece = ["CH-1", "ch-2"] },
]
cost = [{ what = "wax", amount = 9.00 }]
lesson = [{ text = "Number the seats." }]
[[surface]]
parts = ["seat", "leg"]
[[surface]]
parts = ["leg"]
[[swatch]]
photo = "during.jpg"
target = [0.1, 0.1, 0.1, 0.1]
result = [0.3, 0.1, 0.1, 0.1]
surface = 2
"#;

    fn chair(number: usize, more: &str) -> (String, String) {
        let record = format!("set = \"chairs\"\nnumber = \"CH-{number}\"\n{more}");
        (format!("pieces/chair-{number}/record.toml"), record)
    }

    /// The workshop with the set, three chairs of which the second says more, and other files.
    fn read(set: &str, second: &str, others: &[(&str, &str)]) -> (Folder, Vec<Diagnostic>) {
        let mut files = vec![
            ("workshop.toml".to_owned(), "name = \"W\"".to_owned()),
            ("pieces/chairs/record.toml".to_owned(), set.to_owned()),
            chair(1, ""),
            chair(2, second),
            chair(3, ""),
        ];
        files.extend(others.iter().map(|(path, text)| ((*path).to_owned(), (*text).to_owned())));
        record::read(&Tree::of(files))
    }

    fn told(problems: &[Diagnostic], text: &str) -> Vec<String> {
        let line = |problem: &Diagnostic| {
            let at = problem.place.span.map_or(0, |(start, _)| crate::diag::line_and_column(text, start).0);
            let path = problem.place.path.trim_start_matches("pieces/").trim_end_matches("/record.toml");
            format!("{path} {at} {}: {} [{}]", problem.code.name, problem.message, problem.help)
        };
        problems.iter().map(line).collect()
    }

    fn record(folder: &Folder, number: usize) -> &Record {
        folder.pieces[number - 1].record.as_ref().unwrap()
    }

    #[test]
    fn a_set_is_no_piece_and_each_of_its_pieces_has_what_it_says() {
        let (folder, problems) = read(SET, "", &[]);
        assert_eq!(problems, []);
        let folders = |pieces: &[Arc<Piece>]| -> Vec<String> {
            pieces.iter().map(|piece| piece.folder.clone()).collect()
        };
        assert_eq!(folders(&folder.pieces), ["chair-1", "chair-2", "chair-3"]);
        assert_eq!(folders(&folder.sets), ["chairs"]);
        for number in 1..=3 {
            let record = record(&folder, number);
            assert_eq!(*record.number.value.0, format!("CH-{number}"));
            assert_eq!(*record.title.value.0, "Ladder-back chair".to_owned());
            assert_eq!(record.parts.len(), 2);
            assert_eq!(record.findings.len(), if number == 3 { 2 } else { 1 });
        }
    }

    #[test]
    fn hours_and_costs_are_divided_and_come_to_the_whole() {
        let (folder, _) = read(SET, "work = [{ did = \"capped a foot\", hours = 0.5 }]\n", &[]);
        let hours = |number| -> Vec<String> {
            let works = record(&folder, number).works.iter();
            let hours = |work: &Row<record::Work>| {
                let hours = work.hours.for_archive().as_ref().unwrap();
                hours.value.count().normalize().to_string()
            };
            works.map(hours).collect()
        };
        assert_eq!(
            [hours(1), hours(2), hours(3)],
            [vec!["1", "0.5"], vec!["1", "0.5", "0.5"], vec!["1", "1"]]
        );
        let record = record(&folder, 1);
        assert_eq!(record.costs.for_archive()[0].amount.as_ref().unwrap().0.normalize().to_string(), "3");
        let found = record.found.for_archive().as_ref().unwrap();
        assert_eq!(found.paid.as_ref().unwrap().0.normalize().to_string(), "20");
        let lessons = [1, 2, 3]
            .map(|number| super::Record::clone(self::record(&folder, number)).lessons.for_archive().len());
        assert_eq!(lessons, [1, 0, 0]);
    }

    #[test]
    fn what_a_piece_says_itself_goes_before() {
        let own = "title = \"Mended chair\"\npart = [{ id = \"seat\", name = \"Seat\", standing = \"new\" }]\n\
                   surface = [{ parts = \"leg\" }]\nswatch = [{ photo = \"own.jpg\", target = [0.1, 0.1, 0.1, 0.1], \
                   result = [0.3, 0.1, 0.1, 0.1], surface = 1 }]\n";
        let (folder, problems) = read(SET, own, &[]);
        assert_eq!(problems, []);
        let second = record(&folder, 2);
        assert_eq!(*second.title.value.0, "Mended chair".to_owned());
        let parts: Vec<(&str, &str)> =
            second.parts.iter().map(|part| (&*part.id.value.0, part.standing.word())).collect();
        assert_eq!(parts, [("leg", "original"), ("seat", "new")]);
        // The set's surfaces keep the seat alone; the one of the leg alone is gone, and its colour with it.
        let surfaces: Vec<Vec<&str>> = second
            .surfaces
            .iter()
            .map(|surface| surface.parts.iter().map(|part| &*part.value.0).collect())
            .collect();
        assert_eq!(surfaces, [vec!["seat"], vec!["leg"]]);
        let swatches: Vec<(&str, u32)> = second
            .swatches
            .iter()
            .map(|swatch| (&*swatch.photo.value.0, swatch.surface.as_ref().unwrap().0))
            .collect();
        assert_eq!(swatches, [("own.jpg", 2)]);
        assert_eq!(record(&folder, 1).swatches[0].surface.as_ref().unwrap().0, 2);
    }

    /// A photograph of all, a work on all, and a part that one alone has: each piece has what of them is its.
    #[test]
    fn what_a_shared_row_names_of_another_piece_is_left_out() {
        let set = SET.replace("did = \"washed them\",", "did = \"washed them\", mends = [\"f-dirt\", \"f-split\"],").replace(
            "part = [{ id = \"seat\"",
            "part = [{ id = \"pad\", name = \"Pad\", standing = \"later\", piece = \"CH-2\" }, { id = \"seat\"",
        ) + "steps = [{ clean = \"soap\" }, { clean = \"spirit\", only = \"pad\" }]\n\
             [[fixing]]\npart = \"pad\"\nkind = \"tack\"\nstanding = \"later\"\n\
             [[photo]]\nfile = \"all.jpg\"\nmarks = [{ at = [0.1, 0.1], finding = \"f-split\" }, { at = [0.2, 0.2], finding = \"f-dirt\" }]\n";
        let set =
            set.replace("surface = 2\nsteps", "surface = 2\n[[surface]]\nparts = [\"seat\", \"pad\"]\nsteps");
        let (folder, problems) = read(&set, "", &[]);
        assert_eq!(problems, []);
        let told = |number: usize| {
            let record = record(&folder, number);
            let mends: Vec<&str> = record.works[0].mends.iter().map(|id| &*id.value.0).collect();
            let last = record.surfaces.last().unwrap();
            let sizes =
                [last.parts.len(), last.steps.len(), record.fixings.len(), record.photos[0].marks.len()];
            (mends.join(" "), sizes)
        };
        assert_eq!(told(1), ("f-dirt".to_owned(), [1, 1, 0, 1]));
        assert_eq!(told(2), ("f-dirt".to_owned(), [2, 2, 1, 1]));
        assert_eq!(told(3), ("f-dirt f-split".to_owned(), [1, 1, 0, 2]));
    }

    #[test]
    fn photographs_and_the_story_are_lent_where_the_piece_has_none() {
        let set = format!("{SET}\n[[photo]]\nfile = \"split.jpg\"\npiece = \"CH-3\"\nprivate = true\n");
        let files = [
            ("pieces/chairs/photos/all.jpg", "x"),
            ("pieces/chairs/photos/split.jpg", "x"),
            ("pieces/chairs/photos/front.jpg", "x"),
            ("pieces/chair-2/photos/front.jpg", "x"),
            ("pieces/chairs/story.md", "Six from one house."),
            ("pieces/chair-3/story.md", "The third."),
        ];
        let (folder, problems) = read(&set, "", &files);
        assert_eq!(problems, []);
        let photos = |number: usize| {
            let piece = &folder.pieces[number - 1];
            piece.photos.iter().map(|file| piece.photo_path(file)).collect::<Vec<_>>()
        };
        assert_eq!(photos(1), ["pieces/chairs/photos/all.jpg", "pieces/chairs/photos/front.jpg"]);
        assert_eq!(photos(2), ["pieces/chairs/photos/all.jpg", "pieces/chair-2/photos/front.jpg"]);
        assert_eq!(photos(3).len(), 3);
        assert_eq!(folder.pieces[2].public_photographs(), ["all.jpg", "front.jpg"]);
        let stories = [1, 3].map(|number: usize| folder.pieces[number - 1].story_path());
        assert_eq!(stories, ["pieces/chairs/story.md", "pieces/chair-3/story.md"]);
    }

    #[test]
    fn lines_of_its_day_book_are_shared_out() {
        let lines = "2026-03-01 washed them all, 50 min\n2026-03-02 chair-3: glued the leg, 30 min\n\
                     2026-03-03 waxed CH-1 and CH-2, 21 min\n";
        let of_shop = "2026-03-04 CH: dusted the lot, 9 min\n2026-03-04 Ladder-back chair: swept up\n";
        let (folder, problems) =
            read(SET, "", &[("pieces/chairs/daybook.txt", lines), ("daybook.txt", of_shop)]);
        assert_eq!(problems, []);
        let jotted = |number: usize| -> Vec<(String, Option<u32>)> {
            let lines = folder.pieces[number - 1].jottings.iter();
            lines.map(|line| (line.words.for_archive().clone(), *line.minutes.for_archive())).collect()
        };
        let all = |minutes| ("washed them all, 50 min".to_owned(), Some(minutes));
        let (dusted, swept) = (("dusted the lot, 9 min".to_owned(), Some(3)), ("swept up".to_owned(), None));
        let two = |minutes| ("waxed CH-1 and CH-2, 21 min".to_owned(), Some(minutes));
        assert_eq!(jotted(1), [all(17), two(11), dusted.clone(), swept.clone()]);
        assert_eq!(jotted(2), [all(17), two(10), dusted.clone(), swept.clone()]);
        let own = ("glued the leg, 30 min".to_owned(), Some(30));
        assert_eq!(jotted(3), [all(16), own, dusted, swept]);
        assert!(!folder.pieces[2].jottings[1].of_set && folder.pieces[2].jottings[0].of_set);
        assert_eq!(folder.sets[0].jottings.len(), 3, "a line of some pieces is not the set's");
    }

    #[test]
    fn what_is_wrong_with_a_set_is_told_where_it_stands() {
        let set = SET.replace("set-of = 3", "set-of = 4").replace("piece = \"CH-3\"", "piece = \"CH-33\"");
        let set = format!("hours = 12\nhandover = {{ price = 300 }}\n{set}");
        let (_, problems) = read(&set, "", &[]);
        assert_eq!(
            told(&problems, &set),
            [
                "chairs 7 set-incomplete: this is a set of 4, and 3 records are of it [give each piece a folder with a record \
                 that says\nset = \"chairs\"\nnumber = \"…\"]",
                "chairs 10 unknown-piece-of-set: the set has no piece `CH-33` [it has CH-1, CH-2, CH-3]",
                "chairs 2 of-one-piece-alone: `handover` is of one piece, and this record is of 4 [write it in the record of the \
                 piece that it is about]",
                "chairs 1 of-one-piece-alone: `hours` is of one piece, and this record is of 4 [write them on the rows of \
                 [[work]], or in the record of each piece]",
            ]
        );
        let few = SET.replace("set-of = 3", "set-of = 2");
        assert!(
            told(&read(&few, "", &[]).1, &few)[0]
                .starts_with("chairs 5 set-overfull: this is a set of 2, and 3")
        );
        // A record that names no set is read by itself, and says so.
        let stray = "title = \"Stool\"\nkind = \"seating/stool\"\nnumber = \"S-1\"\nset = \"chiars\"\n";
        let (folder, problems) = read(SET, "", &[("pieces/stool/record.toml", stray)]);
        assert_eq!(
            told(&problems, stray),
            ["stool 4 unknown-set: there is no pieces/chiars [write `set = \"chairs\"`]"]
        );
        assert!(folder.found_in("stool").is_some_and(|piece| piece.set.is_none()));
        let alone = stray.replace("chiars", "stool");
        let (_, problems) = read(SET, "", &[("pieces/stool/record.toml", &alone)]);
        assert!(
            told(&problems, &alone)[0]
                .starts_with("stool 4 unknown-set: `pieces/stool/record.toml` is of no set")
        );
    }

    #[test]
    fn a_mistake_of_the_set_is_told_once_and_is_missing_in_each_piece() {
        let set = SET.replace("standing = \"original\" }]", "standing = \"orignal\" }]");
        let (folder, problems) = read(&set, "", &[]);
        let told = told(&problems, &set);
        assert_eq!(told.len(), 1, "{told:?}");
        assert!(told[0].starts_with("chairs 7 unknown-word"), "{told:?}");
        for piece in &folder.pieces {
            assert!(piece.partial);
            assert_eq!(piece.lacks.get("[[part]]"), Some(&1), "{:?}", piece.lacks);
        }
        // A set that cannot be read leaves its pieces unread.
        let (folder, problems) = read("set-of = 3\ntitle = 5\n", "", &[]);
        assert!(folder.pieces.iter().all(|piece| piece.record.is_none()), "{problems:?}");
    }

    #[test]
    fn broken_toml_in_either_record_costs_its_own_rows() {
        let (folder, problems) = read(&format!("{SET}\n[[open]\nwhat = = \n"), "[[undone]]\nwhat = \n", &[]);
        assert!(problems.iter().any(|problem| problem.place.path == "pieces/chairs/record.toml"));
        assert!(problems.iter().any(|problem| problem.place.path == "pieces/chair-2/record.toml"));
        assert_eq!(record(&folder, 1).works.len(), 2);
        assert!(problems.iter().all(|problem| problem.place.span.is_none_or(|(start, _)| start < BELOW)));
    }

    #[test]
    fn places_lead_back_to_the_record_of_the_set_and_are_told_once() {
        let (folder, _) = read(SET, "", &[]);
        let span = record(&folder, 1).works[0].span.clone();
        assert!(span.start >= BELOW);
        let at = |number: usize| {
            Diagnostic::new(
                &UNKNOWN_SET,
                Place::at(&format!("pieces/chair-{number}/record.toml"), &span),
                "it",
            )
        };
        let mut told = vec![at(1), at(2), at(3)];
        settle(&folder, &mut told);
        let (start, end) = told[0].place.span.unwrap();
        assert_eq!((told.len(), &*told[0].place.path), (1, "pieces/chairs/record.toml"));
        assert!(SET[start..end].contains("washed them"), "{}", &SET[start..end]);
        assert!(folder.pieces.iter().all(|piece| piece.is_read_from(&told[0].place)));
    }

    #[test]
    fn a_piece_is_sealed_with_what_it_has_from_its_set() {
        let files = |set: &str| {
            let mut files = vec![
                ("workshop.toml".to_owned(), "name = \"W\"".to_owned()),
                ("pieces/chairs/record.toml".to_owned(), set.to_owned()),
            ];
            files.extend([chair(1, ""), chair(2, ""), chair(3, "")]);
            Tree::of(files)
        };
        let sealed = |set: &str, place: usize| {
            let tree = files(set);
            record::today_for_buyer(&tree, &record::read(&tree).0.pieces[place]).unwrap().toml("")
        };
        let first = sealed(SET, 0);
        assert!(
            first.contains("washed them") && first.contains("CH-1") && first.contains("set-of = 3"),
            "{first}"
        );
        assert!(
            !first.contains("glued the leg") && !first.contains("piece =") && !first.contains("hours"),
            "{first}"
        );
        assert!(sealed(SET, 2).contains("glued the leg"));
        assert_ne!(first, sealed(&SET.replace("washed", "scrubbed"), 0));
    }
}
