//! `plan`: what a record plans, in an order that takes nothing back, with its days, what it needs, and what speaks
//! against it.

mod past;
mod told;

use std::path::PathBuf;

use chrono::NaiveDate;
use clap::Args;

use self::past::Past;
use self::told::Told;
use super::consult::Form;
use super::sheet::Sheet;
use super::{Outcome, Trouble, piece_folder, today};
use crate::derive::plan::passages;
use crate::journey;
use crate::record::{self, Record};
use crate::source::Tree;
use crate::trade::Trade;
use crate::unit::legible::one_line;

#[derive(Debug, Args)]
pub(super) struct Plan {
    /// The piece: its folder, its path or its number
    piece: String,
    /// The first day; today if not said
    #[arg(long, value_name = "DATE")]
    from: Option<NaiveDate>,
    /// The form of the plan
    #[arg(long = "as", value_name = "FORM", default_value = "text")]
    form: Form,
    /// The workshop's folder
    #[arg(long, value_name = "PATH", default_value = ".")]
    workshop: PathBuf,
}

impl Plan {
    pub(super) fn run(self) -> Result<Outcome, Trouble> {
        let tree = Tree::open(&self.workshop)?;
        let (folder, _) = record::read(&tree);
        let (trade, _) = Trade::with(&tree, None);
        let named = piece_folder(&folder, &self.piece)?;
        let piece = folder.pieces.iter().find(|piece| piece.folder == named).ok_or(Trouble::UnreadRecord)?;
        let record = piece.record.as_ref().ok_or(Trouble::UnreadRecord)?;
        let name = format!("{}, {}", one_line(&record.title), one_line(&record.number));
        let archive = journey::archive_at_hand(&self.workshop, &self.workshop.join("written"));
        let (from, today) = (self.from.unwrap_or_else(today), today());
        let mut past = Past::default();
        let planned = journey::planned((&folder, &trade), piece, (from, today), |plan| {
            past = Past::of(plan, record, archive.as_ref(), today);
            past.expected.iter().map(|expected| expected.hours()).collect()
        });
        let Some(planned) = planned else {
            self.form.print(&nothing(&name, record))?;
            return Ok(Outcome::Clean);
        };
        past.of_ways = planned
            .ways
            .iter()
            .map(|taken| Past::of(&taken.plan, record, archive.as_ref(), today).expected)
            .collect();
        let told = Told {
            trade: &trade,
            record: &planned.intended,
            planned: &planned,
            past: &past,
            from,
            record_path: piece.record_path(),
            tree: &tree,
        };
        self.form.print(&told.sheet(&name, archive.as_ref()))?;
        let is_sound = planned.plan.circles.is_empty() && planned.against.is_empty();
        Ok(if is_sound { Outcome::Clean } else { Outcome::Mistakes })
    }
}

/// The answer about a piece whose record plans nothing.
fn nothing(name: &str, record: &Record) -> Sheet {
    let how = "Nothing is planned. Write `planned = true` into a work, a step, a part or a fixing that is still to come.";
    Sheet {
        asked: format!("Plan of {name}"),
        said: vec![how.to_owned()],
        tables: vec![told::openings(&passages(record))],
        pieces: Vec::new(),
        answered: false,
    }
}
