//! `enter`: shows which rows the lines of a piece's day book propose for its record, and writes those that are agreed to.
//!
//! Each row is looked at before it is written, and written by itself: whoever stops has lost nothing. The record keeps
//! every other byte, and is left alone where it was changed meanwhile.

use std::io::{BufRead, Write as _};
use std::path::{Path, PathBuf};

use clap::Args;

use super::voice::Voice;
use super::words::count;
use super::{Outcome, Trouble, record_folder, today};
use crate::daybook::{Bench, Proposal, Waiting, waiting};
use crate::record::{self, Jotting, Piece, Record};
use crate::source::Tree;
use crate::trade::Trade;
use crate::unit::legible::one_line;
use crate::viewing::{Unplaced, entering, marked_read, with_part};
use crate::write;

#[derive(Debug, Args)]
pub(super) struct Enter {
    /// The piece: its folder, its path or its number
    piece: String,
    /// Only show what is proposed
    #[arg(long, conflicts_with = "all")]
    show: bool,
    /// Take what leaves nothing open, without asking
    #[arg(long)]
    all: bool,
    /// The workshop's folder
    #[arg(long, value_name = "PATH", default_value = ".")]
    workshop: PathBuf,
}

/// What somebody answered.
#[derive(Debug, PartialEq)]
pub(super) enum Answer {
    Yes,
    No,
    Quit,
    Number(usize),
}

/// A piece's record as it lies on the disk, while rows are put into it.
struct Open {
    path: PathBuf,
    text: String,
    piece: Piece,
    record: std::sync::Arc<Record>,
}

impl Enter {
    pub(super) fn run(self) -> Result<Outcome, Trouble> {
        let voice = Voice::out();
        let tree = Tree::open(&self.workshop)?;
        let (read, _) = record::read(&tree);
        let folder = record_folder(&read, &self.piece)?;
        let (trade, _) = Trade::with(&tree, None);
        let mut open = Open::of(&self.workshop, &tree, &folder)?;
        let lines = {
            let bench = Bench::of(&trade, Some(&open.record)).stocked(&read.stock.items);
            waiting(&open.piece, &open.record, &bench)
        };
        if lines.is_empty() {
            voice.say("No line of the day book proposes anything that the record does not have.")?;
            return Ok(Outcome::Clean);
        }
        if self.show {
            for line in &lines {
                heading(&voice, &line.jotting)?;
                for proposal in &line.proposals {
                    voice.say(shown(&voice, &open.record, proposal))?;
                }
            }
            let rows: usize = lines.iter().map(|line| line.proposals.len()).sum();
            voice.say(format!(
                "{} of {}; `witnessmark enter {}` asks about each.",
                count(rows, "row", "rows"),
                count(lines.len(), "line", "lines"),
                one_line(&self.piece)
            ))?;
            return Ok(Outcome::Clean);
        }
        let (mut written, mut left) = (0, 0);
        let mut input = std::io::stdin().lock();
        for line in &lines {
            if !self.all {
                heading(&voice, &line.jotting)?;
            }
            for proposal in &line.proposals {
                match self.settle(&voice, &mut input, &mut open, line, proposal)? {
                    Some(true) => written += 1,
                    Some(false) => left += 1,
                    None => return told(&voice, written, left),
                }
            }
        }
        if !self.all && left > 0 {
            self.offer_reading(&voice, &mut input, &mut open, &lines)?;
        }
        told(&voice, written, left)
    }

    /// Takes or leaves one proposal; `None` where whoever is asked wants to stop.
    fn settle(
        &self,
        voice: &Voice,
        input: &mut impl BufRead,
        open: &mut Open,
        line: &Waiting,
        proposal: &Proposal,
    ) -> Result<Option<bool>, Trouble> {
        if self.all && !proposal.is_sure() {
            return Ok(Some(false));
        }
        let mut surface = None;
        let mut proposal = proposal.clone();
        if !self.all {
            voice.say(shown(voice, &open.record, &proposal))?;
            let lacking: Vec<String> = proposal.lacks().into_iter().map(str::to_owned).collect();
            for part in &lacking {
                if let Some(stop) = self.offer_part(voice, input, open, part)? {
                    return Ok(stop);
                }
            }
            if !lacking.is_empty() {
                // With a part more the same line may propose the same row with its part in it.
                let Some(again) = self.proposed_again(open, line, &proposal)? else { return Ok(Some(false)) };
                if again.toml() != proposal.toml() {
                    voice.say(shown(voice, &open.record, &again))?;
                }
                proposal = again;
            }
        }
        let proposal = &proposal;
        loop {
            let made = entering(&open.text, &open.record, &line.jotting, proposal, surface);
            let change = match (made, self.all) {
                (Ok(change), _) => change,
                (Err(_), true) => return Ok(Some(false)),
                (Err(Unplaced::WhichSurface(names)), false) if !names.is_empty() => {
                    let list =
                        names.iter().enumerate().map(|(at, name)| format!("{} {}", at + 1, one_line(name)));
                    let list = list.collect::<Vec<_>>().join(", ");
                    match ask(voice, input, &format!("  which surface: {list}? its number, or n: "))? {
                        Answer::Number(number) if (1..=names.len()).contains(&number) => {
                            surface = Some(number - 1);
                            continue;
                        }
                        Answer::Quit => return Ok(None),
                        _ => return Ok(Some(false)),
                    }
                }
                (Err(why), false) => {
                    voice.say(format!("  not entered: {}", one_line(&why.to_string())))?;
                    return Ok(Some(false));
                }
            };
            // Where a surface was named, that was the yes.
            if !self.all && surface.is_none() {
                match ask(voice, input, "  enter it? y yes, n no, q stop: ")? {
                    Answer::Yes => {}
                    Answer::Quit => return Ok(None),
                    Answer::No | Answer::Number(_) => return Ok(Some(false)),
                }
            }
            write::replace(&open.path, change.text.as_bytes(), &change.was)?;
            if self.all {
                heading(voice, &line.jotting)?;
                voice.say(shown(voice, &open.record, proposal))?;
            }
            open.again(&self.workshop)?;
            return Ok(Some(true));
        }
    }

    /// Offers to add a part that a line names and that the record does not have; a stop where whoever is asked wants one.
    fn offer_part(
        &self,
        voice: &Voice,
        input: &mut impl BufRead,
        open: &mut Open,
        part: &str,
    ) -> Result<Option<Option<bool>>, Trouble> {
        let Ok((change, row)) = with_part(&open.text, &open.record, part) else { return Ok(None) };
        let question = format!(
            "  the record has no part “{}”; add it, as\n{}\n  y yes, n no, q stop: ",
            one_line(part),
            row.lines().map(|line| format!("    {}", one_line(line))).collect::<Vec<_>>().join("\n")
        );
        match ask(voice, input, &question)? {
            Answer::Yes => {
                write::replace(&open.path, change.text.as_bytes(), &change.was)?;
                open.again(&self.workshop)?;
                Ok(None)
            }
            Answer::Quit => Ok(Some(None)),
            Answer::No | Answer::Number(_) => Ok(None),
        }
    }

    /// What a line proposes now for the table of a proposal, resting on the same words.
    fn proposed_again(
        &self,
        open: &Open,
        line: &Waiting,
        proposal: &Proposal,
    ) -> Result<Option<Proposal>, Trouble> {
        let tree = Tree::open(&self.workshop)?;
        let (read, _) = record::read(&tree);
        let (trade, _) = Trade::with(&tree, None);
        let bench = Bench::of(&trade, Some(&open.record)).stocked(&read.stock.items);
        let mut again = bench.proposals(&line.jotting);
        again.retain(|again| again.table == proposal.table && again.words == proposal.words);
        Ok(again.into_iter().next())
    }

    /// Asks whether what was left is to be asked about again.
    fn offer_reading(
        &self,
        voice: &Voice,
        input: &mut impl BufRead,
        open: &mut Open,
        lines: &[Waiting],
    ) -> Result<(), Trouble> {
        let last = lines.iter().filter_map(|line| line.jotting.on).max().filter(|last| *last <= today());
        let Some(last) = last else { return Ok(()) };
        let Ok(change) = marked_read(&open.text, last) else { return Ok(()) };
        let question = format!(
            "Note in the record that the day book was looked through to {last}, so that the rest is not asked about again? y/n: "
        );
        if ask(voice, input, &question)? == Answer::Yes {
            write::replace(&open.path, change.text.as_bytes(), &change.was)?;
            open.again(&self.workshop)?;
        }
        Ok(())
    }
}

impl Open {
    fn of(workshop: &Path, tree: &Tree, folder: &str) -> Result<Open, Trouble> {
        let place = format!("pieces/{folder}/record.toml");
        let text = tree.read_text(&place).map_err(|_| Trouble::UnreadRecord)?;
        let read = record::read(tree).0;
        let piece = read.found_in(folder).ok_or(Trouble::UnreadRecord)?;
        let record = piece.record.clone().ok_or(Trouble::UnreadRecord)?;
        Ok(Open { path: workshop.join(place), text, piece: (**piece).clone(), record })
    }

    /// Reads the record anew after it was written.
    fn again(&mut self, workshop: &Path) -> Result<(), Trouble> {
        let tree = Tree::open(workshop)?;
        *self = Open::of(workshop, &tree, &self.piece.folder.clone())?;
        Ok(())
    }
}

/// The line that proposals are of.
fn heading(voice: &Voice, jotting: &Jotting) -> Result<(), Trouble> {
    voice.say(format!("\n{}", voice.strong(one_line(&jotting.name_of_line()))))
}

/// A proposal with the words that it rests on, the row that it would make, and what it leaves open.
fn shown(voice: &Voice, record: &Record, proposal: &Proposal) -> String {
    let mut text = match proposal.table {
        "" => "  a key of the record".to_owned(),
        "surface.steps" => "  a step on a surface".to_owned(),
        table => format!("  a row of {table}"),
    };
    let parts: Vec<String> = proposal
        .parts
        .iter()
        .map(|part| match &part.ids[..] {
            [id] => {
                record.parts.iter().find(|row| row.id.0 == *id).map_or(id.clone(), |row| row.name.to_string())
            }
            _ => format!("“{}”", part.said),
        })
        .collect();
    if !parts.is_empty() {
        text.push_str(&format!(", {}", one_line(&parts.join(", "))));
    }
    for row in proposal.toml().lines() {
        text.push_str(&format!("\n    {}", one_line(row)));
    }
    text.push_str(&format!("\n    {}", voice.faint(format!("from “{}”", one_line(&proposal.words)))));
    for question in &proposal.unsure {
        text.push_str(&format!("\n    unsure: {}", one_line(question)));
    }
    text
}

/// Asks, and reads one line; the end of the input is a stop.
pub(super) fn ask(voice: &Voice, input: &mut impl BufRead, question: &str) -> Result<Answer, Trouble> {
    voice.print(question)?;
    std::io::stdout().flush().map_err(Trouble::Output)?;
    let mut line = String::new();
    let read = input.read_line(&mut line).map_err(Trouble::Output)?;
    voice.say("")?;
    if read == 0 {
        return Ok(Answer::Quit);
    }
    Ok(match line.trim().to_lowercase().as_str() {
        "y" | "yes" => Answer::Yes,
        "q" | "quit" | "stop" => Answer::Quit,
        other => other.parse().map_or(Answer::No, Answer::Number),
    })
}

fn told(voice: &Voice, written: usize, left: usize) -> Result<Outcome, Trouble> {
    let left = match left {
        0 => String::new(),
        left => format!("; {} left", count(left, "row was", "rows were")),
    };
    voice.say(format!("\n{} entered{left}.", count(written, "row was", "rows were")))?;
    Ok(Outcome::Clean)
}
