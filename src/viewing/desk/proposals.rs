//! What the day book proposes, beside the record.

use std::sync::Arc;

use serde::Serialize;

use super::edited::{Editing, in_words};
use super::form::{self, Field, Maker, text_of};
use super::given::{Faults, Given, Giver};
use super::place::Place;
use super::{Open, pictures};
use crate::daybook::{Bench, Waiting, waiting};
use crate::fields::{Key, Sort};
use crate::record::{self, Jotting, Record};
use crate::source::Tree;
use crate::trade::Trade;
use crate::viewing::address::encoded;
use crate::viewing::entering::{Unplaced, entering, placed, surfaces};
use crate::viewing::entry::entered;
use crate::viewing::proposal::Proposal;
use crate::viewing::shown::PieceShown;
use crate::write::fingerprint;

/// A line that waits.
#[derive(Debug, Serialize)]
pub(super) struct LineShown {
    line: String,
    rows: Vec<RowShown>,
    /// The photographs of its day: file, address and picker.
    photographs: Vec<(String, String, String)>,
}

/// A row that it proposes.
#[derive(Debug, Serialize)]
struct RowShown {
    /// The row as TOML.
    toml: String,
    /// What it is called in addresses.
    name: String,
    /// Its form, where it is open as one.
    form: Option<Asked>,
    /// Whether it can be opened as one.
    opens: bool,
    /// Whether it leaves nothing open.
    sure: bool,
    /// Which table it is of.
    of: String,
    /// What it would say, each key with its value.
    pairs: Vec<(String, String)>,
    /// The words of the line that it rests on.
    words: String,
    unsure: Vec<String>,
    /// The surfaces that it may be on, where the line does not say.
    surfaces: Vec<String>,
    /// Parts that the record does not have, as the line calls them, and as addresses have that.
    missing: Vec<(String, String)>,
    /// Why it cannot be entered.
    why: String,
}

/// The form of a proposal.
#[derive(Debug, Serialize)]
struct Asked {
    fields: Vec<Field>,
    more: bool,
    wrong: usize,
}

/// What a proposal is called in addresses: it is known by its line and its row.
pub(super) fn row_name(line: &str, row: &str) -> String {
    fingerprint(format!("{line}\n{}", row.trim()).as_bytes()).chars().take(16).collect()
}

fn lines(open: &Open, trade: &Trade) -> Vec<Waiting> {
    let Some(record) = &open.piece.record else { return Vec::new() };
    let bench = Bench::of(trade, Some(record)).stocked(&open.folder.stock.items);
    waiting(&open.piece, record, &bench)
}

/// What waits, line by line; the row of this name is open as a form.
pub(super) fn shown(
    open: &Open,
    piece: &PieceShown,
    maker: &Maker<'_>,
    (taken, given, faults): (&str, &Given, &Faults),
) -> Vec<LineShown> {
    let Some(record) = &open.piece.record else { return Vec::new() };
    let typed = (!given.values.is_empty()).then_some(&given.values);
    let line = |line: Waiting| {
        let row = |proposal: &crate::daybook::Proposal| {
            // Whether the record would then have a mistake is told when it is asked for: finding out takes its time.
            let made = placed(record, &line.jotting, proposal, None);
            let made = made.and_then(|entry| entered(&open.text, &entry).map_err(Unplaced::from));
            let (surfaces, why) = match made {
                Ok(_) => (Vec::new(), String::new()),
                Err(Unplaced::WhichSurface(names)) if !names.is_empty() => (names, String::new()),
                Err(why) => (Vec::new(), why.to_string()),
            };
            let toml = proposal.toml();
            let name = row_name(&line.jotting.name_of_line(), &toml);
            let editing = Editing::of(maker.root, record, &line.jotting, proposal);
            let form = editing.as_ref().filter(|_| taken == name).map(|editing| {
                let fields = editing.fields(maker, typed, faults);
                let more = fields.iter().any(|field| !field.usual);
                Asked { fields, more, wrong: faults.len() }
            });
            RowShown {
                toml,
                name,
                form,
                opens: editing.is_some(),
                sure: is_sure(proposal),
                of: match proposal.table {
                    "" => "the record itself".to_owned(),
                    "surface.steps" => "a step on a surface".to_owned(),
                    table => table.to_owned(),
                },
                pairs: proposal.keys.iter().map(|(key, value)| said(maker, proposal, key, value)).collect(),
                words: proposal.words.clone(),
                unsure: proposal.unsure.clone(),
                surfaces,
                missing: proposal.lacks().into_iter().map(|part| (part.to_owned(), encoded(part))).collect(),
                why,
            }
        };
        LineShown {
            line: line.jotting.name_of_line(),
            rows: line.proposals.iter().map(row).collect(),
            photographs: pictures::of_day(piece, line.jotting.on),
        }
    };
    lines(open, maker.trade).into_iter().map(line).collect()
}

/// What a proposal says at a key: what the key asks, and the value without its quotation marks; rows by their names.
fn said(
    maker: &Maker<'_>,
    proposal: &crate::daybook::Proposal,
    name: &'static str,
    value: &toml_edit::Value,
) -> (String, String) {
    let table = if proposal.table == "surface.steps" { "surface.0.steps" } else { proposal.table };
    let place = Place::of(table).or_else(|| Place::of(&format!("{table}.new")));
    let key = place.and_then(|place| place.keys.iter().find(|key| key.name == name));
    let Some(key) = key else { return (name.to_owned(), in_words(value)) };
    let names = match key.about.sort {
        Sort::Row(list) => maker.names(list),
        _ => Vec::new(),
    };
    let text = text_of(key, &value.clone().into()).unwrap_or_else(|| in_words(value));
    let named = |line: &str| {
        let known = names.iter().find(|(id, _)| id == line);
        known.map_or_else(|| line.to_owned(), |(_, words)| words.clone())
    };
    (form::asked(key.means).0, text.lines().map(named).collect::<Vec<_>>().join(", "))
}

/// The keys that the form of a row asks for, and where they stand in the schema.
pub(super) fn asked(open: &Open, maker: &Maker<'_>, taken: &str) -> Option<(Place, Vec<&'static Key>)> {
    let record = open.piece.record.as_ref().filter(|_| !taken.is_empty())?;
    lines(open, maker.trade).into_iter().find_map(|line| {
        let named =
            |row: &&crate::daybook::Proposal| row_name(&line.jotting.name_of_line(), &row.toml()) == taken;
        let proposal = line.proposals.iter().find(named)?;
        let editing = Editing::of(maker.root, record, &line.jotting, proposal)?;
        Some((editing.place, editing.keys))
    })
}

/// One of the rows that wait, with its line.
fn waiting_row(
    open: &Open,
    trade: &Trade,
    line: &str,
    row: &str,
) -> Result<(Jotting, crate::daybook::Proposal), String> {
    let waits = lines(open, trade).into_iter().filter(|known| known.jotting.name_of_line() == line);
    let row = row.trim();
    let mut found = waits.flat_map(|known| {
        let mine: Vec<_> =
            known.proposals.iter().filter(|proposal| proposal.toml().trim() == row).cloned().collect();
        mine.into_iter().map(move |proposal| (known.jotting.clone(), proposal))
    });
    found.next().ok_or_else(|| "this line does not propose that any more; look at it again".to_owned())
}

fn unread() -> String {
    "the record cannot be read at the moment".to_owned()
}

/// The record with one of the rows that wait.
///
/// # Errors
/// Why it cannot be entered, in words.
pub(super) fn taken(
    open: &Open,
    trade: &Trade,
    line: &str,
    row: &str,
    surface: Option<usize>,
) -> Result<Proposal, String> {
    let record = open.piece.record.as_ref().ok_or_else(unread)?;
    let surface = surface.filter(|surface| *surface < surfaces(record).len());
    let (jotting, proposal) = waiting_row(open, trade, line, row)?;
    entering(&open.text, record, &jotting, &proposal, surface).map_err(|why| match why {
        Unplaced::WhichSurface(names) if names.is_empty() => {
            "the record has no surface yet; say with “Change it first” which parts it is on".to_owned()
        }
        why => why.to_string(),
    })
}

/// The record with one of the rows that wait as somebody has changed it; nothing where something is wrong with a field,
/// which is told among the faults.
///
/// # Errors
/// Why it cannot be entered, in words.
pub(super) fn edited(
    open: &Open,
    maker: &Maker<'_>,
    (line, row, given): (&str, &str, &Given),
    faults: &mut Faults,
) -> Result<Option<Proposal>, String> {
    let record = open.piece.record.as_ref().ok_or_else(unread)?;
    let (jotting, proposal) = waiting_row(open, maker.trade, line, row)?;
    let editing = Editing::of(maker.root, record, &jotting, &proposal);
    let editing = editing.ok_or("nothing can be entered of this line yet")?;
    let currency = open.folder.workshop.as_ref().and_then(|workshop| workshop.currency.as_ref());
    let list = editing.place.key().map_or("", |key| key.name);
    let mut giver = Giver {
        given,
        currency: currency.map(|currency| currency.value.0.as_str()),
        taken: maker.names(list).into_iter().map(|(id, _)| id).collect(),
        faults: Faults::new(),
    };
    let entry = editing.entry(&mut giver);
    faults.extend(giver.faults);
    let Some(entry) = entry else { return Ok(None) };
    let text = entered(&open.text, &entry).map_err(|why| why.to_string())?;
    Proposal::between(&open.text, text).map(Some).map_err(|why| why.to_string())
}

impl LineShown {
    /// How many of its rows leave nothing open.
    pub(super) fn sure(&self) -> usize {
        self.rows.iter().filter(|row| row.sure).count()
    }
}

fn is_sure(proposal: &crate::daybook::Proposal) -> bool {
    proposal.is_sure() && proposal.lacks().is_empty()
}

/// The record with all of the rows that wait and leave nothing open, but for those that it does not take.
///
/// # Errors
/// Why nothing is entered, in words.
pub(super) fn all_sure(open: &Open, trade: &Trade) -> Result<Option<Proposal>, String> {
    let mut record = Arc::clone(open.piece.record.as_ref().ok_or_else(unread)?);
    let mut text = open.text.clone();
    for line in lines(open, trade) {
        for proposal in line.proposals.iter().filter(|proposal| is_sure(proposal)) {
            let Ok(entered) = entering(&text, &record, &line.jotting, proposal, None) else { continue };
            // Where the next row goes follows from what the record then says.
            let Some(read) = read_again(open, &entered.text) else { continue };
            (text, record) = (entered.text, read);
        }
    }
    Ok((text != open.text).then(|| Proposal::back(&open.text, text)))
}

/// The piece's record, had it this text.
fn read_again(open: &Open, text: &str) -> Option<Arc<Record>> {
    let tree = Tree::of([("workshop.toml", "name = \"W\""), (open.piece.record_path().as_str(), text)]);
    record::read(&tree).0.pieces.into_iter().next()?.record.clone()
}
