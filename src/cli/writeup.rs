//! `writeup`: writes the papers, and says what was written where and what was left out.

use std::path::{Path, PathBuf};
use std::time::{Duration, Instant};

use clap::Args;

use super::bar::Bar;
use super::voice::Voice;
use super::words::{bytes, count, took};
use super::{Outcome, Trouble, drawn, piece_folder, tally, today};
use crate::diag::{Diagnostic, Drawing, Rank};
use crate::journey::{self, Asked, Ground, LeftOut, Printing, Unchanged, Unprinted, Wanted, Written};
use crate::record;
use crate::source::Tree;
use crate::unit::legible::one_line;
use crate::unit::wrapped;
use crate::write::{self, Secret, Stage};

/// How many pieces a summary names before it only counts.
const NAMED: usize = 12;

#[derive(Debug, Args)]
pub(super) struct Writeup {
    /// The workshop's folder
    #[arg(default_value = ".")]
    workshop: PathBuf,
    /// Where to write, if not to `written` in the workshop
    #[arg(long, value_name = "DIR")]
    to: Option<PathBuf>,
    /// Only this piece, by folder or number; other papers stay
    #[arg(long, value_name = "PIECE")]
    only: Option<String>,
    /// Write pages alone; papers to print stay as they stand
    #[arg(long, conflicts_with = "clear_darkroom")]
    pages_only: bool,
    /// Then drop from the darkroom what these papers do not use
    #[arg(long, conflicts_with = "only")]
    clear_darkroom: bool,
}

impl Writeup {
    pub(super) fn run(self) -> Result<Outcome, Trouble> {
        let started = Instant::now();
        Tree::check(&self.workshop)?;
        let target = self.to.clone().unwrap_or_else(|| {
            // A path that begins with `./` is longer and says no more.
            if self.workshop == Path::new(".") { "written".into() } else { self.workshop.join("written") }
        });
        write::keep_clear(&self.workshop, &target)?;
        let asked =
            Asked { workshop: &self.workshop, target: &target, only: self.only.as_deref(), today: today() };
        // Clearing needs to know what the papers use, which only their making tells.
        let unchanged = if self.clear_darkroom { None } else { journey::unchanged(&asked) };
        match unchanged {
            Some(Unchanged { written, grave, hints, secret_is_open }) => {
                let shown = grave.iter().filter(|found| found.place.span.is_some());
                let tree = Tree::open_files(&self.workshop, shown.map(|found| found.place.path.as_str()))?;
                tell(&written, &grave, hints, &tree, secret_is_open, &target, started)?;
                Ok(Outcome::of(&grave))
            }
            None => self.write(&asked, started),
        }
    }

    /// Writes what is asked for, and leaves a receipt.
    fn write(&self, asked: &Asked<'_>, started: Instant) -> Result<Outcome, Trouble> {
        let stage = Stage::open(asked.target)?;
        let secret = Secret::of(&self.workshop)?;
        // Clearing takes the receipts away, too.
        let ground = if self.clear_darkroom { None } else { Ground::of(asked, &secret) };
        let ground = ground.map(|ground| ground.after(None));
        let tree = Tree::open(&self.workshop)?;
        let only = asked.only.map(|piece| piece_folder(&record::read(&tree).0, piece)).transpose()?;
        let (only, bar) = (only.as_deref(), Bar::new("Developing"));
        let printing = if self.pages_only { Printing::Known } else { Printing::All };
        let wanted = Wanted { today: asked.today, secret: &secret, only, printing, ground: ground.as_ref() };
        let (mut survey, written) = journey::writeup(&tree, stage, wanted, &bar)?;
        if let Some(only) = only {
            // What concerns other pieces is for when they are written.
            let piece = survey.folder.pieces.iter().find(|piece| piece.folder == only).cloned();
            survey.diagnostics.retain(|found| {
                found.place.piece().is_none()
                    || piece.as_ref().is_some_and(|piece| piece.is_read_from(&found.place))
            });
        }
        let found = &survey.diagnostics;
        let Some(written) = written else {
            complain(found, &tree)?;
            warn(secret.is_open_to_others())?;
            return Err(Trouble::UnreadWorkshop);
        };
        let hints = found.iter().filter(|each| each.rank() == Rank::Hint).count();
        tell(&written, found, hints, &tree, secret.is_open_to_others(), asked.target, started)?;
        if let Some(ground) = ground {
            ground.leave(&survey, &written);
        }
        if self.clear_darkroom {
            let cleared = written.darkroom.clear()?;
            let entries = count(cleared.entries, "entry", "entries");
            Voice::out()
                .say(format!("Cleared from the darkroom: {entries}, {} freed", bytes(cleared.bytes)))?;
        }
        Ok(Outcome::of(&survey.diagnostics))
    }
}

/// Says what is wrong and what was written.
fn tell(
    written: &Written,
    found: &[Diagnostic],
    hints: usize,
    tree: &Tree,
    secret_is_open: bool,
    target: &Path,
    started: Instant,
) -> Result<(), Trouble> {
    complain(found, tree)?;
    warn(secret_is_open)?;
    let voice = Voice::out();
    voice.say(summary(written, target, hints, started.elapsed(), &voice))
}

/// Says where others can read the workshop's secret.
fn warn(secret_is_open: bool) -> Result<(), Trouble> {
    if !secret_is_open {
        return Ok(());
    }
    Voice::err().say(format!(
        "Other users of this computer can read `{}`, and that could not be changed: keep the workshop on a \
         disk that keeps files apart, or take the right from them.\n",
        write::SECRET
    ))
}

/// Prints mistakes and doubts, and how many there were.
fn complain(diagnostics: &[Diagnostic], tree: &Tree) -> Result<(), Trouble> {
    let voice = Voice::err();
    match complaint(diagnostics, tree, &voice.drawing()) {
        Some((drawings, closing)) => voice.say(format!("{drawings}\n\n{closing}\n")),
        None => Ok(()),
    }
}

/// Mistakes and doubts as they are drawn, and a sentence that counts them; `None` where there are none.
pub(super) fn complaint(
    diagnostics: &[Diagnostic],
    tree: &Tree,
    drawing: &Drawing,
) -> Option<(String, String)> {
    let grave: Vec<&Diagnostic> = diagnostics.iter().filter(|found| found.rank() != Rank::Hint).collect();
    let counts = tally(grave.iter().copied())?;
    let drawings = grave.into_iter().map(|diagnostic| drawn(diagnostic, tree, drawing));
    Some((drawings.collect::<Vec<_>>().join("\n\n"), format!("{counts}.")))
}

/// What was written where, what was left out and why, and how long it took.
fn summary(written: &Written, target: &Path, hints: usize, time: Duration, voice: &Voice) -> String {
    let mut lines = vec![format!("{} {} in {}", voice.strong("Written to"), target.display(), took(time))];
    if written.pieces.is_empty() && written.left_out.is_empty() {
        lines.push("There are no pieces yet: `witnessmark intake NAME` opens the first.".to_owned());
    }
    lines.push(String::new());
    lines.extend(written.pieces.iter().take(NAMED).map(|piece| format!("  {}", one_line(piece))));
    if written.pieces.len() > NAMED {
        lines.push(format!("  and {} more", super::words::grouped(written.pieces.len() - NAMED)));
    }
    let (stand, left_out): (Vec<_>, Vec<_>) =
        written.left_out.iter().partition(|left_out| left_out.stands.is_some());
    for (heading, pieces) in [("Left out:", left_out), ("Standing from before:", stand)] {
        if pieces.is_empty() {
            continue;
        }
        if lines.last().is_some_and(|line| !line.is_empty()) {
            lines.push(String::new());
        }
        lines.push(format!("{} {}", voice.strong(heading), count(pieces.len(), "piece", "pieces")));
        for LeftOut { folder, why, stands } in pieces {
            let stands = stands.as_ref().map_or_else(String::new, |stands| format!("; {}", stands.words()));
            let line = format!("{folder}: {why}{stands}");
            lines.push(format!("  {}", wrapped(&one_line(&line), voice.text_width() - 2, "    ")));
        }
    }
    if lines.last().is_some_and(|line| !line.is_empty()) {
        lines.push(String::new());
    }
    if !written.unprinted.is_empty() {
        lines.extend(unprinted(&written.unprinted, voice));
        lines.push(String::new());
    }
    let photographs = |number| count(number, "photograph", "photographs");
    let photographs = match (written.developed, written.taken) {
        (0, 0) => String::new(),
        (developed, 0) => format!(", {} developed", photographs(developed)),
        (0, taken) => format!(", {} taken from the darkroom", photographs(taken)),
        (developed, taken) => {
            format!(", {} developed, {taken} taken from the darkroom", photographs(developed))
        }
    };
    lines.push(format!(
        "{}, {}, {}{photographs}",
        count(written.pieces.len(), "piece", "pieces"),
        count(written.files, "file", "files"),
        bytes(written.bytes)
    ));
    if hints > 0 {
        lines.push(format!("{}: `witnessmark inspect` shows them", count(hints, "hint", "hints")));
    }
    lines.join("\n")
}

/// Which papers were not printed, piece by piece, and which of them stand from before.
fn unprinted(papers: &[Unprinted], voice: &Voice) -> Vec<String> {
    let mut lines =
        vec![format!("{} {}", voice.strong("Not printed:"), count(papers.len(), "paper", "papers"))];
    let pieces: Vec<&[Unprinted]> = papers.chunk_by(|one, next| one.piece == next.piece).collect();
    for papers in pieces.iter().take(NAMED) {
        let told = [(true, "from before"), (false, "not there yet")].map(|(stand, how)| {
            let files = papers.iter().filter(|paper| paper.stands == stand).map(|paper| paper.file.as_str());
            let files = files.collect::<Vec<_>>().join(", ");
            if files.is_empty() { files } else { format!("{how}: {files}") }
        });
        let told = told.into_iter().filter(|told| !told.is_empty()).collect::<Vec<_>>().join("; ");
        let line = format!("{}, {told}", one_line(&papers[0].piece));
        lines.push(format!("  {}", wrapped(&line, voice.text_width() - 2, "    ")));
    }
    if pieces.len() > NAMED {
        lines.push(format!("  and of {} more", count(pieces.len() - NAMED, "piece", "pieces")));
    }
    lines
}
