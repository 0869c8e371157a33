//! Sections of a sheet: a heading, and claims under it in the order in which they are read.

use std::borrow::Cow;

use serde::Serialize;

use crate::claim::{Claim, Message};
use crate::view::context::PieceContext;
use crate::words::Sentence;

/// How the lines of a section are set.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Form {
    /// Each a line by itself.
    Lines,
    /// What each begins with in a column of its own.
    Columns,
    /// One after the other, numbered.
    Steps,
}

/// A section of a sheet, in claims.
pub(crate) struct Arranged<'a> {
    /// What it is called in addresses and templates.
    pub(crate) name: Cow<'static, str>,
    pub(crate) heading: Message,
    pub(crate) form: Form,
    pub(crate) claims: Vec<&'a Claim>,
}

/// A claim with what a sheet says of it.
pub struct Said<'a> {
    /// The heading that it stands under.
    pub heading: Message,
    /// The claim.
    pub claim: &'a Claim,
    /// What the sheet says.
    pub sentence: String,
    /// Whether the sheet only counts it and another has it whole.
    pub is_elsewhere: bool,
}

impl<'a> Arranged<'a> {
    pub(crate) fn new(
        name: impl Into<Cow<'static, str>>,
        heading: Message,
        form: Form,
        claims: &'a [Claim],
    ) -> Arranged<'a> {
        Arranged { name: name.into(), heading, form, claims: claims.iter().collect() }
    }
}

/// A section of a sheet, in words.
#[derive(Debug, Clone, Serialize)]
pub struct Section {
    /// What it is called in addresses and templates.
    pub name: Cow<'static, str>,
    /// Its heading.
    pub heading: String,
    /// How its lines are set.
    pub form: Form,
    /// What it says.
    pub lines: Vec<Sentence>,
    /// The same in rows: what begins with the same words stands in one.
    pub rows: Vec<SectionRow>,
}

/// Lines of a section that begin with the same words.
#[derive(Debug, Clone, Serialize)]
pub struct SectionRow {
    /// What they begin with; may be empty.
    pub lead: String,
    /// How much the first of them matters, as a word for a theme.
    pub weight: &'static str,
    /// What they say.
    pub texts: Vec<String>,
}

fn rows(lines: &[Sentence]) -> Vec<SectionRow> {
    let mut rows: Vec<SectionRow> = Vec::new();
    for Sentence { lead, text, weight } in lines {
        match rows.iter_mut().find(|row| row.lead == *lead) {
            Some(row) if row.texts.contains(text) => {}
            Some(row) => row.texts.push(text.clone()),
            None => rows.push(SectionRow { lead: lead.clone(), weight, texts: vec![text.clone()] }),
        }
    }
    rows
}

/// Puts sections into words; those that say nothing are left out.
pub(crate) fn worded(context: &PieceContext<'_>, sections: &[Arranged<'_>]) -> Vec<Section> {
    let words = context.house.words();
    let told = sections.iter().filter(|section| !section.claims.is_empty());
    told.map(|section| {
        let lines: Vec<Sentence> = section.claims.iter().map(|claim| words.sentence(claim)).collect();
        Section {
            name: section.name.clone(),
            heading: words.heading(&section.heading),
            form: section.form,
            rows: rows(&lines),
            lines,
        }
    })
    .collect()
}
