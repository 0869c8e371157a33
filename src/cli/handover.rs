//! `handover`: seals a piece's record and writes the buyer's pack, or says what stands in the way.

use std::path::{Path, PathBuf};
use std::time::Instant;

use chrono::NaiveDate;
use clap::Args;

use super::bar::Bar;
use super::keys::signer;
use super::voice::Voice;
use super::words::{bytes, count, took};
use super::{Outcome, Trouble, drawn, piece_folder, today};
use crate::diag::{Diagnostic, Rank};
use crate::journey::{self, Handed, Order, Refusal};
use crate::record;
use crate::source::Tree;
use crate::unit::legible::one_line;
use crate::unit::wrapped;
use crate::write::{SEALED, Sealing};

/// How many changes since the seal before are listed.
const LISTED: usize = 12;

#[derive(Debug, Args)]
pub(super) struct Handover {
    /// The piece, by folder or number
    piece: String,
    /// The day it leaves, if not the record's or today
    #[arg(long, value_name = "DATE", value_parser = day)]
    on: Option<NaiveDate>,
    /// Print open questions on the papers instead
    #[arg(long)]
    with_open_questions: bool,
    /// Sign the pack with the workshop's key
    #[arg(long)]
    sign: bool,
    /// The secret key or its folder, if kept elsewhere
    #[arg(long, value_name = "PATH", requires = "sign")]
    key: Option<PathBuf>,
    /// The workshop's folder
    #[arg(long, value_name = "PATH", default_value = ".")]
    workshop: PathBuf,
}

impl Handover {
    pub(super) fn run(self) -> Result<Outcome, Trouble> {
        let started = Instant::now();
        let named = Tree::open(&self.workshop)?;
        let folder = piece_folder(&record::read(&named).0, &self.piece)?;
        // A password is asked for before the work begins.
        let signer = self.sign.then(|| signer(self.key.as_deref())).transpose()?;
        let place = self.workshop.join("pieces").join(&folder);
        // A path that begins with `./` is longer and says no more.
        let place = place.strip_prefix(".").map(Path::to_owned).unwrap_or(place);
        let sealing = Sealing::open(&place)?;
        // Read again now that no other handover of the piece can come in between.
        let tree = Tree::open(&self.workshop)?;
        let order = Order {
            piece: &folder,
            on: self.on,
            with_open_questions: self.with_open_questions,
            signer: signer.as_ref(),
        };
        let (survey, handed) = journey::handover(&tree, today(), sealing, &order, &Bar::new("Developing"))?;
        let grave = survey.diagnostics.iter().filter(|found| found.rank() != Rank::Hint);
        complain(grave, &tree)?;
        let voice = Voice::out();
        match handed {
            Ok(handed) => {
                let place = place.join(SEALED);
                voice.say(told(&handed, &place.display().to_string(), &voice))?;
                voice.say(voice.faint(format!("In {}.", took(started.elapsed()))))?;
                Ok(Outcome::Clean)
            }
            Err(refusal) => {
                refuse(&refusal, &folder, &tree)?;
                Ok(Outcome::Mistakes)
            }
        }
    }
}

/// A day as people write it here.
fn day(text: &str) -> Result<NaiveDate, String> {
    text.parse().map_err(|_| "write the day as 2026-03-14".to_owned())
}

/// Prints diagnostics.
fn complain<'d>(diagnostics: impl Iterator<Item = &'d Diagnostic>, tree: &Tree) -> Result<(), Trouble> {
    let voice = Voice::err();
    for diagnostic in diagnostics {
        voice.say(format!("{}\n", drawn(diagnostic, tree, &voice.drawing())))?;
    }
    Ok(())
}

/// Says why nothing was handed over.
fn refuse(refusal: &Refusal, folder: &str, tree: &Tree) -> Result<(), Trouble> {
    let voice = Voice::err();
    let why = match refusal {
        Refusal::Mistakes => "its mistakes would be sealed with it. Mend them first".to_owned(),
        Refusal::Open(open) => {
            // Where the piece has left by its own record, they were told among the doubts.
            complain(open.iter(), tree)?;
            format!(
                "{} still open. Settle them, move them to `[[undone]]`, or have the papers print them with \
                 --with-open-questions",
                count(open.len(), "question is", "questions are")
            )
        }
        Refusal::CameBack(back) => format!(
            "it came back on {back}, and `[handover]` in the record is of before. Write there to whom, for how much and \
             on which later day it goes now, or take the section out"
        ),
        Refusal::OtherDay { said, asked } => format!(
            "the record says `on = {said}` in `[handover]`, and --on says {asked}. Correct the record, or leave --on out"
        ),
    };
    let line = format!("{} {folder} was not handed over: {why}.", voice.alarming("Refused:"));
    voice.say(wrapped(&line, voice.text_width(), ""))
}

/// What was sealed and written.
fn told(handed: &Handed, place: &str, voice: &Voice) -> String {
    let seal = &handed.seal;
    let mut lines = vec![
        format!("{} {}", voice.strong("Sealed:"), one_line(&handed.title)),
        String::new(),
        format!("  seal {}   {}", seal.number, seal.short()),
        format!("  left     {}", seal.handed_over),
        format!("  record   {place}/{}.toml", seal.name()),
        format!(
            "  pack     {place}/{}/  ({}, {})",
            handed.pack,
            count(handed.files, "file", "files"),
            bytes(handed.bytes)
        ),
        format!("  one file {place}/{}.zip", handed.pack),
    ];
    lines.extend(handed.signed.as_ref().map(|key| format!("  signed   with the key {key}")));
    if let Some(since) = &handed.since {
        lines.push(String::new());
        let before = seal.number - 1;
        lines.push(match since.len() {
            0 => format!("Nothing was changed since seal {before}, which stays."),
            changes => format!("{} since seal {before}, which stays:", count(changes, "change", "changes")),
        });
        let each = since.iter().take(LISTED);
        lines.extend(
            each.map(|words| format!("  {}", wrapped(&one_line(words), voice.text_width() - 2, "    "))),
        );
        if since.len() > LISTED {
            lines.push(format!("  and {} more", since.len() - LISTED));
        }
    }
    lines.push(String::new());
    lines.join("\n")
}
