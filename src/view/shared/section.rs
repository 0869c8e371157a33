//! Sections of a sheet: a heading, and claims under it in the order in which they are read.

use std::borrow::Cow;
use std::collections::HashMap;

use serde::Serialize;

use crate::claim::{Claim, Message};
use crate::derive::standing_of;
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
    /// The same in rows: what begins with the same words, or says the same of several things, stands in one.
    pub rows: Vec<SectionRow>,
}

/// Lines of a section that begin with the same words, or that say the same of several things.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct SectionRow {
    /// What they begin with; may be empty.
    pub lead: String,
    /// The standing that a theme draws beside it, as the record writes it; mostly empty.
    pub standing: &'static str,
    /// How much the first of them matters, as a word for a theme.
    pub weight: &'static str,
    /// What they say.
    pub texts: Vec<String>,
}

/// Letters that a row may begin with where it says the same of several things.
const LEAD: usize = 200;

fn rows(lines: &[Sentence], standings: &[&'static str]) -> Vec<SectionRow> {
    let mut rows: Vec<SectionRow> = Vec::new();
    let standings = standings.iter().copied().chain(std::iter::repeat(""));
    for (Sentence { lead, text, weight }, standing) in lines.iter().zip(standings) {
        match rows.iter_mut().find(|row| row.lead == *lead && row.standing == standing) {
            Some(row) if row.texts.contains(text) => {}
            Some(row) => row.texts.push(text.clone()),
            None => rows.push(SectionRow { lead: lead.clone(), standing, weight, texts: vec![text.clone()] }),
        }
    }
    let mut joined: Vec<SectionRow> = Vec::new();
    for row in rows {
        let alike = |other: &&mut SectionRow| {
            let (one, same) = ([&row.lead, &other.lead], row.standing == other.standing);
            let room = one.iter().map(|lead| lead.chars().count()).sum::<usize>() <= LEAD;
            same && room && one.iter().all(|lead| !lead.is_empty()) && row.texts == other.texts
        };
        match joined.iter_mut().find(alike) {
            Some(other) => other.lead = format!("{}; {}", other.lead, row.lead),
            None => joined.push(row),
        }
    }
    joined
}

/// Puts sections into words; those that say nothing are left out.
pub(crate) fn worded(context: &PieceContext<'_>, sections: &[Arranged<'_>]) -> Vec<Section> {
    let words = context.house.words();
    let parts = context.claims.parts.iter().zip(&context.record.parts);
    let standings: HashMap<*const Claim, &'static str> =
        parts.map(|(claim, part)| (std::ptr::from_ref(claim), standing_of(part).word())).collect();
    let told = sections.iter().filter(|section| !section.claims.is_empty());
    told.map(|section| {
        let lines: Vec<Sentence> = section.claims.iter().map(|claim| words.sentence(claim)).collect();
        let standing =
            |claim: &&Claim| standings.get(&std::ptr::from_ref(*claim)).copied().unwrap_or_default();
        let standings: Vec<&'static str> = section.claims.iter().map(standing).collect();
        Section {
            name: section.name.clone(),
            heading: words.heading(&section.heading),
            form: section.form,
            rows: rows(&lines, &standings),
            lines,
        }
    })
    .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn line(lead: &str, text: &str) -> Sentence {
        Sentence { lead: lead.to_owned(), text: text.to_owned(), weight: "plain" }
    }

    #[test]
    fn what_begins_alike_and_what_says_the_same_stands_in_one_row() {
        let lines = [
            line("Left end", "Pine."),
            line("Lid", "Oak."),
            line("Right end", "Pine."),
            line("Lid", "Worn."),
        ];
        let said = |standings: &[&'static str]| -> Vec<(String, String)> {
            rows(&lines, standings).into_iter().map(|row| (row.lead, row.texts.join(" "))).collect()
        };
        let row = |lead: &str, text: &str| (lead.to_owned(), text.to_owned());
        assert_eq!(said(&[]), [row("Left end; Right end", "Pine."), row("Lid", "Oak. Worn.")]);
        // Of another standing it is another thing.
        let apart = said(&["original", "original", "new", "original"]);
        assert_eq!(apart, [row("Left end", "Pine."), row("Lid", "Oak. Worn."), row("Right end", "Pine.")]);
    }

    #[test]
    fn a_row_begins_with_no_more_names_than_are_read() {
        let name = "x".repeat(LEAD / 2);
        let lines = [line(&name, "Pine."), line(&format!("{name}y"), "Pine.")];
        assert_eq!(rows(&lines, &[]).len(), 2);
        // Lines without a beginning are not joined.
        assert_eq!(rows(&[line("", "Pine."), line("", "Oak.")], &[])[0].texts, ["Pine.", "Oak."]);
    }
}
