//! How much of the checklist a piece's papers tell, and what would improve them most.

use std::fmt;

use crate::derive::photograph::listing::Photographs;
use crate::record::day_book::Kind;
use crate::record::{Act, PhotoStage, Piece, Record};
use crate::trade::{Asked, Item, Requirement, Trade};

/// Something that would improve a piece's papers.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Addition {
    /// What to do, in lower case and without a full stop, such as "say when it was made".
    pub say: String,
    /// What to write, as TOML to paste, or the path of a file to add.
    pub write: String,
    /// The heading of the checklist that it belongs to.
    pub heading: String,
    /// How much it would improve the papers, by the checklist's own reckoning.
    pub weight: u32,
    /// What it would tell of the checklist.
    pub counts: Vec<Requirement>,
}

impl fmt::Display for Addition {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let break_ = if self.write.contains('\n') { '\n' } else { ' ' };
        write!(f, "{}:{break_}{}", self.say, self.write)
    }
}

/// One heading of the checklist.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Heading {
    /// Its words.
    pub name: String,
    /// The standard that names it; empty where it is our own.
    pub standard: String,
    /// How many of its lines the record tells.
    pub told: usize,
    /// What is missing, told or not yet asked for, in the order of the checklist.
    pub missing: Vec<String>,
}

/// How much of the checklist a piece's papers tell.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Completeness {
    /// The weights of all lines that the record tells.
    told: u64,
    /// The weights of all lines.
    all: u64,
    /// The checklist, heading by heading.
    pub headings: Vec<Heading>,
    /// What is missing and can be said now, the best first.
    pub additions: Vec<Addition>,
    /// Where the checklist comes from, each source once.
    pub sources: Vec<String>,
}

impl Completeness {
    /// How much is told, in whole percent rounded down: 100 means all of it.
    pub fn percent(&self) -> u64 {
        (self.told * 100).checked_div(self.all).unwrap_or(100)
    }
}

/// Compares what a piece's record tells with the checklist.
///
/// Every line counts from the first day, whether or not it is asked for yet, so that no fact that is
/// added to a record ever lowers its percentage.
///
/// # Source
/// The checklist's rows name theirs; the weights and this reckoning are our own.
pub(in crate::derive) fn completeness(
    piece: &Piece,
    record: &Record,
    photographs: &Photographs,
    trade: &Trade,
) -> Completeness {
    let seen = Checklist { piece, record, photographs };
    let mut found = Completeness::default();
    for item in &trade.documentation.rows {
        let weight = u64::from(item.weight.0);
        let told = item.counts.iter().any(|what| seen.tells(what.value));
        found.all += weight;
        found.told += if told { weight } else { 0 };
        found.note(item, told);
        if !told && seen.asks(item.asked.value) {
            found.additions.push(seen.addition(item));
        }
    }
    // Two lines of one weight, which only a workshop's own rows can have, keep the checklist's order.
    found.additions.sort_by_key(|addition| std::cmp::Reverse(addition.weight));
    found
}

impl Completeness {
    /// Notes a line of the checklist under its heading.
    fn note(&mut self, item: &Item, told: bool) {
        let standard = item.standard.as_ref().map_or_else(String::new, |standard| standard.to_string());
        let source = item.source.to_string();
        if !self.sources.contains(&source) {
            self.sources.push(source);
        }
        let name = item.category.to_string();
        let place = self.headings.iter().position(|heading| heading.name == name).unwrap_or_else(|| {
            self.headings.push(Heading { name, standard: String::new(), told: 0, missing: Vec::new() });
            self.headings.len() - 1
        });
        let heading = &mut self.headings[place];
        if heading.standard.is_empty() {
            heading.standard = standard;
        }
        match told {
            true => heading.told += 1,
            false => heading.missing.push(item.say.to_string()),
        }
    }
}

/// What is looked at.
struct Checklist<'a> {
    piece: &'a Piece,
    record: &'a Record,
    photographs: &'a Photographs,
}

impl Checklist<'_> {
    fn tells(&self, what: Requirement) -> bool {
        let record = self.record;
        let steps = || record.surfaces.iter().flat_map(|surface| &surface.steps);
        match what {
            // A record without these two cannot be read.
            Requirement::Kind | Requirement::Title => true,
            Requirement::BeforePhotograph => self.shows(&[PhotoStage::Before]),
            Requirement::AfterPhotograph => self.shows(&[PhotoStage::After, PhotoStage::Handover]),
            Requirement::DescribedPhotographs => self.photographed() && self.undescribed().is_none(),
            Requirement::Parts => !record.parts.is_empty(),
            Requirement::Timber => {
                record.parts.iter().any(|part| part.timber.is_some() || part.veneer.is_some())
            }
            Requirement::Size => record.size.is_some(),
            Requirement::Inscriptions => record.inscriptions.is_some(),
            Requirement::ToldBy => record.told_by.is_some(),
            Requirement::Subject => record.subject.is_some(),
            Requirement::Made => record.made.is_some(),
            Requirement::Basis => record.basis.is_some(),
            Requirement::Maker => record.maker.is_some(),
            Requirement::Summary => record.summary.is_some(),
            Requirement::Story => !self.piece.story.is_empty(),
            Requirement::Findings => !record.findings.is_empty(),
            Requirement::Decisions => !record.decisions.is_empty(),
            Requirement::Stance => record.stance.is_some(),
            Requirement::Level => record.level.is_some(),
            Requirement::Work => !record.works.is_empty() || steps().next().is_some() || self.jotted_work(),
            Requirement::Undo => {
                record.works.iter().any(|work| work.undo.is_some() || work.undoable.is_some())
            }
            Requirement::Undone => !record.undone.is_empty(),
            Requirement::Tests => {
                let mut acts = steps().flat_map(|step| step.acts());
                !record.tests.is_empty() || acts.any(|act| matches!(act, Act::Test(_)))
            }
            Requirement::Surfaces => !record.surfaces.is_empty(),
            Requirement::Use => record.r#use.is_some(),
        }
    }

    /// Whether a line of the day book that others read tells work.
    fn jotted_work(&self) -> bool {
        let jotted = self.piece.jotted(self.record);
        jotted.iter().any(|(jotting, kind)| *kind == Kind::Work && jotting.said.is_ok())
    }

    fn asks(&self, asked: Asked) -> bool {
        match asked {
            Asked::Always => true,
            Asked::Worked => self.tells(Requirement::Work),
            Asked::Parts => self.tells(Requirement::Parts),
            Asked::Dated => self.tells(Requirement::Made),
            Asked::Photographed => self.photographed(),
        }
    }

    /// Whether there is a photograph for everybody.
    fn photographed(&self) -> bool {
        self.photographs.all.iter().any(|photograph| !photograph.private)
    }

    /// Whether a photograph for everybody shows one of these stages.
    fn shows(&self, stages: &[PhotoStage]) -> bool {
        let shown = |stage: Option<PhotoStage>| stage.is_some_and(|stage| stages.contains(&stage));
        self.photographs.all.iter().any(|photograph| shown(photograph.stage) && !photograph.private)
    }

    /// The first photograph for everybody that is not described.
    fn undescribed(&self) -> Option<&str> {
        let bare = self.photographs.all.iter().find(|photo| photo.alt.is_none() && !photo.private)?;
        Some(&bare.file)
    }

    /// What to write, with the piece's own names in it.
    fn addition(&self, item: &Item) -> Addition {
        let part = self.record.parts.first().map_or("…", |part| &part.id.0);
        let write = item
            .write
            .replace("{folder}", &self.piece.folder)
            .replace("{part}", part)
            .replace("{photograph}", self.undescribed().unwrap_or("…"));
        Addition {
            say: item.say.to_string(),
            write: write.trim_end().to_owned(),
            heading: item.category.to_string(),
            weight: item.weight.0,
            counts: item.counts.iter().map(|what| what.value).collect(),
        }
    }
}
