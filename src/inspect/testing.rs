//! One door for the tests of rules: text in, text out.

use std::collections::BTreeMap;

use chrono::NaiveDate;

use super::{Addition, Case, Looks, Rule, additions, inspect, size};
use crate::derive::{self, Completeness, Facts};
use crate::diag::{Diagnostic, line_and_column};
use crate::photo::{self, Ink, Raster};
use crate::record::{self, Folder, Seal};
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
    facts: Vec<Option<Facts>>,
    looks: Vec<Looks>,
    trade: Trade,
    unread: Vec<Diagnostic>,
    /// Lines put before the record of the piece `table`.
    before: usize,
}

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
    let (trade, problems) = Trade::with(&tree);
    unread.extend(problems);
    let facts = folder
        .pieces
        .iter()
        .map(|piece| piece.record.as_ref().map(|record| derive::facts(&folder, piece, record, &trade)));
    let facts: Vec<Option<Facts>> = facts.collect();
    let looks = folder.pieces.iter().map(|piece| {
        let opened = piece.photos.iter().filter_map(|file| {
            let bytes = tree.bytes(&piece.photo_path(file)).ok().filter(|bytes| !bytes.is_empty())?;
            Some((file.clone(), photo::check(&bytes, 1_000_000)))
        });
        opened.collect()
    });
    let looks = looks.collect();
    let mut bench = Bench { folder, facts, looks, trade, unread, before: given.len(), tree };
    bench.see();
    bench
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
    let record = table.and_then(|piece| piece.record.as_ref()).expect("every bench has the piece");
    let rectangles = derive::swatch::rectangles(record, "a.jpg").into_iter();
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
    pub(super) fn look(mut self, file: &str, look: Result<photo::Checked, photo::Fault>) -> Bench {
        let table = self.folder.pieces.iter().position(|piece| piece.folder == "table");
        let table = table.expect("every bench has the piece");
        self.looks[table].insert(file.to_owned(), look);
        self.see();
        let (record, looks) = (&self.folder.pieces[table].record, &self.looks[table]);
        if let (Some(record), Some(facts)) = (record, &mut self.facts[table]) {
            facts.photographs.align(record, |file| size(looks, file));
        }
        self
    }

    /// Adds to the facts what the photographs tell.
    fn see(&mut self) {
        for ((piece, facts), looks) in self.folder.pieces.iter().zip(&mut self.facts).zip(&self.looks) {
            if let (Some(record), Some(facts)) = (&piece.record, facts) {
                facts.see(record, looks);
            }
        }
    }

    pub(super) fn inspect(&self) -> Vec<Diagnostic> {
        inspect(&self.folder, &self.facts, &self.looks, &self.trade, today())
    }

    /// What would improve the papers of the piece `table`.
    pub(super) fn additions(&self) -> Vec<Addition> {
        let pieces = self.folder.pieces.iter().zip(&self.facts).zip(&self.looks);
        let cases =
            pieces.filter(|((piece, _), _)| piece.folder == "table").filter_map(|((piece, facts), looks)| {
                let (record, facts) = (piece.record.as_ref()?, facts.as_ref()?);
                let (folder, trade, path) = (&self.folder, &self.trade, piece.record_path());
                Some(Case { folder, piece, record, facts, looks, trade, today: today(), path })
            });
        cases.flat_map(|case| additions(&case)).collect()
    }

    /// How much of the checklist the piece `table` tells.
    pub(super) fn completeness(&self) -> Completeness {
        let table = self.folder.pieces.iter().position(|piece| piece.folder == "table");
        let facts = table.and_then(|table| self.facts[table].as_ref());
        facts.map_or_else(Completeness::default, |facts| facts.completeness.clone())
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
