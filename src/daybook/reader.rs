//! Reading a jotted line: from its words to the rows that it proposes.

use std::ops::Range;

use chrono::NaiveDate;
use rust_decimal::Decimal;
use rust_decimal::prelude::ToPrimitive;
use toml_edit::{Array, InlineTable, Value};

use super::amounts::{Purpose, amounts, humidity, sizes, temperature, weights};
use super::hits::{Hit, PartHit, Table, hits, parts_named};
use super::lexicon::{DEEDS, DENIES, Deed, GRITS, INSCRIBED, OUTCOMES};
use super::line::{Known, Line, Mood};
use super::proposal::{PartSaid, Proposal};
use crate::record::day_book::{Duration, Kind, Whose, durations, is_done, kind};
use crate::record::{Jotting, Record};
use crate::trade::{Taken, Trade, TradeRow, TreatmentGroup};

/// What lines are read with: the tables of the trade, and the record that they would go into.
#[derive(Debug)]
pub struct Bench<'a> {
    trade: &'a Trade,
    record: Option<&'a Record>,
    known: Known,
}

impl<'a> Bench<'a> {
    /// For the lines of a piece; without a record no part is known.
    pub fn of(trade: &'a Trade, record: Option<&'a Record>) -> Bench<'a> {
        Bench { trade, record, known: Known::of(trade) }
    }

    /// The rows that a line proposes, in the order in which a record has them.
    pub fn proposals(&self, jotting: &Jotting) -> Vec<Proposal> {
        self.read(jotting.words.for_archive(), jotting.on)
    }

    /// The same for the words of a line.
    pub fn read(&self, words: &str, on: Option<NaiveDate>) -> Vec<Proposal> {
        let line = Line::of(words, &self.known);
        // What has more words is a letter, and none of it would be read rightly.
        if line.tokens.len() > MOST_WORDS {
            return Vec::new();
        }
        let hits = hits(&line, self.trade);
        let reader = LineReader {
            bench: self,
            on,
            durations: durations(&line.tokens),
            parts: parts_named(&line, &hits, self.record),
            hits,
            line,
            out: Vec::new(),
        };
        reader.read(words)
    }
}

/// Words by which a clause only tells how something is.
const IS: &[&str] = &["is", "was", "were", "had", "got", "found", "came"];

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
    fn read(mut self, words: &str) -> Vec<Proposal> {
        match kind(words) {
            Kind::Question => return self.out,
            Kind::Plan => {
                let what = self.line.text.trim().to_owned();
                self.out.push(Proposal::new("open", words).with("what", what));
                return self.out;
            }
            Kind::Work => {}
        }
        self.tests();
        self.steps();
        let faults = self.faults();
        self.fixings();
        self.timbers();
        self.work(&faults);
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
        let (_, words) = DEEDS.iter().find(|(of, _)| *of == deed)?;
        range
            .clone()
            .find(|at| self.told(*at) && words.iter().any(|word| self.line.does(*at, word, range.end)))
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

    // ---- Tests ----

    fn tests(&mut self) {
        self.substance_tests();
        self.solvent_test();
    }

    /// Tests for lead and the like: a swab, a kit or a laboratory, and what came out.
    fn substance_tests(&mut self) {
        const SUBSTANCES: &[&str] = &["lead", "arsenic", "asbestos", "mercury", "formaldehyde", "cadmium"];
        const MEANS: &[(&str, &str)] = &[
            ("swab", "swab"),
            ("swabs", "swab"),
            ("swabbed", "swab"),
            ("kit", "kit"),
            ("lab", "laboratory"),
            ("laboratory", "laboratory"),
            ("xrf", "x-ray instrument"),
        ];
        let all = self.all();
        let means = MEANS.iter().find_map(|(word, means)| Some((self.line.find(&all, &[word])?, *means)));
        let tested = self.line.find(&all, &["tested", "test", "tests"]);
        let substance = all.clone().find(|at| SUBSTANCES.contains(&self.line.word(*at)));
        let (Some(substance), true) = (substance, means.is_some() || tested.is_some()) else { return };
        if self.line.moods[substance] == Mood::Planned || self.line.has(&all, &["test patch"]) {
            return;
        }
        let of = self.line.word(substance).to_owned();
        let mut results: Vec<(&str, usize)> = Vec::new();
        for at in all.clone() {
            let stands = |words: &[&str]| words.iter().any(|word| self.line.stands(at, word, all.end));
            let denied = at > 0 && DENIES.contains(&self.line.word(at - 1));
            let found = if stands(&[
                "negative",
                "clear",
                "no reaction",
                "no change",
                "stayed yellow",
                "came up clean",
                "didnt react",
                "all clear",
            ]) {
                Some("negative")
            } else if stands(&[
                "positive",
                "went red",
                "went pink",
                "turned red",
                "turned pink",
                "came up red",
                "came up pink",
                "goes red",
                "red straight away",
                "reacted",
                "pink straight away",
            ]) {
                Some(if denied { "negative" } else { "positive" })
            } else if at == substance && at > 0 && ["no", "none", "without"].contains(&self.line.word(at - 1))
            {
                Some("negative")
            } else {
                None
            };
            if let Some(result) = found
                && results.last().is_none_or(|(last, _)| *last != result)
            {
                results.push((result, at));
            }
        }
        if results.is_empty() {
            results.push(("unknown", substance));
        }
        for (result, at) in results {
            let clause = self.line.clause(at);
            let mut parts = self.parts_in(&clause);
            if parts.is_empty() && result != "unknown" {
                parts = self.parts_for(at);
            }
            let words = self.words_of(clause.clone());
            let mut proposal =
                self.with_parts(Proposal::new("test", &words).with("of", of.as_str()), "part", parts.clone());
            if let Some(on) = self.on {
                proposal = proposal.with("on", day(on));
            }
            // The coat that was rubbed, where the line names one: a test of the one tells nothing of the other.
            proposal = proposal.with_some("by", means.map(|(_, means)| means)).with("result", result);
            if parts.is_empty() {
                proposal = proposal.asking("on which part, and which coat?");
            }
            if result == "unknown" {
                proposal = proposal.asking("what came out?");
            }
            self.out.push(proposal);
        }
        self.hits.retain(|hit| {
            !(hit.table == Table::Term && ["lead-found", "lead-paint-risk"].contains(&hit.id.as_str()))
        });
        // What was rubbed was not laid.
        let sentence = self.line.sentence(substance);
        self.use_up(&sentence, Some(Table::Finish));
    }

    /// What a finish is, tried with a solvent: what it did tells the family.
    fn solvent_test(&mut self) {
        const RESULTS: &[(&str, &str)] = &[
            ("dissolves", "dissolves"),
            ("dissolved", "dissolved"),
            ("softens", "softens"),
            ("softened", "softened"),
            ("melts", "softens"),
            ("melted", "softened"),
            ("went soft", "softened"),
            ("goes soft", "softens"),
            ("goes sticky", "softens"),
            ("went sticky", "softened"),
            ("went tacky", "softened"),
            ("came off on the rag", "dissolved"),
            ("comes off on the rag", "dissolves"),
            ("no effect", "no effect"),
            ("nothing happened", "no effect"),
            ("didnt touch", "no effect"),
            ("wont touch", "no effect"),
            ("doesnt touch", "no effect"),
            ("didnt shift", "no effect"),
        ];
        let all = self.all();
        let result =
            RESULTS.iter().find_map(|(words, result)| Some((self.line.find(&all, &[words])?, *result)));
        let Some((at, result)) = result else { return };
        let solvent = self.hits.iter().find(|hit| {
            hit.table == Table::Treatment
                && self
                    .group(&hit.id)
                    .is_some_and(|group| matches!(group, TreatmentGroup::Solvent | TreatmentGroup::Cleaning))
        });
        let Some(solvent) = solvent.cloned() else { return };
        let general = |id: &str| id.ends_with("unknown") || id.starts_with("old-");
        let named = |hit: &&Hit| hit.table == Table::Finish && hit.mood != Mood::Denied && !general(&hit.id);
        let behind = self.hits.iter().filter(named).find(|hit| hit.at.start > at);
        let found = behind
            .or_else(|| self.hits.iter().filter(named).find(|hit| hit.at.start > solvent.at.start))
            .or_else(|| self.hits.iter().find(named))
            .cloned();
        let words = self.words_of(solvent.at.start..at + 1);
        let parts = self.parts_for(solvent.at.start);
        let mut proposal = self.dated(Proposal::new("surface.steps", &words));
        proposal = proposal.with("test", solvent.id.as_str()).with("result", result);
        proposal = self.on_parts(proposal, parts.clone());
        if parts.is_empty() {
            proposal = proposal.asking("on which part was it tried?");
        }
        self.out.push(proposal);
        if let Some(found) = &found {
            self.found(found, parts);
        }
        let range = 0..self.line.tokens.len();
        self.use_up(&range, Some(Table::Finish));
        self.use_up(&solvent.at, Some(Table::Treatment));
        self.use_up(&solvent.at, Some(Table::Repair));
    }

    /// A finish that was found on the piece.
    fn found(&mut self, hit: &Hit, parts: Vec<PartSaid>) {
        let words = self.words_of(self.line.clause(hit.at.start));
        let mut proposal = Proposal::new("surface", &words);
        proposal = self.with_parts(proposal, "parts", parts.clone()).with("found", hit.id.as_str());
        if parts.is_empty() {
            proposal = proposal.asking("on which part?");
        }
        if let Some(ask) = &hit.ask {
            proposal = proposal.asking(ask.clone());
        }
        self.out.push(proposal);
    }

    fn group(&self, id: &str) -> Option<TreatmentGroup> {
        self.bench.trade.treatment(id).map(|row| row.group.value)
    }

    // ---- Steps on surfaces ----

    fn steps(&mut self) {
        let coats = self.coats();
        let mut applied: Vec<usize> = Vec::new();
        let mut laid: Vec<(Hit, Option<Coats>)> = Vec::new();
        let finishes: Vec<Hit> = self.hits.iter().filter(|hit| hit.table == Table::Finish).cloned().collect();
        for hit in &finishes {
            if hit.mood >= Mood::Planned || self.is_trial(hit.at.start) || self.is_of_other(hit) {
                continue;
            }
            match self.role(hit, &finishes, &coats) {
                Role::Found => {
                    let parts = self.parts_for(hit.at.start);
                    if !self.out.iter().any(|one| one.value("found").and_then(Value::as_str) == Some(&hit.id))
                    {
                        self.found(hit, parts);
                    }
                }
                Role::Removed => self.removed(hit),
                Role::Laid if hit.mood == Mood::Told => laid.push((hit.clone(), None)),
                Role::Laid | Role::Nothing => {}
            }
        }
        // What is only called old says nothing beside what it is.
        let general = |one: &Proposal| {
            one.value("found")
                .and_then(Value::as_str)
                .is_some_and(|id| ["old-finish", "polish-unknown", "clear-finish-unknown"].contains(&id))
        };
        if self.out.iter().any(|one| one.value("found").is_some() && !general(one)) {
            self.out.retain(|one| !general(one));
        }
        // Each number of coats goes with the finish of its clause, else with the nearest of the line.
        let mut rows: Vec<(Hit, Option<Coats>)> = Vec::new();
        let numbered: Vec<&Coats> = coats.iter().filter(|one| one.numbered).collect();
        for one in coats.iter().filter(|one| !one.numbered) {
            let clause = self.line.clause(one.at);
            let here = laid.iter().filter(|(hit, _)| clause.contains(&hit.at.start));
            let near = here
                .min_by_key(|(hit, _)| hit.at.start.abs_diff(one.at))
                .or_else(|| laid.iter().min_by_key(|(hit, _)| hit.at.start.abs_diff(one.at)));
            if let Some((hit, _)) = near {
                applied.push(hit.at.start);
                rows.push((hit.clone(), Some(one.clone())));
            }
        }
        for (hit, _) in &laid {
            if !applied.contains(&hit.at.start) {
                let own = numbered
                    .iter()
                    .filter(|one| self.nearest_finish(one.at, &laid) == Some(hit.at.start))
                    .count();
                let coats = u32::try_from(own).ok().filter(|own| *own > 0);
                let coats = coats.map(|count| Coats { count, at: hit.at.start, numbered: true });
                rows.push((hit.clone(), coats));
            }
        }
        rows.sort_by_key(|(hit, coats)| coats.as_ref().map_or(hit.at.start, |one| one.at.max(hit.at.start)));
        let (mix, ratio) = self.mix(&laid);
        let every = self.every_hours();
        let between = self.between();
        let sheen = self.sheen();
        for (hit, coats) in rows {
            // What is thinned with is no coat of its own.
            if mix.iter().any(|(at, ..)| *at == hit.at.start)
                && mix.first().is_some_and(|(first, ..)| *first != hit.at.start)
            {
                continue;
            }
            let place = coats.as_ref().map_or(hit.at.start, |one| one.at);
            let clause = self.line.clause(place);
            let mut parts = self.parts_in(&(place.min(hit.at.start)..clause.end));
            if parts.is_empty() {
                parts = self.parts_for(place);
            }
            if coats.is_none() {
                parts = self.parts_for(hit.at.start);
            }
            let words = self.words_of(clause.start.min(hit.at.start)..clause.end.max(hit.at.end));
            let over_film = ["wax-unknown", "paste-wax"].contains(&hit.id.as_str())
                && self.out.iter().any(|one| {
                    one.value("found").and_then(Value::as_str).is_some_and(|found| self.is_film(found))
                });
            let id = if over_film { "wax-over-film" } else { hit.id.as_str() };
            let mut proposal = self.dated(Proposal::new("surface.steps", &words)).with("apply", id);
            if mix.first().is_some_and(|(first, ..)| *first == hit.at.start) {
                let mut list = Array::new();
                for ((_, of), parts) in mix.iter().map(|(at, of)| (at, of)).zip(&ratio) {
                    let mut one = InlineTable::new();
                    one.insert("of", of.as_str().into());
                    one.insert("parts", i64::from(*parts).into());
                    list.push(Value::InlineTable(one));
                }
                proposal = proposal.with("mix", list);
            }
            proposal = match &coats {
                Some(coats) => proposal.with("coats", i64::from(coats.count)),
                None if self.goes() => proposal.asking("how many coats?"),
                None => proposal.asking("one coat?"),
            };
            let several = coats.as_ref().is_some_and(|coats| coats.count > 1);
            if several {
                proposal =
                    proposal.with_some("every-hours", every).with_some("abrade-between", between.clone());
            }
            proposal = proposal.with_some("note", sheen.clone());
            if let Some(ask) = &hit.ask {
                proposal = proposal.asking(ask.clone());
            }
            if parts.is_empty() {
                proposal = proposal.asking("on which surface?");
            }
            proposal = self.on_parts(proposal, parts);
            self.out.push(proposal);
        }
        self.treatments();
        self.abrasion(between.is_some() && !coats.is_empty());
        self.stripping(&finishes);
    }

    /// Whether a sentence tells of a trial, and not of the piece.
    fn is_trial(&self, at: usize) -> bool {
        let tried = ["test patch", "trial", "sample", "test piece", "offcut", "scrap"];
        let taken = self.line.has(&self.line.clause(at), &["went with", "settled on", "used"]);
        self.line.has(&self.line.sentence(at), &tried) && !taken
    }

    /// Whether a finish is said of another thing or another day: `yesterdays paint`, `that other piece`.
    fn is_of_other(&self, hit: &Hit) -> bool {
        let clause = self.line.clause(hit.at.start);
        self.line.has(&clause, &["yesterdays", "other piece", "last week", "last time"])
    }

    /// Whether a finish lies on the wood as a film, so that wax goes over it.
    fn is_film(&self, id: &str) -> bool {
        !["wax", "oil", "bare", "soap", "stain", "dye"].iter().any(|open| id.contains(open))
    }

    fn nearest_finish(&self, at: usize, laid: &[(Hit, Option<Coats>)]) -> Option<usize> {
        let near = laid.iter().min_by_key(|(hit, _)| hit.at.start.abs_diff(at));
        near.map(|(hit, _)| hit.at.start)
    }

    /// Whether a line counts goes, applications or sessions, which are no coats.
    fn goes(&self) -> bool {
        self.line.has(&self.all(), &["applications", "goes", "sessions", "passes", "times"])
    }

    /// What a finish in a line is: found, taken off, laid.
    fn role(&self, hit: &Hit, finishes: &[Hit], coats: &[Coats]) -> Role {
        let (start, end) = (hit.at.start, hit.at.end);
        let clause = self.line.clause(start);
        let sentence = self.line.sentence(start);
        let before = |back: usize| start.checked_sub(back).map_or("", |at| self.line.word(at));
        let near = [before(1), before(2), before(3)];
        // A term or a repair over the same words says more: `paint drips`, `polish revived`.
        let in_other = self.hits.iter().any(|other| {
            [Table::Term, Table::Fixing, Table::Treatment].contains(&other.table)
                && other.at.start <= start
                && end <= other.at.end
                && (other.at.len() > hit.at.len()
                    || other.table == Table::Treatment && self.deed(&clause, Deed::Clean).is_some())
        });
        let candled = self.line.has(&clause, &["candle", "candled"])
            && self.line.has(&clause, &["runner", "runners", "drawer", "slides"]);
        if in_other || candled {
            return Role::Nothing;
        }
        let old = ["old", "original", "existing", "previous", "earlier", "found"];
        if self.deed(&clause, Deed::Strip).is_some_and(|at| at < start)
            || self.line.word(end) == "off"
                && self.deed(&(clause.start..start), Deed::TakeOff).is_none()
                && !self.is_applied(&clause, start)
            || self.deed(&(clause.start..start), Deed::Clean).is_some()
                && ["off"].iter().any(|off| self.line.has(&clause, &[off]))
                && !near.contains(&"with")
        {
            return Role::Removed;
        }
        if let Some(at) = self.deed(&(clause.start..start), Deed::TakeOff)
            && ["removed", "took", "taken"].contains(&self.line.word(at))
            && !self.line.has(&(at..start), &["with", "using", "and"])
        {
            return Role::Removed;
        }
        if near[..2].iter().any(|word| old.contains(word)) && !["with", "in"].contains(&near[0]) {
            return Role::Found;
        }
        let over = ["over", "under", "beneath", "below", "underneath"];
        if near.iter().any(|word| over.contains(word))
            && finishes.iter().any(|other| other.at.start < start && start - other.at.start < 8)
        {
            return Role::Found;
        }
        if near.iter().any(|word| ["under", "beneath", "underneath"].contains(word))
            && self.line.has(&sentence, &["found", "under", "theres", "there"])
        {
            return if self.is_applied(&clause, start) { Role::Laid } else { Role::Found };
        }
        let is = |word: &str| ["its", "is", "was", "looks", "be", "probably", "definitely"].contains(&word);
        if is(near[0]) || is(near[1]) && ["like", "just", "only", "a", "all"].contains(&near[0]) {
            // `it was waxed`, and not `its wax`.
            return if self.is_deed(hit) && near[0] != "its" { Role::Laid } else { Role::Found };
        }
        if self.deed(&(clause.start..start), Deed::Keep).is_some() {
            return Role::Found;
        }
        if self.is_applied(&clause, start)
            || self.is_deed(hit)
            || coats.iter().any(|one| clause.contains(&one.at) || sentence.contains(&one.at))
        {
            return Role::Laid;
        }
        // A statement of nothing but a finish, its place and numbers, or one behind a plus.
        let bare = clause.clone().all(|at| {
            let token = &self.line.tokens[at];
            hit.at.contains(&at)
                || !token.is_word()
                || token.value().is_some()
                || self.parts.iter().any(|part| part.at.contains(&at))
                || token.is_any(&[
                    "first", "second", "third", "final", "last", "the", "on", "all", "over", "more", "some",
                    "again", "thin", "light", "another", "a", "of", "inside", "outside", "matt", "satin",
                    "gloss", "coat", "today", "buffed", "both",
                ])
        });
        match bare && hit.mood == Mood::Told {
            true => Role::Laid,
            false => Role::Nothing,
        }
    }

    /// Whether a word tells the deed itself: `waxed`, `ebonised`.
    fn is_deed(&self, hit: &Hit) -> bool {
        let last = &self.line.tokens[hit.at.end - 1];
        is_done(last) || hit.at.clone().any(|at| self.line.tokens[at].word.ends_with("ished"))
    }

    /// Whether a deed of laying stands in the clause before a place, or right behind it: `wax buffed on`.
    fn is_applied(&self, clause: &Range<usize>, start: usize) -> bool {
        let took = self.line.has(clause, &["took", "cleaned", "wiped", "washed", "rubbed w"]);
        match self.deed(&(clause.start..start), Deed::Apply) {
            Some(at) => {
                !took || at > self.line.find(clause, &["took", "cleaned", "wiped", "washed"]).unwrap_or(0)
            }
            None => self.deed(&(start..clause.end), Deed::Apply).is_some() && !took,
        }
    }

    /// A finish that was taken off.
    fn removed(&mut self, hit: &Hit) {
        if hit.mood != Mood::Told {
            return;
        }
        let clause = self.line.clause(hit.at.start);
        let by = self.hits.iter().find(|other| {
            other.table == Table::Treatment
                && other.mood == Mood::Told
                && self.line.sentence(hit.at.start).contains(&other.at.start)
        });
        let by = by.map(|by| by.id.clone());
        let words = self.words_of(clause);
        let parts = self.parts_for(hit.at.start);
        let mut proposal = self.dated(Proposal::new("surface.steps", &words)).with("remove", hit.id.as_str());
        proposal = proposal.with_some("by", by);
        if parts.is_empty() {
            proposal = proposal.asking("from which surface?");
        }
        proposal = self.on_parts(proposal, parts);
        self.out.push(proposal);
        let sentence = self.line.sentence(hit.at.start);
        let removal = |id: &str| self.group(id) == Some(TreatmentGroup::Removal);
        let used: Vec<Range<usize>> = self
            .hits
            .iter()
            .filter(|hit| {
                hit.table == Table::Treatment && removal(&hit.id) && sentence.contains(&hit.at.start)
            })
            .map(|hit| hit.at.clone())
            .collect();
        used.iter().for_each(|range| self.use_up(range, Some(Table::Treatment)));
    }

    /// Stripping of what is not named: all of it, with what is told of the means.
    fn stripping(&mut self, finishes: &[Hit]) {
        let all = self.all();
        if self.out.iter().any(|one| one.value("remove").is_some()) {
            return;
        }
        let Some(at) = self.deed(&all, Deed::Strip) else { return };
        let clause = self.line.clause(at);
        if finishes.iter().any(|hit| clause.contains(&hit.at.start))
            || self.line.has(
                &clause,
                &[
                    "wallpaper",
                    "label",
                    "stripped out",
                    "screw",
                    "thread",
                    "webbing",
                    "upholstery",
                    "cover",
                    "fabric",
                    "seat",
                ],
            )
        {
            return;
        }
        let parts = self.parts_for(at);
        let by = self.hits.iter().find(|hit| hit.table == Table::Treatment && hit.mood == Mood::Told);
        let by = by.map(|hit| (hit.id.clone(), hit.at.clone()));
        let words = self.words_of(clause);
        let mut proposal = self.dated(Proposal::new("surface.steps", &words)).with("remove", "all");
        proposal = proposal.with_some("by", by.as_ref().map(|(id, _)| id.as_str()));
        if parts.is_empty() {
            proposal = proposal.asking("from which surface?");
        }
        proposal = self.on_parts(proposal, parts);
        self.out.push(proposal.asking("down to the bare wood?"));
        let used: Vec<String> = by.into_iter().map(|(id, _)| id).collect();
        self.out.retain(|one| {
            !(one
                .value("clean")
                .and_then(Value::as_str)
                .is_some_and(|clean| used.iter().any(|id| id == clean)))
        });
    }

    /// Cleaning, bleaching and what else a treatment did to a surface.
    fn treatments(&mut self) {
        let all: Vec<Hit> = self
            .hits
            .iter()
            .filter(|hit| hit.table == Table::Treatment && hit.mood == Mood::Told)
            .cloned()
            .collect();
        let mixed: Vec<usize> = self.mixed();
        for hit in all {
            let Some(group) = self.group(&hit.id) else { continue };
            let clause = self.line.clause(hit.at.start);
            let before = |back: usize| hit.at.start.checked_sub(back).map_or("", |at| self.line.word(at));
            let cleaning =
                matches!(group, TreatmentGroup::Cleaning | TreatmentGroup::Solvent | TreatmentGroup::Bleach);
            // Thinning is no cleaning, nor is what was there before: `smells of white spirit`.
            let thinned = mixed.contains(&hit.at.start)
                || self.line.has(&clause, &["thinned", "diluted", "cut with", "ran out", "thinner"])
                || self.line.has(&(hit.at.start.saturating_sub(3)..hit.at.start), &["smells", "smell"]);
            let with_finish = self.hits.iter().any(|other| {
                other.table == Table::Finish
                    && clause.contains(&other.at.start)
                    && other.at.start < hit.at.start
                    && self.is_deed(other)
            }) && self.deed(&clause, Deed::Clean).is_none();
            let same_as_finish = self.out.iter().any(|one| one.value("apply").is_some())
                && self.hits.iter().any(|other| {
                    other.table == Table::Finish
                        && other.at == hit.at
                        && self.deed(&clause, Deed::Clean).is_none()
                });
            let own = hit.at.start == clause.start
                || group == TreatmentGroup::Bleach && self.deed(&clause, Deed::Apply).is_none();
            let does = self.deed(&self.line.sentence(hit.at.start), Deed::Clean).is_some()
                || self.line.word(hit.at.start.saturating_sub(1)) == "the"
                || own;
            if !cleaning
                || !does
                || thinned
                || with_finish
                || same_as_finish
                || ["no", "without"].contains(&before(1))
            {
                continue;
            }
            let words = self.words_of(clause.clone());
            let parts = self.parts_for(hit.at.start);
            let mut proposal =
                self.dated(Proposal::new("surface.steps", &words)).with("clean", hit.id.as_str());
            if let Some(ask) = &hit.ask {
                proposal = proposal.asking(ask.clone());
            }
            if parts.is_empty() {
                proposal = proposal.asking("on which surface?");
            }
            proposal = self.on_parts(proposal, parts);
            self.out.push(proposal);
        }
    }

    /// The places of treatments that something was mixed or thinned with.
    fn mixed(&self) -> Vec<usize> {
        let laid: Vec<(Hit, Option<Coats>)> = self
            .hits
            .iter()
            .filter(|hit| hit.table == Table::Finish)
            .map(|hit| (hit.clone(), None))
            .collect();
        self.mix(&laid).0.into_iter().map(|(at, _)| at).collect()
    }

    /// What was mixed with what, and in which ratio: `BLO + turps 50/50`, `shellac thinned with meths 2:1`.
    fn mix(&self, laid: &[(Hit, Option<Coats>)]) -> (Vec<(usize, String)>, Vec<u32>) {
        let none = (Vec::new(), Vec::new());
        let ratio = self.all().find_map(|at| {
            let one = self.line.tokens[at].number?.to_u32()?;
            let sign = self.line.tokens.get(at + 1)?;
            let two = self.line.tokens.get(at + 2)?.number?.to_u32()?;
            let glued = sign.is_any(&["/", ":"]) && sign.glued && self.line.tokens[at + 2].glued;
            let words = sign.is("to") && one <= 10 && two <= 10;
            let timed = self.durations.iter().any(|other| other.at.contains(&at));
            let sound = (1..=100).contains(&one) && (1..=100).contains(&two) && !timed;
            ((glued || words) && sound && self.told(at)).then_some((at, one, two))
        });
        let fraction = || {
            // `50/50` is one number where a fraction could be read, `1/1` never.
            self.all()
                .find(|at| {
                    self.line.has(
                        &(*at..(*at + 3).min(self.line.tokens.len())),
                        &["half and half", "fifty fifty", "equal parts"],
                    )
                })
                .map(|at| (at, 1, 1))
        };
        let Some((at, one, two)) = ratio.or_else(fraction) else { return none };
        let clause = self.line.sentence(at);
        let mut things: Vec<(usize, String)> = self
            .hits
            .iter()
            .filter(|hit| clause.contains(&hit.at.start) && hit.mood == Mood::Told)
            .filter(|hit| {
                let solvent = hit.table == Table::Treatment
                    && self.group(&hit.id).is_some_and(|group| {
                        matches!(group, TreatmentGroup::Solvent | TreatmentGroup::Cleaning)
                    });
                hit.table == Table::Finish || solvent
            })
            .map(|hit| (hit.at.start, hit.id.clone()))
            .collect();
        things.dedup_by_key(|(at, _)| *at);
        let water = self
            .line
            .find(&clause, &["water"])
            .filter(|at| !things.iter().any(|(start, _)| at.abs_diff(*start) < 2));
        things.extend(water.map(|at| (at, "water".to_owned())));
        things.sort_by_key(|(at, _)| *at);
        let first_laid =
            things.first().is_some_and(|(at, _)| laid.iter().any(|(hit, _)| hit.at.start == *at));
        if things.len() < 2 || !first_laid {
            return none;
        }
        things.truncate(2);
        let common = gcd(one, two);
        (things, vec![one / common, two / common])
    }

    /// The hours between coats.
    fn every_hours(&self) -> Option<i64> {
        let waits = self.durations.iter().filter(|one| one.whose == Whose::Wait && one.minutes >= 60);
        let between = waits.filter(|one| {
            let around = one.at.start.saturating_sub(4)..(one.at.end + 3).min(self.line.tokens.len());
            self.line.has(&around, &["between", "apart", "every", "later", "after", "recoat", "coats"])
        });
        if let Some(one) = between.into_iter().next() {
            return Some(i64::from(one.minutes / 60));
        }
        // `coat 1 8am, coat 2 4pm`
        let mut times: Vec<u32> = Vec::new();
        for at in self.all() {
            let half = self.line.word(at + 1);
            if let (Some(number), "am" | "pm") = (self.line.tokens[at].number, half) {
                let whole = number.trunc().to_u32().unwrap_or(0);
                times.push(match (half, whole) {
                    ("pm", 1..=11) => whole + 12,
                    ("am", 12) => 0,
                    _ => whole,
                });
            }
        }
        match times[..] {
            [first, second]
                if second > first && self.line.has(&self.all(), &["coat", "coats", "1st", "2nd"]) =>
            {
                Some(i64::from(second - first))
            }
            _ => None,
        }
    }

    /// The sheen that is told.
    fn sheen(&self) -> Option<String> {
        let sheen = self.all().find(|at| {
            ["satin", "matt", "matte", "gloss", "semigloss"].contains(&self.line.word(*at)) && self.told(*at)
        })?;
        Some(match self.line.word(sheen) {
            "matte" => "matt".to_owned(),
            word => word.to_owned(),
        })
    }

    /// The numbers of coats that a line tells.
    fn coats(&self) -> Vec<Coats> {
        const BETWEEN: &[&str] = &[
            "thin", "light", "heavy", "full", "more", "good", "final", "wet", "brush", "spray", "sprayed",
            "quick", "very", "generous", "nice", "further", "extra", "top", "sealer", "finish", "flood",
            "neat", "thinned", "last", "first",
        ];
        const ORDINALS: &[&str] = &[
            "first", "second", "third", "fourth", "fifth", "final", "last", "another", "a", "an", "1st",
            "2nd", "3rd",
        ];
        let line = &self.line;
        let timed = |at: usize| self.durations.iter().any(|one| one.at.contains(&at));
        let mut found: Vec<Coats> = Vec::new();
        let is_coat = |at: usize| ["coat", "coats"].contains(&line.word(at));
        for at in self.all() {
            if !self.told(at) || timed(at) {
                continue;
            }
            let token = &line.tokens[at];
            let small = token.value().and_then(|value| value.to_u32()).filter(|value| {
                (1..=30).contains(value) && token.value().is_some_and(|value| value.is_integer())
            });
            let ordinal_end = usize::from(
                line.tokens
                    .get(at + 1)
                    .is_some_and(|next| next.glued && next.is_any(&["st", "nd", "rd", "th"])),
            );
            let mut after = at + 1 + ordinal_end;
            while BETWEEN.contains(&line.word(after)) && after < at + 4 {
                after += 1;
            }
            let finish_between = self
                .hits
                .iter()
                .find(|hit| hit.table == Table::Finish && hit.at.start == after)
                .map(|hit| hit.at.end);
            let coat = is_coat(after) || finish_between.is_some_and(is_coat);
            if let Some(count) = small {
                if at > 0 && is_coat(at - 1) && !coat && ordinal_end == 0 {
                    found.push(Coats { count, at, numbered: true });
                } else if coat || self.counts_coats(at, count, ordinal_end == 1, !found.is_empty()) {
                    let count = if ordinal_end == 1 { 1 } else { count };
                    found.push(Coats { count, at, numbered: false });
                } else {
                    continue;
                }
                // `one coat no two on the top`: the later number takes the earlier one back.
                let taken_back = at > 0 && ["no", "actually", "sorry", "make"].contains(&line.word(at - 1));
                if taken_back && found.len() > 1 {
                    let last = found.len() - 1;
                    found.remove(last - 1);
                }
            } else if coat
                && ORDINALS.contains(&token.word.as_str())
                && !(at > 0 && line.tokens[at - 1].value().is_some())
                && !found.iter().any(|one| one.at + 2 >= at && one.at <= at)
            {
                found.push(Coats { count: 1, at, numbered: false });
            }
        }
        found
    }

    /// Whether a number counts coats without their word: `1st … neat 2nd`, `2c`, `3 x top`, and after coats `one on the leaves`.
    fn counts_coats(&self, at: usize, count: u32, ordinal: bool, told: bool) -> bool {
        let line = &self.line;
        if ordinal {
            let said = told || line.has(&line.sentence(at), &["neat", "1st", "coats"]);
            return said && self.is_finish_clause(at);
        }
        let short = line.tokens.get(at + 1).is_some_and(|next| next.glued && next.is("c"));
        let part = |part: &PartHit| part.at.start <= at + 3 && part.at.start > at + 1;
        short && count <= 12 && temperature(line).is_none()
            || ["x", "×"].contains(&line.word(at + 1)) && self.is_part_or_finish(at + 2)
            || line.word(at + 1) == "on" && told && self.parts.iter().any(part)
    }

    fn is_finish_clause(&self, at: usize) -> bool {
        let sentence = self.line.sentence(at);
        self.hits.iter().any(|hit| hit.table == Table::Finish && sentence.contains(&hit.at.start))
    }

    fn is_part_or_finish(&self, at: usize) -> bool {
        self.parts.iter().any(|part| part.at.start == at)
            || self.hits.iter().any(|hit| hit.table == Table::Finish && hit.at.start == at)
    }

    /// The grits that a range tells, in their order.
    fn grits(&self, range: &Range<usize>, loosely: bool) -> Vec<(String, usize)> {
        let line = &self.line;
        let mut found: Vec<(String, usize)> = Vec::new();
        for at in range.clone() {
            let token = &line.tokens[at];
            if token.number.is_none()
                || !self.told(at)
                || self.durations.iter().any(|one| one.at.contains(&at))
            {
                continue;
            }
            if token.word.len() >= 2 && token.word.bytes().all(|byte| byte == b'0') {
                found.push((token.word.clone(), at));
                continue;
            }
            let Some(number) =
                token.number.and_then(|number| number.to_u32()).filter(|number| GRITS.contains(number))
            else {
                continue;
            };
            let p = at > 0 && line.word(at - 1) == "p" && token.glued;
            let after = line.word(at + 1);
            let named = p || ["grit", "grits", "g", "wet"].contains(&after) || after == "paper";
            let counted =
                ["mm", "cm", "ml", "g", "kg", "%", "h", "w", "d", "\"", "off", "screws", "c", "coats"]
                    .contains(&after)
                    && !named
                    || at > 0
                        && ["£", "$", "€", "asked", "took", "sold", "paid"].contains(&line.word(at - 1));
            if named || loosely && !counted {
                found.push((format!("P{number}"), at));
            }
        }
        found
    }

    /// The grit that was used between coats.
    fn between(&self) -> Option<String> {
        let at = self.all().find(|at| ["between"].contains(&self.line.word(*at)) && self.told(*at))?;
        let clause = self.line.clause(at);
        let grits = self.grits(&clause, true);
        if let Some((grit, _)) = grits.first() {
            return Some(grit.trim_start_matches('P').to_owned());
        }
        let wool = self.hits.iter().find(|hit| {
            hit.table == Table::Treatment
                && clause.contains(&hit.at.start)
                && self.group(&hit.id) == Some(TreatmentGroup::Abrading)
        });
        wool.map(|hit| hit.id.clone()).filter(|id| id != "sanding")
    }

    /// Rubbing down, with its grits.
    fn abrasion(&mut self, between: bool) {
        let all = self.all();
        let deed = self
            .deed(&all, Deed::Abrade)
            .or_else(|| self.line.find(&all, &["grit", "paper"]).filter(|at| self.told(*at)));
        let mut grits: Vec<(String, usize)> = Vec::new();
        let mut goes_on = false;
        for clause in self.line.clauses.clone() {
            if between && self.line.has(&clause, &["between"]) {
                continue;
            }
            // Grits stand one after the other: `sanded 120, 180, 240`.
            let words = ["then", "and", "to", "p", "finally", "grit", "up"];
            let numbers = clause
                .clone()
                .all(|at| self.line.tokens[at].number.is_some() || self.line.tokens[at].is_any(&words));
            let named = ["grit", "paper", "then", "through", "wire wool"];
            let loosely = self.deed(&clause, Deed::Abrade).is_some()
                || goes_on && numbers
                || self.line.has(&clause, &named) && deed.is_some();
            goes_on = loosely;
            grits.extend(self.grits(&clause, loosely));
        }
        grits.dedup_by_key(|(_, at)| *at);
        let wool: Vec<Hit> = self
            .hits
            .iter()
            .filter(|hit| {
                hit.table == Table::Treatment
                    && hit.mood == Mood::Told
                    && self.group(&hit.id) == Some(TreatmentGroup::Abrading)
                    && !["sanding", "scraping"].contains(&hit.id.as_str())
            })
            .cloned()
            .collect();
        let in_between = |at: usize| between && self.line.has(&self.line.clause(at), &["between"]);
        if grits.is_empty() {
            let rubs = |hit: &&Hit| {
                let clause = self.line.clause(hit.at.start);
                clause.start == hit.at.start
                    || self.deed(&clause, Deed::Abrade).is_some()
                    || self.deed(&clause, Deed::Clean).is_some()
            };
            let Some(first) = wool.iter().filter(rubs).find(|hit| !in_between(hit.at.start)) else { return };
            // Ebonising takes wire wool, and rubs nothing.
            if self.out.iter().any(|one| one.value("apply").and_then(Value::as_str) == Some("ebonising")) {
                return;
            }
            grits.push((first.id.clone(), first.at.start));
        }
        let first = grits[0].1;
        let parts = self.parts_for(first);
        let list: Vec<&str> = grits.iter().map(|(grit, _)| grit.as_str()).collect();
        let last = grits[grits.len() - 1].1;
        let words = self.words_of(self.line.clause(first).start..self.line.clause(last).end);
        let mut proposal = self.dated(Proposal::new("surface.steps", &words));
        proposal = match &list[..] {
            [one] => proposal.with("abrade", *one),
            several => proposal.with("abrade", several.iter().copied().collect::<Array>()),
        };
        if parts.is_empty() {
            proposal = proposal.asking("which surface?");
        }
        proposal = self.on_parts(proposal, parts);
        // Rubbing down goes before what was laid on it, where it is told before it.
        let at = self.out.iter().position(|one| one.value("apply").is_some()).filter(|_| {
            self.hits.iter().find(|hit| hit.table == Table::Finish).is_some_and(|hit| hit.at.start > first)
        });
        self.out.insert(at.unwrap_or(self.out.len()), proposal);
    }

    // ---- Faults ----

    /// The faults that were seen; their ids, with the clauses that tell them.
    fn faults(&mut self) -> Vec<(String, usize)> {
        let mut faults: Vec<(String, usize)> = Vec::new();
        let clauses = self.line.clauses.clone();
        // What broke in our own hands was not found so.
        if self
            .line
            .has(&self.all(), &["my fault", "i broke", "my own fault", "dropped it", "our fault", "my doing"])
        {
            return faults;
        }
        for clause in &clauses {
            let mut here: Vec<(String, Range<usize>, Mood, Option<String>)> = self
                .hits
                .iter()
                .filter(|hit| hit.table == Table::Term && clause.contains(&hit.at.start))
                .map(|hit| (hit.id.clone(), hit.at.clone(), hit.mood, hit.ask.clone()))
                .collect();
            // A state and a part together say more than a word for the state.
            if let Some(fault) = self.plain_fault(clause).filter(|_| clause.clone().all(|at| self.told(at))) {
                here = vec![(fault.to_owned(), clause.clone(), Mood::Told, None)];
            }
            if here.is_empty()
                && let Some((id, mood, ask)) = self.fault_of(clause)
            {
                here.push((id, clause.clone(), mood, ask));
            }
            for (mut id, at, mood, mut ask) in here {
                if ["worm", "woodworm"].contains(&id.as_str())
                    && let Some(meant) = self.meant_of(&["flight-holes", "frass"], clause)
                {
                    (id, ask) = (meant, None);
                }
                if ["sticky-finish", "seized"].contains(&id.as_str())
                    && self.line.has(clause, &["drawer", "drawers", "runner", "runners"])
                {
                    id = "sticking-drawer".to_owned();
                }
                let suspected = id.ends_with("suspected");
                if mood > Mood::Doubted && !suspected
                    || faults.iter().any(|(known, _)| *known == id)
                    || self.is_mere_tool(&id, &at)
                {
                    continue;
                }
                let parts = self.parts_for(at.start);
                let words = self.words_of(clause.clone());
                let mut proposal = Proposal::new("finding", &words)
                    .with("id", self.free_id("finding", &format!("f-{id}")).as_str());
                proposal = self.with_parts(proposal, "part", parts.clone()).with("seen", id.as_str());
                proposal = proposal.with_some("extent", self.state_of(&at));
                if parts.is_empty() {
                    proposal = proposal.asking("on which part?");
                }
                if mood == Mood::Doubted {
                    proposal = proposal.asking("is it so?");
                }
                if let Some(ask) = ask {
                    proposal = proposal.asking(ask);
                }
                faults.push((id, at.start));
                self.out.push(proposal);
            }
        }
        if self
            .line
            .has(&self.all(), &["needs new webbing", "webbing gone", "webbing shot", "webbing has gone"])
            && !faults.iter().any(|(id, _)| id == "webbing-failed")
        {
            let parts = self.parts_for(0);
            let words = self.words_of(self.line.clause(0));
            let proposal = Proposal::new("finding", &words).with("id", "f-webbing-failed");
            let proposal = self.with_parts(proposal, "part", parts).with("seen", "webbing-failed");
            self.out.push(proposal);
            faults.push(("webbing-failed".to_owned(), 0));
        }
        faults
    }

    /// The fault that a clause tells as a whole, where no form of the table stands in it.
    fn fault_of(&self, clause: &Range<usize>) -> Option<(String, Mood, Option<String>)> {
        let mood = clause.clone().map(|at| self.line.moods[at]).max()?;
        if mood > Mood::Told || clause.len() > 14 {
            return None;
        }
        if let Some(fault) = self.plain_fault(clause) {
            return Some((fault.to_owned(), Mood::Told, None));
        }
        let words: Vec<&str> = clause
            .clone()
            .filter(|at| self.line.tokens[*at].is_word())
            .map(|at| self.line.word(at))
            .collect();
        let phrase = words.join(" ");
        let (taken, by) = self.bench.trade.term_words().understood(&phrase);
        // What was done is no fault, unless the word for it is the fault's own: `split`.
        let done = clause.clone().any(|at| {
            let token = &self.line.tokens[at];
            let after = self.line.word(at + 1);
            // `knocked it out` is a deed, though it leaves a knock.
            let own = by.contains(&token.word)
                && !["it", "them", "the", "out", "off", "down", "up", "all", "my"].contains(&after);
            is_done(token) && !token.is_any(IS) && !own
        });
        // Nor is a word that tells a deed: `rubbed 400 first`.
        let deed = |word: &String| {
            DEEDS.iter().any(|(deed, words)| {
                ![Deed::See, Deed::Other].contains(deed) && words.contains(&word.as_str())
            })
        };
        if done || words.len() > 9 && by.len() < 3 || !by.is_empty() && by.iter().all(deed) {
            return None;
        }
        match taken {
            Taken::Row(row) => {
                let strong = by.len() > 1 || by.is_empty() || self.says_state(clause) || words.len() <= 3;
                let other = by.iter().any(|word| {
                    [
                        "light", "check", "made", "cut", "back", "rest", "open", "sap", "lost", "stripped",
                        "dust",
                    ]
                    .contains(&word.as_str())
                });
                (strong && !other).then(|| (row.key().into_owned(), Mood::Told, None))
            }
            Taken::Asked(row)
                if words.len() <= 9
                    && self.first_hit(Table::Finish, clause).is_none()
                    && !by.iter().any(|word| {
                        ["satin", "gloss", "matt", "replaced", "new", "old", "light", "finish"]
                            .contains(&word.as_str())
                    }) =>
            {
                let may_be: Vec<&str> = row.may_be.iter().map(|id| id.value.0.as_str()).collect();
                let said = if by.is_empty() { phrase.clone() } else { by.join(" ") };
                Some(match self.meant_of(&may_be, clause) {
                    Some(meant) => (meant, Mood::Told, None),
                    None => (said, Mood::Told, Some(row.ask.value.0.clone())),
                })
            }
            _ => None,
        }
    }

    /// A fault that a word for a state and a part make together: `loose rung`, `top screw snapped`.
    fn plain_fault(&self, clause: &Range<usize>) -> Option<&'static str> {
        let has = |words: &[&str]| self.line.has(clause, words);
        if has(&["screw", "screws"]) && has(&["snapped", "sheared", "broke", "broken"]) {
            return Some("sheared-screw");
        }
        let loose =
            has(&["loose", "wobbly", "wobbles", "rickety", "come loose", "came loose", "working loose"]);
        if !loose || has(&["shook loose", "still loose"]) {
            return None;
        }
        const LOOSE: &[(&[&str], &str)] = &[
            (&["hinge", "hinges"], "loose-hinge"),
            (&["handle", "handles", "knob", "knobs", "pull"], "loose-handle"),
            (&["castor", "castors"], "loose-castor"),
            (&["veneer"], "lifting-veneer"),
            (&["edging", "lipping", "edge strip", "beading", "cockbead"], "edging-loose"),
            (
                &[
                    "rung",
                    "rungs",
                    "rail",
                    "rails",
                    "leg",
                    "legs",
                    "arm",
                    "arms",
                    "stretcher",
                    "stretchers",
                    "joint",
                    "joints",
                    "spindle",
                    "spindles",
                    "dovetail",
                    "dovetails",
                    "tenon",
                    "back",
                    "frame",
                    "splat",
                    "slat",
                    "seat",
                    "foot",
                    "feet",
                    "bracket",
                ],
                "loose-joint",
            ),
        ];
        LOOSE.iter().find(|(words, _)| has(words)).map(|(_, fault)| *fault)
    }

    /// Which of several faults is meant, where the words around it tell.
    fn meant_of(&self, may_be: &[&str], clause: &Range<usize>) -> Option<String> {
        let sentence = self.line.sentence(clause.start);
        if !may_be.contains(&"flight-holes") {
            return None;
        }
        let old = self.line.has(
            &sentence,
            &["old", "no dust", "not active", "dead", "no fresh", "no powder", "inactive", "treated before"],
        );
        let fresh = self.line.has(&sentence, &["fresh", "live", "active", "dust", "powder", "frass"]);
        match (old, fresh) {
            (true, _) => Some("flight-holes".to_owned()),
            (false, true) => Some("frass".to_owned()),
            (false, false) => None,
        }
    }

    /// Whether a clause tells a state by its verb: `sticks`, `is loose`.
    fn says_state(&self, clause: &Range<usize>) -> bool {
        self.line.has(
            clause,
            &[
                "is", "was", "are", "has", "sticks", "sticking", "rocks", "wobbles", "loose", "broken",
                "missing", "dead", "gone", "split", "cracked", "bad", "some", "still", "smells", "old",
            ],
        )
    }

    /// Whether a word for a fault is only one of a remedy or a thing: `filled dent`, `water damage kit`.
    fn is_mere_tool(&self, id: &str, at: &Range<usize>) -> bool {
        let after = self.line.word(at.end);
        let before = at.start.checked_sub(1).map_or("", |at| self.line.word(at));
        ["filler", "kit", "tin", "paste", "cutter", "fluid", "killer", "treatment", "treated", "spray"]
            .contains(&after)
            || ["screw", "fixing"].contains(&after) && id != "sheared-screw" && id != "stripped-hole"
            || ["for", "against", "avoid", "prevent", "stop", "any"].contains(&before)
            || ["candle-wax"].contains(&id)
                && self.line.has(&self.all(), &["runner", "runners", "drawer", "sticky", "sticks"])
    }

    /// What is told of a fault's state: old, no dust, not active.
    fn state_of(&self, at: &Range<usize>) -> Option<String> {
        let sentence = self.line.sentence(at.start);
        let states = [
            "old",
            "no dust",
            "not active",
            "no fresh dust",
            "fresh",
            "deep",
            "hairline",
            "all over",
            "minor",
            "slight",
            "bad",
            "badly",
            "no powder",
            "dead",
            "inactive",
            "long gone",
        ];
        let told: Vec<&str> = states
            .iter()
            .copied()
            .filter(|state| {
                let said = sentence.clone().any(|place| {
                    self.line.stands(place, state, sentence.end) && self.line.moods[place] != Mood::Doubted
                });
                said && !at.clone().any(|place| self.line.stands(place, state, at.end))
            })
            .collect();
        let measured = sentence.clone().find_map(|place| {
            let long = self.line.tokens[place].number.is_some()
                && ["mm", "cm", "inch", "inches", "\""].contains(&self.line.word(place + 1));
            long.then(|| self.words_of(place..place + 2))
        });
        let told: Vec<String> = told.into_iter().map(str::to_owned).chain(measured).collect();
        (!told.is_empty()).then(|| told.join(", "))
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

    // ---- Fixings ----

    fn fixings(&mut self) {
        let not_original =
            |hit: &Hit| hit.at.start > 1 && self.line.stands(hit.at.start - 2, "not original", hit.at.start);
        let all: Vec<Hit> = self
            .hits
            .iter()
            .filter(|hit| hit.table == Table::Fixing && (hit.mood <= Mood::Doubted || not_original(hit)))
            .cloned()
            .collect();
        let mut instead_used: Vec<usize> = Vec::new();
        for hit in all {
            let glue = is_glue(&hit.id);
            if hit.id.starts_with("joint")
                || hit.id == "glue-unknown"
                    && self
                        .hits
                        .iter()
                        .any(|other| other.table == Table::Fixing && other.at != hit.at && is_glue(&other.id))
                || instead_used.contains(&hit.at.start)
            {
                continue;
            }
            // The hinge of hinge screws is only what they hold.
            if self
                .hits
                .iter()
                .any(|other| other.table == Table::Fixing && other.at.start == hit.at.end && !glue)
            {
                continue;
            }
            // A word that is a fault or a treatment too says that instead.
            let other = self.hits.iter().any(|other| {
                [Table::Term, Table::Repair].contains(&other.table)
                    && other.at.start <= hit.at.start
                    && hit.at.end <= other.at.end
                    && other.at.len() > hit.at.len()
            });
            if other {
                continue;
            }
            let clause = self.line.clause(hit.at.start);
            let sentence = self.line.sentence(hit.at.start);
            let Some((standing, sure)) = self.standing(&hit, &clause, &sentence, glue) else { continue };
            let words = self.words_of(clause.clone());
            let parts: Vec<PartSaid> = self
                .parts_for(hit.at.start)
                .into_iter()
                .filter(|part| !self.is_the_fixing(part, &hit))
                .collect();
            let mut proposal = self
                .with_parts(Proposal::new("fixing", &words), "part", parts.clone())
                .with("kind", hit.id.as_str());
            if !glue {
                proposal = proposal.with_some("count", self.count_before(&hit).map(i64::from));
            }
            proposal = proposal.with("standing", standing);
            if let Some((range, instead)) = self.instead_of(&sentence, hit.at.end) {
                proposal = proposal.with("instead-of", instead);
                instead_used.extend(range);
            }
            if !sure {
                proposal = proposal.asking("what is it to the piece: original, later, new?");
            }
            if parts.is_empty() {
                proposal = proposal.asking("on which part?");
            }
            if let Some(ask) = &hit.ask {
                proposal = proposal.asking(ask.clone());
            }
            if hit.mood == Mood::Doubted {
                proposal = proposal.asking("is it so?");
            }
            if standing == "later"
                && hit.id.starts_with("screw")
                && !self.out.iter().any(|one| one.value("seen").is_some())
            {
                let finding = Proposal::new("finding", &words)
                    .with("id", self.free_id("finding", "f-later-hardware").as_str());
                self.out.push(self.with_parts(finding, "part", parts).with("seen", "later-hardware"));
            }
            self.out.push(proposal);
        }
    }

    /// What a fixing is to the piece, and whether the line says so; `None` where it only mentions it.
    fn standing(
        &self,
        hit: &Hit,
        clause: &Range<usize>,
        sentence: &Range<usize>,
        glue: bool,
    ) -> Option<(&'static str, bool)> {
        let before = clause.start..hit.at.start;
        let word = |back: usize| hit.at.start.checked_sub(back).map_or("", |at| self.line.word(at));
        let later = self.line.has(
            sentence,
            &[
                "at some point",
                "previously",
                "somebody",
                "someone",
                "later",
                "replaced before",
                "not original",
                "by a previous",
                "in the past",
            ],
        );
        if later && (self.line.has(clause, &["replaced", "not original", "later", "put in", "added"])) {
            // What was replaced is there no more.
            let gone = self.line.has(&before, &["replaced"]) && !self.line.has(&before, &["by", "with"]);
            return (!gone).then_some(("later", true));
        }
        if hit.mood == Mood::Denied {
            return None;
        }
        if glue {
            let old = ["old", "original"]
                .iter()
                .any(|old| self.line.has(&(hit.at.start.saturating_sub(3)..hit.at.start), &[old]))
                || self.line.has(clause, &["sure", "looks like", "must be", "was", "its", "crumbs"])
                || self
                    .line
                    .has(sentence, &["cleaned off", "scraped out", "washed out", "cleaned of", "old glue"])
                    && self.deed(clause, Deed::Glue).is_none();
            if old {
                return Some(("unknown", false));
            }
            let glued = self.deed(sentence, Deed::Glue).is_some_and(|at| !hit.at.contains(&at))
                || self.deed(sentence, Deed::Splice).is_some()
                || self.line.has(sentence, &["clamped", "cramped", "clamps", "clamp", "pressed"])
                || self.deed(clause, Deed::Fill).is_some();
            let bare = clause.len() == hit.at.len() && hit.id != "glue-unknown";
            let with =
                self.line.has(&(hit.at.start.saturating_sub(3)..hit.at.start), &["with", "using", "and"]);
            let deed = with
                && clause.clone().any(|at| {
                    self.told(at) && is_done(&self.line.tokens[at]) && !self.line.tokens[at].is_any(IS)
                });
            return (glued || bare || deed).then_some(("new", true));
        }
        if ["old", "original"].iter().any(|old| [word(1), word(2)].contains(old)) {
            let again =
                self.deed(&before, Deed::Fit).is_some() || self.line.has(clause, &["back in", "again"]);
            return (again || self.line.has(clause, &["nailed with", "held by", "held with"]))
                .then_some(("original", false));
        }
        let new = (hit.at.start.saturating_sub(4)..hit.at.start)
            .rev()
            .find(|at| ["new", "replacement"].contains(&self.line.word(*at)));
        let of_another = new.is_some_and(|new| {
            self.hits.iter().any(|other| {
                other.table == Table::Fixing && new < other.at.start && other.at.end <= hit.at.start
            }) || self.parts.iter().any(|part| new < part.at.start && part.at.end <= hit.at.start)
        });
        if new.is_some() && !of_another
            || self.line.has(
                &(hit.at.end..(hit.at.end + 9).min(sentence.end.max(hit.at.end))),
                &["in place of", "instead of", "to replace"],
            )
        {
            return Some(("new", true));
        }
        let was = [
            "nailed with",
            "held with",
            "held by",
            "screwed with",
            "fixed with",
            "was nailed",
            "was screwed",
            "joined with",
        ];
        if self.line.has(&before, &was) && self.line.has(clause, &["was", "were", "is", "are", "its"]) {
            return Some(("unknown", false));
        }
        let fitted =
            self.deed(&before, Deed::Fit).filter(|at| !hit.at.contains(at) && self.line.word(*at) != "fit");
        let replaced = self.deed(&before, Deed::Replace).filter(|at| !hit.at.contains(at));
        if (fitted.is_some() || replaced.is_some()) && hit.id != "key" {
            // `replaced the screws` renews them; `refitted the hinges` does not.
            let again = fitted.is_some_and(|at| ["refitted", "rehung", "hung"].contains(&self.line.word(at)));
            return (!again).then_some(("new", self.count_before(hit).is_some() || fitted.is_some()));
        }
        let with = ["with", "using"].contains(&word(1)) || ["with", "using"].contains(&word(2));
        if with && self.deed(&(clause.start..clause.end), Deed::Fit).is_some() {
            return Some(("new", true));
        }
        None
    }

    /// Whether a part is the fixing itself: the castors of `castors on`.
    fn is_the_fixing(&self, part: &PartSaid, hit: &Hit) -> bool {
        self.parts
            .iter()
            .any(|named| named.part == *part && named.at.start < hit.at.end && hit.at.start < named.at.end)
    }

    /// How many of a fixing: the number before it, with what says of what kind they are between.
    fn count_before(&self, hit: &Hit) -> Option<u32> {
        let from = hit.at.start.saturating_sub(3).max(self.line.clause(hit.at.start).start);
        let at = (from..hit.at.start).rev().find(|at| self.line.tokens[*at].value().is_some())?;
        let after = self.line.word(at + 1);
        let measured =
            ["mm", "cm", "\"", "inch", "inches", "x", "lb", "kg", "/", "h", "hr", "min", "coats", "%", "no"]
                .contains(&after);
        let numbered =
            at > 0 && (["no", "number", "£", "p", "/", "x", "size"].contains(&self.line.word(at - 1)));
        let value = self.line.tokens[at].value()?;
        let count = value.to_u32().filter(|_| value.is_integer() && !measured && !numbered);
        count.filter(|count| (1..=500).contains(count))
    }

    /// What a fixing stands for: the words behind `in place of`.
    fn instead_of(&self, sentence: &Range<usize>, from: usize) -> Option<(Range<usize>, String)> {
        let at = (from..sentence.end).find(|at| {
            ["in place of", "instead of", "to replace", "replacing", "in for"]
                .iter()
                .any(|words| self.line.stands(*at, words, sentence.end))
        })?;
        let mut start = at
            + if self.line.word(at) == "in" && self.line.word(at + 1) == "place" {
                3
            } else if self.line.word(at) == "replacing" {
                1
            } else {
                2
            };
        while ["the", "a", "those", "old", "horrible"].contains(&self.line.word(start))
            && start + 1 < sentence.end
            && self.line.word(start) != "old"
        {
            start += 1;
        }
        let end = (start..sentence.end)
            .find(|at| [",", "(", "and", "-"].contains(&self.line.word(*at)))
            .unwrap_or(sentence.end);
        let words = self.words_of(start..end);
        (!words.is_empty()).then_some((start..end, words))
    }

    // ---- Timbers ----

    fn timbers(&mut self) {
        let all: Vec<Hit> = self
            .hits
            .iter()
            .filter(|hit| hit.table == Table::Timber && hit.mood <= Mood::Doubted)
            .cloned()
            .collect();
        let mut told: Vec<String> = Vec::new();
        for hit in all {
            let longer = self.hits.iter().any(|other| {
                other.table != Table::Timber
                    && other.at.start <= hit.at.start
                    && hit.at.end <= other.at.end
                    && other.at.len() >= hit.at.len()
            });
            let before = hit.at.start.checked_sub(1).map_or("", |at| self.line.word(at));
            let two = hit.at.start.checked_sub(2).map_or("", |at| self.line.word(at));
            let after = self.line.word(hit.at.end);
            let stuff = [
                "board", "boards", "slat", "slats", "strip", "strips", "veneer", "batten", "dowel", "plug",
                "plugs", "patch", "block", "blocks", "wedge", "offcut", "lipping", "piece", "stock", "lath",
                "key", "keys", "splice", "spline", "top", "leg", "runner", "runners", "slip", "fillet",
                "insert",
            ]
            .contains(&after)
                || crate::daybook::lexicon::part(after).is_some();
            let of = [
                "in",
                "of",
                "its",
                "is",
                "some",
                "from",
                "new",
                "old",
                "solid",
                "be",
                "matching",
                "reclaimed",
                "with",
                "was",
            ]
            .contains(&before)
                || ["its", "is", "in", "of", "from"].contains(&two)
                || two == "looks";
            let clause = self.line.clause(hit.at.start);
            let alone = clause.len() <= hit.at.len() + 1;
            let edging = self.first_hit(Table::Edging, &clause).is_some();
            let tool =
                ["dust", "oil", "wax", "stain", "coloured", "filler", "colour", "shavings", "look", "effect"]
                    .contains(&after);
            let named = self.parts.iter().any(|part| part.at.end == hit.at.start);
            if longer || tool || told.contains(&hit.id) || !(stuff || of || alone || edging || named) {
                continue;
            }
            told.push(hit.id.clone());
            let sentence = self.line.sentence(hit.at.start);
            let new = [Deed::Splice, Deed::Fit, Deed::Replace]
                .iter()
                .any(|deed| self.deed(&sentence, *deed).is_some())
                || self
                    .line
                    .has(&sentence, &["ripped", "sawn", "made", "cut", "turned", "new", "let in", "mitred"]);
            let words = self.words_of(clause.clone());
            let mut parts = self.parts_for(hit.at.start);
            parts.truncate(1);
            if let Some(edging) = self.first_hit(Table::Edging, &clause) {
                let from = if edging.at.start > clause.start
                    && ["edge", "front"].contains(&self.line.word(edging.at.start - 1))
                {
                    edging.at.start - 1
                } else {
                    edging.at.start
                };
                parts = vec![PartSaid { said: self.line.phrase(from..edging.at.end), ids: Vec::new() }];
            }
            let name = parts.first().map(|part| part.said.clone());
            let known = parts.first().is_some_and(|part| part.ids.len() == 1);
            let mut proposal = Proposal::new("part", &words);
            if !known {
                let id = name.as_ref().map(|name| self.free_id("part", &name.replace(' ', "-")));
                proposal =
                    proposal.with_some("id", id).with_some("name", name.as_deref().map(crate::unit::capital));
                proposal = proposal.with("standing", if new { "new" } else { "unknown" });
            } else if let Some(id) = parts.first().and_then(|part| part.ids.first()) {
                proposal = proposal.with("id", id.as_str());
            }
            proposal = proposal.with("timber", hit.id.as_str());
            if name.is_none() {
                proposal = proposal.asking("of which part?");
            }
            if hit.mood == Mood::Doubted || self.line.has(&sentence, &["!", "?"]) {
                proposal = proposal.asking("is it so?");
            }
            if let Some(ask) = &hit.ask {
                proposal = proposal.asking(ask.clone());
            }
            if known && !new {
                proposal = proposal.asking("does the record say another?");
            }
            proposal.parts = parts;
            self.out.push(proposal);
        }
    }

    // ---- Work ----

    fn work(&mut self, faults: &[(String, usize)]) {
        let deeds = self.deeds(faults);
        let own: Vec<&Duration> = self.durations.iter().filter(|one| one.whose == Whose::Own).collect();
        let minutes: u32 = own.iter().map(|one| one.minutes).sum();
        let about = own.iter().any(|one| one.about);
        let guessed = own.iter().any(|one| one.guessed);
        let parts = self.parts_in(&self.all());
        let done = self.all().any(|at| {
            self.told(at)
                && is_done(&self.line.tokens[at])
                && !self.line.tokens[at].is_any(&["is", "was", "were", "had", "found", "got"])
        });
        let outcome = OUTCOMES
            .iter()
            .find(|(_, words)| self.outcome(words))
            .map(|(outcome, _)| *outcome)
            .or_else(|| self.gone_partly());
        if deeds.is_empty() && minutes == 0 && outcome.is_none() && (parts.is_empty() || !done) {
            return;
        }
        let text = self.line.text.clone();
        let did = Jotting::of("", 0..0, None, &text).said.unwrap_or_default();
        let mut proposal = self.dated(Proposal::new("work", &text));
        let mut parts: Vec<PartSaid> = parts.into_iter().filter(|part| self.is_worked_on(part)).collect();
        parts.truncate(6);
        proposal = self.with_parts(proposal, "part", parts);
        proposal = match did.is_empty() {
            true => proposal.asking("what was done?"),
            false => proposal.with("did", did),
        };
        let mends: Vec<String> = self
            .out
            .iter()
            .filter(|one| one.table == "finding" && self.is_mended(one, &deeds))
            .filter_map(|one| one.value("id").and_then(Value::as_str).map(str::to_owned))
            .collect();
        if outcome.is_some() || !mends.is_empty() && !deeds.is_empty() {
            proposal = match &mends[..] {
                [] => proposal,
                several => proposal.with("mends", several.iter().map(String::as_str).collect::<Array>()),
            };
        }
        proposal = proposal.with_some("turned-out", outcome);
        if let Some(label) = deeds.iter().find_map(|id| self.label(id)) {
            proposal = proposal.with("task", label);
        }
        if minutes > 0 {
            proposal = proposal.with("hours", hours(minutes));
            if about {
                proposal = proposal.asking("how long, as exactly as you know?");
            }
            if guessed {
                proposal =
                    proposal.asking(format!("is that {} h {} min of work?", minutes / 60, minutes % 60));
            }
        }
        if self.line.has(&self.all(), &["helped", "helper", "apprentice"]) && minutes > 0 {
            proposal = proposal.asking("does the helper's time count too?");
        }
        proposal.deeds = deeds;
        self.out.push(proposal);
    }

    /// Whether a part was worked on, and not only mentioned: where a label was, or what is all right.
    fn is_worked_on(&self, part: &PartSaid) -> bool {
        self.parts.iter().any(|named| {
            let next = self.line.word(named.at.end);
            let then = self.line.word(named.at.end + 1);
            let good = |word: &str| ["ok", "fine", "sound", "good"].contains(&word);
            named.part == *part
                && !good(next)
                && !(["is", "are", "was", "were"].contains(&next) && good(then))
        })
    }

    /// Whether the deeds of a line may have mended a fault that it tells.
    fn is_mended(&self, finding: &Proposal, deeds: &[String]) -> bool {
        let seen = finding.value("seen").and_then(Value::as_str).unwrap_or_default();
        // What was only looked at, or left, is not mended.
        let unmendable = [
            "no-key",
            "no-fire-label",
            "asbestos-suspected",
            "flight-holes",
            "later-hardware",
            "electrical-fault",
            "sharp-edge",
        ];
        let left = self.line.has(&self.all(), &["leave it", "left it", "leaving it", "for now"]);
        !deeds.is_empty()
            && !unmendable.contains(&seen)
            && !left
            && deeds
                .iter()
                .any(|deed| !["dismantling", "cleaned", "dry-fit", "sanding"].contains(&deed.as_str()))
            || self.out.iter().any(|one| one.table == "surface.steps" && one.value("clean").is_some())
                && ["odour-smoke", "odour", "black-ring", "white-ring", "grime", "tide-mark", "ink-stain"]
                    .contains(&seen)
    }

    fn outcome(&self, words: &[&str]) -> bool {
        let all = self.all();
        all.clone().any(|at| {
            let stands = words.iter().any(|word| self.line.stands(at, word, all.end));
            stands
                && self.line.moods[at] != Mood::Planned
                && self.line.moods[at] != Mood::Asked
                && (self.line.moods[at] != Mood::Denied
                    || words.iter().any(|word| {
                        self.line.stands(at, word, all.end)
                            && DENIES.iter().any(|deny| word.starts_with(deny))
                    }))
        })
    }

    /// `80% gone`
    fn gone_partly(&self) -> Option<&'static str> {
        self.all().find_map(|at| {
            let number = self.line.tokens[at].number?;
            let part = self.line.word(at + 1) == "%"
                && ["gone", "out", "better", "off"].contains(&self.line.word(at + 2));
            (part && number < Decimal::from(100)).then_some("partly")
        })
    }

    fn label(&self, id: &str) -> Option<String> {
        let trade = self.bench.trade;
        let repair = trade.repair_words().form(id).map(|row| row.label.value.0.clone());
        repair.or_else(|| trade.treatment(id).map(|row| row.label.value.0.clone()))
    }

    /// The deeds that a line tells, by the rows of the trade's tables.
    fn deeds(&self, faults: &[(String, usize)]) -> Vec<String> {
        let mut deeds: Vec<String> = Vec::new();
        let mut add = |id: &str| {
            if !deeds.iter().any(|known| known == id) {
                deeds.push(id.to_owned());
            }
        };
        let passive = self
            .line
            .has(&self.all(), &["at some point", "previously", "somebody", "someone", "in the past"]);
        const NOT: &[&str] = &[
            "finish-laid",
            "cleaned",
            "stripped",
            "marked",
            "colour-matched",
            "metal-cleaned",
            "polish-revived",
            "waxed-off",
        ];
        for hit in self.hits.iter().filter(|hit| hit.mood == Mood::Told) {
            match hit.table {
                Table::Repair if !NOT.contains(&hit.id.as_str()) && !passive && !self.only_names(hit) => {
                    add(&hit.id)
                }
                Table::Treatment => {
                    let group = self.group(&hit.id);
                    let surface = group.is_none_or(|group| {
                        matches!(
                            group,
                            TreatmentGroup::Cleaning
                                | TreatmentGroup::Solvent
                                | TreatmentGroup::Bleach
                                | TreatmentGroup::Removal
                                | TreatmentGroup::Abrading
                        )
                    });
                    if !surface {
                        add(&hit.id);
                    }
                }
                _ => {}
            }
        }
        for clause in &self.line.clauses {
            let edges = self.parts_in(clause).iter().all(|part| {
                part.said.contains("edge") || part.said.contains("top") || part.said.contains("side")
            });
            let part =
                |words: &[&str]| self.line.has(clause, words) || self.line.has(&self.all(), words) && edges;
            if let Some(at) = self.deed(clause, Deed::Glue) {
                let noun = self.line.word(at) == "glue" && at != clause.start;
                let patch = self.line.has(clause, &["veneer"]);
                let veneer =
                    self.hits.iter().any(|hit| hit.table == Table::Repair && hit.id.starts_with("veneer"));
                if !noun && !self.line.has(clause, &["hot glue gun"]) && !veneer {
                    add(if patch { "veneer-relaying" } else { "regluing" });
                }
            }
            if self.deed(clause, Deed::Ease).is_some() {
                if part(&["drawer", "drawers", "runner", "runners"]) {
                    add("drawer-eased");
                } else if part(&["door", "doors"]) {
                    add("door-eased");
                }
            }
            let lifting =
                faults.iter().any(|(id, _)| ["lifting-veneer", "blistered-veneer"].contains(&id.as_str()));
            if lifting
                && self.line.has(&self.all(), &["ironed", "pressed", "glued", "laid", "stuck", "clamped"])
            {
                add("veneer-relaying");
            }
            if self.deed(clause, Deed::Splice).is_some() {
                let veneer = self.line.has(clause, &["veneer"]);
                let patch = self.line.has(clause, &["patch", "patched", "let in"]);
                add(match (veneer, patch) {
                    (true, _) => "veneer-patch",
                    (false, true) => "patch",
                    (false, false) => "splice",
                });
            }
            if self.deed(clause, Deed::Fill).is_some() {
                if self.line.has(clause, &["hole", "holes"]) {
                    add("hole-plugged");
                } else if self.line.has(clause, &["crack", "cracks", "split", "splits", "gap", "shake"]) {
                    add("crack-filled");
                }
            }
            let replaced = self.deed(clause, Deed::Replace).is_some()
                || self.line.has(clause, &["new"]) && self.deed(clause, Deed::Fit).is_some();
            let passive = self.line.has(
                &self.line.sentence(clause.start),
                &["at some point", "previously", "before us", "someone", "somebody", "not original"],
            );
            if replaced && !passive {
                for (words, id) in REPLACED {
                    if self.line.has(clause, words) {
                        add(id);
                        break;
                    }
                }
            }
            if self.line.has(clause, &["runner", "runners"])
                && self.line.has(&self.all(), &["ripped", "sawn", "new", "renewed", "replaced", "made"])
                && self.told(clause.start)
            {
                add("drawer-runner-repair");
            }
            let off = self.deed(clause, Deed::TakeOff);
            if off.is_some_and(|at| self.takes_off(at, clause)) {
                add("dismantling");
            }
            if self.line.has(
                clause,
                &[
                    "cut a key",
                    "cut new key",
                    "new key cut",
                    "cut a new key",
                    "key cut",
                    "had a key cut",
                    "key made",
                ],
            ) && self.told(clause.start)
            {
                add("key-cut");
            }
            if self.line.has(clause, &["candle", "candled"])
                && self.line.has(&self.all(), &["runner", "runners", "drawer", "drawers"])
                && self.told(clause.start)
            {
                add("candle-wax-lubricant");
            }
            let bare = self.out.iter().all(|one| one.value("abrade").is_none());
            let paper = clause.clone().any(|at| self.line.does(at, "sanded", clause.end))
                || self.line.has(clause, &["the sanding"]);
            if paper
                && bare
                && (self.line.has(clause, &["the sanding"]) || self.deed(clause, Deed::Abrade).is_some())
                && self.between().is_none()
            {
                add("sanding");
            }
            if self.line.has(clause, &["french polished", "french polish"]) && self.told(clause.start) {
                add("french-polishing");
            }
        }
        // The general word says nothing beside the precise one.
        for (general, precise) in [
            ("gluing", "regluing"),
            ("hardware-replaced", "screws-replaced"),
            ("hardware-replaced", "repair-dowel"),
        ] {
            if deeds.iter().any(|id| id == precise) {
                deeds.retain(|id| id != general);
            }
        }
        deeds
    }

    /// Whether the words of a repair only name a thing that something else was done to: `blackened the new screws`.
    fn only_names(&self, hit: &Hit) -> bool {
        let clause = self.line.clause(hit.at.start);
        let named =
            self.line.word(hit.at.start) == "new" || !hit.at.clone().any(|at| is_done(&self.line.tokens[at]));
        let other = (clause.start..hit.at.start)
            .any(|at| self.told(at) && is_done(&self.line.tokens[at]) && !self.line.tokens[at].is_any(IS));
        let fits = self.deed(&clause, Deed::Fit).is_some() || self.deed(&clause, Deed::Replace).is_some();
        if hit.id == "edging-replaced" && !fits && !self.line.has(&clause, &["new"]) {
            return true;
        }
        named && other && !fits && hit.at.len() > 1
    }

    /// Whether a word of taking off is told of a part or a fitting: no finish, no dirt, no clamp.
    fn takes_off(&self, at: usize, clause: &Range<usize>) -> bool {
        let word = self.line.word(at);
        let only_off = ["off", "out"].contains(&word);
        let others = [
            "clamp",
            "clamps",
            "cramp",
            "cramps",
            "dirt",
            "dust",
            "wax",
            "paint",
            "varnish",
            "polish",
            "finish",
            "lacquer",
            "glue",
            "stripper",
            "rust",
            "grime",
            "edge",
            "whisker",
            "tape",
            "plug",
            "spirited",
            "cleaned",
            "wiped",
            "top edge",
            "washed",
            "scraped",
            "rubbed",
            "cut",
            "shaving",
            "mm",
            "photos",
            "books",
            "nicotine",
            "residue",
            "stain",
            "photograph",
            "photographs",
            "lights",
        ];
        let thing = self.parts.iter().any(|part| clause.contains(&part.at.start))
            || self
                .hits
                .iter()
                .any(|hit| hit.table == Table::Fixing && clause.contains(&hit.at.start) && !is_glue(&hit.id));
        // `back off` is told by its part right before it.
        let right_before = self.parts.iter().any(|part| part.at.end == at);
        let out = self.line.has(clause, &["apart"]);
        (thing && (!only_off || right_before) || out && self.told(at)) && !self.line.has(clause, &others)
            || word == "dismantled"
    }

    // ---- Money, measures, air ----

    fn money(&mut self) {
        let amounts = amounts(&self.line, &self.durations);
        let litre = amounts.iter().find(|one| one.purpose == Purpose::Each).map(|one| one.amount);
        let sum = self.line.clone_words();
        for one in &amounts {
            if one.mood >= Mood::Planned && one.purpose != Purpose::Asking {
                continue;
            }
            let words = self.words_of(self.line.clause(one.at.start));
            let amount = decimal(one.amount);
            let what = if one.what.is_empty() { sum.clone() } else { one.what.clone() };
            match one.purpose {
                Purpose::Cost => {
                    let mut proposal =
                        Proposal::new("cost", &words).with("what", what.as_str()).with("amount", amount);
                    if one.what.is_empty() {
                        proposal = proposal.asking("what for?");
                    }
                    self.out.push(proposal);
                }
                Purpose::Paid => self.out.push(Proposal::new("found", &words).with("paid", amount)),
                Purpose::Asking => self.out.push(Proposal::new("", &words).with("asking", amount)),
                Purpose::Price => {
                    let mut proposal = Proposal::new("handover", &words).with("price", amount);
                    proposal = proposal.asking("on which day did it go?");
                    self.out.push(proposal);
                }
                Purpose::Each | Purpose::Total | Purpose::Income => {}
            }
        }
        // So much of a tin whose price by the litre is told.
        let share = self.all().find_map(|at| {
            let number = self.line.tokens[at].number?;
            match self.line.word(at + 1) {
                "ml" => Some(number / Decimal::from(1000)),
                "l" | "litre" | "litres" if self.line.word(at.saturating_sub(1)) != "a" => Some(number),
                _ => None,
            }
        });
        if let (Some(price), Some(share)) = (litre, share) {
            let what = self.words_of(0..1.min(self.line.tokens.len()));
            let amount = decimal((price * share).round_dp(2).normalize());
            let text = self.line.text.clone();
            let proposal = Proposal::new("cost", &text).with("what", what).with("amount", amount);
            self.out.push(proposal.asking("how much of the tin was it?"));
        }
    }

    fn measures(&mut self) {
        let told = sizes(&self.line);
        let text = self.line.text.clone();
        let whole = |value: Decimal| value.to_i64().unwrap_or_default();
        if let (Some(width), Some(depth), Some(height)) = (told.width, told.depth, told.height) {
            let mut size = InlineTable::new();
            for (key, side) in [("width", width), ("depth", depth), ("height", height)] {
                size.insert(key, whole(side).into());
            }
            let mut proposal = Proposal::new("", &text).with("size", Value::InlineTable(size));
            if self.parts.iter().any(|part| part.at.start == 0) {
                proposal = proposal.asking("is it the size of the whole piece?");
            }
            self.out.push(proposal);
        }
        if let Some((thick, at)) = told.thick {
            let parts = self.parts_for(at);
            let mut size = InlineTable::new();
            size.insert("thick", decimal(thick));
            let id =
                parts.first().and_then(|part| if let [id] = &part.ids[..] { Some(id.clone()) } else { None });
            let mut proposal = Proposal::new("part", &text)
                .with_some("id", id.as_deref())
                .with("size", Value::InlineTable(size));
            proposal = match (&id, parts.first()) {
                (Some(_), _) => proposal,
                (None, Some(part)) => {
                    proposal.asking(format!("which part of the record is “{}”?", part.said))
                }
                (None, None) => proposal.asking("which part?"),
            };
            proposal.parts = parts;
            self.out.push(proposal);
        }
        let weights = weights(&self.line);
        if !weights.is_empty()
            && !self.line.has(&self.all(), &["clamp", "load", "loaded", "books", "weight on"])
        {
            let sum: Decimal = weights.iter().copied().sum();
            let mut proposal =
                Proposal::new("", &text).with("weighs", decimal(sum)).asking("was it put on a scale?");
            if weights.len() > 1 {
                proposal = proposal.asking("is that all of it together?");
            }
            self.out.push(proposal);
        }
        let (temperature, humidity) = (temperature(&self.line), humidity(&self.line));
        if temperature.is_some() || humidity.is_some() {
            let mut air = InlineTable::new();
            if let Some(temperature) = temperature {
                air.insert("temperature", decimal(temperature));
            }
            if let Some(humidity) = humidity {
                air.insert("humidity", decimal(humidity));
            }
            let proposal = Proposal::new("surface", &text).with("drying", Value::InlineTable(air));
            self.out.push(proposal.asking("which surface was drying then?"));
        }
    }

    // ---- What is open, and what was left ----

    fn open_and_left(&mut self, faults: &[(String, usize)]) {
        let mut plan: Option<Range<usize>> = None;
        for clause in self.line.clauses.clone() {
            let planned = clause.clone().any(|at| self.line.moods[at] == Mood::Planned);
            let from =
                clause.clone().find(|at| self.line.moods[*at] == Mood::Planned).unwrap_or(clause.start);
            // A need that the line itself answers is no plan: `seat needs new webbing so rewebbed it`.
            let answered = self.line.has(&clause, &["needs", "need"])
                && self.line.clauses.iter().any(|later| {
                    later.start > clause.start
                        && later.clone().any(|at| {
                            self.told(at)
                                && is_done(&self.line.tokens[at])
                                && !self.line.tokens[at].is_any(&["is", "was", "were"])
                        })
                });
            if planned && !answered {
                plan = Some(plan.map_or(from..clause.end, |plan| plan.start..clause.end));
            }
        }
        if let Some(plan) = plan {
            let what = self.words_of(plan.clone());
            let mut proposal = Proposal::new("open", &what).with("what", what.as_str());
            let parts = self.parts.iter().filter(|part| plan.contains(&part.at.start));
            proposal.parts = parts.map(|part| part.part.clone()).collect();
            self.out.push(proposal);
        }
        self.left(faults);
    }

    /// Something that was left as it is, or kept on purpose.
    fn left(&mut self, faults: &[(String, usize)]) {
        let all = self.all();
        let left = [
            "leave it",
            "left it",
            "leaving it",
            "left as is",
            "leave as is",
            "leaving as is",
            "left alone",
            "leave alone",
            "not touching it",
            "leaving that",
            "leave that",
            "left that",
        ];
        let at = all.clone().find(|at| {
            left.iter().any(|words| self.line.stands(*at, words, all.end))
                && !["to", "overnight", "for", "in", "on"].contains(&self.line.word(at + 2))
        });
        if let Some(at) = at {
            let clause = self.line.clause(at);
            let before = self.words_of(0..clause.start.max(1));
            match faults.iter().find(|(_, place)| *place < at).or_else(|| faults.first()) {
                Some((fault, _)) => {
                    let id = self
                        .out
                        .iter()
                        .find(|one| one.value("seen").and_then(Value::as_str) == Some(fault))
                        .and_then(|one| one.value("id"))
                        .and_then(Value::as_str)
                        .map(str::to_owned);
                    let what = before.trim_end_matches([',', ' ', '.', '-']).to_owned();
                    let text = self.line.text.clone();
                    let proposal = Proposal::new("undone", &text)
                        .with("what", if what.is_empty() { fault.as_str() } else { what.as_str() });
                    let proposal = proposal.with_some("leaves", id).with("why", "unknown");
                    self.out.push(proposal.asking("why was it left?"));
                }
                None => self.decided("leave it or change it?", &self.words_of(clause)),
            }
            return;
        }
        let kept = self.deed(&all, Deed::Keep).filter(|at| {
            let clause = self.line.clause(*at);
            let near = *at..(*at + 5).min(clause.end.max(*at));
            self.line.has(
                &near,
                &[
                    "finish", "patina", "original", "polish", "as is", "paint", "surface", "colour", "old",
                    "handles", "marks",
                ],
            )
        });
        let stripped = all.clone().find(|at| {
            self.line.moods[*at] == Mood::Denied
                && ["strip", "stripping", "stripped", "sand", "refinish", "using", "use", "paint"]
                    .contains(&self.line.word(*at))
        });
        let not_used = self.line.has(
            &all,
            &[
                "not using it",
                "not using that",
                "wont use",
                "didnt strip",
                "not stripping",
                "decided not to",
                "decided against",
                "wont strip",
                "no stripping",
            ],
        );
        if let Some(at) = kept.or(stripped.filter(|_| not_used)) {
            let clause = self.line.clause(at);
            let ask = match self.line.has(&all, &["strip", "stripping", "finish", "polish"]) {
                true => "strip the finish or keep it?",
                false => "use it or not?",
            };
            self.decided(ask, &self.words_of(clause));
        }
    }

    fn decided(&mut self, ask: &str, chose: &str) {
        let mut proposal = Proposal::new("decision", chose).with("ask", ask).with("chose", chose);
        proposal.parts = self.parts_in(&self.all());
        self.out.push(proposal.asking("why?"));
    }

    // ---- What is written on it, and what people say ----

    fn inscriptions(&mut self) {
        let all = self.all();
        let text = &self.line.text;
        let quoted = text.split(['"', '“', '”']).nth(1).filter(|inner| {
            !inner.trim().is_empty()
                && text.matches(['"', '“', '”']).count() >= 2
                && inner.chars().any(char::is_alphabetic)
        });
        let word = all.clone().find(|at| {
            self.told(*at)
                && INSCRIBED.contains(&self.line.word(*at))
                && !self.hits.iter().any(|hit| hit.table == Table::Term && hit.at.contains(at))
        });
        let strong = all.clone().any(|at| {
            self.told(at)
                && [
                    "newspaper",
                    "signed",
                    "signature",
                    "stamped",
                    "stamp",
                    "inscription",
                    "inscribed",
                    "plaque",
                    "pencil",
                    "stencilled",
                    "cc",
                    "branded",
                    "dated",
                ]
                .contains(&self.line.word(at))
        });
        let found = self.line.has(
            &all,
            &[
                "found",
                "theres",
                "there is",
                "under",
                "behind",
                "inside",
                "reads",
                "says",
                "got",
                "on the back",
                "on back",
                "underneath",
            ],
        );
        let ours = self.line.has(
            &all,
            &[
                "labelled",
                "marked the",
                "marked up",
                "marked out",
                "pencil line",
                "pencilled in",
                "line in pencil",
            ],
        );
        if let (Some(word), false) = (word, ours)
            && (quoted.is_some()
                || strong && found
                || found
                    && self.line.has(&all, &["label", "makers", "sticker", "mark", "chalk"])
                    && !self.line.has(&all, &["mark on", "marks", "water mark"]))
        {
            let range = self.line.clause(word);
            let range = if quoted.is_some() { 0..self.line.tokens.len() } else { range };
            let words = match quoted {
                Some(_) => text.trim().to_owned(),
                None => self.words_of(range),
            };
            let mut proposal = Proposal::new("", &words).with("inscriptions", words.as_str());
            proposal.parts = self.parts_for(word);
            self.out.push(proposal);
        }
    }

    /// What somebody told of where the piece comes from: for the archive, and no fact.
    fn hearsay(&mut self) {
        let all = self.all();
        let people = self
            .line
            .has(&all, &["customer", "client", "owner", "seller", "vendor", "lady", "he", "she", "dealer"]);
        let says = self.line.has(
            &all,
            &["says", "said", "came from", "reckons", "thinks", "told me", "bought it", "inherited"],
        );
        if !(people && says) {
            return;
        }
        let text = self.line.text.clone();
        self.out.push(
            Proposal::new("found", &text)
                .with("note", text.as_str())
                .asking("may it be kept in the archive?"),
        );
        if let Some(decade) = self.decade() {
            self.out.push(
                Proposal::new("", &text)
                    .with("made", format!("{decade}X?"))
                    .asking("it is hearsay: is there better evidence?"),
            );
        }
    }

    /// The decade that a line tells, as the first three digits of its years.
    fn decade(&self) -> Option<u32> {
        const TENS: [(&str, u32); 9] = [
            ("tens", 1),
            ("twenties", 2),
            ("thirties", 3),
            ("forties", 4),
            ("fifties", 5),
            ("sixties", 6),
            ("seventies", 7),
            ("eighties", 8),
            ("nineties", 9),
        ];
        self.all().find_map(|at| {
            let named = TENS.iter().find(|(word, _)| *word == self.line.word(at)).map(|(_, ten)| *ten);
            if let Some(ten) = named {
                let century = match at.checked_sub(1).map(|at| self.line.word(at)) {
                    Some("eighteen") => 180,
                    Some("seventeen") => 170,
                    _ => 190,
                };
                return Some(century + ten);
            }
            let year = self.line.tokens[at].number?.to_u32().filter(|year| (1600..2030).contains(year))?;
            (self.line.word(at + 1) == "s").then_some(year / 10)
        })
    }
}

/// What becomes of a finish that a line names.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Role {
    Found,
    Removed,
    Laid,
    Nothing,
}

/// What is put in another's place, by the words for it, with the repair that it is.
const REPLACED: &[(&[&str], &str)] = &[
    (&["dowel", "dowels"], "repair-dowel"),
    (&["screw", "screws"], "screws-replaced"),
    (&["glass", "pane"], "glass-replaced"),
    (&["hinge", "hinges"], "hinge-replaced"),
    (&["webbing"], "rewebbed"),
    (&["foam"], "foam-replaced"),
    (&["edging", "lipping", "edge strip"], "edging-replaced"),
    (&["cane"], "recaned"),
    (&["rush"], "rerushed"),
    (&["springs", "spring"], "respringing"),
    (&["fabric", "cover", "upholstery"], "reupholstery"),
    (&["leather"], "leather-relaid"),
    (&["drawer bottom"], "drawer-bottom-repair"),
    (&["runner", "runners"], "drawer-runner-repair"),
    (
        &["handle", "handles", "knob", "knobs", "castor", "castors", "lock", "catch", "escutcheon"],
        "hardware-replaced",
    ),
    (
        &[
            "leg",
            "rail",
            "stretcher",
            "spindle",
            "slat",
            "shelf",
            "moulding",
            "drawer front",
            "panel",
            "batten",
            "foot",
        ],
        "new-part-made",
    ),
];

/// Whether a fixing is a glue.
fn is_glue(id: &str) -> bool {
    id.contains("glue")
        || [
            "epoxy",
            "cyanoacrylate",
            "contact-cement",
            "construction-adhesive",
            "spray-adhesive",
            "starch-paste",
            "hot-melt",
            "polyester-resin",
            "silicone-sealant",
        ]
        .contains(&id)
}

fn gcd(one: u32, other: u32) -> u32 {
    if other == 0 { one.max(1) } else { gcd(other, one % other) }
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
