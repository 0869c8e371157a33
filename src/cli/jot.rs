//! `jot`: puts a line into a piece's day book, with the day, and perhaps a photograph with it.
//!
//! It only ever adds: no piece is made, and no line that stands there is touched.

use std::path::PathBuf;

use clap::Args;

use super::intake::photographs::{Arrival, PhotoFolder, one_shot};
use super::voice::Voice;
use super::{Outcome, Trouble, piece_folder, today};
use crate::daybook::{Kind, kind};
use crate::record::day_book::{begins_with_day, durations, spent, tokens};
use crate::record::{self, DAY_BOOK, Jotting, PhotoStage};
use crate::source::{Tree, limit};
use crate::unit::legible::{is_visible, one_line, without_unseen};
use crate::write;

#[derive(Debug, Args)]
pub(super) struct Jot {
    /// The piece: its folder, its path or its number
    piece: String,
    /// What was done or seen, in your own words: "closed the split, hide glue, 1.5h"
    #[arg(required = true)]
    line: Vec<String>,
    /// A photograph to bring in with it
    #[arg(long, value_name = "FILE")]
    photo: Option<PathBuf>,
    /// The workshop's folder
    #[arg(long, value_name = "PATH", default_value = ".")]
    workshop: PathBuf,
}

impl Jot {
    pub(super) fn run(self) -> Result<Outcome, Trouble> {
        let tree = Tree::open(&self.workshop)?;
        let (read, _) = record::read(&tree);
        let folder = piece_folder(&read, &self.piece)?;
        let said = self.line.join(" ");
        let said = without_unseen(&said).split_whitespace().collect::<Vec<_>>().join(" ");
        if !is_visible(&said) {
            return Err(Trouble::NothingJotted);
        }
        let place = format!("pieces/{folder}");
        super::intake::keep_clear(&tree, &["pieces", &place, &format!("{place}/photos")])?;
        let path = format!("{place}/{DAY_BOOK}");
        if let Some(Err(fault)) = tree.text(&path) {
            return Err(Trouble::UnfitDayBook { path, why: format!("it {fault}; {}", fault.remedy()) });
        }
        // A photograph that cannot be read is told before anything is written.
        let shot = self.photo.as_deref().map(one_shot).transpose()?;
        let line = if begins_with_day(&said) { said.clone() } else { format!("{} {said}", today()) };
        write::append(&self.workshop.join(&path), &line, limit::DAY_BOOK)?;

        let voice = Voice::out();
        voice.say(format!("{} {path}:\n  {}", voice.strong("Jotted into"), one_line(&line)))?;
        if let Some(shot) = shot {
            let piece = read.pieces.iter().find(|piece| piece.folder == folder);
            let home = self.workshop.join("pieces").join(&folder).join("photos");
            let shots = [shot];
            let (mut photos, _) =
                PhotoFolder::open(home, piece.map(|piece| (&tree, &**piece)), &shots, PhotoStage::During)?;
            match photos.take(&shots[0])? {
                Arrival::Copied(name) => voice.say(format!("  copied   {}", one_line(&name)))?,
                Arrival::There(name) => {
                    voice.say(format!("  skipped  the same photograph as {}", one_line(&name)))?;
                }
                Arrival::Lost(why) => {
                    voice.say(format!("  left     {}: {}", one_line(&shots[0].name), one_line(&why)))?;
                    return Ok(Outcome::Mistakes);
                }
            }
        }
        voice.say(format!("  {}", voice.faint(told(&said))))?;
        Ok(Outcome::Clean)
    }
}

/// How the line is taken.
fn told(said: &str) -> String {
    let jotting = Jotting::of(DAY_BOOK, 0..0, None, said);
    let time = match spent(&durations(&tokens(said))) {
        Some(minutes) => format!("{} h {} min of work", minutes / 60, minutes % 60)
            .replace(" 0 min", "")
            .replace("0 h ", ""),
        None => "no time".to_owned(),
    };
    let shown = match (&jotting.said, kind(said)) {
        (Err(withheld), _) => format!("for the archive alone: {}", one_line(&withheld.told())),
        (_, Kind::Plan) => "still to be done".to_owned(),
        (_, Kind::Question) => "a question, on no paper".to_owned(),
        (Ok(shown), Kind::Work) => format!("on the papers: {}", one_line(shown)),
    };
    format!("{time}; {shown}")
}

#[cfg(test)]
mod tests {
    use super::told;

    #[test]
    fn it_says_how_a_line_is_taken() {
        assert_eq!(told("glued it, 1.5h"), "1 h 30 min of work; on the papers: glued it");
        assert_eq!(told("must order glides"), "no time; still to be done");
        assert_eq!(told("£4 for glides"), "no time; for the archive alone: “£” speaks of money");
        assert_eq!(told("20 min"), "20 min of work; for the archive alone: it tells a time and nothing else");
        assert_eq!(told("2h on the top"), "2 h of work; on the papers: on the top");
    }
}
