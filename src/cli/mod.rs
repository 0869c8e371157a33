//! The commands: one file each, and the only printing.
//!
//! What was asked for goes to the standard output, everything else to the standard error. A command ends clean, with
//! mistakes found in the records, or in a [`Trouble`] that kept it from running.

mod bar;
mod completions;
mod consult;
mod enter;
mod forget;
mod handover;
mod inspect;
mod intake;
mod jot;
mod keys;
mod look_over;
mod manual;
mod plan;
mod schema;
mod sheet;
mod trouble;
mod verify;
mod viewing;
mod vocabulary;
mod voice;
mod why;
mod words;
mod writeup;

use std::collections::BTreeMap;
use std::ffi::OsString;
use std::process::ExitCode;
use std::sync::Arc;

use clap::{Parser, Subcommand};

pub use trouble::Trouble;
use voice::Voice;

use crate::diag::{Diagnostic, Drawing, Rank, nearest};
use crate::record::{Folder, Piece};
use crate::source::Tree;
use crate::unit::legible;
use crate::unit::legible::one_line;

/// What the program was asked to do.
#[derive(Debug, Parser)]
#[command(name = "witnessmark", version, about = ABOUT, after_help = AFTER, disable_help_subcommand = true)]
pub struct Cli {
    #[command(subcommand)]
    command: Command,
}

const ABOUT: &str = "From a folder per piece of furniture to honest papers.";

const AFTER: &str = "\
Exit code: 0 clean, 1 mistakes in records or pack, or photographs left,
2 could not run.
Set NO_COLOR to have no colours.";

#[derive(Debug, Subcommand)]
enum Command {
    /// Say what to look for on a piece before buying it, on one page
    LookOver(look_over::LookOver),
    /// Open a folder for a new piece, or bring photographs into one
    Intake(intake::Intake),
    /// Put a line into a piece's day book, with today's date
    Jot(jot::Jot),
    /// Turn lines of a day book into rows of a record, after looking
    Enter(enter::Enter),
    /// Order what a record plans: what first, when, what it takes
    Plan(plan::Plan),
    /// Say what is wrong, what is missing and what would help most
    Inspect(inspect::Inspect),
    /// Write the papers: showroom, buyers' papers, archive
    Writeup(writeup::Writeup),
    /// Look at papers as files change, and pick points on photographs
    Viewing(viewing::Viewing),
    /// Ask the archive: words, times, faults, money, what is due
    Consult(consult::Consult),
    /// Seal a piece's record and write the buyer's pack
    Handover(handover::Handover),
    /// Take a buyer out of a record and all that was made from it
    Forget(forget::Forget),
    /// Say whether a pack is whole, which seal it has and who signed it
    Verify(verify::Verify),
    /// Make the keys that packs are signed and checked with
    Keys(keys::Keys),
    /// Say what a diagnostic means, or what a piece's papers rest on
    Why(why::Why),
    /// Say which words of the trade are known, and what one means
    Words(vocabulary::Vocabulary),
    /// Print the JSON Schema by which editors complete and check
    Schema(schema::Schema),
    /// Print a script by which a shell completes commands
    Completions(completions::Completions),
    /// Print the manual page, in roff
    Manual,
}

/// How a command ended that ran.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Outcome {
    /// Nothing is wrong; there may be hints.
    Clean,
    /// There are mistakes or doubts about the records, or a pack is not as it should be.
    Mistakes,
}

impl Outcome {
    /// Hints alone are clean.
    fn of<'a>(diagnostics: impl IntoIterator<Item = &'a Diagnostic>) -> Outcome {
        match diagnostics.into_iter().any(|diagnostic| diagnostic.rank() != Rank::Hint) {
            true => Outcome::Mistakes,
            false => Outcome::Clean,
        }
    }
}

/// What the arguments ask for; where they ask for nothing that can be done, or for help, that is printed.
///
/// # Errors
/// The exit code to end with.
pub fn arguments() -> Result<Cli, ExitCode> {
    Cli::try_parse().map_err(|error| {
        // Arguments are repeated in it: where they hold what a terminal would obey, it is shown, and without colours.
        let unseen = |argument: OsString| legible::unseen(&argument.to_string_lossy()).next().is_some();
        let text = error.render().to_string();
        let sent = match (std::env::args_os().any(unseen), error.use_stderr()) {
            (false, _) => error.print().map_err(Trouble::Output),
            (true, true) => Voice::err().print(&text),
            (true, false) => Voice::out().print(&text),
        };
        // There is nowhere left to say that this could not be said.
        let _ = sent;
        ExitCode::from(u8::try_from(error.exit_code()).unwrap_or(2))
    })
}

/// Does what was asked.
///
/// # Errors
/// [`Trouble`] where it could not be done at all; it has not been printed yet.
pub fn run(cli: Cli) -> Result<Outcome, Trouble> {
    match cli.command {
        Command::LookOver(command) => command.run(),
        Command::Intake(command) => command.run(),
        Command::Jot(command) => command.run(),
        Command::Enter(command) => command.run(),
        Command::Plan(command) => command.run(),
        Command::Inspect(command) => command.run(),
        Command::Writeup(command) => command.run(),
        Command::Viewing(command) => command.run(),
        Command::Consult(command) => command.run(),
        Command::Handover(command) => command.run(),
        Command::Forget(command) => command.run(),
        Command::Verify(command) => command.run(),
        Command::Keys(command) => command.run(),
        Command::Why(command) => command.run(),
        Command::Words(command) => command.run(),
        Command::Schema(command) => command.run(),
        Command::Completions(command) => command.run(),
        Command::Manual => manual::run(),
    }
}

/// Prints why a command could not run, cause after cause.
pub fn report(trouble: &Trouble) {
    let voice = Voice::err();
    let text = format!("{} {}", voice.alarming("cannot go on:"), with_causes(trouble));
    // There is nowhere left to say that this could not be said.
    let _ = voice.say(text);
}

/// Why something could not be done, cause after cause, each on a line of its own.
fn with_causes(trouble: &Trouble) -> String {
    let mut text = one_line(&trouble.to_string());
    let mut cause = std::error::Error::source(trouble);
    while let Some(error) = cause {
        text.push_str(&format!("\n  because: {}", one_line(&error.to_string())));
        cause = error.source();
    }
    text
}

/// A diagnostic as it is printed, with the line of its file that it is about.
fn drawn(diagnostic: &Diagnostic, tree: &Tree, drawing: &Drawing) -> String {
    drawing.draw(diagnostic, tree.text(&diagnostic.place.path).and_then(Result::ok))
}

/// The folder of a piece that is named by its folder, its path or its number.
fn piece_folder(workshop: &Folder, named: &str) -> Result<String, Trouble> {
    let folder = record_folder(workshop, named)?;
    if !workshop.sets.iter().any(|set| set.folder == folder) {
        return Ok(folder);
    }
    let is_of = |piece: &&Arc<Piece>| piece.set.as_ref().is_some_and(|set| set.folder() == folder);
    let pieces = workshop.pieces.iter().filter(is_of);
    let pieces = pieces.map(|piece| piece.record.as_ref().map_or(&*piece.folder, |record| &**record.number));
    let pieces = pieces.map(|name| format!("`{name}`")).collect();
    Err(Trouble::IsSet { named: named.to_owned(), pieces })
}

/// The same of a piece or a set, each of which has a record and a day book.
fn record_folder(workshop: &Folder, named: &str) -> Result<String, Trouble> {
    let bare = named.trim_end_matches('/').trim_start_matches("./").trim_start_matches("pieces/");
    let number = |piece: &&Arc<Piece>| {
        piece.record.as_ref().is_some_and(|record| record.number.eq_ignore_ascii_case(bare))
    };
    let pieces = || workshop.pieces.iter().chain(&workshop.sets);
    let found = pieces().find(|piece| piece.folder == bare).or_else(|| pieces().find(number));
    found.map(|piece| piece.folder.clone()).ok_or_else(|| Trouble::UnknownPiece {
        piece: named.to_owned(),
        nearest: nearest(bare, pieces().map(|piece| piece.folder.as_str())).map(str::to_owned),
    })
}

/// How many diagnostics there are of each rank, in words; `None` where there are none.
fn tally<'a>(diagnostics: impl IntoIterator<Item = &'a Diagnostic>) -> Option<String> {
    let mut of = BTreeMap::new();
    diagnostics.into_iter().for_each(|diagnostic| *of.entry(diagnostic.rank()).or_insert(0) += 1);
    let words = of.into_iter().map(|(rank, number)| match rank {
        Rank::Mistake => words::count(number, "mistake", "mistakes"),
        Rank::Doubt => words::count(number, "doubt", "doubts"),
        Rank::Hint => words::count(number, "hint", "hints"),
    });
    let words: Vec<String> = words.collect();
    (!words.is_empty()).then(|| words.join(", "))
}

/// The day of the run: today, or the day of `SOURCE_DATE_EPOCH` (seconds since 1970, for repeatable writing).
fn today() -> chrono::NaiveDate {
    std::env::var("SOURCE_DATE_EPOCH")
        .ok()
        .and_then(|seconds| chrono::DateTime::from_timestamp(seconds.parse().ok()?, 0))
        .map_or_else(|| chrono::Local::now().date_naive(), |moment| moment.date_naive())
}

#[cfg(test)]
mod tests {
    use clap::CommandFactory;

    #[test]
    fn the_arguments_make_sense() {
        super::Cli::command().debug_assert();
    }
}
