//! Reading a jotted line: from its words to the rows that it proposes. A file reads what its name says.

mod abrasion;
mod cleaning;
mod coats;
mod costs;
mod deeds;
mod faults;
mod finishes;
mod fixings;
mod left;
mod measures;
mod mixes;
mod parted;
mod patches;
mod removals;
mod roles;
mod timbers;
mod trials;
mod work;
mod written;

use std::ops::Range;

use chrono::NaiveDate;
use rust_decimal::Decimal;
use rust_decimal::prelude::ToPrimitive;
use toml_edit::{Array, Value};

use super::hits::{Hit, PartHit, Table, hits, parts_named};
use super::lexicon::Deed;
use super::line::{Known, Line, Mood};
use super::planned::as_done;
use super::proposal::{PartSaid, Proposal};
use super::words::lists;
use crate::fields::Said;
use crate::record::day_book::{Duration, Kind, Why, durations, kind};
use crate::record::{Jotting, Record, StockItem};
use crate::trade::{Trade, TreatmentGroup};

/// What lines are read with: the tables of the trade, and the record that they would go into.
#[derive(Debug)]
pub struct Bench<'a> {
    trade: &'a Trade,
    record: Option<&'a Record>,
    stock: &'a [Said<StockItem>],
    known: Known,
}

impl<'a> Bench<'a> {
    /// For the lines of a piece; without a record no part is known.
    pub fn of(trade: &'a Trade, record: Option<&'a Record>) -> Bench<'a> {
        Bench { trade, record, stock: &[], known: Known::of(trade) }
    }

    /// The same, knowing what is in stock.
    pub fn stocked(self, stock: &'a [Said<StockItem>]) -> Bench<'a> {
        Bench { stock, ..self }
    }

    /// The rows that a line proposes, in the order in which a record has them.
    pub fn proposals(&self, jotting: &Jotting) -> Vec<Proposal> {
        let mut proposals = self.read(jotting.words.for_archive(), jotting.on);
        // Words that others may not read are not put before them in another place unasked.
        if let Err(withheld) = &jotting.said
            && withheld.why != Why::Nothing
        {
            let open = proposals.iter_mut().filter(|one| one.repeats_words());
            open.for_each(|one| one.unsure.push(format!("may others read it? {}", withheld.told())));
        }
        proposals
    }

    /// The steps and works that a line which only plans would be told by, once they are done.
    pub fn planned(&self, jotting: &Jotting) -> Vec<Proposal> {
        let said = jotting.words.for_archive();
        if kind(said) != Kind::Plan || fetches(&Line::of(said, &self.known)) {
            return Vec::new();
        }
        let line = Line::of(&as_done(said), &self.known);
        if line.tokens.len() > MOST_WORDS {
            return Vec::new();
        }
        let mut reader = self.reader(line, None);
        reader.steps();
        let deeds = reader.deeds(&[]);
        reader.work(deeds);
        reader.out
    }

    fn reader(&self, line: Line, on: Option<NaiveDate>) -> LineReader<'_, 'a> {
        let hits = hits(&line, self.trade);
        LineReader {
            bench: self,
            on,
            durations: durations(&line.tokens),
            parts: parts_named(&line, &hits, self.record),
            hits,
            line,
            out: Vec::new(),
        }
    }

    /// The same for the words of a line.
    pub fn read(&self, said: &str, on: Option<NaiveDate>) -> Vec<Proposal> {
        let line = Line::of(said, &self.known);
        // What has more words is a letter, and none of it would be read rightly.
        if line.tokens.len() > MOST_WORDS {
            return Vec::new();
        }
        self.reader(line, on).read(said)
    }
}

/// Whether a line plans to get something, to ask or to look, and no work on the piece.
fn fetches(line: &Line) -> bool {
    let fetch = &lists().left.fetching;
    line.tokens.iter().any(|token| fetch.contains(&token.word.as_str()))
}

/// The most words of a line that is read.
const MOST_WORDS: usize = 160;

/// A line that is being read.
struct LineReader<'b, 'a> {
    bench: &'b Bench<'a>,
    line: Line,
    on: Option<NaiveDate>,
    durations: Vec<Duration>,
    hits: Vec<Hit>,
    parts: Vec<PartHit>,
    out: Vec<Proposal>,
}

/// A number of coats in a line.
#[derive(Debug, Clone)]
struct Coats {
    count: u32,
    at: usize,
    /// Whether it says which coat it is, and not how many.
    numbered: bool,
}

impl LineReader<'_, '_> {
    fn read(mut self, said: &str) -> Vec<Proposal> {
        match kind(said) {
            Kind::Question => return self.out,
            Kind::Plan => {
                let what = self.line.text.trim().to_owned();
                self.out.push(Proposal::new("open", said).with("what", what));
                return self.out;
            }
            Kind::Work => {}
        }
        self.tests();
        self.steps();
        let faults = self.faults();
        self.fixings();
        self.timbers();
        let deeds = self.deeds(&faults);
        self.patches(&deeds);
        self.parted_with();
        self.stock_used();
        self.work(deeds);
        self.money();
        self.measures();
        self.open_and_left(&faults);
        self.inscriptions();
        self.hearsay();
        self.out
    }

    fn all(&self) -> Range<usize> {
        0..self.line.tokens.len()
    }

    fn told(&self, at: usize) -> bool {
        self.line.moods.get(at).is_some_and(|mood| *mood == Mood::Told)
    }

    /// Whether one of a deed's words stands in a range and is told.
    fn deed(&self, range: &Range<usize>, deed: Deed) -> Option<usize> {
        let told = deed.words();
        range
            .clone()
            .find(|at| self.told(*at) && told.iter().any(|word| self.line.does(*at, word, range.end)))
    }

    fn first_hit(&self, table: Table, range: &Range<usize>) -> Option<&Hit> {
        self.hits
            .iter()
            .find(|hit| hit.table == table && hit.mood == Mood::Told && range.contains(&hit.at.start))
    }

    /// The parts told in a range.
    fn parts_in(&self, range: &Range<usize>) -> Vec<PartSaid> {
        let here =
            self.parts.iter().filter(|part| range.contains(&part.at.start) && part.mood <= Mood::Doubted);
        let mut parts: Vec<PartSaid> = Vec::new();
        for part in here {
            if !parts.contains(&part.part) {
                parts.push(part.part.clone());
            }
        }
        parts
    }

    /// The parts that something at a place is about: those of its clause, else of its sentence, else the only ones told.
    fn parts_for(&self, at: usize) -> Vec<PartSaid> {
        let clause = self.parts_in(&self.line.clause(at));
        if !clause.is_empty() {
            return clause;
        }
        let sentence = self.parts_in(&self.line.sentence(at));
        if !sentence.is_empty() {
            return sentence;
        }
        let all = self.parts_in(&self.all());
        if all.len() == 1 { all } else { Vec::new() }
    }

    /// A proposal with its parts under a key, as ids where the record has them.
    fn with_parts(&self, mut proposal: Proposal, key: &'static str, parts: Vec<PartSaid>) -> Proposal {
        let mut ids: Vec<String> = Vec::new();
        for part in &parts {
            match &part.ids[..] {
                [] => proposal = proposal.asking(format!("which part of the record is “{}”?", part.said)),
                [id] => ids.push(id.clone()),
                several => {
                    let which = several.join(", ");
                    proposal = proposal.asking(format!("which is “{}”: {which}?", part.said));
                }
            }
        }
        ids.dedup();
        if let [id] = &ids[..] {
            proposal = proposal.with(key, id.as_str());
        } else if !ids.is_empty() {
            proposal = proposal.with(key, ids.iter().map(String::as_str).collect::<Array>());
        }
        proposal.parts = parts;
        proposal
    }

    /// Proposes a step on a surface, with what its words leave open.
    fn on_surface(&mut self, mut proposal: Proposal, hit: &Hit, parts: Vec<PartSaid>) {
        if let Some(ask) = &hit.ask {
            proposal = proposal.asking(ask.clone());
        }
        if parts.is_empty() {
            proposal = proposal.asking("on which surface?");
        }
        let proposal = self.on_parts(proposal, parts);
        self.out.push(proposal);
    }

    /// A step with the parts that it was done to, which its surface has.
    fn on_parts(&self, proposal: Proposal, parts: Vec<PartSaid>) -> Proposal {
        let keys = proposal.keys.clone();
        Proposal { keys, ..self.with_parts(proposal, "parts", parts) }
    }

    fn dated(&self, proposal: Proposal) -> Proposal {
        match self.on {
            Some(on) => proposal.with("on", day(on)),
            None => proposal,
        }
    }

    fn words_of(&self, range: Range<usize>) -> String {
        self.line.written(range).to_owned()
    }

    /// Takes away what was found in a range, so that it is told once.
    fn use_up(&mut self, range: &Range<usize>, table: Option<Table>) {
        self.hits
            .retain(|hit| !(range.contains(&hit.at.start) && table.is_none_or(|table| hit.table == table)));
    }

    fn group(&self, id: &str) -> Option<TreatmentGroup> {
        self.bench.trade.treatment(id).map(|row| row.group.value)
    }

    /// An id that the record does not have yet.
    fn free_id(&self, table: &str, wanted: &str) -> String {
        let taken: Vec<&str> = match (table, self.bench.record) {
            ("finding", Some(record)) => record.findings.iter().map(|row| row.id.0.as_str()).collect(),
            ("part", Some(record)) => record.parts.iter().map(|row| row.id.0.as_str()).collect(),
            _ => Vec::new(),
        };
        let own = |id: &str| self.out.iter().any(|one| one.value("id").and_then(Value::as_str) == Some(id));
        let free = |id: &String| !taken.contains(&id.as_str()) && !own(id);
        let again = (2..).map(|number| format!("{wanted}-{number}"));
        std::iter::once(wanted.to_owned()).chain(again).find(free).unwrap_or_else(|| wanted.to_owned())
    }
}

/// Hours as a record has them.
fn hours(minutes: u32) -> Value {
    decimal((Decimal::from(minutes) / Decimal::from(60)).round_dp(2).normalize())
}

/// A number as a record has it: exact, and never as a float of the machine.
fn decimal(number: Decimal) -> Value {
    let number = number.normalize();
    match number.is_integer() {
        true => Value::from(number.to_i64().unwrap_or_default()),
        // Read again from its digits, so that it is written as it was said.
        false => number.to_string().parse().unwrap_or_else(|_| Value::from(0)),
    }
}

/// A day as a record has it.
fn day(on: NaiveDate) -> Value {
    on.to_string().parse().unwrap_or_else(|_| Value::from(on.to_string()))
}
