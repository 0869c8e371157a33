//! The page of a piece's record: its sections from the schema, forms for its entries, and what a form would change.
//!
//! - `order`, `place`, `words` say which keys there are, in which order, and which words they take; `form` and `sheet`
//!   make the page of them.
//! - `given` makes changes of what was typed; `splice` puts one into the text of the record, and `sound` lets it do so
//!   where lines of it are no TOML.
//! - `proposals` are the rows that the day book proposes, and `edited` makes a form of one; `pictures` has the photographs,
//!   what is marked on them and of which stage they are.
//! - A change is shown before it is written, is written only as it was shown, and can be undone.

mod edited;
mod form;
mod given;
mod order;
mod pictures;
mod place;
mod proposals;
mod request;
mod sheet;
mod sound;
mod splice;
mod words;

#[cfg(test)]
mod tests;

use std::collections::BTreeMap;
use std::path::Path;
use std::sync::{Arc, Mutex, PoisonError};

use serde::Serialize;
use toml_edit::{Document, Table};

use super::address::encoded;
use super::answer::Answer;
use super::edit::{Refused, added};
use super::lines::Line;
use super::page;
use super::proposal::Proposal;
use super::shown::{Judged, PieceShown, Shown, Todo};
use crate::diag::{Diagnostic, line_and_column};
use crate::record::{self, Folder, PhotoStage, Piece};
use crate::trade::Trade;
use crate::write::{fingerprint, replace};
use form::{Doubt, Maker};
use given::{Faults, Given, Giver};
use pictures::{Day, Pictures};
use place::Place;
use proposals::LineShown;
use request::{Deed, Request};
use sheet::{Drawer, Group, Opened, Words, row_print};
use sound::Sound;
use splice::changed;
pub(super) use splice::without_key;

/// The address of the pages below the front page.
pub(super) const DESK: &str = "viewing/desk";

/// How many changes of a record can be undone, one after the other.
const MOST_UNDONE: usize = 50;

/// What was written since the viewing began, the latest last, by the piece's folder.
#[derive(Debug, Default)]
pub(super) struct Written(Mutex<BTreeMap<String, Vec<Undo>>>);

/// A change that was written.
#[derive(Debug, Clone)]
struct Undo {
    /// The record before it.
    before: String,
    /// The fingerprint of the record after it.
    after: String,
}

impl Written {
    /// The last change, if the record is as it left it.
    fn last(&self, folder: &str, now: &str) -> Option<Undo> {
        let written = self.0.lock().unwrap_or_else(PoisonError::into_inner);
        written.get(folder)?.last().filter(|undo| undo.after == now).cloned()
    }

    fn note(&self, folder: &str, undo: Undo) {
        let mut written = self.0.lock().unwrap_or_else(PoisonError::into_inner);
        let mine = written.entry(folder.to_owned()).or_default();
        // What was changed elsewhere in between cannot be undone from here.
        if mine.last().is_some_and(|last| last.after != fingerprint(undo.before.as_bytes())) {
            mine.clear();
        }
        mine.push(undo);
        if mine.len() > MOST_UNDONE {
            mine.remove(0);
        }
    }

    fn forget_last(&self, folder: &str) {
        let mut written = self.0.lock().unwrap_or_else(PoisonError::into_inner);
        written.entry(folder.to_owned()).or_default().pop();
    }
}

/// What the pages are made from.
pub(super) struct Room<'a> {
    /// The workshop's folder.
    pub(super) root: &'a Path,
    /// The path of the front page.
    pub(super) home: &'a str,
    /// What forms send along.
    pub(super) token: &'a str,
    pub(super) shown: &'a Shown,
    pub(super) written: &'a Written,
}

/// A record as it lies on the disk now.
struct Open {
    folder: Folder,
    piece: Arc<Piece>,
    text: String,
    print: String,
    problems: Vec<Diagnostic>,
}

/// The page.
#[derive(Debug, Serialize)]
struct Desk {
    way: Way,
    verdict: String,
    keeps: Vec<Missing>,
    besides: String,
    helps: Vec<Missing>,
    groups: Vec<Group>,
    /// What is wrong that belongs to no entry.
    doubts: Vec<Doubt>,
    /// What else is told of it, and is no more than a hint.
    hints: Vec<Doubt>,
    broken: Vec<Broken>,
    /// Why nothing can be written.
    stuck: String,
    lines: Vec<LineShown>,
    /// How many rows of them leave nothing open.
    sure: usize,
    days: Vec<Day>,
    stages: Vec<&'static str>,
    /// How many photographs may be of a stage that nobody has said.
    guesses: usize,
    lists: Vec<Words>,
    change: Option<Change>,
    /// The row of the day book that the change enters.
    taken: Taken,
    /// Whether the last change can be undone.
    undo: bool,
    /// What was done.
    said: &'static str,
    /// What may be added next: one more of the same, and what comes after it in the order of a new record.
    again: String,
    next: Option<(String, String)>,
    /// Why something was not done.
    why: String,
}

/// Where links and forms of the page lead, and what forms send along.
#[derive(Debug, Serialize)]
struct Way {
    home: String,
    action: String,
    href: String,
    folder: String,
    token: String,
    /// The fingerprint of the record that the page shows.
    was: String,
}

/// What keeps the piece, or would improve its papers.
#[derive(Debug, Serialize)]
struct Missing {
    say: String,
    /// The place of the form that asks for it; empty where it is no key of the record.
    place: String,
    anchor: String,
    write: String,
}

/// Lines that are no TOML.
#[derive(Debug, Serialize)]
struct Broken {
    line: usize,
    text: String,
}

/// A row that the day book proposes, as the form sends it again.
#[derive(Debug, Default, Serialize)]
struct Taken {
    line: String,
    toml: String,
    surface: String,
}

/// A change that was not written yet.
#[derive(Debug, Serialize)]
struct Change {
    lines: Vec<Line>,
    was: String,
    becomes: String,
    /// The form whose button writes it.
    form: &'static str,
}

/// What came of a request that changes nothing yet.
#[derive(Default)]
struct Outcome {
    change: Option<Proposal>,
    form: &'static str,
    faults: Faults,
    why: String,
}

impl Room<'_> {
    /// The page that an address asks for.
    pub(super) fn page(&self, asked: &dyn Fn(&str) -> Option<String>) -> Answer {
        let folder = asked("piece").unwrap_or_default();
        let Some((piece, open)) = self.open(&folder) else { return self.no_piece() };
        let opened = asked("open").and_then(|place| Opened::of(&place));
        let said = match asked("said").as_deref() {
            Some("written") => "Written into the record.",
            Some("undone") => "Undone: the record is as it was before the last change.",
            _ => "",
        };
        let again = asked("again")
            .filter(|place| Place::of(place).is_some_and(|place| place.new))
            .unwrap_or_default();
        // Words that a new row begins with: a part's name out of the day book, the file of a photograph.
        let mut given = Given::default();
        for name in ["name", "file"] {
            given.values.extend(asked(name).map(|value| (name.to_owned(), value)));
        }
        let taken = asked("take").unwrap_or_default();
        let request = Request { opened, given, taken, ..Request::default() };
        let desk = self.drawn(piece, &open, &request, Outcome::default(), said, again);
        Answer::html(page::desk(self.home, self.shown, piece, self.token, &desk))
    }

    /// Shows what a form would change, or writes it.
    pub(super) fn posted(&self, body: &[u8]) -> Answer {
        let Some(request) = Request::of(body) else {
            return Answer::words(400, "This is no form of the record's page.");
        };
        if !request.has_token(self.token) {
            return Answer::words(403, "Only the record's own page may change it: load it again.");
        }
        let Some((piece, open)) = self.open(&request.piece) else { return self.no_piece() };
        let mut outcome = Outcome { form: request.form(), ..Outcome::default() };
        match self.proposed(piece, &open, &request, &mut outcome.faults) {
            Ok(proposal) => outcome.change = proposal,
            Err(why) => outcome.why = why,
        }
        if outcome.change.is_none() && outcome.why.is_empty() && outcome.faults.is_empty() {
            outcome.why = "Nothing is changed yet.".to_owned();
        }
        let writes = request.seen.is_some() || matches!(request.deed, Deed::Undo);
        if let (Some(proposal), true) = (&outcome.change, writes) {
            match self.write(piece, &open, &request, proposal) {
                Ok(()) => return self.back(piece, &request),
                Err(why) => outcome.why = why,
            }
        }
        let status = if writes { 409 } else { 200 };
        let desk = self.drawn(piece, &open, &request, outcome, "", String::new());
        Answer { status, ..Answer::html(page::desk(self.home, self.shown, piece, self.token, &desk)) }
    }

    fn no_piece(&self) -> Answer {
        Answer { status: 404, ..Answer::html(page::missing(self.home, self.shown, DESK)) }
    }

    /// A piece that is shown, with its record as it is now: an editor may have saved it since it was last read.
    fn open(&self, folder: &str) -> Option<(&PieceShown, Open)> {
        let shown = self.shown.sight.pieces.iter().find(|piece| piece.folder == folder)?;
        let tree = record::open_with_sets(self.root, folder).ok()?;
        let text = tree.read_text(&shown.record).ok()?;
        let (read, mut problems) = record::read(&tree);
        let piece = read.found_in(folder)?.clone();
        problems.retain(|problem| problem.place.path == shown.record);
        let print = fingerprint(text.as_bytes());
        Some((shown, Open { folder: read, piece, text, print, problems }))
    }

    fn trade(&self) -> &Trade {
        match &self.shown.sight.trade {
            Some(trade) => trade,
            None => Trade::built_in(),
        }
    }

    /// What a request would make of the record; nothing where nothing was changed.
    fn proposed(
        &self,
        piece: &PieceShown,
        open: &Open,
        request: &Request,
        faults: &mut Faults,
    ) -> Result<Option<Proposal>, String> {
        let stale = || format!("`{}` was changed meanwhile; look at it again", open.piece.record_path());
        if let Deed::Undo = request.deed {
            let undo = self.written.last(&open.piece.folder, &open.print).ok_or_else(stale)?;
            return Ok(Some(Proposal::back(&open.text, undo.before)));
        }
        let sound = Sound::of(&open.text).map_err(|why| why.to_string())?;
        let document = Document::parse(sound.text.as_str()).map_err(|_| stale())?;
        let root: &Table = document.as_table();
        let maker = Maker { root, folder: &open.folder, trade: self.trade() };
        match &request.deed {
            Deed::Take { line, row, edited: true, .. } => {
                return proposals::edited(open, &maker, (line, row, &request.given), faults);
            }
            Deed::Take { line, row, surface, .. } => {
                return proposals::taken(open, self.trade(), line, row, *surface).map(Some);
            }
            Deed::TakeSure => return proposals::all_sure(open, self.trade()),
            Deed::Stages | Deed::Guesses => return self.staged(piece, open, root, request),
            Deed::Enter | Deed::Remove | Deed::Undo => {}
        }
        let Some(opened) = &request.opened else { return Err("no entry is open".to_owned()) };
        let (place, keys) = opened.form();
        let row = row_print(&sound.text, root, &place).unwrap_or_default();
        // Rows may have moved; what this form shows must be what stands there.
        if !place.steps.is_empty() && !place.new && row != request.row {
            return Err(stale());
        }
        let mut ops = Vec::new();
        let mut mark = None;
        if let Deed::Remove = request.deed {
            may_go(root, &place)?;
            ops.push(splice::Op::Drop(place.steps.clone()));
        } else {
            let currency = open.folder.workshop.as_ref().and_then(|workshop| workshop.currency.as_ref());
            let list = place.key().map_or("", |key| key.name);
            let taken = maker.names(list);
            let mut giver = Giver {
                given: &request.given,
                currency: currency.map(|currency| currency.value.0.as_str()),
                taken: taken.into_iter().map(|(id, _)| id).collect(),
                faults: Faults::new(),
            };
            ops = giver.ops(&place, &keys, place.find(root));
            mark = request.mark.change(&mut giver, &mut ops, (&place, &keys, root), &pictures::files(piece));
            faults.extend(giver.faults);
            if !faults.is_empty() {
                return Ok(None);
            }
        }
        if ops.is_empty() && mark.is_none() {
            return Ok(None);
        }
        let mut text = open.text.clone();
        for op in &ops {
            text = changed(&text, op).map_err(|why| told(&why))?;
        }
        if let Some(mark) = &mark {
            text = added(&text, mark).map_err(|why| told(&why))?;
        }
        Proposal::between(&open.text, text).map(Some).map_err(|why| told(&why))
    }

    /// What the record becomes where photographs are of other stages.
    fn staged(
        &self,
        piece: &PieceShown,
        open: &Open,
        root: &Table,
        request: &Request,
    ) -> Result<Option<Proposal>, String> {
        let wanted: Vec<(String, String)> = match request.deed {
            Deed::Guesses => pictures::guesses(open, piece),
            _ => {
                let changed = request.stages.iter().filter(|(_, (was, now))| was != now);
                changed.map(|(file, (_, now))| (file.clone(), now.clone())).collect()
            }
        };
        let ops = pictures::staged(root, open.piece.record.as_deref(), &pictures::files(piece), wanted)?;
        if ops.is_empty() {
            return Ok(None);
        }
        let mut text = open.text.clone();
        for op in &ops {
            text = changed(&text, op).map_err(|why| told(&why))?;
        }
        Proposal::between(&open.text, text).map(Some).map_err(|why| told(&why))
    }

    /// Writes what was seen, if it is that still.
    fn write(
        &self,
        piece: &PieceShown,
        open: &Open,
        request: &Request,
        proposal: &Proposal,
    ) -> Result<(), String> {
        if let Some((was, becomes)) = &request.seen
            && (*was != proposal.was || *becomes != proposal.becomes)
        {
            return Err(match *was != proposal.was {
                true => format!("`{}` was changed meanwhile; look at the change again.", piece.record),
                false => "The fields were changed since; look at the change again.".to_owned(),
            });
        }
        if matches!(request.deed, Deed::Undo) && request.was != open.print {
            return Err(format!("`{}` was changed meanwhile; nothing was undone.", piece.record));
        }
        replace(&self.root.join(&piece.record), proposal.text.as_bytes(), &proposal.was)
            .map_err(|error| super::server::reasons(&error))?;
        match request.deed {
            Deed::Undo => self.written.forget_last(&piece.folder),
            _ => {
                let undo = Undo { before: open.text.clone(), after: proposal.becomes.clone() };
                self.written.note(&piece.folder, undo);
            }
        }
        Ok(())
    }

    /// Back to the page, after something was written.
    fn back(&self, piece: &PieceShown, request: &Request) -> Answer {
        let (said, rest) = match (&request.deed, &request.opened) {
            (Deed::Undo, _) => ("undone", String::new()),
            (Deed::Take { .. } | Deed::TakeSure, _) => ("written", "#daybook".to_owned()),
            (Deed::Stages | Deed::Guesses, _) => ("written", "#photographs".to_owned()),
            (_, Some(Opened::At(place))) if place.new => {
                let again = place.text();
                ("written", format!("&again={}#status", encoded(&again)))
            }
            (_, Some(opened)) => ("written", format!("#e-{}", opened.text().replace('.', "-"))),
            _ => ("written", String::new()),
        };
        let to = format!("{}{DESK}?piece={}&said={said}{rest}", self.home, encoded(&piece.folder));
        Answer { to: Some(to), ..Answer::words(303, "It was written.") }
    }

    fn drawn(
        &self,
        piece: &PieceShown,
        open: &Open,
        request: &Request,
        outcome: Outcome,
        said: &'static str,
        again: String,
    ) -> Desk {
        let (sound, stuck) = match Sound::of(&open.text) {
            Ok(sound) => (sound, String::new()),
            Err(why) => (Sound { text: String::new(), broken: Vec::new() }, told(&why)),
        };
        let document = Document::parse(sound.text.as_str());
        let document = document.unwrap_or_else(|_| Document::parse("").expect("nothing is TOML"));
        let maker = Maker { root: document.as_table(), folder: &open.folder, trade: self.trade() };
        let judged = self.shown.sight.judge.of(&piece.folder);
        let fresh = judged.filter(|judged| judged.print == open.print);
        let mut drawer = Drawer::new(maker, &sound.text, &outcome.faults);
        drawer.opened = request.opened.as_ref();
        if let Some(Opened::At(place)) = &request.opened {
            let about = (&request.mark, &outcome.faults);
            drawer.pictures = Pictures::of(open, piece, (place, maker.root), about);
        }
        drawer.typed = (!request.given.values.is_empty()).then_some(&request.given.values);
        drawer.doubts = doubts(open, fresh.as_ref());
        drawer.marks = marks(open, piece);
        let (groups, left) = drawer.groups();
        let (hints, doubts) = left.into_iter().partition(Doubt::is_hint);
        let next = Place::of(&again).and_then(|place| next(&groups, place.key()?.name));
        let todo = |todo: &Todo| missing(todo, maker.root);
        let typed = (request.taken.as_str(), &request.given, &outcome.faults);
        let lines = proposals::shown(open, piece, &maker, typed);
        let photographs = pictures::files(piece);
        let broken = sound
            .broken
            .iter()
            .map(|(span, line)| Broken { line: *line, text: open.text[span.clone()].trim_end().to_owned() });
        Desk {
            way: Way {
                home: self.home.to_owned(),
                action: format!("{}{DESK}", self.home),
                href: format!("{}{}", self.home, piece.desk),
                folder: piece.folder.clone(),
                token: self.token.to_owned(),
                was: open.print.clone(),
            },
            verdict: fresh.as_ref().map_or_else(String::new, |judged| judged.verdict.clone()),
            keeps: fresh.as_ref().map_or(&[][..], |judged| &judged.keeps).iter().map(todo).collect(),
            besides: fresh.as_ref().map_or_else(String::new, |judged| judged.besides.clone()),
            helps: fresh.as_ref().map_or(&[][..], |judged| &judged.helps).iter().map(todo).collect(),
            lists: match &request.opened {
                Some(opened) => {
                    let (place, keys) = opened.form();
                    drawer.lists((&place, &keys), &photographs)
                }
                None => {
                    let asked = proposals::asked(open, &maker, &request.taken);
                    asked.map_or_else(Vec::new, |(place, keys)| drawer.lists((&place, &keys), &photographs))
                }
            },
            groups,
            doubts,
            hints,
            next,
            broken: broken.collect(),
            stuck: if stuck.is_empty() {
                stuck
            } else {
                format!("Nothing can be written from here: {stuck}.")
            },
            sure: lines.iter().map(LineShown::sure).sum(),
            lines,
            days: pictures::days(open, piece, &request.stages),
            stages: PhotoStage::ALL.iter().map(|stage| stage.word()).collect(),
            guesses: pictures::guesses(open, piece).len(),
            change: outcome.change.map(|proposal| Change {
                lines: proposal.lines,
                was: proposal.was,
                becomes: proposal.becomes,
                form: outcome.form,
            }),
            taken: match &request.deed {
                Deed::Take { line, row, surface, .. } => Taken {
                    line: line.clone(),
                    toml: row.clone(),
                    surface: surface.map_or_else(String::new, |surface| surface.to_string()),
                },
                _ => Taken::default(),
            },
            undo: self.written.last(&piece.folder, &open.print).is_some(),
            said,
            again,
            why: outcome.why,
        }
    }
}

/// The section that comes after the one of a list: where it stands on the page, and its heading.
fn next(groups: &[Group], list: &str) -> Option<(String, String)> {
    let mut sections = groups.iter().flat_map(|group| &group.sections);
    let mine = format!("s-{list}");
    sections.find(|section| section.id == mine)?;
    sections.next().map(|section| (section.id.clone(), section.heading.clone()))
}

/// Why a change does not go in, as a sentence.
fn told(why: &Refused) -> String {
    let text = why.to_string();
    let mut letters = text.chars();
    let first = letters.next().map(|first| first.to_uppercase().to_string()).unwrap_or_default();
    first + letters.as_str()
}

/// What is wrong with the record, with the place: all of it where it was inspected as it is now, and else what reading
/// it finds.
fn doubts(open: &Open, judged: Option<&Judged>) -> Vec<(Option<usize>, Doubt)> {
    let found = judged.map_or(&open.problems, |judged| &judged.found);
    let doubt = |found: &Diagnostic| {
        let at = found.place.span.map(|(start, _)| start);
        let line = at.map(|at| format!("line {}: ", line_and_column(&open.text, at).0));
        let words = format!("{}{}", line.unwrap_or_default(), found.message);
        (at, Doubt { rank: found.rank().word(), words, help: found.help.clone() })
    };
    found.iter().map(doubt).collect()
}

/// Photographs with marks, by what each mark points at.
fn marks(open: &Open, piece: &PieceShown) -> Vec<(&'static str, String, String, String)> {
    let mut marks = Vec::new();
    let entries = open.piece.record.iter().flat_map(|record| &record.photos);
    for entry in entries {
        let known = piece.photographs.iter().find(|known| known.file == **entry.file);
        let Some(known) = known else { continue };
        for mark in &entry.marks {
            let meant = [
                ("finding", mark.finding.as_ref().map(|id| id.value.0.clone())),
                ("part", mark.part.as_ref().map(|id| id.value.0.clone())),
                ("patch", mark.patch.as_ref().map(|id| id.value.0.clone())),
                ("work", mark.work.as_ref().map(|id| id.value.0.clone())),
            ];
            for (list, id) in meant {
                marks.extend(id.map(|id| (list, id, known.file.clone(), known.picker.clone())));
            }
        }
    }
    marks
}

/// Whether a row may be taken out: nothing else of the record may point at it, and no photograph lose its privacy.
fn may_go(root: &Table, place: &Place) -> Result<(), String> {
    let (Some(key), Some(table)) = (place.key().filter(|key| key.many), place.find(root)) else {
        return Err("only rows of lists are taken out here".to_owned());
    };
    if table.get("private").and_then(toml_edit::Item::as_bool) == Some(true) {
        return Err(
            "This keeps a photograph private; take it out by hand, if that is what you want.".to_owned()
        );
    }
    let id = table.get("id").and_then(toml_edit::Item::as_str);
    let text = |item: &toml_edit::Item, id: &str| match item.as_value() {
        Some(toml_edit::Value::Array(array)) => array.iter().any(|each| each.as_str() == Some(id)),
        Some(value) => value.as_str() == Some(id),
        None => false,
    };
    fn points(
        table: &dyn toml_edit::TableLike,
        keys: &'static [crate::fields::Key],
        is: &dyn Fn(&'static crate::fields::Key, &toml_edit::Item) -> bool,
    ) -> bool {
        keys.iter().any(|key| {
            let Some(item) = table.get(key.name) else { return false };
            if key.about.keys.is_empty() {
                return key.name != "id" && is(key, item);
            }
            match key.many {
                true => place::rows(item).into_iter().flatten().any(|row| points(row, key.about.keys, is)),
                false => item.as_table_like().is_some_and(|inner| points(inner, key.about.keys, is)),
            }
        })
    }
    if let Some(id) = id {
        let is = |of: &'static crate::fields::Key, item: &toml_edit::Item| {
            of.about.sort == crate::fields::Sort::Row(key.name) && text(item, id)
        };
        if points(root, Place::record().keys, &is) {
            return Err(format!("Something else in the record names `{id}`; change that first."));
        }
    }
    // Swatches count surfaces, so that another would become theirs.
    if key.name == "surface" && place.steps.len() == 2 && splice::count(root, "swatch") > 0 {
        return Err("The colour swatches count the surfaces; take this one out by hand.".to_owned());
    }
    Ok(())
}

/// What is to be done, with the form that asks for it.
fn missing(todo: &Todo, root: &Table) -> Missing {
    let first = todo.write.lines().next().unwrap_or_default().trim();
    let section = first.trim_start_matches('[').trim_end_matches(']');
    let key = section.split(['=', ' ']).next().unwrap_or_default();
    let (place, more) = match record_key(key) {
        Some((_, known)) if known.name == "photo" => photo_of(&todo.write, root),
        Some((_, known)) if known.many && !known.about.keys.is_empty() => {
            (format!("{key}.new"), String::new())
        }
        Some((_, known)) if !known.about.keys.is_empty() && known.about.order.is_empty() => {
            (key.to_owned(), String::new())
        }
        Some((group, _)) => (format!("keys.{group}"), String::new()),
        None => (row_without(key, root).unwrap_or_default(), String::new()),
    };
    let mut say = todo.say.clone();
    if let Some(first) = say.get(..1) {
        let first = first.to_uppercase();
        say.replace_range(..1, &first);
    }
    let anchor = format!("e-{}", place.replace('.', "-"));
    Missing { say, anchor, place: place + &more, write: todo.write.clone() }
}

/// The place of the entry of the photograph that is to be described: its own, or else a new one that begins with its file.
fn photo_of(write: &str, root: &Table) -> (String, String) {
    let read: Option<toml::Table> = toml::from_str(write).ok();
    let file =
        read.as_ref().and_then(|read| read.get("photo")?.get(0)?.get("file")?.as_str()).unwrap_or_default();
    let all = root.get("photo").map(place::rows).unwrap_or_default();
    let is_it = |row: Option<&dyn toml_edit::TableLike>| {
        row.and_then(|row| row.get("file")).and_then(toml_edit::Item::as_str) == Some(file)
    };
    match all.into_iter().position(is_it) {
        Some(row) => (format!("photo.{row}"), String::new()),
        None => ("photo.new".to_owned(), format!("&file={}", encoded(file))),
    }
}

/// The first row that lacks a key, in the lists of which most is told.
fn row_without(key: &str, root: &Table) -> Option<String> {
    ["part", "work", "finding", "surface"].into_iter().find_map(|list| {
        let (_, known) = record_key(list)?;
        known.about.keys.iter().find(|known| known.name == key)?;
        let all = root.get(list).map(place::rows)?;
        let lacks = |row: &Option<&dyn toml_edit::TableLike>| row.is_some_and(|row| !row.contains_key(key));
        let row = all.iter().position(lacks).or_else(|| (!all.is_empty()).then_some(0))?;
        Some(format!("{list}.{row}"))
    })
}

fn record_key(name: &str) -> Option<(usize, &'static crate::fields::Key)> {
    let groups = order::GROUPS.iter().enumerate();
    let mut keys = groups.flat_map(|(number, group)| group.keys.iter().map(move |key| (number, *key)));
    keys.find(|(_, key)| key.name == name)
}
