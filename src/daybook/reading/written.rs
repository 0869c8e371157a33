//! What is written on a piece, and what people tell of it.

use rust_decimal::prelude::ToPrimitive;

use super::LineReader;
use crate::daybook::hits::Table;
use crate::daybook::proposal::Proposal;
use crate::daybook::words::lists;

impl LineReader<'_, '_> {
    pub(super) fn inscriptions(&mut self) {
        let all = self.all();
        let text = &self.line.text;
        let quoted = text.split(['"', '“', '”']).nth(1).filter(|inner| {
            !inner.trim().is_empty()
                && text.matches(['"', '“', '”']).count() >= 2
                && inner.chars().any(char::is_alphabetic)
        });
        let word = all.clone().find(|at| {
            self.told(*at)
                && lists().written.inscribed.contains(&self.line.word(*at))
                && !self.hits.iter().any(|hit| hit.table == Table::Term && hit.at.contains(at))
        });
        let strong =
            all.clone().any(|at| self.told(at) && lists().written.marks.contains(&self.line.word(at)));
        let found = self.line.has(&all, &lists().written.found);
        let ours = self.line.has(&all, &lists().written.ours);
        if let (Some(word), false) = (word, ours)
            && (quoted.is_some()
                || strong && found
                || found
                    && self.line.has(&all, &lists().written.labels)
                    && !self.line.has(&all, &["mark on", "marks", "water mark"]))
        {
            let range = self.line.clause(word);
            let range = if quoted.is_some() { 0..self.line.tokens.len() } else { range };
            let said = match quoted {
                Some(_) => text.trim().to_owned(),
                None => self.words_of(range),
            };
            let mut proposal = Proposal::new("", &said).with("inscriptions", said.as_str());
            proposal.parts = self.parts_for(word);
            self.out.push(proposal);
        }
    }

    /// What somebody told of where the piece comes from: for the archive, and no fact.
    pub(super) fn hearsay(&mut self) {
        let all = self.all();
        let people = self.line.has(&all, &lists().written.people);
        let says = self.line.has(&all, &lists().written.says);
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
    pub(super) fn decade(&self) -> Option<u32> {
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
