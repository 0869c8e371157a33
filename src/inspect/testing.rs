//! One door for the tests of rules: text in, text out.

use std::collections::BTreeMap;
use std::sync::Arc;

use chrono::NaiveDate;

use super::additions::additions;
use super::{Addition, Case, Outlook, Rule, Verdict, inspect, outlook};
use crate::derive::{
    self, Completeness, PairFacts, Pairing, PhotoCheck, PhotoFacts, Photograph, PhotographFacts, Workpiece,
};
use crate::diag::{Diagnostic, line_and_column};
use crate::photo::{self, Ink, Raster};
use crate::record::{self, Folder, Piece, Seal};
use crate::source::Tree;
use crate::trade::Trade;

/// The day on which tests inspect.
pub(super) fn today() -> NaiveDate {
    NaiveDate::from_ymd_opt(2026, 6, 1).expect("a day of the calendar")
}

/// The keys that every record must have; those that a fixture says itself are left out.
const NEEDED: [(&str, &str); 3] = [("title", "Oak table"), ("number", "T-1"), ("kind", "table/gateleg")];

/// A record that was sealed on 2026-05-16, and how it reads today.
pub(super) fn amended(was: &str, is: &str) -> String {
    let before = bench(was);
    let canon = record::today_for_buyer(&before.tree, &before.folder.pieces[0]).expect("the record reads");
    let day = NaiveDate::from_ymd_opt(2026, 5, 16).expect("a day of the calendar");
    let seal = Seal::of(canon, &BTreeMap::new(), &[], day, day);
    format!("{is}\n#- pieces/table/sealed/001.toml\n{}", seal.file())
}

/// A workshop in memory.
pub(super) struct Bench {
    tree: Tree,
    folder: Folder,
    /// How the photographs of the piece `table` answer beside what their files say, by file.
    answers: BTreeMap<String, Check>,
    trade: Trade,
    unread: Vec<Diagnostic>,
    /// Lines put before the record of the piece `table`.
    before: usize,
}

/// How a photograph answers when it is opened.
type Check = Result<photo::Checked, photo::Fault>;

/// Sets up a workshop from text: the record of the piece `table`, then any other files, each after a
/// line `#- path`. Paths are those of the workshop, or start with `photos/` or are `story.md`.
/// Photographs without content are not opened.
pub(super) fn bench(text: &str) -> Bench {
    let (record, files) = split(text);
    let given: Vec<String> = NEEDED
        .iter()
        .filter(|(key, _)| !record.lines().any(|line| line.trim_start().starts_with(&format!("{key} ="))))
        .map(|(key, value)| format!("{key} = \"{value}\"\n"))
        .collect();
    let mut all = vec![("pieces/table/record.toml".to_owned(), given.concat() + &record)];
    all.extend(files);
    if !all.iter().any(|(path, _)| path == "workshop.toml") {
        all.push(("workshop.toml".to_owned(), "name = \"Bench\"\ncurrency = \"GBP\"\n".to_owned()));
    }
    let tree = Tree::of(all);
    let (folder, mut unread) = record::read(&tree);
    let (trade, problems) = Trade::with(&tree, None);
    unread.extend(problems);
    Bench { folder, answers: BTreeMap::new(), trade, unread, before: given.len(), tree }
}

/// A workshop whose piece `table` has a photograph `a.jpg` of 300 by 100 pixels, painted so and measured.
#[track_caller]
pub(super) fn pictured(record: &str, paint: impl Fn(u32, u32) -> [u8; 3]) -> Bench {
    let (width, height) = (300, 100);
    let bench = bench(&format!("{record}\n#- photos/a.jpg"));
    assert_eq!(bench.unread, [], "the fixture cannot be read");
    let places = (0..height).flat_map(|y| (0..width).map(move |x| (x, y)));
    let samples = places.flat_map(|(x, y)| paint(x, y)).collect();
    let raster = photo::Raster::new(width, height, photo::Ink::Rgb, samples);
    let table = bench.folder.pieces.iter().find(|piece| piece.folder == "table");
    let record = table.and_then(|piece| piece.record.clone()).expect("every bench has the piece");
    let rectangles = derive::swatch::rectangles(&record, "a.jpg").into_iter();
    let patches = rectangles.map(|rectangle| (rectangle, photo::measure(&raster, &rectangle))).collect();
    let header = photo::Header { width, height, taken: None, format: photo::Format::Jpeg };
    bench.look("a.jpg", Ok(photo::Checked { header, defects: Vec::new(), patches }))
}

/// A record's swatch on `a.jpg`, its target at the left and its result at the right, and what else it says.
pub(super) fn swatch(more: &str) -> String {
    let more = if more.is_empty() { String::new() } else { format!(", {more}") };
    format!("swatch = [{{ photo = \"a.jpg\", target = [0, 0, 0.34, 1], result = [0.5, 0, 0.5, 1]{more} }}]")
}

/// Everything that reading and inspecting have to say, a line each: code, line, message, help.
pub(super) fn check(text: &str) -> String {
    let bench = bench(text);
    let all: Vec<Diagnostic> = bench.unread.iter().cloned().chain(bench.inspect()).collect();
    let lines: Vec<String> =
        all.iter().map(|seen| format!("{} {}", seen.code.name, bench.line(seen))).collect();
    lines.join("\n")
}

/// What one rule sees, a line each: line, message, help. The fixture must be readable.
#[track_caller]
pub(super) fn sees(rule: &Rule, text: &str) -> String {
    let bench = bench(text);
    assert_eq!(bench.unread, [], "the fixture cannot be read");
    bench.sees(rule)
}

/// What one rule sees of a pair with these landmarks, whose photographs have 800 by 600 pixels; the landmarks begin on
/// the first line.
#[track_caller]
pub(super) fn laid(rule: &Rule, landmarks: &str) -> String {
    let pair =
        format!("pair = [{{ before = \"before.jpg\", after = \"after.jpg\", landmarks = {landmarks} }}]");
    let bench = bench(&format!("{pair}\n#- photos/before.jpg\n#- photos/after.jpg\n"));
    assert_eq!(bench.unread, [], "the fixture cannot be read");
    let grey = Raster::new(800, 600, Ink::Grey, vec![90; 800 * 600]).to_jpeg(50).bytes;
    let look = photo::check(&grey, 1_000_000);
    bench.look("before.jpg", look.clone()).look("after.jpg", look).sees(rule)
}

impl Bench {
    /// The same workshop, whose piece `table` has a photograph that answered so when it was opened.
    pub(super) fn look(mut self, file: &str, check: Check) -> Bench {
        self.answers.insert(file.to_owned(), check);
        self
    }

    /// The pieces, with what follows from their records and photographs.
    fn workpieces(&self) -> Vec<Workpiece> {
        self.folder.pieces.iter().filter_map(|piece| self.workpiece(piece)).collect()
    }

    fn workpiece(&self, piece: &Arc<Piece>) -> Option<Workpiece> {
        let record = piece.record.clone()?;
        let facts = derive::facts(&self.folder, piece, &record, None, &self.trade);
        let all = facts.photographs.all.iter();
        let all: Vec<PhotographFacts> = all
            .map(|photograph| PhotographFacts::of(photograph, self.check(piece, &photograph.file)))
            .collect();
        let size = |photograph: &Photograph| all[photograph.number - 1].size();
        let pair = |pairing: &Pairing| PairFacts {
            pairing: pairing.clone(),
            alignment: derive::alignment(pairing, size),
            tone: None,
        };
        let pairs = facts.photographs.pairs.iter().map(pair).collect();
        let photographs = PhotoFacts::of(&record, &facts.surfaces, all, pairs);
        Some(Workpiece::of(&self.folder, piece.clone(), record, facts, photographs, &self.trade))
    }

    /// How a photograph answers: as it was told, or by its bytes where it has any.
    fn check(&self, piece: &Piece, file: &str) -> PhotoCheck {
        if let Some(answer) = self.answers.get(file).filter(|_| piece.folder == "table") {
            return Some(answer.clone());
        }
        let bytes = self.tree.bytes(&piece.photo_path(file)).ok().filter(|bytes| !bytes.is_empty())?;
        Some(photo::check(&bytes, 1_000_000))
    }

    pub(super) fn inspect(&self) -> Vec<Diagnostic> {
        inspect(&self.folder, &self.workpieces(), &self.trade, today())
    }

    fn table(&self) -> Option<Workpiece> {
        self.workpieces().into_iter().find(|workpiece| workpiece.piece.folder == "table")
    }

    /// What would improve the papers of the piece `table`.
    pub(super) fn additions(&self) -> Vec<Addition> {
        let case = |table: &Workpiece| additions(&Case::of(&self.folder, table, &self.trade, today()), &[]);
        self.table().as_ref().map(case).unwrap_or_default()
    }

    /// Whether the piece `table` may be handed over, with so many mistakes.
    pub(super) fn verdict(&self, mistakes: usize) -> Verdict {
        self.outlook(mistakes).verdict
    }

    /// The same, and what is to be done.
    pub(super) fn outlook(&self, mistakes: usize) -> Outlook {
        let table = self.table().expect("it reads");
        outlook(&Case::of(&self.folder, &table, &self.trade, today()), mistakes)
    }

    /// How much of the checklist the piece `table` tells.
    pub(super) fn completeness(&self) -> Completeness {
        self.table().map_or_else(Completeness::default, |table| table.facts.completeness)
    }

    /// What one rule sees, a line each.
    pub(super) fn sees(&self, rule: &Rule) -> String {
        let seen = self.inspect().into_iter().filter(|seen| seen.code == rule.code);
        seen.map(|seen| self.line(&seen)).collect::<Vec<_>>().join("\n")
    }

    /// The place and words of a diagnostic; lines of the fixture are counted from 1, other files are named.
    fn line(&self, seen: &Diagnostic) -> String {
        let path = seen.place.path.as_str();
        let text = self.tree.text(path).and_then(Result::ok).unwrap_or_default();
        let line = seen.place.span.map(|(start, _)| line_and_column(text, start).0);
        let place = match (path.strip_prefix("pieces/table/").unwrap_or(path), line) {
            ("record.toml", None) => "-".to_owned(),
            ("record.toml", Some(line)) => (line as i64 - self.before as i64).to_string(),
            (file, None) => file.to_owned(),
            (file, Some(line)) => format!("{file} {line}"),
        };
        let help = if seen.help.is_empty() { String::new() } else { format!(" [{}]", seen.help) };
        format!("{place}: {}{help}", seen.message).replace('\n', " / ")
    }
}

/// The record, and the other files by their path from the workshop's root.
fn split(text: &str) -> (String, Vec<(String, String)>) {
    let (mut record, mut files) = (String::new(), Vec::<(String, String)>::new());
    for line in text.trim_start_matches('\n').split_inclusive('\n') {
        match line.trim().strip_prefix("#- ") {
            Some(path) if path.starts_with("photos/") || path == "story.md" => {
                files.push((format!("pieces/table/{path}"), String::new()));
            }
            Some(path) => files.push((path.to_owned(), String::new())),
            None => files.last_mut().map_or(&mut record, |(_, text)| text).push_str(line),
        }
    }
    (record, files)
}

#[test]
fn a_line_is_that_of_the_fixture() {
    assert_eq!(
        check("maker = \"unknown\"\nsise = 3").lines().next(),
        Some("unknown-key 2: the file has no key `sise` [write `size`]")
    );
}
